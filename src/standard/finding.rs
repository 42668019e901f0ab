//! What a clause finds: one finding serves terminal, page, drawing and JSON.
use crate::company::Forced;
use crate::company::Waiver;
use serde::Serialize;

/// How a clause came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    Pass,
    /// Could not be judged for want of data; never a pass.
    NotChecked,
    /// Broken, and set aside with a reason and a name.
    Waived,
    /// A broken *should*.
    Caution,
    /// A broken *must*.
    Fail,
}

impl Verdict {
    /// The word on stamps and in findings.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Pass => "pass",
            Verdict::NotChecked => "not checked",
            Verdict::Waived => "waived",
            Verdict::Caution => "caution",
            Verdict::Fail => "fail",
        }
    }
}

/// What kind of number a clause measures; tells the unit in JSON and how it is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Quantity {
    /// Metres.
    #[serde(rename = "m")]
    Length,
    #[serde(rename = "deg")]
    Angle,
    /// A plain number of things.
    #[serde(rename = "count")]
    Count,
    /// A plain ratio.
    #[serde(rename = "ratio")]
    Ratio,
    #[serde(rename = "N")]
    Force,
    #[serde(rename = "Pa")]
    Pressure,
    #[serde(rename = "m/s")]
    Speed,
    #[serde(rename = "V")]
    Volts,
    #[serde(rename = "A")]
    Amps,
}

/// Where on the line a finding sits, for the balloon on the drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spot {
    /// The line as a whole.
    Whole,
    /// Bend by its number.
    Bend(usize),
    /// Leg by its index.
    Leg(usize),
    /// Station along work points, metres.
    Station(f64),
    /// The stop, or the far end.
    End,
}

/// One finding.
#[derive(Debug, Clone)]
pub struct Finding {
    /// Clause id, `bend-total`.
    pub clause: String,
    /// `1.4`, in the standard that judged.
    pub number: String,
    /// Heading of the clause.
    pub title: String,
    pub level: Forced,
    pub verdict: Verdict,
    /// In the SI unit of `quantity`; `None` where it could not be measured.
    pub measured: Option<f64>,
    /// In the SI unit of `quantity`; `None` where the clause has no figure.
    pub limit: Option<f64>,
    pub quantity: Quantity,
    /// Numbers of the bends concerned.
    pub bends: Vec<usize>,
    pub spots: Vec<Spot>,
    /// What was found, a sentence in plain words and the firm's units.
    pub note: String,
    /// What to do about it, an imperative sentence with its numbers; `None` where there is nothing to do.
    pub remedy: Option<String>,
    /// The waiver, when `verdict` is waived.
    pub waiver: Option<Waiver>,
}

/// All findings of a job.
#[derive(Debug, Clone)]
pub struct Findings {
    /// One list per inlet, in the job's order; each in the standard's order.
    pub inlets: Vec<Vec<Finding>>,
    /// Findings that belong to the job as a whole (trunks, unit, circuit).
    pub job: Vec<Finding>,
}

impl Findings {
    /// The verdict of an inlet: the worst of its findings; not-checked clauses alone leave a pass a pass.
    pub fn inlet_verdict(&self, inlet: usize) -> Verdict {
        worst(self.inlets.get(inlet).into_iter().flatten())
    }

    /// The verdict of the job: the worst of its inlets' and its own.
    pub fn verdict(&self) -> Verdict {
        worst(self.inlets.iter().flatten().chain(&self.job))
    }
}

/// The worst verdict.
fn worst<'a>(findings: impl Iterator<Item = &'a Finding>) -> Verdict {
    findings
        .map(|finding| finding.verdict)
        .filter(|v| *v != Verdict::NotChecked)
        .max()
        .unwrap_or(Verdict::Pass)
}

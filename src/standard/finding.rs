//! What a clause finds: one finding serves terminal, page, drawing and JSON.
use super::verdict::Verdict;
use crate::company::{Cleared, Forced, Owner, Waiver};
pub use crate::route::Spot;
use crate::text::{Diagnostic, Place};
use serde::Serialize;

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

/// One finding.
#[derive(Debug, Clone)]
pub struct Finding {
    /// Clause id, `bend-total`.
    pub clause: String,
    /// `1.4`, in the standard that judged; empty where that has no such clause and nobody may do without it.
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
    /// What to do about it, an imperative sentence with its numbers; of a hold, what clears it; `None` where
    /// there is nothing to do.
    pub remedy: Option<String>,
    /// The mark of the one thing that was judged, where the clause judges several: `HX2`.
    pub mark: Option<String>,
    /// Where in the job's file it stands what the finding speaks of.
    pub place: Option<Place>,
    /// The waiver, when `verdict` is waived.
    pub waiver: Option<Waiver>,
    /// The paper, when `verdict` is cleared.
    pub cleared: Option<Cleared>,
}

impl Finding {
    /// `4.1 Bores`; without a number where the standard has no such clause.
    pub fn named(&self) -> String {
        format!("{} {}", self.number, self.title).trim_start().to_owned()
    }
}

/// All findings of a job.
#[derive(Debug, Clone)]
pub struct Findings {
    /// One list per inlet with its line, in the job's order; each in the standard's order.
    pub inlets: Vec<Vec<Finding>>,
    /// One list per trunk, in the job's order.
    pub trunks: Vec<Vec<Finding>>,
    /// Findings that belong to the job as a whole (unit, circuit).
    pub job: Vec<Finding>,
    /// Waivers and papers that do nothing: errors of the job's file, which then is not to be published.
    pub idle: Vec<Diagnostic>,
}

/// The word for each clause among the findings of one line, inlet or job, in their order: the worst of its findings,
/// what is cleared or not checked included. A clause is met where all of them pass, and each has one word.
pub fn by_clause(findings: &[Finding]) -> Vec<(&str, Verdict)> {
    let mut words: Vec<(&str, Verdict)> = Vec::new();
    for finding in findings {
        match words.iter_mut().find(|(clause, _)| *clause == finding.clause) {
            Some((_, word)) => *word = (*word).max(finding.verdict),
            None => words.push((&finding.clause, finding.verdict)),
        }
    }
    words
}

/// The findings of the clauses that are met.
pub fn met(findings: &[Finding]) -> Vec<Finding> {
    let words = by_clause(findings);
    let met = |finding: &&Finding| words.contains(&(finding.clause.as_str(), Verdict::Pass));
    findings.iter().filter(met).cloned().collect()
}

/// Whose finding it is: a line with its inlet where it has one, or the job as a whole.
pub type Of = Option<Owner>;

impl Findings {
    /// Every finding with whose it is: inlets in the job's order, then trunks, then the job.
    pub fn all(&self) -> impl Iterator<Item = (Of, &Finding)> {
        let inlets = self.inlets.iter().enumerate().map(|(i, found)| (Owner::Inlet(i), found));
        let trunks = self.trunks.iter().enumerate().map(|(i, found)| (Owner::Trunk(i), found));
        let lines = inlets.chain(trunks);
        let of_lines = lines.flat_map(|(owner, found)| found.iter().map(move |f| (Some(owner), f)));
        of_lines.chain(self.job.iter().map(|finding| (None, finding)))
    }

    /// The findings of a line, whosever it is.
    pub fn of(&self, owner: Owner) -> &[Finding] {
        let found = match owner {
            Owner::Inlet(i) => self.inlets.get(i),
            Owner::Trunk(i) => self.trunks.get(i),
        };
        found.map_or(&[], Vec::as_slice)
    }

    /// What the job may not be built before: every hold, with whose it is.
    pub fn holds(&self) -> impl Iterator<Item = (Of, &Finding)> {
        self.all().filter(|(_, finding)| finding.verdict == Verdict::Hold)
    }

    /// Whether the job may be built: nothing fails, and nothing is on hold.
    pub fn may_be_built(&self) -> bool {
        !self.verdict().stops()
    }

    /// The verdict of an inlet: the worst of its findings.
    pub fn inlet_verdict(&self, inlet: usize) -> Verdict {
        let findings = self.inlets.get(inlet).into_iter().flatten();
        Verdict::worst(findings.map(|finding| finding.verdict))
    }

    /// The verdict of the job: the worst of all findings.
    pub fn verdict(&self) -> Verdict {
        Verdict::worst(self.all().map(|(_, finding)| finding.verdict))
    }
}

//! The verdicts, and which of them is the worst.
use serde::{Deserialize, Serialize};

/// How a clause came out; from the best to the worst, so that the greatest decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Measured and met.
    Pass,
    /// A hold that a paper has answered; on its finding only, never computed.
    Cleared,
    /// A *should* that lacks its data, or a clause that has no subject here; never a pass.
    NotChecked,
    /// Broken, and set aside with a reason and a name.
    Waived,
    /// A broken *should*.
    Caution,
    /// A *must* that cannot be judged yet: data missing, or somebody else's word wanted.
    Hold,
    /// A broken *must*, or a *should* broken beyond all bearing.
    Fail,
}

impl Verdict {
    /// The word on stamps and in findings.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::NotChecked => "not checked",
            other => other.key(),
        }
    }

    /// The word in JSON and in the names of shapes: `not-checked`.
    pub fn key(self) -> &'static str {
        match self {
            Verdict::Pass => "pass",
            Verdict::Cleared => "cleared",
            Verdict::NotChecked => "not-checked",
            Verdict::Waived => "waived",
            Verdict::Caution => "caution",
            Verdict::Hold => "hold",
            Verdict::Fail => "fail",
        }
    }

    /// Measured and broken, and not set aside.
    pub fn broken(self) -> bool {
        matches!(self, Verdict::Fail | Verdict::Caution)
    }

    /// Whether nothing may be built while it stands.
    pub fn stops(self) -> bool {
        matches!(self, Verdict::Fail | Verdict::Hold)
    }

    /// Whether it asks for something to be done or weighed, and so is pointed out on drawings.
    pub fn calls(self) -> bool {
        self.broken() || self == Verdict::Hold
    }

    /// The worst of several, as an inlet or a job is stamped by: fail, hold, caution, waived, pass. What is
    /// cleared or not checked does not show in a stamp.
    pub fn worst(verdicts: impl IntoIterator<Item = Verdict>) -> Verdict {
        let shown = |verdict: &Verdict| !matches!(verdict, Verdict::Cleared | Verdict::NotChecked);
        verdicts.into_iter().filter(shown).max().unwrap_or(Verdict::Pass)
    }
}

/// The verdicts on a line in short: the worst, and how many are broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Standing {
    pub worst: Verdict,
    pub broken: usize,
}

impl Default for Standing {
    /// Nothing judged.
    fn default() -> Standing {
        Standing { worst: Verdict::worst([]), broken: 0 }
    }
}

impl Standing {
    /// One verdict more.
    pub fn add(&mut self, verdict: Verdict) {
        self.worst = Verdict::worst([self.worst, verdict]);
        self.broken += usize::from(verdict.broken());
    }

    /// Of some verdicts.
    pub fn of(verdicts: impl IntoIterator<Item = Verdict>) -> Standing {
        let mut standing = Standing::default();
        verdicts.into_iter().for_each(|verdict| standing.add(verdict));
        standing
    }

    /// Both together.
    pub fn and(self, other: Standing) -> Standing {
        Standing { worst: self.worst.max(other.worst), broken: self.broken + other.broken }
    }

    /// Whether more is broken, or something worse.
    pub fn worse_than(self, before: Standing) -> bool {
        self.worst > before.worst || self.broken > before.broken
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_worst_is_fail_then_hold_caution_waived_pass() {
        use Verdict::*;
        for (verdicts, worst) in [
            (vec![Pass, Hold, Caution], Hold),
            (vec![Hold, Fail], Fail),
            (vec![Waived, Caution], Caution),
            (vec![Waived, NotChecked, Pass], Waived),
            (vec![NotChecked, Cleared], Pass),
            (vec![], Pass),
        ] {
            assert_eq!(Verdict::worst(verdicts.clone()), worst, "{verdicts:?}");
        }
    }

    #[test]
    fn keys_are_what_json_says() {
        use Verdict::*;
        for verdict in [Pass, Cleared, NotChecked, Waived, Caution, Hold, Fail] {
            assert_eq!(serde_json::to_value(verdict).unwrap(), verdict.key());
        }
    }
}

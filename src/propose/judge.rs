//! Lays, figures and inspects a job with changed lines, by the whole standard.
use super::Proposer;
use crate::company::Job;
use crate::figures::reckon_job;
use crate::route::{JobLines, lay_job};
use crate::standard::{Finding, Given, Verdict, inspect_line};
use crate::takeoff::cuts;

/// What stood in the way of routes that were inspected and not offered.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Against {
    /// Clause titles, with the number of routes that break each, the commonest first.
    pub broken: Vec<(String, usize)>,
    /// Routes that break nothing and cannot be judged yet.
    pub held: usize,
    /// Titles of the clauses that hold those, with what clears each and how many routes wait for it.
    pub waits: Vec<(String, String, usize)>,
}

/// A job that was inspected.
pub struct Judged {
    pub lines: JobLines,
    /// Of the lines asked for, in that order.
    pub findings: Vec<Vec<Finding>>,
}

impl Proposer<'_> {
    /// Lays a job and inspects the lines of these numbers with their inlets.
    pub fn judge(&self, job: &Job, which: &[usize]) -> Judged {
        let lines = lay_job(job, self.catalog, &self.say);
        let figures = reckon_job(job, &lines, self.catalog);
        let cut = cuts(&lines, self.catalog, &self.say);
        let given = Given {
            job,
            lines: &lines,
            figures: &figures,
            cuts: &cut.lines,
            standard: self.standard,
            catalog: self.catalog,
            say: self.say,
        };
        let findings = which.iter().map(|line| inspect_line(&given, *line)).collect();
        Judged { lines, findings }
    }
}

impl Judged {
    /// The worst of all findings, as an inlet is stamped.
    pub fn verdict(&self) -> Verdict {
        Verdict::worst(self.findings.iter().flatten().map(|finding| finding.verdict))
    }
}

impl Against {
    /// Counts a route that is not offered. One that breaks a clause is broken, whatever else holds it.
    pub fn note<'f>(&mut self, findings: impl Iterator<Item = &'f Finding> + Clone) {
        let of = |verdict: Verdict| findings.clone().filter(move |finding| finding.verdict == verdict);
        let mut told: Vec<&str> = Vec::new();
        for finding in of(Verdict::Fail) {
            if !told.contains(&finding.title.as_str()) {
                told.push(&finding.title);
                match self.broken.iter_mut().find(|(title, _)| *title == finding.title) {
                    Some((_, count)) => *count += 1,
                    None => self.broken.push((finding.title.clone(), 1)),
                }
            }
        }
        if !told.is_empty() {
            return;
        }
        self.held += 1;
        for finding in of(Verdict::Hold) {
            if told.contains(&finding.title.as_str()) {
                continue;
            }
            told.push(&finding.title);
            match self.waits.iter_mut().find(|(title, _, _)| *title == finding.title) {
                Some((_, _, count)) => *count += 1,
                None => {
                    let clears = finding.remedy.clone().unwrap_or_else(|| finding.note.clone());
                    self.waits.push((finding.title.clone(), clears, 1));
                }
            }
        }
    }

    /// Brings the commonest to the front.
    pub fn sort(&mut self) {
        self.broken.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        self.waits.sort_by(|a, b| b.2.cmp(&a.2).then_with(|| a.0.cmp(&b.0)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::company::Forced;
    use crate::standard::Quantity;

    fn finding(title: &str, verdict: Verdict, remedy: Option<&str>) -> Finding {
        Finding {
            clause: title.to_lowercase(),
            number: String::new(),
            title: title.into(),
            level: Forced::Must,
            verdict,
            measured: None,
            limit: None,
            quantity: Quantity::Count,
            bends: Vec::new(),
            spots: Vec::new(),
            note: "as found".into(),
            remedy: remedy.map(str::to_owned),
            mark: None,
            place: None,
            waiver: None,
            cleared: None,
        }
    }

    #[test]
    fn what_is_not_checked_never_counts_as_a_pass_nor_hides_one() {
        let judged = |verdicts: &[Verdict]| {
            let findings = verdicts.iter().map(|verdict| finding("Bores", *verdict, None)).collect();
            Judged { lines: JobLines { lines: Vec::new(), inlets: 0 }, findings: vec![findings] }.verdict()
        };
        use Verdict::{Caution, Fail, Hold, NotChecked, Pass, Waived};
        assert_eq!(judged(&[Pass, NotChecked]), Pass);
        assert_eq!(judged(&[NotChecked, Waived]), Waived);
        assert_eq!(judged(&[NotChecked, Caution]), Caution);
        assert_eq!(judged(&[Caution, Hold]), Hold);
        assert_eq!(judged(&[Hold, Fail]), Fail);
    }

    #[test]
    fn a_hold_is_told_apart_from_what_is_broken() {
        let mut against = Against::default();
        let bores = finding("Bores", Verdict::Hold, Some("the maker's chart"));
        let clash = finding("Clash", Verdict::Fail, None);
        against.note([bores.clone(), bores.clone()].iter());
        against.note([bores.clone(), clash].iter());
        against.note([bores].iter());
        assert_eq!(against.broken, [("Clash".to_owned(), 1)]);
        assert_eq!(against.held, 2);
        assert_eq!(against.waits, [("Bores".to_owned(), "the maker's chart".to_owned(), 2)]);
        let words = crate::propose::against_words(&against);
        assert_eq!(
            words,
            [
                "Clash: broken in 1 route",
                "2 routes are on hold and not offered, though nothing is broken:",
                "Bores: hold in 2 routes; the maker's chart",
            ]
        );
    }
}

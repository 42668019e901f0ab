//! Candidates tried by the same engine that found the fault.
use super::candidates::{Case, candidates};
use super::change::Change;
use crate::company::Job;
use crate::figures::{JobFigures, clashes, reckon_inlet, reckon_line};
use crate::route::{JobLines, lay_job};
use crate::standard::{Finding, Given, Verdict, clause, inspect_line};
use crate::takeoff::{LineCuts, divided};
use serde::Serialize;

/// A change that was tried and mends the clause without making anything else worse.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Offer {
    /// An imperative sentence.
    pub words: String,
    /// What the inspection then finds for the clause.
    pub then: String,
    /// What the inspection then finds for other clauses whose measure changes: heading and finding.
    pub also: Vec<String>,
}

/// What can be done about one broken clause of one inlet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Offers {
    pub clause: String,
    /// Smallest change first; empty where nothing was found.
    pub offers: Vec<Offer>,
    /// How many changes were tried.
    pub tried: usize,
}

/// No more than this many are shown: a crew wants a way out, not a catalogue of them.
const MOST: usize = 3;

/// What all trials of an inlet share.
struct Trial<'a> {
    given: &'a Given<'a>,
    inlet: usize,
}

/// Proven remedies for every broken clause of an inlet, in the order of its findings.
pub fn offers(given: &Given, inlet: usize, before: &[Finding]) -> Vec<Offers> {
    let trial = Trial { given, inlet };
    before
        .iter()
        .filter(|finding| finding.verdict.broken())
        .map(|finding| trial.offers_for(finding, before))
        .collect()
}

/// A changed job, laid, cut, reckoned and inspected.
struct Tried {
    job: Job,
    lines: JobLines,
    cuts: Vec<LineCuts>,
    figures: JobFigures,
    after: Vec<Finding>,
}

/// When no single change serves, so many first changes are followed by so many second ones each, the smallest
/// first: a bounded search, for a job must be worked up in the blink of an eye.
const FIRST: usize = 4;
const SECOND: usize = 4;

impl Trial<'_> {
    fn offers_for(&self, finding: &Finding, before: &[Finding]) -> Offers {
        let changes = self.changes(finding);
        let mut tried = changes.len();
        let served = |change: &Change| {
            let trial = self.try_out(change);
            offered(change.words.clone(), &trial.after, finding, before)
        };
        let mut offers: Vec<Offer> = changes.iter().filter_map(served).take(MOST).collect();
        if offers.is_empty() {
            offers.extend(self.two_changes(&changes, finding, before, &mut tried));
        }
        Offers { clause: finding.clause.clone(), offers, tried }
    }

    /// Candidates for a finding, the smallest first.
    fn changes(&self, finding: &Finding) -> Vec<Change> {
        let mends = clause(&finding.clause).map_or(&[][..], |clause| clause.mends);
        let mut changes = self.case(finding).map(|case| candidates(&case, mends)).unwrap_or_default();
        changes.sort_by(|a, b| a.size.total_cmp(&b.size));
        changes
    }

    /// A small change that does not serve alone, followed by one for what is still, or newly, broken.
    fn two_changes(
        &self,
        changes: &[Change],
        finding: &Finding,
        before: &[Finding],
        tried: &mut usize,
    ) -> Option<Offer> {
        for first in changes.iter().take(FIRST) {
            let trial = self.try_out(first);
            let given = trial.given(self.given);
            let next = Trial { given: &given, inlet: self.inlet };
            let stands = |f: &&Finding| f.verdict.broken() && (f.clause == finding.clause || new(f, before));
            let Some(left) = trial.after.iter().find(stands) else { continue };
            for second in next.changes(left).iter().take(SECOND) {
                *tried += 1;
                let words = format!("{}; and {}", first.words, second.words);
                let offer = offered(words, &next.try_out(second).after, finding, before);
                if offer.is_some() {
                    return offer;
                }
            }
        }
        None
    }

    fn case<'b>(&'b self, finding: &'b Finding) -> Option<Case<'b>> {
        let given = self.given;
        let line = given.lines.of_inlet(self.inlet)?;
        Some(Case {
            inlet: given.job.inlets.get(self.inlet)?,
            spec: given.job.of_inlet(self.inlet)?,
            raceway: line.to_stop(),
            onward: line.beyond_stop(),
            part: line.raceway.as_ref()?,
            closure: line.closure.as_ref(),
            catalog: given.catalog,
            finding,
            say: given.say,
        })
    }

    /// Lays the changed inlet and inspects it by the whole standard.
    fn try_out(&self, change: &Change) -> Tried {
        let mut job = self.given.job.clone();
        job.inlets[self.inlet] = change.inlet.clone();
        job.lines[self.inlet] = change.line.clone();
        let lines = lay_job(&job, self.given.catalog, &self.given.say);
        let cuts = divided(&lines, self.given.catalog);
        let mut figures = self.given.figures.clone();
        figures.inlets[self.inlet] = reckon_inlet(&job, self.inlet, &lines, self.given.catalog);
        figures.lines = lines.lines.iter().map(reckon_line).collect();
        figures.clashes = clashes(&lines.lines, self.given.catalog);
        let mut tried = Tried { job, lines, cuts, figures, after: Vec::new() };
        tried.after = inspect_line(&tried.given(self.given), self.inlet);
        tried
    }
}

impl Tried {
    /// The changed job as something to be judged, by the same standard and catalog.
    fn given<'a>(&'a self, of: &Given<'a>) -> Given<'a> {
        Given { job: &self.job, lines: &self.lines, figures: &self.figures, cuts: &self.cuts, ..*of }
    }
}

/// What is offered, where a change mends the finding and makes nothing else worse.
fn offered(words: String, after: &[Finding], finding: &Finding, before: &[Finding]) -> Option<Offer> {
    // What was not checked before stays so; `worse` sees to it that nothing else becomes so.
    let mended = !after.iter().any(|f| f.clause == finding.clause && f.verdict.broken());
    if !mended || worse(before, after) {
        return None;
    }
    let then = after.iter().find(|f| f.clause == finding.clause)?.note.clone();
    Some(Offer { words, then, also: changed(before, after, &finding.clause) })
}

/// Whether a clause that was not broken before is.
fn new(finding: &Finding, before: &[Finding]) -> bool {
    !before.iter().any(|f| f.clause == finding.clause && f.verdict.broken())
}

/// Whether any clause has more breaks after than before, more fails, or more that is not judged.
fn worse(before: &[Finding], after: &[Finding]) -> bool {
    let tests: [fn(Verdict) -> bool; 4] = [
        Verdict::broken,
        |verdict| verdict == Verdict::Fail,
        |verdict| verdict == Verdict::Hold,
        |verdict| verdict == Verdict::NotChecked,
    ];
    let count = |list: &[Finding], clause: &str, test: fn(Verdict) -> bool| {
        list.iter().filter(|f| f.clause == clause && test(f.verdict)).count()
    };
    after.iter().any(|finding| {
        tests.iter().any(|test| count(after, &finding.clause, *test) > count(before, &finding.clause, *test))
    })
}

/// Findings of other clauses whose measure is another one, in words.
fn changed(before: &[Finding], after: &[Finding], clause: &str) -> Vec<String> {
    let same = |f: &Finding| before.iter().any(|b| b.clause == f.clause && b.note == f.note);
    after
        .iter()
        .filter(|f| f.clause != clause && f.measured.is_some() && !same(f))
        .map(|f| format!("{}: {}", f.title, f.note))
        .collect()
}

//! Candidates tried by the same engine that found the fault.
use super::candidates::{Case, candidates};
use super::change::Change;
use crate::figures::{clashes, reckon_inlet, reckon_line};
use crate::route::lay_job;
use crate::standard::{Finding, Given, Verdict, clause, inspect_line};
use crate::takeoff::divided;
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

impl Trial<'_> {
    fn offers_for(&self, finding: &Finding, before: &[Finding]) -> Offers {
        let mends = clause(&finding.clause).map_or(&[][..], |clause| clause.mends);
        let mut changes = self.case(finding).map(|case| candidates(&case, mends)).unwrap_or_default();
        changes.sort_by(|a, b| a.size.total_cmp(&b.size));
        let tried = changes.len();
        let offers =
            changes.iter().filter_map(|change| self.try_out(change, finding, before)).take(MOST).collect();
        Offers { clause: finding.clause.clone(), offers, tried }
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
    fn try_out(&self, change: &Change, finding: &Finding, before: &[Finding]) -> Option<Offer> {
        let mut job = self.given.job.clone();
        job.inlets[self.inlet] = change.inlet.clone();
        job.lines[self.inlet] = change.line.clone();
        let lines = lay_job(&job, self.given.catalog, &self.given.say);
        let cuts = divided(&lines, self.given.catalog);
        let mut figures = self.given.figures.clone();
        figures.inlets[self.inlet] = reckon_inlet(&job, self.inlet, &lines, self.given.catalog);
        figures.lines = lines.lines.iter().map(reckon_line).collect();
        figures.clashes = clashes(&lines.lines, self.given.catalog);
        let given = Given { job: &job, lines: &lines, figures: &figures, cuts: &cuts, ..*self.given };
        let after = inspect_line(&given, self.inlet);
        // What was not checked before stays so; `worse` sees to it that nothing else becomes so.
        let mended = !after.iter().any(|f| f.clause == finding.clause && f.verdict.broken());
        if !mended || worse(before, &after) {
            return None;
        }
        let then = after.iter().find(|f| f.clause == finding.clause)?.note.clone();
        Some(Offer { words: change.words.clone(), then, also: changed(before, &after, &finding.clause) })
    }
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

//! Candidates tried by the same engine that found the fault.
use super::candidates::{Case, candidates};
use super::change::Change;
use crate::company::{Catalog, Job, Standard};
use crate::figures::reckon_inlet;
use crate::measure::Say;
use crate::route::{JobRoutes, lay_inlet_again};
use crate::standard::{Finding, Verdict, inspect_inlet};
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
pub struct Trial<'a> {
    pub job: &'a Job,
    pub inlet: usize,
    pub routes: &'a JobRoutes,
    pub standard: &'a Standard,
    pub catalog: &'a Catalog,
    pub say: Say,
}

/// Proven remedies for every broken clause of an inlet, in the order of its findings.
pub fn offers(
    job: &Job,
    inlet: usize,
    routes: &JobRoutes,
    standard: &Standard,
    catalog: &Catalog,
    say: Say,
    before: &[Finding],
) -> Vec<Offers> {
    let trial = Trial { job, inlet, routes, standard, catalog, say };
    before.iter().filter(|finding| broken(finding)).map(|finding| trial.offers_for(finding, before)).collect()
}

impl Trial<'_> {
    fn offers_for(&self, finding: &Finding, before: &[Finding]) -> Offers {
        let mut changes = candidates(&self.case(finding));
        changes.sort_by(|a, b| a.size.total_cmp(&b.size));
        let tried = changes.len();
        let offers =
            changes.iter().filter_map(|change| self.try_out(change, finding, before)).take(MOST).collect();
        Offers { clause: finding.clause.clone(), offers, tried }
    }

    fn case<'b>(&'b self, finding: &'b Finding) -> Case<'b> {
        let onward = self.routes.onward.get(self.inlet).and_then(Option::as_ref);
        Case {
            inlet: &self.job.inlets[self.inlet],
            raceway: &self.routes.raceways[self.inlet],
            onward: onward.map(|onward| &onward.route),
            closure: onward.and_then(|onward| onward.closure.as_ref()),
            catalog: self.catalog,
            finding,
            say: self.say,
        }
    }

    /// Lays the changed inlet and inspects it by the whole standard.
    fn try_out(&self, change: &Change, finding: &Finding, before: &[Finding]) -> Option<Offer> {
        let mut job = self.job.clone();
        job.inlets[self.inlet] = change.inlet.clone();
        let routes = lay_inlet_again(&job, self.inlet, self.routes, self.catalog, &self.say);
        let figures = reckon_inlet(&job, self.inlet, &routes, self.catalog);
        let after = inspect_inlet(&job, self.inlet, &routes, &figures, self.standard, self.catalog, self.say);
        // What was not checked before stays so; `worse` sees to it that nothing else becomes so.
        let mended = !after.iter().any(|f| f.clause == finding.clause && broken(f));
        if !mended || worse(before, &after) {
            return None;
        }
        let then = after.iter().find(|f| f.clause == finding.clause)?.note.clone();
        Some(Offer { words: change.words.clone(), then, also: changed(before, &after, &finding.clause) })
    }
}

/// Whether any clause has more breaks after than before, or is no longer checked.
fn worse(before: &[Finding], after: &[Finding]) -> bool {
    let count = |list: &[Finding], clause: &str, test: fn(&Finding) -> bool| {
        list.iter().filter(|f| f.clause == clause && test(f)).count()
    };
    after.iter().any(|finding| {
        let clause = &finding.clause;
        count(after, clause, broken) > count(before, clause, broken)
            || count(after, clause, failed) > count(before, clause, failed)
            || count(after, clause, unchecked) > count(before, clause, unchecked)
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

fn broken(finding: &Finding) -> bool {
    matches!(finding.verdict, Verdict::Fail | Verdict::Caution)
}

fn failed(finding: &Finding) -> bool {
    finding.verdict == Verdict::Fail
}

fn unchecked(finding: &Finding) -> bool {
    finding.verdict == Verdict::NotChecked
}

//! Candidates tried by the same engine that found the fault.
use super::candidates::{Case, candidates};
use super::change::Change;
use super::shape::Shape;
use super::trial::Tried;
use crate::company::Owner;
use crate::standard::{Finding, Findings, Given, Verdict, clause};
use serde::Serialize;
use std::cell::RefCell;
use std::rc::Rc;

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

/// What can be done about one broken clause of one line.
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

/// Proven remedies for every broken clause of a line, an inlet's or a trunk's, in the order of its findings.
pub fn offers(given: &Given, line: usize, before: &Findings) -> Vec<Offers> {
    let Some(own) = given.lines.lines.get(line).map(|line| before.of(line.owner)) else {
        return Vec::new();
    };
    let trials = Trials::new(given, line, before);
    let mut found: Vec<Offers> = Vec::new();
    for finding in own.iter().filter(|finding| finding.verdict.broken()) {
        // One answer for all breaks of a clause: a change is offered where it mends every one of them.
        if !found.iter().any(|offers| offers.clause == finding.clause) {
            found.push(trials.offers_for(finding, own));
        }
    }
    found
}

/// All trials on a line. What one clause has tried, another does not lay again.
struct Trials<'a> {
    given: &'a Given<'a>,
    line: usize,
    before: &'a Findings,
    done: RefCell<Vec<(Change, Rc<Trial<'a>>)>>,
}

/// A change tried on the line.
struct Trial<'a> {
    job: Tried<'a>,
    /// The lines whose findings hang on the change, the line itself first.
    touched: Vec<usize>,
    /// What is found for the line by the clauses that need no figures of its inlet.
    laid: Vec<Finding>,
}

/// When no single change serves, so many first changes are followed by so many second ones each, the smallest
/// first: a bounded search, for a job must be worked up in the blink of an eye.
const FIRST: usize = 4;
const SECOND: usize = 4;

impl<'a> Trials<'a> {
    fn new(given: &'a Given<'a>, line: usize, before: &'a Findings) -> Trials<'a> {
        Trials { given, line, before, done: RefCell::default() }
    }

    fn offers_for(&self, finding: &Finding, before: &[Finding]) -> Offers {
        let changes = candidates_for(self.given, self.line, finding);
        let mut tried = changes.len();
        let served = |change: &Change| self.offered(change.words.clone(), &self.try_out(change), finding);
        let mut offers: Vec<Offer> = changes.iter().filter_map(served).take(MOST).collect();
        if offers.is_empty() {
            offers.extend(self.two_changes(&changes, finding, before, &mut tried));
        }
        Offers { clause: finding.clause.clone(), offers, tried }
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
            let stands = |f: &&Finding| f.verdict.broken() && (f.clause == finding.clause || new(f, before));
            let left = trial.laid.iter().find(stands);
            let Some(left) = left.or_else(|| trial.job.after(self.line).iter().find(stands)) else {
                continue;
            };
            for second in candidates_for(&trial.job.given(), self.line, left).iter().take(SECOND) {
                *tried += 1;
                let words = format!("{}; and {}", first.words, second.words);
                let hose = second.hose.clone().or_else(|| first.hose.clone());
                let both = Change { hose, ..second.clone() };
                let offer = self.offered(words, &self.try_out(&both), finding);
                if offer.is_some() {
                    return offer;
                }
            }
        }
        None
    }

    /// The changed line laid, or what an earlier trial of the same change has laid.
    fn try_out(&self, change: &Change) -> Rc<Trial<'a>> {
        let known =
            self.done.borrow().iter().find(|(done, _)| done.same(change)).map(|(_, tried)| tried.clone());
        known.unwrap_or_else(|| {
            let job = Tried::changed(self.given, self.line, change);
            let tried = Rc::new(Trial { touched: self.touched(&job), laid: job.at_once(self.line), job });
            self.done.borrow_mut().push((change.clone(), tried.clone()));
            tried
        })
    }

    /// The line, what it joins where it comes in there in another way than before, and every line whose air passes
    /// through one of these.
    fn touched(&self, tried: &Tried) -> Vec<usize> {
        let (is, was) = (tried.lines(), &self.given.lines.lines);
        let differs = |other: usize| {
            other == self.line
                || is.lines.get(other).zip(was.get(other)).is_some_and(|(a, b)| !a.takes_in_as(b))
        };
        let differing: Vec<usize> = (0..was.len()).filter(|other| differs(*other)).collect();
        let touched = |other: &usize| {
            differing.contains(other) || differing.iter().any(|through| is.runs_through(*other, *through))
        };
        let others = (0..was.len()).filter(|other| *other != self.line).filter(touched);
        std::iter::once(self.line).chain(others).collect()
    }

    /// What was found for a line as planned.
    fn found(&self, line: usize) -> &'a [Finding] {
        self.given.lines.lines.get(line).map_or(&[], |line| self.before.of(line.owner))
    }

    /// What is offered, where a change mends the finding and makes nothing else worse, on this line and on every
    /// other that it touches. What needs no figures is looked at first: most changes end there.
    fn offered(&self, words: String, tried: &Trial, finding: &Finding) -> Option<Offer> {
        let before = self.found(self.line);
        if breaks(&tried.laid, &finding.clause) || worse(before, &tried.laid) {
            return None;
        }
        let own = tried.job.after(self.line);
        // What was not checked before stays so; `worse` sees to it that nothing else becomes so.
        let spoils = |line: &usize| worse(self.found(*line), tried.job.after(*line));
        if breaks(own, &finding.clause) || tried.touched.iter().any(spoils) {
            return None;
        }
        let then = own.iter().find(|f| f.clause == finding.clause)?.note.clone();
        Some(Offer { words, then, also: changed(before, own, &finding.clause) })
    }
}

/// Candidates for a finding of a line, the smallest first.
fn candidates_for(given: &Given, line: usize, finding: &Finding) -> Vec<Change> {
    let mends = clause(&finding.clause).map_or(&[][..], |clause| clause.mends);
    let case = || {
        let (laid, spec) = (given.lines.lines.get(line)?, given.job.lines.get(line)?);
        let hose = match laid.owner {
            Owner::Inlet(inlet) => given.job.inlets.get(inlet).map(|inlet| &inlet.hose),
            Owner::Trunk(_) => None,
        };
        Some(Case {
            hose,
            spec,
            shape: Shape::of(&spec.steps),
            line: laid,
            cuts: given.cuts.get(line)?,
            catalog: given.catalog,
            finding,
            say: given.say,
        })
    };
    let mut changes = case().map(|case| candidates(&case, mends)).unwrap_or_default();
    changes.sort_by(|a, b| a.size.total_cmp(&b.size));
    changes
}

/// Whether a clause is broken among findings.
fn breaks(findings: &[Finding], clause: &str) -> bool {
    findings.iter().any(|f| f.clause == clause && f.verdict.broken())
}

/// Whether a clause that was not broken before is.
fn new(finding: &Finding, before: &[Finding]) -> bool {
    !breaks(before, &finding.clause)
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

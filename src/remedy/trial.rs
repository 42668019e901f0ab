//! A changed job, laid and inspected.
use super::change::Change;
use crate::company::{Job, Owner};
use crate::figures::{JobFigures, clashes, reckon_inlet, reckon_line};
use crate::route::{JobLines, lay_job};
use crate::standard::{Finding, Given, inspect_laid, inspect_reckoned};
use crate::takeoff::{LineCuts, divided};
use std::cell::OnceCell;

/// A changed job: laid, cut and judged by what needs no figures; the rest when it is asked for.
pub(super) struct Tried<'a> {
    of: &'a Given<'a>,
    job: Job,
    lines: JobLines,
    cuts: Vec<LineCuts>,
    /// None of the inlets.
    figures: JobFigures,
    /// In the order of the lines, each when it is asked for.
    after: Vec<OnceCell<Vec<Finding>>>,
}

impl<'a> Tried<'a> {
    /// The job with one line changed, cut anew.
    pub(super) fn changed(of: &'a Given<'a>, line: usize, change: &Change) -> Tried<'a> {
        let mut job = of.job.clone();
        if let Some(spec) = job.lines.get_mut(line) {
            *spec = change.line.clone();
        }
        if let (Owner::Inlet(inlet), Some(hose)) = (change.line.owner, &change.hose)
            && let Some(inlet) = job.inlets.get_mut(inlet)
        {
            inlet.hose = hose.clone();
        }
        let lines = lay_job(&job, of.catalog, &of.say);
        let cuts = divided(&lines, of.catalog, &of.say);
        let figures = JobFigures {
            inlets: Vec::new(),
            lines: lines.lines.iter().map(reckon_line).collect(),
            clashes: clashes(&lines.lines, of.catalog),
        };
        let after = lines.lines.iter().map(|_| OnceCell::new()).collect();
        Tried { of, job, lines, cuts, figures, after }
    }

    /// The changed job as something to be judged by the same standard and catalog, by what needs no figures of
    /// its inlets.
    pub(super) fn given(&self) -> Given<'_> {
        Given { job: &self.job, lines: &self.lines, figures: &self.figures, cuts: &self.cuts, ..*self.of }
    }

    pub(super) fn lines(&self) -> &JobLines {
        &self.lines
    }

    /// What is found for a line by the clauses that need no figures of its inlet.
    pub(super) fn at_once(&self, line: usize) -> Vec<Finding> {
        inspect_laid(&self.given(), line)
    }

    /// What the whole standard finds for a line, its inlet reckoned anew.
    pub(super) fn after(&self, line: usize) -> &[Finding] {
        let found = || {
            let reckoned = || reckon_inlet(&self.job, line, &self.lines, self.of.catalog);
            let figures = (line < self.job.inlets.len()).then(reckoned);
            inspect_reckoned(&self.given(), line, figures.as_ref())
        };
        self.after.get(line).map_or(&[], |after| after.get_or_init(found))
    }
}

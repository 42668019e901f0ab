//! A changed job, laid and inspected.
use super::change::Change;
use crate::company::{Job, Owner};
use crate::figures::{JobFigures, clashes, reckon_inlet, reckon_line};
use crate::route::{JobLines, lay_job};
use crate::standard::{Finding, Given, inspect_laid, inspect_line};
use crate::takeoff::{LineCuts, divided};
use std::cell::OnceCell;

/// A changed job: laid, cut and judged by what needs no figures; the rest when it is asked for.
pub(super) struct Tried<'a> {
    of: &'a Given<'a>,
    job: Job,
    lines: JobLines,
    cuts: Vec<LineCuts>,
    /// Those of the inlets are from before the change.
    figures: JobFigures,
    after: OnceCell<Vec<Vec<Finding>>>,
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
            inlets: of.figures.inlets.clone(),
            lines: lines.lines.iter().map(reckon_line).collect(),
            clashes: clashes(&lines.lines, of.catalog),
        };
        Tried { of, job, lines, cuts, figures, after: OnceCell::new() }
    }

    /// The changed job as something to be judged by the same standard and catalog, its inlets' figures those of
    /// before.
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

    /// What the whole standard finds for the lines that the change touches, each reckoned anew. It is asked with
    /// the same lines each time.
    pub(super) fn after(&self, touched: &[usize]) -> &[Vec<Finding>] {
        self.after.get_or_init(|| {
            let mut figures = self.figures.clone();
            for line in touched {
                if let Some(own) = figures.inlets.get_mut(*line) {
                    *own = reckon_inlet(&self.job, *line, &self.lines, self.of.catalog);
                }
            }
            let given = Given { figures: &figures, ..self.given() };
            touched.iter().map(|line| inspect_line(&given, *line)).collect()
        })
    }
}

//! A changed job, laid and inspected.
use super::change::Change;
use crate::company::{Job, Owner};
use crate::figures::{JobFigures, clashes, reckon_inlet, reckon_line};
use crate::route::{JobLines, lay_job};
use crate::standard::{Finding, Given, inspect_laid, inspect_line};
use crate::takeoff::{LineCuts, divided};
use std::cell::OnceCell;

/// A changed job: laid, cut and judged by what needs no figures; the rest when it is asked for.
pub struct Tried<'a> {
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
        Tried::laid(of, job, |lines| divided(lines, of.catalog, &of.say))
    }

    /// Lays a changed job, its tubes cut as `cut` says.
    pub fn laid(of: &'a Given<'a>, job: Job, cut: impl FnOnce(&JobLines) -> Vec<LineCuts>) -> Tried<'a> {
        let lines = lay_job(&job, of.catalog, &of.say);
        let cuts = cut(&lines);
        let figures = JobFigures {
            inlets: of.figures.inlets.clone(),
            lines: lines.lines.iter().map(reckon_line).collect(),
            clashes: clashes(&lines.lines, of.catalog),
        };
        Tried { of, job, lines, cuts, figures, after: OnceCell::new() }
    }

    /// The changed job as something to be judged by the same standard and catalog, its inlets' figures those of
    /// before.
    pub fn given(&self) -> Given<'_> {
        Given { job: &self.job, lines: &self.lines, figures: &self.figures, cuts: &self.cuts, ..*self.of }
    }

    /// What is found for a line by the clauses that need no figures of its inlet.
    pub fn at_once(&self, line: usize) -> Vec<Finding> {
        inspect_laid(&self.given(), line)
    }

    /// The line of that number and all whose air passes through it: whose figures a change of it may move.
    pub fn touched(&self, line: usize) -> Vec<usize> {
        let all = 0..self.lines.lines.len();
        all.filter(|other| *other == line || self.lines.runs_through(*other, line)).collect()
    }

    /// What the whole standard finds for the lines that the change touches, each reckoned anew. It is asked with
    /// the same lines each time.
    pub fn after(&self, touched: &[usize]) -> &[Vec<Finding>] {
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

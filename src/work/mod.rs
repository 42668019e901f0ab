//! A job worked up: every stage run once, in order, and the result as one record.
mod record;

pub use record::{file, record};

use crate::company::{Catalog, Job, Owner, Standard};
use crate::figures::{JobFigures, Missing, Reading, readings, reckon_job};
use crate::material::list::Item;
use crate::measure::Say;
use crate::remedy::{Offers, offers};
use crate::route::{JobLines, Line, lay_job};
use crate::standard::{Finding, Findings, Given, Of, Verdict, inspect, required};
use crate::takeoff::{Cuts, cuts, items};
use std::sync::OnceLock;

/// Everything that is known of a job. Lists run in the job's order, one entry per inlet.
#[derive(Debug, Clone)]
pub struct Work<'a> {
    pub job: &'a Job,
    /// The revision that judged it.
    pub standard: &'a Standard,
    pub catalog: &'a Catalog,
    pub say: Say,
    pub lines: JobLines,
    pub figures: JobFigures,
    pub findings: Findings,
    /// Ways out of each broken clause, tried, in the order of the lines.
    pub offers: Vec<Vec<Offers>>,
    pub cuts: Cuts,
    pub items: Vec<Item>,
    /// What the readings at each inlet should show, worked out when they are first asked for.
    readings: OnceLock<Vec<[Result<Reading, Missing>; 4]>>,
}

impl<'a> Work<'a> {
    /// Lays, reckons, takes off, inspects and seeks remedies.
    pub fn up(job: &'a Job, standard: &'a Standard, catalog: &'a Catalog, say: Say) -> Work<'a> {
        let mut work = Work::laid(job, standard, catalog, say);
        let given = work.given();
        let offers: Vec<Vec<Offers>> =
            (0..work.lines.lines.len()).map(|line| offers(&given, line, &work.findings)).collect();
        put_proven_first(&mut work.findings, &offers);
        Work { offers, ..work }
    }

    /// The same without seeking remedies.
    pub fn laid(job: &'a Job, standard: &'a Standard, catalog: &'a Catalog, say: Say) -> Work<'a> {
        let lines = lay_job(job, catalog, &say);
        let figures = reckon_job(job, &lines, catalog);
        let cuts = cuts(&lines, catalog, &say);
        let given =
            Given { job, lines: &lines, figures: &figures, cuts: &cuts.lines, standard, catalog, say };
        let findings = inspect(&given);
        let offers = vec![Vec::new(); lines.lines.len()];
        let items = items(job, &lines, &cuts, &figures, catalog, say);
        let readings = OnceLock::new();
        Work { job, standard, catalog, say, lines, figures, findings, offers, cuts, items, readings }
    }

    /// What another revision of the standard finds in the same job, as it is laid and cut.
    pub fn by(&self, standard: &Standard) -> Findings {
        inspect(&Given { standard, ..self.given() })
    }

    /// What the job is judged from.
    pub fn given(&self) -> Given<'_> {
        Given {
            job: self.job,
            lines: &self.lines,
            figures: &self.figures,
            cuts: &self.cuts.lines,
            standard: self.standard,
            catalog: self.catalog,
            say: self.say,
        }
    }

    /// The readings at an inlet, each with the reason where it cannot be told; none beyond the job's inlets.
    pub fn readings(&self, inlet: usize) -> &[Result<Reading, Missing>] {
        let one = |(i, figures)| readings(self.job, i, figures, required(self.standard), &self.say);
        let all = self.readings.get_or_init(|| self.figures.inlets.iter().enumerate().map(one).collect());
        all.get(inlet).map_or(&[], |readings| readings.as_slice())
    }

    /// Whose a finding is, in words: `Hall`, `trunk main`, `the job`.
    pub fn whose(&self, of: Of) -> String {
        let line = match of {
            Some(Owner::Inlet(i)) => self.lines.of_inlet(i),
            Some(Owner::Trunk(i)) => self.lines.of_trunk(i),
            None => None,
        };
        line.map_or_else(|| "the job".to_owned(), Line::belongs_to)
    }

    /// The worst of all findings.
    pub fn verdict(&self) -> Verdict {
        self.findings.verdict()
    }

    /// The proven ways out of a finding of a line; `None` where it is not broken, though another finding of its
    /// clause may be.
    pub fn offers_for(&self, line: usize, finding: &Finding) -> Option<&Offers> {
        let own = self.offers.get(line)?.iter().find(|offers| offers.clause == finding.clause);
        own.filter(|_| finding.verdict.broken())
    }
}

/// A clause tells what is missing; where a change was tried and mends it, that change is the remedy.
fn put_proven_first(findings: &mut Findings, offers: &[Vec<Offers>]) {
    for (found, offers) in findings.inlets.iter_mut().chain(&mut findings.trunks).zip(offers) {
        for finding in found.iter_mut().filter(|finding| finding.verdict.broken()) {
            let best = offers.iter().find(|o| o.clause == finding.clause).and_then(|o| o.offers.first());
            if let Some(best) = best {
                finding.remedy = Some(best.words.clone());
            }
        }
    }
}

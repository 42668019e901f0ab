//! A tape that differs, tried: the changed job laid and held against the standard, as far as the change can have
//! made anything worse.
use super::taped::Scratch;
use crate::company::Owner;
use crate::figures::{Centrelines, Clash, JobFigures, LineFigures, Planned, reckon_inlet, reckon_line};
use crate::route::{JobLines, Line, Tube, lay_job};
use crate::standard::{Given, Standing, clause, stands_laid, stands_reckoned, told};
use crate::work::Work;
use std::cell::RefCell;

/// A job as planned, with what every try is held against.
pub struct Probes<'a> {
    work: &'a Work<'a>,
    scratch: RefCell<Scratch<'a>>,
    /// How each line was found, by the clauses that need no figures of its inlet and by those that do.
    found: Vec<[Standing; 2]>,
    centrelines: Centrelines,
    /// In the order of the inlets.
    inlets: Vec<Option<Planned<'a>>>,
}

impl<'a> Probes<'a> {
    pub fn of(work: &'a Work<'a>) -> Probes<'a> {
        let planned = |i| Planned::of(work.job, i, &work.lines, &work.figures.inlets, work.catalog);
        Probes {
            work,
            scratch: RefCell::new(Scratch::of(work)),
            found: work.lines.lines.iter().map(|line| found(work, line)).collect(),
            centrelines: Centrelines::of(&work.lines.lines, work.catalog),
            inlets: (0..work.job.inlets.len()).map(planned).collect(),
        }
    }

    pub fn work(&self) -> &'a Work<'a> {
        self.work
    }

    /// Whether nothing that the standard finds is worse when the tape reads `by_m` more for a tube: on its line, on
    /// those whose air passes through it, and where lines meet.
    pub fn stands(&self, index: usize, tube: &Tube, by_m: f64) -> bool {
        let mut scratch = self.scratch.borrow_mut();
        let stands = scratch.tape(index, tube, by_m).is_some() && self.stands_taped(&scratch, index);
        scratch.put_back(index);
        stands
    }

    fn stands_taped(&self, scratch: &Scratch, index: usize) -> bool {
        let (work, job, cuts) = (self.work, &scratch.job, &scratch.cuts);
        let lines = lay_job(job, work.catalog, &work.say);
        let pairs = || lines.lines.iter().zip(&work.lines.lines);
        let moved: Vec<bool> = pairs().map(|(is, was)| !is.lies_as(was)).collect();
        let mut figures = self.laid_figures(&lines, &moved);
        let differs: Vec<bool> = pairs()
            .enumerate()
            .map(|(i, (is, was))| moved[i] || !is.meets_as(was) || self.may_clash(i, &moved, &figures))
            .collect();
        let known = figures.lines.iter_mut().zip(&work.figures.lines).zip(moved.iter().zip(&differs));
        for ((own, was), _) in known.filter(|(_, (moved, differs))| **differs && !**moved) {
            own.clone_from(was);
        }
        let given = Given { job, lines: &lines, figures: &figures, cuts, ..work.given() };
        // What needs no figures is looked at first, and the line itself before the others: most changes that break
        // something end there.
        let others = (0..lines.lines.len()).filter(|other| *other != index);
        let order: Vec<usize> = std::iter::once(index).chain(others).collect();
        let mut laid: Vec<Standing> = self.found.iter().map(|[laid, _]| *laid).collect();
        for i in order.into_iter().filter(|i| differs[*i]) {
            let (Some(standing), Some([before, reckoned])) = (laid.get_mut(i), self.found.get(i)) else {
                return false;
            };
            *standing = stands_laid(&given, i);
            if standing.worse_than(before.and(*reckoned)) {
                return false;
            }
        }
        let touched = |i: usize| i < job.inlets.len() && (i == index || lines.runs_through(i, index));
        laid.iter().zip(&self.found).enumerate().all(|(i, (laid, [before, reckoned]))| match touched(i) {
            true => self.keeps_figures(&given, i, *laid),
            // Its figures are as planned, and what they break is still broken.
            false => !laid.and(*reckoned).worse_than(before.and(*reckoned)),
        })
    }

    /// Whether an inlet is found no worse by its figures, `laid` being how it stands by all else: told by bounds where
    /// these tell it, else by the figures.
    fn keeps_figures(&self, given: &Given, inlet: usize, laid: Standing) -> bool {
        let Some([before, reckoned]) = self.found.get(inlet) else { return false };
        let planned = self.inlets.get(inlet).and_then(Option::as_ref);
        let found = self.work.findings.of(Owner::Inlet(inlet));
        let change = planned.and_then(|planned| planned.changed(given.lines));
        let more = laid.broken > before.broken;
        if let Some(told) = change.map(|change| told(given, &change, found, more)) {
            if told.no_worse && !more {
                return true;
            }
            if laid.broken + told.broken > before.broken + reckoned.broken {
                return false;
            }
        }
        let figures = reckon_inlet(given.job, inlet, given.lines, given.catalog);
        !laid.and(stands_reckoned(given, inlet, &figures)).worse_than(before.and(*reckoned))
    }

    /// The figures that need none of an inlet: those of lines that have moved, and the clashes.
    fn laid_figures(&self, lines: &JobLines, moved: &[bool]) -> JobFigures {
        let (work, lines) = (self.work, &lines.lines);
        let is_moved = |i: usize| moved.get(i).is_none_or(|moved| *moved);
        let apart = |clash: &&Clash| !is_moved(clash.lines.0) && !is_moved(clash.lines.1);
        let mut clashes: Vec<Clash> = work.figures.clashes.iter().filter(apart).cloned().collect();
        let centrelines = self.centrelines.moved(lines, work.catalog, is_moved);
        clashes.extend(centrelines.clashes(lines, work.catalog, |a, b| is_moved(a) || is_moved(b)));
        let own = |(i, line): (usize, &Line)| {
            if is_moved(i) { reckon_line(line) } else { LineFigures::default() }
        };
        JobFigures { inlets: Vec::new(), lines: lines.iter().enumerate().map(own).collect(), clashes }
    }

    /// Whether a line clashes with one that has moved, or did before.
    fn may_clash(&self, line: usize, moved: &[bool], figures: &JobFigures) -> bool {
        let is_moved = |i: usize| moved.get(i).is_none_or(|moved| *moved);
        let with_moved = |clash: &Clash| {
            let (a, b) = clash.lines;
            a == line && is_moved(b) || b == line && is_moved(a)
        };
        figures.clashes.iter().chain(&self.work.figures.clashes).any(with_moved)
    }
}

/// How a line was found, by the clauses that need no figures of its inlet and by those that do.
fn found(work: &Work, line: &Line) -> [Standing; 2] {
    let findings = work.findings.of(line.owner);
    let reads = |id: &str| clause(id).is_some_and(|clause| clause.reads_figures());
    [false, true].map(|figures| {
        Standing::of(findings.iter().filter(|f| reads(&f.clause) == figures).map(|finding| finding.verdict))
    })
}

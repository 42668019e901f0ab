//! The job with one tape that differs.
use super::{SAME_M, ends};
use crate::company::{Into, Job, LineSpec, Owner, Step};
use crate::route::{Line, Tube};
use crate::takeoff::LineCuts;
use crate::work::Work;

/// A job that tapes are tried on, and its tubes in pieces: one copy serves all tries.
pub struct Scratch<'a> {
    work: &'a Work<'a>,
    pub job: Job,
    pub cuts: Vec<LineCuts>,
}

impl<'a> Scratch<'a> {
    pub fn of(work: &'a Work<'a>) -> Scratch<'a> {
        Scratch { work, job: work.job.clone(), cuts: work.cuts.lines.clone() }
    }

    /// The job where the tape reads `by_m` more for a tube than planned: the run that ends its span is longer, what
    /// follows along the line moves on, and its last piece takes the difference up. `None` where no run is left.
    pub fn tape(&mut self, index: usize, tube: &Tube, by_m: f64) -> Option<()> {
        let line = self.work.lines.lines.get(index)?;
        let (_, to_m) = ends(line, tube);
        lengthen(self.job.lines.get_mut(index)?, line, to_m, by_m)?;
        for joining in &mut self.job.lines {
            // What joins a trunk beyond the tube moves on with it.
            if let Some(Into::Trunk { trunk, at_m: Some(at_m), .. }) = &mut joining.into
                && line.owner == Owner::Trunk(*trunk)
                && *at_m > to_m - SAME_M
            {
                *at_m += by_m;
            }
        }
        let cut = self.cuts.get_mut(index)?.iter_mut().find(|cut| cut.mark == tube.mark)?;
        cut.clear_m += by_m;
        cut.pieces.last_mut()?.length_m += by_m;
        Some(())
    }

    /// The job as planned again.
    pub fn put_back(&mut self, index: usize) {
        for (spec, was) in self.job.lines.iter_mut().zip(&self.work.job.lines) {
            if let (Some(Into::Trunk { at_m, .. }), Some(Into::Trunk { at_m: was_m, .. })) =
                (&mut spec.into, &was.into)
            {
                *at_m = *was_m;
            }
        }
        if let (Some(spec), Some(was)) = (self.job.lines.get_mut(index), self.work.job.lines.get(index)) {
            spec.steps.iter_mut().zip(&was.steps).for_each(|(step, was)| put_run_back(step, was));
        }
        if let (Some(cuts), Some(was)) = (self.cuts.get_mut(index), self.work.cuts.lines.get(index)) {
            for (cut, was) in cuts.iter_mut().zip(was) {
                cut.clear_m = was.clear_m;
                cut.pieces.iter_mut().zip(&was.pieces).for_each(|(p, was)| p.length_m = was.length_m);
            }
        }
    }
}

/// All that [`lengthen`] changes of a step.
fn put_run_back(step: &mut Step, was: &Step) {
    if let (Step::Run(run), Step::Run(was)) = (step, was) {
        (run.length_m, run.rest) = (was.length_m, was.rest);
        run.crossings.iter_mut().zip(&was.crossings).for_each(|(c, was)| c.at_m = was.at_m);
    }
}

/// A copy of the job, and of its tubes in pieces, with the tape of one tube `by_m` longer, as a try has it.
pub fn taped(work: &Work, index: usize, tube: &Tube, by_m: f64) -> Option<(Job, Vec<LineCuts>)> {
    let mut scratch = Scratch::of(work);
    scratch.tape(index, tube, by_m)?;
    Some((scratch.job, scratch.cuts))
}

/// Makes the run on which station `to_m` lies longer by `by_m`; what it is bored through beyond moves on.
fn lengthen(spec: &mut LineSpec, line: &Line, to_m: f64, by_m: f64) -> Option<()> {
    let laid_m: f64 = line.legs.iter().map(|leg| leg.length_m).sum();
    let runs = |steps: &[Step]| -> f64 {
        let length = |step: &Step| if let Step::Run(run) = step { run.length_m } else { 0.0 };
        steps.iter().map(length).sum()
    };
    // A run that takes what is left has its length from the line as laid, and keeps it.
    let rest_m = laid_m - runs(&spec.steps);
    let mut at_m = 0.0;
    let mut longer = None;
    for step in &mut spec.steps {
        let Step::Run(run) = step else { continue };
        if run.rest {
            (run.length_m, run.rest) = (rest_m, false);
        }
        let start_m = at_m;
        at_m += run.length_m;
        if longer.is_none() && at_m >= to_m - SAME_M {
            let beyond = run.crossings.iter_mut().filter(|crossing| start_m + crossing.at_m > to_m);
            beyond.for_each(|crossing| crossing.at_m += by_m);
            run.length_m += by_m;
            longer = Some(run.length_m);
        }
    }
    longer.filter(|length_m| *length_m > 0.0).map(|_| ())
}

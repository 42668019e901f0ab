//! All lines of a job, set in the job's frame as far as places are given.
use super::join::{entry, meeting};
use super::lay::lay;
use super::tubes::tubes;
use super::types::{Anchor, Closure, End, Inline, InlineKind, JobLines, Joining, Joins, Line};
use crate::company::{Catalog, Into, Job, LineSpec, Step};
use crate::measure::Say;
use glam::DVec3;

/// Lays every line of a job.
///
/// A line is placed by its `start`; a trunk without one backwards from what it runs into, where that has a
/// place. Where both ends of a line have a place the difference is its [`Closure`].
pub fn lay_job(job: &Job, catalog: &Catalog, say: &Say) -> JobLines {
    let mut laid: Vec<Option<Line>> = job.lines.iter().map(|_| None).collect();
    // A line waits for what it runs into; reading has refused circles, and the count guards all the same.
    for _ in 0..=job.lines.len() {
        for (i, spec) in job.lines.iter().enumerate() {
            let into = spec.into.as_ref().and_then(Into::trunk).map(|trunk| job.inlets.len() + trunk);
            let ready = into.is_none_or(|into| laid.get(into).is_none_or(Option::is_some));
            if laid[i].is_none() && ready {
                laid[i] = Some(placed(job, spec, &laid, catalog, say));
            }
        }
    }
    let left =
        |(line, spec): (Option<Line>, &LineSpec)| line.unwrap_or_else(|| lay(spec, DVec3::ZERO, catalog));
    let lines = laid.into_iter().zip(&job.lines).map(left).collect();
    let mut lines = JobLines { lines, inlets: job.inlets.len() };
    join(&mut lines, catalog);
    lines
}

/// Where a line should arrive.
struct Target {
    point: DVec3,
    /// On the line that it joins; nothing at the unit.
    station_m: f64,
    place: String,
}

/// One line, in its place.
fn placed(job: &Job, spec: &LineSpec, laid: &[Option<Line>], catalog: &Catalog, say: &Say) -> Line {
    let mut line = lay(spec, spec.start.unwrap_or(DVec3::ZERO), catalog);
    let mut wanted = target(job, spec, laid, &line, say);
    if let (Some(_), Some(target)) = (spec.start, &wanted)
        && let Some(spec) = rest_run(spec, (target.point - line.end).dot(line.end_heading))
    {
        line = lay(&spec, line.start, catalog);
    }
    if let (None, Some(target), Some(_)) = (spec.start, &wanted, line.raceway.is_none().then_some(())) {
        line = lay(spec, target.point - line.end, catalog);
        line.anchor = Anchor::End;
    }
    line.closure = match line.anchor {
        Anchor::Start => wanted.as_ref().map(|target| Closure {
            wanted: target.point,
            miss: line.end - target.point,
            place: target.place.clone(),
        }),
        _ => None,
    };
    line.joins = joins(job, spec, wanted.take());
    line.tubes = tubes(&line, catalog);
    line
}

/// The line with its last run of a length that is to be worked out; `None` where it has no such run.
fn rest_run(spec: &LineSpec, rest_m: f64) -> Option<LineSpec> {
    let mut spec = spec.clone();
    let rest = spec.steps.iter_mut().rev().find_map(|step| match step {
        Step::Run(run) if run.rest => Some(run),
        _ => None,
    })?;
    rest.length_m = rest_m.max(0.0);
    Some(spec)
}

/// The line that a line runs into, and where.
fn joins(job: &Job, spec: &LineSpec, wanted: Option<Target>) -> Option<Joins> {
    let (trunk, station_m, with) = match spec.into.as_ref()? {
        Into::Unit => return None,
        Into::Trunk { trunk, at_m, with } => {
            (*trunk, at_m.or(wanted.map(|target| target.station_m)), Some(with.clone()))
        }
        Into::Start { trunk } => (*trunk, Some(0.0), None),
    };
    Some(Joins { line: job.inlets.len() + trunk, station_m, with })
}

/// Where a line should arrive, as far as that has a place.
fn target(job: &Job, spec: &LineSpec, laid: &[Option<Line>], line: &Line, say: &Say) -> Option<Target> {
    let into = spec.into.as_ref()?;
    let Some(trunk) = into.trunk() else {
        return Some(Target { point: job.unit.at?, station_m: 0.0, place: "the unit".into() });
    };
    let trunk = laid.get(job.inlets.len() + trunk)?.as_ref().filter(|trunk| trunk.anchor != Anchor::None)?;
    match into {
        Into::Start { .. } => Some(Target {
            point: trunk.start,
            station_m: 0.0,
            place: format!("the start of {}", trunk.called()),
        }),
        Into::Trunk { at_m, .. } => {
            let station_m = match at_m {
                Some(at_m) => *at_m,
                None if spec.start.is_some() => meeting(trunk, line.end, line.end_heading)?,
                None => return None,
            };
            let place = format!("{} at {}", trunk.called(), say.length(station_m));
            Some(Target { point: trunk.point_at(station_m)?, station_m, place })
        }
        Into::Unit => None,
    }
}

/// Sets the junctions into the lines that are joined, and divides their tubes at them.
fn join(lines: &mut JobLines, catalog: &Catalog) {
    for i in 0..lines.lines.len() {
        let Some(joins) = lines.lines[i].joins.clone() else { continue };
        let (by, heading) = (lines.lines[i].name.clone(), lines.lines[i].end_heading);
        let Some(onto) = lines.lines.get_mut(joins.line) else { continue };
        match (joins.with, joins.station_m) {
            (Some(fitting), Some(station_m)) => {
                let leg = onto.leg_at(station_m);
                let entry = entry(onto.legs[leg].heading, heading);
                let half_m = fitting.junction().and_then(|branch| branch.run_laying_length_m).unwrap_or(0.0);
                let kind = InlineKind::Junction(Joining { line: i, by, fitting, entry });
                onto.inlines.push(Inline { kind, leg, station_m, before_m: half_m, after_m: half_m });
            }
            (None, _) => onto.head = End::From,
            (Some(_), None) => {}
        }
    }
    for line in &mut lines.lines {
        line.inlines.sort_by(|a, b| a.station_m.total_cmp(&b.station_m));
        line.tubes = tubes(line, catalog);
    }
}

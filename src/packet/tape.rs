//! How far a tape may differ from the plan without anybody being asked: worked out from the clauses that a
//! longer or shorter run can break, and from the piece that takes the difference up.
//!
//! A run that differs by `d` moves everything after it by `d` along its heading. That changes
//! - the tube, whose last piece takes `d` up: it stays between the shortest piece and a whole stick, and out
//!   of the members that the tube is bored through;
//! - the tube between two bends of a raceway, which has a least length;
//! - the hose path, where the run lies before the stop: it keeps the hose and its growth;
//! - the height of what follows, where the run climbs after the riser;
//! - where the line arrives: the misclosure, where both ends have places.
//!
//! What a clause finds amiss already is nothing that a tape can make worse here, and sets no limit.
use crate::company::{Job, Owner, Step};
use crate::figures::{reckon_inlet, reckon_line};
use crate::route::{End, Line, Tube, lay_job};
use crate::standard::{
    Given, Verdict, hose_allowance, inspect_line, least_between_bends, level_tolerance, misclosure_tolerance,
};
use crate::takeoff::TubeCut;
use crate::work::Work;

/// Thickness of a two-by, dressed (PS 20), for members whose size is not given.
const TWO_BY_M: f64 = 0.0381;
/// Finer than any tape: a bound that is met within this is met.
const SAME_M: f64 = 1e-9;

/// What a tube is measured by: from the work point of one fitting to that of the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// As planned.
    pub plan_m: f64,
    /// What the fittings at its two ends take off.
    pub deducts_m: [f64; 2],
}

/// Between what the tape may lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    pub least_m: f64,
    pub most_m: f64,
}

/// Stations of the work points between which a tube lies.
pub fn ends(line: &Line, tube: &Tube) -> (f64, f64) {
    (line.station_of(tube.from, true), line.station_of(tube.to, false))
}

/// What the tape measures for a tube, and the deduct at each end.
pub fn span(line: &Line, tube: &Tube) -> Span {
    let (from_m, to_m) = ends(line, tube);
    Span { plan_m: to_m - from_m, deducts_m: [tube.start_m - from_m, to_m - (tube.start_m + tube.clear_m)] }
}

/// How far the tape may differ for a tube of a line. `None` where the tube cannot be cut at all.
///
/// `index` is the line's among all lines of the job. Both bounds keep every verdict of the inlet as it is:
/// they are the narrowest of the closed forms above, each confirmed by laying and inspecting the changed job,
/// and halved toward the plan where another clause would break first.
pub fn limits(work: &Work, index: usize, tube: &Tube, cut: &TubeCut) -> Option<Limits> {
    let line = work.lines.lines.get(index)?;
    let plan_m = span(line, tube).plan_m;
    let (less_m, more_m) = bounds(work, line, tube, cut)?;
    Some(Limits {
        least_m: plan_m + confirmed(work, index, tube, less_m),
        most_m: plan_m + confirmed(work, index, tube, more_m),
    })
}

/// The closed forms: how much less and how much more, the first at most 0 and the second at least.
fn bounds(work: &Work, line: &Line, tube: &Tube, cut: &TubeCut) -> Option<(f64, f64)> {
    let last = cut.pieces.last()?;
    let heading = line.legs.get(tube.leg)?.heading;
    let stick = &work.catalog.tube;
    let mut range = (stick.shortest_m - last.length_m, stick.stick_m - last.length_m);
    let mut keep = |(less_m, more_m): (f64, f64)| range = (range.0.max(less_m), range.1.min(more_m));
    if let Some(end_m) = last_member_m(line, tube) {
        keep((end_m - (tube.start_m + tube.clear_m), f64::INFINITY));
    }
    if let Some(raceway) = line.raceway.as_ref().filter(|raceway| tube.start_m < raceway.stop_m - SAME_M) {
        let between_bends = matches!((tube.from, tube.to), (End::Bend(_), End::Bend(_)));
        if let Some(least_m) = least_between_bends(work.standard).filter(|_| between_bends) {
            keep(margin(tube.clear_m - least_m));
        }
        if let Owner::Inlet(i) = line.owner {
            let hose_m = work.job.inlets.get(i)?.hose.length_m;
            keep(margin(raceway.hose_path_m - hose_m * (1.0 + hose_allowance(work.standard))));
        }
        if let Some(tolerance_m) = level_tolerance(work.standard).filter(|_| tube.leg >= raceway.riser_legs) {
            keep(either_way(tolerance_m - raceway.level_deviation_m, heading.z.abs()));
        }
    }
    if let Some(tolerance_m) = misclosure_tolerance(work.standard) {
        for (miss, along) in closures(work, line, tube) {
            keep(closing(miss.dot(along), miss.length(), tolerance_m));
        }
    }
    Some((range.0.min(0.0), range.1.max(0.0)))
}

/// A measure that may shrink by what it has over its least; one that is under it already sets no limit.
fn margin(over_m: f64) -> (f64, f64) {
    if over_m < -SAME_M { (f64::NEG_INFINITY, f64::INFINITY) } else { (-over_m, f64::INFINITY) }
}

/// A measure that may move either way by what is left of its tolerance, at so many metres to a metre.
fn either_way(left_m: f64, rate: f64) -> (f64, f64) {
    if left_m < -SAME_M || rate < SAME_M {
        return (f64::NEG_INFINITY, f64::INFINITY);
    }
    (-left_m / rate, left_m / rate)
}

/// How far the arrival may move along a heading before the miss is past its tolerance: the two places where
/// the line of movement cuts the sphere of the tolerance, `d = -m.h +/- sqrt((m.h)^2 - m^2 + t^2)`.
fn closing(along_m: f64, miss_m: f64, tolerance_m: f64) -> (f64, f64) {
    let inside = along_m * along_m - miss_m * miss_m + tolerance_m * tolerance_m;
    if miss_m > tolerance_m + SAME_M || inside < 0.0 {
        return (f64::NEG_INFINITY, f64::INFINITY);
    }
    (-along_m - inside.sqrt(), -along_m + inside.sqrt())
}

/// Every closure that a longer tube moves: the line's own, and on a trunk those of the lines that join it
/// after this tube. With each miss goes the heading along which the arrival moves from where it should be.
fn closures<'a>(work: &'a Work, line: &'a Line, tube: &Tube) -> Vec<(glam::DVec3, glam::DVec3)> {
    let Some(leg) = line.legs.get(tube.leg) else { return Vec::new() };
    let own = line.closure.as_ref().map(|closure| (closure.miss, leg.heading));
    let (_, to_m) = ends(line, tube);
    let joined = line.junctions().filter(|(_, inline, _)| inline.station_m >= to_m - SAME_M);
    // What joins a trunk should arrive where its wye stands, and that is what moves.
    let theirs = joined.filter_map(|(.., joining)| {
        let closure = work.lines.lines.get(joining.line)?.closure.as_ref()?;
        Some((closure.miss, -leg.heading))
    });
    own.into_iter().chain(theirs).collect()
}

/// The far face of the last member that a tube is bored through, station.
fn last_member_m(line: &Line, tube: &Tube) -> Option<f64> {
    let (from_m, to_m) = ends(line, tube);
    let here =
        line.crossings.iter().filter(|c| c.leg == tube.leg && c.station_m > from_m && c.station_m < to_m);
    here.map(|c| c.station_m + c.crossing.thickness_m.unwrap_or(TWO_BY_M) / 2.0).max_by(f64::total_cmp)
}

/// How often a bound is halved toward the plan before it is given up.
const HALVINGS: usize = 8;

/// A bound under which the whole standard finds what it found, or nothing.
fn confirmed(work: &Work, index: usize, tube: &Tube, by_m: f64) -> f64 {
    let Some(Owner::Inlet(inlet)) = work.lines.lines.get(index).map(|line| line.owner) else { return by_m };
    let mut tried_m = by_m;
    for _ in 0..HALVINGS {
        // A bound itself may be broken by the last bit of a sum.
        let just_within_m = tried_m - tried_m.signum() * SAME_M;
        if tried_m.abs() < SAME_M || holds(work, index, inlet, tube, just_within_m) {
            return tried_m;
        }
        tried_m /= 2.0;
    }
    0.0
}

/// Whether no verdict of an inlet is worse when a run of its line is longer by so much.
fn holds(work: &Work, index: usize, inlet: usize, tube: &Tube, by_m: f64) -> bool {
    let Some(job) = moved(work, index, tube, by_m) else { return false };
    let lines = lay_job(&job, work.catalog, &work.say);
    let mut figures = work.figures.clone();
    figures.inlets[inlet] = reckon_inlet(&job, inlet, &lines, work.catalog);
    figures.lines = lines.lines.iter().map(reckon_line).collect();
    let given = Given {
        job: &job,
        lines: &lines,
        figures: &figures,
        // The pieces stay as they are planned: the last of a tube takes the difference up.
        cuts: &work.cuts.lines,
        standard: work.standard,
        catalog: work.catalog,
        say: work.say,
    };
    let after = inspect_line(&given, index);
    Verdict::worst(after.iter().map(|f| f.verdict)) <= work.findings.inlet_verdict(inlet)
        && count(&after) <= count(&work.findings.inlets[inlet])
}

/// How many findings stop or caution.
fn count(findings: &[crate::standard::Finding]) -> usize {
    findings.iter().filter(|finding| finding.verdict.broken()).count()
}

/// The job with the run that ends a tube's span longer by so much; `None` where no run does.
pub fn moved(work: &Work, index: usize, tube: &Tube, by_m: f64) -> Option<Job> {
    let line = work.lines.lines.get(index)?;
    let (_, to_m) = ends(line, tube);
    let mut job = work.job.clone();
    let mut at_m = 0.0;
    for step in &mut job.lines.get_mut(index)?.steps {
        let Step::Run(run) = step else { continue };
        at_m += run.length_m;
        if at_m >= to_m - SAME_M {
            run.length_m += by_m;
            run.rest = false;
            return (run.length_m > 0.0).then_some(job);
        }
    }
    None
}

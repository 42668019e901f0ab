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
mod probe;
mod taped;

pub use probe::Probes;
pub use taped::taped;

use crate::company::Owner;
use crate::measure::INCH_M;
use crate::route::{End, Line, Tube};
use crate::standard::{hose_allowance, least_between_bends, level_tolerance, misclosure_tolerance};
use crate::takeoff::TubeCut;
use crate::work::Work;
use std::sync::OnceLock;

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

/// The limits of all tubes of a job, worked out when they are first asked for: several sheets print them.
#[derive(Debug, Default)]
pub struct Tapes(OnceLock<Vec<Vec<Option<Limits>>>>);

impl Tapes {
    /// The [`limits`] of a tube, by the places of its line and of the tube in it.
    pub fn limits(&self, work: &Work, line: usize, tube: usize) -> Option<Limits> {
        let all = || {
            let probes = Probes::of(work);
            let of_line = |(index, line): (usize, &Line)| {
                let cuts = work.cuts.lines.get(index).map(Vec::as_slice).unwrap_or_default();
                line.tubes.iter().zip(cuts).map(|(tube, cut)| limits(&probes, index, tube, cut)).collect()
            };
            work.lines.lines.iter().enumerate().map(of_line).collect()
        };
        let all: &Vec<Vec<_>> = self.0.get_or_init(all);
        *all.get(line)?.get(tube)?
    }

    /// How much shorter a raceway would be if each of its tapes came up as short as its own limit lets it: a limit
    /// holds while the other runs are as drawn.
    pub fn short_m(&self, work: &Work, line: usize) -> f64 {
        let tubes = work.lines.lines.get(line).map_or(&[][..], |line| line.tubes.as_slice());
        let last = tubes.iter().position(|tube| tube.to == End::Stop).map_or(0, |place| place + 1);
        let shorter = |place: usize| {
            let plan_m = span(&work.lines.lines[line], &tubes[place]).plan_m;
            self.limits(work, line, place).map_or(0.0, |limits| (plan_m - limits.least_m).max(0.0))
        };
        (0..last).map(shorter).sum()
    }
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
/// `index` is the line's among all lines of the job. Within both bounds nothing that the standard finds is
/// worse than as planned; past either, something is, or the last piece no longer serves. The closed forms above
/// say where to look, and the changed job, laid and inspected, decides; where it says otherwise the bound is
/// found by halving, to `FINE_M` on the safe side.
pub fn limits(probes: &Probes, index: usize, tube: &Tube, cut: &TubeCut) -> Option<Limits> {
    let work = probes.work();
    let line = work.lines.lines.get(index)?;
    let plan_m = span(line, tube).plan_m;
    let (piece, clauses) = (by_piece(work, line, tube, cut)?, by_clauses(work, line, tube)?);
    let stands = |by_m: f64| probes.stands(index, tube, by_m);
    Some(Limits {
        least_m: plan_m + found(&stands, piece.0, clauses.0.max(piece.0).min(0.0)),
        most_m: plan_m + found(&stands, piece.1, clauses.1.min(piece.1).max(0.0)),
    })
}

/// Less than half of what the sheet prints to: a bound found by halving is so near to the true one.
const FINE_M: f64 = INCH_M / 64.0;

/// How far a tube may grow (or shrink, where all are negative): at most `farthest_m`, looked for first at
/// `guess_m`.
fn found(stands: &impl Fn(f64) -> bool, farthest_m: f64, guess_m: f64) -> f64 {
    let way = farthest_m.signum();
    // A bound itself may be broken by the last bit of a sum.
    let within = |by_m: f64| by_m.abs() < SAME_M || stands(by_m - way * SAME_M);
    let is_last = |by_m: f64| farthest_m - by_m == 0.0 || !stands(by_m + way * FINE_M);
    match within(guess_m) {
        true if is_last(guess_m) => guess_m,
        true if within(farthest_m) => farthest_m,
        true => halved(&within, guess_m, farthest_m),
        false => halved(&within, 0.0, guess_m),
    }
}

/// The last place that stands between one that does and one that does not.
fn halved(within: &impl Fn(f64) -> bool, good_m: f64, bad_m: f64) -> f64 {
    let (mut good_m, mut bad_m) = (good_m, bad_m);
    while (bad_m - good_m).abs() > FINE_M {
        let middle_m = (good_m + bad_m) / 2.0;
        if within(middle_m) { good_m = middle_m } else { bad_m = middle_m }
    }
    good_m
}

/// How much less and how much more the last piece of a tube can take up: it is no shorter than the shortest
/// that holds in two sockets, no longer than a stick, and reaches out of every member that the tube is bored
/// through.
fn by_piece(work: &Work, line: &Line, tube: &Tube, cut: &TubeCut) -> Option<(f64, f64)> {
    let (last, stick) = (cut.pieces.last()?, &work.catalog.tube);
    let reach_m =
        last_member_m(line, tube).map_or(f64::NEG_INFINITY, |end_m| end_m - (tube.start_m + tube.clear_m));
    let less_m = (stick.shortest_m - last.length_m).max(reach_m);
    Some((less_m.min(0.0), (stick.stick_m - last.length_m).max(0.0)))
}

/// The closed forms of the clauses: how much less and how much more.
fn by_clauses(work: &Work, line: &Line, tube: &Tube) -> Option<(f64, f64)> {
    let heading = line.legs.get(tube.leg)?.heading;
    let mut range = (f64::NEG_INFINITY, f64::INFINITY);
    let mut keep = |(less_m, more_m): (f64, f64)| range = (range.0.max(less_m), range.1.min(more_m));
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
    Some(range)
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

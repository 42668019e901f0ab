//! Lines nearer to each other than tube and fittings allow.
//!
//! Each line is followed along its true centreline, straights between tangent points and arcs as short
//! chords, as far as its place in the job's frame is known.
use crate::company::{Catalog, Fitting};
use crate::route::{Anchor, End, Line};
use glam::DVec3;
use std::cmp::Ordering;
use std::rc::Rc;

/// An arc is followed in chords that turn by no more than this, radians: at a radius of a foot a chord is
/// off its arc by under a third of a millimetre.
const CHORD_RAD: f64 = 0.09;

/// Lines into the unit come together there, and how the unit takes them is not in the job: the last foot
/// before it is left out.
const AT_UNIT_M: f64 = 0.3048;

/// Two places of one line are neighbours up to this far apart along it; what is wrong there is a matter of
/// fitting room.
const NEIGHBOURS_M: f64 = 0.3048;

/// Lines that touch do not clash; far under a tape.
const TOUCH_M: f64 = 1e-6;

/// Two lines too near each other, at their worst place.
#[derive(Debug, Clone, PartialEq)]
pub struct Clash {
    /// Indices of the lines, the lower first; the same twice where a line meets itself.
    pub lines: (usize, usize),
    /// Stations of the two places along their lines.
    pub stations_m: (f64, f64),
    /// Halfway between the two places.
    pub point: DVec3,
    /// Between the two centrelines.
    pub apart_m: f64,
    /// How far apart they have to be: half of each outside, a socket's where one stands there.
    pub needs_m: f64,
}

impl Clash {
    /// How much of room is missing.
    pub fn missing_m(&self) -> f64 {
        self.needs_m - self.apart_m
    }

    /// Whether more room is missing than in another; where as much is, whether it lies farther along the lines.
    fn is_worse(&self, than: &Clash) -> bool {
        let places = || self.stations_m.partial_cmp(&than.stations_m);
        self.missing_m()
            .total_cmp(&than.missing_m())
            .then_with(|| places().unwrap_or(Ordering::Equal))
            .is_gt()
    }
}

/// Every pair of lines that clash, each once, in the order of the lines.
///
/// A tube is as thick as its outside. A socket is thicker by its wall, which is taken as thick as the
/// tube's own. Left out is the neighbourhood in which a line joins another, and the last foot before the
/// unit.
pub fn clashes(lines: &[Line], catalog: &Catalog) -> Vec<Clash> {
    Centrelines::of(lines, catalog).clashes(lines, catalog, |_, _| true)
}

/// The centrelines of a job's lines, to be held against each other.
#[derive(Clone)]
pub struct Centrelines(Vec<Rc<Centreline>>);

impl Centrelines {
    pub fn of(lines: &[Line], catalog: &Catalog) -> Centrelines {
        Centrelines(lines.iter().map(|line| Rc::new(Centreline::of(chords(line, catalog)))).collect())
    }

    /// The same where some lines have been moved.
    pub fn moved(&self, lines: &[Line], catalog: &Catalog, moved: impl Fn(usize) -> bool) -> Centrelines {
        let one = |(i, line): (usize, &Line)| match self.0.get(i).filter(|_| !moved(i)) {
            Some(known) => known.clone(),
            None => Rc::new(Centreline::of(chords(line, catalog))),
        };
        Centrelines(lines.iter().enumerate().map(one).collect())
    }

    /// The [`clashes`] of those pairs of lines that are wanted; `lines` are those whose centrelines these are.
    pub fn clashes(
        &self,
        lines: &[Line],
        catalog: &Catalog,
        wanted: impl Fn(usize, usize) -> bool,
    ) -> Vec<Clash> {
        let pairs = (0..self.0.len()).flat_map(|a| (a..self.0.len()).map(move |b| (a, b)));
        pairs.filter(|(a, b)| wanted(*a, *b)).filter_map(|pair| self.worst(lines, catalog, pair)).collect()
    }

    /// The worst clash of two lines, or of one with itself.
    fn worst(&self, lines: &[Line], catalog: &Catalog, (a, b): (usize, usize)) -> Option<Clash> {
        let mut worst: Option<Clash> = None;
        let beyond_m = if a == b { NEIGHBOURS_M } else { f64::NEG_INFINITY };
        self.0[a].near(&self.0[b], beyond_m, |one, other| {
            let apart = match a == b {
                true => other.from_m - one.to_m > NEIGHBOURS_M,
                false => !joined(lines, catalog, (a, one), (b, other)),
            };
            if let Some(clash) = apart.then(|| one.clash((a, b), other)).flatten()
                && worst.as_ref().is_none_or(|worst| clash.is_worse(worst))
            {
                worst = Some(clash);
            }
        });
        worst
    }
}

/// So many chords that follow on each other are held against others at once.
const SEVERAL: usize = 8;

/// The chords of a line, with boxes about several at a time and about them all: two lines are held against
/// each other box by box, and most are far apart.
struct Centreline {
    chords: Vec<Chord>,
    /// One for each `SEVERAL` chords.
    several: Vec<Chord>,
    all: Option<Chord>,
}

impl Centreline {
    fn of(chords: Vec<Chord>) -> Centreline {
        let several: Vec<Chord> = chords.chunks(SEVERAL).filter_map(Chord::about).collect();
        let all = Chord::about(&several);
        Centreline { chords, several, all }
    }

    /// Shows every pair of chords whose boxes come as near as they may not, and of which the other ends more than
    /// `beyond_m` farther along than the one begins.
    fn near(&self, other: &Centreline, beyond_m: f64, mut show: impl FnMut(&Chord, &Chord)) {
        let Some(others) = &other.all else { return };
        if !self.all.as_ref().is_some_and(|all| all.near(others)) {
            return;
        }
        let near = |one: &Chord, other: &Chord| other.to_m - one.from_m > beyond_m && one.near(other);
        let ours = self.chords.chunks(SEVERAL).zip(&self.several);
        for (ones, one_box) in ours.filter(|(_, one_box)| one_box.near(others)) {
            let theirs = other.chords.chunks(SEVERAL).zip(&other.several);
            for (others, other_box) in theirs.filter(|(_, other_box)| near(one_box, other_box)) {
                for one in ones.iter().filter(|one| near(one, other_box)) {
                    others.iter().filter(|other| near(one, other)).for_each(|other| show(one, other));
                }
            }
        }
    }
}

/// A straight piece of a centreline.
struct Chord {
    from: DVec3,
    to: DVec3,
    from_m: f64,
    to_m: f64,
    /// Half of what stands there.
    half_m: f64,
    /// Corners of the box about both ends.
    low: DVec3,
    high: DVec3,
}

impl Chord {
    /// From the first of several to the last, in a box about them all and as thick as the thickest.
    fn about(chords: &[Chord]) -> Option<Chord> {
        let (first, last) = (chords.first()?, chords.last()?);
        Some(Chord {
            from: first.from,
            to: last.to,
            from_m: first.from_m,
            to_m: last.to_m,
            half_m: chords.iter().map(|chord| chord.half_m).fold(0.0, f64::max),
            low: chords.iter().fold(first.low, |low, chord| low.min(chord.low)),
            high: chords.iter().fold(first.high, |high, chord| high.max(chord.high)),
        })
    }

    /// Whether the boxes about two chords come as near as they may not.
    fn near(&self, other: &Chord) -> bool {
        let needs_m = self.half_m + other.half_m;
        !((other.low - self.high).max_element() > needs_m || (self.low - other.high).max_element() > needs_m)
    }

    fn clash(&self, lines: (usize, usize), other: &Chord) -> Option<Clash> {
        let needs_m = self.half_m + other.half_m;
        let (s, t) = nearest((self.from, self.to), (other.from, other.to));
        let (one, two) = (self.from.lerp(self.to, s), other.from.lerp(other.to, t));
        let apart_m = one.distance(two);
        let station = |chord: &Chord, at: f64| chord.from_m + (chord.to_m - chord.from_m) * at;
        (apart_m < needs_m - TOUCH_M).then(|| Clash {
            lines,
            stations_m: (station(self, s), station(other, t)),
            point: one.midpoint(two),
            apart_m,
            needs_m,
        })
    }
}

/// The centreline of a line in pieces; nothing where its place is not known.
fn chords(line: &Line, catalog: &Catalog) -> Vec<Chord> {
    if line.anchor == Anchor::None {
        return Vec::new();
    }
    let tube = &catalog.tube;
    let (half_m, wall_m) = (tube.outside_m / 2.0, (tube.outside_m - tube.bore_m) / 2.0);
    let sockets = sockets(line, catalog);
    let mut cuts: Vec<f64> = sockets.iter().flat_map(|(from_m, to_m)| [*from_m, *to_m]).collect();
    cuts.sort_by(f64::total_cmp);
    let sockets = merged(sockets);
    let ends_m = if line.tail == End::Unit { line.centre_m - AT_UNIT_M } else { line.centre_m };
    let mut found = Vec::new();
    let mut add = |from: (DVec3, f64), to: (DVec3, f64)| {
        let middle_m = (from.1 + to.1) / 2.0;
        let before = sockets.partition_point(|(_, to_m)| *to_m < middle_m);
        let in_socket = sockets.get(before).is_some_and(|(from_m, _)| *from_m <= middle_m);
        if middle_m <= ends_m {
            let half_m = half_m + if in_socket { wall_m } else { 0.0 };
            let (low, high) = (from.0.min(to.0), from.0.max(to.0));
            found.push(Chord { from: from.0, to: to.0, from_m: from.1, to_m: to.1, half_m, low, high });
        }
    };
    for (i, leg) in line.legs.iter().enumerate() {
        let before_m = i.checked_sub(1).and_then(|b| line.bends.get(b)).map_or(0.0, |bend| bend.tangent_m);
        let bend = line.bends.get(i);
        let (from_m, to_m) =
            (leg.station_m + before_m, leg.station_m + leg.length_m - bend.map_or(0.0, |b| b.tangent_m));
        let at = |station_m: f64| (leg.from + leg.heading * (station_m - leg.station_m), station_m);
        let inside = &cuts[cuts.partition_point(|m| *m <= from_m)..];
        let inside = inside.iter().copied().take_while(|m| *m < to_m).chain([ends_m.min(to_m)]);
        let mut last_m = from_m;
        for next_m in inside.filter(|m| *m > from_m) {
            add(at(last_m), at(next_m.max(last_m)));
            last_m = next_m.max(last_m);
        }
        if let Some(bend) = bend {
            arc(bend).windows(2).for_each(|pair| add(pair[0], pair[1]));
        }
    }
    found
}

/// Points along a bend's arc, each with the station that stands nearest to it along the work points.
fn arc(bend: &crate::route::Bend) -> Vec<(DVec3, f64)> {
    let angle = bend.angle_deg.to_radians();
    let steps = (angle / CHORD_RAD).ceil().max(1.0) as usize;
    let start = bend.point - bend.heading_in * bend.tangent_m;
    let inward = bend.heading_out - bend.heading_in * bend.heading_in.dot(bend.heading_out);
    let inward = inward.try_normalize().unwrap_or(DVec3::ZERO);
    let point = |k: usize| {
        let share = k as f64 / steps as f64;
        let (sin, cos) = (angle * share).sin_cos();
        let at = start + (bend.heading_in * sin + inward * (1.0 - cos)) * bend.radius_m;
        (at, bend.at_centre_m + (2.0 * share - 1.0) * bend.tangent_m)
    };
    (0..=steps).map(point).collect()
}

/// Where a fitting stands about a line, from mouth to mouth, by station.
fn sockets(line: &Line, catalog: &Catalog) -> Vec<(f64, f64)> {
    let deep = |fitting: Option<&Fitting>| fitting.and_then(|f| f.socket_m).unwrap_or(0.0);
    let bends = line.bends.iter().filter(|bend| bend.fitting.is_some()).map(|bend| {
        let reach_m = bend.laying_length_m + deep(bend.fitting.as_ref());
        (bend.at_centre_m - reach_m, bend.at_centre_m + reach_m)
    });
    let inlines = line.inlines.iter().map(|inline| {
        let socket_m = match &inline.kind {
            crate::route::InlineKind::Stop => deep(catalog.stop()),
            crate::route::InlineKind::Junction(joining) => deep(Some(&joining.fitting)),
        };
        (inline.station_m - inline.before_m - socket_m, inline.station_m + inline.after_m + socket_m)
    });
    bends.chain(inlines).collect()
}

/// The same stretches in their order, those that overlap as one.
fn merged(mut stretches: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    stretches.sort_by(|a, b| a.0.total_cmp(&b.0));
    stretches.dedup_by(|next, last| {
        let overlap = next.0 <= last.1;
        if overlap {
            last.1 = last.1.max(next.1);
        }
        overlap
    });
    stretches
}

/// Whether two places belong to the joint of their lines.
fn joined(lines: &[Line], catalog: &Catalog, one: (usize, &Chord), other: (usize, &Chord)) -> bool {
    at_joint(lines, catalog, one, other) || at_joint(lines, catalog, other, one)
}

/// Whether `by` comes in at `on`, at those places, or both come in to one place of a third line.
fn at_joint(lines: &[Line], catalog: &Catalog, by: (usize, &Chord), on: (usize, &Chord)) -> bool {
    let line = &lines[by.0];
    let Some(joins) = line.joins.as_ref().filter(|joins| joins.line == on.0) else {
        return false;
    };
    let Some(station_m) = joins.station_m else { return true };
    let figures = joins.with.as_ref().and_then(Fitting::junction);
    let socket_m = joins.with.as_ref().and_then(|fitting| fitting.socket_m).unwrap_or(0.0);
    // A branch leaves its run at its angle: so far out it stands clear of it, whatever the catalog says.
    let sine = figures.map_or(1.0, |branch| branch.branch_deg.to_radians().sin()).max(0.1);
    let clear_m = (catalog.tube.outside_m * 1.25) / sine;
    let laying = |m: Option<f64>| (m.unwrap_or(0.0) + socket_m).max(clear_m);
    let branch_m = laying(figures.and_then(|branch| branch.branch_laying_length_m));
    let run_m = laying(figures.and_then(|branch| branch.run_laying_length_m)).max(branch_m);
    line.centre_m - by.1.to_m < branch_m && on.1.from_m < station_m + run_m && on.1.to_m > station_m - run_m
}

/// Where two straight pieces come nearest to each other, as shares of each (0 at its start, 1 at its end).
///
/// Source: C. Ericson, "Real-Time Collision Detection" (2005), 5.1.9, closest points of two line segments
/// (from memory).
fn nearest(one: (DVec3, DVec3), other: (DVec3, DVec3)) -> (f64, f64) {
    const POINT: f64 = 1e-18;
    let (u, v, between) = (one.1 - one.0, other.1 - other.0, one.0 - other.0);
    let (uu, vv, uv) = (u.length_squared(), v.length_squared(), u.dot(v));
    let (ub, vb) = (u.dot(between), v.dot(between));
    if uu <= POINT {
        return (0.0, if vv <= POINT { 0.0 } else { (vb / vv).clamp(0.0, 1.0) });
    }
    if vv <= POINT {
        return ((-ub / uu).clamp(0.0, 1.0), 0.0);
    }
    let square = uu * vv - uv * uv;
    let s = if square > POINT { ((uv * vb - ub * vv) / square).clamp(0.0, 1.0) } else { 0.0 };
    let t = (uv * s + vb) / vv;
    match t {
        t if t < 0.0 => ((-ub / uu).clamp(0.0, 1.0), 0.0),
        t if t > 1.0 => (((uv - ub) / uu).clamp(0.0, 1.0), 1.0),
        t => (s, t),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::company::LineSpec;
    use crate::route::lay;
    use crate::route::testing::{catalog, spec};
    use proptest::prelude::*;

    fn laid(start: [f64; 3], leaves: &str, steps: &str) -> Line {
        let start = DVec3::from(start);
        let spec = LineSpec { start: Some(start), ..spec(leaves, steps) };
        lay(&spec, start, &catalog())
    }

    #[test]
    fn two_tubes_through_one_place_clash_there() {
        let lines = [laid([0.0, 0.0, 0.0], "east", "4 run"), laid([2.0, -1.0, 0.02], "north", "3 run")];
        let found = clashes(&lines, &catalog());
        assert_eq!(found.len(), 1);
        let clash = &found[0];
        assert_eq!(clash.lines, (0, 1));
        assert!((clash.apart_m - 0.02).abs() < 1e-12 && (clash.needs_m - 0.0508).abs() < 1e-12);
        assert!((clash.stations_m.0 - 2.0).abs() < 1e-9 && (clash.stations_m.1 - 1.0).abs() < 1e-9);
        assert!((clash.missing_m() - 0.0308).abs() < 1e-12);
    }

    #[test]
    fn tubes_an_outside_apart_touch_and_do_not_clash() {
        let beside = |up_m: f64| {
            let lines = [laid([0.0; 3], "east", "4 run"), laid([0.0, 0.0, up_m], "east", "4 run")];
            clashes(&lines, &catalog()).len()
        };
        assert_eq!(beside(0.0508), 0);
        assert_eq!(beside(0.0507), 1);
    }

    #[test]
    fn a_socket_wants_more_room_than_the_tube() {
        // A sweep's socket, of 8 in laying length, ends 0.2318 m from its work point.
        let bent = laid([0.0; 3], "east", "2 run; 90 north; 2 run");
        let past = |y: f64| {
            let other = laid([2.0 + 0.0515, y, -2.0], "up", "4 run");
            clashes(&[bent.clone(), other], &catalog()).len()
        };
        assert_eq!(past(1.0), 0);
        assert_eq!(past(0.215), 1);
    }

    #[test]
    fn the_arc_counts_and_not_its_corner() {
        let bent = laid([0.0; 3], "east", "2 run; 90 north; 2 run");
        // Straight through the work point: the arc passes 0.0736 m inside of it.
        let corner = laid([2.0, 0.0, -1.0], "up", "2 run");
        assert_eq!(clashes(&[bent.clone(), corner], &catalog()), []);
        let inside = 0.1778 * (1.0 - std::f64::consts::FRAC_1_SQRT_2);
        let arc = laid([2.0 - inside, inside, -1.0], "up", "2 run");
        let found = clashes(&[bent, arc], &catalog());
        assert!(found[0].apart_m < 3e-4, "{found:?}");
    }

    #[test]
    fn a_line_that_comes_back_through_itself_clashes() {
        let loop_back = laid([0.0; 3], "east", "3 run; 90 north; 1 run; 90 west; 1 run; 90 south; 2 run");
        let found = clashes(&[loop_back], &catalog());
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].lines, (0, 0));
        assert!((found[0].point - DVec3::new(2.0, 0.0, 0.0)).length() < 1e-6);
    }

    #[test]
    fn lines_without_a_place_are_left_out() {
        let spec = spec("east", "4 run");
        let lines = [lay(&spec, DVec3::ZERO, &catalog()), lay(&spec, DVec3::ZERO, &catalog())];
        assert_eq!(clashes(&lines, &catalog()), []);
    }

    /// A line of level and plumb runs from somewhere in a house, sweeps at its turns.
    fn wandering() -> impl Strategy<Value = Line> {
        let start = (0.0..6.0f64, 0.0..6.0f64, 0.0..3.0f64);
        (start, proptest::collection::vec((0.5..3.0f64, 0..4usize), 1..12)).prop_map(|((x, y, z), runs)| {
            let turns = [
                ["north", "south", "up", "down"],
                ["east", "west", "up", "down"],
                ["east", "west", "north", "south"],
            ];
            let mut axis = 0;
            let mut steps = Vec::new();
            for (run_m, turn) in runs {
                let toward = turns[axis][turn];
                axis = match toward {
                    "east" | "west" => 0,
                    "north" | "south" => 1,
                    _ => 2,
                };
                steps.push(format!("{run_m} run; 90 {toward}"));
            }
            laid([x, y, z], "east", &format!("{}; 1 run", steps.join("; ")))
        })
    }

    fn point() -> impl Strategy<Value = DVec3> {
        (-2.0..2.0f64, -2.0..2.0f64, -2.0..2.0f64).prop_map(|(x, y, z)| DVec3::new(x, y, z))
    }

    proptest! {
        #[test]
        fn agrees_with_every_chord_held_against_every_other(lines in proptest::collection::vec(wandering(), 1..3)) {
            let catalog = catalog();
            let all: Vec<Vec<Chord>> = lines.iter().map(|line| chords(line, &catalog)).collect();
            let mut expected = Vec::new();
            for a in 0..lines.len() {
                for b in a..lines.len() {
                    let pairs = all[a].iter().flat_map(|one| all[b].iter().map(move |other| (one, other)));
                    let pairs = pairs.filter(|(one, other)| a != b || other.from_m - one.to_m > NEIGHBOURS_M);
                    let missing = pairs.filter_map(|(one, other)| Some(one.clash((a, b), other)?.missing_m()));
                    expected.extend(missing.max_by(f64::total_cmp).map(|missing_m| ((a, b), missing_m)));
                }
            }
            let found: Vec<_> = clashes(&lines, &catalog).iter().map(|c| (c.lines, c.missing_m())).collect();
            prop_assert_eq!(found, expected);
        }

        #[test]
        fn agrees_with_a_search_over_both_pieces(a in point(), b in point(), c in point(), d in point()) {
            let (s, t) = nearest((a, b), (c, d));
            let apart = |s: f64, t: f64| a.lerp(b, s).distance(c.lerp(d, t));
            let steps = 60;
            let share = |k: usize| k as f64 / steps as f64;
            let least = (0..=steps)
                .flat_map(|i| (0..=steps).map(move |j| apart(share(i), share(j))))
                .fold(f64::INFINITY, f64::min);
            prop_assert!(apart(s, t) <= least + 1e-12);
            // The grid is no coarser than a sixtieth of seven metres.
            prop_assert!(least - apart(s, t) < 0.12);
        }
    }
}

//! From the steps of one path to its centreline.
use super::levels::{level_deviation_m, reversals, riser_legs};
use super::turn::{roll_deg, turned};
use super::types::{Bend, End, Leg, Route, Tube};
use crate::company::{Catalog, Fitting, Path, Step, Turn};
use crate::measure::heading_words;
use glam::DVec3;

/// What stands at the two ends of a line, and the letter of its tube marks.
#[derive(Debug, Clone, Copy)]
pub struct Ends {
    pub from: End,
    pub to: End,
    /// `A` for raceways, `O` for onward paths, `T` for trunks.
    pub letter: char,
}

impl Ends {
    pub const RACEWAY: Ends = Ends { from: End::Valve, to: End::Stop, letter: 'A' };
    pub const ONWARD: Ends = Ends { from: End::Stop, to: End::Far, letter: 'O' };
    pub const TRUNK: Ends = Ends { from: End::Start, to: End::Far, letter: 'T' };
}

/// Angles closer than this are the same angle of a fitting, in degrees; far under any tolerance of moulding.
const SAME_ANGLE_DEG: f64 = 1e-6;

/// Lays a path out from `start`.
///
/// Work points are the crossings of centrelines. Every leg runs along the heading, which each turn
/// changes by [`turned`]. A turn for which the catalog has no raceway bend, and that names none, keeps
/// its place with radius 0 and no laying length. A turn without a plane (toward the heading itself,
/// which reading refuses) leaves the heading as it is.
pub fn lay(start: DVec3, path: &Path, ends: Ends, catalog: &Catalog) -> Route {
    let mut line = Line::new(start, path.leaves.vector);
    for step in &path.steps {
        match step {
            Step::Run(run) => line.run(run),
            Step::Turn(turn) => line.turn(turn, catalog),
        }
    }
    line.finish(ends)
}

/// The raceway bend that the catalog has for an angle: the first `for: raceway` or `either`.
pub fn raceway_bend(catalog: &Catalog, angle_deg: f64) -> Option<&Fitting> {
    catalog.fittings.iter().find(|fitting| {
        fitting.purpose.suits_raceway()
            && fitting.bend().is_some_and(|bend| (bend.angle_deg - angle_deg).abs() < SAME_ANGLE_DEG)
    })
}

/// A line as it grows.
struct Line {
    start: DVec3,
    at: DVec3,
    heading: DVec3,
    legs: Vec<Leg>,
    bends: Vec<Bend>,
    /// The next run begins a new leg.
    turned: bool,
    centre_m: f64,
}

impl Line {
    fn new(start: DVec3, heading: DVec3) -> Self {
        Line { start, at: start, heading, legs: Vec::new(), bends: Vec::new(), turned: true, centre_m: 0.0 }
    }

    fn run(&mut self, run: &crate::company::Run) {
        if self.turned {
            self.legs.push(self.fresh_leg());
            self.turned = false;
        }
        self.at += self.heading * run.length_m;
        self.centre_m += run.length_m;
        let at = self.at;
        if let Some(leg) = self.legs.last_mut() {
            let before_m = leg.length_m;
            leg.crossings.extend(run.crossings.iter().map(|c| (before_m + c.at_m, c.clone())));
            leg.length_m += run.length_m;
            leg.to = at;
            leg.runs.push((run.length_m, run.place.line));
        }
    }

    fn fresh_leg(&self) -> Leg {
        Leg {
            from: self.at,
            to: self.at,
            heading: self.heading,
            length_m: 0.0,
            station_m: self.centre_m,
            runs: Vec::new(),
            crossings: Vec::new(),
        }
    }

    fn turn(&mut self, turn: &Turn, catalog: &Catalog) {
        if self.turned {
            // Reading refuses two turns without a run between; a leg of no length keeps the count of legs right.
            self.legs.push(self.fresh_leg());
        }
        let heading_in = self.heading;
        self.heading = turned(heading_in, turn.toward.vector, turn.angle_deg).unwrap_or(heading_in);
        let fitting = turn.with.as_ref().or_else(|| raceway_bend(catalog, turn.angle_deg));
        let bend = self.bend(turn, fitting, heading_in);
        self.bends.push(bend);
        self.turned = true;
    }

    fn bend(&self, turn: &Turn, fitting: Option<&Fitting>, heading_in: DVec3) -> Bend {
        let figures = fitting.and_then(Fitting::bend);
        let radius_m = figures.map_or(0.0, |bend| bend.radius_m);
        let angle = turn.angle_deg.to_radians();
        let before = self.bends.last();
        Bend {
            n: self.bends.len() + 1,
            angle_deg: turn.angle_deg,
            so_far_deg: before.map_or(0.0, |bend| bend.so_far_deg) + turn.angle_deg,
            point: self.at,
            at_centre_m: self.centre_m,
            heading_in,
            heading_out: self.heading,
            heading_words: heading_words(self.heading),
            fitting: fitting.cloned(),
            named: turn.with.is_some(),
            radius_m,
            tangent_m: radius_m * (angle / 2.0).tan(),
            arc_m: radius_m * angle,
            laying_length_m: figures.map_or(0.0, |bend| bend.laying_length_m),
            roll_deg: before.and_then(|bend| roll_deg(bend.heading_in, heading_in, self.heading)),
            line: turn.place.line,
        }
    }

    fn finish(mut self, ends: Ends) -> Route {
        if self.turned {
            self.legs.push(self.fresh_leg());
        }
        let tubes = tubes(&self.legs, &self.bends, ends);
        let riser = riser_legs(&self.legs);
        let given_back_m: f64 = self.bends.iter().map(|bend| bend.arc_m - 2.0 * bend.tangent_m).sum();
        Route {
            start: self.start,
            tubes,
            centre_m: self.centre_m,
            hose_path_m: self.centre_m + given_back_m,
            bend_total_deg: self.bends.iter().map(|bend| bend.angle_deg).sum(),
            riser_legs: riser,
            level_deviation_m: level_deviation_m(&self.legs, riser, self.start),
            reversals: reversals(&self.legs),
            end: self.at,
            end_heading: self.heading,
            legs: self.legs,
            bends: self.bends,
        }
    }
}

/// One tube per leg: the leg less the laying length of the bend at either end. At the valve, the stop
/// and the far end the run already ends where the tube seats.
fn tubes(legs: &[Leg], bends: &[Bend], ends: Ends) -> Vec<Tube> {
    let last = legs.len().saturating_sub(1);
    let mut tubes = Vec::with_capacity(legs.len());
    // A line that ends in a fitting has a last leg without a run, and no tube in it.
    for (i, leg) in legs.iter().enumerate().filter(|(_, leg)| !leg.runs.is_empty()) {
        let before = if i == 0 { None } else { bends.get(i - 1) };
        let after = if i == last { None } else { bends.get(i) };
        let taken_m = [before, after].into_iter().flatten().map(|bend| bend.laying_length_m).sum::<f64>();
        tubes.push(Tube {
            mark: format!("{}{}", ends.letter, i + 1),
            leg: i,
            from: before.map_or(ends.from, |bend| End::Bend(bend.n)),
            to: after.map_or(ends.to, |bend| End::Bend(bend.n)),
            clear_m: leg.length_m - taken_m,
        });
    }
    tubes
}

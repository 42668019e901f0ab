//! From the steps of one line to its centreline.
use super::levels::{level_deviation_m, reversals, riser_legs};
use super::tubes::tubes;
use super::turn::{roll_deg, turned};
use super::types::{Anchor, Bend, Crossed, End, Inline, InlineKind, Leg, Line, Raceway};
use crate::company::{Catalog, Fitting, Into, LineSpec, Owner, Run, Step, Turn};
use crate::measure::heading_words;
use glam::DVec3;

/// Lays a line out from `start`, alone: what joins it, and where it joins, is the job's affair.
///
/// Work points are the crossings of centrelines. Every leg runs along the heading, which each turn
/// changes by [`turned`]. A turn for which the catalog has no raceway bend, and that names none, keeps
/// its place with radius 0 and no laying length. A turn without a plane (toward the heading itself,
/// which reading refuses) leaves the heading as it is. A run that is to be worked out has no length.
pub fn lay(spec: &LineSpec, start: DVec3, catalog: &Catalog) -> Line {
    let mut walk = Walk::new(spec, start);
    for step in &spec.steps {
        match step {
            Step::Run(run) => walk.run(run),
            Step::Turn(turn) => walk.turn(turn, catalog),
            Step::Stop => walk.stop(catalog),
        }
    }
    walk.finish(spec, catalog)
}

/// A line as it grows.
struct Walk {
    start: DVec3,
    letters: String,
    at: DVec3,
    heading: DVec3,
    legs: Vec<Leg>,
    bends: Vec<Bend>,
    inlines: Vec<Inline>,
    crossings: Vec<Crossed>,
    raceway: Option<Raceway>,
    /// The next run begins a new leg.
    turned: bool,
    centre_m: f64,
}

impl Walk {
    fn new(spec: &LineSpec, start: DVec3) -> Self {
        Walk {
            start,
            letters: spec.letters.clone(),
            at: start,
            heading: spec.leaves.vector,
            legs: Vec::new(),
            bends: Vec::new(),
            inlines: Vec::new(),
            crossings: Vec::new(),
            raceway: None,
            turned: true,
            centre_m: 0.0,
        }
    }

    fn run(&mut self, run: &Run) {
        if self.turned {
            self.legs.push(self.fresh_leg());
            self.turned = false;
        }
        let leg = self.legs.len() - 1;
        for crossing in &run.crossings {
            let station_m = self.centre_m + crossing.at_m;
            self.crossings.push(Crossed {
                mark: format!("{}X{}", self.letters, self.crossings.len() + 1),
                leg,
                at_m: station_m - self.legs[leg].station_m,
                station_m,
                crossing: crossing.clone(),
            });
        }
        self.at += self.heading * run.length_m;
        self.centre_m += run.length_m;
        let leg = &mut self.legs[leg];
        leg.length_m += run.length_m;
        leg.to = self.at;
        leg.runs.push((run.length_m, run.place.clone()));
    }

    fn fresh_leg(&self) -> Leg {
        Leg {
            from: self.at,
            to: self.at,
            heading: self.heading,
            length_m: 0.0,
            station_m: self.centre_m,
            runs: Vec::new(),
        }
    }

    fn turn(&mut self, turn: &Turn, catalog: &Catalog) {
        self.close_leg();
        let heading_in = self.heading;
        self.heading = turned(heading_in, turn.toward.vector, turn.angle_deg).unwrap_or(heading_in);
        let fitting = turn.with.as_ref().or_else(|| catalog.bend(turn.angle_deg));
        let bend = self.bend(turn, fitting, heading_in);
        self.bends.push(bend);
        self.turned = true;
    }

    /// Reading refuses two turns without a run between; a leg of no length keeps the count of legs right.
    fn close_leg(&mut self) {
        if self.turned {
            self.legs.push(self.fresh_leg());
        }
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
            place: turn.place.clone(),
        }
    }

    /// The stop: what was laid so far is the raceway.
    fn stop(&mut self, catalog: &Catalog) {
        self.close_leg();
        self.turned = false;
        let riser = riser_legs(&self.legs);
        let given_back_m: f64 = self.bends.iter().map(|bend| bend.arc_m - 2.0 * bend.tangent_m).sum();
        self.raceway = Some(Raceway {
            stop_m: self.centre_m,
            end: self.at,
            legs: self.legs.len(),
            bends: self.bends.len(),
            hose_path_m: self.centre_m + given_back_m,
            bend_total_deg: self.bends.iter().map(|bend| bend.angle_deg).sum(),
            riser_legs: riser,
            level_deviation_m: level_deviation_m(&self.legs, riser, self.start),
            reversals: reversals(&self.legs),
        });
        self.inlines.push(Inline {
            kind: InlineKind::Stop,
            leg: self.legs.len() - 1,
            station_m: self.centre_m,
            before_m: 0.0,
            // Laid as if the tubes met where the catalog is silent; `unmeasured` says that nobody knows.
            after_m: catalog.stop_gap_m().unwrap_or(0.0),
        });
    }

    fn finish(mut self, spec: &LineSpec, catalog: &Catalog) -> Line {
        self.close_leg();
        let tail = match &spec.into {
            Some(Into::Unit) => End::Unit,
            Some(Into::Trunk { .. }) => End::Branch,
            Some(Into::Start { .. }) => End::Onto,
            None => End::Stop,
        };
        if tail == End::Stop {
            // A stop that ends the line stands in no leg.
            self.inlines.clear();
        }
        let head = match spec.owner {
            Owner::Inlet(_) => End::Valve,
            Owner::Trunk(_) if catalog.cap().is_some() => End::Cap,
            Owner::Trunk(_) => End::Open,
        };
        let mut line = Line {
            owner: spec.owner,
            id: spec.id.clone(),
            name: spec.name.clone(),
            letters: self.letters,
            place: spec.place.clone(),
            into_place: spec.into_place.clone(),
            start: self.start,
            anchor: if spec.start.is_some() { Anchor::Start } else { Anchor::None },
            legs: self.legs,
            bends: self.bends,
            inlines: self.inlines,
            head,
            tail,
            tubes: Vec::new(),
            crossings: self.crossings,
            raceway: self.raceway,
            joins: None,
            closure: None,
            centre_m: self.centre_m,
            end: self.at,
            end_heading: self.heading,
        };
        line.tubes = tubes(&line, catalog);
        line
    }
}

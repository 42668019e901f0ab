//! A route found on the lanes as a line of a job: runs, turns, the stop, and what the plan says is bored.
use super::lanes::{Heading, Lanes, way};
use super::search::Found;
use crate::company::{Catalog, Crossing, Direction, Fitting, Into, LineSpec, Member, Run, Step, Turn};
use crate::measure::INCH_M;
use crate::plan::{Hang, P2};
use crate::text::Place;
use glam::DVec3;

/// Holes are bored this much wider than the tube (common practice, no source).
const HOLE_OVER_M: f64 = INCH_M / 8.0;
/// Half the thickness of a plate, whose middle lies so high over the floor.
const PLATE_HALF_M: f64 = 0.75 * INCH_M;
/// Shorter runs are rounding.
const ROUND_M: f64 = 1e-6;

/// What a route is built from beside the lanes.
pub struct Site<'a> {
    pub catalog: &'a Catalog,
    /// The seat in the valve, and the unit's inlet.
    pub valve: DVec3,
    pub unit: DVec3,
    pub level_m: f64,
    /// Height of the floor that the valve stands on.
    pub floor_m: f64,
    /// Nominal size of the wall's studs and plates, with its dressed depth.
    pub wall: (String, f64),
}

impl Site<'_> {
    fn hole_m(&self) -> f64 {
        self.catalog.tube.outside_m + HOLE_OVER_M
    }

    /// The line: the valve's own, with other steps and another start.
    pub fn line(&self, lanes: &Lanes, found: &Found, old: &LineSpec) -> LineSpec {
        let (mut before, mut after) = (Vec::new(), Vec::new());
        let rise_m = self.level_m - self.valve.z;
        let upright = if rise_m > 0.0 { DVec3::Z } else { DVec3::NEG_Z };
        before.push(Step::Run(self.riser(rise_m)));
        let mut heading = upright;
        for (i, to) in found.word.iter().enumerate() {
            before.extend(turn(heading, *to, None));
            heading = way(*to).extend(0.0);
            let from = lanes.nodes[found.corners[i]];
            let end = found.corners.get(i + 1).map_or(from + way(*to) * found.stop_m, |n| lanes.nodes[*n]);
            before.push(Step::Run(self.run(lanes, from, end)));
        }
        let last = found.corners.last().map_or(P2::ZERO, |n| lanes.nodes[*n]);
        let mut at = last + way(*found.word.last().unwrap_or(&0)) * found.stop_m;
        for (number, (node, to)) in found.onward.iter().enumerate() {
            after.push(Step::Run(self.run(lanes, at, lanes.nodes[*node])));
            at = lanes.nodes[*node];
            if number + 1 < found.onward.len() {
                after.extend(turn(heading, *to, self.short(heading, way(*to).extend(0.0))));
                heading = way(*to).extend(0.0);
            }
        }
        let drop_m = self.unit.z - self.level_m;
        let down = if drop_m > 0.0 { DVec3::Z } else { DVec3::NEG_Z };
        after.push(Step::Turn(Turn {
            angle_deg: 90.0,
            toward: named(down),
            with: self.short(heading, down),
            place: Place::default(),
        }));
        after.push(Step::Run(Run { looked_at: false, ..Run::plain(drop_m.abs()) }));
        let spec = old.with_steps(before, after);
        LineSpec { start: Some(self.valve), leaves: named(upright), into: Some(Into::Unit), ..spec }
    }

    /// The riser, down through the bottom plate of its wall. What it goes through on the way up the plan
    /// does not tell.
    fn riser(&self, rise_m: f64) -> Run {
        let mut run = Run::plain(rise_m.abs());
        if rise_m < 0.0 {
            let (size, depth_m) = self.wall.clone();
            run.crossings.push(Crossing {
                at_m: self.valve.z - self.floor_m - PLATE_HALF_M,
                member: Member::BottomPlate,
                size: Some(size),
                thickness_m: Some(2.0 * PLATE_HALF_M),
                depth_m: Some(depth_m),
                // Whether the wall bears a plan does not tell; as if it did is the stricter.
                bearing: true,
                hole_m: Some(self.hole_m()),
                floor_line: true,
                ..self.bare(Member::BottomPlate)
            });
            run.looked_at = true;
        }
        run
    }

    /// A level run with the joists that the plan puts in its way.
    fn run(&self, lanes: &Lanes, from: P2, to: P2) -> Run {
        let mut run = Run::plain(from.distance(to));
        match &lanes.ground.hang {
            Hang::Between(joists) => {
                let across = |p: P2| if joists.run_north { p.x } else { p.y };
                let (a, b) = (across(from), across(to));
                let met = if (a - b).abs() < ROUND_M { Vec::new() } else { joists.between(a, b) };
                run.crossings.extend(met.into_iter().map(|m| Crossing {
                    at_m: (m - a).abs(),
                    size: Some(joists.size.clone()),
                    thickness_m: Some(joists.thick_m),
                    depth_m: Some(joists.deep_m),
                    bearing: true,
                    hole_m: Some(self.hole_m()),
                    ..self.bare(Member::Joist)
                }));
                run.looked_at = true;
            }
            // Tube that hangs below everything is bored through nothing.
            Hang::Below => run.looked_at = true,
            Hang::Unknown => {}
        }
        run
    }

    fn bare(&self, member: Member) -> Crossing {
        Crossing {
            at_m: 0.0,
            member,
            size: None,
            thickness_m: None,
            depth_m: None,
            bearing: false,
            doubled: false,
            hole_m: None,
            from_edge_m: None,
            from_end_m: None,
            garage_wall: false,
            floor_line: false,
            place: Place::default(),
        }
    }

    /// The short bend beyond the stop for a turn.
    fn short(&self, from: DVec3, to: DVec3) -> Option<Fitting> {
        let angle_deg = from.angle_between(to).to_degrees();
        short_bend(self.catalog, angle_deg).cloned()
    }
}

/// The first bend for trunks of an angle; else any bend of that angle.
pub fn short_bend(catalog: &Catalog, angle_deg: f64) -> Option<&Fitting> {
    let of_angle = |f: &&Fitting| f.bend().is_some_and(|bend| (bend.angle_deg - angle_deg).abs() < 1e-3);
    let trunk = |f: &&Fitting| of_angle(f) && !f.purpose.suits_raceway();
    catalog.fittings.iter().find(trunk).or_else(|| catalog.fittings.iter().find(of_angle))
}

/// The turn into a heading of the level, toward the first of the four directions that gives it.
fn turn(from: DVec3, to: Heading, with: Option<Fitting>) -> Option<Step> {
    let target = way(to).extend(0.0).normalize();
    let angle_deg = (from.angle_between(target).to_degrees() * 1e6).round() / 1e6;
    let ways = [DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Y];
    let made = ways.into_iter().map(|toward| Turn {
        angle_deg,
        toward: named(toward),
        with: with.clone(),
        place: Place::default(),
    });
    made.into_iter()
        .find(|turn| turn.heading_after(from).is_some_and(|after| (after - target).length() < 1e-6))
        .map(Step::Turn)
}

/// One of the six directions with its word.
fn named(vector: DVec3) -> Direction {
    Direction { vector, words: crate::measure::heading_words(vector) }
}

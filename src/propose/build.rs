//! A route found on the lanes as a line of a job: runs, turns, the stop, and what the plan says is bored.
use super::lanes::{Ground, Heading, Lanes, angle_deg, way};
use super::onward::GoalEnd;
use super::parts::{Parts, short_bend};
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
    pub parts: &'a Parts,
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
        let ground = &lanes.ground;
        let (from, heading) = found.stop(lanes);
        let turns: Vec<(P2, Heading)> = found.onward.iter().map(|(n, to)| (lanes.nodes[*n], *to)).collect();
        let (after, into) = self.after(ground, from, heading, &turns, found.goal.end);
        let spec = old.with_steps(self.raceway(lanes, found), after);
        LineSpec { start: Some(self.valve), leaves: self.leaves(), into: Some(into), ..spec }
    }

    /// The direction in which tube leaves the valve.
    pub fn leaves(&self) -> Direction {
        named(self.upright())
    }

    fn upright(&self) -> DVec3 {
        if self.level_m > self.valve.z { DVec3::Z } else { DVec3::NEG_Z }
    }

    /// The steps before the stop.
    pub fn raceway(&self, lanes: &Lanes, found: &Found) -> Vec<Step> {
        let mut steps = vec![Step::Run(self.riser(self.level_m - self.valve.z))];
        let mut heading = self.upright();
        for (i, to) in found.word.iter().enumerate() {
            steps.extend(turn(heading, *to, None));
            heading = way(*to).extend(0.0);
            let from = lanes.nodes[found.corners[i]];
            let end = found.corners.get(i + 1).map_or(from + way(*to) * found.stop_m, |n| lanes.nodes[*n]);
            steps.push(Step::Run(self.run(&lanes.ground, from, end)));
        }
        steps
    }

    /// The steps from the stop to the end, and what stands there. The last of the turns is the end.
    fn after(
        &self,
        ground: &Ground,
        from: P2,
        heading: Heading,
        turns: &[(P2, Heading)],
        end: GoalEnd,
    ) -> (Vec<Step>, Into) {
        let mut turns = turns.to_vec();
        let Some((last, arrives)) = turns.pop() else { return (Vec::new(), Into::Unit) };
        match (end, &self.parts.wye) {
            (GoalEnd::Wye { trunk, station_m, run }, Ok(wye)) => {
                let (to, more_m) = if angle_deg(arrives, run) > 46.0 {
                    let (bend, slant) = entry(last, arrives, run, wye.along_m);
                    turns.push((bend, slant));
                    (last + way(run) * wye.along_m, wye.along_m)
                } else {
                    (last, 0.0)
                };
                let into = Into::Trunk { trunk, at_m: Some(station_m + more_m), with: wye.fitting.clone() };
                (self.stretch(ground, from, heading, &turns, to), into)
            }
            _ => {
                let mut steps = self.stretch(ground, from, heading, &turns, last);
                let arrives = turns.last().map_or(heading, |turn| turn.1);
                steps.extend(self.drop(arrives));
                (steps, Into::Unit)
            }
        }
    }

    /// Runs and short bends over the level, from a point to another.
    pub fn stretch(
        &self,
        ground: &Ground,
        from: P2,
        heading: Heading,
        turns: &[(P2, Heading)],
        to: P2,
    ) -> Vec<Step> {
        let (mut at, mut heading) = (from, heading);
        let mut steps = Vec::new();
        for (point, next) in turns {
            steps.push(Step::Run(self.run(ground, at, *point)));
            let (before, after) = (way(heading).extend(0.0), way(*next).extend(0.0));
            steps.extend(turn(before, *next, self.short(before, after)));
            (at, heading) = (*point, *next);
        }
        steps.push(Step::Run(self.run(ground, at, to)));
        steps
    }

    /// Down, or up, into the unit.
    pub fn drop(&self, arrives: Heading) -> [Step; 2] {
        let drop_m = self.unit.z - self.level_m;
        let down = if drop_m > 0.0 { DVec3::Z } else { DVec3::NEG_Z };
        let turn = Turn {
            angle_deg: 90.0,
            toward: named(down),
            with: self.short(way(arrives).extend(0.0), down),
            place: Place::default(),
        };
        [Step::Turn(turn), Step::Run(Run { looked_at: false, ..Run::plain(drop_m.abs()) })]
    }

    /// The riser, down through the bottom plate of its wall. What it goes through on the way up the plan
    /// does not tell.
    fn riser(&self, rise_m: f64) -> Run {
        let mut run = Run::plain(rise_m.abs());
        if rise_m < 0.0 {
            let (size, depth_m) = self.wall.clone();
            run.crossings.push(Crossing {
                size: Some(size),
                thickness_m: Some(2.0 * PLATE_HALF_M),
                depth_m: Some(depth_m),
                // Whether the wall bears a plan does not tell; as if it did is the stricter.
                bearing: true,
                hole_m: Some(self.hole_m()),
                floor_line: true,
                ..Crossing::plain(self.valve.z - self.floor_m - PLATE_HALF_M, Member::BottomPlate)
            });
            run.looked_at = true;
        }
        run
    }

    /// A level run with the joists that the plan puts in its way.
    fn run(&self, ground: &Ground, from: P2, to: P2) -> Run {
        let mut run = Run::plain(from.distance(to));
        match &ground.hang {
            Hang::Between(joists) => {
                let across = |p: P2| if joists.run_north { p.x } else { p.y };
                let (a, b) = (across(from), across(to));
                let met = if (a - b).abs() < ROUND_M { Vec::new() } else { joists.between(a, b) };
                run.crossings.extend(met.into_iter().map(|m| Crossing {
                    size: Some(joists.size.clone()),
                    thickness_m: Some(joists.thick_m),
                    depth_m: Some(joists.deep_m),
                    bearing: true,
                    hole_m: Some(self.hole_m()),
                    ..Crossing::plain((m - a).abs(), Member::Joist)
                }));
                run.looked_at = true;
            }
            // Tube that hangs below everything is bored through nothing.
            Hang::Below => run.looked_at = true,
            Hang::Unknown => {}
        }
        run
    }

    /// The short bend beyond the stop for a turn.
    fn short(&self, from: DVec3, to: DVec3) -> Option<Fitting> {
        let angle_deg = from.angle_between(to).to_degrees();
        short_bend(self.catalog, angle_deg).cloned()
    }
}

/// Where the 45 before a wye stands, and the heading after it, for a line that comes square to a run and whose
/// axis meets it at a point.
pub fn entry(meets: P2, arrives: Heading, run: Heading, along_m: f64) -> (P2, Heading) {
    let slant = if (arrives + 2) % 8 == run { (arrives + 1) % 8 } else { (arrives + 7) % 8 };
    (meets - way(arrives) * along_m, slant)
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
pub fn named(vector: DVec3) -> Direction {
    Direction { vector, words: crate::measure::heading_words(vector) }
}

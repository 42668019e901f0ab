//! What every search of a job starts from: the plan's level, the unit, the parts; and where a valve may stand.
use super::lanes::{Ground, Lanes, way};
use super::onward::{Goal, GoalEnd, TURN_M, over_unit};
use super::parts::Parts;
use super::{BAY_M, Proposer, SHIFT_M};
use crate::company::{FloorPlan, Into, LineSpec};
use crate::measure::INCH_M;
use crate::plan::{P2, RacewayLevel, ValvePlace, footprint, stretches};
use crate::route::{Anchor, JobLines, Line};
use crate::standard::hose_allowance;
use glam::DVec3;

/// A leg farther above or below lies on another level.
const LEVEL_M: f64 = 4.0 * INCH_M;
/// A trunk is joined only where its axis lies on the level, but for what a tape rounds.
const AXIS_M: f64 = INCH_M / 8.0;

/// The level that is searched.
pub struct Field<'a> {
    pub plan: &'a FloorPlan,
    pub level: &'a RacewayLevel,
    pub unit: DVec3,
    pub parts: Parts,
}

/// What is sought for one inlet.
pub struct Aim<'a> {
    pub old: &'a LineSpec,
    pub valve: DVec3,
    /// Hose path, all of it and on the level alone.
    pub need_m: f64,
    pub level_need_m: f64,
    /// Along the wall, and the height of the floor below it.
    pub shifts: Vec<P2>,
    pub floor_m: f64,
}

impl Proposer<'_> {
    /// The field of the job; an error says in one sentence what is missing.
    pub(super) fn field(&self) -> Result<Field<'_>, String> {
        let plan = self.job.plan.as_deref().ok_or("the job has no plan; add `plan:`")?;
        let level = plan.plan.level.as_ref().ok_or("the plan has no `raceway-level`")?;
        let unit = self.job.unit.at.ok_or("the unit has no `at`, so that no route can end")?;
        Ok(Field { plan, level, unit, parts: Parts::of(self.catalog)? })
    }

    /// What is sought for an inlet.
    pub(super) fn aim<'a>(&'a self, field: &Field<'a>, inlet: usize) -> Result<Aim<'a>, String> {
        let old = self.job.of_inlet(inlet).ok_or("the job has no such inlet")?;
        let valve = old.start.ok_or("the inlet has no `at`, so that no route can begin")?;
        let need_m = self.job.inlets[inlet].hose.length_m * (1.0 + hose_allowance(self.standard));
        let riser = &field.parts.bends[field.parts.riser];
        let rise_m = (valve.z - field.level.up_m).abs();
        if rise_m < riser.arm_m + field.parts.shortest_m {
            return Err("the valve stands too near the raceway's level for a sweep".into());
        }
        let level_need_m = need_m - rise_m - riser.gain_m;
        let (shifts, floor_m) = stands(field.plan, valve);
        Ok(Aim { old, valve, need_m, level_need_m, shifts, floor_m })
    }

    /// Lanes that run through all of the points, beside tube that lies there; `None` where one of them lies
    /// off the house or in a no-go place.
    pub(super) fn lanes(
        &self,
        field: &Field,
        points: &[P2],
        more: &[P2],
        tubes: Vec<(P2, P2)>,
    ) -> Option<Lanes> {
        let floor = nearest_floor(field.plan, field.level.up_m);
        let outline = footprint(&field.plan.plan, &field.plan.placed, floor);
        let no_go: Vec<_> = field.level.no_go.iter().map(|n| n.place).collect();
        let half_m = self.catalog.tube.outside_m / 2.0;
        let ground = Ground::new(outline, &no_go, field.level.hang.clone(), half_m).beside(tubes);
        if !points.iter().all(|p| ground.footprint.holds(*p)) {
            return None;
        }
        let arm_m = field.parts.bends[field.parts.riser].arm_m;
        Some(Lanes::new(ground, &[more, points].concat(), arm_m))
    }

    /// Where a line may end that joins what its old one joins.
    pub(super) fn goals(
        &self,
        field: &Field,
        lanes: &Lanes,
        old: &LineSpec,
        laid: &JobLines,
    ) -> Result<Vec<Goal>, String> {
        let Some(trunk) = old.into.as_ref().and_then(Into::trunk) else {
            let unit = lanes.node_at(field.unit.truncate()).ok_or("the unit stands off the lanes")?;
            return Ok(over_unit(lanes, unit));
        };
        let line = laid.of_trunk(trunk).ok_or("the job has no such trunk")?;
        let name = line.called();
        if let Err(why) = &field.parts.wye {
            return Err(format!("{why}, so that nothing can join {name}"));
        }
        if line.anchor == Anchor::None {
            return Err(format!("{name} has no place; give its `starts`, or the unit's `at`"));
        }
        let goals = into_trunk(field, lanes, trunk, line);
        if goals.is_empty() {
            return Err(format!(
                "no leg of {name} lies on the raceway's level in a lane, so that nothing can join it"
            ));
        }
        Ok(goals)
    }
}

/// Wyes along a trunk's legs that lie on the level.
fn into_trunk(field: &Field, lanes: &Lanes, trunk: usize, line: &Line) -> Vec<Goal> {
    let Ok(wye) = &field.parts.wye else { return Vec::new() };
    let mut goals = Vec::new();
    for leg in &line.legs {
        let heading = leg.heading.truncate();
        let Some(run) = (0..8).find(|h| way(*h).distance(heading) < 1e-6) else { continue };
        if (leg.from.z - field.level.up_m).abs() > AXIS_M {
            continue;
        }
        let end_m = wye.arm_m + field.parts.shortest_m + field.parts.arm_m();
        for (node, at) in lanes.nodes.iter().enumerate() {
            let along_m = (*at - leg.from.truncate()).dot(heading);
            let off_m = (*at - leg.from.truncate()).perp_dot(heading).abs();
            let mut add = |square: bool, arrives: usize, on_m: f64| {
                let fits = along_m + on_m >= end_m && along_m + on_m <= leg.length_m - end_m;
                if off_m < 1e-6 && fits && (!square || lanes.square_entry(*at, arrives, run, wye)) {
                    let (cost_m, before_m) = if square { (2.0 * TURN_M, on_m) } else { (TURN_M, 0.0) };
                    let end = GoalEnd::Wye { trunk, station_m: leg.station_m + along_m, run };
                    goals.push(Goal { node, heading: arrives, cost_m, before_m, end });
                }
            };
            for by in [1, 7] {
                add(false, (run + by) % 8, 0.0);
            }
            for by in [2, 6] {
                add(true, (run + by) % 8, wye.along_m);
            }
        }
    }
    goals
}

/// Tube of other lines that lies on the level, from above.
pub fn tubes_on_level<'a>(field: &Field, lines: impl Iterator<Item = &'a Line>) -> Vec<(P2, P2)> {
    let near = |z: f64| (z - field.level.up_m).abs() <= LEVEL_M;
    let of = |line: &'a Line| line.legs.iter();
    let legs = lines.filter(|line| line.anchor != Anchor::None).flat_map(of);
    let crosses = |a: f64, b: f64| (a - field.level.up_m) * (b - field.level.up_m) <= 0.0;
    legs.filter(|leg| near(leg.from.z) || near(leg.to.z) || crosses(leg.from.z, leg.to.z))
        .map(|leg| (leg.from.truncate(), leg.to.truncate()))
        .collect()
}

/// Steps along the wall that a valve stands in, no step first, then ever farther ones to both sides: within its
/// bay of studs, and on the free stretch of wall that it stands in. With the height of its floor.
fn stands(plan: &FloorPlan, valve: DVec3) -> (Vec<P2>, f64) {
    let floors = &plan.placed.floors_m;
    let floor = floors.iter().rposition(|up_m| *up_m <= valve.z + 0.02).unwrap_or(0);
    let mut best = (f64::MAX, ValvePlace { room: 0, wall: 0 });
    for (number, room) in plan.placed.rooms.iter().enumerate().filter(|(_, room)| room.floor == floor) {
        for wall in 0..room.corners.len() {
            let (a, b) = room.wall(wall);
            let off_m = crate::plan::Edge { a, b, gate: None }.distance(valve.truncate());
            if off_m < best.0 {
                best = (off_m, ValvePlace { room: number, wall });
            }
        }
    }
    let floor_m = floors.get(floor).copied().unwrap_or(0.0);
    let Some(room) = plan.placed.rooms.get(best.1.room) else { return (vec![P2::ZERO], floor_m) };
    let (start, along) = (room.wall(best.1.wall).0, room.sides(best.1.wall).0);
    let at_m = (valve.truncate() - start).dot(along);
    let free = stretches(&plan.plan, &plan.placed, best.1);
    let own = free.iter().find(|(a, b)| (*a..=*b).contains(&at_m)).copied();
    let n = (BAY_M / SHIFT_M).round() as i32;
    let steps = std::iter::once(0).chain((1..=n).flat_map(|k| [k, -k])).map(|k| f64::from(k) * SHIFT_M);
    let fits = |m: &f64| *m == 0.0 || own.is_some_and(|(a, b)| (a..=b).contains(&(at_m + m)));
    (steps.filter(fits).map(|m| along * m).collect(), floor_m)
}

/// The floor nearest to a level in height.
fn nearest_floor(plan: &FloorPlan, up_m: f64) -> usize {
    let off = |m: &f64| (m - up_m).abs();
    let floors = plan.placed.floors_m.iter().enumerate();
    floors.min_by(|a, b| off(a.1).total_cmp(&off(b.1))).map_or(0, |(floor, _)| floor)
}

/// Nominal lumber of a wall of that thickness, drywall of 1/2 in on both faces: the thinner where it lies
/// between two, for that is the stricter.
pub fn wall_size(walls_m: f64) -> (String, f64) {
    let studs_in = walls_m / INCH_M - 1.0 + 1e-6;
    let sizes = [("2x8", 7.25), ("2x6", 5.5), ("2x4", 3.5)];
    let (size, depth) = sizes.into_iter().find(|(_, depth)| *depth <= studs_in).unwrap_or(sizes[2]);
    (size.to_owned(), depth * INCH_M)
}

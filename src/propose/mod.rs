//! Routes proposed for an inlet over the house plan: searched on lanes, then laid, figured and inspected by the
//! same engine as a job; only those that the standard passes are offered.
mod bound;
mod build;
mod lanes;
mod onward;
mod search;
mod words;
pub mod write;

use crate::company::{Catalog, FloorPlan, Job, LineSpec, Standard};
use crate::figures::reckon_job;
use crate::measure::{INCH_M, Say};
use crate::plan::{P2, footprint};
use crate::route::{Line, lay_job};
use crate::standard::{Finding, Given, Verdict, hose_allowance, inspect_line};
use crate::takeoff::cuts;
use bound::{BendPart, Bound};
use build::{Site, short_bend};
use glam::DVec3;
use lanes::{Ground, Lanes};
use onward::Onward;
use search::{Found, Search};
pub use words::{bound_words, route_words};

/// The most degrees on the level that are looked at: with the riser's bend what conduit may have between pull
/// points (NFPA 70, 358.26).
const MOST_DEG: f64 = 270.0;
/// How far from its place along the wall a valve is tried, within one bay of studs, in these steps.
const BAY_M: f64 = 8.0 * INCH_M;
const SHIFT_M: f64 = 2.0 * INCH_M;
/// Routes inspected for one inlet, and offered.
const MOST_TRIED: usize = 90;
pub const OFFERED: usize = 5;
/// Two routes that share so much of their tube are one.
const ALIKE: f64 = 0.7;

/// A route that was inspected.
#[derive(Debug, Clone)]
pub struct Proposal {
    pub spec: LineSpec,
    pub line: Line,
    pub findings: Vec<Finding>,
    pub verdict: Verdict,
    /// Of all bends before the stop, the riser's among them.
    pub degrees: f64,
    pub bores: usize,
    pub onward_m: f64,
    /// How far the valve is moved along its wall.
    pub moved: P2,
}

/// What came of the search for one inlet.
#[derive(Debug, Clone)]
pub struct Proposals {
    pub inlet: usize,
    /// The longest hose path for each bend total, in degrees, and what is needed; on the lanes only.
    pub bounds: Vec<(f64, f64)>,
    pub need_m: f64,
    /// The best first.
    pub offers: Vec<Proposal>,
    pub tried: usize,
    /// What stood in the way of those tried and not offered: clause titles, the commonest first.
    pub against: Vec<(String, usize)>,
}

/// What all searches of a job share.
pub struct Proposer<'a> {
    pub job: &'a Job,
    pub standard: &'a Standard,
    pub catalog: &'a Catalog,
    pub say: Say,
}

/// One stand of the valve with its lanes.
struct Stand {
    lanes: Lanes,
    moved: P2,
}

impl Proposer<'_> {
    /// Proposes routes for an inlet; an error says in one sentence what is missing. `told` hears of progress:
    /// stands looked at and routes inspected.
    pub fn inlet(&self, inlet: usize, told: &mut dyn FnMut(usize, usize)) -> Result<Proposals, String> {
        let plan = self.job.plan.as_deref().ok_or("the job has no plan; add `plan:`")?;
        let level = plan.plan.level.as_ref().ok_or("the plan has no `raceway-level`")?;
        let old = self.job.of_inlet(inlet).ok_or("the job has no such inlet")?;
        let valve = old.start.ok_or("the inlet has no `at`, so that no route can begin")?;
        let unit = self.job.unit.at.ok_or("the unit has no `at`, so that no route can end")?;
        let hose_m = self.job.inlets[inlet].hose.length_m;
        let need_m = hose_m * (1.0 + hose_allowance(self.standard));
        let parts = Parts::of(self.catalog)?;
        let rise_m = (valve.z - level.up_m).abs();
        if rise_m < parts.bends[parts.riser].arm_m + parts.shortest_m {
            return Err("the valve stands too near the raceway's level for a sweep".into());
        }
        let level_need_m = need_m - rise_m - parts.bends[parts.riser].gain_m;
        let (along, floor) = wall_at(plan, valve);
        let mut found = Proposals {
            inlet,
            bounds: Vec::new(),
            need_m,
            offers: Vec::new(),
            tried: 0,
            against: Vec::new(),
        };
        let mut stands: Vec<Stand> = Vec::new();
        for moved in shifts(along) {
            let at = valve + moved.extend(0.0);
            if let Some(lanes) = self.lanes(plan, at, unit, &parts) {
                stands.push(Stand { lanes, moved });
            }
        }
        if stands.is_empty() {
            return Err("no lane of the raceway's level runs under the valve and the unit".into());
        }
        let bounds: Vec<Bound> =
            stands.iter().map(|s| Bound::new(&s.lanes, &parts.bends, parts.shortest_m, MOST_DEG)).collect();
        let ways: Vec<Onward> = stands
            .iter()
            .filter_map(|s| {
                let unit = s.lanes.node_at(unit.truncate())?;
                Some(Onward::new(&s.lanes, &parts.shorts, parts.shortest_m, unit))
            })
            .collect();
        if ways.len() != stands.len() {
            return Err("the unit stands off the lanes".into());
        }
        let mut degrees = 0.0;
        while degrees <= MOST_DEG + 1.0 {
            let mut best_m = f64::NEG_INFINITY;
            let mut routes: Vec<(usize, Found)> = Vec::new();
            for (s, stand) in stands.iter().enumerate() {
                let Some(start) = stand.lanes.node_at(valve.truncate() + stand.moved) else { continue };
                best_m = best_m.max(longest_m(&bounds[s], &stand.lanes, start, degrees, parts.riser));
                // The valve as it stands goes first; others are looked at while too little was found.
                if s > 0 && found.offers.len() + routes.len() >= OFFERED {
                    continue;
                }
                let mut search = Search::new(
                    &stand.lanes,
                    &bounds[s],
                    &parts.bends,
                    &ways[s],
                    parts.shortest_m,
                    level_need_m,
                    self.catalog.stop_gap_m(),
                    parts.riser,
                );
                routes.extend(search.of_degrees(start, degrees).into_iter().map(|route| (s, route)));
                told(s + 1, found.tried);
            }
            if best_m.is_finite() {
                found.bounds.push((degrees + 90.0, best_m + rise_m + parts.bends[parts.riser].gain_m));
            }
            routes.sort_by(|a, b| {
                let key = |r: &Found| (r.bores, (r.onward_cost_m * 1e4) as u64);
                key(&a.1).cmp(&key(&b.1)).then_with(|| a.1.word.cmp(&b.1.word))
            });
            for (s, route) in routes {
                if found.tried >= MOST_TRIED || found.offers.len() >= 2 * OFFERED {
                    break;
                }
                let stand = &stands[s];
                let site = Site {
                    catalog: self.catalog,
                    valve: valve + stand.moved.extend(0.0),
                    unit,
                    level_m: level.up_m,
                    floor_m: floor,
                    wall: wall_size(plan.plan.walls_m),
                };
                let spec = site.line(&stand.lanes, &route, old);
                let proposal = self.inspect(inlet, spec, &route, stand.moved);
                if found.offers.iter().any(|kept| alike(&kept.line, &proposal.line)) {
                    continue;
                }
                found.tried += 1;
                told(stands.len(), found.tried);
                if proposal.verdict.stops() {
                    note_against(&mut found.against, &proposal.findings);
                } else {
                    found.offers.push(proposal);
                }
            }
            if found.offers.iter().filter(|p| p.verdict < Verdict::Caution).count() >= OFFERED {
                break;
            }
            degrees += 45.0;
        }
        found.offers.sort_by(order);
        found.offers.truncate(OFFERED);
        found.against.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        Ok(found)
    }

    fn lanes(&self, plan: &FloorPlan, valve: DVec3, unit: DVec3, parts: &Parts) -> Option<Lanes> {
        let level = plan.plan.level.as_ref()?;
        let floor = nearest_floor(plan, level.up_m);
        let outline = footprint(&plan.plan, &plan.placed, floor);
        let no_go: Vec<_> = level.no_go.iter().map(|n| n.place).collect();
        let ground = Ground::new(outline, &no_go, level.hang.clone(), self.catalog.tube.outside_m / 2.0);
        if !ground.footprint.holds(valve.truncate()) || !ground.footprint.holds(unit.truncate()) {
            return None;
        }
        let arm_m = parts.bends[parts.riser].arm_m;
        Some(Lanes::new(ground, &[valve.truncate(), unit.truncate()], arm_m))
    }

    /// Lays the line in the job and inspects its inlet by the whole standard.
    fn inspect(&self, inlet: usize, spec: LineSpec, route: &Found, moved: P2) -> Proposal {
        let mut job = self.job.clone();
        job.lines[inlet] = spec.clone();
        let lines = lay_job(&job, self.catalog, &self.say);
        let figures = reckon_job(&job, &lines, self.catalog);
        let cut = cuts(&lines, self.catalog);
        let given = Given {
            job: &job,
            lines: &lines,
            figures: &figures,
            cuts: &cut.lines,
            standard: self.standard,
            catalog: self.catalog,
            say: self.say,
        };
        let findings = inspect_line(&given, inlet);
        let verdict = findings.iter().map(|f| f.verdict).max().unwrap_or(Verdict::NotChecked);
        let line = lines.lines[inlet].clone();
        let stop_m = line.raceway.as_ref().map_or(0.0, |raceway| raceway.stop_m);
        // A clause that lacks its data is no break; its word is told with the proposal.
        let verdict = if verdict == Verdict::NotChecked { Verdict::Pass } else { verdict };
        Proposal {
            onward_m: line.centre_m - stop_m,
            degrees: route.degrees + 90.0,
            bores: route.bores,
            spec,
            line,
            findings,
            verdict,
            moved,
        }
    }
}

/// Tubes that the takeoff would list for a job with this line; for the order alone.
fn order(a: &Proposal, b: &Proposal) -> std::cmp::Ordering {
    let key = |p: &Proposal| (p.verdict, p.degrees as u32, p.bores);
    key(a)
        .cmp(&key(b))
        .then_with(|| a.onward_m.total_cmp(&b.onward_m))
        .then_with(|| a.line.centre_m.total_cmp(&b.line.centre_m))
}

/// Bends and lengths that the catalog gives.
struct Parts {
    bends: Vec<BendPart>,
    shorts: Vec<BendPart>,
    /// Index of the riser's bend.
    riser: usize,
    shortest_m: f64,
}

impl Parts {
    fn of(catalog: &Catalog) -> Result<Parts, String> {
        let part = |f: &crate::company::Fitting| {
            f.bend().map(|bend| BendPart::new(bend.angle_deg, bend.radius_m, bend.laying_length_m))
        };
        let bends: Vec<BendPart> =
            [90.0, 45.0].into_iter().filter_map(|deg| catalog.bend(deg).and_then(part)).collect();
        let shorts: Vec<BendPart> =
            [90.0, 45.0].into_iter().filter_map(|deg| short_bend(catalog, deg).and_then(part)).collect();
        let riser = bends.iter().position(|bend| bend.angle_deg > 89.0);
        let riser = riser.ok_or("the catalog has no 90 degree bend for raceways")?;
        Ok(Parts { bends, shorts, riser, shortest_m: catalog.tube.shortest_m.max(INCH_M) })
    }
}

/// The longest way on the level from over or under the valve.
fn longest_m(bound: &Bound, lanes: &Lanes, start: usize, degrees: f64, riser: usize) -> f64 {
    lanes.ground.headings().map(|h| bound.on_m(degrees, start, h, riser)).fold(f64::NEG_INFINITY, f64::max)
}

/// The wall that a valve stands in, as a unit vector along it, and the height of its floor.
fn wall_at(plan: &FloorPlan, valve: DVec3) -> (P2, f64) {
    let floors = &plan.placed.floors_m;
    let floor = floors.iter().rposition(|up_m| *up_m <= valve.z + 0.02).unwrap_or(0);
    let mut best = (f64::MAX, P2::X);
    for room in plan.placed.rooms.iter().filter(|room| room.floor == floor) {
        for wall in 0..room.corners.len() {
            let (a, b) = room.wall(wall);
            let edge = crate::plan::Edge { a, b, gate: None };
            let off_m = edge.distance(valve.truncate());
            if off_m < best.0 {
                best = (off_m, room.sides(wall).0);
            }
        }
    }
    (best.1, floors.get(floor).copied().unwrap_or(0.0))
}

/// The floor nearest to a level in height.
fn nearest_floor(plan: &FloorPlan, up_m: f64) -> usize {
    let off = |m: &f64| (m - up_m).abs();
    let floors = plan.placed.floors_m.iter().enumerate();
    floors.min_by(|a, b| off(a.1).total_cmp(&off(b.1))).map_or(0, |(floor, _)| floor)
}

/// Nominal lumber of a wall of that thickness, drywall of 1/2 in on both faces: the thinner where it lies
/// between two, for that is the stricter.
fn wall_size(walls_m: f64) -> (String, f64) {
    let studs_in = walls_m / INCH_M - 1.0 + 1e-6;
    let sizes = [("2x8", 7.25), ("2x6", 5.5), ("2x4", 3.5)];
    let (size, depth) = sizes.into_iter().find(|(_, depth)| *depth <= studs_in).unwrap_or(sizes[2]);
    (size.to_owned(), depth * INCH_M)
}

/// No shift first, then ever farther ones to both sides.
fn shifts(along: P2) -> Vec<P2> {
    let n = (BAY_M / SHIFT_M).round() as i32;
    let steps = (1..=n).flat_map(|k| [k, -k]);
    std::iter::once(0).chain(steps).map(|k| along * (f64::from(k) * SHIFT_M)).collect()
}

fn note_against(against: &mut Vec<(String, usize)>, findings: &[Finding]) {
    for finding in findings.iter().filter(|f| f.verdict.stops()) {
        match against.iter_mut().find(|(title, _)| *title == finding.title) {
            Some((_, count)) => *count += 1,
            None => against.push((finding.title.clone(), 1)),
        }
    }
}

/// Whether most of a line lies along another.
fn alike(a: &Line, b: &Line) -> bool {
    const EVERY_M: f64 = 0.15;
    const NEAR_M: f64 = 0.08;
    let near = |p: DVec3| {
        a.legs.iter().any(|leg| {
            let t = (p - leg.from).dot(leg.heading).clamp(0.0, leg.length_m);
            p.distance(leg.from + leg.heading * t) < NEAR_M
        })
    };
    let count = (b.centre_m / EVERY_M).ceil().max(1.0) as usize;
    let points = (0..count).filter_map(|k| b.point_at(k as f64 * EVERY_M));
    let (all, shared) =
        points.fold((0_u32, 0_u32), |(all, shared), p| (all + 1, shared + u32::from(near(p))));
    all > 0 && f64::from(shared) >= ALIKE * f64::from(all)
}

/// Sticks that a line takes, for those who compare proposals.
pub fn sticks(line: &Line, catalog: &Catalog) -> usize {
    let lines = crate::route::JobLines { lines: vec![line.clone()], inlets: 1 };
    cuts(&lines, catalog).plan.map_or(0, |plan| plan.sticks.len())
}

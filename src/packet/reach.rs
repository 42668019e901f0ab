//! What the valves of a job reach, as rows and drawings: for the sheet *Reach*, the command and the record.
use crate::company::FloorPlan;
use crate::draw::{self, ReachPicture, ReachValve};
use crate::measure::Say;
use crate::plan::{
    LoopBy, P2, Placed, Plan, Spot, Survey, ValveAt, candidates, cells, fewest_valves, survey,
};
use crate::text::counted;
use crate::work::Work;
use glam::DVec3;
use serde::Serialize;

/// Width and height of a floor on the sheet, mm.
const FLOOR_MM: (f64, f64) = (186.0, 150.0);
/// Side of the cells by which the fewest valves are found, 1 ft.
const CELL_M: f64 = 0.3048;

/// The sheet, every word decided.
#[derive(Debug, Clone, Serialize)]
pub struct ReachSheet {
    /// One for each floor: its name, and the drawing.
    pub floors: Vec<Floor>,
    pub valves: Vec<ValveRow>,
    /// Rooms and parts of rooms that no valve reaches.
    pub left: Vec<String>,
    pub fewest: Vec<FewestRow>,
    /// Loops of rooms and what they miss by.
    pub loops: Vec<String>,
    pub wand: String,
    pub file: String,
    /// Whether the tables stand here: on the last piece of paper alone.
    pub told: bool,
}

#[derive(Debug, Clone, Serialize)]
pub struct Floor {
    pub name: String,
    pub svg: String,
}

/// What one valve does.
#[derive(Debug, Clone, Serialize)]
pub struct ValveRow {
    pub name: String,
    pub hose: String,
    /// The point that wants the most hose of it, in words; or that it stands off the plan.
    pub farthest: String,
}

/// The fewest valves for one length of hose.
#[derive(Debug, Clone, Serialize)]
pub struct FewestRow {
    pub hose: String,
    pub valves: usize,
    pub proven: String,
    /// Where they stand.
    pub places: Vec<String>,
    /// What one valve less and one more would change.
    pub less: String,
    pub more: String,
}

/// The survey of a job that has a plan.
pub fn survey_of(work: &Work) -> Option<Survey> {
    let plan = work.job.plan.as_deref()?;
    let valves = work.job.inlets.iter().enumerate().map(|(i, inlet)| {
        // A valve without a place is laid far off, where no plan is.
        let at = work.job.of_inlet(i).and_then(|line| line.start).unwrap_or(DVec3::splat(-1e6));
        ValveAt { at: at.truncate(), up_m: at.z, hose_m: inlet.hose.length_m }
    });
    Some(survey(&plan.plan, &plan.placed, &valves.collect::<Vec<_>>()))
}

/// The sheet of a job; `None` without a plan.
pub fn reach_sheet(work: &Work) -> Option<ReachSheet> {
    let plan = work.job.plan.as_deref()?;
    let survey = survey_of(work)?;
    let floors = plan.placed.floors_m.iter().enumerate().map(|(floor, up_m)| Floor {
        name: floor_name(work, *up_m),
        svg: draw::reach(&picture(work, plan, &survey, floor)).to_svg(),
    });
    Some(ReachSheet {
        floors: floors.collect(),
        valves: valve_rows(work, &survey),
        left: left_words(&survey, &work.say)
            .into_iter()
            .map(|(room, words)| format!("{}: {words}", plan.plan.rooms[room].name))
            .collect(),
        fewest: fewest_rows(work, &survey),
        loops: loop_words(&plan.plan, &plan.placed, &work.say),
        wand: work.say.length(plan.plan.wand_m),
        file: plan.file.clone(),
        told: true,
    })
}

/// The sheet by pieces of paper: a floor on each, and what is told of them all under the last.
pub fn by_paper(whole: &ReachSheet) -> Vec<ReachSheet> {
    let last = whole.floors.len().saturating_sub(1);
    let paper = |(n, floor): (usize, &Floor)| ReachSheet {
        floors: vec![floor.clone()],
        told: n == last,
        ..whole.clone()
    };
    whole.floors.iter().enumerate().map(paper).collect()
}

/// The name of the level at a floor's height, or its height.
fn floor_name(work: &Work, up_m: f64) -> String {
    let level = work.job.levels.iter().find(|level| (level.up_m - up_m).abs() < 0.02);
    level.map_or_else(|| format!("Floor at {}", work.say.length(up_m)), |level| level.name.clone())
}

/// One floor of a job for its drawing.
pub fn picture<'a>(
    work: &'a Work,
    plan: &'a FloorPlan,
    survey: &'a Survey,
    floor: usize,
) -> ReachPicture<'a> {
    let named: Vec<(String, f64)> =
        work.job.inlets.iter().map(|inlet| (inlet.name.clone(), inlet.hose.length_m)).collect();
    let lines = work.lines.lines.iter().filter(|line| line.anchor != crate::route::Anchor::None);
    let lines = lines.map(|line| {
        let points = std::iter::once(line.start).chain(line.legs.iter().map(|leg| leg.to)).collect();
        (line.name.clone(), points)
    });
    // Lines of tube are shown on the floor nearest to the level that they run in.
    let shown = plan.plan.level.as_ref().is_none_or(|level| {
        let off = |m: &f64| (m - level.up_m).abs();
        plan.placed.floors_m.iter().all(|m| off(&plan.placed.floors_m[floor]) <= off(m))
    });
    let lines = if shown { lines.collect() } else { Vec::new() };
    let title = format!("Reach, {}", floor_name(work, plan.placed.floors_m[floor]));
    of_survey(plan, survey, floor, &named, lines, &title, work.say)
}

/// A picture from a survey; valves by name and hose.
pub fn of_survey<'a>(
    floor_plan: &'a FloorPlan,
    survey: &'a Survey,
    floor: usize,
    named: &[(String, f64)],
    lines: Vec<(String, Vec<DVec3>)>,
    title: &str,
    say: Say,
) -> ReachPicture<'a> {
    let (plan, placed) = (&floor_plan.plan, &floor_plan.placed);
    let here = survey.reaches.iter().zip(named).filter_map(|(reach, (name, hose_m))| {
        let reach = reach.as_ref().filter(|reach| reach.start.sheet == floor)?;
        Some(ReachValve { name: name.clone(), at: reach.start.at, hose_m: *hose_m })
    });
    let one = survey.reaches.iter().flatten().count() == 1;
    let farthest = survey.reaches.iter().flatten().filter_map(|reach| reach.farthest);
    let mut farthest =
        farthest.filter(|far| one && far.home.sheet == floor).map(|far| (far.home.at, far.hose_m));
    ReachPicture {
        prefix: format!("reach-{floor}"),
        title: title.to_owned(),
        plan,
        placed,
        house: &survey.house,
        floor,
        bands: &survey.bands,
        valves: here.collect(),
        farthest: farthest.next_back(),
        left: left_words(survey, &say),
        lines,
        say,
        area_mm: FLOOR_MM,
    }
}

/// What is left out, by room.
fn left_words(survey: &Survey, say: &Say) -> Vec<(usize, String)> {
    let words = survey.left.iter().map(|left| {
        let area = say.area(left.area_m2);
        let words = match left.spot {
            Spot::Shut => "no door leads there".to_owned(),
            Spot::All => "all of it is out of reach".to_owned(),
            Spot::Toward(way) if way == P2::ZERO => format!("{area} out of reach"),
            Spot::Toward(way) => format!("{area} out of reach, to the {}", eighth(way)),
        };
        (left.room, words)
    });
    words.collect()
}

/// The nearest of eight compass words.
fn eighth(way: P2) -> &'static str {
    const WORDS: [&str; 8] =
        ["east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east"];
    let turn = way.y.atan2(way.x) / std::f64::consts::FRAC_PI_4;
    WORDS[(turn.round() as i64).rem_euclid(8) as usize]
}

fn valve_rows(work: &Work, survey: &Survey) -> Vec<ValveRow> {
    let plan = work.job.plan.as_deref();
    let rows = work.job.inlets.iter().zip(&survey.reaches).map(|(inlet, reach)| {
        let farthest = match reach {
            None => "stands off the plan, or has no `at:`".to_owned(),
            Some(reach) => reach.farthest.map_or_else(
                || "no floor".to_owned(),
                |far| {
                    let room =
                        plan.map_or(String::new(), |p| room_at(&p.plan, &p.placed, &survey.house, far.home));
                    let hose = work.say.length(far.hose_m);
                    let enough =
                        if far.hose_m <= reach.hose_m { "enough" } else { "too short for all alone" };
                    format!("{hose} of hose for the farthest point, in {room}; {enough}")
                },
            ),
        };
        ValveRow { name: inlet.name.clone(), hose: work.say.length(inlet.hose.length_m), farthest }
    });
    rows.collect()
}

/// The room, or the stair, in which a point lies.
fn room_at(plan: &Plan, placed: &Placed, house: &crate::plan::House, home: crate::plan::Home) -> String {
    if home.sheet >= house.floors {
        return plan
            .stairs
            .get(home.sheet - house.floors)
            .map_or(String::new(), |stair| format!("the stair up to {}", plan.rooms[stair.into].name));
    }
    let rooms = placed.rooms.iter().enumerate().filter(|(_, room)| room.floor == home.sheet);
    let off = |corners: &Vec<P2>| {
        let sheet = crate::plan::Sheet::new(crate::plan::union(std::slice::from_ref(corners)), &[]);
        sheet.nearest(home.at).distance(home.at)
    };
    let nearest = rooms.min_by(|a, b| off(&a.1.corners).total_cmp(&off(&b.1.corners)));
    nearest.map_or(String::new(), |(number, _)| plan.rooms[number].name.clone())
}

fn fewest_rows(work: &Work, survey: &Survey) -> Vec<FewestRow> {
    let Some(plan) = work.job.plan.as_deref() else { return Vec::new() };
    let places = candidates(&plan.plan, &plan.placed, &survey.house);
    let cells = cells(&survey.house, CELL_M);
    let mut hoses: Vec<f64> = work.catalog.hoses.iter().map(|hose| hose.length_m).collect();
    hoses.sort_by(f64::total_cmp);
    hoses.dedup_by(|b, a| (*b - *a).abs() < 1e-6);
    let say = &work.say;
    let found = fewest_valves(&survey.house, &survey.ways, &places, &cells, plan.plan.wand_m, &hoses);
    let row = |found: &crate::plan::Fewest| {
        let valves = found.spread.valves;
        let proven = if found.proven {
            "proven for these places".to_owned()
        } else if !found.out.is_empty() {
            "not proven: some floor is out of reach of every place".to_owned()
        } else {
            format!("not proven: at least {}", found.at_least)
        };
        let place = |p: &usize| {
            let at = &places[*p];
            let room = &plan.plan.rooms[at.place.room].name;
            format!("{room}, wall {}, at {}", at.place.wall + 1, say.length(at.at_m))
        };
        let spread = say.length(found.spread.hose_m);
        let less = found.less.as_ref().map_or("no hose would do with one less".to_owned(), |less| {
            format!("{} would need {} of hose", counted(less.valves, "valve"), say.length(less.hose_m))
        });
        let more = found.more.as_ref().map_or("one more would not shorten it".to_owned(), |more| {
            format!("with {} {} of hose would do", counted(more.valves, "valve"), say.length(more.hose_m))
        });
        FewestRow {
            hose: say.length(found.hose_m),
            valves,
            proven,
            places: found.chosen.iter().map(place).collect(),
            less: if valves == 1 { String::new() } else { less },
            more: format!("so placed {spread} would do; {more}"),
        }
    };
    found.iter().map(row).collect()
}

/// What each loop of rooms misses by, the walks that close left out.
pub fn loop_words(plan: &Plan, placed: &Placed, say: &Say) -> Vec<String> {
    let words = placed.loops.iter().map(|found| {
        let what = match found.by {
            LoopBy::Walk(room) => format!("the walk round {}", plan.rooms[room].name),
            LoopBy::Door(door) => {
                let door = &plan.doors[door];
                format!(
                    "the loop through the door from {} to {}",
                    plan.rooms[door.room].name, plan.rooms[door.into].name
                )
            }
            LoopBy::Stair(stair) => {
                format!("the loop up the stair to {}", plan.rooms[plan.stairs[stair].into].name)
            }
        };
        let (miss, limit) = (say.length(found.miss.length()), say.length(plan.closes_within_m));
        format!("{what} closes within {miss} ({limit} allowed)")
    });
    words.collect()
}

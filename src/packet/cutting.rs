//! The second sheet of an inlet: measure, then cut, then joint.
use super::drawing::leaves_words;
use super::inline::inlined;
use super::joints;
use super::tables::{BendRow, JointTable, TubeRow, bend_rows, joint_table, tube_rows};
use super::worked::{InletPart, Pictures, Worked};
use crate::reckon::bores::Outcome;
use serde::Serialize;

/// Tables for the saw and the cement.
#[derive(Debug, Clone, Serialize)]
pub struct InletCut {
    pub runs: Vec<RunRow>,
    pub bends: Vec<BendRow>,
    pub tubes: Vec<TubeRow>,
    pub joints: JointTable,
    pub stop: String,
    pub joint_svg: String,
}

/// A planned run, to be measured before anything is cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RunRow {
    pub mark: String,
    pub between: String,
    pub heading: String,
    pub planned: String,
    /// What it is bored through, with the places.
    pub through: Vec<String>,
}

/// Lays the sheet out.
pub fn sheet(worked: &Worked, part: &InletPart, pictures: &Pictures) -> InletCut {
    let (work, say) = (worked.work, worked.work.say);
    let joints = joints::joints(work, part.index);
    InletCut {
        runs: run_rows(worked, part),
        bends: bend_rows(say, part.line, work.catalog.tube.outside_m),
        tubes: tube_rows(work, part.line, part.cuts),
        joints: joint_table(say, &joints, work.standard, Some(&part.inlet.valve)),
        stop: stop_words(worked, part),
        joint_svg: inlined(pictures.joint.as_deref(), &format!("i{}j-", part.index + 1)),
    }
}

/// Every run as far as the stop.
fn run_rows(worked: &Worked, part: &InletPart) -> Vec<RunRow> {
    let (say, route) = (worked.work.say, part.line.to_stop());
    let mut rows = Vec::new();
    for (place, leg) in route.legs.iter().enumerate() {
        let heading = match place.checked_sub(1).and_then(|i| route.bends.get(i)) {
            Some(bend) => bend.heading_words.clone(),
            None => leaves_words(worked, part.index).to_owned(),
        };
        let mut from_m = 0.0;
        for (nth, (length_m, _)) in leg.runs.iter().enumerate() {
            let mark = format!("R{}", rows.len() + 1);
            let between = run_ends(place, route.bends.len(), nth, leg.runs.len());
            let through = crossings(worked, part, place, (from_m, from_m + length_m));
            rows.push(RunRow {
                mark,
                between,
                heading: heading.clone(),
                planned: say.length(*length_m),
                through,
            });
            from_m += length_m;
        }
    }
    rows
}

/// `valve to B1`; runs that follow on from each other in one leg are told apart.
fn run_ends(leg: usize, bends: usize, part: usize, parts: usize) -> String {
    let from = if leg == 0 { "valve".to_string() } else { format!("B{leg}") };
    let to = if leg == bends { "stop".to_string() } else { format!("B{}", leg + 1) };
    if parts == 1 {
        return format!("{from} to {to}");
    }
    format!("{from} to {to}, part {} of {parts}", part + 1)
}

/// What a stretch of a leg is bored through, measured from the start of its run.
fn crossings(worked: &Worked, part: &InletPart, leg: usize, (from_m, to_m): (f64, f64)) -> Vec<String> {
    let say = worked.work.say;
    let figures = worked.work.figures.lines.get(part.index).map(|line| line.crossings.as_slice());
    let inside = |at: f64| at >= from_m - 1e-9 && at < to_m - 1e-9;
    let here = figures.unwrap_or_default().iter().filter(|c| c.leg == leg && inside(c.at_m));
    here.map(|c| {
        let hole = c.crossing.hole_m.map(|m| format!(", bore {}", say.length(m))).unwrap_or_default();
        let wants = c.outcome().map_or(": not checked", bore_words);
        format!("{} at {}{hole}{wants}", c.member_words(), say.length(c.at_m - from_m))
    })
    .collect()
}

/// What a bore asks for.
fn bore_words(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Ok => "",
        Outcome::NeedsShield => ": shield plates",
        Outcome::NeedsTie => ": steel tie across it",
        Outcome::NeedsDoubling => ": only in a doubled stud",
        Outcome::MakersWord => ": only on the maker's or an engineer's word",
        Outcome::Broken => ": not allowed",
    }
}

/// Where the stop sits and what it does.
fn stop_words(worked: &Worked, part: &InletPart) -> String {
    let say = worked.work.say;
    let name = worked.work.catalog.stop().map_or("no stop fitting in the catalog", |stop| &stop.name);
    format!(
        "{name}: at station {} along the work points, {} of hose path from the valve. Without it the hose's tail slides on into the branches.",
        say.length(part.raceway.stop_m),
        say.length(part.raceway.hose_path_m),
    )
}

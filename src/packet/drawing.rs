//! The first sheet of an inlet: its drawings, the route in words, and what was found.
use super::inline::with_prefix;
use super::outline::{Outline, file_name};
use super::place::Place;
use super::sheet::{Cell, FindingRow, Link, finding_rows};
use super::worked::{InletPart, Pictures, Worked};
use crate::measure::Say;
use crate::route::Line;
use serde::Serialize;

/// The drawings of an inlet and what the clauses say.
#[derive(Debug, Clone, Serialize)]
pub struct InletDrawing {
    pub elevation_svg: String,
    pub plan_svg: String,
    pub isometric_svg: String,
    pub route_words: String,
    pub facts: Vec<Cell>,
    /// What wants attention, the worst first.
    pub findings: Vec<FindingRow>,
    /// How many clauses are met, and where that stands.
    pub met_words: String,
    /// The drawing as files of its own.
    pub files: Vec<Link>,
}

/// Lays the sheet out.
pub fn sheet(
    worked: &Worked,
    part: &InletPart,
    pictures: &Pictures,
    out: &Outline,
    at: &Place,
) -> InletDrawing {
    let prefix = format!("i{}", part.index + 1);
    let rows = finding_rows(part.findings, part.offers, &worked.work.job.standard, at);
    let (met, findings): (Vec<_>, Vec<_>) = rows.into_iter().partition(|row| row.stamp.shape == "pass");
    let inline = |svg: &str, view: &str| with_prefix(svg, &format!("{prefix}{view}-"));
    InletDrawing {
        elevation_svg: inline(&pictures.elevation, "e"),
        plan_svg: inline(&pictures.plan, "p"),
        isometric_svg: pictures.isometric.as_deref().map(|svg| inline(svg, "x")).unwrap_or_default(),
        route_words: route_words(
            worked.work.say,
            &part.line.to_stop(),
            leaves_words(worked, part.index),
            "the valve",
            "the stop",
        ),
        facts: facts(worked, part),
        findings,
        met_words: met_words(met.len(), part.index),
        files: files(worked, part, out, at),
    }
}

/// `17 clauses are met; sheet J-1.4 lists them.`
fn met_words(met: usize, inlet: usize) -> String {
    let sheet = format!("sheet J-{}.4", inlet + 1);
    match met {
        0 => String::new(),
        1 => format!("1 clause is met; {sheet} has it with its measure."),
        n => format!("{n} clauses are met; {sheet} lists them with what was measured."),
    }
}

/// Name of a drawing's file without ending, `hall-elevation`.
pub fn elevation_file(inlet_id: &str) -> String {
    format!("{}-elevation", file_name(inlet_id))
}

/// The direction in which a line leaves, as the job writes it.
pub fn leaves_words<'a>(worked: &Worked<'a>, line: usize) -> &'a str {
    worked.work.job.lines.get(line).map_or("", |spec| &spec.leaves.words)
}

/// The route as a person would say it on the telephone.
pub fn route_words(say: Say, route: &Line, leaves: &str, start: &str, end: &str) -> String {
    let mut words = String::new();
    for (place, leg) in route.legs.iter().enumerate() {
        let length = say.length(leg.length_m);
        let last = place + 1 == route.legs.len();
        let tail = if last { format!(" to {end}") } else { String::new() };
        match place {
            0 => words.push_str(&format!("From {start} {leaves} {length}{tail}.")),
            _ => words.push_str(&format!(" {length}{tail}.")),
        }
        if let Some(bend) = route.bends.get(place) {
            words.push_str(&format!(
                " B{}, {} to {}.",
                bend.n,
                say.angle(bend.angle_deg),
                bend.heading_words
            ));
        }
    }
    words
}

/// The figures a crew lead asks for first.
fn facts(worked: &Worked, part: &InletPart) -> Vec<Cell> {
    let (say, raceway, hose) = (worked.work.say, part.raceway, &part.inlet.hose);
    let room_m = raceway.hose_path_m - hose.length_m;
    let (room, side) = if room_m >= 0.0 {
        (room_m, "beyond the hose's tail, new")
    } else {
        (-room_m, "too short for the hose")
    };
    vec![
        Cell::new("Hose path", say.length(raceway.hose_path_m)),
        Cell::new("Hose", with_size(&hose.name, &say.length(hose.length_m))),
        Cell::new("Room", format!("{} {side}", say.length(room))),
        Cell::new("Bends", format!("{} in {}", say.angle(raceway.bend_total_deg), bends(raceway.bends))),
        Cell::new("Valve", part.inlet.valve.name.clone()),
    ]
}

/// A part's name with its size, once: a name often says it already.
pub fn with_size(name: &str, size: &str) -> String {
    if name.contains(size) { name.to_string() } else { format!("{name}, {size}") }
}

/// `1 bend`, `3 bends`.
fn bends(count: usize) -> String {
    format!("{count} {}", if count == 1 { "bend" } else { "bends" })
}

/// Links to the drawing as files; a picture stands there only where the firm asks for one.
fn files(worked: &Worked, part: &InletPart, out: &Outline, at: &Place) -> Vec<Link> {
    let name = format!("{}/{}", out.folder, elevation_file(&part.inlet.id));
    let link = |ending, text: &str| Link { href: at.to(&format!("{name}.{ending}"), ""), text: text.into() };
    let picture = worked.firm.pictures.then(|| link("png", "as a picture"));
    std::iter::once(link("svg", "Elevation alone, to zoom")).chain(picture).collect()
}

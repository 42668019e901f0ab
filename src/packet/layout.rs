//! Where everything stands: every valve, bend, stop and junction from the lines on site that a tape can
//! start from, and every bore with its member, its bit and what it asks for.
use super::Source;
use super::bored;
use super::inline::inlined;
use super::outline::Kind;
use super::paper;
use super::set_out::{across, stations};
use super::sheet::Stamp;
use super::worked::Worked;
use crate::company::Member;
use crate::figures::CrossingFigure;
use crate::reckon::bores::{Outcome, Remedy};
use crate::route::{Anchor, Line};
use glam::DVec3;
use serde::Serialize;

/// A sheet of the layout.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Layout {
    pub plan_svg: String,
    pub key_isometric_svg: String,
    /// What the signs mean, and the letters of datums and levels.
    pub key_words: String,
    pub bores: Vec<BoreRow>,
    /// What is said where no line is bored through anything.
    pub no_bores: &'static str,
    pub lines: Vec<LinePoints>,
    /// Whether a place has the width of the sheet to itself; else two stand side by side.
    pub one_column: bool,
}

/// The places of a line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LinePoints {
    pub name: String,
    pub rows: Vec<PointRow>,
}

/// A place.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PointRow {
    pub mark: String,
    /// How far east or west, and of what.
    pub east: String,
    /// How far north or south, and of what.
    pub north: String,
    pub height: String,
    pub note: String,
}

/// A bore.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BoreRow {
    pub mark: String,
    pub member: String,
    pub bit: String,
    pub east: String,
    pub north: String,
    pub height: String,
    pub edge: String,
    /// Plates and ties.
    pub steel: String,
    pub fire: String,
    pub stamp: Stamp,
    pub note: String,
}

/// A row of either kind, before the sheets are split.
enum Row {
    Bore(BoreRow),
    /// With the name of its line.
    Point(String, PointRow),
}

/// Lays the sheets out.
pub fn sheets(source: &Source) -> Vec<Layout> {
    let worked = source.worked;
    let rows = rows(worked);
    let (one_column, heights) = heights(worked, &rows);
    let pages = paper::pages(&heights, super::room_mm(worked, Kind::Layout), above_mm(source));
    let mut sheets: Vec<Layout> =
        pages.into_iter().map(|range| Layout { one_column, ..sheet(&rows[range]) }).collect();
    if let Some(first) = sheets.first_mut() {
        first.plan_svg = inlined(source.pictures.layout.as_deref(), "key-");
        first.key_isometric_svg = inlined(source.pictures.key_isometric.as_deref(), "keyx-");
        first.key_words = key_words(worked);
        if !rows.iter().any(|row| matches!(row, Row::Bore(_))) {
            first.no_bores =
                "No bores are written in the job's file. If a hold says so, they are not known yet.";
        }
    }
    sheets
}

/// How high the drawings over the schedules may be, mm, the highest first; the last always finds room.
const KEY_MM: [f64; 7] = [92.0, 86.0, 80.0, 74.0, 70.0, 66.0, 62.0];

/// The height of the drawings that leaves the schedules on no more sheets than the least does, mm.
pub fn key_mm(worked: &Worked) -> f64 {
    let (_, heights) = heights(worked, &rows(worked));
    let sheets = |key_mm: f64| sheets_under(worked, &heights, key_mm);
    let [.., least_mm] = KEY_MM;
    let fewest = sheets(least_mm);
    KEY_MM.into_iter().find(|mm| sheets(*mm) <= fewest).unwrap_or(least_mm)
}

/// How many sheets rows take under drawings so high.
fn sheets_under(worked: &Worked, heights: &[f64], key_mm: f64) -> usize {
    let above_mm = key_mm + OVER_KEY_MM + UNDER_KEY_MM + key_words_mm(worked);
    paper::pages(heights, super::room_mm(worked, Kind::Layout), above_mm).len()
}

/// Whether the places stand in one column, and the height of each row with the head that it brings, mm. One column is
/// taken where two would break lines, if it takes no more sheets.
fn heights(worked: &Worked, rows: &[Row]) -> (bool, Vec<f64>) {
    let of = |columns: &Columns| -> Vec<f64> {
        let head = |i| head_mm(rows, i, columns.count);
        rows.iter().enumerate().map(|(i, row)| row_mm(row, columns) + head(i)).collect()
    };
    let two = of(&TWO);
    let broken = |row: &Row| matches!(row, Row::Point(..)) && row_mm(row, &TWO) > LINE_MM / TWO.count + 0.1;
    if rows.iter().any(broken) {
        let one = of(&ONE);
        let [.., least_mm] = KEY_MM;
        if sheets_under(worked, &one, least_mm) <= sheets_under(worked, &two, least_mm) {
            return (true, one);
        }
    }
    (false, two)
}

/// Columns of places: how many, and the room of east, north and height in each, mm.
struct Columns {
    count: f64,
    rooms: [f64; 3],
}

const TWO: Columns = Columns { count: 2.0, rooms: [21.0, 21.0, 27.0] };
const ONE: Columns = Columns { count: 1.0, rooms: [52.0, 52.0, 52.0] };
/// A row whose words take one line, mm.
const LINE_MM: f64 = 5.6;

/// The name of a drawing under it, and by how much a drawing may be higher than it was to be: a row of words that
/// found no room in it, mm.
const UNDER_KEY_MM: f64 = 6.0;
const OVER_KEY_MM: f64 = 5.0;

/// Height of what the signs mean, mm.
fn key_words_mm(worked: &Worked) -> f64 {
    paper::words_mm(&key_words(worked), 10.0, 184.0) + 2.0
}

/// Height of the key, plan and isometric side by side, with its words, mm.
fn above_mm(source: &Source) -> f64 {
    let drawn = [&source.pictures.layout, &source.pictures.key_isometric];
    let key_mm = drawn.iter().filter_map(|svg| svg.as_deref()).map(|svg| paper::svg_mm(svg).1 + UNDER_KEY_MM);
    key_mm.fold(0.0, f64::max) + key_words_mm(source.worked)
}

/// Every bore, then every place, of all lines.
fn rows(worked: &Worked) -> Vec<Row> {
    let lines = worked.work.lines.lines.iter().enumerate();
    let bores = lines.flat_map(|(i, line)| bore_rows(worked, i, line)).map(Row::Bore);
    let points =
        worked.work.lines.lines.iter().flat_map(|line| {
            point_rows(worked, line).into_iter().map(|row| Row::Point(line.belongs_to(), row))
        });
    bores.chain(points).collect()
}

/// Rows of one sheet back in their tables.
fn sheet(rows: &[Row]) -> Layout {
    let mut layout = Layout::default();
    for row in rows {
        match row {
            Row::Bore(bore) => layout.bores.push(bore.clone()),
            Row::Point(line, point) => match layout.lines.last_mut() {
                Some(last) if last.name == *line => last.rows.push(point.clone()),
                _ => layout.lines.push(LinePoints { name: line.clone(), rows: vec![point.clone()] }),
            },
        }
    }
    layout
}

/// Height that the first row of a table brings with it for its head, mm; places stand in so many columns.
fn head_mm(rows: &[Row], i: usize, columns: f64) -> f64 {
    match (&rows[i], i.checked_sub(1).and_then(|before| rows.get(before))) {
        (Row::Bore(_), None) => 14.0,
        (Row::Point(..), None | Some(Row::Bore(_))) => 12.0,
        (Row::Point(line, _), Some(Row::Point(before, _))) if line != before => 5.4 / columns,
        _ => 0.0,
    }
}

/// Height of a row, mm, at the width of its columns; of two columns each row takes half.
fn row_mm(row: &Row, columns: &Columns) -> f64 {
    let highest = |words: &[(&String, f64)]| {
        let each = words.iter().map(|(words, room)| paper::words_mm(words, 10.0, *room));
        each.fold(LINE_MM - 1.0, f64::max) + 1.0
    };
    match row {
        Row::Bore(bore) => highest(&[
            (&bore.member, 24.0),
            (&bore.east, 26.0),
            (&bore.north, 26.0),
            (&bore.height, 22.0),
            (&bore.edge, 20.0),
            (&bore.steel, 20.0),
        ]),
        Row::Point(_, point) => {
            let [east, north, height] = columns.rooms;
            highest(&[(&point.east, east), (&point.north, north), (&point.height, height)]) / columns.count
        }
    }
}

/// What the signs of the key mean, and what the letters of datums and levels stand for.
fn key_words(worked: &Worked) -> String {
    let job = worked.work.job;
    let say = worked.work.say;
    let mut words =
        vec!["Cross: set out here. Open square: valve or stop. Dot: where a line joins.".to_string()];
    words.push("E, W, N, S: east, west, north, south of it.".into());
    let datums = job.datums.iter().enumerate().map(|(i, datum)| format!("D{} {}", i + 1, datum.name));
    let datums: Vec<String> = datums.collect();
    words.push(match datums.is_empty() {
        false => format!("Measured from: {}.", datums.join("; ")),
        true => "Measured from each line's valve or start (no datums in the job's file).".into(),
    });
    let levels = job.levels.iter().enumerate();
    let levels: Vec<String> =
        levels.map(|(i, level)| format!("L{} {}, {}", i + 1, level.name, say.length(level.up_m))).collect();
    if !levels.is_empty() {
        words.push(format!("Heights are over (+) or under (−) a level: {}.", levels.join("; ")));
    }
    words.join(" ")
}

/// Every place of a line in order.
fn point_rows(worked: &Worked, line: &Line) -> Vec<PointRow> {
    let row = |(station_m, mark): (f64, String)| {
        let point = line.point_at(station_m)?;
        let [east, north] = across(worked.work, line, point).map(shortened);
        Some(PointRow {
            note: format!("job/set-out/{} {mark} at {}", line.letters, worked.work.say.length(station_m)),
            mark,
            east,
            north,
            height: height(worked, line, point),
        })
    };
    stations(worked.work, line).into_iter().filter_map(row).collect()
}

/// Every bore of a line.
fn bore_rows(worked: &Worked, index: usize, line: &Line) -> Vec<BoreRow> {
    let figures = worked.work.figures.lines.get(index).map(|line| line.crossings.as_slice());
    let row = |figure: &CrossingFigure| {
        let point = line.point_at(figure.station_m).unwrap_or(line.start);
        let [east, north] = across(worked.work, line, point).map(shortened);
        BoreRow {
            mark: figure.mark.clone(),
            member: figure.member_words(),
            bit: bit(worked, figure),
            east,
            north,
            height: height(worked, line, point),
            edge: edge(worked, figure),
            steel: steel(figure),
            fire: fire(figure).into(),
            stamp: bored::verdict(worked.work, index, figure).into(),
            note: format!("job/bored/{}", figure.mark),
        }
    };
    figures.unwrap_or_default().iter().map(row).collect()
}

/// The size of the hole.
fn bit(worked: &Worked, figure: &CrossingFigure) -> String {
    bored::hole_m(worked.work, figure)
        .map_or_else(|| "size not given".into(), |hole_m| worked.work.say.length(hole_m))
}

/// How far the hole's edge is from the member's.
fn edge(worked: &Worked, figure: &CrossingFigure) -> String {
    let say = worked.work.say;
    match (figure.crossing.from_edge_m, figure.crossing.depth_m, figure.crossing.hole_m) {
        (Some(edge_m), ..) => say.length(edge_m),
        (None, Some(depth_m), Some(hole_m)) if depth_m > hole_m => {
            format!("centered, {}", say.length((depth_m - hole_m) / 2.0))
        }
        _ => "centered".into(),
    }
}

/// Plates and ties.
fn steel(figure: &CrossingFigure) -> String {
    let mut parts = Vec::new();
    for ruling in figure.rulings.iter().flatten() {
        match (ruling.outcome, ruling.remedy) {
            (Outcome::NeedsShield, Some(Remedy::Shield { both_faces: true, .. })) => parts.push("2 plates"),
            (Outcome::NeedsShield, _) => parts.push("1 plate"),
            (Outcome::NeedsTie, _) => parts.push("tie"),
            _ => {}
        }
    }
    parts.dedup();
    if parts.is_empty() { "–".into() } else { parts.join(", ") }
}

/// What closes the gap round the tube.
fn fire(figure: &CrossingFigure) -> &'static str {
    let crossing = &figure.crossing;
    match crossing.garage_wall {
        true => "garage wall",
        false if crossing.floor_line => "fireblock",
        false if matches!(crossing.member, Member::TopPlate | Member::BottomPlate) => "fireblock",
        false => "–",
    }
}

/// A distance without what it is from where that is the line's own start, which the words over the table say.
fn shortened(words: String) -> String {
    match words.as_str() {
        "on valve" | "on start" => "0".into(),
        words => match words.split_once(" of ") {
            Some((far, "valve" | "start")) => far.to_string(),
            // As heights are written, so that a column can be read down.
            Some((far, datum)) => format!("{datum}, {far}"),
            None => words.to_string(),
        },
    }
}

/// A point's height over the nearest level below it, else under the lowest, else from the line's start.
fn height(worked: &Worked, line: &Line, point: DVec3) -> String {
    let say = worked.work.say;
    let step_m = say.step_m() / 2.0;
    let told = |m: f64, way: &str, of: &str| match m < step_m {
        true => of.to_string(),
        false => format!("{of} {way} {}", say.length(m)),
    };
    let levels = worked.work.job.levels.iter().enumerate();
    let levels: Vec<(usize, f64)> = levels.map(|(i, level)| (i + 1, level.up_m)).collect();
    if line.anchor == Anchor::None || levels.is_empty() {
        let m = point.z - line.start.z;
        return told(m.abs(), if m > 0.0 { "+" } else { "−" }, "start");
    }
    let below = levels.iter().filter(|(_, up_m)| *up_m <= point.z + step_m);
    match below.max_by(|a, b| a.1.total_cmp(&b.1)) {
        Some((n, up_m)) => told((point.z - up_m).max(0.0), "+", &format!("L{n}")),
        None => match levels.iter().min_by(|a, b| a.1.total_cmp(&b.1)) {
            Some((n, up_m)) => told(up_m - point.z, "−", &format!("L{n}")),
            None => String::new(),
        },
    }
}

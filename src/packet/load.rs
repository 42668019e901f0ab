//! What goes on the truck: parts by where they lie, tools and bits, sticks whole and sticks to cut, and
//! how long cement takes.
use super::Source;
use super::bored;
use super::paper;
use super::prose::sentence;
use super::spares::Spares;
use super::worked::Worked;
use crate::figures::CrossingFigure;
use crate::material::list::Item;
use crate::material::{CutPiece, CutStick, CuttingPlan};
use crate::measure::{FOOT_M, Lengths, Say};
use crate::text::counted;
use serde::Serialize;
use std::collections::BTreeMap;

/// A sheet of what to load.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Load {
    pub places: Vec<LoadPlace>,
    pub tools: Vec<LoadRow>,
    /// `17 sticks whole`, and what stands in them; empty for none.
    pub whole: Option<WholeSticks>,
    pub sticks: Vec<StickRow>,
    /// How good the cutting plan is, or why there is none.
    pub summary: String,
    pub cure: Vec<String>,
    /// What the `+` of a count means; empty where the firm takes no spares.
    pub spares: &'static str,
    /// What is ticked when the truck is loaded.
    pub checks: Vec<super::check::CheckLine>,
}

/// Parts that lie together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LoadPlace {
    pub name: &'static str,
    pub rows: Vec<LoadRow>,
}

/// A line to tick.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LoadRow {
    /// `17`, or with spares `17 + 2`.
    pub count: String,
    pub part: String,
    pub fine: String,
    /// Under which name the tick is kept.
    pub note: String,
}

/// Sticks that go into the house uncut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WholeSticks {
    pub words: String,
    pub marks: String,
    pub note: String,
}

/// A stick that is cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StickRow {
    pub nth: usize,
    pub pieces: Vec<StickMark>,
    pub offcut: String,
    pub note: String,
}

/// A piece in it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StickMark {
    pub mark: String,
    pub length: String,
}

/// Where a kind of part lies on the truck, in the order of loading.
const PLACES: [(&str, &[&str]); 5] = [
    ("Rack", &["tube"]),
    ("Fittings bin", &["bend", "coupling", "stop", "junction", "cap", "reducer"]),
    ("Wall parts box", &["valve", "framing", "screw", "wire", "strap"]),
    ("Cement box", &["cement", "primer"]),
    ("For trim", &["hose", "unit"]),
];

/// A piece is no shorter than the stick by more than this where the stick goes in whole, m.
const WHOLE_M: f64 = 1e-6;
/// Least that is cut off a bad end, m (a quarter inch; common practice, no source).
const TRIM_M: f64 = 0.006_35;

/// Lays the sheets out; what one has no room for stands on the next.
pub fn sheets(source: &Source) -> Vec<Load> {
    let worked = source.worked;
    let (whole, cut) = sticks(worked);
    let lists = Load {
        places: places(worked),
        tools: tools(worked),
        whole,
        summary: summary(worked),
        cure: cure_lines(worked.work.say),
        spares: if worked.firm.spares.is_empty() { "" } else { "After the +: spares, taken on top." },
        checks: super::check::of_phase(source, super::Kind::Load, crate::company::Phase::Load),
        sticks: Vec::new(),
    };
    let heights: Vec<f64> = cut.iter().map(stick_mm).collect();
    let pages = paper::pages(&heights, super::room_mm(worked, super::Kind::Load), lists_mm(&lists));
    let sheet = |(nth, rows): (usize, std::ops::Range<usize>)| {
        let sticks = cut[rows].to_vec();
        if nth == 0 { Load { sticks, ..lists.clone() } } else { Load { sticks, ..Load::default() } }
    };
    pages.into_iter().enumerate().map(sheet).collect()
}

/// Height of a row of the list and of a heading, mm.
const ROW_MM: f64 = 4.7;
const FINE_MM: f64 = 4.0;
const HEAD_MM: f64 = 6.2;

/// Height of everything but the sticks that are cut, mm: two columns, the higher of which counts.
fn lists_mm(load: &Load) -> f64 {
    let row = |row: &LoadRow| {
        let words = format!("{} {} {}", row.count, row.part, row.fine);
        ROW_MM + FINE_MM * (paper::lines(&words, 10.0, 46.0) as f64 - 1.0)
    };
    let place = |place: &LoadPlace| HEAD_MM + place.rows.iter().map(row).sum::<f64>();
    let parts_mm: f64 = load.places.iter().map(place).sum();
    let tools_mm: f64 = HEAD_MM + load.tools.iter().map(row).sum::<f64>();
    let checks_mm =
        HEAD_MM + load.checks.iter().map(|line| paper::words_mm(&line.text, 10.0, 46.0) + 1.0).sum::<f64>();
    let cure_mm = paper::words_mm(&load.cure.join(" "), 10.0, 184.0) + 1.6;
    let whole = load.whole.as_ref().map(|whole| format!("{} {}", whole.words, whole.marks));
    let whole_mm = whole.map_or(0.0, |words| paper::words_mm(&words, 11.5, 180.0) + 2.0);
    let summary_mm = HEAD_MM + paper::words_mm(&load.summary, 10.0, 184.0) + cure_mm + whole_mm;
    // The columns are filled evenly, but no place is split.
    let even_mm = (parts_mm + tools_mm + checks_mm) / 3.0 + 2.0;
    let spares_mm = if load.spares.is_empty() { 0.0 } else { 4.9 };
    even_mm + spares_mm + summary_mm
}

/// Height of a stick's row in its column, mm.
fn stick_mm(stick: &StickRow) -> f64 {
    let words: Vec<String> = stick.pieces.iter().map(|p| format!("{} {}  ", p.mark, p.length)).collect();
    paper::words_mm(&words.join(" "), 14.0, 148.0) + 0.7
}

/// Parts by where they lie; what has no place of its own stands last.
fn places(worked: &Worked) -> Vec<LoadPlace> {
    let items = &worked.work.items;
    let known = |kind: &str| PLACES.iter().any(|(_, kinds)| kinds.contains(&kind));
    let spares = Spares::of(worked);
    let mut places: Vec<LoadPlace> = PLACES
        .iter()
        .map(|(name, kinds)| {
            let mut rows =
                rows(worked, items.iter().filter(|item| kinds.contains(&item.kind.as_str())), &spares);
            rows.extend(spares.unused.iter().filter(|(_, kind, _)| kinds.contains(kind)).map(spare_row));
            LoadPlace { name, rows }
        })
        .collect();
    places.push(LoadPlace {
        name: "Loose",
        rows: rows(worked, items.iter().filter(|item| !known(&item.kind)), &spares),
    });
    places.retain(|place| !place.rows.is_empty());
    places
}

/// A part that goes along as a spare alone.
fn spare_row((part, _, count): &(String, &'static str, u32)) -> LoadRow {
    LoadRow {
        count: format!("+ {count}"),
        part: part.clone(),
        fine: "spare".into(),
        note: format!("job/loaded/{part}"),
    }
}

/// Items as lines, with the spares of each.
fn rows<'a>(worked: &Worked, items: impl Iterator<Item = &'a Item>, spares: &Spares) -> Vec<LoadRow> {
    items
        .map(|item| LoadRow {
            count: match spares.count(item) {
                0 => amount(worked.work.say, item),
                more => format!("{} + {more}", amount(worked.work.say, item)),
            },
            part: item.part.clone(),
            fine: short_note(&item.note),
            note: format!("job/loaded/{}", item.part),
        })
        .collect()
}

/// A note short enough for the tailgate; longer ones are for the office.
fn short_note(note: &str) -> String {
    if note.chars().count() <= 28 { note.to_string() } else { String::new() }
}

/// Tools that this job calls for, bits by the size of its holes first.
fn tools(worked: &Worked) -> Vec<LoadRow> {
    let row = |count: String, part: String, fine: &str| LoadRow {
        note: format!("job/loaded/{part}"),
        count,
        part,
        fine: fine.into(),
    };
    let mut tools: Vec<LoadRow> = bits(worked)
        .into_iter()
        .map(|(size, holes)| row("1".into(), format!("bit, {size}"), &counted(holes, "hole")))
        .collect();
    tools.extend(TOOLS.map(|(count, part)| row(count.into(), part.into(), "")));
    tools
}

/// Tools of every job: what the cut list, the layout and the checks ask for.
const TOOLS: [(&str, &str); 7] = [
    ("1", "right-angle drill, spare battery"),
    ("1", "tube cutter, or fine saw and miter box"),
    ("1", "deburring tool, in and out"),
    ("2", "25 ft tape, marker, 2 ft level"),
    ("1", "hidden wire and pipe finder"),
    ("1", "suction gauge, flow meter, spring scale"),
    ("1", "ball or rod, just too thick for the stop"),
];

/// Sizes of the holes with how many there are of each.
fn bits(worked: &Worked) -> Vec<(String, usize)> {
    let crossings = worked.work.figures.lines.iter().flat_map(|line| &line.crossings);
    let mut sizes: BTreeMap<i64, usize> = BTreeMap::new();
    for hole_m in crossings.filter_map(|figure: &CrossingFigure| bored::hole_m(worked.work, figure)) {
        *sizes.entry((hole_m * 1e5).round() as i64).or_default() += 1;
    }
    sizes.into_iter().map(|(size, holes)| (worked.work.say.length(size as f64 / 1e5), holes)).collect()
}

/// The sticks of the plan: those that go in whole, and those that are cut.
fn sticks(worked: &Worked) -> (Option<WholeSticks>, Vec<StickRow>) {
    let say = worked.work.say;
    let stick_m = worked.work.catalog.tube.stick_m;
    let plan = worked.work.cuts.plan.as_ref().map(|plan| plan.sticks.as_slice()).unwrap_or_default();
    let is_whole = |stick: &&CutStick| {
        stick.pieces.len() == 1 && stick.pieces.iter().all(|piece| piece.length_m > stick_m - WHOLE_M)
    };
    let whole: Vec<&CutStick> = plan.iter().filter(is_whole).collect();
    let cut = plan.iter().filter(|stick| !is_whole(stick));
    let rows = cut.enumerate().map(|(i, stick)| stick_row(worked, whole.len() + i + 1, stick));
    let rows: Vec<StickRow> = rows.collect();
    let marks: Vec<String> =
        whole.iter().flat_map(|stick| &stick.pieces).map(|piece| piece.mark.clone()).collect();
    let words = match whole.len() {
        1 => "1 stick whole".to_string(),
        n => format!("{n} sticks whole, {} each", say.length(stick_m)),
    };
    let note = "job/loaded/sticks whole".to_string();
    ((!whole.is_empty()).then(|| WholeSticks { words, marks: marks.join(", "), note }), rows)
}

/// One stick that is cut.
fn stick_row(worked: &Worked, nth: usize, stick: &CutStick) -> StickRow {
    let say = worked.work.say;
    let piece = |piece: &CutPiece| StickMark { mark: piece.mark.clone(), length: say.length(piece.length_m) };
    let trim = if stick.offcut_m >= TRIM_M { "" } else { ", no trim" };
    StickRow {
        nth,
        pieces: stick.pieces.iter().map(piece).collect(),
        offcut: format!(
            "{}{}{trim}",
            say.length_down(stick.offcut_m),
            if stick.kept { ", keep" } else { "" }
        ),
        note: format!("job/loaded/stick {nth}"),
    }
}

/// How good the plan is, or why there is none.
fn summary(worked: &Worked) -> String {
    match &worked.work.cuts.plan {
        Ok(plan) => plan_words(worked, plan),
        Err(why) => sentence(&format!("there is no cutting plan: {why}")),
    }
}

/// How many sticks, and whether fewer would do.
fn plan_words(worked: &Worked, plan: &CuttingPlan) -> String {
    let (sticks, say) = (plan.sticks.len(), worked.work.say);
    let length = say.length(worked.work.catalog.tube.stick_m);
    let quality = match plan.proven {
        true => plan.quality().to_string(),
        false => format!("at least {} are needed", plan.lower_bound),
    };
    let left = worked.work.cuts.not_counted().map(|words| format!(" {words}.")).unwrap_or_default();
    let noun = if sticks == 1 { "stick" } else { "sticks" };
    format!(
        "{sticks} {noun} of {length}, {quality}.{left} A cut takes {}. Cut a bad end off first: the last column is what may go. Write the mark on each piece as it leaves the saw.",
        say.length(worked.work.catalog.tube.kerf_m)
    )
}

/// How long a joint is left alone and cures, for the load sheet and the cut lists.
pub fn cure_lines(say: Say) -> Vec<String> {
    let row = |row: super::cement::CementRow| {
        format!("{}: leave it {}, cure {} before test and hose", row.temperature, row.set, row.cure)
    };
    let rows: Vec<String> = super::cement::cement_times(say).rows.into_iter().map(row).collect();
    vec![
        sentence(&rows.join("; ")),
        "In damp air half as long again. The label decides. Air through the space, no flame, no spark."
            .into(),
    ]
}

/// How much of a part, in the firm's units; a plain count of pieces has none.
fn amount(say: Say, item: &Item) -> String {
    match (item.unit.as_str(), say.lengths) {
        ("pc" | "stick", _) => count(item.count),
        // Bought by the foot: rounded up to the next one.
        ("m", Lengths::FtIn) => format!("{:.0} ft", (item.count / FOOT_M - 1e-6).ceil()),
        (unit, _) => format!("{} {unit}", count(item.count)),
    }
}

/// A count: whole numbers without a point, others to one place.
pub fn count(count: f64) -> String {
    if (count - count.round()).abs() < 0.05 {
        return format!("{count:.0}");
    }
    format!("{count:.1}")
}

//! The fourth sheet of an inlet: its figures, and how each was worked out.
use super::here::Here;
use super::inline::with_prefix;
use super::prose::sentence;
use super::sheet::{FindingRow, finding_rows};
use super::worked::{InletPart, Pictures, Worked, slice_at};
use super::workings as name;
use crate::figures::{
    AirFigures, HoseFigures, InletFigures as Figures, Missing, PassageFigure, WireFigures, catches_first,
};
use crate::measure::{Bound, Kind, Say};
use crate::standard;
use crate::text::slug;
use serde::Serialize;

/// The sheet.
#[derive(Debug, Clone, Serialize)]
pub struct InletFigures {
    pub figures: Vec<FigureRow>,
    pub passage: Vec<PassageRow>,
    pub travel_svg: String,
    pub workings: Vec<WorkingRow>,
    /// The clauses that are met, with what was measured.
    pub met: Vec<FindingRow>,
    /// What could not be worked out, and for want of what.
    pub wanting: Vec<String>,
}

/// A figure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FigureRow {
    pub name: &'static str,
    pub value: String,
    pub means: String,
    /// Link to its working on the same sheet; empty where there is none.
    pub href: String,
}

/// How long a stiff thing may be at a place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PassageRow {
    pub place: String,
    pub longest: String,
    /// Whether this place catches first.
    pub catches_first: bool,
}

/// A working.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WorkingRow {
    /// Here on the page, so that a figure can lead to it and a browser open it.
    pub anchor: String,
    pub name: String,
    pub result: String,
    /// Empty where it stands with another working.
    pub formula_mathml: &'static str,
    pub formula_at: Option<FormulaAt>,
    pub with_numbers: String,
    pub source: String,
}

/// With which working of which inlet a formula stands, and its place on the page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FormulaAt {
    pub name: String,
    pub anchor: String,
}

/// Lays the sheet out.
pub fn sheet(worked: &Worked, part: &InletPart, pictures: &Pictures, here: &Here) -> InletFigures {
    let (say, figures) = (worked.work.say, part.figures);
    let mut rows = vec![row(
        name::HOSE_PATH,
        say.length(part.raceway.hose_path_m),
        "from the valve to the stop, along the bends",
    )];
    rows.extend(figures.hose.iter().flat_map(|hose| hose_rows(say, hose)));
    rows.extend(suction_rows(say, figures));
    rows.extend(figures.air.iter().flat_map(|air| air_rows(say, air)));
    rows.extend(figures.wire.iter().flat_map(|wire| wire_rows(say, wire)));
    let workings = slice_at(worked.workings, part.index);
    for row in &mut rows {
        let known = workings.iter().any(|working| working.name == row.name);
        row.href = if known { format!("#{}", anchor(part, row.name)) } else { String::new() };
    }
    let prefix = format!("i{}f-", part.index + 1);
    let passage: &[PassageFigure] = figures.passage.as_deref().unwrap_or_default();
    InletFigures {
        figures: rows,
        passage: passage_rows(say, passage, part.inlet.hose.handle_passes_m),
        travel_svg: pictures.travel.as_deref().map(|svg| with_prefix(svg, &prefix)).unwrap_or_default(),
        workings: workings.iter().map(|working| working_row(part, working)).collect(),
        met: met(worked, part, here),
        wanting: wanting(figures, worked.work.say),
    }
}

/// The hose's motion.
fn hose_rows(say: Say, hose: &HoseFigures) -> Vec<FigureRow> {
    let (draw, (least_n, most_n)) = (hose.draw(), hose.pulls_n());
    let worst = &draw.worst;
    let at = |m: f64| match m {
        m if m <= 0.0 => "at the very start".to_owned(),
        m => format!("with {} drawn in", say.length(m)),
    };
    let reserve = worst.reserve();
    let has = say.force(draw.available_n());
    let drawn = if reserve.is_finite() {
        format!("worst {}; suction gives {has}, {} x the need", at(worst.inserted_m), at_most(say, reserve))
    } else {
        format!("the hose slides in by its own weight; suction gives {has}")
    };
    let mut rows = vec![row(name::DRAW_IN, say.force(draw.needed_n()), drawn)];
    rows.extend(hose.wanted.is_empty().then(|| {
        row(name::SPENT, spent_words(say, worst.spent.by_pa), leak_words(say, worst.spent.leak_m3_s))
    }));
    rows.extend(hose.friction_it_bears().map(|factor| bears_row(say, factor)));
    let rest_n = hose.pull_at_rest.force_n;
    let pulled = match &hose.pull_running {
        Err(why) => format!("unit at rest; with the unit running not known: {}", why.words(&say)),
        Ok(running) if running.is_empty() => "at the handle, unit at rest".to_owned(),
        Ok(_) if most_n > least_n => format!(
            "at the handle, unit running, by where the suction is spent; {} at rest",
            say.force(rest_n)
        ),
        Ok(_) => format!("at the handle, unit running; {} at rest", say.force(rest_n)),
    };
    rows.push(row(name::PULL_OUT, say.force(most_n), pulled));
    rows
}

/// `2.1 kPa in the valve, 27 kPa along the hose, 1.1 kPa round the tail`.
fn spent_words(say: Say, [valve, along, tail]: [f64; 3]) -> String {
    format!(
        "{} in the valve, {} along the hose, {} round the tail",
        say.pressure(valve),
        say.pressure(along),
        say.pressure(tail)
    )
}

fn leak_words(say: Say, leak_m3_s: f64) -> String {
    format!("at the worst place, with {} leaking in past the hose", say.flow(leak_m3_s))
}

/// A reserve, or a factor that may be reached, rounded down: 0.998 is not 1.00 yet.
fn at_most(say: Say, factor: f64) -> String {
    say.limit(Kind::Plain, Bound::AtMost, factor)
}

/// A hose ages by its friction.
fn bears_row(say: Say, factor: f64) -> FigureRow {
    let value = match factor.is_finite() {
        true => format!("{} x the catalog's", at_most(say, factor)),
        false => "any".to_owned(),
    };
    row(name::BEARS, value, "where suction just no longer draws the hose in; friction grows as a hose ages")
}

/// What suction has to give.
fn suction_rows(say: Say, figures: &Figures) -> Vec<FigureRow> {
    let sealed = figures.sealed_pa.as_ref().ok();
    let row = |pa: &f64| row(name::SEALED, say.pressure(*pa), "nothing flowing, all other valves shut");
    sealed.map(row).into_iter().collect()
}

/// Air.
fn air_rows(say: Say, air: &AirFigures) -> Vec<FigureRow> {
    let (out, inside) = (&air.hose_out, &air.hose_in);
    let with_hose = format!("{} with the hose in the raceway", say.flow(inside.flow_m3_s));
    let at_unit = format!("{} at the unit", say.pressure(out.suction_at_unit_pa));
    let power = format!("{:.0} W", out.air_power_w);
    let mut rows = vec![
        row(name::AIRFLOW, say.flow(out.flow_m3_s), with_hose),
        row(name::AT_VALVE, say.pressure(out.suction_at_valve_pa), at_unit),
        row(name::AIR_POWER, power, "at the valve, hose out, as ASTM F558 reckons"),
    ];
    let slowest = air.slowest_tube_m_s();
    rows.extend(slowest.map(|v| row(name::SLOWEST, say.speed(v), "what carries the dust, hose out")));
    rows
}

/// Control wire.
fn wire_rows(say: Say, wire: &WireFigures) -> Vec<FigureRow> {
    let share = format!("{:.1} % of its supply", wire.drop_share * 100.0);
    vec![
        row(name::WIRE_LENGTH, say.length(wire.length_m), "from valve to unit along the pipe, with slack"),
        row(name::WIRE_DROP, format!("{:.2} V", wire.drop_v), share),
    ]
}

/// Passage, what catches first marked; no length is rounded up to one that would lodge.
fn passage_rows(say: Say, passage: &[PassageFigure], handle_passes_m: Option<f64>) -> Vec<PassageRow> {
    let first = catches_first(passage, handle_passes_m);
    let row = |(at, place): (usize, &PassageFigure)| PassageRow {
        place: place.words.clone(),
        longest: say.length_down(place.longest_m),
        catches_first: first == Some(at),
    };
    passage.iter().enumerate().map(row).collect()
}

/// One working.
fn working_row(part: &InletPart, working: &super::worked::Working) -> WorkingRow {
    WorkingRow {
        anchor: anchor(part, &working.name),
        name: working.name.clone(),
        result: working.result_words.clone(),
        formula_mathml: working.mathml,
        formula_at: None,
        with_numbers: working.with_numbers.clone(),
        source: working.source.clone(),
    }
}

/// The place of a working on a page that may hold all inlets.
fn anchor(part: &InletPart, name: &str) -> String {
    format!("i{}w-{}", part.index + 1, slug(name))
}

/// The findings of the clauses that are met.
fn met(worked: &Worked, part: &InletPart, here: &Here) -> Vec<FindingRow> {
    finding_rows(&standard::met(part.findings), &[], (&worked.work.job.standard, here), |_| true)
}

/// A figure, its link still to be found.
fn row(name: &'static str, value: String, means: impl Into<String>) -> FigureRow {
    FigureRow { name, value, means: means.into(), href: String::new() }
}

/// What could not be worked out, with the reason of each.
fn wanting(figures: &Figures, say: Say) -> Vec<String> {
    let reasons = [
        ("draw-in and pull-out", figures.hose.as_ref().err()),
        ("sealed suction", figures.sealed_pa.as_ref().err()),
        ("air", figures.air.as_ref().err()),
        ("passage", figures.passage.as_ref().err()),
        ("control wire", figures.wire.as_ref().err()),
    ];
    let line = |(what, why): (&str, Option<&Missing>)| {
        Some(sentence(&format!("{what} not worked out: {}", why?.words(&say))))
    };
    reasons.into_iter().filter_map(line).collect()
}

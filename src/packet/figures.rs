//! The fourth sheet of an inlet: its figures, and how each was worked out.
use super::inline::with_prefix;
use super::prose::sentence;
use super::worked::{InletPart, Pictures, Worked, slice_at};
use crate::figures::{AirFigures, EffortFigures, InletFigures as Figures, PassageFigure, WireFigures};
use crate::measure::Say;
use serde::Serialize;

/// The sheet.
#[derive(Debug, Clone, Serialize)]
pub struct InletFigures {
    pub figures: Vec<FigureRow>,
    pub passage: Vec<PassageRow>,
    pub effort_svg: String,
    pub workings: Vec<WorkingRow>,
    /// What could not be worked out, and for want of what.
    pub wanting: Vec<String>,
}

/// A figure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FigureRow {
    pub name: &'static str,
    pub value: String,
    pub means: String,
}

/// How long a stiff thing may be at a place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PassageRow {
    pub place: String,
    pub longest: String,
    /// Whether this place catches first.
    pub tightest: bool,
}

/// A working.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WorkingRow {
    pub name: String,
    pub result: String,
    pub formula_mathml: String,
    pub with_numbers: String,
    pub source: String,
}

/// Lays the sheet out.
pub fn sheet(worked: &Worked, part: &InletPart, pictures: &Pictures) -> InletFigures {
    let (say, figures) = (worked.work.say, part.figures);
    let mut rows = Vec::new();
    rows.extend(figures.effort.iter().flat_map(|effort| effort_rows(say, effort, &figures.available_n)));
    rows.extend(figures.air.iter().flat_map(|air| air_rows(say, air)));
    rows.extend(figures.wire.iter().map(|wire| wire_row(say, wire)));
    let prefix = format!("i{}f-", part.index + 1);
    let passage: &[PassageFigure] = figures.passage.as_deref().unwrap_or_default();
    InletFigures {
        figures: rows,
        passage: passage_rows(say, passage),
        effort_svg: pictures.effort.as_deref().map(|svg| with_prefix(svg, &prefix)).unwrap_or_default(),
        workings: slice_at(worked.workings, part.index).iter().map(working_row).collect(),
        wanting: wanting(figures),
    }
}

/// Hose effort.
fn effort_rows(say: Say, effort: &EffortFigures, available: &Result<f64, String>) -> Vec<FigureRow> {
    let (draw_in, pull_out) = (&effort.draw_in, &effort.pull_out);
    let means = match available {
        Ok(n) => {
            let enough = if *n >= draw_in.worst_n { "enough" } else { "not enough" };
            format!("the suction gives {}: {enough}", say.force(*n))
        }
        Err(why) => why.clone(),
    };
    let at = |m: f64| format!("with {} of hose in the raceway", say.length(m));
    vec![
        FigureRow {
            name: "Draw-in, at its worst",
            value: say.force(draw_in.worst_n),
            means: format!("{}; {means}", at(draw_in.worst_inserted_m)),
        },
        FigureRow {
            name: "Pull-out, at its worst",
            value: say.force(pull_out.worst_n),
            means: format!("at the handle, system off, {}", at(pull_out.worst_inserted_m)),
        },
    ]
}

/// Air.
fn air_rows(say: Say, air: &AirFigures) -> Vec<FigureRow> {
    let (out, inside) = (&air.hose_out, &air.hose_in);
    let mut rows = vec![
        FigureRow {
            name: "Airflow, hose out",
            value: say.flow(out.flow_m3_s),
            means: format!("{} with the hose in the raceway", say.flow(inside.flow_m3_s)),
        },
        FigureRow {
            name: "Suction at the valve, hose out",
            value: say.pressure(out.suction_at_valve_pa),
            means: format!("{} at the unit", say.pressure(out.suction_at_unit_pa)),
        },
        FigureRow {
            name: "Air power",
            value: format!("{:.0} W", out.air_power_w),
            means: "at the valve, hose out, as ASTM F558 reckons".into(),
        },
    ];
    rows.extend(air.slowest_tube_m_s().map(|speed| FigureRow {
        name: "Slowest air in any tube",
        value: say.speed(speed),
        means: "what carries the dust, hose out".into(),
    }));
    rows
}

/// Control wire.
fn wire_row(say: Say, wire: &WireFigures) -> FigureRow {
    FigureRow {
        name: "Control wire",
        value: say.length(wire.length_m),
        means: format!("drops {:.2} V, {:.1} % of its supply", wire.drop_v, wire.drop_share * 100.0),
    }
}

/// Passage, tightest marked.
fn passage_rows(say: Say, passage: &[PassageFigure]) -> Vec<PassageRow> {
    let least = passage.iter().map(|p| p.longest_m).fold(f64::INFINITY, f64::min);
    passage
        .iter()
        .map(|p| PassageRow {
            place: p.words.clone(),
            longest: say.length(p.longest_m),
            tightest: p.longest_m <= least + 1e-9,
        })
        .collect()
}

/// One working.
fn working_row(working: &super::worked::Working) -> WorkingRow {
    WorkingRow {
        name: working.name.clone(),
        result: working.result_words.clone(),
        formula_mathml: working.mathml.clone(),
        with_numbers: working.with_numbers.clone(),
        source: working.source.clone(),
    }
}

/// What could not be worked out, with the reason of each.
fn wanting(figures: &Figures) -> Vec<String> {
    let reasons = [
        ("draw-in and pull-out", figures.effort.as_ref().err()),
        ("sealed suction", figures.sealed_pa.as_ref().err()),
        ("air", figures.air.as_ref().err()),
        ("passage", figures.passage.as_ref().err()),
        ("control wire", figures.wire.as_ref().err()),
    ];
    let line =
        |(what, why): (&str, Option<&String>)| Some(sentence(&format!("{what} not worked out: {}", why?)));
    reasons.into_iter().filter_map(line).collect()
}

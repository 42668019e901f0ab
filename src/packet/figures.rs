//! The fourth sheet of an inlet: its figures, and how each was worked out.
use super::amounts::{flow, force, pressure, speed};
use super::inline::with_prefix;
use super::worked::{Air, Effort, InletPart, Pictures, Worked};
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
    pub wanting: Vec<&'static str>,
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
    let say = worked.say();
    let figures = worked.figures.inlets.get(part.index);
    let effort = figures.and_then(|f| f.effort.as_ref());
    let air = figures.and_then(|f| f.air.as_ref());
    let mut rows = Vec::new();
    rows.extend(effort.map(|effort| effort_rows(say, effort)).unwrap_or_default());
    rows.extend(air.map(|air| air_rows(say, air)).unwrap_or_default());
    let prefix = format!("i{}f-", part.index + 1);
    InletFigures {
        figures: rows,
        passage: figures.map(|f| passage_rows(say, &f.passage)).unwrap_or_default(),
        effort_svg: pictures
            .effort
            .as_deref()
            .map(|svg| with_prefix(svg, &prefix))
            .unwrap_or_default(),
        workings: figures
            .map(|f| f.workings.iter().map(working_row).collect())
            .unwrap_or_default(),
        wanting: wanting(effort, air),
    }
}

/// Hose effort.
fn effort_rows(say: Say, effort: &Effort) -> Vec<FigureRow> {
    let available = effort
        .available_n
        .map_or("what the suction gives is not known".into(), |n| {
            let enough = if n >= effort.draw_in_n {
                "enough"
            } else {
                "not enough"
            };
            format!("the suction gives {}: {enough}", force(say, n))
        });
    vec![
        FigureRow {
            name: "Draw-in, at its worst",
            value: force(say, effort.draw_in_n),
            means: available,
        },
        FigureRow {
            name: "Pull-out, at its worst",
            value: force(say, effort.pull_out_n),
            means: "at the handle, system off".into(),
        },
    ]
}

/// Air.
fn air_rows(say: Say, air: &Air) -> Vec<FigureRow> {
    vec![
        FigureRow {
            name: "Airflow",
            value: flow(say, air.flow_m3_s),
            means: "hose drawn out, nothing on its end".into(),
        },
        FigureRow {
            name: "Speed in the tube",
            value: speed(say, air.velocity_m_s),
            means: "what carries the dust".into(),
        },
        FigureRow {
            name: "Suction at the valve",
            value: pressure(say, air.suction_at_valve_pa),
            means: format!("{} at the unit", pressure(say, air.suction_at_unit_pa)),
        },
        FigureRow {
            name: "Air power",
            value: format!("{:.0} W", air.air_power_w),
            means: "at the hose's end".into(),
        },
    ]
}

/// Passage, tightest marked.
fn passage_rows(say: Say, passage: &[super::worked::Passage]) -> Vec<PassageRow> {
    let least = passage.iter().map(|p| p.longest_m).fold(f64::INFINITY, f64::min);
    passage
        .iter()
        .map(|p| PassageRow {
            place: p.place.clone(),
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

/// What could not be worked out.
fn wanting(effort: Option<&Effort>, air: Option<&Air>) -> Vec<&'static str> {
    let mut wanting = Vec::new();
    if effort.is_none() {
        wanting.push("Draw-in and pull-out are not worked out: the catalog lacks this hose's friction, or its figures are out of range.");
    }
    if air.is_none() {
        wanting.push("Airflow is not worked out: the catalog lacks the hose's air friction or the unit's curve, or the line does not reach the unit.");
    }
    wanting
}

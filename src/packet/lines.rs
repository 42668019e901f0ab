//! The key plan, and the lines that serve several inlets.
use super::drawing::{leaves_words, route_words};
use super::inline::with_prefix;
use super::joints;
use super::tables::{BendRow, JointTable, TubeRow, bend_rows, joint_table, tube_rows};
use super::worked::{JobPictures, Worked, slice_at};
use crate::measure::Say;
use crate::route::{Closure, Line};
use serde::Serialize;

/// The sheet.
#[derive(Debug, Clone, Serialize)]
pub struct Lines {
    pub key_plan_svg: String,
    pub key_isometric_svg: String,
    /// What the signs of the key mean, and the job's levels.
    pub key_words: String,
    pub lines: Vec<LineTable>,
}

/// A line that serves several inlets.
#[derive(Debug, Clone, Serialize)]
pub struct LineTable {
    pub title: String,
    pub route_words: String,
    /// How well it meets what it should meet; empty where that is not known.
    pub closure: String,
    pub bends: Vec<BendRow>,
    pub tubes: Vec<TubeRow>,
    pub joints: JointTable,
}

/// Lays the sheet out.
pub fn sheet(worked: &Worked, pictures: &JobPictures) -> Lines {
    let trunks = worked.work.lines.inlets..worked.work.lines.lines.len();
    Lines {
        key_plan_svg: pictures.key_plan.as_deref().map(|svg| with_prefix(svg, "key-")).unwrap_or_default(),
        key_isometric_svg: pictures
            .key_isometric
            .as_deref()
            .map(|svg| with_prefix(svg, "keyx-"))
            .unwrap_or_default(),
        key_words: key_words(worked),
        lines: trunks.filter_map(|index| line_table(worked, index)).collect(),
    }
}

/// The signs of the key, and the levels with their heights.
fn key_words(worked: &Worked) -> String {
    let signs = "Crossed square: valve. Open square: stop. Dot: where a line joins. Each raceway has a line pattern of its own; thin is a trunk, thin and dashed an onward path.";
    let level =
        |level: &crate::company::Level| format!("{} {}", level.name, worked.work.say.length(level.up_m));
    let levels: Vec<String> = worked.work.job.levels.iter().map(level).collect();
    match levels.is_empty() {
        true => signs.into(),
        false => format!("{signs} Levels: {}.", levels.join(", ")),
    }
}

/// A line that serves several inlets; the inlets' own stand on their sheets.
fn line_table(worked: &Worked, index: usize) -> Option<LineTable> {
    let work = worked.work;
    let line = work.lines.lines.get(index)?;
    let (say, end) = (work.say, arrival(worked, line));
    Some(LineTable {
        title: format!("Trunk {}, to {end}", line.name),
        route_words: route_words(say, line, leaves_words(worked, index), "its start", &end),
        closure: closure_words(say, line.closure.as_ref()),
        bends: bend_rows(say, line, work.catalog.tube.outside_m),
        tubes: tube_rows(work, line, slice_at(&work.cuts.lines, index)),
        joints: joint_table(say, &joints::joints(work, index), work.standard, None),
    })
}

/// What a line arrives at.
fn arrival(worked: &Worked, line: &Line) -> String {
    let Some(joins) = &line.joins else { return "the unit".into() };
    let onto = worked.work.lines.lines.get(joins.line).map_or("", |line| &line.name);
    match (&joins.with, joins.station_m) {
        (Some(with), Some(at_m)) => {
            format!("the {} on trunk {onto} at {}", with.name, worked.work.say.length(at_m))
        }
        (Some(with), None) => format!("the {} on trunk {onto}", with.name),
        (None, _) => format!("the start of trunk {onto}"),
    }
}

/// How well a line closes.
fn closure_words(say: Say, closure: Option<&Closure>) -> String {
    let Some(closure) = closure else {
        return String::new();
    };
    format!("Arrives {} from {}, as the places are given.", say.length(closure.misclosure_m()), closure.place)
}

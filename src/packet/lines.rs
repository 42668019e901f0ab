//! The key plan, and every line of tube beyond the stops: onward paths and trunks.
use super::drawing::route_words;
use super::inline::with_prefix;
use super::joints;
use super::tables::{BendRow, JointTable, TubeRow, bend_rows, joint_table, tube_rows};
use super::worked::{InletPart, JobPictures, Worked, slice_at};
use crate::company::{Into, Trunk};
use crate::measure::Say;
use crate::route::Closure;
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

/// A line beyond the stops.
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
    let onward = worked.inlets().filter_map(|part| onward_table(worked, &part));
    let trunks =
        worked.work.job.trunks.iter().enumerate().filter_map(|(i, trunk)| trunk_table(worked, i, trunk));
    Lines {
        key_plan_svg: pictures.key_plan.as_deref().map(|svg| with_prefix(svg, "key-")).unwrap_or_default(),
        key_isometric_svg: pictures
            .key_isometric
            .as_deref()
            .map(|svg| with_prefix(svg, "keyx-"))
            .unwrap_or_default(),
        key_words: key_words(worked),
        lines: onward.chain(trunks).collect(),
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

/// An inlet's onward path.
fn onward_table(worked: &Worked, part: &InletPart) -> Option<LineTable> {
    let laid = worked.work.routes.onward.get(part.index)?.as_ref()?;
    let planned = part.inlet.onward.as_ref()?;
    let (say, end) = (worked.work.say, arrival(worked, &planned.into));
    let last_heading = part.route.bends.last().map(|bend| bend.heading_words.as_str());
    let leaves = last_heading.unwrap_or(&part.inlet.raceway.leaves.words);
    Some(LineTable {
        title: format!("{}: from the stop to {end}", part.inlet.name),
        route_words: route_words(say, &laid.route, leaves, "the stop", &end),
        closure: closure_words(say, laid.closure.as_ref()),
        bends: bend_rows(say, &laid.route, worked.work.catalog.tube.outside_m),
        tubes: tube_rows(say, &laid.route, part.onward_cuts, &joints::onward_sockets(worked, part)?),
        joints: joint_table(say, &joints::onward(worked, part), worked.work.standard, None),
    })
}

/// A trunk.
fn trunk_table(worked: &Worked, index: usize, trunk: &Trunk) -> Option<LineTable> {
    let laid = worked.work.routes.trunks.get(index)?;
    let (say, end) = (worked.work.say, arrival(worked, &trunk.into));
    let cuts = slice_at(&worked.work.cuts.trunks, index);
    Some(LineTable {
        title: format!("Trunk {}, to {end}", trunk.id),
        route_words: route_words(say, &laid.route, &trunk.path.leaves.words, "its start", &end),
        closure: closure_words(say, laid.closure.as_ref()),
        bends: bend_rows(say, &laid.route, worked.work.catalog.tube.outside_m),
        tubes: tube_rows(say, &laid.route, cuts, &joints::trunk_sockets(worked, index)?),
        joints: joint_table(say, &joints::trunk(worked, index), worked.work.standard, None),
    })
}

/// What a line arrives at.
fn arrival(worked: &Worked, into: &Into) -> String {
    match into {
        Into::Unit => "the unit".into(),
        Into::Trunk { trunk, at, with } => {
            let id = worked.work.job.trunks.get(*trunk).map_or("", |trunk| &trunk.id);
            let at = at.station_m().map(|at_m| format!(" at {}", worked.work.say.length(at_m)));
            format!("the {} on trunk {id}{}", with.name, at.unwrap_or_default())
        }
    }
}

/// How well a line closes.
fn closure_words(say: Say, closure: Option<&Closure>) -> String {
    let Some(closure) = closure else {
        return String::new();
    };
    format!("Arrives {} from {}, as the places are given.", say.length(closure.misclosure_m()), closure.place)
}

//! What to load and how to cut it.
use super::inline::with_prefix;
use super::prose::sentence;
use super::tables::flow_class;
use super::worked::{JobPictures, Worked};
use crate::material::list::Item;
use crate::material::{CutPiece, CutStick, CuttingPlan};
use crate::measure::{FOOT_M, Lengths, Say};
use serde::Serialize;

/// The material list and the cutting plan.
#[derive(Debug, Clone, Serialize)]
pub struct Takeoff {
    pub items: Vec<ItemRow>,
    pub sticks: Vec<StickRow>,
    /// Whether their rows run in one column or flow through two.
    pub sticks_class: &'static str,
    pub summary: String,
    pub cutting_svg: String,
    pub kerf: String,
}

/// A line of the list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ItemRow {
    pub part: String,
    pub kind: String,
    pub count: String,
    pub note: String,
}

/// A stick.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StickRow {
    pub nth: usize,
    pub pieces: Vec<StickMark>,
    pub offcut: String,
}

/// A piece in it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StickMark {
    pub mark: String,
    pub owner: String,
    pub length: String,
}

/// Lays the sheet out.
pub fn sheet(worked: &Worked, pictures: &JobPictures) -> Takeoff {
    let sticks: &[CutStick] =
        worked.work.cuts.plan.as_ref().map(|plan| plan.sticks.as_slice()).unwrap_or_default();
    let item = |item: &Item| ItemRow {
        part: item.part.clone(),
        // A part named after its kind is not named twice.
        kind: if item.part.contains(&item.kind) { String::new() } else { item.kind.clone() },
        count: amount(worked.work.say, item),
        note: item.note.clone(),
    };
    Takeoff {
        items: worked.work.items.iter().map(item).collect(),
        sticks: sticks.iter().enumerate().map(|(i, stick)| stick_row(worked, i + 1, stick)).collect(),
        sticks_class: flow_class(sticks.len()),
        summary: summary(worked),
        cutting_svg: pictures.cutting.as_deref().map(|svg| with_prefix(svg, "cut-")).unwrap_or_default(),
        kerf: worked.work.say.length(worked.work.catalog.tube.kerf_m),
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
    let sticks = plan.sticks.len();
    let length = worked.work.say.length(worked.work.catalog.tube.stick_m);
    let noun = if sticks == 1 { "stick" } else { "sticks" };
    let quality = match plan.proven {
        true => "no plan for these pieces needs fewer".to_string(),
        false => format!("no plan for these pieces needs fewer than {}", plan.lower_bound),
    };
    let left = match plan.unsplit.len() {
        0 => String::new(),
        1 => " One tube cannot be made and is not in it.".into(),
        n => format!(" {n} tubes cannot be made and are not in it."),
    };
    format!("{sticks} {noun} of {length}; {quality}.{left}")
}

/// One stick.
fn stick_row(worked: &Worked, nth: usize, stick: &CutStick) -> StickRow {
    let say = worked.work.say;
    let piece = |piece: &CutPiece| StickMark {
        mark: piece.mark.clone(),
        owner: worked.owner_name(&piece.owner),
        length: say.length(piece.length_m),
    };
    let keep = if stick.kept { ", keep" } else { "" };
    StickRow {
        nth,
        pieces: stick.pieces.iter().map(piece).collect(),
        offcut: format!("{}{keep}", say.length(stick.offcut_m)),
    }
}

/// How much of a part, in the firm's units; a plain count of pieces has none.
fn amount(say: Say, item: &Item) -> String {
    match (item.unit.as_str(), say.lengths) {
        ("pc", _) => count(item.count),
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

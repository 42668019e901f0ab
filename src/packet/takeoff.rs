//! What to load and how to cut it.
use super::amounts::count;
use super::inline::with_prefix;
use super::tables::beside;
use super::worked::{JobPictures, StickCut, Worked};
use serde::Serialize;

/// The material list and the cutting plan.
#[derive(Debug, Clone, Serialize)]
pub struct Takeoff {
    pub items: Vec<ItemRow>,
    /// The sticks as they stand side by side.
    pub sticks: Vec<Vec<StickRow>>,
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
    let (say, cuts) = (worked.say(), worked.cuts);
    let item = |item: &super::worked::Item| ItemRow {
        part: item.part.clone(),
        // A part named after its kind is not named twice.
        kind: if item.part.contains(&item.kind) {
            String::new()
        } else {
            item.kind.clone()
        },
        count: format!("{} {}", count(item.count), item.unit).trim().to_string(),
        note: item.note.clone(),
    };
    Takeoff {
        items: cuts.items.iter().map(item).collect(),
        sticks: beside(
            cuts.sticks
                .iter()
                .enumerate()
                .map(|(i, stick)| stick_row(say, i + 1, stick))
                .collect(),
        ),
        summary: summary(worked),
        cutting_svg: pictures
            .cutting
            .as_deref()
            .map(|svg| with_prefix(svg, "cut-"))
            .unwrap_or_default(),
        kerf: say.length(worked.catalog.tube.kerf_m),
    }
}

/// How good the plan is.
fn summary(worked: &Worked) -> String {
    let cuts = worked.cuts;
    let sticks = cuts.sticks.len();
    let length = worked.say().length(worked.catalog.tube.stick_m);
    let noun = if sticks == 1 { "stick" } else { "sticks" };
    let quality = match (cuts.proven, cuts.lower_bound) {
        (true, _) => "no plan needs fewer".to_string(),
        (false, bound) => format!("no plan needs fewer than {bound}"),
    };
    format!("{sticks} {noun} of {length}; {quality}.")
}

/// One stick.
fn stick_row(say: crate::measure::Say, nth: usize, stick: &StickCut) -> StickRow {
    let piece = |piece: &super::worked::StickPiece| StickMark {
        mark: piece.mark.clone(),
        owner: piece.owner.clone(),
        length: say.length(piece.length_m),
    };
    StickRow {
        nth,
        pieces: stick.pieces.iter().map(piece).collect(),
        offcut: say.length(stick.offcut_m),
    }
}

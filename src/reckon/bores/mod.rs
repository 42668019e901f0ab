//! What a hole does to a framing member, by the International Residential Code.
//!
//! [`rulings`] measures a [`Bore`] against every section that applies and gives one [`Ruling`] for
//! each. Numbers are of the 2018 edition as read in copies; code text differs by edition and place, so
//! **every finding that rests on this says that the local code decides**.
//!
//! Two traps, on purpose not followed:
//! - R602.6 as printed in 2018 says the hole's edge is "not more than 5/8 in" from the stud's edge.
//!   Older text and a state's rules say "no closer than"; the minimum is meant, and reckoned here.
//! - A 2-1/8 in hole in a 2x4 is 60.71 % of its width and fails 60 % by 0.025 in, although a county's
//!   sheet rounds 60 % of a 2x4 up to 2-1/8 in.
//!
//! Sawn lumber only: engineered lumber, trusses, steel and masonry get [`Outcome::MakersWord`], never a
//! pass. Sawn joists have no limit along the span in R502.8.1, so the distance from the end is not asked.

mod rules;
pub mod sizes;

#[cfg(test)]
mod tests;

use super::range::{OutOfRange, in_range};
pub use crate::measure::Bound;

/// What is bored.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Member {
    Stud,
    Joist,
    Rafter,
    TopPlate,
    BottomPlate,
    Engineered,
    Truss,
    Steel,
    Masonry,
}

/// One hole in one member, all lengths in metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bore {
    pub member: Member,
    /// The dressed size across which the hole's edges are measured: the width of a stud or plate, the
    /// depth of a joist or rafter. See [`sizes`].
    pub width_m: f64,
    /// In an exterior or load-bearing wall.
    pub bearing: bool,
    /// A doubled stud.
    pub doubled: bool,
    /// Diameter of the hole.
    pub hole_m: f64,
    /// From the edge of the hole to the nearest edge of the member; `None` is a centred hole.
    pub from_edge_m: Option<f64>,
}

/// What one section of the code says of a bore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ruling {
    /// Such as `IRC R602.6`.
    pub section: &'static str,
    /// What was measured, `{}` where the measure stands: "the hole takes {} of the stud's width".
    pub what: &'static str,
    pub measured: f64,
    pub limit: f64,
    pub unit: Unit,
    /// Whether the limit is a most or a least.
    pub bound: Bound,
    pub outcome: Outcome,
    /// What mends it, where there is something to mend.
    pub remedy: Option<Remedy>,
}

/// The unit of a ruling's two figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    Metres,
    /// A share of the member's width, 0 to 1.
    Share,
}

/// From harmless to hopeless, so that the greatest of several is the verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    Ok,
    /// Allowed with steel plates over the tube.
    NeedsShield,
    /// Allowed with a steel tie across the opening.
    NeedsTie,
    /// Allowed in a doubled stud.
    NeedsDoubling,
    /// Only the maker or an engineer may allow it.
    MakersWord,
    /// Not allowed.
    Broken,
}

/// What to do, with its numbers in metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Remedy {
    /// Bore no larger than this, or use a member at least this wide; zero where no hole is allowed.
    SmallerHole { largest_hole_m: f64, least_width_m: f64 },
    /// Move the hole so that its edge lies this far in; the window for its centre, from one edge.
    MoveInward { least_edge_m: f64, centre_from_m: f64, centre_to_m: f64 },
    /// Double the stud, and bore no more than this many doubled studs in a row.
    DoubleStud { most_in_a_row: u32 },
    /// Galvanised tie at least this thick and wide, fastened this far past the opening on each side
    /// (the length past it and the nails from memory), with eight 10d nails each side.
    Tie { thickness_m: f64, width_m: f64, past_opening_m: f64, nails_each_side: u32 },
    /// Steel plates at least this thick over the tube, this far beyond sole and top plates.
    Shield { thickness_m: f64, beyond_plate_m: f64, both_faces: bool },
    /// Get the maker's or a design professional's word in writing.
    AskMaker,
}

/// Every ruling on a bore, in the order of the sections; at least one for any member.
///
/// | member | rulings |
/// |---|---|
/// | stud | R602.6: hole at most 60 % of width; bearing and over 40 %: doubled; hole's edge at least 5/8 in from the stud's |
/// | joist, rafter | R502.8.1, R802.7.1: hole at most d/3; its edge at least 2 in from top and bottom |
/// | top plate | R602.6.1: bearing and over 50 % of width: steel tie |
/// | all of wood, sawn | P2603.2.1: hole's edge under 1-1/4 in from the member's: shield plates |
/// | engineered, truss, steel, masonry | the maker's word |
///
/// Arguments: the [`Bore`] (width 0.01 to 1 m, hole above 0 to the width, edge distance 0 to that of a
/// centred hole). Errors: [`OutOfRange`].
///
/// Accuracy: lengths are compared by [`Bound::keeps`], which lets a tenth of a micrometre pass. Not measured: the distance to other holes and notches (2 in in a joist, not the same
/// section in a stud), stud shoes, and what lies along the span.
///
/// ```
/// use longsweep::reckon::bores::{rulings, verdict, Bore, Member, Outcome};
/// let inch = 0.0254;
/// let bore = Bore {
///     member: Member::Stud,
///     width_m: 3.5 * inch,
///     bearing: false,
///     doubled: false,
///     hole_m: 2.125 * inch,
///     from_edge_m: None,
/// };
/// // 60.71 % of a 2x4, over the 60 % of R602.6.
/// assert_eq!(verdict(&rulings(&bore).unwrap()), Outcome::Broken);
/// ```
///
/// Source: IRC 2018 sections as named. Shield plates: 1-1/2 in instead of 1-1/4 in the 2006 edition;
/// another model code asks within 1 in.
pub fn rulings(bore: &Bore) -> Result<Vec<Ruling>, OutOfRange> {
    let width_m = in_range("width of the member", bore.width_m, (0.01, 1.0), "m")?;
    in_range("hole", bore.hole_m, (f64::MIN_POSITIVE, width_m), "m")?;
    let centred_m = 0.5 * (width_m - bore.hole_m);
    let given_m = bore.from_edge_m.unwrap_or(centred_m);
    let most_m = if Bound::AtMost.keeps(given_m, centred_m) { centred_m.max(given_m) } else { centred_m };
    in_range("distance from the hole to the edge", given_m, (0.0, most_m), "m")?;
    Ok(rules::all(bore, given_m))
}

/// The gravest outcome of several rulings; [`Outcome::Ok`] of none.
pub fn verdict(rulings: &[Ruling]) -> Outcome {
    rulings.iter().map(|ruling| ruling.outcome).max().unwrap_or(Outcome::Ok)
}

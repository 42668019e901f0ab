//! Geometry: from the steps of a line to its centreline in space.
//!
//! Axes: x east, y north, z up, right-handed; metres; degrees in fields named `_deg`. Without a
//! place for its start, a line's points are relative to it. A line holds what was drawn, right or
//! wrong: a bend without a fitting, a tube shorter than nothing. It holds no verdict.
mod fire;
mod job;
mod join;
mod lay;
mod levels;
mod line;
#[cfg(test)]
mod properties;
mod spot;
#[cfg(test)]
pub mod testing;
mod tubes;
mod turn;
mod types;
mod unmeasured;

pub use fire::{FireHole, fire_holes};
pub use job::lay_job;
pub use lay::lay;
pub use levels::SLIGHT_MOVE_M;
pub use spot::Spot;
pub use turn::{roll_deg, turned};
pub use types::{
    Anchor, Bend, Closure, Crossed, End, Entry, Inline, InlineKind, JobLines, Joining, Joins, Leg, Line,
    Raceway, Tube,
};
pub use unmeasured::Unmeasured;

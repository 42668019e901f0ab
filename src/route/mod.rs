//! Geometry: from the steps of a path to the centreline in space.
//!
//! Axes: x east, y north, z up, right-handed; metres; degrees in fields named `_deg`. Without a
//! place for the inlet, points are relative to the valve's seat. A route holds what was drawn, right
//! or wrong: a bend without a fitting, a tube shorter than nothing. It holds no verdict.
mod job;
mod join;
mod lay;
mod levels;
#[cfg(test)]
mod properties;
#[cfg(test)]
pub mod testing;
mod turn;
mod types;

pub use job::{lay_inlet_again, lay_job, lay_raceway, point_at};
pub use lay::{Ends, lay, raceway_bend};
pub use levels::SLIGHT_MOVE_M;
pub use turn::{roll_deg, turned};
pub use types::{Anchor, Bend, Closure, End, JobRoutes, Joining, Leg, Onward, Route, TrunkRoute, Tube};

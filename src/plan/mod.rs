//! The house plan: what a hose reaches, and where the fewest valves must stand.
//!
//! Pure geometry of floors, in metres: x east, y north, seen from above; a floor's height is told apart.
//! Nothing here knows a file, a catalog or a paper.
//!
//! ```text
//! Plan (as taped) ──place──▶ Placed (rooms on floors) ──floors──▶ House (sheets joined by stairs)
//!     ──sight──▶ Fan (what a point sees) ──ways──▶ Ways (hose to every corner)
//!     ──cone──▶ Shut (what another view shows with less hose) ──outline, reach──▶ Region (what all show)
//!     ──cells──▶ Asked (hose from places to the cells that decide) ──cover──▶ a choice ──search──▶ fewest valves
//! ```
mod boxes;
mod cells;
mod cone;
mod cover;
mod farthest;
mod house;
mod needs;
mod outline;
mod pieces;
mod place;
mod reach;
mod search;
mod shapes;
mod sheet;
mod sight;
mod survey;
mod trace;
mod types;
mod valves;
mod ways;

pub use cells::{Candidate, Cell, candidates, cells, stretches};
pub use cover::{Cover, fewest};
pub use farthest::{Farthest, farthest};
pub use house::{Home, House, doorway, footprint, house, outlines};
pub use needs::{Needs, needs};
pub use place::{Loop, LoopBy, PlaceFault, Placed, PlacedRoom, PlacedStair, place};
pub use reach::{Laid, Left, Reach, Region, STEP_M, Spot, left_out, middle_of, regions};
pub use shapes::{Rings, area, difference, overlap_m2, signed_area_m2, union};
pub use sheet::{Edge, Gate, Sheet};
pub use sight::{Fan, fan};
pub use survey::{Survey, ValveAt, survey};
pub use trace::{inside_m, outside_m};
pub use types::{Box2, Door, Hang, Joists, NoGo, P2, Plan, RacewayLevel, Room, Stair, Thing, ValvePlace};
pub use valves::{Fewest, Spread, fewest_valves};
pub use ways::{Lie, Ways, ways};

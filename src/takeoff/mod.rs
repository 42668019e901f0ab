//! The material of a job: its tubes cut and planned over all lines, and the list of what to load.
//!
//! [`crate::material`] plans plain lengths; this folder takes them from routes and gives them back by
//! line, so that drawing and packet find the pieces of a tube beside it.
mod cuts;
mod fit;
mod items;

pub use cuts::{Cuts, LineCuts, TubeCut, cuts, divided};
pub use fit::{
    Body, BodyOf, InBend, InMember, Stub, bodies, in_bends, in_members, open_ends, small_holes, stubs,
};
pub use items::items;

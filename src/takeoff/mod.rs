//! The material of a job: its tubes cut and planned over all lines, and the list of what to load.
//!
//! [`crate::material`] plans plain lengths; this folder takes them from routes and gives them back by
//! line, so that drawing and packet find the pieces of a tube beside it.
mod cuts;
mod fit;
mod items;

pub use cuts::{Cuts, LineCuts, TubeCut, cuts, divided};
pub use fit::{Body, BodyOf, InMember, Stub, bodies, in_members, stubs};
pub use items::items;

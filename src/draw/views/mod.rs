//! The views: lines of tube as they are seen from the side, from above and on three axes.
mod callouts;
pub mod elevation;
pub mod isometric;
pub mod key;
mod centreline;
mod north;
mod projection;
mod surroundings;
mod under;
pub mod plan;
mod ends;
mod tube;
mod view;

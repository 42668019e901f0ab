//! The placer: where words go, so that none lies on another or on a line that it does not belong to.
pub mod around;
pub mod board;
pub mod dimension;
pub mod labels;
pub mod paper;

//! The placer: where words go, so that none lies on another or on a line that it does not belong to.
pub(crate) mod around;
pub(crate) mod board;
#[cfg(test)]
mod board_tests;
pub(crate) mod candidate;
mod covered;
pub(crate) mod dimension;
pub(crate) mod labels;
pub(crate) mod paper;
mod search;
mod taken;
pub(crate) mod what;

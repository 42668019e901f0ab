//! The views: lines of tube as they are seen from the side, from above and on three axes.
//!
//! A view is its file and its entry in [`VIEWS`]; commands, sheets and tests go over the list.
use super::hand::scene::Scene;
use super::subject::{KeyPicture, LinePicture, ReachPicture};

mod callouts;
pub(crate) mod elevation;
pub(crate) mod isometric;
pub(crate) mod key;
pub(crate) mod layout;
mod boxes;
mod centreline;
mod draft;
mod members;
mod north;
mod projection;
mod surroundings;
mod under;
pub(crate) mod plan;
pub(crate) mod reach;
mod ends;
mod flags;
mod tube;

/// A way of looking at lines of tube.
#[derive(Debug)]
pub struct View {
    /// What the command and file names call it; letters and hyphens.
    pub name: &'static str,
    /// What a sheet calls it: `Elevation`.
    pub title: &'static str,
    /// What it is, in one line of help.
    pub about: &'static str,
    pub shown: Shown,
}

/// What a view shows, and how it is drawn.
#[derive(Debug)]
pub enum Shown {
    /// One line at a time.
    Line(fn(&LinePicture) -> Scene),
    /// All lines of the job together.
    Job(fn(&KeyPicture) -> Scene),
    /// A floor of the house plan with what its valves reach.
    Floor(fn(&ReachPicture) -> Scene),
}

/// Every view, in the order of the sheets.
pub static VIEWS: &[&View] = &[
    &elevation::VIEW,
    &plan::VIEW,
    &isometric::VIEW,
    &key::PLAN,
    &key::ISOMETRIC,
    &layout::VIEW,
    &reach::VIEW,
];

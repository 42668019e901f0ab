//! Drawings: from plain data to a scene of marks, and from the scene to SVG and PNG.
//!
//! Pure: no file, no clock. A drawing knows no clause and passes no verdict; it writes the words it is
//! given. On paper x runs right and y down, in millimetres; in the job x is east, y north, z up.
//!
//! Four rooms, each knowing those before it: the `hand` that writes, the `placer` that finds
//! room for words, the `views` of lines, the `details`. Every view goes the same way: choose
//! the scale, draw the line and note what it takes up, hand the labels to the one placer, write what found no
//! room as notes under the drawing.
mod details;
mod hand;
mod placer;
mod subject;
mod views;

pub use details::cutting::cutting;
pub use details::joint::joint;
pub use details::not_drawn::not_drawn;
pub use details::practice::{Halves, practice, practice_shown};
pub use details::travel::travel;
pub use details::tree::tree;
pub use details::valve_box::valve_box;
pub use hand::font::wrapped;
pub use hand::geo::{Quad, V2};
pub use hand::raster::{DrawError, check, fits_paper, png, written};
pub use hand::scene::{Fill, Mark, Pen, Scene, Segment, Shape};
pub use hand::text::{Align, Text};
pub use hand::words::{route_in_words, toward};
pub use subject::{
    Balloon, BalloonKind, BoxHeights, BranchMark, ClashMark, CrossingMark, CuttingPicture, DatumLine, Fork,
    HoseBand, JointMark, JointPicture, KeyPicture, LinePicture, Piece, ReachPicture, ReachValve, SPARE_MM,
    SetOut, Surroundings, TravelPanel, TravelPicture, TravelPlace, TreePicture, TubeLeaves, TubePieces,
    ValveBoxPicture,
};
pub use views::elevation::elevation;
pub use views::isometric::isometric;
pub use views::key::{key_isometric, key_isometric_ratio, key_plan};
pub use views::layout::{layout, layout_ratio};
pub use views::plan::plan;
pub use views::reach::reach;
pub use views::{Shown, VIEWS, View};

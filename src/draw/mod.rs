//! Drawings: from plain data to a scene of marks, and from the scene to SVG and PNG.
//!
//! Pure: no file, no clock. A drawing knows no clause and passes no verdict; it writes the words it is
//! given. On paper x runs right and y down, in millimetres; in the job x is east, y north, z up.
//!
//! Every view goes the same way: choose the scale, draw the line and note what it takes up, hand the
//! labels to the one placer ([`place`](self)), write what found no room as notes under the drawing.
mod around;
mod board;
mod callouts;
mod cutting;
mod dimension;
mod effort;
mod elevation;
mod font;
mod geo;
mod isometric;
mod joint;
mod keyplan;
mod labels;
mod line;
mod marks;
mod north;
mod place;
mod plan;
mod raster;
mod scale;
mod scene;
mod subject;
mod svg;
mod symbols;
mod valve_box;
mod view;
mod words;

pub use cutting::cutting;
pub use effort::effort;
pub use elevation::elevation;
pub use font::text_box;
pub use geo::{Quad, V2};
pub use isometric::isometric;
pub use joint::joint;
pub use keyplan::{key_isometric, key_plan};
pub use plan::plan;
pub use raster::{DrawError, check, png};
pub use scene::{Anchor, Fill, Mark, Pen, Scene, Shape, Step, Text};
pub use subject::{
    Balloon, BalloonKind, CrossingMark, CuttingPicture, HoseBand, JointMark, JointPicture, KeyKind, KeyLine,
    KeyPicture, Piece, Plot, RacewayPicture, Spot, Surroundings, TubePieces, ValveBoxPicture,
};
pub use valve_box::valve_box;
pub use words::route_in_words;

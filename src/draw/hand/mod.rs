//! The drawing hand: what a drawing is written with. It knows paper, type and line, and no placing of words.
pub mod font;
pub mod geo;
pub mod raster;
pub mod scale;
pub mod scene;
pub mod symbols;
pub mod text;
mod svg;
pub mod words;

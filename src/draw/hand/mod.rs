//! The drawing hand: what a drawing is written with. It knows paper, type and line, and no placing of words.
mod decimal;
pub(crate) mod font;
pub(crate) mod geo;
pub(crate) mod raster;
pub(crate) mod scale;
pub(crate) mod scene;
pub(crate) mod symbols;
pub(crate) mod text;
mod path;
mod svg;
pub(crate) mod words;

//! `draw` (placeholder until the drawing hand is merged)
use super::UNREAD;
use std::path::Path;
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub enum View {
    Elevation,
    Plan,
    Isometric,
    Key,
}
pub struct Wanted<'a> {
    pub inlet: Option<&'a str>,
    pub view: Option<View>,
    pub png: bool,
    pub into: Option<&'a Path>,
}
pub fn draw(_root: &Path, _name: &str, _wanted: &Wanted) -> u8 {
    UNREAD
}

//! A change that might mend a line.
use crate::company::{Hose, LineSpec};

/// A changed line, and the hose of its inlet where that is another, with the change in words.
#[derive(Debug, Clone)]
pub struct Change {
    /// `None` where the inlet keeps its hose; always so for a trunk.
    pub hose: Option<Hose>,
    pub line: LineSpec,
    /// An imperative: `move the stop 3 ft 6 in on along its line`.
    pub words: String,
    /// How much work it is, to order offers by: metres of tube moved, with other parts and other hoses
    /// counted as some metres.
    pub size: f64,
}

impl Change {
    /// Whether two changes, in whatever words, leave the same line and hose.
    pub fn same(&self, other: &Change) -> bool {
        self.hose == other.hose && self.line == other.line
    }
}

/// Ordering a different hose is set above moving a few feet of pipe that is not cut yet.
pub const OTHER_HOSE: f64 = 3.0;
/// A fitting of another kind is on the van or is not.
pub const OTHER_FITTING: f64 = 0.5;

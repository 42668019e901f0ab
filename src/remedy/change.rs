//! A change that might mend an inlet.
use crate::company::{Inlet, LineSpec};

/// A changed inlet, with the change in words.
#[derive(Debug, Clone)]
pub struct Change {
    pub inlet: Inlet,
    pub line: LineSpec,
    /// An imperative: `move the stop 3 ft 6 in on along its line`.
    pub words: String,
    /// How much work it is, to order offers by: metres of tube moved, with other parts and other hoses
    /// counted as some metres.
    pub size: f64,
}

/// Ordering a different hose is set above moving a few feet of pipe that is not cut yet.
pub const OTHER_HOSE: f64 = 3.0;
/// A fitting of another kind is on the van or is not.
pub const OTHER_FITTING: f64 = 0.5;

//! Where on a line something sits.

/// A place on a line, as findings and drawings name it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spot {
    /// The line as a whole.
    Whole,
    /// Bend by its number, from 1.
    Bend(usize),
    /// Leg by its index.
    Leg(usize),
    /// Distance from the start along work points, metres.
    Station(f64),
    /// The stop; the end of a line without one.
    Stop,
    /// Where the line joins, or ends.
    End,
}

//! What is on the paper, and what it costs to lie on it or to cross it.

/// What takes up room, by how it bears being crossed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// Words and their boxes.
    Words,
    /// Tube, symbols: no words on them, leaders at a price.
    Object,
    Leader,
    /// Dimension and extension lines.
    Dimension,
    /// Level lines.
    Level,
    /// Hatch of a finding: no words on it, leaders over it freely.
    Hatch,
    /// Hatch of planes: words may lie on it, at a price.
    Light,
}

/// What it costs words to lie on something; `None` when they must not. A level is interrupted for them.
pub fn words_price(what: What) -> Option<f64> {
    match what {
        What::Level => Some(3.0),
        What::Light => Some(1.5),
        _ => None,
    }
}

/// What it costs a leader to cross something.
pub fn leader_price(what: What) -> Option<f64> {
    match what {
        What::Words | What::Leader => None,
        What::Object => Some(25.0),
        What::Dimension => Some(8.0),
        What::Level => Some(1.0),
        What::Hatch | What::Light => Some(0.2),
    }
}

/// What it costs a dimension line to cross something.
pub fn dimension_price(what: What) -> Option<f64> {
    match what {
        What::Words | What::Leader => None,
        What::Object => Some(7.0),
        What::Dimension => Some(0.6),
        What::Level => Some(1.0),
        What::Hatch | What::Light => Some(0.2),
    }
}

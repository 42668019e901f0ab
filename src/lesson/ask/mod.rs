//! The `questions` block: what a reader is asked, how it is answered on the page and on paper.
//!
//! ```yaml
//! - ask: How many sticks for a 50 ft hose?
//!   right: Seven
//!   wrong: [Six, Eight]
//!   because: 50 ft and a tenth are 55 ft, and seven sticks are 56 ft.
//! ```
//!
//! A question has one right option, or a list of them; or steps in `order`; or a `number`, which the engine
//! works out; or a raceway to `judge`, in which the engine finds what is wrong. The page
//! needs no script to be read: all answers stand in a list at the end of the lesson.

mod mixed;
mod read;
mod set;

use super::words::Words;
pub(super) use read::{read, sum};
pub(super) use set::{Setter, set};

/// A question that has been looked over.
#[derive(Debug)]
pub(super) struct Asked {
    pub ask: Words,
    pub raceway: Option<Raceway>,
    pub form: Form,
    pub because: Words,
}

/// How a question is answered. Options are never empty on either side; steps are three or more.
#[derive(Debug)]
pub(super) enum Form {
    One {
        right: Words,
        wrong: Vec<Words>,
    },
    Several {
        right: Vec<Words>,
        wrong: Vec<Words>,
    },
    /// In the right order.
    Order(Vec<Words>),
    Number(Sum),
    /// The clauses that were meant to be broken; empty for a sound raceway.
    Judge {
        breaks: Vec<String>,
        at: Words,
    },
}

/// The raceway that a question speaks of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Raceway {
    /// Written in place: the block's text, uniformly indented, and the line of the file it begins on.
    Written { text: String, line: usize },
    /// A block above it, by its name.
    Named(Words),
}

/// A number to be worked out, and how near is near enough.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Sum {
    pub of: SumOf,
    pub within: Words,
}

/// Where the number comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum SumOf {
    /// Reckoned by the engine; `unit` is that of a plain number.
    Reckoned { sum: Words, unit: String },
    /// Typed, with what it rests on.
    Typed { value: Words, source: Words },
}

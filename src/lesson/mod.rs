//! Lessons: Markdown that the firm writes, turned into pages that teach.
//!
//! [`front`] takes the front matter off, [`render()`] turns the rest into HTML, headings, plain text for
//! searching, and a list of [`Diagnostic`](crate::text::Diagnostic)s. Nothing here reads a file or knows a route: what stands in a
//! `raceway` block is drawn by whoever implements [`Blocks`], and whoever does so also knows where the
//! clauses and the other lessons are.

mod amount;
mod ask;
mod clean;
pub mod front;
pub mod keys;
mod links;
mod math;
mod notes;
mod pass;
mod picture;
mod pieces;
mod render;
mod sign_off;
mod words;
mod worked;

pub use front::{Caution, Front, Part, Signal, Split};
pub use links::Target;
pub use math::Formula;
pub use picture::picture;
pub use render::{
    Blocks, Heading, Judged, Lesson, Part as DrawnPart, Picture, Refusal, Refused, Speaks, commonmark,
    render, words,
};
pub use words::{SetWords, Words};
pub use worked::{Dimension, Figure, Given};

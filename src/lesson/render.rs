//! From a lesson's body to its page.

use pulldown_cmark::Options;

use super::links::Target;
use super::pass::Pass;
use crate::text::{Diagnostic, Source};

/// What a lesson needs from the rest of the program.
pub trait Blocks {
    /// Draws the route that a `raceway` block describes, as HTML or SVG. `line` is the line of the file,
    /// from 1, on which `text` begins; what is wrong with it tells its places in the file likewise.
    fn raceway(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>>;

    /// Draws the floor that a `plan` block describes, likewise.
    fn plan(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>>;

    /// Where the clause or the lesson of that id stands, as seen from the lesson's page, or `None` when
    /// there is none of that id.
    fn link(&mut self, to: Target, id: &str) -> Option<String>;

    /// Every id that [`Blocks::link`] would know, to tell which one is meant by a misspelt one.
    fn names(&self, to: Target) -> Vec<String>;
}

/// A lesson ready for its sheet. It is never only half there: what could not be made is replaced by a
/// sentence that says so, and stands among the faults.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Lesson {
    pub html: String,
    pub headings: Vec<Heading>,
    /// The words without any markup, for the search index: one line for each block.
    pub text: String,
    /// In the order of their places.
    pub faults: Vec<Diagnostic>,
}

/// One heading and the id to link to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heading {
    /// 1 to 6.
    pub level: u8,
    pub id: String,
    pub text: String,
}

/// Renders a lesson: CommonMark with tables, footnotes, alerts, formulas between dollars, and fenced
/// `raceway`, `plan` and `questions` blocks. HTML in it is let through, since the firm writes its own lessons.
///
/// `body` is a part of `file` with so many lines above it; faults tell their places in the file.
pub fn render(file: &str, body: &str, lines_above: usize, hand: &mut dyn Blocks) -> Lesson {
    let options =
        Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES | Options::ENABLE_GFM | Options::ENABLE_MATH;
    Pass::new(Source::new(file, body).below(lines_above), Some(hand)).run(options)
}

/// Renders plain CommonMark through the same pass with every extension off, as the examples of the
/// specification ask for.
///
/// ```
/// assert_eq!(longsweep::lesson::commonmark("*few* and wide"), "<p><em>few</em> and wide</p>\n");
/// ```
pub fn commonmark(text: &str) -> String {
    Pass::new(Source::new("", text), None).run(Options::empty()).html
}

#[cfg(test)]
mod tests;

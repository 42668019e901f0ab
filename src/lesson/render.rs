//! From a lesson's body to its page.

use pulldown_cmark::Options;

use super::links::Target;
use super::pass::Pass;
use super::words::{SetWords, Words};
use super::worked::{Figure, Given};
use crate::measure::Say;
use crate::text::{Diagnostic, Source};

/// The raceway that a question or a card speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Speaks<'t> {
    /// Written in place; `line` is that of the file on which `text` begins.
    Written { text: &'t str, line: usize },
    /// A `raceway` block above it, by its name.
    Named(&'t str),
}

/// Why a question has no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// Something is wrong with the raceway written in place.
    Faults(Vec<Diagnostic>),
    /// There is no raceway of that name, or it cannot be laid.
    Raceway(Refused),
    /// What is asked of it is not known, or not found.
    Asked(Refused),
}

/// A part of a drawing that can be tapped.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// As the drawing marks it: `AB1`, `leg 2`.
    pub mark: String,
    /// What a list calls it: `B1, 90° north`.
    pub words: String,
}

/// A raceway judged by the standard in force.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Judged {
    /// The drawing, which does not tell what was found.
    pub html: String,
    pub parts: Vec<Part>,
    /// For each thing found, the marks of the parts that it is about; empty for a sound raceway.
    pub wrong: Vec<Vec<String>>,
    /// For each thing found, a sentence.
    pub told: Vec<String>,
}

/// What a lesson needs from the rest of the program.
pub trait Blocks {
    /// Draws the route that a `raceway` block describes, as HTML or SVG. `line` is the line of the file,
    /// from 1, on which `text` begins; what is wrong with it tells its places in the file likewise.
    fn raceway(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>>;

    /// Draws the floor that a `plan` block describes, likewise.
    fn plan(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>>;

    /// Draws right and wrong of the work that a `practice` block names, likewise.
    fn practice(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>>;

    /// Draws the questions of a `tree` block, likewise.
    fn tree(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>>;

    /// Draws a route and says nothing of what is wrong with it.
    fn drawing(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>>;

    /// What the standard finds in a raceway; in error where that is not what it was meant to break.
    fn judge(&mut self, of: Speaks, breaks: &[String]) -> Result<Judged, Refusal>;

    /// Where the clause or the lesson of that id stands, as seen from the lesson's page, or `None` when
    /// there is none of that id.
    fn link(&mut self, to: Target, id: &str) -> Option<String>;

    /// The picture that stands at that path, as seen from the lesson's own file.
    fn picture(&mut self, path: &str) -> Result<Picture, Refused>;

    /// Every id that [`Blocks::link`] would know, to tell which one is meant by a misspelt one.
    fn names(&self, to: Target) -> Vec<String>;

    /// A figure that the engine has, by its name and what it is given: `path(1)`, the hose path of the first
    /// raceway drawn above. `None` where there is none of that name; half a sentence where what it is given
    /// does not serve.
    fn figure(&mut self, name: &str, given: &[Given]) -> Option<Result<Figure, String>>;

    /// Every name that [`Blocks::figure`] would know.
    fn figures(&self) -> Vec<String>;

    /// How the firm says its measures.
    fn say(&self) -> Say;
}

/// A picture as it stands in a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// `data:image/png;base64,...`
    pub data_uri: String,
    pub wide_px: usize,
    pub high_px: usize,
}

/// Why something that a lesson asks for cannot be had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    pub message: String,
    pub help: Option<String>,
}

/// A lesson ready for its sheet. It is never only half there: what could not be made is replaced by a
/// sentence that says so, and stands among the faults.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Lesson {
    pub html: String,
    pub headings: Vec<Heading>,
    /// The words without any markup, for the search index: one line for each block.
    pub text: String,
    /// The answer to each question in turn, an item of a list.
    pub answers: Vec<String>,
    /// The id of each question in turn.
    pub asks: Vec<String>,
    /// Titles of the cards to sign, in turn.
    pub cards: Vec<String>,
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
/// `raceway`, `plan`, `practice`, `tree`, `worked`, `questions` and `sign-off` blocks. Of HTML in it stays what the list in
/// `clean.rs` names; the rest goes, with a warning.
///
/// `body` is a part of `file` with so many lines above it; faults tell their places in the file.
pub fn render(file: &str, body: &str, lines_above: usize, hand: &mut dyn Blocks) -> Lesson {
    let options =
        Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES | Options::ENABLE_GFM | Options::ENABLE_MATH;
    let mut lesson = Pass::new(Source::new(file, body).below(lines_above), Some(hand)).run(options);
    // Code that is wider than a phone is moved sideways, by key too.
    lesson.html = lesson.html.replace("<pre><code", "<pre tabindex=\"0\"><code");
    lesson
}

/// Sets words of YAML, which are Markdown without HTML: what looks like HTML in them is shown as written.
/// What is wrong in them is told at the place where they begin.
pub fn words(file: &str, words: &Words, hand: &mut dyn Blocks) -> (SetWords, Vec<Diagnostic>) {
    let pass = Pass::new(Source::new(file, &words.text), Some(hand)).of_words();
    let lesson = pass.run(Options::ENABLE_MATH);
    let here = |fault: Diagnostic| Diagnostic { line: words.line, column: words.col, ..fault };
    let html = lesson.html.trim_end();
    let inside = html.strip_prefix("<p>").and_then(|html| html.strip_suffix("</p>"));
    let html = inside.filter(|inside| !inside.contains("<p>")).unwrap_or(html).to_owned();
    (SetWords { html, text: lesson.text }, lesson.faults.into_iter().map(here).collect())
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
mod asked;
#[cfg(test)]
mod tests;

//! Where in a text something is wrong, and what.

use std::ops::Range;

use serde_yaml as yaml;

/// One thing wrong in a lesson. Lines and columns count from 1, columns and length in characters.
/// It holds no file name: the reader that opened the file adds it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    pub line: usize,
    pub col: usize,
    pub len: usize,
    /// One sentence that stands alone, lower case, no full stop.
    pub message: String,
    /// The remedy as one imperative, where there is one to give.
    pub help: Option<String>,
}

impl Problem {
    /// The same problem in a text that stands `lines` lines further down, as a lesson's body does below
    /// its front matter.
    pub fn shifted(mut self, lines: usize) -> Problem {
        self.line += lines;
        self
    }

    pub(super) fn with_help(mut self, help: impl Into<String>) -> Problem {
        self.help = Some(help.into());
        self
    }
}

/// The starts of a text's lines, so that a byte offset can be told as line and column.
pub(super) struct Lines<'a> {
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    pub(super) fn new(text: &'a str) -> Lines<'a> {
        let starts = std::iter::once(0)
            .chain(text.match_indices('\n').map(|(at, _)| at + 1))
            .collect();
        Lines { text, starts }
    }

    /// The line, from 1, that holds the byte at `at`.
    pub(super) fn line(&self, at: usize) -> usize {
        self.starts.partition_point(|&start| start <= at)
    }

    /// A problem over `span` (bytes). A span over several lines is marked on its first line only.
    pub(super) fn problem(&self, span: Range<usize>, message: impl Into<String>) -> Problem {
        let line = self.line(span.start);
        let start = self.starts.get(line - 1).copied().unwrap_or(0);
        let marked = self
            .text
            .get(span.clone())
            .unwrap_or("")
            .lines()
            .next()
            .unwrap_or("");
        Problem {
            line,
            col: self.text.get(start..span.start).unwrap_or("").chars().count() + 1,
            len: marked.chars().count().max(1),
            message: message.into(),
            help: None,
        }
    }
}

/// What a YAML reader found wrong, as a problem in a text whose YAML begins after `lines_above` lines.
pub(super) fn from_yaml(error: &yaml::Error, lines_above: usize) -> Problem {
    let bare = error.without_snippet();
    let (line, col) = match bare.location() {
        Some(place) => (place.line() as usize, place.column() as usize),
        None => (0, 0),
    };
    let (message, help, len) = describe(bare);
    Problem {
        line: line.max(1) + lines_above,
        col: col.max(1),
        len,
        message,
        help,
    }
}

/// The known name that `name` most likely means: at most a third of its letters differ.
pub(super) fn nearest<'n>(name: &str, known: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    let reach = (name.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|candidate| (strsim::damerau_levenshtein(name, candidate), candidate))
        .filter(|&(distance, _)| distance <= reach)
        .min()
        .map(|(_, candidate)| candidate)
}

fn describe(error: &yaml::Error) -> (String, Option<String>, usize) {
    match error {
        yaml::Error::SerdeUnknownField { field, expected, .. } => {
            let help = match nearest(field, expected.iter().copied()) {
                Some(known) => format!("write `{known}`"),
                None => format!("use one of {}", list(expected)),
            };
            (
                format!("there is no key `{field}` here"),
                Some(help),
                field.chars().count(),
            )
        }
        yaml::Error::SerdeMissingField { field, .. } => (
            format!("the key `{field}` is missing"),
            Some(format!("add `{field}:`")),
            1,
        ),
        yaml::Error::SerdeInvalidType {
            unexpected, expected, ..
        } => (
            format!("found {unexpected} where {expected} was expected"),
            None,
            1,
        ),
        other => (plain(&other.to_string()), None, 1),
    }
}

fn list(names: &[&str]) -> String {
    names
        .iter()
        .map(|name| format!("`{name}`"))
        .collect::<Vec<_>>()
        .join(", ")
}

/// The first line of a message without the place, which the problem carries itself.
fn plain(message: &str) -> String {
    let first = message.lines().next().unwrap_or("");
    let without_prefix = match first.split_once(": ") {
        Some((head, rest)) if head.contains("line") || head == "error" => rest,
        _ => first,
    };
    let cut = without_prefix.find(" at line ").unwrap_or(without_prefix.len());
    without_prefix[..cut].trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_lines_and_columns_in_characters() {
        let lines = Lines::new("one\nzwölf ab\nthree");
        let problem = lines.problem(11..13, "x");
        assert_eq!((problem.line, problem.col, problem.len), (2, 7, 2));
        assert_eq!(lines.problem(0..1, "x").line, 1);
        assert_eq!(lines.problem(3..4, "x").line, 1);
    }

    #[test]
    fn marks_only_the_first_line_of_a_span() {
        let problem = Lines::new("ab\ncd").problem(0..5, "x");
        assert_eq!((problem.line, problem.len), (1, 2));
    }

    #[test]
    fn a_problem_below_front_matter_moves_down_with_it() {
        let problem = Lines::new("ab").problem(0..1, "x").shifted(7);
        assert_eq!((problem.line, problem.col), (8, 1));
    }

    #[test]
    fn nearest_takes_small_slips_only() {
        assert_eq!(
            nearest("bend-totl", ["hose-room", "bend-total"]),
            Some("bend-total")
        );
        assert_eq!(nearest("gasket", ["hose-room", "bend-total"]), None);
    }
}

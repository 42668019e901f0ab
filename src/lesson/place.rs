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
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
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
        let marked = self.text.get(span.clone()).unwrap_or("").lines().next().unwrap_or("");
        Problem {
            line,
            col: self.text.get(start..span.start).unwrap_or("").chars().count() + 1,
            len: marked.chars().count().max(1),
            message: message.into(),
            help: None,
        }
    }
}

/// What a YAML reader found wrong with `text`, as a problem in the file where `lines_above` lines stand
/// above that text.
pub(super) fn from_yaml(error: &yaml::Error, text: &str, lines_above: usize) -> Problem {
    let bare = error.without_snippet();
    let (line, col) = match bare.location() {
        Some(place) => (place.line() as usize, place.column() as usize),
        None => (0, 0),
    };
    let (line, col) = (line.max(1), col.max(1));
    let (message, help) = match bare {
        yaml::Error::DuplicateMappingKey { key: Some(key), .. } => twice(key, text, line, lines_above),
        other => describe(other),
    };
    let words = text.lines().nth(line - 1).unwrap_or("").chars().skip(col - 1);
    let len = words.take_while(|c| c.is_alphanumeric() || "-_.".contains(*c)).count().max(1);
    Problem { line: line + lines_above, col, len, message, help }
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

fn describe(error: &yaml::Error) -> (String, Option<String>) {
    let help = |words: &str| Some(words.to_owned());
    match error {
        yaml::Error::SerdeUnknownField { field, expected, .. } => {
            let help = match nearest(field, expected.iter().copied()) {
                Some(known) => format!("write `{known}`"),
                None => format!("use one of {}", list(expected)),
            };
            (format!("there is no key `{field}` here"), Some(help))
        }
        yaml::Error::SerdeMissingField { field, .. } => {
            (format!("the key `{field}` is missing"), Some(format!("add `{field}:`")))
        }
        yaml::Error::SerdeInvalidType { unexpected, expected, .. } => {
            (format!("found {unexpected} where {expected} was expected"), None)
        }
        yaml::Error::NullIntoString { .. } => {
            ("nothing stands after this key".to_owned(), help("write some words"))
        }
        yaml::Error::InvalidScalar { ty, .. } if ty.starts_with('u') => {
            ("this is not a whole number from 0 up".to_owned(), help("write a whole number, as `8`"))
        }
        yaml::Error::Unexpected { expected: "sequence start", .. } => {
            ("this is not a list".to_owned(), help("put it in brackets, as `[one, two]`"))
        }
        yaml::Error::Unexpected { expected: "mapping start", .. } => {
            ("keys and values were expected here".to_owned(), help("write `key: value`, one to a line"))
        }
        yaml::Error::Unexpected { expected: "string scalar", .. } => {
            ("plain words were expected here".to_owned(), help("put the words in quotes"))
        }
        other => {
            let message = plain(&other.to_string());
            let colon = message
                .starts_with("mapping values")
                .then_some("put the words in quotes, since they hold a colon");
            (message, colon.map(str::to_owned))
        }
    }
}

/// A key that stands twice is told with both its lines.
fn twice(key: &str, text: &str, line: usize, lines_above: usize) -> (String, Option<String>) {
    let is_key = |written: &str| {
        let written = written.trim_start().trim_start_matches("- ");
        written.strip_prefix(key).is_some_and(|rest| rest.trim_start().starts_with(':'))
    };
    let above: Vec<&str> = text.lines().take(line - 1).collect();
    let first = above.iter().rposition(|written| is_key(written));
    let message = match first {
        Some(index) => format!("the key `{key}` stands twice, first in line {}", index + 1 + lines_above),
        None => format!("the key `{key}` stands twice"),
    };
    (message, Some("take one of the two out".to_owned()))
}

fn list(names: &[&str]) -> String {
    names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
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
        assert_eq!(nearest("bend-totl", ["hose-room", "bend-total"]), Some("bend-total"));
        assert_eq!(nearest("gasket", ["hose-room", "bend-total"]), None);
    }
}

//! The front matter of a lesson, and its parting from the body.

use serde::Deserialize;

use super::place::{Problem, from_yaml};

const FENCE: &str = "---";

/// A lesson's text parted at its fences. `front` and `body` are pieces of that text, unchanged; neither
/// holds a fence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Split<'a> {
    pub front: &'a str,
    /// How many lines stand above the front text.
    pub front_lines_above: usize,
    pub body: &'a str,
    /// How many lines stand above the body.
    pub body_lines_above: usize,
}

/// What a lesson says of itself.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Front {
    pub title: String,
    /// The place in the row of lessons, from 1.
    pub order: u32,
    /// Reading time with the questions, in minutes.
    pub minutes: u32,
    /// One or two sentences for the sheet index.
    pub summary: String,
    /// The ids of the clauses that the lesson teaches.
    #[serde(default)]
    pub clauses: Vec<String>,
}

/// Parts a lesson at its `---` fences. The first must be the first line; a byte-order mark is let pass.
///
/// ```
/// let parts = longsweep::lesson::front::split("---\ntitle: Bends\n---\nFew and wide.\n").unwrap();
/// assert_eq!(parts.front, "title: Bends\n");
/// assert_eq!((parts.body, parts.body_lines_above), ("Few and wide.\n", 3));
/// ```
pub fn split(text: &str) -> Result<Split<'_>, Problem> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut at = 0;
    let mut front_start = None;
    for (number, line) in text.split_inclusive('\n').enumerate() {
        let is_fence = line.trim_end() == FENCE;
        let end = at + line.len();
        match front_start {
            None if is_fence => front_start = Some(end),
            None => return Err(no_front(line)),
            Some(start) if is_fence => {
                return Ok(Split {
                    front: &text[start..at],
                    front_lines_above: 1,
                    body: &text[end..],
                    body_lines_above: number + 1,
                });
            }
            Some(_) => {}
        }
        at = end;
    }
    Err(if front_start.is_some() { never_closed() } else { no_front("") })
}

/// Reads the front text. `lines_above` is what [`Split`] tells, so that the place is that in the file.
pub fn parse(front: &str, lines_above: usize) -> Result<Front, Problem> {
    if front.trim().is_empty() {
        let problem = at(lines_above, "the front matter is empty");
        return Err(problem.with_help("give `title`, `order`, `minutes` and `summary`"));
    }
    serde_yaml::from_str(front).map_err(|error| from_yaml(&error, front, lines_above))
}

fn no_front(first_line: &str) -> Problem {
    let mut problem = at(1, "the lesson does not begin with front matter");
    problem.len = first_line.trim_end().chars().count().max(1);
    problem.with_help(
        "begin the file with a line `---`, the lesson's title and the rest, and a second line `---`",
    )
}

fn never_closed() -> Problem {
    let mut problem = at(1, "the front matter that begins here is never closed");
    problem.len = FENCE.len();
    problem.with_help("put a line `---` between the front matter and the lesson")
}

fn at(line: usize, message: &str) -> Problem {
    Problem { line: line.max(1), col: 1, len: 1, message: message.to_owned(), help: None }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = "---\ntitle: Bends\norder: 1\nminutes: 8\nsummary: Few and wide\nclauses: [bend-total]\n---\n\nText\n";

    #[test]
    fn parts_front_and_body_and_counts_the_lines_above_each() {
        let parts = split(GOOD).unwrap();
        assert_eq!(parts.body, "\nText\n");
        assert_eq!((parts.front_lines_above, parts.body_lines_above), (1, 7));
        let front = parse(parts.front, parts.front_lines_above).unwrap();
        assert_eq!(front.title, "Bends");
        assert_eq!((front.order, front.minutes), (1, 8));
        assert_eq!(front.clauses, ["bend-total"]);
    }

    #[test]
    fn reads_the_line_ends_of_every_system_and_a_byte_order_mark() {
        let text = format!("\u{feff}{}", GOOD.replace('\n', "\r\n"));
        let parts = split(&text).unwrap();
        assert_eq!(parse(parts.front, 1).unwrap().summary, "Few and wide");
        assert_eq!(parts.body, "\r\nText\r\n");
    }

    #[test]
    fn a_lesson_may_be_all_front() {
        let parts = split("---\ntitle: x\n---").unwrap();
        assert_eq!((parts.body, parts.body_lines_above), ("", 3));
    }

    #[test]
    fn a_rule_in_the_body_is_not_a_fence() {
        assert_eq!(split("---\na: b\n---\nx\n\n---\n").unwrap().body, "x\n\n---\n");
    }

    #[test]
    fn missing_and_open_front_matter_are_problems_on_line_one() {
        assert!(split("# Bends\n").unwrap_err().message.contains("does not begin"));
        assert!(split("").unwrap_err().message.contains("does not begin"));
        let open = split("---\ntitle: x\n").unwrap_err();
        assert_eq!((open.line, open.col, open.len), (1, 1, 3));
        assert!(open.message.contains("never closed"));
    }

    #[test]
    fn a_misspelt_key_is_told_with_its_place_and_the_key_meant() {
        let parts = split("---\ntitle: x\norder: 1\nminuts: 8\nsummary: y\n---\n").unwrap();
        let problem = parse(parts.front, parts.front_lines_above).unwrap_err();
        assert_eq!((problem.line, problem.col, problem.len), (4, 1, 6));
        assert_eq!(problem.help.as_deref(), Some("write `minutes`"));
    }

    #[test]
    fn a_missing_key_and_a_wrong_value_are_told_in_words() {
        let missing = parse("title: x\norder: 1\nminutes: 8\n", 1).unwrap_err();
        assert_eq!(missing.message, "the key `summary` is missing");
        let wrong = parse("title: x\norder: first\nminutes: 8\nsummary: y\n", 1).unwrap_err();
        assert_eq!((wrong.line, wrong.col), (3, 8));
        assert_eq!((wrong.message.as_str(), wrong.len), ("this is not a whole number from 0 up", 5));
        assert!(parse("\n", 1).unwrap_err().message.contains("empty"));
    }

    #[test]
    fn faults_are_told_in_words_of_this_house() {
        let cases = [
            ("title: x\norder: 1\ntitle: y\n", (4, 1), "the key `title` stands twice, first in line 2"),
            ("title:\norder: 1\nminutes: 8\nsummary: y\n", (2, 6), "nothing stands after this key"),
            ("- title\n", (2, 1), "keys and values were expected here"),
            ("title: [x]\n", (2, 8), "plain words were expected here"),
            ("title: x\norder: 1.5\n", (3, 8), "this is not a whole number from 0 up"),
            ("title: x\nclauses: bend-total\n", (3, 10), "this is not a list"),
            ("title: a: b\n", (2, 9), "mapping values are not allowed in this context"),
        ];
        for (text, place, message) in cases {
            let problem = parse(text, 1).unwrap_err();
            assert_eq!((problem.message.as_str(), (problem.line, problem.col)), (message, place), "{text}");
        }
    }
}

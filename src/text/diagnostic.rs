//! One way of telling what is wrong with a file: where, what was found, what was expected.
//!
//! The same value is drawn in the terminal, printed plainly, and serialised for the site.
use super::drawn::Drawn;
use super::source::is_odd;
use miette::{GraphicalReportHandler, GraphicalTheme};
use serde::Serialize;

/// How much a diagnostic stops.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// What is written cannot be used.
    #[default]
    Error,
    /// It can be used, and may not be what was meant.
    Warning,
}

/// Something wrong in a file. Lines and columns count from 1; columns and lengths count characters.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Diagnostic {
    pub severity: Severity,
    /// Path from the company folder, `/` between folders.
    pub file: String,
    /// 0 where the file as a whole is meant.
    pub line: usize,
    pub column: usize,
    pub len: usize,
    /// What was found: one sentence that stands alone.
    pub message: String,
    /// Under the mark: what was expected.
    pub label: String,
    /// What to write instead.
    pub help: Option<String>,
    /// Other places that matter, such as the first of two duplicates.
    pub related: Vec<Related>,
    /// The line as it stands in the file; empty where it is too long to show.
    pub source_line: String,
}

/// Another place that matters to a [`Diagnostic`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Related {
    pub file: String,
    pub line: usize,
    pub column: usize,
    pub len: usize,
    pub label: String,
    pub source_line: String,
}

impl Diagnostic {
    /// A fault of a whole file, which has no place in it.
    pub fn of_file(file: &str, message: impl Into<String>, help: Option<&str>) -> Self {
        Diagnostic {
            severity: Severity::Error,
            file: file.to_owned(),
            line: 0,
            column: 0,
            len: 0,
            message: message.into(),
            label: String::new(),
            help: help.map(str::to_owned),
            related: Vec::new(),
            source_line: String::new(),
        }
    }

    /// The same as a warning.
    pub fn warning(mut self) -> Self {
        self.severity = Severity::Warning;
        self
    }

    /// `jobs/gull.yaml:12:9`, or the file alone.
    pub fn place(&self) -> String {
        match self.line {
            0 => self.file.clone(),
            line => format!("{}:{line}:{}", self.file, self.column),
        }
    }

    /// Plain text with the line and a mark under the word, without any drawing characters or colour.
    pub fn render_plain(&self) -> String {
        self.harmless().plain()
    }

    fn plain(&self) -> String {
        let mut out = format!("{}: {}\n  at {}\n", self.word(), self.message, self.place());
        let width = self.widest_number();
        quote(&mut out, width, self.line, self.column, self.len, &self.label, &self.source_line);
        for other in &self.related {
            if other.file != self.file {
                out.push_str(&format!("  at {}:{}:{}\n", other.file, other.line, other.column));
            }
            quote(&mut out, width, other.line, other.column, other.len, &other.label, &other.source_line);
        }
        if let Some(help) = &self.help {
            out.push_str(&format!("  help: {help}\n"));
        }
        out
    }

    /// Drawn for a terminal, in colour only when asked.
    pub fn render(&self, colour: bool) -> String {
        let theme = if colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
        let handler = GraphicalReportHandler::new_themed(theme).with_context_lines(0).with_links(false);
        let mut out = String::new();
        match handler.render_report(&mut out, &Drawn::of(&self.harmless())) {
            Ok(()) => out,
            Err(_) => self.render_plain(),
        }
    }

    /// The same with every sign that moves a terminal's cursor, or has no place on a page, as a blank. A message quotes what stands in a
    /// file, so that this is done where it is shown, once for all of them.
    pub fn harmless(&self) -> Diagnostic {
        let blank = |text: &str| -> String {
            text.chars().map(|c| if c != '\n' && is_odd(c) { ' ' } else { c }).collect()
        };
        let mut shown = self.clone();
        for text in [&mut shown.file, &mut shown.message, &mut shown.label].into_iter().chain(&mut shown.help)
        {
            *text = blank(text);
        }
        for other in &mut shown.related {
            (other.file, other.label) = (blank(&other.file), blank(&other.label));
        }
        shown
    }

    /// `error` or `warning`.
    fn word(&self) -> &'static str {
        match self.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        }
    }

    fn widest_number(&self) -> usize {
        let lines = self.related.iter().map(|other| other.line).chain([self.line]);
        lines.max().unwrap_or(0).to_string().len()
    }
}

/// The line, and marks under the part that is meant.
fn quote(out: &mut String, width: usize, line: usize, column: usize, len: usize, label: &str, text: &str) {
    if line == 0 || text.is_empty() {
        return;
    }
    let marks = "^".repeat(len.max(1));
    let lead = " ".repeat(column.saturating_sub(1));
    out.push_str(&format!("  {line:>width$} | {text}\n  {:>width$} | {lead}{marks} {label}\n", ""));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sample() -> Diagnostic {
        Diagnostic {
            severity: Severity::Error,
            file: "jobs/gull.yaml".into(),
            line: 12,
            column: 8,
            len: 2,
            message: "no unit after `16` in a length".into(),
            label: "expected a length, like 12 ft 6-1/2 in or 3.81 m".into(),
            help: Some("add a unit: ft, in, m, cm, mm".into()),
            related: Vec::new(),
            source_line: "- run: 16".into(),
        }
    }

    #[test]
    fn plain_shows_line_mark_and_help() {
        let want = "error: no unit after `16` in a length\n  at jobs/gull.yaml:12:8\n  12 | - run: 16\n     |        ^^ \
                    expected a length, like 12 ft 6-1/2 in or 3.81 m\n  help: add a unit: ft, in, m, cm, mm\n";
        assert_eq!(sample().render_plain(), want);
    }

    #[test]
    fn drawn_shows_both_lines_of_a_duplicate() {
        let mut twice = sample();
        twice.related.push(Related {
            file: twice.file.clone(),
            line: 3,
            column: 1,
            len: 2,
            label: "first given here".into(),
            source_line: "id: hall".into(),
        });
        let drawn = twice.render(false);
        assert!(drawn.contains("3 │ id: hall") && drawn.contains("12 │ - run: 16"), "{drawn}");
        assert!(!drawn.contains('\u{1b}'), "{drawn}");
        assert!(twice.render(true).contains('\u{1b}'));
    }

    #[test]
    fn drawn_names_the_other_file() {
        let mut twice = sample();
        twice.related.push(Related {
            file: "jobs/other.yaml".into(),
            line: 2,
            column: 5,
            len: 4,
            label: "first given here".into(),
            source_line: "id: héll".into(),
        });
        assert!(twice.render(false).contains("jobs/other.yaml:2:5"), "{}", twice.render(false));
        assert!(twice.render_plain().contains("  at jobs/other.yaml:2:5\n"));
    }

    #[test]
    fn no_sign_of_a_file_moves_the_cursor() {
        let mut odd = sample();
        odd.message = "no unit after `1\u{1b}[2J6\t`".into();
        odd.help = Some("write `\u{202e}16`".into());
        for told in [odd.render_plain(), odd.render(false)] {
            assert!(told.contains("`1 [2J6 `") && told.contains("` 16`"), "{told}");
        }
    }

    #[test]
    fn a_whole_file_has_no_line() {
        let whole = Diagnostic::of_file("content/company.yaml", "the file is missing", None);
        assert_eq!(whole.render_plain(), "error: the file is missing\n  at content/company.yaml\n");
        assert!(whole.render(false).contains("content/company.yaml: the file is missing"));
    }
}

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
    /// The line as it stands in the file; a long one around its mark.
    pub source_line: String,
    /// How many characters of the line are left out before `source_line`.
    pub skipped: usize,
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
    pub skipped: usize,
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
            skipped: 0,
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
        let column = self.column - self.skipped.min(self.column);
        quote(&mut out, width, self.line, column, self.len, &self.label, &self.source_line);
        for other in &self.related {
            if other.file != self.file {
                out.push_str(&format!("  at {}:{}:{}\n", other.file, other.line, other.column));
            }
            let column = other.column - other.skipped.min(other.column);
            quote(&mut out, width, other.line, column, other.len, &other.label, &other.source_line);
        }
        if let Some(help) = &self.help {
            out.push_str(&format!("  help: {help}\n"));
        }
        out
    }

    /// Drawn for a terminal of so many columns, in colour only when asked.
    pub fn render(&self, colour: bool, columns: usize) -> String {
        let theme = if colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
        let handler = GraphicalReportHandler::new_themed(theme)
            .with_context_lines(0)
            .with_links(false)
            .with_width(columns);
        let mut out = String::new();
        match handler.render_report(&mut out, &Drawn::of(&self.harmless(), columns)) {
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
    let lead = " ".repeat(column.saturating_sub(1));
    let marks = "^".repeat(len.min(text.chars().count().saturating_sub(lead.len())).max(1));
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
            skipped: 0,
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
            skipped: 0,
        });
        let drawn = twice.render(false, 80);
        assert!(drawn.contains("3 │ id: hall") && drawn.contains("12 │ - run: 16"), "{drawn}");
        assert!(!drawn.contains('\u{1b}'), "{drawn}");
        assert!(twice.render(true, 80).contains('\u{1b}'));
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
            skipped: 0,
        });
        assert!(twice.render(false, 80).contains("jobs/other.yaml:2:5"), "{}", twice.render(false, 80));
        assert!(twice.render_plain().contains("  at jobs/other.yaml:2:5\n"));
    }

    #[test]
    fn no_sign_of_a_file_moves_the_cursor() {
        let mut odd = sample();
        odd.message = "no unit after `1\u{1b}[2J6\t`".into();
        odd.help = Some("write `\u{202e}16`".into());
        for told in [odd.render_plain(), odd.render(false, 80)] {
            assert!(told.contains("`1 [2J6 `") && told.contains("` 16`"), "{told}");
        }
    }

    #[test]
    fn a_narrow_terminal_gets_the_part_around_the_mark() {
        let mut wide = sample();
        wide.source_line = format!("{}run: 16{}", " ".repeat(60), " and more".repeat(4));
        (wide.column, wide.len) = (66, 2);
        let drawn = wide.render(false, 40);
        assert!(drawn.contains("run: 16") && drawn.contains("jobs/gull.yaml:12:66"), "{drawn}");
        let line = drawn.lines().find(|line| line.contains("12 │")).unwrap();
        assert!(line.chars().count() <= 40, "{drawn}");
    }

    #[test]
    fn a_file_name_moves_no_cursor() {
        let odd = Diagnostic::of_file("jobs/a\u{1b}[31m.yaml", "the file is missing", None);
        for text in [odd.render_plain(), odd.render(false, 80)] {
            assert!(!text.contains('\u{1b}'), "{text:?}");
        }
    }

    #[test]
    fn a_whole_file_has_no_line() {
        let whole = Diagnostic::of_file("content/company.yaml", "the file is missing", None);
        assert_eq!(whole.render_plain(), "error: the file is missing\n  at content/company.yaml\n");
        assert!(whole.render(false, 80).contains("content/company.yaml: the file is missing"));
    }
}

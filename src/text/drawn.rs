//! A [`Diagnostic`] handed to miette, which draws it for a terminal.
//!
//! Only the lines that are shown are handed over, each at its own number, so that nothing here
//! needs the file again.
use super::diagnostic::{Diagnostic, Related, Severity};
use super::source::window;
use miette::{LabeledSpan, MietteError, MietteSpanContents, SourceSpan};
use std::fmt;

/// A diagnostic in the form that miette draws.
#[derive(Debug)]
pub struct Drawn {
    message: String,
    severity: miette::Severity,
    help: Option<String>,
    labels: Vec<LabeledSpan>,
    source: Option<Lines>,
    /// Places in other files, each drawn with its own source.
    elsewhere: Vec<Drawn>,
}

impl Drawn {
    /// For a terminal of so many columns.
    pub fn of(diagnostic: &Diagnostic, columns: usize) -> Self {
        let mut sheet = Sheet { columns, ..Sheet::default() };
        let here = |other: &&Related| other.file == diagnostic.file;
        let mut marks = vec![Mark {
            line: diagnostic.line,
            column: diagnostic.column,
            skipped: diagnostic.skipped,
            len: diagnostic.len,
            label: &diagnostic.label,
            text: &diagnostic.source_line,
        }];
        marks.extend(diagnostic.related.iter().filter(here).map(mark_of));
        marks.sort_unstable();
        for mark in marks {
            sheet.add(mark);
        }
        let others = diagnostic.related.iter().filter(|other| !here(other));
        let elsewhere = others.map(|other| Drawn::elsewhere(other, columns));
        let place = match sheet.labels.is_empty() {
            true => format!("{}: ", diagnostic.place()),
            false => String::new(),
        };
        Drawn {
            message: format!("{place}{}", diagnostic.message),
            severity: match diagnostic.severity {
                Severity::Error => miette::Severity::Error,
                Severity::Warning => miette::Severity::Warning,
            },
            help: diagnostic.help.clone(),
            labels: std::mem::take(&mut sheet.labels),
            source: (!sheet.text.is_empty()).then(|| Lines::new(&diagnostic.file, sheet)),
            elsewhere: elsewhere.collect(),
        }
    }

    fn elsewhere(other: &Related, columns: usize) -> Self {
        let mut sheet = Sheet { columns, ..Sheet::default() };
        sheet.add(mark_of(other));
        Drawn {
            message: format!("{} in {}", other.label, other.file),
            severity: miette::Severity::Advice,
            help: None,
            labels: std::mem::take(&mut sheet.labels),
            source: Some(Lines::new(&other.file, sheet)),
            elsewhere: Vec::new(),
        }
    }
}

fn mark_of(other: &Related) -> Mark<'_> {
    Mark {
        line: other.line,
        column: other.column,
        skipped: other.skipped,
        len: other.len,
        label: &other.label,
        text: &other.source_line,
    }
}

/// A mark under part of a line; ordered by where it stands.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Mark<'a> {
    line: usize,
    column: usize,
    skipped: usize,
    len: usize,
    label: &'a str,
    text: &'a str,
}

/// A source that holds only the lines that are shown, each at its own number.
#[derive(Default)]
struct Sheet {
    text: String,
    lines: usize,
    labels: Vec<LabeledSpan>,
    /// Where the last line starts.
    start: usize,
    /// Columns of the terminal.
    columns: usize,
    /// Of each line shown, how many characters are left out before what is shown.
    skipped: Vec<(usize, usize)>,
}

impl Sheet {
    /// Marks come in the order of lines.
    fn add(&mut self, mark: Mark) {
        if mark.line == 0 || mark.text.is_empty() {
            return;
        }
        if mark.line > self.lines {
            while self.lines + 1 < mark.line {
                self.text.push('\n');
                self.lines += 1;
            }
            // Beside the line stand its number, a bar and the spaces around them.
            let room = self.columns.saturating_sub(mark.line.to_string().len() + 4);
            let before = (mark.column - 1).saturating_sub(mark.skipped);
            let (shown, more) = window(mark.text, before, mark.len, room);
            self.start = self.text.len();
            self.text.push_str(&shown);
            self.text.push('\n');
            self.lines = mark.line;
            self.skipped.push((mark.line, mark.skipped + more));
        }
        // A second mark of a line may lie outside of what is shown; it then stands at the line's end.
        let shown = self.text[self.start..].trim_end_matches('\n');
        let skipped = self.skipped.last().map_or(0, |(_, skipped)| *skipped);
        let at = (mark.column - 1).saturating_sub(skipped);
        let (from, to) = (byte_of(shown, at), byte_of(shown, at + mark.len.max(1)));
        let label = (!mark.label.is_empty()).then(|| mark.label.to_owned());
        let span = SourceSpan::from((self.start + from, to - from));
        self.labels.push(LabeledSpan::new_primary_with_span(label, span));
    }
}

/// A named text that always shows whole lines.
#[derive(Debug)]
struct Lines {
    file: String,
    text: String,
    skipped: Vec<(usize, usize)>,
}

impl Lines {
    fn new(file: &str, sheet: Sheet) -> Self {
        Lines { file: file.to_owned(), text: sheet.text, skipped: sheet.skipped }
    }
}

impl miette::SourceCode for Lines {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        _before: usize,
        _after: usize,
    ) -> Result<Box<dyn miette::SpanContents<'a> + 'a>, MietteError> {
        let (from, to) = (span.offset(), span.offset() + span.len());
        let (Some(head), Some(tail)) = (self.text.get(..from), self.text.get(to..)) else {
            return Err(MietteError::OutOfBounds);
        };
        let start = head.rfind('\n').map_or(0, |at| at + 1);
        let end = to + tail.find('\n').map_or(tail.len(), |at| at + 1);
        let line = head.matches('\n').count();
        let skipped = self.skipped.iter().find(|(shown, _)| *shown == line + 1).map_or(0, |(_, n)| *n);
        let lines = self.text[start..end].matches('\n').count();
        Ok(Box::new(MietteSpanContents::new_named(
            self.file.clone(),
            &self.text.as_bytes()[start..end],
            (start, end - start).into(),
            line,
            head[start..].chars().count() + skipped,
            lines,
        )))
    }
}

/// The byte at which character number `n` of a line starts.
fn byte_of(line: &str, n: usize) -> usize {
    line.char_indices().nth(n).map_or(line.len(), |(byte, _)| byte)
}

impl fmt::Display for Drawn {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Drawn {}

impl miette::Diagnostic for Drawn {
    fn severity(&self) -> Option<miette::Severity> {
        Some(self.severity)
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help.as_ref().map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn miette::SourceCode> {
        self.source.as_ref().map(|source| source as &dyn miette::SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().cloned()))
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn miette::Diagnostic> + 'a>> {
        if self.elsewhere.is_empty() {
            return None;
        }
        Some(Box::new(self.elsewhere.iter().map(|other| other as &dyn miette::Diagnostic)))
    }
}

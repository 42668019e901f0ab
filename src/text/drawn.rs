//! A [`Diagnostic`] handed to miette, which draws it for a terminal.
//!
//! Only the lines that are shown are handed over, each at its own number, so that nothing here
//! needs the file again.
use super::diagnostic::{Diagnostic, Related, Severity};
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
    pub fn of(diagnostic: &Diagnostic) -> Self {
        let mut sheet = Sheet::default();
        let here = |other: &&Related| other.file == diagnostic.file;
        let mut marks: Vec<(usize, usize, usize, &str, &str)> = vec![(
            diagnostic.line,
            diagnostic.column,
            diagnostic.len,
            &diagnostic.label,
            &diagnostic.source_line,
        )];
        marks.extend(diagnostic.related.iter().filter(here).map(mark_of));
        marks.sort_unstable();
        for mark in marks {
            sheet.add(mark);
        }
        let elsewhere = diagnostic.related.iter().filter(|other| !here(other)).map(Drawn::elsewhere);
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
            labels: sheet.labels,
            source: (!sheet.text.is_empty()).then(|| Lines::new(&diagnostic.file, sheet.text)),
            elsewhere: elsewhere.collect(),
        }
    }

    fn elsewhere(other: &Related) -> Self {
        let mut sheet = Sheet::default();
        sheet.add(mark_of(other));
        Drawn {
            message: format!("{} in {}", other.label, other.file),
            severity: miette::Severity::Advice,
            help: None,
            labels: sheet.labels,
            source: Some(Lines::new(&other.file, sheet.text)),
            elsewhere: Vec::new(),
        }
    }
}

fn mark_of(other: &Related) -> (usize, usize, usize, &str, &str) {
    (other.line, other.column, other.len, &other.label, &other.source_line)
}

/// A source that holds only the lines that are shown, each at its own number.
#[derive(Default)]
struct Sheet {
    text: String,
    lines: usize,
    labels: Vec<LabeledSpan>,
    /// Where the last line starts.
    start: usize,
}

impl Sheet {
    /// Marks come in the order of lines.
    fn add(&mut self, (line, column, len, label, text): (usize, usize, usize, &str, &str)) {
        if line == 0 || text.is_empty() {
            return;
        }
        if line > self.lines {
            while self.lines + 1 < line {
                self.text.push('\n');
                self.lines += 1;
            }
            self.start = self.text.len();
            self.text.push_str(text);
            self.text.push('\n');
            self.lines = line;
        }
        let from = byte_of(text, column.saturating_sub(1));
        let to = byte_of(text, column.saturating_sub(1) + len.max(1));
        let label = (!label.is_empty()).then(|| label.to_owned());
        let span = SourceSpan::from((self.start + from, to - from));
        self.labels.push(LabeledSpan::new_primary_with_span(label, span));
    }
}

/// A named text that always shows whole lines.
#[derive(Debug)]
struct Lines {
    file: String,
    text: String,
}

impl Lines {
    fn new(file: &str, text: String) -> Self {
        Lines { file: file.to_owned(), text }
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
        let lines = self.text[start..end].matches('\n').count();
        Ok(Box::new(MietteSpanContents::new_named(
            self.file.clone(),
            &self.text.as_bytes()[start..end],
            (start, end - start).into(),
            line,
            head[start..].chars().count(),
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

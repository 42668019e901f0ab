//! The text of one file, and how bytes of it become lines and columns.
use super::diagnostic::{Diagnostic, Related};
use std::ops::Range;

/// Longer lines are not shown in a diagnostic.
const LONGEST_LINE: usize = 400;

/// The most bytes of a YAML file that are read; a job of a hundred inlets is a tenth of that.
pub const MOST_BYTES: usize = 1 << 20;

/// A file's text with its name.
#[derive(Debug)]
pub struct Source<'t> {
    pub file: &'t str,
    pub text: &'t str,
    starts: Vec<usize>,
    /// Lines of the file above this text, where it is a part of a longer one.
    above: usize,
}

/// Some bytes of a file as they are shown: counted from 1 in characters, with their line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Marked {
    pub line: usize,
    pub column: usize,
    pub len: usize,
    pub source_line: String,
}

impl<'t> Source<'t> {
    /// A byte order mark at the start is left out.
    pub fn new(file: &'t str, text: &'t str) -> Self {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let breaks = text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(i, _)| i + 1);
        Source { file, text, starts: std::iter::once(0).chain(breaks).collect(), above: 0 }
    }

    /// The same text as a part of the file, with so many lines above it.
    pub fn below(mut self, above: usize) -> Self {
        self.above = above;
        self
    }

    /// The line of the file, from 1, in which a byte of the text stands.
    pub fn line(&self, byte: usize) -> usize {
        self.above + self.starts.partition_point(|start| *start <= byte).max(1)
    }

    /// Line, column and length of those bytes; what runs over the end of its line is cut there.
    pub fn mark(&self, bytes: Range<usize>) -> Marked {
        let start = self.boundary(bytes.start);
        let line = self.starts.partition_point(|s| *s <= start).max(1);
        let from = self.starts[line - 1];
        let shown = self.text[from..].split(['\n', '\r']).next().unwrap_or("");
        let start = start.min(from + shown.len());
        let end = self.boundary(bytes.end).clamp(start, from + shown.len());
        Marked {
            line: line + self.above,
            column: self.text[from..start].chars().count() + 1,
            len: self.text[start..end].chars().count(),
            source_line: printable(shown),
        }
    }

    /// Byte at which character number `n` of the text starts.
    pub fn byte_of_char(&self, n: usize) -> usize {
        self.text.char_indices().nth(n).map_or(self.text.len(), |(byte, _)| byte)
    }

    /// Byte of the text at a line and column of the file; the end of the text where it has none such.
    pub fn byte_at(&self, line: usize, column: usize) -> usize {
        let Some(&start) = line.checked_sub(self.above + 1).and_then(|nth| self.starts.get(nth)) else {
            return self.text.len();
        };
        let within = self.text[start..].split('\n').next().unwrap_or("");
        within.char_indices().nth(column.saturating_sub(1)).map_or(start + within.len(), |(at, _)| start + at)
    }

    /// A diagnostic about those bytes.
    pub fn diagnostic(&self, bytes: Range<usize>, message: String, label: String) -> Diagnostic {
        let place = self.mark(bytes);
        Diagnostic {
            severity: Default::default(),
            file: self.file.to_owned(),
            line: place.line,
            column: place.column,
            len: place.len,
            message,
            label,
            help: None,
            related: Vec::new(),
            source_line: place.source_line,
        }
    }

    /// Another place of the same file.
    pub fn related(&self, bytes: Range<usize>, label: &str) -> Related {
        let place = self.mark(bytes);
        Related {
            file: self.file.to_owned(),
            line: place.line,
            column: place.column,
            len: place.len,
            label: label.to_owned(),
            source_line: place.source_line,
        }
    }

    fn boundary(&self, byte: usize) -> usize {
        let byte = byte.min(self.text.len());
        (0..=byte).rev().find(|b| self.text.is_char_boundary(*b)).unwrap_or(0)
    }
}

/// A line with control characters made harmless, one for one; empty where it is too long.
fn printable(line: &str) -> String {
    if line.len() > LONGEST_LINE {
        return String::new();
    }
    let harmless = |c: char| match c {
        '\t' => ' ',
        c if is_odd(c) => '\u{fffd}',
        c => c,
    };
    line.chars().map(harmless).collect()
}

/// Whether a character moves a terminal's cursor or turns the direction of writing.
pub fn is_odd(c: char) -> bool {
    c.is_control() || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// The text of a file; refuses what is binary, not UTF-8, or too large to be meant.
pub fn decode<'t>(file: &str, bytes: &'t [u8]) -> Result<&'t str, Vec<Diagnostic>> {
    if bytes.len() > MOST_BYTES {
        return Err(too_large(file, bytes.len() as u64));
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        let help = Some("save it as UTF-8");
        return Err(vec![Diagnostic::of_file(file, "the file is UTF-16, not UTF-8", help)]);
    }
    if bytes.contains(&0) {
        let help = Some("put a text file in its place");
        return Err(vec![Diagnostic::of_file(file, "the file is binary, not text", help)]);
    }
    std::str::from_utf8(bytes).map_err(|error| {
        let good = std::str::from_utf8(&bytes[..error.valid_up_to()]).unwrap_or("");
        let place = Source::new(file, good).mark(good.len()..good.len());
        let message = "the file is not UTF-8 from here on";
        vec![Diagnostic {
            line: place.line,
            column: place.column,
            len: 1,
            ..Diagnostic::of_file(file, message, Some("save it as UTF-8"))
        }]
    })
}

/// The refusal of a file that is too large.
pub fn too_large(file: &str, bytes: u64) -> Vec<Diagnostic> {
    let message = format!("the file has {bytes} bytes, more than the {MOST_BYTES} that are read");
    vec![Diagnostic::of_file(file, message, Some("split it into smaller files"))]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_lines_and_characters() {
        let source = Source::new("a", "\u{feff}é: 1\r\nb: 22\n");
        assert_eq!(source.mark(4..5).column, 4);
        let place = source.mark(10..12);
        assert_eq!((place.line, place.column, place.len, place.source_line.as_str()), (2, 4, 2, "b: 22"));
        assert_eq!(source.mark(900..901).line, 3);
        assert_eq!((source.byte_at(1, 2), source.byte_at(2, 4), source.byte_at(9, 1)), (2, 10, 13));
    }

    #[test]
    fn refuses_what_is_not_text() {
        let message = |bytes: &[u8]| decode("a", bytes).unwrap_err().remove(0).message;
        assert_eq!(message(b"a: \0"), "the file is binary, not text");
        assert_eq!(message(b"\xff\xfea\0"), "the file is UTF-16, not UTF-8");
        let bad = decode("a", b"a: 1\nb: \xe9").unwrap_err().remove(0);
        assert_eq!((bad.line, bad.column), (2, 4));
        assert!(message(&vec![b'a'; MOST_BYTES + 1]).contains("more than the 1048576 that are read"));
    }
}

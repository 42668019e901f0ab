//! The text of one file, and how bytes of it become lines and columns.
use super::diagnostic::{Diagnostic, Related};
use std::ops::Range;

/// The most characters of a line that a diagnostic shows: what a terminal and a page have room for. A longer
/// line is shown around its mark.
const WIDEST_SHOWN: usize = 96;

/// The most bytes of a YAML file that are read; a job of fifty inlets is a twentieth of that.
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
    /// How many characters of the line are left out before `source_line`.
    pub skipped: usize,
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
        let (before, len) = (self.text[from..start].chars().count(), self.text[start..end].chars().count());
        let (shown, skipped) = window(shown, before, len, WIDEST_SHOWN);
        Marked { line: line + self.above, column: before + 1, len, source_line: printable(&shown), skipped }
    }

    /// Line and column alone, for a place that nothing is wrong with yet.
    pub fn place(&self, byte: usize) -> (usize, usize) {
        let start = self.boundary(byte);
        let line = self.starts.partition_point(|s| *s <= start).max(1);
        (line + self.above, self.text[self.starts[line - 1]..start].chars().count() + 1)
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
            skipped: place.skipped,
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
            skipped: place.skipped,
        }
    }

    fn boundary(&self, byte: usize) -> usize {
        let byte = byte.min(self.text.len());
        (0..=byte).rev().find(|b| self.text.is_char_boundary(*b)).unwrap_or(0)
    }
}

/// At most `most` characters of a line around a mark, with `…` where it is cut, and how many characters are
/// left out before it.
pub fn window(line: &str, before: usize, len: usize, most: usize) -> (String, usize) {
    let most = most.max(8);
    let count = line.chars().count();
    if count <= most {
        return (line.to_owned(), 0);
    }
    let mark = len.min(most / 2);
    let from = match before + mark < most {
        true => 0,
        false => (before - (most - mark) / 2).min(count - most),
    };
    let shown = line.chars().skip(from).take(most).enumerate().map(|(at, c)| match at {
        0 if from > 0 => '…',
        at if at + 1 == most && from + most < count => '…',
        _ => c,
    });
    (shown.collect(), from)
}

/// A line with control characters made harmless, one for one.
fn printable(line: &str) -> String {
    let harmless = |c: char| match c {
        '\t' => ' ',
        c if is_odd(c) => '\u{fffd}',
        c => c,
    };
    line.chars().map(harmless).collect()
}

/// Whether a character moves a terminal's cursor, turns the direction of writing, or is there unseen.
///
/// The joiners of Persian and of emoji (U+200C, U+200D) are letters of their words, and are let pass.
pub fn is_odd(c: char) -> bool {
    turns(c)
        || matches!(
            c,
            '\u{ad}'
                | '\u{61c}'
                | '\u{180e}'
                | '\u{200b}'
                | '\u{200e}'
                | '\u{200f}'
                | '\u{2028}'
                | '\u{2029}'
        )
        || matches!(c, '\u{2060}'..='\u{2064}' | '\u{206a}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}')
        || matches!(c, '\u{e0000}'..='\u{e007f}')
}

/// Whether a character moves a terminal's cursor or turns the direction of what follows it: text that holds
/// one does not read as it is written.
pub fn turns(c: char) -> bool {
    c.is_control() || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Text for a terminal: what moves its cursor is shown as a sign, but for the ends of lines.
pub fn harmless(text: &str) -> String {
    text.chars().map(|c| if is_odd(c) && c != '\n' { '\u{fffd}' } else { c }).collect()
}

/// The text of a file; refuses what is binary, not UTF-8, or too large to be meant.
pub fn decode<'t>(file: &str, bytes: &'t [u8]) -> Result<&'t str, Vec<Diagnostic>> {
    if bytes.len() > MOST_BYTES {
        return Err(too_large(file, bytes.len() as u64));
    }
    if is_utf16(bytes) {
        return Err(vec![Diagnostic::of_file(file, "the file is UTF-16, not UTF-8", Some(SAVE_AS))]);
    }
    if bytes.contains(&0) {
        let help = Some("put a text file in its place");
        return Err(vec![Diagnostic::of_file(file, "the file is no text, but a program's own format", help)]);
    }
    std::str::from_utf8(bytes).map_err(|error| vec![not_utf8(file, bytes, error.valid_up_to())])
}

/// How a file gets the encoding that is read.
const SAVE_AS: &str = "in the editor choose Save As, and UTF-8 as the encoding";

/// Either mark at the beginning, or every other byte of its first line nought.
fn is_utf16(bytes: &[u8]) -> bool {
    let head = &bytes[..bytes.len().min(64) & !1];
    let nought = |at: usize| head.len() >= 8 && head.iter().skip(at).step_by(2).all(|byte| *byte == 0);
    bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) || nought(0) || nought(1)
}

/// The first letter that is of another encoding, in its line.
fn not_utf8(file: &str, bytes: &[u8], good: usize) -> Diagnostic {
    // Every bad byte becomes one sign, so that the line reads on; what the letter was, nobody can know.
    let text = String::from_utf8_lossy(bytes);
    let source = Source::new(file, &text);
    let at = if bytes.starts_with(b"\xef\xbb\xbf") { good - 3 } else { good };
    let message = "a letter here is saved in another encoding than UTF-8";
    let mut diagnostic = source.diagnostic(at..at + 1, message.into(), "this letter".into());
    diagnostic.len = 1;
    diagnostic.help = Some(format!("type the letter again, and {SAVE_AS}"));
    diagnostic
}

/// The refusal of a file that is too large.
pub fn too_large(file: &str, bytes: u64) -> Vec<Diagnostic> {
    let message = format!("the file has {:.2} MB; at most 1 MB", bytes as f64 / MOST_BYTES as f64);
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
        assert_eq!(message(b"a: \0"), "the file is no text, but a program's own format");
        assert_eq!(message(b"\xff\xfea\0"), "the file is UTF-16, not UTF-8");
        for plain in [b"t\0i\0t\0l\0e\0".as_slice(), b"\0t\0i\0t\0l\0e"] {
            assert_eq!(message(plain), "the file is UTF-16, not UTF-8");
        }
        // A degree sign and a half as Windows-1252 writes them (from memory: 0xB0, 0xBD).
        for (bytes, line) in [
            (b"a: 1\nb: \xb0 x".as_slice(), "b: \u{fffd} x"),
            (b"\xef\xbb\xbfa: 1\nb: \xbd in", "b: \u{fffd} in"),
        ] {
            let bad = decode("a", bytes).unwrap_err().remove(0);
            assert_eq!((bad.line, bad.column, bad.source_line.as_str()), (2, 4, line));
            assert!(bad.help.as_deref().unwrap_or("").contains("UTF-8"), "{bad:?}");
        }
        assert!(message(&vec![b'a'; MOST_BYTES + 500_000]).contains("1.48 MB; at most 1 MB"));
    }

    #[test]
    fn a_long_line_is_shown_around_its_mark() {
        let text = format!("{}word{}", "a".repeat(5_000), "b".repeat(5_000));
        let place = Source::new("a", &text).mark(5_000..5_004);
        assert_eq!((place.column, place.len, place.source_line.chars().count()), (5_001, 4, WIDEST_SHOWN));
        let at = place.column - 1 - place.skipped;
        assert_eq!(place.source_line.chars().skip(at).take(4).collect::<String>(), "word");
        assert!(place.source_line.starts_with('…') && place.source_line.ends_with('…'));
        // A mark longer than the window begins in it.
        let long = Source::new("a", &text).mark(3..9_000);
        assert_eq!((long.skipped, long.source_line.chars().count()), (0, WIDEST_SHOWN));
    }

    proptest::proptest! {
        #[test]
        fn a_window_holds_its_mark(line in ".{0,200}", before in 0_usize..200, len in 0_usize..60, most in 0_usize..120) {
            let count = line.chars().count();
            let before = before.min(count);
            let (shown, skipped) = window(&line, before, len.min(count - before), most);
            proptest::prop_assert!(shown.chars().count() <= most.max(8).min(count));
            proptest::prop_assert!(skipped <= before && before - skipped <= shown.chars().count());
        }
    }
}

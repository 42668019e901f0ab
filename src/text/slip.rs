//! What a person most likely did where YAML breaks off, in words of the office and on the line to mend.
//!
//! A parser stops where it can go no further, which is often a line too late, and speaks of flow mappings
//! and simple keys. Here the lines round that place are looked at again for the slips that people make.
mod within;

use super::diagnostic::Diagnostic;
use super::source::Source;
use std::ops::Range;

/// A slip: the bytes to mark, what is wrong, and what to write instead.
struct Slip {
    bytes: Range<usize>,
    message: String,
    help: String,
}

/// One line of the file, without its end.
#[derive(Clone, Copy)]
struct Line<'t> {
    /// Byte at which it starts.
    start: usize,
    text: &'t str,
}

impl<'t> Line<'t> {
    /// How many spaces stand before its words.
    fn indent(&self) -> usize {
        self.text.len() - self.text.trim_start_matches(' ').len()
    }

    /// Its words, without a list's `- `, and the byte of the file at which they start.
    fn words(&self) -> (usize, &'t str) {
        let mut words = self.text.trim_start();
        while let Some(rest) = words.strip_prefix("- ") {
            words = rest.trim_start();
        }
        let at = self.text.len() - words.len();
        (self.start + at, words.trim_end())
    }

    fn is_empty(&self) -> bool {
        let words = self.text.trim_start();
        words.is_empty() || words.starts_with('#')
    }
}

/// The slip at which YAML broke off at that byte; `found` is what the parser said. `None` where none of
/// the known ones fits.
pub fn slip(source: &Source, at: usize, found: &str) -> Option<Diagnostic> {
    let lines = lines(source.text);
    let here = lines.iter().rposition(|line| line.start <= at).unwrap_or(0);
    let slip = unseen(source.text)
        .or_else(|| blank(&lines, here))
        .or_else(|| quote(&lines, source.text, at, found))
        .or_else(|| mismatched(at, found))
        .or_else(|| unclosed(&lines, source.text, at))
        .or_else(|| around(&lines, here, dash))
        .or_else(|| around(&lines, here, within::in_braces))
        .or_else(|| within::no_dash(&lines, here))
        .or_else(|| around(&lines, here, first_sign))
        .or_else(|| around(&lines, here, colon))
        .or_else(|| two_keys(&lines[here]))
        .or_else(|| around(&lines, here, long_key))
        .or_else(|| after_a_bracket(source.text, at))
        .or_else(|| first_letter(source.text, at, found))
        .or_else(|| indentation(&lines, here))?;
    let mut diagnostic = source.diagnostic(slip.bytes, slip.message, "mend this".into());
    diagnostic.help = Some(slip.help);
    Some(diagnostic)
}

/// A sign with which words cannot begin, on the line of that byte.
pub fn sign(source: &Source, at: usize) -> Option<Diagnostic> {
    let lines = lines(source.text);
    let slip = first_sign(lines.iter().rfind(|line| line.start <= at)?)?;
    let mut diagnostic = source.diagnostic(slip.bytes, slip.message, "mend this".into());
    diagnostic.help = Some(slip.help);
    Some(diagnostic)
}

fn lines(text: &str) -> Vec<Line<'_>> {
    let mut start = 0;
    let mut lines = Vec::new();
    for text in text.split_inclusive('\n') {
        lines.push(Line { start, text: text.trim_end_matches(['\n', '\r']) });
        start += text.len();
    }
    if lines.is_empty() {
        lines.push(Line { start: 0, text: "" });
    }
    lines
}

/// Looks at the line where it broke off, then at the one before, where the slip often is.
fn around(lines: &[Line], here: usize, look: fn(&Line) -> Option<Slip>) -> Option<Slip> {
    let before = (0..here).rev().find(|i| !lines[*i].is_empty());
    look(&lines[here]).or_else(|| before.and_then(|i| look(&lines[i])))
}

/// A control character anywhere; YAML stops at one, and says so of another.
fn unseen(text: &str) -> Option<Slip> {
    let odd = |c: char| c.is_control() && !matches!(c, '\n' | '\r' | '\t');
    let (at, c) = text.char_indices().find(|(_, c)| odd(*c))?;
    Some(Slip {
        bytes: at..at + c.len_utf8(),
        message: "a character stands here that cannot be seen or printed".into(),
        help: "type the line again in plain letters".into(),
    })
}

/// A tab, or a blank that is no plain space, among those that a line begins with or after its `:`; the parser
/// may tell it on the line above.
fn blank(lines: &[Line], here: usize) -> Option<Slip> {
    let last = (here + 1).min(lines.len() - 1);
    lines[..=last].iter().filter(|line| !line.is_empty()).find_map(|line| {
        let lead = line.text.len() - line.text.trim_start().len();
        let (at, c) = line.text[..lead].char_indices().find(|(_, c)| *c != ' ').or_else(|| {
            let mut pairs = line.text.char_indices().zip(line.text.chars().skip(1));
            pairs.find_map(|((at, c), next)| {
                (matches!(c, ':' | '-') && is_hard(next)).then_some((at + 1, next))
            })
        })?;
        let (message, help) = match c {
            '\t' => ("this line begins with a tab", "use spaces, as many as the lines next to it have"),
            _ => (
                "this blank is a hard space (no-break space), not a plain one",
                "delete it, and type a plain space",
            ),
        };
        let bytes = line.start + at..line.start + at + c.len_utf8();
        Some(Slip { bytes, message: message.into(), help: help.into() })
    })
}

/// A blank that word processors and web pages put in; YAML takes it for a letter.
fn is_hard(c: char) -> bool {
    c.is_whitespace() && !c.is_ascii()
}

fn quote(lines: &[Line], text: &str, at: usize, found: &str) -> Option<Slip> {
    if found.contains("unclosed quote") {
        let mark = text.get(at..)?.chars().next()?;
        let help = match mark {
            '\'' => "put `'` after the last word; where it belongs to the words, put double quotes around the whole".into(),
            _ => format!("put `{mark}` after the last word"),
        };
        let message = "the quote that opens here is never closed".into();
        return Some(Slip { bytes: at..at + mark.len_utf8(), message, help });
    }
    if !found.contains("trailing content after") {
        return None;
    }
    let here = lines.iter().rposition(|line| line.start <= at)?;
    within::quote_left_open(lines, here, at).or_else(|| {
        Some(Slip {
            bytes: at..at + 1,
            message: "there are words after the closing quote".into(),
            help: "put the other kind of quotes around the whole, as in \"the crew's lead\"".into(),
        })
    })
}

fn mismatched(at: usize, found: &str) -> Option<Slip> {
    if !found.contains("mismatched") {
        return None;
    }
    let mut signs = found.chars().filter(|c| matches!(c, '{' | '[' | '}' | ']'));
    let (open, close) = (signs.next()?, signs.next()?);
    let message = format!("the `{open}` that opens here is closed by `{close}`");
    let help = format!("put `{}` before the `{close}`", counterpart(open));
    Some(Slip { bytes: at..at + 1, message, help })
}

/// A bracket that opens before the place where YAML broke off, and that nothing in the file closes.
fn unclosed(lines: &[Line], text: &str, at: usize) -> Option<Slip> {
    let (open_at, open) = open_bracket(text, text.len()).filter(|(open_at, _)| *open_at <= at)?;
    let close = counterpart(open);
    let line = lines.iter().rfind(|line| line.start <= open_at)?;
    let note = open_note(line.text).map(|note| line.start + note).filter(|note| *note > open_at);
    if let Some(note) = note.filter(|note| line.text[note - line.start..].contains(close)) {
        return Some(Slip {
            bytes: note..line.start + line.text.trim_end().len(),
            message: format!("everything after `#` is a note, the closing `{close}` too"),
            help: format!(
                "put `{close}` before the `#`; where the `#` belongs to the words, put them in quotes"
            ),
        });
    }
    let end = note.unwrap_or(line.start + line.text.len());
    let words = text.get(open_at..end)?.trim_end().trim_end_matches(',');
    let message = format!("the `{open}` that opens here is never closed");
    // A list may go on over many lines; a set of keys seldom does.
    let help = match open {
        '{' if (2..40).contains(&words.len()) => format!("write `{words}{close}`"),
        '{' => format!("put `{close}` at the end of this line"),
        _ => format!("put `{close}` where it ends"),
    };
    Some(Slip { bytes: open_at..open_at + 1, message, help })
}

fn counterpart(open: char) -> char {
    if open == '{' { '}' } else { ']' }
}

/// The innermost bracket that is still open at a byte. Quotes and brackets count only where a value may
/// begin, so that `12" pipe` and `5 (old)` open nothing.
fn open_bracket(text: &str, until: usize) -> Option<(usize, char)> {
    let mut open: Vec<(usize, char)> = Vec::new();
    let (mut may_begin, mut before) = (true, ' ');
    let mut letters = text.char_indices().take_while(|(at, _)| *at < until);
    while let Some((at, c)) = letters.next() {
        match c {
            '#' if before.is_whitespace() => {
                letters.by_ref().find(|(_, c)| *c == '\n');
                (may_begin, before) = (true, '\n');
                continue;
            }
            '"' | '\'' if may_begin => {
                letters.by_ref().find(|(_, next)| *next == c);
                may_begin = false;
            }
            '{' | '[' if may_begin => open.push((at, c)),
            '}' | ']' if !open.is_empty() => {
                open.pop();
                may_begin = false;
            }
            ':' | ',' | '\n' => may_begin = true,
            '-' if may_begin => {}
            c if c.is_whitespace() => {}
            _ => may_begin = false,
        }
        before = c;
    }
    open.pop()
}

/// `-run: 16 ft` for `- run: 16 ft`.
fn dash(line: &Line) -> Option<Slip> {
    let words = line.text.trim();
    let rest = words.strip_prefix('-')?;
    if !rest.starts_with(|c: char| c.is_alphabetic() || matches!(c, '{' | '[')) || !rest.contains(':') {
        return None;
    }
    let at = line.start + line.indent();
    Some(Slip {
        bytes: at..at + 1,
        message: "there is no space after the `-`".into(),
        help: format!("write `- {}`", super::clip(rest)),
    })
}

/// `valve door-sealed` and `date:2026-11-30`: a key without `: ` behind it.
fn colon(line: &Line) -> Option<Slip> {
    let (at, words) = line.words();
    let bare = words.split(" #").next().unwrap_or("").trim_end();
    if bare.is_empty()
        || bare.contains(": ")
        || bare.ends_with(':')
        || bare.starts_with(['#', '"', '\'', '{', '['])
    {
        return None;
    }
    let key =
        bare.split([' ', ':']).next().filter(|key| key.chars().all(|c| c.is_alphanumeric() || c == '-'))?;
    let value = bare[key.len()..].trim_start_matches(':').trim_start();
    let (message, better) = match bare[key.len()..].starts_with(':') {
        true => (format!("there is no space after `{key}:`"), format!("{key}: {value}")),
        false if value.is_empty() => (format!("there is no colon after `{key}`"), format!("{key}:")),
        false => (format!("there is no colon after `{key}`"), format!("{key}: {value}")),
    };
    Some(Slip { bytes: at..at + key.len(), message, help: format!("write `{}`", super::clip(&better)) })
}

/// `turn: 90 south, with: x` on one line, or a colon in a title.
fn two_keys(line: &Line) -> Option<Slip> {
    let (at, words) = line.words();
    let (key, value) = words.split_once(": ").filter(|(key, _)| !key.starts_with(['{', '[']))?;
    let second = value.find(": ").or_else(|| value.ends_with(':').then(|| value.len() - 1))?;
    let before = &value[..second];
    let colon = at + key.len() + 2 + second;
    let other = before.rsplit(", ").next().filter(|other| other.len() < before.len());
    if let Some(other) = other.filter(|other| other.chars().all(|c| c.is_ascii_lowercase() || c == '-')) {
        let start = colon - other.len();
        return Some(Slip {
            bytes: start..colon,
            message: format!("`{other}:` is a second key on one line"),
            help: format!(
                "put braces around them, `{{{}}}`, or `{other}:` on its own line under `{}:`",
                super::clip(words),
                super::clip(key)
            ),
        });
    }
    let mark = if value.contains('"') { '\'' } else { '"' };
    Some(Slip {
        bytes: colon..colon + 1,
        message: format!("a colon stands among the words of `{}`", super::clip(key)),
        help: format!("put the words in quotes: `{}: {mark}{}{mark}`", super::clip(key), super::clip(value)),
    })
}

/// A key longer than YAML looks for its colon.
fn long_key(line: &Line) -> Option<Slip> {
    const LONGEST_KEY: usize = 128;
    let (at, words) = line.words();
    let key = words.split(": ").next().filter(|key| key.len() > LONGEST_KEY && key.len() < words.len())?;
    Some(Slip {
        bytes: at..at + key.len(),
        message: format!("these {} letters stand where a key should", key.chars().count()),
        help: "write the key first, then `: ` and the words".into(),
    })
}

/// `[Gull] Cottage`: words after a closed bracket.
fn after_a_bracket(text: &str, at: usize) -> Option<Slip> {
    let line = text.get(..at)?.rsplit('\n').next()?;
    let last = line.trim_end().chars().next_back().filter(|c| matches!(c, ']' | '}'))?;
    let words = text.get(at..)?.split(['\n', '\r']).next()?;
    Some(Slip {
        bytes: at..at + words.len(),
        message: format!("there are words after the closing `{last}`"),
        help: "put quotes around the whole".into(),
    })
}

/// Signs with which words cannot begin.
fn first_letter(text: &str, at: usize, found: &str) -> Option<Slip> {
    let sign = text.get(at..)?.chars().next()?;
    let odd = found.contains("unexpected character") && !sign.is_whitespace() && !sign.is_alphanumeric();
    odd.then(|| Slip {
        bytes: at..at + sign.len_utf8(),
        message: format!("words cannot begin with `{}`", sign.escape_debug()),
        help: "put quotes around the words".into(),
    })
}

/// `name: & Sons`: words that begin with a sign which YAML keeps for itself.
fn first_sign(line: &Line) -> Option<Slip> {
    let (at, words) = line.words();
    let (lead, value) = words.split_once(": ").unwrap_or(("", words));
    let value = value.trim_start();
    let sign = value.chars().next().filter(|c| "&*!|>%@`?-".contains(*c))?;
    let rest = value[1..].trim_start();
    // `|` and `>` alone begin a block of words, and a lone `-` an item.
    if lead.is_empty() || rest.is_empty() || (matches!(sign, '|' | '>') && rest.starts_with(['-', '+', '#']))
    {
        return None;
    }
    let mark = if value.contains('"') { '\'' } else { '"' };
    let at = at + words.len() - value.len();
    Some(Slip {
        bytes: at..at + 1,
        message: format!("words cannot begin with `{sign}`"),
        help: format!("put quotes around them: `{}: {mark}{}{mark}`", super::clip(lead), super::clip(value)),
    })
}

/// A line further in or out than those it belongs with.
fn indentation(lines: &[Line], here: usize) -> Option<Slip> {
    let line = &lines[here];
    let own = line.indent();
    let is_item = |line: &Line| line.text.trim_start().starts_with("- ");
    // The nearest line above of the same sort tells where this one belongs: items by items, keys by keys.
    let alike = lines[..here].iter().rev().filter(|above| !above.is_empty());
    let above = alike
        .filter(|above| is_item(above) == is_item(line))
        .min_by_key(|above| above.indent().abs_diff(own))
        .filter(|above| above.indent() != own)
        .or_else(|| lines[..here].iter().rev().find(|above| !above.is_empty()))?;
    // A key that stands under the dash of the item above belongs under that item's first key.
    let nearest = lines[..here].iter().rev().find(|above| !above.is_empty())?;
    let under_a_dash = !is_item(line) && is_item(nearest) && nearest.indent() == own;
    let above = if under_a_dash { nearest } else { above };
    let (want, (at, words)) = (key_column(above, is_item(line)), line.words());
    if own == want {
        return None;
    }
    let what = words.split([':', ' ']).next().unwrap_or("").to_owned();
    let beside = above.words().1.split([':', ' ']).next().unwrap_or("").to_owned();
    let dash = match under_a_dash {
        true => format!(
            ", not with the dash before it; or put `- ` before `{}`, if it is an item of its own",
            super::clip(&what)
        ),
        false => String::new(),
    };
    Some(Slip {
        bytes: at..at + what.len().max(1),
        message: format!("this line is {} in, and the line it goes with is {}", spaces(own), spaces(want)),
        help: format!("line up `{}` with `{}`{dash}", super::clip(&what), super::clip(&beside)),
    })
}

/// The column at which a line's keys begin; of an item, its dash when items are compared.
fn key_column(line: &Line, by_dash: bool) -> usize {
    match by_dash {
        true => line.indent(),
        false => line.words().0 - line.start,
    }
}

fn spaces(count: usize) -> String {
    if count == 1 { "1 space".into() } else { format!("{count} spaces") }
}

/// Where a note begins in a line that has words before it; not inside quotes.
fn open_note(line: &str) -> Option<usize> {
    let (mut quote, mut before, mut may_begin) = (None, ' ', true);
    for (at, c) in line.char_indices() {
        match (quote, c) {
            (Some(open), c) if c == open => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') if may_begin => quote = Some(c),
            (None, '#') if before.is_whitespace() && at > 0 => return Some(at),
            _ => {}
        }
        may_begin = matches!(c, ':' | ',' | '[' | '{' | '-') || may_begin && c.is_whitespace();
        before = c;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    proptest::proptest! {
        #[test]
        fn never_panics(text in "[a-c:\\-\\[\\]{},\"'#@ \n\t1é]{0,60}", at in 0_usize..70, which in 0_usize..5) {
            let source = Source::new("a", &text);
            let found = ["unclosed quote", "flow mapping", "mismatched bracket '[' closed by '}'",
                "unexpected character", "trailing content after"][which];
            let at = (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
            if let Some(told) = slip(&source, at, found) {
                let _ = (told.render_plain(), told.render(false, 100));
            }
        }
    }
}

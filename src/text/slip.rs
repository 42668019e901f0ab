//! What a person most likely did where YAML breaks off, in words of the office and on the line to mend.
//!
//! A parser stops where it can go no further, which is often a line too late, and speaks of flow mappings
//! and simple keys. Here the lines round that place are looked at again for the slips that people make.
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
    let slip = tab(&lines, here)
        .or_else(|| quote(source.text, at, found))
        .or_else(|| bracket(source.text, at, found))
        .or_else(|| around(&lines, here, dash))
        .or_else(|| around(&lines, here, colon))
        .or_else(|| two_keys(&lines[here]))
        .or_else(|| behind_a_bracket(source.text, at))
        .or_else(|| first_letter(source.text, at, found))
        .or_else(|| indentation(&lines, here))?;
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

/// A tab among the spaces that a line begins with; the parser may tell it on the line above.
fn tab(lines: &[Line], here: usize) -> Option<Slip> {
    let last = (here + 1).min(lines.len() - 1);
    lines[..=last].iter().find_map(|line| {
        let lead = line.text.len() - line.text.trim_start().len();
        let at = line.text[..lead].find('\t')?;
        (!line.is_empty()).then(|| Slip {
            bytes: line.start + at..line.start + at + 1,
            message: "a tab stands at the beginning of this line".into(),
            help: "put spaces in its place, as many as the lines beside it have".into(),
        })
    })
}

fn quote(text: &str, at: usize, found: &str) -> Option<Slip> {
    if found.contains("unclosed quote") {
        let mark = text.get(at..)?.chars().next()?;
        return Some(Slip {
            bytes: at..at + mark.len_utf8(),
            message: "the quote that opens here is never closed".into(),
            help: format!("put `{mark}` behind the last of the words"),
        });
    }
    found.contains("trailing content after").then(|| Slip {
        bytes: at..at + 1,
        message: "words go on behind the closing quote".into(),
        help: "put the other kind of quotes round the whole, as in \"the crew's lead\"".into(),
    })
}

fn bracket(text: &str, at: usize, found: &str) -> Option<Slip> {
    let flow = ["flow mapping", "flow sequence", "unclosed bracket", "mismatched bracket"];
    if !flow.iter().any(|part| found.contains(part)) {
        return None;
    }
    if found.contains("mismatched") {
        let mut signs = found.chars().filter(|c| matches!(c, '{' | '[' | '}' | ']'));
        let (open, close) = (signs.next()?, signs.next()?);
        let message = format!("the `{open}` that opens here is closed by `{close}`");
        let help = format!("put `{}` before the `{close}`", counterpart(open));
        return Some(Slip { bytes: at..at + 1, message, help });
    }
    let (open_at, open) = open_bracket(text, text.len().min(at + 1))?;
    let message = format!("the `{open}` that opens here is never closed");
    let help = format!("put `{}` where it ends", counterpart(open));
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
    if !rest.starts_with(|c: char| c.is_alphabetic()) || !rest.contains(':') {
        return None;
    }
    let at = line.start + line.indent();
    Some(Slip {
        bytes: at..at + 1,
        message: "no space stands between `-` and what it begins".into(),
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
        true => (format!("no space stands behind `{key}:`"), format!("{key}: {value}")),
        false if value.is_empty() => (format!("no colon stands behind `{key}`"), format!("{key}:")),
        false => (format!("no colon stands behind `{key}`"), format!("{key}: {value}")),
    };
    Some(Slip { bytes: at..at + key.len(), message, help: format!("write `{}`", super::clip(&better)) })
}

/// `turn: 90 south, with: x` on one line, or a colon in a title.
fn two_keys(line: &Line) -> Option<Slip> {
    let (at, words) = line.words();
    let (key, value) = words.split_once(": ")?;
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
                "put braces round them, `{{{}}}`, or `{other}:` on its own line under `{}:`",
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

/// `[Gull] Cottage`: words behind a closed bracket.
fn behind_a_bracket(text: &str, at: usize) -> Option<Slip> {
    let line = text.get(..at)?.rsplit('\n').next()?;
    let last = line.trim_end().chars().next_back().filter(|c| matches!(c, ']' | '}'))?;
    let words = text.get(at..)?.split(['\n', '\r']).next()?;
    Some(Slip {
        bytes: at..at + words.len(),
        message: format!("words go on behind the closing `{last}`"),
        help: "put quotes round the whole, or leave out what follows".into(),
    })
}

/// Signs with which words cannot begin.
fn first_letter(text: &str, at: usize, found: &str) -> Option<Slip> {
    let sign = text.get(at..)?.chars().next()?;
    let odd = found.contains("unexpected character") && !sign.is_whitespace();
    odd.then(|| Slip {
        bytes: at..at + sign.len_utf8(),
        message: format!("words cannot begin with `{}`", sign.escape_debug()),
        help: "put quotes round the words".into(),
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
    let (want, (at, words)) = (key_column(above, is_item(line)), line.words());
    let what = words.split([':', ' ']).next().unwrap_or("").to_owned();
    let beside = above.words().1.split([':', ' ']).next().unwrap_or("").to_owned();
    Some(Slip {
        bytes: at..at + what.len().max(1),
        message: format!("this line begins {} in, and the line it follows {}", spaces(own), spaces(want)),
        help: format!("line `{}` up with `{}`", super::clip(&what), super::clip(&beside)),
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

/// Values that ` #` may have cut: a note begins with `# `, so that `Lot #4` was probably meant whole.
///
/// Both readings are told, and the file is read as YAML reads it.
pub fn cut_values(source: &Source) -> Vec<Diagnostic> {
    let cut = |line: &Line| {
        let at = open_note(line.text)?;
        let note = line.text[at + 1..].trim_end();
        let (start, kept) = line.words();
        let kept = kept.get(..(line.start + at).checked_sub(start)?)?.trim_end();
        let (key, value) = kept.split_once(": ").unwrap_or(("", kept));
        if value.is_empty() || value.ends_with(':') || note.starts_with([' ', '#', '!']) || note.is_empty() {
            return None;
        }
        let message = format!(
            "`#{}` is read as a note, so that `{}` is all there is",
            super::clip(note),
            super::clip(value)
        );
        let bytes = line.start + at..line.start + line.text.trim_end().len();
        let mut diagnostic = source.diagnostic(bytes, message, "left out".into()).warning();
        let lead = if key.is_empty() { String::new() } else { format!("{}: ", super::clip(key)) };
        diagnostic.help = Some(format!(
            "if it belongs to the words, write `{lead}\"{} #{}\"`; if it is a note, put a space behind the `#`",
            super::clip(value),
            super::clip(note)
        ));
        Some(diagnostic)
    };
    lines(source.text).iter().filter_map(cut).collect()
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

    fn cut(text: &str) -> Vec<Diagnostic> {
        cut_values(&Source::new("a.yaml", text))
    }

    #[test]
    fn a_value_cut_by_a_note_is_told_with_both_readings() {
        let found = cut("title: Lot #4\n");
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].message, "`#4` is read as a note, so that `Lot` is all there is");
        assert_eq!((found[0].line, found[0].column, found[0].len), (1, 12, 2));
        let help = found[0].help.as_deref().unwrap();
        assert!(help.contains("`title: \"Lot #4\"`") && help.contains("a space behind the `#`"), "{help}");
        assert!(found[0].render_plain().starts_with("warning: "));
        assert_eq!(cut("steps:\n  - address: Dock 3 #B, Port\n")[0].line, 2);
    }

    #[test]
    fn notes_are_let_be() {
        for text in [
            "paper: letter        # letter or a4\n",
            "#title: old\n",
            "  # run: 3 ft\n",
            "title: \"Lot #4\"\n",
            "title: 'Lot #4'\n",
            "by: a#b\n",
            "list:   #first\n  - x\n",
            "title: Gull ## or so\n",
        ] {
            assert!(cut(text).is_empty(), "{text}");
        }
    }

    proptest::proptest! {
        #[test]
        fn never_panics(text in "[a-c:\\-\\[\\]{},\"'#@ \n\t1é]{0,60}", at in 0_usize..70, which in 0_usize..5) {
            let source = Source::new("a", &text);
            let found = ["unclosed quote", "flow mapping", "mismatched bracket '[' closed by '}'",
                "unexpected character", "trailing content after"][which];
            let at = (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
            if let Some(told) = slip(&source, at, found) {
                let _ = (told.render_plain(), told.render(false));
            }
            let _ = cut_values(&source);
        }
    }
}

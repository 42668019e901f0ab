//! Slips within braces, at a dash that was left out, and with a quote that was never closed.
use super::{Line, Slip};
use crate::text::clip;

/// `{kind: bend angle: 90}`, where a comma is missing, and `{up: - 4 ft}`, where the sign stands apart.
pub(super) fn in_braces(line: &Line) -> Option<Slip> {
    let (at, words) = line.words();
    let open = words.find('{').filter(|open| *open == 0 || words[..*open].trim_end().ends_with(':'))?;
    for (start, entry) in entries(&words[open..]) {
        let at = at + open + start;
        let Some((key, value)) = entry.split_once(": ").filter(|(key, _)| is_key(key.trim())) else {
            continue;
        };
        let value_at = at + entry.len() - value.trim_start().len();
        let (key, value) = (key.trim(), value.trim());
        if let Some(figure) = value.strip_prefix("- ").map(str::trim_start) {
            return Some(Slip {
                bytes: value_at..value_at + 1,
                message: "a blank stands between the `-` and its figure".into(),
                help: format!("write `{key}: -{}`", clip(figure)),
            });
        }
        let Some(colon) = value.find(": ") else { continue };
        let second = value[..colon].rsplit(' ').next().filter(|second| is_key(second))?;
        let first = value[..colon - second.len()].trim_end();
        if first.is_empty() {
            continue;
        }
        let second_at = value_at + colon - second.len();
        return Some(Slip {
            bytes: second_at..second_at + second.len(),
            message: format!("there is no comma before `{second}:`"),
            help: format!("write `{key}: {}, {second}: {}`", clip(first), clip(value[colon + 2..].trim())),
        });
    }
    None
}

/// What stands between braces and commas, with the byte at which each begins; quoted words are left out.
fn entries(words: &str) -> Vec<(usize, &str)> {
    let (mut found, mut start, mut quote) = (Vec::new(), 0, None);
    for (at, c) in words.char_indices() {
        match (quote, c) {
            (Some(open), c) if c == open => quote = None,
            (Some(_), _) => {}
            (None, '"') => quote = Some('"'),
            (None, '{' | '}' | '[' | ']' | ',') => {
                found.push((start, &words[start..at]));
                start = at + 1;
            }
            (None, '#') if words[..at].ends_with(' ') => break,
            _ => {}
        }
    }
    found.retain(|(_, entry)| !entry.contains('"'));
    found
}

fn is_key(word: &str) -> bool {
    !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase() || b == b'-')
}

/// `{id: sweep-90, …}` without its dash, among others that have one.
pub(super) fn no_dash(lines: &[Line], here: usize) -> Option<Slip> {
    let filled = |line: &&Line| !line.is_empty();
    let is_bare = |line: &Line| line.text.trim_start().starts_with('{');
    let is_item = |line: &Line| line.text.trim_start().starts_with("- {");
    let before = (0..here).rev().find(|i| !lines[*i].is_empty());
    let which = [Some(here), before].into_iter().flatten().find(|i| is_bare(&lines[*i]))?;
    let above = lines[..which].iter().rev().find(filled);
    let below = lines[which + 1..].iter().find(filled);
    if ![above, below].into_iter().flatten().any(is_item) {
        return None;
    }
    let (at, words) = lines[which].words();
    Some(Slip {
        bytes: at..at + 1,
        message: "there is no dash before this `{`, as the ones next to it have".into(),
        help: format!("write `- {}`", clip(words)),
    })
}

/// Words in quotes that were never closed: the next quote, on a later line, opens what was meant to be quoted
/// there, and so the parser stops behind it.
pub(super) fn quote_left_open(lines: &[Line], here: usize, at: usize) -> Option<Slip> {
    let line = &lines[here];
    let before = line.text.get(..at.checked_sub(line.start)?)?.trim_end();
    let mark = before.chars().next_back().filter(|c| matches!(c, '"' | '\''))?;
    let opens = before[..before.len() - 1].trim_end();
    if !(opens.ends_with(':') || opens.ends_with('-')) {
        return None;
    }
    let opening = |line: &&Line| line.text.matches(mark).count() % 2 == 1;
    let open = lines[..here].iter().rev().find(opening)?;
    let column = open.text.find(mark)?;
    Some(Slip {
        bytes: open.start + column..open.start + column + 1,
        message: "the quote that opens here is never closed".into(),
        help: format!("put `{mark}` after the last word"),
    })
}

//! What a single value may be: words, names, lists, measures, ids, truths, days, one of a few.
use super::Reader;
use crate::measure::{Kind, MeasureError, read_date, read_quantity};
use crate::text::{Node, Value, clip, is_odd, nearest};
use std::ops::Range;

/// A longer name fits in no title block.
const LONGEST_NAME: usize = 120;

/// More letters than any reason, clause or scope has; a whole file was pasted in.
const LONGEST_WORDS: usize = 10_000;

impl Reader<'_> {
    /// The text of a scalar, without the space around it; never empty.
    pub fn text<'n>(&mut self, node: &'n Node, wanted: &str) -> Option<&'n str> {
        match &node.value {
            // A line of a block is no odd character; an escape that moves a terminal's cursor is.
            Value::Text(text) if text.chars().any(|c| is_odd(c) && !matches!(c, '\n' | '\t')) => {
                let message = format!("{wanted} holds a character that cannot be seen or printed");
                self.fail(node.bytes.clone(), message, format!("expected {wanted}")).help =
                    Some("type it again in plain letters".into());
                None
            }
            Value::Text(text) if text.chars().count() > LONGEST_WORDS => {
                let letters = text.chars().count();
                let message = format!("{wanted} has {letters} letters; at most {LONGEST_WORDS}");
                self.fail(node.bytes.clone(), message, format!("expected {wanted}")).help =
                    Some("say it in fewer words".into());
                None
            }
            Value::Text(text) if !text.trim().is_empty() => Some(text.trim()),
            Value::Text(_) => {
                self.fail(node.bytes.clone(), format!("{wanted} is empty"), format!("expected {wanted}"));
                None
            }
            _ => {
                self.mistyped(node, wanted);
                None
            }
        }
    }

    /// A name or title: text short enough for a title block.
    pub fn name<'n>(&mut self, node: &'n Node, wanted: &str) -> Option<&'n str> {
        let text = self.text(node, wanted)?;
        let letters = text.chars().count();
        if letters > LONGEST_NAME {
            let message = format!("{wanted} has {letters} letters; at most {LONGEST_NAME}");
            self.fail(node.bytes.clone(), message, format!("expected {wanted}")).help =
                Some("write a short name; it stands in the title block of every sheet".into());
            return None;
        }
        Some(text)
    }

    /// The items of a list.
    pub fn list<'n>(&mut self, node: &'n Node, wanted: &str) -> Option<&'n [Node]> {
        match &node.value {
            Value::List(list) => Some(list),
            _ => {
                let help = match &node.value {
                    Value::Text(text)
                        if text.len() <= 40 && text.contains(',') && !text.contains(['\n', ':', '{']) =>
                    {
                        format!(
                            "write a list, `[{}]`, or each on its own line with `- ` before it",
                            clip(text)
                        )
                    }
                    // `hall:` with its keys below, where `- id: hall` was wanted.
                    Value::Map(map) if is_named_set(map) => {
                        let name = map.first().map_or("", |(key, _)| key_text(key));
                        format!("begin each with a dash and its id, `- id: {}`, its keys below", clip(name))
                    }
                    _ => "put `- ` before each of them".into(),
                };
                self.mistyped(node, wanted).help = Some(help);
                None
            }
        }
    }

    /// A measure with its unit, in SI.
    pub fn quantity(&mut self, node: &Node, kind: Kind) -> Option<f64> {
        let Value::Text(text) = &node.value else {
            self.mistyped(node, &format!("{}, like {}", kind.a(), kind.example()));
            return None;
        };
        match read_quantity(text, kind) {
            Ok(value) => Some(value),
            Err(error) => {
                self.measure_fault(node, 0, &error, kind);
                None
            }
        }
    }

    /// A measure that is more than nought.
    pub fn above_zero(&mut self, node: &Node, kind: Kind, what: &str) -> Option<f64> {
        let value = self.quantity(node, kind)?;
        if value > 0.0 {
            return Some(value);
        }
        let message = format!("{what} is zero");
        self.fail(node.bytes.clone(), message, "expected more than zero").help =
            Some("write what it measures".into());
        None
    }

    /// A plain number of nought or more.
    pub fn number(&mut self, node: &Node, what: &str) -> Option<f64> {
        let value = self.quantity(node, Kind::Plain)?;
        if value >= 0.0 {
            return Some(value);
        }
        self.fail(node.bytes.clone(), format!("{what} is negative"), "expected zero or more");
        None
    }

    /// Tells a measure's fault under its exact characters; `shift` is where the measure starts in the
    /// node's text.
    pub fn measure_fault(&mut self, node: &Node, shift: usize, error: &MeasureError, kind: Kind) {
        let bytes = self.inside(node, error.at.start + shift..error.at.end + shift);
        let label = format!("expected {}, like {}", kind.a(), kind.example());
        self.fail(bytes, error.to_string(), label).help = error.fault.help();
    }

    /// Bytes of the file for bytes of a scalar's text; the whole scalar where quotes or folds moved them.
    pub fn inside(&self, node: &Node, part: Range<usize>) -> Range<usize> {
        let Value::Text(text) = &node.value else {
            return self.mark_of(node);
        };
        let raw = self.source.text.get(node.bytes.clone()).unwrap_or("");
        let quoted = raw.get(1..raw.len().saturating_sub(1)).is_some_and(|within| within == text);
        let start = node.bytes.start + usize::from(quoted);
        if part.is_empty() || !(quoted || raw == text) {
            return node.bytes.clone();
        }
        start + part.start..start + part.end
    }

    /// An id: letters, digits, `-` and `_`.
    pub fn id<'n>(&mut self, node: &'n Node, what: &str) -> Option<&'n str> {
        let id = self.text(node, what)?;
        let odd = id.char_indices().find(|(_, c)| !(c.is_ascii_alphanumeric() || matches!(c, '-' | '_')));
        if let Some((at, c)) = odd {
            let bytes = self.inside(node, at..at + c.len_utf8());
            let message = format!("the id `{}` holds `{}`", clip(id), c.escape_debug());
            self.fail(bytes, message, "expected letters, digits, - and _").help =
                Some("ids become file names; write a short one like `hall`".into());
            return None;
        }
        if id.len() > 60 {
            self.fail(node.bytes.clone(), "this id is longer than 60 characters", "expected a short id");
            return None;
        }
        Some(id)
    }

    /// A truth value.
    pub fn truth(&mut self, node: &Node) -> Option<bool> {
        self.one_of(node, "true or false", &[("true", true), ("false", false), ("yes", true), ("no", false)])
    }

    /// One of a few words.
    pub fn one_of<T: Copy>(&mut self, node: &Node, wanted: &str, words: &[(&str, T)]) -> Option<T> {
        let text = self.text(node, wanted)?;
        let found = words.iter().find(|(word, _)| word.eq_ignore_ascii_case(text)).map(|(_, value)| *value);
        if found.is_none() {
            let names: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            let bytes = self.mark_of(node);
            self.unknown(bytes, text, wanted, &names);
        }
        found
    }

    /// One of the ids that exist; gives its place among them.
    pub fn known(&mut self, node: &Node, what: &str, of: &str, ids: &[&str]) -> Option<usize> {
        let id = self.text(node, &format!("the {what}"))?;
        let found = ids.iter().position(|known| *known == id);
        if found.is_none() {
            let help = match (nearest(id, ids.iter().copied()), ids.is_empty()) {
                (Some(near), _) => format!("write `{near}`"),
                (None, true) => format!("add it; {of} has none yet"),
                (None, false) => format!("use one of: {}", ids.join(", ")),
            };
            let message = format!("{of} has no {what} `{}`", clip(id));
            self.fail(node.bytes.clone(), message, format!("unknown {what}")).help = Some(help);
        }
        found
    }

    fn unknown(&mut self, bytes: Range<usize>, text: &str, wanted: &str, names: &[&str]) {
        let help = match nearest(text, names.iter().copied()) {
            Some(near) => format!("write `{near}`"),
            None => format!("use one of: {}", names.join(", ")),
        };
        let message = format!("`{}` is not {wanted}", clip(text));
        self.fail(bytes, message, format!("expected {}", names.join(", "))).help = Some(help);
    }

    /// A calendar day.
    pub fn date(&mut self, node: &Node) -> Option<jiff::civil::Date> {
        let text = self.text(node, "a date, like 2026-11-30")?;
        read_date(text)
            .map_err(|error| {
                let bytes = node.bytes.clone();
                self.fail(bytes, error.to_string(), "expected a date, like 2026-11-30").help =
                    error.fault.help();
            })
            .ok()
    }
}

fn key_text(key: &Node) -> &str {
    match &key.value {
        Value::Text(name) => name,
        _ => "",
    }
}

/// Whether every value of a set is a set itself, so that its keys are names.
fn is_named_set(map: &[(Node, Node)]) -> bool {
    !map.is_empty() && map.iter().all(|(_, value)| matches!(value.value, Value::Map(_)))
}

//! YAML text to a tree in which every node knows its bytes and every scalar keeps its own text.
//!
//! YAML guesses types (`0x10` becomes sixteen, `yes` becomes true). Here nothing is guessed: the
//! decoder that asks for a length or a word gets the text as it stands in the file.
use super::diagnostic::Diagnostic;
use super::slip::{sign, slip};
use super::source::{MOST_BYTES, Source, too_large};
use serde::de::{Deserialize, Deserializer, Error as _, MapAccess, SeqAccess, Visitor};
use serde_yaml::budget::BudgetBreach;
use serde_yaml::{DuplicateKeyPolicy, Error, MergeKeyPolicy, NonFiniteFloatPolicy, Options, Spanned};
use std::fmt;
use std::ops::Range;

/// Deeper nesting than any file of ours has; also keeps the reading of it off the end of the stack.
const DEEPEST: usize = 24;
/// More values than any file of ours has.
const MOST_NODES: usize = 40_000;

/// A value with the bytes of the text that it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    pub value: Value,
    pub bytes: Range<usize>,
}

/// What stands in a file. It cannot hold an anchor, an alias or a merge: those are refused.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Nothing, `~` or `null`.
    Null,
    /// A scalar: the text in the file, or between its quotes.
    Text(String),
    List(Vec<Node>),
    /// Keys in order, duplicates kept.
    Map(Vec<(Node, Node)>),
}

impl Node {
    /// The value of a key, where this is a mapping that holds it.
    pub fn get(&self, key: &str) -> Option<&Node> {
        let Value::Map(map) = &self.value else { return None };
        map.iter().find(|(name, _)| name.value == Value::Text(key.into())).map(|(_, value)| value)
    }
}

impl Value {
    /// `a list`, for "found a list".
    pub fn what(&self) -> &'static str {
        match self {
            Value::Null => "nothing",
            Value::Text(_) => "text",
            Value::List(_) => "a list",
            Value::Map(_) => "a set of keys",
        }
    }
}

/// Reads one YAML document; an empty one is [`Value::Null`].
pub fn read_tree(source: &Source) -> Result<Node, Vec<Diagnostic>> {
    if source.text.len() > MOST_BYTES {
        return Err(too_large(source.file, source.text.len() as u64));
    }
    let raw: Raw =
        serde_yaml::from_str_with_options(source.text, options()).map_err(|e| vec![refuse(source, &e)])?;
    short_lines(source)?;
    Ok(raw.settle(source.text))
}

/// Longer lines than any file of ours has; every place on a line is counted from its beginning, so that a
/// file of one line would take minutes.
const LONGEST_LINE: usize = 20_000;

/// Refuses a line that is too long to count places on.
fn short_lines(source: &Source) -> Result<(), Vec<Diagnostic>> {
    let mut start = 0;
    for line in source.text.split_inclusive('\n') {
        if line.len() > LONGEST_LINE {
            let message = format!("this line has {} letters; at most {LONGEST_LINE}", line.len());
            let mut diagnostic = source.diagnostic(start..start + 1, message, "a line without an end".into());
            diagnostic.help = Some("write one thing to a line".into());
            return Err(vec![diagnostic]);
        }
        start += line.len();
    }
    Ok(())
}

fn options() -> Options {
    serde_yaml::options! {
        duplicate_keys: DuplicateKeyPolicy::PassThrough,
        merge_keys: MergeKeyPolicy::AsOrdinary,
        non_finite_float_policy: NonFiniteFloatPolicy::PassThrough,
        reject_unsupported_tags: true,
        with_snippet: false,
        budget: serde_yaml::budget! {
            max_depth: DEEPEST,
            flow_nesting_limit: DEEPEST,
            max_nodes: MOST_NODES,
            max_events: 4 * MOST_NODES,
            max_documents: 1,
            max_anchors: 0,
            max_aliases: 0,
        },
    }
}

/// A node as the parser gives it, before its text is taken from the source.
struct Raw {
    value: RawValue,
    bytes: Range<usize>,
}

enum RawValue {
    Null,
    /// A string; the parser has undone quotes and folds.
    Text(String),
    /// A scalar that YAML takes for a number or truth value; its text is in the source.
    Guessed,
    List(Vec<Raw>),
    Map(Vec<(Raw, Raw)>),
}

impl Raw {
    fn settle(self, text: &str) -> Node {
        let value = match self.value {
            RawValue::Null => Value::Null,
            RawValue::Text(text) => Value::Text(text),
            RawValue::Guessed => Value::Text(text.get(self.bytes.clone()).unwrap_or("").trim().to_owned()),
            RawValue::List(list) => Value::List(list.into_iter().map(|raw| raw.settle(text)).collect()),
            RawValue::Map(map) => Value::Map(
                map.into_iter().map(|(key, value)| (key.settle(text), value.settle(text))).collect(),
            ),
        };
        Node { value, bytes: self.bytes }
    }
}

impl<'de> Deserialize<'de> for Raw {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let spanned = Spanned::<RawValue>::deserialize(deserializer)?;
        let span = spanned.referenced.span();
        let (Some(start), Some(len)) = (span.byte_offset(), span.byte_len()) else {
            return Err(D::Error::custom("a value without a place in the file"));
        };
        let start = usize::try_from(start).map_err(D::Error::custom)?;
        let len = usize::try_from(len).map_err(D::Error::custom)?;
        Ok(Raw { value: spanned.value, bytes: start..start.saturating_add(len) })
    }
}

impl<'de> Deserialize<'de> for RawValue {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(AnyValue)
    }
}

struct AnyValue;

impl<'de> Visitor<'de> for AnyValue {
    type Value = RawValue;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a value")
    }

    fn visit_unit<E>(self) -> Result<RawValue, E> {
        Ok(RawValue::Null)
    }

    fn visit_none<E>(self) -> Result<RawValue, E> {
        Ok(RawValue::Null)
    }

    fn visit_some<D: Deserializer<'de>>(self, deserializer: D) -> Result<RawValue, D::Error> {
        deserializer.deserialize_any(self)
    }

    fn visit_bool<E>(self, _: bool) -> Result<RawValue, E> {
        Ok(RawValue::Guessed)
    }

    fn visit_i64<E>(self, _: i64) -> Result<RawValue, E> {
        Ok(RawValue::Guessed)
    }

    fn visit_u64<E>(self, _: u64) -> Result<RawValue, E> {
        Ok(RawValue::Guessed)
    }

    fn visit_i128<E>(self, _: i128) -> Result<RawValue, E> {
        Ok(RawValue::Guessed)
    }

    fn visit_u128<E>(self, _: u128) -> Result<RawValue, E> {
        Ok(RawValue::Guessed)
    }

    fn visit_f64<E>(self, _: f64) -> Result<RawValue, E> {
        Ok(RawValue::Guessed)
    }

    fn visit_str<E>(self, text: &str) -> Result<RawValue, E> {
        Ok(RawValue::Text(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<RawValue, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = seq.next_element()? {
            list.push(item);
        }
        Ok(RawValue::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<RawValue, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            entries.push(entry);
        }
        Ok(RawValue::Map(entries))
    }
}

/// The parser's refusal in our words.
fn refuse(source: &Source, error: &Error) -> Diagnostic {
    let bytes = error.location().map_or(0..0, |location| {
        let span = location.span();
        match span.byte_offset().and_then(|b| usize::try_from(b).ok()) {
            Some(start) if start < source.text.len() => start..start + 1,
            _ => {
                let start = source.byte_of_char(usize::try_from(span.offset()).unwrap_or(usize::MAX));
                start..start + 1
            }
        }
    });
    let (message, help) = words(error);
    if message == BEGINS
        && let Some(mut slip) = sign(source, bytes.start)
    {
        slip.help = Some(help.into());
        return slip;
    }
    if let Some(slip) = message.strip_prefix(BREAKS_OFF).and_then(|found| slip(source, bytes.start, found)) {
        return slip;
    }
    let mut diagnostic = source.diagnostic(bytes, message, "this is as far as it reads".into());
    diagnostic.help = Some(help.into());
    diagnostic
}

/// An anchor or alias, which a crew lead has never heard of.
const BEGINS: &str = "a value begins with `&` or `*`, which is not read";
/// What to do about one.
const QUOTE_IT: &str = "put quotes around the words; a value for several places is written out in each";

/// How the refusal begins where the parser could not go on.
const BREAKS_OFF: &str = "the file cannot be read on from here: ";

fn words(error: &Error) -> (String, &'static str) {
    match error.without_snippet() {
        Error::Budget { breach, .. } => match breach {
            BudgetBreach::Anchors { .. } | BudgetBreach::Aliases { .. } => (BEGINS.into(), QUOTE_IT),
            BudgetBreach::Documents { .. } => (
                "the file goes on after a line `---`".into(),
                "leave the `---` out, or put what follows in a file of its own",
            ),
            BudgetBreach::Depth { .. } => too_deep(),
            _ => (
                format!("the file holds too many values; at most {MOST_NODES}"),
                "split it into smaller files",
            ),
        },
        Error::MultipleDocuments { .. } => (
            "the file goes on after a line `---`".into(),
            "leave the `---` out, or put what follows in a file of its own",
        ),
        Error::UnknownAnchor { .. } => (BEGINS.into(), QUOTE_IT),
        other => {
            let mut found = other.render_with_formatter(&serde_yaml::UserMessageFormatter);
            if let Some(cut) = found.rfind(" at line ") {
                found.truncate(cut);
            }
            if found.contains("recursion limit") {
                return too_deep();
            }
            (
                format!("{BREAKS_OFF}{}", found.replace(['\n', '\r'], " ")),
                "check the indents, quotes and brackets here and just above",
            )
        }
    }
}

fn too_deep() -> (String, &'static str) {
    (
        format!("brackets or indents go more than {DEEPEST} deep"),
        "look for a bracket that is not closed, or lines that step in again and again",
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn tree(text: &str) -> Result<Node, Box<Diagnostic>> {
        read_tree(&Source::new("a.yaml", text)).map_err(|mut found| Box::new(found.remove(0)))
    }

    fn texts(text: &str) -> Vec<String> {
        let Value::Map(map) = tree(text).unwrap().value else {
            panic!("no map in {text}");
        };
        let text_of = |node: Node| match node.value {
            Value::Text(text) => text,
            other => other.what().into(),
        };
        map.into_iter().map(|(_, value)| text_of(value)).collect()
    }

    #[test]
    fn keeps_the_text_of_what_yaml_guesses() {
        let got = texts(
            "a: 2026-11-30\nb: 1962\nc: 0x10\nd: yes\ne: .inf\nf: 1e999\ng: \"x\\ty\"\nh: ~\ni:\nj: 1_000\nk: -0.0\n",
        );
        let want = [
            "2026-11-30",
            "1962",
            "0x10",
            "yes",
            ".inf",
            "1e999",
            "x\ty",
            "nothing",
            "nothing",
            "1_000",
            "-0.0",
        ];
        assert_eq!(got, want);
    }

    #[test]
    fn tolerates_marks_and_line_ends_of_other_systems() {
        assert_eq!(texts("\u{feff}a: 1\r\nb:\té 2\r\n"), ["1", "é 2"]);
        assert_eq!(tree("").unwrap().value, Value::Null);
        assert_eq!(tree("# nothing\n").unwrap().value, Value::Null);
    }

    #[test]
    fn refuses_in_our_words_and_at_the_place() {
        for (text, line, column, part) in [
            ("a: &x 1\nb: *x\n", 1, 4, "words cannot begin with `&`"),
            ("a: *x\n", 1, 4, "words cannot begin with `*`"),
            ("a: 1\n---\nb: 2\n", 2, 1, "goes on after a line `---`"),
            ("a: [1\nb", 1, 4, "the `[` that opens here is never closed"),
            ("a: b: c\n", 1, 5, "a colon stands among the words"),
            ("é: 1\n b: 2\n", 2, 2, "this line is 1 space in"),
            ("a: !foo 3\n", 1, 4, "words cannot begin with `!`"),
        ] {
            let refusal = tree(text).expect_err(text);
            assert_eq!((refusal.line, refusal.column), (line, column), "{text}: {}", refusal.message);
            assert!(refusal.message.contains(part), "{text}: {}", refusal.message);
        }
    }

    #[test]
    fn refuses_depth_and_size_without_harm() {
        assert!(tree(&"[".repeat(100_000)).unwrap_err().message.contains("24 deep"));
        assert!(tree(&"- ".repeat(100_000)).unwrap_err().message.contains("24 deep"));
        assert!(tree(&"{a: ".repeat(100_000)).unwrap_err().message.contains("24 deep"));
        assert!(tree(&"k: v\n".repeat(100_000)).unwrap_err().message.contains("at most 40000"));
        assert!(tree(&"k: v\n".repeat(2_000_000)).unwrap_err().message.contains("at most 1 MB"));
    }

    proptest! {
        #[test]
        fn never_panics(text in ".*") {
            let _ = tree(&text);
        }

        #[test]
        fn never_panics_on_near_yaml(text in "[a-c:\\-\\[\\]{},&*!|>'\"#%@` \n\t0-9~é]{0,60}") {
            if let Err(refusal) = tree(&text) {
                let _ = (refusal.render(false, 100), refusal.render_plain());
            }
        }
    }
}

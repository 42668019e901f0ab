//! A small decoder: takes values out of a tree and collects every fault it meets.
//!
//! A function that fails tells the [`Reader`] and returns `None`; its caller goes on with the rest
//! of the file, so that all faults come out at once. [`Reader::finish`] gives the value only when
//! there were none.
mod values;

use super::keys::{Takes, Thing, words_in};
use crate::measure::{Lengths, Say};
use crate::text::{Diagnostic, Node, Place, Source, Value, clip, cut_values, may_be_cut, nearest, read_tree};
use std::ops::Range;
use std::sync::Arc;

/// More faults of one file than this are counted, not shown.
const MOST_SHOWN: usize = 100;

/// Keys that only one kind of file has, and where such files stand.
const TOLD_BY: [(&str, &[&str], &str); 4] = [
    ("a job", &["inlets"], "jobs/"),
    ("a catalog", &["fittings", "hoses", "valves", "units", "wire"], "content/catalog/"),
    ("a standard", &["revision", "parts", "effective"], "content/standard/"),
    ("a company", &["paper", "lengths", "theme", "crew-leads"], "content/company.yaml"),
];

/// Keys that files of earlier versions hold, with their names of today.
const RENAMED: [(&str, &str); 6] = [
    ("centre-to-stop", "laying-length"),
    ("run-to-stop", "run-laying-length"),
    ("run-to-stop", "inside-gap"),
    ("branch-to-stop", "branch-laying-length"),
    ("hold", "grips"),
    ("floor", "floor-line"),
];

/// Words of a file, with what it takes, that a ` #` may have cut; a file that cannot be read has none.
pub fn cut_words(file: &str, above: usize, text: &str, takes: &Takes) -> Vec<Diagnostic> {
    if !may_be_cut(text) {
        return Vec::new();
    }
    let source = Source::new(file, text).below(above);
    read_tree(&source).map_or(Vec::new(), |root| cut_words_in(&source, &root, takes))
}

/// The same for a file that was read.
pub fn cut_words_in(source: &Source, root: &Node, takes: &Takes) -> Vec<Diagnostic> {
    if !may_be_cut(source.text) {
        return Vec::new();
    }
    let mut words = Vec::new();
    words_in(root, takes, &mut words);
    cut_values(source, &words)
}

/// Reads one file and keeps what is wrong with it.
pub struct Reader<'t> {
    pub source: Source<'t>,
    /// How lengths are said in messages.
    pub say: Say,
    /// The file's name, shared by all places in it.
    file: Arc<str>,
    found: Vec<Diagnostic>,
}

/// The keys of one mapping, known to be allowed and given once.
pub struct Fields<'n> {
    /// `an inlet`
    pub what: &'static str,
    /// Where a missing key is told.
    pub mark: Range<usize>,
    entries: Vec<(&'n str, &'n Node)>,
    /// Keys that were meant by misspelt ones, which have been told.
    meant: Vec<String>,
}

impl<'n> Fields<'n> {
    pub fn get(&self, key: &str) -> Option<&'n Node> {
        self.entries.iter().find(|(name, _)| *name == key).map(|(_, node)| *node)
    }
}

impl<'t> Reader<'t> {
    /// Parses the file; what is no YAML, or empty, is told at once.
    pub fn open(file: &'t str, text: &'t str, wanted: &str) -> Result<(Self, Node), Vec<Diagnostic>> {
        Self::open_below(file, 0, text, wanted)
    }

    /// The same for YAML that has so many lines of its file above it, as in a lesson.
    pub fn open_below(
        file: &'t str,
        above: usize,
        text: &'t str,
        wanted: &str,
    ) -> Result<(Self, Node), Vec<Diagnostic>> {
        let source = Source::new(file, text).below(above);
        let root = read_tree(&source)?;
        if root.value == Value::Null {
            let help = format!("write {wanted}");
            return Err(vec![match above {
                0 => Diagnostic::of_file(file, "the file is empty", Some(&help)),
                _ => source.diagnostic(0..0, "nothing is written here".into(), format!("expected {wanted}")),
            }]);
        }
        let say = Say { lengths: Lengths::FtIn };
        let reader = Reader { source, say, file: Arc::from(file), found: Vec::new() };
        Ok((reader, root))
    }

    /// Tells a fault; the caller may add help or other places to it.
    pub fn fail(
        &mut self,
        bytes: Range<usize>,
        message: impl Into<String>,
        label: impl Into<String>,
    ) -> &mut Diagnostic {
        let at = self.found.len();
        self.found.push(self.source.diagnostic(bytes, message.into(), label.into()));
        &mut self.found[at]
    }

    /// Tells a fault that has an earlier place in the same file.
    pub fn fail_twice(&mut self, again: Range<usize>, first: Range<usize>, message: String, help: &str) {
        let related = self.source.related(first, "first given here");
        let diagnostic = self.fail(again, message, "given again here");
        diagnostic.related.push(related);
        diagnostic.help = Some(help.into());
    }

    /// A fault at a node, of which nothing is said yet: for what can only be told when other files are read.
    pub fn told_at(&self, node: &Node) -> Diagnostic {
        self.source.diagnostic(self.mark_of(node), String::new(), String::new())
    }

    /// How many faults were told so far.
    pub fn told(&self) -> usize {
        self.found.len()
    }

    /// The faults told since there were so many.
    pub fn told_since(&self, before: usize) -> &[Diagnostic] {
        self.found.get(before..).unwrap_or(&[])
    }

    /// Takes over what is wrong with a file that this one names.
    pub fn absorb(&mut self, faults: Vec<Diagnostic>) {
        self.found.extend(faults);
    }

    /// The value, or everything that was wrong, in the order of the file.
    pub fn finish<T>(self, value: Option<T>) -> Result<T, Vec<Diagnostic>> {
        match value {
            Some(value) if self.found.is_empty() => Ok(value),
            _ => Err(self.faults()),
        }
    }

    /// Everything that was wrong, in the order of the file.
    pub fn faults(self) -> Vec<Diagnostic> {
        let mut found = self.found;
        found.sort_by_key(|d| (d.line, d.column));
        if found.len() > MOST_SHOWN {
            let message = format!("{} more faults in this file are not shown", found.len() - MOST_SHOWN);
            found.truncate(MOST_SHOWN);
            found.push(Diagnostic::of_file(self.source.file, message, None));
        }
        found
    }

    /// Where in the file a node stands.
    pub fn place_of(&self, node: &Node) -> Place {
        let (line, column) = self.source.place(self.mark_of(node).start);
        Place { file: self.file.clone(), line, column }
    }

    /// The keys of the thing that a whole file is; a file of another kind is told as that, once.
    pub fn whole<'n>(&mut self, root: &'n Node, thing: &'static Thing) -> Option<Fields<'n>> {
        if let Value::Map(map) = &root.value {
            let holds = |keys: &[&str]| {
                map.iter()
                    .find(|(key, _)| matches!(&key.value, Value::Text(name) if keys.contains(&name.as_str())))
            };
            let own =
                TOLD_BY.iter().find(|(what, ..)| *what == thing.what).and_then(|(_, keys, _)| holds(keys));
            let other = TOLD_BY.iter().find_map(|(what, keys, folder)| Some((holds(keys)?, what, folder)));
            if let Some(((key, _), what, folder)) = other.filter(|_| own.is_none()) {
                let message = format!("this file is {what}, not {}", thing.what);
                let label = format!("this belongs to {what}");
                self.fail(key.bytes.clone(), message, label).help =
                    Some(format!("move the file to {folder}"));
                return None;
            }
        }
        self.thing(root, thing)
    }

    /// The keys of a thing; unknown keys and duplicates are told, and left out.
    pub fn thing<'n>(&mut self, node: &'n Node, thing: &'static Thing) -> Option<Fields<'n>> {
        self.fields(node, thing.what, &thing.names())
    }

    /// The same for a mapping whose keys depend on what it holds; they are from several tables.
    pub(in crate::company) fn fields<'n>(
        &mut self,
        node: &'n Node,
        what: &'static str,
        keys: &[&str],
    ) -> Option<Fields<'n>> {
        let Value::Map(map) = &node.value else {
            let list = keys.join(", ");
            let help = match &node.value {
                Value::List(items) if matches!(&items[..], [Node { value: Value::Map(_), .. }]) => {
                    format!("take the `- ` or the `[` before it away; {what} takes {list}")
                }
                _ if keys.len() <= 4 => {
                    let keys: Vec<String> = keys.iter().map(|key| format!("{key}: …")).collect();
                    format!("write it in braces, like `{{{}}}`", keys.join(", "))
                }
                _ => format!("{what} takes {list}"),
            };
            self.mistyped(node, &format!("{what}, a set of keys")).help = Some(help);
            return None;
        };
        let mut seen: Vec<(&'n str, &'n Node, &'n Node)> = Vec::new();
        let mut meant: Vec<String> = Vec::new();
        let mut lost_dash = false;
        for (key, value) in map {
            let Value::Text(name) = &key.value else {
                self.fail(
                    key.bytes.clone(),
                    format!("{} stands where a key should", key.value.what()),
                    "expected a key",
                );
                continue;
            };
            if let Some((_, first, _)) = seen.iter().find(|(known, ..)| known == name) {
                if lost_dash {
                    continue;
                }
                let message = format!("`{name}` is given twice in {what}");
                // Where the first key of an item comes again further down, another item lost its dash.
                lost_dash =
                    seen.first().is_some_and(|(known, ..)| known == name) && self.is_below_item(first, key);
                let help = match lost_dash {
                    true => {
                        format!("put `- ` before `{name}`, if it begins another; else leave one of them out")
                    }
                    false => "leave one of them out".into(),
                };
                self.fail_twice(key.bytes.clone(), first.bytes.clone(), message, &help);
            } else if keys.contains(&name.as_str()) {
                seen.push((name, key, value));
            } else if value.value == Value::Null && self.is_after_a_comma(key, name) {
                // The figure before the comma is only half of one: its key is told with it.
                meant.extend(seen.pop().map(|(name, ..)| name.to_owned()));
            } else if let Some(new) = self.renamed(key, name, what, keys) {
                seen.push((new, key, value));
            } else {
                meant.extend(self.unknown_key(key, name, what, keys));
            }
        }
        let first = map.first().map_or(node.bytes.clone(), |(key, _)| key.bytes.clone());
        Some(Fields {
            what,
            mark: if node.bytes.is_empty() { first } else { node.bytes.clone() },
            entries: seen.into_iter().map(|(name, _, value)| (name, value)).collect(),
            meant,
        })
    }

    /// Whether a key stands on a later line than the first of a list's item.
    fn is_below_item(&self, first: &Node, key: &Node) -> bool {
        let text = self.source.text;
        let between = text.get(first.bytes.end..key.bytes.start);
        let before = text.get(..first.bytes.start).unwrap_or("").trim_end_matches(' ');
        before.ends_with('-') && between.is_some_and(|between| between.contains('\n'))
    }

    /// Tells a decimal comma, `{in: 0,32}`, which YAML reads as two keys.
    fn is_after_a_comma(&mut self, key: &Node, name: &str) -> bool {
        let before = &self.source.text[..key.bytes.start];
        let Some(whole) = before.strip_suffix(',').filter(|_| name.starts_with(|c: char| c.is_ascii_digit()))
        else {
            return false;
        };
        let start = whole.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        if start == whole.len() {
            return false;
        }
        let digits = name.find(|c: char| !c.is_ascii_digit()).unwrap_or(name.len());
        let message = format!("`{},{}` has a comma in a number", &whole[start..], &name[..digits]);
        self.fail(start..key.bytes.start + digits, message, "expected a decimal point").help =
            Some("use a point for decimals and nothing between thousands".into());
        true
    }

    /// Tells a key's earlier name; gives the name of today.
    fn renamed(&mut self, key: &Node, name: &str, what: &str, keys: &[&str]) -> Option<&'static str> {
        let (_, new) = RENAMED.iter().find(|(old, new)| *old == name && keys.contains(new))?;
        let message = format!("the key `{name}` of {what} is now called `{new}`");
        self.fail(key.bytes.clone(), message, "expected the new name").help = Some(format!("write `{new}`"));
        Some(new)
    }

    /// Tells an unknown key; gives the one that was probably meant.
    fn unknown_key(&mut self, key: &Node, name: &str, what: &str, keys: &[&str]) -> Option<String> {
        let list = keys.join(", ");
        let near = nearest(name, keys.iter().copied());
        let help = match (near, owner(name, what)) {
            (Some(near), _) => format!("write `{near}`; {what} takes {list}"),
            (None, Some(owner)) => {
                format!("`{name}` belongs to {owner}: move it in or out to where the keys of {owner} stand")
            }
            (None, None) => format!("{what} takes {list}"),
        };
        let message = format!("`{}` is not a key of {what}", clip(name));
        self.fail(key.bytes.clone(), message, "unknown key").help = Some(help);
        near.map(str::to_owned)
    }

    /// The value of a key that must be there.
    pub fn need<'n>(&mut self, fields: &Fields<'n>, key: &str) -> Option<&'n Node> {
        let found = fields.get(key);
        if found.is_none() && !fields.meant.iter().any(|meant| meant == key) {
            let message = format!("{} has no `{key}`", fields.what);
            let label = format!("expected `{key}` among its keys");
            self.fail(fields.mark.clone(), message, label).help = Some(format!("add `{key}:`"));
        }
        found
    }

    /// Tells that something of another type stands there.
    pub fn mistyped(&mut self, node: &Node, wanted: &str) -> &mut Diagnostic {
        // Wanted is `a length, like 3.81 m`: the example belongs under the mark only.
        let thing = wanted.split(',').next().unwrap_or(wanted);
        let what = node.value.what();
        if node.value != Value::Null {
            let message = format!("this is {what}, not {thing}");
            let help = match &node.value {
                Value::List(items) => match &items[..] {
                    [Node { value: Value::Text(only), .. }] => {
                        Some(format!("write `{}` alone, without a list", clip(only)))
                    }
                    _ => None,
                },
                _ => None,
            };
            let fault = self.fail(self.mark_of(node), message, format!("expected {wanted}"));
            fault.help = help;
            return fault;
        }
        let line = self.source.text[node.bytes.start..].split('\n').next().unwrap_or("");
        let note = line.split_once(" #").map(|(_, note)| clip(note.trim_end()));
        let message = format!("nothing is written where {thing} should be");
        let fault = self.fail(self.mark_of(node), message, format!("expected {wanted}"));
        fault.help = note.map(|note| {
            format!("what follows a `#` is a note; where it belongs to the words, write `\"#{note}\"`")
        });
        fault
    }

    /// The bytes to mark for a node: block lists and mappings have none of their own.
    pub fn mark_of(&self, node: &Node) -> Range<usize> {
        match &node.value {
            Value::Map(map) if node.bytes.is_empty() => {
                map.first().map_or(node.bytes.clone(), |(key, _)| key.bytes.clone())
            }
            _ => node.bytes.clone(),
        }
    }
}

/// The one thing of a job that has a key which was written in another of them.
fn owner(name: &str, what: &str) -> Option<&'static str> {
    use super::keys::{INLET, JOB, ONWARD, RACEWAY, TRUNK, UNIT_PLACE};
    let things = [&JOB, &UNIT_PLACE, &INLET, &RACEWAY, &ONWARD, &TRUNK];
    if !things.iter().any(|thing| thing.what == what) {
        return None;
    }
    let mut owners = things.iter().filter(|thing| thing.names().contains(&name)).map(|thing| thing.what);
    owners.next().filter(|_| owners.next().is_none())
}

//! Every key of the tables is read by its reader: with a value of a wrong type, without it where it must be
//! there, and with an unknown key beside it, the file is refused at that line.
//!
//! The files are the demo's, those of the clause cases, and `tests/keys/`, which holds what the others do not
//! use; each is written anew with every key on a line of its own.
mod reading;

use longsweep::company::keys::{BY_EYE, COMPUTED, Key, Takes, Thing};
use longsweep::company::{
    read_catalog, read_firm, read_job, read_path, read_plan, read_practice, read_standards, read_words,
};
use longsweep::lesson::keys::BLOCKS;
use longsweep::lesson::{
    Blocks, Figure, Given, Judged, Picture, Refusal, Refused, Speaks, Target, front, render,
};
use longsweep::measure::{Lengths, Say};
use longsweep::schema::FileKind;
use longsweep::text::{Diagnostic, Node, Source, Value, read_tree};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

/// Keys that no file can be spoiled by in these ways, each with its reason.
const LEFT: [(&str, &str, &str); 1] =
    [("a theme", "on", "read with the theme's folder, by the command alone; tests/themes.rs spoils it")];

/// A file of a kind, sound.
struct Sound {
    kind: FileKind,
    name: String,
    tree: Node,
}

/// Where a file is spoiled: the how-manieth key of it, in the order in which they are written.
struct Spot {
    nth: usize,
    thing: &'static Thing,
    key: &'static Key,
}

/// What is done at a spot.
#[derive(Debug, Clone, Copy, PartialEq)]
enum How {
    WrongType,
    Lost,
    Neighbour,
}

/// A tree written with every key on a line of its own, and spoiled at one of them.
#[derive(Default)]
struct Writer {
    out: String,
    nth: usize,
    spoil: Option<(usize, How)>,
    /// The line of the spoilt key.
    line: usize,
}

impl Writer {
    fn node(&mut self, node: &Node) {
        match &node.value {
            Value::Text(text) => self.out.push_str(&serde_json::to_string(text).expect("a string")),
            Value::Null => self.out.push_str("null"),
            Value::List(items) => {
                self.out.push('[');
                for item in items {
                    self.node(item);
                    self.out.push(',');
                }
                self.out.push(']');
            }
            Value::Map(map) => {
                self.out.push_str("{\n");
                map.iter().for_each(|(key, value)| self.entry(key, value));
                self.out.push('}');
            }
        }
    }

    fn entry(&mut self, key: &Node, value: &Node) {
        let here = self.spoil.filter(|(nth, _)| *nth == self.nth).map(|(_, how)| how);
        if here == Some(How::Neighbour) {
            self.out.push_str("qq: qq, ");
        }
        self.nth += 1;
        if here.is_some() {
            self.line = self.out.matches('\n').count() + 1;
        }
        let start = self.out.len();
        self.node(key);
        self.out.push_str(": ");
        match here {
            Some(How::WrongType) => {
                // What stands below is counted all the same.
                let before = self.out.len();
                self.node(value);
                self.out.truncate(before);
                self.out.push_str("{qq: {qq: qq}}");
            }
            _ => self.node(value),
        }
        match here {
            Some(How::Lost) => self.out.truncate(start),
            _ => self.out.push_str(",\n"),
        }
    }
}

fn written(tree: &Node, spoil: Option<(usize, How)>) -> (String, usize) {
    let mut writer = Writer { spoil, ..Writer::default() };
    writer.node(tree);
    (writer.out + "\n", writer.line)
}

/// Every key of a tree with its thing, by the order of [`Writer::entry`].
fn spots(node: &Node, takes: &'static Takes, nth: &mut usize, found: &mut Vec<Spot>) {
    match &node.value {
        Value::Map(map) => {
            let names: Vec<&str> = map.iter().filter_map(|(key, _)| word(key)).collect();
            let thing = things(takes).into_iter().find(|thing| fits(thing, &names, map));
            for (key, value) in map {
                let own = thing.and_then(|thing| {
                    Some((thing, thing.keys.iter().find(|known| Some(known.name) == word(key))?))
                });
                if let Some((thing, key)) = own {
                    found.push(Spot { nth: *nth, thing, key });
                }
                *nth += 1;
                spots(value, own.map_or(&Takes::Text, |(_, key)| &key.takes), nth, found);
            }
        }
        Value::List(items) => {
            let inner = inner(takes).unwrap_or(&Takes::Text);
            items.iter().for_each(|item| spots(item, inner, nth, found));
        }
        _ => {}
    }
}

fn word(node: &Node) -> Option<&str> {
    match &node.value {
        Value::Text(text) => Some(text),
        _ => None,
    }
}

/// Whether a mapping is that thing, by its keys; a clause by eye says so.
fn fits(thing: &'static Thing, names: &[&str], map: &[(Node, Node)]) -> bool {
    let by_eye = map.iter().any(|(key, value)| word(key) == Some("clause") && word(value) == Some("by-eye"));
    if std::ptr::eq(thing, &COMPUTED) || std::ptr::eq(thing, &BY_EYE) {
        return std::ptr::eq(thing, &BY_EYE) == by_eye;
    }
    let kind = map.iter().find(|(key, _)| word(key) == Some("kind")).and_then(|(_, value)| word(value));
    let of_kind = thing.keys.iter().find(|key| key.name == "kind").is_none_or(|key| match &key.takes {
        Takes::OneOf(words) => kind.is_none_or(|kind| words().contains(&kind)),
        _ => true,
    });
    of_kind && names.iter().all(|name| thing.keys.iter().any(|key| key.name == *name))
}

fn things(takes: &'static Takes) -> Vec<&'static Thing> {
    match takes {
        Takes::Thing(thing) => vec![thing],
        Takes::Things(things) => things(),
        Takes::Blank(takes) => things(takes),
        Takes::Either(several) => several.iter().flat_map(things).collect(),
        Takes::Clause => vec![&BY_EYE, &COMPUTED],
        _ => Vec::new(),
    }
}

fn inner(takes: &'static Takes) -> Option<&'static Takes> {
    match takes {
        Takes::List(takes) => Some(takes),
        Takes::Blank(takes) => inner(takes),
        Takes::Either(several) => several.iter().find_map(inner),
        _ => None,
    }
}

const FILE: &str = "jobs/a.yaml";

/// The faults of a file of that kind.
fn faults(kind: FileKind, text: &str) -> Vec<Diagnostic> {
    let (catalog, standards) = reading::shared();
    let plans = [("jobs/a.plan.yaml".to_owned(), text.to_owned())];
    let job = |text: &str, plans: &[(String, String)]| {
        read_job(FILE, text, catalog, &reading::firm(), standards, plans).err().unwrap_or_default()
    };
    match kind {
        FileKind::Job => job(text, &[]),
        FileKind::Plan => job(&format!("plan: a.plan.yaml\n{SOUND}"), &plans),
        FileKind::Catalog => read_catalog(&[(FILE, text)]).1,
        FileKind::Standard => read_standards(&[(FILE, text)], &reading::kinds()).1,
        FileKind::Firm => read_firm(FILE, text, &["2025-2", "2026-1"]).1,
        FileKind::Words => read_words(FILE, text).err().unwrap_or_default(),
        FileKind::Lesson => {
            let text = format!("---\n{text}---\n");
            let told = front::split(FILE, &text).map(|split| front::parse(FILE, &split, &["bend-total"]));
            let faults = told.expect("a head").err().unwrap_or_default();
            faults
                .into_iter()
                .map(|fault| Diagnostic { line: fault.line.saturating_sub(1), ..fault })
                .collect()
        }
        FileKind::LessonBlocks => blocks(text),
        FileKind::Theme => Vec::new(),
    }
}

/// A job that breaks nothing.
const SOUND: &str = include_str!("nothing_believed.yaml");

/// The faults of a mapping from kinds of blocks to blocks: each is put behind its fence, at its own lines.
fn blocks(text: &str) -> Vec<Diagnostic> {
    let Ok(tree) = read_tree(&Source::new(FILE, text)) else { return Vec::new() };
    let Value::Map(map) = &tree.value else { return Vec::new() };
    let mut faults = Vec::new();
    for (key, value) in map {
        let Some(kind) = word(key) else { continue };
        // A fence, with as many lines above it as the block has above it in the mapping.
        let above = text[..value.bytes.start].matches('\n').count();
        let block = &text[value.bytes.start..closed(text, value.bytes.start)];
        let body = format!("```{kind}\n{block}\n```\n");
        let told = render(FILE, &body, above.saturating_sub(1), &mut Hand).faults;
        let moved = usize::from(above == 0);
        faults.extend(told.into_iter().map(|fault| Diagnostic { line: fault.line - moved, ..fault }));
    }
    faults
}

/// Where the bracket that opens at a byte is closed.
fn closed(text: &str, from: usize) -> usize {
    let (mut deep, mut quoted) = (0, false);
    for (at, c) in text[from..].char_indices() {
        match c {
            '"' => quoted = !quoted,
            '{' | '[' if !quoted => deep += 1,
            '}' | ']' if !quoted => deep -= 1,
            _ => {}
        }
        if deep == 0 && !quoted {
            return from + at + 1;
        }
    }
    text.len()
}

/// Reads what a block holds and draws nothing.
struct Hand;

impl Blocks for Hand {
    fn raceway(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        read_path(FILE, text, line - 1, &reading::shared().0).map(|_| String::new())
    }

    fn plan(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        read_plan(FILE, text, line - 1, &reading::shared().0).map(|_| String::new())
    }

    fn practice(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        read_practice(FILE, text, line - 1).map(|_| String::new())
    }

    fn tree(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        longsweep::company::read_tree(FILE, text, line - 1).map(|_| String::new())
    }

    fn drawing(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        self.raceway(text, line)
    }

    fn judge(&mut self, of: Speaks, _: &[String]) -> Result<Judged, Refusal> {
        if let Speaks::Written { text, line } = of {
            self.raceway(text, line).map_err(Refusal::Faults)?;
        }
        Err(Refusal::Asked(Refused { message: "not judged here".into(), help: None }))
    }

    fn figure(&mut self, _: &str, _: &[Given]) -> Option<Result<Figure, String>> {
        Some(Ok(Figure::length(1.0)))
    }

    fn figures(&self) -> Vec<String> {
        Vec::new()
    }

    fn say(&self) -> Say {
        Say { lengths: Lengths::FtIn }
    }

    fn link(&mut self, _: Target, _: &str) -> Option<String> {
        Some("x.html".into())
    }

    fn picture(&mut self, _: &str) -> Result<Picture, Refused> {
        Err(Refused { message: "no picture".into(), help: None })
    }

    fn names(&self, _: Target) -> Vec<String> {
        Vec::new()
    }
}

/// Every sound file.
fn sound() -> Vec<Sound> {
    let folders = [
        (FileKind::Job, "jobs"),
        (FileKind::Job, "tests/jobs"),
        (FileKind::Job, "tests/keys/job"),
        (FileKind::Plan, "tests/keys/plan"),
        (FileKind::Catalog, "content/catalog"),
        (FileKind::Catalog, "tests/keys/catalog"),
        (FileKind::Standard, "content/standard"),
        (FileKind::Standard, "tests/keys/standard"),
        (FileKind::Firm, "tests/keys/firm"),
        (FileKind::Words, "tests/keys/words"),
        (FileKind::Lesson, "content/lessons"),
        (FileKind::LessonBlocks, "tests/keys/lesson-blocks"),
    ];
    let mut found = Vec::new();
    for (kind, folder) in folders {
        let walk = walkdir::WalkDir::new(reading::root().join(folder)).sort_by_file_name();
        for entry in walk.into_iter().flatten().filter(|entry| entry.file_type().is_file()) {
            let name = entry.path().display().to_string();
            let text = fs::read_to_string(entry.path()).expect("a text");
            let text = match kind {
                FileKind::Lesson => front::split(&name, &text).expect("a head").front.to_owned(),
                _ => text,
            };
            found.push(Sound { kind, tree: read_tree(&Source::new(&name, &text)).expect("YAML"), name });
        }
    }
    found
}

/// What a file of a kind is; it lives as long as the test.
fn root(kind: FileKind) -> &'static Takes {
    let thing: &'static Takes = Box::leak(Box::new(Takes::Thing(kind.things()[0])));
    match kind {
        FileKind::Words => Box::leak(Box::new(Takes::List(thing))),
        _ => thing,
    }
}

#[test]
fn every_key_of_every_table_is_refused_where_it_is_wrong() {
    let mut tried: BTreeMap<(usize, &str), BTreeSet<String>> = BTreeMap::new();
    let mut wrong = Vec::new();
    for file in sound() {
        let (whole, _) = written(&file.tree, None);
        let before = faults(file.kind, &whole);
        // A part of the catalog alone lacks the others; a block its engine.
        let told =
            |fault: &Diagnostic| before.iter().any(|b| (b.line, &b.message) == (fault.line, &fault.message));
        let mut found = Vec::new();
        spots(&file.tree, root(file.kind), &mut 0, &mut found);
        for Spot { nth, thing, key } in found {
            let done = tried.entry((std::ptr::from_ref(thing) as usize, key.name)).or_default();
            for how in [How::WrongType, How::Lost, How::Neighbour] {
                // Behind a fence any word may stand.
                let fence = how == How::Neighbour && std::ptr::eq(thing, &BLOCKS);
                if fence || (how == How::Lost && !key.must) || !done.insert(format!("{how:?}")) {
                    continue;
                }
                let (text, line) = written(&file.tree, Some((nth, how)));
                let now = faults(file.kind, &text);
                let at = |fault: &&Diagnostic| how == How::Lost || fault.line == line;
                let meant = |fault: &&Diagnostic| match how {
                    How::WrongType => true,
                    How::Lost => fault.message.contains(&format!("`{}`", key.name)),
                    How::Neighbour => fault.message.contains("`qq`"),
                };
                if !now.iter().filter(|fault| !told(fault)).filter(at).any(|fault| meant(&fault)) {
                    let said: Vec<String> =
                        now.iter().take(3).map(|f| format!("{}: {}", f.line, f.message)).collect();
                    wrong.push(format!(
                        "{how:?} `{}` of {}, {}:{line}: {said:?}",
                        key.name, thing.what, file.name
                    ));
                }
            }
        }
    }
    for thing in FileKind::ALL.into_iter().flat_map(FileKind::things) {
        for key in thing.keys {
            let left = LEFT.iter().any(|(what, name, _)| (*what, *name) == (thing.what, key.name));
            let done = tried.contains_key(&(std::ptr::from_ref(thing) as usize, key.name));
            if left == done {
                wrong.push(format!("`{}` of {}: no file here has it", key.name, thing.what));
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

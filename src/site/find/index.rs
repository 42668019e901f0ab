//! The index in shards, so that no page loads it all: stems by their first letters, entries by number, and the
//! words alone by beginning and by end, among which a slip of the hand is looked for.
//!
//! A shard is a script that hands its part to the page, since a page opened from a file may load scripts and
//! nothing else. Stems of a shard share their beginning; a shard that would be too large is parted by one
//! letter more.
use super::stem::stems;
use crate::packet::sheet::Link;
use crate::site::SiteFile;
use crate::site::ways::SHARDS;
use serde_json::{Map, Value, json};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// A shard is parted when it comes to more bytes.
const MOST_BYTES: usize = 48 * 1024;
/// A stem that stands in more entries is known by the ones it tells most about.
const MOST_PLACES: usize = 300;
/// Sheets of an entry that are shown; the rest is counted.
const SHEETS: usize = 6;
/// Entries to a shard.
const ENTRIES: usize = 200;
/// Longer beginnings part no shard: a stem so long that stands alone in its shard is never too large.
const LONGEST: usize = 6;

/// What can be found: a term as a book's index has it, with its sheets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    pub text: String,
    pub sheets: Vec<Link>,
    /// Words by which it is found, and how much each tells.
    pub words: Vec<(String, u32)>,
}

/// Weight of the words that a term is made of, and of those that only stand on its sheet. A term shares out
/// `ALONE` among its words besides, so that the term that is one word comes before those that hold it.
pub const TITLE: u32 = 7;
pub const ALONE: u32 = 6;
pub const HEADING: u32 = 5;
pub const NEAR: u32 = 3;
pub const BODY: u32 = 1;

/// The index as files, and the beginnings that its shards are named by.
#[derive(Default)]
pub struct Index {
    pub files: Vec<SiteFile>,
    /// Of stems, by their beginning: `s-sta` holds every stem that begins so, with its entries.
    pub shards: Vec<String>,
    /// Of the words alone, by their beginning and by their end: what a slip of the hand may have meant.
    pub begins: Vec<String>,
    pub ends: Vec<String>,
}

/// What the index knows of a stem, or of a phrase of stems joined by blanks.
#[derive(Debug, Clone, Default)]
struct Row {
    /// Entries by number, with weights.
    places: Vec<(usize, u32)>,
    /// Whether it stands in more entries than are listed.
    cut: bool,
    /// The stems of each phrase that means the same.
    alike: Vec<Vec<String>>,
}

type Rows = BTreeMap<String, Row>;

/// Builds the index. Each of `groups` is a set of phrases that mean the same.
pub fn index(entries: &[Entry], groups: &[Vec<String>]) -> Index {
    let mut rows = places(entries);
    for (phrase, others) in alike(groups) {
        rows.entry(phrase).or_default().alike = others;
    }
    let mut index = Index::default();
    index.shards = parted(&rows, &stems_shard, &mut index.files);
    // A number is no word that a hand slips in, and a short one is near everything.
    let words = places_words(&rows);
    let by_begin: BTreeMap<String, ()> = words.iter().map(|word| ((*word).clone(), ())).collect();
    index.begins = parted(&by_begin, &begin_shard, &mut index.files);
    let by_end: BTreeMap<String, ()> = words.iter().map(|word| (reversed(word), ())).collect();
    index.ends = parted(&by_end, &end_shard, &mut index.files);
    for (nth, some) in entries.chunks(ENTRIES).enumerate() {
        let rows: Vec<Value> = some.iter().map(entry).collect();
        index.files.push(script(&format!("e{nth}"), &Value::Array(rows)));
    }
    index
}

fn entry(entry: &Entry) -> Value {
    let sheets = entry.sheets.iter().take(SHEETS).map(|link| json!([link.href, link.text]));
    json!([entry.text, sheets.collect::<Vec<_>>(), entry.sheets.len()])
}

/// The stems that may be meant by another word.
fn places_words(rows: &Rows) -> Vec<&String> {
    let meant = |word: &&String| word.len() >= 3 && word.bytes().all(|b| b.is_ascii_lowercase());
    rows.keys().filter(meant).collect()
}

fn reversed(word: &str) -> String {
    word.chars().rev().collect()
}

fn places(entries: &[Entry]) -> Rows {
    let mut rows = Rows::new();
    for (nth, entry) in entries.iter().enumerate() {
        let mut weights: BTreeMap<String, u32> = BTreeMap::new();
        for (text, weight) in &entry.words {
            for stem in stems(text) {
                let known = weights.entry(stem).or_default();
                *known = (*known).max(*weight);
            }
        }
        weights
            .into_iter()
            .for_each(|(stem, weight)| rows.entry(stem).or_default().places.push((nth, weight)));
    }
    for row in rows.values_mut().filter(|row| row.places.len() > MOST_PLACES) {
        row.places.sort_by_key(|(nth, weight)| (Reverse(*weight), *nth));
        row.places.truncate(MOST_PLACES);
        row.cut = true;
    }
    rows
}

/// For the stems of each phrase, joined by blanks, the stems of the others that mean the same.
fn alike(groups: &[Vec<String>]) -> BTreeMap<String, Vec<Vec<String>>> {
    let mut alike: BTreeMap<String, Vec<Vec<String>>> = BTreeMap::new();
    for group in groups {
        let phrases: Vec<Vec<String>> = group.iter().map(|phrase| stems(phrase)).collect();
        for phrase in phrases.iter().filter(|phrase| !phrase.is_empty()) {
            let others = phrases.iter().filter(|other| *other != phrase && !other.is_empty()).cloned();
            alike.entry(phrase.join(" ")).or_default().extend(others);
        }
    }
    alike.retain(|_, others| !others.is_empty());
    alike
}

/// Makes the shard of a beginning out of its rows.
type Shard<'a, V> = dyn Fn(&str, &[(&String, &V)]) -> SiteFile + 'a;

/// Parts rows into shards by their beginnings, each as small as it may be; answers the beginnings.
fn parted<V>(rows: &BTreeMap<String, V>, shard: &Shard<V>, files: &mut Vec<SiteFile>) -> Vec<String> {
    let mut names = Vec::new();
    let mut wanted: Vec<String> = nexts(rows.keys(), "").into_iter().rev().collect();
    while let Some(first) = wanted.pop() {
        let within: Vec<(&String, &V)> =
            rows.range(first.clone()..).take_while(|(key, _)| key.starts_with(&first)).collect();
        let file = shard(&first, &within);
        if file.bytes.len() <= MOST_BYTES || first.len() >= LONGEST {
            names.push(first);
            files.push(file);
            continue;
        }
        // What is this beginning and no more stays in a shard of its own.
        let own: Vec<_> =
            within.iter().copied().filter(|(key, _)| key.split(' ').next() == Some(&first)).collect();
        if !own.is_empty() {
            names.push(first.clone());
            files.push(shard(&first, &own));
        }
        wanted.extend(nexts(within.iter().map(|(key, _)| *key), &first).into_iter().rev());
    }
    names
}

/// The beginnings one letter longer, sorted.
fn nexts<'a>(keys: impl Iterator<Item = &'a String>, first: &str) -> Vec<String> {
    let letters = keys.filter_map(|key| key.strip_prefix(first)?.chars().next());
    let letters: BTreeSet<char> = letters.filter(|letter| *letter != ' ').collect();
    letters.into_iter().map(|letter| format!("{first}{letter}")).collect()
}

fn stems_shard(first: &str, rows: &[(&String, &Row)]) -> SiteFile {
    let flat = |row: &Row| json!(row.places.iter().flat_map(|(n, w)| [*n, *w as usize]).collect::<Vec<_>>());
    let placed = rows.iter().filter(|(_, row)| !row.places.is_empty());
    let stems: Map<String, Value> = placed.map(|(stem, row)| ((*stem).clone(), flat(row))).collect();
    let same = rows.iter().filter(|(_, row)| !row.alike.is_empty());
    let alike: Map<String, Value> = same.map(|(stem, row)| ((*stem).clone(), json!(row.alike))).collect();
    let cut: Vec<&String> = rows.iter().filter(|(_, row)| row.cut).map(|(stem, _)| *stem).collect();
    script(&format!("s-{first}"), &json!({ "stems": stems, "alike": alike, "cut": cut }))
}

fn begin_shard(first: &str, words: &[(&String, &())]) -> SiteFile {
    let words: Vec<&String> = words.iter().map(|(word, ())| *word).collect();
    script(&format!("b-{first}"), &json!(words))
}

fn end_shard(last: &str, words: &[(&String, &())]) -> SiteFile {
    let words: Vec<String> = words.iter().map(|(word, ())| reversed(word)).collect();
    script(&format!("z-{last}"), &json!(words))
}

/// A shard as a script.
fn script(name: &str, value: &Value) -> SiteFile {
    // A value always serialises; by its `Display` that takes twice the time.
    let value = serde_json::to_string(value).unwrap_or_default();
    let text = format!("longsweepFound({}, {value});\n", json!(name));
    SiteFile { path: format!("{SHARDS}{name}.js"), bytes: text.into_bytes() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn large() -> Vec<Entry> {
        let syllables = ["ba", "ken", "lor", "mi", "sta", "ven", "do", "pra", "tul", "gri", "hos", "wy"];
        let word = |n: usize| -> String {
            [n % 12, n / 12 % 12, n / 144 % 12].iter().map(|at| syllables[*at]).collect()
        };
        let entry = |n: usize| Entry {
            text: format!("{} {}", word(n), word(n * 7 + 3)),
            sheets: vec![Link { href: format!("jobs/{n}/index.html"), text: format!("Lesson {n}") }],
            words: (0..60)
                .map(|k| (word(n * 31 + k * 17), BODY))
                .chain([("raceway".into(), TITLE)])
                .collect(),
        };
        (0..4500).map(entry).collect()
    }

    #[test]
    fn no_shard_is_large_however_large_the_company() {
        let index = index(&large(), &[]);
        let largest = index.files.iter().map(|file| file.bytes.len()).max().unwrap();
        assert!(largest <= MOST_BYTES, "{largest} bytes");
        let all: usize = index.files.iter().map(|file| file.bytes.len()).sum();
        assert!(all > 20 * MOST_BYTES, "{all} bytes are no large index");
    }

    #[test]
    fn every_stem_stands_in_the_one_shard_that_its_beginning_names() {
        let entries = large();
        let index = index(&entries, &[]);
        for stem in places(&entries).keys() {
            let begins = index.shards.iter().filter(|shard| stem.starts_with(shard.as_str()));
            let shard = begins.max_by_key(|shard| shard.len()).unwrap();
            let key = format!("\"{stem}\":");
            let holds = |file: &&SiteFile| {
                file.path.starts_with("find/s-") && String::from_utf8_lossy(&file.bytes).contains(&key)
            };
            let files: Vec<&str> = index.files.iter().filter(holds).map(|file| file.path.as_str()).collect();
            assert_eq!(files, [format!("find/s-{shard}.js")], "{stem}");
        }
    }

    #[test]
    fn words_that_mean_the_same_lead_to_each_other() {
        let groups = [vec!["stop fitting".to_owned(), "tail stop".to_owned(), "stopper".to_owned()]];
        let alike = alike(&groups);
        assert_eq!(
            alike["stopper"],
            [vec!["stop".to_owned(), "fit".to_owned()], vec!["tail".into(), "stop".into()]]
        );
        assert_eq!(alike["tail stop"].len(), 2);
    }
}

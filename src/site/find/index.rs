//! The index in shards, so that no page loads it all: stems by their first letters, and entries by number.
//!
//! A shard is a script that hands its part to the page, since a page opened from a file may load scripts and
//! nothing else. Stems of a shard share their beginning; a shard that would be too large is parted by one
//! letter more.
use super::stem::stems;
use crate::packet::sheet::Link;
use crate::site::SiteFile;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// A shard is parted when it comes to more bytes.
const MOST_BYTES: usize = 48 * 1024;
/// A stem that stands in more entries is known by the ones it tells most about.
const MOST_PLACES: usize = 300;
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

/// Weight of the words that a term is made of, and of those that only stand on its sheet.
pub const TITLE: u32 = 8;
pub const HEADING: u32 = 5;
pub const NEAR: u32 = 3;
pub const BODY: u32 = 1;

/// The index as files, and the names of the shards of stems.
pub struct Index {
    pub files: Vec<SiteFile>,
    pub shards: Vec<String>,
}

/// For each stem its entries, by number, with weights.
type Places = BTreeMap<String, Vec<(usize, u32)>>;

/// Builds the index. Each of `groups` is a set of phrases that mean the same.
pub fn index(entries: &[Entry], groups: &[Vec<String>]) -> Index {
    let places = places(entries);
    let alike = alike(groups);
    let mut shards = Vec::new();
    let mut files = Vec::new();
    let mut firsts: Vec<String> =
        places.keys().chain(alike.keys()).filter_map(|stem| stem.chars().next()).map(String::from).collect();
    firsts.sort();
    firsts.dedup();
    firsts.iter().for_each(|first| part(first, &places, &alike, &mut shards, &mut files));
    for (nth, some) in entries.chunks(ENTRIES).enumerate() {
        let rows: Vec<Value> = some.iter().map(entry).collect();
        files.push(script(&format!("e{nth}"), &Value::Array(rows)));
    }
    Index { files, shards }
}

fn entry(entry: &Entry) -> Value {
    let sheets: Vec<Value> = entry.sheets.iter().map(|link| json!([link.href, link.text])).collect();
    json!([entry.text, sheets])
}

fn places(entries: &[Entry]) -> Places {
    let mut places = Places::new();
    for (nth, entry) in entries.iter().enumerate() {
        let mut weights: BTreeMap<String, u32> = BTreeMap::new();
        for (text, weight) in &entry.words {
            for stem in stems(text) {
                let known = weights.entry(stem).or_default();
                *known = (*known).max(*weight);
            }
        }
        weights.into_iter().for_each(|(stem, weight)| places.entry(stem).or_default().push((nth, weight)));
    }
    for all in places.values_mut().filter(|all| all.len() > MOST_PLACES) {
        all.sort_by_key(|(nth, weight)| (std::cmp::Reverse(*weight), *nth));
        all.truncate(MOST_PLACES);
    }
    places
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

/// The shard of the stems with this beginning, or those of the next letter where it is too large.
fn part(
    first: &str,
    places: &Places,
    alike: &BTreeMap<String, Vec<Vec<String>>>,
    shards: &mut Vec<String>,
    files: &mut Vec<SiteFile>,
) {
    let within: BTreeMap<&String, &Vec<(usize, u32)>> =
        places.iter().filter(|(stem, _)| stem.starts_with(first)).collect();
    let same: Map<String, Value> = alike
        .iter()
        .filter(|(stem, _)| stem.starts_with(first))
        .map(|(s, o)| (s.clone(), json!(o)))
        .collect();
    let flat = |all: &Vec<(usize, u32)>| all.iter().flat_map(|(n, w)| [*n, *w as usize]).collect::<Vec<_>>();
    let stems: Map<String, Value> =
        within.iter().map(|(stem, all)| ((*stem).clone(), json!(flat(all)))).collect();
    let file = script(&format!("s-{first}"), &json!({ "stems": stems, "alike": same }));
    if file.bytes.len() <= MOST_BYTES || first.len() >= LONGEST {
        shards.push(first.to_owned());
        files.push(file);
        return;
    }
    // The stems that are this beginning and no more stay in its own shard.
    let own = |stem: &String| stem.split(' ').next() == Some(first);
    let exact: Places =
        places.iter().filter(|(stem, _)| own(stem)).map(|(s, p)| (s.clone(), p.clone())).collect();
    let same: Map<String, Value> =
        alike.iter().filter(|(stem, _)| own(stem)).map(|(s, o)| (s.clone(), json!(o))).collect();
    let stems: Map<String, Value> =
        exact.iter().map(|(stem, all)| (stem.clone(), json!(flat(all)))).collect();
    if !stems.is_empty() || !same.is_empty() {
        shards.push(first.to_owned());
        files.push(script(&format!("s-{first}"), &json!({ "stems": stems, "alike": same })));
    }
    let next = |stem: &String| stem.strip_prefix(first).and_then(|rest| rest.chars().next());
    let mut letters: Vec<char> =
        places.keys().chain(alike.keys()).filter_map(next).filter(|letter| *letter != ' ').collect();
    letters.sort_unstable();
    letters.dedup();
    letters.into_iter().for_each(|letter| part(&format!("{first}{letter}"), places, alike, shards, files));
}

/// A shard as a script.
fn script(name: &str, value: &Value) -> SiteFile {
    let text = format!("longsweepFound({}, {value});\n", json!(name));
    SiteFile { path: format!("find/{name}.js"), bytes: text.into_bytes() }
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
            let holds =
                |file: &&SiteFile| String::from_utf8_lossy(&file.bytes).contains(&format!("\"{stem}\":"));
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

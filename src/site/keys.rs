//! The sheet of keys: every key of every file, from the tables that the reader goes by.
use super::input::Set;
use super::ways::{KEYS, Placed, cover_nth, cover_series};
use crate::company::FAILS_AT;
use crate::company::keys::{Key, Thing};
use crate::packet::here::Here;
use crate::packet::sheet::{Cell, Sheet};
use crate::schema::{FileKind, in_words};
use crate::standard::kinds;
use serde::Serialize;

/// The keys, a group to a kind of file.
#[derive(Debug, Clone, Serialize)]
pub struct Keys {
    pub groups: Vec<KeyGroup>,
}

/// The things of a kind of file.
#[derive(Debug, Clone, Serialize)]
pub struct KeyGroup {
    pub name: String,
    /// Where such files stand.
    pub files: &'static str,
    pub tables: Vec<KeyTable>,
}

/// A thing with its keys.
#[derive(Debug, Clone, Serialize)]
pub struct KeyTable {
    pub name: String,
    pub rows: Vec<KeyRow>,
}

/// A key.
#[derive(Debug, Clone, Serialize)]
pub struct KeyRow {
    pub key: &'static str,
    pub takes: String,
    /// What holds where it is left out, or that it must be there.
    pub without: String,
    pub example: String,
    pub about: String,
}

/// The sheet.
pub fn sheet(set: &Set, here: &Here) -> Sheet<super::Body> {
    let cells = vec![Cell::new("Keys of", "every file of the company folder")];
    let body = super::Body::Keys(Keys { groups: groups() });
    let placed = Placed { series: &cover_series(), nth: cover_nth(KEYS), here };
    let sheet = placed.sheet(set, "Keys".into(), cells, body);
    Sheet { under_title: "What each file may say, with its unit and an example.".into(), ..sheet }
}

/// Every thing stands once, with the first kind of file that holds it.
fn groups() -> Vec<KeyGroup> {
    let mut told: Vec<&'static Thing> = Vec::new();
    let mut groups = Vec::new();
    for file in FileKind::ALL {
        let new =
            file.things().into_iter().filter(|thing| !told.iter().any(|known| std::ptr::eq(*known, *thing)));
        let new: Vec<&'static Thing> = new.collect();
        told.extend(&new);
        let mut tables: Vec<KeyTable> = new.into_iter().map(table).collect();
        if file == FileKind::Standard {
            tables.push(figures());
        }
        groups.push(KeyGroup { name: capital(file.word()), files: file.files(), tables });
    }
    groups
}

fn table(thing: &'static Thing) -> KeyTable {
    KeyTable { name: capital(thing.what), rows: thing.keys.iter().map(row).collect() }
}

fn row(key: &'static Key) -> KeyRow {
    KeyRow {
        key: key.name,
        takes: in_words(key),
        without: if key.must { "must be there".into() } else { key.without.into() },
        example: key.example.into(),
        about: key.about.into(),
    }
}

/// The figure of each computed clause.
fn figures() -> KeyTable {
    let row = |kind: &crate::company::ClauseKind| {
        let (key, sort) = kind.parameter?;
        let units = sort.units_list();
        let units = units.strip_prefix("use ").map(|units| format!(", in {units}")).unwrap_or_default();
        let without = if kind.default.is_some() { "as the program has it" } else { "must be there" };
        Some(KeyRow {
            key,
            takes: format!("{}{units}", sort.a()),
            without: without.into(),
            example: sort.example().into(),
            about: format!("figure of the clause {}; as a should it may have `{FAILS_AT}` too", kind.id),
        })
    };
    KeyTable { name: "Figures of computed clauses".into(), rows: kinds().iter().filter_map(row).collect() }
}

/// `an inlet` as `An inlet`.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_that_the_reader_knows_stands_on_the_sheet() {
        let groups = groups();
        for thing in FileKind::ALL.into_iter().flat_map(FileKind::things) {
            let name = capital(thing.what);
            let tables = groups.iter().flat_map(|group| &group.tables).filter(|table| table.name == name);
            let rows: Vec<&KeyRow> = tables.flat_map(|table| &table.rows).collect();
            for key in thing.keys {
                let row = rows.iter().find(|row| row.key == key.name);
                let row = row.unwrap_or_else(|| panic!("`{}` of {name} is missing", key.name));
                assert!(
                    !row.takes.is_empty() && !row.without.is_empty() && !row.example.is_empty(),
                    "{row:?}"
                );
            }
        }
        let figures =
            groups.iter().flat_map(|group| &group.tables).find(|table| table.name.starts_with("Figures"));
        let with = kinds().iter().filter(|kind| kind.parameter.is_some()).count();
        assert_eq!(figures.map(|table| table.rows.len()), Some(with));
    }
}

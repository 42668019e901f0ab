//! The glossary: the firm's own words, what they mean, and what else people call them.
use super::book::meaning;
use super::cover::cover_cells;
use super::input::{Set, WordLine};
use super::ways::{GLOSSARY, Placed, cover_nth, cover_series};
use crate::company::{Meant, Standard};
use crate::packet::here::Here;
use crate::packet::prose::phrase;
use crate::packet::sheet::{Link, Sheet};
use crate::text::slug;
use serde::Serialize;

/// The glossary.
#[derive(Debug, Clone, Serialize)]
pub struct Glossary {
    pub words: Vec<WordRow>,
    /// Said where the firm has no list.
    pub none: String,
}

/// A word.
#[derive(Debug, Clone, Serialize)]
pub struct WordRow {
    pub anchor: String,
    pub word: String,
    pub means_html: String,
    /// `Also: stop, tail stop.`; empty for none.
    pub also: String,
    pub see: Vec<Link>,
    /// What the standard in force means by it, where that is something else; else empty.
    pub in_standard_html: String,
}

/// The sheet.
pub fn sheet(set: &Set, here: &Here) -> Sheet<super::Body> {
    let mut words: Vec<&WordLine> = set.words.iter().collect();
    words.sort_by_key(|word| word.word.to_lowercase());
    let none = match words.is_empty() {
        true => "No word is listed yet. Words stand in content/words.yaml.".to_owned(),
        false => String::new(),
    };
    let mut rows: Vec<WordRow> = words.into_iter().map(|word| row(word, here)).collect();
    if let Some(standard) = set.in_force() {
        with_terms(&mut rows, standard);
    }
    let body = super::Body::Words(Glossary { words: rows, none });
    let placed = Placed { series: &cover_series(), nth: cover_nth(GLOSSARY), here };
    let sheet = placed.sheet(set, "Words".into(), cover_cells(set), body);
    Sheet { under_title: "Words of the trade as we say them, and what else they are called.".into(), ..sheet }
}

fn row(word: &WordLine, here: &Here) -> WordRow {
    let link = |other: &String| Link { href: here.to(GLOSSARY, &anchor(other)), text: other.clone() };
    WordRow {
        anchor: anchor(&word.word),
        word: word.word.clone(),
        means_html: word.means_html.clone(),
        also: if word.also.is_empty() { String::new() } else { format!("Also: {}.", word.also.join(", ")) },
        see: word.see.iter().map(link).collect(),
        in_standard_html: String::new(),
    }
}

/// Adds what the standard in force defines for itself: beside the word of the list, or as a word of its own.
fn with_terms(rows: &mut Vec<WordRow>, standard: &Standard) {
    for term in &standard.terms {
        let in_standard = || format!("In standard {}: {}", standard.revision, meaning(term));
        match (&term.meant, rows.iter_mut().find(|row| row.word.eq_ignore_ascii_case(&term.term))) {
            (Meant::Shared, _) => {}
            (_, Some(row)) => row.in_standard_html = phrase(&in_standard()),
            (_, None) => rows.push(WordRow {
                anchor: anchor(&term.term),
                word: term.term.clone(),
                means_html: phrase(&in_standard()),
                also: String::new(),
                see: Vec::new(),
                in_standard_html: String::new(),
            }),
        }
    }
    rows.sort_by_key(|row| row.word.to_lowercase());
}

/// The place of a word on the sheet.
pub fn anchor(word: &str) -> String {
    format!("word-{}", slug(word))
}

//! The glossary: the firm's own words, what they mean, and what else people call them.
use super::cover::cover_cells;
use super::input::{Set, WordLine};
use super::ways::{GLOSSARY, Placed, cover_nth, cover_series};
use crate::packet::here::Here;
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
}

/// The sheet.
pub fn sheet(set: &Set, here: &Here) -> Sheet<super::Body> {
    let mut words: Vec<&WordLine> = set.words.iter().collect();
    words.sort_by_key(|word| word.word.to_lowercase());
    let none = match words.is_empty() {
        true => "No word is listed yet. Words stand in content/words.yaml.".to_owned(),
        false => String::new(),
    };
    let rows = words.into_iter().map(|word| row(word, here)).collect();
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
    }
}

/// The place of a word on the sheet.
pub fn anchor(word: &str) -> String {
    format!("word-{}", slug(word))
}

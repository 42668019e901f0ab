//! A book on fixed sheets: pieces of known height are set one after the other, so that the page on which a
//! heading stands is known before anything is printed.
//!
//! Chromium numbers no contents by itself. Heights are reckoned in the widest of the usual faces, so that a
//! sheet is never fuller than reckoned; a test prints the book and holds the contents against the pages.
use serde::Serialize;

/// What a piece shows, all words decided; the tag picks its place in the template.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Block {
    /// The first page.
    Title { title: String, lines: Vec<String>, firm: String, contact: Vec<String> },
    /// Of a section; not shown where the title of its sheet says it.
    Heading { anchor: String, text: String, shown: bool },
    /// Over a few rows of a section.
    Under { text: String },
    /// A paragraph.
    Words { words_html: String },
    /// A clause: its number and heading, its small facts at the side of its text.
    Clause { anchor: String, name: String, facts: Vec<String>, text_html: String },
    /// The clause that runs on from the sheet before, over what is left of it.
    Continued { name: String },
    /// A label at the side of its words.
    Entry { label: String, words_html: String },
    /// Drawings that keep a clause and break it.
    Picture { caption: String, drawing_svg: String },
    /// A change since the revision before.
    Change { name: String, lines: Vec<String>, reason: String },
    /// Names to sign, each a row of blanks.
    Signs { rows: Vec<String> },
    /// A line of the contents.
    Row { text: String, anchor: String, page: usize, deep: bool },
}

/// A piece of the book.
#[derive(Debug, Clone)]
pub struct Piece {
    pub block: Block,
    /// Height on paper with the space round it, mm.
    pub height_mm: f64,
    /// Whether it is never the last on its sheet.
    pub keeps_next: bool,
    /// Whether it begins a sheet.
    pub begins: bool,
}

impl Piece {
    pub fn new(block: Block, height_mm: f64) -> Piece {
        Piece { block, height_mm, keeps_next: false, begins: false }
    }

    /// Whether it can stand in a clause, under its head.
    fn of_clause(&self) -> bool {
        matches!(self.block, Block::Entry { .. } | Block::Picture { .. })
    }

    /// Text and anchor of a heading, and whether it stands under another one in the contents.
    pub fn heading(&self) -> Option<(&str, &str, bool)> {
        match &self.block {
            Block::Heading { anchor, text, .. } => Some((text, anchor, false)),
            Block::Clause { anchor, name, .. } => Some((name, anchor, true)),
            _ => None,
        }
    }
}

/// Height of the line that names a clause which runs on, mm.
const CONTINUED_MM: f64 = 7.0;

/// Sets pieces on sheets of `room_mm`, in order; none is lost and none split. A piece that is kept with the
/// next goes over with it. One that is higher than a sheet stands alone. A sheet that begins within a clause
/// names it first.
pub fn set(pieces: Vec<Piece>, room_mm: f64) -> Vec<Vec<Piece>> {
    let mut leaves: Vec<Vec<Piece>> = Vec::new();
    let mut left_mm = 0.0;
    let mut clause: Option<String> = None;
    for group in grouped(pieces) {
        let height_mm: f64 = group.iter().map(|piece| piece.height_mm).sum();
        let begins = group.first().is_some_and(|piece| piece.begins);
        let within = group.first().and_then(|piece| piece.of_clause().then(|| clause.clone()).flatten());
        for piece in &group {
            match &piece.block {
                Block::Clause { name, .. } => clause = Some(name.clone()),
                Block::Heading { .. } => clause = None,
                _ => {}
            }
        }
        match leaves.last_mut() {
            Some(leaf) if !begins && height_mm <= left_mm => leaf.extend(group),
            _ => {
                let continued = within.map(|name| Piece::new(Block::Continued { name }, CONTINUED_MM));
                left_mm = room_mm - continued.as_ref().map_or(0.0, |piece| piece.height_mm);
                leaves.push(continued.into_iter().chain(group).collect());
            }
        }
        left_mm -= height_mm;
    }
    leaves
}

/// Pieces that go on one sheet together.
fn grouped(pieces: Vec<Piece>) -> Vec<Vec<Piece>> {
    let mut groups: Vec<Vec<Piece>> = Vec::new();
    let mut open = false;
    for piece in pieces {
        let keeps_next = piece.keeps_next;
        match groups.last_mut() {
            Some(group) if open => group.push(piece),
            _ => groups.push(vec![piece]),
        }
        open = keeps_next;
    }
    groups
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(height_mm: f64, name: &str) -> Piece {
        Piece::new(Block::Under { text: name.into() }, height_mm)
    }

    fn names(leaves: &[Vec<Piece>]) -> Vec<String> {
        let name = |piece: &Piece| match &piece.block {
            Block::Under { text } => text.clone(),
            _ => String::new(),
        };
        leaves.iter().map(|leaf| leaf.iter().map(name).collect::<Vec<_>>().join(" ")).collect()
    }

    #[test]
    fn pieces_fill_a_sheet_and_go_over_to_the_next() {
        let pieces = ["a", "b", "c"].map(|name| piece(40.0, name)).to_vec();
        assert_eq!(names(&set(pieces, 100.0)), ["a b", "c"]);
    }

    #[test]
    fn a_heading_goes_over_with_what_it_heads() {
        let heading = Piece { keeps_next: true, ..piece(10.0, "head") };
        let pieces = vec![piece(60.0, "a"), heading, piece(40.0, "b")];
        assert_eq!(names(&set(pieces, 100.0)), ["a", "head b"]);
    }

    #[test]
    fn a_chapter_begins_a_sheet_and_a_giant_stands_alone() {
        let chapter = Piece { begins: true, ..piece(10.0, "chapter") };
        let pieces = vec![piece(10.0, "a"), chapter, piece(300.0, "giant"), piece(10.0, "b")];
        assert_eq!(names(&set(pieces, 100.0)), ["a", "chapter", "giant", "b"]);
    }

    #[test]
    fn a_sheet_that_begins_within_a_clause_names_it() {
        let clause = |name: &str| {
            let block = Block::Clause {
                anchor: String::new(),
                name: name.into(),
                facts: Vec::new(),
                text_html: String::new(),
            };
            Piece { keeps_next: true, ..Piece::new(block, 40.0) }
        };
        let picture =
            || Piece::new(Block::Picture { caption: String::new(), drawing_svg: String::new() }, 50.0);
        let leaves =
            set(vec![clause("2.1 Bends"), picture(), picture(), clause("2.2 Stop"), picture()], 100.0);
        let firsts: Vec<&Block> = leaves.iter().map(|leaf| &leaf[0].block).collect();
        assert!(
            matches!(&firsts[..], [Block::Clause { .. }, Block::Continued { name }, Block::Clause { .. }] if name == "2.1 Bends"),
            "{firsts:?}"
        );
    }

    #[test]
    fn zero_pieces_take_no_sheet() {
        assert!(set(Vec::new(), 100.0).is_empty());
    }
}

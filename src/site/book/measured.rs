//! Pieces with their heights: the measures here are those of the print style of the book.
use super::leaves::{Block, Piece};
use crate::company::Paper;
use crate::packet::paper::{POINT_MM, lines, svg_mm, width_mm};
use crate::packet::prose::{phrase, words};

/// Size of the words, points, and height of a line of them, mm.
const SIZE_PT: f64 = 10.0;
const LINE_MM: f64 = SIZE_PT * POINT_MM * 1.25;
/// Width of the labels at the side, and between them and the words, mm.
const SIDE_MM: f64 = 34.0;
const GAP_MM: f64 = 4.0;
/// Space round a row, a paragraph, a heading of a section, and a clause's heading, mm.
const ROW_MM: f64 = 1.4;
const PARAGRAPH_MM: f64 = 2.0;
const HEADING_MM: f64 = 15.0;
const CLAUSE_MM: f64 = 11.0;
/// Bold words within a line run wider than those measured.
const BOLD: f64 = 0.96;

/// Makes pieces for a paper.
#[derive(Clone, Copy)]
pub struct Setter {
    width_mm: f64,
}

impl Setter {
    pub fn new(paper: Paper) -> Setter {
        Setter { width_mm: width_mm(paper) }
    }

    /// Room of the words beside a label, mm.
    pub fn beside_mm(&self) -> f64 {
        self.width_mm - SIDE_MM - GAP_MM
    }

    /// The heading of a section.
    pub fn heading(&self, anchor: &str, text: &str) -> Piece {
        let block = Block::Heading { anchor: anchor.into(), text: text.into(), shown: true };
        Piece { keeps_next: true, ..Piece::new(block, HEADING_MM) }
    }

    /// The same at the top of a sheet.
    pub fn chapter(&self, anchor: &str, text: &str) -> Piece {
        Piece { begins: true, ..self.heading(anchor, text) }
    }

    /// A line over a few rows.
    pub fn under(&self, text: &str) -> Piece {
        Piece { keeps_next: true, ..Piece::new(Block::Under { text: text.into() }, LINE_MM + 4.0) }
    }

    /// Paragraphs of a firm's words, Markdown; those of one list stay together.
    pub fn paragraphs(&self, markdown: &str) -> Vec<Piece> {
        let paragraph = |text: &str| {
            let height_mm = self.height_mm(text, self.width_mm) + PARAGRAPH_MM;
            Piece::new(Block::Words { words_html: phrase(text) }, height_mm)
        };
        paragraphs(markdown).into_iter().map(paragraph).collect()
    }

    /// A label beside words of one or several paragraphs; the label stands at the first.
    pub fn entries(&self, label: &str, markdown: &str) -> Vec<Piece> {
        let entry = |(nth, text): (usize, &str)| {
            let label = if nth == 0 { label } else { "" };
            let right_mm = self.height_mm(text, self.beside_mm());
            let height_mm = right_mm.max(self.height_mm(label, SIDE_MM)) + ROW_MM;
            Piece::new(Block::Entry { label: label.into(), words_html: phrase(text) }, height_mm)
        };
        paragraphs(markdown).into_iter().enumerate().map(entry).collect()
    }

    /// The head of a clause with its text.
    pub fn clause(&self, anchor: String, name: String, facts: Vec<String>, text: &str) -> Piece {
        let side_mm: f64 = facts.iter().map(|fact| self.height_mm(fact, SIDE_MM)).sum();
        let height_mm = CLAUSE_MM + side_mm.max(self.height_mm(text, self.beside_mm())) + ROW_MM;
        let block = Block::Clause { anchor, name, facts, text_html: phrase(text) };
        Piece { keeps_next: true, ..Piece::new(block, height_mm) }
    }

    /// A drawing with its caption.
    pub fn picture(&self, caption: String, svg: String) -> Piece {
        let height_mm = svg_mm(&svg).1 + self.height_mm(&caption, self.beside_mm()) + 4.0;
        Piece::new(Block::Picture { caption, drawing_svg: svg }, height_mm)
    }

    /// A change with its reason.
    pub fn change(&self, name: String, told: Vec<String>, reason: String) -> Piece {
        let why = format!("Why: {reason}");
        let told_mm: f64 =
            told.iter().chain([&why, &name]).map(|line| self.height_mm(line, self.width_mm)).sum();
        Piece::new(Block::Change { name, lines: told, reason }, told_mm + 2.4)
    }

    /// Rows to sign.
    pub fn signs(&self, rows: Vec<String>) -> Piece {
        let height_mm = 24.0 * rows.len() as f64;
        Piece::new(Block::Signs { rows }, height_mm)
    }

    /// A line of the contents.
    pub fn row(&self, text: &str, anchor: &str, page: usize, deep: bool) -> Piece {
        let height_mm = self.height_mm(text, self.width_mm - 20.0) + if deep { 0.1 } else { 1.4 };
        let block = Block::Row { text: text.into(), anchor: anchor.into(), page, deep };
        // A section's line stands with the first of its clauses.
        Piece { keeps_next: !deep, ..Piece::new(block, height_mm) }
    }

    /// Height of Markdown in a column, mm: every line of a list begins a new one.
    fn height_mm(&self, markdown: &str, room_mm: f64) -> f64 {
        let count: usize =
            list_lines(markdown).iter().map(|line| lines(&words(line), SIZE_PT, room_mm * BOLD)).sum();
        count as f64 * LINE_MM
    }
}

/// Paragraphs of a Markdown text.
fn paragraphs(markdown: &str) -> Vec<&str> {
    markdown.split("\n\n").map(str::trim).filter(|text| !text.is_empty()).collect()
}

/// A paragraph as one line, a list as its items.
fn list_lines(markdown: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for line in markdown.lines() {
        let item = line.trim_start().starts_with("- ") || line.trim_start().starts_with("* ");
        match found.last_mut() {
            Some(last) if !item => {
                last.push(' ');
                last.push_str(line);
            }
            _ => found.push(line.to_owned()),
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grows_with_words_and_with_items_of_a_list() {
        let setter = Setter::new(Paper::Letter);
        let height = |text: &str| setter.paragraphs(text).iter().map(|piece| piece.height_mm).sum::<f64>();
        assert!(height(&"word ".repeat(80)) > height("word"));
        assert!(height("- one\n- two\n- three") > height("one two three"));
        assert_eq!(setter.paragraphs("one\n\ntwo").len(), 2);
    }

    #[test]
    fn a_label_stands_at_the_first_paragraph_alone() {
        let entries = Setter::new(Paper::A4).entries("Why", "one\n\ntwo");
        let label = |piece: &Piece| match &piece.block {
            Block::Entry { label, .. } => label.clone(),
            _ => panic!("no entry"),
        };
        assert_eq!(entries.iter().map(label).collect::<Vec<_>>(), ["Why", ""]);
    }
}

//! Words that stand as Markdown within YAML: in a question, a card, the front matter, the glossary.

use crate::company::Reader;
use crate::text::Node;

/// Markdown, and the line and column of the file at which it begins, from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    pub text: String,
    pub line: usize,
    pub col: usize,
}

impl Words {
    /// The words of a node; what is no text is told.
    pub(crate) fn read(r: &mut Reader, node: &Node, wanted: &str) -> Option<Words> {
        let text = r.text(node, wanted)?.to_owned();
        let place = r.place_of(node);
        Some(Words { text, line: place.line, col: place.column })
    }

    /// The words of every item of a list.
    pub(crate) fn list(r: &mut Reader, node: &Node, wanted: &str, item: &str) -> Option<Vec<Words>> {
        let items = r.list(node, wanted)?;
        let read: Vec<Option<Words>> = items.iter().map(|one| Words::read(r, one, item)).collect();
        read.into_iter().collect()
    }
}

/// Words set as HTML.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct SetWords {
    /// One paragraph's inside, or whole blocks where the words have several.
    pub html: String,
    /// The words alone.
    pub text: String,
}

impl SetWords {
    /// Whether the words are one paragraph, fit to stand within a line.
    pub fn is_inline(&self) -> bool {
        !["<p>", "<ul>", "<ol", "<pre", "<blockquote", "<h"].iter().any(|block| self.html.contains(block))
    }
}

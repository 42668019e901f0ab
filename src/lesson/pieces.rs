//! The markup of what goes beyond plain CommonMark. Class names are told here and nowhere else.

use super::render::Picture;
use crate::text::escape;

use pulldown_cmark::{Alignment, BlockQuoteKind};

pub(super) const ALERT_CLOSE: &str = "</aside>\n";
pub(super) const TABLE_CLOSE: &str = "</tbody></table></div>\n";
// No landmark: on the page that prints the whole course there is one to a lesson.
pub(super) const NOTES_OPEN: &str = "<div class=\"notes\" role=\"group\" aria-label=\"Notes\"><ol>\n";
pub(super) const NOTES_CLOSE: &str = "</ol></div>\n";

/// A bordered aside with its number and one of the signal words of ANSI Z535.6, so that it is understood in
/// black and white.
pub(super) fn alert_open(kind: BlockQuoteKind, number: usize) -> String {
    let word = match kind {
        BlockQuoteKind::Note | BlockQuoteKind::Tip | BlockQuoteKind::Important => "Notice",
        BlockQuoteKind::Warning => "Warning",
        BlockQuoteKind::Caution => "Caution",
    };
    let class = word.to_lowercase();
    format!(
        "<aside class=\"heed heed-{class}\" role=\"note\" aria-label=\"{word} {number}\">\
         <p class=\"heed-word\"><b class=\"signal signal-{class}\">{word}</b> {number}</p>\n"
    )
}

/// A wide table scrolls by itself on a phone; the frame takes the focus so that it scrolls by key too.
pub(super) fn table_open(number: usize) -> String {
    format!("<div class=\"wide\" role=\"group\" tabindex=\"0\" aria-label=\"Table {number}\"><table>")
}

pub(super) fn cell_open(head: bool, alignment: Alignment) -> String {
    let (tag, scope) = if head { ("th", " scope=\"col\"") } else { ("td", "") };
    let class = match alignment {
        Alignment::None => "",
        Alignment::Left => " class=\"to-left\"",
        Alignment::Center => " class=\"to-middle\"",
        Alignment::Right => " class=\"to-right\"",
    };
    format!("<{tag}{scope}{class}>")
}

/// The mark in the text. Note ids hold a full stop, which no heading's id does.
pub(super) fn note_mark(number: usize, occurrence: usize) -> String {
    let id = mark_id(number, occurrence);
    format!(
        "<sup class=\"note-mark\"><a id=\"{id}\" href=\"#note.{number}\" aria-label=\"Note {number}\">{number}</a></sup>"
    )
}

pub(super) fn note_open(number: usize) -> String {
    format!("<li id=\"note.{number}\">")
}

/// The way back to each place that refers to the note.
pub(super) fn note_close(number: usize, references: usize) -> String {
    let back: Vec<String> = (1..=references)
        .map(|occurrence| {
            let id = mark_id(number, occurrence);
            let which = if references > 1 { format!(" {occurrence}") } else { String::new() };
            format!("<a href=\"#{id}\">Back to the text{which}</a>")
        })
        .collect();
    format!("<p class=\"note-back\">{}</p></li>\n", back.join(" "))
}

/// Stands where something could not be made, so that a reader of the page learns of it too.
pub(super) fn missing(what: &str, message: &str) -> String {
    format!("<p class=\"missing\"><strong>Missing {what}:</strong> {}.</p>\n", escape(message))
}

/// A picture that stands in the page itself; its size keeps its place while the page is laid out.
pub(super) fn picture(picture: &Picture, words: &str, title: &str) -> String {
    let title = if title.is_empty() { String::new() } else { format!(" title=\"{}\"", escape(title)) };
    format!(
        "<img src=\"{}\" alt=\"{}\"{title} width=\"{}\" height=\"{}\">",
        escape(&picture.data_uri),
        escape(words),
        picture.wide_px,
        picture.high_px
    )
}

fn mark_id(number: usize, occurrence: usize) -> String {
    match occurrence {
        1 => format!("mark.{number}"),
        _ => format!("mark.{number}.{occurrence}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_leads_back_to_every_reference() {
        let close = note_close(2, 2);
        assert!(close.contains("href=\"#mark.2\">Back to the text 1<"), "{close}");
        assert!(close.contains("href=\"#mark.2.2\">Back to the text 2<"), "{close}");
        assert!(note_mark(2, 2).contains("id=\"mark.2.2\""));
    }

    #[test]
    fn an_alert_names_its_kind() {
        let open = alert_open(BlockQuoteKind::Caution, 2);
        assert!(open.contains("heed-caution") && open.contains(">Caution</b> 2</p>"), "{open}");
    }

    #[test]
    fn only_head_cells_have_a_scope() {
        assert_eq!(cell_open(true, Alignment::None), "<th scope=\"col\">");
        assert_eq!(cell_open(false, Alignment::Right), "<td class=\"to-right\">");
    }
}

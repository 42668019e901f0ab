//! A firm's own words turned into HTML that cannot carry markup of its own.
use crate::text::{escape, figures_whole};
use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd, html};

/// Markdown as HTML; raw HTML in it is shown as text, and links to scripts are dropped.
///
/// ```
/// use longsweep::packet::prose::prose;
/// assert_eq!(prose("at *most* 360"), "<p>at <em>most</em> 360</p>\n");
/// assert_eq!(prose("a <b>x"), "<p>a &lt;b&gt;x</p>\n");
/// ```
pub fn prose(markdown: &str) -> String {
    let options = Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH;
    let mut in_picture = false;
    let events = Parser::new_ext(markdown, options).map(|event| {
        match event {
            Event::Start(Tag::Image { .. }) => in_picture = true,
            Event::End(TagEnd::Image) => in_picture = false,
            _ => {}
        }
        // What tells of a picture is no markup.
        tame(event, in_picture)
    });
    let mut out = String::with_capacity(markdown.len() * 2);
    html::push_html(&mut out, events);
    out
}

/// Markdown of one paragraph without the paragraph around it, for table cells and list lines.
pub fn phrase(markdown: &str) -> String {
    let html = prose(markdown.trim());
    let inner = html.strip_prefix("<p>").and_then(|rest| rest.strip_suffix("</p>\n"));
    match inner {
        Some(inner) if !inner.contains("<p>") => inner.to_string(),
        _ => html,
    }
}

/// The words alone, for the find index and for sentences.
pub fn words(markdown: &str) -> String {
    let mut out = String::new();
    for event in Parser::new(markdown) {
        match event {
            Event::Text(text) | Event::Code(text) | Event::Html(text) | Event::InlineHtml(text) => {
                out.push_str(&text)
            }
            Event::SoftBreak | Event::HardBreak | Event::End(_) => out.push(' '),
            _ => {}
        }
    }
    out.split_whitespace().collect::<Vec<_>>().join(" ").replace(" .", ".").replace(" ,", ",")
}

/// A sentence of a finding as it stands on paper: capital first, full stop last.
pub fn sentence(text: &str) -> String {
    let text = text.trim();
    let mut letters = text.chars();
    let Some(first) = letters.next() else {
        return String::new();
    };
    let ended = text.ends_with(['.', '!', '?', ':']);
    format!("{}{}{}", first.to_uppercase(), letters.as_str(), if ended { "" } else { "." })
}

/// Text inside a CSS string, everything but letters, digits and spaces written as an escape.
pub fn css_string(text: &str) -> String {
    let escaped = text.chars().map(|c| match c {
        c if c.is_ascii_alphanumeric() || c == ' ' => c.to_string(),
        c => format!("\\{:x} ", c as u32),
    });
    format!("\"{}\"", escaped.collect::<String>())
}

/// An event without raw HTML and without links that could run something, its figures whole unless it is plain.
fn tame(event: Event<'_>, plain: bool) -> Event<'_> {
    match event {
        Event::Text(text) if !plain => match figures_whole(&escape(&text)) {
            Some(html) => Event::InlineHtml(html.into()),
            None => Event::Text(text),
        },
        Event::Html(text) | Event::InlineHtml(text) => Event::Text(text),
        Event::Start(Tag::Link { link_type, dest_url, title, id }) => {
            let dest_url = if is_plain_link(&dest_url) { dest_url } else { "".into() };
            Event::Start(Tag::Link { link_type, dest_url, title, id })
        }
        Event::Start(Tag::Image { link_type, dest_url, title, id }) => {
            let dest_url = if is_plain_link(&dest_url) { dest_url } else { "".into() };
            Event::Start(Tag::Image { link_type, dest_url, title, id })
        }
        other => other,
    }
}

/// Whether a link is relative or leads to a web page, a mailbox or a telephone.
fn is_plain_link(link: &str) -> bool {
    let head = link.split(['/', '?', '#']).next().unwrap_or_default();
    match head.split_once(':') {
        None => true,
        Some((scheme, _)) => {
            ["http", "https", "mailto", "tel"].iter().any(|s| scheme.trim().eq_ignore_ascii_case(s))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_ends_within_a_figure_but_in_the_words_of_a_picture() {
        assert_eq!(
            prose("under *1-1/4 in*"),
            "<p>under <em><span class=\"whole\">1-1/4</span> in</em></p>\n"
        );
        assert!(prose("![1-1/4 in](a.png)").contains("alt=\"1-1/4 in\""));
    }

    #[test]
    fn zero_markup_of_the_writer_gets_through() {
        let html = prose("<script>alert(1)</script> [x](javascript:alert(1)) ![y](JaVaScRiPt:1)");
        assert!(!html.contains("<script"), "{html}");
        assert!(!html.to_lowercase().contains("=\"javascript"), "{html}");
    }

    #[test]
    fn phrases_have_no_paragraph() {
        assert_eq!(phrase("at *most*"), "at <em>most</em>");
        assert!(phrase("one\n\ntwo").contains("<p>two</p>"));
    }

    #[test]
    fn css_strings_cannot_end_early() {
        assert_eq!(css_string("a\"</style>"), "\"a\\22 \\3c \\2f style\\3e \"");
    }

    #[test]
    fn sentences_stand_on_paper() {
        assert_eq!(sentence("move B3 on"), "Move B3 on.");
        assert_eq!(sentence("Done."), "Done.");
        assert_eq!(sentence(""), "");
    }
}

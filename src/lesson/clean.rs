//! HTML that a firm writes into its lessons: what of it stays.
//!
//! The list below is all that stays; the rest goes and is said. The cleaning itself is the work of
//! `ammonia`, over the whole lesson, so that what is opened in one paragraph and closed in another is
//! seen as a browser sees it. The program's own markup is kept out of its hands by tokens.
use ammonia::{Builder, UrlRelative};
use std::collections::HashSet;
use std::ops::Range;

/// Elements that stay.
const ELEMENTS: [&str; 58] = [
    "a",
    "abbr",
    "b",
    "blockquote",
    "br",
    "caption",
    "cite",
    "code",
    "dd",
    "del",
    "details",
    "dfn",
    "div",
    "dl",
    "dt",
    "em",
    "figcaption",
    "figure",
    "h1",
    "h2",
    "h3",
    "h4",
    "h5",
    "h6",
    "hr",
    "i",
    "ins",
    "kbd",
    "li",
    "mark",
    "ol",
    "p",
    "pre",
    "q",
    "s",
    "samp",
    "small",
    "span",
    "strong",
    "sub",
    "summary",
    "sup",
    "table",
    "tbody",
    "td",
    "tfoot",
    "th",
    "thead",
    "time",
    "tr",
    "u",
    "ul",
    "var",
    "wbr",
    "bdi",
    "bdo",
    "ruby",
    "rt",
];
/// Attributes that stay on every element.
const ATTRIBUTES: [&str; 3] = ["dir", "lang", "title"];
/// Attributes that stay on one element.
const OWN_ATTRIBUTES: [(&str, &str); 14] = [
    ("a", "href"),
    ("code", "class"),
    ("details", "open"),
    ("h1", "id"),
    ("h2", "id"),
    ("h3", "id"),
    ("h4", "id"),
    ("h5", "id"),
    ("h6", "id"),
    ("ol", "start"),
    ("td", "colspan"),
    ("td", "rowspan"),
    ("th", "colspan"),
    ("th", "rowspan"),
];
/// Elements whose content a browser does not read as markup: a block with one is cleaned by itself, so that
/// it takes nothing of what follows with it.
const SWALLOWING: [&str; 12] = [
    "script",
    "style",
    "textarea",
    "title",
    "iframe",
    "noscript",
    "noembed",
    "noframes",
    "xmp",
    "plaintext",
    "template",
    "select",
];
/// Where links may lead.
const SCHEMES: [&str; 5] = ["http", "https", "mailto", "tel", "file"];

/// What was left out of a piece of HTML, with the bytes of the piece that say so.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct LeftOut {
    pub(super) at: Range<usize>,
    pub(super) message: String,
    pub(super) help: String,
}

/// The program's own markup, kept apart while the rest is cleaned.
#[derive(Debug)]
pub(super) struct Kept {
    sign: char,
    pieces: Vec<String>,
}

impl Kept {
    /// A keeper for a lesson; its tokens are told by a letter that the lesson does not hold.
    pub(super) fn of(text: &str) -> Kept {
        let sign = ('\u{e000}'..='\u{f8ff}').find(|c| !text.contains(*c)).unwrap_or('\u{f8ff}');
        Kept { sign, pieces: Vec::new() }
    }

    /// Keeps a piece, and gives the token that stands for it.
    ///
    /// Line breaks at its end stay outside, for the library's writer counts them.
    pub(super) fn keep(&mut self, piece: String) -> String {
        let words = piece.trim_end_matches('\n');
        // What holds a token is kept already, as the markup within a note is when the notes are set.
        if words.is_empty() || words.contains(self.sign) {
            return piece;
        }
        self.pieces.push(words.to_owned());
        format!("{0}{1}{0}{2}", self.sign, self.pieces.len() - 1, &piece[words.len()..])
    }

    /// The lesson with every token replaced by its piece; `clean` where it holds HTML of the firm's own.
    pub(super) fn restore(&self, html: &str, clean: bool) -> String {
        let cleaned = if clean { cleaner(self.sign).clean(html).to_string() } else { html.to_owned() };
        let mut out = String::with_capacity(cleaned.len());
        let mut parts = cleaned.split(self.sign);
        out.push_str(parts.next().unwrap_or(""));
        while let (Some(token), Some(after)) = (parts.next(), parts.next()) {
            let piece = token.parse::<usize>().ok().and_then(|at| self.pieces.get(at));
            out.push_str(piece.map_or("", String::as_str));
            out.push_str(after);
        }
        out
    }
}

fn cleaner(sign: char) -> Builder<'static> {
    let mut builder = Builder::empty();
    builder
        .add_tags(ELEMENTS)
        .add_clean_content_tags(["script", "style"])
        .add_generic_attributes(ATTRIBUTES)
        .add_url_schemes(SCHEMES)
        .url_relative(UrlRelative::PassThrough)
        .link_rel(None)
        // A token inside an attribute would bring markup there.
        .attribute_filter(move |element, attribute, value| {
            let language = element != "code" || attribute != "class" || value.starts_with("language-");
            (language && !value.contains(sign)).then(|| value.into())
        });
    for (element, attribute) in OWN_ATTRIBUTES {
        builder.add_tag_attributes(element, [attribute]);
    }
    builder
}

/// A block of HTML that takes nothing of what follows with it.
pub(super) fn contained(block: &str) -> String {
    let swallows = tags(block).iter().any(|tag| SWALLOWING.contains(&tag.name.as_str()));
    if swallows { cleaner('\u{f8ff}').clean(block).to_string() } else { block.to_owned() }
}

/// Whether a piece that is one tag stays.
pub(super) fn stays(piece: &str) -> bool {
    tags(piece).iter().all(|tag| ELEMENTS.contains(&tag.name.as_str()))
}

/// What of a piece of HTML does not stay.
pub(super) fn left_out(piece: &str) -> Vec<LeftOut> {
    let mut told = Vec::new();
    for tag in tags(piece).into_iter().filter(|tag| !tag.closes) {
        if !ELEMENTS.contains(&tag.name.as_str()) {
            told.push(LeftOut {
                message: format!("`<{}>` is left out of the page", crate::text::clip(&tag.name)),
                help: instead(&tag.name).into(),
                at: tag.at,
            });
            continue;
        }
        let own: HashSet<&str> =
            OWN_ATTRIBUTES.iter().filter(|(element, _)| *element == tag.name).map(|(_, a)| *a).collect();
        for (name, at) in tag.attributes {
            if !ATTRIBUTES.contains(&name.as_str()) && !own.contains(name.as_str()) {
                let message =
                    format!("`{}` of `<{}>` is left out of the page", crate::text::clip(&name), tag.name);
                let help = "leave it out; the theme's style sheet decides how things look".into();
                told.push(LeftOut { at, message, help });
            }
        }
    }
    told
}

/// What to write in place of an element.
fn instead(name: &str) -> &'static str {
    match name {
        "img" | "picture" | "svg" => "write a picture as `![what it shows](picture.png)`",
        "script" | "style" | "link" | "meta" => "leave it out; scripts and styles belong to the theme",
        "center" | "font" => "leave it out; the theme's style sheet decides how things look",
        "section" | "article" | "main" | "header" | "footer" | "nav" | "aside" => {
            "write `<div>` in its place"
        }
        _ => "leave it out, or write it in Markdown",
    }
}

/// A tag as it is written.
struct Tag {
    name: String,
    closes: bool,
    at: Range<usize>,
    attributes: Vec<(String, Range<usize>)>,
}

/// The tags of a piece of HTML, found loosely: they are only told of, not cleaned by this.
fn tags(piece: &str) -> Vec<Tag> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(open) = piece.get(at..).and_then(|rest| rest.find('<')).map(|i| at + i) {
        let rest = &piece[open + 1..];
        if rest.starts_with("!--") {
            at = rest.find("-->").map_or(piece.len(), |end| open + 1 + end + 3);
            continue;
        }
        let closes = rest.starts_with('/');
        let start = open + 1 + usize::from(closes);
        let name: String = piece[start..]
            .chars()
            .take_while(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | ':'))
            .collect();
        if !name.starts_with(|c: char| c.is_ascii_alphabetic()) {
            at = start;
            continue;
        }
        let (attributes, end) = attributes(piece, start + name.len());
        found.push(Tag { at: open..start + name.len(), name: name.to_ascii_lowercase(), closes, attributes });
        at = end;
    }
    found
}

/// The attributes behind a tag's name, and where the tag ends.
fn attributes(piece: &str, from: usize) -> (Vec<(String, Range<usize>)>, usize) {
    let mut found = Vec::new();
    let mut letters = piece[from..].char_indices().map(|(i, c)| (from + i, c)).peekable();
    while let Some((at, c)) = letters.next() {
        match c {
            '>' => return (found, at + 1),
            '=' => {
                while letters.next_if(|(_, c)| c.is_whitespace()).is_some() {}
                match letters.next_if(|(_, c)| matches!(c, '"' | '\'')) {
                    Some((_, quote)) => drop(letters.by_ref().find(|(_, c)| *c == quote)),
                    None => while letters.next_if(|(_, c)| !c.is_whitespace() && *c != '>').is_some() {},
                }
            }
            c if c.is_whitespace() || c == '/' => {}
            c => {
                let (mut name, mut end) = (String::from(c), at + c.len_utf8());
                while let Some((i, c)) =
                    letters.next_if(|(_, c)| !c.is_whitespace() && !matches!(c, '=' | '>' | '/'))
                {
                    name.push(c);
                    end = i + c.len_utf8();
                }
                found.push((name.to_ascii_lowercase(), at..end));
            }
        }
    }
    (found, piece.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tags_and_attributes_are_told_where_they_stand() {
        let piece = "<p onclick=\"a > b\" title=x>1 < 2<SCRIPT src='x'></script><!-- <b x> -->";
        let told = left_out(piece);
        let words: Vec<(&str, &str)> =
            told.iter().map(|l| (&piece[l.at.clone()], l.message.as_str())).collect();
        assert_eq!(
            words,
            [
                ("onclick", "`onclick` of `<p>` is left out of the page"),
                ("<SCRIPT", "`<script>` is left out of the page")
            ]
        );
    }

    #[test]
    fn a_token_comes_back_in_text_and_never_in_an_attribute() {
        let mut kept = Kept::of("");
        let token = kept.keep("<svg onload=\"own\"></svg>".into());
        assert_eq!(kept.restore(&format!("<p>{token}</p>"), true), "<p><svg onload=\"own\"></svg></p>");
        let hidden = kept.restore(&format!("<a title=\"{token}\" href=\"x\">y</a>"), true);
        assert_eq!(hidden, "<a href=\"x\">y</a>");
    }

    proptest::proptest! {
        #[test]
        fn never_panics(piece in "[<>/!a-c='\" é-]{0,40}") {
            let _ = (left_out(&piece), contained(&piece), stays(&piece));
        }
    }
}

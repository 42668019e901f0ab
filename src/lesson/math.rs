//! Formulas: LaTeX in, MathML out.

use std::ops::Range;
use std::sync::OnceLock;

use pulldown_latex::config::DisplayMode;
use pulldown_latex::event::Content;
use pulldown_latex::{Event, Parser, RenderConfig, Storage, push_mathml};

/// Why a formula could not be set: the words, and the bytes of the formula that they are about.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Fault {
    pub(super) span: Range<usize>,
    pub(super) message: String,
}

/// The formula as a `<math>` element, well-formed for XML as for HTML.
pub(super) fn mathml(formula: &str, display: bool) -> Result<String, Fault> {
    let storage = Storage::new();
    let events = parse(formula, &storage).map_err(|message| locate(formula, message))?;
    if events.is_empty() {
        return Err(Fault { span: 0..formula.len(), message: "the formula is empty".to_owned() });
    }
    let display_mode = if display { DisplayMode::Block } else { DisplayMode::Inline };
    let config = RenderConfig { display_mode, ..RenderConfig::default() };
    let mut out = String::new();
    let steady = events.into_iter().map(blank).map(Ok::<_, std::convert::Infallible>);
    match push_mathml(&mut out, steady, config) {
        Ok(()) => Ok(space_outside(&escaped(&out))),
        Err(error) => Err(Fault { span: 0..formula.len(), message: error.to_string() }),
    }
}

/// The library tells a blank of its own as the words of an HTML entity and then escapes them as text, so
/// that a page would show `&nbsp;`; the character itself stands in its place.
fn blank(event: Event<'_>) -> Event<'_> {
    match event {
        Event::Content(Content::Text("&nbsp;")) => Event::Content(Content::Text("\u{a0}")),
        other => other,
    }
}

/// A formula of the program's own, one to a line so that a phone and a column of paper hold each. It is the same for
/// every job, and set when the first asks for it.
pub struct Formula {
    latex: &'static str,
    mathml: OnceLock<String>,
}

impl Formula {
    /// From its LaTeX.
    pub const fn of(latex: &'static str) -> Formula {
        Formula { latex, mathml: OnceLock::new() }
    }

    /// As `<math>` elements; a line's LaTeX in `<code>` where it cannot be set.
    pub fn mathml(&self) -> &str {
        let code = |latex: &str| latex.replace('&', "&amp;").replace('<', "&lt;");
        let line = |latex| mathml(latex, true).unwrap_or_else(|_| format!("<code>{}</code>", code(latex)));
        self.mathml.get_or_init(|| self.latex.lines().map(line).collect())
    }
}

fn parse<'s>(formula: &'s str, storage: &'s Storage) -> Result<Vec<Event<'s>>, String> {
    Parser::new(formula, storage).collect::<Result<Vec<_>, _>>().map_err(|error| {
        let cause = std::error::Error::source(&error).map(ToString::to_string);
        cause.unwrap_or_else(|| "it cannot be read".to_owned())
    })
}

/// The library tells no offset. A command that it does not know can be found all the same, by trying
/// each command alone; for anything else the whole formula is marked.
fn locate(formula: &str, cause: String) -> Fault {
    let unknown = commands(formula).into_iter().find(|span| {
        let storage = Storage::new();
        matches!(parse(&formula[span.clone()], &storage), Err(message) if message.contains("unknown primitive"))
    });
    match unknown {
        Some(span) => {
            let message = format!("the formula uses `{}`, which is not known", &formula[span.clone()]);
            Fault { span, message }
        }
        None => Fault { span: 0..formula.len(), message: format!("the formula cannot be set: {cause}") },
    }
}

/// The places of the backslash commands of more than one letter.
fn commands(formula: &str) -> Vec<Range<usize>> {
    let letters = |at: usize| formula[at..].bytes().take_while(u8::is_ascii_alphabetic).count();
    formula
        .match_indices('\\')
        .map(|(at, _)| at..at + 1 + letters(at + 1))
        .filter(|span| span.len() > 1)
        .collect()
}

/// The library sets the space before a named function inside its sub- or superscript, where MathML allows
/// the function and its script alone; the space is moved in front.
fn space_outside(markup: &str) -> String {
    const SPACE: &str = "<mspace width=\"0.1667em\" />";
    let mut out = markup.to_owned();
    for script in ["<msub>", "<msup>", "<msubsup>", "<munder>", "<mover>", "<munderover>"] {
        out = out.replace(&format!("{script}{SPACE}"), &format!("{SPACE}{script}"));
    }
    out
}

/// Escapes what the library leaves bare in the text between tags: `<`, `>` and `&` as symbols. A tag is
/// a `<` before a letter or a slash; no attribute that the library writes holds a `>`.
fn escaped(markup: &str) -> String {
    let mut out = String::with_capacity(markup.len() + 16);
    let mut rest = markup;
    while let Some(first) = rest.chars().next() {
        let tag = tag_length(rest);
        if tag > 0 {
            out.push_str(&rest[..tag]);
            rest = &rest[tag..];
            continue;
        }
        match first {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' if !is_entity(rest) => out.push_str("&amp;"),
            '&' if rest.starts_with("&nbsp;") => {
                // XML knows no `nbsp`; the character itself is understood by both.
                out.push('\u{a0}');
                rest = &rest["&nbsp;".len()..];
                continue;
            }
            // The library writes the micro sign for the Greek letter.
            'µ' => out.push('μ'),
            other => out.push(other),
        }
        rest = &rest[first.len_utf8()..];
    }
    out
}

fn tag_length(rest: &str) -> usize {
    let mut letters = rest.chars();
    let opens =
        letters.next() == Some('<') && letters.next().is_some_and(|c| c.is_ascii_alphabetic() || c == '/');
    if opens { rest.find('>').map_or(0, |end| end + 1) } else { 0 }
}

fn is_entity(rest: &str) -> bool {
    let name = rest[1..].bytes().take_while(u8::is_ascii_alphanumeric).count();
    name > 1 && rest.as_bytes().get(1 + name) == Some(&b';')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scripted_function_keeps_two_children() {
        let set = mathml(r"\log_{10} x", false).unwrap();
        assert!(set.contains("<msub><mi>log</mi>"), "{set}");
    }
    use proptest::prelude::*;

    #[test]
    fn sets_the_capstan_formula() {
        let out = mathml(r"T_2 = T_1\,e^{\mu\theta}", true).unwrap();
        assert!(out.starts_with("<math display=\"block\">"), "{out}");
        assert!(out.contains("<msub>") && out.contains("<msup>") && out.contains('μ'), "{out}");
        assert!(mathml("x", false).unwrap().starts_with("<math display=\"inline\">"));
    }

    #[test]
    fn escapes_comparison_signs_and_ampersands() {
        let out = mathml(r"a < b > c \& d", false).unwrap();
        assert!(out.contains("&lt;</mo>"), "{out}");
        assert!(out.contains("&gt;</mo>"), "{out}");
        assert!(out.contains("&amp;"), "{out}");
        assert!(!out.contains("<<") && !out.contains(">>"), "{out}");
        assert!(!mathml(r"\text{ a < b }", false).unwrap().contains("&amp;lt;"));
    }

    #[test]
    fn a_blank_is_a_blank_and_no_words() {
        for formula in [r"8\ \text{ft} \times 0.25\ \text{lb/ft}", r"a~b", r"\text{ a b }", r"60.7\ \%"] {
            for display in [false, true] {
                let out = mathml(formula, display).unwrap();
                assert!(!out.contains("nbsp") && !out.contains("&amp;"), "{formula}: {out}");
                assert!(out.contains('\u{a0}') || out.contains("<mspace"), "{formula}: {out}");
            }
        }
    }

    #[test]
    fn an_unknown_command_is_marked_itself() {
        let fault = mathml(r"R \tann(a)", false).unwrap_err();
        assert_eq!(fault.span, 2..7);
        assert!(fault.message.contains(r"`\tann`"), "{}", fault.message);
    }

    #[test]
    fn any_other_fault_marks_the_whole_formula() {
        let fault = mathml(r"\frac{a}{", false).unwrap_err();
        assert_eq!(fault.span, 0..9);
        assert_eq!(mathml("  ", false).unwrap_err().message, "the formula is empty");
    }

    proptest! {
        /// Whatever stands between the dollars, the answer is a formula or a fault.
        #[test]
        fn never_panics(formula in r"[a-z0-9 \\{}\[\]()^_&<>=+*/.,'|%~#-]{0,30}") {
            if let Ok(out) = mathml(&formula, false) {
                prop_assert!(out.ends_with("</math>"));
            }
        }

        #[test]
        fn never_panics_on_commands(words in prop::collection::vec(
            prop::sample::select(vec![r"\frac", r"\sqrt", r"\left(", r"\right)", r"\not", "{", "}", "^", "_", "&",
                r"\\", r"\begin{align}", r"\end{align}", r"\text{a}", r"\tan", "x", "2", r"\%", "%", "'", r"\hspace", "[", "]"]), 0..12)) {
            let _ = mathml(&words.concat(), true);
        }
    }
}

//! Where the links of a lesson go.

use super::render::Blocks;
use crate::text::nearest;

/// The two kinds of thing that a lesson links to by its id: `[text](clause:bend-total)`,
/// `[text](lesson:hose-room)`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Target {
    Clause,
    Lesson,
}

impl Target {
    /// The word before the colon.
    pub fn word(self) -> &'static str {
        match self {
            Target::Clause => "clause",
            Target::Lesson => "lesson",
        }
    }
}

/// What became of a link.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    /// It leads there.
    Leads(String),
    /// It leads to a heading of the same lesson, to be looked up when all are known.
    Within(String),
    /// It leads nowhere, or where no lesson may lead.
    Refused { message: String, help: Option<String> },
}

pub(super) fn judge(destination: &str, hand: &mut dyn Blocks) -> Verdict {
    if let Some(scheme) = runs_script(destination) {
        let message = format!("a link may not run a script, and this one begins with `{scheme}:`");
        return Verdict::Refused { message, help: Some("link to a page, a lesson or a clause".to_owned()) };
    }
    if let Some(heading) = destination.strip_prefix('#') {
        return Verdict::Within(heading.to_owned());
    }
    match destination.split_once(':') {
        Some(("clause", id)) => resolve(Target::Clause, id, hand),
        Some(("lesson", id)) => resolve(Target::Lesson, id, hand),
        _ => Verdict::Leads(destination.to_owned()),
    }
}

/// What to say of a link to a heading that this lesson does not have.
pub(super) fn no_heading<'n>(id: &str, known: impl IntoIterator<Item = &'n str>) -> (String, Option<String>) {
    let help = nearest(id, known).map(|name| format!("write `#{name}`"));
    (format!("this lesson has no heading `#{id}`"), help)
}

fn resolve(to: Target, id: &str, hand: &mut dyn Blocks) -> Verdict {
    let (id, heading) = match id.split_once('#') {
        Some((id, heading)) => (id, format!("#{heading}")),
        None => (id, String::new()),
    };
    if let Some(place) = hand.link(to, id) {
        return Verdict::Leads(place + &heading);
    }
    let names = hand.names(to);
    let word = to.word();
    let help = nearest(id, names.iter().map(String::as_str)).map(|name| format!("write `{word}:{name}`"));
    Verdict::Refused { message: format!("there is no {word} `{id}`"), help }
}

/// The scheme, if following the link would run a script. Browsers skip spaces and control characters in
/// a scheme and do not mind its case, so they are dropped first.
fn runs_script(destination: &str) -> Option<&'static str> {
    let plain: String =
        destination.chars().filter(|&c| c > ' ').flat_map(char::to_lowercase).take(16).collect();
    ["javascript", "vbscript", "data"]
        .into_iter()
        .find(|scheme| plain.strip_prefix(scheme).is_some_and(|rest| rest.starts_with(':')))
}

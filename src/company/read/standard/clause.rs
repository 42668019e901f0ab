//! A clause of the firm's standard, computed or by eye.
use super::super::super::catalog::{Duty, RoughIn};
use super::super::super::rules::{ByEye, ClauseText, Computed, Forced, On, PRACTICES, Per, Phase, Rule};
use super::super::keys;
use super::super::kit::{Fields, Reader};
use super::super::part::{GRIPS, ROUGH_INS, SEALS, SWITCHES};
use super::numbers::Numbering;
use crate::measure::{Bound, Kind};
use crate::text::{Node, Value, clip, nearest, slug};
use std::ops::Range;

/// A clause that the program can measure, as the reader needs to know it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClauseKind {
    /// `bend-total`
    pub id: &'static str,
    /// The key of its figure and what kind of number it is: `("limit", Kind::Angle)`.
    pub parameter: Option<(&'static str, Kind)>,
    /// What holds where the firm leaves the figure out; without one it must be written.
    pub default: Option<f64>,
    /// Which side of the figure is allowed.
    pub bound: Bound,
    /// On what it is judged.
    pub on: On,
    /// Whether it may be waived where the firm does not say.
    pub waivable: bool,
    /// Heading for people where the firm gives none.
    pub title: &'static str,
}

pub const LEVELS: [(&str, Forced); 2] = [("must", Forced::Must), ("should", Forced::Should)];
pub const PER: [(&str, Per); 3] = [("joint", Per::Joint), ("inlet", Per::Inlet), ("job", Per::Job)];
pub const PHASES: [(&str, Phase); 5] = [
    ("load", Phase::Load),
    ("rough-in", Phase::RoughIn),
    ("trim", Phase::Trim),
    ("prove", Phase::Prove),
    ("hand-over", Phase::HandOver),
];

/// Ids given so far, and where.
pub(super) type Seen = Vec<(String, Range<usize>)>;

/// Reads one clause with its number.
pub(super) fn clause(
    r: &mut Reader,
    item: &Node,
    kinds: &[ClauseKind],
    seen: &mut Seen,
    numbering: &mut Numbering,
) -> Option<ClauseText> {
    let Some(node) = named(item) else {
        let f = r.fields(item, "a clause", &keys::BY_EYE.names())?;
        r.need(&f, "clause");
        return None;
    };
    let id = r.text(node, "a clause")?;
    let clause = if id == "by-eye" {
        by_eye(r, item, kinds, seen)
    } else if let Some(kind) = kinds.iter().find(|kind| kind.id == id) {
        if !first_of(r, node, id, seen) {
            return None;
        }
        computed(r, item, kind)
    } else {
        unknown_clause(r, node, id, kinds);
        None
    };
    let own = if id == "by-eye" { clause.as_ref().map(|clause| clause.id.as_str()) } else { Some(id) };
    let number = numbering.number(r, item, node, own);
    Some(ClauseText { number: number?.to_string(), ..clause? })
}

/// The value of the key `clause`.
fn named(item: &Node) -> Option<&Node> {
    let Value::Map(map) = &item.value else { return None };
    map.iter().find(|(key, _)| key.value == Value::Text("clause".into())).map(|(_, value)| value)
}

fn unknown_clause(r: &mut Reader, node: &Node, id: &str, kinds: &[ClauseKind]) {
    let ids: Vec<&str> = kinds.iter().map(|kind| kind.id).chain(["by-eye"]).collect();
    let help = match nearest(id, ids.iter().copied()) {
        Some(near) => format!("write `{near}`"),
        None => format!("use one of: {}", ids.join(", ")),
    };
    let message = format!("the program measures no clause `{}`", clip(id));
    r.fail(node.bytes.clone(), message, "unknown clause").help = Some(help);
}

/// Tells an id that was given before.
pub(super) fn first_of(r: &mut Reader, node: &Node, id: &str, seen: &mut Seen) -> bool {
    // Ids become addresses, so that what one address stands for is given once.
    if let Some((_, first)) = seen.iter().find(|(known, _)| slug(known) == slug(id)) {
        let message = format!("the clause `{id}` is given twice");
        r.fail_twice(node.bytes.clone(), first.clone(), message, "leave one of them out");
        return false;
    }
    seen.push((id.to_owned(), node.bytes.clone()));
    true
}

fn computed(r: &mut Reader, item: &Node, kind: &ClauseKind) -> Option<ClauseText> {
    let own = kind.parameter.map(|(key, _)| [key, FAILS_AT]);
    let keys: Vec<&str> = keys::COMPUTED.names().into_iter().chain(own.into_iter().flatten()).collect();
    let f = r.fields(item, "this clause", &keys)?;
    let words = words(r, &f, kind.waivable);
    let text = r.need(&f, "text").and_then(|n| r.text(n, "the text of a clause"));
    let value = match kind.parameter {
        Some((key, sort)) if kind.default.is_none() || f.get(key).is_some() => {
            Some(r.need(&f, key).and_then(|n| figure(r, n, sort))?)
        }
        _ => kind.default,
    };
    let words = words?;
    let fails_at = f.get(FAILS_AT).and_then(|n| fails_at(r, n, kind, words.level, value));
    Some(ClauseText {
        id: kind.id.to_owned(),
        text: text?.to_owned(),
        rule: Rule::Computed(Computed { on: kind.on, value, fails_at }),
        ..words.over(kind.title.to_owned())
    })
}

/// The key of the second limit.
pub const FAILS_AT: &str = "fails-at";

/// The second limit of a *should*, past which it fails.
fn fails_at(
    r: &mut Reader,
    node: &Node,
    kind: &ClauseKind,
    level: Forced,
    value: Option<f64>,
) -> Option<f64> {
    let (key, sort) = kind.parameter?;
    let limit = figure(r, node, sort)?;
    if level == Forced::Must {
        let message = "`fails-at` stands in a must, which fails at its first limit";
        r.fail(node.bytes.clone(), message, "expected a should").help =
            Some("leave `fails-at` out, or make the clause a should".into());
        return None;
    }
    if value.is_some_and(|value| !kind.bound.tighter(value, limit)) {
        let message = format!("`fails-at` does not lie past `{key}`");
        let side = match kind.bound {
            Bound::AtMost => "more",
            Bound::AtLeast => "less",
        };
        r.fail(node.bytes.clone(), message, format!("expected {side} than `{key}`"));
        return None;
    }
    Some(limit)
}

/// The figure of a clause, nought or more.
fn figure(r: &mut Reader, node: &Node, sort: Kind) -> Option<f64> {
    match sort {
        Kind::Plain => r.number(node, "the figure of a clause"),
        _ => r.quantity(node, sort),
    }
}

fn by_eye(r: &mut Reader, item: &Node, kinds: &[ClauseKind], seen: &mut Seen) -> Option<ClauseText> {
    let f = r.thing(item, &keys::BY_EYE)?;
    let id = r.need(&f, "id").and_then(|n| own_id(r, n, kinds, seen));
    let words = words(r, &f, true);
    let tick = r.need(&f, "tick").and_then(|n| r.text(n, "a line to tick"));
    let per = r.need(&f, "per").and_then(|n| r.one_of(n, "how often a line is ticked", &PER));
    let when = r.need(&f, "when").and_then(|n| r.one_of(n, "when a line is ticked", &PHASES));
    let text = f.get("text").and_then(|n| r.text(n, "the text of a clause"));
    let picture = f.get("picture").and_then(|n| r.one_of(n, "a sketch", &PRACTICES));
    let (seal, grips, switch, rough_in) = f.get("for").map_or((None, None, None, None), |n| duties(r, n));
    let id = id?;
    Some(ClauseText {
        text: text.or(tick)?.to_owned(),
        rule: Rule::ByEye(ByEye {
            tick: tick?.to_owned(),
            per: per?,
            when: when?,
            seal,
            grips,
            switch,
            rough_in,
            picture,
        }),
        id: id.clone(),
        ..words?.over(heading(&id))
    })
}

/// The firm's own id, which may not be that of a measured clause.
fn own_id(r: &mut Reader, node: &Node, kinds: &[ClauseKind], seen: &mut Seen) -> Option<String> {
    let id = r.id(node, "the id of a clause")?;
    if kinds.iter().any(|kind| kind.id == id) || id == "by-eye" {
        let message = format!("`{id}` is the name of a clause that the program measures");
        r.fail(node.bytes.clone(), message, "expected another id").help =
            Some(format!("write `clause: {id}` without `id`, or choose another id"));
        return None;
    }
    if PAGES.contains(&id.to_lowercase().as_str()) {
        let message = format!("`{id}` is the name of a page of every standard");
        r.fail(node.bytes.clone(), message, "expected another id").help = Some("choose another id".into());
        return None;
    }
    first_of(r, node, id, seen).then(|| id.to_owned())
}

/// Pages that stand beside those of the clauses.
const PAGES: [&str; 3] = ["index", "changes", "book"];

/// What clauses of every kind say.
struct Words {
    title: Option<String>,
    level: Forced,
    because: String,
    source: String,
    waivable: bool,
}

impl Words {
    /// A clause of these words, still to be given its id, text and rule.
    fn over(self, title: String) -> ClauseText {
        ClauseText {
            number: String::new(),
            id: String::new(),
            title: self.title.unwrap_or(title),
            level: self.level,
            text: String::new(),
            because: self.because,
            source: self.source,
            waivable: self.waivable,
            rule: Rule::Computed(Computed { on: On::Job, value: None, fails_at: None }),
        }
    }
}

fn words(r: &mut Reader, f: &Fields, waivable: bool) -> Option<Words> {
    let title = f.get("title").and_then(|n| r.name(n, "a title"));
    let level = r.need(f, "level").and_then(|n| r.one_of(n, "a level", &LEVELS));
    let because = r.need(f, "because").and_then(|n| r.text(n, "the reason of a clause"));
    let source = f.get("source").and_then(|n| r.text(n, "a source"));
    let waivable = f.get("waivable").map_or(Some(waivable), |n| r.truth(n));
    Some(Words {
        title: title.map(str::to_owned),
        level: level?,
        because: because?.to_owned(),
        source: source.unwrap_or_default().to_owned(),
        waivable: waivable?,
    })
}

/// An id as a heading: `dry-fit` is `Dry fit`.
fn heading(id: &str) -> String {
    let spaced = id.replace(['-', '_'], " ");
    let mut letters = spaced.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// For which valves a line is: what seals, grips, switches, and is set at rough-in.
type Duties = (Option<Duty>, Option<Duty>, Option<Duty>, Option<RoughIn>);

fn duties(r: &mut Reader, node: &Node) -> Duties {
    let Some(f) = r.thing(node, &keys::FOR) else {
        return (None, None, None, None);
    };
    (
        f.get("seal").and_then(|n| r.one_of(n, "what seals a valve", &SEALS)),
        f.get("grips").and_then(|n| r.one_of(n, "what grips a hose", &GRIPS)),
        f.get("switch").and_then(|n| r.one_of(n, "what switches a system", &SWITCHES)),
        f.get("rough-in").and_then(|n| r.one_of(n, "what is set at rough-in", &ROUGH_INS)),
    )
}

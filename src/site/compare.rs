//! What changed from one revision of the standard to the next, loosened and dropped clauses said so.
use super::input::Set;
use super::standard::{by_eye_words, cells, limit_words, series};
use super::ways::Placed;
use crate::company::{ByEye, ClauseText, Computed, Duty, Forced, Rule, Standard};
use crate::packet::cover::level_word;
use crate::packet::here::Here;
use crate::packet::prose::words;
use crate::packet::sheet::{Sheet, clause_page};
use crate::standard::{clause as computed, never_let_go};
use serde::Serialize;

/// The comparison.
#[derive(Debug, Clone, Serialize)]
pub struct Compare {
    pub intro: String,
    pub groups: Vec<Group>,
}

/// Clauses that changed in the same way.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Group {
    pub name: &'static str,
    pub rows: Vec<Change>,
}

/// What changed of a clause.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Change {
    pub name: String,
    /// To the clause's sheet; empty where it has none any more.
    pub href: String,
    pub lines: Vec<String>,
    /// Why it changed, a sentence.
    pub reason: String,
}

/// Which way a clause went.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Loosened,
    Tightened,
    Reworded,
}

/// The revision before this one, by the order of the set.
pub fn before<'a>(set: &Set<'a>, standard: &Standard) -> Option<&'a Standard> {
    let place = set.standards.iter().position(|other| other.revision == standard.revision)?;
    set.standards.get(place.checked_sub(1)?)
}

/// The comparison sheet.
pub fn sheet(set: &Set, old: &Standard, new: &Standard, here: &Here) -> Sheet<super::Body> {
    let title = format!("What changed from {} to {}", old.revision, new.revision);
    let placed = Placed { series: &series(set, new), nth: 1, here };
    placed.sheet(set, title, cells(new), super::Body::Compare(compare(set, old, new, here)))
}

/// Sorts the changes: what lets work be looser first, then what asks for more.
pub fn compare(set: &Set, old: &Standard, new: &Standard, here: &Here) -> Compare {
    let groups = groups(set, old, new, here);
    Compare { intro: intro(&groups, old, new), groups }
}

/// Every clause that changed, under the way it went.
pub fn groups(set: &Set, old: &Standard, new: &Standard, here: &Here) -> Vec<Group> {
    let dropped = old.by_number().filter(|clause| new.clause(&clause.id).is_none()).map(|clause| Change {
        name: format!("{} {}", clause.number, clause.title),
        href: here.to(&clause_page(&old.revision, &clause.id), ""),
        lines: [format!("It said: {}", words(&clause.text))]
            .into_iter()
            .chain(still_held_to(clause))
            .collect(),
        reason: reason(new, &clause.id),
    });
    let mut groups = vec![Group { name: "Dropped", rows: dropped.collect() }];
    let changed = changes(set, old, new, here);
    for (name, way) in
        [("Loosened", Way::Loosened), ("Tightened", Way::Tightened), ("Reworded", Way::Reworded)]
    {
        let rows = changed.iter().filter(|(w, _)| *w == way).map(|(_, change)| change.clone()).collect();
        groups.push(Group { name, rows });
    }
    let added = new.by_number().filter(|clause| old.clause(&clause.id).is_none()).map(|clause| Change {
        name: format!("{} {}", clause.number, clause.title),
        href: here.to(&clause_page(&new.revision, &clause.id), ""),
        lines: vec![words(&clause.text)],
        // A new clause brings its reason along.
        reason: new.reason(&clause.id).map_or_else(|| words(&clause.because), words),
    });
    groups.push(Group { name: "New", rows: added.collect() });
    groups.retain(|group| !group.rows.is_empty());
    groups
}

/// Said of a clause that the firm lets go and no job is stamped without.
fn still_held_to(clause: &ClauseText) -> Option<String> {
    let words = "Every job is held to it all the same: what breaks it cannot be built, or may hurt somebody.";
    never_let_go(&clause.id).then(|| words.to_owned())
}

/// Why a clause changed, or that nobody said.
fn reason(new: &Standard, id: &str) -> String {
    new.reason(id).map_or_else(|| NO_REASON.to_owned(), words)
}

/// What stands where a firm gives no reason for a change.
const NO_REASON: &str = "No reason given.";

/// One sentence on what to mind.
fn intro(groups: &[Group], old: &Standard, new: &Standard) -> String {
    let count = |name: &str| groups.iter().find(|g| g.name == name).map_or(0, |g| g.rows.len());
    let many = |n: usize| {
        if n == 1 { "1 clause".to_string() } else { format!("{n} clauses") }
    };
    let (dropped, loosened) = (count("Dropped"), count("Loosened"));
    let since = format!(
        "Revision {} took effect on {}, {} on {}.",
        old.revision, old.effective, new.revision, new.effective
    );
    match (dropped, loosened) {
        (0, 0) => format!("{since} No clause was dropped or loosened."),
        (d, l) => format!(
            "{since} {} dropped, {} loosened: work done before may have been held to more.",
            many(d),
            many(l)
        ),
    }
}

/// Every clause that stands in both and differs, with the way it went.
fn changes(set: &Set, old: &Standard, new: &Standard, here: &Here) -> Vec<(Way, Change)> {
    let mut list = Vec::new();
    for clause in new.by_number() {
        let Some(was) = old.clause(&clause.id) else {
            continue;
        };
        let differences = differences(set, was, clause);
        let ways: Vec<Way> = differences.iter().map(|(way, _)| *way).collect();
        // A clause loosened in one way and tightened in another is named among the loosened.
        let Some(way) = [Way::Loosened, Way::Tightened, Way::Reworded].into_iter().find(|w| ways.contains(w))
        else {
            continue;
        };
        let change = Change {
            name: format!("{} {}", clause.number, clause.title),
            href: here.to(&clause_page(&new.revision, &clause.id), ""),
            lines: differences.into_iter().map(|(_, line)| line).collect(),
            reason: reason(new, &clause.id),
        };
        list.push((way, change));
    }
    list
}

/// What differs between two forms of a clause.
fn differences(set: &Set, was: &ClauseText, is: &ClauseText) -> Vec<(Way, String)> {
    let mut list = Vec::new();
    if was.level != is.level {
        let way = if is.level == Forced::Should { Way::Loosened } else { Way::Tightened };
        list.push((way, format!("Was a {}, is a {}.", level_word(was.level), level_word(is.level))));
    }
    if was.waivable != is.waivable {
        let (way, word) =
            if is.waivable { (Way::Loosened, "may now") } else { (Way::Tightened, "may no longer") };
        list.push((way, format!("A job {word} set it aside.")));
    }
    if let Some(words) = still_held_to(is).filter(|_| is.level == Forced::Should && was.level != is.level) {
        list.push((Way::Reworded, words));
    }
    list.extend(rule_differences(set, was, is));
    if was.title != is.title {
        list.push((Way::Reworded, format!("Was called: {}", was.title)));
    }
    if words(&was.text) != words(&is.text) {
        list.push((Way::Reworded, format!("Said: {}", words(&was.text))));
    }
    if words(&was.because) != words(&is.because) {
        list.push((Way::Reworded, format!("Reason was: {}", words(&was.because))));
    }
    if was.source != is.source {
        list.push((Way::Reworded, format!("Source was: {}", was.source)));
    }
    list
}

/// What differs in how a clause is judged.
fn rule_differences(set: &Set, was: &ClauseText, is: &ClauseText) -> Vec<(Way, String)> {
    match (&was.rule, &is.rule) {
        (Rule::Computed(a), Rule::Computed(b)) => computed_differences(set, &is.id, a, b),
        (Rule::ByEye(a), Rule::ByEye(b)) => by_eye_differences(a, b),
        (Rule::Computed(_), Rule::ByEye(_)) => {
            vec![(Way::Loosened, "Was computed, is now only ticked by eye.".into())]
        }
        (Rule::ByEye(_), Rule::Computed(_)) => {
            vec![(Way::Tightened, "Was ticked by eye, is now computed.".into())]
        }
    }
}

/// Limits that moved: the clause's own, and the second one at which a *should* fails.
fn computed_differences(set: &Set, id: &str, was: &Computed, is: &Computed) -> Vec<(Way, String)> {
    let limits = [("limit", was.value, is.value), ("limit to fail at", was.fails_at, is.fails_at)];
    let moved = |(name, was, is)| limit_difference(set, id, name, was, is);
    limits.into_iter().filter_map(moved).collect()
}

/// A limit that moved.
fn limit_difference(
    set: &Set,
    id: &str,
    name: &str,
    was: Option<f64>,
    is: Option<f64>,
) -> Option<(Way, String)> {
    if was == is {
        return None;
    }
    let clause = computed(id)?;
    let say = |value: f64| match clause.parameter() {
        Some(parameter) => limit_words(set.firm.say(), (parameter.kind, clause.bound), value),
        None => format!("{value}"),
    };
    let (Some(was), Some(is)) = (was, is) else {
        let (way, word) = if is.is_none() { (Way::Loosened, "dropped") } else { (Way::Tightened, "added") };
        return Some((way, format!("A {name} of {} was {word}.", say(was.or(is)?))));
    };
    let way = if clause.bound.tighter(is, was) { Way::Tightened } else { Way::Loosened };
    let name = if name == "limit" { "Limit" } else { "Limit to fail at" };
    let now = match say(is) {
        now if now != say(was) => now,
        _ if is > was => "a little more".into(),
        _ => "a little less".into(),
    };
    Some((way, format!("{name} was {}, is {now}.", say(was))))
}

/// By-eye lines that differ.
fn by_eye_differences(was: &ByEye, is: &ByEye) -> Vec<(Way, String)> {
    let mut list = Vec::new();
    let (before, after) = (by_eye_words(was), by_eye_words(is));
    if before != after {
        // What is ticked later is seen when less of it can still be mended.
        let less = |was: &ByEye, is: &ByEye| {
            (is.per as u8) > (was.per as u8) || is.when > was.when || leaves_out(was, is)
        };
        let way = if less(was, is) { Way::Loosened } else { Way::Tightened };
        list.push((way, format!("Was ticked {before}; is ticked {after}.")));
    }
    if was.tick != is.tick {
        list.push((Way::Reworded, format!("The line to tick said: {}", was.tick)));
    }
    list
}

/// Whether a line leaves out valves that it concerned before: by a duty that it did not ask for, or not so.
fn leaves_out(was: &ByEye, is: &ByEye) -> bool {
    let asks = |was: Option<Duty>, is: Option<Duty>| is.is_some() && is != was;
    asks(was.seal, is.seal)
        || asks(was.grips, is.grips)
        || asks(was.switch, is.switch)
        || (is.rough_in.is_some() && is.rough_in != was.rough_in)
}

//! What is set aside in a job, and what a paper has answered.
use super::super::job::{Cleared, Owner, Waiver};
use super::super::rules::{ClauseText, Computed, On, Rule, Standard};
use super::keys;
use super::kit::{Fields, Reader};
use crate::text::Node;
use std::ops::Range;

/// The waivers of an inlet; each clause once.
pub fn waivers(r: &mut Reader, node: &Node, standard: Option<&Standard>) -> Vec<Waiver> {
    let items = r.list(node, "a list of waivers").unwrap_or(&[]);
    let mut seen = Vec::new();
    items.iter().filter_map(|item| waiver(r, item, standard, &mut seen)).collect()
}

fn waiver<'n>(
    r: &mut Reader,
    item: &'n Node,
    standard: Option<&Standard>,
    seen: &mut Vec<(&'n str, Range<usize>)>,
) -> Option<Waiver> {
    let f = r.thing(item, &keys::WAIVER)?;
    let node = r.need(&f, "clause");
    let because = r.need(&f, "because").and_then(|n| r.text(n, "the reason of a waiver"));
    let by = r.need(&f, "by").and_then(|n| r.text(n, "the name of who waives"));
    let clause = clause(r, node?, standard)?;
    if let Some(text) = standard.and_then(|standard| standard.clause(clause))
        && !settable_aside(r, node?, text)
    {
        return None;
    }
    if let Some((_, first)) = seen.iter().find(|(known, _)| *known == clause) {
        let message = format!("the clause `{clause}` is waived twice");
        r.fail_twice(node?.bytes.clone(), first.clone(), message, "keep one waiver with one reason");
        return None;
    }
    seen.push((clause, node?.bytes.clone()));
    let place = r.place_of(item);
    Some(Waiver { clause: clause.to_owned(), because: because?.to_owned(), by: by?.to_owned(), place })
}

/// Tells a clause that no job may set aside, or that a waiver can do nothing about.
fn settable_aside(r: &mut Reader, node: &Node, clause: &ClauseText) -> bool {
    let id = &clause.id;
    let (message, help) = match clause.rule {
        _ if !clause.waivable => (
            format!("no job may set aside the clause `{id}`"),
            "leave the waiver out, and mend what breaks the clause",
        ),
        Rule::ByEye(_) => (
            format!("`{id}` is ticked by eye, so that a waiver of it does nothing"),
            "leave the waiver out; the person who ticks judges it",
        ),
        Rule::Computed(Computed { on: On::Job, .. }) => (
            format!("`{id}` is judged on the job as a whole, so that a waiver of one inlet does nothing"),
            "leave the waiver out",
        ),
        Rule::Computed(_) => return true,
    };
    r.fail(node.bytes.clone(), message, "expected a clause that may be waived here").help = Some(help.into());
    false
}

/// A clause of the revision that judges the job, by its id.
fn clause<'n>(r: &mut Reader, node: &'n Node, standard: Option<&Standard>) -> Option<&'n str> {
    let clause = r.text(node, "a clause")?;
    if let Some(standard) = standard {
        let ids: Vec<&str> = standard.clauses().map(|c| c.id.as_str()).collect();
        if let Some(numbered) = standard.clauses().find(|c| c.number == clause) {
            let message = format!("`{clause}` is the number of a clause");
            r.fail(node.bytes.clone(), message, "expected the id of a clause").help =
                Some(format!("write `{}`", numbered.id));
            return None;
        }
        r.known(node, "clause", &format!("revision {}", standard.revision), &ids)?;
    }
    Some(clause)
}

/// The ids of a job's lines, for what names them.
pub struct LineNames<'a> {
    pub inlets: Vec<&'a str>,
    pub trunks: Vec<&'a str>,
}

/// The holds that a paper has answered.
pub fn cleared(r: &mut Reader, node: &Node, standard: Option<&Standard>, names: &LineNames) -> Vec<Cleared> {
    let items = r.list(node, "a list of cleared holds").unwrap_or(&[]);
    items.iter().filter_map(|item| cleared_hold(r, item, standard, names)).collect()
}

fn cleared_hold(
    r: &mut Reader,
    item: &Node,
    standard: Option<&Standard>,
    names: &LineNames,
) -> Option<Cleared> {
    let f = r.thing(item, &keys::CLEARED)?;
    let clause = r.need(&f, "clause").and_then(|n| clause(r, n, standard));
    let of = owner(r, &f, names);
    let at = f.get("at").map(|n| r.text(n, "a mark, like X2"));
    let paper = r.need(&f, "paper").and_then(|n| r.text(n, "the paper that clears the hold"));
    let by = r.need(&f, "by").and_then(|n| r.text(n, "the name of who signed it"));
    let on = r.need(&f, "on").and_then(|n| r.date(n));
    Some(Cleared {
        clause: clause?.to_owned(),
        of: of?,
        at: match at {
            Some(at) => Some(at?.to_owned()),
            None => None,
        },
        paper: paper?.to_owned(),
        by: by?.to_owned(),
        on: on?,
        place: r.place_of(item),
    })
}

/// The line that is meant: one inlet or one trunk, else the whole job.
fn owner(r: &mut Reader, f: &Fields, names: &LineNames) -> Option<Option<Owner>> {
    match (f.get("inlet"), f.get("trunk")) {
        (None, None) => Some(None),
        (Some(inlet), None) => {
            r.known(inlet, "inlet", "the job", &names.inlets).map(|at| Some(Owner::Inlet(at)))
        }
        (None, Some(trunk)) => {
            r.known(trunk, "trunk", "the job", &names.trunks).map(|at| Some(Owner::Trunk(at)))
        }
        (Some(_), Some(trunk)) => {
            let message = "a cleared hold names both an inlet and a trunk";
            r.fail(trunk.bytes.clone(), message, "expected one of them").help =
                Some("write one entry for each".into());
            None
        }
    }
}

//! The index of the set, as a book has it: one term, its sheets after it. Without the script it stands
//! as it is; the script only hides terms that lack the words typed.
use super::cover::{cover_cells, job_page};
use super::input::Set;
use super::ways::{PARTS, Placed, cover_series, lesson_page};
use crate::packet::place::Place;
use crate::packet::prose::words;
use crate::packet::sheet::{Link, Sheet, clause_page};
use serde::Serialize;
use std::collections::HashMap;

/// The index.
#[derive(Debug, Clone, Serialize)]
pub struct Find {
    pub terms: Vec<Term>,
}

/// A term with its sheets.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Term {
    pub text: String,
    pub sheets: Vec<Link>,
    /// More words by which it is found.
    pub words: String,
}

/// The index sheet.
pub fn sheet(set: &Set, here: &Place) -> Sheet<super::Body> {
    let body = super::Body::Find(Find { terms: terms(set, here) });
    let placed = Placed { series: &cover_series(), nth: 1, here };
    let sheet = placed.sheet(set, "Index".into(), cover_cells(set), body);
    Sheet { under_title: "Clauses, lessons, parts, jobs and inlets, each with its sheets.".into(), ..sheet }
}

/// Everything that can be found, in the order of the alphabet; a term stands once, with all its sheets.
fn terms(set: &Set, here: &Place) -> Vec<Term> {
    let mut terms: Vec<Term> = Vec::new();
    let mut places: HashMap<String, usize> = HashMap::new();
    let found = clause_terms(set, here).into_iter().chain(lesson_terms(set, here));
    for (text, sheet, words) in found.chain(job_terms(set, here)).chain(part_terms(set, here)) {
        let next = terms.len();
        let nth = *places.entry(text.to_lowercase()).or_insert(next);
        match terms.get_mut(nth) {
            Some(term) => {
                term.sheets.push(sheet);
                term.words.push_str(&format!(" {words}"));
            }
            None => terms.push(Term { text, sheets: vec![sheet], words }),
        }
    }
    terms.sort_by_key(|term| term.text.to_lowercase());
    terms
}

/// A term, the sheet it stands on, and more words by which it is found.
type Found = (String, Link, String);

/// Clauses of the standard in force.
fn clause_terms(set: &Set, here: &Place) -> Vec<Found> {
    let Some(standard) = set.in_force() else { return Vec::new() };
    let term = |clause: &crate::company::ClauseText| {
        let href = here.to(&clause_page(&standard.revision, &clause.id), "");
        let more = format!("{} {} {}", clause.id, words(&clause.text), words(&clause.because));
        (clause.title.clone(), Link { href, text: format!("Clause {}", clause.number) }, more)
    };
    standard.clauses().map(term).collect()
}

/// Lessons and their headings.
fn lesson_terms(set: &Set, here: &Place) -> Vec<Found> {
    let mut terms = Vec::new();
    for (place, lesson) in set.lessons.iter().enumerate() {
        let page = lesson_page(&lesson.id);
        let link =
            |anchor: &str| Link { href: here.to(&page, anchor), text: format!("Lesson {}", place + 1) };
        terms.push((lesson.title.clone(), link(""), format!("{} {}", lesson.summary, lesson.text)));
        terms.extend(lesson.headings.iter().map(|(_, id, text)| (text.clone(), link(id), String::new())));
    }
    terms
}

/// The parts of the catalog.
fn part_terms(set: &Set, here: &Place) -> Vec<Found> {
    let catalog = set.catalog;
    let names = catalog.fittings.iter().map(|fitting| &fitting.name);
    let names = names.chain(catalog.hoses.iter().map(|hose| &hose.name));
    let names = names.chain(catalog.valves.iter().map(|valve| &valve.name));
    let names = names.chain(catalog.units.iter().map(|unit| &unit.name));
    let link = || Link { href: here.to(PARTS, ""), text: "Parts".into() };
    names.map(|name| (name.clone(), link(), "parts catalog figures measured typical".to_string())).collect()
}

/// Jobs, read or not, and their inlets.
fn job_terms(set: &Set, here: &Place) -> Vec<Found> {
    let mut terms = Vec::new();
    for job in set.jobs {
        let text = format!("packet, {}", job.verdict.word());
        let cover = Link { href: here.to(&job_page(&job.key), ""), text };
        terms.push((job.title.clone(), cover, format!("{} {} {}", job.key, job.address, job.date)));
        for inlet in &job.inlets {
            let text = format!("{}, {}", job.title, inlet.verdict.word());
            let notes: Vec<&str> = inlet.findings.iter().map(|finding| finding.note.as_str()).collect();
            terms.push((inlet.name.clone(), Link { href: inlet.sheet.from(here), text }, notes.join(" ")));
        }
    }
    let unread = set.unread.iter().map(|unread| {
        let link = Link { href: here.to(&job_page(&unread.key), ""), text: "packet, not read".into() };
        (unread.key.clone(), link, String::new())
    });
    terms.extend(unread);
    terms
}

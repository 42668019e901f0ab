//! The index of the set, as a book has it: one term, its sheets after it. The page lists the terms of
//! standard, lessons, words and parts; what grows with the firm stands in shards, which the script asks for.
mod index;
#[cfg(test)]
mod many;
mod stem;

use super::SiteFile;
use super::cover::{cover_cells, job_page};
use super::input::Set;
use super::met::{NAMED, rest};
use super::summary::{FindingSummary, JobSummary, LineSummary};
use super::ways::{FIND, GLOSSARY, PARTS, Placed, cover_nth, cover_series, lesson_page};
use crate::packet::here::Here;
use crate::packet::prose::words;
use crate::packet::sheet::{Link, Sheet, clause_page};
use index::{ALONE, BODY, Entry, HEADING, NEAR, TITLE};
use serde::Serialize;
use std::cmp::Reverse;
use std::collections::HashMap;

/// Above so many terms the page lists no headings of lessons.
const MOST_LISTED: usize = 800;

/// The index.
#[derive(Debug, Clone, Serialize)]
pub struct Find {
    pub terms: Vec<Term>,
    /// The jobs that want attention first, then the latest.
    pub jobs: Vec<Term>,
    /// `and 52 more`; empty where all are named.
    pub jobs_rest: String,
    /// What the shards of stems, of words by beginning and of words by end are named by, blanks between.
    pub shards: String,
    pub begins: String,
    pub ends: String,
}

/// A term with its sheets.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Term {
    pub text: String,
    pub sheets: Vec<Link>,
}

/// The index sheet, and the shards it asks for.
pub fn sheet(set: &Set, here: &Here) -> (Sheet<super::Body>, Vec<SiteFile>) {
    let standing = merged(standing(set, here));
    let mut jobs: Vec<&JobSummary> = set.jobs.to_vec();
    jobs.sort_by_key(|job| (Reverse(job.verdict), Reverse(&job.date)));
    let named = jobs.iter().take(NAMED).map(|job| term(&job_entry(job, here))).collect();
    let terms = listed(&standing);
    // The latest jobs first among equals; an inlet is told by its job, so no two of one name are one entry.
    jobs.sort_by(|a, b| (&b.date, &a.key).cmp(&(&a.date, &b.key)));
    let growing = jobs.iter().flat_map(|job| job_entries(job, here));
    let all: Vec<Entry> = standing.into_iter().chain(growing).chain(unread_entries(set, here)).collect();
    let groups: Vec<Vec<String>> = set
        .words
        .iter()
        .map(|word| [std::slice::from_ref(&word.word), word.also.as_slice()].concat())
        .collect();
    let index = index::index(&all, &groups);
    let body = super::Body::Find(Find {
        terms,
        jobs: named,
        jobs_rest: rest(jobs.len().saturating_sub(NAMED)),
        shards: index.shards.join(" "),
        begins: index.begins.join(" "),
        ends: index.ends.join(" "),
    });
    let placed = Placed { series: &cover_series(), nth: cover_nth(FIND), here };
    let sheet = placed.sheet(set, "Index".into(), cover_cells(set), body);
    let under_title = "Clauses, lessons, words, parts, jobs and inlets, each with its sheets.".into();
    (Sheet { under_title, ..sheet }, index.files)
}

fn term(entry: &Entry) -> Term {
    Term { text: entry.text.clone(), sheets: entry.sheets.clone() }
}

/// Entries of the same words as one with all their sheets, in the order of the alphabet.
fn merged(entries: impl Iterator<Item = Entry>) -> Vec<Entry> {
    let mut all: Vec<Entry> = Vec::new();
    let mut places: HashMap<String, usize> = HashMap::new();
    for entry in entries {
        let next = all.len();
        let nth = *places.entry(entry.text.to_lowercase()).or_insert(next);
        match all.get_mut(nth) {
            Some(known) => {
                known.sheets.extend(entry.sheets);
                known.words.extend(entry.words);
            }
            None => all.push(entry),
        }
    }
    all.sort_by_key(|entry| entry.text.to_lowercase());
    all
}

/// The terms that the page lists: of a large school without the headings inside the lessons, which are found
/// by typing, so that the page stays one that a phone opens at once.
fn listed(standing: &[Entry]) -> Vec<Term> {
    let whole = |link: &Link| !(link.href.starts_with("lessons/") && link.href.contains('#'));
    if standing.len() <= MOST_LISTED {
        return standing.iter().map(term).collect();
    }
    standing.iter().filter(|entry| entry.sheets.iter().any(whole)).map(term).collect()
}

fn one(text: &str, sheet: Link, title: u32, near: &[(String, u32)]) -> Entry {
    let alone = ALONE / u32::try_from(stem::stems(text).len()).unwrap_or(u32::MAX).max(1);
    let words = std::iter::once((text.to_owned(), title + alone)).chain(near.iter().cloned()).collect();
    Entry { text: text.to_owned(), sheets: vec![sheet], words }
}

/// What stands in the standard, the lessons, the glossary and the catalog.
fn standing<'a>(set: &'a Set, here: &'a Here) -> impl Iterator<Item = Entry> + 'a {
    let clauses = set.in_force().into_iter().flat_map(move |standard| {
        standard.clauses().map(move |clause| {
            let href = here.to(&clause_page(&standard.revision, &clause.id), "");
            let sheet = Link { href, text: format!("Clause {}", clause.number) };
            let near =
                [(format!("{} {}", clause.id, words(&clause.text)), NEAR), (words(&clause.because), BODY)];
            one(&clause.title, sheet, TITLE, &near)
        })
    });
    let glossary = set.words.iter().map(move |word| {
        let href = here.to(GLOSSARY, &super::words::anchor(&word.word));
        one(
            &word.word,
            Link { href, text: "Words".into() },
            TITLE,
            &[(word.means.clone(), BODY), (word.also.join(" "), NEAR)],
        )
    });
    clauses.chain(lessons(set, here)).chain(glossary).chain(parts(set, here))
}

/// Parts, found by name and by id.
fn parts<'a>(set: &'a Set, here: &'a Here) -> impl Iterator<Item = Entry> + 'a {
    let catalog = set.catalog;
    let named = catalog.fittings.iter().map(|part| (&part.name, &part.id));
    let named = named.chain(catalog.hoses.iter().map(|part| (&part.name, &part.id)));
    let named = named.chain(catalog.valves.iter().map(|part| (&part.name, &part.id)));
    let named = named.chain(catalog.units.iter().map(|part| (&part.name, &part.id)));
    let unnamed = std::iter::once(&catalog.tube.id).chain(catalog.wire.iter().map(|wire| &wire.id));
    named.chain(unnamed.map(|id| (id, id))).map(move |(name, id)| {
        let sheet = Link { href: here.to(PARTS, &super::parts::anchor(id)), text: "Parts".into() };
        one(name, sheet, TITLE, &[(id.clone(), TITLE)])
    })
}

/// Lessons, their headings and their cards.
fn lessons<'a>(set: &'a Set, here: &'a Here) -> impl Iterator<Item = Entry> + 'a {
    set.lessons.iter().enumerate().flat_map(move |(place, lesson)| {
        let page = lesson_page(&lesson.id);
        let link =
            |anchor: &str| Link { href: here.to(&page, anchor), text: format!("Lesson {}", place + 1) };
        let cautions = lesson.cautions.iter().map(|caution| caution.words.as_str());
        let cautions = cautions.collect::<Vec<_>>().join(" ");
        let near = [(lesson.summary.clone(), NEAR), (cautions, NEAR), (lesson.text.clone(), BODY)];
        let mut all = vec![one(&lesson.title, link(""), TITLE, &near)];
        let headings = lesson.headings.iter().filter(|(_, _, text)| text != "Questions");
        all.extend(headings.map(|(_, id, text)| one(text, link(id), HEADING, &[])));
        let card = |(nth, title): (usize, &String)| {
            one(title, link(&format!("card.{}", nth + 1)), HEADING, &[("practical card sign".into(), NEAR)])
        };
        all.extend(lesson.cards.iter().enumerate().map(card));
        all
    })
}

/// A job, its inlets and its trunks.
fn job_entries(job: &JobSummary, here: &Here) -> Vec<Entry> {
    let lines = job.inlets.iter().chain(&job.trunks).map(|line| line_entry(job, line, here));
    std::iter::once(job_entry(job, here)).chain(lines).collect()
}

/// Jobs that could not be read.
fn unread_entries<'a>(set: &'a Set, here: &'a Here) -> impl Iterator<Item = Entry> + 'a {
    set.unread.iter().map(move |unread| {
        let link = Link { href: here.to(&job_page(&unread.key), ""), text: "packet, not read".into() };
        one(&unread.key, link, TITLE, &[("not read".into(), NEAR)])
    })
}

fn job_entry(job: &JobSummary, here: &Here) -> Entry {
    let text = format!("packet, {}", job.verdict.word());
    let cover = Link { href: here.to(&job_page(&job.key), ""), text };
    let near = [
        (format!("{} {} {} {}", job.key, job.address, job.date, job.verdict.word()), HEADING),
        (job.hazards.join(" "), NEAR),
        (notes(&job.found.told), NEAR),
    ];
    one(&job.title, cover, TITLE, &near)
}

fn line_entry(job: &JobSummary, line: &LineSummary, here: &Here) -> Entry {
    let text = format!("{}, {}", job.title, line.verdict.word());
    let sheet = Link { href: line.sheet.from(here), text };
    let near = [(format!("{} {}", job.title, line.verdict.word()), HEADING), (notes(&line.found.told), NEAR)];
    one(&line.name, sheet, TITLE, &near)
}

/// What was found and has to be seen to: by clause, verdict and words.
fn notes(findings: &[FindingSummary]) -> String {
    let calls = findings.iter().filter(|finding| finding.verdict.calls());
    let note =
        |finding: &FindingSummary| format!("{} {} {}", finding.clause, finding.verdict.word(), finding.note);
    calls.map(note).collect::<Vec<_>>().join(" ")
}

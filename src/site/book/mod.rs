//! A revision of the standard as one document: to print, to sign, to hand to a builder or an inspector.
mod front;
mod leaves;
mod measured;
mod pictured;

pub use front::meaning;
pub use pictured::{Picture, pictures};

use super::compare::{Group, before, groups};
use super::input::Set;
use super::standard::{by_eye_words, cells, limit_words};
use super::ways::{book_page, standard_page};
use crate::company::{ClauseText, Computed, Rule, Standard};
use crate::packet::cover::level_word;
use crate::packet::here::Here;
use crate::packet::paper::body_mm;
use crate::packet::sheet::{Cell, Link, Sheet, TitleBlock};
use crate::standard::{clause as computed, never_let_go};
use leaves::{Block, Piece, set as set_on_leaves};
use measured::Setter;
use serde::Serialize;
use std::collections::HashMap;

/// One printed page of the book.
#[derive(Debug, Clone, Serialize)]
pub struct Leaf {
    pub blocks: Vec<Block>,
}

/// What shows each clause of a revision, by its id: its own page and the book have the same.
pub type Shown<'a> = HashMap<&'a str, Vec<Picture>>;

/// The sheets of the book: title page, contents, the text, each one printed page.
pub fn sheets(set: &Set, standard: &Standard, shown: &Shown, here: &Here) -> Vec<Sheet<super::Body>> {
    let setter = Setter::new(set.firm.paper);
    let room_mm = body_mm(set.firm.paper, false, false) - CELLS_MM;
    let text = set_on_leaves(text(set, standard, shown, (&setter, here)), room_mm);
    // How many sheets the contents take does not hang on the numbers in them.
    let blank = contents(&setter, &text, 0);
    let before = 1 + set_on_leaves(blank, room_mm).len();
    let mut leaves = vec![vec![front::title(set, standard)]];
    leaves.extend(set_on_leaves(contents(&setter, &text, before), room_mm));
    leaves.extend(text);
    let titles = titles(standard, &leaves);
    for leaf in &mut leaves {
        // What begins a sheet stands in its title already.
        if let Some(Block::Heading { shown, .. }) = leaf.first_mut().map(|piece| &mut piece.block) {
            *shown = false;
        }
    }
    let count = leaves.len();
    let sheet = |(nth, (leaf, title)): (usize, (Vec<Piece>, String))| Sheet {
        anchor: page_anchor(nth + 1),
        title,
        under_title: String::new(),
        bar: String::new(),
        jumps: Vec::new(),
        block: title_block(set, standard, (nth + 1, count), here),
        body: super::Body::Book(Leaf { blocks: leaf.into_iter().map(|piece| piece.block).collect() }),
    };
    leaves.into_iter().zip(titles).enumerate().map(sheet).collect()
}

/// A second line in the fields of the title block, mm.
const CELLS_MM: f64 = 4.0;

fn page_anchor(page: usize) -> String {
    format!("page-{page}")
}

/// The title of every sheet: the section that runs on from the sheet before, else the one that begins it.
fn titles(standard: &Standard, leaves: &[Vec<Piece>]) -> Vec<String> {
    let mut section = standard.title.clone();
    let mut titles = Vec::new();
    for leaf in leaves {
        let of = |piece: &Piece| match &piece.block {
            Block::Heading { text, .. } => Some(text.clone()),
            _ => None,
        };
        let title = leaf.first().and_then(of).unwrap_or_else(|| section.clone());
        titles.push(title);
        section = leaf.iter().filter_map(of).next_back().unwrap_or(section);
    }
    titles
}

/// Title block of a page of the book.
fn title_block(set: &Set, standard: &Standard, (page, count): (usize, usize), here: &Here) -> TitleBlock {
    let to = |page: usize| Link {
        href: here.to(&book_page(&standard.revision), &page_anchor(page)),
        text: format!("Page {page}"),
    };
    let overview = Link {
        href: here.to(&standard_page(&standard.revision), ""),
        text: format!("Standard {}", standard.revision),
    };
    let firm = Cell::new("Firm", set.firm.name.clone());
    TitleBlock {
        cells: std::iter::once(firm).chain(cells(standard)).collect(),
        number: format!("{page} of {count}"),
        stamp: None,
        beside_stamp: String::new(),
        previous: Some(if page > 1 { to(page - 1) } else { overview }),
        next: (page < count).then(|| to(page + 1)),
        index: Some(Link { href: here.to(super::ways::COVER, ""), text: "Sheet index".into() }),
    }
}

/// The contents: every section and clause with the page on which its heading stands; `before` is how many
/// pages come before the text.
fn contents(setter: &Setter, text: &[Vec<Piece>], before: usize) -> Vec<Piece> {
    let mut rows = vec![setter.chapter("contents", "Contents")];
    for (nth, leaf) in text.iter().enumerate() {
        let headings = leaf.iter().filter_map(Piece::heading);
        rows.extend(headings.map(|(text, anchor, deep)| setter.row(text, anchor, before + nth + 1, deep)));
    }
    rows
}

/// Everything after the contents.
fn text(set: &Set, standard: &Standard, shown: &Shown, (setter, here): (&Setter, &Here)) -> Vec<Piece> {
    let mut letters = 'A'..='Z';
    let mut lettered = |words: &str| format!("{} {words}", letters.next().unwrap_or('Z'));
    let mut pieces = Vec::new();
    if !standard.scope.is_empty() {
        pieces.push(setter.heading("scope", &lettered("Scope")));
        pieces.extend(setter.paragraphs(&standard.scope));
    }
    pieces.push(setter.heading("words", &lettered("The words it uses")));
    pieces.extend(front::words(setter));
    if !standard.terms.is_empty() {
        pieces.push(setter.heading("terms", &lettered("What the terms mean")));
        pieces.extend(front::terms(set, standard, setter));
    }
    pieces.push(setter.heading("references", &lettered("What it refers to")));
    pieces.extend(front::references(setter, standard));
    for part in &standard.parts {
        let text = format!("Part {}: {}", part.number, part.title);
        pieces.push(setter.heading(&format!("part-{}", part.number), &text));
        for clause in part.by_number() {
            pieces.extend(clause_pieces(set, clause, shown.get(&*clause.id), setter));
        }
    }
    pieces.push(setter.heading("changes", &lettered("What changed, and why")));
    pieces.extend(changes(set, standard, setter, here));
    pieces.push(Piece { begins: true, ..setter.heading("approval", &lettered("Approval")) });
    pieces.extend(front::approval(setter, standard));
    if let Some(first) = pieces.first_mut() {
        first.begins = true;
    }
    pieces
}

/// A clause in full.
fn clause_pieces(
    set: &Set,
    clause: &ClauseText,
    shown: Option<&Vec<Picture>>,
    setter: &Setter,
) -> Vec<Piece> {
    let anchor = format!("clause-{}", clause.number.replace('.', "-"));
    let name = format!("{} {}", clause.number, clause.title);
    let mut pieces = vec![setter.clause(anchor, name, facts(set, clause), &clause.text)];
    pieces.extend(setter.entries("Why", &clause.because));
    match &clause.rule {
        Rule::ByEye(line) => {
            let told =
                format!("A person ticks *{}*, {}.", line.tick.trim_end_matches('.'), by_eye_words(line));
            pieces.extend(setter.entries("Checked by eye", &told));
        }
        Rule::Computed(_) => {
            let known = computed(&clause.id);
            pieces.extend(setter.entries("How measured", known.map_or("", |known| known.measures)));
            let wants: Vec<&str> =
                known.map_or(&[][..], |known| known.needs).iter().filter_map(|need| need.wanted()).collect();
            if !wants.is_empty() {
                let state =
                    if clause.level == crate::company::Forced::Must { "On hold" } else { "Not checked" };
                let told = format!("Until this is known: {}.", wants.join("; "));
                pieces.extend(setter.entries(state, &told));
            }
        }
    }
    let source = if clause.source.trim().is_empty() { "The firm's own." } else { &clause.source };
    pieces.extend(setter.entries("Source", source));
    let pictures = shown.into_iter().flatten();
    pieces.extend(pictures.map(|shown| setter.picture(shown.caption.clone(), shown.book_svg.clone())));
    pieces
}

/// What stands beside a clause's text: its word, its limits, whether it may be set aside.
fn facts(set: &Set, clause: &ClauseText) -> Vec<String> {
    let mut facts = vec![level_word(clause.level).to_owned()];
    if let Rule::Computed(Computed { value, fails_at, .. }) = clause.rule
        && let Some(known) = computed(&clause.id)
        && let Some(parameter) = known.parameter()
    {
        let say = |value| limit_words(set.firm.say(), (parameter.kind, known.bound), value);
        facts.extend(value.map(|value| format!("{}: {}", parameter.key, say(value))));
        facts.extend(fails_at.map(|value| format!("fails at: {}", say(value))));
    }
    let waivers = match (&clause.rule, clause.waivable) {
        (_, false) => "never set aside",
        (Rule::Computed(_), true) if never_let_go(&clause.id) => {
            "may be set aside in writing, as far as it can be built all the same"
        }
        (Rule::Computed(_), true) => "may be set aside in writing",
        (Rule::ByEye(_), true) => "",
    };
    facts.extend((!waivers.is_empty()).then(|| waivers.to_owned()));
    facts
}

/// Every change up to this revision, the newest first.
fn changes(set: &Set, standard: &Standard, setter: &Setter, here: &Here) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut new = Some(standard);
    while let Some((old, now)) = new.and_then(|now| Some((before(set, now)?, now))) {
        for Group { name, rows } in groups(set, old, now, here) {
            pieces
                .push(setter.under(&format!("{name} in revision {}, since {}", now.revision, old.revision)));
            for change in rows {
                // The text of a new clause stands in its part.
                let lines = if name == "New" { Vec::new() } else { change.lines };
                pieces.push(setter.change(change.name, lines, change.reason));
            }
        }
        new = Some(old);
    }
    let first = new.map_or(&standard.revision, |oldest| &oldest.revision);
    pieces.extend(setter.paragraphs(&format!("Revision {first} is the first of which a record is kept.")));
    pieces
}

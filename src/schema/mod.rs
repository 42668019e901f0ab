//! The keys of a company's files for editors, as JSON Schema (draft-07), and for people, in words. Both are
//! made from the tables that the reader goes by.
mod write;

pub use write::schema;

use crate::company::keys::{self, Key, Known, Takes, Thing};
use crate::company::{FittingKind, Loaded};
use crate::lesson::keys::{BLOCKS, LESSON};

/// A kind of file that a company keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    Job,
    /// A house plan in a file of its own.
    Plan,
    Catalog,
    Standard,
    Firm,
    /// The firm's words, a list.
    Words,
    /// The head of a lesson.
    Lesson,
    /// The fenced blocks of a lesson, each under the word behind its fence.
    LessonBlocks,
    /// What a theme says of itself.
    Theme,
}

impl FileKind {
    pub const ALL: [FileKind; 9] = [
        FileKind::Job,
        FileKind::Plan,
        FileKind::Catalog,
        FileKind::Standard,
        FileKind::Firm,
        FileKind::Words,
        FileKind::Lesson,
        FileKind::LessonBlocks,
        FileKind::Theme,
    ];

    /// `job`
    pub fn word(self) -> &'static str {
        match self {
            FileKind::Job => "job",
            FileKind::Plan => "plan",
            FileKind::Catalog => "catalog",
            FileKind::Standard => "standard",
            FileKind::Firm => "firm",
            FileKind::Words => "words",
            FileKind::Lesson => "lesson",
            FileKind::LessonBlocks => "lesson-blocks",
            FileKind::Theme => "theme",
        }
    }

    /// Where such files stand.
    pub fn files(self) -> &'static str {
        match self {
            FileKind::Job => "jobs/**/*.yaml",
            FileKind::Plan => "jobs/**/*.plan.yaml",
            FileKind::Catalog => "content/catalog/*.yaml",
            FileKind::Standard => "content/standard/*.yaml",
            FileKind::Firm => "content/company.yaml",
            FileKind::Words => "content/words.yaml",
            FileKind::Lesson => "content/lessons/*.md, its head",
            FileKind::LessonBlocks => "content/lessons/*.md, its fenced blocks",
            FileKind::Theme => "themes/*/theme.yaml",
        }
    }

    fn root(self) -> &'static Thing {
        match self {
            FileKind::Job => &keys::JOB,
            FileKind::Plan => &keys::PLAN_FILE,
            FileKind::Catalog => &keys::CATALOG,
            FileKind::Standard => &keys::STANDARD,
            FileKind::Firm => &keys::FIRM,
            FileKind::Words => &keys::WORD,
            FileKind::Lesson => &LESSON,
            FileKind::LessonBlocks => &BLOCKS,
            FileKind::Theme => &keys::THEME,
        }
    }

    /// Every thing that such a file may hold, each once, in the order in which they are met.
    pub fn things(self) -> Vec<&'static Thing> {
        let mut found = Vec::new();
        meet(self.root(), &mut found);
        found
    }
}

fn meet(thing: &'static Thing, found: &mut Vec<&'static Thing>) {
    if found.iter().any(|known| std::ptr::eq(*known, thing)) {
        return;
    }
    found.push(thing);
    thing.keys.iter().for_each(|key| meet_taken(&key.takes, found));
}

fn meet_taken(takes: &'static Takes, found: &mut Vec<&'static Thing>) {
    match takes {
        Takes::Thing(thing) => meet(thing, found),
        Takes::Things(things) => things().into_iter().for_each(|thing| meet(thing, found)),
        Takes::List(takes) | Takes::Blank(takes) => meet_taken(takes, found),
        Takes::Either(several) => several.iter().for_each(|takes| meet_taken(takes, found)),
        Takes::Clause => [&keys::COMPUTED, &keys::BY_EYE].into_iter().for_each(|thing| meet(thing, found)),
        Takes::Text
        | Takes::Name
        | Takes::Id
        | Takes::Date
        | Takes::Whole
        | Takes::Truth
        | Takes::Form(_)
        | Takes::Measure(_)
        | Takes::OneOf(_)
        | Takes::Known(_) => {}
    }
}

/// The ids that a company has; where there are none, any is taken.
#[derive(Debug, Clone, Default)]
pub struct Choices {
    pub hoses: Vec<String>,
    pub valves: Vec<String>,
    pub units: Vec<String>,
    pub bends: Vec<String>,
    pub junctions: Vec<String>,
    pub fittings: Vec<String>,
    pub revisions: Vec<String>,
    pub clauses: Vec<String>,
}

impl Choices {
    /// Those of a company, as far as it could be read.
    pub fn of(company: &Loaded) -> Choices {
        let mut choices = Choices::default();
        if let Some(catalog) = &company.catalog {
            choices.hoses = catalog.hoses.iter().map(|hose| hose.id.clone()).collect();
            choices.valves = catalog.valves.iter().map(|valve| valve.id.clone()).collect();
            choices.units = catalog.units.iter().map(|unit| unit.id.clone()).collect();
            for fitting in &catalog.fittings {
                choices.fittings.push(fitting.id.clone());
                match fitting.kind {
                    FittingKind::Bend(_) => choices.bends.push(fitting.id.clone()),
                    FittingKind::Junction(_) => choices.junctions.push(fitting.id.clone()),
                    _ => {}
                }
            }
        }
        for standard in &company.standards {
            choices.revisions.push(standard.revision.clone());
            choices.clauses.extend(standard.clauses().map(|clause| clause.id.clone()));
        }
        choices.clauses.sort();
        choices.clauses.dedup();
        choices
    }

    fn ids(&self, known: Known) -> Vec<&str> {
        let lists: &[&Vec<String>] = match known {
            Known::Hose => &[&self.hoses],
            Known::Valve => &[&self.valves],
            Known::Unit => &[&self.units],
            Known::Bend => &[&self.bends],
            Known::Junction => &[&self.junctions],
            Known::Part => &[&self.fittings, &self.hoses, &self.valves, &self.units],
            Known::Revision => &[&self.revisions],
            Known::Clause => &[&self.clauses],
        };
        lists.iter().flat_map(|list| list.iter()).map(String::as_str).collect()
    }
}

/// What a key takes, in words: `a length, in ft, in, m, cm or mm`.
pub fn in_words(key: &Key) -> String {
    taken_words(&key.takes)
}

fn taken_words(takes: &Takes) -> String {
    match takes {
        Takes::Text => "words, up to 10000 letters".into(),
        Takes::Name => "a name, up to 120 letters".into(),
        Takes::Id => "an id of letters, digits, - and _".into(),
        Takes::Date => "a date".into(),
        Takes::Whole => "a whole number".into(),
        Takes::Truth => "yes or no".into(),
        Takes::Form(_) => "written as shown".into(),
        Takes::Measure(kind) => match kind.units_list().strip_prefix("use ") {
            Some(units) => format!("{}, in {units}", kind.a()),
            None => kind.a().into(),
        },
        Takes::OneOf(words) => one_of(&words()),
        Takes::Known(known) => known_words(*known).into(),
        Takes::Thing(thing) => thing.what.into(),
        Takes::Things(things) => one_of(&things().iter().map(|thing| thing.what).collect::<Vec<_>>()),
        Takes::List(takes) => format!("a list, each {}", taken_words(takes)),
        Takes::Either(several) => {
            let several: Vec<String> = several.iter().map(taken_words).collect();
            one_of(&several.iter().map(String::as_str).collect::<Vec<_>>())
        }
        Takes::Blank(takes) => format!("{}, or blank", taken_words(takes)),
        Takes::Clause => one_of(&[keys::COMPUTED.what, keys::BY_EYE.what]),
    }
}

/// `door, cuff or tab`
fn one_of(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [only] => (*only).into(),
        [all @ .., last] => format!("{} or {last}", all.join(", ")),
    }
}

fn known_words(known: Known) -> &'static str {
    match known {
        Known::Hose => "id of a hose",
        Known::Valve => "id of a valve",
        Known::Unit => "id of a unit",
        Known::Bend => "id of a bend",
        Known::Junction => "id of a junction",
        Known::Part => "id of a part",
        Known::Revision => "a revision of the standard",
        Known::Clause => "id of a clause",
    }
}

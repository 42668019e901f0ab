//! A firm's standard as data: the clauses, their limits and reasons.
use super::catalog::{Duty, RoughIn};
use super::job::Date;
use crate::text::Diagnostic;
use serde::Serialize;

/// A revision of the standard.
#[derive(Debug, Clone)]
pub struct Standard {
    pub revision: String,
    pub effective: Date,
    pub title: String,
    /// What it covers and what it does not, Markdown; empty where the firm does not say.
    pub scope: String,
    /// Words that it defines, as they are written.
    pub terms_written: Vec<TermWritten>,
    /// The same with their meanings, in the firm's order; settled when the firm's list of words is read.
    pub terms: Vec<Definition>,
    pub parts: Vec<StandardPart>,
    /// Why clauses changed since the revision before.
    pub changes: Vec<ChangeReason>,
}

/// A word in the list of a standard.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TermWritten {
    pub term: String,
    /// Markdown; none where the firm's list of words has it.
    pub means: Option<String>,
    /// Why it means something else than in that list.
    pub unlike: Option<String>,
    /// Where it stands, for what is wrong with it.
    pub at: Diagnostic,
}

/// A word that a standard defines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Definition {
    pub term: String,
    /// Markdown.
    pub means: String,
    pub meant: Meant,
}

/// How the meaning of a term stands to the firm's list of words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Meant {
    /// It is that of the list.
    Shared,
    /// The list has no such word.
    Own,
    /// It is another than that of the list, for this reason.
    Unlike(String),
}

/// Why a clause changed since the revision before, or was dropped.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangeReason {
    pub clause: String,
    /// Markdown.
    pub because: String,
}

/// A part of a standard.
#[derive(Debug, Clone)]
pub struct StandardPart {
    /// The number that most of its clauses begin with.
    pub number: String,
    pub title: String,
    pub clauses: Vec<ClauseText>,
}

/// One clause as the firm wrote it.
#[derive(Debug, Clone)]
pub struct ClauseText {
    /// `1.4`: part and place in it; given once in the firm's history, and the same in every revision.
    pub number: String,
    /// The computed clause's id (`bend-total`), or the by-eye clause's own id (`deburr`).
    pub id: String,
    /// Heading for people, `Bend total`; from the YAML `title:`, else the id with spaces.
    pub title: String,
    pub level: Forced,
    /// What is required, Markdown.
    pub text: String,
    /// Why, Markdown.
    pub because: String,
    /// Where it comes from; empty where the firm gives none.
    pub source: String,
    /// Whether someone on the job may set it aside, with reason and name.
    pub waivable: bool,
    pub rule: Rule,
}

/// The firm's two words, as its standard defines them: a broken *must* fails, a broken *should* cautions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Forced {
    Must,
    Should,
}

/// How a clause is judged.
#[derive(Debug, Clone)]
pub enum Rule {
    Computed(Computed),
    /// A person ticks it.
    ByEye(ByEye),
}

/// What the firm sets for a clause that the program measures. Figures are in SI (metres, degrees, pascals,
/// newtons, m/s) or a plain ratio (`10 %` is 0.10).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Computed {
    /// On what it is judged.
    pub on: On,
    /// What it is held against; `None` for a clause that has no figure to set.
    pub value: Option<f64>,
    /// Past this a broken *should* fails; further out than `value`.
    pub fails_at: Option<f64>,
}

/// On what a clause is judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum On {
    /// An inlet with its raceway and its hose.
    Inlet,
    /// Every line of tube: raceways with what lies beyond their stops, and trunks.
    Line,
    /// The job as a whole.
    Job,
}

/// A line to tick.
#[derive(Debug, Clone, PartialEq)]
pub struct ByEye {
    pub tick: String,
    pub per: Per,
    pub when: Phase,
    /// Only for valves whose duty is this; `None` is all.
    pub seal: Option<Duty>,
    pub grips: Option<Duty>,
    pub switch: Option<Duty>,
    pub rough_in: Option<RoughIn>,
    /// The sketch that shows right and wrong of it.
    pub picture: Option<Practice>,
}

/// Work by hand of which there is a sketch, right and wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Practice {
    SquareCut,
    Deburr,
    Cement,
    FullDepth,
    StopSet,
    Fireblock,
    ShieldPlate,
    Strap,
    ControlWire,
    Gasket,
    LeakTest,
    Exhaust,
    RoundTube,
    Probe,
    GarageWall,
    MasonryDust,
    Plumb,
    Covered,
    WireSlack,
    TightBox,
    CuffSeat,
    HoseHome,
    OwnerSheet,
}

/// Their names, as they are written.
pub const PRACTICES: [(&str, Practice); 23] = [
    ("square-cut", Practice::SquareCut),
    ("deburr", Practice::Deburr),
    ("cement", Practice::Cement),
    ("full-depth", Practice::FullDepth),
    ("stop", Practice::StopSet),
    ("fireblock", Practice::Fireblock),
    ("shield-plate", Practice::ShieldPlate),
    ("strap", Practice::Strap),
    ("control-wire", Practice::ControlWire),
    ("gasket", Practice::Gasket),
    ("leak-test", Practice::LeakTest),
    ("exhaust", Practice::Exhaust),
    ("round-tube", Practice::RoundTube),
    ("probe", Practice::Probe),
    ("garage-wall", Practice::GarageWall),
    ("masonry-dust", Practice::MasonryDust),
    ("plumb", Practice::Plumb),
    ("covered", Practice::Covered),
    ("wire-slack", Practice::WireSlack),
    ("tight-box", Practice::TightBox),
    ("cuff-seat", Practice::CuffSeat),
    ("hose-home", Practice::HoseHome),
    ("owner-sheet", Practice::OwnerSheet),
];

/// How often a line is ticked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Per {
    Joint,
    Inlet,
    Job,
}

/// When a line is ticked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Phase {
    Load,
    RoughIn,
    Trim,
    Prove,
    HandOver,
}

impl StandardPart {
    /// Its clauses by their numbers, as a reader looks them up.
    pub fn by_number(&self) -> Vec<&ClauseText> {
        let number = |clause: &&ClauseText| {
            let digits = clause.number.split('.').map(|part| part.parse::<u32>().unwrap_or(u32::MAX));
            digits.collect::<Vec<_>>()
        };
        let mut clauses: Vec<&ClauseText> = self.clauses.iter().collect();
        clauses.sort_by_key(number);
        clauses
    }
}

impl Standard {
    /// All clauses as a reader turns the pages: part by part, each by its number.
    pub fn by_number(&self) -> impl Iterator<Item = &ClauseText> {
        self.parts.iter().flat_map(StandardPart::by_number)
    }

    /// All clauses in the order of the file, which is that of the work.
    pub fn clauses(&self) -> impl Iterator<Item = &ClauseText> {
        self.parts.iter().flat_map(|part| &part.clauses)
    }

    /// Why a clause changed since the revision before; `None` where the firm gives no reason.
    pub fn reason(&self, id: &str) -> Option<&str> {
        self.changes.iter().find(|change| change.clause == id).map(|change| change.because.as_str())
    }

    /// The clause of that id.
    pub fn clause(&self, id: &str) -> Option<&ClauseText> {
        self.clauses().find(|clause| clause.id == id)
    }
}

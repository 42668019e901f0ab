//! What a computed clause is, and what its check may look at and answer.
use super::finding::{Quantity, Spot};
use super::mend::Mend;
use super::need::Need;
use crate::company::{Catalog, Inlet, Job, LineSpec, On};
use crate::figures::{Changed, Clash, InletFigures, LineFigures};
use crate::measure::{Bound, Kind, Say};
use crate::route::{JobLines, Line, Raceway};
use crate::takeoff::{LineCuts, TubeCut};
use std::ops::Deref;

/// A computed clause. All that the program knows of it stands in its own file; every other place asks
/// here, and nowhere else is a clause told by its id.
pub struct Clause {
    /// The id in standards, waivers, pages and JSON.
    pub id: &'static str,
    /// Heading where the firm gives none.
    pub title: &'static str,
    /// How it is measured, for its page: what is taken, against what, an example, the usual remedy. Markdown.
    pub measures: &'static str,
    /// Which side of the limit is allowed.
    pub bound: Bound,
    pub limit: Limit,
    /// What the measured number is.
    pub quantity: Quantity,
    /// Data without which it cannot be judged; a missing one is told before the check is asked.
    pub needs: &'static [Need],
    /// Changes that may mend it. Each is tried before it is offered; empty where none can be computed.
    pub mends: &'static [Mend],
    /// Whether a job may set it aside where the firm's standard does not say.
    pub waivable: bool,
    /// What its text is drawn by; `None` where a raceway without a house round it cannot show it.
    pub pictured: Option<Pictured>,
    pub check: Check,
}

/// Something that keeps a clause and something that breaks it. They are drawn and judged whenever a standard is
/// printed; nothing is shown as right or wrong that is not.
#[derive(Debug, Clone, Copy)]
pub struct Pictured {
    pub seen: Seen,
    pub right: &'static str,
    pub wrong: &'static str,
}

/// What is drawn of it, and how it is written. Where the firm's own part is meant, `UNIT`, `VALVE`, `WYE` and `TEE`
/// stand for its first, `HOSE` for its longest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seen {
    /// A raceway as a lesson's block writes it, from the side.
    Raceway,
    /// Such a raceway, by the suction that draws its hose in.
    Travel,
    /// A job without title and date: its first valve in the wall.
    Valve,
    /// Its first trunk, from the side.
    Trunk,
    /// Its first trunk, from above.
    TrunkAbove,
    /// Its first trunk, from the side; the wrong one by a catalog that lists no cap.
    Uncapped,
    /// All its lines, from above.
    Above,
}

impl Clause {
    /// On what it is judged.
    pub fn on(&self) -> On {
        match self.check {
            Check::Inlet(_) | Check::Figures(..) => On::Inlet,
            Check::Line(_) => On::Line,
            Check::Job(_) => On::Job,
        }
    }

    /// Whether it looks at figures reckoned for an inlet.
    pub fn reads_figures(&self) -> bool {
        matches!(self.check, Check::Figures(..))
    }

    /// The figure that the firm's standard sets; `None` where there is nothing to set.
    pub fn parameter(&self) -> Option<Parameter> {
        match self.limit {
            Limit::Set(parameter) => Some(parameter),
            Limit::Is(_) | Limit::ByCase => None,
        }
    }
}

/// What a measure is held against.
#[derive(Debug, Clone, Copy)]
pub enum Limit {
    /// The firm's figure, from its standard.
    Set(Parameter),
    /// The same for every firm, in the unit of the clause's quantity.
    Is(f64),
    /// Another one for each thing judged: a section of a code, a part of the catalog.
    ByCase,
}

/// The figure of a clause: its key in the standard, and what holds where the firm leaves it out.
#[derive(Debug, Clone, Copy)]
pub struct Parameter {
    pub key: &'static str,
    /// In the SI unit of its kind.
    pub default: Option<f64>,
    /// How it is written.
    pub kind: Kind,
}

/// A check, by what it is asked of.
pub enum Check {
    /// Of an inlet, by how its line is laid.
    Inlet(fn(&AskInlet) -> Vec<Outcome>),
    /// Of an inlet, by the figures reckoned for it. They take most of the time that a job takes, so that a change
    /// is held against every other clause first.
    /// With it stands the same question put to bounds: whether a changed job surely keeps it, or surely breaks it;
    /// `None` where they do not tell.
    Figures(fn(&AskFigures) -> Vec<Outcome>, fn(&AskKept) -> Option<bool>),
    Line(fn(&AskLine) -> Vec<Outcome>),
    Job(fn(&Ask) -> Vec<Outcome>),
}

/// What every check may look at.
#[derive(Clone, Copy)]
pub struct Ask<'a> {
    pub say: Say,
    pub catalog: &'a Catalog,
    pub job: &'a Job,
    pub lines: &'a JobLines,
    /// Lines too near each other.
    pub clashes: &'a [Clash],
    /// The tubes of each line in pieces, in the order of `lines`.
    pub cuts: &'a [LineCuts],
    pub bound: Bound,
    /// The firm's figure, the clause's own default or its fixed one; not a number where each case has its own.
    pub limit: f64,
}

impl Ask<'_> {
    /// Whether a measure keeps to the clause's limit.
    pub fn keeps(&self, measured: f64) -> bool {
        self.keeps_to(measured, self.limit)
    }

    /// A measure and the clause's limit in words, which give the same verdict as the figures.
    pub fn beside(&self, kind: Kind, measured: f64) -> (String, String) {
        self.beside_of(kind, measured, self.limit)
    }

    /// The same with a limit worked out for the case.
    pub fn beside_of(&self, kind: Kind, measured: f64, limit: f64) -> (String, String) {
        self.say.beside(kind, self.bound, measured, limit)
    }

    /// Whether a measure keeps to a limit worked out for the case.
    pub fn keeps_to(&self, measured: f64, limit: f64) -> bool {
        self.bound.keeps(measured, limit)
    }
}

/// What the check of an inlet may look at, on top of [`Ask`].
pub struct AskInlet<'a> {
    pub of: Ask<'a>,
    pub inlet: &'a Inlet,
    /// Place of the inlet in the job.
    pub index: usize,
    /// The inlet's whole line, from valve to where it joins.
    pub line: &'a Line,
    /// That line as far as the stop.
    pub route: &'a Line,
    /// What the hose has to do with of it.
    pub raceway: &'a Raceway,
}

impl<'a> Deref for AskInlet<'a> {
    type Target = Ask<'a>;

    fn deref(&self) -> &Ask<'a> {
        &self.of
    }
}

/// What a check of an inlet's figures may look at, on top of [`AskInlet`].
pub struct AskFigures<'a> {
    pub at: AskInlet<'a>,
    pub figures: &'a InletFigures,
}

impl<'a> Deref for AskFigures<'a> {
    type Target = AskInlet<'a>;

    fn deref(&self) -> &AskInlet<'a> {
        &self.at
    }
}

/// What a clause on an inlet's figures is asked of a changed job, before any figure of it is reckoned.
pub struct AskKept<'a> {
    pub bound: Bound,
    /// As in [`Ask`].
    pub limit: f64,
    pub change: &'a Changed<'a>,
}

/// What the check of a line may look at, on top of [`Ask`].
pub struct AskLine<'a> {
    pub of: Ask<'a>,
    /// Its place among the job's lines.
    pub index: usize,
    pub line: &'a Line,
    /// The line as the job writes it.
    pub spec: &'a LineSpec,
    /// Whose line it is; `None` for a trunk.
    pub inlet: Option<&'a Inlet>,
    pub figures: &'a LineFigures,
}

impl<'a> Deref for AskLine<'a> {
    type Target = Ask<'a>;

    fn deref(&self) -> &Ask<'a> {
        &self.of
    }
}

impl<'a> AskLine<'a> {
    /// How the line's own tubes are cut.
    pub fn line_cuts(&self) -> &'a [TubeCut] {
        self.of.cuts.get(self.index).map_or(&[], Vec::as_slice)
    }
}

/// How a check came out, before the standard's word makes a verdict of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judged {
    Met,
    Broken,
    /// Data are missing: a *must* is put on hold, a *should* is not checked.
    Open,
    /// The same for want of somebody else's word, which a paper may give.
    Asked,
    /// There is nothing here to be judged.
    NoSubject,
}

/// What one check says.
#[derive(Debug, Clone)]
pub struct Outcome {
    pub judged: Judged,
    pub measured: Option<f64>,
    /// What it was held against, in the unit of the clause's quantity.
    pub limit: Option<f64>,
    pub spots: Vec<Spot>,
    /// The mark of the one thing that was judged, where the clause judges several: `HX2`.
    pub mark: Option<String>,
    /// What was found, a sentence.
    pub note: String,
    /// What mends it; of an open one, which key is to be filled in or which paper is wanted from whom.
    pub remedy: Option<String>,
}

impl Outcome {
    fn new(judged: Judged, note: String) -> Outcome {
        Outcome { judged, measured: None, limit: None, spots: vec![], mark: None, note, remedy: None }
    }

    /// A measure that keeps to its limit.
    pub fn met(measured: impl Into<Option<f64>>, limit: impl Into<Option<f64>>, note: String) -> Outcome {
        Outcome { measured: measured.into(), limit: limit.into(), ..Outcome::new(Judged::Met, note) }
    }

    /// A measure that breaks its limit, at the places named.
    pub fn broken(
        measured: impl Into<Option<f64>>,
        limit: impl Into<Option<f64>>,
        spots: Vec<Spot>,
        note: String,
        remedy: String,
    ) -> Outcome {
        let (measured, limit) = (measured.into(), limit.into());
        Outcome { measured, limit, spots, remedy: Some(remedy), ..Outcome::new(Judged::Broken, note) }
    }

    /// What cannot be judged yet, and what would clear it.
    pub fn open(note: String, clears: String) -> Outcome {
        Outcome { remedy: Some(clears), ..Outcome::new(Judged::Open, note) }
    }

    /// What only somebody else may judge, and which paper is wanted from whom.
    pub fn asked(note: String, paper: String) -> Outcome {
        Outcome { remedy: Some(paper), ..Outcome::new(Judged::Asked, note) }
    }

    /// A figure that could not be had for another reason than missing data, such as a line that fits nowhere.
    pub fn unreckoned(why: &str) -> Outcome {
        Outcome::open(why.to_owned(), "fix that first, then inspect again".into())
    }

    /// Nothing here that the clause is about.
    pub fn no_subject(note: &str) -> Outcome {
        Outcome::new(Judged::NoSubject, note.to_owned())
    }

    /// The same at these places.
    pub fn at(self, spots: Vec<Spot>) -> Outcome {
        Outcome { spots, ..self }
    }

    /// The same of the thing of this mark.
    pub fn marked(self, mark: String) -> Outcome {
        Outcome { mark: Some(mark), ..self }
    }

    /// Numbers of the bends concerned.
    pub fn bends(&self) -> Vec<usize> {
        let bend = |spot: &Spot| if let Spot::Bend(n) = spot { Some(*n) } else { None };
        self.spots.iter().filter_map(bend).collect()
    }
}

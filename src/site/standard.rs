//! A revision of the standard as sheets: an overview, and one sheet for each clause.
use super::book::Picture;
use super::input::Set;
use super::met::{MetList, met_lists};
use super::ways::{BUILT, Placed, SOURCES, Series, book_page, compare_page, lesson_page, standard_page};
use crate::company::{ByEye, ClauseText, Computed, Duty, Per, Phase, RoughIn, Rule, Standard};
use crate::measure::{Bound, Kind, Say};
use crate::packet::cover::level_word;
use crate::packet::here::Here;
use crate::packet::load::count;
use crate::packet::prose::{phrase, prose};
use crate::packet::sheet::{Cell, Link, Sheet, clause_page};
use crate::standard::clause as computed;
use serde::Serialize;

/// The overview of a revision.
#[derive(Debug, Clone, Serialize)]
pub struct Overview {
    pub intro: String,
    pub links: Vec<Link>,
    pub parts: Vec<PartRows>,
}

/// A part with its clauses.
#[derive(Debug, Clone, Serialize)]
pub struct PartRows {
    pub title: String,
    pub rows: Vec<ClauseRow>,
}

/// A clause in the overview.
#[derive(Debug, Clone, Serialize)]
pub struct ClauseRow {
    pub number: String,
    pub title: String,
    pub href: String,
    pub text_html: String,
    pub level: &'static str,
    pub judged: String,
}

/// A clause's own sheet.
#[derive(Debug, Clone, Serialize)]
pub struct ClauseSheet {
    pub text_html: String,
    pub facts: Vec<Cell>,
    pub because_html: String,
    pub measured_html: String,
    /// The line to tick; empty for a computed clause.
    pub tick: String,
    pub pictures: Vec<ClausePicture>,
    pub lessons: Vec<Link>,
    /// Lines that broke it, that were let off, that met it: the worst and the latest.
    pub lists: Vec<MetList>,
}

/// Right and wrong of a clause.
#[derive(Debug, Clone, Serialize)]
pub struct ClausePicture {
    pub caption: String,
    pub drawing_svg: String,
}

/// Number and page of a revision's sheets: overview, changes where there is a revision before, clauses.
pub fn series(set: &Set, standard: &Standard) -> Series {
    let mut series = vec![(format!("Standard {}", standard.revision), standard_page(&standard.revision))];
    if super::compare::before(set, standard).is_some() {
        series.push((format!("Changes {}", standard.revision), compare_page(&standard.revision)));
    }
    series.extend(
        standard
            .by_number()
            .map(|c| (format!("Clause {}", c.number), clause_page(&standard.revision, &c.id))),
    );
    series
}

/// The fields of a revision's title blocks.
pub fn cells(standard: &Standard) -> Vec<Cell> {
    vec![
        Cell::new("Standard", standard.title.clone()),
        Cell::new("Revision", standard.revision.clone()),
        Cell::new("Effective", standard.effective.to_string()),
    ]
}

/// The overview sheet.
pub fn overview(set: &Set, standard: &Standard, here: &Here) -> Sheet<super::Body> {
    let part = |part: &crate::company::StandardPart| PartRows {
        title: part.title.clone(),
        rows: part.by_number().into_iter().map(|clause| clause_row(standard, clause, here)).collect(),
    };
    let body = Overview {
        intro: intro(set, standard),
        links: overview_links(set, standard, here),
        parts: standard.parts.iter().map(part).collect(),
    };
    let title = format!("{}, revision {}", standard.title, standard.revision);
    let placed = Placed { series: &series(set, standard), nth: 0, here };
    placed.sheet(set, title, cells(standard), super::Body::Standard(body))
}

/// The sheet of a clause with what shows it, at its place in the revision's series.
pub fn clause(
    set: &Set,
    standard: &Standard,
    (clause, pictures): (&ClauseText, Vec<Picture>),
    placed: &Placed,
) -> Sheet<super::Body> {
    let here = placed.here;
    let body = ClauseSheet {
        text_html: prose(&clause.text),
        facts: clause_facts(set, clause),
        because_html: prose(&clause.because),
        measured_html: measured(clause),
        tick: tick(clause),
        pictures: pictures
            .into_iter()
            .map(|Picture { caption, phone_svg: drawing_svg, .. }| ClausePicture { caption, drawing_svg })
            .collect(),
        lessons: lessons_on(set, &clause.id, here),
        lists: met_lists(set, standard, &clause.id, here),
    };
    placed.sheet(set, clause.title.clone(), cells(standard), super::Body::Clause(body))
}

/// A clause's figure in the firm's words, never one that allows more.
pub fn limit_words(say: Say, (kind, bound): (Kind, Bound), value: f64) -> String {
    match kind {
        Kind::Ratio => format!("{} %", count(value * 100.0)),
        Kind::Length | Kind::Breadth | Kind::Coordinate | Kind::Angle => say.limit(kind, bound, value),
        Kind::Force | Kind::Pressure | Kind::Speed | Kind::Flow => say.limit(kind, bound, value),
        Kind::Volts => format!("{value:.1} V"),
        Kind::Amps => format!("{value:.1} A"),
        Kind::Weight => format!("{value:.2} N/m"),
        Kind::Stiffness => format!("{value:.2} N m²"),
        Kind::Plain | Kind::Gauge => format!("{value}"),
    }
}

/// How often and when a line is ticked, and for which valves.
pub fn by_eye_words(line: &ByEye) -> String {
    let per = match line.per {
        Per::Joint => "once for each joint",
        Per::Inlet => "once for each inlet",
        Per::Job => "once for the job",
    };
    let when = match line.when {
        Phase::Load => "when the truck is loaded",
        Phase::RoughIn => "at rough-in",
        Phase::Trim => "at trim",
        Phase::Prove => "when the work is proved",
        Phase::HandOver => "at hand-over",
    };
    format!("{per}, {when}{}", valve_words(line))
}

/// One clause in the overview.
fn clause_row(standard: &Standard, clause: &ClauseText, here: &Here) -> ClauseRow {
    let judged = match &clause.rule {
        Rule::Computed(_) => "computed".into(),
        Rule::ByEye(line) => format!("by eye, {}", by_eye_words(line)),
    };
    ClauseRow {
        number: clause.number.clone(),
        title: clause.title.clone(),
        href: here.to(&clause_page(&standard.revision, &clause.id), ""),
        text_html: phrase(&clause.text),
        level: level_word(clause.level),
        judged,
    }
}

/// What the overview opens with.
fn intro(set: &Set, standard: &Standard) -> String {
    let force = if standard.revision == set.firm.standard { "In force" } else { "Not in force" };
    format!(
        "{force}; effective {}. Our words: a must that is broken fails the inlet; a must that nobody can judge yet puts it on \
         hold; a should that is broken is a caution. A clause that rests on a code or on safety is never set aside on the job. \
         Common practice means that installers do it so and that no source was found.",
        standard.effective
    )
}

/// Ways from an overview to the comparison and to other revisions.
fn overview_links(set: &Set, standard: &Standard, here: &Here) -> Vec<Link> {
    let book = here.to(&book_page(&standard.revision), "");
    let mut links = vec![Link { href: book, text: "The whole standard as one document, to print".into() }];
    if let Some(before) = super::compare::before(set, standard) {
        links.push(Link {
            href: here.to(&compare_page(&standard.revision), ""),
            text: format!("What changed since revision {}", before.revision),
        });
    }
    links.push(Link { href: here.to(BUILT, ""), text: "Which jobs were built to which revision".into() });
    links.push(Link { href: here.to(SOURCES, ""), text: "What it rests on: the sources".into() });
    let others = set.standards.iter().filter(|other| other.revision != standard.revision);
    links.extend(others.map(|other| Link {
        href: here.to(&standard_page(&other.revision), ""),
        text: format!("Revision {}", other.revision),
    }));
    links
}

/// The small facts of a clause.
fn clause_facts(set: &Set, clause: &ClauseText) -> Vec<Cell> {
    let mut facts = vec![Cell::new("Must or should", level_word(clause.level))];
    if let Rule::Computed(Computed { value: Some(value), .. }) = clause.rule
        && let Some(known) = computed(&clause.id)
        && let Some(parameter) = known.parameter()
    {
        let name = crate::packet::prose::sentence(parameter.key).trim_end_matches('.').to_string();
        facts.push(Cell::new(&name, limit_words(set.firm.say(), (parameter.kind, known.bound), value)));
    }
    let source = if clause.source.trim().is_empty() { "the firm's own" } else { &clause.source };
    facts.push(Cell::new("Source", source));
    facts
}

/// How it is judged, as HTML.
fn measured(clause: &ClauseText) -> String {
    match &clause.rule {
        Rule::ByEye(line) => prose(&format!("By eye: a person ticks this line {}.", by_eye_words(line))),
        Rule::Computed(_) => match computed(&clause.id) {
            Some(known) => prose(known.measures),
            None => prose("Computed by the program."),
        },
    }
}

/// The line to tick.
fn tick(clause: &ClauseText) -> String {
    match &clause.rule {
        Rule::ByEye(line) => line.tick.clone(),
        Rule::Computed(_) => String::new(),
    }
}

/// `, for valves sealed by the door`.
fn valve_words(line: &ByEye) -> String {
    let duty = |name: &str, duty: Option<Duty>| {
        duty.map(|duty| match (name, duty) {
            ("grips", Duty::Anywhere) => "that grip the hose anywhere".to_string(),
            ("grips", _) => "that grip the hose at full length".to_string(),
            ("seal", Duty::Door) => "sealed by the door".to_string(),
            ("seal", _) => "sealed by the cuff".to_string(),
            (_, Duty::Door) => "switched by the door".to_string(),
            (_, Duty::Cuff) => "switched by the cuff".to_string(),
            (_, _) => "switched by a tab".to_string(),
        })
    };
    let set_at = line.rough_in.map(|kind| match kind {
        RoughIn::Frame => "set as a bare frame".to_string(),
        RoughIn::Box => "set as a box with the valve in it".to_string(),
    });
    let kinds = [duty("seal", line.seal), duty("grips", line.grips), duty("switch", line.switch), set_at];
    let kinds: Vec<String> = kinds.into_iter().flatten().collect();
    if kinds.is_empty() { String::new() } else { format!(", for valves {}", kinds.join(" and ")) }
}

/// Lessons that rest on a clause.
fn lessons_on(set: &Set, clause: &str, here: &Here) -> Vec<Link> {
    let on_it = set.lessons.iter().filter(|lesson| lesson.clauses.iter().any(|id| id == clause));
    on_it
        .map(|lesson| Link { href: here.to(&lesson_page(&lesson.id), ""), text: lesson.title.clone() })
        .collect()
}

//! A lesson's sheet.
use super::input::{CautionLine, LessonPage, Set};
use super::study::StudyBar;
use super::ways::{Placed, STUDY, lesson_series};
use crate::packet::here::Here;
use crate::packet::sheet::{Cell, Link, Sheet, clause_page};
use serde::Serialize;

/// Headings down to this level stand in the list at the top.
const LISTED_LEVEL: u8 = 2;

/// The sheet.
#[derive(Debug, Clone, Serialize)]
pub struct LessonSheet {
    pub summary_html: String,
    pub reading: String,
    pub able_html: Vec<String>,
    pub tools_html: Vec<String>,
    pub cautions: Vec<CautionLine>,
    pub headings: Vec<Link>,
    pub text_html: String,
    /// What is to be done on the bench or in the house; empty for nothing.
    pub task_html: String,
    pub clauses: Vec<Link>,
    /// The bar that keeps answers; none where nothing is asked.
    pub study: Option<StudyBar>,
    /// Items of a list: the answer to each question in turn.
    pub answers_html: Vec<String>,
}

/// Lays a lesson out; `nth` is its place among the lessons, from 0.
pub fn sheet(set: &Set, lesson: &LessonPage, nth: usize, here: &Here) -> Sheet<super::Body> {
    let listed = lesson.headings.iter().filter(|(level, ..)| *level <= LISTED_LEVEL);
    let heading =
        |(_, id, text): &(u8, String, String)| Link { href: here.to(here.path(), id), text: text.clone() };
    let body = LessonSheet {
        summary_html: lesson.summary_html.clone(),
        reading: format!("About {} minutes, questions included.", lesson.minutes),
        able_html: lesson.able_html.clone(),
        tools_html: lesson.tools_html.clone(),
        cautions: lesson.cautions.clone(),
        headings: listed.map(heading).collect(),
        text_html: lesson.html.clone(),
        task_html: lesson.task_html.clone().unwrap_or_default(),
        study: (!lesson.asks.is_empty()).then(|| StudyBar {
            firm: set.firm.name.clone(),
            lesson: lesson.id.clone(),
            record: Some(Link { href: here.to(STUDY, ""), text: "Study record".into() }),
        }),
        answers_html: lesson.answers.clone(),
        clauses: clauses(set, lesson, here),
    };
    let cells = vec![
        Cell::new("Lesson", lesson.title.clone()),
        Cell::new("Part", lesson.part.word()),
        Cell::new("Reading", format!("{} min", lesson.minutes)),
    ];
    let series = lesson_series(set);
    let placed = Placed { series: &series, nth, here };
    placed.sheet(set, lesson.title.clone(), cells, super::Body::Lesson(body))
}

/// The clauses it rests on, those that the standard in force has.
fn clauses(set: &Set, lesson: &LessonPage, here: &Here) -> Vec<Link> {
    let Some(standard) = set.in_force() else {
        return Vec::new();
    };
    let known = lesson.clauses.iter().filter_map(|id| standard.clause(id));
    known
        .map(|clause| Link {
            href: here.to(&clause_page(&standard.revision, &clause.id), ""),
            text: format!("{} {}", clause.number, clause.title),
        })
        .collect()
}

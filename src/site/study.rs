//! The study record: every lesson and practical card on one sheet, to be signed by the crew lead.
use super::cover::cover_cells;
use super::input::{LessonPage, Set};
use super::ways::{Placed, STUDY, cover_nth, cover_series, lesson_page};
use crate::lesson::Part;
use crate::packet::here::Here;
use crate::packet::sheet::{Link, Sheet};
use serde::Serialize;

/// The record.
#[derive(Debug, Clone, Serialize)]
pub struct StudyRecord {
    pub study: StudyBar,
    pub parts: Vec<PartRows>,
}

/// What the bar of a page with progress needs.
#[derive(Debug, Clone, Serialize)]
pub struct StudyBar {
    /// Whose record it is: a phone may hold the sets of two firms.
    pub firm: String,
    /// Whose questions stand on the page; empty on the record.
    pub lesson: String,
    /// The way to the record; none on the record itself.
    pub record: Option<Link>,
}

/// The lessons of a part.
#[derive(Debug, Clone, Serialize)]
pub struct PartRows {
    pub name: &'static str,
    pub rows: Vec<LessonRow>,
}

/// A lesson's line.
#[derive(Debug, Clone, Serialize)]
pub struct LessonRow {
    pub id: String,
    pub number: String,
    pub title: String,
    pub href: String,
    /// The ids of its questions, blanks between them.
    pub asks: String,
    /// `of 5`, before anything is known of a reader.
    pub count: String,
    pub cards: Vec<Link>,
}

/// The sheet.
pub fn sheet(set: &Set, here: &Here) -> Sheet<super::Body> {
    let parts = Part::ALL.map(|part| PartRows { name: part.word(), rows: rows(set, part, here) });
    let body = super::Body::StudyRecord(StudyRecord {
        study: StudyBar { firm: set.firm.name.clone(), lesson: String::new(), record: None },
        parts: parts.into_iter().filter(|part| !part.rows.is_empty()).collect(),
    });
    let placed = Placed { series: &cover_series(), nth: cover_nth(STUDY), here };
    let sheet = placed.sheet(set, "Study record".into(), cover_cells(set), body);
    Sheet { under_title: "What was read and answered, and what was seen done.".into(), ..sheet }
}

fn rows(set: &Set, part: Part, here: &Here) -> Vec<LessonRow> {
    let numbered = set.lessons.iter().enumerate().filter(|(_, lesson)| lesson.part == part);
    numbered.map(|(nth, lesson)| row(lesson, nth, here)).collect()
}

fn row(lesson: &LessonPage, nth: usize, here: &Here) -> LessonRow {
    let page = lesson_page(&lesson.id);
    let card = |(nth, title): (usize, &String)| Link {
        href: here.to(&page, &format!("card.{}", nth + 1)),
        text: title.clone(),
    };
    LessonRow {
        id: lesson.id.clone(),
        number: format!("{}.", nth + 1),
        title: lesson.title.clone(),
        href: here.to(&page, ""),
        asks: lesson.asks.join(" "),
        count: format!("of {}", lesson.asks.len()),
        cards: lesson.cards.iter().enumerate().map(card).collect(),
    }
}

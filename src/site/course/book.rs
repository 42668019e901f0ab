//! The whole course on one page, to print: title and contents, the lessons, the study record, all answers.
use super::{length_words, parts};
use crate::packet::here::Here;
use crate::packet::sheet::{Cell, Link, Sheet};
use crate::site::input::{LessonPage, Set};
use crate::site::lessons::{self, LessonSheet};
use crate::site::study;
use crate::site::ways::{COURSE, Placed, Series, lesson_page};
use crate::site::{Body, course::apart::apart};
use serde::Serialize;

/// What stands round the lessons of the printed course.
#[derive(Debug, Clone, Serialize)]
pub struct CoursePiece {
    pub words: String,
    pub parts: Vec<ContentsPart>,
    pub answers: Vec<LessonAnswers>,
}

/// A part in the contents.
#[derive(Debug, Clone, Serialize)]
pub struct ContentsPart {
    pub name: &'static str,
    pub rows: Vec<Link>,
}

/// The answers of a lesson.
#[derive(Debug, Clone, Serialize)]
pub struct LessonAnswers {
    pub name: String,
    pub answers_html: Vec<String>,
}

/// The sheets of the printed course.
pub fn sheets(set: &Set, here: &Here) -> Vec<Sheet<Body>> {
    let front = ("Course".to_owned(), COURSE.to_owned());
    let series: Series = vec![front];
    let mut sheets = vec![contents(set, here, &series)];
    sheets.extend(set.lessons.iter().enumerate().map(|(nth, lesson)| whole(set, lesson, nth, here)));
    sheets.push(Sheet { anchor: "study-record".into(), ..study::sheet(set, here) });
    let answers = set.lessons.iter().enumerate().filter(|(_, lesson)| !lesson.answers.is_empty());
    let answers = answers.map(|(nth, lesson)| LessonAnswers {
        name: name(nth, lesson),
        answers_html: lesson.answers.iter().map(|html| within(set, nth, html)).collect(),
    });
    let body = CoursePiece { words: String::new(), parts: Vec::new(), answers: answers.collect() };
    let placed = Placed { series: &vec![("Answers".into(), String::new())], nth: 0, here };
    sheets.push(placed.sheet(set, "Answers".into(), cells(set), Body::CoursePiece(body)));
    sheets
}

fn cells(set: &Set) -> Vec<Cell> {
    vec![Cell::new("Course", length_words(set.lessons.iter()))]
}

fn name(nth: usize, lesson: &LessonPage) -> String {
    format!("Lesson {}: {}", nth + 1, lesson.title)
}

/// Title and contents.
fn contents(set: &Set, here: &Here, series: &Series) -> Sheet<Body> {
    let part = |(part, lessons): (crate::lesson::Part, Vec<(usize, &LessonPage)>)| ContentsPart {
        name: part.word(),
        rows: lessons
            .into_iter()
            .map(|(nth, lesson)| Link { href: format!("#lesson-{}", nth + 1), text: name(nth, lesson) })
            .collect(),
    };
    let body = CoursePiece {
        words: format!(
            "{}. The lesson's name stands at the head of each printed page, its number at the right. Questions have room to \
             write; their answers stand at the end, behind the study record.",
            length_words(set.lessons.iter())
        ),
        parts: parts(set).into_iter().map(part).collect(),
        answers: Vec::new(),
    };
    let placed = Placed { series, nth: 0, here };
    placed.sheet(set, format!("{}: the course", set.firm.name), cells(set), Body::CoursePiece(body))
}

/// A lesson as it stands on its own page, but for its answers and its bar.
fn whole(set: &Set, lesson: &LessonPage, nth: usize, here: &Here) -> Sheet<Body> {
    let mut sheet = lessons::sheet(set, lesson, nth, here);
    if let Body::Lesson(body) = sheet.body {
        let inside = |html: &String| within(set, nth, html);
        sheet.body = Body::Lesson(LessonSheet {
            summary_html: inside(&body.summary_html),
            able_html: body.able_html.iter().map(inside).collect(),
            tools_html: body.tools_html.iter().map(inside).collect(),
            text_html: inside(&body.text_html),
            task_html: inside(&body.task_html),
            headings: Vec::new(),
            study: None,
            answers_html: Vec::new(),
            ..body
        });
    }
    sheet
}

/// A lesson's markup among that of the others.
fn within(set: &Set, nth: usize, html: &str) -> String {
    let place_of = |page: &str| {
        set.lessons.iter().position(|lesson| lesson_page(&lesson.id) == format!("lessons/{page}"))
    };
    apart(html, nth, &place_of)
}

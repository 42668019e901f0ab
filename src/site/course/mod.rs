//! The course: every lesson by its part, with what it is about.
mod apart;
pub mod book;

use super::cover::cover_cells;
use super::input::{LessonPage, Set};
use super::ways::{COURSE, COURSE_BOOK, Placed, STUDY, cover_nth, cover_series, lesson_page};
use crate::lesson::Part;
use crate::packet::here::Here;
use crate::packet::sheet::{Link, Sheet};
use crate::text::slug;
use serde::Serialize;

/// The course.
#[derive(Debug, Clone, Serialize)]
pub struct Course {
    pub intro: String,
    pub links: Vec<Link>,
    pub parts: Vec<CoursePart>,
}

/// A part with its lessons.
#[derive(Debug, Clone, Serialize)]
pub struct CoursePart {
    pub anchor: String,
    pub name: &'static str,
    pub rows: Vec<CourseRow>,
}

/// A lesson.
#[derive(Debug, Clone, Serialize)]
pub struct CourseRow {
    pub number: String,
    pub title: String,
    pub href: String,
    pub summary_html: String,
    pub minutes: u32,
}

/// The sheet.
pub fn sheet(set: &Set, here: &Here) -> Sheet<super::Body> {
    let parts = parts(set).into_iter().map(|(part, lessons)| CoursePart {
        anchor: anchor(part),
        name: part.word(),
        rows: lessons.into_iter().map(|(nth, lesson)| row(nth, lesson, here)).collect(),
    });
    let body = Course { intro: intro(set), links: links(here), parts: parts.collect() };
    let placed = Placed { series: &cover_series(), nth: cover_nth(COURSE), here };
    placed.sheet(set, "Course".into(), cover_cells(set), super::Body::Course(body))
}

/// The parts that have lessons, each lesson with its place in the course, from 0.
pub fn parts<'a>(set: &Set<'a>) -> Vec<(Part, Vec<(usize, &'a LessonPage)>)> {
    let of = |part: Part| {
        let lessons = set.lessons.iter().enumerate().filter(|(_, lesson)| lesson.part == part);
        (part, lessons.collect::<Vec<_>>())
    };
    Part::ALL.into_iter().map(of).filter(|(_, lessons)| !lessons.is_empty()).collect()
}

/// The place of a part on the sheet.
pub fn anchor(part: Part) -> String {
    format!("part-{}", slug(part.word()))
}

/// `3 lessons, about 35 minutes`
pub fn length_words<'a>(lessons: impl Iterator<Item = &'a LessonPage>) -> String {
    let (count, minutes) = lessons.fold((0, 0), |(count, sum), lesson| (count + 1, sum + lesson.minutes));
    let lessons = if count == 1 { "1 lesson".to_owned() } else { format!("{count} lessons") };
    let hours = match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} minutes"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    };
    format!("{lessons}, about {hours}")
}

fn intro(set: &Set) -> String {
    match set.lessons.len() {
        0 => "No lesson yet. Lessons stand in content/lessons/.".into(),
        _ => format!(
            "{}, questions included. Take the lessons in order; each one stands alone on the phone and needs no signal.",
            length_words(set.lessons.iter())
        ),
    }
}

fn links(here: &Here) -> Vec<Link> {
    vec![
        Link { href: here.to(COURSE_BOOK, ""), text: "The whole course as one document, to print".into() },
        Link { href: here.to(STUDY, ""), text: "Study record".into() },
    ]
}

fn row(nth: usize, lesson: &LessonPage, here: &Here) -> CourseRow {
    CourseRow {
        number: format!("Lesson {}", nth + 1),
        title: lesson.title.clone(),
        href: here.to(&lesson_page(&lesson.id), ""),
        summary_html: lesson.summary_html.clone(),
        minutes: lesson.minutes,
    }
}

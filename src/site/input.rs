//! What a set is made from.
use super::summary::JobSummary;
use crate::company::{Catalog, Firm, Standard};
use crate::lesson::Part;
use crate::packet::prose::sentence;
use crate::packet::worked::{JobPictures, Worked};
use serde::Serialize;

/// Everything that is published together.
#[derive(Debug, Clone, Copy)]
pub struct Set<'a> {
    pub firm: &'a Firm,
    pub catalog: &'a Catalog,
    /// Every revision, the oldest first.
    pub standards: &'a [Standard],
    /// Jobs that were read, in short, by key.
    pub jobs: &'a [&'a JobSummary],
    pub unread: &'a [Unread],
    /// In reading order.
    pub lessons: &'a [LessonPage],
    /// The firm's own words.
    pub words: &'a [WordLine],
    /// What stands over every sheet of the set itself where not all of it could be read; else empty.
    pub bar: &'a str,
}

/// A job that was read whole, with its drawings.
#[derive(Debug, Clone)]
pub struct JobEntry<'a> {
    pub worked: Worked<'a>,
    pub pictures: JobPictures,
    /// Files that stand beside its sheets, by name: `packet.json`, `hall-elevation.png`.
    pub beside: Vec<(String, Vec<u8>)>,
}

/// A job whose file could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// The file's path under `jobs/` without its ending.
    pub key: String,
    /// Its diagnostics as the terminal shows them, without colour.
    pub diagnostics: String,
    /// The same as rows of a table.
    pub rows: Vec<UnreadRow>,
    /// Whether its last packet stands in the place of its page, under a bar.
    pub packet_stands: bool,
}

/// Something wrong in a job's file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct UnreadRow {
    /// `12`; empty where the file as a whole is meant.
    pub line: String,
    /// The line as it stands there; empty where it is too long to show.
    pub written: String,
    /// What is wrong with it, in a sentence.
    pub wrong: String,
    /// What to write instead.
    pub instead: String,
}

impl From<&crate::text::Diagnostic> for UnreadRow {
    fn from(told: &crate::text::Diagnostic) -> UnreadRow {
        let told = told.harmless();
        let instead = told.help.as_deref().unwrap_or(&told.label);
        UnreadRow {
            line: if told.line > 0 { told.line.to_string() } else { String::new() },
            written: told.source_line.trim().to_string(),
            wrong: sentence(&told.message),
            instead: if instead.is_empty() { "Ask the office.".into() } else { sentence(instead) },
        }
    }
}

/// A lesson, rendered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LessonPage {
    /// Its file's name without ending.
    pub id: String,
    pub title: String,
    pub part: Part,
    /// As it is written.
    pub summary: String,
    pub summary_html: String,
    pub minutes: u32,
    /// Clauses it rests on, by id.
    pub clauses: Vec<String>,
    pub able_html: Vec<String>,
    pub tools_html: Vec<String>,
    pub cautions: Vec<CautionLine>,
    /// What is to be done on the bench or in the house.
    pub task_html: Option<String>,
    /// Made by this program.
    pub html: String,
    /// The answer to each question in turn, an item of a list.
    pub answers: Vec<String>,
    /// The id of each question in turn.
    pub asks: Vec<String>,
    /// Titles of the practical cards, in turn.
    pub cards: Vec<String>,
    /// Level, id and words of each heading.
    pub headings: Vec<(u8, String, String)>,
    /// The words alone.
    pub text: String,
}

/// A word of the glossary.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WordLine {
    pub word: String,
    pub also: Vec<String>,
    pub means_html: String,
    /// The words of the meaning alone.
    pub means: String,
    pub see: Vec<String>,
}

/// A caution of a lesson's head.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CautionLine {
    /// The signal word.
    pub word: &'static str,
    pub words_html: String,
    /// The words alone.
    #[serde(skip)]
    pub words: String,
}

impl Set<'_> {
    /// The revision in force, or the newest where the firm names one that is not there.
    pub fn in_force(&self) -> Option<&Standard> {
        let named = self.standards.iter().find(|standard| standard.revision == self.firm.standard);
        named.or(self.standards.last())
    }
}

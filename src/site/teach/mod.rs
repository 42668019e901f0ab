//! Lessons taught by the program's own hand: `raceway` blocks laid, inspected and drawn like a job.
mod drawn;
mod figures;
mod held;
mod judge;

use super::input::{CautionLine, LessonPage, WordLine};
use super::ways::{GLOSSARY, lesson_page};
use crate::company::{
    Catalog, Firm, FirmWord, LessonPath, PictureFile, Standard, read_path, read_plan, read_practice,
    read_tree,
};
use crate::lesson::{
    Blocks, Figure, Front, Given, Judged, Picture, Refusal, Refused, Speaks, Target, Words, front, picture,
    render,
};
use crate::measure::Say;
use crate::packet::here::Here;
use crate::packet::sheet::clause_page;
use crate::text::Diagnostic;
use std::collections::BTreeMap;

/// What every lesson is taught with.
pub struct School<'a> {
    pub firm: &'a Firm,
    pub catalog: &'a Catalog,
    /// The revision in force.
    pub standard: &'a Standard,
    /// Ids of all lessons.
    pub lessons: Vec<String>,
    /// Pictures beside the lessons, by their path from the company folder.
    pub pictures: &'a BTreeMap<String, PictureFile>,
}

/// What is read once for all pages.
#[derive(Debug, Clone)]
pub struct Taught {
    pub lessons: Vec<LessonPage>,
    pub words: Vec<WordLine>,
}

/// Where the firm's words stand, from the company folder.
const WORDS: &str = "content/words.yaml";

/// Where the lessons stand, from the company folder.
const LESSONS: &str = "content/lessons";

/// A lesson's id: its file's name without ending.
pub fn lesson_id(file: &str) -> String {
    let name = file.rsplit('/').next().unwrap_or(file);
    name.strip_suffix(".md").unwrap_or(name).to_owned()
}

impl School<'_> {
    /// Renders the lessons in reading order, and the firm's words; faults are told by file and place, and leave
    /// the rest standing.
    pub fn teach(&self, files: &[(String, String)], words: &[FirmWord]) -> (Taught, Vec<Diagnostic>) {
        let mut faults = Vec::new();
        let mut taught: Vec<(u32, LessonPage)> = Vec::new();
        let mut first: BTreeMap<String, &str> = BTreeMap::new();
        for (file, text) in files {
            let page = lesson_page(&lesson_id(file));
            if let Some(first) = first.get(&page) {
                let message = format!("this lesson would take the place of {first}");
                let help = Some("give the file another name; neither folder nor case tells lessons apart");
                let fault = Diagnostic::of_file(file, message, help);
                faults.push(Diagnostic { line: 1, column: 1, ..fault });
                continue;
            }
            first.insert(page, file);
            match self.lesson(file, text, &mut faults) {
                Ok((order, page)) => taught.push((order, page)),
                Err(found) => faults.extend(found),
            }
        }
        taught.sort_by(|a, b| (a.1.part, a.0, &a.1.id).cmp(&(b.1.part, b.0, &b.1.id)));
        let words = words.iter().map(|word| self.word(word, &mut faults)).collect();
        (Taught { lessons: taught.into_iter().map(|(_, page)| page).collect(), words }, faults)
    }

    /// A word of the firm's list, its meaning set.
    fn word(&self, word: &FirmWord, faults: &mut Vec<Diagnostic>) -> WordLine {
        let here = Here::page(GLOSSARY);
        let mut hand = Hand::new(self, WORDS, here);
        let (line, col) = word.means_at;
        let means = Words { text: word.means.clone(), line, col };
        let (set, found) = crate::lesson::words(WORDS, &means, &mut hand);
        faults.extend(found);
        WordLine {
            word: word.word.clone(),
            also: word.also.clone(),
            means_html: set.html,
            means: set.text,
            see: word.see.clone(),
        }
    }

    fn lesson(
        &self,
        file: &str,
        text: &str,
        faults: &mut Vec<Diagnostic>,
    ) -> Result<(u32, LessonPage), Vec<Diagnostic>> {
        if let Some(fault) = front::unseen(file, text) {
            return Err(vec![fault]);
        }
        let split = front::split(file, text).map_err(|fault| vec![*fault])?;
        let clauses: Vec<&str> = self.standard.clauses().map(|clause| clause.id.as_str()).collect();
        let front: Front = front::parse(file, &split, &clauses)?;
        faults.extend(front::cut(file, &split));
        let id = lesson_id(file);
        let here = Here::page(lesson_page(&id));
        let mut hand = Hand::new(self, file, here);
        let lesson = render(file, split.body, split.body_lines_above, &mut hand);
        faults.extend(lesson.faults);
        let words = (lesson.text.as_str(), lesson.asks.len());
        faults.extend(held::head_faults(self, (file, text), &front, words));
        let mut text = lesson.text;
        let mut said = |words: &Words| {
            let (set, found) = crate::lesson::words(file, words, &mut hand);
            faults.extend(found);
            // A blank, so that the last word of one and the first of the next stay two.
            text.push(' ');
            text.push_str(&set.text);
            set
        };
        let cautions = front.cautions.iter().map(|caution| {
            let set = said(&caution.words);
            CautionLine { word: caution.signal.word(), words_html: set.html, words: set.text }
        });
        let cautions = cautions.collect();
        let mut html = |words: &Words| said(words).html;
        let page = LessonPage {
            summary_html: html(&front.summary),
            able_html: front.able.iter().map(&mut html).collect(),
            tools_html: front.tools.iter().map(&mut html).collect(),
            cautions,
            task_html: front.task.as_ref().map(&mut html).map(paragraph),
            id,
            title: front.title,
            summary: front.summary.text,
            part: front.part,
            minutes: front.minutes,
            clauses: front.clauses.into_iter().map(|clause| clause.text).collect(),
            html: lesson.html,
            headings: lesson.headings.into_iter().map(|h| (h.level, h.id, h.text)).collect(),
            answers: lesson.answers,
            asks: lesson.asks,
            cards: lesson.cards,
            text,
        };
        Ok((front.order, page))
    }
}

/// Words that are one paragraph, as one.
fn paragraph(html: String) -> String {
    if html.starts_with('<') && html.contains("<p>") { html } else { format!("<p>{html}</p>") }
}

/// The hand that draws and links for one lesson.
struct Hand<'a> {
    school: &'a School<'a>,
    file: &'a str,
    here: Here,
    /// Drawings so far, so that their ids differ.
    drawn: usize,
    /// The lesson's raceways that have a name.
    named: BTreeMap<String, LessonPath>,
    /// What the raceways drawn so far leave for the sums below them.
    raceways: Vec<figures::Drawn>,
}

impl<'a> Hand<'a> {
    fn new(school: &'a School<'a>, file: &'a str, here: Here) -> Hand<'a> {
        Hand { school, file, here, drawn: 0, named: BTreeMap::new(), raceways: Vec::new() }
    }
}

impl Blocks for Hand<'_> {
    fn raceway(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        let path = read_path(self.file, text, line - 1, self.school.catalog)?;
        self.drawn += 1;
        let (html, drawn) = self.draw(&path);
        self.keep(&path, drawn)?;
        Ok(html)
    }

    fn plan(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        let block = read_plan(self.file, text, line - 1, self.school.catalog)?;
        self.drawn += 1;
        Ok(self.floors(&block))
    }

    fn practice(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        let of = read_practice(self.file, text, line - 1)?;
        self.drawn += 1;
        Ok(self.sketch(of))
    }

    fn tree(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        let tree = read_tree(self.file, text, line - 1)?;
        self.drawn += 1;
        Ok(self.forks(tree))
    }

    fn drawing(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        let path = read_path(self.file, text, line - 1, self.school.catalog)?;
        self.drawn += 1;
        let (html, drawn) = self.draw_bare(&path);
        self.keep(&path, drawn)?;
        Ok(html)
    }

    fn judge(&mut self, of: Speaks, breaks: &[String]) -> Result<Judged, Refusal> {
        let path = self.path(of)?;
        self.drawn += 1;
        judge::judge(self.school, &path, breaks, &self.id())
    }

    fn link(&mut self, to: Target, id: &str) -> Option<String> {
        match to {
            Target::Clause => {
                let clause = self.school.standard.clause(id)?;
                Some(self.here.to(&clause_page(&self.school.standard.revision, &clause.id), ""))
            }
            Target::Lesson => self
                .school
                .lessons
                .iter()
                .find(|known| *known == id)
                .map(|id| self.here.to(&lesson_page(id), "")),
        }
    }

    fn picture(&mut self, path: &str) -> Result<Picture, Refused> {
        picture(self.file, LESSONS, path, self.school.pictures)
    }

    fn names(&self, to: Target) -> Vec<String> {
        match to {
            Target::Clause => self.school.standard.clauses().map(|clause| clause.id.clone()).collect(),
            Target::Lesson => self.school.lessons.clone(),
        }
    }

    fn figure(&mut self, name: &str, given: &[Given]) -> Option<Result<Figure, String>> {
        figures::figure(self.school, &self.raceways, name, given)
    }

    fn figures(&self) -> Vec<String> {
        figures::NAMES.map(str::to_owned).to_vec()
    }

    fn say(&self) -> Say {
        self.school.firm.say()
    }
}

impl Hand<'_> {
    /// Keeps a raceway for what is asked of it below.
    fn keep(&mut self, path: &LessonPath, mut drawn: figures::Drawn) -> Result<(), Vec<Diagnostic>> {
        drawn.name.clone_from(&path.name);
        self.raceways.push(drawn);
        if let Some(name) = &path.name
            && self.named.insert(name.clone(), path.clone()).is_some()
        {
            let place = &path.inlet.place;
            let message = format!("the lesson has two raceways named `{name}`");
            let help = Some("give each a name of its own");
            let fault = Diagnostic::of_file(self.file, message, help);
            return Err(vec![Diagnostic { line: place.line, column: place.column, ..fault }]);
        }
        Ok(())
    }

    /// The raceway that a question speaks of.
    fn path(&self, of: Speaks) -> Result<LessonPath, Refusal> {
        match of {
            Speaks::Written { text, line } => {
                read_path(self.file, text, line - 1, self.school.catalog).map_err(Refusal::Faults)
            }
            Speaks::Named(name) => self.named.get(name).cloned().ok_or_else(|| {
                let known = self.named.keys().map(String::as_str);
                let help = match crate::text::nearest(name, known) {
                    Some(near) => format!("write `{near}`"),
                    None => "give a raceway block above it this `name:`".to_owned(),
                };
                Refusal::Raceway(Refused {
                    message: format!("no raceway above is named `{name}`"),
                    help: Some(help),
                })
            }),
        }
    }
}

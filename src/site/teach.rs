//! Lessons taught by the program's own hand: `raceway` blocks laid, inspected and drawn like a job.
mod figures;

use super::input::LessonPage;
use super::ways::lesson_page;
use crate::company::{
    Catalog, Firm, Job, LessonPath, LessonPlan, LineSpec, PictureFile, Readings, Shown, Standard, UnitPlace,
    read_path, read_plan,
};
use crate::draw::{elevation, reach as draw_reach, travel as draw_travel};
use crate::lesson::{Blocks, Figure, Front, Given, Picture, Refused, Target, front, picture, render};
use crate::measure::Say;
use crate::packet::pictures::{cases, travel};
use crate::packet::place::Place;
use crate::packet::reach::of_survey;
use crate::packet::sheet::{clause_page, finding_rows};
use crate::packet::subjects::line;
use crate::plan::{ValveAt, survey};
use crate::standard::{Finding, Verdict, clause};
use crate::text::{Diagnostic, escape};
use crate::work::Work;
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

/// Where the lessons stand, from the company folder.
const LESSONS: &str = "content/lessons";

/// A lesson's id: its file's name without ending.
pub fn lesson_id(file: &str) -> String {
    let name = file.rsplit('/').next().unwrap_or(file);
    name.strip_suffix(".md").unwrap_or(name).to_owned()
}

impl School<'_> {
    /// Renders the lessons in reading order; faults are told by file and place, and leave the rest standing.
    pub fn teach(&self, files: &[(String, String)]) -> (Vec<LessonPage>, Vec<Diagnostic>) {
        let mut faults = Vec::new();
        let mut taught: Vec<(u32, LessonPage)> = Vec::new();
        for (file, text) in files {
            match self.lesson(file, text, &mut faults) {
                Ok((order, page)) => taught.push((order, page)),
                Err(found) => faults.extend(found),
            }
        }
        taught.sort_by(|a, b| (a.0, &a.1.id).cmp(&(b.0, &b.1.id)));
        (taught.into_iter().map(|(_, page)| page).collect(), faults)
    }

    fn lesson(
        &self,
        file: &str,
        text: &str,
        faults: &mut Vec<Diagnostic>,
    ) -> Result<(u32, LessonPage), Vec<Diagnostic>> {
        let split = front::split(file, text).map_err(|fault| vec![*fault])?;
        let Front { title, order, minutes, summary, clauses } = front::parse(file, &split)?;
        let id = lesson_id(file);
        let mut hand =
            Hand { school: self, file, here: Place::page(lesson_page(&id)), drawn: 0, raceways: Vec::new() };
        let lesson = render(file, split.body, split.body_lines_above, &mut hand);
        faults.extend(lesson.faults);
        let headings = lesson.headings.into_iter().map(|h| (h.level, h.id, h.text)).collect();
        Ok((
            order,
            LessonPage {
                id,
                title,
                summary,
                minutes,
                clauses,
                html: lesson.html,
                headings,
                text: lesson.text,
            },
        ))
    }
}

/// The hand that draws and links for one lesson.
struct Hand<'a> {
    school: &'a School<'a>,
    file: &'a str,
    here: Place,
    /// Drawings so far, so that their ids differ.
    drawn: usize,
    /// What the raceways drawn so far leave for the worked examples below them.
    raceways: Vec<figures::Drawn>,
}

impl Blocks for Hand<'_> {
    fn raceway(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        let path = read_path(self.file, text, line - 1, self.school.catalog)?;
        self.drawn += 1;
        Ok(self.draw(path))
    }

    fn plan(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        let block = read_plan(self.file, text, line - 1, self.school.catalog)?;
        self.drawn += 1;
        Ok(self.floors(&block))
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
    /// Every floor of a plan as a figure.
    fn floors(&self, block: &LessonPlan) -> String {
        let valves: Vec<ValveAt> = block.valves.iter().map(|(_, valve)| valve.clone()).collect();
        let named: Vec<(String, f64)> =
            block.valves.iter().map(|(name, valve)| (name.clone(), valve.hose_m)).collect();
        let survey = survey(&block.floor.plan, &block.floor.placed, &valves);
        let title = block.title.as_deref().unwrap_or("A plan");
        let say = self.school.firm.say();
        let floor = |floor: usize| {
            let mut picture = of_survey(&block.floor, &survey, floor, &named, Vec::new(), title, say);
            picture.prefix = format!("p{}-{floor}", self.drawn);
            picture.area_mm = AREA_MM;
            let caption = escape(title);
            let svg = draw_reach(&picture).to_svg();
            format!(
                "<div class=\"drawn\"><figure><div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"{caption}\">{svg}</div><figcaption>{caption}</figcaption></figure></div>"
            )
        };
        (0..block.floor.placed.floors_m.len()).map(floor).collect()
    }
}

/// Width and height of a lesson's drawing.
const AREA_MM: (f64, f64) = (180.0, 90.0);
/// The travel narrow enough for a phone to show it with its words, the three cases side by side.
const TRAVEL_MM: (f64, f64) = (124.0, 88.0);
const CASES_MM: (f64, f64) = (180.0, 88.0);

/// Whether a bare raceway can answer to a clause: its drawing is silent on what wants a house round it, and
/// on the hose where the block names none.
fn answerable(finding: &Finding, hose_named: bool) -> bool {
    let needs = clause(&finding.clause).map_or(&[][..], |clause| clause.needs);
    needs.iter().all(|need| need.of_a_bare_raceway() && (hose_named || !need.of_the_hose()))
}

impl Hand<'_> {
    /// The block as a figure: drawing, caption, and what the standard in force finds.
    fn draw(&mut self, path: LessonPath) -> String {
        let school = self.school;
        let Some(unit) = school.catalog.units.first() else {
            return "<p>The catalog lists no unit, so that nothing can be reckoned.</p>".into();
        };
        let mut inlet = path.inlet;
        inlet.id = format!("r{}", self.drawn);
        inlet.readings = Readings::default();
        let job = Job {
            key: "lesson".into(),
            title: inlet.name.clone(),
            address: String::new(),
            date: school.standard.effective,
            built: None,
            standard: school.standard.revision.clone(),
            levels: Vec::new(),
            datums: Vec::new(),
            unit: UnitPlace {
                model: unit.clone(),
                at: None,
                own_circuit: None,
                place: crate::text::Place::default(),
            },
            lines: vec![LineSpec { id: inlet.id.clone(), ..path.line }],
            inlets: vec![inlet],
            cleared: Vec::new(),
            warnings: Vec::new(),
            plan: None,
        };
        let mut work = Work::up(&job, school.standard, school.catalog, school.firm.say());
        self.raceways.push(figures::Drawn::of(&work));
        work.findings.inlets[0].retain(|finding| answerable(finding, path.hose_named));
        let Some(mut picture) = line(&work, 0, "elevation", AREA_MM) else {
            return String::new();
        };
        picture.title = path.title.unwrap_or_else(|| "A raceway".into());
        if !path.hose_named {
            picture.hose = None;
        }
        let mut svg = String::new();
        if matches!(path.shown, Shown::Drawing | Shown::Both) {
            svg.push_str(&elevation(&picture).to_svg());
        }
        let over_travel = match path.shown {
            Shown::Drawing => None,
            Shown::Travel | Shown::Both => travel(&work, 0),
            Shown::Cases => cases(&work, 0),
        };
        if let Some(mut over_travel) = over_travel {
            over_travel.title = format!("{}: suction needed and had", picture.title);
            over_travel.area_mm = if over_travel.panels.len() > 1 { CASES_MM } else { TRAVEL_MM };
            svg.push_str(&draw_travel(&over_travel).to_svg());
        }
        // A path of a lesson has no house round it: what waits for its data is nothing to teach.
        let told = |f: &&Finding| !matches!(f.verdict, Verdict::NotChecked | Verdict::Hold);
        let shown: Vec<_> = work.findings.inlets[0].iter().filter(told).cloned().collect();
        figure(
            &picture.title,
            &svg,
            &finding_rows(&shown, &work.offers[0], &school.standard.revision, &self.here),
        )
    }
}

fn figure(title: &str, svg: &str, rows: &[crate::packet::sheet::FindingRow]) -> String {
    let broken: Vec<_> = rows.iter().filter(|row| row.stamp.word != "pass").collect();
    let mut html = format!(
        "<div class=\"drawn\"><figure><div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"{}\">{svg}</div><figcaption>{}",
        escape(title),
        escape(title)
    );
    if broken.is_empty() {
        html.push_str(": every clause that this raceway can be held to passes.");
    }
    html.push_str("</figcaption></figure>");
    if !broken.is_empty() {
        html.push_str("<ul class=\"found\">");
        for row in broken {
            let remedies: String = row
                .remedies
                .iter()
                .map(|remedy| format!(" <em>{}: {}</em>", escape(remedy.lead), escape(&remedy.words)))
                .collect();
            html.push_str(&format!(
                "<li><strong>{} {}</strong> <a href=\"{}\">{} {}</a>: {}{remedies}</li>",
                escape(&row.balloon),
                escape(&row.stamp.word.to_uppercase()),
                escape(&row.href),
                escape(&row.number),
                escape(&row.title),
                escape(&row.note)
            ));
        }
        html.push_str("</ul>");
    }
    html.push_str("</div>\n");
    html
}

//! Raceways and floors drawn for a lesson, with what the standard finds, or without.
use super::figures::Drawn;
use super::{Hand, School};
use crate::company::{LessonFork, LessonPath, LessonPlan, LessonTree, Practice, Shown};
use crate::draw::{
    Fork, Halves, LinePicture, TreePicture, elevation, practice as draw_practice, practice_shown,
    reach as draw_reach, travel as draw_travel, tree as draw_tree, valve_box as draw_valve,
};
use crate::packet::pictures::{cases, travel, valve_box};
use crate::packet::reach::of_survey;
use crate::packet::sheet::{FindingRow, finding_rows};
use crate::packet::subjects::line;
use crate::plan::{ValveAt, survey};
use crate::site::bare::bare_job;
use crate::standard::{Finding, Need, Verdict, clause};
use crate::text::{escape, escape_whole};
use crate::work::Work;

/// Width and height of a lesson's drawing: narrow enough for a phone of 390 px to show it whole with its words over
/// 11 px high; what finds no room in it is written under it.
const AREA_MM: (f64, f64) = (110.0, 90.0);
/// Width of a tree of questions likewise.
const TREE_MM: f64 = 98.0;

/// Whether a lesson's raceway can answer to a clause: its drawing is silent on what wants a house round it, on
/// bores where the block writes none, and on the hose where it names none.
fn answerable(finding: &Finding, hose_named: bool, crossed: bool) -> bool {
    let needs = clause(&finding.clause).map_or(&[][..], |clause| clause.needs);
    let had = |need: &Need| need.of_a_bare_raceway() || (crossed && *need == Need::Crossings);
    needs.iter().all(|need| had(need) && (hose_named || !need.of_the_hose()))
}

/// Whether ways out of what a raceway breaks are sought.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Ways {
    Sought,
    Unasked,
}

/// Works a lesson's raceway up like a job of one inlet, whose id begins the ids of its drawing; `None` where
/// the catalog has no unit. Findings that want a house round the raceway are left out.
pub fn with_work<T>(
    school: &School,
    path: &LessonPath,
    (id, ways): (&str, Ways),
    then: impl FnOnce(&Work) -> T,
) -> Option<T> {
    let unit = school.catalog.units.first()?;
    let job = bare_job(path.clone(), unit, school.standard, id);
    let made = if ways == Ways::Sought { Work::up } else { Work::laid };
    let mut work = made(&job, school.standard, school.catalog, school.firm.say());
    let crossed = work.lines.lines.iter().any(|line| !line.crossings.is_empty());
    // A path of a lesson has no house round it: what waits for its data is nothing to teach, nor to draw.
    work.findings.inlets[0].retain(|finding| {
        let waits = matches!(finding.verdict, Verdict::NotChecked | Verdict::Hold);
        answerable(finding, path.hose_named, crossed) && !waits
    });
    Some(then(&work))
}

/// The raceway's elevation, its hose left out where the block names none.
fn picture<'a>(work: &'a Work, path: &LessonPath) -> Option<LinePicture<'a>> {
    let mut picture = line(work, 0, "elevation", AREA_MM)?;
    picture.title = path.title.clone().unwrap_or_else(|| "A raceway".into());
    // The title is no name of an inlet.
    picture.begins = "valve".into();
    if !path.hose_named {
        picture.hose = None;
    }
    Some(picture)
}

/// The drawing alone, with nothing that the standard finds.
pub fn bare(work: &Work, path: &LessonPath) -> String {
    let Some(mut picture) = picture(work, path) else { return String::new() };
    picture.balloons = Vec::new();
    picture.crossings.iter_mut().for_each(|crossing| crossing.verdict = "to be judged".into());
    framed(&picture.title, &elevation(&picture).to_svg(), "")
}

impl Hand<'_> {
    /// The block as a figure: drawing, caption, and what the standard in force finds; and what it leaves for the
    /// examples below it.
    pub fn draw(&self, path: &LessonPath) -> (String, Drawn) {
        let by = (&*self.id(), Ways::Sought);
        with_work(self.school, path, by, |work| (self.told(work, path), Drawn::of(work))).unwrap_or_else(
            || {
                let none = "<p>The catalog lists no unit, so that nothing can be reckoned.</p>";
                (none.into(), Drawn::default())
            },
        )
    }

    /// The same as it is shown to somebody who is to judge it: the drawing alone.
    pub fn draw_bare(&self, path: &LessonPath) -> (String, Drawn) {
        let by = (&*self.id(), Ways::Unasked);
        with_work(self.school, path, by, |work| (bare(work, path), Drawn::of(work))).unwrap_or_default()
    }

    /// Begins the ids of the latest drawing.
    pub fn id(&self) -> String {
        format!("r{}", self.drawn)
    }

    fn told(&self, work: &Work, path: &LessonPath) -> String {
        let Some(picture) = picture(work, path) else { return String::new() };
        let mut svg = String::new();
        if let Some(valve) = (path.shown == Shown::Valve).then(|| valve_box(work, 0)).flatten() {
            svg.push_str(&draw_valve(&valve).to_svg());
        }
        if matches!(path.shown, Shown::Drawing | Shown::Both) {
            svg.push_str(&elevation(&picture).to_svg());
        }
        let over_travel = match path.shown {
            Shown::Drawing | Shown::Valve => None,
            Shown::Travel | Shown::Both => travel(work, 0),
            Shown::Cases => cases(work, 0),
        };
        if let Some(mut over_travel) = over_travel {
            over_travel.title = format!("{}: suction needed and had", picture.title);
            over_travel.area_mm = AREA_MM;
            svg.push_str(&draw_travel(&over_travel).to_svg());
        }
        let by = (self.school.standard.revision.as_str(), &self.here);
        let rows = finding_rows(&work.findings.inlets[0], &work.offers[0], by, |_| true);
        figure(&picture.title, &svg, &rows)
    }

    /// Right and wrong of some work by hand, as a figure.
    pub fn sketch(&self, of: Practice) -> String {
        let (title, told) = practice_shown(of);
        let svg = draw_practice(of, Halves::Over, &format!("h{}", self.drawn)).to_svg();
        format!("<div class=\"drawn\">{}</div>\n", framed(title, &svg, &format!(". {}", escape(&told))))
    }

    /// A tree of questions, as a figure.
    pub fn forks(&self, tree: LessonTree) -> String {
        let fork = |fork: LessonFork| Fork { ask: fork.ask, ways: fork.ways, goes_on: fork.goes_on };
        let picture = TreePicture {
            prefix: format!("t{}", self.drawn),
            title: tree.title,
            forks: tree.forks.into_iter().map(fork).collect(),
            width_mm: TREE_MM,
        };
        let svg = draw_tree(&picture).to_svg();
        format!("<div class=\"drawn\">{}</div>\n", framed(&picture.title, &svg, ""))
    }

    /// Every floor of a plan as a figure.
    pub fn floors(&self, block: &LessonPlan) -> String {
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
            let svg = draw_reach(&picture).to_svg();
            format!("<div class=\"drawn\">{}</div>", framed(title, &svg, ""))
        };
        (0..block.floor.placed.floors_m.len()).map(floor).collect()
    }
}

/// A drawing in its box, which moves sideways on a phone, and its caption.
fn framed(title: &str, svg: &str, after_caption: &str) -> String {
    let title = escape(title);
    format!(
        "<figure><div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"{title}\">{svg}</div>\
         <figcaption>{title}{after_caption}</figcaption></figure>"
    )
}

fn figure(title: &str, svg: &str, rows: &[FindingRow]) -> String {
    let broken: Vec<_> = rows.iter().filter(|row| row.stamp.word != "pass").collect();
    let passes = ": passes every clause it can be checked against.";
    let mut html = String::from("<div class=\"drawn\">");
    html.push_str(&framed(title, svg, if broken.is_empty() { passes } else { "" }));
    if !broken.is_empty() {
        html.push_str("<ul class=\"found\">");
        for row in broken {
            let remedies: String = row
                .remedies
                .iter()
                .map(|remedy| format!(" <em>{}: {}</em>", escape(remedy.lead), escape_whole(&remedy.words)))
                .collect();
            html.push_str(&format!(
                "<li><strong>{} {}</strong> <a href=\"{}\">{} {}</a>: {}{remedies}</li>",
                escape(&row.balloon),
                escape(&row.stamp.word.to_uppercase()),
                escape(&row.href),
                escape(&row.number),
                escape(&row.title),
                escape_whole(&row.note)
            ));
        }
        html.push_str("</ul>");
    }
    html.push_str("</div>\n");
    html
}

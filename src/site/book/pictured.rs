//! Right and wrong of a clause, drawn by the engine and judged by the revision that is printed.
use crate::company::{Catalog, ClauseText, FittingKind, Job, Practice, Rule, Standard, read_job, read_path};
use crate::draw::{
    Halves, LinePicture, elevation, key_plan, plan, practice, practice_shown, travel as draw_travel,
    valve_box as draw_valve,
};
use crate::packet::pictures::{key, travel, valve_box};
use crate::packet::subjects::line;
use crate::site::bare::bare_job;
use crate::site::input::Set;
use crate::standard::{Pictured, Seen, Verdict, clause};
use crate::work::Work;
use std::borrow::Cow;

/// Width of a drawing, mm: of the printed book, and of a page that a phone of 390 px shows whole with its words over
/// 11 px high.
const BOOK_MM: f64 = 150.0;
const PHONE_MM: f64 = 110.0;
/// Height of a line of tube, of a valve in its wall and of a hose's travel, mm.
const LINE_MM: f64 = 52.0;
const VALVE_MM: f64 = 70.0;
const TRAVEL_MM: f64 = 88.0;

/// What shows a clause, drawn for both places where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    pub caption: String,
    /// Of the printed book; the halves of a sketch stand beside each other.
    pub book_svg: String,
    /// Of a page for a phone, narrower; the halves of a sketch stand over each other.
    pub phone_svg: String,
}

/// A raceway that keeps the clause, and one that breaks it. None where the clause shows on no line of tube,
/// where the firm lacks a part of it, or where by the firm's own limit the one does not keep it or the other
/// does not break it: nothing is shown as right that is not.
pub fn pictures(set: &Set, standard: &Standard, text: &ClauseText) -> Vec<Picture> {
    let id = text.id.as_str();
    if let Rule::ByEye(line) = &text.rule {
        return line.picture.iter().map(|of| sketch(*of, id)).collect();
    }
    let Some(Pictured { seen, right, wrong }) = clause(id).and_then(|clause| clause.pictured) else {
        return Vec::new();
    };
    let work = |text: &str, name: &'static str, lead: &str, wanted: fn(Verdict) -> bool| {
        Example { set, standard, id, name, seen }.drawn(text, lead, wanted)
    };
    let right = work(right, "right", "Right", |verdict| verdict == Verdict::Pass);
    // What is not shown as right needs no wrong beside it.
    let both = right.and_then(|right| Some([right, work(wrong, "wrong", "Wrong", Verdict::broken)?]));
    both.map(Vec::from).unwrap_or_default()
}

/// The sketch of a clause that a person ticks, right and wrong in one.
fn sketch(of: Practice, id: &str) -> Picture {
    let (title, told) = practice_shown(of);
    let svg = |halves| practice(of, halves, &format!("{id}-sketch")).to_svg();
    let caption = format!("{title}. {told}");
    Picture { caption, book_svg: svg(Halves::Beside), phone_svg: svg(Halves::Over) }
}

/// The right or the wrong of a clause.
struct Example<'a> {
    set: &'a Set<'a>,
    standard: &'a Standard,
    /// Of the clause.
    id: &'a str,
    /// `right` or `wrong`.
    name: &'a str,
    seen: Seen,
}

impl Example<'_> {
    /// It drawn, and told by the worst that the clause finds in it; `None` where the firm lacks a part of it, or that
    /// is not as wanted.
    fn drawn(&self, text: &str, lead: &str, wanted: fn(Verdict) -> bool) -> Option<Picture> {
        let catalog = self.catalog();
        let (job, hose_named) = self.job(&with_own_parts(text, &catalog)?, &catalog)?;
        let mut work = Work::laid(&job, self.standard, &catalog, self.set.firm.say());
        let findings = &mut work.findings;
        for found in findings.inlets.iter_mut().chain(&mut findings.trunks) {
            found.retain(|finding| finding.clause == self.id && finding.verdict != Verdict::NotChecked);
        }
        let all = findings.inlets.iter().chain(&findings.trunks).flatten();
        // Of equals the first: an inlet's says more than that of the trunk it joins.
        let worst = all.rev().max_by_key(|finding| finding.verdict).filter(|worst| wanted(worst.verdict))?;
        let title = format!("{}, {}", worst.title, self.name);
        let caption = format!("{lead}: {}.", worst.note.trim_end_matches('.'));
        let view = |wide_mm| self.view(&work, title.clone(), hose_named, wide_mm);
        Some(Picture { caption, book_svg: view(BOOK_MM)?, phone_svg: view(PHONE_MM)? })
    }

    /// The firm's parts, less the cap that the wrong of an open end lacks.
    fn catalog(&self) -> Cow<'_, Catalog> {
        let mut catalog = Cow::Borrowed(self.set.catalog);
        if self.seen == Seen::Uncapped && self.name == "wrong" {
            catalog.to_mut().fittings.retain(|fitting| fitting.kind != FittingKind::Cap);
        }
        catalog
    }

    /// The text as a job, and whether it names a hose.
    fn job(&self, text: &str, catalog: &Catalog) -> Option<(Job, bool)> {
        match self.seen {
            Seen::Raceway | Seen::Travel => {
                let path = read_path(self.id, text, 0, catalog).ok()?;
                let hose_named = path.hose_named;
                Some((bare_job(path, catalog.units.first()?, self.standard, "line"), hose_named))
            }
            Seen::Valve | Seen::Trunk | Seen::TrunkAbove | Seen::Uncapped | Seen::Above => {
                let text = format!("title: {}\ndate: {}\n{text}", self.name, self.standard.effective);
                let Set { firm, standards, .. } = self.set;
                Some((read_job(self.id, &text, catalog, firm, standards, &[]).ok()?, false))
            }
        }
    }

    fn view(&self, work: &Work, title: String, hose_named: bool, wide_mm: f64) -> Option<String> {
        let prefix = format!("{}-{}", self.id, self.name);
        let of_line = |index: usize, view: &str| {
            Some(LinePicture {
                prefix: prefix.clone(),
                title: title.clone(),
                ..line(work, index, view, (wide_mm, LINE_MM))?
            })
        };
        let trunk = work.job.inlets.len();
        let scene = match self.seen {
            Seen::Raceway => {
                let mut picture = of_line(0, "elevation")?;
                picture.begins = "valve".into();
                if !hose_named {
                    picture.hose = None;
                }
                elevation(&picture)
            }
            Seen::Travel => {
                let mut picture = travel(work, 0)?;
                (picture.prefix, picture.title, picture.area_mm) = (prefix, title, (wide_mm, TRAVEL_MM));
                draw_travel(&picture)
            }
            Seen::Valve => {
                let mut picture = valve_box(work, 0)?;
                (picture.prefix, picture.title, picture.area_mm) = (prefix, title, (wide_mm, VALVE_MM));
                draw_valve(&picture)
            }
            Seen::Trunk | Seen::Uncapped => elevation(&of_line(trunk, "elevation")?),
            Seen::TrunkAbove => plan(&of_line(trunk, "plan")?),
            Seen::Above => key_plan(&key(work, &prefix, &title, (wide_mm, LINE_MM))?),
        };
        Some(scene.to_svg())
    }
}

/// The text with the ids of the firm's own parts; `None` where it asks for one that there is not.
fn with_own_parts(text: &str, catalog: &Catalog) -> Option<String> {
    let junction = |wye: bool| {
        let is = |branch_deg: f64| (branch_deg <= 45.0) == wye;
        let of = catalog.fittings.iter().find(|f| f.junction().is_some_and(|branch| is(branch.branch_deg)));
        of.map(|fitting| fitting.id.as_str())
    };
    let longest = catalog.hoses.iter().max_by(|a, b| a.length_m.total_cmp(&b.length_m));
    let parts = [
        ("UNIT", catalog.units.first().map(|part| part.id.as_str())),
        ("VALVE", catalog.valves.first().map(|part| part.id.as_str())),
        ("HOSE", longest.map(|part| part.id.as_str())),
        ("WYE", junction(true)),
        ("TEE", junction(false)),
    ];
    parts
        .into_iter()
        .filter(|(word, _)| text.contains(word))
        .try_fold(text.to_owned(), |text, (word, id)| Some(text.replace(word, id?)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::company::load_company;
    use std::path::Path;

    /// A picture is left out where it does not show what it should; the demo's clauses all show it.
    #[test]
    fn every_clause_of_the_demo_that_has_a_right_and_a_wrong_shows_both() {
        let company = load_company(Path::new(env!("CARGO_MANIFEST_DIR")), &crate::standard::kinds());
        let (catalog, firm) = (company.catalog.unwrap(), company.firm.unwrap());
        let set = Set {
            firm: &firm,
            catalog: &catalog,
            standards: &company.standards,
            jobs: &[],
            unread: &[],
            lessons: &[],
            words: &[],
            bar: "",
        };
        let standard = set.in_force().unwrap();
        let pictured = |text: &&ClauseText| clause(&text.id).is_some_and(|clause| clause.pictured.is_some());
        let (mut shown, mut without) = (0, Vec::new());
        for text in standard.clauses().filter(pictured) {
            let leads: Vec<String> =
                pictures(&set, standard, text).into_iter().map(|picture| picture.caption).collect();
            if leads.len() != 2 {
                without.push(&text.id);
                continue;
            }
            assert!(leads[0].starts_with("Right: ") && leads[1].starts_with("Wrong: "), "{leads:?}");
            shown += 1;
        }
        assert!(without.is_empty(), "nothing is shown of {without:?}");
        assert!(shown > 20, "only {shown} clauses have pictures");
    }
}

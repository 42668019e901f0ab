//! Whole houses drawn by lot, one to five inlets on one to three trunks: every line in every view, trunks as
//! well as inlets, read back as single routes are.
// The drawing tests without `common` bring the dice by themselves, so that they stand here twice.
#![allow(clippy::duplicate_mod)]
mod common;
mod drawings_support;
use common::generate::Dice;
use common::houses::crowded;
use drawings_support::read::words_wrong;
use longsweep::company::load;
use longsweep::draw::{Scene, Shown, VIEWS, View};
use longsweep::packet::pictures::key;
use longsweep::packet::subjects::line;
use longsweep::route::Line;
use longsweep::standard::kinds;
use longsweep::work::Work;
use rayon::prelude::*;

/// Houses drawn by lot.
const HOUSES: u64 = 60;
/// Widths to draw in, taken in turn, mm.
const AREAS: [(f64, f64); 3] = [(186.0, 95.0), (91.0, 88.0), (186.0, 60.0)];

#[test]
fn random_houses_are_legible() {
    let company = common::demo_without_jobs();
    for n in 0..HOUSES {
        std::fs::write(company.path().join(format!("jobs/house-{n}.yaml")), crowded(&mut Dice::new(n)))
            .unwrap();
    }
    let loaded = load(company.path(), &kinds());
    let (catalog, firm) = (loaded.catalog.as_ref().unwrap(), loaded.firm.as_ref().unwrap());
    let unread: Vec<_> = loaded.jobs.iter().filter_map(|job| job.as_ref().err()).collect();
    assert!(unread.is_empty(), "{} houses cannot be read, the first: {:?}", unread.len(), unread[0]);
    let of_job = |(n, job): (usize, &longsweep::company::Job)| {
        let standard = loaded.standards.iter().find(|standard| standard.revision == job.standard).unwrap();
        let work = Work::up(job, standard, catalog, firm.say());
        let area_mm = AREAS[n % AREAS.len()];
        VIEWS.iter().flat_map(|view| faults(&work, view, area_mm)).collect::<Vec<String>>()
    };
    let jobs: Vec<_> = loaded.jobs.iter().flatten().enumerate().collect();
    assert_eq!(jobs.len() as u64, HOUSES);
    let wrong: Vec<String> = jobs.into_par_iter().flat_map_iter(of_job).collect();
    let few: Vec<&String> = wrong.iter().take(12).collect();
    assert!(wrong.is_empty(), "{} faults, the first: {few:#?}", wrong.len());
}

/// Everything wrong with one view of a job.
fn faults(work: &Work, view: &View, area_mm: (f64, f64)) -> Vec<String> {
    let told = |of: &str, wrong: Vec<String>| {
        let key = &work.job.key;
        wrong.into_iter().map(|why| format!("{key} {of} {}: {why}", view.name)).collect::<Vec<_>>()
    };
    match view.shown {
        Shown::Job(draw) => {
            let picture = key(work, view.name, view.title, area_mm).expect("every inlet has its place");
            told("job", words_wrong(&draw(&picture), area_mm.0))
        }
        // Random floors are drawn by the checks of all views; these houses have no plan.
        Shown::Floor(_) => Vec::new(),
        Shown::Line(draw) => {
            let lines = work.lines.lines.iter().enumerate();
            let of_line = |(i, laid): (usize, &Line)| {
                let scene = draw(&line(work, i, view.name, area_mm).expect("the line is laid"));
                let mut wrong = words_wrong(&scene, area_mm.0);
                wrong.extend(unflagged(&scene, laid));
                told(&laid.letters, wrong)
            };
            lines.flat_map(of_line).collect()
        }
    }
}

/// Bends, branches and stops that do not stand on the drawing once each, by their marks.
fn unflagged(scene: &Scene, line: &Line) -> Vec<String> {
    let count = |kind: &str, mark: Option<&str>| {
        scene.of_kind(kind).filter(|found| mark.is_none_or(|mark| found.datum("mark") == Some(mark))).count()
    };
    let mut wrong = Vec::new();
    for bend in &line.bends {
        let mark = line.bend_mark(bend.n);
        let flags = count("bend-flag", Some(&mark));
        if flags != 1 {
            wrong.push(format!("{mark} is flagged {flags} times"));
        }
    }
    let (drawn, flagged, wanted) =
        (count("branch", None), count("branch-flag", None), line.junctions().count());
    if drawn != wanted || flagged != wanted {
        wrong.push(format!("{wanted} branches, {drawn} drawn and {flagged} flagged"));
    }
    let stops = count("stop", None);
    if stops != usize::from(line.raceway.is_some()) {
        wrong.push(format!("{stops} stops"));
    }
    for crossed in &line.crossings {
        let members = count("crossing", Some(&crossed.mark));
        if members != 1 {
            wrong.push(format!("{} is drawn {members} times", crossed.mark));
        }
    }
    wrong
}

/// Writes pictures to look at under tests/.work/look-houses.
#[test]
#[ignore = "for eyes, not for checks"]
fn look_houses() {
    let company = common::demo_without_jobs();
    for n in 0..8 {
        std::fs::write(company.path().join(format!("jobs/house-{n}.yaml")), crowded(&mut Dice::new(n)))
            .unwrap();
    }
    let loaded = load(company.path(), &kinds());
    let (catalog, firm) = (loaded.catalog.as_ref().unwrap(), loaded.firm.as_ref().unwrap());
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/.work/look-houses");
    std::fs::create_dir_all(&folder).expect("a folder to write in");
    for job in loaded.jobs.iter().flatten() {
        let standard = loaded.standards.iter().find(|standard| standard.revision == job.standard).unwrap();
        let work = Work::up(job, standard, catalog, firm.say());
        for view in VIEWS {
            let put = |of: &str, scene: Scene| {
                std::fs::write(folder.join(format!("{}-{of}-{}.svg", job.key, view.name)), scene.to_svg())
                    .unwrap();
            };
            match view.shown {
                Shown::Job(draw) => {
                    put("job", draw(&key(&work, view.name, view.title, (186.0, 95.0)).unwrap()))
                }
                Shown::Floor(_) => {}
                Shown::Line(draw) => work.lines.lines.iter().enumerate().for_each(|(i, laid)| {
                    put(&laid.letters, draw(&line(&work, i, view.name, (186.0, 95.0)).unwrap()));
                }),
            }
        }
    }
}

//! Proposed routes: all that are shown pass the standard when the whole job is worked up again, over the demo
//! and over random floors; and one that is written into a job's file leaves the rest of it as it was.
mod common;
#[path = "common/floors.rs"]
mod floors;

use common::generate::{self, Dice};
use glam::DVec3;
use longsweep::company::{Catalog, FittingKind, FloorPlan, Job, Loaded, Standard, load};
use longsweep::measure::Say;
use longsweep::plan::{Box2, Hang, Joists, NoGo, P2, RacewayLevel, place};
use longsweep::propose::Proposer;
use longsweep::propose::write::{Pen, write_line, write_trunks};
use longsweep::standard::kinds;
use longsweep::work::Work;
use std::sync::Arc;

/// A hundred in release, as the checks run; a few where the search runs without optimisation.
const FLOORS: usize = if cfg!(debug_assertions) { 4 } else { 100 };

fn demo() -> Loaded {
    load(common::repository(), &kinds())
}

fn job<'a>(company: &'a Loaded, key: &str) -> &'a Job {
    let found = company.jobs.iter().filter_map(|job| job.as_ref().ok()).find(|job| job.key == key);
    found.unwrap_or_else(|| panic!("the demo has no job {key}"))
}

fn standard<'a>(company: &'a Loaded, job: &Job) -> &'a Standard {
    company.standards.iter().find(|s| s.revision == job.standard).expect("its standard")
}

/// Works the job up with every route proposed for its first inlet; how many there were.
fn all_pass(job: &Job, standard: &Standard, catalog: &Catalog, say: Say) -> usize {
    let proposer = Proposer { job, standard, catalog, say };
    let Ok(found) = proposer.inlet(0, &mut |_, _| {}) else { return 0 };
    for offer in &found.offers {
        let mut changed = job.clone();
        changed.lines[0] = offer.spec.clone();
        let work = Work::up(&changed, standard, catalog, say);
        let verdict = work.findings.inlet_verdict(0);
        assert!(!verdict.stops(), "{}: {verdict:?} {:#?}", job.title, work.findings.inlets[0]);
        let wanted = found.bounds.iter().find(|(_, reach_m)| *reach_m + 1e-6 >= found.need_m);
        let (least, _) = wanted.expect("a bound lets it pass");
        assert!(offer.degrees >= *least, "{} degrees under the bound of {least}", offer.degrees);
    }
    let fewer = found.offers.windows(2).all(|pair| pair[0].verdict <= pair[1].verdict);
    assert!(fewer, "the best verdict comes first");
    found.offers.len()
}

#[test]
fn no_route_is_tried_with_a_fitting_that_nobody_measured() {
    let company = demo();
    let job = job(&company, "whimbrel-house");
    let say = company.firm.as_ref().expect("a firm").say();
    let refused = |change: &dyn Fn(&mut FittingKind)| {
        let mut catalog = company.catalog.clone().expect("a catalog");
        catalog.fittings.iter_mut().for_each(|fitting| change(&mut fitting.kind));
        let proposer = Proposer { job, standard: standard(&company, job), catalog: &catalog, say };
        proposer.together(&mut |_| {}).map(|_| ()).expect_err("something is missing")
    };
    let gapless = refused(&|kind| {
        if let FittingKind::Stop(stop) = kind {
            stop.inside_gap_m = None;
        }
    });
    assert_eq!(gapless, "the catalog does not give a stop's `inside-gap:`");
    let unmeasured = refused(&|kind| {
        if let FittingKind::Junction(wye) = kind {
            wye.run_laying_length_m = None;
        }
    });
    assert!(unmeasured.starts_with("the catalog does not give both laying lengths of "), "{unmeasured}");
    assert!(unmeasured.ends_with(", so that nothing can join a trunk"), "{unmeasured}");
}

#[test]
fn every_proposal_of_the_demo_passes() {
    let company = demo();
    let job = job(&company, "whimbrel-house");
    let catalog = company.catalog.as_ref().expect("a catalog");
    let say = company.firm.as_ref().expect("a firm").say();
    assert!(all_pass(job, standard(&company, job), catalog, say) >= 3);
}

#[test]
fn every_proposal_of_random_floors_passes() {
    let company = demo();
    let demo = job(&company, "whimbrel-house");
    let catalog = company.catalog.as_ref().expect("a catalog");
    let say = company.firm.as_ref().expect("a firm").say();
    let mut dice = Dice::new(1_204);
    let (mut offered, mut with_some) = (0, 0);
    for number in 0..FLOORS {
        let mut plan = floors::floor(&mut dice, 5);
        plan.walls_m = 6.5 * 0.0254;
        let placed = place(&plan).expect("it hangs together");
        let corners: Vec<Vec<P2>> = placed.rooms.iter().map(|room| room.corners.clone()).collect();
        let unit = floors::spot(&mut dice, &plan, &corners).1;
        let (from, to) = placed.rooms[0].wall(1);
        let valve = from.lerp(to, 0.5) + P2::new(0.05, 0.0);
        let duct = floors::spot(&mut dice, &plan, &corners).1;
        let joists = Joists {
            run_north: number % 2 == 0,
            spacing_m: 24.0 * 0.0254,
            first_m: 0.0,
            size: "2x10".into(),
            thick_m: 1.5 * 0.0254,
            deep_m: 9.25 * 0.0254,
            bore: true,
        };
        plan.level = Some(RacewayLevel {
            up_m: -16.0 * 0.0254,
            hang: if number % 3 == 0 { Hang::Between(joists) } else { Hang::Below },
            no_go: vec![NoGo { what: "duct".into(), place: Box2 { from: duct, size: P2::new(0.4, 0.4) } }],
        });
        let mut job = demo.clone();
        job.title = format!("floor {number}");
        job.plan = Some(Arc::new(FloorPlan { plan, placed, file: "random".into() }));
        job.unit.at = Some(DVec3::new(unit.x, unit.y, -1.5));
        job.lines[0].start = Some(valve.extend(18.0 * 0.0254));
        let count = all_pass(&job, standard(&company, &job), catalog, say);
        offered += count;
        with_some += usize::from(count > 0);
    }
    assert!(with_some * 3 > FLOORS, "{offered} routes on {with_some} of {FLOORS} floors");
    println!("{offered} routes on {with_some} of {FLOORS} floors, all pass");
}

#[test]
fn a_written_route_leaves_the_rest_alone() {
    let folder = common::demo();
    let path = folder.path().join("jobs/whimbrel-house.yaml");
    let before = std::fs::read_to_string(&path).expect("the demo's job");
    let company = load(folder.path(), &kinds());
    let job = job(&company, "whimbrel-house");
    let (catalog, say) =
        (company.catalog.as_ref().expect("a catalog"), company.firm.as_ref().expect("a firm").say());
    let proposer = Proposer { job, standard: standard(&company, job), catalog, say };
    let found = proposer.inlet(0, &mut |_, _| {}).expect("a search");
    let best = found.offers.last().expect("a route");
    let pen = Pen { say: &say, trunks: Vec::new() };
    let write =
        |text: &str| write_line(text, job.inlets[0].place.line, &best.spec, best.moved.length() > 0.0, &pen);
    let after = write(&before).expect("it is written");
    // What stands before the route, and every comment, is there still.
    let head = before.split("    raceway:").next().expect("a head");
    assert!(after.starts_with(head) || best.moved.length() > 0.0);
    for comment in before.lines().filter(|line| line.trim_start().starts_with('#')) {
        assert!(after.contains(comment), "{comment} is gone");
    }
    std::fs::write(&path, &after).expect("a file");
    let again = load(folder.path(), &kinds());
    let job = self::job(&again, "whimbrel-house");
    let work = Work::up(job, standard(&again, job), catalog, say);
    assert!(!work.findings.inlet_verdict(0).stops(), "{:#?}", work.findings.inlets[0]);
    let (ours, theirs) = (&work.lines.lines[0], &best.line);
    assert_eq!(ours.bends.len(), theirs.bends.len());
    // Each run is written to a sixteenth of an inch.
    assert!(ours.end.distance(theirs.end) < 0.02, "{} {}", ours.end, theirs.end);
    // Writing the same route once more changes nothing.
    assert_eq!(write(&after).as_deref(), Ok(after.as_str()));
}

/// Whimbrel House with three valves, as a crew lead would file it.
fn three_valves() -> String {
    let file = common::repository().join("jobs/whimbrel-house.yaml");
    let text = std::fs::read_to_string(file).expect("the demo's job");
    let mut text = text.trim_end().replace("title: Whimbrel House", "title: Three valves");
    for (id, name, at) in [
        ("kitchen", "Kitchen", "{east: 22 ft 10 in, north: 20 ft, up: 1 ft 6 in}"),
        ("bedroom", "Bedroom", "{east: -6 ft, north: 28 ft 9 in, up: 1 ft 6 in}"),
    ] {
        text.push_str(&format!(
            "\n\n  # {name}: not yet routed.\n  - id: {id}\n    name: {name}\n    valve: door-sealed\n    hose: socked-30\n    at: {at}\n    raceway:\n      leaves: down\n      path:\n        # as far as the first joist\n        - run: 2 ft 10 in\n        - turn: 90 north\n        - run: 9 ft\n    onward:\n      path:\n        - run: 3 ft\n      into: unit\n"
        ));
    }
    text
}

#[test]
fn all_inlets_on_a_trunk_pass_as_written() {
    let folder = common::demo();
    let path = folder.path().join("jobs/three-valves.yaml");
    let before = three_valves();
    std::fs::write(&path, &before).expect("a file");
    let company = load(folder.path(), &kinds());
    let job = self::job(&company, "three-valves");
    let (catalog, say) =
        (company.catalog.as_ref().expect("a catalog"), company.firm.as_ref().expect("a firm").say());
    let proposer = Proposer { job, standard: standard(&company, job), catalog, say };
    let found = proposer.together(&mut |_| {}).expect("a search");
    assert!(!found.offers.is_empty(), "{:?}", found.against);
    for offer in &found.offers {
        let changed = Job { lines: offer.specs.clone(), ..job.clone() };
        let work = Work::up(&changed, standard(&company, job), catalog, say);
        let lines = work.findings.inlets.iter().chain(&work.findings.trunks).flatten();
        let stops: Vec<_> = lines.filter(|finding| finding.verdict.stops()).collect();
        assert!(stops.is_empty(), "{stops:#?}");
        // Every line ends where it should, and all of them come to the unit by one end.
        let ends =
            offer.specs.iter().filter(|spec| matches!(spec.into, Some(longsweep::company::Into::Unit)));
        assert_eq!(ends.count(), 1);
        for line in &work.lines.lines {
            assert!(
                line.closure.as_ref().expect("both ends have a place").miss.length() < 1e-3,
                "{}",
                line.name
            );
        }
        let past =
            |line: &longsweep::route::Line| line.raceway.as_ref().map_or(0.0, |raceway| raceway.stop_m);
        let tube_m: f64 = work.lines.lines.iter().map(|line| line.centre_m - past(line)).sum();
        assert!((tube_m - offer.tube_m).abs() < 1e-9);
    }
    let best = &found.offers[0];
    let trunks: Vec<_> = best.specs.iter().skip(3).collect();
    let pen = Pen { say: &say, trunks: trunks.iter().map(|trunk| trunk.id.as_str()).collect() };
    let mut after = before.clone();
    for i in [2, 1, 0] {
        let moved = best.moved[i].length() > 0.0;
        after = write_line(&after, job.inlets[i].place.line, &best.specs[i], moved, &pen).expect("an inlet");
    }
    after = write_trunks(&after, &trunks, &pen).expect("trunks");
    for comment in before.lines().filter(|line| line.trim_start().starts_with('#')) {
        assert!(after.contains(comment.trim()), "{comment} is gone");
    }
    std::fs::write(&path, &after).expect("a file");
    let again = load(folder.path(), &kinds());
    let job = self::job(&again, "three-valves");
    assert_eq!(job.trunks().len(), trunks.len());
    let work = Work::up(job, standard(&again, job), catalog, say);
    let all = work.findings.inlets.iter().chain(&work.findings.trunks).flatten();
    let stops: Vec<_> = all.filter(|finding| finding.verdict.stops()).collect();
    assert!(stops.is_empty(), "{stops:#?}\n{after}");
    for (ours, theirs) in work.lines.lines.iter().zip(&best.lines.lines) {
        assert_eq!((ours.bends.len(), &ours.name), (theirs.bends.len(), &theirs.name));
        assert!(ours.end.distance(theirs.end) < 0.02, "{}: {} {}", ours.name, ours.end, theirs.end);
    }
    // The trunks of the file are those that were written; written once more nothing changes.
    assert_eq!(write_trunks(&after, &trunks, &pen).as_deref(), Ok(after.as_str()));
    // An inlet that joins a trunk is proposed for by itself, into that trunk.
    let proposer = Proposer { job, standard: standard(&again, job), catalog, say };
    let joined = (0..3).find(|i| matches!(job.lines[*i].into, Some(longsweep::company::Into::Trunk { .. })));
    let inlet = joined.expect("one joins by a wye");
    let one = proposer.inlet(inlet, &mut |_, _| {}).expect("a search");
    assert!(!one.offers.is_empty(), "{:?}", one.against);
    for offer in &one.offers {
        assert!(
            matches!(offer.spec.into, Some(longsweep::company::Into::Trunk { .. })),
            "{:?}",
            offer.spec.into
        );
        let mut changed = job.clone();
        changed.lines[inlet] = offer.spec.clone();
        let work = Work::up(&changed, standard(&again, job), catalog, say);
        assert!(!work.findings.inlet_verdict(inlet).stops(), "{:#?}", work.findings.inlets[inlet]);
    }
}

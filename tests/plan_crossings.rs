//! Crossings filled into a job from its plan: what the plan knows is written as a person would type it, what it
//! does not know is left out, and nothing else in the file changes.
mod common;

use longsweep::company::{Job, Loaded, load};
use longsweep::measure::Say;
use longsweep::propose::crossings::{Lacking, lacking, write_crossings};
use longsweep::route::lay_job;
use longsweep::standard::{Verdict, kinds};
use longsweep::work::Work;
use std::path::Path;

/// Whimbrel House over joists every 4 ft, its paths written in four ways.
fn job_text() -> String {
    let file = common::repository().join("jobs/whimbrel-house.yaml");
    let text = std::fs::read_to_string(file).expect("the demo's job");
    let head = text.split("    hang-below: yes").next().expect("a head");
    let joists = "    joists: {run: north, spacing: 4 ft, first: 1 ft, size: 2x10, bore: yes}\n";
    head.to_owned()
        + joists
        + "wand: 4 ft 6 in\n
unit: {model: basement-600, at: {east: -10 ft, north: 2 ft, up: -5 ft}, own-circuit: yes}

inlets:
  - id: hall            # at the foot of the stair
    valve: door-sealed
    hose: socked-40
    at: {east: 6 ft 2 in, north: 10 ft, up: 1 ft 6 in}
    raceway:
      leaves: down
      path:
        - run: 2 ft 10 in
          crosses:
            - {at: 1 ft 5-1/4 in, member: bottom-plate, size: 2x6, bearing: true, hole: 2-1/8 in, floor-line: true}
        - turn: 90 east
        # along the girder
        - run: 12 ft     # taped twice
        - turn: 90 south
        - run: 2 ft
        - turn: 90 west
        - run: 26 ft
          crosses:
            - {at: 1 ft 2 in, member: joist, size: 2x10, hole: 2-1/8 in}
            - at: 17 ft 2 in     # the doubled one
              member: joist
              size: 2x10
              hole: 2-1/8 in
    onward:
      path: [{run: 2 ft}, {turn: 90 south, with: short-90}, {run: 3 ft}, {turn: 90 east, with: short-90}, {run: 9 ft}]
      into: unit
"
}

struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    fn new(text: &str) -> Bench {
        let folder = common::demo();
        let bench = Bench { folder };
        std::fs::write(bench.file(), text).expect("a file");
        bench
    }

    fn file(&self) -> std::path::PathBuf {
        self.folder.path().join("jobs/whimbrel-house.yaml")
    }
}

fn read(folder: &Path) -> Loaded {
    load(folder, &kinds())
}

fn job(company: &Loaded) -> &Job {
    let mut jobs = company.jobs.iter().filter_map(|job| job.as_ref().ok());
    jobs.find(|job| job.key == "whimbrel-house").expect("it is read")
}

fn lacks(company: &Loaded) -> (Vec<Lacking>, Say) {
    let (catalog, say) =
        (company.catalog.as_ref().expect("a catalog"), company.firm.as_ref().expect("a firm").say());
    (lacking(job(company), &lay_job(job(company), catalog, &say)), say)
}

#[test]
fn joists_of_the_plan_are_listed_as_a_person_would() {
    let before = job_text();
    let bench = Bench::new(&before);
    let company = read(bench.folder.path());
    let (found, say) = lacks(&company);
    // East from 6 ft 2 in to 18 ft 2 in over joists at 9, 13 and 17 ft, and so on for the others.
    let at: Vec<Vec<String>> =
        found.iter().map(|one| one.crossings.iter().map(|c| say.length(c.at_m)).collect()).collect();
    let hall = ["2 ft 10 in", "6 ft 10 in", "10 ft 10 in"];
    let west = ["5 ft 2 in", "9 ft 2 in", "13 ft 2 in", "21 ft 2 in", "25 ft 2 in"];
    assert_eq!(at[..2], [hall.map(str::to_owned).to_vec(), west.map(str::to_owned).to_vec()]);
    let (after, left) = write_crossings(&before, &found, &say);
    assert_eq!(left, Vec::<String>::new());
    // Every line that stood is there still, in its order, the flow path alone being written into.
    let mut rest = after.lines();
    for line in before.lines().filter(|line| !line.contains("path: [")) {
        assert!(rest.any(|other| other == line), "{line} is gone");
    }
    let typed = "        - run: 12 ft     # taped twice
          crosses:
            - {at: 2 ft 10 in, member: joist, size: 2x10}
            - {at: 6 ft 10 in, member: joist, size: 2x10}
            - {at: 10 ft 10 in, member: joist, size: 2x10}
";
    assert!(after.contains(typed), "{after}");
    let among = "            - {at: 13 ft 2 in, member: joist, size: 2x10}
            - at: 17 ft 2 in     # the doubled one
              member: joist
              size: 2x10
              hole: 2-1/8 in
            - {at: 21 ft 2 in, member: joist, size: 2x10}
            - {at: 25 ft 2 in, member: joist, size: 2x10}
";
    assert!(after.contains(among), "{after}");
    assert!(after.contains("{run: 9 ft, crosses: [{at: "), "{after}");
    // Read again, the plan has nothing more to say; the holes that nobody gave put the bores on hold.
    std::fs::write(bench.file(), &after).expect("a file");
    let again = read(bench.folder.path());
    assert_eq!(lacks(&again).0, Vec::new());
    let job = job(&again);
    let standard = again.standards.iter().find(|s| s.revision == job.standard).expect("its standard");
    let work = Work::up(job, standard, again.catalog.as_ref().expect("a catalog"), say);
    let of = |clause: &str| work.findings.inlets[0].iter().filter(|f| f.clause == clause).collect::<Vec<_>>();
    assert!(of("plan-route").iter().all(|f| f.verdict == Verdict::Pass), "{:#?}", of("plan-route"));
    let held = of("bores").iter().filter(|f| f.verdict == Verdict::Hold).count();
    assert!(held >= 8, "{:#?}", of("bores"));
    assert!(after.matches("bearing").count() == before.matches("bearing").count());
}

#[test]
fn what_a_person_said_is_left_alone() {
    let none =
        job_text().replace("- run: 12 ft     # taped twice\n", "- run: 12 ft\n          crosses: none\n");
    let bench = Bench::new(&none);
    let (found, say) = lacks(&read(bench.folder.path()));
    let (after, left) = write_crossings(&none, &found, &say);
    assert!(after.contains("crosses: none"), "{after}");
    assert!(left.len() == 1 && left[0].contains("says `crosses: none`"), "{left:?}");
    assert!(left[0].starts_with("jobs/whimbrel-house.yaml:"), "{left:?}");
}

#[test]
fn joists_that_may_not_be_bored_are_not_listed() {
    let shut = job_text().replace("bore: yes", "bore: no");
    let bench = Bench::new(&shut);
    assert_eq!(lacks(&read(bench.folder.path())).0, Vec::new());
}

//! The demo's files are read without a fault, and mean what they say.
mod reading;

use longsweep::company::{Computed, Duty, Into, Per, Phase, Rule, Step, load, read_job, read_path};
use longsweep::measure::{FOOT_M, INCH_M};

/// The example that the format's description gives, word for word but for the elisions.
const EXAMPLE: &str = r#"title: Gull Cottage
address: 7 Heron Lane, Port Ellery
date: 2026-11-30
built: 1962                       # optional; the year brings its cautions
standard: "2026-1"                # optional; else the one in force
levels:                           # optional datum lines for the drawings
  - {name: First floor, up: 0 ft}
  - {name: Basement ceiling, up: -1 ft}

unit: {model: basement-600, at: {east: 2 ft, north: 3 ft, up: -5 ft}}

trunks:
  - id: main
    starts: {east: 40 ft, north: 3 ft, up: -1 ft 4 in}
    leaves: west
    path: [ {run: 38 ft}, {turn: 90 down, with: short-90}, {run: 3 ft 8 in} ]
    into: unit

inlets:
  - id: hall
    name: Hall
    valve: door-sealed
    hose: socked-40
    at: {east: 22 ft, north: 14 ft, up: 1 ft 6 in}
    raceway:
      leaves: down
      path:
        - run: 2 ft 10 in
          crosses:
            - {at: 1 ft 5 in, member: bottom-plate, size: 2x4, bearing: true, hole: 2-1/8 in}
        - turn: 90 west
        - run: 16 ft
        - turn: 90 south
        - run: 11 ft
        - turn: 45 west
        - run: 14 ft
    onward:
      path: [ {run: 3 ft}, {turn: 45 south, with: short-45} ]
      into: {trunk: main, at: 20 ft, with: wye-45}
    waivers:
      - {clause: one-level, because: "Finished soffit; builder's drawing A-4", by: crew lead}
    readings: {}
"#;

#[test]
fn the_example_of_the_format_is_read() {
    let standards = reading::standards();
    let job =
        read_job("jobs/2026/gull.yaml", EXAMPLE, &reading::catalog(), &reading::firm(), &standards, &[])
            .unwrap_or_else(|faults| panic!("{}", faults[0].render_plain()));
    assert_eq!((job.key.as_str(), job.built, job.standard.as_str()), ("2026/gull", Some(1962), "2026-1"));
    assert_eq!(job.date.to_string(), "2026-11-30");
    assert!((job.levels[1].up_m + FOOT_M).abs() < 1e-12);
    let (inlet, line) = (&job.inlets[0], &job.lines[0]);
    assert_eq!(line.at_stop().0.len(), 7);
    let Step::Run(run) = &line.steps[0] else { panic!() };
    assert!((run.length_m - (2.0 * FOOT_M + 10.0 * INCH_M)).abs() < 1e-12);
    assert_eq!(run.place.line, 28);
    assert!((run.crossings[0].depth_m.unwrap() - 3.5 * INCH_M).abs() < 1e-12);
    assert!((run.crossings[0].thickness_m.unwrap() - 1.5 * INCH_M).abs() < 1e-12);
    let into = line.into.as_ref().unwrap();
    assert!(matches!(into, Into::Trunk { trunk: 0, with, .. } if with.id == "wye-45"));
    assert_eq!(job.lines.iter().map(|line| line.letters.as_str()).collect::<Vec<_>>(), ["H", "M"]);
    assert_eq!(inlet.waivers[0].by, "crew lead");
}

#[test]
fn lines_ends_and_marks_of_other_systems_do_not_matter() {
    let text = format!("\u{feff}{}", EXAMPLE.replace('\n', "\r\n"));
    let standards = reading::standards();
    let job =
        read_job("jobs/gull.yaml", &text, &reading::catalog(), &reading::firm(), &standards, &[]).unwrap();
    assert_eq!(job.lines[0].at_stop().0.len(), 7);
}

#[test]
fn the_demo_folder_is_read_without_a_fault() {
    let loaded = load(&reading::root(), &reading::kinds());
    let faults: Vec<String> = loaded.diagnostics.iter().map(|d| d.render_plain()).collect();
    assert_eq!(faults, Vec::<String>::new());
    let firm = loaded.firm.unwrap();
    assert_eq!((firm.name.as_str(), firm.theme.as_str()), ("Saltmarsh Piping Co.", "drafting"));
    let revisions: Vec<&str> = loaded.standards.iter().map(|s| s.revision.as_str()).collect();
    assert_eq!(revisions, ["2025-2", "2026-1"]);
    let catalog = loaded.catalog.unwrap();
    assert_eq!((catalog.fittings.len(), catalog.hoses.len(), catalog.valves.len()), (10, 5, 6));
    assert!(catalog.units.iter().all(|unit| unit.curve.len() >= 6));
    assert!(catalog.wire.is_some());
}

#[test]
fn the_standard_in_force_has_every_computed_clause_and_all_phases() {
    let standards = reading::standards();
    let new = standards.last().unwrap();
    for kind in reading::kinds() {
        let clause = new.clause(kind.id).unwrap_or_else(|| panic!("{} is missing", kind.id));
        let Rule::Computed(Computed { value, .. }) = clause.rule else { panic!("{} is by eye", kind.id) };
        assert_eq!(value.is_some(), kind.parameter.is_some(), "{}", kind.id);
        assert!(!clause.source.is_empty(), "{}", kind.id);
    }
    let ticks: Vec<_> = new
        .clauses()
        .filter_map(|clause| match &clause.rule {
            Rule::ByEye(eye) => Some((clause.id.as_str(), eye)),
            Rule::Computed(_) => None,
        })
        .collect();
    let joints: Vec<&str> =
        ticks.iter().filter(|(_, eye)| eye.per == Per::Joint).map(|(id, _)| *id).collect();
    assert_eq!(joints, ["square", "deburr", "dry-fit", "full-depth"]);
    for phase in [Phase::Load, Phase::RoughIn, Phase::Trim, Phase::Prove, Phase::HandOver] {
        assert!(ticks.iter().any(|(_, eye)| eye.when == phase), "{phase:?}");
    }
    let gasket = ticks.iter().find(|(id, _)| *id == "gasket").unwrap().1;
    assert_eq!((gasket.seal, gasket.grips), (Some(Duty::Door), None));
    assert_eq!(new.clause("hose-room").unwrap().number, "1.1");
}

#[test]
fn a_lesson_path_tells_the_line_of_its_file() {
    let text =
        "leaves: east\npath:\n  - run: 6 ft\n  - turn: {by: 45, toward: {north: 3, up: 4}}\n  - run: 2 ft\n";
    let catalog = reading::catalog();
    let path = read_path("content/lessons/a.md", text, 10, &catalog).unwrap();
    assert!(!path.hose_named);
    let Step::Turn(turn) = &path.line.steps[1] else { panic!() };
    assert_eq!((turn.toward.words.as_str(), turn.place.line), ("3 north, 4 up", 14));
    assert!((turn.toward.vector.z - 0.8).abs() < 1e-15);
    let faults = read_path("a.md", &text.replace("2 ft", "2"), 10, &catalog).unwrap_err();
    assert_eq!((faults[0].line, faults[0].column), (15, 10));
}

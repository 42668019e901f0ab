//! A job worked up for tests of sheets: two inlets on one trunk, one well and one amiss, in words that
//! carry markup; and two revisions of a standard that differ.
use super::tape::Tapes;
use super::worked::{JobPictures, Pictures, Worked, Working};
use crate::company::{Catalog, Firm, Job, Standard, read_catalog, read_firm, read_job, read_standards};
use crate::standard::kinds;
use crate::work::Work;

/// What a job is worked up from.
pub struct Fixture {
    pub firm: Firm,
    pub catalog: Catalog,
    pub standards: Vec<Standard>,
    pub job: Job,
    pub workings: Vec<Vec<Working>>,
    tapes: Tapes,
}

impl Fixture {
    /// The job worked up.
    pub fn work(&self) -> Work<'_> {
        Work::up(&self.job, &self.standards[1], &self.catalog, self.firm.say())
    }

    /// The job as the sheets take it.
    pub fn worked<'a>(&'a self, work: &'a Work<'a>) -> Worked<'a> {
        Worked { firm: &self.firm, work, workings: &self.workings, tapes: &self.tapes }
    }
}

/// The job.
pub fn gull_cottage() -> Fixture {
    let kinds = kinds();
    let firm = read_firm("company.yaml", FIRM, &["2025-1", "2026-1"]).0.expect("a firm");
    let (catalog, faults) = read_catalog(&CATALOG);
    assert!(faults.is_empty(), "{faults:?}");
    let catalog = catalog.expect("a catalog");
    let (standards, faults) = read_standards(&[("new.yaml", STANDARD), ("old.yaml", OLD_STANDARD)], &kinds);
    assert!(faults.is_empty(), "{faults:?}");
    let mut job = read_job("jobs/gull-cottage.yaml", JOB, &catalog, &firm, &standards, &[]).expect("a job");
    job.key = "harbour/gull-cottage".into();
    Fixture { firm, catalog, standards, job, workings: vec![vec![working()]], tapes: Tapes::default() }
}

/// Pictures that stand in for drawings.
pub fn pictures() -> JobPictures {
    let svg = |name: &str, high: u32| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"190mm\" height=\"{high}mm\" viewBox=\"0 0 190 {high}\" \
             role=\"img\" aria-labelledby=\"t\"><title id=\"t\">{name}</title>\
             <defs><pattern id=\"h\" width=\"2\" height=\"2\" patternUnits=\"userSpaceOnUse\">\
             <path d=\"M0 2 2 0\" stroke=\"#000\" stroke-width=\".25\"/></pattern></defs>\
             <rect x=\".25\" y=\".25\" width=\"189.5\" height=\"{}\" fill=\"url(#h)\" stroke=\"#000\" stroke-width=\".5\"/>\
             <rect x=\"40\" y=\"10\" width=\"110\" height=\"12\" fill=\"#fff\" stroke=\"#000\" stroke-width=\".25\"/>\
             <text x=\"44\" y=\"18\" font-family=\"DejaVu Sans\" font-size=\"4\">{name}, 190 mm wide</text></svg>",
            f64::from(high) - 0.5
        )
    };
    let inlet = |name: &str| Pictures {
        elevation: svg(&format!("{name} elevation"), 70),
        plan: svg(&format!("{name} plan"), 80),
        isometric: Some(svg(&format!("{name} isometric"), 80)),
        travel: Some(svg(&format!("{name} travel"), 50)),
        ..Pictures::default()
    };
    JobPictures {
        inlets: vec![inlet("Hall"), inlet("Loft")],
        layout: Some(svg("Plan of what is set out", 90)),
        cutting: Some(svg("Cutting plan", 60)),
        ..JobPictures::default()
    }
}

/// A working as the reckoning tells it.
fn working() -> Working {
    Working {
        name: "Draw-in through a level bend".into(),
        result_words: "9.5 lbf".into(),
        mathml: "<math display=\"block\"><mi>T</mi><mo>=</mo><msub><mi>T</mi><mn>0</mn></msub><mi>cosh</mi><mo>(</mo>\
                 <mi>μ</mi><mi>θ</mi><mo>)</mo></math>",
        with_numbers: "5.22 · cosh(0.32 · 1.571) + …".into(),
        source: "lubricant maker's note on cable pulling".into(),
    }
}

const FIRM: &str = "\
name: Saltmarsh Piping Co.
contact: [\"3 Quay Loft, Port Ellery\", \"Call the yard before eight\"]
paper: letter
lengths: ft-in
theme: drafting
standard: \"2026-1\"
";

const CATALOG: [(&str, &str); 4] = [
    ("hoses.yaml", include_str!("../../content/catalog/hoses.yaml")),
    ("tube-and-fittings.yaml", include_str!("../../content/catalog/tube-and-fittings.yaml")),
    ("units-and-wire.yaml", include_str!("../../content/catalog/units-and-wire.yaml")),
    ("valves.yaml", include_str!("../../content/catalog/valves.yaml")),
];

const OLD_STANDARD: &str = r#"
revision: "2025-1"
effective: 2025-01-15
title: Raceway installation standard
parts:
  - title: The raceway
    clauses:
      - {clause: bend-total, no: "1.1", title: Bend total, level: must, limit: 315 deg, text: "At most **360 degrees**. <script>alert(1)</script>", because: "One bend too many shows only *after* the plaster is on.", source: "NFPA 70, 358.26"}
      - {clause: hose-room, no: "1.2", title: Hose room, level: must, allowance: 10 %, text: "The hose path is longer than the hose.", because: "Hoses grow.", source: "Common practice"}
      - {clause: no-dip, no: "1.3", title: No dip, level: must, text: "No dip anywhere.", because: "Dust settles.", source: "Common practice"}
"#;

const STANDARD: &str = r#"
revision: "2026-1"
effective: 2026-01-15
title: Raceway installation standard
parts:
  - title: The raceway
    clauses:
      - {clause: bend-total, no: "1.1", title: Bend total, level: must, limit: 360 deg, text: "At most **360 degrees**. <script>alert(1)</script>", because: "One bend too many shows only *after* the plaster is on.", source: "NFPA 70, 358.26"}
      - {clause: hose-room, no: "1.2", title: Hose room, level: must, allowance: 10 %, text: "The hose path is longer than the hose.", because: "Hoses grow.", source: "Common practice"}
      - {clause: bend-spacing, no: "1.4", title: Bend spacing, level: should, least: 12 in, text: "A foot of tube between bends.", because: "The hose is to lie straight between.", source: "Common practice"}
      - {clause: fitting-room, no: "1.5", title: Room for fittings, level: must, text: "Fittings do not collide.", because: "They cannot be built.", source: "Common practice"}
  - title: Joints and valves
    clauses:
      - {clause: by-eye, no: "2.1", id: square, title: Square, per: joint, when: rough-in, level: must, tick: "Cut square", text: "Cut square.", because: "No ledge."}
      - {clause: by-eye, no: "2.2", id: deburr, title: Deburred, per: joint, when: rough-in, level: must, tick: "Deburred inside and out", text: "Deburred.", because: "No burr."}
      - {clause: by-eye, no: "2.3", id: dry-fit, title: Dry-fitted, per: joint, when: rough-in, level: must, tick: "Dry-fitted, mark drawn", text: "Dry-fitted.", because: "Depth is seen."}
      - {clause: by-eye, no: "2.4", id: full-depth, title: Full depth, per: joint, when: rough-in, level: must, tick: "Cemented to the mark", text: "To the mark.", because: "No gap."}
      - {clause: by-eye, no: "2.5", id: straps, title: Straps, per: inlet, when: rough-in, level: must, tick: "Strapped every 4 ft and at each bend", text: "Strapped.", because: "It must not sag."}
      - {clause: by-eye, no: "2.6", id: gasket, title: Gasket, per: inlet, when: trim, for: {seal: door}, level: must, tick: "Gasket whole, seated all round", text: "Gasket.", because: "It seals."}
      - {clause: by-eye, no: "2.7", id: truck, title: Truck loaded, per: job, when: load, level: must, tick: "Takeoff ticked part by part", text: "Loaded.", because: "One drive."}
      - {clause: by-eye, no: "2.8", id: shown, title: Owner shown, per: inlet, when: hand-over, level: should, tick: "Owner has drawn the hose out and in", text: "Shown.", because: "They use it."}
changes:
  - {clause: bend-total, because: "Four sweeps were tried and drew home."}
"#;

const JOB: &str = r#"
title: Gull Cottage
address: 7 Heron Lane, Port Ellery
date: 2026-11-30
built: 1962
unit: {model: basement-600}
trunks:
  - {id: main, leaves: west, path: [{run: 38 ft}, {turn: 90 down, with: short-90}, {run: 3 ft 8 in}], into: unit}
inlets:
  - id: hall
    name: Hall
    valve: door-sealed
    hose: socked-40
    raceway:
      leaves: down
      path:
        - run: 4 ft 7-1/2 in
          crosses:
            - {at: 1 ft 5 in, member: bottom-plate, size: 2x6, bearing: true, hole: 2-1/8 in, floor-line: true}
        - turn: 90 north
        - run: 17 ft 3 in
        - turn: 90 east
        - run: 10 ft
        - run: 4 ft 9-3/4 in
        - turn: 90 north
        - run: 9 ft 2 in
    onward: {path: [{run: 3 ft}, {turn: 90 west, with: short-90}, {run: 2 ft 6 in}], into: {trunk: main, at: 20 ft, with: wye-45}}
  - id: loft
    name: Loft <stairs>
    valve: cuff-sealed
    hose: socked-40
    raceway:
      leaves: up
      path:
        - run: 5 ft
        - turn: 90 east
        - run: 12 ft 6 in
        - turn: 90 north
        - run: 10 ft 3 in
        - turn: 90 west
        - run: 1 ft
        - turn: 90 north
        - run: 6 ft
        - turn: 90 up
        - run: 3 ft
    onward: {path: [{run: 1 ft}, {turn: 90 west, with: short-90}, {run: 4 ft}], into: {trunk: main, at: 30 ft, with: wye-45}}
    waivers:
      - {clause: bend-spacing, because: "Finished soffit; builder's drawing A-4", by: crew lead}
"#;

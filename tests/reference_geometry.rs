//! The program's geometry, of inlets' lines and trunks, against a second reckoning in Python (`tests/reference/geometry.py`).
mod common;

use common::generate::{Dice, Parts, job};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// How many random jobs; they have about three inlets each, on up to three trunks.
const JOBS: usize = 160;
/// A tenth of a millimetre: far below a tape's sixteenth, far above the rounding of either program
/// and the chords by which the reference measures arcs.
const LENGTH_M: f64 = 1e-4;
const ANGLE_DEG: f64 = 1e-6;

#[test]
fn agrees_with_python_on_random_jobs() {
    let company = common::demo_without_jobs();
    let parts = Parts::of(company.path());
    let mut dice = Dice::new(20_261_130);
    for n in 0..JOBS {
        let file = company.path().join(format!("jobs/lot-{}/job-{n}.yaml", n % 7));
        fs::create_dir_all(file.parent().unwrap()).unwrap();
        fs::write(file, job(&mut dice, &parts)).unwrap();
    }
    let (jobs, inlets) = compare(company.path());
    assert_eq!(jobs, JOBS);
    assert!(inlets > JOBS, "{inlets} inlets in {jobs} jobs");
}

#[test]
fn agrees_with_python_on_the_demo() {
    let company = common::demo();
    let (jobs, _) = compare(company.path());
    assert!(jobs > 0, "the demo holds no job");
}

/// Compares every inlet of a company folder; returns how many jobs and inlets there were.
fn compare(company: &Path) -> (usize, usize) {
    let reference = common::reckon("geometry.py", &[company]);
    let found = common::inspect(company, &[]);
    let (mut inlets, mut wrong) = (0, Vec::new());
    for object in &found {
        let key = common::text(object, "/job");
        let expected = reference[key]["inlets"].as_array();
        let expected = expected.unwrap_or_else(|| panic!("the reference knows no job {key}"));
        marks_differ(key, object);
        let trunks = json!({ "trunks": object["trunks"] });
        let expected_trunks = json!({ "trunks": reference[key]["trunks"] });
        Difference { wrong: &mut wrong }.within(key, &trunks, &expected_trunks);
        let inlets_found = common::list(object, "/inlets");
        assert_eq!(inlets_found.len(), expected.len(), "inlets of {key}");
        for (ours, theirs) in inlets_found.iter().zip(expected) {
            inlets += 1;
            let place = format!("{key} {}", common::text(ours, "/id"));
            Difference { wrong: &mut wrong }.within(&place, ours, theirs);
        }
    }
    assert_eq!(found.len(), reference.as_object().map_or(0, |all| all.len()), "jobs inspected");
    assert!(wrong.is_empty(), "{}", report(company, &wrong));
    (found.len(), inlets)
}

/// No two tubes of a job carry the same mark, and each begins with its line's letters.
fn marks_differ(key: &str, job: &Value) {
    let mut seen = BTreeSet::new();
    let parts = |line: &Value| [line["raceway"].clone(), line["onward"].clone(), line.clone()];
    for line in common::list(job, "/inlets").iter().chain(common::list(job, "/trunks")) {
        let letters = common::text(line, "/mark");
        for tube in parts(line).iter().flat_map(|part| part["tubes"].as_array().cloned().unwrap_or_default())
        {
            let mark = common::text(&tube, "/mark").to_owned();
            let number = mark.strip_prefix(letters).and_then(|rest| rest.parse::<usize>().ok());
            assert!(number.is_some(), "{key}: tube {mark} of line {letters}");
            assert!(seen.insert(mark.clone()), "{key}: two tubes are marked {mark}");
        }
    }
}

/// The first differences, and the job file of the first.
fn report(company: &Path, wrong: &[(String, String)]) -> String {
    let job = wrong[0].0.split(' ').next().unwrap_or_default();
    let file = fs::read_to_string(company.join("jobs").join(format!("{job}.yaml"))).unwrap_or_default();
    let lines: Vec<_> = wrong.iter().take(20).map(|(place, what)| format!("{place}: {what}")).collect();
    format!("{} differences\n{}\n\n{job}:\n{file}", wrong.len(), lines.join("\n"))
}

/// Collects what differs between the program (`ours`) and the reference (`theirs`).
struct Difference<'a> {
    wrong: &'a mut Vec<(String, String)>,
}

impl Difference<'_> {
    /// Every figure that the reference gives must stand in the program's object, and agree.
    fn within(&mut self, place: &str, ours: &Value, theirs: &Value) {
        match (ours, theirs) {
            (Value::Object(a), Value::Object(b)) => {
                for (key, value) in b {
                    let mine = a.get(key).unwrap_or(&Value::Null);
                    self.within(&format!("{place} {key}"), mine, value);
                }
            }
            (Value::Array(a), Value::Array(b)) if a.len() == b.len() => {
                for (n, (x, y)) in a.iter().zip(b).enumerate() {
                    self.within(&format!("{place} [{n}]"), x, y);
                }
            }
            (Value::Number(a), Value::Number(b)) => self.number(place, a.as_f64(), b.as_f64()),
            _ if ours == theirs => {}
            _ => self.note(place, format!("{ours} here, {theirs} in the reference")),
        }
    }

    fn number(&mut self, place: &str, ours: Option<f64>, theirs: Option<f64>) {
        let (Some(a), Some(b)) = (ours, theirs) else {
            return self.note(place, "not a number".into());
        };
        let angle = place.ends_with("_deg");
        let gap = match place.ends_with("roll_deg") {
            // A half turn may be told from either side, but only as +180.
            true if a <= -180.0 || a > 180.0 => f64::INFINITY,
            true => ((a - b + 540.0).rem_euclid(360.0) - 180.0).abs(),
            false => (a - b).abs(),
        };
        if gap.is_nan() || gap > if angle { ANGLE_DEG } else { LENGTH_M } {
            self.note(place, format!("{a} here, {b} in the reference"));
        }
    }

    fn note(&mut self, place: &str, what: String) {
        self.wrong.push((place.into(), what));
    }
}

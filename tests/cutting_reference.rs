//! The cutting plan against a whole-number programme solved by another library in another language.
//!
//! `tests/reference/cutting.py` gets the same jobs and must find the same number of sticks. It is run by
//! the Python named in `LONGSWEEP_PYTHON`, or else by `tests/.venv/bin/python`, which must have the
//! packages of `tests/reference/`; without it this test fails, for a check that is passed over is none.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use longsweep::material::{STEPS, Stock, cut};
use serde_json::{Value, json};

/// A job in whole units of a millimetre, so that both sides reckon with the same numbers.
struct Job {
    stick: u64,
    kerf: u64,
    pieces: Vec<u64>,
}

#[test]
fn agrees_with_a_whole_number_programme() {
    let jobs = jobs();
    let optima = optima(&jobs);
    assert_eq!(optima.len(), jobs.len());
    let mut proven = 0;
    for (job, optimum) in jobs.iter().zip(optima) {
        let (sticks, lower_bound, is_proven) = ours(job);
        let told = format!("stick {} kerf {} pieces {:?}", job.stick, job.kerf, job.pieces);
        assert!(lower_bound <= optimum, "the bound {lower_bound} is over the optimum {optimum}: {told}");
        assert!(sticks >= optimum, "{sticks} sticks are under the optimum {optimum}: {told}");
        if is_proven {
            assert_eq!(sticks, optimum, "said to be proven: {told}");
            proven += 1;
        }
    }
    // Jobs of this size are within reach of the search, every one.
    assert_eq!(proven, jobs.len());
}

fn ours(job: &Job) -> (u64, u64, bool) {
    let metres = |units: u64| units as f64 / 1000.0;
    let stock = Stock {
        stick_m: metres(job.stick),
        kerf_m: metres(job.kerf),
        mark_m: 0.0,
        shortest_m: 0.0,
        coupling_gap_m: 0.0,
        coupling_socket_m: 0.0,
    };
    let lengths: Vec<f64> = job.pieces.iter().map(|p| metres(*p)).collect();
    let plan = cut(&lengths, &stock, STEPS).expect("every piece fits a stick");
    (plan.sticks.len() as u64, plan.lower_bound as u64, plan.proven)
}

/// Jobs of several characters, always the same ones.
fn jobs() -> Vec<Job> {
    let mut random = Random(20_26);
    let mut jobs = Vec::new();
    for _ in 0..60 {
        // Tubes of any length between fittings, eight-foot sticks.
        jobs.push(random.job(2438, 3, 200..=2438, 1..=40));
        // Middling pieces, two to four to a stick, where length alone says little.
        jobs.push(random.job(2438, 3, 550..=1300, 4..=28));
        // Coarse lengths on a short stick: many equal pieces and many exact fits.
        jobs.push(random.job(96, 0, 16..=60, 5..=24));
        // Sticks filled to the end, cut into pieces that must be found again.
        jobs.push(random.full_sticks(1000, 2, 2..=8));
    }
    jobs
}

/// A small generator (Steele, Lea and Flood's split-mix), so that the jobs are the same everywhere.
struct Random(u64);

impl Random {
    fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (z ^ (z >> 31)) % n
    }

    fn within(&mut self, range: &std::ops::RangeInclusive<u64>) -> u64 {
        range.start() + self.below(range.end() - range.start() + 1)
    }

    fn job(
        &mut self,
        stick: u64,
        kerf: u64,
        lengths: std::ops::RangeInclusive<u64>,
        count: std::ops::RangeInclusive<u64>,
    ) -> Job {
        let pieces = (0..self.within(&count)).map(|_| self.within(&lengths)).collect();
        Job { stick, kerf, pieces }
    }

    fn full_sticks(&mut self, stick: u64, kerf: u64, count: std::ops::RangeInclusive<u64>) -> Job {
        let mut pieces = Vec::new();
        for _ in 0..self.within(&count) {
            let mut room = stick;
            for _ in 0..self.below(3) {
                let piece = self.within(&(120..=330));
                pieces.push(piece);
                room -= piece + kerf;
            }
            pieces.push(room);
        }
        Job { stick, kerf, pieces }
    }
}

fn optima(jobs: &[Job]) -> Vec<u64> {
    let asked: Vec<Value> =
        jobs.iter().map(|j| json!({"stick": j.stick, "kerf": j.kerf, "pieces": j.pieces})).collect();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let python = python(root);
    let mut child = Command::new(&python)
        .arg(root.join("tests/reference/cutting.py"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap_or_else(|error| panic!("{} does not start: {error}", python.display()));
    let mut input = child.stdin.take().expect("standard input is piped");
    input.write_all(Value::Array(asked).to_string().as_bytes()).expect("the script reads its input");
    drop(input);
    let output = child.wait_with_output().expect("the script ends");
    assert!(output.status.success(), "{} on cutting.py ended with {}", python.display(), output.status);
    serde_json::from_slice(&output.stdout).expect("the script prints a list of numbers")
}

fn python(root: &Path) -> PathBuf {
    let python = std::env::var_os("LONGSWEEP_PYTHON")
        .map_or_else(|| root.join("tests/.venv/bin/python"), PathBuf::from);
    assert!(
        python.exists(),
        "{} is missing; make a virtual environment there with scipy, or name a python in LONGSWEEP_PYTHON",
        python.display()
    );
    python
}

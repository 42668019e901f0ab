//! Counts of a run by target, told as it goes, and findings kept.
use super::reading;
use std::collections::BTreeMap;
use std::fs;
use std::time::{Duration, Instant};

/// As many findings are kept; one fault is found again and again.
const MOST_KEPT: usize = 200;
const TELL_EVERY: Duration = Duration::from_secs(30);

pub struct Tally {
    targets: BTreeMap<String, Count>,
    wrong: usize,
    told: Instant,
}

#[derive(Default)]
struct Count {
    cases: u64,
    /// Of these, how many were read without a fault.
    read: u64,
    spent: Duration,
    /// The case that took longest, by its seed.
    slowest: (Duration, u64),
}

impl Default for Tally {
    fn default() -> Tally {
        Tally { targets: BTreeMap::new(), wrong: 0, told: Instant::now() }
    }
}

impl Tally {
    pub fn add(
        &mut self,
        seed: u64,
        target: &str,
        read: &Result<bool, String>,
        text: &[u8],
        spent: Duration,
    ) {
        let count = self.targets.entry(target.to_owned()).or_default();
        count.cases += 1;
        count.read += u64::from(*read == Ok(true));
        count.spent += spent;
        count.slowest = count.slowest.max((spent, seed));
        if let Err(why) = read {
            self.keep(seed, target, why, text);
        }
        if self.told.elapsed() > TELL_EVERY {
            self.tell(seed);
            self.told = Instant::now();
        }
    }

    /// Tells the last counts and answers how many cases were wrong.
    pub fn end(&self) -> usize {
        self.tell(0);
        self.wrong
    }

    fn keep(&mut self, seed: u64, target: &str, why: &str, text: &[u8]) {
        self.wrong += 1;
        eprintln!("WRONG {target} seed {seed}: {why:.600}");
        let folder = reading::root().join("tests/.work/fuzz");
        if self.wrong <= MOST_KEPT && fs::create_dir_all(&folder).is_ok() {
            let _ = fs::write(folder.join(format!("{target}-{seed}")), text);
        }
    }

    fn tell(&self, seed: u64) {
        let all: u64 = self.targets.values().map(|count| count.cases).sum();
        eprintln!("{all} cases, {} wrong, at seed {seed}", self.wrong);
        for (target, count) in &self.targets {
            let (longest, at) = (count.slowest.0.as_millis(), count.slowest.1);
            let (cases, read, spent) = (count.cases, count.read, count.spent.as_secs());
            eprintln!("  {target}: {cases}, {read} read, {spent} s; longest {longest} ms, seed {at}");
        }
    }
}

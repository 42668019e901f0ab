//! The program under mutation: whatever stands in a file, it is read or refused, without a panic and without
//! end, and what is read or refused keeps the rules of `check.rs`; a whole set those of `whole.rs`.
//!
//! A case takes a text of the corpus, changes it in a few places as hands, editors and bad copies do, and
//! reads it. It is told by its seed, so that a failure can be run again alone. What was found lies in `found/`,
//! one text a finding, named after what was wrong, and is read again by each run of the suite.
//!
//! The short run is part of the suite. The long one:
//! `LONGSWEEP_FUZZ=10000000 RAYON_NUM_THREADS=1 cargo test --release --test fuzz -- --ignored --nocapture`, with
//! `LONGSWEEP_FUZZ_FROM` the seed to begin at, `LONGSWEEP_FUZZ_ONLY=job,lesson` these targets alone, and `LONGSWEEP_FUZZ_WHOLE` so many publishes between.
mod check;
mod corpus;
mod dice;
mod hand;
mod mutate;
#[path = "../reading/mod.rs"]
mod reading;
mod tally;
mod whole;

use check::check;
use corpus::{Corpus, Target, found};
use dice::Dice;
use mutate::{Words, mutated, mutated_words};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Mutex;
use std::time::Instant;
use tally::Tally;

/// One of so many texts that are read is worked up and drawn, which takes a hundred times as long.
const DEEP: usize = 8;

struct Fuzz {
    corpus: Corpus,
    words: Words,
}

/// What became of a case.
struct Came {
    target: Target,
    /// Whether it was read without a fault, or what was wrong.
    read: Result<bool, String>,
    /// The text, where something was wrong.
    text: Vec<u8>,
}

impl Fuzz {
    fn new() -> Fuzz {
        keep_panics();
        Fuzz { corpus: Corpus::gather(), words: Words::of_the_tables() }
    }

    /// The case of a seed, of a target by its share, or of the one given.
    fn case(&self, seed: u64, only: Option<Target>) -> Came {
        let mut dice = Dice::of(seed);
        let target = only.unwrap_or_else(|| by_share(&mut dice));
        let texts = if dice.once_in(4) { self.corpus.of(target) } else { self.corpus.sound(target) };
        let (Some((.., text)), Some((.., other))) = (dice.pick(&texts), dice.pick(&texts)) else {
            return Came { target, read: Err("no text to change".into()), text: Vec::new() };
        };
        let text = match target.is_file() {
            true => mutated(text, other, &self.words, &mut dice),
            false => mutated_words(&String::from_utf8_lossy(text), &mut dice).into_bytes(),
        };
        let read = checked(target, &text, dice.once_in(DEEP));
        Came { target, text: if read.is_err() { text } else { Vec::new() }, read }
    }
}

fn by_share(dice: &mut Dice) -> Target {
    let all: usize = Target::ALL.iter().map(|(_, share)| share).sum();
    let mut left = dice.throw(all);
    for (target, share) in Target::ALL {
        match left.checked_sub(share) {
            Some(rest) => left = rest,
            None => return target,
        }
    }
    Target::Job
}

/// The check, with a panic told like anything else that is wrong.
fn checked(target: Target, text: &[u8], deep: bool) -> Result<bool, String> {
    catch_unwind(AssertUnwindSafe(|| check(target, text, deep))).unwrap_or_else(|_| Err(last_panic()))
}

static PANIC: Mutex<String> = Mutex::new(String::new());

/// Panics are kept for the report in place of being printed.
fn keep_panics() {
    std::panic::set_hook(Box::new(|panic| {
        if let Ok(mut last) = PANIC.lock() {
            *last = panic.to_string();
        }
    }));
}

fn last_panic() -> String {
    PANIC.lock().map_or_else(|_| "panicked".into(), |last| last.clone())
}

fn number(name: &str, other: u64) -> u64 {
    std::env::var(name).ok().and_then(|number| number.parse().ok()).unwrap_or(other)
}

#[test]
fn mutated_files_and_measures_are_read_or_refused_by_the_rules() {
    let fuzz = Fuzz::new();
    let mut wrong = Vec::new();
    for (target, _) in Target::ALL {
        for seed in 0..if target.is_file() { 60 } else { 400 } {
            if let Err(why) = fuzz.case(seed, Some(target)).read {
                wrong.push(format!("{target:?}, seed {seed}: {why}"));
            }
        }
    }
    drop(std::panic::take_hook());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Each file of `found/` broke a rule once.
#[test]
fn what_was_found_before_is_not_found_again() {
    keep_panics();
    let again: Vec<String> = found()
        .into_iter()
        .filter_map(|(target, name, text)| Some(format!("{name}: {}", checked(target, &text, true).err()?)))
        .collect();
    drop(std::panic::take_hook());
    assert!(again.is_empty(), "{}", again.join("\n"));
}

#[test]
#[ignore = "runs as long as it is told to"]
fn long() {
    let (from, cases) = (number("LONGSWEEP_FUZZ_FROM", 1_000), number("LONGSWEEP_FUZZ", 100_000));
    let fuzz = Fuzz::new();
    let mut tally = Tally::default();
    let only = std::env::var("LONGSWEEP_FUZZ_ONLY").unwrap_or_default();
    let only: Vec<Target> =
        Target::ALL.map(|(t, _)| t).into_iter().filter(|t| only.contains(&t.word())).collect();
    for seed in from..from.saturating_add(cases) {
        let started = Instant::now();
        let came = fuzz.case(seed, only.get(seed as usize % only.len().max(1)).copied());
        tally.add(seed, &came.target.word(), &came.read, &came.text, started.elapsed());
    }
    drop(std::panic::take_hook());
    assert_eq!(tally.end(), 0, "see tests/.work/fuzz");
}

#[test]
fn a_set_published_over_mutated_files_keeps_the_rules() {
    let mut tally = Tally::default();
    whole::run(0..12, &mut tally);
    assert_eq!(tally.end(), 0, "see tests/.work/fuzz");
}

#[test]
#[ignore = "runs as long as it is told to"]
fn long_whole() {
    let (from, cases) = (number("LONGSWEEP_FUZZ_FROM", 1_000), number("LONGSWEEP_FUZZ_WHOLE", 1_000));
    let mut tally = Tally::default();
    whole::run(from..from.saturating_add(cases), &mut tally);
    assert_eq!(tally.end(), 0, "see tests/.work/fuzz");
}

//! Readers under mutation: whatever stands in a file, it is read or refused, without a panic and without end,
//! and every refusal names its file.
//!
//! The corpus is the demo's own files. A run takes one, changes it in one to eight places (a byte or a piece cut
//! out, doubled, moved, or another put in, from a list of signs that matter) and reads it. Each case is told by
//! its seed, so that a failure can be run again alone. The short run is part of the suite; the long one is
//! `LONGSWEEP_FUZZ=1000000 cargo test --release --test fuzz -- --ignored`.
mod reading;

use longsweep::company::{read_catalog, read_firm, read_job, read_standards};
use longsweep::lesson::{
    Blocks, Figure, Given, Judged, Picture, Refusal, Refused, Speaks, Target, front, render,
};
use longsweep::measure::{Kind, Lengths, Say, read_coordinate, read_date, read_length, read_quantity};
use longsweep::text::{Diagnostic, decode};
use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// A little generator of our own (xorshift, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn of(seed: u64) -> Dice {
        // Neighbouring seeds are spread apart (splitmix, Steele, Lea and Flood 2014).
        let mut z = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        Dice((z ^ (z >> 31)).max(1))
    }

    fn throw(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % sides.max(1) as u64) as usize
    }
}

/// Signs and words that matter to one reader or another.
const PIECES: [&str; 40] = [
    "\n",
    "\t",
    " ",
    ":",
    ": ",
    "- ",
    "{",
    "}",
    "[",
    "]",
    "\"",
    "'",
    "#",
    " #",
    "&a",
    "*a",
    "!",
    "|",
    ">",
    "%",
    "@",
    "`",
    "~",
    "---\n",
    "\u{0}",
    "\u{1b}[31m",
    "\u{202e}",
    "\u{feff}",
    "½",
    "−",
    "1e308",
    "-0",
    "999999999",
    "NaN",
    "<script>",
    "![x](y.png)",
    "```raceway\n",
    "$x^$",
    "[^1]",
    "é",
];

fn mutated(text: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = text.to_vec();
    for _ in 0..=dice.throw(8) {
        let at = dice.throw(bytes.len() + 1);
        let end = (at + dice.throw(24)).min(bytes.len());
        match dice.throw(7) {
            0 => drop(bytes.drain(at..end)),
            1 => {
                let piece = bytes[at..end].to_vec();
                bytes.splice(at..at, piece);
            }
            2 => {
                let piece: Vec<u8> = bytes.drain(at..end).collect();
                let to = dice.throw(bytes.len() + 1);
                bytes.splice(to..to, piece);
            }
            3 if at < bytes.len() => bytes[at] = dice.throw(256) as u8,
            4 => {
                let (piece, times) = (PIECES[dice.throw(PIECES.len())], 1 + dice.throw(40));
                bytes.splice(at..at, piece.repeat(times).into_bytes());
            }
            _ => {
                let piece = PIECES[dice.throw(PIECES.len())];
                bytes.splice(at..end.min(at + 2), piece.bytes());
            }
        }
    }
    bytes
}

/// What a mutated file is read as.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Reads {
    Job,
    Lesson,
    Catalog,
    Standard,
    Firm,
    Measure,
}

struct Corpus {
    files: Vec<(Reads, String, Vec<u8>)>,
    measures: Vec<&'static str>,
}

fn corpus() -> Corpus {
    let mut files = Vec::new();
    let mut add = |reads, folder: &str, ending: &str| {
        for entry in
            walkdir::WalkDir::new(reading::root().join(folder)).sort_by_file_name().into_iter().flatten()
        {
            if entry.path().extension().is_some_and(|e| e == ending) {
                files.push((
                    reads,
                    entry.path().display().to_string(),
                    fs::read(entry.path()).expect("a file"),
                ));
            }
        }
    };
    add(Reads::Job, "jobs", "yaml");
    add(Reads::Lesson, "content/lessons", "md");
    add(Reads::Catalog, "content/catalog", "yaml");
    add(Reads::Standard, "content/standard", "yaml");
    files.push((
        Reads::Firm,
        "company.yaml".into(),
        fs::read(reading::root().join("content/company.yaml")).unwrap(),
    ));
    let measures = vec![
        "12 ft 6-1/2 in",
        "3.81 m",
        "-1 ft 4 in",
        "2-1/8 in",
        "0.25 lb/ft",
        "130 inH2O",
        "10 %",
        "2026-11-30",
    ];
    Corpus { files, measures }
}

/// Knows no clause and draws nothing.
struct Hand;

impl Blocks for Hand {
    fn raceway(&mut self, _: &str, _: usize) -> Result<String, Vec<Diagnostic>> {
        Ok("<svg></svg>".into())
    }

    fn plan(&mut self, _: &str, _: usize) -> Result<String, Vec<Diagnostic>> {
        Ok("<svg></svg>".into())
    }

    fn drawing(&mut self, _: &str, _: usize) -> Result<String, Vec<Diagnostic>> {
        Ok("<svg></svg>".into())
    }

    fn judge(&mut self, _: Speaks, _: &[String]) -> Result<Judged, Refusal> {
        Err(Refusal::Asked(Refused { message: "nothing is judged here".into(), help: None }))
    }

    fn figure(&mut self, name: &str, _: &[Given]) -> Option<Result<Figure, String>> {
        (name == "path").then(|| Ok(Figure::length(12.0)))
    }

    fn figures(&self) -> Vec<String> {
        vec!["path".into()]
    }

    fn say(&self) -> Say {
        Say { lengths: Lengths::FtIn }
    }

    fn link(&mut self, _: Target, _: &str) -> Option<String> {
        None
    }

    fn picture(&mut self, path: &str) -> Result<Picture, Refused> {
        Err(Refused { message: format!("no picture {path}"), help: None })
    }

    fn names(&self, _: Target) -> Vec<String> {
        Vec::new()
    }
}

/// Reads a mutated file; every refusal must name it.
fn read(reads: Reads, bytes: &[u8]) -> Vec<Diagnostic> {
    const FILE: &str = "z22";
    let text = match decode(FILE, bytes) {
        Ok(text) => text,
        Err(faults) => return faults,
    };
    let (catalog, standards) = reading::shared();
    match reads {
        Reads::Job => {
            read_job(FILE, text, catalog, &reading::firm(), standards, &[]).err().unwrap_or_default()
        }
        Reads::Lesson => match front::split(FILE, text) {
            Ok(split) => {
                let mut faults = front::parse(FILE, &split).err().unwrap_or_default();
                faults.extend(render(FILE, split.body, split.body_lines_above, &mut Hand).faults);
                faults
            }
            Err(fault) => vec![*fault],
        },
        Reads::Catalog => read_catalog(&[(FILE, text)]).1,
        Reads::Standard => read_standards(&[(FILE, text)], &reading::kinds()).1,
        Reads::Firm => read_firm(FILE, text, &["2025-2", "2026-1"]).1,
        Reads::Measure => {
            let _ = (read_length(text), read_coordinate(text), read_date(text));
            for kind in [Kind::Breadth, Kind::Angle, Kind::Flow, Kind::Pressure, Kind::Plain, Kind::Weight] {
                if let Err(error) = read_quantity(text, kind) {
                    assert!(text.get(error.at.clone()).is_some(), "{error:?}");
                    let _ = (error.to_string(), error.fault.help());
                }
            }
            Vec::new()
        }
    }
}

/// One case, told by its seed; answers what was wrong with it.
fn case(corpus: &Corpus, seed: u64, measures_in_ten: usize) -> Option<String> {
    let mut dice = Dice::of(seed);
    let (reads, name, bytes) = match dice.throw(10) < measures_in_ten {
        true => {
            let measure = corpus.measures[dice.throw(corpus.measures.len())];
            (Reads::Measure, measure, mutated(measure.as_bytes(), &mut dice))
        }
        false => {
            let (reads, name, text) = &corpus.files[dice.throw(corpus.files.len())];
            (*reads, name.as_str(), mutated(text, &mut dice))
        }
    };
    let read = catch_unwind(AssertUnwindSafe(|| {
        let faults = read(reads, &bytes);
        let odd = faults.iter().find(|fault| {
            let plain = fault.render_plain();
            fault.file != "z22"
                || fault.message.is_empty()
                || plain.chars().any(|c| c.is_control() && c != '\n')
        });
        odd.map(|fault| format!("{fault:?}"))
    }));
    match read {
        Ok(None) => None,
        Ok(Some(odd)) => Some(format!("seed {seed}, {reads:?} {name}: {odd}")),
        Err(_) => Some(format!("seed {seed}, {reads:?} {name}: panicked")),
    }
}

fn run(seeds: std::ops::Range<u64>, measures_in_ten: usize) {
    let corpus = corpus();
    let wrong: Vec<String> = seeds.filter_map(|seed| case(&corpus, seed, measures_in_ten)).take(20).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn mutated_files_are_read_or_refused_by_name() {
    run(0..400, 5);
}

/// The long run: `LONGSWEEP_FUZZ` cases from seed `LONGSWEEP_FUZZ_FROM` on, nine of ten of them measures.
#[test]
#[ignore = "runs as long as it is told to"]
fn long() {
    let number =
        |name: &str, other: u64| std::env::var(name).ok().and_then(|n| n.parse().ok()).unwrap_or(other);
    let from = number("LONGSWEEP_FUZZ_FROM", 1_000);
    run(from..from + number("LONGSWEEP_FUZZ", 100_000), number("LONGSWEEP_FUZZ_MEASURES", 9) as usize);
}

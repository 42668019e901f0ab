//! What is mutated: the demo's files, the bad files of the refusals, clause cases, and what was found before.
use super::reading;
use std::fs;
use std::path::Path;

/// What a mutated text is read as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Target {
    Job,
    Plan,
    Lesson,
    Catalog,
    Standard,
    Firm,
    Words,
    Length,
    Quantity,
    Date,
    Direction,
}

impl Target {
    /// Each with how many of a thousand cases of a long run it gets: what is read in a microsecond gets most.
    pub const ALL: [(Target, usize); 11] = [
        (Target::Job, 26),
        (Target::Plan, 8),
        (Target::Lesson, 12),
        (Target::Catalog, 18),
        (Target::Standard, 14),
        (Target::Firm, 10),
        (Target::Words, 6),
        (Target::Length, 390),
        (Target::Quantity, 306),
        (Target::Date, 90),
        (Target::Direction, 120),
    ];

    pub fn word(self) -> String {
        format!("{self:?}").to_lowercase()
    }

    /// Whether it is a file, and not the few words of one value.
    pub fn is_file(self) -> bool {
        !matches!(self, Target::Length | Target::Quantity | Target::Date | Target::Direction)
    }
}

/// Texts by what they are read as.
pub struct Corpus {
    texts: Vec<(Target, String, Vec<u8>)>,
}

const LENGTHS: [&str; 14] = [
    "12 ft 6-1/2 in",
    "12' 6-1/2\"",
    "12ft6in",
    "3.81 m",
    "-1 ft 4 in",
    "2-1/8 in",
    "2 1/8 in",
    "0.4 m",
    "381 cm",
    "3810 mm",
    "1/2 in",
    "6½ in",
    "150 in",
    "1 ft 0-1/16 in",
];
const QUANTITIES: [&str; 16] = [
    "0.25 lb/ft",
    "370 g/m",
    "130 inH2O",
    "27 kPa",
    "100 cfm",
    "170 m3/h",
    "10 %",
    "360 deg",
    "22-1/2°",
    "120 V",
    "14 A",
    "18 AWG",
    "9 lbf",
    "170 lbf in2",
    "3000 fpm",
    "0.32",
];
const DATES: [&str; 4] = ["2026-11-30", "2024-02-29", "1962-01-01", "9999-12-31"];
const DIRECTIONS: [&str; 8] =
    ["east", "down", "90 west", "45 deg north", "22 1/2 deg south", "22-1/2 up", "90° south", "45 NORTH"];

impl Corpus {
    pub fn gather() -> Corpus {
        let mut corpus = Corpus { texts: Vec::new() };
        corpus.folder(Target::Job, "jobs", "yaml");
        corpus.folder(Target::Job, "tests/jobs", "yaml");
        corpus.folder(Target::Job, "tests/odd_jobs", "yaml");
        corpus.folder(Target::Job, "tests/refusals/job", "yaml");
        corpus.folder(Target::Plan, "tests/refusals/plan", "yaml");
        corpus.folder(Target::Lesson, "content/lessons", "md");
        corpus.folder(Target::Catalog, "content/catalog", "yaml");
        corpus.folder(Target::Catalog, "tests/refusals/catalog", "yaml");
        corpus.folder(Target::Standard, "content/standard", "yaml");
        corpus.folder(Target::Standard, "tests/refusals/standard", "yaml");
        corpus.folder(Target::Firm, "tests/refusals/company", "yaml");
        corpus.file(Target::Firm, &reading::root().join("content/company.yaml"));
        corpus.file(Target::Words, &reading::root().join("content/words.yaml"));
        corpus.plans();
        let few: [(Target, &[&str]); 4] = [
            (Target::Length, &LENGTHS),
            (Target::Quantity, &QUANTITIES),
            (Target::Date, &DATES),
            (Target::Direction, &DIRECTIONS),
        ];
        for (target, texts) in few {
            let texts = texts.iter().map(|text| (target, (*text).to_owned(), text.as_bytes().to_vec()));
            corpus.texts.extend(texts);
        }
        corpus.texts.extend(found());
        corpus
    }

    /// All texts of a target, with their names.
    pub fn of(&self, target: Target) -> Vec<&(Target, String, Vec<u8>)> {
        self.texts.iter().filter(|(of, ..)| *of == target).collect()
    }

    /// Those of them that were read without a fault, as far as their folder tells.
    pub fn sound(&self, target: Target) -> Vec<&(Target, String, Vec<u8>)> {
        let mut texts = self.of(target);
        let all = texts.clone();
        texts.retain(|(_, name, _)| !name.contains("tests/refusals"));
        if texts.is_empty() { all } else { texts }
    }

    fn folder(&mut self, target: Target, folder: &str, ending: &str) {
        let walk = walkdir::WalkDir::new(reading::root().join(folder)).sort_by_file_name();
        for entry in walk.into_iter().flatten() {
            if entry.path().extension().is_some_and(|e| e == ending) {
                self.file(target, entry.path());
            }
        }
    }

    fn file(&mut self, target: Target, path: &Path) {
        self.texts.push((target, path.display().to_string(), fs::read(path).expect("a file")));
    }

    /// The plans that stand inside jobs and lessons, each as a file of its own.
    fn plans(&mut self) {
        let jobs = self.of(Target::Job).into_iter().filter_map(|(_, name, text)| {
            let text = std::str::from_utf8(text).ok()?;
            let plan = text.split_once("\nplan:\n")?.1;
            let lines = plan.split_inclusive('\n').take_while(|line| line.starts_with([' ', '\n', '#']));
            Some((name.clone(), format!("plan:\n{}wand: 4 ft 6 in\n", lines.collect::<String>())))
        });
        let lessons = self.of(Target::Lesson).into_iter().filter_map(|(_, name, text)| {
            let text = std::str::from_utf8(text).ok()?;
            let block = text.split_once("```plan\n")?.1.split_once("```")?.0;
            Some((name.clone(), block.to_owned()))
        });
        let plans: Vec<(String, String)> = jobs.chain(lessons).collect();
        assert!(!plans.is_empty(), "neither a job nor a lesson has a plan");
        self.texts.extend(plans.into_iter().map(|(name, text)| (Target::Plan, name, text.into_bytes())));
    }
}

/// What earlier runs found, `tests/fuzz/found/<target>-<what was wrong>`.
pub fn found() -> Vec<(Target, String, Vec<u8>)> {
    let folder = reading::root().join("tests/fuzz/found");
    let mut found = Vec::new();
    for entry in walkdir::WalkDir::new(folder).sort_by_file_name().into_iter().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        let target = Target::ALL.iter().find(|(target, _)| name.starts_with(&format!("{}-", target.word())));
        if let (true, Some((target, _))) = (entry.file_type().is_file(), target) {
            found.push((*target, name, fs::read(entry.path()).expect("a file")));
        }
    }
    found
}

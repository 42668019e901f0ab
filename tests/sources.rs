//! What the texts of the repository cite, held against the list of sources, both ways.
use longsweep::standard::sources::{Known, sources};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// Names under which a method or a body is cited; sections are found by their form.
const NAMES: [&str; 16] = [
    "ACGIH",
    "Rennels",
    "Colebrook",
    "Churchill",
    "Borda",
    "Idelchik",
    "ATSDR",
    "PS 20",
    "plastics maker's manual",
    "CommonMark",
    "Johancsik",
    "Sparks",
    "Paslay",
    "Massoud",
    "Standard Atmosphere",
    "Martello",
];
/// Articles of NFPA 70 that texts speak of without naming it each time.
const ARTICLES: [&str; 7] = ["210", "240", "300", "352", "358", "422", "725"];

/// Every text that people read or that code rests on: the demo's content, the program, its themes.
fn texts() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let files = ["content", "src", "themes", "tests/browser.rs"].into_iter().flat_map(|folder| {
        walkdir::WalkDir::new(root.join(folder)).sort_by_file_name().into_iter().filter_map(Result::ok)
    });
    let text = |path: &Path| {
        let name = path.strip_prefix(root).unwrap_or(path).display().to_string();
        // The list itself cites everything.
        if name.starts_with("src/standard/sources/") {
            None
        } else {
            Some((name, fs::read_to_string(path).ok()?))
        }
    };
    files.filter(|entry| entry.file_type().is_file()).filter_map(|entry| text(entry.path())).collect()
}

/// The words of a text that look like a section, with the line each stands in.
fn cited(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for line in text.lines() {
        found.extend(NAMES.iter().filter(|name| line.contains(*name)).map(|name| (*name).to_owned()));
        let words: Vec<&str> = line.split(|c: char| !(c.is_alphanumeric() || ".()-".contains(c))).collect();
        for (at, word) in words.iter().enumerate() {
            let before = |n: usize| at.checked_sub(n).map_or("", |at| words[at]);
            found.extend(section(word, before(1), before(2), line));
        }
    }
    found
}

/// A word without the brackets and stops of the sentence round it: `(R302.11).` is `R302.11`, `210.8(A)` itself.
fn bare(word: &str) -> &str {
    let mut word = word.trim_start_matches(['(', '.', '-']);
    loop {
        let (opened, closed) = (word.matches('(').count(), word.matches(')').count());
        let last = word.chars().next_back();
        word = match last {
            Some('.' | '-' | '(') => &word[..word.len() - 1],
            Some(')') if closed > opened => &word[..word.len() - 1],
            _ if opened > closed => word.rsplit_once('(').map_or(word, |(head, _)| head),
            _ => return word,
        };
    }
}

/// A word as the section that it cites, if it is one; `before` and `second` are the words in front of it.
fn section(word: &str, before: &str, second: &str, line: &str) -> Option<String> {
    let word = bare(word);
    let number = word.split('(').next().unwrap_or_default();
    let (head, tail) = number.split_once('.').unwrap_or((number, ""));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let dotted = !tail.is_empty() && tail.split('.').all(digits);
    if before == "CFR" && digits(head) {
        return Some(format!("{} CFR {word}", bare(second)));
    }
    if ["1910", "1926"].contains(&head) && digits(tail) && tail.len() > 2 {
        return Some(format!("29 CFR {word}"));
    }
    if matches!(head.chars().next(), Some('R' | 'P' | 'M'))
        && digits(&head[1..])
        && (4..=5).contains(&head.len())
        && dotted
    {
        return Some(word.to_owned());
    }
    let astm =
        matches!(head.chars().next(), Some('A'..='G')) && digits(&head[1..]) && (4..=5).contains(&head.len());
    if tail.is_empty() && astm && word == number && (before == "ASTM" || line.contains("ASTM")) {
        return Some(format!("ASTM {word}"));
    }
    if digits(head) && head.len() == 3 && digits(tail) && tail.len() <= 3 {
        let named = line.contains("NFPA 70") && (!tail.starts_with('0'));
        let article = ARTICLES.contains(&head) && tail.len() <= 3 && !tail.starts_with('0');
        return (named || article).then(|| word.to_owned());
    }
    if before == "table" && second == "9"
        || before.eq_ignore_ascii_case("table") && line.to_lowercase().contains("chapter 9")
    {
        return Some(format!("chapter 9, table {word}"));
    }
    let whole = word.split('-').next().unwrap_or_default();
    let before = bare(before);
    match before {
        "IEC" | "ISO" | "RFC" if digits(whole) => Some(format!("{before} {whole}")),
        "WCAG" if word == "2.2" => Some("WCAG 2.2".into()),
        _ => None,
    }
}

/// Every section cited, and the first file that cites it.
fn all_cited() -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    for (file, text) in texts() {
        for section in cited(&text) {
            all.entry(section).or_insert_with(|| file.clone());
        }
    }
    all
}

#[test]
fn whatever_is_cited_has_one_entry_and_every_entry_is_cited() {
    let all = all_cited();
    assert!(all.len() > 30, "the search finds next to nothing: {all:?}");
    let listed: BTreeSet<&str> =
        sources().flat_map(|source| source.sections).map(|section| section.cited).collect();
    let unlisted: Vec<_> = all.iter().filter(|(section, _)| !listed.contains(section.as_str())).collect();
    let uncited: Vec<_> = listed.iter().filter(|section| !all.contains_key(**section)).collect();
    assert!(unlisted.is_empty(), "cited, but no entry in src/standard/sources: {unlisted:?}");
    assert!(uncited.is_empty(), "an entry in src/standard/sources that nothing cites: {uncited:?}");
}

#[test]
fn sections_are_found_in_the_ways_that_texts_write_them() {
    let found = |text: &str| cited(text).into_iter().collect::<Vec<_>>();
    assert_eq!(found("by R602.6 (a hole) and P2603.2.1, (R302.11)."), ["P2603.2.1", "R302.11", "R602.6"]);
    assert_eq!(
        found("29 CFR 1910.1001(j) and 1926.1101(k):"),
        ["29 CFR 1910.1001(j)", "29 CFR 1926.1101(k)"]
    );
    assert_eq!(found("(29 CFR 1926.416(a)(3): find)"), ["29 CFR 1926.416(a)(3)"]);
    assert_eq!(found("40 CFR 745 (housing)"), ["40 CFR 745"]);
    assert_eq!(found("NFPA 70, 404.2; 210.8(A) from memory"), ["210.8(A)", "404.2"]);
    assert_eq!(found("ASTM F402 and D2855"), ["ASTM D2855", "ASTM F402"]);
    assert_eq!(found("NFPA 70, chapter 9, table 8, 75 °C"), ["chapter 9, table 8"]);
    assert_eq!(found("bend B12 takes 352 mm, 210.0 by 148.5; H1254"), Vec::<String>::new());
}

/// What is from memory may guide, but its text says so: no source of a clause cites such a section alone
/// without `from memory` or `common practice` beside it.
#[test]
fn the_demo_says_where_it_cites_from_memory() {
    let memory: BTreeSet<&str> = sources()
        .flat_map(|source| source.sections)
        .filter(|section| section.known == Known::Memory)
        .map(|section| section.cited)
        .collect();
    let mut silent = Vec::new();
    for (file, text) in texts().into_iter().filter(|(file, _)| file.starts_with("content/standard")) {
        for (n, line) in text.lines().enumerate().filter(|(_, line)| line.trim_start().starts_with("source:"))
        {
            let known = cited(line).iter().any(|section| !memory.contains(section.as_str()));
            let said = line.contains("from memory") || line.to_lowercase().contains("common practice");
            if !cited(line).is_empty() && !known && !said {
                silent.push(format!("{file}:{}: {}", n + 1, line.trim()));
            }
        }
    }
    assert!(silent.is_empty(), "{silent:#?}");
}

/// Every clause of the demo has a text, a reason and a source.
#[test]
fn every_clause_has_a_text_a_reason_and_a_source() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("content/standard");
    let kinds = longsweep::standard::kinds();
    let mut seen = 0;
    let files: Vec<(String, String)> = fs::read_dir(root)
        .unwrap()
        .filter_map(Result::ok)
        .map(|file| (file.path().display().to_string(), fs::read_to_string(file.path()).unwrap()))
        .collect();
    let files: Vec<(&str, &str)> = files.iter().map(|(file, text)| (file.as_str(), text.as_str())).collect();
    let (standards, faults) = longsweep::company::read_standards(&files, &kinds);
    assert_eq!(faults, []);
    for standard in &standards {
        for clause in standard.clauses() {
            seen += 1;
            for words in [&clause.text, &clause.because, &clause.source] {
                assert!(!words.trim().is_empty(), "{} {}", standard.revision, clause.id);
            }
        }
    }
    assert!(seen > 80, "{seen} clauses");
}

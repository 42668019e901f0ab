//! Words on every page and in every message of a firm that works in feet: no metres, no word twice in a row, no
//! `(s)`, no `1 sticks`.
mod common;

use scraper::{Html, Node};
use std::fs;
use std::path::Path;

/// What is wrong with a text, each with the words round it.
fn faults(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let bare = |at: usize| words.get(at).map_or("", |word| word.trim_matches(|c: char| !c.is_alphanumeric()));
    let number =
        |at: usize| words[at].trim_start_matches(['-', '(', '+']).starts_with(|c: char| c.is_ascii_digit());
    let mut found = Vec::new();
    for at in 0..words.len() {
        let next = bare(at + 1);
        let si = matches!(next, "m" | "Pa" | "kPa" | "m3/s" | "N" | "L/s" | "metre" | "metres" | "meters");
        let metres = number(at) && words[at].ends_with(|c: char| c.is_ascii_digit()) && si;
        let twice = bare(at).len() > 3
            && next.starts_with(char::is_lowercase)
            && bare(at).eq_ignore_ascii_case(next)
            && words[at].ends_with(char::is_alphanumeric);
        let counted = words[at] == "1" && COUNTED.contains(&next);
        if metres
            || (twice && bare(at).chars().all(char::is_alphabetic))
            || counted
            || words[at].find("(s)").is_some_and(|place| place > 0)
        {
            found.push(words[at.saturating_sub(4)..(at + 6).min(words.len())].join(" "));
        }
    }
    found
}

/// Things that are counted, in the plural.
const COUNTED: [&str; 14] = [
    "sticks",
    "clauses",
    "bends",
    "joints",
    "pieces",
    "couplings",
    "inlets",
    "tubes",
    "holes",
    "changes",
    "sheets",
    "caps",
    "floors",
    "lines",
];

/// All words of a page as a reader has them, elements apart; formulas and drawings' hidden text left out.
fn words_of(page: &str) -> String {
    let page = Html::parse_document(page);
    let hidden = |name: &str| matches!(name, "script" | "style" | "math" | "code");
    let shown = page.tree.nodes().filter(|node| {
        !node.ancestors().any(|above| matches!(above.value(), Node::Element(e) if hidden(e.name())))
    });
    let texts = shown.filter_map(|node| match node.value() {
        Node::Text(text) => Some(text.to_string()),
        // A word in another cell or line of a drawing does not follow the one before.
        Node::Element(e) if !matches!(e.name(), "a" | "em") => Some(" | ".into()),
        _ => None,
    });
    texts.collect()
}

#[test]
fn faults_are_found() {
    for text in
        ["hole is 0.2286 m; it must", "Coupling coupling 2 in", "7 stick(s)", "1 sticks", "outside 5 m to"]
    {
        assert_eq!(faults(text).len(), 1, "{text}");
    }
    for text in ["12 ft 6 in", "7 sticks, 1 stick", "had had", "2 mm", "of that, that one"] {
        assert_eq!(faults(text), Vec::<String>::new(), "{text}");
    }
}

/// Jobs in which a formula refuses its input, or a tube cannot be cut.
const REFUSED: [(&str, &str, &str); 4] = [
    (
        "hole",
        "{run: 3 ft, crosses: [{at: 1 ft, member: stud, size: 2x4, hole: 9 in}]}",
        "{run: 44 ft, crosses: none}",
    ),
    (
        "edge",
        "{run: 3 ft, crosses: [{at: 1 ft, member: stud, size: 2x8, hole: 2 in, from-edge: 7 in}]}",
        "{run: 44 ft, crosses: none}",
    ),
    ("short", "{run: 3 ft, crosses: none}", "{run: 6 in, crosses: none}"),
    (
        "masonry",
        "{run: 3 ft, crosses: none}",
        "{run: 44 ft, crosses: [{at: 9 ft, member: masonry, depth: 12 ft, hole: 2-1/8 in}]}",
    ),
];

fn refused(name: &str, riser: &str, run: &str) -> String {
    format!(
        "title: {name}\ndate: 2026-11-30\nunit: {{model: basement-600, own-circuit: yes}}\ninlets:\n  - id: hall\n    \
         valve: door-sealed\n    hose: socked-40\n    wall: 2x6\n    raceway:\n      leaves: down\n      \
         path: [{riser}, {{turn: 90 west}}, {run}]\n    onward: {{path: [{{run: 3 ft}}], into: unit}}\n"
    )
}

fn said(company: &Path, arguments: &[&str]) -> String {
    let run = common::run(company, arguments);
    assert!(run.code < 2, "{arguments:?}: {}", run.err);
    format!("{}\n{}", run.out, run.err)
}

#[test]
fn no_message_tells_metres_to_a_firm_that_works_in_feet() {
    let company = common::demo_without_jobs();
    for (name, riser, run) in REFUSED {
        fs::write(company.path().join(format!("jobs/{name}.yaml")), refused(name, riser, run)).unwrap();
    }
    for entry in fs::read_dir(common::repository().join("tests/odd_jobs")).unwrap() {
        let entry = entry.unwrap();
        fs::copy(entry.path(), company.path().join("jobs").join(entry.file_name())).unwrap();
    }
    let told = said(company.path(), &["inspect"]);
    assert!(told.contains("hole is 9 in; it must be above 0 and at most 3.5 in"), "{told}");
    let record =
        common::inspect(company.path(), &[]).into_iter().map(|job| job.to_string()).collect::<String>();
    assert!(record.contains("no coupling keeps clear of the framing past"), "no tube is beyond cutting");
    assert_eq!(faults(&record.replace(['"', ':', ','], " | ")), Vec::<String>::new());
    assert_eq!(faults(&told.replace('\n', " | ")), Vec::<String>::new());
    assert_eq!(faults(&said(company.path(), &["takeoff", "masonry"])), Vec::<String>::new());
    common::run(company.path(), &["publish"]);
    let pages = pages(&company.path().join("site"));
    assert!(pages.len() > 20);
    assert_eq!(pages.iter().flat_map(|page| faults(page)).collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn the_demo_reads_well() {
    let company = common::demo();
    common::publish(company.path());
    let pages = pages(&company.path().join("site"));
    assert!(pages.len() > 100, "{}", pages.len());
    let found: Vec<String> = pages.iter().flat_map(|page| faults(page)).collect();
    assert!(found.is_empty(), "{:#?}", &found[..found.len().min(40)]);
}

fn pages(site: &Path) -> Vec<String> {
    let files = common::site::files(site).into_iter().filter(|(name, _)| name.ends_with(".html"));
    files.map(|(_, path)| words_of(&fs::read_to_string(path).unwrap())).collect()
}

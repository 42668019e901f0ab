//! `propose --write` on a job laid out in odd ways: either the file reads as offered and keeps all else byte for byte, or
//! not a byte of it is touched.
mod common;

use serde_json::Value;
use std::fs;
use std::path::Path;

/// The demo's house with a plan, laid out otherwise; whether the program can write into it.
fn layouts(job: &str) -> Vec<(&'static str, String, bool)> {
    let at_margin = |text: &str| {
        let (head, inlets) = text.split_once("inlets:\n").expect("inlets");
        let out = inlets.lines().map(|line| format!("{}\n", line.strip_prefix("  ").unwrap_or(line)));
        format!("{head}inlets:\n{}", out.collect::<String>())
    };
    vec![
        ("as it is", job.to_owned(), true),
        ("lines as on another system", job.replace('\n', "\r\n"), true),
        ("a mark of its encoding", format!("\u{feff}{job}"), true),
        ("no end of its last line", job.trim_end().to_owned(), true),
        ("a blank before the colon", job.replacen("    raceway:", "    raceway :", 1), true),
        ("a dash by itself", job.replacen("  - id: hall", "  -\n    id: hall", 1), true),
        ("inlets at the margin", at_margin(job), true),
        ("more after it", format!("{job}\n# the end\n"), true),
        ("a key in quotes", job.replacen("    raceway:", "    \"raceway\":", 1), false),
        ("another key in quotes", job.replacen("    onward:", "    'onward':", 1), false),
    ]
}

/// A text without the lines of the keys that a proposal writes, and how its lines end.
fn beside(text: &str) -> (String, bool) {
    let indent = |line: &str| line.len() - line.trim_start_matches(' ').len();
    let mut kept = String::new();
    let mut inside = None;
    for line in text.lines() {
        let told = line.trim_start().strip_prefix("- ").map_or(line.trim_start(), str::trim_start);
        if inside.is_some_and(|deep| indent(line) > deep || line.trim().is_empty()) {
            continue;
        }
        inside = ["raceway", "onward", "at:"].iter().any(|key| told.starts_with(key)).then(|| indent(line));
        if inside.is_none() {
            kept.push_str(line);
            kept.push('\n');
        }
    }
    let ends: Vec<bool> = text.split_inclusive('\n').map(|line| line.ends_with("\r\n")).collect();
    (kept, ends.iter().all(|end| *end == ends[0]))
}

fn best(company: &Path) -> String {
    let run = common::run(company, &["propose", "whimbrel-house", "--json"]);
    let found: Value = serde_json::from_str(&run.out).expect("JSON");
    common::text(&found, "/inlets/0/offers/0/verdict").to_owned()
}

#[test]
fn a_file_reads_as_offered_or_is_left_alone() {
    let company = common::demo();
    let file = company.path().join("jobs/whimbrel-house.yaml");
    let job = fs::read_to_string(&file).expect("a job");
    for (how, text, can) in layouts(&job) {
        fs::write(&file, &text).expect("a job");
        let offered = best(company.path());
        let run = common::run(company.path(), &["propose", "whimbrel-house", "--write"]);
        let after = fs::read_to_string(&file).expect("a job");
        if !can {
            assert!(run.code != 0 && run.err.contains("nothing was written"), "{how}: {}", run.err);
            assert_eq!(after, text, "{how}");
            continue;
        }
        assert_eq!(run.code, 0, "{how}: {}", run.err);
        let inspected = common::inspect(company.path(), &["whimbrel-house"]);
        assert_eq!(common::text(&inspected[0], "/inlets/0/verdict"), offered, "{how}");
        let (kept, alike) = beside(&after);
        assert_eq!(kept.trim_end(), beside(&text).0.trim_end(), "{how}");
        assert!(alike || !text.contains('\r'), "{how}: lines end in two ways");
    }
}

//! Every example of the CommonMark specification, through the renderer that lessons go through.
//!
//! Source: CommonMark Spec, version 0.31.2 (2024-01-28), the 652 examples in its text, as the npm package
//! `commonmark-spec` 0.31.2 (CC-BY-SA-4.0) ships it. It is not kept in this repository: `npm install`
//! within `tests/` fetches it. The HTML must be the same to the letter: no difference is let pass.

use std::fmt::Write as _;
use std::path::Path;

const EXAMPLES: usize = 652;
const FENCE: &str = "````````````````````````````````";

struct Example {
    number: usize,
    section: String,
    markdown: String,
    html: String,
}

#[test]
fn published_commonmark_0_31_2_every_example() {
    let examples = examples(&spec());
    assert_eq!(examples.len(), EXAMPLES, "the specification's text was not read whole");
    let mut report = String::new();
    let mut failed = 0;
    for example in &examples {
        let got = longsweep::lesson::commonmark(&example.markdown);
        if got != example.html {
            failed += 1;
            let Example { number, section, markdown, html } = example;
            let _ = writeln!(report, "\n{number} ({section})\n{markdown}--- wanted\n{html}--- got\n{got}");
        }
    }
    assert_eq!(failed, 0, "{failed} of {EXAMPLES} examples differ{report}");
}

fn spec() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/node_modules/commonmark-spec/spec.txt");
    std::fs::read_to_string(&path).unwrap_or_else(|error| {
        panic!("{} cannot be read ({error}); run `npm install` within tests/ first", path.display())
    })
}

/// An example stands between fences: Markdown, a line with a full stop, HTML. `→` stands for a tab, and
/// the headings outside the fences name the sections.
fn examples(spec: &str) -> Vec<Example> {
    let mut found: Vec<Example> = Vec::new();
    let mut section = String::new();
    let mut lines = spec.lines();
    while let Some(line) = lines.next() {
        if let Some(name) = line.strip_prefix('#') {
            section = name.trim_start_matches('#').trim().to_owned();
        }
        if line.strip_prefix(FENCE).is_some_and(|kind| kind.trim() == "example") {
            let markdown = until(&mut lines, ".");
            let html = until(&mut lines, FENCE);
            found.push(Example { number: found.len() + 1, section: section.clone(), markdown, html });
        }
    }
    found
}

fn until<'a>(lines: &mut impl Iterator<Item = &'a str>, end: &str) -> String {
    lines.take_while(|line| *line != end).map(|line| line.replace('→', "\t") + "\n").collect()
}

//! Every file under `tests/refusals` must be refused, at the places and in the words that its leading
//! comment lines give: `# line:column part of the message`, with ` | part of the help` where the help
//! matters. The folder says what kind of file it is; those under `warning` are jobs that are read, and warned of.
mod reading;

use longsweep::company::{
    read_catalog, read_firm, read_job, read_path, read_plan, read_standards, read_words,
};
use longsweep::lesson::front::{self, Split};
use longsweep::text::Diagnostic;
use std::path::Path;

#[test]
fn every_bad_file_is_refused_at_its_place() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for kind in ["catalog", "company", "job", "lesson", "path", "plan", "standard", "warning", "words"] {
        for (file, text) in reading::texts(&reading::root().join("tests/refusals").join(kind)) {
            count += 1;
            let found = refusals(kind, &text);
            let said: Vec<String> = found.iter().map(said).collect();
            let wanted = wanted(&text);
            assert!(!wanted.is_empty(), "{file} does not say how it is refused");
            let fits =
                said.len() == wanted.len() && wanted.iter().zip(&said).all(|(want, got)| fits(want, got));
            if !fits {
                let name = Path::new(&file).file_name().unwrap_or_default().display();
                wrong.push(format!("{kind}/{name}\n  wanted {wanted:#?}\n  found {said:#?}"));
            }
            for diagnostic in &found {
                check_words(&file, diagnostic);
            }
        }
    }
    assert!(wrong.is_empty(), "{} of {count} wrong\n{}", wrong.len(), wrong.join("\n"));
    assert!(count > 80, "only {count} files were found");
}

fn said(d: &Diagnostic) -> String {
    format!("{}:{} {} | {}", d.line, d.column, d.message, d.help.as_deref().unwrap_or(""))
}

/// Place equal, message and help holding the parts.
fn fits(want: &str, got: &str) -> bool {
    let (Some((place, parts)), Some((at, told))) = (want.split_once(' '), got.split_once(' ')) else {
        return false;
    };
    let (part, help_part) = parts.split_once(" | ").unwrap_or((parts, ""));
    let (message, help) = told.split_once(" | ").unwrap_or((told, ""));
    place == at && message.contains(part) && help.contains(help_part)
}

fn wanted(text: &str) -> Vec<&str> {
    text.lines().map_while(|line| line.strip_prefix("# ")).collect()
}

fn refusals(kind: &str, text: &str) -> Vec<Diagnostic> {
    let (catalog, standards) = reading::shared();
    match kind {
        "catalog" => read_catalog(&[("a.yaml", text)]).1,
        "words" => read_words("a.yaml", text).err().unwrap_or_default(),
        "company" => read_firm("a.yaml", text, &["2025-2", "2026-1"]).1,
        "job" => {
            read_job("jobs/a.yaml", text, catalog, &reading::firm(), standards, &[]).err().unwrap_or_default()
        }
        "warning" => match read_job("jobs/a.yaml", text, catalog, &reading::firm(), standards, &[]) {
            Ok(job) => job.warnings,
            Err(faults) => panic!("{text}: {faults:?}"),
        },
        "lesson" => {
            let split = Split { front: text, front_lines_above: 0, body: "", body_lines_above: 0 };
            front::parse("a.md", &split, &["bend-total"]).err().unwrap_or_default()
        }
        "plan" => read_plan("a.md", text, 0, catalog).err().unwrap_or_default(),
        "path" => read_path("a.md", text, 0, catalog).err().unwrap_or_default(),
        _ => read_standards(&[("a.yaml", text)], &reading::kinds()).1,
    }
}

/// A message is one sentence, lower case, without a full stop, with a mark on a line that is shown.
fn check_words(file: &str, d: &Diagnostic) {
    let first = d.message.chars().next().unwrap_or(' ');
    assert!(!first.is_uppercase() && !d.message.ends_with('.'), "{file}: {}", d.message);
    assert!(!d.label.is_empty() && !d.source_line.is_empty(), "{file}: {d:?}");
    let shown = d.source_line.chars().count();
    // A long line is shown around its mark.
    assert!(
        d.column - d.skipped <= shown.max(1) && (d.len <= shown || d.skipped > 0 || shown > 90),
        "{file}: {d:?}"
    );
    assert!(d.render_plain().contains(&d.source_line));
    for columns in [40, 100] {
        let drawn = d.render(false, columns);
        assert!(drawn.contains(d.message.split(' ').next().unwrap_or("")), "{file}: {drawn}");
        assert!(drawn.chars().count() < 4_000, "{file}: {drawn}");
    }
}

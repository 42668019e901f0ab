//! Worked examples of the demo's lessons, each stated figure reckoned again, and the job file that one of them writes.
use std::fs;
use std::path::Path;

/// What `publish` prints of the firm's lessons alone, their texts changed.
fn published(change: impl Fn(&str) -> String) -> String {
    let folder = company(change);
    said(folder.path(), &["publish"])
}

/// A company folder with the demo's content, the lessons' texts changed, and no job.
fn company(change: impl Fn(&str) -> String) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let files = ["content", "themes"].into_iter().flat_map(|part| walkdir::WalkDir::new(root.join(part)));
    for entry in files.filter_map(Result::ok) {
        let to = folder.path().join(entry.path().strip_prefix(root).unwrap());
        if entry.file_type().is_dir() {
            fs::create_dir_all(&to).unwrap();
        } else if to.extension().is_some_and(|ending| ending == "md") {
            fs::write(&to, change(&fs::read_to_string(entry.path()).unwrap())).unwrap();
        } else {
            fs::copy(entry.path(), &to).unwrap();
        }
    }
    fs::create_dir_all(folder.path().join("jobs")).unwrap();
    folder
}

/// All that a command prints in that folder.
fn said(folder: &Path, command: &[&str]) -> String {
    let run = std::process::Command::new(env!("CARGO_BIN_EXE_longsweep"))
        .args(command)
        .arg("-C")
        .arg(folder)
        .output()
        .unwrap();
    format!("{}{}", String::from_utf8_lossy(&run.stdout), String::from_utf8_lossy(&run.stderr))
}

/// The file's name and its line of every figure that a worked example states, with the figure.
fn stated() -> Vec<(String, usize, String)> {
    let mut found = Vec::new();
    for (name, text) in texts() {
        let before = found.len();
        for (at, line) in text.lines().enumerate() {
            let Some(figure) = line.strip_prefix("    is: ") else { continue };
            found.push((name.clone(), at + 1, figure.to_owned()));
        }
        assert!(found.len() > before, "{name} works nothing out");
    }
    found
}

#[test]
fn every_worked_example_agrees_with_the_engine() {
    let said = published(str::to_owned);
    assert!(!said.contains("content/lessons/"), "{said}");
}

/// Every stated figure with its first digit one up: each must be refused on its own line.
#[test]
fn every_stated_figure_is_recomputed() {
    let said = published(|text| {
        let line = |line: &str| match line.strip_prefix("    is: ") {
            Some(figure) => format!("    is: {}\n", another(figure)),
            None => format!("{line}\n"),
        };
        text.lines().map(line).collect()
    });
    for (name, line, figure) in stated() {
        let place = format!("content/lessons/{name}.md:{line}:");
        assert!(said.contains(&place), "{place} {figure} may be changed to {} unseen", another(&figure));
    }
}

/// A figure with its first digit one up.
fn another(stated: &str) -> String {
    let at = stated.find(|c: char| c.is_ascii_digit()).unwrap();
    let digit = stated[at..].chars().next().and_then(|c| c.to_digit(10)).unwrap();
    format!("{}{}{}", &stated[..at], (digit + 1) % 10, &stated[at + 1..])
}

/// Every lesson's name and text.
fn texts() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("content/lessons");
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let lessons = files.filter(|path| path.extension().is_some_and(|ending| ending == "md"));
    lessons
        .map(|path| {
            (path.file_stem().unwrap().to_string_lossy().into_owned(), fs::read_to_string(&path).unwrap())
        })
        .collect()
}

/// The job that a new hire copies out of the lesson is read, closes, and fails on the one clause that is cured there.
#[test]
fn the_job_file_of_the_lesson_fails_as_the_lesson_says() {
    let (_, lesson) = texts().into_iter().find(|(name, _)| name == "job-file").unwrap();
    let yaml = lesson.split("```yaml\n").nth(1).unwrap().split("```").next().unwrap();
    let folder = company(str::to_owned);
    let job = folder.path().join("jobs/sandpiper.yaml");
    fs::write(&job, yaml).unwrap();
    let fails = said(folder.path(), &["inspect", "sandpiper"]);
    assert!(fails.contains("3 ft 6-1/16 in short of the 44 ft needed"), "{fails}");
    assert!(fails.contains("remedy, tried: move the stop 3 ft 6-1/16 in on along its line"), "{fails}");
    assert_eq!(fails.matches("    FAIL ").count(), 1, "{fails}");
    assert!(!fails.contains("    HOLD "), "{fails}");
    let cured = yaml.replace("run: 20 ft 2 in", "run: 23 ft 9 in").replace("run: 6 ft\n", "run: 2 ft 5 in\n");
    fs::write(&job, cured).unwrap();
    let passes = said(folder.path(), &["inspect", "sandpiper"]);
    assert!(passes.contains("It may be built."), "{passes}");
}

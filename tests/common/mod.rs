//! What the checks of the whole program share: a company folder to work in, the program, the
//! reference reckonings.
// Each test program uses its own part of this folder.
#![allow(dead_code)]
pub mod browser;
pub mod generate;
pub mod houses;
pub mod many;
pub mod site;
pub mod watching;

use assert_cmd::Command;
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// The repository, which is a company folder.
pub fn repository() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A copy of the demo company, jobs and all, without what was published before.
pub fn demo() -> TempDir {
    copy_of(&["content", "themes", "jobs"])
}

/// A copy of the demo company with no jobs.
pub fn demo_without_jobs() -> TempDir {
    let company = copy_of(&["content", "themes"]);
    fs::create_dir(company.path().join("jobs")).expect("a folder for jobs");
    company
}

/// The demo's firm without lessons, its content changed by `firm`, with a job for each number below `houses`; published.
pub fn published_houses(houses: u64, house: impl Fn(u64) -> String, firm: impl Fn(&Path)) -> TempDir {
    let company = demo_without_jobs();
    firm(&company.path().join("content"));
    fs::remove_dir_all(company.path().join("content/lessons")).expect("lessons");
    for n in 0..houses {
        fs::write(company.path().join(format!("jobs/house-{n}.yaml")), house(n)).expect("a job");
    }
    publish(company.path());
    company
}

/// Puts words of a file in place of others; each must be there.
pub fn change(file: &Path, words: &[(&str, &str)]) {
    let mut text = fs::read_to_string(file).expect("a file of the firm");
    for (from, to) in words {
        assert!(text.contains(from), "{} has no {from}", file.display());
        text = text.replace(from, to);
    }
    fs::write(file, text).expect("a file of the firm");
}

fn copy_of(folders: &[&str]) -> TempDir {
    let company = tempfile::tempdir().expect("a temporary folder");
    for folder in folders {
        copy_tree(&repository().join(folder), &company.path().join(folder));
    }
    company
}

fn copy_tree(from: &Path, to: &Path) {
    for entry in walkdir::WalkDir::new(from) {
        let entry = entry.expect("a readable folder");
        let target = to.join(entry.path().strip_prefix(from).expect("below the folder"));
        if entry.file_type().is_dir() {
            fs::create_dir_all(target).expect("a folder");
        } else {
            fs::copy(entry.path(), target).expect("a copy");
        }
    }
}

/// The program, run in a company folder, without colours from the machine that runs the checks.
pub fn longsweep(company: &Path) -> Command {
    let mut command = assert_cmd::cargo::cargo_bin_cmd!("longsweep");
    command.current_dir(company);
    for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "FORCE_COLOR"] {
        command.env_remove(name);
    }
    command
}

/// What a run left behind.
pub struct Run {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// Runs the program with these arguments, whatever comes of it.
pub fn run(company: &Path, arguments: &[&str]) -> Run {
    let output = longsweep(company).args(arguments).output().expect("the program runs");
    Run {
        code: output.status.code().expect("the program ends by itself"),
        out: String::from_utf8(output.stdout).expect("UTF-8 on standard output"),
        err: String::from_utf8(output.stderr).expect("UTF-8 on standard error"),
    }
}

/// Publishes a company folder and insists that it went well.
pub fn publish(company: &Path) {
    let run = run(company, &["publish"]);
    assert_eq!(run.code, 0, "publish failed:\n{}\n{}", run.out, run.err);
}

/// The objects that `inspect --json` prints, one per job. A failed clause is no failure here.
pub fn inspect(company: &Path, jobs: &[&str]) -> Vec<Value> {
    let run = run(company, &[&["inspect", "--json"], jobs].concat());
    assert!(run.code < 2, "inspect could not read the jobs:\n{}", run.err);
    let mut found = Vec::new();
    for value in serde_json::Deserializer::from_str(&run.out).into_iter::<Value>() {
        match value.expect("JSON on standard output") {
            Value::Array(several) => found.extend(several),
            one => found.push(one),
        }
    }
    found
}

/// The Python that has the reference libraries.
pub fn python() -> PathBuf {
    let given = std::env::var_os("LONGSWEEP_PYTHON").map(PathBuf::from);
    let python = given.unwrap_or_else(|| repository().join("tests/.venv/bin/python"));
    assert!(
        python.exists(),
        "{} is missing; run `bash tests/all`, which installs the reference libraries",
        python.display()
    );
    python
}

/// Runs a script of `tests/reference/` and returns the JSON it prints.
pub fn reckon(script: &str, arguments: &[&Path]) -> Value {
    let output = Command::new(python())
        .arg("-B")
        .arg(repository().join("tests/reference").join(script))
        .args(arguments)
        .output()
        .expect("Python runs");
    let err = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{script} failed:\n{err}");
    serde_json::from_slice(&output.stdout).expect("JSON from the script")
}

/// A number in a JSON object, by its path of keys.
pub fn number(value: &Value, path: &str) -> f64 {
    let found = value.pointer(path).and_then(Value::as_f64);
    found.unwrap_or_else(|| panic!("no number at {path} in {value}"))
}

/// A list in a JSON object, by its path of keys.
pub fn list<'a>(value: &'a Value, path: &str) -> &'a [Value] {
    let found = value.pointer(path).and_then(Value::as_array);
    found.unwrap_or_else(|| panic!("no list at {path} in {value}"))
}

/// A text in a JSON object, by its path of keys.
pub fn text<'a>(value: &'a Value, path: &str) -> &'a str {
    let found = value.pointer(path).and_then(Value::as_str);
    found.unwrap_or_else(|| panic!("no text at {path} in {value}"))
}

//! The package: it holds what the program is built from, what a company begins with and the checks, and nothing
//! that the checks install.
mod common;

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;

/// What is packed whole.
const FOLDERS: [&str; 5] = ["src", "content", "themes", "jobs", "tests"];

/// What checks install or leave behind.
fn left_behind(name: &str) -> bool {
    [".venv", "node_modules", ".work", "__pycache__"].contains(&name)
        || name.ends_with(".snap.new")
        || name.ends_with(".pending-snap")
}

/// Files below a folder of the repository, as a package names them.
fn files(folder: &str) -> BTreeSet<String> {
    let root = common::repository();
    let walk = walkdir::WalkDir::new(root.join(folder))
        .into_iter()
        .filter_entry(|entry| !left_behind(&entry.file_name().to_string_lossy()))
        .map(|entry| entry.expect("a readable folder"));
    let named = |path: &Path| path.strip_prefix(root).expect("below it").to_string_lossy().replace('\\', "/");
    walk.filter(|entry| entry.file_type().is_file()).map(|entry| named(entry.path())).collect()
}

#[test]
fn the_package_holds_sources_and_the_default_company_and_cargo_has_nothing_to_say() {
    let output = Command::new(env!("CARGO"))
        .args(["package", "--list", "--allow-dirty", "--offline", "--quiet"])
        .current_dir(common::repository())
        .output()
        .expect("cargo runs");
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && told.trim().is_empty(), "{told}");
    let listed: BTreeSet<String> =
        String::from_utf8_lossy(&output.stdout).lines().map(|line| line.replace('\\', "/")).collect();
    for folder in FOLDERS {
        let missing: Vec<String> = files(folder).difference(&listed).cloned().collect();
        assert!(missing.is_empty(), "not in the package: {missing:?}");
    }
    let own =
        [".cargo_vcs_info.json", "Cargo.lock", "Cargo.toml", "Cargo.toml.orig", "DEVELOPERS.md", "README.md"];
    let needless = |file: &&String| {
        let mut names = file.split('/');
        let packed = own.contains(&file.as_str()) || names.next().is_some_and(|at| FOLDERS.contains(&at));
        !packed || names.any(left_behind)
    };
    let more: Vec<&String> = listed.iter().filter(needless).collect();
    assert!(more.is_empty(), "in the package without need: {more:?}");
}

/// What the sources take in at build time stands in the package.
#[test]
fn what_the_sources_take_in_is_in_the_package() {
    let root = common::repository();
    let folders = FOLDERS.map(|folder| root.join(folder));
    let mut seen = 0;
    for file in files("src").iter().filter(|file| file.ends_with(".rs")) {
        let text = std::fs::read_to_string(root.join(file)).expect("a source");
        for call in ["include_str!(\"", "include_bytes!(\""] {
            for rest in text.split(call).skip(1) {
                let named = rest.split('"').next().expect("a path");
                let path = root.join(file).parent().expect("a folder").join(named);
                let path = path
                    .canonicalize()
                    .unwrap_or_else(|_| panic!("{file} takes in {named}, which is not there"));
                assert!(
                    folders.iter().any(|folder| path.starts_with(folder)),
                    "{file}: {named} is not packed"
                );
                seen += 1;
            }
        }
    }
    assert!(seen >= 8, "{seen} seen");
}

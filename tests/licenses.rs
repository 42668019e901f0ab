//! What the program is built from: every package comes from the registry, at one version that the lock file
//! names, under a license that lets a firm use it and hand it on.
//!
//! Advisories are not looked up here: their list is no package, and a build that needs a network for it would
//! fail without one.
mod common;

use serde_json::Value;
use std::process::Command;

/// Licenses that ask for a notice, or for changes to the package itself to be shown, and for no more.
const ALLOWED: [&str; 13] = [
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "MPL-2.0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Whether an SPDX expression leaves a choice that is allowed; an older one writes `/` for `OR`.
fn allowed(expression: &str) -> bool {
    let plain = expression.replace('/', " OR ");
    // `AND` binds parts that must all be allowed; none of the packages nests deeper than one pair of brackets.
    let choice = |part: &str| {
        part.trim_matches(['(', ')', ' '])
            .split(" OR ")
            .any(|name| ALLOWED.contains(&name.trim_matches(['(', ')', ' '])))
    };
    match plain.contains('(') {
        true => plain.split(" AND ").all(choice),
        false => {
            plain.split(" OR ").any(|part| part.split(" AND ").all(|name| ALLOWED.contains(&name.trim())))
        }
    }
}

#[test]
fn licenses_are_read_as_they_are_meant() {
    for good in ["MIT", "MIT/Apache-2.0", "(MIT OR Apache-2.0) AND Unicode-3.0", "GPL-3.0-only OR MIT"] {
        assert!(allowed(good), "{good}");
    }
    for bad in ["", "GPL-3.0-only", "MIT AND GPL-3.0-only", "(MIT OR ISC) AND AGPL-3.0-only"] {
        assert!(!allowed(bad), "{bad}");
    }
}

#[test]
fn every_package_is_from_the_registry_and_under_a_license_that_is_allowed() {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(common::repository())
        .output()
        .expect("cargo runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let told: Value = serde_json::from_slice(&output.stdout).expect("JSON of the packages");
    let packages = common::list(&told, "/packages");
    assert!(packages.len() > 200, "only {} packages", packages.len());
    let mut wrong = Vec::new();
    for package in packages.iter().filter(|package| package["name"] != "longsweep") {
        let name = format!("{} {}", common::text(package, "/name"), common::text(package, "/version"));
        let license = package["license"].as_str().unwrap_or("");
        if !allowed(license) {
            wrong.push(format!("{name}: {license:?} is not allowed"));
        }
        if !package["source"].as_str().is_some_and(|source| source.starts_with("registry+")) {
            wrong.push(format!("{name} does not come from the registry"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

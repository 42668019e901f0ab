//! What the comparison of two revisions and the jobs by revision print, for revisions changed by lot, held against what
//! was changed (`tests/reference/printed_changes.py`).
mod common;

use common::generate::Dice;
use common::houses::crowded;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

#[test]
fn every_change_of_a_revision_is_told_and_each_job_that_fares_otherwise_by_it() {
    let company = common::demo_without_jobs();
    let path = company.path();
    fs::remove_dir_all(path.join("content/lessons")).expect("lessons");
    for n in 0..5 {
        fs::write(path.join(format!("jobs/house-{n}.yaml")), crowded(&mut Dice::new(61_000 + n)))
            .expect("a job");
    }
    let firm = path.join("content/company.yaml");
    let text =
        fs::read_to_string(&firm).expect("the firm").replace("standard: \"2026-1\"", "standard: \"2026-2\"");
    fs::write(&firm, text).expect("the firm");
    let (mut wrong, mut changes) = (Vec::new(), 0.0);
    for seed in 1..=8 {
        change(path, seed);
        judged_by(path, "2026-2");
        let now: BTreeMap<String, Value> = common::inspect(path, &[]).iter().map(today).collect();
        fs::write(path.join("today.json"), serde_json::to_vec(&now).expect("JSON")).expect("the verdicts");
        judged_by(path, "2026-1");
        common::publish(path);
        let found = common::reckon("printed_changes.py", &[Path::new("read"), path]);
        wrong.extend(common::list(&found, "/wrong").iter().map(|fault| format!("seed {seed}: {fault}")));
        changes += common::number(&found, "/count");
    }
    assert!(wrong.is_empty(), "{} faults: {:#?}", wrong.len(), &wrong[..wrong.len().min(12)]);
    assert!(changes > 150.0, "{changes} changes");
}

/// Revision 2026-2, changed by lot from 2026-1.
fn change(company: &Path, seed: u32) {
    let script = common::repository().join("tests/reference/printed_changes.py");
    let arguments = [script.as_os_str(), "change".as_ref(), company.as_os_str()];
    let done = Command::new(common::python()).arg("-B").args(arguments).arg(seed.to_string()).status();
    assert!(done.expect("Python runs").success());
}

/// Has every job name its revision.
fn judged_by(company: &Path, revision: &str) {
    for entry in fs::read_dir(company.join("jobs")).expect("jobs") {
        let file = entry.expect("a job").path();
        let text = fs::read_to_string(&file).expect("a job");
        let bare: String = text
            .lines()
            .filter(|line| !line.starts_with("standard:"))
            .map(|line| format!("{line}\n"))
            .collect();
        fs::write(&file, format!("standard: \"{revision}\"\n{bare}")).expect("a job");
    }
}

/// A job with its verdict and what decides it, in the words of the jobs by revision.
fn today(job: &Value) -> (String, Value) {
    let mut broken: BTreeMap<(&str, &str), &str> = BTreeMap::new();
    let lines = ["/inlets", "/trunks"].into_iter().flat_map(|kind| common::list(job, kind));
    for finding in lines.chain([job]).flat_map(|one| common::list(one, "/findings")) {
        let verdict = common::text(finding, "/verdict");
        if ["fail", "hold"].contains(&verdict) {
            let clause = (common::text(finding, "/clause"), common::text(finding, "/number"));
            // By the letters, fail comes before hold.
            let worst = broken.entry(clause).or_insert(verdict);
            *worst = verdict.min(worst);
        }
    }
    let broken: Vec<_> = broken.iter().map(|((id, number), verdict)| (verdict, id, number)).collect();
    (common::text(job, "/job").into(), json!({"verdict": job["verdict"], "broken": broken}))
}

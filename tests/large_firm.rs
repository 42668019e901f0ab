//! A firm of 300 jobs, published whole: no page of the set but the job list and the packets is larger than in
//! a firm of 30, and every job is found in the list.
mod common;

use common::many::fill;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Each list of a page may fill up to the rows it names (four lists of eight, some 400 bytes a row); a page that
/// listed every job would grow by a hundred thousand.
const MORE_BYTES: u64 = 4 * 8 * 400;

/// Pages of the set but packets and the job list, each with its bytes.
fn pages(company: &Path) -> BTreeMap<String, u64> {
    let site = company.join("site");
    let files = walkdir::WalkDir::new(&site).into_iter().flatten().filter(|file| file.file_type().is_file());
    let name = |path: &Path| path.strip_prefix(&site).expect("below the set").to_string_lossy().into_owned();
    files
        .map(|file| (name(file.path()), file.metadata().expect("a file").len()))
        .filter(|(name, _)| name.ends_with(".html"))
        .filter(|(name, _)| !name.starts_with("jobs/") && !name.starts_with("job-list/"))
        .collect()
}

#[test]
fn no_page_of_a_firm_of_300_jobs_is_larger_than_in_a_firm_of_30() {
    let company = common::demo_without_jobs();
    let root = company.path();
    fill(root, 30);
    assert!(common::run(root, &["publish"]).code < 2);
    let some = pages(root);
    fs::remove_dir_all(root.join("jobs")).expect("the jobs go");
    let files = fill(root, 300);
    assert!(common::run(root, &["publish"]).code < 2);
    let many = pages(root);
    assert_eq!(some.keys().collect::<Vec<_>>(), many.keys().collect::<Vec<_>>());
    for (name, bytes) in &many {
        assert!(*bytes < some[name] + MORE_BYTES, "{name}: {} bytes, {bytes} with 300 jobs", some[name]);
    }
    let lists = walkdir::WalkDir::new(root.join("site/job-list")).into_iter().flatten();
    let lists = lists.filter(|file| file.file_type().is_file()).map(|file| fs::read_to_string(file.path()));
    let lists: String = lists.map(|text| text.expect("a page")).collect();
    for file in files {
        let key = file.strip_prefix(root.join("jobs")).expect("a job").with_extension("");
        let link = format!("href=\"../jobs/{}/index.html\"", key.display());
        assert!(lists.contains(&link), "{} is in no list", key.display());
    }
}

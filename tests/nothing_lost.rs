//! Publishing under bad luck: folders that are away, records that are torn, pages changed by hand. Whatever
//! happened, what ends up in `site/` equals a publish from nothing, and nothing is lost on the way.
mod common;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Every file of the set with its bytes; what the program keeps for itself and what was set aside left out.
fn set(company: &Path) -> BTreeMap<String, Vec<u8>> {
    let site = company.join("site");
    let files = walkdir::WalkDir::new(&site).into_iter().filter_map(|entry| {
        let entry = entry.expect("a readable folder");
        let path = entry.path().strip_prefix(&site).expect("below the folder").to_string_lossy().into_owned();
        let counts =
            entry.file_type().is_file() && !path.contains(".longsweep-") && !path.contains(".by-hand-");
        counts.then(|| (path, fs::read(entry.path()).expect("a readable file")))
    });
    files.collect()
}

#[test]
fn a_folder_that_is_away_takes_no_page_with_it() {
    for folder in ["jobs", "content/lessons"] {
        let demo = common::demo();
        let company = demo.path();
        common::publish(company);
        let whole = set(company);
        let (place, away) = (company.join(folder), company.join("away"));
        fs::rename(&place, &away).expect("a rename");
        let run = common::run(company, &["publish"]);
        assert_eq!(run.code, 2, "{}", run.err);
        assert!(run.err.contains(folder) && run.err.contains("missing"), "{}", run.err);
        let kept = set(company);
        let lost: Vec<&String> = whole.keys().filter(|path| !kept.contains_key(*path)).collect();
        assert!(lost.is_empty(), "lost with {folder}: {lost:?}");
        fs::rename(&away, &place).expect("a rename");
        common::publish(company);
        assert_eq!(set(company), whole, "after {folder} came back");
    }
}

#[test]
fn a_torn_record_and_pages_changed_by_hand_end_in_a_publish_from_nothing() {
    let demo = common::demo();
    let company = demo.path();
    common::publish(company);
    let whole = set(company);
    let page = whole.keys().find(|path| path.ends_with("owner.html")).expect("an owner's sheet").clone();
    let record = company.join("site").join(".longsweep-set.json");
    for text in ["", "{\"made\": {\"index.html\": \"00", "[1]"] {
        fs::write(&record, text).expect("a record");
        fs::write(company.join("site").join(&page), "<p>mine</p>").expect("a page");
        fs::remove_file(company.join("site/index.html")).expect("a page");
        let run = common::run(company, &["publish"]);
        assert!(run.err.contains(&page), "what became of {page} is not said: {}", run.err);
        fs::remove_file(company.join("site").join(&page)).expect("a foreign page");
        common::publish(company);
        assert_eq!(set(company), whole);
    }
    // With the record whole, a page changed by hand is set aside and the set is whole at once.
    fs::write(company.join("site").join(&page), "<p>mine</p>").expect("a page");
    let run = common::run(company, &["publish"]);
    assert_eq!(run.code, 0, "{}", run.err);
    let aside = page.replace(".html", ".by-hand-1.html");
    assert!(run.err.contains(&aside), "{}", run.err);
    assert_eq!(fs::read_to_string(company.join("site").join(&aside)).expect("the page"), "<p>mine</p>");
    assert_eq!(set(company), whole);
}

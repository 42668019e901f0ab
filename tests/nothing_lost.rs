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

/// A little generator of our own (xorshift, Marsaglia 2003), so that a failure can be told by its seed.
struct Dice(u64);

impl Dice {
    fn throw(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % sides as u64) as usize
    }
}

/// One edit of a company folder, as a person or bad luck would make it; answers what it was.
fn edit(company: &Path, dice: &mut Dice) -> String {
    let jobs: Vec<_> = walkdir::WalkDir::new(company.join("jobs"))
        .sort_by_file_name()
        .into_iter()
        .flatten()
        .filter(|entry| entry.path().extension().is_some_and(|ending| ending == "yaml"))
        .map(|entry| entry.into_path())
        .collect();
    let one = &jobs[dice.throw(jobs.len())];
    let name = one.file_name().expect("a name").to_string_lossy().into_owned();
    let text = fs::read_to_string(one).expect("a job");
    let site = company.join("site");
    match dice.throw(8) {
        0 => fs::write(one, text.replacen("title: ", "title: Old ", 1)).map(|()| format!("retitle {name}")),
        1 => fs::write(one, text.replacen("run: 10 ft", "run: 11 ft", 1)).map(|()| format!("move {name}")),
        2 => fs::write(one, format!("{text}\nnonsense: yes\n")).map(|()| format!("spoil {name}")),
        3 => fs::write(one, text.replace("\nnonsense: yes\n", "")).map(|()| format!("mend {name}")),
        4 => {
            let copy = one.with_file_name(format!("copy-{}-{name}", dice.throw(100)));
            fs::write(copy, text).map(|()| format!("copy {name}"))
        }
        5 if jobs.len() > 3 => fs::remove_file(one).map(|()| format!("remove {name}")),
        6 => {
            let firm = company.join("content/company.yaml");
            let text = fs::read_to_string(&firm).expect("a firm");
            fs::write(&firm, text.replacen("name: ", "name: New ", 1)).map(|()| "rename the firm".into())
        }
        _ => {
            let pages: Vec<String> = set(company).into_keys().collect();
            let page = &pages[dice.throw(pages.len())];
            fs::remove_file(site.join(page)).map(|()| format!("lose {page}"))
        }
    }
    .expect("an edit")
}

#[test]
fn after_any_edits_the_set_equals_a_publish_from_nothing() {
    for seed in [7, 1931] {
        let demo = common::demo();
        let company = demo.path();
        let mut dice = Dice(seed);
        let mut told = Vec::new();
        common::run(company, &["publish"]);
        for _ in 0..5 {
            for _ in 0..=dice.throw(2) {
                told.push(edit(company, &mut dice));
            }
            let kept = common::run(company, &["publish"]);
            let now = set(company);
            fs::rename(company.join("site"), company.join("site-kept")).expect("a rename");
            let fresh = common::run(company, &["publish"]);
            let from_nothing = set(company);
            assert_eq!(kept.code, fresh.code, "seed {seed}, {told:?}: {}", kept.err);
            let odd: Vec<&String> = now
                .keys()
                .chain(from_nothing.keys())
                .filter(|path| now.get(*path) != from_nothing.get(*path))
                .collect();
            assert!(odd.is_empty(), "seed {seed}, {told:?}: {odd:?}");
            fs::remove_dir_all(company.join("site")).expect("the fresh set goes");
            fs::rename(company.join("site-kept"), company.join("site")).expect("a rename");
        }
    }
}

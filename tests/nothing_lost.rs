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
        let demo = small();
        let company = demo.path();
        common::publish(company);
        let whole = set(company);
        let (place, away) = (company.join(folder), company.join("away"));
        fs::rename(&place, &away).expect("a rename");
        let run = common::run(company, &["publish"]);
        assert_eq!(run.code, 2, "{}", run.err);
        assert!(run.err.contains(folder) && run.err.contains("missing"), "{}", run.err);
        let kept = set(company);
        // The index of words is made from what is at hand, in shards that come and go with the words.
        let gone = |path: &&String| !path.starts_with("find/") && !kept.contains_key(*path);
        let lost: Vec<&String> = whole.keys().filter(gone).collect();
        assert!(lost.is_empty(), "lost with {folder}: {lost:?}");
        fs::rename(&away, &place).expect("a rename");
        common::publish(company);
        assert_eq!(set(company), whole, "after {folder} came back");
    }
}

#[test]
fn a_torn_record_and_pages_changed_by_hand_end_in_a_publish_from_nothing() {
    let demo = small();
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
    // Without its record a set is made anew where a job has changed, and what of it cannot be read stands under a bar.
    fs::remove_file(&record).expect("a record");
    let [changed, spoilt] =
        ["tern-house", "godwit-house"].map(|job| company.join(format!("jobs/{job}.yaml")));
    let good = [&changed, &spoilt].map(|job| fs::read_to_string(job).expect("a job"));
    fs::write(&changed, good[0].replacen("title: ", "title: New ", 1)).expect("a job");
    fs::write(&spoilt, format!("{}\nnonsense: yes\n", good[1])).expect("a job");
    let run = common::run(company, &["publish"]);
    assert!(!run.err.contains("left alone"), "{}", run.err);
    assert_law(company, &whole, |path| path.starts_with("jobs/godwit-house/"));
    [changed, spoilt].iter().zip(good).for_each(|(job, text)| fs::write(job, text).expect("a job"));
    common::publish(company);
    assert_eq!(set(company), whole);
    // With the record whole, a page changed by hand is set aside and the set is whole at once.
    fs::write(company.join("site").join(&page), "<p>mine</p>").expect("a page");
    let run = common::run(company, &["publish"]);
    assert_eq!(run.code, 0, "{}", run.err);
    let aside = page.replace(".html", ".by-hand-1.html");
    assert!(run.err.contains(&aside), "{}", run.err);
    assert_eq!(fs::read_to_string(company.join("site").join(&aside)).expect("the page"), "<p>mine</p>");
    assert_eq!(set(company), whole);
}

/// Every sheet of a page stands under a bar that says that it is an earlier one.
fn under_bar(page: &str) -> bool {
    let sheets = page.matches("<section class=\"sheet").count();
    sheets > 0 && page.matches("<p class=\"bar earlier\"").count() == sheets
}

/// A publish from nothing of the same sources, beside the one that has a past.
fn from_nothing(company: &Path) -> BTreeMap<String, Vec<u8>> {
    fs::rename(company.join("site"), company.join("site-kept")).expect("a rename");
    common::run(company, &["publish"]);
    let fresh = set(company);
    fs::remove_dir_all(company.join("site")).expect("the fresh set goes");
    fs::rename(company.join("site-kept"), company.join("site")).expect("a rename");
    fresh
}

/// The law where a source cannot be read: what of an earlier run stands in its place is as it was then, under
/// a bar on every sheet; all else equals a publish from nothing.
fn assert_law(company: &Path, whole: &BTreeMap<String, Vec<u8>>, stands: impl Fn(&str) -> bool) {
    let (now, fresh) = (set(company), from_nothing(company));
    for (path, bytes) in &now {
        if !stands(path) {
            assert!(fresh.get(path) == Some(bytes), "{path} is not as a publish from nothing makes it");
        } else if path.ends_with(".html") {
            let page = String::from_utf8_lossy(bytes);
            assert!(under_bar(&page), "{path} stands without a bar");
        } else if path.ends_with(".json") {
            assert!(String::from_utf8_lossy(bytes).contains("\"not_read_again\": \"because of "), "{path}");
        } else {
            assert!(whole.get(path) == Some(bytes), "{path} has changed");
        }
    }
    let lost: Vec<&String> = whole.keys().filter(|path| stands(path) && !now.contains_key(*path)).collect();
    assert!(lost.is_empty(), "{lost:?}");
    let gone: Vec<&String> = fresh.keys().filter(|path| !now.contains_key(*path)).collect();
    assert!(gone.is_empty(), "{gone:?}");
}

/// A company with two jobs and one lesson, so that many publishes take little time.
fn small() -> tempfile::TempDir {
    let demo = common::demo_without_jobs();
    for job in ["tern-house", "godwit-house"] {
        let file = format!("jobs/{job}.yaml");
        fs::copy(common::repository().join(&file), demo.path().join(&file)).expect("a job");
    }
    let lessons = demo.path().join("content/lessons");
    fs::remove_dir_all(&lessons).expect("the lessons");
    fs::create_dir(&lessons).expect("a folder");
    let lesson = "---\ntitle: Bends\norder: 1\nminutes: 2\npart: Lay out\nsummary: Few and wide\nable: [Turn a corner]\n---\n\n## Few\n\nFew and wide.\n";
    fs::write(lessons.join("bends.md"), lesson).expect("a lesson");
    demo
}

#[test]
fn a_faulty_part_stops_the_jobs_that_use_it_and_their_last_packets_stand_under_a_bar() {
    let demo = small();
    let company = demo.path();
    common::publish(company);
    let whole = set(company);
    let hoses = company.join("content/catalog/hoses.yaml");
    let good = fs::read_to_string(&hoses).expect("the hoses");
    // One of the two jobs uses this hose.
    fs::write(
        &hoses,
        good.replace("id: socked-40, name: Socked hose 40 ft, length: 40 ft", "id: socked-40, length: 40"),
    )
    .expect("the hoses");
    let run = common::run(company, &["publish"]);
    assert_eq!(run.code, 2, "{}", run.err);
    assert_eq!(run.err.matches("no unit after `40`").count(), 1, "named once: {}", run.err);
    assert!(run.err.contains("1 job rests on it and is unread: tern-house"), "{}", run.err);
    let stands = |path: &str| path.starts_with("jobs/tern-house/");
    assert_law(company, &whole, stands);
    let cover = fs::read_to_string(company.join("site/jobs/tern-house/index.html")).expect("the cover");
    let (made, since) = (told(&cover, "data-made"), told(&cover, "data-since"));
    assert!(cover.contains("because of content/catalog/hoses.yaml:7:") && made.len() == 16, "{made}");
    assert!(!cover.contains("may be built as drawn") && cover.contains(">not read again</span>"), "{cover}");
    let office = fs::read_to_string(company.join("site/jobs/tern-house/office.html")).expect("the annex");
    assert!(
        office.contains("@page s1{@top-center{content:\"NOT READ AGAIN\"}}")
            && !office.contains(">pass</span>")
    );
    // A second publish keeps both times, and changes nothing.
    let again = common::run(company, &["publish"]);
    assert!(again.err.contains(" 0 files written"), "{}", again.err);
    let cover = fs::read_to_string(company.join("site/jobs/tern-house/index.html")).expect("the cover");
    assert_eq!((told(&cover, "data-made"), told(&cover, "data-since")), (made, since));
    // `inspect` reads neither.
    let inspected = common::run(company, &["inspect", "tern-house"]);
    assert_eq!(inspected.code, 2, "{}", inspected.out);
    assert!(!inspected.out.contains("PASS") && inspected.err.contains("rests on it"), "{}", inspected.err);
    fs::write(&hoses, good).expect("the hoses");
    common::publish(company);
    assert_eq!(set(company), whole, "mended");
}

/// Sources that would stand at one page stop only themselves: each is an error that names its file, and all
/// else is published.
#[test]
fn an_unread_job_has_its_page_and_its_bar_whatever_became_of_its_cover() {
    let small = small();
    let company = small.path();
    common::publish(company);
    let covers = ["tern-house", "godwit-house"].map(|job| {
        let source = company.join(format!("jobs/{job}.yaml"));
        let text = fs::read_to_string(&source).expect("a job");
        fs::write(source, format!("{text}\nnonsense: yes\n")).expect("a job");
        company.join(format!("site/jobs/{job}/index.html"))
    });
    let [lost, changed] = covers;
    fs::remove_file(&lost).expect("a cover");
    let mut by_hand = fs::read(&changed).expect("a cover");
    by_hand.extend_from_slice(b"<!-- looked at -->");
    fs::write(&changed, &by_hand).expect("a cover");
    assert_eq!(common::run(company, &["publish"]).code, 2);
    // The one says what cannot be read, as without a past; the other does not go on saying that it may be built.
    let fresh = from_nothing(company);
    assert_eq!(Some(&fs::read(&lost).expect("a page")), fresh.get("jobs/tern-house/index.html"));
    assert!(under_bar(&fs::read_to_string(&changed).expect("a page")));
    let aside = || {
        let beside = changed.parent().expect("a folder").read_dir().expect("a folder").flatten();
        let by_hand = beside.filter(|file| file.file_name().to_string_lossy().contains(".by-hand-"));
        by_hand.map(|file| fs::read(file.path()).expect("what was set aside")).collect::<Vec<_>>()
    };
    assert_eq!(aside(), [by_hand.clone()]);
    // Nor is it set aside again.
    common::run(company, &["publish"]);
    assert_eq!(aside(), [by_hand]);
}

#[test]
fn two_sources_of_one_page_stop_no_other() {
    type Change = fn(String) -> String;
    let same: Change = |text| text;
    let cases: [(&str, &str, &str, Change); 3] = [
        ("two lessons of one name", "content/lessons/Bends.md", "content/lessons/bends.md", same),
        (
            "a clause with the page of the index",
            "content/standard/2026-1.yaml",
            "content/standard/2026-1.yaml",
            |text| text.replacen("id: probe", "id: index", 1),
        ),
        (
            "two revisions with one slug",
            "content/standard/copy.yaml",
            "content/standard/2025-2.yaml",
            |text| text.replacen("revision: \"2025-2\"", "revision: \"2025_2\"", 1),
        ),
    ];
    for (what, file, from, change) in cases {
        let demo = small();
        let company = demo.path();
        let text = fs::read_to_string(company.join(from)).expect("a file");
        let changed = change(text.clone());
        assert!(changed != text || file != from, "{what}: nothing was changed");
        fs::write(company.join(file), changed).expect("a file");
        let run = common::run(company, &["publish"]);
        assert_eq!(run.code, 2, "{what}: {}", run.err);
        assert!(run.err.contains(file), "{what}: {}", run.err);
        let now = set(company);
        for page in ["index.html", "standard/2025-2/index.html", "find.html"] {
            assert!(now.contains_key(page), "{what}: {page} is not published: {}", run.err);
        }
    }
}

fn told(page: &str, name: &str) -> String {
    let rest = page.split_once(&format!("{name}=\"")).map_or("", |(_, rest)| rest);
    rest.split('"').next().unwrap_or("").to_owned()
}

#[test]
fn a_faulty_job_standard_lesson_or_firm_leaves_what_was_made_before_under_a_bar() {
    let demo = small();
    let company = demo.path();
    common::publish(company);
    let whole = set(company);
    let jobs = |path: &str| path.starts_with("jobs/");
    type Stands = fn(&str) -> bool;
    let cases: [(&str, &str, &str, Stands); 4] = [
        ("jobs/tern-house.yaml", "title: ", "titel: ", |path| path.starts_with("jobs/tern-house/")),
        ("content/lessons/bends.md", "title: ", "titel: ", |path| path == "lessons/bends.html"),
        ("content/standard/2026-1.yaml", "level: must", "level: mist", |path| {
            path.starts_with("jobs/") || path.starts_with("standard/2026-1/")
        }),
        ("content/company.yaml", "paper: ", "papre: ", |path| path.starts_with("jobs/")),
    ];
    for (file, from, to, stands) in cases {
        let path = company.join(file);
        let good = fs::read_to_string(&path).expect("a file");
        fs::write(&path, good.replacen(from, to, 1)).expect("a file");
        let run = common::run(company, &["publish"]);
        assert_eq!(run.code, 2, "{file}: {}", run.err);
        assert_law(company, &whole, stands);
        fs::write(&path, good).expect("a file");
        common::publish(company);
        assert_eq!(set(company), whole, "{file} mended");
    }
    // Without a firm, a catalog or a theme nothing can be made: all stands.
    for file in
        ["content/company.yaml", "content/catalog/tube-and-fittings.yaml", "themes/drafting/paper.html"]
    {
        let (path, aside) = (company.join(file), company.join("aside"));
        fs::rename(&path, &aside).expect("a rename");
        let run = common::run(company, &["publish"]);
        assert_eq!(run.code, 2, "{file}: {}", run.err);
        let now = set(company);
        assert_eq!(now.keys().collect::<Vec<_>>(), whole.keys().collect::<Vec<_>>(), "{file}");
        for (path, bytes) in now.iter().filter(|(path, _)| path.ends_with(".html")) {
            assert!(under_bar(&String::from_utf8_lossy(bytes)), "{file}: {path} stands without a bar");
        }
        fs::rename(&aside, &path).expect("a rename");
        common::publish(company);
        assert!(set(company) == whole, "{file} came back");
    }
    let none = whole.keys().filter(|path| jobs(path)).count();
    assert!(none > 10, "{none} files of jobs");
}

/// Publishes with a file of the theme changed; answers the run, what stands then, and puts the file right.
fn with_theme(
    company: &Path,
    file: &str,
    change: impl Fn(&str) -> String,
) -> (common::Run, BTreeMap<String, Vec<u8>>) {
    let path = company.join("themes/drafting").join(file);
    let good = fs::read_to_string(&path).expect("a template");
    fs::write(&path, change(&good)).expect("a template");
    let run = common::run(company, &["publish"]);
    let stands = set(company);
    fs::write(&path, good).expect("a template");
    (run, stands)
}

/// Whether a page is that of a clause.
fn is_clause(path: &str) -> bool {
    let parts: Vec<&str> = path.split('/').collect();
    matches!(parts[..], ["standard", _, page] if !["index.html", "book.html", "changes.html"].contains(&page))
}

#[test]
fn a_slip_in_a_template_stops_the_pages_that_use_it_and_no_others() {
    let demo = small();
    let company = demo.path();
    common::publish(company);
    let whole = set(company);
    let slip = |text: &str| format!("{text}\n{{{{ body.nothing.at_all }}}}\n");
    // A template of packets: told once, and both packets stand under their bars.
    let (run, now) = with_theme(company, "route.html", slip);
    assert_eq!(run.code, 2, "{}", run.err);
    assert!(
        run.err.contains("themes/drafting/route.html") && run.err.contains("2 jobs rest on it"),
        "{}",
        run.err
    );
    // The index of words and the list of jobs are those of the jobs that are read.
    let lasting = |path: &str| path.starts_with("jobs/") || path.starts_with("lessons/");
    for (path, bytes) in whole.iter().filter(|(path, _)| lasting(path)) {
        let now = String::from_utf8_lossy(now.get(path).unwrap_or_else(|| panic!("{path} is gone")));
        let packet = path.starts_with("jobs/") && path.ends_with("index.html");
        assert!(!packet || (now.contains("bar earlier") && now.contains("route.html:")), "{path}");
        let lesson = path.starts_with("lessons/");
        assert!(!lesson || now.as_bytes() == bytes.as_slice(), "{path}");
    }
    // A template of the set: the pages that use it stand under their bars, and all others are made.
    type Uses = fn(&str) -> bool;
    let of_the_set: [(&str, Uses); 3] = [
        ("set-cover.html", |path| path == "index.html"),
        ("find.html", |path| path == "find.html" || path.starts_with("find/")),
        ("clause.html", |path| is_clause(path)),
    ];
    let firm = company.join("content/company.yaml");
    let told_firm = fs::read_to_string(&firm).expect("the firm");
    for (template, uses) in of_the_set {
        // The firm's new name shows which pages are new.
        fs::write(&firm, told_firm.replacen("name: ", "name: New ", 1)).expect("the firm");
        common::publish(company);
        let renamed = set(company);
        fs::write(&firm, &told_firm).expect("the firm");
        let (run, now) = with_theme(company, template, slip);
        assert_eq!(run.code, 2, "{}", run.err);
        assert_eq!(run.err.matches(&format!("drafting/{template}:")).count(), 1, "{}", run.err);
        for (path, bytes) in &now {
            let old = renamed.get(path);
            match (uses(path), path.ends_with(".html")) {
                (false, _) => assert!(whole.get(path) == Some(bytes), "{template}: {path} is not made anew"),
                (true, false) => assert!(old == Some(bytes), "{template}: {path} has changed"),
                (true, true) => {
                    let page = String::from_utf8_lossy(bytes);
                    assert!(under_bar(&page) && page.contains(template), "{template}: {path} has no bar");
                }
            }
        }
        assert!(whole.keys().all(|path| now.contains_key(path) || path.starts_with("find/")), "{template}");
        assert!(now.keys().any(|path| uses(path)), "{template} makes no page");
    }
    common::publish(company);
    assert!(set(company) == whole, "all is right again, and the set is not what it was");
}

#[test]
fn a_theme_whose_stamps_could_not_be_taken_off_is_refused_at_its_line() {
    let demo = small();
    let company = demo.path();
    common::publish(company);
    let (run, _) =
        with_theme(company, "parts.html", |text| text.replace("<span class=\"stamp ", "<b class=\"seal "));
    assert_eq!(run.code, 2, "{}", run.err);
    assert!(run.err.contains("themes/drafting/parts.html:1:4: a stamp is to be written as"), "{}", run.err);
    let (run, _) = with_theme(company, "sheet.html", |text| {
        text.replace("{{ <stamp stamp={block.stamp} size=\"big\" /> }}", "")
    });
    assert_eq!(run.code, 2, "{}", run.err);
    assert!(run.err.contains("themes/drafting/sheet.html:1:1: the title block has no stamp"), "{}", run.err);
}

#[test]
fn what_a_killed_run_and_an_ended_watch_left_is_cleared() {
    let demo = small();
    let (company, site) = (demo.path(), demo.path().join("site"));
    common::publish(company);
    let whole = set(company);
    let bench = site.join(".longsweep-bench");
    fs::create_dir(&bench).expect("a bench");
    fs::write(bench.join("half"), "half a page").expect("a file");
    let left = [".longsweep-watch.js", ".longsweep-journal"].map(|name| site.join(name));
    left.iter().for_each(|path| fs::write(path, "").expect("a file"));
    common::publish(company);
    for path in left.iter().chain([&bench]) {
        assert!(!path.exists(), "{} is still there", path.display());
    }
    assert!(set(company) == whole, "the set has changed");
}

#[test]
fn a_faulty_cap_stops_only_jobs_with_a_trunk() {
    let demo = small();
    let company = demo.path();
    let fittings = company.join("content/catalog/tube-and-fittings.yaml");
    let good = fs::read_to_string(&fittings).expect("the fittings");
    fs::write(&fittings, good.replace("kind: cap, socket: 3/4 in", "kind: cap, socket: 3/4"))
        .expect("the fittings");
    fs::copy(common::repository().join("jobs/avocet-hall.yaml"), company.join("jobs/avocet-hall.yaml"))
        .expect("a job");
    let run = common::run(company, &["inspect"]);
    assert_eq!(run.code, 2, "{}", run.err);
    assert!(run.err.contains("unread: avocet-hall") && !run.err.contains("tern-house"), "{}", run.err);
}

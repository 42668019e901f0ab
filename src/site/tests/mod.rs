//! The set of a firm with one job worked out by hand, one unread, two revisions and a lesson.
mod growth;
mod styles;

use super::input::UnreadRow;
use super::*;
use crate::packet::fixture::{Fixture, gull_cottage, pictures};
use std::path::Path;

/// The theme that comes with the program.
fn theme() -> Theme {
    Theme::from_files(&theme_files()).unwrap()
}

fn theme_files() -> Vec<ThemeFile> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("themes/drafting");
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        files.push(ThemeFile { path: name.clone(), name, text: std::fs::read_to_string(&path).unwrap() });
    }
    files
}

/// Renders the set of a fixture.
fn files_of(fixture: &Fixture) -> Vec<SiteFile> {
    let work = fixture.work();
    let jobs = [JobEntry {
        worked: fixture.worked(&work),
        pictures: pictures(),
        beside: vec![("packet.json".into(), b"{}".to_vec())],
    }];
    let unread = [Unread {
        key: "harbour/tern-house".into(),
        diagnostics: "jobs/harbour/tern-house.yaml:14:9\n 14 |   - run: 12\n           ^^ a length without a unit\n help: write `12 ft`".into(),
        rows: vec![UnreadRow {
            line: "14".into(),
            written: "- run: 12".into(),
            wrong: "A length without a unit.".into(),
            instead: "Write `12 ft`.".into(),
        }],
        packet_stands: false,
    }];
    let lessons = [crate::site::input::LessonPage {
        id: "hose-room".into(),
        title: "Room for the hose".into(),
        part: crate::lesson::Part::LayOut,
        summary_html: "Why 41 ft of raceway will not do for 40 ft of hose.".into(),
        able_html: vec!["Count sticks.".into()],
        tools_html: Vec::new(),
        cautions: Vec::new(),
        task_html: None,
        answers: Vec::new(),
        asks: Vec::new(),
        cards: Vec::new(),
        summary: "Why 41 ft of raceway will not do for 40 ft of hose.".into(),
        minutes: 6,
        clauses: vec!["hose-room".into()],
        html: "<h2 id=\"growth\">Hoses grow</h2><p>Six sticks for a 40 ft hose.</p>".into(),
        headings: vec![(2, "growth".into(), "Hoses grow".into())],
        text: "Hoses grow. Six sticks for a 40 ft hose.".into(),
    }];
    let summaries: Vec<JobSummary> =
        jobs.iter().map(|job| JobSummary::of(&job.worked, &fixture.standards[1])).collect();
    let set = Set {
        firm: &fixture.firm,
        catalog: &fixture.catalog,
        standards: &fixture.standards,
        jobs: &summaries.iter().collect::<Vec<_>>(),
        unread: &unread,
        bar: "",
        lessons: &lessons,
        words: &[],
    };
    let mut files = pages(&set, &theme()).files;
    files.extend(jobs.iter().flat_map(|job| packet_files(&theme(), job.clone()).unwrap()));
    files
}

/// The text of a page.
fn page<'a>(files: &'a [SiteFile], path: &str) -> &'a str {
    let file = files.iter().find(|file| file.path == path).unwrap_or_else(|| panic!("no {path}"));
    std::str::from_utf8(&file.bytes).unwrap()
}

/// Pages of the set.
fn html(files: &[SiteFile]) -> impl Iterator<Item = (&str, &str)> {
    files
        .iter()
        .filter(|f| f.path.ends_with(".html"))
        .map(|f| (f.path.as_str(), std::str::from_utf8(&f.bytes).unwrap()))
}

/// Values of an attribute, references undone.
fn values(text: &str, name: &str) -> Vec<String> {
    let mark = format!(" {name}=\"");
    text.split(&mark)
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .map(|value| value.replace("&amp;", "&").replace("&#x2F;", "/"))
        .collect()
}

/// Follows a relative link.
fn followed(from: &str, link: &str) -> String {
    let mut parts: Vec<&str> = from.split('/').collect();
    parts.pop();
    for part in link.split('/') {
        match part {
            ".." => drop(parts.pop()),
            "." => {}
            part => parts.push(part),
        }
    }
    parts.join("/")
}

#[test]
fn every_link_leads_to_a_file_of_the_set_and_to_an_anchor_there() {
    let fixture = gull_cottage();
    let files = files_of(&fixture);
    let paths: Vec<&str> = files.iter().map(|f| f.path.as_str()).collect();
    for (path, text) in html(&files) {
        for link in values(text, "href").into_iter().chain(values(text, "src")) {
            if link == "data:," {
                continue;
            }
            assert!(!link.contains(':') && !link.starts_with('/'), "{path}: {link} is not relative");
            let (file, anchor) = link.split_once('#').unwrap_or((&link, ""));
            let target = if file.is_empty() { path.to_string() } else { followed(path, file) };
            assert!(paths.contains(&target.as_str()), "{path}: {link} leads nowhere");
            if !anchor.is_empty() {
                let ids = values(page(&files, &target), "id");
                assert!(ids.iter().any(|id| id == anchor), "{path}: no #{anchor} in {target}");
            }
        }
    }
}

#[test]
fn ids_on_a_page_are_unlike() {
    for (path, text) in html(&files_of(&gull_cottage())) {
        let mut ids = values(text, "id");
        let count = ids.len();
        ids.sort();
        ids.dedup();
        assert_eq!(ids.len(), count, "{path}");
    }
}

#[test]
fn markup_in_a_firms_words_is_shown_and_not_run() {
    let files = files_of(&gull_cottage());
    for (path, text) in html(&files) {
        assert!(!text.contains("<script>alert"), "{path}");
        assert!(!text.contains("<stairs>"), "{path}");
    }
    assert!(page(&files, "standard/2026-1/bend-total.html").contains("&lt;script&gt;"));
    assert!(page(&files, "jobs/harbour/gull-cottage/index.html").contains("Loft &lt;stairs&gt;"));
}

#[test]
fn templates_pass_only_ready_markup_through() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("themes/drafting");
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap();
        for before in
            text.split("| safe").collect::<Vec<_>>().split_last().map(|(_, rest)| rest).unwrap_or_default()
        {
            let name = before.trim_end();
            let ready = ["_html", "_svg", "_mathml"].iter().any(|end| name.ends_with(end));
            assert!(ready, "{}: …{}", path.display(), &name[name.len().saturating_sub(30)..]);
        }
    }
}

#[test]
fn every_sheet_has_a_title_block_with_its_number_and_place() {
    for (path, text) in html(&files_of(&gull_cottage())) {
        let sheets = text.matches("<section class=\"sheet ").count();
        assert!(sheets > 0, "{path}");
        assert_eq!(text.matches("<footer class=\"title-block\">").count(), sheets, "{path}");
        assert_eq!(text.matches("<h1").count(), 1, "{path}");
    }
}

#[test]
fn one_page_holds_every_sheet_of_a_job_and_no_other_holds_one_but_the_owners() {
    let files = files_of(&gull_cottage());
    let folder = "jobs/harbour/gull-cottage/";
    let names: Vec<&str> = files.iter().filter_map(|file| file.path.strip_prefix(folder)).collect();
    let elevations = ["hall-elevation.svg", "loft-elevation.svg"];
    assert_eq!(
        names,
        [&["index.html", "owner.html", "office.html"], &elevations[..], &["packet.json"]].concat()
    );
    let sheets = |name: &str| -> Vec<String> {
        let text = page(&files, &format!("{folder}{name}"));
        let heads = text.split("<section class=\"sheet ").skip(1).filter_map(|part| part.split_once('>'));
        heads.flat_map(|(head, _)| values(head, "id")).collect()
    };
    let packet = sheets("index.html");
    assert_eq!(packet.first().map(String::as_str), Some("cover"));
    for place in ["load", "layout", "hall-route", "hall-cuts", "loft-cuts", "check", "owner"] {
        assert_eq!(packet.iter().filter(|id| *id == place).count(), 1, "{place}");
    }
    assert_eq!(sheets("owner.html"), ["owner"]);
    assert_eq!(sheets("office.html"), ["office"]);
}

#[test]
fn an_unread_job_shows_its_diagnostics_on_the_cover_and_on_its_page() {
    let files = files_of(&gull_cottage());
    for path in ["index.html", "jobs/harbour/tern-house/index.html"] {
        assert!(page(&files, path).contains(" length without a unit"), "{path}");
    }
}

#[test]
fn a_clause_names_the_inlets_that_met_and_broke_it() {
    let files = files_of(&gull_cottage());
    let clause = page(&files, "standard/2026-1/bend-total.html");
    assert!(clause.contains("Broke it") && clause.contains("Met it"));
    assert!(clause.contains("../../jobs/harbour/gull-cottage/index.html#loft"));
    assert!(clause.contains("360°"));
}

#[test]
fn dropped_and_loosened_clauses_are_said_so() {
    let files = files_of(&gull_cottage());
    let changes = page(&files, "standard/2026-1/changes.html");
    assert!(changes.contains("1 clause dropped, 1 clause loosened"), "{changes}");
    assert!(changes.contains("Limit was 315°, is 360°."));
    assert!(changes.contains("No reason given."), "a change without a reason is said to have none");
    assert!(changes.contains("Four sweeps were tried"), "{changes}");
    assert!(changes.contains("No dip"));
}

#[test]
fn a_term_stands_once_in_the_index_with_all_its_sheets() {
    let files = files_of(&gull_cottage());
    let index = page(&files, "find.html");
    assert_eq!(index.matches("<b>Hose room</b>").count(), 1);
    assert!(index.contains("Room for the hose") && index.contains(">Lesson 1</a>"));
}

#[test]
fn the_printed_course_has_contents_lessons_record_and_answers_in_that_order() {
    let files = files_of(&gull_cottage());
    let book = page(&files, "course/book.html");
    let marks = [
        "href=\"#lesson-1\"",
        "id=\"lesson-1\"",
        "id=\"l1.growth\"",
        "id=\"study-record\"",
        "id=\"answers\"",
    ];
    let places: Vec<usize> =
        marks.iter().map(|mark| book.find(mark).unwrap_or_else(|| panic!("no {mark}"))).collect();
    assert!(places.is_sorted(), "{places:?}");
    assert!(page(&files, "course/index.html").contains("href=\"book.html\""));
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let fixture = gull_cottage();
    assert!(files_of(&fixture) == files_of(&fixture));
}

#[test]
fn a_theme_without_its_page_is_refused() {
    assert!(Theme::from_files(&[]).is_err());
    let file = |text: &str| ThemeFile {
        name: "paper.html".into(),
        path: "themes/own/paper.html".into(),
        text: text.into(),
    };
    for (text, wanted) in
        [("<p>\n  {% if %}</p>", "themes/own/paper.html:2:9: "), ("{{ a", "themes/own/paper.html:1:")]
    {
        let told = Theme::from_files(&[file(text)]).err().unwrap().to_string();
        assert!(told.starts_with(wanted), "{told}");
    }
    let unknown = Theme::from_files(&[file("<p>\n{{ nobody }}</p>")]).unwrap();
    let fixture = gull_cottage();
    let set = Set {
        bar: "",
        firm: &fixture.firm,
        catalog: &fixture.catalog,
        standards: &fixture.standards,
        jobs: &[],
        unread: &[],
        lessons: &[],
        words: &[],
    };
    let made = pages(&set, &unknown);
    assert!(made.files.is_empty() && made.failed.len() > 20, "{} pages failed", made.failed.len());
    let [told] = &made.faults()[..] else { panic!("one slip is told once: {:?}", made.faults()) };
    assert_eq!(told.place(), "themes/own/paper.html:2:4");
    let help = told.help.as_deref().unwrap_or_default();
    let more = format!("site/index.html and {} more pages", made.failed.len() - 1);
    assert!(told.message.contains("nobody") && help.ends_with(&more), "{help}");
}

/// Writes this repository's jobs and standards for looking at them:
/// `cargo test --lib site::tests::writes -- --ignored`.
#[test]
#[ignore = "writes a set into the temporary folder, to be looked at"]
fn writes_a_set_to_look_at() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let loaded = crate::company::load(root, &crate::standard::kinds());
    let (firm, catalog) = (loaded.firm.unwrap(), loaded.catalog.unwrap());
    let standard = |revision: &str| loaded.standards.iter().find(|s| s.revision == revision).unwrap();
    let read: Vec<_> = loaded.jobs.iter().flatten().collect();
    let works: Vec<_> = read
        .iter()
        .map(|job| crate::work::Work::up(job, standard(&job.standard), &catalog, firm.say()))
        .collect();
    let tapes: Vec<_> = works.iter().map(|_| crate::packet::tape::Tapes::default()).collect();
    let entry = |(work, tapes)| {
        let worked = crate::packet::worked::Worked { firm: &firm, work, workings: &[], tapes };
        JobEntry { pictures: crate::packet::pictures::pictures(&worked), worked, beside: Vec::new() }
    };
    let jobs: Vec<JobEntry> = works.iter().zip(&tapes).map(entry).collect();
    let summaries: Vec<JobSummary> =
        jobs.iter().map(|job| JobSummary::of(&job.worked, standard(&firm.standard))).collect();
    let unread: Vec<Unread> = loaded
        .jobs
        .iter()
        .filter_map(|job| job.as_ref().err())
        .map(|job| Unread {
            key: job.key.clone(),
            diagnostics: job.diagnostics.iter().map(|d| d.render(false, 100)).collect(),
            rows: job.diagnostics.iter().map(UnreadRow::from).collect(),
            packet_stands: false,
        })
        .collect();
    let set = Set {
        firm: &firm,
        catalog: &catalog,
        standards: &loaded.standards,
        jobs: &summaries.iter().collect::<Vec<_>>(),
        unread: &unread,
        bar: "",
        lessons: &[],
        words: &[],
    };
    let folder = std::env::temp_dir().join("longsweep-demo");
    let mut files = pages(&set, &theme()).files;
    files.extend(jobs.iter().flat_map(|job| packet_files(&theme(), job.clone()).unwrap()));
    write(&folder, &files, |_| false).unwrap();
}

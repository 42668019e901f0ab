//! Pages of a firm with many jobs: none grows with them, and each job stands where it belongs.
use super::super::input::UnreadRow;
use super::*;

/// The set of a firm with so many jobs like the fixture's, half of them built to the old revision, and a fifth as
/// many that could not be read.
fn of_a_firm_with(jobs: usize) -> Vec<SiteFile> {
    let fixture = gull_cottage();
    let work = fixture.work();
    let one = JobSummary::of(&fixture.worked(&work), &fixture.standards[1]);
    let old = JobSummary { standard: "2025-1".into(), ..one.clone() };
    let today = summary::Today {
        verdict: crate::standard::Verdict::Fail,
        broken: vec![(crate::standard::Verdict::Fail, "1.1 Bend total".into())],
    };
    let job = |n: usize| {
        let job = if n.is_multiple_of(2) {
            one.clone()
        } else {
            JobSummary { today: Some(today.clone()), ..old.clone() }
        };
        JobSummary {
            key: format!("generated/job-{n:04}"),
            title: format!("House {n:04}"),
            date: format!("20{:02}-{:02}-{:02}", 10 + n % 17, n % 12 + 1, n % 28 + 1),
            ..job
        }
    };
    let summaries: Vec<JobSummary> = (0..jobs).map(job).collect();
    let row = UnreadRow {
        line: "14".into(),
        written: "- run: 12".into(),
        wrong: "A length without a unit.".into(),
        instead: "Write `12 ft`.".into(),
    };
    let unread = |n: usize| Unread {
        key: format!("generated/unread-{n:04}"),
        diagnostics: String::new(),
        rows: vec![row.clone(); n + 1],
        packet_stands: false,
    };
    let unread: Vec<Unread> = (0..jobs / 5).map(unread).collect();
    let set = Set {
        firm: &fixture.firm,
        catalog: &fixture.catalog,
        standards: &fixture.standards,
        jobs: &summaries.iter().collect::<Vec<_>>(),
        unread: &unread,
        lessons: &[],
        words: &[],
        bar: "",
    };
    pages(&set, &theme()).files
}

#[test]
fn no_page_grows_with_the_firm() {
    let (some, many) = (of_a_firm_with(200), of_a_firm_with(2000));
    let lists = |file: &&SiteFile| file.path.starts_with("job-list/") || file.path.starts_with("jobs/");
    for many in many.iter().filter(|file| file.path.ends_with(".html")).filter(|file| !lists(file)) {
        let some = some.iter().find(|some| some.path == many.path).expect("the same sheets");
        // Only the counts may take a digit or two more, and the index may name more shards.
        let more = many.bytes.len() as i64 - some.bytes.len() as i64;
        assert!(more.abs() < 200, "{} grew by {more} bytes", some.path);
    }
    for page in html(&many).filter(|(path, _)| path.starts_with("job-list/")).map(|(_, text)| text) {
        assert!(page.matches("<tr>").count() <= job_list::ROWS + 1);
    }
    let years =
        page(&many, "job-list/index.html").len() as i64 - page(&some, "job-list/index.html").len() as i64;
    assert!(years.abs() < 200, "the first sheet of the list grew by {years} bytes");
}

#[test]
fn every_job_stands_once_in_the_list_of_its_year_and_what_stops_it_among_the_jobs_to_see_to() {
    let files = of_a_firm_with(200);
    let list = |path: &str| path.starts_with("job-list/") && path != "job-list/index.html";
    let (mut of_years, mut to_see_to) = (String::new(), String::new());
    for (path, text) in html(&files).filter(|(path, _)| list(path)) {
        if path.contains("to-see-to") { to_see_to.push_str(text) } else { of_years.push_str(text) }
    }
    for n in 0..200 {
        assert_eq!(of_years.matches(&format!(">House {n:04}<")).count(), 1, "job {n}");
        assert_eq!(to_see_to.matches(&format!(">House {n:04}<")).count(), 1, "job {n}");
    }
    for n in 0..40 {
        assert_eq!(to_see_to.matches(&format!(">generated/unread-{n:04}<")).count(), 1, "unread {n}");
    }
    // What could not be read stands first.
    let first = page(&files, "job-list/to-see-to.html");
    assert!(first.find("unread-0039") < first.find("House"), "unread jobs first");
    let cover = page(&files, "index.html");
    assert_eq!(cover.matches("<article class=\"job-row\">").count(), 2 * met::NAMED);
    assert!(cover.contains("and 232 more") && cover.contains("240 jobs: 0 may be built"), "{cover}");
}

#[test]
fn standard_pages_name_the_worst_and_the_latest_and_count_the_rest() {
    let some = of_a_firm_with(60);
    let clause = page(&some, "standard/2026-1/bend-total.html");
    assert_eq!(clause.matches("House 00").count(), 2 * met::NAMED, "eight that broke it, eight that met it");
    assert!(clause.contains("and 22 more"), "30 lofts broke it");
    // The latest of the sixty, of the newest year, come first.
    let first = clause.find("House 00").map(|at| &clause[at..at + 10]);
    let newest = (0..60).filter(|n| n % 2 == 0).max_by_key(|n| (n % 17, n % 12, n % 28)).unwrap();
    assert_eq!(first, Some(format!("House {newest:04}").as_str()));
}

#[test]
fn jobs_are_counted_by_the_revision_they_were_built_to_and_by_how_they_stand_today() {
    let files = of_a_firm_with(60);
    let built = page(&files, "standard/jobs.html");
    assert!(built.contains("30 jobs were built to it. By revision 2026-1: 30 would fail"), "{built}");
    assert!(built.contains("fail: 1.1 Bend total"));
}

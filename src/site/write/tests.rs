use super::bench::BENCH;
use super::mark::fingerprint;
use super::*;

/// Writes a set of which nothing is held on to.
fn put(dir: &Path, files: &[SiteFile]) -> Result<Report, WriteError> {
    write(dir, files, |_| false)
}

/// A file of a set.
fn file(path: &str, text: &str) -> SiteFile {
    SiteFile { path: path.into(), bytes: text.into() }
}

/// What a folder's file says.
fn said(dir: &Path, path: &str) -> String {
    fs::read_to_string(dir.join(path)).unwrap_or_default()
}

#[test]
fn unchanged_files_are_not_touched() {
    let dir = tempfile::tempdir().unwrap();
    let files = [file("index.html", "a"), file("jobs/x/hall.html", "b")];
    assert_eq!(put(dir.path(), &files).unwrap().written.len(), 2);
    let before = fs::metadata(dir.path().join("index.html")).unwrap().modified().unwrap();
    let report = put(dir.path(), &files).unwrap();
    assert_eq!((report.written.len(), report.unchanged), (0, 2));
    assert_eq!(fs::metadata(dir.path().join("index.html")).unwrap().modified().unwrap(), before);
}

#[test]
fn stale_files_go_and_their_empty_folders_with_them() {
    let dir = tempfile::tempdir().unwrap();
    put(dir.path(), &[file("index.html", "a"), file("jobs/x/y/hall.html", "b")]).unwrap();
    let report = put(dir.path(), &[file("index.html", "a2")]).unwrap();
    assert_eq!(report.removed, ["jobs/x/y/hall.html"]);
    assert!(!dir.path().join("jobs").exists());
    assert_eq!(page(dir.path(), "index.html"), "a2");
}

#[test]
fn stale_files_that_were_edited_stay() {
    let dir = tempfile::tempdir().unwrap();
    put(dir.path(), &[file("index.html", "a"), file("notes.html", "b")]).unwrap();
    fs::write(dir.path().join("notes.html"), "mine now").unwrap();
    let report = put(dir.path(), &[file("index.html", "a")]).unwrap();
    assert_eq!(report.left.len(), 1);
    assert!(!report.left[0].missing);
    assert_eq!(said(dir.path(), "notes.html"), "mine now");
}

#[test]
fn a_run_that_fails_leaves_nothing_on_the_bench() {
    let dir = tempfile::tempdir().unwrap();
    let writer = Writer::open(dir.path()).unwrap();
    let (laid, _) = writer.bench.lay(b"half a sheet").unwrap();
    assert!(laid.starts_with(dir.path().join(BENCH)));
    drop(writer);
    assert!(!dir.path().join(BENCH).exists());
}

#[test]
fn foreign_files_stay() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("README.md"), "keep").unwrap();
    fs::write(dir.path().join("index.html"), "foreign").unwrap();
    let report = put(dir.path(), &[file("index.html", "ours"), file("find.html", "f")]).unwrap();
    assert_eq!(said(dir.path(), "index.html"), "foreign");
    assert_eq!(said(dir.path(), "README.md"), "keep");
    assert!(report.left[0].missing);
    put(dir.path(), &[]).unwrap();
    assert_eq!(said(dir.path(), "index.html"), "foreign");
    assert!(!dir.path().join("find.html").exists());
}

#[test]
fn paths_outside_are_refused_and_nothing_is_written() {
    let dir = tempfile::tempdir().unwrap();
    let site = dir.path().join("site");
    for path in ["../x", "/etc/x", "a//b", "a/../../x", "a\\..\\x", "", ".", "C:x", RECORD] {
        let files = [file("index.html", "a"), file(path, "b")];
        assert!(matches!(put(&site, &files), Err(WriteError::Path(_))), "{path}");
        assert!(!site.exists());
    }
}

#[test]
fn a_record_edited_by_hand_leads_nowhere_outside() {
    let dir = tempfile::tempdir().unwrap();
    let site = dir.path().join("site");
    fs::create_dir(&site).unwrap();
    fs::write(dir.path().join("precious"), "x").unwrap();
    let print = fingerprint(b"x");
    fs::write(site.join(RECORD), format!("{{\"made\":{{\"../precious\":\"{print}\"}}}}")).unwrap();
    put(&site, &[file("index.html", "a")]).unwrap();
    assert_eq!(said(dir.path(), "precious"), "x");
}

/// The page as it stands, without its mark.
fn page(dir: &Path, path: &str) -> String {
    let text = said(dir, path);
    text.split("\n<!-- set ").next().unwrap_or_default().to_owned()
}

#[test]
fn a_record_that_is_torn_empty_or_gone_heals_itself() {
    for record in [Some(""), Some("{\"made\": {\"ind"), None] {
        let dir = tempfile::tempdir().unwrap();
        put(dir.path(), &[file("index.html", "a"), file("jobs/x/hall.html", "b")]).unwrap();
        match record {
            Some(text) => fs::write(dir.path().join(RECORD), text).unwrap(),
            None => fs::remove_file(dir.path().join(RECORD)).unwrap(),
        }
        let report = put(dir.path(), &[file("index.html", "a2"), file("jobs/x/hall.html", "b")]).unwrap();
        assert_eq!(report.written, ["index.html"]);
        assert!(report.left.is_empty() && report.aside.is_empty(), "{report:?}");
        assert_eq!(report.healed, record.is_some());
        let report = put(dir.path(), &[file("index.html", "a2")]).unwrap();
        assert_eq!(report.removed, ["jobs/x/hall.html"]);
    }
}

#[test]
fn without_a_record_the_set_is_known_and_nothing_else_is_touched() {
    let dir = tempfile::tempdir().unwrap();
    let job = |text: &str| {
        [
            file("find.html", "f"),
            file("find/s-a.js", text),
            file("jobs/x/index.html", text),
            file("jobs/x/packet.json", text),
            file("jobs/x/steps.png", text),
        ]
    };
    put(
        dir.path(),
        &[&job("1")[..], &[file("jobs/y/index.html", "y"), file("jobs/y/packet.json", "y")]].concat(),
    )
    .unwrap();
    let copy = fs::read(dir.path().join("jobs/y/index.html")).unwrap();
    for (mine, bytes) in
        [("jobs/y/copy.html", copy.as_slice()), ("mine.html", b"m"), ("jobs/x/mine.csv", b"m")]
    {
        fs::write(dir.path().join(mine), bytes).unwrap();
    }
    fs::remove_file(dir.path().join(RECORD)).unwrap();
    let report = put(dir.path(), &job("2")).unwrap();
    // What carries no mark and has no place of its own is set aside, not lost.
    assert_eq!(report.aside, [("jobs/x/steps.png".to_owned(), "jobs/x/steps.by-hand-1.png".to_owned())]);
    assert_eq!(report.removed, ["jobs/y/index.html", "jobs/y/packet.json"]);
    assert!(report.left.iter().all(|left| left.path == "jobs/y/copy.html"), "{:?}", report.left);
    assert_eq!(said(dir.path(), "jobs/x/packet.json"), "2");
    assert_eq!(said(dir.path(), "find/s-a.js"), "2");
    let report = put(dir.path(), &job("3")).unwrap();
    assert!(report.left.is_empty() && report.removed.is_empty() && report.aside.is_empty(), "{report:?}");
    for mine in ["jobs/y/copy.html", "mine.html", "jobs/x/mine.csv"] {
        assert!(dir.path().join(mine).is_file(), "{mine}");
    }
}

#[test]
fn a_page_edited_by_hand_is_set_aside_and_said() {
    let dir = tempfile::tempdir().unwrap();
    for round in 1..=2 {
        put(dir.path(), &[file("jobs/x/hall.html", "ours")]).unwrap();
        fs::write(dir.path().join("jobs/x/hall.html"), format!("mine {round}")).unwrap();
        let report = put(dir.path(), &[file("jobs/x/hall.html", "ours")]).unwrap();
        let aside = format!("jobs/x/hall.by-hand-{round}.html");
        assert_eq!(report.aside, [("jobs/x/hall.html".to_owned(), aside.clone())]);
        assert_eq!(said(dir.path(), &aside), format!("mine {round}"));
        assert_eq!(page(dir.path(), "jobs/x/hall.html"), "ours");
    }
}

#[test]
fn what_could_not_be_read_this_time_keeps_its_pages() {
    let dir = tempfile::tempdir().unwrap();
    put(dir.path(), &[file("index.html", "a"), file("jobs/x/hall.html", "b")]).unwrap();
    let held = |path: &str| path.starts_with("jobs/");
    assert!(write(dir.path(), &[file("index.html", "a")], held).unwrap().removed.is_empty());
    assert_eq!(page(dir.path(), "jobs/x/hall.html"), "b");
    assert_eq!(put(dir.path(), &[file("index.html", "a")]).unwrap().removed, ["jobs/x/hall.html"]);
}

#[test]
fn a_run_that_was_cut_off_is_taken_up() {
    let dir = tempfile::tempdir().unwrap();
    put(dir.path(), &[file("takeoff.csv", "1"), file("old.csv", "o")]).unwrap();
    // A killed run: one file put in its place and in the journal, half a line more, rubbish on the bench.
    fs::write(dir.path().join("takeoff.csv"), "2").unwrap();
    let line = format!("{} takeoff.csv\n0123 half", fingerprint(b"2"));
    fs::write(dir.path().join(super::record::JOURNAL), line).unwrap();
    fs::create_dir_all(dir.path().join(BENCH)).unwrap();
    fs::write(dir.path().join(BENCH).join("x"), "half").unwrap();
    let report = put(dir.path(), &[file("takeoff.csv", "3")]).unwrap();
    assert_eq!((report.written, report.removed), (vec!["takeoff.csv".into()], vec!["old.csv".to_owned()]));
    assert!(report.aside.is_empty() && report.left.is_empty());
    let names: Vec<String> = fs::read_dir(dir.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| name != LOCK && name != RECORD)
        .collect();
    assert_eq!(names, ["takeoff.csv"]);
}

#[test]
fn two_sheets_at_one_path_are_refused() {
    let dir = tempfile::tempdir().unwrap();
    let files = [file("a.html", "1"), file("a.html", "2")];
    assert!(matches!(put(dir.path(), &files), Err(WriteError::Twice(_))));
}

#[cfg(unix)]
#[test]
fn symbolic_links_are_neither_followed_nor_replaced() {
    use std::os::unix::fs::symlink;
    let dir = tempfile::tempdir().unwrap();
    let (site, away) = (dir.path().join("site"), dir.path().join("away"));
    fs::create_dir(&site).unwrap();
    fs::create_dir(&away).unwrap();
    fs::write(away.join("target"), "away").unwrap();
    symlink(&away, site.join("jobs")).unwrap();
    symlink(away.join("target"), site.join("find.html")).unwrap();
    let files = [file("jobs/hall.html", "x"), file("find.html", "y"), file("index.html", "z")];
    let report = put(&site, &files).unwrap();
    assert_eq!(report.left.len(), 2);
    assert_eq!(report.written, ["index.html"]);
    assert_eq!(said(&away, "target"), "away");
    assert!(!away.join("hall.html").exists());
}

#[cfg(unix)]
#[test]
fn sheets_may_be_read_by_others() {
    use std::os::unix::fs::PermissionsExt;
    let dir = tempfile::tempdir().unwrap();
    put(dir.path(), &[file("index.html", "a")]).unwrap();
    let mode = fs::metadata(dir.path().join("index.html")).unwrap().permissions().mode();
    // What the mask leaves of 666 is at least the owner's part; under the usual mask it is 644.
    let plain = dir.path().join("plain");
    fs::write(&plain, "x").unwrap();
    assert_eq!(mode & 0o777, fs::metadata(&plain).unwrap().permissions().mode() & 0o777);
}

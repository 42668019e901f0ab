use super::*;

/// A file of a set.
fn file(path: &str, text: &str) -> SiteFile {
    SiteFile { path: path.into(), bytes: text.into() }
}

/// What a folder's file says.
fn said(dir: &Path, path: &str) -> String {
    fs::read_to_string(dir.join(path)).unwrap_or_default()
}

#[test]
fn published_fnv_test_vectors() {
    // FNV reference vectors (Fowler, Noll, Vo, test_fnv.c): 64-bit FNV-1a of "", "a" and "foobar".
    assert_eq!(fingerprint(b""), "cbf29ce484222325-0");
    assert_eq!(fingerprint(b"a"), "af63dc4c8601ec8c-1");
    assert_eq!(fingerprint(b"foobar"), "85944171f73967e8-6");
}

#[test]
fn unchanged_files_are_not_touched() {
    let dir = tempfile::tempdir().unwrap();
    let files = [file("index.html", "a"), file("jobs/x/hall.html", "b")];
    assert_eq!(write(dir.path(), &files).unwrap().written.len(), 2);
    let before = fs::metadata(dir.path().join("index.html")).unwrap().modified().unwrap();
    let report = write(dir.path(), &files).unwrap();
    assert_eq!((report.written.len(), report.unchanged), (0, 2));
    assert_eq!(fs::metadata(dir.path().join("index.html")).unwrap().modified().unwrap(), before);
}

#[test]
fn stale_files_go_and_their_empty_folders_with_them() {
    let dir = tempfile::tempdir().unwrap();
    write(dir.path(), &[file("index.html", "a"), file("jobs/x/y/hall.html", "b")]).unwrap();
    let report = write(dir.path(), &[file("index.html", "a2")]).unwrap();
    assert_eq!(report.removed, ["jobs/x/y/hall.html"]);
    assert!(!dir.path().join("jobs").exists());
    assert_eq!(said(dir.path(), "index.html"), "a2");
}

#[test]
fn stale_files_that_were_edited_stay() {
    let dir = tempfile::tempdir().unwrap();
    write(dir.path(), &[file("index.html", "a"), file("notes.html", "b")]).unwrap();
    fs::write(dir.path().join("notes.html"), "mine now").unwrap();
    let report = write(dir.path(), &[file("index.html", "a")]).unwrap();
    assert_eq!(report.left.len(), 1);
    assert!(!report.left[0].missing);
    assert_eq!(said(dir.path(), "notes.html"), "mine now");
}

#[test]
fn foreign_files_stay() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("README.md"), "keep").unwrap();
    fs::write(dir.path().join("index.html"), "foreign").unwrap();
    let report = write(dir.path(), &[file("index.html", "ours"), file("find.html", "f")]).unwrap();
    assert_eq!(said(dir.path(), "index.html"), "foreign");
    assert_eq!(said(dir.path(), "README.md"), "keep");
    assert!(report.left[0].missing);
    write(dir.path(), &[]).unwrap();
    assert_eq!(said(dir.path(), "index.html"), "foreign");
    assert!(!dir.path().join("find.html").exists());
}

#[test]
fn paths_outside_are_refused_and_nothing_is_written() {
    let dir = tempfile::tempdir().unwrap();
    let site = dir.path().join("site");
    for path in ["../x", "/etc/x", "a//b", "a/../../x", "a\\..\\x", "", ".", "C:x", RECORD] {
        let files = [file("index.html", "a"), file(path, "b")];
        assert!(matches!(write(&site, &files), Err(WriteError::Path(_))), "{path}");
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
    write(&site, &[file("index.html", "a")]).unwrap();
    assert_eq!(said(dir.path(), "precious"), "x");
}

#[test]
fn a_broken_record_stops_the_run() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join(RECORD), "not json").unwrap();
    assert!(matches!(write(dir.path(), &[file("index.html", "a")]), Err(WriteError::Record(_))));
    assert!(!dir.path().join("index.html").exists());
}

#[test]
fn two_sheets_at_one_path_are_refused() {
    let dir = tempfile::tempdir().unwrap();
    let files = [file("a.html", "1"), file("a.html", "2")];
    assert!(matches!(write(dir.path(), &files), Err(WriteError::Twice(_))));
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
    let report = write(&site, &files).unwrap();
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
    write(dir.path(), &[file("index.html", "a")]).unwrap();
    let mode = fs::metadata(dir.path().join("index.html")).unwrap().permissions().mode();
    // What the mask leaves of 666 is at least the owner's part; under the usual mask it is 644.
    let plain = dir.path().join("plain");
    fs::write(&plain, "x").unwrap();
    assert_eq!(mode & 0o777, fs::metadata(&plain).unwrap().permissions().mode() & 0o777);
}

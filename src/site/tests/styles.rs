//! Styles and script stand inside each page, and no more of them than its sheets need.
use super::*;

#[test]
fn every_page_stands_alone() {
    for (path, text) in html(&files_of(&gull_cottage())) {
        for mark in ["<link rel=\"stylesheet", " src=\"", "@import", "@font-face", "url(\""] {
            assert!(!text.contains(mark), "{path} asks for a file beside it: {mark}");
        }
        assert!(text.contains("<style>"), "{path}");
    }
}

#[test]
fn a_page_carries_only_the_styles_of_its_sheets() {
    let files = files_of(&gull_cottage());
    let folder = "jobs/harbour/gull-cottage/";
    let marks = [".cut-tube", ".hand-over", ".finding", ".met-list", ".ask-item", ".book-row", ".find-form"];
    let pages = [
        (format!("{folder}index.html"), [true, true, true, false, false, false, false]),
        (format!("{folder}owner.html"), [false, true, false, false, false, false, false]),
        (format!("{folder}office.html"), [false, false, true, true, false, false, false]),
        ("lessons/hose-room.html".into(), [false, false, false, false, true, false, true]),
        ("standard/2026-1/book.html".into(), [false, false, false, false, false, true, false]),
        ("index.html".into(), [false, false, false, false, false, false, true]),
    ];
    for (path, wanted) in pages {
        let style =
            page(&files, &path).split("<style>").nth(1).and_then(|rest| rest.split("</style>").next());
        let style = style.unwrap_or_default();
        assert!(style.contains(".title-block{") && !style.contains("/*"), "{path}");
        assert_eq!(marks.map(|mark| style.contains(&format!("{mark}{{"))), wanted, "{path}");
    }
}

#[test]
fn a_firms_style_stands_where_its_name_says() {
    let mut files = theme_files();
    for (name, mark) in [("own.css", ".own-all{}"), ("packet-larger.css", ".own-packet{}")] {
        files.push(ThemeFile { name: name.into(), path: name.into(), text: mark.into() });
    }
    let theme = Theme::from_files(&files).unwrap();
    let fixture = gull_cottage();
    let work = fixture.work();
    let job = JobEntry { worked: fixture.worked(&work), pictures: pictures(), beside: Vec::new() };
    let made = packet_files(&theme, &job).unwrap();
    let has =
        |file: &str, mark: &str| page(&made, &format!("jobs/harbour/gull-cottage/{file}")).contains(mark);
    assert!(has("index.html", ".own-all{}") && has("index.html", ".own-packet{}"));
    assert!(has("owner.html", ".own-all{}") && !has("owner.html", ".own-packet{}"));
}

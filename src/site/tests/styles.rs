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
    let made = packet_files(&theme, job).unwrap();
    let has =
        |file: &str, mark: &str| page(&made, &format!("jobs/harbour/gull-cottage/{file}")).contains(mark);
    assert!(has("index.html", ".own-all{}") && has("index.html", ".own-packet{}"));
    assert!(has("owner.html", ".own-all{}") && !has("owner.html", ".own-packet{}"));
}

/// Classes of templates that only the checks of published pages look for.
const FOR_CHECKS: [&str; 3] = ["book-page", "holds", "unread"];

#[test]
fn every_class_of_a_template_is_known_to_a_style_or_a_script() {
    let files = theme_files();
    let rules: String =
        files.iter().filter(|file| !file.name.ends_with(".html")).map(|file| file.text.as_str()).collect();
    let knows = |class: &str| {
        let named = |(at, mark): (usize, &str)| {
            rules[at + mark.len()..].chars().next().is_none_or(|c| !(c.is_alphanumeric() || c == '-'))
        };
        rules.match_indices(&format!(".{class}")).any(named)
    };
    for file in files.iter().filter(|file| file.name.ends_with(".html")) {
        for value in file.text.split(" class=\"").skip(1).filter_map(|rest| rest.split('"').next()) {
            // As far as the template writes it itself: what it puts in is known to whoever gives it.
            let (own, whole) =
                value.split_once('{').map_or((value, true), |(own, _)| (own, own.ends_with(' ')));
            let own = if whole { own } else { own.rsplit_once(' ').map_or("", |(before, _)| before) };
            for class in own.split_whitespace() {
                assert!(knows(class) || FOR_CHECKS.contains(&class), "{}: {class}", file.name);
            }
        }
    }
}

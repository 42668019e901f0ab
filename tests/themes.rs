//! A firm's own theme over another: one page, one style, one word; what is wrong with it told by file and line.
//! That both themes of this repository pass what every page must is checked by `kinds.rs`.
mod common;

use common::browser::Browser;
use serde_json::json;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// The demo with a theme of its own in force.
fn company(theme: &str, files: &[(&str, &str)]) -> TempDir {
    let company = common::demo_without_jobs();
    let about = company.path().join("content/company.yaml");
    let text = fs::read_to_string(&about).expect("the company");
    fs::write(&about, text.replace("theme: drafting", &format!("theme: {theme}"))).expect("the company");
    for (name, text) in files {
        let path = company.path().join("themes").join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        fs::write(path, text).expect("a file");
    }
    company
}

fn read(company: &Path, page: &str) -> String {
    fs::read_to_string(company.join("site").join(page)).expect("a page")
}

#[test]
fn one_page_one_style_and_one_word_are_replaced_without_the_rest() {
    let files = [
        ("own/theme.yaml", "on: drafting\n"),
        ("own/words.html", "<p>Ask Wren for {{ body.words | length }} words.</p>\n"),
        ("own/own.css", ".sheet{border-color:#123}\n"),
        ("own/words.yaml", "Before: Sheet before\n"),
    ];
    let company = company("own", &files);
    common::publish(company.path());
    assert!(read(company.path(), "words.html").contains("<p>Ask Wren for "));
    let cover = read(company.path(), "parts.html");
    let (below, own) = (cover.find(".sheet{display:flex"), cover.find(".sheet{border-color:#123}"));
    assert!(below.is_some() && own > below, "the firm's style does not come last");
    assert!(cover.contains(">Sheet before<") && !cover.contains(">Before<"));
    assert!(cover.contains(">After<"), "a word that nobody replaced is gone");
}

/// Pictures and what an editor or a file manager leaves in a theme's folder stop nothing and change nothing.
#[test]
fn files_that_are_no_part_of_a_theme_are_left_alone() {
    let company = company("own", &[("own/theme.yaml", "on: drafting\n")]);
    common::publish(company.path());
    let before = read(company.path(), "index.html");
    let bytes = [0x89, b'P', b'N', b'G', 0xff, 0xfe, 0];
    for name in ["logo.png", ".own.css.swp", "own.css~", ".DS_Store", "#own.css#", "._own.html", "Thumbs.db"]
    {
        fs::write(company.path().join("themes/own").join(name), bytes).expect("a file");
    }
    common::publish(company.path());
    assert_eq!(read(company.path(), "index.html"), before);
}

#[test]
fn what_is_wrong_with_a_theme_is_told_with_file_and_line() {
    let about = ("own/theme.yaml", "on: drafting\n");
    let cases = [
        (vec![about, ("own/words.html", "<dl>\n{% for x in %}\n</dl>")], "themes/own/words.html:2:"),
        (
            vec![about, ("own/words.html", "<dl>\n\n{{ body.wrods.first.name }}</dl>")],
            "themes/own/words.html:3:",
        ),
        (
            vec![about, ("own/words.yaml", "Al sheets: Contents\n")],
            "themes/own/words.yaml:1:1: no template says `Al sheets` by itself; write `All sheets`",
        ),
        (vec![("own/theme.yaml", "on: darfting\n")], "there is no theme `darfting`; write `drafting`"),
        (vec![("own/theme.yaml", "no: drafting\n")], "themes/own/theme.yaml:1:1"),
        (vec![("own/theme.yaml", "on: own\n")], "theme `own` stands on itself"),
        (
            vec![("own/theme.yaml", "on: more\n"), ("more/theme.yaml", "on: own\n")],
            "theme `own` stands on itself; name another under `on:`",
        ),
        (vec![about, ("own/words.html", "<dl>\n{% include \"wrods.html\" %}\n</dl>")], "wrods.html"),
        (
            vec![about, ("own/words.yaml", "Parts and their figures: Stock\n")],
            "words that the program sets, as stamps, findings, figures and titles, are the same in every theme",
        ),
        (vec![], "there is no theme `own`"),
    ];
    for (files, wanted) in cases {
        let company = company("own", &files);
        let run = common::run(company.path(), &["publish"]);
        assert_ne!(run.code, 0, "{wanted}");
        assert!(run.err.contains(wanted), "{wanted}:\n{}", run.err);
    }
}

/// A style in another code page is told where it stops being UTF-8.
#[test]
fn a_style_that_is_not_utf_8_is_told_by_line_and_column() {
    let company = company("own", &[("own/theme.yaml", "on: drafting\n")]);
    fs::write(company.path().join("themes/own/own.css"), b".a{}\n.b{content:\"caf\xe9\"}\n")
        .expect("a style");
    let run = common::run(company.path(), &["publish"]);
    assert_ne!(run.code, 0);
    let wanted = "themes/own/own.css:2:16: a character that is not UTF-8; save the file as UTF-8";
    assert!(run.err.contains(wanted), "{}", run.err);
}

/// What a firm's theme of three small files does, as a browser shows it.
#[tokio::test]
async fn one_style_and_one_word_over_another_theme_are_seen_on_the_page() {
    let files = [
        ("own/theme.yaml", "on: truck\n"),
        ("own/own.css", "@media screen{.sheet-title{letter-spacing:7px}}\n"),
        ("own/words.yaml", "After: Sheet after\nRight: Answered right\n"),
    ];
    let company = company("own", &files);
    common::publish(company.path());
    let browser = Browser::start().await;
    browser.open(&company.path().join("site/study-record.html"), (390, 844)).await;
    let seen = "const style = (what, name) => getComputedStyle(document.querySelector(what))[name];
        return [style('.sheet-title', 'letterSpacing'), style('body', 'fontSize'),
          document.querySelector('.ways a[rel=next] .cell-name, .ways a[rel=prev] .cell-name').textContent,
          document.querySelector('.ways a:not([rel]) .cell-name').textContent,
          document.querySelector('td.study-right').dataset.label]";
    let seen = browser.ask(seen).await;
    // The style and one word are the firm's own, the large type and the other word the theme's below it.
    assert_eq!(seen[0], json!("7px"));
    assert_eq!(seen[1], json!("19px"));
    assert_eq!(seen[3], json!("Contents"));
    assert_eq!(seen[4], json!("Answered right"));
    browser.close().await;
}

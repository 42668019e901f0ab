//! A firm's own theme over another: one page, one style, one word; what is wrong with it told by file and line;
//! and the second theme of this repository through the checks that every page passes.
mod common;

use common::browser::Browser;
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
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
        (vec![], "there is no theme `own`"),
    ];
    for (files, wanted) in cases {
        let company = company("own", &files);
        let run = common::run(company.path(), &["publish"]);
        assert_ne!(run.code, 0, "{wanted}");
        assert!(run.err.contains(wanted), "{wanted}:\n{}", run.err);
    }
}

/// One page of each kind.
fn pages(site: &Path) -> Vec<PathBuf> {
    let names = [
        "index.html",
        "find.html",
        "words.html",
        "parts.html",
        "study-record.html",
        "lessons/bends.html",
        "lessons/air.html",
        "standard/2026-1/index.html",
        "standard/2026-1/bend-total.html",
        "standard/2026-1/changes.html",
        "standard/sources.html",
    ];
    names.iter().map(|name| site.join(name)).filter(|path| path.is_file()).collect()
}

async fn look(browser: &Browser, width: u32, foreign: bool) -> Vec<String> {
    let script = include_str!("common/page.js");
    let found = browser.client.execute_async(script, vec![json!(width), json!(foreign)]).await;
    let found = found.expect("the look at the page");
    found.as_array().into_iter().flatten().filter_map(Value::as_str).map(String::from).collect()
}

async fn grave(browser: &Browser, axe: &str) -> Vec<String> {
    browser.ask(axe).await;
    let run = "const done = arguments[arguments.length - 1];
        axe.run(document, {resultTypes: ['violations']}).then(r => done(r.violations), e => done(String(e)));";
    let found = browser.client.execute_async(run, vec![]).await.expect("axe runs");
    let found = found.as_array().cloned().unwrap_or_default();
    let grave = found.iter().filter(|one| one["impact"] == "serious" || one["impact"] == "critical");
    grave.map(|one| format!("{} {}", one["id"], one["nodes"][0]["html"])).collect()
}

/// Both themes, light and dark, at a phone's and a desk's width: nothing scrolls sideways, nothing is said on the
/// console, nothing grave is found by axe.
#[tokio::test]
async fn both_themes_fit_a_phone_and_are_open_to_everyone_in_light_and_dark() {
    let axe = fs::read_to_string(common::repository().join("tests/node_modules/axe-core/axe.min.js"));
    let axe = axe.expect("axe-core, which `bash tests/all` installs");
    let browser = Browser::start().await;
    let mut faults = Vec::new();
    for theme in ["drafting", "truck"] {
        let company = company(theme, &[]);
        common::publish(company.path());
        let pages = pages(&company.path().join("site"));
        assert!(pages.len() > 8, "{pages:?}");
        for page in pages {
            let place = format!("{theme} {}", page.file_name().unwrap_or_default().to_string_lossy());
            for width in [390, 320, 1280] {
                browser.open(&page, (width, 844)).await;
                let mut found = look(&browser, width, width == 320).await;
                found.extend(browser.console_errors().await);
                faults.extend(found.iter().map(|what| format!("{place} at {width}: {what}")));
            }
            for scheme in ["light", "dark"] {
                let feature = json!({"features": [{"name": "prefers-color-scheme", "value": scheme}]});
                browser.devtools("Emulation.setEmulatedMedia", feature).await;
                browser.open(&page, (390, 844)).await;
                faults.extend(
                    grave(&browser, &axe).await.iter().map(|what| format!("{place} in {scheme}: {what}")),
                );
            }
        }
    }
    browser.close().await;
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

//! One page of every kind that is published, in both themes and in metric: open to everyone by day and by night,
//! by keyboard alone, without a network, on a phone and on paper. The kinds are those that the pages themselves
//! name, so that a new template is looked at without being listed here.
mod common;

use common::browser::Browser;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const PHONE: (u32, u32) = (390, 844);
/// The narrowest that WCAG 2.2, 1.4.10 asks of a page.
const NARROW: (u32, u32) = (320, 844);
const DESK: (u32, u32) = (1280, 900);
/// What only a screen can do, and so must not stand on paper.
const DEAD: [&str; 6] =
    ["Show the answer", "Tap to open large", "Tap here", "Click here", "Save answers to", "Words to find"];

/// The demo and the odd jobs in a theme, one job that was never read and one whose last packet stands under a bar.
fn company(theme: &str, metric: bool) -> TempDir {
    let company = common::demo();
    let root = company.path();
    let about = root.join("content/company.yaml");
    let text = fs::read_to_string(&about).expect("the company");
    let text = text.replace("theme: drafting", &format!("theme: {theme}"));
    let text = if metric { text.replace("lengths: ft-in", "lengths: metric") } else { text };
    assert!(!metric || text.contains("lengths: metric"), "{text}");
    fs::write(&about, text).expect("the company");
    for entry in fs::read_dir(common::repository().join("tests/odd_jobs")).expect("jobs").flatten() {
        fs::copy(entry.path(), root.join("jobs").join(entry.file_name())).expect("a job");
    }
    fs::write(root.join("jobs/never.yaml"), "title: [\n").expect("a job");
    common::run(root, &["publish"]);
    let stays = root.join("jobs/plover-cottage.yaml");
    let text = fs::read_to_string(&stays).expect("a job");
    fs::write(&stays, text.replace("run: 18 ft", "run: 18")).expect("a job");
    let run = common::run(root, &["publish"]);
    assert_ne!(run.code, 0, "a job that cannot be read goes unsaid");
    company
}

/// The kinds of sheets on a page, and whether it stands under a bar.
fn kinds(text: &str) -> BTreeSet<String> {
    let sheets = text.split("class=\"sheet kind-").skip(1).filter_map(|rest| rest.split('"').next());
    let bar = text.contains("<p class=\"bar\">").then_some("under a bar");
    sheets.chain(bar).map(str::to_owned).collect()
}

/// One page for each set of kinds that stand together on one.
fn pages(site: &Path) -> BTreeMap<String, PathBuf> {
    let mut pages = BTreeMap::new();
    for (name, path) in common::site::files(site).into_iter().filter(|(name, _)| name.ends_with(".html")) {
        let kinds = kinds(&fs::read_to_string(&path).expect("a page"));
        assert!(!kinds.is_empty(), "{name} names no kind of sheet");
        let kinds: Vec<String> = kinds.into_iter().collect();
        pages.entry(kinds.join(", ")).or_insert(path);
    }
    pages
}

/// The kinds that the theme has a template for.
fn templates() -> BTreeSet<String> {
    let sheet = common::repository().join("themes/drafting/sheet.html");
    let sheet = fs::read_to_string(sheet).expect("a template");
    sheet
        .split("sheet.kind == \"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .map(str::to_owned)
        .collect()
}

async fn scheme(browser: &Browser, media: &str, scheme: &str) {
    let feature = json!({"media": media, "features": [{"name": "prefers-color-scheme", "value": scheme}]});
    browser.devtools("Emulation.setEmulatedMedia", feature).await;
}

/// What a look at the open page finds wrong; in a `foreign` font only its width is looked at.
async fn look(browser: &Browser, width: u32, foreign: bool) -> Vec<String> {
    let script = include_str!("common/page.js");
    let found = browser.client.execute_async(script, vec![json!(width), json!(foreign)]).await;
    told(&found.expect("the look at the page"))
}

fn told(found: &Value) -> Vec<String> {
    found.as_array().into_iter().flatten().filter_map(Value::as_str).map(String::from).collect()
}

/// Goes through the page with the tab key, then looks at every part that takes the focus.
async fn by_key(browser: &Browser) -> Vec<String> {
    let at = "const shown = (e) => e.getClientRects().length > 0 && e.checkVisibility({visibilityProperty: true});
        const parts = [...document.querySelectorAll('a[href], button, input, summary, select, textarea, [tabindex]')];
        return parts.filter(shown).indexOf(document.activeElement)";
    let mut tabs = Vec::new();
    for _ in 0..12 {
        for kind in ["keyDown", "keyUp"] {
            let key = json!({"type": kind, "key": "Tab", "code": "Tab", "windowsVirtualKeyCode": 9});
            browser.devtools("Input.dispatchKeyEvent", key).await;
        }
        match browser.ask(at).await.as_i64() {
            Some(place) if place >= 0 => tabs.push(place),
            _ => break,
        }
    }
    let found = browser.client.execute(include_str!("common/kind.js"), vec![json!(tabs)]).await;
    let mut faults = told(&found.expect("the look at the page"));
    let any = browser.ask("return document.querySelectorAll('a[href], button, input').length").await;
    if tabs.is_empty() && any.as_u64() > Some(0) {
        faults.push("the tab key reaches nothing".into());
    }
    faults
}

/// Paper: white by night too, no blank page, nothing dead, no heading that may be parted from what follows it.
async fn on_paper(browser: &Browser, folder: &Path) -> Vec<String> {
    scheme(browser, "print", "dark").await;
    let parted = "const shown = (e) => e.getClientRects().length > 0 && !e.closest('.unseen');
        const heads = [...document.querySelectorAll('h2, h3, h4')].filter(shown);
        const loose = heads.filter((head) => getComputedStyle(head).breakAfter !== 'avoid' && !head.closest('.sheet-head'));
        const black = getComputedStyle(document.body).backgroundColor;
        const ink = getComputedStyle(document.body).color;
        return loose.map((head) => 'may stand alone at the foot: ' + head.innerText)
          .concat(black === 'rgb(255, 255, 255)' && ink === 'rgb(0, 0, 0)' ? [] : ['paper is ' + black + ', ink ' + ink])";
    let mut faults = told(&browser.ask(parted).await);
    scheme(browser, "", "light").await;
    let pdf = browser
        .devtools("Page.printToPDF", json!({"preferCSSPageSize": true, "printBackground": true}))
        .await;
    let coded = folder.join("print.pdf.base64");
    fs::write(&coded, common::text(&pdf, "/data")).expect("the print is kept");
    let read = common::reckon("printed.py", &[&coded, Path::new("words")]);
    for (n, page) in common::list(&read, "/pages").iter().enumerate() {
        let words = common::text(page, "/text").split_whitespace().collect::<Vec<_>>().join(" ");
        if words.len() < 30 {
            faults.push(format!("printed page {} is blank: {words:?}", n + 1));
        }
        let dead = DEAD.iter().filter(|dead| words.contains(*dead));
        faults.extend(dead.map(|dead| format!("`{dead}` stands on printed page {}", n + 1)));
    }
    faults
}

async fn faults(browser: &Browser, page: &Path, folder: &Path) -> Vec<String> {
    let mut faults = Vec::new();
    for (light, size) in [("light", PHONE), ("dark", PHONE), ("light", DESK)] {
        scheme(browser, "", light).await;
        browser.open(page, size).await;
        let mut found = look(browser, size.0, false).await;
        found.extend(browser.console_errors().await.iter().map(|what| format!("console: {what}")));
        found.extend(browser.violations().await);
        faults.extend(found.iter().map(|what| format!("{light}, {} px: {what}", size.0)));
    }
    scheme(browser, "", "dark").await;
    browser.open(page, PHONE).await;
    let night = "const glare = [...document.querySelectorAll('body, .sheet')]
          .filter((e) => getComputedStyle(e).backgroundColor === 'rgb(255, 255, 255)').length;
        const ink = [...document.querySelectorAll('svg')].filter((e) => e.getClientRects().length && !e.parentElement.closest('svg')
          && getComputedStyle(e).backgroundColor !== 'rgb(255, 255, 255)').length;
        return (glare ? ['a sheet is white by night'] : []).concat(ink ? [ink + ' drawings stand on no white paper by night'] : [])";
    faults.extend(told(&browser.ask(night).await));
    scheme(browser, "", "light").await;
    browser.open(page, PHONE).await;
    faults.extend(by_key(browser).await);
    faults.extend(on_paper(browser, folder).await);
    browser.open(page, NARROW).await;
    faults.extend(look(browser, NARROW.0, true).await.iter().map(|what| format!("{} px: {what}", NARROW.0)));
    faults
}

async fn every_kind(theme: &str, metric: bool) {
    let company = company(theme, metric);
    let pages = pages(&company.path().join("site"));
    let seen: BTreeSet<String> =
        pages.keys().flat_map(|kinds| kinds.split(", ")).map(str::to_owned).collect();
    let unseen: Vec<String> = templates().difference(&seen).cloned().collect();
    assert!(unseen.is_empty(), "no page shows {unseen:?}; give the company here a job that does");
    assert!(seen.contains("under a bar"), "no kept packet stands under a bar");
    let browser = Browser::start().await;
    let mut all = Vec::new();
    for (kinds, page) in &pages {
        let name = page.strip_prefix(company.path().join("site")).expect("in the site").display();
        let found = faults(&browser, page, company.path()).await;
        all.extend(found.iter().map(|what| format!("{name} ({kinds}): {what}")));
    }
    browser.close().await;
    let shown = &all[..all.len().min(60)];
    assert!(all.is_empty(), "{} faults:\n{}", all.len(), shown.join("\n"));
}

#[tokio::test]
async fn every_kind_of_page_in_the_theme_that_comes_with_the_program() {
    every_kind("drafting", false).await;
}

#[tokio::test]
async fn every_kind_of_page_in_the_theme_for_the_truck() {
    every_kind("truck", false).await;
}

#[tokio::test]
async fn every_kind_of_page_of_a_firm_in_metric() {
    every_kind("drafting", true).await;
}

#[test]
fn kinds_are_read_off_the_page() {
    let page = "<section class=\"sheet kind-find\"><p class=\"bar\">x</p></section><section class=\"sheet kind-load\">";
    assert_eq!(kinds(page).into_iter().collect::<Vec<_>>(), ["find", "load", "under a bar"]);
}

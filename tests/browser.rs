//! Published pages in a real browser: layout on a phone and a desk, console, print to scale. `kinds.rs` looks
//! closer at one page of each kind.
mod common;

use common::browser::Browser;
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use tempfile::TempDir;

const PHONE: (u32, u32) = (390, 844);
/// The narrowest that WCAG 2.2, 1.4.10 asks of a page.
const NARROW: (u32, u32) = (320, 844);
const DESK: (u32, u32) = (1280, 900);
/// A ruler on the print reads true to this: the finest a person reads off, 0.3 mm.
const RULER_MM: f64 = 0.3;

/// The demo, published once for all tests here.
static PUBLISHED: LazyLock<TempDir> = LazyLock::new(|| {
    let company = common::demo();
    common::publish(company.path());
    company
});

fn site() -> PathBuf {
    PUBLISHED.path().join("site")
}

/// Names of all pages and drawings.
fn pages() -> Vec<String> {
    let names = common::site::files(&site()).into_keys();
    names.filter(|name| name.ends_with(".html") || name.ends_with(".svg")).collect()
}

/// The figures of every job, as published.
fn packets() -> Vec<(PathBuf, Value)> {
    let files = common::site::files(&site()).into_iter();
    let packets = files.filter(|(name, _)| name.ends_with("packet.json"));
    let read = |(_, path): (String, PathBuf)| {
        let text = fs::read_to_string(&path).expect("a readable packet");
        let folder = path.parent().expect("a folder").to_path_buf();
        (folder, serde_json::from_str(&text).expect("JSON"))
    };
    packets.map(read).collect()
}

fn none(faults: Vec<String>) {
    let shown = &faults[..faults.len().min(40)];
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), shown.join("\n"));
}

/// What a look at the open page finds wrong; in a `foreign` font only its width is looked at.
async fn look(browser: &Browser, width: u32, foreign: bool) -> Vec<String> {
    let script = include_str!("common/page.js");
    let wishes = vec![json!(width), json!(foreign)];
    let found = browser.client.execute_async(script, wishes).await.expect("the look at the page");
    found.as_array().into_iter().flatten().filter_map(Value::as_str).map(String::from).collect()
}

#[tokio::test]
async fn every_page_fits_a_phone_and_a_desk_without_a_word_on_the_console() {
    let browser = Browser::start().await;
    let mut faults = Vec::new();
    for name in pages() {
        for size in [PHONE, DESK] {
            browser.open(&site().join(&name), size).await;
            let place = format!("{name} at {}×{}", size.0, size.1);
            let mut found = look(&browser, size.0, false).await;
            found.extend(browser.console_errors().await.iter().map(|what| format!("console: {what}")));
            faults.extend(found.iter().map(|what| format!("{place}: {what}")));
        }
    }
    browser.close().await;
    none(faults);
}

/// WCAG 2.2, 1.4.10 (reflow at 320 px) and 1.4.12 (spacing): no page scrolls sideways in a font that is
/// not its own, so that the width of a page does not hang on the fonts of the machine that looks.
#[tokio::test]
async fn no_page_scrolls_sideways_in_any_font() {
    let browser = Browser::start().await;
    let mut faults = Vec::new();
    for name in pages().iter().filter(|name| name.ends_with(".html")) {
        for size in [PHONE, NARROW] {
            browser.open(&site().join(name), size).await;
            let found = look(&browser, size.0, true).await;
            faults.extend(found.iter().map(|what| format!("{name} at {} px: {what}", size.0)));
        }
    }
    browser.close().await;
    none(faults);
}

#[test]
fn no_page_shows_the_code_of_a_character() {
    let entity = |text: &str| {
        let after = text.split("&amp;").skip(1);
        after.filter_map(|rest| rest.split_once(';')).any(|(name, _)| {
            (2..9).contains(&name.len()) && name.bytes().all(|byte| byte.is_ascii_alphanumeric())
        })
    };
    let pages = pages();
    let shown = pages.iter().filter(|name| {
        let text = fs::read_to_string(site().join(name)).expect("a readable page");
        entity(&text)
    });
    none(shown.cloned().collect());
}

#[tokio::test]
async fn packets_print_numbered_complete_and_to_scale() {
    let browser = Browser::start().await;
    let packets = packets();
    assert!(!packets.is_empty(), "no packet was published");
    let mut faults = Vec::new();
    for (folder, figures) in &packets {
        let job = common::text(figures, "/job").to_string();
        let bars = mark_scale_bars(&browser, &folder.join("index.html")).await;
        let printed = print(&browser, folder).await;
        faults.extend(sheets(&printed, figures).into_iter().map(|what| format!("{job}: {what}")));
        faults.extend(scale(&printed, &bars).into_iter().map(|what| format!("{job}: {what}")));
    }
    browser.close().await;
    none(faults);
}

/// Opens a packet and gives every scale bar a colour that nothing else has, so that it can be found on
/// the print; returns how long each says it is on paper, in mm.
async fn mark_scale_bars(browser: &Browser, page: &Path) -> Vec<f64> {
    browser.open(page, DESK).await;
    let found = browser.ask(include_str!("common/scale_bar.js")).await;
    let bars: Vec<f64> = found.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
    assert!(!bars.is_empty(), "{} shows no scale bar: {found}", page.display());
    bars
}

/// Prints the open page as its own styles ask, and reads the print back.
async fn print(browser: &Browser, folder: &Path) -> Value {
    let wishes = json!({"preferCSSPageSize": true, "printBackground": true});
    let pdf = browser.devtools("Page.printToPDF", wishes).await;
    let coded = folder.join("packet.pdf.base64");
    fs::write(&coded, common::text(&pdf, "/data")).expect("the print is kept");
    let read = common::reckon("printed.py", &[&coded]);
    fs::remove_file(&coded).expect("the print is taken away");
    read
}

/// Paper, page numbers and marks.
fn sheets(printed: &Value, figures: &Value) -> Vec<String> {
    let pages = common::list(printed, "/pages");
    let mut faults = Vec::new();
    for (n, page) in pages.iter().enumerate() {
        let (width, height) = (common::number(page, "/width_mm"), common::number(page, "/height_mm"));
        // Letter; the browser rounds to whole points, a third of a millimetre.
        if (width - 215.9).abs() > 0.4 || (height - 279.4).abs() > 0.4 {
            faults.push(format!("page {} is {width:.1} × {height:.1} mm", n + 1));
        }
        let words = common::text(page, "/text");
        // Every sheet is one page, and its title block numbers it through.
        let number = format!("{} of {}", n + 1, pages.len());
        let told = words.split_whitespace().collect::<Vec<_>>().join(" ");
        if !told.contains(&format!(" {number} ")) {
            faults.push(format!("page {} is not numbered `{number}`", n + 1));
        }
    }
    let words: String = pages.iter().map(|page| common::text(page, "/text")).collect::<Vec<_>>().join("\n");
    let has = |mark: &str| words.split(|c: char| !c.is_alphanumeric()).any(|word| word == mark);
    let missing = marks(figures).into_iter().filter(|mark| !has(mark));
    faults.extend(missing.map(|mark| format!("{mark} is not on the print")));
    faults
}

/// Every mark of tube and joint in a packet's figures.
fn marks(figures: &Value) -> std::collections::BTreeSet<String> {
    let mut found = std::collections::BTreeSet::new();
    match figures {
        Value::Object(fields) => {
            for (key, value) in fields {
                match value.as_str() {
                    Some(mark) if key == "mark" => found.extend([mark.to_string()]),
                    _ => found.extend(marks(value)),
                }
            }
        }
        Value::Array(list) => found.extend(list.iter().flat_map(marks)),
        _ => {}
    }
    found
}

/// Holds the bars measured on the print against the lengths they stand for.
fn scale(printed: &Value, bars: &[f64]) -> Vec<String> {
    let mut measured: Vec<f64> = common::list(printed, "/bars_mm").iter().filter_map(Value::as_f64).collect();
    if measured.len() != bars.len() {
        return vec![format!(
            "{} scale bars on the page, {} on the print: {measured:?}",
            bars.len(),
            measured.len()
        )];
    }
    // Bars that stand side by side come in another order than on the page; lengths alone are held together.
    let mut bars = bars.to_vec();
    bars.sort_by(f64::total_cmp);
    measured.sort_by(f64::total_cmp);
    let pairs = bars.iter().zip(&measured);
    pairs
        .filter(|(wanted, found)| (*wanted - *found).abs() > RULER_MM)
        .map(|(wanted, found)| format!("a scale bar of {wanted:.2} mm measures {found:.2} mm on paper"))
        .collect()
}

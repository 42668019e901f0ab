//! A packet on paper and on a phone: one sheet a page with its number and stamp, nothing beside the page
//! wanted, ticks and tapes kept.
mod common;

use common::browser::Browser;
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use tempfile::TempDir;

/// The demo, published once for all tests here.
static PUBLISHED: LazyLock<TempDir> = LazyLock::new(|| {
    let company = common::demo();
    common::publish(company.path());
    company
});

/// Folders of the packets, with their figures.
fn packets() -> Vec<(PathBuf, Value)> {
    let files = common::site::files(&PUBLISHED.path().join("site")).into_iter();
    let read = |(_, path): (String, PathBuf)| {
        let text = fs::read_to_string(&path).expect("a readable packet");
        let folder = path.parent().expect("a folder").to_path_buf();
        (folder, serde_json::from_str(&text).expect("JSON"))
    };
    files.filter(|(name, _)| name.ends_with("packet.json")).map(read).collect()
}

fn none(faults: Vec<String>) {
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

/// Prints the open page as its own styles ask, and reads the print back.
async fn print(browser: &Browser, folder: &Path) -> Value {
    let wishes = json!({"preferCSSPageSize": true, "printBackground": true});
    let pdf = browser.devtools("Page.printToPDF", wishes).await;
    let coded = folder.join("sheets.pdf.base64");
    fs::write(&coded, common::text(&pdf, "/data")).expect("the print is kept");
    let read = common::reckon("printed.py", &[&coded]);
    fs::remove_file(&coded).expect("the print is taken away");
    read
}

/// Each sheet is one page, and says which and of what standing it is.
#[tokio::test]
async fn every_sheet_prints_on_one_page_with_its_number_and_stamp() {
    let browser = Browser::start().await;
    let mut faults = Vec::new();
    for (folder, figures) in packets() {
        let job = common::text(&figures, "/job").to_string();
        browser.open(&folder.join("packet.html"), (1280, 900)).await;
        let count = "return document.querySelectorAll('.sheet').length";
        let sheets = browser.ask(count).await.as_u64().unwrap_or_default() as usize;
        let printed = print(&browser, &folder).await;
        let pages = common::list(&printed, "/pages");
        if pages.len() != sheets {
            faults.push(format!("{job}: {sheets} sheets print on {} pages", pages.len()));
        }
        for (n, page) in pages.iter().enumerate() {
            let words: Vec<&str> = common::text(page, "/text").split_whitespace().collect();
            let words = words.join(" ");
            let number = format!("{} of {sheets}", n + 1);
            let stamps = ["PASS", "CAUTION", "HOLD", "FAIL", "WAIVED"];
            if !words.contains(&number) || !stamps.iter().any(|stamp| words.contains(stamp)) {
                faults.push(format!("{job}: page {} lacks `{number}` or its stamp", n + 1));
            }
        }
    }
    browser.close().await;
    none(faults);
}

/// A page alone in a folder, in generic fonts, on two phones: it asks for nothing and does not move sideways.
#[tokio::test]
async fn a_page_alone_in_a_folder_reads_on_a_phone_in_any_font() {
    let browser = Browser::start().await;
    let mut faults = Vec::new();
    let alone = tempfile::tempdir().expect("a folder");
    let (folder, _) = packets().into_iter().next().expect("a packet");
    let pages = common::site::files(&folder).into_iter().filter(|(name, _)| name.ends_with(".html"));
    for (name, path) in pages {
        let copy = alone.path().join("sent.html");
        fs::copy(&path, &copy).expect("a copy");
        for width in [390, 320] {
            browser.open(&copy, (width, 844)).await;
            let asked = "return performance.getEntriesByType('resource').map(e => e.name).join(' ')";
            let asked = browser.ask(asked).await.as_str().unwrap_or_default().to_string();
            if !asked.is_empty() {
                faults.push(format!("{name} asks for {asked}"));
            }
            for font in ["sans-serif", "serif", "monospace"] {
                let wide = format!(
                    "const s = document.createElement('style'); s.textContent = '*{{font-family:{font}!important}}';
                     document.head.append(s); const w = document.documentElement.scrollWidth; s.remove(); return w"
                );
                let found = browser.ask(&wide).await.as_u64().unwrap_or(u64::MAX);
                if found > u64::from(width) {
                    faults.push(format!("{name} in {font} at {width} px is {found} px wide"));
                }
            }
        }
    }
    browser.close().await;
    none(faults);
}

/// What is ticked and typed is there again when the page is opened again.
#[tokio::test]
async fn ticks_survive_a_reload() {
    let browser = Browser::start().await;
    let alone = tempfile::tempdir().expect("a folder");
    let (folder, _) = packets().into_iter().next().expect("a packet");
    let copy = alone.path().join("sent.html");
    fs::copy(folder.join("check.html"), &copy).expect("a copy");
    browser.open(&copy, (390, 844)).await;
    let tick = "document.querySelector('input.tick-box').click();
                const blank = document.querySelector('input.blank'); blank.value = '12';
                blank.dispatchEvent(new Event('input', {bubbles: true}));";
    browser.ask(tick).await;
    browser.open(&copy, (390, 844)).await;
    let kept = "return [document.querySelector('input.tick-box').checked, document.querySelector('input.blank').value]";
    assert_eq!(browser.ask(kept).await, json!([true, "12"]));
    browser.close().await;
}

//! The standard as one document on paper, letter and A4: a sheet a page, and the contents held against the
//! pages on which the headings stand.
mod common;

use common::browser::Browser;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;

/// Prints the open page as its own styles ask, and reads the print back.
async fn print(browser: &Browser, folder: &Path) -> Value {
    let wishes = json!({"preferCSSPageSize": true, "printBackground": true});
    let pdf = browser.devtools("Page.printToPDF", wishes).await;
    let coded = folder.join("book.pdf.base64");
    fs::write(&coded, common::text(&pdf, "/data")).expect("the print is kept");
    let read = common::reckon("printed.py", &[&coded]);
    fs::remove_file(&coded).expect("the print is taken away");
    read
}

/// Words with one blank between them, whatever broke their lines.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What is wrong with a printed book.
async fn faults(browser: &Browser, site: &Path, revision: &str, paper: (f64, f64)) -> Vec<String> {
    let file = site.join("standard").join(revision).join("book.html");
    browser.open(&file, (1280, 900)).await;
    let sheets = "return document.querySelectorAll('.sheet').length";
    let sheets = browser.ask(sheets).await.as_u64().unwrap_or_default() as usize;
    let rows = "return [...document.querySelectorAll('.book-row')].map(row =>
                [row.querySelector('a').textContent, row.querySelector('.book-page').textContent])";
    let rows = browser.ask(rows).await;
    let printed = print(browser, site).await;
    let pages: Vec<String> =
        common::list(&printed, "/pages").iter().map(|page| plain(common::text(page, "/text"))).collect();
    let mut faults = Vec::new();
    if pages.len() != sheets {
        faults.push(format!("{revision}: {sheets} sheets print on {} pages", pages.len()));
    }
    for (n, page) in common::list(&printed, "/pages").iter().enumerate() {
        let (width, height) = (common::number(page, "/width_mm"), common::number(page, "/height_mm"));
        if (width - paper.0).abs() > 0.4 || (height - paper.1).abs() > 0.4 {
            faults.push(format!("{revision}: page {} is {width:.1} × {height:.1} mm", n + 1));
        }
        let number = format!("{} of {sheets}", n + 1);
        if !pages[n].contains(&number) {
            faults.push(format!("{revision}: page {} lacks `{number}`", n + 1));
        }
    }
    let rows = rows.as_array().cloned().unwrap_or_default();
    if rows.len() < 40 {
        faults.push(format!("{revision}: only {} lines of contents", rows.len()));
    }
    // The text begins after the last page of contents, where the first heading stands.
    let told = |row: &Value, n: usize| plain(row[n].as_str().unwrap_or_default());
    let first = rows.first().and_then(|row| told(row, 1).parse::<usize>().ok()).unwrap_or_default();
    for row in &rows {
        let (heading, page) = (told(row, 0), told(row, 1).parse::<usize>().unwrap_or_default());
        let stands = (first.max(1)..=pages.len()).find(|n| pages[n - 1].contains(&heading));
        if stands != Some(page) {
            faults.push(format!("{revision}: `{heading}` is told on page {page} and stands on {stands:?}"));
        }
    }
    faults
}

#[tokio::test]
async fn the_contents_tell_the_page_on_which_each_heading_is_printed() {
    let browser = Browser::start().await;
    let company = common::demo_without_jobs();
    let firm = company.path().join("content/company.yaml");
    let text = fs::read_to_string(&firm).expect("the firm's file");
    let mut found = Vec::new();
    for (paper, size) in [("letter", (215.9, 279.4)), ("a4", (210.0, 297.0))] {
        fs::write(&firm, text.replace("paper: letter", &format!("paper: {paper}"))).expect("the firm's file");
        common::publish(company.path());
        for revision in ["2025-2", "2026-1"] {
            let here = faults(&browser, &company.path().join("site"), revision, size).await;
            found.extend(here.into_iter().map(|fault| format!("{paper} {fault}")));
        }
    }
    browser.close().await;
    assert!(found.is_empty(), "{} faults:\n{}", found.len(), found.join("\n"));
}

/// Every change between the demo's revisions has its reason.
/// The firm's list of words is kept once: an earlier revision must not pass today's words off as its own.
#[test]
fn a_revision_that_is_not_in_force_says_what_in_it_is_of_today() {
    let company = common::demo();
    let old = company.path().join("content/standard/2025-2.yaml");
    let text = std::fs::read_to_string(&old).expect("the earlier revision");
    let text = text.replacen("parts:\n", "terms: [raceway, riser]\nparts:\n", 1);
    std::fs::write(&old, text).expect("the earlier revision");
    common::publish(company.path());
    let book = |revision: &str| {
        let page = company.path().join(format!("site/standard/{revision}/book.html"));
        std::fs::read_to_string(page).expect("a standard")
    };
    for told in ["Words as of today", "pictures are as of today"] {
        assert!(book("2025-2").contains(told), "2025-2 does not say: {told}");
        assert!(!book("2026-1").contains(told), "2026-1 says: {told}");
    }
}

#[test]
fn no_change_of_the_demo_is_without_a_reason() {
    let company = common::demo_without_jobs();
    common::publish(company.path());
    let page = fs::read_to_string(company.path().join("site/standard/2026-1/changes.html")).expect("a page");
    assert!(!page.contains("No reason given"));
    for group in ["Dropped", "Loosened", "Tightened", "Reworded", "New"] {
        assert!(page.contains(&format!("<h3>{group}</h3>")), "{group}");
    }
}

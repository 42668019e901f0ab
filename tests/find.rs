//! The index in a real browser, from file://: plurals, slips, synonyms, several words in any order, by keyboard
//! alone; only the shards that the words need are asked for.
mod common;

use common::browser::Browser;
use serde_json::json;
use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;
use tempfile::TempDir;

const PHONE: (u32, u32) = (390, 844);

const WORDS: &str = "- word: stop fitting\n  also: [stopper, tail catcher]\n  means: What the tail cannot pass. <script>alert(1)</script>\n- word: raceway\n  means: The wide tube that the hose lives in.\n  see: [stop fitting]\n";

static PUBLISHED: LazyLock<TempDir> = LazyLock::new(|| {
    let company = common::demo();
    fs::write(company.path().join("content/words.yaml"), WORDS).expect("words");
    // These two words are not all that the demo's standard uses.
    let standard = company.path().join("content/standard/2026-1.yaml");
    let text = fs::read_to_string(&standard).expect("the standard in force");
    let without: String = text.split_inclusive('\n').filter(|line| !line.starts_with("terms: ")).collect();
    assert_ne!(without, text, "the standard names no terms in one line");
    fs::write(&standard, without).expect("the standard");
    common::publish(company.path());
    company
});

fn page(name: &str) -> PathBuf {
    PUBLISHED.path().join("site").join(name)
}

/// Types words and waits for the answer: the terms found, each with its sheets, and what is told.
async fn find(browser: &Browser, words: &str) -> (Vec<String>, String) {
    let script = format!(
        "const done = arguments[0];
         const count = document.getElementById('find-count');
         count.textContent = '';
         const input = document.getElementById('find-words');
         input.value = {};
         input.dispatchEvent(new Event('input'));
         const end = Date.now() + 20000;
         (function look() {{
           if (count.textContent || Date.now() > end) {{
             return done([[...document.querySelectorAll('#found li')].map((li) => li.innerText), count.textContent]);
           }}
           setTimeout(look, 15);
         }})();",
        json!(words)
    );
    let found = browser.client.execute_async(&script, vec![]).await.expect("an answer");
    let rows = found[0].as_array().into_iter().flatten().filter_map(|row| row.as_str().map(String::from));
    (rows.collect(), found[1].as_str().unwrap_or_default().to_owned())
}

fn has(rows: &[String], wanted: &str) -> bool {
    rows.iter().any(|row| row.contains(wanted))
}

#[tokio::test]
async fn plurals_slips_synonyms_and_several_words_are_found() {
    let browser = Browser::start().await;
    browser.open(&page("find.html"), PHONE).await;
    let lesson = "The stop fitting, Lesson";
    let cases = [
        ("stop fitting", lesson),
        ("fittings stops", lesson),
        ("STOP  Fitting’s", lesson),
        ("stpo fitting", lesson),
        ("stopper", lesson),
        ("tail catcher", lesson),
        ("tial catcher", lesson),
        ("stoper", lesson),
        ("jaceway", "raceway, Words"),
        ("the stopers", "stop fitting, Words"),
        ("bends few", "Few bends, wide bends"),
        ("wiede bend", "Few bends, wide bends"),
        ("asbestos", "packet"),
        ("sweep 90", "Parts"),
        ("curlew", "packet"),
        ("raceway", "Words"),
    ];
    let mut faults = Vec::new();
    for (words, wanted) in cases {
        let (rows, told) = find(&browser, words).await;
        if !has(&rows, wanted) {
            faults.push(format!("`{words}` does not find `{wanted}`: {told} {rows:?}"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    let (rows, told) = find(&browser, "stop fitting").await;
    assert!(
        rows[0].to_lowercase().starts_with("stop fitting") || rows[0].contains("The stop fitting"),
        "{rows:?}"
    );
    assert!(told.contains("term"), "{told}");
    let (rows, told) = find(&browser, "xyzzyqq").await;
    assert_eq!((rows.len(), told.as_str()), (0, "No term has these words."));
    assert!(find(&browser, "raceway xyzzyqq").await.1.starts_with("No term has all of these words;"));
    assert_eq!(browser.console_errors().await, Vec::<String>::new());
    browser.close().await;
}

#[tokio::test]
async fn only_the_shards_that_are_needed_are_asked_for() {
    let browser = Browser::start().await;
    browser.open(&page("find.html"), PHONE).await;
    let asked = "return document.querySelectorAll('script[src]').length";
    assert_eq!(browser.ask(asked).await, json!(0), "a shard is asked for before a word is typed");
    find(&browser, "raceway").await;
    let after = browser.ask(asked).await.as_u64().unwrap_or_default() as usize;
    let all = fs::read_dir(page("find")).expect("shards").count();
    assert!(after > 0 && after * 3 < all, "{after} of {all} shards for one word");
    for entry in fs::read_dir(page("find")).expect("shards").flatten() {
        let size = entry.metadata().expect("a size").len();
        assert!(size < 100_000, "{} is {size} bytes", entry.path().display());
    }
    browser.close().await;
}

/// The stems of the script are those that the index was made with: every stem of the demo's titles, as the
/// page makes them, stands in the shard that it would ask for.
#[tokio::test]
async fn every_term_of_the_index_is_found_by_its_own_words() {
    let browser = Browser::start().await;
    browser.open(&page("find.html"), PHONE).await;
    let script = "return [...document.querySelectorAll('#terms b')].map((b) => b.innerText)";
    let terms = browser.ask(script).await;
    let terms: Vec<String> =
        terms.as_array().into_iter().flatten().filter_map(|t| t.as_str().map(String::from)).collect();
    assert!(terms.len() > 50, "{}", terms.len());
    let mut faults = Vec::new();
    for term in terms.iter().step_by(5) {
        let (rows, told) = find(&browser, term).await;
        if !rows.iter().any(|row| row.starts_with(term.as_str())) {
            faults.push(format!("{term}: {told}"));
        }
    }
    browser.close().await;
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[tokio::test]
async fn the_index_is_for_keyboard_and_screen_reader() {
    let browser = Browser::start().await;
    browser.open(&page("find.html"), PHONE).await;
    let field = browser.client.find(fantoccini::Locator::Css("#find-words")).await.expect("a field");
    field.send_keys("raceway\u{e007}").await.expect("keys");
    let wait = "const done = arguments[0]; const end = Date.now() + 15000;
        (function look() {
          if (document.activeElement.closest('#found') || Date.now() > end) return done(document.activeElement.localName);
          setTimeout(look, 20);
        })();";
    let focus = browser.client.execute_async(wait, vec![]).await.expect("the focus");
    assert_eq!(focus, json!("a"), "Enter does not lead to the first sheet found");
    // The arrows walk on from sheet to sheet, and back to the words.
    let at = "const links = [...document.querySelectorAll('#found a')]; return links.indexOf(document.activeElement)";
    for (key, wanted) in [("\u{e015}", 1), ("\u{e013}", 0), ("\u{e013}", -1)] {
        let active = browser.client.active_element().await.expect("the focus");
        active.send_keys(key).await.expect("a key");
        assert_eq!(browser.ask(at).await, json!(wanted));
    }
    let focus = browser.ask("return document.activeElement.id").await;
    assert_eq!(focus, json!("find-words"), "the arrow up does not lead back to the words");
    assert_eq!(browser.violations().await, Vec::<String>::new(), "with terms found");
    let named = "const f = document.getElementById('find-words');
        return [f.labels.length, document.getElementById('find-count').getAttribute('role')]";
    assert_eq!(browser.ask(named).await, json!([1, "status"]));
    browser.close().await;
}

#[tokio::test]
async fn the_glossary_shows_markup_as_written_and_leads_from_word_to_word() {
    let text = fs::read_to_string(page("words.html")).expect("the glossary");
    assert!(text.contains("&lt;script&gt;alert(1)") && !text.contains("<script>alert(1)"));
    assert!(text.contains("href=\"#word-stop-fitting\"") && text.contains("id=\"word-stop-fitting\""));
    assert!(text.contains("Also: stopper, tail catcher."));
}

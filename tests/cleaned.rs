//! What a firm writes is words: no script, handler, frame or style in any of its files reaches a page alive.
mod common;

use common::browser::Browser;
use scraper::{ElementRef, Html, Selector};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Ways to run a script from a text, each of which would set `window.hit`. No line break and no quotation mark
/// of one kind only, so that all of it fits one line of YAML.
const EVIL: &str = "<script>window.hit=1</script><img src=x onerror=window.hit=1><svg onload=window.hit=1><script>window.hit=1</script></svg><iframe srcdoc='<script>parent.hit=1</script>'></iframe><style>body{--hit:1}</style><a href='javascript:window.hit=1'>tap</a> [tap](javascript:window.hit=1) </script></style></title><script>window.hit=1</script>";

/// The same for a name, which may be no longer than a title block has room for.
const SHORT: &str = "<script>window.hit=1</script><img src=x onerror=window.hit=1>";

/// Puts what is evil behind the first value of a key in a file of the firm, as a quoted scalar.
fn spoil(root: &Path, file: &str, key: &str, evil: &str) {
    let path = root.join(file);
    let text = fs::read_to_string(&path).expect("a file");
    let at = text.find(key).unwrap_or_else(|| panic!("{file} has no `{key}`")) + key.len();
    let line = text[..at].rsplit('\n').next().unwrap_or_default();
    let ends: &[char] = if line.contains('{') { &[',', '}', '\n'] } else { &['\n'] };
    let end = text[at..].find(ends).map_or(text.len(), |end| at + end);
    let value = text[at..end].trim().trim_matches('"').replace('"', "\\\"");
    let spoiled = format!("{} \"{value} {evil}\"{}", &text[..at], &text[end..]);
    fs::write(path, spoiled).expect("a file");
}

fn company() -> TempDir {
    let company = common::demo();
    let root = company.path();
    spoil(root, "content/company.yaml", "\nname:", SHORT);
    spoil(root, "content/standard/2026-1.yaml", "\n        because:", EVIL);
    spoil(root, "content/standard/2026-1.yaml", "\n        text:", EVIL);
    spoil(root, "content/standard/2026-1.yaml", "\n        title:", SHORT);
    spoil(root, "content/words.yaml", "  means:", EVIL);
    spoil(root, "content/words.yaml", "- word:", SHORT);
    spoil(root, "content/lessons/bends.md", "\ntitle:", SHORT);
    spoil(root, "content/lessons/bends.md", "\nsummary:", EVIL);
    spoil(root, "jobs/plover-cottage.yaml", "\ntitle:", SHORT);
    spoil(root, "jobs/plover-cottage.yaml", "\naddress:", SHORT);
    spoil(root, "jobs/plover-cottage.yaml", "    name:", SHORT);
    let lesson = root.join("content/lessons/air.md");
    let text = fs::read_to_string(&lesson).expect("a lesson");
    fs::write(&lesson, format!("{text}\n\n{EVIL}\n\nInside a line {EVIL}\n")).expect("a lesson");
    for entry in fs::read_dir(root.join("content/catalog")).expect("a catalog").flatten() {
        let file = format!("content/catalog/{}", entry.file_name().to_string_lossy());
        if fs::read_to_string(entry.path()).expect("a catalog").contains("name: ") {
            spoil(root, &file, "name:", SHORT);
        }
    }
    company
}

/// What of the markup of a page is alive that its theme did not write.
fn alive(text: &str) -> Vec<String> {
    let every = Selector::parse("*").expect("a selector");
    let mut found = Vec::new();
    let (mut scripts, mut styles) = (0, 0);
    for element in Html::parse_document(text).select(&every) {
        let value = element.value();
        match value.name() {
            "script" => scripts += 1,
            // A drawing has one of its own, which says how words and dots are filled.
            "style"
                if element
                    .parent()
                    .and_then(ElementRef::wrap)
                    .is_some_and(|of| of.value().name() == "svg") =>
            {
                let words: String = element.text().collect();
                if words != "[data-kind]>text,[data-kind]>circle{fill:#000;stroke:none}" {
                    found.push(format!("a drawing's style {words}"));
                }
            }
            "style" => styles += 1,
            "iframe" | "object" | "embed" | "base" | "img" | "form" => found.push(value.name().to_owned()),
            _ => {}
        }
        for (name, text) in value.attrs() {
            let text = text.trim().to_ascii_lowercase();
            if name.starts_with("on") || name == "srcdoc" || text.starts_with("javascript:") {
                found.push(format!("<{} {name}={text}>", value.name()));
            }
        }
    }
    if scripts > 1 || styles > 2 {
        found.push(format!("{scripts} scripts and {styles} styles"));
    }
    found
}

#[test]
fn what_is_alive_is_seen() {
    let page = |inside: &str| {
        format!(
            "<html><head><style></style><style></style></head><body>{inside}<script></script></body></html>"
        )
    };
    assert_eq!(alive(&page("<p>Words.</p>")), Vec::<String>::new());
    for inside in [
        "<script></script>",
        "<a onclick=x>a</a>",
        "<a href=' JavaScript:x'>a</a>",
        "<iframe></iframe>",
        "<style></style>",
    ] {
        assert_eq!(alive(&page(inside)).len(), 1, "{inside}");
    }
}

#[tokio::test]
async fn nothing_that_a_firm_writes_runs_on_a_page() {
    let company = company();
    let run = common::run(company.path(), &["publish"]);
    let site = company.path().join("site");
    let pages: Vec<_> =
        common::site::files(&site).into_iter().filter(|(name, _)| name.ends_with(".html")).collect();
    assert!(pages.len() > 90, "{} pages\n{}", pages.len(), run.err);
    let mut faults = Vec::new();
    let mut carried = Vec::new();
    for (name, path) in &pages {
        let text = fs::read_to_string(path).expect("a page");
        faults.extend(alive(&text).into_iter().map(|what| format!("{name}: {what}")));
        // The words of it stand on the page as words, or what was written never came this far.
        if text.contains("window.hit=1") {
            carried.push((name, path));
        }
    }
    for file in
        ["index.html", "parts.html", "words.html", "lessons/bends.html", "jobs/plover-cottage/index.html"]
    {
        assert!(carried.iter().any(|(name, _)| *name == file), "{file} does not show what was written");
    }
    let browser = Browser::start().await;
    // The kinds of pages that carry it: the first of each folder, and all that stand at the top.
    let mut folders = std::collections::BTreeSet::new();
    for (name, path) in &carried {
        let folder = name.rsplit_once('/').map_or(name.as_str(), |(folder, _)| folder);
        if !folders.insert(folder) {
            continue;
        }
        browser.open(path, (390, 844)).await;
        let hit = browser.ask("return [window.hit === undefined, getComputedStyle(document.body).getPropertyValue('--hit')]").await;
        if hit != serde_json::json!([true, ""]) {
            faults.push(format!("{name} runs what was written: {hit}"));
        }
    }
    // Found terms are set by a script, which must set words too.
    browser.open(&site.join("find.html"), (390, 844)).await;
    let script = "const done = arguments[0]; const input = document.getElementById('find-words');
        input.value = 'plover'; input.dispatchEvent(new KeyboardEvent('keydown', {key: 'Enter', cancelable: true}));
        const end = Date.now() + 15000;
        (function look() {
          const rows = document.querySelectorAll('#found li');
          if (rows.length || Date.now() > end) return done([rows.length > 0, document.querySelectorAll('#found script, #found img').length, window.hit === undefined]);
          setTimeout(look, 20);
        })();";
    let found = browser.client.execute_async(script, vec![]).await.expect("terms");
    browser.close().await;
    assert_eq!(found, serde_json::json!([true, 0, true]));
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

//! Lessons in a real browser, from file://: every form of question answered, progress kept, saved, read back,
//! and the same on paper.
mod common;

use common::browser::Browser;
use serde_json::{Value, json};
use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;
use tempfile::TempDir;

const PHONE: (u32, u32) = (390, 844);

/// A lesson with each form of question, and a card.
const FORMS: &str = r#"---
title: All forms
part: Afterwards
order: 99
minutes: 5
summary: Each form once.
able: [Answer all forms.]
tools: [Tape]
cautions:
  - danger: Live wires kill.
task: Write them down.
---

> [!CAUTION]
> Open a window.

```raceway
name: bench
leaves: up
hose: socked-40
path: [{run: 6 ft}, {turn: 90 east}, {run: 40 ft}]
```

## Questions

```questions
- ask: Where does the cement go?
  right: On the tube
  wrong: [In the socket, On both]
  because: It is pushed out of the socket, the first reason.
- ask: Which are reasons for wide sweeps?
  right: [Hard ends wedge, Long things pass]
  wrong: [Less drag by the formula]
  because: The second reason.
- ask: In what order?
  order: [Cut, Deburr, Dry-fit, Cement]
  because: The third reason.
- ask: How long is the first leg of the bench route?
  number: {sum: "leg(bench, 1)", within: 1/8 in}
  because: The fourth reason.
- ask: What is wrong here?
  raceway:
    leaves: up
    path: [{run: 6 ft}, {turn: 90 east}, {run: 10 in}, {turn: 90 north}, {run: 40 ft}]
  judge: {breaks: [fitting-room, bend-spacing]}
  because: The fifth reason.
```

```sign-off
title: One raceway
do: Cut it and fit it dry.
seen: [Every cut is square.]
measured: [{what: Hose path, sum: path(bench), within: 1/2 in}]
```
"#;

/// A raceway whose second hole takes more of its joist than the code lets.
const HOLES: &str = r#"---
title: Holes
part: Afterwards
order: 100
minutes: 2
summary: One question about bores.
able: [Find the hole.]
cautions: [{danger: Live wires kill.}]
task: Measure a hole.
---

## Questions

```questions
- ask: What is wrong in this floor?
  raceway:
    leaves: down
    hose: socked-40
    path:
      - run: 3 ft
      - turn: 90 west
      - run: 46 ft
        crosses:
          - {at: 2 ft, member: joist, size: 2x10, hole: 2-1/8 in}
          - {at: 3 ft 4 in, member: joist, size: 2x6, hole: 2-1/8 in}
  judge: {breaks: [bores]}
  because: A third of a 2x6 is 1-13/16 in.
```
"#;

static PUBLISHED: LazyLock<TempDir> = LazyLock::new(|| {
    let company = common::demo_without_jobs();
    fs::write(company.path().join("content/lessons/all-forms.md"), FORMS).expect("a lesson");
    fs::write(company.path().join("content/lessons/holes.md"), HOLES).expect("a lesson");
    common::publish(company.path());
    company
});

fn page(name: &str) -> PathBuf {
    PUBLISHED.path().join("site").join(name)
}

fn lesson() -> PathBuf {
    page("lessons/all-forms.html")
}

/// Presses "Check" of a question and returns what is told.
async fn check(browser: &Browser, number: usize) -> String {
    let script = format!(
        "const item = document.getElementById('ask.{number}');
         item.querySelector('.ask-check').click();
         return item.querySelector('.ask-told').innerText"
    );
    browser.ask(&script).await.as_str().unwrap_or_default().to_owned()
}

/// Clicks the fields of a question whose words are these.
async fn pick(browser: &Browser, number: usize, words: &[&str]) {
    let script = format!(
        "const wanted = {};
         document.querySelectorAll('#ask\\\\.{number} label').forEach((label) => {{
           const field = label.querySelector('input');
           const words = label.innerText;
           if (wanted.some((one) => words.includes(one)) !== field.checked) label.click();
         }});",
        json!(words)
    );
    browser.ask(&script).await;
}

/// Puts the steps of a question in this order with the buttons, as a keyboard would.
async fn arrange(browser: &Browser, number: usize, words: &[&str]) {
    let script = format!(
        "const list = document.getElementById('steps.{number}');
         const place = (word) => [...list.children].findIndex((s) => s.innerText.includes(word));
         {}.forEach((word, to) => {{
           while (place(word) > to) {{
             list.children[place(word)].querySelector('.ask-move').click();
           }}
         }});",
        json!(words)
    );
    browser.ask(&script).await;
}

/// Taps the middle of a part of the drawing of a question.
async fn tap(browser: &Browser, number: usize, mark: &str) {
    let script = format!(
        "const svg = document.querySelector('#ask\\\\.{number} svg');
         const box = svg.querySelector('g[data-kind=bend][data-mark={mark}]').getBoundingClientRect();
         svg.dispatchEvent(new MouseEvent('click', {{bubbles: true,
           clientX: box.x + box.width / 2, clientY: box.y + box.height / 2}}));"
    );
    browser.ask(&script).await;
}

async fn write(browser: &Browser, number: usize, words: &str) {
    let script =
        format!("document.querySelector('#ask\\\\.{number} .ask-number input').value = {}", json!(words));
    browser.ask(&script).await;
}

async fn count(browser: &Browser) -> String {
    let told = browser.ask("return document.querySelector('.study-count').innerText").await;
    told.as_str().unwrap_or_default().to_owned()
}

async fn all_right(browser: &Browser) {
    pick(browser, 1, &["On the tube"]).await;
    pick(browser, 2, &["wedge", "pass"]).await;
    arrange(browser, 3, &["Cut", "Deburr", "Dry-fit", "Cement"]).await;
    write(browser, 4, "6 ft").await;
    tap(browser, 5, "AB1").await;
    for number in 1..=5 {
        let told = check(browser, number).await;
        assert!(told.starts_with("Right."), "question {number}: {told}");
    }
}

#[tokio::test]
async fn every_form_is_answered_on_the_page_and_gives_its_reason() {
    let browser = Browser::start().await;
    browser.open(&lesson(), PHONE).await;
    let before = browser.ask("return document.querySelector('main').innerText").await;
    assert!(!before.as_str().unwrap_or_default().contains("third reason"), "a reason shows before an answer");
    assert!(check(&browser, 1).await.starts_with("Pick one first."));
    assert!(check(&browser, 4).await.starts_with("Write a number, like"));
    pick(&browser, 1, &["In the socket"]).await;
    pick(&browser, 2, &["wedge"]).await;
    write(&browser, 4, "72-1/4").await;
    pick(&browser, 5, &["Nothing is wrong"]).await;
    for (number, reason) in [(1, "first"), (2, "second"), (3, "third"), (4, "fourth"), (5, "fifth")] {
        let told = check(&browser, number).await;
        assert!(told.starts_with("Not right."), "question {number}: {told}");
        assert!(told.contains(reason), "question {number} gives no reason: {told}");
    }
    assert!(count(&browser).await.starts_with("0 of 5 right"));
    // Each can be answered again; the record keeps what the first try was.
    browser.open(&lesson(), PHONE).await;
    all_right(&browser).await;
    let told = count(&browser).await;
    assert!(told.starts_with("5 of 5 right, 0 at the first try; passed 20"), "{told}");
    pick(&browser, 1, &["On both"]).await;
    assert!(check(&browser, 1).await.starts_with("Not right. Try again."));
    assert_eq!(count(&browser).await, told, "a later slip takes back what was right");
    browser.open(&page("study-record.html"), PHONE).await;
    let row = "return document.querySelector('[data-lesson-row=all-forms]').innerText";
    let row = browser.ask(row).await.as_str().unwrap_or_default().to_owned();
    assert!(row.contains("5 of 5, 0 at the first try"), "{row}");
    assert_eq!(browser.console_errors().await, Vec::<String>::new());
    browser.close().await;
}

/// Feet, inches and fractions as people write them, against the same number in inches.
#[tokio::test]
async fn lengths_are_read_as_people_write_them() {
    let browser = Browser::start().await;
    browser.open(&lesson(), PHONE).await;
    for words in
        ["6 ft", "6ft 0in", "72", "72 in", "71-15/16", "71 15/16 in", "6'", "6' 0-1/16\"", "5 ft 12 in"]
    {
        write(&browser, 4, words).await;
        let told = check(&browser, 4).await;
        assert!(told.starts_with("Right."), "{words}: {told}");
    }
    for words in ["6 in", "7 ft", "71-3/4", "-72", "6 ft 1/2 in"] {
        write(&browser, 4, words).await;
        assert!(check(&browser, 4).await.starts_with("Not right."), "{words}");
    }
    for words in ["six", "", "ft", "6//2", "1/0"] {
        write(&browser, 4, words).await;
        assert!(check(&browser, 4).await.starts_with("Write a number"), "{words}");
    }
    browser.close().await;
}

#[tokio::test]
async fn progress_is_kept_told_on_the_record_saved_and_read_back() {
    let browser = Browser::start().await;
    browser.open(&lesson(), PHONE).await;
    all_right(&browser).await;
    browser.open(&page("study-record.html"), PHONE).await;
    let row = "return document.querySelector('[data-lesson-row=all-forms]').innerText";
    let told = browser.ask(row).await.as_str().unwrap_or_default().to_owned();
    assert!(told.contains("5 of 5") && told.contains("20"), "{told}");
    // The file that is saved is caught where the page makes it.
    let saved = browser
        .client
        .execute_async(
            "const done = arguments[0];
             const make = URL.createObjectURL;
             URL.createObjectURL = (blob) => { blob.text().then(done); return make(blob); };
             document.querySelector('.study-save').click();",
            vec![],
        )
        .await
        .expect("a file");
    let saved = saved.as_str().unwrap_or_default().to_owned();
    let read: Value = serde_json::from_str(&saved).expect("JSON");
    for what in ["right", "tried", "first"] {
        assert_eq!(read["lessons"]["all-forms"][what].as_array().map(Vec::len), Some(5), "{saved}");
    }
    browser.ask("localStorage.clear()").await;
    browser.open(&lesson(), PHONE).await;
    assert!(count(&browser).await.starts_with("0 of 5"));
    let file = PUBLISHED.path().join("saved.json");
    fs::write(&file, &saved).expect("a file");
    let bad = PUBLISHED.path().join("bad.json");
    let firm = read["firm"].as_str().expect("a firm").to_owned();
    let odd = json!({"firm": firm, "name": 3, "lessons": {"all-forms": {"right": ["<b>"], "tried": 7}}});
    fs::write(&bad, odd.to_string()).expect("a file");
    let broken = PUBLISHED.path().join("broken.json");
    fs::write(&broken, &saved[..saved.len() / 2]).expect("a file");
    let none = PUBLISHED.path().join("none.json");
    fs::write(&none, "{\"lessons\": 7}").expect("a file");
    let other = PUBLISHED.path().join("other.json");
    fs::write(&other, saved.replace(&firm, "Heron Tube Works")).expect("a file");
    let cases = [
        (broken, "0 of 5", "broken.json is broken, so nothing was read from it."),
        (none, "0 of 5", "none.json is no study record, so nothing was read from it."),
        (other, "0 of 5", "other.json is a record of Heron Tube Works, not of"),
        (bad, "0 of 5", "Read bad.json."),
        (file, "5 of 5", "Read saved.json."),
    ];
    for (file, wanted, words) in cases {
        let field = browser.client.find(fantoccini::Locator::Css(".study-read")).await.expect("a field");
        field.send_keys(&file.to_string_lossy()).await.expect("a file is chosen");
        let wait = format!(
            "const done = arguments[0];
             const end = Date.now() + 5000;
             (function look() {{
               const told = document.querySelector('.study-kept').innerText;
               if (told.includes('{}') || Date.now() > end) return done(told);
               setTimeout(look, 20);
             }})();",
            file.file_name().unwrap_or_default().to_string_lossy()
        );
        let told = browser.client.execute_async(&wait, vec![]).await.expect("it is read");
        assert!(told.as_str().unwrap_or_default().contains(words), "{words}: {told}");
        assert!(count(&browser).await.starts_with(wanted), "{}", count(&browser).await);
    }
    browser.close().await;
}

/// A bore is marked by a tap on its hole; its leg is taken too.
#[tokio::test]
async fn a_hole_is_tapped_where_it_is_drawn() {
    let browser = Browser::start().await;
    for (tapped, verdict) in [("AX2", "Right."), ("AX1", "Not right.")] {
        browser.open(&page("lessons/holes.html"), PHONE).await;
        let script = format!(
            "const svg = document.querySelector('#ask\\\\.1 svg');
             const box = svg.querySelector('g[data-kind=crossing][data-mark={tapped}]').getBoundingClientRect();
             svg.dispatchEvent(new MouseEvent('click', {{bubbles: true,
               clientX: box.x + box.width / 2, clientY: box.y + box.height / 2}}));
             return document.querySelector('#ask\\\\.1 .ask-told').innerText"
        );
        let told = browser.ask(&script).await;
        assert!(told.as_str().unwrap_or_default().starts_with(&format!("{tapped}, the hole ")), "{told}");
        let told = check(&browser, 1).await;
        assert!(told.starts_with(verdict), "{tapped}: {told}");
    }
    browser.close().await;
}

#[tokio::test]
async fn a_phone_that_keeps_nothing_says_so_and_still_counts() {
    let browser = Browser::start().await;
    let refuse = "Object.defineProperty(window, 'localStorage', {get() { throw new Error('refused'); }})";
    browser.devtools("Page.addScriptToEvaluateOnNewDocument", json!({"source": refuse})).await;
    browser.open(&lesson(), PHONE).await;
    let told = browser.ask("return document.querySelector('.study-kept').innerText").await;
    assert!(told.as_str().unwrap_or_default().contains("keeps nothing"), "{told}");
    all_right(&browser).await;
    assert!(count(&browser).await.starts_with("5 of 5"));
    browser.close().await;
}

/// Fields are named, grouped and reached by key; what is told is announced.
#[tokio::test]
async fn questions_are_for_keyboard_and_screen_reader() {
    let browser = Browser::start().await;
    browser.open(&lesson(), PHONE).await;
    let script = "return [...document.querySelectorAll('.ask-item')].map((item) => [
        item.querySelectorAll('fieldset > legend').length,
        item.querySelectorAll('[role=status]').length,
        [...item.querySelectorAll('input')].every((f) => f.labels.length === 1 && f.tabIndex === 0)])";
    let items = browser.ask(script).await;
    let items = items.as_array().cloned().unwrap_or_default();
    assert_eq!(items.len(), 5);
    assert!(items.iter().all(|item| *item == json!([1, 1, true])), "{items:?}");
    let field = browser.client.find(fantoccini::Locator::Css("#ask\\.4 input")).await.expect("a field");
    field.send_keys("6 ft\u{e007}").await.expect("keys");
    let told = browser.ask("return document.querySelector('#ask\\\\.4 .ask-told').innerText").await;
    assert!(told.as_str().unwrap_or_default().starts_with("Right."), "{told}");
    let button = browser.client.find(fantoccini::Locator::Css("#ask\\.3 .ask-step:nth-child(2) .ask-move"));
    button.await.expect("a button").send_keys("\u{e007}").await.expect("keys");
    let focus = "return document.activeElement.getAttribute('aria-label')";
    let focus = browser.ask(focus).await;
    assert!(focus.as_str().unwrap_or_default().starts_with("Up: "), "the focus is lost: {focus}");
    browser.close().await;
}

async fn printed(browser: &Browser) -> Vec<String> {
    let wishes = json!({"preferCSSPageSize": true, "printBackground": true});
    let pdf = browser.devtools("Page.printToPDF", wishes).await;
    let folder = tempfile::tempdir().expect("a folder");
    let coded = folder.path().join("print.pdf.base64");
    fs::write(&coded, common::text(&pdf, "/data")).expect("the print is kept");
    let read = common::reckon("printed.py", &[&coded]);
    let pages = common::list(&read, "/pages").iter();
    let one_line = |page: &Value| {
        let words = common::text(page, "/text").split_whitespace();
        words.collect::<Vec<_>>().join(" ")
    };
    pages.map(one_line).collect()
}

#[tokio::test]
async fn a_lesson_on_paper_has_room_to_write_its_answers_apart_and_a_card_of_its_own() {
    let browser = Browser::start().await;
    browser.open(&lesson(), PHONE).await;
    let pages = printed(&browser).await;
    let whole = pages.join("\n");
    for dead in
        ["Show the answer", "Check", "Back to the text", "Save answers", "Nothing is wrong Tap", "Up Down"]
    {
        assert!(!whole.contains(dead), "`{dead}` stands on paper: {whole}");
    }
    assert_eq!(whole.matches("Why:").count(), 5, "{whole}");
    let with_answers: Vec<&String> = pages.iter().filter(|page| page.contains("third reason")).collect();
    assert_eq!(with_answers.len(), 1, "{pages:#?}");
    assert!(with_answers[0].contains("Answers") && !with_answers[0].contains("Why:"), "{}", with_answers[0]);
    let cards: Vec<&String> = pages.iter().filter(|page| page.contains("Practical card")).collect();
    assert_eq!(cards.len(), 1, "{pages:#?}");
    assert!(cards[0].contains("Crew lead") && !cards[0].contains("Why:"), "{}", cards[0]);
    browser.open(&page("study-record.html"), PHONE).await;
    let record = printed(&browser).await.join("\n");
    for wanted in ["All forms", "One raceway", "Crew lead, date", "Name"] {
        assert!(record.contains(wanted), "{wanted}: {record}");
    }
    browser.close().await;
}

/// Every heading on paper has words below it before the next one, and no link is left that only a screen
/// can follow.
#[tokio::test]
async fn no_heading_stands_empty_on_paper() {
    let browser = Browser::start().await;
    let media = json!({"media": "print"});
    let mut faults = Vec::new();
    for name in common::site::files(&PUBLISHED.path().join("site")).into_keys() {
        if !name.ends_with(".html") {
            continue;
        }
        browser.open(&page(&name), PHONE).await;
        browser.devtools("Emulation.setEmulatedMedia", media.clone()).await;
        let script = "const shown = (e) => e.getClientRects().length > 0;
            const heads = [...document.querySelectorAll('h3, h4')].filter(shown);
            return heads.filter((head) => {
              let next = head.nextElementSibling;
              while (next && !shown(next)) next = next.nextElementSibling;
              const below = next && !/^H[1-6]$/.test(next.tagName) && (next.innerText.trim() || next.querySelector('svg, img, input, .blank'));
              const deeper = next && next.tagName > head.tagName && /^H[1-6]$/.test(next.tagName);
              return !below && !deeper && !(next && next.matches('.book-clause'));
            }).map((head) => head.innerText)";
        let empty = browser.ask(script).await;
        faults.extend(empty.as_array().into_iter().flatten().map(|head| format!("{name}: {head}")));
    }
    browser.close().await;
    assert!(faults.is_empty(), "{faults:#?}");
}

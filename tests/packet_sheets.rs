//! A packet on paper and on a phone: one sheet a page with its number and stamp, nothing beside the page
//! wanted, ticks and tapes kept.
mod common;

use common::browser::Browser;
use common::generate::Dice;
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

/// Houses drawn by lot whose packets are printed, half of them on each paper.
const HOUSES: u64 = 20;

/// A company with the demo's jobs and houses drawn by lot, published for one paper.
fn printed_company(paper: &str, houses: std::ops::Range<u64>, parts: fn(&str) -> String) -> TempDir {
    let company = common::demo();
    let catalog = company.path().join("content/catalog/tube-and-fittings.yaml");
    let text = fs::read_to_string(&catalog).expect("the parts");
    fs::write(catalog, parts(&text)).expect("the parts");
    let firm = company.path().join("content/company.yaml");
    let text = fs::read_to_string(&firm).expect("the firm's file");
    assert!(text.contains("paper: letter"), "the demo prints on letter");
    fs::write(&firm, text.replace("paper: letter", &format!("paper: {paper}"))).expect("the firm's file");
    fs::remove_dir_all(company.path().join("content/lessons")).expect("no lessons are wanted here");
    for n in houses {
        let house = company.path().join(format!("jobs/lot/house-{n:02}.yaml"));
        fs::create_dir_all(house.parent().expect("a folder")).expect("a folder");
        fs::write(house, common::houses::crowded(&mut Dice::new(4000 + n))).expect("a house");
    }
    common::publish(company.path());
    company
}

/// A packet as it was printed.
struct Print {
    figures: Value,
    /// How many sheets it says it has.
    sheets: usize,
    /// The page it was printed from.
    html: String,
    /// Each page with how much of it is used, its smallest type, and what of its frame it holds.
    pages: Vec<Value>,
}

/// Every packet of a company printed in one go, as its own styles ask: one browser, one run of the reader.
async fn prints(company: &Path) -> Vec<Print> {
    let browser = Browser::start().await;
    let folder = tempfile::tempdir().expect("a folder");
    let mut prints = Vec::new();
    for (_, path) in common::site::files(&company.join("site")) {
        if !path.ends_with("packet.json") {
            continue;
        }
        let figures = fs::read_to_string(&path).expect("a packet");
        let page = path.with_file_name("index.html");
        browser.open(&page, (1280, 900)).await;
        let count = "return document.querySelectorAll('.sheet').length";
        let sheets = browser.ask(count).await.as_u64().unwrap_or_default() as usize;
        let wishes = json!({"preferCSSPageSize": true, "printBackground": true});
        let pdf = browser.devtools("Page.printToPDF", wishes).await;
        let coded = folder.path().join(format!("{:03}.base64", prints.len()));
        fs::write(coded, common::text(&pdf, "/data")).expect("the print is kept");
        prints.push(Print {
            figures: serde_json::from_str(&figures).expect("JSON"),
            sheets,
            html: fs::read_to_string(page).expect("a page"),
            pages: Vec::new(),
        });
    }
    browser.close().await;
    let read = common::reckon("printed_pages.py", &[folder.path()]);
    let read = read.as_array().expect("a list");
    assert_eq!(read.len(), prints.len());
    for (print, pages) in prints.iter_mut().zip(read) {
        print.pages = pages.as_array().expect("pages").clone();
    }
    prints
}

/// What clears each hold of a job, as its figures say it.
fn cleared_by(figures: &Value, found: &mut Vec<String>) {
    match figures {
        Value::Array(list) => list.iter().for_each(|one| cleared_by(one, found)),
        Value::Object(map) => {
            if map.contains_key("clause") && figures["verdict"] == "hold" {
                found.push(figures["remedy"].as_str().unwrap_or("ask the crew lead").to_string());
            }
            map.values().for_each(|one| cleared_by(one, found));
        }
        _ => {}
    }
}

/// Holds of a job that stand in no list of holds of its packet.
fn lost_holds(print: &Print) -> Vec<String> {
    let page = scraper::Html::parse_document(&print.html);
    let lists = scraper::Selector::parse(".holds td:last-child").expect("a selector");
    let plain = |words: &str| words.trim().trim_end_matches('.').to_lowercase();
    let told: Vec<String> = page.select(&lists).map(|cell| plain(&cell.text().collect::<String>())).collect();
    let mut wanted = Vec::new();
    cleared_by(&print.figures, &mut wanted);
    let job = common::text(&print.figures, "/job");
    if common::text(&print.figures, "/verdict") == "hold" {
        assert!(!wanted.is_empty(), "{job} is on hold for nothing");
    }
    wanted.retain(|words| !told.contains(&plain(words)));
    wanted.iter().map(|words| format!("{job}: no sheet says what clears a hold: {words}")).collect()
}

/// The most pages a packet of the demo may print: seven for one inlet, thirteen for three; each floor of a plan
/// may bring a page.
fn most_pages(figures: &Value) -> usize {
    let inlets = common::list(figures, "/inlets").len();
    // Whimbrel House alone has a plan, of two floors.
    let floors = if common::text(figures, "/job") == "whimbrel-house" { 2 } else { 0 };
    4 + 3 * inlets + floors
}

/// What is wrong with the print of one packet.
fn print_faults(print: &Print, paper_mm: (f64, f64)) -> Vec<String> {
    let Print { figures, pages, sheets, .. } = print;
    let job = common::text(figures, "/job");
    let mut faults = lost_holds(print);
    if pages.len() != *sheets {
        faults.push(format!("{job}: {sheets} sheets print on {} pages", pages.len()));
    }
    if !job.starts_with("lot/") && pages.len() > most_pages(figures) {
        faults.push(format!("{job}: {} pages, {} at most", pages.len(), most_pages(figures)));
    }
    for (n, page) in pages.iter().enumerate() {
        let told = format!("{job}: page {}", n + 1);
        let words: Vec<&str> = common::text(page, "/text").split_whitespace().collect();
        let words = words.join(" ");
        let number = format!("{} of {sheets}", n + 1);
        let stamps = ["PASS", "CAUTION", "HOLD", "FAIL", "WAIVED"];
        if !words.contains(&number) || !stamps.iter().any(|stamp| words.contains(stamp)) {
            faults.push(format!("{told} lacks `{number}` or its stamp"));
        }
        let size = (common::number(page, "/width_mm"), common::number(page, "/height_mm"));
        if (size.0 - paper_mm.0).abs() > 0.5 || (size.1 - paper_mm.1).abs() > 0.5 {
            faults.push(format!("{told} is {} by {} mm", size.0, size.1));
        }
        let used = common::number(page, "/used");
        // What a list has over one sheet stands on the next, however little it is: a quarter is let pass there.
        let least = if words.contains(", continued") { 0.25 } else { 1.0 / 3.0 };
        if used < least && n + 1 < pages.len() {
            faults.push(format!("{told} is {:.0} % full", used * 100.0));
        }
        // The checks and the cover's fine words are smaller than what is read at arm's length in a crawl space.
        let small =
            ["Check and prove", "For the homeowner"].iter().any(|title| words.contains(title)) || n == 0;
        let least_pt = if small { 8.5 } else { 9.5 };
        let (found_pt, of) = (common::number(page, "/smallest_pt"), common::text(page, "/smallest_words"));
        if found_pt < least_pt {
            faults.push(format!("{told} has `{of}` at {found_pt:.1} pt"));
        }
        if words.contains("HOLD:") || words.contains("FAIL:") || words.contains("JOB ") {
            continue;
        }
        let verdict = common::text(figures, "/verdict");
        if matches!(verdict, "hold" | "fail") {
            faults.push(format!("{told} of a job that may not be built has no bar"));
        }
    }
    faults
}

async fn every_packet_prints(paper: &str, paper_mm: (f64, f64), parts: fn(&str) -> String) {
    let half = HOUSES / 2;
    let houses = if paper == "letter" { 0..half } else { half..HOUSES };
    let company = printed_company(paper, houses, parts);
    let prints = prints(company.path()).await;
    assert!(prints.len() as u64 > half + 7, "{} packets", prints.len());
    none(prints.iter().flat_map(|print| print_faults(print, paper_mm)).collect());
}

#[tokio::test]
async fn every_sheet_prints_on_one_letter_page_that_is_used() {
    every_packet_prints("letter", (215.9, 279.4), str::to_owned).await;
}

#[tokio::test]
async fn every_sheet_prints_on_one_page_where_tubes_cannot_be_cut() {
    let silent = |parts: &str| {
        let key = |key: &&str| !key.contains("branch-laying-length") && !key.contains("run-laying-length");
        let silent = parts.split(", ").filter(key).collect::<Vec<_>>().join(", ");
        assert_ne!(silent, parts);
        silent
    };
    every_packet_prints("letter", (215.9, 279.4), silent).await;
}

#[tokio::test]
async fn every_sheet_prints_on_one_a4_page_that_is_used() {
    every_packet_prints("a4", (210.0, 297.0), str::to_owned).await;
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
    fs::copy(folder.join("index.html"), &copy).expect("a copy");
    browser.open(&copy, (390, 844)).await;
    let tick = "document.querySelector('[type=checkbox][data-note]').click();
                const blank = document.querySelector('input.blank'); blank.value = '12';
                blank.dispatchEvent(new Event('input', {bubbles: true}));";
    browser.ask(tick).await;
    browser.open(&copy, (390, 844)).await;
    let kept = "return [document.querySelector('[type=checkbox][data-note]').checked, document.querySelector('input.blank').value]";
    assert_eq!(browser.ask(kept).await, json!([true, "12"]));
    browser.close().await;
}

/// A tape that differs: the cut by it stands on the page, in the units that the tape was typed in or not at all.
#[tokio::test]
async fn a_tape_typed_in_gives_its_cut_and_is_refused_outside_the_limits() {
    let browser = Browser::start().await;
    let alone = tempfile::tempdir().expect("a folder");
    let folder = PUBLISHED.path().join("site/jobs/tern-house");
    let copy = alone.path().join("sent.html");
    fs::copy(folder.join("index.html"), &copy).expect("a copy");
    for width in [390, 320] {
        browser.open(&copy, (width, 844)).await;
        // H2, planned 20 ft from B1 to B2, deduct 8 in at each end: the cut by 20 ft 0-1/2 in is 18 ft 8-1/2 in.
        let typed = |words: &str| {
            let words = json!(words);
            format!(
                "const blank = document.querySelector('[data-note=\"inlets/hall/as-measured/H2\"]');
                 blank.value = {words}; blank.dispatchEvent(new Event('input', {{bubbles: true}}));
                 const cell = blank.closest('.cut-tape');
                 return [cell.querySelector('.blank-cut').textContent, cell.querySelector('.tape-says').textContent,
                         document.documentElement.scrollWidth]"
            )
        };
        for words in ["20 ft 0-1/2 in", "20' 1/2\"", "240.5 in", "20ft 0 1/2in", "6.1087 m", "6108.7 mm"] {
            let said = browser.ask(&typed(words)).await;
            assert_eq!(said[0], "18 ft 8-1/2 in", "{words} at {width} px");
            let says = said[1].as_str().unwrap_or_default();
            assert!(says.starts_with("H2c is then ") && says.ends_with('.'), "{words}: {says}");
            assert!(said[2].as_u64() <= Some(u64::from(width)), "{words} moves the page sideways");
        }
        for words in ["19 ft", "40 ft"] {
            let said = browser.ask(&typed(words)).await;
            assert_eq!(said[0], "", "{words}");
            assert!(said[1].as_str().is_some_and(
                |says| says.contains("call the crew lead") || says.contains("Call the crew lead")
            ));
        }
        for words in ["about twenty", "20 ft 1/0 in", "-20 ft", "20 ft 6 ft"] {
            let said = browser.ask(&typed(words)).await;
            assert_eq!(said[0], "", "{words}");
            assert!(said[1].as_str().is_some_and(|says| says.contains("Cannot read")), "{words}: {said}");
        }
    }
    browser.close().await;
}

/// In this raceway each tape alone may be short by more than the grown hose leaves, 2 ft 1-15/16 in.
#[tokio::test]
async fn tapes_that_are_short_together_give_no_cut() {
    let browser = Browser::start().await;
    browser.open(&PUBLISHED.path().join("site/jobs/saltern-row/index.html"), (390, 844)).await;
    // L2 is planned 19 ft, L3 20 ft.
    for (l2, l3, cuts) in [
        ("18 ft", "19 ft", ["16 ft 8 in", "18 ft 4 in"]),
        ("18 ft", "18 ft 6 in", ["", ""]),
        ("18 ft", "20 ft", ["16 ft 8 in", "19 ft 4 in"]),
    ] {
        let typed = format!(
            "const tape = (mark) => document.querySelector(`[data-note=\"inlets/landing/as-measured/${{mark}}\"]`);
             for (const [mark, words] of [['L2', '{l2}'], ['L3', '{l3}']]) {{
               tape(mark).value = words;
               tape(mark).dispatchEvent(new Event('input', {{bubbles: true}}));
             }}
             const cell = (mark) => tape(mark).closest('.cut-tape');
             return ['L2', 'L3'].map((mark) => [cell(mark).querySelector('.blank-cut').textContent,
                                                cell(mark).querySelector('.tape-says').textContent])"
        );
        let said = browser.ask(&typed).await;
        assert_eq!([&said[0][0], &said[1][0]], cuts, "{l2} and {l3}");
        let refused = said[0][1].as_str().is_some_and(|says| says.starts_with("Too short for the hose"));
        assert_eq!(refused, cuts[0].is_empty(), "{said}");
    }
    assert_eq!(browser.console_errors().await, Vec::<String>::new());
    browser.close().await;
}

/// Ticks and blanks as a file, plain YAML named for the job and the day.
#[tokio::test]
async fn what_was_ticked_and_typed_is_saved_as_yaml() {
    let browser = Browser::start().await;
    let alone = tempfile::tempdir().expect("a folder");
    let folder = PUBLISHED.path().join("site/jobs/tern-house");
    let copy = alone.path().join("sent.html");
    fs::copy(folder.join("index.html"), &copy).expect("a copy");
    browser.open(&copy, (390, 844)).await;
    let save = "
        const blank = document.querySelector('[data-note=\"inlets/hall/as-measured/H2\"]');
        blank.value = '20 ft 0-1/2 in'; blank.dispatchEvent(new Event('input', {bubbles: true}));
        const tick = document.querySelector('#hall-cuts .boxes [data-note]'); tick.click();
        let blob = null, name = null;
        URL.createObjectURL = made => { blob = made; return 'blob:kept'; };
        URL.revokeObjectURL = () => {};
        const click = HTMLAnchorElement.prototype.click;
        HTMLAnchorElement.prototype.click = function () { name = this.download; };
        document.getElementById('notes-save').click();
        HTMLAnchorElement.prototype.click = click;
        return blob.text().then(text => [name, text, tick.dataset.note]);";
    let said = browser.ask(save).await;
    browser.close().await;
    let (name, text) = (said[0].as_str().unwrap_or_default(), said[1].as_str().unwrap_or_default());
    let day =
        name.strip_prefix("tern-house-").and_then(|rest| rest.strip_suffix(".yaml")).unwrap_or_default();
    assert!(day.parse::<jiff::civil::Date>().is_ok(), "{name}");
    let kept = alone.path().join(name);
    fs::write(&kept, text).expect("the file is kept");
    // Read by a library of another language.
    let read = common::reckon("yaml_as_json.py", &[&kept]);
    assert_eq!(read["job"], "tern-house", "{text}");
    assert_eq!(read["day"], day);
    assert_eq!(read["inlets"][0]["id"], "hall");
    assert_eq!(read["inlets"][0]["as-measured"]["H2"], "20 ft 0-1/2 in");
    let tick = said[2].as_str().and_then(|note| note.rsplit('/').next()).unwrap_or_default();
    let ticks = read["inlets"][0]["ticks"].as_array().expect("a list of ticks");
    assert!(ticks.iter().any(|told| told == tick), "{text}");
}

/// From the cover every link into the packet lands at the head of its sheet, from a sheet's head one tap leads back,
/// and nothing has moved by the time the page stands still.
#[tokio::test]
async fn every_way_in_a_packet_lands_at_the_head_of_its_sheet_on_a_phone() {
    let browser = Browser::start().await;
    let mut faults = Vec::new();
    for (folder, figures) in packets() {
        let page = folder.join("index.html");
        browser.open(&page, (390, 844)).await;
        let ways =
            "return [...new Set([...document.querySelectorAll('#cover a[href^=\"#\"], .ways a, .jumps a')]
                    .map(way => way.getAttribute('href')))]";
        let ways = browser.ask(ways).await;
        let ways: Vec<&str> = ways.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
        assert!(ways.len() > 6, "{ways:?}");
        for way in &ways {
            let told = format!("{} {way}", common::text(&figures, "/job"));
            if !way.starts_with('#') {
                faults.push(format!("{told} leaves the page"));
                continue;
            }
            let address = format!("{}{way}", url::Url::from_file_path(&page).expect("a whole path"));
            browser.client.goto(&address).await.expect("the page opens");
            let asked = format!(
                "const to = document.getElementById({}), box = to.getBoundingClientRect();
                 return [box.top, innerHeight, to.querySelector('.jumps a[href=\"#cover\"]') !== null,
                         document.documentElement.scrollWidth, scrollY + innerHeight >= document.body.scrollHeight - 1]",
                json!(&way[1..])
            );
            let found = browser.ask(&asked).await;
            let (top, ends) = (found[0].as_f64().unwrap_or(f64::NAN), found[4] == true);
            let at_the_foot = ends && top < found[1].as_f64().unwrap_or(0.0);
            if !((-1.0..=12.0).contains(&top) || at_the_foot) {
                faults.push(format!("{told} stands {top} px down the screen"));
            }
            if !["#cover", "#notes"].contains(way) && found[2] != true {
                faults.push(format!("{told} has no way back to the cover in its head"));
            }
            if found[3].as_u64() > Some(390) {
                faults.push(format!("{told} moves sideways"));
            }
        }
    }
    browser.close().await;
    none(faults);
}

/// What is ticked, taped and read of a job stands on its one page; the owner's sheet alone repeats what is ticked on
/// it when the house is handed over, and nothing else is written twice.
#[test]
fn nothing_of_a_packet_stands_twice() {
    for (folder, figures) in packets() {
        let notes = |name: &str| -> Vec<String> {
            let text = fs::read_to_string(folder.join(name)).expect("a page");
            let after = text.split("data-note=\"").skip(1).filter_map(|rest| rest.split('"').next());
            after.map(str::to_owned).collect()
        };
        let whole = notes("index.html");
        let owner = notes("owner.html");
        let job = common::text(&figures, "/job");
        let tubes = whole.iter().filter(|note| note.contains("/as-measured/")).count();
        assert!(tubes > 0 && notes("office.html").is_empty(), "{job}");
        assert!(!owner.is_empty() && owner.iter().all(|note| whole.contains(note)), "{job}");
        assert!(!owner.iter().any(|note| note.contains("/as-measured/")), "{job}");
        let drawings =
            |name: &str| fs::read_to_string(folder.join(name)).expect("a page").matches("<svg ").count();
        assert!(drawings("index.html") > 2 && drawings("owner.html") == 0, "{job}");
    }
}

//! `watch` as it runs: saves become pages, and a page that is open shows them by itself, without a server.
mod common;

use common::browser::Browser;
use common::watching::{PATIENCE, Watching, until};
use std::fs;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

fn holds(page: &Path, words: &str) -> bool {
    fs::read_to_string(page).is_ok_and(|text| text.contains(words))
}

/// A company with one small job.
fn company() -> tempfile::TempDir {
    let company = common::demo_without_jobs();
    let job = common::repository().join("jobs/plover-cottage.yaml");
    fs::copy(job, company.path().join("jobs/plover.yaml")).expect("a job");
    company
}

fn retitle(job: &Path, title: &str) {
    let text = fs::read_to_string(job).expect("a job");
    let line = text.lines().find(|line| line.starts_with("title: ")).expect("a title");
    fs::write(job, text.replacen(line, &format!("title: {title}"), 1)).expect("a save");
}

#[test]
fn saves_become_pages_and_so_do_jobs_in_folders_made_later() {
    let company = company();
    let (root, site) = (company.path(), company.path().join("site"));
    let _watching = Watching::start(root);
    retitle(&root.join("jobs/plover.yaml"), "Saved Once");
    until("the first save", || holds(&site.join("jobs/plover/index.html"), "Saved Once"));
    let deep = root.join("jobs/2027/spring");
    fs::create_dir_all(&deep).expect("folders");
    fs::copy(root.join("jobs/plover.yaml"), deep.join("rail.yaml")).expect("a job");
    until("a job in a new folder", || site.join("jobs/2027/spring/rail/index.html").is_file());
    retitle(&deep.join("rail.yaml"), "Saved Below");
    until("a save in the new folder", || {
        holds(&site.join("jobs/2027/spring/rail/index.html"), "Saved Below")
    });
    until("the cover", || holds(&site.join("index.html"), "Saved Below"));
    // What was published on the way equals a publish from nothing.
    let page = fs::read(site.join("index.html")).expect("a page");
    drop(_watching);
    fs::remove_dir_all(&site).expect("the set goes");
    common::publish(root);
    assert_eq!(fs::read(site.join("index.html")).expect("a page"), page);
}

#[tokio::test]
async fn an_open_page_shows_a_save_by_itself_and_asks_nothing_unless_it_is_told_to() {
    let company = company();
    let root = company.path().to_path_buf();
    let page = root.join("site/jobs/plover/index.html");
    let watching = Watching::start(&root);
    let browser = Browser::start().await;
    let asked = "return performance.getEntriesByType('resource').map(e => e.name)";
    browser.open(&page, (1000, 800)).await;
    tokio::time::sleep(Duration::from_millis(600)).await;
    assert_eq!(browser.ask("return document.querySelectorAll('script[src]').length").await, 0);
    assert_eq!(
        browser.ask(asked).await,
        serde_json::json!([]),
        "a page opened without ?watch asks for a file"
    );
    let address = format!("{}?watch", url::Url::from_file_path(&page).expect("a whole path"));
    browser.client.goto(&address).await.expect("the page opens");
    let way = browser.ask("return document.querySelector('.ways a[rel=next]').href").await;
    assert!(way.as_str().is_some_and(|way| way.contains(".html?watch")), "links go on watching: {way}");
    browser.ask("window.before = true").await;
    for title in ["Shown Once", "Shown Twice"] {
        retitle(&root.join("jobs/plover.yaml"), title);
        let started = Instant::now();
        let shown = format!("return document.body.innerText.includes('{title}')");
        while browser.client.execute(&shown, vec![]).await.ok() != Some(true.into()) {
            assert!(started.elapsed() < PATIENCE, "the open page never showed {title}");
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
    }
    assert_eq!(browser.ask("return window.before === undefined").await, true);
    drop(watching);
    browser.close().await;
}

#[cfg(target_os = "linux")]
#[test]
fn ended_by_hand_it_leaves_nothing_behind() {
    for signal in ["INT", "TERM", "HUP"] {
        let company = company();
        let (root, stamp) = (company.path(), company.path().join("site/.longsweep-watch.js"));
        let mut watching = Watching::start(root);
        retitle(&root.join("jobs/plover.yaml"), "Saved Once");
        until("the word to open pages", || stamp.exists());
        let killed =
            Command::new("kill").args([&format!("-{signal}"), &watching.0.id().to_string()]).status();
        assert!(killed.expect("kill").success());
        until("its end", || watching.0.try_wait().expect("a child").is_some());
        assert_eq!(watching.0.wait().expect("a child").code(), Some(130), "{signal}");
        assert!(!stamp.exists(), "{signal}: open pages would ask for ever");
        common::publish(root);
    }
}

//! The published site as a whole: links, ids, drawings, and what publishing leaves alone.
mod common;

use common::site::{self, Document};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::LazyLock;
use tempfile::TempDir;

/// The demo, with pictures beside its drawings.
fn demo() -> TempDir {
    let company = common::demo();
    let firm = company.path().join("content/company.yaml");
    let text = fs::read_to_string(&firm).expect("a firm");
    fs::write(&firm, format!("{text}pictures: yes\n")).expect("a firm with pictures");
    company
}

/// The demo, published once for the tests that only read.
static PUBLISHED: LazyLock<TempDir> = LazyLock::new(|| {
    let company = demo();
    common::publish(company.path());
    company
});

fn published_site() -> std::path::PathBuf {
    PUBLISHED.path().join("site")
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// Pages and drawings by name.
fn documents(site: &Path) -> BTreeMap<String, Document> {
    let pages = site::files(site).into_iter();
    let pages = pages.filter(|(name, _)| name.ends_with(".html") || name.ends_with(".svg"));
    pages.map(|(name, path)| (name, site::document(&read(&path)))).collect()
}

fn none(faults: Vec<String>) {
    let shown = &faults[..faults.len().min(40)];
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), shown.join("\n"));
}

/// The check itself must find what is wrong.
#[test]
fn faulty_links_are_found() {
    let site = tempfile::tempdir().unwrap();
    fs::create_dir(site.path().join("jobs")).unwrap();
    fs::write(site.path().join("index.html"), "<h1 id='top' id2=x>x</h1><p id='top'>").unwrap();
    fs::write(
        site.path().join("jobs/a.html"),
        "<img srcset='b.png 2x'><i style=\"background:url('c.png')\">",
    )
    .unwrap();
    let documents = documents(site.path());
    let fault = |link: &str| site::fault("jobs/a.html", link, &documents, site.path());
    for good in ["../index.html", "../index.html#top", "a.html", "#", "mailto:crew@example.invalid"] {
        assert_eq!(fault(good), None, "{good}");
    }
    for bad in [
        "https://example.invalid/",
        "//example.invalid",
        "/index.html",
        "../index.html#end",
        "b.html",
        "..",
        "../../index.html",
        "#x",
    ] {
        assert!(fault(bad).is_some(), "{bad}");
    }
    assert_eq!(documents["jobs/a.html"].links, ["b.png", "c.png"]);
    assert_eq!(documents["index.html"].doubled_ids, ["top"]);
}

#[test]
fn every_link_is_relative_and_leads_somewhere() {
    let site = published_site();
    let documents = documents(&site);
    assert!(documents.contains_key("index.html"), "there is no cover sheet");
    let mut faults = Vec::new();
    for (from, document) in &documents {
        for link in &document.links {
            let fault = site::fault(from, link, &documents, &site);
            faults.extend(fault.map(|what| format!("{from}: {link} {what}")));
        }
    }
    none(faults);
    let links: usize = documents.values().map(|document| document.links.len()).sum();
    assert!(links > 10 * documents.len(), "only {links} links in {} files", documents.len());
}

#[test]
fn ids_are_unique_and_those_asked_for_exist() {
    let mut faults = Vec::new();
    for (name, document) in documents(&published_site()) {
        faults.extend(document.doubled_ids.iter().map(|id| format!("{name}: id {id} stands twice")));
        let lost = document.wanted_ids.iter().filter(|id| !document.ids.contains(*id));
        faults.extend(lost.map(|id| format!("{name}: url(#{id}) finds nothing")));
    }
    none(faults);
}

#[test]
fn styles_and_scripts_load_nothing_from_elsewhere() {
    let site = published_site();
    let documents = documents(&site);
    let mut faults = Vec::new();
    for (name, path) in site::files(&site) {
        if name.ends_with(".css") {
            for link in site::styled(&read(&path)) {
                let fault = site::fault(&name, &link, &documents, &site);
                faults.extend(fault.map(|what| format!("{name}: {link} {what}")));
            }
        } else if name.ends_with(".js") {
            // The names of XML namespaces look like addresses but are never fetched.
            let text = read(&path).replace("http://www.w3.org/", "");
            let remote = ["http://", "https://", "//cdn", "ws://", "wss://"];
            let found = remote.iter().filter(|scheme| text.contains(*scheme));
            faults.extend(found.map(|scheme| format!("{name} holds {scheme}")));
        }
    }
    none(faults);
}

#[test]
fn scripts_in_pages_load_nothing_from_elsewhere() {
    let script = scraper::Selector::parse("script, style").expect("a selector");
    let mut faults = Vec::new();
    for (name, path) in site::files(&published_site()) {
        if !name.ends_with(".html") {
            continue;
        }
        let page = scraper::Html::parse_document(&read(&path));
        for element in page.select(&script) {
            let text = element.text().collect::<String>().replace("http://www.w3.org/", "");
            if text.contains("http://") || text.contains("https://") {
                faults.push(format!("{name}: a <{}> names a remote address", element.value().name()));
            }
        }
    }
    none(faults);
}

#[test]
fn every_drawing_parses_and_every_picture_is_a_png() {
    let (mut drawings, mut pictures) = (0, 0);
    for (name, path) in site::files(&published_site()) {
        let bytes = fs::read(&path).expect("a readable file");
        if name.ends_with(".svg") {
            drawings += 1;
            let parsed = usvg::Tree::from_data(&bytes, &usvg::Options::default());
            assert!(parsed.is_ok(), "{name}: {:?}", parsed.err());
        } else if name.ends_with(".png") {
            pictures += 1;
            assert!(bytes.starts_with(b"\x89PNG\r\n\x1a\n"), "{name} is no PNG");
        }
    }
    assert!(drawings > 0 && pictures > 0, "{drawings} drawings, {pictures} pictures");
}

#[test]
fn each_job_has_its_sheets_beside_its_figures() {
    let site = published_site();
    let jobs = common::inspect(PUBLISHED.path(), &[]);
    assert!(!jobs.is_empty(), "the demo holds no job");
    for job in &jobs {
        let folder = site.join("jobs").join(common::text(job, "/job"));
        let mut wanted = ["index.html", "office.html", "owner.html", "packet.json", "takeoff.csv"]
            .map(String::from)
            .to_vec();
        for inlet in common::list(job, "/inlets") {
            let id = common::text(inlet, "/id");
            wanted.extend(["{}-elevation.svg", "{}-elevation.png"].map(|name| name.replace("{}", id)));
        }
        wanted.sort();
        let made: Vec<String> = site::files(&folder).into_keys().collect();
        assert_eq!(made, wanted, "{}", folder.display());
        let kept: serde_json::Value = serde_json::from_str(&read(&folder.join("packet.json"))).expect("JSON");
        assert_eq!(&kept, job, "packet.json and `inspect --json` differ");
    }
}

#[test]
fn a_second_publish_writes_nothing() {
    let company = demo();
    common::publish(company.path());
    let before = site::snapshot(&company.path().join("site"));
    common::publish(company.path());
    let after = site::snapshot(&company.path().join("site"));
    let names = |all: &BTreeMap<String, _>| all.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(&before), names(&after));
    for (name, (bytes, when)) in &before {
        let (bytes_after, when_after) = &after[name];
        assert!(bytes == bytes_after, "{name} changed though nothing else did");
        assert!(when == when_after, "{name} was written again with the same words");
    }
}

#[test]
fn two_folders_with_the_same_files_give_the_same_site() {
    let other = demo();
    common::publish(other.path());
    let contents = |site: &Path| -> BTreeMap<String, Vec<u8>> {
        site::snapshot(site).into_iter().map(|(name, (bytes, _))| (name, bytes)).collect()
    };
    let (one, two) = (contents(&published_site()), contents(&other.path().join("site")));
    let differ: Vec<_> = one.iter().filter(|(name, bytes)| two.get(*name) != Some(*bytes)).collect();
    assert!(differ.is_empty(), "{:?} differ", differ.iter().map(|(name, _)| name).collect::<Vec<_>>());
    assert_eq!(one.len(), two.len());
}

#[test]
fn a_file_of_someone_else_survives() {
    let company = demo();
    let site = company.path().join("site");
    fs::create_dir_all(site.join("photos")).unwrap();
    let foreign = ["README.md", "photos/hall.txt", "notes.html"];
    for name in foreign {
        fs::write(site.join(name), "not ours").unwrap();
    }
    common::publish(company.path());
    fs::write(site.join("jobs/late.txt"), "not ours").unwrap();
    common::publish(company.path());
    for name in foreign.iter().chain(&["jobs/late.txt"]) {
        assert_eq!(read(&site.join(name)), "not ours", "{name}");
    }
}

#[test]
fn a_broken_job_stops_only_itself() {
    let company = demo();
    let healthy = common::inspect(company.path(), &[]).len();
    let broken = "title: Broken House\naddress: 1 Loose End\ndate: 2026-03-01\nunit: {model: no-such-unit}\n\
                  colour: red\ninlets:\n  - id: hall\n    name: Hall\n    valve: door\n    hose: 40\n    \
                  raceway: {leaves: down, path: [{run: 34}]}\n";
    fs::write(company.path().join("jobs/broken-house.yaml"), broken).unwrap();
    let run = common::run(company.path(), &["publish"]);
    assert_eq!(run.code, 2, "{}\n{}", run.out, run.err);
    for word in ["broken-house.yaml", "colour", "34"] {
        assert!(run.err.contains(word), "the message does not say {word:?}:\n{}", run.err);
    }
    let site = company.path().join("site");
    let packets = site::files(&site.join("jobs"));
    let packets = packets.keys().filter(|name| name.ends_with("packet.json")).count();
    assert_eq!(packets, healthy, "packets of the healthy jobs");
    let pages = site::files(&site).into_iter().filter(|(name, _)| name.ends_with(".html"));
    let told = pages.map(|(_, path)| read(&path).to_lowercase());
    let told = told.filter(|page| page.contains("broken-house") && page.contains("unread")).count();
    assert!(told > 0, "no page says that broken-house is unread");
}

#[test]
fn a_mended_job_comes_back() {
    let company = demo();
    let first = site::files(&company.path().join("jobs"));
    let (name, path) = first.iter().find(|(name, _)| name.ends_with(".yaml")).expect("a job in the demo");
    let words = read(path);
    fs::write(path, format!("{words}\nnonsense: 1\n")).unwrap();
    assert_eq!(common::run(company.path(), &["publish"]).code, 2, "{name} with an unknown key");
    fs::write(path, &words).unwrap();
    common::publish(company.path());
    let mended = site::files(&company.path().join("site"));
    let whole = site::files(&published_site());
    assert_eq!(mended.keys().collect::<Vec<_>>(), whole.keys().collect::<Vec<_>>());
}

//! Reading a published site as a strict visitor would.
use scraper::{Html, Selector};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Component, Path, PathBuf};

/// Attributes whose value is one address.
const ADDRESSES: [&str; 11] = [
    "href",
    "src",
    "xlink:href",
    "poster",
    "data",
    "action",
    "formaction",
    "cite",
    "manifest",
    "background",
    "ping",
];

/// A page or drawing, as far as links go.
#[derive(Default)]
pub struct Document {
    pub ids: BTreeSet<String>,
    pub doubled_ids: Vec<String>,
    pub links: Vec<String>,
    /// Ids that the document's own styles and markers ask for, `url(#hatch)`.
    pub wanted_ids: Vec<String>,
}

/// Every file below a folder, by its path from there with `/`; what the program keeps there for itself is
/// no part of the set.
pub fn files(site: &Path) -> BTreeMap<String, PathBuf> {
    let mut found = BTreeMap::new();
    for entry in walkdir::WalkDir::new(site) {
        let entry = entry.expect("a readable site");
        let own = entry.file_name().to_string_lossy().starts_with(".longsweep-");
        if entry.file_type().is_file() && !own {
            let name = entry.path().strip_prefix(site).expect("below the site");
            found.insert(name.to_string_lossy().replace('\\', "/"), entry.into_path());
        }
    }
    found
}

/// Reads a page or an SVG file for its ids and links.
pub fn document(text: &str) -> Document {
    let mut document = Document::default();
    let every = Selector::parse("*").expect("a selector");
    for element in Html::parse_document(text).select(&every) {
        let value = element.value();
        if let Some(id) = value.id()
            && !document.ids.insert(id.into())
        {
            document.doubled_ids.push(id.into());
        }
        for (name, text) in value.attrs() {
            // The parser drops the prefix of `xlink:href` inside SVG and keeps it elsewhere.
            if ADDRESSES.contains(&name) && !(name == "data" && value.name() != "object") {
                document.links.push(text.trim().into());
            } else if name == "srcset" {
                document.links.extend(candidates(text));
            } else {
                document.add_styled(text);
            }
        }
        if value.name() == "style" {
            document.add_styled(&element.text().collect::<String>());
        }
        if value.name() == "meta"
            && value.attr("http-equiv").is_some_and(|x| x.eq_ignore_ascii_case("refresh"))
        {
            document.links.push(format!("refresh:{}", value.attr("content").unwrap_or_default()));
        }
    }
    document
}

impl Document {
    fn add_styled(&mut self, text: &str) {
        for address in styled(text) {
            match address.strip_prefix('#') {
                Some(id) => self.wanted_ids.push(id.into()),
                None => self.links.push(address),
            }
        }
    }
}

/// The addresses in a `srcset`.
fn candidates(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(',').filter_map(|one| one.split_whitespace().next()).map(String::from)
}

/// The addresses of `url(...)` and `@import` in a style.
pub fn styled(text: &str) -> Vec<String> {
    let mut found: Vec<String> = text
        .split("url(")
        .skip(1)
        .filter_map(|rest| rest.split(')').next())
        .map(|address| address.trim().trim_matches(['"', '\'']).to_string())
        .collect();
    for rest in text.split("@import").skip(1) {
        let quoted = rest.trim_start();
        if let Some(mark @ ('"' | '\'')) = quoted.chars().next() {
            found.extend(quoted[1..].split(mark).next().map(String::from));
        }
    }
    found
}

/// What is wrong with a link from a file of the site, if anything.
pub fn fault(from: &str, link: &str, documents: &BTreeMap<String, Document>, site: &Path) -> Option<String> {
    if ["mailto:", "tel:", "data:"].iter().any(|scheme| link.starts_with(scheme)) {
        return None;
    }
    let (path, anchor) = link.split_once('#').map_or((link, None), |(path, id)| (path, Some(id)));
    let path = path.split('?').next().unwrap_or_default();
    let colon = path.find(':').is_some_and(|at| !path[..at].contains('/'));
    if colon || path.starts_with('/') {
        return Some("is not a relative address".into());
    }
    let target = match path {
        "" => from.to_string(),
        _ => match resolve(from, &percent_decoded(path)) {
            Some(target) => target,
            None => return Some("leads out of the site".into()),
        },
    };
    if !site.join(&target).is_file() {
        return Some(format!("leads to {target}, which is no file"));
    }
    let id = percent_decoded(anchor.unwrap_or_default());
    let known = documents.get(&target).is_none_or(|document| document.ids.contains(&id));
    (!id.is_empty() && !known).then(|| format!("asks for #{id}, which {target} does not have"))
}

/// A relative path as seen from a file of the site; none when it climbs out.
fn resolve(from: &str, path: &str) -> Option<String> {
    let mut parts: Vec<String> = from.split('/').map(String::from).collect();
    parts.pop();
    for component in Path::new(path).components() {
        match component {
            Component::Normal(name) => parts.push(name.to_string_lossy().into()),
            Component::ParentDir => drop(parts.pop()?),
            _ => {}
        }
    }
    Some(parts.join("/"))
}

fn percent_decoded(text: &str) -> String {
    let mut bytes = Vec::new();
    let mut rest = text.as_bytes();
    while let [first, tail @ ..] = rest {
        let code = tail.get(..2).and_then(|two| std::str::from_utf8(two).ok());
        match code.and_then(|two| u8::from_str_radix(two, 16).ok()) {
            Some(byte) if *first == b'%' => {
                bytes.push(byte);
                rest = &tail[2..];
            }
            _ => {
                bytes.push(*first);
                rest = tail;
            }
        }
    }
    String::from_utf8_lossy(&bytes).into()
}

/// What every file of a site holds and when it was last written.
pub fn snapshot(site: &Path) -> BTreeMap<String, (Vec<u8>, std::time::SystemTime)> {
    let read = |(name, path): (String, PathBuf)| {
        let when = fs::metadata(&path).and_then(|m| m.modified()).expect("a time of writing");
        (name, (fs::read(&path).expect("a readable file"), when))
    };
    files(site).into_iter().map(read).collect()
}

//! A path drawn in a lesson: a raceway without a job around it.
use super::super::catalog::Catalog;
use super::super::job::{Inlet, LineSpec, Owner, Readings, Step};
use super::super::rules::{PRACTICES, Practice};
use super::keys;
use super::kit::{Fields, Reader};
use super::path::{Ends, direction, walk};
use crate::text::Diagnostic;
use crate::text::{Node, Place};

/// Words for what a block shows.
pub const SHOWN: [(&str, Shown); 5] = [
    ("drawing", Shown::Drawing),
    ("travel", Shown::Travel),
    ("cases", Shown::Cases),
    ("both", Shown::Both),
    ("valve", Shown::Valve),
];

/// What a block puts on the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    Drawing,
    /// The suction that draws the hose in, needed and had, over its travel.
    Travel,
    /// The same with all of the suction spent at one place, the three pure cases side by side.
    Cases,
    /// Drawing and travel.
    Both,
    /// The valve in its wall, from the front and from the side.
    Valve,
}

/// A tree of questions in a lesson.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LessonTree {
    pub title: String,
    pub forks: Vec<LessonFork>,
}

/// A question of it: each answer, and what that leads to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LessonFork {
    pub ask: String,
    pub ways: Vec<(String, String)>,
    /// Whether one answer leads to the question that follows.
    pub goes_on: bool,
}

/// Reads a `tree` block: `title`, and `forks`, each with `ask`, its `ways` of `if` and `then`, and `next`, the
/// answer that leads to the fork below.
pub fn read_tree(file: &str, text: &str, before: usize) -> Result<LessonTree, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open_below(file, before, text, "a tree: title, forks")?;
    let tree = tree(&mut r, &root);
    r.finish(tree)
}

fn tree(r: &mut Reader, root: &Node) -> Option<LessonTree> {
    let f = r.thing(root, &keys::TREE_BLOCK)?;
    let title = r.need(&f, "title").and_then(|n| r.name(n, "a title"));
    let items = r.need(&f, "forks").and_then(|n| r.list(n, "a list of forks"))?;
    let forks: Vec<Option<LessonFork>> = items.iter().map(|item| fork(r, item)).collect();
    Some(LessonTree { title: title?.to_owned(), forks: forks.into_iter().collect::<Option<_>>()? })
}

fn fork(r: &mut Reader, item: &Node) -> Option<LessonFork> {
    let f = r.thing(item, &keys::FORK)?;
    let ask = r.need(&f, "ask").and_then(|n| r.text(n, "a question"));
    let items = r.need(&f, "ways").and_then(|n| r.list(n, "a list of answers"))?;
    let ways: Vec<Option<(String, String)>> = items.iter().map(|item| way(r, item)).collect();
    let mut ways = ways.into_iter().collect::<Option<Vec<_>>>()?;
    let next = f.get("next").map(|n| r.text(n, "the answer that leads on"));
    let goes_on = next.is_some();
    if let Some(next) = next {
        ways.push((next?.to_owned(), "go on below".into()));
    }
    Some(LessonFork { ask: ask?.to_owned(), ways, goes_on })
}

fn way(r: &mut Reader, item: &Node) -> Option<(String, String)> {
    let f = r.thing(item, &keys::WAY)?;
    let answer = r.need(&f, "if").and_then(|n| r.text(n, "an answer"));
    let then = r.need(&f, "then").and_then(|n| r.text(n, "what to do then"));
    Some((answer?.to_owned(), then?.to_owned()))
}

/// Reads a `practice` block, which names a sketch: `of: deburr`.
pub fn read_practice(file: &str, text: &str, before: usize) -> Result<Practice, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open_below(file, before, text, "a sketch: of")?;
    let f = r.thing(&root, &keys::PRACTICE_BLOCK);
    let of = f.and_then(|f| r.need(&f, "of").cloned());
    let practice = of.and_then(|n| r.one_of(&n, "a sketch", &PRACTICES));
    r.finish(practice)
}

/// What a `raceway` block of a lesson draws.
#[derive(Debug, Clone)]
pub struct LessonPath {
    /// By which questions and cards speak of it.
    pub name: Option<String>,
    pub title: Option<String>,
    /// Whether the block names a hose; without one nothing should be said about its room.
    pub hose_named: bool,
    pub shown: Shown,
    /// An inlet whose parts are the first of the catalog where they are not named.
    pub inlet: Inlet,
    /// Its line, which ends in the stop.
    pub line: LineSpec,
}

/// Reads such a block. `before` is the number of lines of the file above the text, so that faults
/// tell the line of the file.
pub fn read_path(
    file: &str,
    text: &str,
    before: usize,
    catalog: &Catalog,
) -> Result<LessonPath, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open_below(file, before, text, "a raceway: leaves, path")?;
    let path = path(&mut r, &root, catalog);
    r.finish(path)
}

fn path(r: &mut Reader, root: &Node, catalog: &Catalog) -> Option<LessonPath> {
    let f = r.thing(root, &keys::RACEWAY_BLOCK)?;
    let name = f.get("name").map(|n| r.id(n, "the name of a raceway").map(str::to_owned));
    let title = f.get("title").and_then(|n| r.name(n, "a title"));
    let hoses: Vec<&str> = catalog.hoses.iter().map(|h| h.id.as_str()).collect();
    let hose = named_or_first(r, &f, "hose", &hoses);
    let valves: Vec<&str> = catalog.valves.iter().map(|v| v.id.as_str()).collect();
    let valve = named_or_first(r, &f, "valve", &valves);
    let shown = f.get("show").map(|n| r.one_of(n, "what to show", &SHOWN));
    let leaves = r.need(&f, "leaves").and_then(|n| direction(r, n));
    let walked =
        r.need(&f, "path").map(|n| walk(r, n, leaves.as_ref().map(|d| d.vector), Ends::Run, catalog));
    Some(LessonPath {
        name: name.map_or(Some(None), |name| name.map(Some))?,
        hose_named: f.get("hose").is_some(),
        shown: shown.unwrap_or(Some(Shown::Drawing))?,
        inlet: Inlet {
            id: "raceway".into(),
            name: title.unwrap_or("Raceway").to_owned(),
            wall_m: None,
            bay_m: None,
            valve: catalog.valves[valve?].clone(),
            hose: catalog.hoses[hose?].clone(),
            waivers: Vec::new(),
            readings: Readings::default(),
            place: r.place_of(root),
        },
        line: LineSpec {
            owner: Owner::Inlet(0),
            id: "raceway".into(),
            name: title.unwrap_or("Raceway").to_owned(),
            letters: "A".into(),
            start: None,
            leaves: leaves?,
            steps: walked?.steps.into_iter().chain([Step::Stop]).collect(),
            into: None,
            place: r.place_of(root),
            into_place: Place::default(),
        },
        title: title.map(str::to_owned),
    })
}

/// The part that is named, or the first there is.
fn named_or_first(r: &mut Reader, f: &Fields, key: &str, ids: &[&str]) -> Option<usize> {
    if let Some(node) = f.get(key) {
        return r.known(node, key, "the catalog", ids);
    }
    if ids.is_empty() {
        r.fail(f.mark.clone(), format!("the catalog has no {key}"), "needed to draw this").help =
            Some(format!("add a {key} to the catalog"));
        return None;
    }
    Some(0)
}

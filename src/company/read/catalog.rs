//! The catalog, which may be spread over several files.
use super::super::catalog::{Catalog, Fitting, Hose, Tube, UnitPart, Valve, Wire};
use super::fitting::fitting;
use super::keys;
use super::kit::{Fields, Reader};
use super::part::{hose, tube, unit, valve, wire};
use crate::text::{Diagnostic, Related};
use crate::text::{Node, Value};
use std::ops::Range;

/// A part with the place where it is written.
struct Placed<T> {
    part: T,
    at: Related,
}

/// All parts of all files.
#[derive(Default)]
struct Parts {
    tubes: Vec<Placed<Tube>>,
    fittings: Vec<Placed<Fitting>>,
    hoses: Vec<Placed<Hose>>,
    valves: Vec<Placed<Valve>>,
    units: Vec<Placed<UnitPart>>,
    wires: Vec<Placed<Wire>>,
}

/// Reads the catalog from its files (name and text), in order.
///
/// The catalog holds every part that could be read, so that one bad part stops only the jobs that
/// use it; it is `None` without a tube. Everything that was wrong comes beside it.
pub fn read_catalog(files: &[(&str, &str)]) -> (Option<Catalog>, Vec<Diagnostic>) {
    let mut parts = Parts::default();
    let mut found = Vec::new();
    for (file, text) in files {
        match Reader::open(file, text, "parts: tube, fittings, hoses, valves, units, wire") {
            Ok((mut r, root)) => {
                parts.read(&mut r, &root);
                found.extend(r.faults());
            }
            Err(faults) => found.extend(faults),
        }
    }
    let catalog = parts.settle(&mut found, files.first().map_or("content/catalog", |(file, _)| file));
    (catalog, found)
}

impl Parts {
    fn read(&mut self, r: &mut Reader, root: &Node) {
        let Some(f) = r.thing(root, &keys::CATALOG) else {
            return;
        };
        one(r, &f, "tube", tube, &mut self.tubes);
        each(r, &f, "fittings", fitting, &mut self.fittings);
        each(r, &f, "hoses", hose, &mut self.hoses);
        each(r, &f, "valves", valve, &mut self.valves);
        each(r, &f, "units", unit, &mut self.units);
        one(r, &f, "wire", wire, &mut self.wires);
    }

    fn settle(self, found: &mut Vec<Diagnostic>, file: &str) -> Option<Catalog> {
        if self.tubes.is_empty() && found.is_empty() {
            found.push(Diagnostic::of_file(
                file,
                "the catalog has no tube",
                Some("add `tube:` with its figures"),
            ));
        }
        let mut tubes = single(self.tubes, "tube", found);
        let mut wires = single(self.wires, "wire", found);
        let fittings = distinct(self.fittings, "fitting", |f| &f.id, found);
        let hoses = distinct(self.hoses, "hose", |h| &h.id, found);
        let valves = distinct(self.valves, "valve", |v| &v.id, found);
        let units = distinct(self.units, "unit", |u| &u.id, found);
        Some(Catalog { tube: tubes.pop()?, fittings, hoses, valves, units, wire: wires.pop() })
    }
}

fn one<T>(
    r: &mut Reader,
    f: &Fields,
    key: &str,
    read: fn(&mut Reader, &Node) -> Option<T>,
    into: &mut Vec<Placed<T>>,
) {
    if let Some(node) = f.get(key) {
        let at = r.source.related(mark_of_id(r, node), "first given here");
        into.extend(read(r, node).map(|part| Placed { part, at }));
    }
}

fn each<T>(
    r: &mut Reader,
    f: &Fields,
    key: &str,
    read: fn(&mut Reader, &Node) -> Option<T>,
    into: &mut Vec<Placed<T>>,
) {
    let items = f.get(key).and_then(|node| r.list(node, "a list of parts")).unwrap_or(&[]);
    for item in items {
        let at = r.source.related(mark_of_id(r, item), "first given here");
        into.extend(read(r, item).map(|part| Placed { part, at }));
    }
}

/// The bytes of a part's id, where it has one.
fn mark_of_id(r: &Reader, node: &Node) -> Range<usize> {
    let id = match &node.value {
        Value::Map(map) => map.iter().find(|(key, _)| key.value == Value::Text("id".into())),
        _ => None,
    };
    id.map_or(r.mark_of(node), |(_, value)| value.bytes.clone())
}

/// At most one of its kind; the first stands.
fn single<T>(parts: Vec<Placed<T>>, what: &str, found: &mut Vec<Diagnostic>) -> Vec<T> {
    let mut parts = parts.into_iter();
    let Some(first) = parts.next() else {
        return Vec::new();
    };
    for again in parts {
        found.push(twice(format!("the catalog has a second {what}"), &again.at, &first.at));
    }
    vec![first.part]
}

/// Ids are unique whatever their case; the first stands.
fn distinct<T>(
    parts: Vec<Placed<T>>,
    what: &str,
    id: fn(&T) -> &String,
    found: &mut Vec<Diagnostic>,
) -> Vec<T> {
    let mut kept: Vec<Placed<T>> = Vec::new();
    for part in parts {
        match kept.iter().find(|known| id(&known.part).eq_ignore_ascii_case(id(&part.part))) {
            Some(first) => {
                let message = format!("the {what} id `{}` is given twice", id(&part.part));
                found.push(twice(message, &part.at, &first.at));
            }
            None => kept.push(part),
        }
    }
    kept.into_iter().map(|placed| placed.part).collect()
}

/// A fault at one place that has an earlier one, perhaps in another file.
fn twice(message: String, again: &Related, first: &Related) -> Diagnostic {
    let again = again.clone();
    Diagnostic {
        severity: Default::default(),
        file: again.file,
        line: again.line,
        column: again.column,
        len: again.len,
        message,
        label: "given again here".into(),
        help: Some("leave one of them out, or give it another id".into()),
        related: vec![first.clone()],
        source_line: again.source_line,
    }
}

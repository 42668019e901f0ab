//! The catalog, which may be spread over several files.
use super::super::catalog::{Catalog, Fitting, Hose, Tube, UnitPart, Valve, Wire};
use super::super::rests::{FaultyPart, Rests};
use super::fitting::fitting;
use super::keys;
use super::kit::{Fields, Reader};
use super::part::{hose, tube, unit, valve, wire};
use crate::measure::{Kind, read_quantity};
use crate::text::{Diagnostic, Related};
use crate::text::{Node, Value};
use std::ops::Range;

/// A part with the place where it is written, and what jobs rest on it.
struct Placed<T> {
    part: T,
    at: Related,
    rests: Rests,
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
    faulty: Vec<FaultyPart>,
}

/// Reads the catalog from its files (name and text), in order.
///
/// The catalog holds every part that could be read without a fault, and tells of the others which jobs rest
/// on them; it is `None` without a tube. Everything that was wrong comes beside it.
pub fn read_catalog(files: &[(&str, &str)]) -> (Option<Catalog>, Vec<Diagnostic>) {
    let mut parts = Parts::default();
    let mut found = Vec::new();
    for (file, text) in files {
        match Reader::open(file, text, "parts: tube, fittings, hoses, valves, units, wire") {
            Ok((mut r, root)) => {
                parts.read(&mut r, &root);
                found.extend(r.faults());
            }
            Err(faults) => {
                parts.fault(Rests::All, &faults);
                found.extend(faults);
            }
        }
    }
    let catalog = parts.settle(&mut found, files.first().map_or("content/catalog", |(file, _)| file));
    (catalog, found)
}

impl Parts {
    fn read(&mut self, r: &mut Reader, root: &Node) {
        let before = r.told();
        let fields = r.whole(root, &keys::CATALOG);
        self.fault(Rests::All, r.told_since(before));
        let Some(f) = fields else {
            return;
        };
        if let Some(node) = f.get("tube") {
            let (tube, rests) = (tube_part(r, node, &mut self.faulty), Rests::All);
            let at = r.source.related(mark_of_id(r, node), "first given here");
            self.tubes.extend(tube.map(|part| Placed { part, at, rests }));
        }
        let faulty = &mut self.faulty;
        each(r, &f, "fittings", fitting, fitting_rests, &mut self.fittings, faulty);
        each(r, &f, "hoses", hose, by_name, &mut self.hoses, faulty);
        each(r, &f, "valves", valve, by_name, &mut self.valves, faulty);
        each(r, &f, "units", unit, by_name, &mut self.units, faulty);
        if let Some(node) = f.get("wire") {
            sound(r, node, wire, |_| Rests::All, &mut self.wires, faulty);
        }
    }

    /// Notes faults of what some jobs rest on.
    fn fault(&mut self, rests: Rests, faults: &[Diagnostic]) {
        if !faults.is_empty() {
            self.faulty.push(FaultyPart { rests, faults: faults.to_vec() });
        }
    }

    fn settle(self, found: &mut Vec<Diagnostic>, file: &str) -> Option<Catalog> {
        if self.tubes.is_empty() && found.is_empty() {
            found.push(Diagnostic::of_file(
                file,
                "the catalog has no tube",
                Some("add `tube:` with its figures"),
            ));
        }
        let mut faulty = self.faulty;
        let mut settle = Settle { found, faulty: &mut faulty };
        let tube = settle.single(self.tubes, "tube");
        let wire = settle.single(self.wires, "wire");
        let fittings = settle.distinct(self.fittings, "fitting", |f| &f.id);
        let hoses = settle.distinct(self.hoses, "hose", |h| &h.id);
        let valves = settle.distinct(self.valves, "valve", |v| &v.id);
        let units = settle.distinct(self.units, "unit", |u| &u.id);
        Some(Catalog { tube: tube?, fittings, hoses, valves, units, wire, faulty })
    }
}

/// The tube, with whatever fault it has: the sheets that list parts need one, and no job is read that
/// rests on a faulty one.
fn tube_part(r: &mut Reader, node: &Node, faulty: &mut Vec<FaultyPart>) -> Option<Tube> {
    let before = r.told();
    let part = tube(r, node);
    let faults = r.told_since(before).to_vec();
    if !faults.is_empty() {
        faulty.push(FaultyPart { rests: Rests::All, faults });
    }
    part
}

/// Reads a part; one with any fault stands among the faulty and not among the parts.
fn sound<T>(
    r: &mut Reader,
    node: &Node,
    read: fn(&mut Reader, &Node) -> Option<T>,
    rests: fn(&Node) -> Rests,
    into: &mut Vec<Placed<T>>,
    faulty: &mut Vec<FaultyPart>,
) {
    let at = r.source.related(mark_of_id(r, node), "first given here");
    let before = r.told();
    let part = read(r, node);
    let faults = r.told_since(before).to_vec();
    match part {
        Some(part) if faults.is_empty() => into.push(Placed { part, at, rests: rests(node) }),
        _ => faulty.push(FaultyPart { rests: rests(node), faults }),
    }
}

fn each<T>(
    r: &mut Reader,
    f: &Fields,
    key: &str,
    read: fn(&mut Reader, &Node) -> Option<T>,
    rests: fn(&Node) -> Rests,
    into: &mut Vec<Placed<T>>,
    faulty: &mut Vec<FaultyPart>,
) {
    let before = r.told();
    let items = f.get(key).and_then(|node| r.list(node, "a list of parts")).unwrap_or(&[]);
    let faults = r.told_since(before).to_vec();
    if !faults.is_empty() {
        faulty.push(FaultyPart { rests: Rests::All, faults });
    }
    for item in items {
        sound(r, item, read, rests, into, faulty);
    }
}

/// The id of a part, where it can be told.
fn id_of(node: &Node) -> Option<&str> {
    word(node, "id").filter(|id| !id.is_empty())
}

fn word<'n>(node: &'n Node, key: &str) -> Option<&'n str> {
    match &node.get(key)?.value {
        Value::Text(text) => Some(text.trim()),
        _ => None,
    }
}

/// Hoses, valves and units are taken by name only.
fn by_name(node: &Node) -> Rests {
    id_of(node).map_or(Rests::All, |id| Rests::Named(id.to_owned()))
}

/// A junction or a reducer is taken by name, a bend by name or for its angle, a cap by what has a trunk,
/// anything else by any job.
fn fitting_rests(node: &Node) -> Rests {
    let angle = word(node, "angle").and_then(|angle| read_quantity(angle, Kind::Angle).ok());
    match (id_of(node), word(node, "kind"), angle) {
        (Some(id), Some("junction" | "reducer"), _) => Rests::Named(id.to_owned()),
        (Some(id), Some("cap"), _) => Rests::Trunked(id.to_owned()),
        (Some(id), Some("bend"), Some(angle_deg)) => Rests::Turned { id: id.to_owned(), angle_deg },
        _ => Rests::All,
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

/// Where what is given twice is told, and taken for faulty: nobody knows which of the two is meant.
struct Settle<'a> {
    found: &'a mut Vec<Diagnostic>,
    faulty: &'a mut Vec<FaultyPart>,
}

impl Settle<'_> {
    fn twice(&mut self, message: String, again: &Related, first: &Related, rests: Rests) {
        let fault = twice(message, again, first);
        self.found.push(fault.clone());
        self.faulty.push(FaultyPart { rests, faults: vec![fault] });
    }

    /// At most one of its kind; the first stands.
    fn single<T>(&mut self, parts: Vec<Placed<T>>, what: &str) -> Option<T> {
        let mut parts = parts.into_iter();
        let first = parts.next()?;
        for again in parts {
            self.twice(format!("the catalog has a second {what}"), &again.at, &first.at, Rests::All);
        }
        Some(first.part)
    }

    /// Ids are unique whatever their case; of two with one id none stands.
    fn distinct<T>(&mut self, parts: Vec<Placed<T>>, what: &str, id: fn(&T) -> &String) -> Vec<T> {
        let mut kept: Vec<(Placed<T>, bool)> = Vec::new();
        for part in parts {
            match kept.iter_mut().find(|(known, _)| id(&known.part).eq_ignore_ascii_case(id(&part.part))) {
                Some((first, alone)) => {
                    *alone = false;
                    let message = format!("the {what} id `{}` is given twice", id(&part.part));
                    let (at, rests) = (first.at.clone(), first.rests.clone());
                    self.twice(message.clone(), &part.at, &at, part.rests);
                    if let Some(fault) = self.faulty.last().map(|last| last.faults.clone()) {
                        self.faulty.push(FaultyPart { rests, faults: fault });
                    }
                }
                None => kept.push((part, true)),
            }
        }
        kept.into_iter().filter(|(_, alone)| *alone).map(|(placed, _)| placed.part).collect()
    }
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
        skipped: again.skipped,
    }
}

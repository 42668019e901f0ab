//! A job file.
use super::super::catalog::Catalog;
use super::super::firm::Firm;
use super::super::job::{Direction, Inlet, Into, Job, LineSpec, Owner, Readings, Step, UnitPlace};
use super::super::rules::Standard;
use super::bounds::{INLETS, steps_of_job};
use super::frame::{datums, levels, place, wall};
use super::join::{TrunkDraft, check_rest, check_station, into, trunks};
use super::keys;
use super::keys::Takes;
use super::kit::{Fields, Reader, cut_words_in};
use super::mark::{check_marks, letters, settle};
use super::path::{Ends, direction, walk};
use super::plan::job_plan;
use super::waiver::{LineNames, cleared, waivers};
use crate::measure::Kind;
use crate::text::Diagnostic;
use crate::text::{Node, Place, Value};
use glam::DVec3;
use std::ops::Range;
use std::sync::Arc;

/// Reads one job; its key is the file's path under `jobs/` without its ending. All faults come out. `plans`
/// are the company's plan files, path and text, of which the job may name one that stands beside it.
pub fn read_job(
    file: &str,
    text: &str,
    catalog: &Catalog,
    firm: &Firm,
    standards: &[Standard],
    plans: &[(String, String)],
) -> Result<Job, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open(file, text, "a job: title, date, unit, inlets")?;
    r.say = firm.say();
    let job = job(&mut r, &root, catalog, firm, standards, plans);
    r.finish(job)
}

/// How the name of a job's file may end; case does not matter.
pub const JOB_ENDINGS: [&str; 2] = ["yaml", "yml"];

/// `2026/gull` for `jobs/2026/gull.yaml`.
pub fn job_key(file: &str) -> String {
    let path = file.strip_prefix("jobs/").unwrap_or(file);
    match path.rsplit_once('.') {
        Some((key, ending)) if JOB_ENDINGS.iter().any(|known| known.eq_ignore_ascii_case(ending)) => {
            key.to_owned()
        }
        _ => path.to_owned(),
    }
}

fn job(
    r: &mut Reader,
    root: &Node,
    catalog: &Catalog,
    firm: &Firm,
    standards: &[Standard],
    plans: &[(String, String)],
) -> Option<Job> {
    let f = r.whole(root, &keys::JOB)?;
    let plan = job_plan(r, &f, plans).map(Arc::new);
    let title = r.need(&f, "title").and_then(|n| r.name(n, "a title"));
    let address = f.get("address").and_then(|n| r.name(n, "an address"));
    let date = r.need(&f, "date").and_then(|n| r.date(n));
    let built = f.get("built").and_then(|n| year(r, n));
    let standard = standard(r, &f, firm, standards);
    let levels = f.get("levels").map_or(Vec::new(), |n| levels(r, n));
    let datums = f.get("datums").map_or(Vec::new(), |n| datums(r, n));
    let unit = r.need(&f, "unit").and_then(|n| unit(r, n, catalog));
    let unit_placed = unit.as_ref().is_some_and(|unit| unit.at.is_some());
    let (trunks, drafts) =
        f.get("trunks").map_or((Vec::new(), Vec::new()), |n| trunks(r, n, unit_placed, catalog));
    let scope = Scope { catalog, standard, drafts: &drafts, unit_placed };
    let inlets = r.need(&f, "inlets").and_then(|n| inlets(r, n, &scope));
    check_marks(r, root);
    steps_of_job(r, root);
    let cleared = f.get("cleared").map_or(Vec::new(), |n| {
        let names = LineNames {
            inlets: inlets.iter().flat_map(|(_, inlets)| inlets).map(|inlet| inlet.id.as_str()).collect(),
            trunks: trunks.iter().map(|trunk| trunk.id.as_str()).collect(),
        };
        cleared(r, n, standard, &names)
    });
    let (lines, inlets) = inlets?;
    let mut lines: Vec<LineSpec> = lines.into_iter().chain(trunks).collect();
    settle(&mut lines);
    Some(Job {
        warnings: cut_words_in(&r.source, root, &Takes::Thing(&keys::JOB)),
        key: job_key(r.source.file),
        title: title?.to_owned(),
        address: address.unwrap_or_default().to_owned(),
        date: date?,
        built,
        standard: standard?.revision.clone(),
        levels,
        datums,
        unit: unit?,
        lines,
        inlets,
        cleared,
        plan,
    })
}

/// What an inlet may refer to.
struct Scope<'a, 'n> {
    catalog: &'a Catalog,
    standard: Option<&'a Standard>,
    drafts: &'a [TrunkDraft<'n>],
    unit_placed: bool,
}

/// The revision that judges the job: its own, or the one in force.
fn standard<'s>(r: &mut Reader, f: &Fields, firm: &Firm, standards: &'s [Standard]) -> Option<&'s Standard> {
    let revisions: Vec<&str> = standards.iter().map(|s| s.revision.as_str()).collect();
    if let Some(node) = f.get("standard") {
        return r.known(node, "revision", "the standard", &revisions).map(|at| &standards[at]);
    }
    let found = standards.iter().find(|s| s.revision == firm.standard);
    if found.is_none() {
        let message = format!("the standard in force, `{}`, could not be read", firm.standard);
        r.fail(f.mark.clone(), message, "expected `standard` among its keys").help =
            Some("mend the standard's file, or name a revision here".into());
    }
    found
}

/// A year in which a house may have been built.
fn year(r: &mut Reader, node: &Node) -> Option<i16> {
    let text = r.text(node, "a year, like 1962")?;
    let year = text.parse::<i16>().ok().filter(|year| text.len() == 4 && (1600..=2200).contains(year));
    if year.is_none() {
        let message = format!("`{}` is not a year", crate::text::clip(text));
        r.fail(node.bytes.clone(), message, "expected a year from 1600 to 2200, like 1962");
    }
    year
}

fn unit(r: &mut Reader, node: &Node, catalog: &Catalog) -> Option<UnitPlace> {
    let f = r.thing(node, &keys::UNIT_PLACE)?;
    let ids: Vec<&str> = catalog.units.iter().map(|u| u.id.as_str()).collect();
    let model = r.need(&f, "model").and_then(|n| r.known(n, "unit", "the catalog", &ids));
    let at = f.get("at").and_then(|n| place(r, n));
    let own_circuit = f.get("own-circuit").and_then(|n| r.truth(n));
    Some(UnitPlace { model: catalog.units[model?].clone(), at, own_circuit, place: r.place_of(node) })
}

/// An id that no earlier one equals, whatever its case: ids become file names.
pub fn unique_id(
    r: &mut Reader,
    node: &Node,
    what: &str,
    ids: &mut Vec<(String, Range<usize>)>,
) -> Option<String> {
    let id = r.id(node, &format!("the id of {what}"))?.to_owned();
    if let Some((_, first)) = ids.iter().find(|(known, _)| known.eq_ignore_ascii_case(&id)) {
        let (first, message) = (first.clone(), format!("the {what} id `{id}` is given twice"));
        r.fail_twice(
            node.bytes.clone(),
            first,
            message,
            "give each its own id; case does not tell them apart",
        );
        return None;
    }
    ids.push((id.clone(), node.bytes.clone()));
    Some(id)
}

fn inlets(r: &mut Reader, node: &Node, scope: &Scope) -> Option<(Vec<LineSpec>, Vec<Inlet>)> {
    let items = r.list(node, "a list of inlets")?;
    if items.is_empty() {
        r.fail(node.bytes.clone(), "the job has no inlet", "expected at least one inlet");
    }
    let items = r.at_most(items, &INLETS);
    let mut ids = Vec::new();
    let read = items.iter().enumerate().filter_map(|(nth, item)| inlet(r, item, nth, scope, &mut ids));
    Some(read.unzip())
}

fn inlet(
    r: &mut Reader,
    item: &Node,
    nth: usize,
    scope: &Scope,
    ids: &mut Vec<(String, Range<usize>)>,
) -> Option<(LineSpec, Inlet)> {
    let f = r.thing(item, &keys::INLET)?;
    let id = r.need(&f, "id").and_then(|n| unique_id(r, n, "inlet", ids));
    let name = f.get("name").and_then(|n| r.name(n, "a name"));
    let mark = f.get("mark").and_then(|n| letters(r, n));
    let wall_m = f.get("wall").and_then(|n| wall(r, n));
    let bay_m = f.get("bay").and_then(|n| r.above_zero(n, Kind::Breadth, "the bay"));
    let catalog = scope.catalog;
    let valves: Vec<&str> = catalog.valves.iter().map(|v| v.id.as_str()).collect();
    let valve = r.need(&f, "valve").and_then(|n| r.known(n, "valve", "the catalog", &valves));
    let hoses: Vec<&str> = catalog.hoses.iter().map(|h| h.id.as_str()).collect();
    let hose = r.need(&f, "hose").and_then(|n| r.known(n, "hose", "the catalog", &hoses));
    let at = f.get("at").and_then(|n| place(r, n));
    let raceway = r.need(&f, "raceway").map(|n| raceway(r, n, catalog));
    let heading = raceway.as_ref().and_then(|raceway| raceway.heading);
    let onward = f.get("onward").and_then(|n| onward(r, n, heading, at.is_some(), scope));
    let waivers = f.get("waivers").map_or(Vec::new(), |n| waivers(r, n, scope.standard));
    let readings = f.get("readings").map_or(Readings::default(), |n| readings(r, n));
    let (id, raceway) = (id?, raceway?);
    let name = name.unwrap_or(&id).to_owned();
    let (after, into) = onward.unzip();
    let line = LineSpec {
        owner: Owner::Inlet(nth),
        id: id.clone(),
        name: name.clone(),
        letters: mark.unwrap_or_default(),
        start: at,
        leaves: raceway.leaves?,
        steps: raceway.steps.into_iter().chain([Step::Stop]).chain(after.unwrap_or_default()).collect(),
        into,
        place: r.place_of(item),
        into_place: f.get("onward").map_or(Place::default(), |n| r.place_of(n.get("into").unwrap_or(n))),
    };
    let (valve, hose) = (catalog.valves[valve?].clone(), catalog.hoses[hose?].clone());
    Some((line, Inlet { id, name, wall_m, bay_m, valve, hose, waivers, readings, place: r.place_of(item) }))
}

/// The first part of an inlet's line, as far as it could be read.
struct RacewayPath {
    leaves: Option<Direction>,
    steps: Vec<Step>,
    /// Heading at the stop.
    heading: Option<DVec3>,
}

/// From the valve to the stop.
fn raceway(r: &mut Reader, node: &Node, catalog: &Catalog) -> RacewayPath {
    let Some(f) = r.thing(node, &keys::RACEWAY) else {
        return RacewayPath { leaves: None, steps: Vec::new(), heading: None };
    };
    let leaves = r.need(&f, "leaves").and_then(|n| direction(r, n));
    let walked =
        r.need(&f, "path").map(|n| walk(r, n, leaves.as_ref().map(|d| d.vector), Ends::Run, catalog));
    let heading = walked.as_ref().and_then(|w| w.heading);
    RacewayPath { leaves, steps: walked.map(|walked| walked.steps).unwrap_or_default(), heading }
}

/// The way on starts on the heading with which the raceway ends.
fn onward(
    r: &mut Reader,
    node: &Node,
    heading: Option<DVec3>,
    placed: bool,
    scope: &Scope,
) -> Option<(Vec<Step>, Into)> {
    let f = r.thing(node, &keys::ONWARD)?;
    let walked = r.need(&f, "path").map(|n| walk(r, n, heading, Ends::Joint, scope.catalog));
    let join = r.need(&f, "into");
    let into = join.and_then(|n| into(r, n, scope.drafts, placed, scope.catalog));
    if let (Some(node), Some(into)) = (join, &into) {
        check_station(r, node, into, scope.drafts);
    }
    if let (Some(walked), Some(into)) = (&walked, &into) {
        check_rest(r, walked, into, placed, scope.unit_placed, scope.drafts);
    }
    Some((walked?.steps, into?))
}

/// Readings; a key left blank is a reading not taken.
fn readings(r: &mut Reader, node: &Node) -> Readings {
    if node.value == Value::Null {
        return Readings::default();
    }
    let Some(f) = r.thing(node, &keys::READINGS) else {
        return Readings::default();
    };
    let mut taken =
        |key, kind| f.get(key).filter(|n| n.value != Value::Null).and_then(|n| r.quantity(n, kind));
    Readings {
        sealed_suction_pa: taken("sealed-suction", Kind::Pressure),
        flow_m3_s: taken("flow", Kind::Flow),
        draw_in_n: taken("draw-in", Kind::Force),
        pull_out_n: taken("pull-out", Kind::Force),
    }
}

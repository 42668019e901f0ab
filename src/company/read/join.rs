//! Trunks, and where lines join: the unit, or a trunk at a place along it.
use super::super::catalog::{Catalog, Fitting};
use super::super::job::{Into, LineSpec, Owner};
use super::frame::place;
use super::job::unique_id;
use super::keys;
use super::kit::{Fields, Reader};
use super::mark::letters;
use super::path::{Ends, Walk, direction, walk};
use crate::measure::Kind;
use crate::text::{Node, Place, Value};
use std::ops::Range;

/// A trunk as far as it could be read, before the lines that join it are looked at.
pub struct TrunkDraft<'n> {
    pub id: String,
    /// Sum of its runs, where known.
    length_m: Option<f64>,
    /// Whether `starts` is given.
    started: bool,
    /// Whether its place in the job's frame is known.
    placed: bool,
    /// Where its last run is written, when that is to be worked out.
    rest: Option<Range<usize>>,
    trunk: Option<LineSpec>,
    into: Option<&'n Node>,
}

/// Reads the trunks of a job, with what each joins; `unit_placed` tells whether the unit has a place.
pub fn trunks<'n>(
    r: &mut Reader,
    node: &'n Node,
    unit_placed: bool,
    catalog: &Catalog,
) -> (Vec<LineSpec>, Vec<TrunkDraft<'n>>) {
    let items = r.list(node, "a list of trunks").unwrap_or(&[]);
    let mut ids = Vec::new();
    let mut drafts: Vec<TrunkDraft> = Vec::new();
    for (nth, item) in items.iter().enumerate() {
        drafts.extend(draft(r, item, nth, catalog, &mut ids));
    }
    let intos: Vec<Option<Into>> = (0..drafts.len())
        .map(|i| drafts[i].into.and_then(|node| into(r, node, &drafts, drafts[i].started, catalog)))
        .collect();
    check_circles(r, &drafts, &intos);
    place_drafts(&mut drafts, &intos, unit_placed);
    for (draft, into) in drafts.iter().zip(&intos) {
        if let (Some(node), Some(into)) = (draft.into, into) {
            check_station(r, node, into, &drafts);
        }
        if let (Some(rest), Some(into)) = (&draft.rest, into) {
            let known = draft.started && target_placed(into, unit_placed, &drafts);
            check_rest_at(r, rest.clone(), known);
        }
    }
    let joined = drafts.iter_mut().zip(intos).filter_map(|(draft, into)| {
        let trunk = draft.trunk.take()?;
        Some(LineSpec { into: Some(into?), ..trunk })
    });
    (joined.collect(), drafts)
}

/// Notes which trunks have places: by their start, or backwards from a placed thing that they run into.
fn place_drafts(drafts: &mut [TrunkDraft], intos: &[Option<Into>], unit_placed: bool) {
    // Each pass carries places one trunk further.
    for _ in 0..=drafts.len() {
        for i in 0..drafts.len() {
            let backwards = match &intos[i] {
                Some(Into::Trunk { at_m: None, .. }) | None => false,
                Some(into) => target_placed(into, unit_placed, drafts),
            };
            drafts[i].placed |= drafts[i].started || backwards;
        }
    }
}

fn target_placed(into: &Into, unit_placed: bool, drafts: &[TrunkDraft]) -> bool {
    match into.trunk() {
        None => unit_placed,
        Some(trunk) => drafts.get(trunk).is_some_and(|draft| draft.placed),
    }
}

/// A run to be worked out, and a joint whose station is, want places at both ends of the line.
pub fn check_rest(
    r: &mut Reader,
    walked: &Walk,
    into: &Into,
    placed: bool,
    unit_placed: bool,
    drafts: &[TrunkDraft],
) {
    if let Some(rest) = &walked.rest {
        check_rest_at(r, rest.clone(), placed && target_placed(into, unit_placed, drafts));
    }
}

/// A joint whose station is to be worked out stands on a trunk that has a place.
pub fn check_station(r: &mut Reader, node: &Node, into: &Into, drafts: &[TrunkDraft]) {
    let Into::Trunk { trunk, at_m: None, .. } = into else { return };
    let Some(draft) = drafts.get(*trunk).filter(|draft| !draft.placed) else { return };
    let message =
        format!("the station of this joint cannot be worked out: trunk `{}` has no place", draft.id);
    r.fail(r.mark_of(node), message, "expected `at` among its keys").help =
        Some("give `at` along the trunk, or the trunk's `starts`".into());
}

fn check_rest_at(r: &mut Reader, rest: Range<usize>, known: bool) {
    if known {
        return;
    }
    let message = "this run cannot be worked out: the places of both ends of its line are not given";
    r.fail(rest, message, "expected a length").help = Some(
        "give `at` or `starts` at one end, and the unit's `at` at the other, or the run's length".into(),
    );
}

fn draft<'n>(
    r: &mut Reader,
    item: &'n Node,
    nth: usize,
    catalog: &Catalog,
    ids: &mut Vec<(String, Range<usize>)>,
) -> Option<TrunkDraft<'n>> {
    let f = r.thing(item, &keys::TRUNK)?;
    let id = r.need(&f, "id").and_then(|n| unique_id(r, n, "trunk", ids));
    let letters = f.get("mark").and_then(|n| letters(r, n));
    let start = f.get("starts").and_then(|n| place(r, n));
    let leaves = r.need(&f, "leaves").and_then(|n| direction(r, n));
    let walked =
        r.need(&f, "path").map(|n| walk(r, n, leaves.as_ref().map(|d| d.vector), Ends::Trunk, catalog));
    let into = r.need(&f, "into");
    let length_m = walked.as_ref().and_then(|w| w.length_m);
    let rest = walked.as_ref().and_then(|w| w.rest.clone());
    let trunk = leaves.zip(walked).map(|(leaves, walked)| LineSpec {
        owner: Owner::Trunk(nth),
        id: id.clone().unwrap_or_default(),
        name: id.clone().unwrap_or_default(),
        letters: letters.unwrap_or_default(),
        start,
        leaves,
        steps: walked.steps,
        into: None,
        place: r.place_of(item),
        into_place: into.map_or(Place::default(), |n| r.place_of(n)),
    });
    let (started, placed) = (start.is_some(), false);
    Some(TrunkDraft { id: id?, length_m, started, placed, rest, trunk, into })
}

/// `unit`, or `{trunk:, at:, with:}`; `placed` tells whether the line that joins has a place of its own.
pub fn into(
    r: &mut Reader,
    node: &Node,
    trunks: &[TrunkDraft],
    placed: bool,
    catalog: &Catalog,
) -> Option<Into> {
    if let Value::Text(word) = &node.value {
        if word.trim() == "unit" {
            return Some(Into::Unit);
        }
        r.fail(
            node.bytes.clone(),
            format!("`{}` is no place to join", crate::text::clip(word)),
            "expected a joint",
        )
        .help = Some("write `unit`, or {trunk: main, at: 20 ft, with: wye-45}".into());
        return None;
    }
    let f = r.thing(node, &keys::JOINT)?;
    let ids: Vec<&str> = trunks.iter().map(|t| t.id.as_str()).collect();
    let trunk = r.need(&f, "trunk").and_then(|n| r.known(n, "trunk", "the job", &ids));
    if f.get("at")
        .is_some_and(|at| matches!(&at.value, Value::Text(word) if word.trim().eq_ignore_ascii_case("start")))
    {
        return at_start(r, &f, trunk?);
    }
    let at = match f.get("at") {
        Some(n) => Some((n, r.quantity(n, Kind::Length)?)),
        None if placed => None,
        None => {
            // The places that would tell the station are not there, so that the key is wanted.
            r.need(&f, "at");
            return None;
        }
    };
    if let (Some((node, at_m)), Some(trunk)) = (at, trunk) {
        check_along(r, node, at_m, &trunks[trunk]);
    }
    let with = r.need(&f, "with").and_then(|n| junction_named(r, n, catalog));
    Some(Into::Trunk { trunk: trunk?, at_m: at.map(|at| at.1), with: with? })
}

/// The line goes on as the trunk, by a coupling: there is no junction to name.
fn at_start(r: &mut Reader, f: &Fields, trunk: usize) -> Option<Into> {
    if let Some(with) = f.get("with") {
        let message = "a line that goes on as a trunk meets it in a coupling, not in a junction";
        r.fail(with.bytes.clone(), message, "not wanted here").help =
            Some("leave `with` out, or give `at` as a length along the trunk".into());
        return None;
    }
    Some(Into::Start { trunk })
}

/// A joint lies on its trunk.
fn check_along(r: &mut Reader, node: &Node, at_m: f64, trunk: &TrunkDraft) {
    let Some(length_m) = trunk.length_m else { return };
    // A joint written at the very end may miss it by a rounding.
    if at_m > length_m + 1e-9 {
        let (at, length) = (r.say.length(at_m), r.say.length(length_m));
        let message = format!("this joint at {at} lies beyond the end of trunk `{}`, at {length}", trunk.id);
        r.fail(node.bytes.clone(), message, "expected a place along its runs").help =
            Some("measure it from the trunk's start along its runs".into());
    }
}

fn junction_named(r: &mut Reader, node: &Node, catalog: &Catalog) -> Option<Fitting> {
    let ids: Vec<&str> = catalog.fittings.iter().map(|f| f.id.as_str()).collect();
    let fitting = &catalog.fittings[r.known(node, "fitting", "the catalog", &ids)?];
    if fitting.junction().is_some() {
        return Some(fitting.clone());
    }
    let fit: Vec<&str> =
        catalog.fittings.iter().filter(|f| f.junction().is_some()).map(|f| f.id.as_str()).collect();
    let message = format!("`{}` is not a junction", fitting.id);
    r.fail(node.bytes.clone(), message, "expected a wye or a tee").help =
        Some(format!("use one of: {}", fit.join(", ")));
    None
}

/// Every trunk leads to the unit in the end.
fn check_circles(r: &mut Reader, drafts: &[TrunkDraft], intos: &[Option<Into>]) {
    let next = |trunk: usize| match intos.get(trunk) {
        Some(Some(into)) => into.trunk(),
        _ => None,
    };
    for (start, draft) in drafts.iter().enumerate() {
        let mut way = vec![start];
        while let Some(to) = way.last().and_then(|last| next(*last)) {
            if to == start {
                return circle(r, draft, &way, drafts);
            }
            if way.contains(&to) {
                break; // a circle further on; it is told at its own first trunk
            }
            way.push(to);
        }
    }
}

fn circle(r: &mut Reader, draft: &TrunkDraft, way: &[usize], drafts: &[TrunkDraft]) {
    let names: Vec<String> = way.iter().chain(&way[..1]).map(|t| format!("`{}`", drafts[*t].id)).collect();
    let bytes = draft.into.map_or(0..0, |node| r.mark_of(node));
    let message = match way.len() {
        1 => format!("trunk {} joins itself", names[0]),
        _ => format!("trunks join in a circle: {}", names.join(" into ")),
    };
    r.fail(bytes, message, "expected a way to the unit").help =
        Some("let one of them end `into: unit`".into());
}

//! Trunks, and where lines join: the unit, or a trunk at a place along it.
use super::super::catalog::{Catalog, Fitting};
use super::super::job::{Along, Into, Path, Trunk};
use super::frame::place;
use super::job::unique_id;
use super::kit::Reader;
use super::mark::letters;
use super::path::{Ends, direction, walk};
use crate::measure::Kind;
use crate::text::Place;
use crate::text::{Node, Value};
use std::ops::Range;

/// A trunk as far as it could be read, before the lines that join it are looked at.
pub struct TrunkDraft<'n> {
    pub id: String,
    /// Sum of its runs, where known.
    pub length_m: Option<f64>,
    trunk: Option<Trunk>,
    into: Option<&'n Node>,
}

/// Reads the trunks of a job, with what each joins.
pub fn trunks<'n>(r: &mut Reader, node: &'n Node, catalog: &Catalog) -> (Vec<Trunk>, Vec<TrunkDraft<'n>>) {
    let items = r.list(node, "a list of trunks").unwrap_or(&[]);
    let mut ids = Vec::new();
    let mut drafts: Vec<TrunkDraft> = Vec::new();
    for item in items {
        drafts.extend(draft(r, item, catalog, &mut ids));
    }
    let intos: Vec<Option<Into>> =
        drafts.iter().map(|draft| draft.into.and_then(|node| into(r, node, &drafts, catalog))).collect();
    check_circles(r, &drafts, &intos);
    let joined = drafts.iter_mut().zip(intos).filter_map(|(draft, into)| {
        let trunk = draft.trunk.take()?;
        Some(Trunk { into: into?, ..trunk })
    });
    (joined.collect(), drafts)
}

fn draft<'n>(
    r: &mut Reader,
    item: &'n Node,
    catalog: &Catalog,
    ids: &mut Vec<(String, Range<usize>)>,
) -> Option<TrunkDraft<'n>> {
    let f = r.fields(item, "a trunk", &["id", "mark", "starts", "leaves", "path", "into"])?;
    let id = r.need(&f, "id").and_then(|n| unique_id(r, n, "trunk", ids));
    let mark = f.get("mark").and_then(|n| letters(r, n));
    let starts = f.get("starts").and_then(|n| place(r, n));
    let leaves = r.need(&f, "leaves").and_then(|n| direction(r, n));
    let walked =
        r.need(&f, "path").map(|n| walk(r, n, leaves.as_ref().map(|d| d.vector), Ends::Run, catalog));
    let into = r.need(&f, "into");
    let length_m = walked.as_ref().and_then(|w| w.length_m);
    let trunk = leaves.zip(walked).map(|(leaves, walked)| Trunk {
        id: id.clone().unwrap_or_default(),
        mark,
        starts,
        path: Path { leaves, steps: walked.steps },
        into: Into::Unit,
        into_place: into.map_or(Place::default(), |n| r.place_of(n)),
        place: r.place_of(item),
    });
    Some(TrunkDraft { id: id?, length_m, trunk, into })
}

/// `unit`, or `{trunk:, at:, with:}`.
pub fn into(r: &mut Reader, node: &Node, trunks: &[TrunkDraft], catalog: &Catalog) -> Option<Into> {
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
    let f = r.fields(node, "a joint", &["trunk", "at", "with"])?;
    let ids: Vec<&str> = trunks.iter().map(|t| t.id.as_str()).collect();
    let trunk = r.need(&f, "trunk").and_then(|n| r.known(n, "trunk", "the job", &ids));
    let at = f.get("at").map_or(Some(Along::WhereTheyMeet), |n| along(r, n));
    if let (Some(node), Some(Along::Station(at_m)), Some(trunk)) = (f.get("at"), at, trunk) {
        check_along(r, node, at_m, &trunks[trunk]);
    }
    let with = r.need(&f, "with").and_then(|n| junction_named(r, n, catalog));
    Some(Into::Trunk { trunk: trunk?, at: at?, with: with? })
}

/// A place along a trunk: `start`, or a length.
fn along(r: &mut Reader, node: &Node) -> Option<Along> {
    match &node.value {
        Value::Text(word) if word.trim().eq_ignore_ascii_case("start") => Some(Along::Start),
        _ => r.quantity(node, Kind::Length).map(Along::Station),
    }
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
        Some(Some(Into::Trunk { trunk, .. })) => Some(*trunk),
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

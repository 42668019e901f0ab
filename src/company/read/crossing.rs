//! What a run is bored through.
use super::super::job::{Crossing, Member};
use super::keys;
use super::kit::Reader;
use crate::measure::Kind;
use crate::reckon::bores::sizes::dressed_m;
use crate::text::clip;
use crate::text::{Node, Value};

/// The words for what is bored.
pub const MEMBERS: [(&str, Member); 9] = [
    ("stud", Member::Stud),
    ("joist", Member::Joist),
    ("rafter", Member::Rafter),
    ("top-plate", Member::TopPlate),
    ("bottom-plate", Member::BottomPlate),
    ("engineered", Member::Engineered),
    ("truss", Member::Truss),
    ("steel", Member::Steel),
    ("masonry", Member::Masonry),
];

/// Reads the crossings of a run; each lies on it. `none` says that it was looked at and has none.
pub fn crossings(r: &mut Reader, node: &Node, run_m: Option<f64>) -> Vec<Crossing> {
    if matches!(&node.value, Value::Text(word) if word.trim().eq_ignore_ascii_case("none")) {
        return Vec::new();
    }
    let Some(items) = r.list(node, "a list of crossings, or `none`") else {
        return Vec::new();
    };
    items.iter().filter_map(|item| crossing(r, item, run_m)).collect()
}

fn crossing(r: &mut Reader, node: &Node, run_m: Option<f64>) -> Option<Crossing> {
    let f = r.thing(node, &keys::CROSSING)?;
    let at = r.need(&f, "at");
    let at_m = at.and_then(|at| along(r, at, run_m));
    let member = r.need(&f, "member").and_then(|n| member(r, n));
    if let (Some(size), Some(_)) = (f.get("size"), f.get("depth")) {
        let help = "leave `depth` out; a size says it";
        r.fail(size.bytes.clone(), "a crossing has both `size` and `depth`", "expected one of them").help =
            Some(help.into());
    }
    let dressed = f.get("size").and_then(|n| dressed(r, n, "give `depth:` as measured"));
    let depth_m = f.get("depth").and_then(|n| r.above_zero(n, Kind::Breadth, "the depth"));
    let mut truth = |key: &str| f.get(key).and_then(|n| r.truth(n)).unwrap_or(false);
    let (bearing, doubled) = (truth("bearing"), truth("doubled"));
    let (garage_wall, floor_line) = (truth("garage-wall"), truth("floor-line"));
    Some(Crossing {
        at_m: at_m?,
        member: member?,
        size: dressed.as_ref().map(|d| d.size.clone()),
        thickness_m: dressed.as_ref().map(|d| d.thickness_m),
        depth_m: dressed.as_ref().map(|d| d.depth_m).or(depth_m),
        bearing,
        doubled,
        hole_m: f.get("hole").and_then(|n| r.above_zero(n, Kind::Breadth, "the hole")),
        from_edge_m: f.get("from-edge").and_then(|n| r.quantity(n, Kind::Breadth)),
        from_end_m: f.get("from-end").and_then(|n| r.quantity(n, Kind::Breadth)),
        garage_wall,
        floor_line,
        place: r.place_of(node),
    })
}

/// Members that no rule of ours judges, by the words that begin their names, and what to write instead.
const UNJUDGED: [(&[&str], &str); 2] = [
    (
        &["rim-joist", "rim", "band-joist", "band", "header", "girder", "beam", "lintel"],
        "it carries what stands on it: ask the builder's engineer; written `engineered`, the job is on hold until that answer is in",
    ),
    (
        &["subfloor", "sub-floor", "sheathing", "decking", "plywood", "osb", "drywall"],
        "boards need no entry; give the plate or joist beside it, with `floor-line: true` where fire could pass",
    ),
];

/// What of the frame is bored.
fn member(r: &mut Reader, node: &Node) -> Option<Member> {
    let text = r.text(node, "a member of the frame")?;
    let folded = text.to_lowercase().replace([' ', '_'], "-");
    let meant = UNJUDGED.iter().find(|(names, _)| {
        names.iter().any(|name| folded == *name || folded.strip_suffix('s').is_some_and(|one| one == *name))
    });
    if let Some((_, help)) = meant {
        let message = format!("`{}` is a member that no rule here judges", clip(text));
        r.fail(node.bytes.clone(), message, "expected a member of the frame").help = Some((*help).into());
        return None;
    }
    r.one_of(node, "a member of the frame", &MEMBERS)
}

/// A place along the run.
fn along(r: &mut Reader, node: &Node, run_m: Option<f64>) -> Option<f64> {
    let at_m = r.quantity(node, Kind::Length)?;
    // A crossing written at the very end of its run may miss it by a rounding.
    if let Some(run_m) = run_m.filter(|run_m| at_m > run_m + 1e-9) {
        let (at, length) = (r.say.length(at_m), r.say.length(run_m));
        let message = format!("the crossing at {at} lies beyond the end of its run, at {length}");
        r.fail(node.bytes.clone(), message, "expected a place along the run").help =
            Some("measure it from the start of its own run".into());
        return None;
    }
    Some(at_m)
}

/// A nominal size with its dressed measures.
pub struct Dressed {
    pub size: String,
    pub thickness_m: f64,
    pub depth_m: f64,
}

/// `2x8` by PS 20; `else_help` says what to write for what has no such size.
pub fn dressed(r: &mut Reader, node: &Node, else_help: &str) -> Option<Dressed> {
    let text = r.text(node, "a size, like 2x8")?;
    let bare: String = text.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect();
    let found = dressed_m(&bare).map(|(thickness_m, depth_m)| Dressed {
        size: bare.replace('×', "x"),
        thickness_m,
        depth_m,
    });
    if found.is_none() {
        let message = format!("`{}` is not a size of dressed lumber", clip(text));
        r.fail(node.bytes.clone(), message, "expected a size, like 2x8").help =
            Some(format!("use 2x4, 2x6, 2x8, 2x10 or 2x12, or {else_help}"));
    }
    found
}

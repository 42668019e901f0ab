//! The level that the raceways run in: its height, its joists, what is in the way.
use super::super::crossing::dressed;
use super::super::keys;
use super::super::kit::Reader;
use super::parts::rectangle;
use crate::measure::Kind;
use crate::plan::{Hang, Joists, NoGo, RacewayLevel};
use crate::text::{Node, Value};

pub fn level(r: &mut Reader, node: &Node) -> Option<RacewayLevel> {
    let f = r.thing(node, &keys::RACEWAY_LEVEL)?;
    let up_m = r.need(&f, "up").and_then(|n| r.quantity(n, Kind::Coordinate));
    let below = f.get("hang-below").map_or(Some(false), |n| r.truth(n));
    let joists = match f.get("joists") {
        Some(node) => Some(joists(r, node)?),
        None => None,
    };
    let no_go = f.get("no-go").map_or(Some(Vec::new()), |node| {
        let items = r.list(node, "a list of no-go places")?;
        let read: Vec<Option<NoGo>> = items.iter().map(|item| no_go(r, item)).collect();
        read.into_iter().collect()
    });
    let hang = match (below?, joists) {
        (true, Some(Hang::Between(_))) => {
            let bytes = f.get("hang-below").map_or(f.mark.clone(), |n| r.mark_of(n));
            r.fail(bytes, "tube that hangs below joists does not run between them", "expected one of them")
                .help = Some("leave `joists` out, or `hang-below`".into());
            return None;
        }
        (true, _) => Hang::Below,
        (false, joists) => joists.unwrap_or(Hang::Unknown),
    };
    Some(RacewayLevel { up_m: up_m?, hang, no_go: no_go? })
}

fn joists(r: &mut Reader, node: &Node) -> Option<Hang> {
    let f = r.thing(node, &keys::JOISTS)?;
    if let Some(node) = f.get("hang-below")
        && r.truth(node)?
    {
        return Some(Hang::Below);
    }
    let run = r.need(&f, "run").and_then(|n| {
        let ways = [("north", true), ("south", true), ("east", false), ("west", false)];
        r.one_of(n, "the way that joists run", &ways)
    });
    let spacing_m = r.need(&f, "spacing").and_then(|n| r.above_zero(n, Kind::Length, "the spacing"));
    let first_m = r.need(&f, "first").and_then(|n| r.quantity(n, Kind::Coordinate));
    let size = r.need(&f, "size").and_then(|n| dressed(r, n, "use 2x6, 2x8, 2x10 or 2x12"));
    let bore = r.need(&f, "bore").and_then(|n| r.truth(n));
    let (spacing_m, size) = (spacing_m?, size?);
    let (size, thick_m, deep_m) = (size.size, size.thickness_m, size.depth_m);
    if spacing_m <= thick_m {
        let bytes = f.get("spacing").map_or(f.mark.clone(), |n| n.bytes.clone());
        let (spacing, thick) = (r.say.length(spacing_m), r.say.length(thick_m));
        let message = format!("joists {spacing} apart leave no bay, for each is {thick} thick");
        r.fail(bytes, message, "expected the distance from middle to middle");
        return None;
    }
    Some(Hang::Between(Joists {
        run_north: run?,
        spacing_m,
        first_m: first_m?,
        size,
        thick_m,
        deep_m,
        bore: bore?,
    }))
}

fn no_go(r: &mut Reader, item: &Node) -> Option<NoGo> {
    if let Value::Text(_) = &item.value {
        r.mistyped(item, "a no-go place: what, from, size");
        return None;
    }
    let f = r.thing(item, &keys::NO_GO)?;
    let what = r.need(&f, "what").and_then(|n| r.text(n, "what it is, like duct"));
    let place = rectangle(r, &f);
    Some(NoGo { what: what?.to_owned(), place: place? })
}

//! A plan drawn in a lesson: a floor and the valves that stand on it.
use super::super::keys;
use super::super::kit::Reader;
use super::{lone_plan, parts};
use crate::company::catalog::Catalog;
use crate::company::job::FloorPlan;
use crate::measure::Kind;
use crate::plan::{P2, ValveAt};
use crate::text::{Diagnostic, Node};

/// What a `plan` block of a lesson draws.
#[derive(Debug, Clone)]
pub struct LessonPlan {
    pub title: Option<String>,
    pub floor: FloorPlan,
    /// Names and places.
    pub valves: Vec<(String, ValveAt)>,
}

/// Reads such a block. `before` is the number of lines of the file above the text, so that faults tell the
/// line of the file.
pub fn read_plan(
    file: &str,
    text: &str,
    before: usize,
    catalog: &Catalog,
) -> Result<LessonPlan, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open_below(file, before, text, "a plan: plan, wand, valves")?;
    let block = block(&mut r, &root, catalog);
    r.finish(block)
}

fn block(r: &mut Reader, root: &Node, catalog: &Catalog) -> Option<LessonPlan> {
    let f = r.thing(root, &keys::PLAN_BLOCK)?;
    let title = f.get("title").and_then(|n| r.text(n, "a title")).map(str::to_owned);
    let floor = lone_plan(r, &f)?;
    let items = f.get("valves").map_or(Some([].as_slice()), |n| r.list(n, "a list of valves"))?;
    let valves: Vec<Option<(String, ValveAt)>> =
        items.iter().map(|item| valve(r, item, &floor, catalog)).collect();
    Some(LessonPlan { title, floor, valves: valves.into_iter().collect::<Option<_>>()? })
}

fn valve(r: &mut Reader, item: &Node, floor: &FloorPlan, catalog: &Catalog) -> Option<(String, ValveAt)> {
    let f = r.thing(item, &keys::VALVE_BLOCK)?;
    let name = r.need(&f, "name").and_then(|n| r.text(n, "a name"));
    let place = parts::room_and_wall(r, &f, ("room", "wall"), &floor.plan.rooms);
    let at = r.need(&f, "at");
    let along_m = at.and_then(|n| r.quantity(n, Kind::Length));
    let hoses: Vec<&str> = catalog.hoses.iter().map(|hose| hose.id.as_str()).collect();
    let hose = r.need(&f, "hose").and_then(|n| r.known(n, "hose", "the catalog", &hoses));
    let (room, wall) = place?;
    let set = &floor.placed.rooms[room];
    let (from, to) = set.wall(wall);
    let along_m = along_m?;
    if along_m > from.distance(to) {
        let (along, long) = (r.say.length(along_m), r.say.length(from.distance(to)));
        let message = format!("this valve stands at {along} of a wall that is {long} long");
        r.fail(at?.bytes.clone(), message, "expected a place on the wall");
        return None;
    }
    let at: P2 = from + set.sides(wall).0 * along_m;
    let up_m = floor.placed.floors_m[set.floor];
    Some((name?.to_owned(), ValveAt { at, up_m, hose_m: catalog.hoses[hose?].length_m }))
}

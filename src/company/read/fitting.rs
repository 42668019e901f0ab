//! A fitting of the catalog: its keys depend on its kind.
use super::super::catalog::{Bend, Branch, Coupling, Fitting, FittingKind, Purpose, Reducer, StopFitting};
use super::keys;
use super::kit::{Fields, Reader};
use crate::measure::Kind;
use crate::text::Node;

/// The words for where a fitting may be used.
pub const PURPOSES: [(&str, Purpose); 3] =
    [("raceway", Purpose::Raceway), ("trunk", Purpose::Trunk), ("either", Purpose::Either)];

/// Reads a fitting; its kind decides which keys it takes.
pub fn fitting(r: &mut Reader, node: &Node) -> Option<Fitting> {
    let kind = kind_of(r, node)?;
    let f = r.thing(node, &keys::FITTINGS[kind])?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a fitting"));
    let name = f.get("name").and_then(|n| r.name(n, "a name"));
    let socket_m = f.get("socket").and_then(|n| r.above_zero(n, Kind::Breadth, "the socket's depth"));
    let purpose = f.get("for").and_then(|n| r.one_of(n, "a use of a fitting", &PURPOSES));
    let kind = match kind {
        0 => bend(r, &f),
        1 => r
            .need(&f, "gap")
            .and_then(|n| r.quantity(n, Kind::Breadth))
            .map(|gap_m| FittingKind::Coupling(Coupling { gap_m })),
        2 => stop(r, &f),
        3 => junction(r, &f),
        4 => Some(FittingKind::Cap),
        _ => Some(reducer(r, &f)),
    };
    Some(Fitting {
        id: id?.to_owned(),
        name: name.or(id)?.to_owned(),
        kind: kind?,
        socket_m,
        purpose: purpose.unwrap_or(Purpose::Either),
    })
}

/// The kind alone, looked at first.
fn kind_of(r: &mut Reader, node: &Node) -> Option<usize> {
    let kind = match &node.value {
        crate::text::Value::Map(map) => {
            map.iter().find(|(key, _)| key.value == crate::text::Value::Text("kind".into()))
        }
        _ => None,
    };
    let Some((_, kind)) = kind else {
        let f = r.fields(node, "a fitting", &keys::any_fitting())?;
        r.need(&f, "kind");
        return None;
    };
    let names = [("bend", 0), ("coupling", 1), ("stop", 2), ("junction", 3), ("cap", 4), ("reducer", 5)];
    r.one_of(kind, "a kind of fitting", &names)
}

/// A length above nought that must be given.
fn measure(r: &mut Reader, f: &Fields, key: &str, what: &str) -> Option<f64> {
    let node = r.need(f, key)?;
    r.above_zero(node, Kind::Breadth, what)
}

fn bend(r: &mut Reader, f: &Fields) -> Option<FittingKind> {
    let angle_deg = r.need(f, "angle").and_then(|n| turn_angle(r, n));
    let radius_m = measure(r, f, "radius", "the radius");
    let laying_length_m = measure(r, f, "laying-length", "the laying length");
    let bend = Bend { angle_deg: angle_deg?, radius_m: radius_m?, laying_length_m: laying_length_m? };
    holds_its_arc(r, f, &bend).then_some(FittingKind::Bend(bend))
}

/// Makers' sheets give both to the nearest eighth of an inch.
const SHEET_ROUNDING_M: f64 = 0.0254 / 8.0;

/// Whether the arc ends before the tube begins: it touches the two center lines `R tan(angle / 2)` from the corner.
fn holds_its_arc(r: &mut Reader, f: &Fields, bend: &Bend) -> bool {
    let share = (bend.angle_deg.to_radians() / 2.0).tan();
    let least_m = bend.radius_m * share;
    if bend.laying_length_m >= least_m - SHEET_ROUNDING_M {
        return true;
    }
    if let Some(node) = f.get("laying-length") {
        let angle = bend.angle_deg;
        let message = format!(
            "the laying length of a bend of {angle} degrees is {share:.2} of its radius or more; this is less"
        );
        r.fail(node.bytes.clone(), message, "shorter than its own arc").help = Some(
            "check both: the radius is the center line's; the laying length goes from the corner, where the center \
             lines meet, to where the tube stops in the socket"
                .into(),
        );
    }
    false
}

fn stop(r: &mut Reader, f: &Fields) -> Option<FittingKind> {
    let passes_m = measure(r, f, "passes", "what the stop lets through");
    let inside_gap_m = f.get("inside-gap").and_then(|n| r.quantity(n, Kind::Breadth));
    Some(FittingKind::Stop(StopFitting { passes_m: passes_m?, inside_gap_m }))
}

fn reducer(r: &mut Reader, f: &Fields) -> FittingKind {
    let passes_m =
        f.get("passes").and_then(|n| r.above_zero(n, Kind::Breadth, "what the reducer lets through"));
    let inside_gap_m = f.get("inside-gap").and_then(|n| r.quantity(n, Kind::Breadth));
    FittingKind::Reducer(Reducer { passes_m, inside_gap_m })
}

fn junction(r: &mut Reader, f: &Fields) -> Option<FittingKind> {
    let branch_deg = r.need(f, "branch").and_then(|n| turn_angle(r, n));
    let mut length = |key, what| f.get(key).and_then(|n| r.above_zero(n, Kind::Breadth, what));
    let radius_m = length("radius", "the radius");
    let branch_laying_length_m = length("branch-laying-length", "the branch's laying length");
    let run_laying_length_m = length("run-laying-length", "the run's laying length");
    Some(FittingKind::Junction(Branch {
        branch_deg: branch_deg?,
        radius_m,
        branch_laying_length_m,
        run_laying_length_m,
    }))
}

fn turn_angle(r: &mut Reader, node: &Node) -> Option<f64> {
    let angle_deg = r.quantity(node, Kind::Angle)?;
    if angle_deg > 0.0 && angle_deg < 180.0 {
        return Some(angle_deg);
    }
    let message = format!("an angle of {angle_deg} degrees is no bend");
    r.fail(node.bytes.clone(), message, "expected an angle above 0 and below 180");
    None
}

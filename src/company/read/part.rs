//! Tube, hose, valve, unit and wire, one function for each part of the catalog.
use super::super::catalog::{Duty, Friction, Hose, RoughIn, Tube, UnitPart, Valve, Wire};
use super::keys;
use super::kit::{Fields, Reader};
use crate::measure::{INCH_WATER_PA, Kind};
use crate::text::Node;

/// Suction at which a leak is taken where the catalog gives no leak: 100 in of water.
const LEAK_AT_PA: f64 = 100.0 * INCH_WATER_PA;

/// Reads a tube.
pub fn tube(r: &mut Reader, node: &Node) -> Option<Tube> {
    let f = r.thing(node, &keys::TUBE)?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a tube"));
    let outside_m = measure(r, &f, "outside", "the outside");
    let bore_m = measure(r, &f, "bore", "the bore");
    check_less(r, &f, ("bore", bore_m), ("outside", outside_m));
    let stick_m = r.need(&f, "stick").and_then(|n| r.above_zero(n, Kind::Length, "the stick"));
    let mut length = |key| r.need(&f, key).and_then(|n| r.quantity(n, Kind::Breadth));
    let (kerf_m, shortest_m, roughness_m) = (length("kerf"), length("shortest"), length("roughness"));
    let clearance_m = f.get("clearance").and_then(|n| r.quantity(n, Kind::Breadth));
    check_less(r, &f, ("kerf", kerf_m), ("stick", stick_m));
    check_less(r, &f, ("shortest", shortest_m), ("stick", stick_m));
    Some(Tube {
        id: id?.to_owned(),
        outside_m: outside_m?,
        bore_m: bore_m?,
        stick_m: stick_m?,
        kerf_m: kerf_m?,
        shortest_m: shortest_m?,
        roughness_m: roughness_m?,
        clearance_m,
    })
}

/// Reads a hose.
pub fn hose(r: &mut Reader, node: &Node) -> Option<Hose> {
    let f = r.thing(node, &keys::HOSE)?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a hose"));
    let name = f.get("name").and_then(|n| r.name(n, "a name"));
    let length_m = r.need(&f, "length").and_then(|n| r.above_zero(n, Kind::Length, "the length"));
    let outside_m = measure(r, &f, "outside", "the outside");
    let bore_m = measure(r, &f, "bore", "the bore");
    check_less(r, &f, ("bore", bore_m), ("outside", outside_m));
    let weight = r.need(&f, "weight").and_then(|n| r.above_zero(n, Kind::Weight, "the weight"));
    let tail_m = f.get("tail").and_then(|n| r.above_zero(n, Kind::Breadth, "the tail"));
    check_at_least(r, &f, ("tail", tail_m), ("outside", outside_m));
    let stiffness_n_m2 = f.get("stiffness").and_then(|n| r.above_zero(n, Kind::Stiffness, "the stiffness"));
    let sock = r.need(&f, "sock").and_then(|n| r.truth(n));
    let friction = f.get("friction").and_then(|n| friction(r, n));
    let air_friction = f.get("air-friction").and_then(|n| r.number(n, "the air friction"));
    let mut length = |key, what| f.get(key).and_then(|n| r.above_zero(n, Kind::Breadth, what));
    let (throat_m, handle_passes_m) =
        (length("throat", "the throat"), length("handle-passes", "what the handle passes"));
    Some(Hose {
        id: id?.to_owned(),
        name: name.or(id)?.to_owned(),
        length_m: length_m?,
        outside_m: outside_m?,
        bore_m: bore_m?,
        weight_n_per_m: weight?,
        sock: sock?,
        friction,
        air_friction,
        tail_m,
        stiffness_n_m2,
        throat_m,
        handle_passes_m,
    })
}

/// Rubber on dry concrete comes to about 1 (common figure, no source); what is over this is a percentage or a slip.
const MOST_FRICTION: f64 = 1.5;

fn friction(r: &mut Reader, node: &Node) -> Option<Friction> {
    let f = r.thing(node, &keys::FRICTION)?;
    let mut part = |key| {
        let node = r.need(&f, key)?;
        let value = r.number(node, "a friction")?;
        if value <= MOST_FRICTION {
            return Some(value);
        }
        let message = format!("a friction of {value} is more than any hose has");
        r.fail(node.bytes.clone(), message, format!("expected {MOST_FRICTION} or less")).help =
            Some("write the pull over the weight, like 0.32 for 32 %".into());
        None
    };
    let (drawn_in, drawn_out, floor) = (part("in"), part("out"), part("floor"));
    Some(Friction { drawn_in: drawn_in?, drawn_out: drawn_out?, floor: floor? })
}

/// The words for what seals a valve.
pub const SEALS: [(&str, Duty); 2] = [("door", Duty::Door), ("cuff", Duty::Cuff)];
/// The words for what grips the hose.
pub const GRIPS: [(&str, Duty); 2] = [("anywhere", Duty::Anywhere), ("full-length", Duty::FullLength)];
/// The words for what switches the system.
pub const SWITCHES: [(&str, Duty); 3] = [("door", Duty::Door), ("cuff", Duty::Cuff), ("tab", Duty::Tab)];
/// The words for what is set at rough-in.
pub const ROUGH_INS: [(&str, RoughIn); 2] = [("frame", RoughIn::Frame), ("box", RoughIn::Box)];

/// Reads a valve.
pub fn valve(r: &mut Reader, node: &Node) -> Option<Valve> {
    let f = r.thing(node, &keys::VALVE)?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a valve"));
    let name = f.get("name").and_then(|n| r.name(n, "a name"));
    let seal = r.need(&f, "seal").and_then(|n| r.one_of(n, "what seals a valve", &SEALS));
    let grips = r.need(&f, "grips").and_then(|n| r.one_of(n, "what grips a hose", &GRIPS));
    let switch = r.need(&f, "switch").and_then(|n| r.one_of(n, "what switches a system", &SWITCHES));
    let rough_in = r.need(&f, "rough-in").and_then(|n| r.one_of(n, "what is set at rough-in", &ROUGH_INS));
    let depth_m = measure(r, &f, "depth", "the depth");
    let socket_m = f.get("socket").and_then(|n| r.above_zero(n, Kind::Breadth, "the socket's depth"));
    let opening_m = f.get("opening").and_then(|n| r.above_zero(n, Kind::Breadth, "the opening"));
    let leak_m3_s = f.get("leak").and_then(|n| r.quantity(n, Kind::Flow));
    if f.get("leak").is_some() {
        r.need(&f, "leak-at");
    }
    let leak_at_pa = f.get("leak-at").and_then(|n| r.above_zero(n, Kind::Pressure, "the suction of a leak"));
    let box_m = f.get("box").and_then(|n| box_size(r, n));
    Some(Valve {
        id: id?.to_owned(),
        name: name.or(id)?.to_owned(),
        seal: seal?,
        grips: grips?,
        switch: switch?,
        rough_in: rough_in?,
        depth_m: depth_m?,
        socket_m,
        opening_m,
        leak_m3_s,
        leak_at_pa: leak_at_pa.unwrap_or(LEAK_AT_PA),
        box_m,
    })
}

fn box_size(r: &mut Reader, node: &Node) -> Option<(f64, f64)> {
    let f = r.thing(node, &keys::BOX)?;
    let wide_m = measure(r, &f, "wide", "the width");
    let high_m = measure(r, &f, "high", "the height");
    Some((wide_m?, high_m?))
}

/// Reads a unit.
pub fn unit(r: &mut Reader, node: &Node) -> Option<UnitPart> {
    let f = r.thing(node, &keys::UNIT)?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a unit"));
    let name = f.get("name").and_then(|n| r.name(n, "a name"));
    let curve = r.need(&f, "curve").and_then(|n| curve(r, n));
    let socket_m = f.get("socket").and_then(|n| r.above_zero(n, Kind::Breadth, "the socket's depth"));
    let volts = f.get("volts").and_then(|n| r.above_zero(n, Kind::Volts, "the voltage"));
    let amps = f.get("amps").and_then(|n| r.above_zero(n, Kind::Amps, "the current"));
    let breaker_amps = f.get("breaker").and_then(|n| r.above_zero(n, Kind::Amps, "the breaker's rating"));
    let fastened = f.get("fastened").map_or(Some(true), |n| r.truth(n));
    Some(UnitPart {
        id: id?.to_owned(),
        name: name.or(id)?.to_owned(),
        curve: curve?,
        socket_m,
        volts,
        amps,
        breaker_amps,
        fastened: fastened?,
    })
}

/// Flow and suction from the sealed point on, flow rising and suction not.
fn curve(r: &mut Reader, node: &Node) -> Option<Vec<(f64, f64)>> {
    let items = r.list(node, "a list of points")?;
    let mut points: Vec<(f64, f64)> = Vec::new();
    for item in items {
        let f = r.thing(item, &keys::POINT)?;
        let flow = r.need(&f, "flow").and_then(|n| r.quantity(n, Kind::Flow));
        let suction = r.need(&f, "suction").and_then(|n| r.quantity(n, Kind::Pressure));
        let point = (flow?, suction?);
        if points.last().is_some_and(|last| point.0 <= last.0 || point.1 > last.1) {
            let label = "expected more flow and no more suction than before";
            r.fail(r.mark_of(item), "this point of the curve does not follow the one before", label);
            return None;
        }
        points.push(point);
    }
    if points.first().is_some_and(|first| first.0 > 0.0) {
        let mark = items.first().map_or(node.bytes.clone(), |item| r.mark_of(item));
        r.fail(mark, "the curve has no sealed point", "expected `flow: 0 cfm` and the suction there").help =
            Some(
                "begin the curve with the suction at no flow, inlet closed: the hose is drawn in by it"
                    .into(),
            );
        return None;
    }
    if points.len() < 2 {
        r.fail(
            r.mark_of(node),
            "the curve has fewer than two points",
            "expected flow and suction at two or more",
        );
        return None;
    }
    Some(points)
}

/// Reads a wire.
pub fn wire(r: &mut Reader, node: &Node) -> Option<Wire> {
    let f = r.thing(node, &keys::WIRE)?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a wire"));
    let gauge = r.need(&f, "gauge").and_then(|n| r.quantity(n, Kind::Gauge));
    let stranded = r.need(&f, "stranded").and_then(|n| r.truth(n));
    let volts = r.need(&f, "volts").and_then(|n| r.above_zero(n, Kind::Volts, "the voltage"));
    let amps = r.need(&f, "amps").and_then(|n| r.above_zero(n, Kind::Amps, "the current"));
    Some(Wire {
        id: id?.to_owned(),
        gauge_awg: gauge? as i32,
        stranded: stranded?,
        volts: volts?,
        amps: amps?,
    })
}

/// A length above nought that must be given.
fn measure(r: &mut Reader, f: &Fields, key: &str, what: &str) -> Option<f64> {
    let node = r.need(f, key)?;
    r.above_zero(node, Kind::Breadth, what)
}

/// A length that must be less than another, such as the bore than the outside.
fn check_less(
    r: &mut Reader,
    f: &Fields,
    (key, less_m): (&str, Option<f64>),
    (than, than_m): (&str, Option<f64>),
) {
    let (Some(less_m), Some(than_m), Some(node)) = (less_m, than_m, f.get(key)) else {
        return;
    };
    if less_m >= than_m {
        let message = format!("the `{key}` of {} is not less than its `{than}`", f.what);
        r.fail(node.bytes.clone(), message, format!("expected less than `{than}`"));
    }
}

/// A length that must be at least another, such as the hose's tail its outside.
fn check_at_least(
    r: &mut Reader,
    f: &Fields,
    (key, more_m): (&str, Option<f64>),
    (than, than_m): (&str, Option<f64>),
) {
    let (Some(more_m), Some(than_m), Some(node)) = (more_m, than_m, f.get(key)) else {
        return;
    };
    if more_m < than_m {
        let message = format!("the `{key}` of {} is less than its `{than}`", f.what);
        r.fail(node.bytes.clone(), message, format!("expected no less than `{than}`"));
    }
}

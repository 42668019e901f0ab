//! The catalog, which may be spread over several files.
use super::super::catalog::{Catalog, Duty, Fitting, Friction, Hose, RoughIn, Tube, UnitPart, Valve, Wire};
use super::super::diagnose::{Diagnostic, Related};
use super::super::tree::Node;
use super::fitting::fitting;
use super::kit::{Fields, Reader};
use crate::measure::Kind;

const KEYS: [&str; 6] = ["tube", "fittings", "hoses", "valves", "units", "wire"];

/// Suction at which a leak is taken where the catalog gives no leak: 100 in of water.
const LEAK_AT_PA: f64 = 24_908.891;

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
    let catalog = parts.settle(
        &mut found,
        files.first().map_or("content/catalog", |(file, _)| file),
    );
    (catalog, found)
}

impl Parts {
    fn read(&mut self, r: &mut Reader, root: &Node) {
        let Some(f) = r.fields(root, "a catalog", &KEYS) else {
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
        Some(Catalog {
            tube: tubes.pop()?,
            fittings,
            hoses,
            valves,
            units,
            wire: wires.pop(),
        })
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
        let at = r.source.related(r.mark_of(node), "first given here");
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
    let items = f
        .get(key)
        .and_then(|node| r.list(node, "a list of parts"))
        .unwrap_or(&[]);
    for item in items {
        let at = r.source.related(r.mark_of(item), "first given here");
        into.extend(read(r, item).map(|part| Placed { part, at }));
    }
}

/// At most one of its kind; the first stands.
fn single<T>(parts: Vec<Placed<T>>, what: &str, found: &mut Vec<Diagnostic>) -> Vec<T> {
    let mut parts = parts.into_iter();
    let Some(first) = parts.next() else {
        return Vec::new();
    };
    for again in parts {
        found.push(twice(
            format!("the catalog has a second {what}"),
            &again.at,
            &first.at,
        ));
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
        match kept
            .iter()
            .find(|known| id(&known.part).eq_ignore_ascii_case(id(&part.part)))
        {
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

/// A length above nought that must be given.
fn measure(r: &mut Reader, f: &Fields, key: &str, what: &str) -> Option<f64> {
    let node = r.need(f, key)?;
    r.above_zero(node, Kind::Length, what)
}

/// The inside is narrower than the outside.
fn check_bore(r: &mut Reader, f: &Fields, outside_m: Option<f64>, bore_m: Option<f64>) {
    if let (Some(outside_m), Some(bore_m), Some(node)) = (outside_m, bore_m, f.get("bore")) {
        if bore_m >= outside_m {
            let message = format!("the bore of {} is not less than its outside", f.what);
            r.fail(node.bytes.clone(), message, "expected less than `outside`");
        }
    }
}

fn tube(r: &mut Reader, node: &Node) -> Option<Tube> {
    const KEYS: [&str; 7] = ["id", "outside", "bore", "stick", "kerf", "shortest", "roughness"];
    let f = r.fields(node, "a tube", &KEYS)?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a tube"));
    let outside_m = measure(r, &f, "outside", "the outside");
    let bore_m = measure(r, &f, "bore", "the bore");
    check_bore(r, &f, outside_m, bore_m);
    let stick_m = measure(r, &f, "stick", "the stick");
    let mut length = |key| r.need(&f, key).and_then(|n| r.quantity(n, Kind::Length));
    let (kerf_m, shortest_m, roughness_m) = (length("kerf"), length("shortest"), length("roughness"));
    for (key, length_m) in [("kerf", kerf_m), ("shortest", shortest_m)] {
        if let (Some(length_m), Some(stick_m), Some(node)) = (length_m, stick_m, f.get(key)) {
            if length_m >= stick_m {
                r.fail(
                    node.bytes.clone(),
                    format!("the `{key}` is not less than a stick"),
                    "expected less than `stick`",
                );
            }
        }
    }
    Some(Tube {
        id: id?.to_owned(),
        outside_m: outside_m?,
        bore_m: bore_m?,
        stick_m: stick_m?,
        kerf_m: kerf_m?,
        shortest_m: shortest_m?,
        roughness_m: roughness_m?,
    })
}

fn hose(r: &mut Reader, node: &Node) -> Option<Hose> {
    const KEYS: [&str; 10] = [
        "id",
        "name",
        "length",
        "outside",
        "bore",
        "weight",
        "sock",
        "friction",
        "air-friction",
        "throat",
    ];
    let keys: Vec<&str> = KEYS.iter().copied().chain(["handle-passes"]).collect();
    let f = r.fields(node, "a hose", &keys)?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a hose"));
    let name = f.get("name").and_then(|n| r.text(n, "a name"));
    let length_m = measure(r, &f, "length", "the length");
    let outside_m = measure(r, &f, "outside", "the outside");
    let bore_m = measure(r, &f, "bore", "the bore");
    check_bore(r, &f, outside_m, bore_m);
    let weight = r
        .need(&f, "weight")
        .and_then(|n| r.above_zero(n, Kind::Weight, "the weight"));
    let sock = r.need(&f, "sock").and_then(|n| r.truth(n));
    let friction = f.get("friction").and_then(|n| friction(r, n));
    let air_friction = f
        .get("air-friction")
        .and_then(|n| r.number(n, "the air friction"));
    let mut length = |key, what| f.get(key).and_then(|n| r.above_zero(n, Kind::Length, what));
    let (throat_m, handle_passes_m) = (
        length("throat", "the throat"),
        length("handle-passes", "what the handle passes"),
    );
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
        throat_m,
        handle_passes_m,
    })
}

fn friction(r: &mut Reader, node: &Node) -> Option<Friction> {
    let f = r.fields(node, "a friction", &["in", "out", "floor"])?;
    let mut part = |key| r.need(&f, key).and_then(|n| r.number(n, "a friction"));
    let (drawn_in, drawn_out, floor) = (part("in"), part("out"), part("floor"));
    Some(Friction {
        drawn_in: drawn_in?,
        drawn_out: drawn_out?,
        floor: floor?,
    })
}

/// The words for what seals a valve.
pub const SEALS: [(&str, Duty); 2] = [("door", Duty::Door), ("cuff", Duty::Cuff)];
/// The words for what holds the hose.
pub const HOLDS: [(&str, Duty); 2] = [("anywhere", Duty::Anywhere), ("full-length", Duty::FullLength)];
/// The words for what switches the system.
pub const SWITCHES: [(&str, Duty); 3] = [("door", Duty::Door), ("cuff", Duty::Cuff), ("tab", Duty::Tab)];
/// The words for what is set at rough-in.
pub const ROUGH_INS: [(&str, RoughIn); 2] = [("frame", RoughIn::Frame), ("box", RoughIn::Box)];

fn valve(r: &mut Reader, node: &Node) -> Option<Valve> {
    const KEYS: [&str; 11] = [
        "id", "name", "seal", "hold", "switch", "rough-in", "depth", "socket", "leak", "leak-at", "box",
    ];
    let f = r.fields(node, "a valve", &KEYS)?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a valve"));
    let name = f.get("name").and_then(|n| r.text(n, "a name"));
    let seal = r
        .need(&f, "seal")
        .and_then(|n| r.one_of(n, "what seals a valve", &SEALS));
    let hold = r
        .need(&f, "hold")
        .and_then(|n| r.one_of(n, "what holds a hose", &HOLDS));
    let switch = r
        .need(&f, "switch")
        .and_then(|n| r.one_of(n, "what switches a system", &SWITCHES));
    let rough_in = r
        .need(&f, "rough-in")
        .and_then(|n| r.one_of(n, "what is set at rough-in", &ROUGH_INS));
    let depth_m = measure(r, &f, "depth", "the depth");
    let socket_m = f
        .get("socket")
        .and_then(|n| r.above_zero(n, Kind::Length, "the socket's depth"));
    let leak_m3_s = f.get("leak").and_then(|n| r.quantity(n, Kind::Flow));
    if f.get("leak").is_some() {
        r.need(&f, "leak-at");
    }
    let leak_at_pa = f
        .get("leak-at")
        .and_then(|n| r.above_zero(n, Kind::Pressure, "the suction of a leak"));
    let box_m = f.get("box").and_then(|n| box_size(r, n));
    Some(Valve {
        id: id?.to_owned(),
        name: name.or(id)?.to_owned(),
        seal: seal?,
        hold: hold?,
        switch: switch?,
        rough_in: rough_in?,
        depth_m: depth_m?,
        socket_m,
        leak_m3_s,
        leak_at_pa: leak_at_pa.unwrap_or(LEAK_AT_PA),
        box_m,
    })
}

fn box_size(r: &mut Reader, node: &Node) -> Option<(f64, f64)> {
    let f = r.fields(node, "a box", &["wide", "high"])?;
    let wide_m = measure(r, &f, "wide", "the width");
    let high_m = measure(r, &f, "high", "the height");
    Some((wide_m?, high_m?))
}

fn unit(r: &mut Reader, node: &Node) -> Option<UnitPart> {
    let f = r.fields(
        node,
        "a unit",
        &["id", "name", "curve", "volts", "amps", "breaker"],
    )?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a unit"));
    let name = f.get("name").and_then(|n| r.text(n, "a name"));
    let curve = r.need(&f, "curve").and_then(|n| curve(r, n));
    let volts = f
        .get("volts")
        .and_then(|n| r.above_zero(n, Kind::Volts, "the voltage"));
    let amps = f
        .get("amps")
        .and_then(|n| r.above_zero(n, Kind::Amps, "the current"));
    let breaker_amps = f
        .get("breaker")
        .and_then(|n| r.above_zero(n, Kind::Amps, "the breaker's rating"));
    Some(UnitPart {
        id: id?.to_owned(),
        name: name.or(id)?.to_owned(),
        curve: curve?,
        volts,
        amps,
        breaker_amps,
    })
}

/// Flow and suction, flow rising and suction not.
fn curve(r: &mut Reader, node: &Node) -> Option<Vec<(f64, f64)>> {
    let items = r.list(node, "a list of points")?;
    let mut points: Vec<(f64, f64)> = Vec::new();
    for item in items {
        let f = r.fields(item, "a point", &["flow", "suction"])?;
        let flow = r.need(&f, "flow").and_then(|n| r.quantity(n, Kind::Flow));
        let suction = r.need(&f, "suction").and_then(|n| r.quantity(n, Kind::Pressure));
        let point = (flow?, suction?);
        if points
            .last()
            .is_some_and(|last| point.0 <= last.0 || point.1 > last.1)
        {
            let label = "expected more flow and no more suction than before";
            r.fail(
                r.mark_of(item),
                "this point of the curve does not follow the one before",
                label,
            );
            return None;
        }
        points.push(point);
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

fn wire(r: &mut Reader, node: &Node) -> Option<Wire> {
    let f = r.fields(node, "a wire", &["id", "gauge", "stranded", "volts", "amps"])?;
    let id = r.need(&f, "id").and_then(|n| r.id(n, "the id of a wire"));
    let gauge = r.need(&f, "gauge").and_then(|n| r.quantity(n, Kind::Gauge));
    let stranded = r.need(&f, "stranded").and_then(|n| r.truth(n));
    let volts = r
        .need(&f, "volts")
        .and_then(|n| r.above_zero(n, Kind::Volts, "the voltage"));
    let amps = r
        .need(&f, "amps")
        .and_then(|n| r.above_zero(n, Kind::Amps, "the current"));
    Some(Wire {
        id: id?.to_owned(),
        gauge_awg: gauge? as i32,
        stranded: stranded?,
        volts: volts?,
        amps: amps?,
    })
}

//! What a worked example may ask of the engine: figures of the raceways drawn above it, of the catalog, of the
//! standard in force, and of the formulas.

use super::School;
use crate::company::{Rule, Standard};
use crate::figures::ReadingKind;
use crate::lesson::{Figure, Given};
use crate::measure::{INCH_WATER_PA, Kind};
use crate::reckon::air::conditions::{density, viscosity};
use crate::reckon::air::friction::{darcy, friction_factor};
use crate::reckon::air::{
    LeakJoins, Leakage, Pressure, UnitCurve, VolumeRate, cubic_meter_per_second, pascal, sealed_suction_pa,
};
use crate::reckon::cement::{Times, times};
use crate::reckon::passage::through_bend;
use crate::reckon::wire::{Strands, table_ohm_per_m, two_wire_drop_v};
use crate::standard::clause;
use crate::work::Work;

/// What a raceway that was drawn leaves behind for the examples below it.
#[derive(Debug, Clone, Default)]
pub(super) struct Drawn {
    /// By which sums speak of it, where its block gives one.
    pub name: Option<String>,
    path_m: f64,
    bends_deg: f64,
    hose_m: f64,
    legs_m: Vec<f64>,
    /// Mark and length from seat to seat.
    tubes_m: Vec<(String, f64)>,
    reserve: Option<f64>,
    /// The unit is taken for sealed by every other valve.
    readings: Vec<(&'static str, Figure, Option<Figure>)>,
}

impl Drawn {
    pub(super) fn of(work: &Work) -> Drawn {
        let (Some(line), Some(raceway)) = (work.lines.of_inlet(0), work.lines.raceway(0)) else {
            return Drawn::default();
        };
        let figures = &work.figures.inlets[0];
        let said = work.readings(0).iter().flatten().map(|reading| {
            let (name, make): (_, fn(f64) -> Figure) = match reading.kind {
                ReadingKind::SealedSuction => ("sealed", Figure::pressure),
                ReadingKind::Flow => ("flow", Figure::flow),
                ReadingKind::DrawIn => ("draw-in", Figure::force),
                ReadingKind::PullOut => ("pull-out", Figure::force),
            };
            (name, make(reading.expected), reading.least.or(reading.most).map(make))
        });
        Drawn {
            name: None,
            path_m: raceway.hose_path_m,
            bends_deg: raceway.bend_total_deg,
            hose_m: work.job.inlets[0].hose.length_m,
            legs_m: line.legs.iter().take(raceway.legs).map(|leg| leg.length_m).collect(),
            tubes_m: line.tubes.iter().map(|tube| (tube.mark.clone(), tube.clear_m)).collect(),
            reserve: figures.hose.as_ref().ok().map(|hose| hose.draw().worst.reserve()),
            readings: said.collect(),
        }
    }
}

/// Every name, in the order of [`of_drawing`], [`of_part`], [`of_formula`].
pub(super) const NAMES: [&str; 27] = [
    "path",
    "bends",
    "runs",
    "leg",
    "tube",
    "spare-new",
    "reserve",
    "expected",
    "call-at",
    "laying",
    "socket",
    "radius",
    "hose-length",
    "hose-outside",
    "bore",
    "stick",
    "unit-amps",
    "unit-breaker",
    "unit-suction",
    "limit",
    "set",
    "cure",
    "rod",
    "wire-drop",
    "sealed-with-leak",
    "tube-loss",
    "spare-grown",
];

type Found = Option<Result<Figure, String>>;

/// The figure of that name; see [`NAMES`].
pub(super) fn figure(school: &School, drawn: &[Drawn], name: &str, given: &[Given]) -> Found {
    of_drawing(school, drawn, name, given)
        .or_else(|| of_part(school, name, given))
        .or_else(|| of_formula(school, name, given))
}

fn of_drawing(school: &School, drawn: &[Drawn], name: &str, given: &[Given]) -> Found {
    let known = ["path", "bends", "runs", "leg", "tube", "spare-new", "spare-grown", "reserve", "expected"];
    if !known.contains(&name) && name != "call-at" {
        return None;
    }
    let rest = given.get(1..).unwrap_or_default();
    let found = match given.first() {
        Some(Given::Figure(n)) => {
            let at = (1..=drawn.len()).find(|at| (*at as f64 - n.si).abs() < 1e-9);
            at.map(|at| &drawn[at - 1]).ok_or_else(|| {
                format!("{} raceways are drawn above, and this asks for number {}", drawn.len(), n.si)
            })
        }
        Some(Given::Word(word)) => {
            let named = drawn.iter().find(|drawing| drawing.name.as_deref() == Some(word));
            named.ok_or_else(|| format!("no raceway drawn above has `name: {word}`"))
        }
        None => Err(format!("`{name}` begins with the number or the name of a raceway drawn above")),
    };
    let drawing = match found {
        Ok(drawing) => drawing,
        Err(why) => return Some(Err(why)),
    };
    Some(match (name, rest) {
        ("path", []) => Ok(Figure::length(drawing.path_m)),
        ("bends", []) => Ok(Figure::plain(drawing.bends_deg)),
        ("runs", []) => Ok(Figure::length(drawing.legs_m.iter().sum())),
        ("spare-new", []) => Ok(Figure::length(drawing.path_m - drawing.hose_m)),
        ("spare-grown", []) => {
            let allowed = limit(school.standard, "hose-room").map_or(0.0, |figure| figure.si);
            Ok(Figure::length(drawing.path_m - drawing.hose_m * (1.0 + allowed)))
        }
        ("reserve", []) => drawing.reserve.map(Figure::plain).ok_or("its reserve is not known".into()),
        ("leg", [Given::Figure(n)]) => nth(&drawing.legs_m, n.si, "legs").map(Figure::length),
        ("tube", [Given::Word(mark)]) => tube(drawing, mark),
        ("expected", [Given::Word(which)]) => reading(drawing, which).map(|(_, expected, _)| *expected),
        ("call-at", [Given::Word(which)]) => {
            reading(drawing, which).and_then(|(_, _, at)| at.ok_or(format!("`{which}` has no limit")))
        }
        ("leg", _) => Err("`leg` takes a raceway and the number of a leg".into()),
        ("tube", _) => Err("`tube` takes a raceway and the mark of a tube".into()),
        ("expected" | "call-at", _) => {
            Err(format!("`{name}` takes a raceway and sealed, draw-in or pull-out"))
        }
        _ => Err(format!("`{name}` takes the number of a raceway alone")),
    })
}

fn nth(all: &[f64], n: f64, what: &str) -> Result<f64, String> {
    let at = (1..=all.len()).find(|at| (*at as f64 - n).abs() < 1e-9);
    at.map(|at| all[at - 1]).ok_or(format!("that raceway has {} {what}", all.len()))
}

fn tube(drawing: &Drawn, mark: &str) -> Result<Figure, String> {
    let found = drawing.tubes_m.iter().find(|(known, _)| known == mark);
    found.map(|(_, clear_m)| Figure::length(*clear_m)).ok_or_else(|| {
        let marks: Vec<&str> = drawing.tubes_m.iter().map(|(mark, _)| mark.as_str()).collect();
        format!("that raceway has the tubes {}", marks.join(", "))
    })
}

fn reading<'d>(
    drawing: &'d Drawn,
    which: &str,
) -> Result<&'d (&'static str, Figure, Option<Figure>), String> {
    let found = drawing.readings.iter().find(|(name, ..)| *name == which);
    found.ok_or(format!("that raceway has no reading `{which}`"))
}

fn of_part(school: &School, name: &str, given: &[Given]) -> Found {
    let catalog = school.catalog;
    match (name, given) {
        ("bore", []) => return Some(Ok(Figure::length(catalog.tube.bore_m))),
        ("stick", []) => return Some(Ok(Figure::length(catalog.tube.stick_m))),
        _ => {}
    }
    let of_id = |id: &str| match name {
        "laying" | "socket" | "radius" => {
            let part = catalog.fittings.iter().find(|part| part.id == id)?;
            let bend = part.bend();
            match name {
                "laying" => bend.map(|bend| Figure::length(bend.laying_length_m)),
                "radius" => bend.map(|bend| Figure::length(bend.radius_m)),
                _ => part.socket_m.map(Figure::length),
            }
        }
        "hose-length" | "hose-outside" => {
            let hose = catalog.hoses.iter().find(|hose| hose.id == id)?;
            Some(Figure::length(if name == "hose-length" { hose.length_m } else { hose.outside_m }))
        }
        "stick" | "bore" => None,
        _ => {
            let unit = catalog.units.iter().find(|unit| unit.id == id)?;
            match name {
                "unit-amps" => unit.amps.map(Figure::amps),
                "unit-breaker" => unit.breaker_amps.map(Figure::amps),
                _ => unit.curve.first().map(|(_, suction_pa)| Figure::pressure(*suction_pa)),
            }
        }
    };
    let known = ["laying", "socket", "radius", "hose-length", "hose-outside"];
    if !known.contains(&name)
        && !["unit-amps", "unit-breaker", "unit-suction", "bore", "stick"].contains(&name)
    {
        return None;
    }
    Some(match given {
        [Given::Word(id)] => of_id(id).ok_or(format!("the catalog has no `{id}` with such a figure")),
        _ => Err(format!("`{name}` takes the id of a part")),
    })
}

fn of_formula(school: &School, name: &str, given: &[Given]) -> Found {
    Some(match (name, given) {
        ("limit", [Given::Word(id)]) => {
            limit(school.standard, id).ok_or(format!("the standard sets no figure for `{id}`"))
        }
        ("set", [Given::Figure(f), Given::Word(air)]) => {
            cement(f.si, air).map(|found| Figure::time(60.0 * found.initial_set_min))
        }
        ("cure", [Given::Figure(f), Given::Word(air)]) => {
            cement(f.si, air).map(|found| Figure::time(3600.0 * found.cure_h))
        }
        ("rod", [Given::Figure(radius), Given::Figure(angle), Given::Figure(thick)]) => {
            let bore_m = school.catalog.tube.bore_m;
            through_bend(bore_m, radius.si, angle.si, thick.si).map(Figure::length).map_err(told)
        }
        ("wire-drop", [Given::Figure(length)]) => wire_drop(school, length.si),
        ("sealed-with-leak", [Given::Word(id), Given::Figure(leak)]) => sealed(school, id, leak.si),
        ("tube-loss", [Given::Figure(flow), Given::Figure(length)]) => {
            tube_loss(school, flow.si, length.si).map(Figure::pressure).map_err(told)
        }
        ("tube-loss", _) => Err("`tube-loss` takes a flow and a length of tube".into()),
        ("limit", _) => Err("`limit` takes the id of a clause".into()),
        ("set" | "cure", _) => Err(format!("`{name}` takes degrees Fahrenheit, and `dry` or `damp`")),
        ("rod", _) => Err("`rod` takes a radius, an angle and a thickness".into()),
        ("wire-drop", _) => Err("`wire-drop` takes the length of the run".into()),
        ("sealed-with-leak", _) => Err("`sealed-with-leak` takes a unit, and a flow at 100 inH2O".into()),
        _ => return None,
    })
}

fn told(error: crate::reckon::OutOfRange) -> String {
    error.to_string()
}

fn cement(fahrenheit: f64, air: &str) -> Result<Times, String> {
    if !["dry", "damp"].contains(&air) {
        return Err(format!("the air is `dry` or `damp`, not `{air}`"));
    }
    times((fahrenheit - 32.0) / 1.8, air == "damp").map_err(told)
}

/// Out and back through the catalog's control wire, with its relay's current.
fn wire_drop(school: &School, length_m: f64) -> Result<Figure, String> {
    let wire = school.catalog.wire.as_ref().ok_or("the catalog has no control wire")?;
    let strands = if wire.stranded { Strands::Seven } else { Strands::Solid };
    let ohm_per_m = table_ohm_per_m(wire.gauge_awg, strands).ok_or("no table has that gauge of wire")?;
    two_wire_drop_v(length_m, ohm_per_m, wire.amps).map(Figure::volts).map_err(told)
}

/// What air at 20 °C and one atmosphere loses in so much straight tube of the catalog, Pa, by Darcy and Colebrook;
/// the lesson on air has it for 60 ft.
fn tube_loss(school: &School, flow_m3_s: f64, length_m: f64) -> Result<f64, crate::reckon::OutOfRange> {
    const ROOM_K: f64 = 293.15;
    const ATMOSPHERE_PA: f64 = 101_325.0;
    let tube = &school.catalog.tube;
    let (rho, mu) = (density(ATMOSPHERE_PA, ROOM_K)?, viscosity(ROOM_K)?);
    let v_m_s = flow_m3_s / (std::f64::consts::PI / 4.0 * tube.bore_m * tube.bore_m);
    let f = friction_factor(rho * v_m_s * tube.bore_m / mu, tube.roughness_m / tube.bore_m)?;
    Ok(darcy(f, length_m, tube.bore_m, rho, v_m_s))
}

/// Suction with nothing flowing but a leak of that size, measured at 100 inH2O.
fn sealed(school: &School, id: &str, leak_m3_s: f64) -> Result<Figure, String> {
    let unit = school.catalog.units.iter().find(|unit| unit.id == id);
    let unit = unit.ok_or(format!("the catalog has no unit `{id}`"))?;
    let point =
        |&(q, p): &(f64, f64)| (VolumeRate::new::<cubic_meter_per_second>(q), Pressure::new::<pascal>(p));
    let points: Vec<_> = unit.curve.iter().map(point).collect();
    let curve = UnitCurve::new(&points).map_err(|error| error.to_string())?;
    let leakage = Leakage {
        reference_flow: VolumeRate::new::<cubic_meter_per_second>(leak_m3_s),
        reference_suction: Pressure::new::<pascal>(100.0 * INCH_WATER_PA),
        joins: LeakJoins::AtUnit,
    };
    Ok(Figure::pressure(sealed_suction_pa(&curve, Some(&leakage))))
}

/// A clause's figure in the standard in force, in its own kind; angles as plain degrees.
fn limit(standard: &Standard, id: &str) -> Option<Figure> {
    let Rule::Computed(rule) = &standard.clause(id)?.rule else { return None };
    let value = rule.value?;
    Some(match clause(id)?.parameter()?.kind {
        Kind::Length | Kind::Breadth | Kind::Coordinate => Figure::length(value),
        Kind::Pressure => Figure::pressure(value),
        Kind::Force => Figure::force(value),
        Kind::Flow => Figure::flow(value),
        Kind::Speed => Figure { si: value, of: [1, 0, -1, 0] },
        _ => Figure::plain(value),
    })
}

//! The parts sheet: what the firm's catalog says of every part, in the firm's units.
//!
//! Every figure of a packet rests on these, so they are shown where the crew can hold a tape to them.
use super::input::Set;
use super::ways::{PARTS, Placed, cover_nth, cover_series};
use crate::company::{Catalog, Duty, Fitting, FittingKind, Hose, Purpose, RoughIn, UnitPart, Valve, Wire};
use crate::measure::{CFM_M3_S, Lengths, Say};
use crate::packet::here::Here;
use crate::packet::sheet::{Cell, Sheet};
use crate::packet::workings::fine_length as fine;
use serde::Serialize;

/// The parts, a table to a kind.
#[derive(Debug, Clone, Serialize)]
pub struct Parts {
    /// Where the figures come from, and what they are worth.
    pub standing: &'static str,
    pub tables: Vec<PartTable>,
}

/// Parts of one kind.
#[derive(Debug, Clone, Serialize)]
pub struct PartTable {
    pub name: &'static str,
    pub heads: Vec<&'static str>,
    pub rows: Vec<PartRow>,
}

/// A part, its figures in the order of the heads.
#[derive(Debug, Clone, Serialize)]
pub struct PartRow {
    pub anchor: String,
    pub name: String,
    pub cells: Vec<Cell>,
}

/// What is said where the catalog is silent.
const SILENT: &str = "not given";

const STANDING: &str = "Every length, force and flow in a packet is worked out from the figures below, which are the \
catalog's. The figures that came with the program are typical values and no maker's. Measure your own parts, with a \
tape, a scale and a gauge, and write what you find into the catalog before a job is cut by it; friction and leakage \
above all, for which nothing is published.";

/// The sheet.
pub fn sheet(set: &Set, here: &Here) -> Sheet<super::Body> {
    let cells = vec![Cell::new("Parts of", set.firm.name.clone())];
    let body = super::Body::Parts(Parts { standing: STANDING, tables: tables(set.firm.say(), set.catalog) });
    let placed = Placed { series: &cover_series(), nth: cover_nth(PARTS), here };
    let sheet = placed.sheet(set, "Parts and their figures".into(), cells, body);
    Sheet { under_title: "Typical until measured.".into(), ..sheet }
}

fn tables(say: Say, catalog: &Catalog) -> Vec<PartTable> {
    let bends = catalog.fittings.iter().filter_map(|fitting| bend_row(say, fitting));
    let others = catalog.fittings.iter().filter_map(|fitting| other_row(say, fitting));
    let all = vec![
        table(
            "Tube",
            &["Outside", "Bore", "Stick", "A cut takes", "Shortest", "Roughness"],
            vec![tube_row(say, catalog)],
        ),
        table("Bends", &["Angle", "Radius", "Work point to stop", "Socket", "For"], bends.collect()),
        table("Couplings, stops, junctions", &["What it is", "Figures", "Socket", "For"], others.collect()),
        table(
            "Hoses",
            &[
                "Length",
                "Outside",
                "Bore",
                "Weight",
                "Friction in, out, floor",
                "Air friction",
                "Handle passes",
            ],
            catalog.hoses.iter().map(|hose| hose_row(say, hose)).collect(),
        ),
        table(
            "Valves",
            &["Seals by", "Holds", "Switched by", "At rough-in", "Depth", "Socket", "Leaks"],
            catalog.valves.iter().map(|valve| valve_row(say, valve)).collect(),
        ),
        table(
            "Power units",
            &["Suction, sealed", "Flow, open", "Curve", "Supply", "Breaker"],
            catalog.units.iter().map(|unit| unit_row(say, unit)).collect(),
        ),
        table(
            "Control wire",
            &["Gauge", "Kind", "Supply", "Current"],
            catalog.wire.iter().map(wire_row).collect(),
        ),
    ];
    all.into_iter().filter(|table| !table.rows.is_empty()).map(labelled).collect()
}

fn table(name: &'static str, heads: &[&'static str], rows: Vec<PartRow>) -> PartTable {
    PartTable { name, heads: heads.into(), rows }
}

/// Writes each head into the cells under it, for a screen too narrow for columns.
fn labelled(mut table: PartTable) -> PartTable {
    for row in &mut table.rows {
        for (cell, head) in row.cells.iter_mut().zip(&table.heads) {
            cell.label = (*head).to_string();
        }
    }
    table
}

fn row(id: &str, name: &str, values: impl IntoIterator<Item = String>) -> PartRow {
    let cells = values.into_iter().map(|value| Cell::new("", value)).collect();
    PartRow { anchor: anchor(id), name: name.into(), cells }
}

/// The place of a part on the sheet, by its id.
pub fn anchor(id: &str) -> String {
    format!("part-{id}")
}

/// A length that the catalog may leave out.
fn known(say: Say, length_m: Option<f64>) -> String {
    length_m.map_or_else(|| SILENT.to_string(), |m| say.length(m))
}

fn tube_row(say: Say, catalog: &Catalog) -> PartRow {
    let tube = &catalog.tube;
    let roughness = format!("{:.4} mm", tube.roughness_m * 1000.0);
    let lengths = [say.length(tube.stick_m), say.length(tube.kerf_m), say.length(tube.shortest_m)];
    row(
        &tube.id,
        &tube.id,
        [fine(say, tube.outside_m), fine(say, tube.bore_m)].into_iter().chain(lengths).chain([roughness]),
    )
}

fn bend_row(say: Say, fitting: &Fitting) -> Option<PartRow> {
    let bend = fitting.bend()?;
    let cells = [
        say.angle(bend.angle_deg),
        say.length(bend.radius_m),
        say.length(bend.laying_length_m),
        known(say, fitting.socket_m),
        purpose(fitting.purpose),
    ];
    Some(row(&fitting.id, &fitting.name, cells))
}

fn other_row(say: Say, fitting: &Fitting) -> Option<PartRow> {
    let (what, figures) = match &fitting.kind {
        FittingKind::Bend(_) => return None,
        FittingKind::Coupling(coupling) => ("coupling", format!("gap {}", say.length(coupling.gap_m))),
        FittingKind::Stop(stop) => ("stop", format!("passes {}", fine(say, stop.passes_m))),
        FittingKind::Cap => ("cap", "closes an open end".into()),
        FittingKind::Reducer(reducer) => (
            "reducer",
            reducer.passes_m.map_or(SILENT.into(), |passes_m| format!("passes {}", fine(say, passes_m))),
        ),
        FittingKind::Junction(branch) => (
            "junction",
            format!(
                "branch at {}, radius {}; laying length {} of the branch, {} of the run",
                say.angle(branch.branch_deg),
                known(say, branch.radius_m),
                known(say, branch.branch_laying_length_m),
                known(say, branch.run_laying_length_m)
            ),
        ),
    };
    Some(row(
        &fitting.id,
        &fitting.name,
        [what.into(), figures, known(say, fitting.socket_m), purpose(fitting.purpose)],
    ))
}

fn purpose(purpose: Purpose) -> String {
    match purpose {
        Purpose::Raceway => "raceway",
        Purpose::Trunk => "past the stop",
        Purpose::Either => "either",
    }
    .into()
}

fn hose_row(say: Say, hose: &Hose) -> PartRow {
    let friction = hose.friction.map(|f| format!("{:.2}, {:.2}, {:.2}", f.drawn_in, f.drawn_out, f.floor));
    let handle = match (hose.throat_m, hose.handle_passes_m) {
        (Some(thick), Some(long)) => format!("{} thick, {} long", say.length(thick), say.length(long)),
        (Some(thick), None) => format!("{} thick", say.length(thick)),
        _ => SILENT.into(),
    };
    let cells = [
        say.length(hose.length_m),
        fine(say, hose.outside_m),
        fine(say, hose.bore_m),
        say.weight(hose.weight_n_per_m),
        friction.unwrap_or_else(|| SILENT.into()),
        hose.air_friction.map_or_else(|| SILENT.into(), |f| format!("{f:.3}")),
        handle,
    ];
    row(&hose.id, &hose.name, cells)
}

fn valve_row(say: Say, valve: &Valve) -> PartRow {
    let leak =
        valve.leak_m3_s.map(|q| format!("{} at {}", fine_flow(say, q), say.pressure(valve.leak_at_pa)));
    let rough_in = match valve.rough_in {
        RoughIn::Frame => "bare frame",
        RoughIn::Box => "box with the valve in it",
    };
    let cells = [
        duty(valve.seal),
        duty(valve.grips),
        duty(valve.switch),
        rough_in.into(),
        say.length(valve.depth_m),
        known(say, valve.socket_m),
        leak.unwrap_or_else(|| SILENT.into()),
    ];
    row(&valve.id, &valve.name, cells)
}

/// A leak is too small for whole units of flow.
fn fine_flow(say: Say, flow_m3_s: f64) -> String {
    match say.lengths {
        Lengths::FtIn => format!("{:.1} cfm", flow_m3_s / CFM_M3_S),
        Lengths::Metric => format!("{:.1} m³/h", flow_m3_s * 3600.0),
    }
}

fn duty(duty: Duty) -> String {
    match duty {
        Duty::Door => "the door",
        Duty::Cuff => "the cuff",
        Duty::Tab => "a tab",
        Duty::Anywhere => "anywhere",
        Duty::FullLength => "at full length",
    }
    .into()
}

fn unit_row(say: Say, unit: &UnitPart) -> PartRow {
    let sealed = unit.curve.first().map(|(_, pa)| say.pressure(*pa));
    let open = unit.curve.last().map(|(q, _)| say.flow(*q));
    let supply = match (unit.volts, unit.amps) {
        (Some(volts), Some(amps)) => format!("{volts:.0} V, {amps} A"),
        _ => SILENT.into(),
    };
    let cells = [
        sealed.unwrap_or_else(|| SILENT.into()),
        open.unwrap_or_else(|| SILENT.into()),
        curve(say, unit),
        supply,
        unit.breaker_amps.map_or_else(|| SILENT.into(), |amps| format!("{amps} A")),
    ];
    row(&unit.id, &unit.name, cells)
}

/// Every point of a curve, as a reader would plot it.
fn curve(say: Say, unit: &UnitPart) -> String {
    let points = unit.curve.iter().map(|(q, pa)| format!("{}: {}", say.flow(*q), say.pressure(*pa)));
    points.collect::<Vec<_>>().join("; ")
}

fn wire_row(wire: &Wire) -> PartRow {
    let kind = if wire.stranded { "stranded" } else { "solid" };
    let cells = [
        format!("{} AWG", wire.gauge_awg),
        kind.into(),
        format!("{} V", wire.volts),
        format!("{} A", wire.amps),
    ];
    row(&wire.id, &wire.id, cells)
}

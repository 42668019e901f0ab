//! The list of what to load.
use super::cuts::Cuts;
use crate::company::{Catalog, Fitting, Job};
use crate::figures::{CrossingFigure, JobFigures};
use crate::material::list::{self, Item};
use crate::measure::{FOOT_M, Lengths, Say};
use crate::reckon::bores::{Outcome, Remedy};
use crate::reckon::tube::straps;
use crate::route::{End, JobLines, Leg, Line, fire_holes};
use crate::text::counted;
use std::collections::BTreeMap;

/// Joints that a litre of cement makes in 2 in tube (common practice, no source; the tin's label decides).
const JOINTS_PER_L: f64 = 120.0;
/// A pint tin, as cement is sold.
const TIN_L: f64 = 0.473;
/// Screws for a frame or box: two into the stud, two spare (common practice, no source).
const SCREWS_PER_VALVE: f64 = 4.0;

/// Everything a job wants on the truck: sticks first, then fittings by kind, then the rest.
pub fn items(
    job: &Job,
    lines: &JobLines,
    cuts: &Cuts,
    figures: &JobFigures,
    catalog: &Catalog,
    say: Say,
) -> Vec<Item> {
    let mut items = Vec::new();
    if let Ok(plan) = &cuts.plan {
        let tube =
            format!("{} tube, {}", say.length(catalog.tube.outside_m), say.length(catalog.tube.stick_m));
        let left = cuts.not_counted().map(|words| format!("; {words}")).unwrap_or_default();
        let note = format!("{}{left}", plan.quality());
        items.push(item(&tube, "tube", plan.sticks.len() as f64, "stick", &note));
    }
    items.extend(bends(lines));
    items.extend(couplings(lines, cuts, catalog));
    items.extend(ends(job, lines, catalog));
    items.extend(cement(lines, cuts));
    items.extend(strap_items(lines));
    items.extend(framing_items(figures));
    items.extend(fireblock_item(job, lines));
    items.extend(wire_items(figures, catalog, say));
    list::gathered(&items)
}

fn item(part: &str, kind: &str, count: f64, unit: &str, note: &str) -> Item {
    Item { part: part.into(), kind: kind.into(), count, unit: unit.into(), note: note.into() }
}

/// Bends by part, in the order they are met.
fn bends(lines: &JobLines) -> Vec<Item> {
    let bends = lines.lines.iter().flat_map(|line| &line.bends);
    bends
        .map(|bend| match &bend.fitting {
            Some(fitting) => item(&fitting.name, "bend", 1.0, "pc", ""),
            None => item(&format!("bend of {}°", bend.angle_deg), "bend", 1.0, "pc", "not in the catalog"),
        })
        .collect()
}

/// The couplings between pieces, and those by which one line goes on as another.
fn couplings(lines: &JobLines, cuts: &Cuts, catalog: &Catalog) -> Vec<Item> {
    let mut found = Vec::new();
    for (line, cuts) in lines.lines.iter().zip(&cuts.lines) {
        for (tube, cut) in line.tubes.iter().zip(cuts) {
            let between = cut.pieces.len().saturating_sub(1);
            let goes_on = usize::from(tube.to == End::Onto);
            let coupling = catalog.coupling(line.reach_of(tube));
            let name = coupling.map_or("coupling", |fitting| &fitting.name);
            if between + goes_on > 0 {
                found.push(item(name, "coupling", (between + goes_on) as f64, "pc", ""));
            }
        }
    }
    found
}

/// Stops, caps, junctions, valves, hoses and the unit.
fn ends(job: &Job, lines: &JobLines, catalog: &Catalog) -> Vec<Item> {
    let inlets = job.inlets.len() as f64;
    let name = |fitting: Option<&Fitting>, without: &str| {
        fitting.map_or_else(|| without.to_owned(), |fitting| fitting.name.clone())
    };
    let mut items = vec![item(&name(catalog.stop(), "stop fitting"), "stop", inlets, "pc", "")];
    let caps = lines.lines.iter().filter(|line| line.head == End::Cap);
    items.extend(caps.map(|_| item(&name(catalog.cap(), "cap"), "cap", 1.0, "pc", "")));
    let junctions = lines.lines.iter().filter_map(|line| line.joins.as_ref()?.with.as_ref());
    items.extend(junctions.map(|fitting| item(&fitting.name, "junction", 1.0, "pc", "")));
    items.extend(job.inlets.iter().map(|inlet| item(&inlet.valve.name, "valve", 1.0, "pc", "")));
    items.extend(job.inlets.iter().map(|inlet| item(&inlet.hose.name, "hose", 1.0, "pc", "at trim")));
    items.push(item(&job.unit.model.name, "unit", 1.0, "pc", "at trim"));
    items.push(item("screw", "screw", SCREWS_PER_VALVE * inlets, "pc", "frames and boxes"));
    items
}

/// Cement for every tube end in every socket; an open start has none.
fn cement(lines: &JobLines, cuts: &Cuts) -> Vec<Item> {
    let pieces: usize = cuts.lines.iter().flatten().map(|cut| cut.pieces.len()).sum();
    let open = lines.lines.iter().filter(|line| line.head == End::Open).count();
    let joints = (2 * pieces).saturating_sub(open) as u32;
    let tins = list::cement_l(joints, JOINTS_PER_L).and_then(|litres| list::containers(litres, TIN_L));
    let note = format!("{joints} joints; coverage is common practice, the label decides");
    match tins {
        Ok(tins) if tins > 0 => vec![
            item("solvent cement, 1-pint can", "cement", f64::from(tins), "pc", &note),
            item(
                "primer, 1-pint can",
                "primer",
                f64::from(tins),
                "pc",
                "where the cement's label asks for it",
            ),
        ],
        _ => Vec::new(),
    }
}

/// One at each end of every leg, where a bend, the valve or the stop is held, and what lies between.
fn strap_items(lines: &JobLines) -> Option<Item> {
    let between = |leg: &Leg| straps(leg.length_m, leg.heading.z.clamp(-1.0, 1.0).asin()).unwrap_or(0);
    let of = |line: &Line| {
        let stop = u32::from(line.raceway.is_some() && line.tail != End::Stop);
        line.legs.iter().map(between).sum::<u32>() + line.legs.len() as u32 + 1 + stop
    };
    let count: u32 = lines.lines.iter().map(of).sum();
    let note = "at every bend and end, and every 4 ft level, 10 ft upright (IRC Table P2605.1 for PVC pipe; thin tube is not in it)";
    (count > 0).then(|| item("strap", "strap", f64::from(count), "pc", note))
}

/// Shield plates and ties, from the rulings on the bores.
fn framing_items(figures: &JobFigures) -> Vec<Item> {
    let mut counts: BTreeMap<&'static str, f64> = BTreeMap::new();
    for crossing in figures.lines.iter().flat_map(|line| &line.crossings) {
        for (part, count) in wanted(crossing) {
            *counts.entry(part).or_default() += count;
        }
    }
    counts
        .into_iter()
        .map(|(part, count)| item(part, "framing", count, "pc", "by the findings on bores"))
        .collect()
}

fn wanted(crossing: &CrossingFigure) -> Vec<(&'static str, f64)> {
    let mut parts = Vec::new();
    for ruling in crossing.rulings.iter().flatten() {
        match (ruling.outcome, ruling.remedy) {
            (Outcome::NeedsShield, Some(Remedy::Shield { both_faces, .. })) => {
                parts.push(("shield plate", if both_faces { 2.0 } else { 1.0 }));
            }
            (Outcome::NeedsTie, _) => parts.push(("steel tie", 1.0)),
            _ => {}
        }
    }
    parts
}

/// Sealant for every hole that is fireblocked, those that no bore lists included.
fn fireblock_item(job: &Job, lines: &JobLines) -> Option<Item> {
    let part = match fire_holes(job, lines).len() {
        0 => return None,
        1 => "fireblock sealant for 1 hole".to_owned(),
        count => format!("fireblock sealant for {count} holes"),
    };
    Some(item(&part, "framing", 1.0, "pc", "approved material, to the depth that its sheet gives"))
}

/// Wire by the whole foot or metre, rounded up; told where an inlet has none in it, for nobody knows its way to the unit.
fn wire_items(figures: &JobFigures, catalog: &Catalog, say: Say) -> Option<Item> {
    let wire = catalog.wire.as_ref()?;
    let known = figures.inlets.iter().filter_map(|inlet| inlet.wire.as_ref().ok());
    let (count, length_m) = known.fold((0, 0.0), |(n, sum_m), wire| (n + 1, sum_m + wire.length_m));
    let (unit_m, unit) = match say.lengths {
        Lengths::FtIn => (FOOT_M, "ft"),
        Lengths::Metric => (1.0, "m"),
    };
    let part = format!("control wire, {} AWG", wire.gauge_awg);
    let note = match figures.inlets.len() - count {
        0 => "two wires, with a tenth of slack".to_owned(),
        missing => format!("{} not counted", counted(missing, "inlet")),
    };
    // A whole number of feet must not gain one by the last digit of its length.
    (length_m > 0.0).then(|| item(&part, "wire", (length_m / unit_m - 1e-6).ceil(), unit, &note))
}

//! Where the line and the unit agree.

use super::conditions::STANDARD_DENSITY;
use super::curve::UnitCurve;
use super::isothermal::IsothermalError;
use super::leakage::Leakage;
use super::line::{Ambient, Line, PartKind};
use super::march::{Arrival, Prepared};
use super::power::air_power;
use crate::measure::{Si, Units};
use crate::reckon::range::OutOfRange;
use crate::reckon::root::between_known;
use std::fmt;

/// The air that flows with the hose open, in SI units.
#[derive(Debug, Clone, PartialEq)]
pub struct Air {
    /// Through the nozzle, m³/s of standard air.
    pub flow_m3_s: f64,
    /// Let in by the other valves, m³/s of standard air.
    pub leak_m3_s: f64,
    /// In the order of the line.
    pub parts: Vec<PartAir>,
    /// Pa below the room (total) where the hose and its widening end and the raceway's tube begins.
    pub suction_at_valve_pa: f64,
    /// Pa below the room (total) in front of the unit: the sum of all losses.
    pub suction_at_unit_pa: f64,
    /// What the air could do at the valve: nozzle flow times suction at the valve, as ASTM F558 reckons.
    pub air_power_w: f64,
}

/// What happens in one part.
#[derive(Debug, Clone, PartialEq)]
pub struct PartAir {
    pub name: String,
    /// Flow through the part, leakage included, m³/s of standard air.
    pub flow_m3_s: f64,
    /// Mean speed at its beginning, the slowest place of an even tube.
    pub velocity_m_s: f64,
    /// Mean speed at its end.
    pub velocity_out_m_s: f64,
    /// Absolute static pressure at its beginning.
    pub static_in_pa: f64,
    /// Absolute static pressure at its end.
    pub static_out_pa: f64,
    /// Total pressure lost in it.
    pub loss_pa: f64,
}

/// Why no flow could be reckoned.
#[derive(Debug, Clone, PartialEq)]
pub enum AirError {
    NoParts,
    /// The room's pressure or temperature.
    Room(OutOfRange),
    /// An input of one part.
    Part {
        part: String,
        error: OutOfRange,
    },
    /// The leakage's measurement.
    Leakage(OutOfRange),
    /// The leakage joins before a part that the line does not have.
    NoSuchPart {
        part: String,
    },
    /// A part does not have the bore of the part before.
    BoreStep {
        part: String,
        bore_m: f64,
        before_m: f64,
    },
    /// The unit draws more than a part can carry.
    Choked {
        part: String,
        choked: IsothermalError,
    },
    /// The line is so easy that the flow lies beyond the last point of the unit's curve.
    BeyondCurve {
        widest_m3_s: f64,
    },
    /// Not even this flow gets through.
    NoFlow {
        least_m3_s: f64,
    },
}

/// The flow at which the line needs the suction that the unit gives.
///
/// Walks from the room (total pressure of the room, absolute) through every part with a trial mass
/// flow, adds the leakage where it joins, and halves the bracket until
/// `curve(nozzle flow + leakage) = sum of losses`, to 1e-12 of the flow.
///
/// Arguments: the [`Line`] and the unit's [`UnitCurve`]. Result: [`Air`]. Errors: [`AirError`].
///
/// Assumptions: dry air, the room's temperature all along, level line; losses add up as if each fitting
/// had straight tube around it; the unit's curve is for standard air and taken as mass. Accuracy: a few
/// percent, that of the hose's friction.
///
/// ```
/// use longsweep::reckon::air::*;
/// let mm = |x: f64| Length::new::<meter>(x / 1000.0);
/// let part = |name: &str, kind| Part { name: name.to_owned(), kind };
/// let line = Line {
///     parts: vec![
///         part("nozzle", PartKind::entry(mm(35.56))),
///         part("hose", PartKind::Hose { bore: mm(35.56), length: mm(12_192.0), friction: 0.045 }),
///         part("hose's end", PartKind::Expansion { from: mm(35.56), to: mm(47.5) }),
///         part("tube", PartKind::Tube { bore: mm(47.5), length: mm(20_000.0), roughness: mm(0.0015) }),
///     ],
///     ambient: Ambient::default(),
///     leakage: None,
/// };
/// let point = |q, p| (VolumeRate::new::<cubic_meter_per_second>(q), Pressure::new::<pascal>(p));
/// let unit = UnitCurve::new(&[point(0.0, 32_000.0), point(0.04, 23_000.0), point(0.075, 2_500.0)]).unwrap();
/// let air = solve(&line, &unit).unwrap();
/// assert!(air.flow_m3_s > 0.035 && air.flow_m3_s < 0.045);
/// let losses: f64 = air.parts.iter().map(|part| part.loss_pa).sum();
/// assert!((losses - air.suction_at_unit_pa).abs() < 1e-6);
/// ```
///
/// Source: the methods named in the [module](super).
pub fn solve(line: &Line, curve: &UnitCurve) -> Result<Air, AirError> {
    let prepared = Prepared::new(line)?;
    // More than the line needs is a positive surplus; a flow that cannot be is a negative one.
    let surplus = |flow: f64| {
        let given = prepared.arrival(flow).ok().and_then(|(suction_pa, total_kg_s)| {
            Some(curve.suction_pa(total_kg_s / STANDARD_DENSITY)? - suction_pa)
        });
        given.unwrap_or(-1.0)
    };
    let widest = curve.widest_kg_s();
    // A ten-thousandth of the curve is next to no flow, and still one that every formula takes.
    let least = 1e-4 * widest;
    let (least_pa, least_kg_s) = prepared.arrival(least)?;
    let least_surplus =
        curve.suction_pa(least_kg_s / STANDARD_DENSITY).map_or(-1.0, |given| given - least_pa);
    if least_surplus <= 0.0 {
        return Err(AirError::NoFlow { least_m3_s: least / STANDARD_DENSITY });
    }
    let most = 1.000_001 * widest;
    let flow = between_known((least, least_surplus), (most, surplus(most)), 1e-13, surplus);
    // The root must be one of pressures, not the edge of what the line or the curve can tell.
    let (_, beyond_kg_s) = prepared.arrival(flow * (1.0 + 1e-9))?;
    if curve.suction_pa(beyond_kg_s / STANDARD_DENSITY).is_none() {
        return Err(AirError::BeyondCurve { widest_m3_s: curve.widest_flow_m3_s() });
    }
    let arrival = prepared.walk(flow)?;
    Ok(air(line, flow, arrival))
}

/// What every part of a line takes at a given flow, without a unit.
///
/// Arguments: the [`Line`], its ambient the pressure in front of its first part; flow of standard air into it
/// (m³/s, above 0). Errors: [`AirError`]. Method and accuracy: those of [`solve`].
pub fn losses(line: &Line, flow_m3_s: f64) -> Result<Vec<PartAir>, AirError> {
    Ok(Prepared::new(line)?.walk(flow_m3_s * STANDARD_DENSITY)?.parts)
}

/// What stands at the valve at a flow that is surely more than what the unit draws through a line, Pa: there the line
/// wants more suction than the unit gives. `None` where the unit may draw as much.
///
/// Arguments: the parts in the order of the air, from the room of [`Ambient::default`]; the leakage; the unit's curve;
/// flow of standard air into the line (m³/s, above 0). Method: one walk of [`solve`].
pub fn valve_suction_above(
    parts: &[PartKind],
    leakage: Option<&Leakage>,
    curve: &UnitCurve,
    flow_m3_s: f64,
) -> Option<f64> {
    let named = parts.iter().map(|kind| ("", kind));
    let prepared = Prepared::of(named, Ambient::default(), leakage).ok()?;
    let before_valve = parts.iter().take_while(|kind| kind.is_before_the_valve()).count();
    let (at_valve_pa, (wanted_pa, total_kg_s)) =
        prepared.arrival_by(flow_m3_s * STANDARD_DENSITY, before_valve).ok()?;
    let given_pa = curve.suction_pa(total_kg_s / STANDARD_DENSITY)?;
    (given_pa < wanted_pa).then_some(at_valve_pa)
}

fn air(line: &Line, flow_kg_s: f64, arrival: Arrival) -> Air {
    let flow_m3_s = flow_kg_s / STANDARD_DENSITY;
    let before_valve = line.parts.iter().take_while(|part| part.kind.is_before_the_valve()).count();
    let suction_at_valve_pa = arrival.parts.iter().take(before_valve).map(|part| part.loss_pa).sum();
    Air {
        flow_m3_s,
        leak_m3_s: arrival.leak_kg_s / STANDARD_DENSITY,
        suction_at_valve_pa,
        suction_at_unit_pa: arrival.suction_pa,
        air_power_w: air_power(flow_m3_s, suction_at_valve_pa),
        parts: arrival.parts,
    }
}

impl AirError {
    /// The sentence in the units of its reader.
    pub fn said(&self, units: &dyn Units) -> String {
        match self {
            AirError::NoParts => "the air line has no parts".to_owned(),
            AirError::Room(error) => format!("in the room, {}", error.said(units)),
            AirError::Part { part, error } => format!("in {part}, {}", error.said(units)),
            AirError::Leakage(error) => error.said(units),
            AirError::NoSuchPart { part } => {
                format!("leakage joins before {part}, which is no part of the air line")
            }
            AirError::BoreStep { part, bore_m, before_m } => format!(
                "{part} has a bore of {} after one of {}, with no part between that widens it",
                units.figure(*bore_m, "m"),
                units.figure(*before_m, "m")
            ),
            AirError::Choked { part, choked } => format!("in {part}, {}", choked.said(units)),
            AirError::NoFlow { least_m3_s } => format!(
                "the unit does not draw even {} through the air line",
                units.figure(*least_m3_s, "m3/s")
            ),
            AirError::BeyondCurve { widest_m3_s } => format!(
                "the flow lies beyond the last point of the unit's suction curve, {}",
                units.figure(*widest_m3_s, "m3/s")
            ),
        }
    }
}

impl fmt::Display for AirError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(&Si))
    }
}

impl std::error::Error for AirError {}

#[cfg(test)]
#[path = "solve_tests.rs"]
mod tests;

//! Air from the hose's nozzle to the power unit: how much flows, and with what suction.
//!
//! A [`Line`] is a list of [`Part`]s in the order in which the air meets them: entry, hose, widening
//! into the tube, tubes, bends, junctions, trunk. [`solve`] finds the flow at which what the line needs
//! equals what the unit's [`UnitCurve`] gives.
//!
//! **Pressures.** *Suction* is gauge: pascals below the room. Pressures named `static` are absolute.
//! A *loss* is one of total pressure (static and velocity pressure together), so that the losses of all
//! parts add up to the suction at the unit. Flows named `m3_s` are of standard air,
//! [`conditions::STANDARD_DENSITY`], as on a unit's curve; speeds are those of the thinner air on its way.
//!
//! **Methods**, one for each: Darcy with [`friction`] by Colebrook (Churchill below Re 4000); tubes,
//! hose and bends by the [`isothermal`] equation; bends by Rennels, entry, widening by Borda–Carnot
//! and branches in [`fittings`]; monotone interpolation of the unit's curve in `curve`.
//!
//! Inputs are unit types of `uom`, named again here with the units that a caller needs.

pub mod conditions;
mod curve;
pub mod dust;
pub mod fittings;
pub mod friction;
pub mod isothermal;
mod leakage;
mod line;
mod march;
pub mod power;
mod solve;

pub use curve::{CurveError, UnitCurve};
pub use leakage::{LeakJoins, Leakage, sealed_suction_pa};
pub use line::{Ambient, Line, Part, PartKind};
pub use solve::{Air, AirError, PartAir, losses, solve, valve_suction_above};

pub use uom::si::angle::radian;
pub use uom::si::f64::{Angle, Length, Pressure, ThermodynamicTemperature, VolumeRate};
pub use uom::si::length::meter;
pub use uom::si::pressure::pascal;
pub use uom::si::thermodynamic_temperature::kelvin;
pub use uom::si::volume_rate::cubic_meter_per_second;

//! What the air passes, as plain data.

use super::fittings::SHARP_ENTRY;
use super::leakage::Leakage;
use uom::si::f64::{Angle, Length, Pressure, ThermodynamicTemperature};
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::kelvin;

/// The whole way from the room to the unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// In the order in which the air meets them; each part's bore is that of the part before.
    pub parts: Vec<Part>,
    pub ambient: Ambient,
    /// What the other valves let in, if anything.
    pub leakage: Option<Leakage>,
}

/// The room's air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ambient {
    /// Absolute.
    pub pressure: Pressure,
    pub temperature: ThermodynamicTemperature,
}

impl Default for Ambient {
    /// Sea level and 20 °C: 101 325 Pa, 293.15 K.
    fn default() -> Self {
        Ambient {
            pressure: Pressure::new::<pascal>(101_325.0),
            temperature: ThermodynamicTemperature::new::<kelvin>(293.15),
        }
    }
}

/// One part of the way, with the name under which its figures are shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    pub name: String,
    pub kind: PartKind,
}

/// What a part is. Bores are inside diameters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PartKind {
    /// From the room into the nozzle; `loss` is K, for which [`PartKind::entry`] takes 0.5.
    Entry { bore: Length, loss: f64 },
    /// A hose, with its own Darcy friction on its bore.
    Hose { bore: Length, length: Length, friction: f64 },
    /// A sudden widening, by Borda–Carnot.
    Expansion { from: Length, to: Length },
    /// A short narrow place, such as a stop fitting.
    Throat { bore: Length, throat: Length },
    /// A straight tube; roughness is the height of the wall's grain.
    Tube { bore: Length, length: Length, roughness: Length },
    /// A round bend: centreline radius and angle, by Rennels.
    Bend { bore: Length, radius: Length, angle: Angle, roughness: Length },
    /// From a branch into a trunk at an angle, by the branch entry table.
    Junction { bore: Length, branch: Angle, into: Length },
}

impl PartKind {
    /// A sharp entry flush with a wall, K 0.5.
    pub fn entry(bore: Length) -> PartKind {
        PartKind::Entry { bore, loss: SHARP_ENTRY }
    }

    /// Whether the part belongs to the hose's side of the valve.
    pub(super) fn is_before_the_valve(&self) -> bool {
        matches!(self, PartKind::Entry { .. } | PartKind::Hose { .. } | PartKind::Expansion { .. })
    }
}

//! Air that the other valves let in.

use super::conditions::STANDARD_DENSITY;
use super::curve::UnitCurve;
use crate::reckon::root::between;
use uom::si::f64::{Pressure, VolumeRate};
use uom::si::pressure::pascal;
use uom::si::volume_rate::cubic_meter_per_second;

/// Leakage known from one measurement, growing with the square root of the suction as through an
/// orifice.
#[derive(Debug, Clone, PartialEq)]
pub struct Leakage {
    /// Flow of standard air at the reference suction.
    pub reference_flow: VolumeRate,
    /// Gauge, above 0.
    pub reference_suction: Pressure,
    pub joins: LeakJoins,
}

/// Where the leakage joins the line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LeakJoins {
    /// After the last part.
    AtUnit,
    /// Before the first part of this name, so that it flows through that part and all after it.
    Before(String),
}

impl Leakage {
    /// Flow of standard air at a suction in Pa gauge, `q = q_ref sqrt(p / p_ref)`; nothing comes in
    /// where there is no suction.
    ///
    /// ```
    /// use longsweep::reckon::air::*;
    /// let leak = Leakage {
    ///     reference_flow: VolumeRate::new::<cubic_meter_per_second>(0.002),
    ///     reference_suction: Pressure::new::<pascal>(25_000.0),
    ///     joins: LeakJoins::AtUnit,
    /// };
    /// assert_eq!(leak.flow_m3_s(6_250.0), 0.001);
    /// ```
    pub fn flow_m3_s(&self, suction_pa: f64) -> f64 {
        let share = suction_pa.max(0.0) / self.reference_suction.get::<pascal>();
        self.reference_flow.get::<cubic_meter_per_second>() * share.sqrt()
    }

    pub(super) fn flow_kg_s(&self, suction_pa: f64) -> f64 {
        self.flow_m3_s(suction_pa) * STANDARD_DENSITY
    }
}

/// Suction at every valve, in Pa gauge, when the hose's end is covered.
///
/// Nothing flows through the line, so the suction is the same everywhere; the unit moves the leakage
/// alone: the root of `curve(q_leak(p)) = p`.
///
/// Assumption: the leakage's own way to the unit loses nothing.
///
/// ```
/// use longsweep::reckon::air::*;
/// let point = |q, p| (VolumeRate::new::<cubic_meter_per_second>(q), Pressure::new::<pascal>(p));
/// let curve = UnitCurve::new(&[point(0.0, 30_000.0), point(0.06, 10_000.0)]).unwrap();
/// assert_eq!(sealed_suction_pa(&curve, None), 30_000.0);
/// ```
pub fn sealed_suction_pa(curve: &UnitCurve, leakage: Option<&Leakage>) -> f64 {
    let tight_pa = curve.sealed_pa();
    let Some(leakage) = leakage else { return tight_pa };
    if leakage.reference_flow.get::<cubic_meter_per_second>() <= 0.0 || tight_pa <= 0.0 {
        return tight_pa;
    }
    // A leak wider than the curve was measured for leaves less suction than any point of it.
    let left = |p: f64| curve.suction_pa(leakage.flow_m3_s(p)).map_or(-1.0, |given| given - p);
    between(0.0, tight_pa, 1e-13, left)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::air::conditions::{CFM, INCH_OF_WATER_4C};
    use crate::reckon::air::curve::tests::demo_curve;
    use crate::reckon::check::near;

    fn leak(cfm_at_100_in: f64) -> Leakage {
        Leakage {
            reference_flow: VolumeRate::new::<cubic_meter_per_second>(cfm_at_100_in * CFM),
            reference_suction: Pressure::new::<pascal>(100.0 * INCH_OF_WATER_4C),
            joins: LeakJoins::AtUnit,
        }
    }

    #[test]
    fn agrees_with_scipy_for_5_cfm() {
        // scipy 1.17.1 brentq on its own PCHIP curve.
        near(sealed_suction_pa(&demo_curve(), Some(&leak(5.0))), 32116.706361580233, 1e-9);
    }

    #[test]
    fn zero_leak_leaves_the_whole_suction() {
        assert_eq!(sealed_suction_pa(&demo_curve(), Some(&leak(0.0))), demo_curve().sealed_pa());
    }

    #[test]
    fn grows_with_tightness() {
        let sealed = |cfm| sealed_suction_pa(&demo_curve(), Some(&leak(cfm)));
        assert!(sealed(5.0) > sealed(10.0) && sealed(10.0) > sealed(60.0));
    }
}

//! A power unit's suction against its flow.

use super::conditions::STANDARD_DENSITY;
use crate::measure::{Si, Units};
use std::fmt;
use uom::si::f64::{Pressure, VolumeRate};
use uom::si::pressure::pascal;
use uom::si::volume_rate::cubic_meter_per_second;

/// Suction of a power unit for every flow it was measured at.
///
/// Flow is of standard air ([`STANDARD_DENSITY`]), suction is gauge, below the room. It cannot contain
/// fewer than two points, a first point with flow, flows that do not rise, or a suction that rises.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitCurve {
    flows_m3_s: Vec<f64>,
    suctions_pa: Vec<f64>,
    slopes: Vec<f64>,
}

/// Why points do not make a curve. Points are counted from 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CurveError {
    TooFew { points: usize },
    NotSealedFirst { flow_m3_s: f64 },
    FlowNotRising { point: usize, flow_m3_s: f64, before_m3_s: f64 },
    SuctionRising { point: usize, suction_pa: f64, before_pa: f64 },
    NotANumber { point: usize },
}

impl UnitCurve {
    /// A curve through the measured points, the first of them sealed (no flow), flows rising.
    ///
    /// ```
    /// use longsweep::reckon::air::{UnitCurve, Pressure, VolumeRate, pascal, cubic_meter_per_second};
    /// let point = |q, p| (VolumeRate::new::<cubic_meter_per_second>(q), Pressure::new::<pascal>(p));
    /// let curve = UnitCurve::new(&[point(0.0, 30_000.0), point(0.06, 10_000.0)]).unwrap();
    /// assert!((curve.suction_pa(0.03).unwrap() - 20_000.0).abs() < 1e-6);
    /// ```
    pub fn new(points: &[(VolumeRate, Pressure)]) -> Result<UnitCurve, CurveError> {
        let flows_m3_s: Vec<f64> = points.iter().map(|p| p.0.get::<cubic_meter_per_second>()).collect();
        let suctions_pa: Vec<f64> = points.iter().map(|p| p.1.get::<pascal>()).collect();
        check(&flows_m3_s, &suctions_pa)?;
        let slopes = slopes(&flows_m3_s, &suctions_pa);
        Ok(UnitCurve { flows_m3_s, suctions_pa, slopes })
    }

    /// Suction at a flow of standard air, Pa gauge; nothing beyond the last measured point.
    ///
    /// A cubic between each two points with the slopes of Fritsch and Carlson's monotone method, so
    /// that a falling curve never rises between its points.
    pub fn suction_pa(&self, flow_m3_s: f64) -> Option<f64> {
        if !(0.0..=self.widest_flow_m3_s()).contains(&flow_m3_s) {
            return None;
        }
        let next = self.flows_m3_s.iter().position(|&q| q >= flow_m3_s)?.max(1);
        let (q, p, d) = (&self.flows_m3_s, &self.suctions_pa, &self.slopes);
        let width = q[next] - q[next - 1];
        let t = (flow_m3_s - q[next - 1]) / width;
        let (near, far) = ((1.0 - t) * (1.0 - t), t * t);
        let values = p[next - 1] * near * (1.0 + 2.0 * t) + p[next] * far * (3.0 - 2.0 * t);
        Some(values + width * (d[next - 1] * near * t - d[next] * far * (1.0 - t)))
    }

    /// Suction with no flow at all, Pa gauge.
    pub fn sealed_pa(&self) -> f64 {
        self.suctions_pa.first().copied().unwrap_or(0.0)
    }

    /// The greatest flow that was measured, m³/s of standard air.
    pub fn widest_flow_m3_s(&self) -> f64 {
        self.flows_m3_s.last().copied().unwrap_or(0.0)
    }

    /// The greatest flow as mass, kg/s.
    pub(super) fn widest_kg_s(&self) -> f64 {
        self.widest_flow_m3_s() * STANDARD_DENSITY
    }
}

fn check(flows: &[f64], suctions: &[f64]) -> Result<(), CurveError> {
    if flows.len() < 2 {
        return Err(CurveError::TooFew { points: flows.len() });
    }
    let odd = |i: &usize| !(flows[*i].is_finite() && suctions[*i].is_finite() && suctions[*i] >= 0.0);
    if let Some(i) = (0..flows.len()).find(odd) {
        return Err(CurveError::NotANumber { point: i + 1 });
    }
    if flows[0] != 0.0 {
        return Err(CurveError::NotSealedFirst { flow_m3_s: flows[0] });
    }
    for i in 1..flows.len() {
        let point = i + 1;
        if flows[i] <= flows[i - 1] {
            let (flow_m3_s, before_m3_s) = (flows[i], flows[i - 1]);
            return Err(CurveError::FlowNotRising { point, flow_m3_s, before_m3_s });
        }
        if suctions[i] > suctions[i - 1] {
            let (suction_pa, before_pa) = (suctions[i], suctions[i - 1]);
            return Err(CurveError::SuctionRising { point, suction_pa, before_pa });
        }
    }
    Ok(())
}

/// Slope of the curve at every point: a weighted harmonic mean of the chords on either side, zero where
/// they turn; at the ends a parabola through three points, held so that the curve cannot overshoot.
fn slopes(x: &[f64], y: &[f64]) -> Vec<f64> {
    let h: Vec<f64> = x.windows(2).map(|w| w[1] - w[0]).collect();
    let chord: Vec<f64> = y.windows(2).zip(&h).map(|(w, h)| (w[1] - w[0]) / h).collect();
    let last = chord.len() - 1;
    if last == 0 {
        return vec![chord[0]; 2];
    }
    let inner = (1..=last).map(|i| {
        if chord[i - 1] * chord[i] <= 0.0 {
            return 0.0;
        }
        let (w1, w2) = (2.0 * h[i] + h[i - 1], h[i] + 2.0 * h[i - 1]);
        (w1 + w2) / (w1 / chord[i - 1] + w2 / chord[i])
    });
    let first = end_slope(h[0], h[1], chord[0], chord[1]);
    let end = end_slope(h[last], h[last - 1], chord[last], chord[last - 1]);
    std::iter::once(first).chain(inner).chain([end]).collect()
}

fn end_slope(h0: f64, h1: f64, chord0: f64, chord1: f64) -> f64 {
    let slope = ((2.0 * h0 + h1) * chord0 - h0 * chord1) / (h0 + h1);
    if slope * chord0 <= 0.0 {
        0.0
    } else if chord0 * chord1 <= 0.0 && slope.abs() > 3.0 * chord0.abs() {
        3.0 * chord0
    } else {
        slope
    }
}

impl CurveError {
    /// The sentence in the units of its reader.
    pub fn said(&self, units: &dyn Units) -> String {
        match self {
            CurveError::TooFew { points: 1 } => {
                "a suction curve needs 2 points or more, this one has 1 point".to_owned()
            }
            CurveError::TooFew { points } => {
                format!("a suction curve needs 2 points or more, this one has {points} points")
            }
            CurveError::NotSealedFirst { flow_m3_s } => format!(
                "a suction curve starts with no flow, this one starts at {}",
                units.figure(*flow_m3_s, "m3/s")
            ),
            CurveError::FlowNotRising { point, flow_m3_s, before_m3_s } => format!(
                "point {point} of the suction curve has {}, not more than the {} before it",
                units.figure(*flow_m3_s, "m3/s"),
                units.figure(*before_m3_s, "m3/s")
            ),
            CurveError::SuctionRising { point, suction_pa, before_pa } => format!(
                "point {point} of the suction curve has {}, more than the {} before it",
                units.figure(*suction_pa, "Pa"),
                units.figure(*before_pa, "Pa")
            ),
            CurveError::NotANumber { point } => {
                format!("point {point} of the suction curve is not a flow and a suction of 0 or more")
            }
        }
    }
}

impl fmt::Display for CurveError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(&Si))
    }
}

impl std::error::Error for CurveError {}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::reckon::air::conditions::{CFM, INCH_OF_WATER_4C};
    use crate::reckon::check::near;

    pub fn curve_of(points: &[(f64, f64)]) -> Result<UnitCurve, CurveError> {
        let point = |&(cfm, inches): &(f64, f64)| {
            let flow = VolumeRate::new::<cubic_meter_per_second>(cfm * CFM);
            (flow, Pressure::new::<pascal>(inches * INCH_OF_WATER_4C))
        };
        UnitCurve::new(&points.iter().map(point).collect::<Vec<_>>())
    }

    pub fn demo_curve() -> UnitCurve {
        curve_of(&[(0.0, 130.0), (40.0, 118.0), (80.0, 95.0), (120.0, 60.0), (160.0, 10.0)]).unwrap()
    }

    #[test]
    fn agrees_with_scipy_pchip() {
        // scipy 1.17.1 PchipInterpolator through the same points.
        let expected = [
            (10.0, 31870.981634703126),
            (55.0, 27612.031478869205),
            (100.0, 19722.170225722617),
            (125.0, 13624.410730132699),
            (150.0, 5970.2353405560625),
        ];
        for (cfm, pascals) in expected {
            near(demo_curve().suction_pa(cfm * CFM).unwrap(), pascals, 1e-9);
        }
    }

    #[test]
    fn recovers_every_measured_point() {
        for (cfm, inches) in [(0.0, 130.0), (80.0, 95.0), (160.0, 10.0)] {
            near(demo_curve().suction_pa(cfm * CFM).unwrap(), inches * INCH_OF_WATER_4C, 1e-12);
        }
    }

    #[test]
    fn grows_with_nothing_but_falls_all_the_way() {
        let flat = curve_of(&[(0.0, 100.0), (50.0, 100.0), (60.0, 20.0), (100.0, 19.0)]).unwrap();
        let at = |i: i32| flat.suction_pa(f64::from(i) * 0.1 * CFM).unwrap();
        assert!((1..=1000).all(|i| at(i) <= at(i - 1) + 1e-9));
    }

    #[test]
    fn refuses_points_that_make_no_curve() {
        assert!(matches!(curve_of(&[(0.0, 1.0)]), Err(CurveError::TooFew { points: 1 })));
        assert!(matches!(curve_of(&[(5.0, 9.0), (6.0, 8.0)]), Err(CurveError::NotSealedFirst { .. })));
        assert!(matches!(curve_of(&[(0.0, 9.0), (0.0, 8.0)]), Err(CurveError::FlowNotRising { .. })));
        assert!(matches!(curve_of(&[(0.0, 9.0), (5.0, 10.0)]), Err(CurveError::SuctionRising { .. })));
        assert!(matches!(curve_of(&[(0.0, f64::NAN), (5.0, 1.0)]), Err(CurveError::NotANumber { .. })));
        assert_eq!(demo_curve().suction_pa(161.0 * CFM), None);
    }
}

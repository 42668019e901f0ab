//! Where the suction is spent: the air that leaks in past a hose whose handle is covered.
//!
//! Three narrow places stand in a row: the ring in the valve, the ring between hose and tube, the ring round
//! the tail. Then comes the empty line to the unit at that small flow, the other valves' leakage, and the
//! unit's curve.

use super::HoseError;
use crate::reckon::air::conditions::{GAS_CONSTANT, STANDARD_DENSITY, viscosity};
use crate::reckon::air::friction::colebrook;
use crate::reckon::air::{Leakage, UnitCurve, sealed_suction_pa};
use crate::reckon::range::{OutOfRange, in_range};
use crate::reckon::root::{between, between_known};
use std::f64::consts::{LN_10, PI};

/// Discharge coefficient of a sharp ring. Source: the usual figure of sharp orifices, from memory.
pub const ORIFICE: f64 = 0.62;
/// The Reynolds number up to which the flow in the narrow ring is laminar.
pub const RING_TURBULENT: f64 = 2300.0;
/// The room: sea level, 20 °C.
const ROOM_PA: f64 = 101_325.0;
const ROOM_K: f64 = 293.15;
const RT: f64 = GAS_CONSTANT * ROOM_K;
/// Below this share of the pressure before it an orifice passes no more air (critical ratio of air, 1.4).
const CRITICAL: f64 = 0.528;

/// The clearances that the air leaks through, in metres.
///
/// Checked by [`Gaps::check`]: opening and tail not less than the hose, hose and tail within the bore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gaps {
    /// Passage in the valve that the hose slides through.
    pub opening_m: f64,
    /// Bore of the raceway's tube.
    pub bore_m: f64,
    /// Outside diameter of the hose.
    pub outside_m: f64,
    /// Outside diameter of the hose's end.
    pub tail_m: f64,
    /// Grain of the tube's wall.
    pub roughness_m: f64,
}

impl Gaps {
    /// Whether air can be told to leak here. Errors: [`OutOfRange`] with the diameter that does not fit.
    pub fn check(&self) -> Result<(), OutOfRange> {
        in_range("outside diameter of the hose", self.outside_m, (0.005, 0.5), "m")?;
        in_range("opening of the valve", self.opening_m, (self.outside_m, 1.0), "m")?;
        in_range("bore of the tube round the hose", self.bore_m, (1.0001 * self.outside_m, 1.0), "m")?;
        in_range("tail of the hose", self.tail_m, (self.outside_m, self.bore_m), "m")?;
        in_range(
            "roughness of the tube",
            self.roughness_m,
            (0.0, 0.1 * (self.bore_m - self.outside_m)),
            "m",
        )?;
        Ok(())
    }
}

/// Area of the ring between two circles, `pi/4 (outer² - inner²)`, m².
pub fn ring_area(outer_m: f64, inner_m: f64) -> f64 {
    PI / 4.0 * (outer_m * outer_m - inner_m * inner_m)
}

/// What a sharp ring takes: the fall of the pressure's square for each square of the mass flow.
///
/// `p1² - p2² = (m / (Cd a))² R T`, so the result is `R T / (Cd a)²` in Pa²/(kg/s)². Argument: area `a_m2`
/// (m², above 0). Assumptions: isothermal, the jet's speed lost; not choked, which the solver checks.
///
/// ```
/// use longsweep::reckon::hose::leak::{ring_area, sharp_ring};
/// // 10 g/s through the ring between 1.80 and 1.75 in takes some 13 kPa from a room's pressure.
/// let fall = 0.010_f64.powi(2) * sharp_ring(ring_area(1.80 * 0.0254, 1.75 * 0.0254));
/// let after = (101_325.0_f64.powi(2) - fall).sqrt();
/// assert!((101_325.0 - after - 14_400.0).abs() < 300.0, "{after}");
/// ```
///
/// Source: orifice equation in its isothermal form; the coefficient [`ORIFICE`] from memory.
pub fn sharp_ring(a_m2: f64) -> f64 {
    RT / (ORIFICE * a_m2).powi(2)
}

/// What each metre of the ring between hose and tube takes, as [`sharp_ring`] tells it.
///
/// `p1² - p2² = G² R T f x / (D - d)` with the flux `G = m / a`, hydraulic diameter `D - d`; the Darcy factor is
/// `96 / Re` up to Re 2300, as between flat plates, and Colebrook's above. Arguments: [`Gaps`], mass flow
/// `m_kg_s` (above 0), viscosity (Pa s). Result in Pa²/(kg/s)² per metre. Errors: [`OutOfRange`].
///
/// Assumptions: the hose lies in the middle and is smooth outside; lying on the wall it would leak more when
/// laminar, a ribbed one less.
///
/// Source: laminar flow between parallel plates and the hydraulic diameter, as in every handbook.
pub fn along_ring(gaps: &Gaps, m_kg_s: f64, viscosity_pa_s: f64) -> Result<f64, OutOfRange> {
    let (area, across) = (ring_area(gaps.bore_m, gaps.outside_m), gaps.bore_m - gaps.outside_m);
    let re = m_kg_s / area * across / viscosity_pa_s;
    let f = if re < RING_TURBULENT { 96.0 / re } else { colebrook(re, gaps.roughness_m / across)? };
    Ok(RT * f / (across * area * area))
}

/// What the empty line beyond the hose's tail takes, as [`sharp_ring`] tells it, at a few flows.
///
/// With the hose out the raceway counts whole; with it drawn in by `x` the first `x` metres are filled. It is
/// free of loss where `flows_kg_s` is empty.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct EmptyLine {
    /// Ascending, above 0.
    pub flows_kg_s: Vec<f64>,
    /// Pa²/(kg/s)² of the whole raceway and all beyond, at each flow.
    pub whole: Vec<f64>,
    /// The same of what lies beyond the raceway's end.
    pub beyond: Vec<f64>,
    /// Length of the raceway.
    pub raceway_m: f64,
}

impl EmptyLine {
    /// What is left of it with the hose drawn in by `x_m`: of the raceway the share left empty.
    fn left_by(&self, x_m: f64) -> LeftLine {
        let share = if self.raceway_m > 0.0 { (1.0 - x_m / self.raceway_m).clamp(0.0, 1.0) } else { 0.0 };
        let point = |((flow, whole), beyond): ((&f64, &f64), &f64)| {
            let loss = beyond + share * (whole - beyond);
            LeftAt { flow_kg_s: *flow, loss, ln_flow: flow.ln(), ln_loss: loss.ln() }
        };
        LeftLine(self.flows_kg_s.iter().zip(&self.whole).zip(&self.beyond).map(point).collect())
    }
}

/// The empty line beyond a hose's tail; the logarithms are taken once for all flows that are tried.
struct LeftLine(Vec<LeftAt>);

struct LeftAt {
    flow_kg_s: f64,
    loss: f64,
    ln_flow: f64,
    ln_loss: f64,
}

impl LeftLine {
    /// Loss at a flow, between those asked for as a power of the flow.
    fn at(&self, m_kg_s: f64) -> f64 {
        let Some(last) = self.0.len().checked_sub(1) else { return 0.0 };
        let next = self.0.iter().position(|at| at.flow_kg_s >= m_kg_s).unwrap_or(last).max(1).min(last);
        let before = next.saturating_sub(1);
        let (low, high) = (&self.0[before], &self.0[next]);
        if before == next || low.loss <= 0.0 || high.loss <= 0.0 {
            return high.loss;
        }
        let share = (m_kg_s.ln() - low.ln_flow) / (high.ln_flow - low.ln_flow);
        (low.ln_loss + (high.ln_loss - low.ln_loss) * share).exp()
    }
}

/// What draws: the unit, the other valves' leakage, and the empty line between.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    pub curve: UnitCurve,
    /// What the other valves let in; `None` for nothing.
    pub others: Option<Leakage>,
    pub line: EmptyLine,
}

impl Supply {
    /// Suction with nothing leaking past the hose, Pa.
    pub fn sealed_pa(&self) -> Result<f64, OutOfRange> {
        let sealed_pa = sealed_suction_pa(&self.curve, self.others.as_ref());
        in_range("suction with nothing flowing", sealed_pa, (1.0, 0.99 * ROOM_PA), "Pa")
    }

    /// What the unit gives at the leak past the hose, when the suction at the unit is `suction_pa`.
    fn given_pa(&self, m_kg_s: f64, suction_pa: f64) -> Option<f64> {
        let others = self.others.as_ref().map_or(0.0, |leak| leak.flow_m3_s(suction_pa));
        self.curve.suction_pa(m_kg_s / STANDARD_DENSITY + others)
    }
}

/// Suction behind the tail and where it is spent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spent {
    /// Suction behind the hose's tail, Pa.
    pub had_pa: f64,
    /// In the valve, along the hose, round the tail; they add up to `had_pa`.
    pub by_pa: [f64; 3],
    /// Past the hose, m³/s of standard air.
    pub leak_m3_s: f64,
}

/// The leak past a hose drawn in by `x_m`, and what each narrow place takes of the suction.
///
/// The root of `room - p3(m) + line(m) = curve(m + others)`, where `p3` is the pressure behind the tail after
/// the three rings in a row. Where a ring is closed (opening or tail as tight as can be) no air moves and all
/// of the suction stands there.
///
/// Arguments: [`Gaps`], [`Supply`], `x_m` (m, 0 for the limit at the start of the travel, where the ring along
/// the hose takes nothing). Result: [`Spent`].
///
/// Errors: [`HoseError`] for gaps that do not fit, for both ends closed, for a choked ring and for a leak beyond
/// the unit's curve. Accuracy: that of [`ORIFICE`] and of the gaps, which wear.
pub fn spent(gaps: &Gaps, supply: &Supply, x_m: f64) -> Result<Spent, HoseError> {
    gaps.check()?;
    Narrow::of(gaps, supply.sealed_pa()?)?.spent(supply, x_m)
}

/// The narrow places of gaps that were checked, ready for any place of the travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Narrow {
    sealed_pa: f64,
    /// `None` where a ring is closed.
    rings: Option<Rings>,
    /// Where all of the suction stands then.
    closed_pa: [f64; 3],
}

impl Narrow {
    /// `sealed_pa` is [`Supply::sealed_pa`]. Errors: [`HoseError`] for both ends closed.
    pub(super) fn of(gaps: &Gaps, sealed_pa: f64) -> Result<Narrow, HoseError> {
        let valve = ring_area(gaps.opening_m, gaps.outside_m);
        let tail = ring_area(gaps.bore_m, gaps.tail_m);
        // A ring of less than a hundredth of a square millimetre is a seal.
        const CLOSED_M2: f64 = 1e-8;
        let (rings, closed_pa) = match (valve < CLOSED_M2, tail < CLOSED_M2) {
            (true, true) => return Err(HoseError::BothClosed),
            (true, false) => (None, [sealed_pa, 0.0, 0.0]),
            (false, true) => (None, [0.0, 0.0, sealed_pa]),
            (false, false) => (Some(Rings::of(gaps, sealed_pa, valve, tail)?), [0.0; 3]),
        };
        Ok(Narrow { sealed_pa, rings, closed_pa })
    }

    /// Of the two sharp rings; `None` where one is closed.
    pub(super) fn rings_loss(&self) -> Option<f64> {
        self.rings.as_ref().map(|rings| rings.valve + rings.tail)
    }

    /// As [`spent`].
    pub(super) fn spent(&self, supply: &Supply, x_m: f64) -> Result<Spent, HoseError> {
        match &self.rings {
            Some(rings) => rings.solve(supply, x_m),
            None => Ok(Spent { had_pa: self.sealed_pa, by_pa: self.closed_pa, leak_m3_s: 0.0 }),
        }
    }
}

/// Three rings that air passes through, and what of their flow does not hang on the hose's place.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Rings {
    gaps: Gaps,
    viscosity: f64,
    valve: f64,
    tail: f64,
    /// A little more than passes the two sharp rings alone, kg/s.
    most: f64,
    /// `1/sqrt f` of the ring along the hose where it turns turbulent, and at `most`.
    turbulent: Option<(f64, f64)>,
}

impl Rings {
    fn of(gaps: &Gaps, sealed_pa: f64, valve: f64, tail: f64) -> Result<Rings, HoseError> {
        let (valve, tail, viscosity) = (sharp_ring(valve), sharp_ring(tail), viscosity(ROOM_K)?);
        let unit_pa = ROOM_PA - sealed_pa;
        let most = 1.000_001 * ((ROOM_PA * ROOM_PA - unit_pa * unit_pa) / (valve + tail)).sqrt();
        let (area, across) = (ring_area(gaps.bore_m, gaps.outside_m), gaps.bore_m - gaps.outside_m);
        let y_at = |re: f64| Some(1.0 / colebrook(re, gaps.roughness_m / across).ok()?.sqrt());
        let turbulent = y_at(RING_TURBULENT).zip(y_at(most / (area * viscosity / across)));
        Ok(Rings { gaps: *gaps, viscosity, valve, tail, most, turbulent })
    }

    fn solve(&self, supply: &Supply, x_m: f64) -> Result<Spent, HoseError> {
        let room2 = ROOM_PA * ROOM_PA;
        let line = supply.line.left_by(x_m);
        // Suction that the unit must hold to draw a leak; none where the rings cannot pass it.
        let asked = |m: f64, along: f64| {
            let left2 = room2 - m * m * (along + self.valve + self.tail + line.at(m));
            (left2 > 0.0).then(|| ROOM_PA - left2.sqrt())
        };
        let surplus = |m: f64, along: f64| {
            let given = asked(m, along).and_then(|asked| Some(supply.given_pa(m, asked)? - asked));
            given.unwrap_or(-ROOM_PA)
        };
        let (m, on_jump) = self.balanced(x_m, surplus);
        let per_m = || along_ring(&self.gaps, m, self.viscosity).unwrap_or(f64::INFINITY);
        let along = if x_m > 0.0 { per_m() * x_m } else { 0.0 };
        let met = asked(m, along).and_then(|asked| Some((asked, supply.given_pa(m, asked)?)));
        // At the end of the unit's curve the balance is not met; on the jump of the ring's friction it is by a friction
        // between the two.
        let met = met.filter(|(asked, given)| on_jump || (given - asked).abs() < 0.2 * given);
        let (_, held_pa) =
            met.ok_or(HoseError::BeyondCurve { widest_m3_s: supply.curve.widest_flow_m3_s() })?;
        self.shares(line.at(m), m, held_pa, x_m)
    }

    /// The flow below the most at which `surplus`, told the flow and what the ring along the hose takes, is spent, and
    /// whether that is on the jump of the ring's friction.
    ///
    /// Where the ring is turbulent the unknown is `y = 1/sqrt f`: Colebrook's equation tells the Reynolds number
    /// by it outright, `Re = 2.51 y / (10^(-y/2) - e / 3.7 D)`, so that there is no root within the root.
    fn balanced(&self, x_m: f64, surplus: impl Fn(f64, f64) -> f64) -> (f64, bool) {
        let most = self.most;
        if x_m <= 0.0 {
            return (between(1e-9 * most, most, 1e-12, |m| surplus(m, 0.0)), false);
        }
        let (area, across) =
            (ring_area(self.gaps.bore_m, self.gaps.outside_m), self.gaps.bore_m - self.gaps.outside_m);
        let (flow_per_re, along_per_f) = (area * self.viscosity / across, RT * x_m / (across * area * area));
        let laminar = |m: f64| surplus(m, along_per_f * 96.0 * flow_per_re / m);
        let turning = RING_TURBULENT * flow_per_re;
        if most <= turning {
            return (between(1e-9 * most, most, 1e-12, laminar), false);
        }
        let at_turning = laminar(turning);
        if at_turning <= 0.0 {
            let least = (1e-9 * most, laminar(1e-9 * most));
            return (between_known(least, (turning, at_turning), 1e-12, laminar), false);
        }
        let rough = self.gaps.roughness_m / across;
        let flow = |y: f64| flow_per_re * 2.51 * y / ((-0.5 * LN_10 * y).exp() - rough / 3.7);
        let turbulent = |y: f64| surplus(flow(y), along_per_f / (y * y));
        let least = self.turbulent.map(|(least, _)| (least, turbulent(least)));
        match (self.turbulent, least.filter(|(_, surplus)| *surplus > 0.0)) {
            (Some((_, last)), Some(least)) => {
                let y = between_known(least, (last, turbulent(last)), 1e-13, turbulent);
                (flow(y).min(most), false)
            }
            _ => (turning, true),
        }
    }

    /// Pressures from both ends, so that what is left between them is the ring along the hose: at Re 2300 its
    /// friction jumps, and the balance is met on the jump.
    fn shares(&self, line: f64, m: f64, held_pa: f64, x_m: f64) -> Result<Spent, HoseError> {
        let m2 = m * m;
        let unit_pa = ROOM_PA - held_pa;
        let behind_pa = (unit_pa * unit_pa + m2 * line).sqrt();
        let before_tail_pa = (behind_pa * behind_pa + m2 * self.tail).sqrt();
        let after_valve_pa = (ROOM_PA * ROOM_PA - m2 * self.valve).max(0.0).sqrt();
        choked("pressure after the valve's ring over that before", after_valve_pa / ROOM_PA)?;
        choked("pressure behind the tail over that before it", behind_pa / before_tail_pa)?;
        let by_pa = [
            ROOM_PA - after_valve_pa,
            // At the very start there is no ring along the hose, and what is left over is rounding.
            if x_m > 0.0 { (after_valve_pa - before_tail_pa).max(0.0) } else { 0.0 },
            before_tail_pa - behind_pa,
        ];
        Ok(Spent { had_pa: by_pa.iter().sum(), by_pa, leak_m3_s: m / STANDARD_DENSITY })
    }
}

fn choked(what: &'static str, ratio: f64) -> Result<(), OutOfRange> {
    in_range(what, ratio, (CRITICAL, 1.0), "").map(drop)
}

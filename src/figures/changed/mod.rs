//! Bounds on the figures of an inlet whose way has been changed a little: what surely holds of them, without
//! reckoning them anew.
//!
//! Where the turns of a way stay and only straights are longer or shorter, the planned figures tell how far the new
//! ones can be off. A bound that is not tight enough for a limit tells nothing; then the figures are reckoned.
mod pull;

use super::air::{Drawn, way_kinds};
use super::hose::path;
use super::way::{Stretch, way};
use super::wire::wire;
use super::{HoseFigures, InletFigures};
use crate::company::{Catalog, Inlet, Job};
use crate::reckon::air::conditions::{GAS_CONSTANT, STANDARD_DENSITY, viscosity};
use crate::reckon::air::friction::{TURBULENT, friction_factor};
use crate::reckon::air::{Air, PartKind, meter, radian};
use crate::reckon::hose::{Bounds, Path};
use crate::route::{JobLines, Line};
use std::cell::OnceCell;
use std::f64::consts::PI;

/// Bends that differ by less, m and radians together, are the same: the last digits of coordinates.
const SAME: f64 = 1e-9;
/// The room's temperature.
const ROOM_K: f64 = 293.15;
/// Losses of a way grow at least with this power of the flow, where it is turbulent: the factor of a smooth tube
/// falls no faster than with the 0.3rd power.
const LEAST_POWER: f64 = 1.7;
/// Losses before the valve, of entry and hose, grow with the flow's square, and a little more as the air thins.
const VALVE_POWER: f64 = 2.3;
/// On what a length of tube takes, for what is told of the air at one place only.
const MORE: f64 = 1.2;

/// An inlet as planned, with the bounds of its hose, worked out when they are first asked for.
pub struct Planned<'a> {
    index: usize,
    job: &'a Job,
    inlet: &'a Inlet,
    lines: &'a JobLines,
    figures: &'a InletFigures,
    catalog: &'a Catalog,
    /// The kinds of part that the air passes.
    kinds: Option<Vec<PartKind>>,
    draws: OnceCell<Option<Vec<Bounds>>>,
    drawn: OnceCell<Option<Drawn>>,
    pulls: pull::Bounds,
}

/// An inlet's way changed: turns the same, some of its straights longer or shorter.
pub struct Changed<'a> {
    /// As planned.
    pub inlet: &'a Inlet,
    of: &'a Planned<'a>,
    lines: &'a JobLines,
    way: Vec<Stretch<'a>>,
    added_m: f64,
    removed_m: f64,
    /// Where the hose lies otherwise than planned.
    path: Option<Path>,
}

impl<'a> Planned<'a> {
    /// Of one inlet of a job laid and reckoned; `None` where it has no such inlet.
    pub fn of(
        job: &'a Job,
        index: usize,
        lines: &'a JobLines,
        figures: &'a [InletFigures],
        catalog: &'a Catalog,
    ) -> Option<Planned<'a>> {
        let (inlet, figures) = (job.inlets.get(index)?, figures.get(index)?);
        let kinds = way(index, lines).ok().map(|way| way_kinds(&way, catalog));
        let (draws, drawn, pulls) = Default::default();
        Some(Planned { index, job, inlet, lines, figures, catalog, kinds, draws, drawn, pulls })
    }

    /// The same inlet in a changed job; `None` where more than lengths of straights has changed on its way.
    pub fn changed(&'a self, lines: &'a JobLines) -> Option<Changed<'a>> {
        let (was, is) = (way(self.index, self.lines).ok()?, way(self.index, lines).ok()?);
        if was.len() != is.len() || was.iter().zip(&is).any(|(was, is)| !same_entry(was, is)) {
            return None;
        }
        let (added_m, removed_m) = straights_changed_m(self.kinds.as_ref()?, &way_kinds(&is, self.catalog))?;
        let (was, line) = (self.lines.of_inlet(self.index)?, lines.of_inlet(self.index)?);
        let path = if same_raceway(was, line) { None } else { Some(path(line).ok()?) };
        Some(Changed { inlet: self.inlet, of: self, lines, way: is, added_m, removed_m, path })
    }

    fn hose(&self) -> Option<&'a HoseFigures> {
        self.figures.hose.as_ref().ok()
    }

    fn draw_bounds(&self) -> Option<&[Bounds]> {
        let of = || self.hose()?.draws.iter().map(|draw| Bounds::of(&draw.setting).ok()).collect();
        self.draws.get_or_init(of).as_deref()
    }
}

/// The same line, entered by the same fitting.
fn same_entry(was: &Stretch, is: &Stretch) -> bool {
    was.index == is.index && was.by.map(|fitting| &fitting.id) == is.by.map(|fitting| &fitting.id)
}

/// How much longer and how much shorter the straights of a way are, told part by part as the air passes them, m;
/// `None` where anything else differs, or a straight has come or gone.
fn straights_changed_m(was: &[PartKind], is: &[PartKind]) -> Option<(f64, f64)> {
    let longer = |(was, is): (&PartKind, &PartKind)| match (*was, *is) {
        (PartKind::Tube { length: was, .. }, PartKind::Tube { length: is, .. }) => {
            Some(is.get::<meter>() - was.get::<meter>())
        }
        (
            PartKind::Bend { radius, angle, .. },
            PartKind::Bend { radius: new_radius, angle: new_angle, .. },
        ) => {
            let off = (radius - new_radius).get::<meter>().abs() + (angle - new_angle).get::<radian>().abs();
            (off < SAME).then_some(0.0)
        }
        (was, is) => (was == is).then_some(0.0),
    };
    if was.len() != is.len() {
        return None;
    }
    was.iter().zip(is).map(longer).try_fold((0.0, 0.0), |(added, removed), longer_m| {
        longer_m.map(|m: f64| (added + m.max(0.0), removed + (-m).max(0.0)))
    })
}

/// Whether the hose lies in two lines alike.
fn same_raceway(was: &Line, is: &Line) -> bool {
    let (Some(old), Some(new)) = (&was.raceway, &is.raceway) else { return false };
    // The stop's leg may go on beyond it.
    let legs = old.legs.saturating_sub(1);
    let mut lengths = was.legs.iter().zip(&is.legs).take(legs);
    old.legs == new.legs && old.stop_m == new.stop_m && lengths.all(|(was, is)| was.length_m == is.length_m)
}

impl Changed<'_> {
    /// Whether no tube was added on the way, so that no less air flows.
    pub fn is_no_longer(&self) -> bool {
        self.added_m <= 0.0
    }

    /// The share of the supply's voltage that drops along the wire, itself.
    pub fn wire_drop_share(&self) -> Option<f64> {
        wire(self.of.index, self.lines, self.of.catalog).ok().map(|wire| wire.drop_share)
    }

    /// The slowest air in any tube is surely as fast as this, m/s.
    pub fn slowest_tube_m_s(&self) -> Option<f64> {
        let air = self.of.figures.air.as_ref().ok()?;
        let share = self.flow_share(&air.hose_out)?;
        // Less flow leaves the air a little denser, and so slower still.
        let room_pa = air.hose_out.parts.first()?.static_in_pa;
        let less_pa = air.hose_out.suction_at_unit_pa * (1.0 - share.powf(VALVE_POWER));
        Some(air.slowest_tube_m_s()? * share * (1.0 - less_pa / (room_pa - air.hose_out.suction_at_unit_pa)))
    }

    /// The suction at the valve, hose out, is surely as much as this, Pa.
    pub fn suction_at_valve_pa(&self) -> Option<f64> {
        let air = &self.of.figures.air.as_ref().ok()?.hose_out;
        Some(air.suction_at_valve_pa * self.flow_share(air)?.powf(VALVE_POWER))
    }

    /// What of the planned flow surely comes through what was added: with all losses `S` at the planned flow and `d`
    /// of it more at that flow, `(S / (S + d))^(1 / least power)`, for at less flow the unit gives no less than `S`.
    fn flow_share(&self, air: &Air) -> Option<f64> {
        let lost_pa = air.suction_at_unit_pa;
        let more_pa = self.taken_pa(air, self.added_m)?;
        Some((lost_pa / (lost_pa + more_pa)).powf(1.0 / LEAST_POWER))
    }

    /// What so much tube takes at a flow, Pa, where the air is thinnest; `None` where the flow is not turbulent.
    fn taken_pa(&self, air: &Air, tube_m: f64) -> Option<f64> {
        let (velocity_pressure_pa, friction) = self.at_unit(air)?;
        Some(MORE * friction * tube_m / self.of.catalog.tube.bore_m * velocity_pressure_pa)
    }

    /// Velocity pressure in front of the unit, Pa, and the friction of tube there.
    fn at_unit(&self, air: &Air) -> Option<(f64, f64)> {
        let tube = &self.of.catalog.tube;
        let flux = air.flow_m3_s * STANDARD_DENSITY / (PI / 4.0 * tube.bore_m * tube.bore_m);
        // With a third less flow the way is still turbulent, and its friction a little more.
        let re = 0.7 * flux * tube.bore_m / viscosity(ROOM_K).ok()?;
        let friction = friction_factor(re, tube.roughness_m / tube.bore_m).ok()?;
        let static_pa = air.parts.last()?.static_out_pa;
        let velocity_pressure_pa = flux * flux * GAS_CONSTANT * ROOM_K / (2.0 * static_pa);
        (re >= TURBULENT).then_some((velocity_pressure_pa, friction))
    }

    /// Whether draw-in surely keeps a reserve; `keeps` is the clause's own comparison with the limit.
    pub fn keeps_reserve(&self, keeps: impl Fn(f64) -> bool, limit: f64) -> bool {
        let Some(hose) = self.of.hose() else { return false };
        let Some(share) = self.spent_share(hose) else { return false };
        match &self.path {
            // The hose lies as planned, and no more is taken from its suction.
            None if self.added_m <= 0.0 => true,
            None => keeps(hose.reserves().0 * share),
            Some(path) => self
                .of
                .draw_bounds()
                .is_some_and(|draws| draws.iter().all(|draw| draw.reserve_reaches(path, limit, share))),
        }
    }

    /// What of the suction on the hose surely is left: tube takes from the leak past it next to nothing beside what
    /// the sharp rings take. `None` where the leak is too small to tell.
    fn spent_share(&self, hose: &HoseFigures) -> Option<f64> {
        let tube = &self.of.catalog.tube;
        // A raceway that is longer or shorter also leaves more or less of its bends beyond the tail.
        let more_m = if self.path.is_some() { 4.0 * (self.added_m + self.removed_m) } else { self.added_m };
        let area_m2 = PI / 4.0 * tube.bore_m * tube.bore_m;
        let share = |draw: &super::Draw| -> Option<f64> {
            let Some(rings) = draw.setting.rings_loss() else { return Some(1.0) };
            let flow_kg_s = draw.worst.spent.leak_m3_s * STANDARD_DENSITY;
            let re = 0.5 * flow_kg_s / area_m2 * tube.bore_m / viscosity(ROOM_K).ok()?;
            let friction = friction_factor(re, tube.roughness_m / tube.bore_m).ok()?;
            let per_m = GAS_CONSTANT * ROOM_K * friction / (tube.bore_m * area_m2 * area_m2);
            Some((1.0 - MORE * per_m * more_m / rings).max(0.0))
        };
        hose.draws.iter().map(share).try_fold(1.0, |least: f64, share| Some(least.min(share?)))
    }
}

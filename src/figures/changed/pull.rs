//! Whether a hose whose way has been changed a little still comes out of its raceway with a force that a clause allows.
use super::{Changed, LEAST_POWER, Planned};
use crate::figures::air::Drawn;
use crate::figures::hose::{is_pulled_running, least_and_most_n};
use crate::figures::{Draw, HoseFigures};
use crate::reckon::hose::{HoseError, PullBounds, Setting, pull_out, pull_out_running, pull_wholly_in};
use std::cell::OnceCell;

/// Pulls are told under so many times the planned suction, whichever is the least that is enough: a way that is
/// shorter lets more air through.
const MORE_SUCTION: [f64; 3] = [1.002, 1.01, 1.04];

/// Bounds on the pull of each draw, worked out when they are first asked for.
#[derive(Default)]
pub(super) struct Bounds {
    at_rest: OnceCell<Vec<PullBounds>>,
    /// Under each of [`MORE_SUCTION`].
    running: [OnceCell<Option<Vec<PullBounds>>>; MORE_SUCTION.len()],
}

impl Planned<'_> {
    fn drawn(&self) -> Option<&Drawn> {
        self.drawn.get_or_init(|| Drawn::of(self.job, self.index).ok()).as_ref()
    }

    /// Bounds on the pull with the unit at rest: the same however the suction is spent.
    fn pulls_at_rest(&self, hose: &HoseFigures) -> &[PullBounds] {
        let of = |draw: &Draw| PullBounds::at_rest(&draw.setting);
        self.pulls.at_rest.get_or_init(|| hose.draws.iter().take(1).map(of).collect())
    }

    /// Bounds on the pull with the unit running, under so much suction at the valve or more.
    fn pulls_running(&self, hose: &HoseFigures, suction_pa: f64) -> Option<&[PullBounds]> {
        let planned_pa = self.figures.air.as_ref().ok()?.hose_in.suction_at_valve_pa;
        let mut each = MORE_SUCTION.iter().zip(&self.pulls.running);
        let (times, bounds) = each.find(|(times, _)| suction_pa <= **times * planned_pa)?;
        let of = |draw: &Draw| PullBounds::of(&draw.setting, times * planned_pa).ok();
        bounds.get_or_init(|| hose.draws.iter().map(of).collect()).as_deref()
    }
}

impl Changed<'_> {
    /// Whether the force that pulls the hose out surely keeps a limit: told by bounds where these tell it, else by the
    /// pull itself, the rest of the figures left alone; `keeps` is the clause's own comparison. `None` where it is not
    /// known, or hangs on what nobody gave.
    pub fn keeps_pull(&self, keeps: impl Fn(f64) -> bool) -> Option<bool> {
        let hose = self.of.hose()?;
        let path = self.path.as_ref().unwrap_or(hose.draws.first()?.setting.path());
        let bounds = match is_pulled_running(self.inlet) {
            true => self.most_with_hose_in_pa().and_then(|most_pa| self.of.pulls_running(hose, most_pa)),
            false => Some(self.of.pulls_at_rest(hose)),
        };
        if bounds.is_some_and(|draws| draws.iter().all(|draw| draw.pull_keeps(path, &keeps))) {
            return Some(true);
        }
        let settings: Vec<Setting> =
            hose.draws.iter().map(|draw| draw.setting.along_path(path.clone())).collect();
        let rest_n = pull_out(settings.first()?).force_n;
        let running_n = match is_pulled_running(self.inlet) {
            true => self.running_n(&settings, &keeps)?,
            false => Vec::new(),
        };
        let (least_n, most_n) = least_and_most_n(rest_n, running_n.into_iter());
        if keeps(least_n) { keeps(most_n).then_some(true) } else { Some(false) }
    }

    /// The suction at the valve, hose in, is surely no more than this, Pa.
    fn most_with_hose_in_pa(&self) -> Option<f64> {
        let air = &self.of.figures.air.as_ref().ok()?.hose_in;
        // How much more may flow is guessed, and then tried. A stored hose that lies otherwise leaves more or less of
        // the bends beyond its tail.
        let less_m = if self.path.is_some() { 2.0 * (self.added_m + self.removed_m) } else { self.removed_m };
        let share = (1.0 - self.taken_pa(air, less_m)? / air.suction_at_unit_pa).max(0.5);
        let flow_m3_s = (1.0 + 1e-6) * air.flow_m3_s / share.powf(1.0 / LEAST_POWER);
        self.of.drawn()?.most_with_hose_in_pa(self.inlet, &self.way, self.of.catalog, flow_m3_s)
    }

    /// The force of each draw, unit running, N. Where all break the limit with the hose wholly in, it is that: the
    /// greatest of the travel breaks it too.
    fn running_n(&self, settings: &[Setting], keeps: impl Fn(f64) -> bool) -> Option<Vec<f64>> {
        let suction_pa = self.of.drawn()?.with_hose_in_pa(self.inlet, &self.way, self.of.catalog).ok()?;
        let each = |pull: fn(&Setting, f64) -> Result<f64, HoseError>| -> Option<Vec<f64>> {
            settings.iter().map(|setting| pull(setting, suction_pa).ok()).collect()
        };
        let wholly_in = each(pull_wholly_in)?;
        if wholly_in.iter().all(|force_n| !keeps(*force_n)) {
            return Some(wholly_in);
        }
        each(|setting, suction_pa| Ok(pull_out_running(setting, suction_pa)?.force_n))
    }
}

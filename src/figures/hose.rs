//! An inlet's hose in its raceway: what suction draws it in with, and what a hand pulls it out with.
use super::Missing;
use super::air::{AirFigures, empty_line, leakage, unit_curve};
use super::elements::pieces_to_stop;
use super::way::way;
use crate::company::{Catalog, Duty, Inlet, Job};
use crate::reckon::hose::{
    At, Gaps, Hose, HoseError, LockUp, Looks, Path, Piece, Pull, Setting, Spending, Supply, lock_up_n,
    pull_out, pull_out_running,
};
use crate::route::{JobLines, Line};
use std::sync::OnceLock;

/// The motion of an inlet's hose.
#[derive(Debug, Clone)]
pub struct HoseFigures {
    /// One where opening and tail are known; else the three pure cases: all of the suction spent in the valve,
    /// all along the hose, all round its tail.
    pub draws: Vec<Draw>,
    /// The catalog keys that are wanted to tell where the suction is spent; empty where it is told.
    pub wanted: Vec<&'static str>,
    /// Pulled out with the unit at rest.
    pub pull_at_rest: Pull,
    /// With the unit running, one for each of `draws`; `Ok` of nothing where the valve's switch keeps it off.
    pub pull_running: Result<Vec<Pull>, Missing>,
    /// What the figures rest on that nobody gave: half a sentence each.
    pub assumed: Vec<String>,
    /// Where the hose is pushed and its stiffness is known.
    pub lock_up: Option<LockUp>,
}

/// A hose drawn in, with the suction spent in one way.
#[derive(Debug, Clone)]
pub struct Draw {
    pub setting: Setting,
    /// The place of the travel with the least reserve.
    pub worst: At,
    looks: Looks,
    /// Sought when it is first asked for: several sheets tell it.
    bears: OnceLock<Option<f64>>,
}

impl Draw {
    fn of(setting: Setting) -> Result<Draw, HoseError> {
        let looks = setting.looks()?;
        let worst = setting.worst_of(&looks)?;
        Ok(Draw { setting, worst, looks, bears: OnceLock::new() })
    }

    /// The friction the hose bears: so many times the catalog's, and it stops; `None` where it cannot be told.
    pub fn friction_it_bears(&self) -> Option<f64> {
        *self.bears.get_or_init(|| self.friction_for(1.0))
    }

    /// The factor on all frictions that leaves so much of a reserve, as [`Setting::friction_for`] finds it.
    pub fn friction_for(&self, reserve: f64) -> Option<f64> {
        let likely = (self.worst.inserted_m, self.worst.spent);
        self.setting.friction_for_of(reserve, &self.looks, likely).ok()
    }

    /// What the suction had gives on the hose's outside area, N.
    pub fn available_n(&self) -> f64 {
        self.worst.spent.had_pa * self.setting.hose().area_m2()
    }

    /// What of it is needed, N.
    pub fn needed_n(&self) -> f64 {
        self.worst.needed_pa * self.setting.hose().area_m2()
    }
}

impl HoseFigures {
    /// The draw to show: the one known, or the pure case with the least reserve.
    pub fn draw(&self) -> &Draw {
        let least = self.draws.iter().min_by(|a, b| a.worst.reserve().total_cmp(&b.worst.reserve()));
        least.unwrap_or(&self.draws[0])
    }

    /// The three pure cases, whatever is known of the gaps.
    pub fn pure(&self) -> Result<Vec<Draw>, HoseError> {
        let setting = &self.draw().setting;
        Spending::PURE.into_iter().map(|spending| Draw::of(setting.spent_as(spending)?)).collect()
    }

    /// The friction the hose bears wherever the suction is spent, the least of the draws; `None` where one cannot be told.
    /// The way of the least reserve need not be the one that bears the least.
    pub fn friction_it_bears(&self) -> Option<f64> {
        least_of(self.draws.iter().map(Draw::friction_it_bears))
    }

    /// The factor on all frictions that leaves so much of a reserve wherever the suction is spent.
    pub fn friction_for(&self, reserve: f64) -> Option<f64> {
        least_of(self.draws.iter().map(|draw| draw.friction_for(reserve)))
    }

    /// Least and greatest reserve of the draws; the same where the suction's place is known.
    pub fn reserves(&self) -> (f64, f64) {
        least_and_most(self.draws.iter().map(|draw| draw.worst.reserve()))
    }

    /// Least and greatest force to pull the hose out, N, unit running where the valve makes it run.
    pub fn pulls_n(&self) -> (f64, f64) {
        let running = self.pull_running.as_deref().unwrap_or_default();
        least_and_most_n(self.pull_at_rest.force_n, running.iter().map(|pull| pull.force_n))
    }
}

/// The least of some factors; `None` where one is not known.
fn least_of(mut factors: impl Iterator<Item = Option<f64>>) -> Option<f64> {
    factors.try_fold(f64::INFINITY, |least, factor| factor.map(|factor| least.min(factor)))
}

/// Least and greatest force to pull a hose out, with the unit at rest or, where there are such forces, running.
pub(super) fn least_and_most_n(rest_n: f64, running_n: impl ExactSizeIterator<Item = f64>) -> (f64, f64) {
    if running_n.len() == 0 {
        return (rest_n, rest_n);
    }
    let (least, most) = least_and_most(running_n);
    (least.max(rest_n), most.max(rest_n))
}

fn least_and_most(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, 0.0), |(least, most): (f64, f64), value| (least.min(value), most.max(value)))
}

/// Reckons draw-in and pull-out over the whole travel.
pub fn hose(
    job: &Job,
    inlet: usize,
    lines: &JobLines,
    catalog: &Catalog,
    air: &Result<AirFigures, Missing>,
) -> Result<HoseFigures, Missing> {
    let spec = &job.inlets[inlet];
    let laid = lines.of_inlet(inlet).ok_or("the inlet has no line")?;
    let (path, line) = (path(laid)?, empty_line(job, inlet, lines, catalog)?);
    let (hose, (spendings, wanted)) = (load(spec)?, spendings(spec, catalog));
    let supply = Supply { curve: unit_curve(job)?, others: leakage(job, inlet), line };
    let draw = |spending| Setting::new(path.clone(), hose, spending, supply.clone()).and_then(Draw::of);
    let draws: Vec<Draw> =
        spendings.into_iter().map(draw).collect::<Result<_, _>>().map_err(Missing::from)?;
    let pull_at_rest = pull_out(&draws[0].setting);
    let pull_running = running(spec, &draws, air);
    let lock_up = lock_up(spec, catalog, &draws);
    Ok(HoseFigures {
        draws,
        wanted,
        pull_at_rest,
        pull_running,
        assumed: assumed(job, inlet, lines),
        lock_up,
    })
}

/// What the figures rest on that nobody gave.
fn assumed(job: &Job, inlet: usize, lines: &JobLines) -> Vec<String> {
    let mut assumed = Vec::new();
    if way(inlet, lines).is_err() {
        assumed.push("the way to the unit is not given, its small loss left out".to_owned());
    }
    let others = job.inlets.iter().enumerate().filter(|(i, _)| *i != inlet).map(|(_, other)| &other.valve);
    let mut silent: Vec<&str> = others.filter(|v| v.leak_m3_s.is_none()).map(|v| v.id.as_str()).collect();
    silent.dedup();
    if !silent.is_empty() {
        assumed.push(format!("no leak is given for valve {}, taken as tight", silent.join(", ")));
    }
    assumed
}

/// The raceway in space.
pub(super) fn path(line: &Line) -> Result<Path, Missing> {
    let pieces = pieces_to_stop(line);
    let straights = pieces.iter().filter_map(|piece| match piece {
        Piece::Straight { length_m, .. } => Some(*length_m),
        Piece::Arc { .. } => None,
    });
    // Rounding of coordinates may leave a leg that its bends just fill a last digit short.
    if let Some((i, _)) = straights.enumerate().find(|(_, length_m)| *length_m < -1e-9) {
        return Err(format!(
            "leg {} is shorter than what its bends take off it, so that the hose has no path",
            i + 1
        )
        .into());
    }
    let whole = |piece: Piece| match piece {
        Piece::Straight { length_m, along } => Piece::Straight { length_m: length_m.max(0.0), along },
        arc => arc,
    };
    Path::new(pieces.into_iter().map(whole).collect()).map_err(Missing::from)
}

fn load(inlet: &Inlet) -> Result<Hose, Missing> {
    let hose = &inlet.hose;
    let friction =
        hose.friction.ok_or_else(|| format!("the catalog gives no friction for hose {}", hose.id))?;
    Ok(Hose {
        length_m: hose.length_m,
        outside_m: hose.outside_m,
        weight_n_per_m: hose.weight_n_per_m,
        mu_in: friction.drawn_in,
        mu_out: friction.drawn_out,
        mu_floor: friction.floor,
    })
}

/// Where the suction is spent, and what is wanted to tell it.
fn spendings(inlet: &Inlet, catalog: &Catalog) -> (Vec<Spending>, Vec<&'static str>) {
    let (opening, tail) = (inlet.valve.opening_m, inlet.hose.tail_m);
    if let (Some(opening_m), Some(tail_m)) = (opening, tail) {
        let gaps = Gaps {
            opening_m,
            bore_m: catalog.tube.bore_m,
            outside_m: inlet.hose.outside_m,
            tail_m,
            roughness_m: catalog.tube.roughness_m,
        };
        return (vec![Spending::Leak(gaps)], Vec::new());
    }
    let keys = [("opening", opening.is_none()), ("tail", tail.is_none())];
    let wanted = keys.into_iter().filter(|(_, wanted)| *wanted).map(|(key, _)| key).collect();
    (Spending::PURE.to_vec(), wanted)
}

/// A door that switches leaves the unit running while the hose is drawn out.
pub(super) fn is_pulled_running(inlet: &Inlet) -> bool {
    inlet.valve.switch == Duty::Door
}

fn running(inlet: &Inlet, draws: &[Draw], air: &Result<AirFigures, Missing>) -> Result<Vec<Pull>, Missing> {
    if !is_pulled_running(inlet) {
        return Ok(Vec::new());
    }
    let air = air.as_ref().map_err(Clone::clone)?;
    let suction_pa = air.hose_in.suction_at_valve_pa;
    let pulls = draws.iter().map(|draw| pull_out_running(&draw.setting, suction_pa));
    pulls.collect::<Result<_, _>>().map_err(Missing::Hose)
}

/// The worst push against what the hose bears; nothing where the catalog gives no stiffness.
fn lock_up(inlet: &Inlet, catalog: &Catalog, draws: &[Draw]) -> Option<LockUp> {
    let clearance_m = 0.5 * (catalog.tube.bore_m - inlet.hose.outside_m);
    let limit_n = lock_up_n(inlet.hose.stiffness_n_m2?, inlet.hose.weight_n_per_m, clearance_m).ok()?;
    let pushed = draws.iter().filter_map(|draw| LockUp::at(&draw.setting, &draw.worst, limit_n).ok());
    pushed.max_by(|a, b| a.push_n.total_cmp(&b.push_n))
}

//! The travel of a hose that suction draws in.

use super::balance::{Along, drawn_in, drawn_in_from_tail};
use super::leak::{EmptyLine, Gaps, Narrow, Spent, Supply};
use super::least::{Asked, Place, least};
use super::{Hose, HoseError, Path};
use crate::reckon::air::{Pressure, UnitCurve, VolumeRate, cubic_meter_per_second, pascal};
use crate::reckon::range::in_range;
use crate::reckon::root::between_known;
use std::f64::consts::PI;

/// Where the suction stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spending {
    /// Told by the leak through known gaps.
    Leak(Gaps),
    /// All of it in the valve's ring: the limit of a hose sealed there.
    AllAtValve,
    /// All of it along the hose.
    AllAlong,
    /// All of it round the tail, as on a piston; the tail as thick as the hose.
    AllAtTail,
}

impl Spending {
    /// The three pure cases, for a hose or valve whose gaps are not known.
    pub const PURE: [Spending; 3] = [Spending::AllAtValve, Spending::AllAlong, Spending::AllAtTail];
}

/// A hose, its raceway and what draws: all that the motion hangs on.
///
/// It cannot hold a hose outside the ranges of [`Hose`], gaps that do not fit or are closed at both ends, or a unit
/// without suction.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    path: Path,
    hose: Hose,
    spending: Spending,
    supply: Supply,
    sealed_pa: f64,
    /// Of [`Spending::Leak`].
    narrow: Option<Narrow>,
}

/// The hose at one place of its travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct At {
    /// How much of the hose is in.
    pub inserted_m: f64,
    /// Suction at which the hose just creeps; 0 where it slides in by its own weight, infinite where no suction
    /// moves it.
    pub needed_pa: f64,
    /// Suction behind the tail, and where it is spent.
    pub spent: Spent,
}

impl At {
    /// Suction had over suction needed; infinite where none is needed.
    pub fn reserve(&self) -> f64 {
        if self.needed_pa > 0.0 { self.spent.had_pa / self.needed_pa } else { f64::INFINITY }
    }
}

/// The travel is looked at in this many even parts, and at the end of every straight and bend: from one to the next
/// of these places, the balance is smooth.
const PARTS: usize = 12;

/// The places of a travel that are looked at first, ascending, and where the suction is spent in each.
#[derive(Debug, Clone, PartialEq)]
pub struct Looks(Vec<(f64, Spent)>);

impl Looks {
    fn last(&self) -> (f64, Spent) {
        // There is always the end of the travel.
        self.0[self.0.len() - 1]
    }
}

impl Setting {
    /// Errors: [`HoseError`] for an input outside its range.
    pub fn new(path: Path, hose: Hose, spending: Spending, supply: Supply) -> Result<Setting, HoseError> {
        hose.check()?;
        let leaks = match &spending {
            Spending::Leak(gaps) => Some(gaps),
            _ => None,
        };
        leaks.map_or(Ok(()), Gaps::check)?;
        let sealed_pa = supply.sealed_pa()?;
        let narrow = leaks.map(|gaps| Narrow::of(gaps, sealed_pa)).transpose()?;
        Ok(Setting { path, hose, spending, supply, sealed_pa, narrow })
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    pub fn hose(&self) -> &Hose {
        &self.hose
    }

    pub fn spending(&self) -> Spending {
        self.spending
    }

    /// Suction with nothing flowing past the hose, Pa.
    pub fn sealed_pa(&self) -> f64 {
        self.sealed_pa
    }

    /// The same hose in the same raceway with a steady suction behind its tail, whatever leaks past it.
    ///
    /// Errors: [`HoseError`] for a suction not above 1 Pa or above the room's pressure.
    pub fn under(&self, suction_pa: f64) -> Result<Setting, HoseError> {
        in_range("suction behind the hose", suction_pa, (1.0, 1e5), "Pa")?;
        let point =
            |m3_s| (VolumeRate::new::<cubic_meter_per_second>(m3_s), Pressure::new::<pascal>(suction_pa));
        // Ten cubic metres a second lie beyond what any ring here passes.
        let curve = UnitCurve::new(&[point(0.0), point(10.0)]).map_err(|_| HoseError::BothClosed)?;
        let supply = Supply { curve, others: None, line: EmptyLine::default() };
        Setting::new(self.path.clone(), self.hose, self.spending, supply)
    }

    /// The same hose and suction in another raceway.
    pub fn along_path(&self, path: Path) -> Setting {
        Setting { path, ..self.clone() }
    }

    /// What the sharp rings in the valve and round the tail take together, as [`super::leak::sharp_ring`] tells it;
    /// `None` where no leak past them is reckoned.
    pub fn rings_loss(&self) -> Option<f64> {
        self.narrow.as_ref()?.rings_loss()
    }

    /// The same hose in the same raceway, its suction spent in another way. Errors: as [`Setting::new`].
    pub fn spent_as(&self, spending: Spending) -> Result<Setting, HoseError> {
        Setting::new(self.path.clone(), self.hose, spending, self.supply.clone())
    }

    /// The same with all three frictions multiplied, up to the formula's range. Errors: as [`Setting::new`].
    pub fn aged(&self, friction: f64) -> Result<Setting, HoseError> {
        in_range("factor on friction", friction, (0.0, 1000.0), "")?;
        let Hose { mu_in, mu_out, mu_floor, .. } = self.hose;
        let hose = Hose {
            mu_in: friction * mu_in,
            mu_out: friction * mu_out,
            mu_floor: friction * mu_floor,
            ..self.hose
        };
        Setting::new(self.path.clone(), hose, self.spending, self.supply.clone())
    }

    /// How much of the hose goes in: all of it, or as much as the raceway holds.
    pub fn travel_m(&self) -> f64 {
        self.hose.length_m.min(self.path.length_m())
    }

    /// Suction behind the tail and where it is spent, with the hose drawn in to `inserted_m`.
    pub fn spent(&self, inserted_m: f64) -> Result<Spent, HoseError> {
        if let Some(narrow) = &self.narrow {
            return narrow.spent(&self.supply, inserted_m);
        }
        let all_pa = self.sealed_pa;
        let by_pa = match self.spending {
            Spending::AllAtValve => [all_pa, 0.0, 0.0],
            Spending::AllAlong => [0.0, all_pa, 0.0],
            Spending::AllAtTail | Spending::Leak(_) => [0.0, 0.0, all_pa],
        };
        Ok(Spent { had_pa: all_pa, by_pa, leak_m3_s: 0.0 })
    }

    /// The hose drawn in to `inserted_m` (m, 0 for the limit at the start): suction needed and suction had.
    ///
    /// Needed is the suction at which the balance of the [module](super) holds with the shares of the leak.
    /// More suction leaves less tension at the tail and asks more there, so there is one such suction.
    pub fn at(&self, inserted_m: f64) -> Result<At, HoseError> {
        let spent = self.spent(inserted_m)?;
        let needed_pa = self.needed_pa(inserted_m, &spent);
        Ok(At { inserted_m, needed_pa, spent })
    }

    fn needed_pa(&self, inserted_m: f64, spent: &Spent) -> f64 {
        let short = |pa: f64| self.short_n(inserted_m, spent, pa / spent.had_pa, 1.0);
        let without_n = short(0.0);
        if without_n <= 0.0 {
            return 0.0;
        }
        let mut enough_pa = spent.had_pa;
        let mut with_n = short(enough_pa);
        while with_n > 0.0 {
            enough_pa *= 4.0;
            if enough_pa > 1e12 {
                return f64::INFINITY;
            }
            with_n = short(enough_pa);
        }
        between_known((0.0, without_n), (enough_pa, with_n), 1e-7, short)
    }

    /// By how much the tension at the tail is more than what the tail's share takes, N, at a multiple of the
    /// suction had and with all frictions multiplied.
    fn short_n(&self, inserted_m: f64, spent: &Spent, suction: f64, friction: f64) -> f64 {
        let outside_n =
            friction * self.hose.mu_floor * self.hose.weight_n_per_m * (self.hose.length_m - inserted_m);
        let [valve_n, along_n, tail_n] = self.pulls_n(spent, suction);
        if inserted_m <= 0.0 {
            return outside_n - valve_n - along_n - tail_n;
        }
        let along = self.along(inserted_m, along_n, friction);
        drawn_in(&self.path, inserted_m, outside_n - valve_n, &along) - tail_n
    }

    /// The forces of the three shares, N, at a multiple of the suction had.
    pub(super) fn pulls_n(&self, spent: &Spent, suction: f64) -> [f64; 3] {
        let area = self.hose.area_m2();
        let tail_area = match &self.spending {
            Spending::Leak(gaps) => PI / 4.0 * gaps.tail_m * gaps.tail_m,
            _ => area,
        };
        let [valve, along, tail] = spent.by_pa;
        [suction * area * valve, suction * area * along, suction * tail_area * tail]
    }

    fn along(&self, inserted_m: f64, along_n: f64, friction: f64) -> Along {
        Along {
            weight_n_per_m: self.hose.weight_n_per_m,
            mu: friction * self.hose.mu_in,
            air_n_per_m: along_n / inserted_m,
        }
    }

    /// The place of the travel with the least reserve, from the limit at the start to the end.
    pub fn worst(&self) -> Result<At, HoseError> {
        self.worst_of(&self.looks()?)
    }

    /// The same, where all that is looked at first is at hand.
    pub fn worst_of(&self, looks: &Looks) -> Result<At, HoseError> {
        // The end of the travel is mostly the worst.
        let Place { inserted_m, spent, .. } = least(&Reserve(self), &looks.0, looks.last())?;
        Ok(At { inserted_m, needed_pa: self.needed_pa(inserted_m, &spent), spent })
    }

    /// The ends of all pieces and twelve even parts of the travel, none of these just beside an end.
    pub fn looks(&self) -> Result<Looks, HoseError> {
        let travel_m = self.travel_m();
        let ends = self.path.ends_m().filter(|end| *end < travel_m);
        let mut places: Vec<f64> = [0.0, travel_m].into_iter().chain(ends).collect();
        let even = (1..PARTS).map(|i| travel_m * i as f64 / PARTS as f64);
        let apart = |even: &f64| places.iter().all(|end| (end - even).abs() >= 1e-3 * travel_m);
        let even: Vec<f64> = even.filter(apart).collect();
        places.extend(even);
        places.sort_by(f64::total_cmp);
        places.dedup();
        Ok(Looks(places.into_iter().map(|x| Ok((x, self.spent(x)?))).collect::<Result<_, HoseError>>()?))
    }

    /// The hose at `parts` even steps of its travel, at its start and at the ends of all pieces.
    pub fn travel(&self, parts: usize) -> Result<Vec<At>, HoseError> {
        let travel_m = self.travel_m();
        let even = (0..=parts).map(|i| travel_m * i as f64 / parts as f64);
        let mut places: Vec<f64> = even.chain(self.path.ends_m().filter(|end| *end < travel_m)).collect();
        places.sort_by(f64::total_cmp);
        places.dedup();
        places.into_iter().map(|x| self.at(x)).collect()
    }

    /// The factor on all three frictions at which the least reserve of the travel is `reserve`.
    ///
    /// With 1 this is *the friction the hose can bear*: it stops where its frictions are so many times the
    /// catalog's. 0 where its weight alone asks more; infinite where no friction stops it.
    ///
    /// Argument: `reserve` (above 0 to 100). Errors: [`HoseError`].
    pub fn friction_for(&self, reserve: f64) -> Result<f64, HoseError> {
        let looks = self.looks()?;
        self.friction_for_of(reserve, &looks, looks.last())
    }

    /// The same, where all that is looked at first is at hand, with the place where the hose likely stops.
    pub fn friction_for_of(
        &self,
        reserve: f64,
        looks: &Looks,
        likely: (f64, Spent),
    ) -> Result<f64, HoseError> {
        in_range("reserve", reserve, (f64::MIN_POSITIVE, 100.0), "")?;
        Ok(least(&Bears { setting: self, reserve }, &looks.0, likely)?.value)
    }

    fn factor_at(&self, inserted_m: f64, spent: &Spent, reserve: f64) -> f64 {
        let short = |factor: f64| self.short_n(inserted_m, spent, 1.0 / reserve, factor);
        let without_n = short(0.0);
        if without_n > 0.0 {
            return 0.0;
        }
        let mut enough = 2.0;
        let mut with_n = short(enough);
        while with_n <= 0.0 {
            enough *= 2.0;
            if enough > 1e3 {
                return f64::INFINITY;
            }
            with_n = short(enough);
        }
        between_known((0.0, without_n), (enough, with_n), 1e-7, short)
    }

    /// What a spring scale reads at the handle when it lets the hose creep in with `left_out_m` of it outside,
    /// N: the force outward that is wanted for balance at the suction had, over the floor's drag.
    ///
    /// A good raceway reads *more*: friction takes from what suction pulls with. `friction` multiplies all three
    /// frictions. Arguments: `left_out_m` (m, at least what the raceway cannot hold, less than the hose),
    /// `friction` (0 to 1000). Errors: [`HoseError`].
    pub fn scale_n(&self, left_out_m: f64, friction: f64) -> Result<f64, HoseError> {
        let least_out_m = self.hose.length_m - self.travel_m();
        in_range("length left out", left_out_m, (least_out_m, 0.999 * self.hose.length_m), "m")?;
        in_range("factor on friction", friction, (0.0, 1000.0), "")?;
        let inserted_m = self.hose.length_m - left_out_m;
        let spent = self.spent(inserted_m)?;
        let [valve_n, along_n, tail_n] = self.pulls_n(&spent, 1.0);
        let along = self.along(inserted_m, along_n, friction);
        let at_valve_n = drawn_in_from_tail(&self.path, inserted_m, tail_n, &along) + valve_n;
        Ok(at_valve_n - friction * self.hose.mu_floor * self.hose.weight_n_per_m * left_out_m)
    }
}

/// The reserve at each place.
struct Reserve<'a>(&'a Setting);

impl Asked for Reserve<'_> {
    fn spent(&self, inserted_m: f64) -> Result<Spent, HoseError> {
        self.0.spent(inserted_m)
    }

    fn value(&self, inserted_m: f64, spent: &Spent) -> f64 {
        At { inserted_m, needed_pa: self.0.needed_pa(inserted_m, spent), spent: *spent }.reserve()
    }

    fn short(&self, inserted_m: f64, spent: &Spent, value: f64) -> f64 {
        self.0.short_n(inserted_m, spent, 1.0 / value, 1.0)
    }
}

/// The factor on all frictions that leaves so much of a reserve at each place.
struct Bears<'a> {
    setting: &'a Setting,
    reserve: f64,
}

impl Asked for Bears<'_> {
    fn spent(&self, inserted_m: f64) -> Result<Spent, HoseError> {
        self.setting.spent(inserted_m)
    }

    fn value(&self, inserted_m: f64, spent: &Spent) -> f64 {
        self.setting.factor_at(inserted_m, spent, self.reserve)
    }

    fn short(&self, inserted_m: f64, spent: &Spent, value: f64) -> f64 {
        self.setting.short_n(inserted_m, spent, 1.0 / self.reserve, value)
    }
}

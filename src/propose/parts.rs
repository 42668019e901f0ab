//! Bends, wyes and lengths that the catalog gives to the search.
use super::bound::BendPart;
use crate::company::{Catalog, Fitting};
use crate::measure::INCH_M;

/// Lengths of short legs are whole inches, as one marks a tape.
const WHOLE_M: f64 = INCH_M;

/// What the search builds from.
pub struct Parts {
    /// Sweeps for the raceway, the sharpest first.
    pub bends: Vec<BendPart>,
    /// Short bends for what lies beyond the stop.
    pub shorts: Vec<BendPart>,
    /// Index of the riser's bend among the sweeps.
    pub riser: usize,
    /// The least tube between two fittings.
    pub shortest_m: f64,
    /// What the stop keeps between the two tubes in it.
    pub stop_gap_m: f64,
    /// The wye of 45 degrees that lines join by; else what is missing.
    pub wye: Result<Wye, String>,
}

/// A wye, and the way in which a line that comes square to its run enters it.
#[derive(Debug, Clone)]
pub struct Wye {
    pub fitting: Fitting,
    /// The longer of its arms.
    pub arm_m: f64,
    /// Length of the leg between the 45 on its branch and the wye.
    pub leg_m: f64,
    /// By how much that leg leads along the run, and along the branch.
    pub along_m: f64,
    /// Arm of the 45 on its branch.
    pub bend_arm_m: f64,
}

impl Parts {
    /// The parts of a catalog; an error says which is missing.
    pub fn of(catalog: &Catalog) -> Result<Parts, String> {
        let part = |f: &Fitting| {
            f.bend().map(|bend| BendPart::new(bend.angle_deg, bend.radius_m, bend.laying_length_m))
        };
        let bends: Vec<BendPart> =
            [90.0, 45.0].into_iter().filter_map(|deg| catalog.bend(deg).and_then(part)).collect();
        let shorts: Vec<BendPart> =
            [90.0, 45.0].into_iter().filter_map(|deg| short_bend(catalog, deg).and_then(part)).collect();
        let riser = bends.iter().position(|bend| bend.angle_deg > 89.0);
        let riser = riser.ok_or("the catalog has no 90 degree bend for raceways")?;
        let shortest_m = catalog.tube.shortest_m.max(INCH_M);
        let stop_gap_m = catalog.stop_gap_m().ok_or("the catalog does not give a stop's `inside-gap:`")?;
        let wye = wye(catalog, &shorts, shortest_m);
        Ok(Parts { bends, shorts, riser, shortest_m, stop_gap_m, wye })
    }

    /// The longest arm of what stands beyond the stop.
    pub fn arm_m(&self) -> f64 {
        let bends = self.shorts.iter().map(|bend| bend.arm_m);
        bends.chain(self.wye.iter().map(|wye| wye.arm_m)).fold(0.0, f64::max)
    }
}

/// The first wye of 45 degrees, for trunks before others.
fn wye(catalog: &Catalog, shorts: &[BendPart], shortest_m: f64) -> Result<Wye, String> {
    let is = |f: &&Fitting| f.junction().is_some_and(|branch| (branch.branch_deg - 45.0).abs() < 1e-3);
    let trunk = |f: &&Fitting| is(f) && !f.purpose.suits_raceway();
    let found = catalog.fittings.iter().find(trunk).or_else(|| catalog.fittings.iter().find(is));
    let (fitting, branch) = found
        .and_then(|fitting| Some((fitting, fitting.junction()?)))
        .ok_or("the catalog has no wye of 45 degrees")?;
    let bend = shorts.iter().find(|bend| (bend.angle_deg - 45.0).abs() < 1e-3);
    let bend = bend.ok_or("the catalog has no 45 degree bend for the branch of a wye")?;
    let (Some(run_m), Some(branch_m)) = (branch.run_laying_length_m, branch.branch_laying_length_m) else {
        return Err(format!("the catalog does not give both laying lengths of {}", fitting.name));
    };
    let arm_m = run_m.max(branch_m);
    let leg_m = ((bend.arm_m + shortest_m + branch_m) / WHOLE_M - 1e-6).ceil() * WHOLE_M;
    let along_m = leg_m * std::f64::consts::FRAC_1_SQRT_2;
    Ok(Wye { fitting: fitting.clone(), arm_m, leg_m, along_m, bend_arm_m: bend.arm_m })
}

/// The first bend for trunks of an angle; else any bend of that angle.
pub fn short_bend(catalog: &Catalog, angle_deg: f64) -> Option<&Fitting> {
    let of_angle = |f: &&Fitting| f.bend().is_some_and(|bend| (bend.angle_deg - angle_deg).abs() < 1e-3);
    let trunk = |f: &&Fitting| of_angle(f) && !f.purpose.suits_raceway();
    catalog.fittings.iter().find(trunk).or_else(|| catalog.fittings.iter().find(of_angle))
}

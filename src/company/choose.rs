//! Which part of the catalog a line takes where the job names none: one rule for every stage.
use super::catalog::{Catalog, Fitting, FittingKind, Purpose};

/// Which stretch of a line a part stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reach {
    /// Between valve and stop, where the hose slides.
    Hose,
    /// Beyond the stop, where only air and dust pass.
    Air,
}

/// Angles closer than this are the same angle of a fitting, in degrees; far under any tolerance of moulding.
pub const SAME_ANGLE_DEG: f64 = 1e-6;

impl Catalog {
    /// The raceway bend for an angle: the first `for: raceway` or `either`. A bend for trunks is used only
    /// where the job names it.
    pub fn bend(&self, angle_deg: f64) -> Option<&Fitting> {
        self.fittings.iter().find(|fitting| {
            fitting.purpose.suits_raceway()
                && fitting.bend().is_some_and(|bend| (bend.angle_deg - angle_deg).abs() < SAME_ANGLE_DEG)
        })
    }

    /// The coupling of a stretch. Where the hose slides it is one for raceways, or for either use; beyond,
    /// one for trunks first, then one for either use, then any.
    pub fn coupling(&self, reach: Reach) -> Option<&Fitting> {
        self.suited(reach, |kind| matches!(kind, FittingKind::Coupling(_)))
    }

    /// What the coupling of a stretch keeps between two tube ends; nothing where the catalog has none.
    pub fn coupling_gap_m(&self, reach: Reach) -> f64 {
        match self.coupling(reach).map(|fitting| &fitting.kind) {
            Some(FittingKind::Coupling(coupling)) => coupling.gap_m,
            _ => 0.0,
        }
    }

    /// The stop fitting.
    pub fn stop(&self) -> Option<&Fitting> {
        self.suited(Reach::Hose, |kind| matches!(kind, FittingKind::Stop(_)))
    }

    /// What the stop keeps between the ends of the two tubes in it; `None` where the catalog is silent.
    pub fn stop_gap_m(&self) -> Option<f64> {
        match self.stop().map(|fitting| &fitting.kind) {
            Some(FittingKind::Stop(stop)) => stop.inside_gap_m,
            _ => None,
        }
    }

    /// The cap that closes a trunk's open start.
    pub fn cap(&self) -> Option<&Fitting> {
        self.suited(Reach::Air, |kind| matches!(kind, FittingKind::Cap))
    }

    fn suited(&self, reach: Reach, kind: impl Fn(&FittingKind) -> bool) -> Option<&Fitting> {
        let wanted: &[Purpose] = match reach {
            Reach::Hose => &[Purpose::Raceway, Purpose::Either],
            Reach::Air => &[Purpose::Trunk, Purpose::Either, Purpose::Raceway],
        };
        let of = |purpose| self.fittings.iter().find(|f| f.purpose == purpose && kind(&f.kind));
        wanted.iter().find_map(|purpose| of(*purpose))
    }
}

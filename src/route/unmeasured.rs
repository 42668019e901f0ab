//! What nobody knows of the fittings at a tube's ends, so that its length cannot be told.
use super::types::{Bend, End, Line, Tube};
use crate::company::{Catalog, Fitting, SAME_ANGLE_DEG};
use crate::measure::Say;

/// Lengths are compared to this, far below any saw.
const SAME_M: f64 = 1e-9;

/// Why a tube cannot be cut to length, and what the firm has to find out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unmeasured {
    pub why: String,
    /// An imperative.
    pub wanted: String,
}

impl Line {
    /// What is not known of how far a tube of this line seats from its work points, or of the couplings that it wants;
    /// `None` where all is.
    pub fn unmeasured(&self, tube: &Tube, catalog: &Catalog, say: &Say) -> Option<Unmeasured> {
        self.at_its_ends(tube, catalog, say).or_else(|| self.between_its_pieces(tube, catalog))
    }

    /// What is missing where pieces are to be coupled.
    fn between_its_pieces(&self, tube: &Tube, catalog: &Catalog) -> Option<Unmeasured> {
        let coupled = tube.clear_m > catalog.tube.stick_m + SAME_M;
        (coupled && catalog.coupling(self.reach_of(tube)).is_none()).then(|| Unmeasured {
            why: "it is longer than a stick, and the catalog lists no coupling".into(),
            wanted: "list a coupling in the catalog, with its `gap:`".into(),
        })
    }

    fn at_its_ends(&self, tube: &Tube, catalog: &Catalog, say: &Say) -> Option<Unmeasured> {
        // A raceway's last run is measured to the tube's own end in the stop; the gap comes off the tube beyond.
        if tube.from == End::Stop && catalog.stop_gap_m().is_none() {
            return Some(of_stop(catalog));
        }
        [tube.from, tube.to].into_iter().find_map(|end| match end {
            End::Bend(n) => self.bend(n).and_then(|bend| of_bend(bend, say)),
            End::Junction(i) => {
                let (.., joining) = self.junctions().find(|(at, ..)| *at == i)?;
                let known = joining.fitting.junction().and_then(|branch| branch.run_laying_length_m);
                silent(&joining.fitting, "run-laying-length", known)
            }
            End::Branch => {
                let fitting = self.joins.as_ref()?.with.as_ref()?;
                let known = fitting.junction().and_then(|branch| branch.branch_laying_length_m);
                silent(fitting, "branch-laying-length", known)
            }
            End::Valve | End::Stop | End::Unit | End::Cap | End::Open | End::From | End::Onto => None,
        })
    }
}

/// A bend without a fitting, or with one that is made for another angle.
fn of_bend(bend: &Bend, say: &Say) -> Option<Unmeasured> {
    let angle = say.angle(bend.angle_deg);
    let Some(fitting) = &bend.fitting else {
        return Some(Unmeasured {
            why: format!("the catalog has no fitting for B{}, which turns {angle}", bend.n),
            wanted: format!("list a bend of {angle} in the catalog, or turn B{} by one that it has", bend.n),
        });
    };
    let made_deg = fitting.bend().map_or(bend.angle_deg, |figures| figures.angle_deg);
    ((made_deg - bend.angle_deg).abs() > SAME_ANGLE_DEG).then(|| Unmeasured {
        why: format!("B{} turns {angle}, and {} is made for {}", bend.n, fitting.id, say.angle(made_deg)),
        wanted: format!("name a bend of {angle} under `with:` at B{}", bend.n),
    })
}

/// A stop of which nobody said how far apart it keeps the two tubes in it.
fn of_stop(catalog: &Catalog) -> Unmeasured {
    catalog.stop().and_then(|stop| silent(stop, "inside-gap", None)).unwrap_or_else(|| Unmeasured {
        why: "the catalog lists no stop fitting".into(),
        wanted: "list a stop fitting in the catalog, with its `inside-gap:`".into(),
    })
}

/// A figure of a fitting that the catalog does not give.
fn silent(fitting: &Fitting, key: &str, known: Option<f64>) -> Option<Unmeasured> {
    known.is_none().then(|| Unmeasured {
        why: format!("the catalog does not give the `{key}:` of {}", fitting.name),
        wanted: format!("measure {}, and fill in its `{key}:` in the catalog", fitting.name),
    })
}

//! What gets stuck where: the longest stiff object that passes each turn on the way to the unit.
use super::Missing;
use crate::company::{Catalog, Fitting, Into, Job};
use crate::reckon::passage::through_bend;
use crate::route::{Bend, JobRoutes, Route};

/// A turn on the way to the unit.
#[derive(Debug, Clone, PartialEq)]
pub struct PassageFigure {
    pub place: Place,
    /// The place in words: `B2 of the raceway, sweep 90`.
    pub words: String,
    /// The longest rigid rod of the thickness asked for that gets through.
    pub longest_m: f64,
}

/// Where a turn is.
#[derive(Debug, Clone, PartialEq)]
pub enum Place {
    /// Bend of the raceway.
    Raceway(usize),
    /// Bend of the onward path.
    Onward(usize),
    /// Bend of the trunk of that index.
    Trunk(usize, usize),
    /// Junction into the trunk of that index.
    Junction(usize),
}

/// Every turn from valve to unit, in order, for an object as thick as the hose's throat lets in.
pub fn passage(
    job: &Job,
    inlet: usize,
    routes: &JobRoutes,
    catalog: &Catalog,
) -> Result<Vec<PassageFigure>, Missing> {
    let hose = &job.inlets[inlet].hose;
    let Some(rod_m) = hose.throat_m else {
        return Err(format!("the catalog gives no throat for hose {}", hose.id));
    };
    let way = Way {
        bore_m: catalog.tube.bore_m,
        rod_m,
    };
    let mut found = Vec::new();
    way.bends(
        &routes.raceways[inlet],
        0.0,
        "the raceway",
        Place::Raceway,
        &mut found,
    )?;
    let Some(onward) = routes.onward.get(inlet).and_then(Option::as_ref) else {
        return Ok(found);
    };
    way.bends(&onward.route, 0.0, "the onward path", Place::Onward, &mut found)?;
    let mut into = job.inlets[inlet].onward.as_ref().map(|onward| &onward.into);
    // Each trunk is met once: reading has refused circles, and the count guards against them all the same.
    for _ in 0..job.trunks.len() {
        let Some(Into::Trunk { trunk, at_m, with }) = into else {
            break;
        };
        found.push(way.junction(*trunk, &job.trunks[*trunk].id, with)?);
        let name = format!("trunk {}", job.trunks[*trunk].id);
        way.bends(
            &routes.trunks[*trunk].route,
            *at_m,
            &name,
            |n| Place::Trunk(*trunk, n),
            &mut found,
        )?;
        into = Some(&job.trunks[*trunk].into);
    }
    Ok(found)
}

/// The object and the tube.
struct Way {
    bore_m: f64,
    rod_m: f64,
}

impl Way {
    /// The bends of a line beyond a station.
    fn bends(
        &self,
        route: &Route,
        from_m: f64,
        line: &str,
        place: impl Fn(usize) -> Place,
        found: &mut Vec<PassageFigure>,
    ) -> Result<(), Missing> {
        for bend in route.bends.iter().filter(|bend| bend.at_centre_m >= from_m) {
            let words = format!("B{} of {line}{}", bend.n, fitting_words(bend));
            let longest_m = self
                .through(bend.radius_m, bend.angle_deg)
                .map_err(|why| format!("{words}: {why}"))?;
            found.push(PassageFigure {
                place: place(bend.n),
                words,
                longest_m,
            });
        }
        Ok(())
    }

    /// From a branch into its trunk: a turn of the branch angle, as wide as the fitting says; without a
    /// radius the corner is sharp.
    fn junction(&self, trunk: usize, id: &str, with: &Fitting) -> Result<PassageFigure, Missing> {
        let words = format!("junction into trunk {id}, {}", with.name);
        let Some(branch) = with.junction() else {
            return Err(format!("{} is no junction", with.id));
        };
        let longest_m = self
            .through(branch.radius_m.unwrap_or(0.0), branch.branch_deg)
            .map_err(|why| format!("{words}: {why}"))?;
        Ok(PassageFigure {
            place: Place::Junction(trunk),
            words,
            longest_m,
        })
    }

    fn through(&self, radius_m: f64, angle_deg: f64) -> Result<f64, String> {
        // A corner tighter than half the bore is a mitre; the formula's tightest bend stands for it.
        let radius_m = radius_m.max(self.bore_m / 2.0);
        through_bend(self.bore_m, radius_m, angle_deg.to_radians(), self.rod_m).map_err(|e| e.to_string())
    }
}

fn fitting_words(bend: &Bend) -> String {
    bend.fitting
        .as_ref()
        .map(|fitting| format!(", {}", fitting.name))
        .unwrap_or_default()
}

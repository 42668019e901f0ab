//! What gets stuck where: the longest stiff object that passes each turn on the way to the unit.
use super::Missing;
use super::way::way;
use crate::company::{Catalog, Fitting, Job};
use crate::reckon::passage::through_bend;
use crate::route::{Bend, JobRoutes, Route};

/// A turn on the way to the unit.
#[derive(Debug, Clone, PartialEq)]
pub struct PassageFigure {
    pub place: Place,
    /// The place in words: `B2 of the raceway, sweep 90`.
    pub words: String,
    pub radius_m: f64,
    pub angle_deg: f64,
    /// The longest rigid rod of the thickness asked for that gets through.
    pub longest_m: f64,
}

/// Where a turn is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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
    let bore = Bore { bore_m: catalog.tube.bore_m, rod_m };
    let mut found = Vec::new();
    bore.bends(&routes.raceways[inlet], 0.0, "the raceway", Place::Raceway, &mut found)?;
    for stretch in way(job, inlet, routes) {
        if let (Some(trunk), Some(with)) = (stretch.trunk, stretch.by) {
            found.push(bore.junction(trunk, &stretch.name, with)?);
        }
        let place = |n| stretch.trunk.map_or(Place::Onward(n), |trunk| Place::Trunk(trunk, n));
        bore.bends(stretch.route, stretch.from_m, &stretch.name, place, &mut found)?;
    }
    Ok(found)
}

/// The tube and the object.
struct Bore {
    bore_m: f64,
    rod_m: f64,
}

impl Bore {
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
            found.push(self.through(place(bend.n), words, bend.radius_m, bend.angle_deg)?);
        }
        Ok(())
    }

    /// From a branch into its trunk: a turn of the branch angle, as wide as the fitting says.
    fn junction(&self, trunk: usize, line: &str, with: &Fitting) -> Result<PassageFigure, Missing> {
        let Some(branch) = with.junction() else {
            return Err(format!("{} is no junction", with.id));
        };
        let words = format!("junction into {line}, {}", with.name);
        self.through(Place::Junction(trunk), words, branch.radius_m.unwrap_or(0.0), branch.branch_deg)
    }

    /// A turn without a radius is taken as the tightest that the formula knows, the inner wall a sharp corner.
    fn through(
        &self,
        place: Place,
        words: String,
        radius_m: f64,
        angle_deg: f64,
    ) -> Result<PassageFigure, Missing> {
        let radius_m = radius_m.max(self.bore_m / 2.0);
        let longest_m = through_bend(self.bore_m, radius_m, angle_deg.to_radians(), self.rod_m)
            .map_err(|why| format!("{words}: {why}"))?;
        Ok(PassageFigure { place, words, radius_m, angle_deg, longest_m })
    }
}

fn fitting_words(bend: &Bend) -> String {
    bend.fitting.as_ref().map(|fitting| format!(", {}", fitting.name)).unwrap_or_default()
}

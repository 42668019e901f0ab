//! What gets stuck where: the longest rigid object that passes each turn on the way to the unit.
use super::Missing;
use super::way::way;
use crate::company::{Catalog, Fitting, Job};
use crate::measure::Bound;
use crate::reckon::passage::through_bend;
use crate::route::{Bend, JobLines, Line};

/// A turn on the way to the unit.
#[derive(Debug, Clone, PartialEq)]
pub struct PassageFigure {
    /// Index of the line.
    pub line: usize,
    /// The bend of that line; `None` for the junction by which the air comes into it.
    pub bend: Option<usize>,
    /// The place in words: `HB2, sweep 90`.
    pub words: String,
    pub radius_m: f64,
    pub angle_deg: f64,
    /// The longest rigid rod of the thickness asked for that gets through.
    pub longest_m: f64,
}

/// Every turn from valve to unit, in order, for an object as thick as the hose's throat lets in.
pub fn passage(
    job: &Job,
    inlet: usize,
    lines: &JobLines,
    catalog: &Catalog,
) -> Result<Vec<PassageFigure>, Missing> {
    let hose = &job.inlets[inlet].hose;
    let Some(rod_m) = hose.throat_m else {
        return Err(format!("the catalog gives no throat for hose {}", hose.id).into());
    };
    let bore = Bore { bore_m: catalog.tube.bore_m, rod_m };
    let mut found = Vec::new();
    for stretch in way(inlet, lines)? {
        if let Some(with) = stretch.by {
            found.push(bore.junction(stretch.index, stretch.line, with)?);
        }
        let beyond = stretch.line.bends.iter().filter(|bend| bend.at_centre_m >= stretch.from_m);
        for bend in beyond {
            found.push(bore.bend(stretch.index, stretch.line, bend)?);
        }
    }
    Ok(found)
}

/// The place that catches first: the first on the way that stops something that the handle lets in; where nothing
/// does, or nobody knows what that is, the first of the tightest.
pub fn catches_first(places: &[PassageFigure], handle_passes_m: Option<f64>) -> Option<usize> {
    let stops = |place: &PassageFigure| {
        handle_passes_m.is_some_and(|longest_m| !Bound::AtLeast.keeps(place.longest_m, longest_m))
    };
    places.iter().position(stops).or_else(|| {
        let least_m = places.iter().map(|place| place.longest_m).min_by(f64::total_cmp)?;
        places.iter().position(|place| place.longest_m <= least_m + 1e-9)
    })
}

/// The tube and the object.
struct Bore {
    bore_m: f64,
    rod_m: f64,
}

impl Bore {
    fn bend(&self, line: usize, laid: &Line, bend: &Bend) -> Result<PassageFigure, Missing> {
        let fitting = bend.fitting.as_ref().map(|fitting| format!(", {}", fitting.name)).unwrap_or_default();
        let words = format!("{}{fitting}", laid.bend_mark(bend.n));
        self.through(line, Some(bend.n), words, bend.radius_m, bend.angle_deg)
    }

    /// From a branch into its run: a turn of the branch angle, as wide as the fitting says.
    fn junction(&self, line: usize, laid: &Line, with: &Fitting) -> Result<PassageFigure, Missing> {
        let Some(branch) = with.junction() else {
            return Err(format!("{} is no junction", with.id).into());
        };
        let words = format!("the junction into {} ({})", laid.called(), with.name);
        self.through(line, None, words, branch.radius_m.unwrap_or(0.0), branch.branch_deg)
    }

    /// A turn without a radius is taken as the tightest that the formula knows, the inner wall a sharp corner.
    fn through(
        &self,
        line: usize,
        bend: Option<usize>,
        words: String,
        radius_m: f64,
        angle_deg: f64,
    ) -> Result<PassageFigure, Missing> {
        let radius_m = radius_m.max(self.bore_m / 2.0);
        let longest_m = through_bend(self.bore_m, radius_m, angle_deg.to_radians(), self.rod_m)
            .map_err(|why| Missing::from(why).at(&words))?;
        Ok(PassageFigure { line, bend, words, radius_m, angle_deg, longest_m })
    }
}

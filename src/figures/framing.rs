//! What each bore does to the member it goes through.
use super::Missing;
use crate::company::{Crossing, Member};
use crate::reckon::bores::{Bore, Outcome, Ruling, rulings, verdict};
use crate::route::Line;

/// One crossing, ruled on.
#[derive(Debug, Clone)]
pub struct CrossingFigure {
    /// `HX2`
    pub mark: String,
    /// Index of the leg.
    pub leg: usize,
    /// From the leg's start.
    pub at_m: f64,
    pub station_m: f64,
    pub crossing: Crossing,
    pub rulings: Result<Vec<Ruling>, Missing>,
}

impl CrossingFigure {
    /// The gravest ruling's outcome; `None` where the bore could not be ruled on.
    pub fn outcome(&self) -> Option<Outcome> {
        self.rulings.as_ref().ok().map(|rulings| verdict(rulings))
    }

    /// Member and size in words: `bottom plate 2x6`.
    pub fn member_words(&self) -> String {
        let member = match self.crossing.member {
            Member::Stud => "stud",
            Member::Joist => "joist",
            Member::Rafter => "rafter",
            Member::TopPlate => "top plate",
            Member::BottomPlate => "bottom plate",
            Member::Engineered => "engineered lumber",
            Member::Truss => "truss",
            Member::Steel => "steel",
            Member::Masonry => "masonry",
        };
        match &self.crossing.size {
            Some(size) => format!("{member} {size}"),
            None => member.to_owned(),
        }
    }
}

/// Every crossing of a line, in order.
pub fn crossings(line: &Line) -> Vec<CrossingFigure> {
    let figure = |crossed: &crate::route::Crossed| CrossingFigure {
        mark: crossed.mark.clone(),
        leg: crossed.leg,
        at_m: crossed.at_m,
        station_m: crossed.station_m,
        crossing: crossed.crossing.clone(),
        rulings: ruled(&crossed.crossing),
    };
    line.crossings.iter().map(figure).collect()
}

fn ruled(crossing: &Crossing) -> Result<Vec<Ruling>, Missing> {
    let member = crossing.member;
    let makers = matches!(member, Member::Engineered | Member::Truss | Member::Steel | Member::Masonry);
    // The maker's word does not hang on sizes; the formula still wants a width and a hole that fit it.
    let width_m = match crossing.depth_m {
        Some(depth_m) => depth_m,
        None if makers => 0.2,
        None => return Err("the member's size is not given".into()),
    };
    let hole_m = match crossing.hole_m {
        Some(hole_m) => hole_m,
        None if makers => width_m / 10.0,
        None => return Err("the bore's diameter is not given".into()),
    };
    let bore = Bore {
        member,
        width_m,
        bearing: crossing.bearing,
        doubled: crossing.doubled,
        hole_m,
        from_edge_m: crossing.from_edge_m,
    };
    rulings(&bore).map_err(Missing::from)
}

//! Draw-in and pull-out of an inlet's hose in its raceway.
use super::Missing;
use super::elements::elements;
use crate::company::Inlet;
use crate::reckon::effort::{Effort, Element, HoseLoad, draw_in, pull_out};
use crate::route::Line;

/// The effort at an inlet.
#[derive(Debug, Clone, PartialEq)]
pub struct EffortFigures {
    pub draw_in: Effort,
    pub pull_out: Effort,
}

/// Reckons both directions over the whole travel.
pub fn effort(inlet: &Inlet, line: &Line) -> Result<EffortFigures, Missing> {
    let hose = &inlet.hose;
    let Some(friction) = hose.friction else {
        return Err(format!("the catalog gives no friction for hose {}", hose.id));
    };
    let load = HoseLoad {
        length_m: hose.length_m,
        weight_n_per_m: hose.weight_n_per_m,
        mu_in: friction.drawn_in,
        mu_out: friction.drawn_out,
        mu_floor: friction.floor,
    };
    let elements = elements(&line.to_stop());
    if let Some(leg) = too_short(&elements) {
        return Err(format!(
            "leg {leg} is shorter than what its bends take off it, so that the hose has no path"
        ));
    }
    Ok(EffortFigures {
        draw_in: draw_in(&elements, &load).map_err(|e| e.to_string())?,
        pull_out: pull_out(&elements, &load).map_err(|e| e.to_string())?,
    })
}

/// The first leg whose bends' tangents overlap, counted from 1; legs are every other element.
fn too_short(elements: &[Element]) -> Option<usize> {
    let straights = elements.iter().filter_map(|element| match element {
        Element::Straight { length_m, .. } => Some(*length_m),
        Element::Bend { .. } => None,
    });
    straights.enumerate().find(|(_, length_m)| *length_m < 0.0).map(|(i, _)| i + 1)
}

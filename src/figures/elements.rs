//! A route as the elements that the effort is reckoned over: straights between tangent points, and arcs.
use crate::reckon::effort::Element;
use crate::route::Line;

/// A bend without a fitting has no radius; the formula wants one above nought, and this one weighs nothing.
const NO_RADIUS_M: f64 = 1e-9;

/// The elements of a line, or of a stretch of it. A leg shorter than the tangents of its bends gives a
/// straight of negative length, which the formulas refuse.
pub fn elements(route: &Line) -> Vec<Element> {
    let mut elements = Vec::with_capacity(2 * route.legs.len());
    for (i, leg) in route.legs.iter().enumerate() {
        let before_m = i.checked_sub(1).and_then(|b| route.bends.get(b)).map_or(0.0, |bend| bend.tangent_m);
        let bend = route.bends.get(i);
        let after_m = bend.map_or(0.0, |bend| bend.tangent_m);
        elements.push(Element::Straight {
            length_m: leg.length_m - before_m - after_m,
            rise_angle_rad: leg.heading.z.clamp(-1.0, 1.0).asin(),
        });
        elements.extend(bend.map(|bend| Element::Bend {
            angle_rad: bend.angle_deg.to_radians(),
            radius_m: bend.radius_m.max(NO_RADIUS_M),
        }));
    }
    elements
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::effort::path_length_m;
    use crate::route::testing::route;

    #[test]
    fn agrees_with_the_hose_path() {
        let route = route("down", "1 run; 90 west; 4 run; 45 south; 3 run; 90 up; 2 run");
        assert!(
            (path_length_m(&elements(&route)) - route.raceway.as_ref().unwrap().hose_path_m).abs() < 1e-9
        );
    }
}

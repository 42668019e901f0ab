//! A route as the pieces that the hose follows and the air passes: straights between tangent points, and arcs.
use crate::reckon::hose::Piece;
use crate::route::{Bend, Line};

/// A bend without a fitting has no radius; the formulas want one above nought, and this one weighs nothing.
const NO_RADIUS_M: f64 = 1e-9;

/// The pieces of a line, or of a stretch of it. A leg shorter than the tangents of its bends gives a straight of
/// negative length, which the formulas refuse.
pub fn pieces(route: &Line) -> Vec<Piece> {
    let mut pieces = Vec::with_capacity(2 * route.legs.len());
    for (i, leg) in route.legs.iter().enumerate() {
        let before_m = i.checked_sub(1).and_then(|b| route.bends.get(b)).map_or(0.0, |bend| bend.tangent_m);
        let bend = route.bends.get(i);
        let after_m = bend.map_or(0.0, |bend| bend.tangent_m);
        pieces.push(Piece::Straight { length_m: leg.length_m - before_m - after_m, along: leg.heading });
        pieces.extend(bend.map(arc));
    }
    pieces
}

/// A bend in its own plane: its centre lies toward where the line goes on.
fn arc(bend: &Bend) -> Piece {
    let along = bend.heading_in;
    let across = bend.heading_out - along * along.dot(bend.heading_out);
    Piece::Arc {
        radius_m: bend.radius_m.max(NO_RADIUS_M),
        angle_rad: bend.angle_deg.to_radians(),
        along,
        toward: across.normalize_or(along.any_orthonormal_vector()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::hose::Path;
    use crate::route::testing::route;

    #[test]
    fn agrees_with_the_hose_path() {
        let route = route("down", "1 run; 90 west; 4 run; 45 south; 3 run; 90 up; 2 run");
        let path = Path::new(pieces(&route)).unwrap();
        assert!((path.length_m() - route.raceway.as_ref().unwrap().hose_path_m).abs() < 1e-9);
    }

    #[test]
    fn recovers_where_the_route_ends() {
        // Walked piece by piece, the arcs by their own centres.
        let route = route("up", "1 run; 90 west; 4 run; 45 south; 3 run; 22.5 down; 2 run");
        let end = pieces(&route).iter().fold(route.start, |at, piece| match *piece {
            Piece::Straight { length_m, along } => at + length_m * along,
            Piece::Arc { radius_m, angle_rad, along, toward } => {
                at + radius_m * (angle_rad.sin() * along + (1.0 - angle_rad.cos()) * toward)
            }
        });
        assert!((end - route.end).length() < 1e-9, "{end} against {}", route.end);
    }
}

//! A route as the pieces that the hose follows and the air passes: straights between tangent points, and arcs.
use crate::reckon::hose::Piece;
use crate::route::{Bend, Leg, Line};

/// A bend without a fitting has no radius; the formulas want one above nought, and this one weighs nothing.
const NO_RADIUS_M: f64 = 1e-9;

/// The pieces of a line up to its stop; of all of it where it has none.
pub fn pieces_to_stop(line: &Line) -> Vec<Piece> {
    line.raceway.as_ref().map_or_else(|| all_pieces(line), |raceway| pieces(line, 0.0, raceway.stop_m))
}

/// The pieces of the stretch of a line between two stations. A leg shorter than the tangents of its bends gives a
/// straight of negative length, which the formulas refuse.
pub fn pieces(line: &Line, from_m: f64, to_m: f64) -> Vec<Piece> {
    of_legs(line, line.legs_between(from_m, to_m), |leg| leg.between_m(from_m, to_m))
}

fn all_pieces(line: &Line) -> Vec<Piece> {
    of_legs(line, (0, line.legs.len().saturating_sub(1)), |leg| leg.length_m)
}

/// Of legs, each as long as told; the bends between them alone count.
fn of_legs(line: &Line, (first, last): (usize, usize), length_m: impl Fn(&Leg) -> f64) -> Vec<Piece> {
    let mut pieces = Vec::with_capacity(2 * (last - first) + 1);
    let mut before_m = 0.0;
    for (i, leg) in line.legs.iter().enumerate().take(last + 1).skip(first) {
        let bend = line.bends.get(i).filter(|_| i < last);
        let after_m = bend.map_or(0.0, |bend| bend.tangent_m);
        pieces.push(Piece::Straight { length_m: length_m(leg) - before_m - after_m, along: leg.heading });
        pieces.extend(bend.map(arc));
        before_m = after_m;
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
        let path = Path::new(all_pieces(&route)).unwrap();
        assert!((path.length_m() - route.raceway.as_ref().unwrap().hose_path_m).abs() < 1e-9);
    }

    #[test]
    fn a_stretch_has_the_pieces_of_a_line_that_is_no_longer() {
        let route = route("down", "1 run; 90 west; 4 run; 45 south; 3 run; 90 up; 2 run");
        for (from_m, to_m) in [(0.0, 10.0), (0.5, 9.5), (0.5, 4.0), (2.0, 3.0), (1.0, 8.0), (5.0, 20.0)] {
            assert_eq!(pieces(&route, from_m, to_m), all_pieces(&route.between(from_m, to_m)));
        }
    }

    #[test]
    fn recovers_where_the_route_ends() {
        // Walked piece by piece, the arcs by their own centres.
        let route = route("up", "1 run; 90 west; 4 run; 45 south; 3 run; 22.5 down; 2 run");
        let end = all_pieces(&route).iter().fold(route.start, |at, piece| match *piece {
            Piece::Straight { length_m, along } => at + length_m * along,
            Piece::Arc { radius_m, angle_rad, along, toward } => {
                at + radius_m * (angle_rad.sin() * along + (1.0 - angle_rad.cos()) * toward)
            }
        });
        assert!((end - route.end).length() < 1e-9, "{end} against {}", route.end);
    }
}

//! Areas and unions of outlines, by the `geo` crate; the only file that knows its types.
use super::types::P2;
use geo::bool_ops::FillRule;
use geo::{Area, BooleanOps, Coord, LineString, MultiPolygon, Polygon};

/// Rings with the inside at their left: outer ones counter-clockwise, holes clockwise; none is closed by a
/// repeated point.
pub type Rings = Vec<Vec<P2>>;

/// Twice round the origin and halved: positive where the corners run counter-clockwise.
pub fn signed_area_m2(corners: &[P2]) -> f64 {
    let (Some(first), Some(last)) = (corners.first(), corners.last()) else { return 0.0 };
    (corners.windows(2).map(|pair| pair[0].perp_dot(pair[1])).sum::<f64>() + last.perp_dot(*first)) / 2.0
}

/// The area inside rings.
pub fn area(rings: &Rings) -> f64 {
    rings.iter().map(|ring| signed_area_m2(ring)).sum()
}

/// An outline as a polygon, walked as it is.
fn walked<'p>(ring: impl ExactSizeIterator<Item = &'p P2>) -> Polygon<f64> {
    // One more, for a polygon repeats its first point.
    let mut line = Vec::with_capacity(ring.len() + 1);
    line.extend(ring.map(|p| Coord { x: p.x, y: p.y }));
    Polygon::new(LineString::new(line), Vec::new())
}

/// An outline as a polygon, its inside at the left.
fn polygon(ring: &[P2]) -> Polygon<f64> {
    if signed_area_m2(ring) < 0.0 { walked(ring.iter().rev()) } else { walked(ring.iter()) }
}

/// Rings as one shape. Whether a point lies inside is told by how many of them it lies in, odd or even, so that a
/// hole stands beside what it is cut from.
fn shape(rings: &Rings) -> MultiPolygon<f64> {
    MultiPolygon::new(rings.iter().map(|ring| walked(ring.iter())).collect())
}

/// A shape as rings, the inside at their left.
fn rings(shape: &MultiPolygon<f64>) -> Rings {
    let mut found = Vec::new();
    for polygon in shape {
        let outer = std::iter::once((polygon.exterior(), true));
        for (ring, left) in outer.chain(polygon.interiors().iter().map(|hole| (hole, false))) {
            let mut points: Vec<P2> = ring.coords().map(|c| P2::new(c.x, c.y)).collect();
            if points.len() > 1 && points.first() == points.last() {
                points.pop();
            }
            if (signed_area_m2(&points) > 0.0) != left {
                points.reverse();
            }
            if points.len() > 2 && !is_crack(&points) {
                found.push(points);
            }
        }
    }
    found
}

/// Whether a ring is thinner than a few thousandths of a millimetre: what rounding leaves between two outlines that
/// lie along each other. Drawn, it would be a line where nothing is.
fn is_crack(ring: &[P2]) -> bool {
    const THIN_M: f64 = 1e-6;
    let next = ring.iter().cycle().skip(1);
    let round_m: f64 = ring.iter().zip(next).map(|(a, b)| a.distance(*b)).sum();
    signed_area_m2(ring).abs() <= THIN_M * round_m
}

/// The union of simple outlines, whichever way each is walked; corners stay as exact as they are given.
pub fn union(outlines: &[Vec<P2>]) -> Rings {
    union_with(&Rings::new(), outlines)
}

/// The union of a shape and simple outlines, whichever way each of those is walked.
pub fn union_with(all: &Rings, outlines: &[Vec<P2>]) -> Rings {
    let new = MultiPolygon::new(outlines.iter().map(|ring| polygon(ring)).collect());
    // Outlines lie over each other, so that they are counted by their turning; a hole takes one off.
    rings(&shape(all).union_with_fill_rule(&new, FillRule::Positive))
}

/// What of `rings` lies in none of the outlines.
pub fn difference(from: &Rings, outlines: &Rings) -> Rings {
    if outlines.is_empty() || from.is_empty() {
        return from.clone();
    }
    rings(&shape(from).difference(&shape(outlines)))
}

/// The area that two simple outlines share.
pub fn overlap_m2(a: &[P2], b: &[P2]) -> f64 {
    MultiPolygon::new(vec![polygon(a)]).intersection(&MultiPolygon::new(vec![polygon(b)])).unsigned_area()
}

/// What both shapes share.
pub fn intersection(a: &Rings, b: &Rings) -> Rings {
    if a.is_empty() || b.is_empty() {
        return Vec::new();
    }
    rings(&shape(a).intersection(&shape(b)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_crack_is_no_shape_and_a_crumb_is_one() {
        let box_of = |wide_m: f64, deep_m: f64| {
            vec![P2::ZERO, P2::new(wide_m, 0.0), P2::new(wide_m, deep_m), P2::new(0.0, deep_m)]
        };
        assert!(is_crack(&box_of(1.0, 1e-7)));
        assert!(!is_crack(&box_of(0.001, 0.001)));
        assert_eq!(union(&[box_of(1.0, 1e-7)]), Rings::new());
    }
}

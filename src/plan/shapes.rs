//! Areas and unions of outlines, by the `geo` crate; the only file that knows its types.
use super::types::P2;
use geo::{Area, BooleanOps, Coord, LineString, MultiPolygon, Polygon};

/// Rings with the inside at their left: outer ones counter-clockwise, holes clockwise; none is closed by a
/// repeated point.
pub type Rings = Vec<Vec<P2>>;

/// Outlines united at once.
const FEW: usize = 4;

/// Twice round the origin and halved: positive where the corners run counter-clockwise.
pub fn signed_area_m2(corners: &[P2]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum::<f64>() / 2.0
}

/// The area inside rings.
pub fn area(rings: &Rings) -> f64 {
    rings.iter().map(|ring| signed_area_m2(ring)).sum()
}

fn line(ring: &[P2]) -> LineString<f64> {
    LineString::new(ring.iter().map(|p| Coord { x: p.x, y: p.y }).collect())
}

fn polygon(ring: &[P2]) -> Polygon<f64> {
    let mut ring = ring.to_vec();
    if signed_area_m2(&ring) < 0.0 {
        ring.reverse();
    }
    Polygon::new(line(&ring), Vec::new())
}

/// Rings as one shape: outer rings with holes found by their turning.
fn shape(rings: &Rings) -> MultiPolygon<f64> {
    let outer = rings.iter().filter(|ring| signed_area_m2(ring) > 0.0).map(|ring| polygon(ring));
    let holes: Vec<Polygon<f64>> =
        rings.iter().filter(|ring| signed_area_m2(ring) < 0.0).map(|ring| polygon(ring)).collect();
    let outer = MultiPolygon::new(outer.collect());
    if holes.is_empty() { outer } else { outer.difference(&MultiPolygon::new(holes)) }
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
    let polygons: Vec<Polygon<f64>> = outlines.iter().map(|ring| polygon(ring)).collect();
    rings(&geo::unary_union(&polygons))
}

/// The union of many outlines that lie over each other.
pub fn union_of_many(outlines: &[Vec<P2>]) -> Rings {
    let some = outlines.chunks(FEW).map(|few| {
        let polygons: Vec<Polygon<f64>> = few.iter().map(|ring| polygon(ring)).collect();
        geo::unary_union(&polygons)
    });
    rings(&all_of(some.collect()))
}

/// The union of shapes.
pub fn union_of<'a>(shapes: impl Iterator<Item = &'a Rings>) -> Rings {
    rings(&all_of(shapes.filter(|rings| !rings.is_empty()).map(shape).collect()))
}

/// Unites shapes two by two. Many that overlap are cut at every crossing of their outlines; united early, most of
/// those outlines are gone before they are met.
fn all_of(mut shapes: Vec<MultiPolygon<f64>>) -> MultiPolygon<f64> {
    while shapes.len() > 1 {
        let two = shapes.chunks(2).map(|pair| match pair {
            [a, b] => a.union(b),
            _ => pair.first().cloned().unwrap_or_else(|| MultiPolygon::new(Vec::new())),
        });
        shapes = two.collect();
    }
    shapes.pop().unwrap_or_else(|| MultiPolygon::new(Vec::new()))
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

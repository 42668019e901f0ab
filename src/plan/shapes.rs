//! Areas and unions of outlines, by the `geo` crate; the only file that knows its types.
use super::types::P2;
use geo::{Area, BooleanOps, Coord, LineString, MultiPolygon, Polygon};

/// Rings with the inside at their left: outer ones counter-clockwise, holes clockwise; none is closed by a
/// repeated point.
pub type Rings = Vec<Vec<P2>>;

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
            if points.len() > 2 {
                found.push(points);
            }
        }
    }
    found
}

/// The union of simple outlines, whichever way each is walked.
pub fn union(outlines: &[Vec<P2>]) -> Rings {
    let polygons: Vec<Polygon<f64>> = outlines.iter().map(|ring| polygon(ring)).collect();
    rings(&geo::unary_union(&polygons))
}

/// The union of shapes.
pub fn union_of<'a>(shapes: impl Iterator<Item = &'a Rings>) -> Rings {
    let mut sum: Option<MultiPolygon<f64>> = None;
    for next in shapes.filter(|rings| !rings.is_empty()) {
        let next = shape(next);
        sum = Some(sum.map_or(next.clone(), |sum| sum.union(&next)));
    }
    sum.map_or(Vec::new(), |sum| rings(&sum))
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

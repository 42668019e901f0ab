//! Where a straight of tube leaves the plan, or runs through what stands in its way.
use super::sheet::Sheet;
use super::types::{Box2, P2};

/// How much of a straight lies outside a footprint, m.
pub fn outside_m(footprint: &Sheet, a: P2, b: P2) -> f64 {
    let along = b - a;
    let mut cuts = vec![0.0, 1.0];
    cuts.extend(
        footprint.edges.iter().filter_map(|e| e.met_at(a, along)).filter(|t| (0.0..=1.0).contains(t)),
    );
    cuts.sort_by(f64::total_cmp);
    let parts = cuts.windows(2).filter(|pair| !footprint.holds(a + along * ((pair[0] + pair[1]) / 2.0)));
    parts.map(|pair| (pair[1] - pair[0]) * along.length()).sum()
}

/// How much of a straight as wide as twice `half_m` lies in a box, m.
pub fn inside_m(place: &Box2, half_m: f64, a: P2, b: P2) -> f64 {
    let (low, high) = (place.from - P2::splat(half_m), place.from + place.size + P2::splat(half_m));
    let (mut t0, mut t1, along) = (0.0_f64, 1.0_f64, b - a);
    for (p, d, l, h) in [(a.x, along.x, low.x, high.x), (a.y, along.y, low.y, high.y)] {
        if d.abs() < 1e-12 {
            if p <= l || p >= h {
                return 0.0;
            }
        } else {
            t0 = t0.max(((l - p) / d).min((h - p) / d));
            t1 = t1.min(((l - p) / d).max((h - p) / d));
        }
    }
    (t1 - t0).max(0.0) * along.length()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square() -> Sheet {
        let ring = vec![P2::ZERO, P2::new(4.0, 0.0), P2::new(4.0, 4.0), P2::new(0.0, 4.0)];
        Sheet::new(vec![ring], &[])
    }

    #[test]
    fn a_straight_is_outside_by_what_sticks_out() {
        let out = |ax, ay, bx, by| outside_m(&square(), P2::new(ax, ay), P2::new(bx, by));
        assert!((out(2.0, 2.0, 6.0, 2.0) - 2.0).abs() < 1e-9);
        assert!((out(-1.0, 1.0, 5.0, 1.0) - 2.0).abs() < 1e-9);
        assert_eq!(out(1.0, 1.0, 3.0, 3.0), 0.0);
    }

    #[test]
    fn a_straight_is_in_a_box_with_its_own_width() {
        let place = Box2 { from: P2::new(1.0, 1.0), size: P2::new(1.0, 1.0) };
        assert!((inside_m(&place, 0.1, P2::new(0.0, 1.5), P2::new(4.0, 1.5)) - 1.2).abs() < 1e-9);
        assert_eq!(inside_m(&place, 0.1, P2::new(0.0, 0.9), P2::new(4.0, 0.9)), 0.0);
    }
}

//! Shapes of a reach: hatch inside any rings, and borders that are no wall.
use crate::draw::hand::geo::{V2, v2};
use crate::draw::subject::ReachPicture;
use crate::plan::{P2, Rings, Sheet};

/// A border nearer to a wall than this is drawn by the wall, m.
const AT_WALL_M: f64 = 0.004;
/// Shorter strokes of hatch are left out, mm.
const STROKE_MM: f64 = 0.25;

/// Where a point of a sheet lies on the floor that is drawn: the floor itself as it is, the slope of a stair
/// from this floor pressed together to its run. `None` for other sheets.
pub fn on_stair<'p>(p: &'p ReachPicture, sheet: usize) -> Option<Box<dyn Fn(P2) -> P2 + 'p>> {
    if sheet == p.floor {
        return Some(Box::new(|q| q));
    }
    let number = sheet.checked_sub(p.house.floors)?;
    let stair = p.plan.stairs.get(number)?;
    if p.placed.rooms[stair.room].floor != p.floor {
        return None;
    }
    let foot = p.placed.stairs[number].foot.0;
    let short = 1.0 - stair.run_m / stair.slope_m();
    Some(Box::new(move |q| q - stair.toward * stair.toward.dot(q - foot) * short))
}

/// Hatch lines at 45 degrees inside rings, a point being inside when a line from it crosses them an odd
/// number of times; on the grid of the paper, so that neighbours are hatched in step.
pub fn even_odd(rings: &[Vec<V2>], pitch: f64, rising: bool) -> Vec<(V2, V2)> {
    let along = if rising { v2(1.0, -1.0) } else { v2(1.0, 1.0) }.normalize();
    let across = along.perp();
    let reach = rings.iter().flatten().map(|p| across.dot(*p));
    let (lo, hi) = reach.fold((f64::MAX, f64::MIN), |(lo, hi), x| (lo.min(x), hi.max(x)));
    let first = (lo / pitch).ceil();
    // Each edge tells the few lines that it crosses where it does.
    let mut cuts: Vec<Vec<f64>> = vec![Vec::new(); ((hi / pitch).ceil() - first).max(0.0) as usize];
    for ring in rings {
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            let (from, to) = (across.dot(*a), across.dot(b));
            // One to spare at both ends; the line itself decides.
            let line = |at: f64| (at / pitch - first).max(0.0) as usize;
            let (low, high) = (line(from.min(to)).saturating_sub(1), line(from.max(to)) + 2);
            for (k, cuts) in cuts.iter_mut().enumerate().take(high).skip(low) {
                let offset = (first + k as f64) * pitch;
                let (da, db) = (from - offset, to - offset);
                if (da < 0.0) != (db < 0.0) {
                    cuts.push(along.dot(*a + (b - *a) * (da / (da - db))));
                }
            }
        }
    }
    let mut lines = Vec::new();
    for (k, cuts) in cuts.iter_mut().enumerate() {
        cuts.sort_by(f64::total_cmp);
        let at = |t: f64| across * ((first + k as f64) * pitch) + along * t;
        let long = cuts.chunks_exact(2).filter(|pair| pair[1] - pair[0] > STROKE_MM);
        lines.extend(long.map(|pair| (at(pair[0]), at(pair[1]))));
    }
    lines
}

/// Edges of a region that do not run along an edge of the sheet.
pub fn along_walls(sheet: &Sheet, rings: &Rings) -> Vec<(P2, P2)> {
    let mut found = Vec::new();
    for ring in rings {
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            let middle = (*a + b) / 2.0;
            if !sheet.edges.iter().any(|edge| edge.distance(middle) < AT_WALL_M) {
                found.push((*a, b));
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatch_leaves_holes_bare() {
        let square = |from: f64, to: f64| vec![v2(from, from), v2(to, from), v2(to, to), v2(from, to)];
        let rings = [square(0.0, 30.0), square(10.0, 20.0)];
        let lines = even_odd(&rings, 1.0, true);
        let length: f64 = lines.iter().map(|(a, b)| a.distance(*b)).sum();
        // One millimetre of line for each square millimetre, but for what the borders cut.
        assert!((length - 800.0).abs() < 25.0, "{length}");
        let inside = |p: V2| p.x > 10.1 && p.x < 19.9 && p.y > 10.1 && p.y < 19.9;
        assert!(lines.iter().all(|(a, b)| !inside((*a + *b) / 2.0)));
    }
}

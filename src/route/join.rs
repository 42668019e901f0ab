//! How a branch stands on its run, and where a line meets another.
use super::types::{Entry, Line};
use glam::DVec3;

/// Below this length of the part square to the run, a branch has no side: it comes in along the run.
const ALONG: f64 = 1e-9;

/// How a branch with air heading `branch` stands on a run with air heading `run`, both unit vectors.
///
/// The side is the direction from the run's axis toward where the branch comes from, square to the run.
/// A branch along the run itself has none; it is told as from the side, at no roll.
pub fn entry(run: DVec3, branch: DVec3) -> Entry {
    let turn_deg = run.cross(branch).length().atan2(run.dot(branch)).to_degrees();
    let out = run * run.dot(branch) - branch;
    if out.length() <= ALONG {
        return Entry { turn_deg, rise_deg: 0.0, roll_deg: 0.0 };
    }
    let side = out.normalize();
    // On an upright run no way round it is up; roll is then counted from north.
    let up = [DVec3::Z, DVec3::Y].into_iter().map(|up| up - run * run.dot(up)).find(|up| up.length() > ALONG);
    let up = up.unwrap_or(DVec3::X).normalize();
    let roll_deg = run.dot(up.cross(side)).atan2(up.dot(side)).to_degrees();
    let rise_deg = side.z.atan2(side.x.hypot(side.y)).to_degrees();
    Entry { turn_deg, rise_deg, roll_deg: if roll_deg <= -180.0 { 180.0 } else { roll_deg + 0.0 } }
}

/// The station at which a line's arriving axis, through `end` along `heading`, comes nearest to another
/// line; of several as near, the one nearest to `end`. `None` where every leg of it runs along the axis, or
/// it has no leg.
pub fn meeting(line: &Line, end: DVec3, heading: DVec3) -> Option<f64> {
    let mut best: Option<(f64, f64, f64)> = None;
    for leg in line.legs.iter().filter(|leg| leg.length_m > 0.0) {
        let across = heading - leg.heading * leg.heading.dot(heading);
        let square = across.length_squared();
        if square <= ALONG {
            continue;
        }
        // Nearest approach of two straights: the leg's parameter, kept to the leg.
        let between = leg.from - end;
        let (along, back) = (between.dot(leg.heading), between.dot(heading));
        let cosine = leg.heading.dot(heading);
        let at_m = ((cosine * back - along) / square).clamp(0.0, leg.length_m);
        let point = leg.from + leg.heading * at_m;
        let from_end = point - end;
        let gap_m = (from_end - heading * from_end.dot(heading)).length();
        let here = (gap_m, from_end.length(), leg.station_m + at_m);
        let nearer =
            best.is_none_or(|best| here.0 < best.0 - ALONG || (here.0 <= best.0 + ALONG && here.1 < best.1));
        if nearer {
            best = Some(here);
        }
    }
    best.map(|best| best.2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::route::testing::route;

    #[test]
    fn a_branch_is_told_as_a_crew_sees_it() {
        let (east, south, up) = (DVec3::X, -DVec3::Y, DVec3::Z);
        let close = |entry: Entry, turn: f64, rise: f64, roll: f64| {
            assert!((entry.turn_deg - turn).abs() < 1e-9, "{entry:?}");
            assert!((entry.rise_deg - rise).abs() < 1e-9, "{entry:?}");
            assert!((entry.roll_deg - roll).abs() < 1e-9, "{entry:?}");
        };
        // A tee whose branch comes down from above, one from below, one from the north of a run going east.
        close(entry(east, -up), 90.0, 90.0, 0.0);
        close(entry(east, up), 90.0, -90.0, 180.0);
        close(entry(east, south), 90.0, 0.0, -90.0);
        // A wye with the flow and one set backwards.
        close(entry(east, (east + south).normalize()), 45.0, 0.0, -90.0);
        close(entry(east, (south - east).normalize()), 135.0, 0.0, -90.0);
        // Into an upright run from the north, and along the run.
        close(entry(-up, south), 90.0, 0.0, 0.0);
        close(entry(east, east), 0.0, 0.0, 0.0);
    }

    #[test]
    fn a_line_meets_a_trunk_where_its_axis_does() {
        let trunk = route("east", "4 run; 90 north; 3 run");
        let meet = |end: DVec3, heading: DVec3| meeting(&trunk, end, heading);
        assert!((meet(DVec3::new(1.5, 2.0, 0.0), -DVec3::Y).unwrap() - 1.5).abs() < 1e-12);
        assert!((meet(DVec3::new(9.0, 1.0, 0.0), -DVec3::X).unwrap() - 5.0).abs() < 1e-12);
        // At 45 degrees to it, an inch short of the axis.
        let skew = DVec3::new(1.0, -1.0, 0.0).normalize();
        assert!((meet(DVec3::new(1.0, 1.0, 0.02), skew).unwrap() - 2.0).abs() < 1e-9);
        let straight = route("east", "4 run");
        assert_eq!(meeting(&straight, DVec3::new(0.0, 1.0, 0.0), DVec3::X), None);
    }
}

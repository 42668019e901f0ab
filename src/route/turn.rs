//! Headings and how a bend turns them.
use glam::DVec3;

/// Below this length of the part of `toward` square to the heading, a turn has no plane: sin of about 0.6
/// millionths of a degree, far under what anyone can write, far over rounding.
const NO_PLANE: f64 = 1e-8;

/// The heading after a turn of `angle_deg` from `heading` toward `toward`, in the plane of the two:
/// `cos a · h + sin a · unit(t − h (h·t))`. `None` where `toward` lies along the heading or straight
/// against it, so that there is no plane.
///
/// ```
/// use glam::DVec3;
/// use longsweep::route::turned;
/// let north_east = turned(DVec3::X, DVec3::Y, 45.0).unwrap();
/// assert!((turned(north_east, DVec3::Y, 45.0).unwrap() - DVec3::Y).length() < 1e-12);
/// assert!(turned(DVec3::X, -DVec3::X, 45.0).is_none());
/// ```
pub fn turned(heading: DVec3, toward: DVec3, angle_deg: f64) -> Option<DVec3> {
    let across = toward - heading * heading.dot(toward);
    if across.length() <= NO_PLANE * toward.length() {
        return None;
    }
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    Some((heading * cos + across.normalize() * sin).normalize())
}

/// The roll of a bend: how far its plane is turned from the plane of the bend before, about the tube
/// between, clockwise positive looking along `between` toward the stop; above -180 up to 180 degrees.
///
/// `before` is the heading into the bend before, `between` the heading of the tube between the two,
/// `after` the heading out of this bend. 0 goes on turning the same way (a square spiral in one
/// plane), 180 turns back the other way. `None` where either bend has no plane.
pub fn roll_deg(before: DVec3, between: DVec3, after: DVec3) -> Option<f64> {
    // The heading of the bend before goes on turning away from where it came from.
    let onward = (between * between.dot(before) - before).try_normalize()?;
    let toward = (after - between * between.dot(after)).try_normalize()?;
    let degrees = between.dot(onward.cross(toward)).atan2(onward.dot(toward)).to_degrees();
    let whole = (degrees * 1e9).round() / 1e9;
    Some(if whole <= -180.0 { 180.0 } else { whole + 0.0 })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mixed_direction_turns_in_its_own_plane() {
        let toward = DVec3::new(0.0, 3.0, 4.0).normalize();
        let heading = turned(DVec3::X, toward, 90.0).unwrap();
        assert!((heading - toward).length() < 1e-12);
    }

    #[test]
    fn roll_reads_as_a_crew_sees_it() {
        let (east, north, up) = (DVec3::X, DVec3::Y, DVec3::Z);
        // Down, then north, then east: looking north, the first bend's sweep goes on upward, east is clockwise of up.
        assert_eq!(roll_deg(-up, north, east), Some(90.0));
        assert_eq!(roll_deg(-up, north, -east), Some(-90.0));
        // An offset: east, 45 toward north, back to east.
        let skew = turned(east, north, 45.0).unwrap();
        assert_eq!(roll_deg(east, skew, east), Some(180.0));
        // A square spiral in one plane.
        assert_eq!(roll_deg(east, north, -east), Some(0.0));
    }
}

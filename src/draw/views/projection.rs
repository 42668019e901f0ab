//! From the job to paper, in the same metres: the ways a line is looked at.
use crate::draw::hand::geo::{V2, v2};
use glam::DVec3;

/// Half of the square root of three: the cosine of 30 degrees.
const COS_30: f64 = 0.866_025_403_784_438_6;

/// Seen from above: east to the right, north up.
pub fn from_above(point: DVec3) -> V2 {
    v2(point.x, -point.y)
}

/// On three axes at 30 degrees (ISO 5456-3), lengths along them kept: east runs down to the right, north up
/// to the right, up is up.
pub fn on_axes(point: DVec3) -> V2 {
    v2((point.x + point.y) * COS_30, (point.x - point.y) * 0.5 - point.z)
}

/// How near a point is to the viewer of the axes, who stands south-east of all and above.
pub fn nearness(point: DVec3) -> f64 {
    point.x - point.y + point.z
}

//! What the tests of this folder share: comparing numbers, and the inch-pound figures of the sources.

pub use crate::measure::{FOOT_M as FT, INCH_M as IN, LBF_N as LBF};
/// One pound-force per foot in newtons per metre.
pub const LB_FT: f64 = LBF / FT;

/// Asserts that two numbers agree within `share` of the expected one.
#[track_caller]
pub fn near(actual: f64, expected: f64, share: f64) {
    let gap = (actual - expected).abs();
    assert!(gap <= share * expected.abs(), "{actual} is not within {share} of {expected}");
}

/// Asserts that two numbers agree within `gap` of each other.
#[track_caller]
pub fn within(actual: f64, expected: f64, gap: f64) {
    assert!((actual - expected).abs() <= gap, "{actual} is not within {gap} of {expected}");
}

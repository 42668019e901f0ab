//! What the units of the trade are in SI; every other file takes them from here.

/// One inch in metres, exact (international yard and pound agreement, 1959).
pub const INCH_M: f64 = 0.0254;
/// One foot in metres, exact.
pub const FOOT_M: f64 = 0.3048;
/// Standard gravity in m/s², exact by its definition (3rd CGPM, 1901): turns a mass into a weight.
pub const GRAVITY_M_S2: f64 = 9.806_65;
/// Pound-force in newtons, exact by its definition (0.45359237 kg × 9.80665 m/s²).
pub const LBF_N: f64 = 4.448_221_615_260_5;
/// Inch of water, conventional (4 °C, 1000 kg/m³, standard gravity), in pascals.
pub const INCH_WATER_PA: f64 = 249.088_91;
/// Cubic foot per minute in m³/s, exact.
pub const CFM_M3_S: f64 = FOOT_M * FOOT_M * FOOT_M / 60.0;

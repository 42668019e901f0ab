//! Drawings that show no whole line: sticks and their cuts, a joint, a valve in its wall, a curve.
pub mod cutting;
pub mod joint;
pub mod not_drawn;
pub mod travel;
pub mod valve_box;

//! Drawings that show no whole line: sticks and their cuts, a joint, a valve in its wall, a curve.
pub(crate) mod cutting;
pub(crate) mod joint;
pub(crate) mod not_drawn;
pub(crate) mod practice;
pub(crate) mod travel;
pub(crate) mod tree;
pub(crate) mod valve_box;

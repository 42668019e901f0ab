//! Lengths, angles, directions and dates as people write and read them.
//!
//! Inside the program every length is in metres, every angle in degrees at the borders and radians
//! in formulas, every pressure in pascals. This folder is the border: `read_*` turns a person's text
//! into such a number, [`Say`] turns the number back into the words of the firm.
//!
//! Axes of every job: x east, y north, z up, right-handed.
mod beside;
mod bound;
mod date;
mod direction;
mod fault;
mod figure;
mod kind;
mod length;
mod number;
mod quantity;
mod say;
mod unit;

pub use bound::Bound;
pub use date::read_date;
pub use direction::{DIRECTIONS, direction_words, heading_words, mix, read_direction, split_turn};
pub use fault::{Fault, MeasureError};
pub use figure::{Si, Units};
pub use kind::{Kind, MOST_LENGTH_M};
pub use length::{read_breadth, read_coordinate, read_length};
pub use number::read_number;
pub use quantity::read_quantity;
pub(crate) use say::push_whole;
pub use say::{Lengths, Say};
pub use unit::{CFM_M3_S, FOOT_M, GRAVITY_M_S2, INCH_M, INCH_WATER_PA, LBF_N};

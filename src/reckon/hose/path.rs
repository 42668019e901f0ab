//! The raceway's centreline in space, as the hose follows it.

use crate::reckon::range::{OutOfRange, in_range};
use glam::DVec3;
use std::f64::consts::PI;

/// One piece of the centreline, from the valve toward the stop. Axes: x east, y north, z up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Piece {
    /// Straight between two tangent points; `along` is the unit vector of travel.
    Straight { length_m: f64, along: DVec3 },
    /// Part of a circle: `along` is the unit tangent at its start, `toward` the unit vector from its start to
    /// its centre, square to `along`.
    Arc { radius_m: f64, angle_rad: f64, along: DVec3, toward: DVec3 },
}

impl Piece {
    /// Length of the centreline through this piece, in metres.
    pub fn length_m(&self) -> f64 {
        match *self {
            Piece::Straight { length_m, .. } => length_m,
            Piece::Arc { radius_m, angle_rad, .. } => angle_rad * radius_m,
        }
    }

    fn check(&self) -> Result<(), OutOfRange> {
        let (along, square) = match *self {
            Piece::Straight { length_m, along } => {
                in_range("length of a straight", length_m, (0.0, 1000.0), "m")?;
                (along, 0.0)
            }
            Piece::Arc { radius_m, angle_rad, along, toward } => {
                in_range("angle of a bend", angle_rad, (f64::MIN_POSITIVE, PI + 1e-9), "rad")?;
                in_range("radius of a bend", radius_m, (f64::MIN_POSITIVE, 1000.0), "m")?;
                in_range("length of a bend's pointer to its center", toward.length(), UNIT, "")?;
                (along, along.dot(toward))
            }
        };
        in_range("length of a heading", along.length(), UNIT, "")?;
        in_range("slant of a bend's pointer to its center", square, (-1e-6, 1e-6), "")?;
        Ok(())
    }
}

/// A unit vector from arithmetic on coordinates, to a last digit or so.
const UNIT: (f64, f64) = (1.0 - 1e-6, 1.0 + 1e-6);

/// The whole centreline from valve to stop.
///
/// It cannot be empty, hold a piece of negative length, a bend without radius or a heading that is no unit
/// vector. That pieces join without a kink is the caller's affair: a kink has no length, and so no friction.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    pieces: Vec<Piece>,
    /// Station of the start of each piece, ascending.
    starts_m: Vec<f64>,
    length_m: f64,
}

impl Path {
    /// A path of these pieces. Errors: [`OutOfRange`] for the first piece that is none.
    pub fn new(pieces: Vec<Piece>) -> Result<Path, OutOfRange> {
        pieces.iter().try_for_each(Piece::check)?;
        let mut length_m = 0.0;
        let mut starts_m = Vec::with_capacity(pieces.len());
        for piece in &pieces {
            starts_m.push(length_m);
            length_m += piece.length_m();
        }
        in_range("length of the raceway", length_m, (1e-6, 10_000.0), "m")?;
        Ok(Path { pieces, starts_m, length_m })
    }

    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    pub fn length_m(&self) -> f64 {
        self.length_m
    }

    /// The pieces that a hose fills whose tail lies `inserted_m` from the valve, each with the length filled.
    pub fn filled(&self, inserted_m: f64) -> impl DoubleEndedIterator<Item = (&Piece, f64)> {
        let filled = self.starts_m.partition_point(|start_m| *start_m < inserted_m);
        let pieces = self.pieces[..filled].iter().zip(&self.starts_m);
        pieces.map(move |(piece, start_m)| (piece, piece.length_m().min(inserted_m - start_m)))
    }

    /// The pieces between two stations, each with how far into it that stretch begins and ends.
    pub(super) fn between(
        &self,
        from_m: f64,
        to_m: f64,
    ) -> impl DoubleEndedIterator<Item = (&Piece, f64, f64)> {
        let first = self.starts_m.partition_point(|start_m| *start_m <= from_m).saturating_sub(1);
        let last = self.starts_m.partition_point(|start_m| *start_m < to_m).max(first);
        let pieces = self.pieces[first..last].iter().zip(&self.starts_m[first..last]);
        pieces.map(move |(piece, start_m)| {
            let length_m = piece.length_m();
            (piece, (from_m - start_m).clamp(0.0, length_m), (to_m - start_m).min(length_m))
        })
    }

    /// Stations of the ends of the pieces, ascending.
    pub fn ends_m(&self) -> impl Iterator<Item = f64> {
        self.pieces.iter().scan(0.0, |at, piece| {
            *at += piece.length_m();
            Some(*at)
        })
    }
}

//! Control wire along the pipe.
use super::Missing;
use super::way::way;
use crate::company::Catalog;
use crate::reckon::wire::{Strands, copper_ohm_per_m, table_ohm_per_m, two_wire_drop_v};
use crate::route::JobLines;

/// Wire is run along the pipe and looped at valve and unit: a tenth more than the pipe (common practice, no
/// source) and half a metre at each end.
pub const SLACK: f64 = 0.10;
/// For stripping and splicing at each end.
pub const TAIL_M: f64 = 0.5;

/// The wire of one inlet.
#[derive(Debug, Clone, PartialEq)]
pub struct WireFigures {
    /// From valve to unit, with its slack.
    pub length_m: f64,
    pub drop_v: f64,
    /// Share of the supply's voltage.
    pub drop_share: f64,
    /// Whether the resistance is read from NFPA 70, chapter 9, table 8, or reckoned from the gauge.
    pub from_table: bool,
}

/// Length and voltage drop of an inlet's wire, at the table's 75 °C.
pub fn wire(inlet: usize, lines: &JobLines, catalog: &Catalog) -> Result<WireFigures, Missing> {
    let Some(wire) = &catalog.wire else {
        return Err("the catalog lists no control wire".into());
    };
    let pipe_m: f64 = way(inlet, lines)?.iter().map(|s| s.line.centre_m - s.from_m).sum();
    let length_m = pipe_m * (1.0 + SLACK) + 2.0 * TAIL_M;
    let strands = if wire.stranded { Strands::Seven } else { Strands::Solid };
    let table = table_ohm_per_m(wire.gauge_awg, strands);
    let ohm_per_m = match table {
        Some(ohm_per_m) => ohm_per_m,
        None => copper_ohm_per_m(wire.gauge_awg, 75.0).map_err(Missing::from)?,
    };
    let drop_v = two_wire_drop_v(length_m, ohm_per_m, wire.amps).map_err(Missing::from)?;
    Ok(WireFigures { length_m, drop_v, drop_share: drop_v / wire.volts, from_table: table.is_some() })
}

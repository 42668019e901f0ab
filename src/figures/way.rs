//! The way of an inlet's air: its own line, then trunk after trunk to the unit.
use super::Missing;
use crate::company::Fitting;
use crate::route::{JobLines, Line};

/// One line on the way, entered at a station.
#[derive(Debug, Clone)]
pub struct Stretch<'a> {
    /// Index of the line.
    pub index: usize,
    pub line: &'a Line,
    /// Station along work points at which the air comes in.
    pub from_m: f64,
    /// The junction by which it comes in; `None` at the valve, and where one line goes on as another.
    pub by: Option<&'a Fitting>,
}

/// Every line from the valve to the unit; why not, where the way is not known to its end.
pub fn way(inlet: usize, lines: &JobLines) -> Result<Vec<Stretch<'_>>, Missing> {
    let first = lines.of_inlet(inlet).ok_or("the job has no such inlet")?;
    let mut way = vec![Stretch { index: inlet, line: first, from_m: 0.0, by: None }];
    if first.joins.is_none() && first.tail == crate::route::End::Stop {
        return Err("the job gives no onward path for this inlet".into());
    }
    // Each line is met once: reading has refused circles, and the count guards against them all the same.
    for _ in 0..lines.lines.len() {
        let Some(joins) = way.last().and_then(|stretch| stretch.line.joins.as_ref()) else {
            break;
        };
        let line = lines.lines.get(joins.line).ok_or("a line runs into one that is not there")?;
        let from_m = joins.station_m.ok_or_else(|| {
            format!("where it joins {} is not given, and the places do not tell it", line.called())
        })?;
        way.push(Stretch { index: joins.line, line, from_m, by: joins.with.as_ref() });
    }
    Ok(way)
}

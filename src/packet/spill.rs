//! What the cover of a packet has no room for: it goes on sheets of its own right behind it, in full, and the
//! cover names them. No hold and no finding of the job is left out, for many of them stand on no other sheet
//! of the truck.
use super::cover::{Hazard, HoldRow, InletRow, JobCover};
use super::paper;
use super::sheet::FindingRow;
use crate::text::counted;
use serde::Serialize;
use std::ops::Range;

/// A sheet that goes on from the cover.
#[derive(Debug, Clone, Default, Serialize)]
pub struct CoverMore {
    pub holds: Vec<HoldRow>,
    pub findings: Vec<FindingRow>,
    pub hazards: Vec<Hazard>,
}

/// Size of the cover's words and of those of the sheets behind it, points.
const COVER_PT: f64 = 8.8;
const MORE_PT: f64 = 10.0;
/// Height of a line of the cover's words as a part of their size; the style sets the same.
const COVER_LINE: f64 = 1.15;
/// Height of what the cover always has, mm: the verdict, the facts, the heads of its lists, the line on the
/// local code, the sign-off; and of the line that names the sheets behind it.
const ALWAYS_MM: f64 = 88.0;
const NAMED_MM: f64 = 6.0;
/// Height of the heads of the lists of a sheet behind the cover, mm.
const HEADS_MM: f64 = 30.0;
/// What such a sheet holds at least, mm: rather than print a line alone, the cover gives it more.
const LEAST_MM: f64 = 75.0;

/// The cover cut to one sheet, and the sheets that take the rest, each with `room_mm`.
///
/// Hazards are the first to go, whole; then findings and holds from the end, so that what holds the job as a
/// whole, which stands first, is the last.
pub fn split(mut cover: JobCover, room_mm: f64) -> (JobCover, Vec<CoverMore>) {
    let free_mm = room_mm - ALWAYS_MM - cover.inlets.iter().map(inlet_mm).sum::<f64>();
    let mut rows_mm: Vec<f64> = cover.holds.iter().map(|row| hold_mm(row, COVER_PT)).collect();
    rows_mm.extend(cover.findings.iter().map(super::route::finding_mm));
    let hazards_mm = |size_pt: f64| cover.hazards.iter().map(|row| hazard_mm(row, size_pt)).sum::<f64>();
    if rows_mm.iter().sum::<f64>() + hazards_mm(COVER_PT) <= free_mm {
        return (cover, Vec::new());
    }
    // What stands first is on the cover however little room is left.
    let mut kept = fitting(&rows_mm, free_mm - NAMED_MM).max(1).min(rows_mm.len());
    let mut behind_mm = hazards_mm(MORE_PT) + rows_mm.iter().skip(kept).sum::<f64>();
    while kept > 1 && behind_mm < LEAST_MM {
        kept -= 1;
        behind_mm += rows_mm[kept];
    }
    let held = kept.min(cover.holds.len());
    let rest = CoverMore {
        holds: cover.holds.split_off(held),
        findings: cover.findings.split_off(kept - held),
        hazards: std::mem::take(&mut cover.hazards),
    };
    let words = told(&rest);
    let sheets = shared_out(rest, room_mm - HEADS_MM);
    cover.more = format!("On {}: {words}.", numbers(sheets.len()));
    (cover, sheets)
}

/// What the cover calls the sheets behind it, which are the second of the packet and those that follow.
pub fn numbers(count: usize) -> String {
    match count {
        0 | 1 => "sheet 2".into(),
        2 => "sheets 2 and 3".into(),
        count => format!("sheets 2 to {}", count + 1),
    }
}

/// How many rows from the first on have room.
fn fitting(rows_mm: &[f64], room_mm: f64) -> usize {
    let mut used_mm = 0.0;
    let fits = |mm: &&f64| {
        used_mm += **mm;
        used_mm <= room_mm
    };
    rows_mm.iter().take_while(fits).count()
}

/// What stands behind the cover, in words.
fn told(rest: &CoverMore) -> String {
    let (holds, findings) = (rest.holds.len(), rest.findings.len());
    let mut words = Vec::new();
    words.extend((holds > 0).then(|| counted(holds, "more hold")));
    words.extend((findings > 0).then(|| counted(findings, "finding")));
    words.extend((!rest.hazards.is_empty()).then(|| "the hazards on this job".to_string()));
    words.join("; ")
}

/// The rest on as few sheets as it takes, each about equally full, in the order holds, findings, hazards.
fn shared_out(rest: CoverMore, room_mm: f64) -> Vec<CoverMore> {
    let mut rows_mm: Vec<f64> = rest.holds.iter().map(|row| hold_mm(row, MORE_PT)).collect();
    rows_mm.extend(rest.findings.iter().map(super::route::finding_mm));
    rows_mm.extend(rest.hazards.iter().map(|row| hazard_mm(row, MORE_PT)));
    let (holds, findings) = (rest.holds.len(), rest.findings.len());
    let sheet = |rows: Range<usize>| CoverMore {
        holds: part(&rest.holds, &rows, 0),
        findings: part(&rest.findings, &rows, holds),
        hazards: part(&rest.hazards, &rows, holds + findings),
    };
    paper::pages(&rows_mm, room_mm, 0.0).into_iter().map(sheet).collect()
}

/// Those of a list that fall in a range of all rows, of which the list's first is `first`.
fn part<T: Clone>(list: &[T], rows: &Range<usize>, first: usize) -> Vec<T> {
    let within = |(place, row): (usize, &T)| rows.contains(&(place + first)).then(|| row.clone());
    list.iter().enumerate().filter_map(within).collect()
}

/// Height of words in a column, mm: the cover's lines stand closer than those of other sheets.
fn words_mm(words: &str, size_pt: f64, room_mm: f64) -> f64 {
    let line = if size_pt == COVER_PT { COVER_LINE } else { paper::LINE };
    paper::lines(words, size_pt, room_mm) as f64 * size_pt * paper::POINT_MM * line
}

/// Height of a hold, mm.
fn hold_mm(row: &HoldRow, size_pt: f64) -> f64 {
    let words = |text: &str, room_mm: f64| words_mm(text, size_pt, room_mm);
    words(&row.what, 92.0).max(words(&row.clears, 60.0)).max(words(&row.place, 17.0)) + 1.9
}

/// Height of an inlet's row, mm; the style gives the verdict its column.
fn inlet_mm(row: &InletRow) -> f64 {
    let words = |text: &str, room_mm: f64| words_mm(text, COVER_PT, room_mm);
    let verdict_mm = words(&row.words, 42.0) + 4.6;
    words(&row.valve, 34.0).max(words(&row.hose, 20.0)).max(verdict_mm).max(7.4) + 1.2
}

/// Height of a hazard, mm.
fn hazard_mm(row: &Hazard, size_pt: f64) -> f64 {
    let words = format!("{} ({}) {} Who: {}.", row.title, row.because, row.what, row.who);
    words_mm(&words, size_pt, 187.0) + 0.95
}

#[cfg(test)]
mod tests;

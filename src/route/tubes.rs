//! The tubes of a line: one between each two fittings that follow each other.
use super::types::{End, InlineKind, Line, Tube};
use crate::company::{Catalog, Reach};

/// A fitting on the line: where its work point is and what it takes of the tube on each side.
struct Stand {
    end: End,
    leg: usize,
    station_m: f64,
    before_m: f64,
    after_m: f64,
}

/// The tubes of a line, marked in order.
///
/// Each is the way between two work points less what their fittings take. At the valve, the stop and the
/// unit the run already ends where the tube seats. A line that ends in a bend, which seats straight in
/// what follows, has no tube there; nor has a trunk before a junction at its very start.
pub fn tubes(line: &Line, catalog: &Catalog) -> Vec<Tube> {
    let stands = stands(line, catalog);
    let mut tubes: Vec<Tube> = Vec::new();
    for pair in stands.windows(2) {
        let [from, to] = pair else { continue };
        let start_m = from.station_m + from.after_m;
        let clear_m = to.station_m - to.before_m - start_m;
        let bare = line.legs.get(to.leg).is_none_or(|leg| leg.runs.is_empty());
        let plugged = matches!(from.end, End::Open | End::Cap) && clear_m <= 0.0;
        if bare || plugged {
            continue;
        }
        let mark = format!("{}{}", line.letters, tubes.len() + 1);
        tubes.push(Tube { mark, leg: to.leg, from: from.end, to: to.end, start_m, clear_m });
    }
    tubes
}

/// Head, then leg by leg what stands in it and the bend at its end, then tail.
fn stands(line: &Line, catalog: &Catalog) -> Vec<Stand> {
    let last = line.legs.len().saturating_sub(1);
    let gap_m = catalog.coupling_gap_m(Reach::Air) / 2.0;
    let after_m = if line.head == End::From { gap_m } else { 0.0 };
    let mut stands = vec![Stand { end: line.head, leg: 0, station_m: 0.0, before_m: 0.0, after_m }];
    for leg in 0..=last {
        for (i, inline) in line.inlines.iter().enumerate().filter(|(_, inline)| inline.leg == leg) {
            let end = match inline.kind {
                InlineKind::Stop => End::Stop,
                InlineKind::Junction(_) => End::Junction(i),
            };
            let (before_m, after_m) = (inline.before_m, inline.after_m);
            stands.push(Stand { end, leg, station_m: inline.station_m, before_m, after_m });
        }
        if let Some(bend) = line.bends.get(leg) {
            stands.push(Stand {
                end: End::Bend(bend.n),
                leg,
                station_m: bend.at_centre_m,
                before_m: bend.laying_length_m,
                after_m: bend.laying_length_m,
            });
        }
    }
    let before_m = match line.tail {
        End::Branch => taken_by_branch_m(line),
        End::Onto => gap_m,
        _ => 0.0,
    };
    stands.push(Stand { end: line.tail, leg: last, station_m: line.centre_m, before_m, after_m: 0.0 });
    stands
}

/// From the work point to where a tube seats in the branch; nothing where the catalog is silent.
fn taken_by_branch_m(line: &Line) -> f64 {
    let with = line.joins.as_ref().and_then(|joins| joins.with.as_ref());
    with.and_then(|fitting| fitting.junction()?.branch_laying_length_m).unwrap_or(0.0)
}

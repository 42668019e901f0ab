//! Another hose of the catalog.
use super::Case;
use crate::remedy::change::{Change, OTHER_HOSE};

/// Every other hose; one of the same length counts as the smallest change.
pub fn others(case: &Case) -> Vec<Change> {
    let own = &case.inlet.hose;
    let others = case.catalog.hoses.iter().filter(|hose| hose.id != own.id);
    others
        .map(|hose| {
            let mut inlet = case.inlet.clone();
            inlet.hose = hose.clone();
            let kind = if hose.sock { "socked" } else { "bare" };
            let words = format!("use a {kind} {} hose ({})", case.say.length(hose.length_m), hose.id);
            case.with_inlet(inlet, words, OTHER_HOSE + (hose.length_m - own.length_m).abs())
        })
        .collect()
}

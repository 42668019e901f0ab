//! Another hose of the catalog.
use super::Case;
use crate::remedy::change::{Change, OTHER_HOSE};

/// Every other hose; one of the same length counts as the smallest change. None for a trunk.
pub fn others(case: &Case) -> Vec<Change> {
    let Some(own) = case.hose else {
        return Vec::new();
    };
    let others = case.catalog.hoses.iter().filter(|hose| hose.id != own.id);
    others
        .map(|hose| {
            let kind = if hose.sock { "socked" } else { "bare" };
            let words = format!("use a {kind} {} hose ({})", case.say.length(hose.length_m), hose.id);
            let size = OTHER_HOSE + (hose.length_m - own.length_m).abs();
            Change { hose: Some(hose.clone()), line: case.spec.clone(), words, size }
        })
        .collect()
}

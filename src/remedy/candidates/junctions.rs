//! A wye in place of a tight tee, and a 45 in place of what it needs.
use super::Case;
use crate::company::Into;
use crate::remedy::change::{Change, OTHER_FITTING};

/// The same way with each gentler junction of the catalog.
pub fn wyes(case: &Case) -> Vec<Change> {
    let Some(onward) = &case.inlet.onward else {
        return Vec::new();
    };
    let Into::Trunk { trunk, at, with } = &onward.into else {
        return Vec::new();
    };
    let Some(own) = with.junction() else {
        return Vec::new();
    };
    let gentler =
        case.catalog.fittings.iter().filter(|f| f.junction().is_some_and(|j| j.branch_deg < own.branch_deg));
    gentler
        .map(|fitting| {
            let mut inlet = case.inlet.clone();
            if let Some(onward) = &mut inlet.onward {
                onward.into = Into::Trunk { trunk: *trunk, at: *at, with: fitting.clone() };
            }
            let words = format!(
                "join the trunk by {} in place of {}, with a 45 on its branch",
                fitting.name, with.name
            );
            Change { inlet, words, size: OTHER_FITTING }
        })
        .collect()
}

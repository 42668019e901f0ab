//! A wye in place of a tight tee, and a 45 in place of what it needs.
use super::Case;
use crate::company::{Into, LineSpec};
use crate::remedy::change::{Change, OTHER_FITTING};

/// The same way with each gentler junction of the catalog.
pub fn wyes(case: &Case) -> Vec<Change> {
    let Some(Into::Trunk { trunk, at_m, with }) = &case.spec.into else {
        return Vec::new();
    };
    let Some(own) = with.junction() else {
        return Vec::new();
    };
    let gentler =
        case.catalog.fittings.iter().filter(|f| f.junction().is_some_and(|j| j.branch_deg < own.branch_deg));
    gentler
        .map(|fitting| {
            let into = Some(Into::Trunk { trunk: *trunk, at_m: *at_m, with: fitting.clone() });
            let line = LineSpec { into, ..case.spec.clone() };
            let words = format!(
                "join the trunk by {} in place of {}, with a 45 on its branch",
                fitting.name, with.name
            );
            Change { hose: None, line, words, size: OTHER_FITTING }
        })
        .collect()
}

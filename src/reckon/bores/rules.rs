//! The sections, one function each.

use super::{Bore, Bound, Member, Outcome, Remedy, Ruling, Unit};

use crate::measure::INCH_M as IN;

const STUD_SHARE: f64 = 0.60;
const STUD_SINGLE_SHARE: f64 = 0.40;
const STUD_EDGE_M: f64 = 0.625 * IN;
const JOIST_EDGE_M: f64 = 2.0 * IN;
const PLATE_SHARE: f64 = 0.50;
const SHIELD_EDGE_M: f64 = 1.25 * IN;

/// Plates: 0.0575 in (No. 16 gauge) since 2015 (from memory; older editions 0.062 in).
const SHIELD_THICKNESS_M: f64 = 0.0575 * IN;
const SHIELD_BEYOND_M: f64 = 2.0 * IN;

pub(super) fn all(bore: &Bore, edge_m: f64) -> Vec<Ruling> {
    match bore.member {
        Member::Stud => vec![stud_share(bore), stud_edge(bore, edge_m), shield(bore, edge_m)],
        Member::Joist => deep("IRC R502.8.1", bore, edge_m),
        Member::Rafter => deep("IRC R802.7.1", bore, edge_m),
        Member::TopPlate => top_plate(bore).into_iter().chain([shield(bore, edge_m)]).collect(),
        Member::BottomPlate => vec![shield(bore, edge_m)],
        Member::Engineered | Member::Truss => vec![makers_word("IRC R502.8.2, R802.7.2", bore)],
        Member::Steel => vec![makers_word("steel framing: maker or engineer", bore)],
        Member::Masonry => vec![makers_word("masonry: engineer", bore)],
    }
}

/// R602.6: at most 60 % of the width, and in a bearing wall over 40 % only in a doubled stud.
fn stud_share(bore: &Bore) -> Ruling {
    let single_only = bore.bearing && !bore.doubled;
    let limit = if single_only { STUD_SINGLE_SHARE } else { STUD_SHARE };
    let outcome = match bore {
        _ if !at_most(bore.hole_m, STUD_SHARE * bore.width_m) => Outcome::Broken,
        _ if !at_most(bore.hole_m, limit * bore.width_m) => Outcome::NeedsDoubling,
        _ => Outcome::Ok,
    };
    let remedy = match outcome {
        Outcome::Ok => None,
        Outcome::NeedsDoubling => Some(Remedy::DoubleStud { most_in_a_row: 2 }),
        _ => Some(Remedy::SmallerHole {
            largest_hole_m: STUD_SHARE * bore.width_m,
            least_width_m: bore.hole_m / STUD_SHARE,
        }),
    };
    // A hole over 60 % is measured against that, since doubling would not save it.
    let limit = if outcome == Outcome::Broken { STUD_SHARE } else { limit };
    share("IRC R602.6", "the hole takes {} of the stud's width", bore, limit, outcome, remedy)
}

/// R602.6: the hole's edge at least 5/8 in from the stud's (see the trap in the module's text).
fn stud_edge(bore: &Bore, edge_m: f64) -> Ruling {
    edge("IRC R602.6", "{} of wood left to the stud's edge", bore, edge_m, STUD_EDGE_M)
}

/// R502.8.1 and R802.7.1: at most a third of the depth, and 2 in from top and bottom.
fn deep(section: &'static str, bore: &Bore, edge_m: f64) -> Vec<Ruling> {
    let third_m = bore.width_m / 3.0;
    let largest_m = third_m.min(bore.width_m - 2.0 * JOIST_EDGE_M).max(0.0);
    let fits = at_most(bore.hole_m, third_m);
    let remedy = Remedy::SmallerHole {
        largest_hole_m: largest_m,
        least_width_m: (3.0 * bore.hole_m).max(bore.hole_m + 2.0 * JOIST_EDGE_M),
    };
    let size = Ruling {
        section,
        what: "the hole takes {} of the depth",
        measured: bore.hole_m,
        limit: third_m,
        unit: Unit::Metres,
        bound: Bound::AtMost,
        outcome: if fits { Outcome::Ok } else { Outcome::Broken },
        remedy: (!fits).then_some(remedy),
    };
    let cover = edge(section, "{} of wood left to top or bottom", bore, edge_m, JOIST_EDGE_M);
    vec![size, cover, shield(bore, edge_m)]
}

/// R602.6.1: over half of a bearing wall's top plate needs a tie; other walls have no limit there.
fn top_plate(bore: &Bore) -> Option<Ruling> {
    if !bore.bearing {
        return None;
    }
    let whole = at_most(bore.hole_m, PLATE_SHARE * bore.width_m);
    let tie = Remedy::Tie {
        thickness_m: 0.054 * IN,
        width_m: 1.5 * IN,
        past_opening_m: 6.0 * IN,
        nails_each_side: 8,
    };
    let outcome = if whole { Outcome::Ok } else { Outcome::NeedsTie };
    let what = "the hole takes {} of the plate's width";
    Some(share("IRC R602.6.1", what, bore, PLATE_SHARE, outcome, (!whole).then_some(tie)))
}

/// P2603.2.1: under 1-1/4 in from the nearest edge, steel plates, on both faces where both are near.
fn shield(bore: &Bore, edge_m: f64) -> Ruling {
    let clear = at_most(SHIELD_EDGE_M, edge_m);
    let other_m = bore.width_m - bore.hole_m - edge_m;
    let plates = Remedy::Shield {
        thickness_m: SHIELD_THICKNESS_M,
        beyond_plate_m: SHIELD_BEYOND_M,
        both_faces: !at_most(SHIELD_EDGE_M, other_m),
    };
    Ruling {
        section: "IRC P2603.2.1",
        what: "{} of wood left to the nearest face",
        measured: edge_m,
        limit: SHIELD_EDGE_M,
        unit: Unit::Metres,
        bound: Bound::AtLeast,
        outcome: if clear { Outcome::Ok } else { Outcome::NeedsShield },
        remedy: (!clear).then_some(plates),
    }
}

/// No share is computed for these, so the figure stands beside no limit: any hole is over it.
fn makers_word(section: &'static str, bore: &Bore) -> Ruling {
    Ruling {
        section,
        what: "a hole of {} in a member that only its maker or an engineer may judge",
        measured: bore.hole_m,
        limit: 0.0,
        unit: Unit::Metres,
        bound: Bound::AtMost,
        outcome: Outcome::MakersWord,
        remedy: Some(Remedy::AskMaker),
    }
}

fn share(
    section: &'static str,
    what: &'static str,
    bore: &Bore,
    limit: f64,
    outcome: Outcome,
    remedy: Option<Remedy>,
) -> Ruling {
    let measured = bore.hole_m / bore.width_m;
    Ruling { section, what, measured, limit, unit: Unit::Share, bound: Bound::AtMost, outcome, remedy }
}

/// Where even a centred hole is too near both edges, only a smaller hole or a wider member helps.
fn edge(section: &'static str, what: &'static str, bore: &Bore, edge_m: f64, least_m: f64) -> Ruling {
    let clear = at_most(least_m, edge_m);
    let (from, to) = (least_m + 0.5 * bore.hole_m, bore.width_m - least_m - 0.5 * bore.hole_m);
    let remedy = if at_most(from, to) {
        Remedy::MoveInward { least_edge_m: least_m, centre_from_m: from, centre_to_m: to }
    } else {
        let largest_hole_m = (bore.width_m - 2.0 * least_m).max(0.0);
        Remedy::SmallerHole { largest_hole_m, least_width_m: bore.hole_m + 2.0 * least_m }
    };
    Ruling {
        section,
        what,
        measured: edge_m,
        limit: least_m,
        unit: Unit::Metres,
        bound: Bound::AtLeast,
        outcome: if clear { Outcome::Ok } else { Outcome::Broken },
        remedy: (!clear).then_some(remedy),
    }
}

fn at_most(value_m: f64, limit_m: f64) -> bool {
    Bound::AtMost.keeps(value_m, limit_m)
}

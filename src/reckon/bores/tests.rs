//! The worked table of hole sizes, the published examples, and the limits met and broken.

use super::sizes::dressed_m;
use super::*;
use crate::reckon::check::{IN, within};

fn bore(member: Member, size: &str, hole_in: f64) -> Bore {
    let (_, width_m) = dressed_m(size).unwrap();
    Bore { member, width_m, bearing: true, doubled: false, hole_m: hole_in * IN, from_edge_m: None }
}

fn under(section: &str, bore: &Bore) -> Vec<Ruling> {
    rulings(bore).unwrap().into_iter().filter(|ruling| ruling.section == section).collect()
}

/// The verdict of one section alone, so that shield plates do not cover it.
fn by(section: &str, bore: &Bore) -> Outcome {
    verdict(&under(section, bore))
}

#[test]
fn agrees_with_the_worked_table_for_studs() {
    use Outcome::{Broken, NeedsDoubling, Ok as Fine};
    // Width, hole, share in percent, outcome single in a bearing wall, outcome in another wall.
    let table = [
        ("2x4", 2.125, 60.71, Broken, Broken),
        ("2x4", 2.25, 64.29, Broken, Broken),
        ("2x6", 2.125, 38.64, Fine, Fine),
        ("2x6", 2.25, 40.91, NeedsDoubling, Fine),
        ("2x8", 2.125, 29.31, Fine, Fine),
        ("2x8", 2.25, 31.03, Fine, Fine),
        ("2x10", 2.125, 22.97, Fine, Fine),
        ("2x10", 2.25, 24.32, Fine, Fine),
        ("2x12", 2.125, 18.89, Fine, Fine),
        ("2x12", 2.25, 20.00, Fine, Fine),
    ];
    for (size, hole, percent, bearing, other) in table {
        let single = bore(Member::Stud, size, hole);
        // Two decimals given.
        within(100.0 * under("IRC R602.6", &single)[0].measured, percent, 0.0051);
        assert_eq!(by("IRC R602.6", &single), bearing, "{size} {hole}");
        assert_eq!(by("IRC R602.6", &Bore { bearing: false, ..single }), other, "{size} {hole}");
        let doubled = if bearing == NeedsDoubling { Fine } else { bearing };
        assert_eq!(by("IRC R602.6", &Bore { doubled: true, ..single }), doubled, "{size} {hole}");
    }
}

#[test]
fn agrees_with_the_worked_table_for_joists_and_rafters() {
    let sound = [("2x4", false), ("2x6", false), ("2x8", true), ("2x10", true), ("2x12", true)];
    for (size, sound) in sound {
        for hole in [2.125, 2.25] {
            let expected = if sound { Outcome::Ok } else { Outcome::Broken };
            assert_eq!(by("IRC R502.8.1", &bore(Member::Joist, size, hole)), expected, "{size} {hole}");
            assert_eq!(by("IRC R802.7.1", &bore(Member::Rafter, size, hole)), expected, "{size} {hole}");
        }
    }
}

#[test]
fn agrees_with_the_worked_table_for_top_plates() {
    for (size, tied) in [("2x4", true), ("2x6", false), ("2x8", false), ("2x10", false), ("2x12", false)] {
        for hole in [2.125, 2.25] {
            let plate = bore(Member::TopPlate, size, hole);
            let expected = if tied { Outcome::NeedsTie } else { Outcome::Ok };
            assert_eq!(by("IRC R602.6.1", &plate), expected, "{size} {hole}");
            assert!(under("IRC R602.6.1", &Bore { bearing: false, ..plate }).is_empty());
        }
    }
}

#[test]
fn agrees_with_the_worked_table_for_limits() {
    // Width in, 40 %, 60 %, largest hole by the 5/8 edges, d/3, d - 4, half the plate.
    let table = [
        ("2x4", 1.40, 2.10, 2.25, 1.1667, 0.0, 1.75),
        ("2x6", 2.20, 3.30, 4.25, 1.8333, 1.5, 2.75),
        ("2x8", 2.90, 4.35, 6.0, 2.4167, 3.25, 3.625),
        ("2x10", 3.70, 5.55, 8.0, 3.0833, 5.25, 4.625),
        ("2x12", 4.50, 6.75, 10.0, 3.75, 7.25, 5.625),
    ];
    let just = 1e-4;
    for (size, forty, sixty, by_edges, third, less_four, half) in table {
        let stud = |hole| by("IRC R602.6", &bore(Member::Stud, size, hole));
        assert_eq!(stud(forty), Outcome::Ok);
        assert_eq!(stud(forty + just), Outcome::NeedsDoubling);
        assert_eq!(stud(sixty), Outcome::NeedsDoubling);
        assert_eq!(stud(sixty + just), Outcome::Broken);
        let edge = |hole| under("IRC R602.6", &bore(Member::Stud, size, hole))[1].outcome;
        assert_eq!((edge(by_edges), edge(by_edges + just)), (Outcome::Ok, Outcome::Broken));
        let joist = |hole| under("IRC R502.8.1", &bore(Member::Joist, size, hole));
        within(joist(1.0)[0].limit / IN, third, 5e-5);
        if less_four > 0.0 {
            assert_eq!(joist(less_four)[1].outcome, Outcome::Ok);
            assert_eq!(joist(less_four + just)[1].outcome, Outcome::Broken);
        }
        let plate = |hole| by("IRC R602.6.1", &bore(Member::TopPlate, size, hole));
        assert_eq!((plate(half), plate(half + just)), (Outcome::Ok, Outcome::NeedsTie));
    }
}

#[test]
fn refuses_the_rounding_of_a_county_sheet() {
    // Trap: 60 % of a 2x4 is 2.10 in, not 2-1/8.
    let ruling = under("IRC R602.6", &Bore { bearing: false, ..bore(Member::Stud, "2x4", 2.125) })[0];
    assert_eq!(ruling.outcome, Outcome::Broken);
    let Some(Remedy::SmallerHole { largest_hole_m, least_width_m }) = ruling.remedy else {
        panic!("no remedy in {ruling:?}");
    };
    within((2.125 * IN - largest_hole_m) / IN, 0.025, 1e-9);
    assert!(dressed_m("2x4").unwrap().1 < least_width_m && dressed_m("2x6").unwrap().1 > least_width_m);
}

#[test]
fn refuses_the_misprint_of_the_edge_rule() {
    // Trap: 5/8 in is the least distance, not the most. A hole far from the edge is sound.
    let far = Bore { from_edge_m: Some(1.0 * IN), ..bore(Member::Stud, "2x6", 2.0) };
    let near = Bore { from_edge_m: Some(0.5 * IN), ..far };
    assert_eq!(under("IRC R602.6", &far)[1].outcome, Outcome::Ok);
    assert_eq!(under("IRC R602.6", &near)[1].outcome, Outcome::Broken);
}

#[test]
fn recovers_the_window_of_a_2x8_joist() {
    for (hole, from, to) in [(2.125, 3.0625, 4.1875), (2.25, 3.125, 4.125)] {
        let low = Bore { from_edge_m: Some(1.0 * IN), ..bore(Member::Joist, "2x8", hole) };
        let Some(Remedy::MoveInward { centre_from_m, centre_to_m, .. }) =
            under("IRC R502.8.1", &low)[1].remedy
        else {
            panic!("no window for {hole}");
        };
        within(centre_from_m / IN, from, 1e-9);
        within(centre_to_m / IN, to, 1e-9);
    }
}

#[test]
fn recovers_the_two_inch_cap_of_a_2x6_joist() {
    let remedies: Vec<_> =
        under("IRC R502.8.1", &bore(Member::Joist, "2x6", 2.125)).iter().filter_map(|r| r.remedy).collect();
    assert_eq!(remedies.len(), 2);
    for remedy in remedies {
        let Remedy::SmallerHole { largest_hole_m, .. } = remedy else { panic!("{remedy:?}") };
        within(largest_hole_m / IN, 1.5, 1e-9);
    }
}

#[test]
fn recovers_shield_plates_for_a_two_inch_tube() {
    // Centred in a 2x4 the edge is 0.75 in, plates on both faces; in a 2x6 1.75 in, none.
    let narrow = under("IRC P2603.2.1", &bore(Member::BottomPlate, "2x4", 2.0))[0];
    within(narrow.measured / IN, 0.75, 1e-9);
    assert!(matches!(narrow.remedy, Some(Remedy::Shield { both_faces: true, .. })));
    let wide = bore(Member::BottomPlate, "2x6", 2.0);
    within(under("IRC P2603.2.1", &wide)[0].measured / IN, 1.75, 1e-9);
    assert_eq!(verdict(&rulings(&wide).unwrap()), Outcome::Ok);
    let aside = Bore { from_edge_m: Some(1.0 * IN), ..wide };
    assert!(matches!(
        under("IRC P2603.2.1", &aside)[0].remedy,
        Some(Remedy::Shield { both_faces: false, .. })
    ));
}

#[test]
fn refuses_to_pass_what_only_a_maker_may_judge() {
    for member in [Member::Engineered, Member::Truss, Member::Steel, Member::Masonry] {
        assert_eq!(verdict(&rulings(&bore(member, "2x12", 0.1)).unwrap()), Outcome::MakersWord);
    }
}

#[test]
fn published_dressed_sizes() {
    for (name, inches) in [("2x4", 3.5), ("2x6", 5.5), ("2x8", 7.25), ("2x10", 9.25), ("2x12", 11.25)] {
        let (thickness_m, width_m) = dressed_m(name).unwrap();
        within(thickness_m / IN, 1.5, 1e-12);
        within(width_m / IN, inches, 1e-12);
    }
    assert_eq!(dressed_m("2x5"), None);
}

#[test]
fn refuses_a_hole_that_does_not_fit() {
    assert!(rulings(&bore(Member::Stud, "2x4", 4.0)).is_err());
    assert!(rulings(&bore(Member::Stud, "2x4", 0.0)).is_err());
    let beyond = Bore { from_edge_m: Some(2.0 * IN), ..bore(Member::Stud, "2x4", 2.0) };
    assert!(rulings(&beyond).is_err());
}

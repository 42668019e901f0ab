//! Sheets of a job worked out by hand.
use super::fixture::gull_cottage;
use super::joints;
use super::tables::{arc_round_tube_m, concerns, roll_words};
use super::*;
use crate::company::{RoughIn, Rule};
use crate::measure::{Lengths, Say};

const FT: Say = Say {
    lengths: Lengths::FtIn,
};

#[test]
fn joints_run_from_valve_to_stop_with_no_end_left_out() {
    let fixture = gull_cottage();
    let worked = fixture.worked();
    let part = worked.inlets().next().unwrap();
    let list = joints::raceway(&worked, &part);
    let told: Vec<String> = list
        .iter()
        .map(|j| format!("{} {}-{}", j.mark, j.from, j.to))
        .collect();
    assert_eq!(
        told[..6],
        [
            "J1 valve-A1",
            "J2 A1-B1",
            "J3 B1-A2a",
            "J4 A2a-coupling",
            "J5 coupling-A2b",
            "J6 A2b-B2"
        ]
    );
    assert_eq!(list.last().unwrap().to, "stop");
    // Every piece has two ends: twice as many joints as pieces.
    let pieces: usize = part.cuts.iter().map(|cut| cut.pieces.len()).sum();
    assert_eq!(list.len(), 2 * pieces);
}

#[test]
fn a_tube_that_cannot_be_cut_keeps_its_joints() {
    let fixture = gull_cottage();
    let worked = fixture.worked();
    let part = worked.inlets().nth(1).unwrap();
    let list = joints::raceway(&worked, &part);
    let amiss: Vec<&str> = list.iter().filter(|j| j.amiss).map(|j| j.mark.as_str()).collect();
    assert_eq!(amiss.len(), 2);
    assert!(
        list.iter()
            .enumerate()
            .all(|(i, joint)| joint.mark == format!("J{}", i + 1))
    );
    assert_eq!(
        list[0].insertion_m, None,
        "the fixture's second valve gives no socket"
    );
}

#[test]
fn onward_joints_count_on_and_end_in_the_junction() {
    let fixture = gull_cottage();
    let worked = fixture.worked();
    let part = worked.inlets().next().unwrap();
    let list = joints::onward(&worked, &part, 17);
    assert_eq!(
        (list[0].mark.as_str(), list[0].from.as_str(), list[0].to.as_str()),
        ("J17", "stop", "O1")
    );
    assert_eq!(list.last().unwrap().to, "wye with a 45 on main");
}

#[test]
fn rolls_are_told_as_a_crew_says_them() {
    assert_eq!(roll_words(FT, None), "first bend");
    assert_eq!(roll_words(FT, Some(0.0)), "in line, turns on the same way");
    assert_eq!(roll_words(FT, Some(-180.0)), "180°, turns back the other way");
    assert_eq!(roll_words(FT, Some(90.0)), "90° clockwise");
    assert_eq!(roll_words(FT, Some(-22.5)), "22-1/2° counter-clockwise");
}

#[test]
fn a_full_turn_is_the_whole_way_round() {
    assert!((arc_round_tube_m(360.0, 1.0) - std::f64::consts::PI).abs() < 1e-12);
    assert_eq!(arc_round_tube_m(0.0, 1.0), 0.0);
}

#[test]
fn a_gasket_line_concerns_only_valves_sealed_by_the_door() {
    let fixture = gull_cottage();
    let Rule::ByEye(line) = &fixture.standards[1].clause("gasket").unwrap().rule else {
        panic!("by eye")
    };
    assert!(concerns(line, &fixture.catalog.valves[0]));
    assert!(!concerns(line, &fixture.catalog.valves[1]));
    let framed = crate::company::ByEye {
        rough_in: Some(RoughIn::Frame),
        ..line.clone()
    };
    assert!(concerns(&framed, &fixture.catalog.valves[0]));
}

#[test]
fn cautions_come_from_the_job() {
    let mut fixture = gull_cottage();
    let ids = |f: &fixture::Fixture| -> Vec<&str> {
        cautions::cautions(&f.job, &f.routes)
            .iter()
            .map(|c| c.id)
            .collect()
    };
    let old = ids(&fixture);
    for id in [
        "lead",
        "asbestos",
        "hidden-services",
        "fireblock",
        "attic",
        "ladder",
        "cement",
        "mains",
        "exhaust",
    ] {
        assert!(old.contains(&id), "{id}");
    }
    assert!(!old.contains(&"garage-wall") && !old.contains(&"engineered"));
    fixture.job.built = Some(1979);
    assert!(!ids(&fixture).contains(&"lead") && ids(&fixture).contains(&"asbestos"));
    fixture.job.built = Some(1980);
    assert!(!ids(&fixture).contains(&"asbestos"));
    fixture.routes.raceways[0].legs[0].crossings[0].1.garage_wall = true;
    assert!(ids(&fixture).contains(&"garage-wall"));
}

#[test]
fn sheets_are_numbered_in_the_order_in_which_they_stand() {
    let fixture = gull_cottage();
    let out = Outline::of(&fixture.job);
    let numbers: Vec<&str> = out.entries.iter().map(|e| e.number.as_str()).collect();
    let mut sorted = numbers.clone();
    sorted.sort();
    assert_eq!(numbers, sorted);
    assert_eq!(
        out.files(),
        [
            "index.html",
            "takeoff.html",
            "lines.html",
            "owner.html",
            "hall.html",
            "loft.html"
        ]
    );
}

#[test]
fn inlets_named_like_a_page_of_the_job_get_a_page_of_their_own() {
    let mut fixture = gull_cottage();
    fixture.job.inlets[0].id = "index".into();
    fixture.job.inlets[1].id = "Index".into();
    let out = Outline::of(&fixture.job);
    assert_eq!(out.files()[4..], ["index-2.html", "index-3.html"]);
}

#[test]
fn title_blocks_lead_on_within_a_page_and_across_pages() {
    let fixture = gull_cottage();
    let worked = fixture.worked();
    let out = Outline::of(&fixture.job);
    let here = Place::page("jobs/harbour/gull-cottage/hall.html");
    let sheets = sheets(&worked, &fixture::pictures(), &out, &here);
    assert_eq!(sheets.len(), 4);
    assert_eq!(sheets[0].block.previous.as_ref().unwrap().href, "owner.html");
    assert_eq!(sheets[0].block.next.as_ref().unwrap().href, "#J-1.2");
    assert_eq!(sheets[3].block.next.as_ref().unwrap().href, "loft.html");
    assert_eq!((sheets[0].block.nth, sheets[0].block.of), (5, 12));
    let whole = super::sheets(
        &worked,
        &fixture::pictures(),
        &out,
        &Place::packet("jobs/harbour/gull-cottage/packet.html"),
    );
    assert_eq!(whole.len(), 12);
    assert!(
        whole
            .iter()
            .filter_map(|s| s.block.next.as_ref())
            .all(|link| link.href.starts_with('#'))
    );
}

#[test]
fn the_worst_finding_stands_first_and_balloons_keep_the_drawings_order() {
    let fixture = gull_cottage();
    let rows = sheet::finding_rows(
        &fixture.findings.inlets[0],
        "2026-1",
        &Place::page("jobs/x/y.html"),
    );
    assert_eq!(
        (rows[0].stamp.word.as_str(), rows[0].balloon.as_str()),
        ("caution", "1")
    );
    assert_eq!(rows[0].href, "../../standard/2026-1/bend-spacing.html");
    assert_eq!(rows[0].remedy, "Move B3 3 in on.");
    assert_eq!(rows[1].balloon, "");
}

//! Each caution prints when it should and not otherwise; the source of each rule stands beside it.
use super::*;
use crate::company::{Level, Step};
use crate::packet::fixture::{Fixture, gull_cottage};
use crate::text::Place;
use glam::DVec3;

fn told(fixture: &Fixture) -> Vec<Caution> {
    cautions(&fixture.job, &fixture.work().lines)
}

fn has(fixture: &Fixture, id: &str) -> bool {
    told(fixture).iter().any(|caution| caution.id == id)
}

/// The first bore of the first inlet.
fn first_bore(fixture: &mut Fixture) -> &mut Crossing {
    let Step::Run(run) = &mut fixture.job.lines[0].steps[0] else { panic!("a run") };
    &mut run.crossings[0]
}

/// The job with nothing bored and no level named.
fn bare() -> Fixture {
    let mut fixture = gull_cottage();
    let Step::Run(run) = &mut fixture.job.lines[0].steps[0] else { panic!("a run") };
    run.crossings.clear();
    fixture
}

#[test]
fn every_job_is_told_of_cement_power_wire_and_exhaust() {
    let fixture = bare();
    for id in ["cement", "power", "control-wire", "exhaust", "hidden-services", "ladder", "attic"] {
        assert!(has(&fixture, id), "{id}");
    }
    for id in ["garage-wall", "engineered", "silica", "fireblock"] {
        assert!(!has(&fixture, id), "{id}");
    }
}

/// 40 CFR 745: housing built before 1978.
#[test]
fn published_year_of_lead() {
    for (built, expected) in [(Some(1977), true), (Some(1978), false), (None, true)] {
        let mut fixture = gull_cottage();
        fixture.job.built = built;
        assert_eq!(has(&fixture, "lead"), expected, "{built:?}");
    }
}

/// 29 CFR 1910.1001(j), 1926.1101(k): buildings built no later than 1980.
#[test]
fn published_year_of_asbestos() {
    for (built, expected) in [(Some(1980), true), (Some(1981), false), (None, true)] {
        let mut fixture = gull_cottage();
        fixture.job.built = built;
        assert_eq!(has(&fixture, "asbestos"), expected, "{built:?}");
    }
}

/// EPA and ATSDR guidance: the mine ran to 1990; what matters is loose insulation where a line rises.
#[test]
fn published_year_of_vermiculite() {
    for (built, expected) in [(Some(1990), true), (Some(1991), false), (None, true)] {
        let mut fixture = gull_cottage();
        fixture.job.built = built;
        assert_eq!(has(&fixture, "vermiculite"), expected, "{built:?}");
    }
    let mut downward = gull_cottage();
    downward.job.built = Some(1962);
    downward.job.inlets.truncate(1);
    downward.job.lines.remove(1);
    assert!(!has(&downward, "vermiculite"), "nothing rises into an attic");
}

/// IRC R302.11, item 4: at floor and ceiling level, whether or not the bore says that it is one.
#[test]
fn fireblock_follows_from_a_plate_and_from_a_level_passed() {
    let mut plate = gull_cottage();
    first_bore(&mut plate).floor_line = false;
    assert!(has(&plate, "fireblock"), "the bore of a plate is one");

    let mut level = bare();
    level.job.levels = vec![Level { name: "Attic floor".into(), up_m: 1.0, place: Place::default() }];
    assert!(!has(&level, "fireblock"), "without the inlet's place its height is not known");
    level.job.lines[1].start = Some(DVec3::ZERO);
    let hidden = told(&level).into_iter().find(|caution| caution.id == "hidden-services").unwrap();
    assert!(has(&level, "fireblock"));
    assert_eq!(hidden.because, "1 floor or ceiling passed");
}

/// What is loaded for fireblocking and the caution that speaks of it come together or not at all.
#[test]
fn sealant_is_loaded_when_the_caution_prints_and_only_then() {
    let sealant = |fixture: &Fixture| {
        fixture
            .work()
            .items
            .iter()
            .find(|item| item.part.starts_with("fireblock"))
            .map(|item| item.part.clone())
    };
    let mut garage = bare();
    assert_eq!((sealant(&garage), has(&garage, "fireblock")), (None, false));
    let plate = gull_cottage();
    assert_eq!(sealant(&plate).as_deref(), Some("fireblock sealant for 1 hole"));
    assert!(has(&plate, "fireblock"));
    garage.job.levels = vec![Level { name: "Attic floor".into(), up_m: 1.0, place: Place::default() }];
    garage.job.lines[1].start = Some(DVec3::ZERO);
    assert_eq!(sealant(&garage).is_some(), has(&garage, "fireblock"));
    assert!(sealant(&garage).is_some());
}

#[test]
fn a_bore_and_the_level_that_it_passes_are_one_hole() {
    let mut fixture = gull_cottage();
    fixture.job.lines[0].start = Some(DVec3::ZERO);
    // The bore lies 1 ft 5 in down, 0.43 m.
    fixture.job.levels = vec![Level { name: "First floor".into(), up_m: -0.5, place: Place::default() }];
    let fireblock = |fixture: &Fixture| told(fixture).into_iter().find(|c| c.id == "fireblock").unwrap();
    assert!(fireblock(&fixture).because.starts_with("1 hole "), "{}", fireblock(&fixture).because);
    fixture.job.levels[0].up_m = -1.2;
    assert!(fireblock(&fixture).because.starts_with("2 holes "), "{}", fireblock(&fixture).because);
}

/// 29 CFR 1926.1153: respirable silica, wherever masonry is drilled.
#[test]
fn published_silica_of_masonry() {
    let mut fixture = gull_cottage();
    assert!(!has(&fixture, "silica"));
    first_bore(&mut fixture).member = Member::Masonry;
    assert!(has(&fixture, "silica") && has(&fixture, "engineered"));
}

/// IRC R302.5.2: No. 26 gage sheet steel or other approved material, no openings into the garage.
#[test]
fn published_words_of_the_garage_wall() {
    let mut fixture = gull_cottage();
    first_bore(&mut fixture).garage_wall = true;
    let garage = told(&fixture).into_iter().find(|caution| caution.id == "garage-wall").unwrap();
    assert!(garage.what.contains("No. 26 gage sheet steel or other approved material"));
    assert!(garage.what.contains("no openings into the garage"));
}

#[test]
fn each_says_who_must_do_it_and_where_it_comes_from() {
    let mut fixture = gull_cottage();
    fixture.job.built = None;
    first_bore(&mut fixture).member = Member::Masonry;
    first_bore(&mut fixture).garage_wall = true;
    for caution in told(&fixture) {
        assert!(!caution.who.is_empty() && !caution.what.is_empty() && !caution.source.is_empty());
        let code = ["IRC", "NFPA"].iter().any(|code| caution.source.contains(code));
        assert!(
            !code || caution.source.contains("the local code decide"),
            "{}: {}",
            caution.id,
            caution.source
        );
    }
}

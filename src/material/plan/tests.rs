use proptest::prelude::*;

use super::*;
use crate::material::{STEPS, cut_by_rule, split};

/// Eight-foot sticks, as in the demo's catalog.
const EIGHT_FOOT: Stock = Stock {
    stick_m: 2.4384,
    kerf_m: 0.003175,
    shortest_m: 0.1016,
    coupling_gap_m: 0.003175,
    coupling_socket_m: 0.028575,
};

fn tube(owner: &str, mark: &str, clear_m: f64) -> NamedTube {
    NamedTube {
        mark: mark.into(),
        owner: owner.into(),
        clear_m,
        keep_clear: vec![],
    }
}

fn default_splits(tubes: &[NamedTube], stock: &Stock) -> Vec<Vec<f64>> {
    let bare = |t: &NamedTube| TubeToSplit {
        clear_m: t.clear_m,
        keep_clear: t.keep_clear.clone(),
    };
    tubes.iter().filter_map(|t| split(&bare(t), stock).ok()).collect()
}

/// Plans, and checks all that a plan promises.
fn sound(tubes: &[NamedTube], stock: &Stock) -> CuttingPlan {
    let plan = plan(tubes, stock, STEPS).unwrap();
    assert_eq!(plan.tubes.len() + plan.unsplit.len(), tubes.len());
    let mut asked: Vec<(String, String)> = Vec::new();
    for tube in &plan.tubes {
        let sum: f64 = tube.pieces.iter().map(|p| p.length_m).sum();
        let gaps = stock.coupling_gap_m * tube.couplings.len() as f64;
        assert!((sum + gaps - tube.clear_m).abs() <= 1e-9);
        assert_eq!(tube.pieces.len(), tube.couplings.len() + 1);
        asked.extend(tube.pieces.iter().map(|p| (tube.owner.clone(), p.mark.clone())));
    }
    let mut cut: Vec<(String, String)> = Vec::new();
    for stick in &plan.sticks {
        let total: f64 = stick.pieces.iter().map(|p| p.length_m).sum();
        let kerfs = stock.kerf_m * (stick.pieces.len() as f64 - 1.0);
        // A micrometre is above the rounding that `cut` states and below any saw.
        assert!(total + kerfs <= stock.stick_m + 1e-6);
        cut.extend(stick.pieces.iter().map(|p| (p.owner.clone(), p.mark.clone())));
    }
    asked.sort();
    cut.sort();
    assert_eq!(asked, cut, "every piece on one stick");
    let sticks = plan.sticks.len();
    assert!(plan.least_for_any_split <= sticks && plan.lower_bound <= sticks);
    assert!(
        sticks
            <= cut_by_rule(&default_splits(tubes, stock).concat(), stock)
                .unwrap()
                .sticks
                .len()
    );
    plan
}

#[test]
fn pieces_are_marked_by_tube_and_letter() {
    let plan = sound(
        &[
            tube("hall", "A1", 1.0),
            tube("hall", "A2", 6.0),
            tube("den", "A1", 1.0),
        ],
        &EIGHT_FOOT,
    );
    let marks = |t: &SplitTube| t.pieces.iter().map(|p| p.mark.clone()).collect::<Vec<_>>();
    assert_eq!(marks(&plan.tubes[0]), ["A1"]);
    assert_eq!(marks(&plan.tubes[1]), ["A2a", "A2b", "A2c"]);
    assert_eq!(plan.tubes[1].pieces[1].from_m, 2.4384 + 0.003175);
    assert_eq!(
        (letters(25), letters(26), letters(701), letters(702)),
        ("z".into(), "aa".into(), "zz".into(), "aaa".into())
    );
}

#[test]
fn a_mark_used_twice_is_refused() {
    let twice = plan(
        &[tube("hall", "A1", 1.0), tube("hall", "A1", 2.0)],
        &EIGHT_FOOT,
        STEPS,
    );
    let error = twice.unwrap_err();
    assert_eq!(error.to_string(), "two pieces of hall would both be marked A1");
    let hidden = plan(
        &[tube("hall", "A1", 4.0), tube("hall", "A1b", 1.0)],
        &EIGHT_FOOT,
        STEPS,
    );
    assert_eq!(
        hidden,
        Err(PlanError::MarkTwice {
            owner: "hall".into(),
            mark: "A1b".into()
        })
    );
}

#[test]
fn a_tube_that_cannot_be_made_does_not_stop_the_others() {
    let plan = sound(&[tube("hall", "A1", 0.05), tube("hall", "A2", 2.0)], &EIGHT_FOOT);
    assert_eq!(plan.sticks.len(), 1);
    assert_eq!(
        plan.unsplit[0].error,
        SplitError::TooShort {
            clear_m: 0.05,
            shortest_m: 0.1016
        }
    );
}

#[test]
fn zero_tubes_take_no_stick() {
    let plan = sound(&[], &EIGHT_FOOT);
    assert_eq!(
        (plan.sticks.len(), plan.proven, plan.least_for_any_split),
        (0, true, 0)
    );
}

/// Ten-long sticks, no kerf: 15 is 10 and 5, 9 and 3 are whole. 10 | 5 3 | 9 waste 3 of 30, fine; but
/// with 12.5 and 7 and 8.5 the default 10 | 2.5 7 | 8.5 is also 3. Where the default wastes a stick:
/// 14 (10 and 4), 7, 9: 10 | 4 | 7 | 9 is four, and 7 with 3, 9 with 1 needs 14 cut as 10 and 4 or less
/// of each; 14 as 7 and 7 is no better; so `least` must not claim three.
#[test]
fn placeholder() {}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn plans_are_sound_for_any_job(clear in prop::collection::vec(0.05f64..7.0, 0..20)) {
        let tubes: Vec<NamedTube> =
            clear.iter().enumerate().map(|(i, m)| tube("hall", &format!("A{i}"), *m)).collect();
        let plan = sound(&tubes, &EIGHT_FOOT);
        prop_assert_eq!(sound(&tubes, &EIGHT_FOOT), plan);
    }
}

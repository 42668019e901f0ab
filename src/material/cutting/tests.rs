use proptest::prelude::*;

use super::*;

fn stock(stick_m: f64, kerf_m: f64) -> Stock {
    Stock { stick_m, kerf_m, mark_m: 0.0, shortest_m: 0.0, coupling_gap_m: 0.0, coupling_socket_m: 0.0 }
}

fn list(counted: &[(f64, usize)]) -> Vec<f64> {
    counted.iter().flat_map(|(length, count)| std::iter::repeat_n(*length, *count)).collect()
}

/// Plans, and checks all that a plan promises.
fn sound(lengths: &[f64], stock: &Stock) -> Plan {
    let plan = cut(lengths, stock, STEPS).unwrap();
    let mut seen: Vec<usize> = plan.sticks.iter().flat_map(|s| s.pieces.iter().map(|p| p.index)).collect();
    seen.sort_unstable();
    assert_eq!(seen, (0..lengths.len()).collect::<Vec<_>>(), "every piece once");
    for stick in &plan.sticks {
        let total: f64 = stick.pieces.iter().map(|p| p.length_m).sum();
        let cuts = stick.pieces.len() as f64 - 1.0;
        // A micrometre is above the rounding that `cut` states and below any saw.
        assert!(total + cuts * stock.kerf_m <= stock.stick_m + 1e-6, "over the stick: {stick:?}");
        assert!(stick.pieces.windows(2).all(|w| w[0].length_m >= w[1].length_m), "longest first");
        assert!(stick.pieces.iter().all(|p| p.length_m == lengths[p.index]));
        assert_eq!(stick.offcut_m, stock.offcut_m(total, stick.pieces.len()));
    }
    assert!(plan.lower_bound <= plan.sticks.len());
    assert_eq!(plan.proven, plan.lower_bound == plan.sticks.len());
    assert!(plan.sticks.len() <= cut_by_rule(lengths, stock).unwrap().sticks.len());
    plan
}

fn proven_at(sticks: usize, stick_m: f64, counted: &[(f64, usize)]) {
    let plan = sound(&list(counted), &stock(stick_m, 0.0));
    assert_eq!((plan.sticks.len(), plan.proven), (sticks, true), "bound {}", plan.lower_bound);
}

// The optima below were proved by enumerating every pattern and solving the whole-number programme;
// the tolerance of a count is none.

/// V. Chvatal, Linear Programming (1983), chapter 13: width 100, linear optimum 452.25.
#[test]
fn published_chvatal_raw_rolls() {
    proven_at(453, 100.0, &[(45.0, 97), (36.0, 610), (31.0, 395), (14.0, 211)]);
}

/// The thirteen-width paper-roll example of an open encyclopedia's cutting-stock article: width 5600,
/// bound 72.7 by length, 73 the optimum.
#[test]
fn published_encyclopedia_paper_rolls() {
    let rolls = [
        (1380.0, 22),
        (1520.0, 25),
        (1560.0, 12),
        (1710.0, 14),
        (1820.0, 18),
        (1880.0, 18),
        (1930.0, 20),
        (2000.0, 10),
        (2050.0, 12),
        (2100.0, 14),
        (2140.0, 16),
        (2150.0, 18),
        (2200.0, 20),
    ];
    proven_at(73, 5600.0, &rolls);
}

/// R. Fourer, D. M. Gay, B. W. Kernighan, AMPL, the roll-cutting example (data from memory): width
/// 110, linear optimum 46.25; and the same rolls from a width of 90, linear optimum 59.5.
#[test]
fn published_ampl_rolls() {
    let rolls = [(20.0, 48), (45.0, 35), (50.0, 24), (55.0, 10), (75.0, 8)];
    proven_at(47, 110.0, &rolls);
    proven_at(60, 90.0, &rolls);
}

/// The cutting-stock sample of a constraint-modelling language's library: width 10.
#[test]
fn published_minizinc_sample() {
    proven_at(4, 10.0, &[(7.0, 2), (5.0, 2), (3.0, 4)]);
}

const BINS: [f64; 11] = [48.0, 30.0, 19.0, 36.0, 36.0, 27.0, 42.0, 42.0, 36.0, 24.0, 30.0];

/// The bin-packing sample of a solver library's guide (data from memory): capacity 100, sum 370.
#[test]
fn published_bin_packing_sample() {
    let plan = sound(&BINS, &stock(100.0, 0.0));
    assert_eq!((plan.sticks.len(), plan.proven), (4, true));
}

/// With one more 24 the sum is 394, so that the bounds by length say 4; only a search shows that 5
/// are needed.
#[test]
fn search_raises_the_bound_when_length_alone_would_fit() {
    let lengths: Vec<f64> = BINS.iter().copied().chain([24.0]).collect();
    let packing = Packing::of(&lengths, &stock(100.0, 0.0));
    assert_eq!(bounds::first(&packing), 4);
    let plan = sound(&lengths, &stock(100.0, 0.0));
    assert_eq!((plan.sticks.len(), plan.lower_bound, plan.proven), (5, 5, true));
}

#[test]
fn without_steps_the_plan_stands_and_nothing_more_is_claimed() {
    let lengths: Vec<f64> = BINS.iter().copied().chain([24.0]).collect();
    let plan = cut(&lengths, &stock(100.0, 0.0), 0).unwrap();
    assert_eq!((plan.sticks.len(), plan.lower_bound, plan.proven), (5, 4, false));
}

/// Two pieces of half a stick fit one stick without a kerf and not with one; two and one kerf that are
/// just a stick do.
#[test]
fn kerf_is_lost_between_pieces_only() {
    assert_eq!(sound(&[1.2192, 1.2192], &stock(2.4384, 0.0)).sticks.len(), 1);
    assert_eq!(sound(&[1.2192, 1.2192], &stock(2.4384, 0.003175)).sticks.len(), 2);
    let plan = sound(&[1.2192, 1.2192 - 0.003175], &stock(2.4384, 0.003175));
    assert_eq!((plan.sticks.len(), plan.sticks[0].offcut_m), (1, 0.0));
    assert_eq!(sound(&[2.4384; 3], &stock(2.4384, 0.003175)).sticks.len(), 3);
}

#[test]
fn zero_pieces_take_no_stick() {
    let plan = sound(&[], &stock(2.0, 0.0));
    assert_eq!((plan.sticks.len(), plan.lower_bound, plan.proven), (0, 0, true));
}

#[test]
fn offcuts_long_enough_are_kept() {
    let keeping = Stock { shortest_m: 0.5, ..stock(2.0, 0.01) };
    let plan = cut(&[1.4, 1.6], &keeping, STEPS).unwrap();
    let kept: Vec<bool> = plan.sticks.iter().map(|s| s.kept).collect();
    assert_eq!(kept, [false, true]);
    // 2 less 1.4 less a kerf of 0.01, exact to rounding.
    assert!((plan.sticks[1].offcut_m - 0.59).abs() < 1e-12);
}

#[test]
fn pieces_that_cannot_be_cut_are_refused() {
    let two = stock(2.0, 0.0);
    let over = CutError::OverStick { index: 1, length_m: 2.1, stick_m: 2.0 };
    assert_eq!(cut(&[1.0, 2.1], &two, STEPS), Err(over.clone()));
    assert_eq!(over.to_string(), "a piece of 2.1 m is longer than the stick, 2 m");
    assert!(matches!(cut(&[0.0], &two, STEPS), Err(CutError::NotALength { index: 0, .. })));
    assert!(matches!(cut(&[f64::NAN], &two, STEPS), Err(CutError::NotALength { .. })));
    assert!(matches!(cut(&[1.0], &stock(-2.0, 0.0), STEPS), Err(CutError::Stock(_))));
}

/// All ways to put pieces on sticks, without any bound: another method, for short lists.
fn least_by_trying_all(lengths: &[i64], stick: i64, kerf: i64) -> usize {
    fn place(lengths: &[i64], rooms: &mut Vec<i64>, whole: i64, best: &mut usize) {
        if rooms.len() >= *best {
            return;
        }
        let Some((first, rest)) = lengths.split_first() else {
            *best = rooms.len();
            return;
        };
        for i in 0..rooms.len() {
            if rooms[i] >= *first {
                rooms[i] -= first;
                place(rest, rooms, whole, best);
                rooms[i] += first;
            }
        }
        rooms.push(whole - first);
        place(rest, rooms, whole, best);
        rooms.pop();
    }
    let folded: Vec<i64> = lengths.iter().map(|l| l + kerf).collect();
    let mut best = lengths.len() + 1;
    place(&folded, &mut Vec::new(), stick + kerf, &mut best);
    best
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn agrees_with_every_placing_tried(lengths in prop::collection::vec(1i64..=40, 0..9), kerf in 0i64..3) {
        let metres: Vec<f64> = lengths.iter().map(|l| *l as f64 / 16.0).collect();
        let plan = sound(&metres, &stock(40.0 / 16.0, kerf as f64 / 16.0));
        prop_assert!(plan.proven);
        prop_assert_eq!(plan.sticks.len(), least_by_trying_all(&lengths, 40, kerf));
    }

    #[test]
    fn plans_are_sound_for_any_job(lengths in prop::collection::vec(0.05f64..2.4384, 0..60)) {
        let eight_foot = stock(2.4384, 0.003175);
        let plan = sound(&lengths, &eight_foot);
        prop_assert_eq!(cut(&lengths, &eight_foot, STEPS).unwrap(), plan);
    }

    #[test]
    fn grows_with_one_more_piece(lengths in prop::collection::vec(0.1f64..2.0, 1..25)) {
        let whole = sound(&lengths, &stock(2.0, 0.003));
        let fewer = sound(&lengths[1..], &stock(2.0, 0.003));
        if whole.proven && fewer.proven {
            prop_assert!(fewer.sticks.len() <= whole.sticks.len());
            prop_assert!(whole.sticks.len() <= fewer.sticks.len() + 1);
        }
    }
}

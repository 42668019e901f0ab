use proptest::prelude::*;

use super::*;

/// Eight-foot sticks, as in the demo's catalog: 1/8 in kerf and gap, 4 in shortest, 1-1/8 in socket.
const STOCK: Stock = Stock {
    stick_m: 2.4384,
    kerf_m: 0.003175,
    mark_m: 0.0,
    shortest_m: 0.1016,
    coupling_gap_m: 0.003175,
    coupling_socket_m: 0.028575,
};

fn tube(clear_m: f64, keep_clear: &[(f64, f64)]) -> TubeToSplit {
    TubeToSplit { clear_m, keep_clear: keep_clear.to_vec() }
}

/// All that a split promises, to the nanometre that lengths are compared to.
fn assert_sound(pieces: &[f64], tube: &TubeToSplit, stock: &Stock) {
    let n = pieces.len();
    let sum = pieces.iter().sum::<f64>() + stock.coupling_gap_m * (n as f64 - 1.0);
    assert!((sum - tube.clear_m).abs() <= SAME_M, "{pieces:?} are {sum}, not {}", tube.clear_m);
    let least = if n > 1 { stock.shortest_m.max(2.0 * stock.coupling_socket_m) } else { stock.shortest_m };
    // Rounding of stations adds up over the pieces; a micrometre is still far below a saw.
    for piece in pieces {
        assert!(*piece >= least - 1e-6 && *piece <= stock.stick_m + 1e-6, "{piece} in {pieces:?}");
    }
    for (from, to) in couplings(pieces, stock) {
        assert!(
            from >= stock.coupling_socket_m - 1e-6 && to <= tube.clear_m - stock.coupling_socket_m + 1e-6
        );
        for (a, b) in &tube.keep_clear {
            assert!(to <= a + 1e-6 || from >= b - 1e-6, "coupling {from}..{to} over {a}..{b}");
        }
    }
}

fn sound(tube: &TubeToSplit) -> Vec<f64> {
    let pieces = split(tube, &STOCK).unwrap();
    assert_sound(&pieces, tube, &STOCK);
    pieces
}

#[test]
fn a_tube_up_to_a_stick_is_one_piece() {
    assert_eq!(sound(&tube(2.4384, &[(0.0, 2.4384)])), [2.4384]);
    assert_eq!(sound(&tube(0.1016, &[])), [0.1016]);
}

#[test]
fn full_sticks_come_first_and_the_rest_last() {
    let pieces = sound(&tube(6.0, &[]));
    assert_eq!(pieces[..2], [2.4384, 2.4384]);
    // 6 - 2 x 2.4384 - 2 x 0.003175
    assert!((pieces[2] - 1.11685).abs() < 1e-12);
}

#[test]
fn two_sticks_and_a_gap_are_just_two_pieces() {
    assert_eq!(sound(&tube(2.0 * 2.4384 + 0.003175, &[])).len(), 2);
    assert_eq!(sound(&tube(2.0 * 2.4384 + 0.003175 + 1e-6, &[])).len(), 3);
}

#[test]
fn a_rest_too_short_is_made_up_from_the_piece_before_it() {
    // 3 cm over a stick: the second piece must be 4 in, so the first is cut as well.
    let pieces = sound(&tube(2.4384 + 0.003175 + 0.03, &[]));
    assert_eq!(pieces.len(), 2);
    // The first piece leaves just what is kept (4 in after a kerf), rather than 7 cm to throw away.
    assert!((STOCK.offcut_m(pieces[0], 1) - 0.1016).abs() < 1e-9, "{pieces:?}");
}

#[test]
fn a_full_stick_goes_last_when_framing_is_in_the_way_of_it_first() {
    // A joist over the place where a full stick from the valve would end.
    let pieces = sound(&tube(4.0, &[(2.42, 2.46)]));
    assert!((pieces[1] - 2.4384).abs() < 1e-9, "{pieces:?}");
}

#[test]
fn a_coupling_moves_towards_the_valve_to_clear_framing() {
    // As before, with a second joist where a full stick from the stop would begin.
    let pieces = sound(&tube(4.0, &[(2.3, 2.46), (1.5, 1.65)]));
    // The coupling's far mouth touches the joist: 2.3 - 0.028575 - 0.003175.
    assert!((pieces[0] - 2.26825).abs() < 1e-9, "{pieces:?}");
}

#[test]
fn one_piece_more_is_taken_when_the_fewest_leave_no_place() {
    // 4.8 m needs its one coupling between 2.3584 and 2.4384 m, which the framing covers.
    let pieces = sound(&tube(4.8, &[(2.3, 2.5)]));
    assert_eq!(pieces.len(), 3);
}

/// Found by the search below: one place for the coupling, between two crossings that leave just its length.
#[test]
fn a_coupling_just_fits_between_two_crossings() {
    let stock = Stock {
        stick_m: 0.8,
        kerf_m: 0.0,
        mark_m: 0.0,
        shortest_m: 0.1,
        coupling_gap_m: 0.004,
        coupling_socket_m: 0.03,
    };
    let pieces = split(&tube(1.24, &[(0.466, 0.658), (0.722, 0.772)]), &stock).unwrap();
    assert_eq!(pieces.len(), 2);
    assert!((pieces[0] - 0.688).abs() < 1e-9 && (pieces[1] - 0.548).abs() < 1e-9);
}

#[test]
fn framing_longer_than_a_stick_cannot_be_passed() {
    let error = split(&tube(6.0, &[(1.0, 4.0)]), &STOCK).unwrap_err();
    let SplitError::NoPlace { fewest, reached_m, .. } = error else { panic!("{error}") };
    assert_eq!(fewest, 3);
    // The last place before the framing: 1 - 0.028575 - 0.003175.
    assert!((reached_m - 0.96825).abs() < 1e-9);
    assert!(error.to_string().starts_with("a tube of 6 m cannot be coupled: with 3 to "));
}

#[test]
fn what_is_no_tube_is_refused() {
    let refused = |clear_m: f64, keep: &[(f64, f64)]| split(&tube(clear_m, keep), &STOCK).unwrap_err();
    assert_eq!(refused(0.0, &[]), SplitError::NotALength { clear_m: 0.0 });
    assert_eq!(refused(-1.0, &[]), SplitError::NotALength { clear_m: -1.0 });
    assert!(matches!(refused(f64::INFINITY, &[]), SplitError::NotALength { .. }));
    assert_eq!(refused(0.1, &[]), SplitError::TooShort { clear_m: 0.1, shortest_m: 0.1016 });
    assert_eq!(refused(3.0, &[(2.0, 1.0)]), SplitError::KeepClear { from_m: 2.0, to_m: 1.0 });
    assert!(matches!(refused(1e9, &[]), SplitError::TooLong { .. }));
    let stock = Stock { stick_m: 0.0, ..STOCK };
    assert!(matches!(split(&tube(1.0, &[]), &stock), Err(SplitError::Stock(_))));
}

#[test]
fn wanted_lengths_are_offered_where_they_can_be_placed() {
    let offers = |keep: &[(f64, f64)]| alternatives(&tube(4.0, keep), &STOCK, &[1.75]).unwrap();
    let has = |offers: &[Vec<f64>]| offers.iter().flatten().any(|p| (p - 1.75).abs() < 1e-9);
    assert!(has(&offers(&[])));
    // Both ways to place it, from the valve and from the stop, are covered by framing.
    assert!(!has(&offers(&[(1.7, 1.8), (2.2, 2.3)])));
}

proptest! {
    #[test]
    fn splits_are_sound_for_any_tube(
        clear in 0.11f64..25.0,
        crossings in prop::collection::vec((0.0f64..1.0, 0.0f64..0.2), 0..8),
        wanted in prop::collection::vec(0.1f64..2.4, 0..6),
    ) {
        let keep: Vec<(f64, f64)> = crossings.iter().map(|(at, w)| (at * clear, at * clear + w)).collect();
        let tube = tube(clear, &keep);
        let offered = alternatives(&tube, &STOCK, &wanted).unwrap();
        prop_assert!(!offered.is_empty() && offered.len() <= MOST_ALTERNATIVES);
        for pieces in &offered {
            assert_sound(pieces, &tube, &STOCK);
            prop_assert_eq!(pieces.len(), offered[0].len());
        }
        prop_assert_eq!(&split(&tube, &STOCK).unwrap().len(), &offered[0].len());
        prop_assert_eq!(offered, alternatives(&tube, &STOCK, &wanted).unwrap());
        if keep.is_empty() {
            let fewest = ((clear + 0.003175) / (2.4384 + 0.003175)).ceil() as usize;
            prop_assert_eq!(split(&tube, &STOCK).unwrap().len(), fewest);
        }
    }

    /// Coupling places stepped through on a fine grid: another method, which must not find a split
    /// with fewer pieces.
    #[test]
    fn agrees_with_places_stepped_through(
        clear_mm in 200usize..3000,
        crossings in prop::collection::vec((0usize..3000, 20usize..400), 0..4),
    ) {
        let stock = Stock { stick_m: 0.8, kerf_m: 0.0, mark_m: 0.0, shortest_m: 0.1, coupling_gap_m: 0.004, coupling_socket_m: 0.03 };
        let clear_mm = clear_mm / 2 * 2;
        let keep_mm: Vec<(usize, usize)> = crossings.iter().map(|(a, w)| (a / 2 * 2, (a + w) / 2 * 2)).collect();
        let mut reached = vec![usize::MAX; clear_mm + 5];
        // reached[s]: fewest pieces that end before station s, where the next piece begins.
        reached[0] = 0;
        for start in (0..clear_mm).step_by(2).filter(|s| *s <= clear_mm) {
            if reached[start] == usize::MAX { continue; }
            for end in (start + 100..=(start + 800).min(clear_mm)).step_by(2) {
                let body = (end - 30, end + 34);
                if end == clear_mm || (end + 104 <= clear_mm && keep_mm.iter().all(|(a, b)| body.1 <= *a || body.0 >= *b)) {
                    let next = if end == clear_mm { clear_mm + 4 } else { end + 4 };
                    reached[next] = reached[next].min(reached[start] + 1);
                }
            }
        }
        let keep: Vec<(f64, f64)> = keep_mm.iter().map(|(a, b)| (*a as f64 / 1e3, *b as f64 / 1e3)).collect();
        let ours = split(&tube(clear_mm as f64 / 1e3, &keep), &stock).map(|p| p.len()).ok();
        let stepped = Some(reached[clear_mm + 4]).filter(|n| *n != usize::MAX);
        prop_assert_eq!(ours, stepped);
    }
}

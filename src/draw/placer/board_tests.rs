//! The board while labels are put on it: small cases, and sheets strewn at random with strokes and boxes.
use super::around::{Round, round, round_below};
use super::board::{Board, dimension_stroke};
use super::what::What;
use crate::draw::hand::geo::{Quad, V2, v2};
use proptest::prelude::*;

fn board() -> Board {
    Board::new(Quad::rect(v2(0.0, 0.0), v2(60.0, 40.0)))
}

#[test]
fn labels_of_one_anchor_do_not_overlap() {
    let mut board = board();
    let size = v2(14.0, 4.0);
    let places: Vec<Quad> = (0..6)
        .filter_map(|_| board.place([], [round(v2(30.0, 20.0), size, V2::ZERO)], f64::MAX))
        .map(|chosen| chosen.words)
        .collect();
    assert_eq!(places.len(), 6);
    for (i, a) in places.iter().enumerate() {
        assert!(places[..i].iter().all(|b| !a.meets(b)));
    }
}

#[test]
fn no_room_is_told() {
    let mut board = board();
    board.take(board.frame, What::Object);
    assert!(board.place([], [round(v2(30.0, 20.0), v2(5.0, 4.0), V2::ZERO)], f64::MAX).is_none());
}

#[test]
fn a_leader_goes_round_words() {
    let mut board = board();
    board.take(Quad::rect(v2(20.0, 12.0), v2(40.0, 16.0)), What::Words);
    let chosen = board
        .place([], [round(v2(30.0, 20.0), v2(10.0, 4.0), v2(0.0, -1.0))], f64::MAX)
        .expect("there is room");
    let leader = chosen.leader.expect("round gives leaders");
    let words = Quad::rect(v2(20.0, 12.0), v2(40.0, 16.0));
    assert!(!Quad::stroke(leader.0, leader.1, 0.1).meets(&words));
}

fn anywhere() -> impl Strategy<Value = V2> {
    (-5.0..190.0f64, -5.0..95.0f64).prop_map(|(x, y)| v2(x, y))
}

/// A sheet with strokes and boxes of every kind on it.
fn strewn() -> impl Strategy<Value = Board> {
    use What::*;
    let kind = prop::sample::select(vec![Words, Object, Leader, Dimension, Level, Hatch, Light]);
    let thing = (anywhere(), anywhere(), 0.1..3.0f64, any::<bool>(), kind);
    prop::collection::vec(thing, 0..40).prop_map(|things| {
        let mut board = Board::new(Quad::rect(v2(0.5, 0.0), v2(185.5, 90.0)));
        for (a, b, half, stroke, what) in things {
            let quad = if stroke { Quad::stroke(a, b, half) } else { Quad::about(a, v2(9.0 * half, 4.6)) };
            board.take(quad, what);
        }
        board
    })
}

proptest! {
    #[test]
    fn a_search_finds_what_trying_every_place_finds(
        board in strewn(), at in anywhere(), off in -9.0..9.0f64, wide in 2.0..60.0f64, lines in 1.0..4.0f64,
        (x, y) in (-1.0..1.0f64, -1.0..1.0f64), limit in 5.0..60.0f64,
    ) {
        let (mut board, size, favoured) = (board, v2(wide, lines.floor() * 4.0), v2(x, y));
        let rounds = [round(at, size, favoured), round_below(at + off, size, favoured, limit).dearer(3.0)];
        let mut best: Option<((f64, f64, usize, usize), V2)> = None;
        for (which, mut round) in rounds.into_iter().enumerate() {
            for ring in 0..Round::RINGS {
                round.go_to(ring);
                let frame = Quad::rect(V2::splat(-1e4), V2::splat(1e4));
                round.each(&frame, f64::MAX, |_| true, |nth, place| {
                    let Some(cost) = board.cost(&place.candidate(), f64::MAX) else { return };
                    let rank = (cost, place.cost, which, nth);
                    if best.is_none_or(|(least, _)| rank < least) {
                        best = Some((rank, place.min));
                    }
                });
            }
        }
        let found = board.place([], rounds, f64::MAX);
        prop_assert_eq!(found.map(|place| place.words.min), best.map(|(_, min)| min));
    }

    #[test]
    fn where_a_line_is_forbidden_a_longer_one_is_too(
        board in strewn(), from in anywhere(), angle in 0.0..7.0f64, long in 0.1..60.0f64, more in 0.0..60.0f64,
    ) {
        let line = |mm: f64| dimension_stroke((from, from + V2::from_angle(angle) * mm));
        let price = |mm: f64| board.dimension_price(&line(mm), f64::MAX);
        prop_assert!(price(long).is_some() || price(long + more).is_none());
    }
}

//! Straights and bends one by one, against published figures, closed forms and finer steps.

use super::balance::{Along, drawn_in, drawn_in_from_tail, drawn_out};
use super::{Path, Piece};
use crate::reckon::check::{near, within};
use glam::DVec3;
use std::f64::consts::FRAC_PI_2;

fn straight(length_m: f64, along: DVec3) -> Piece {
    Piece::Straight { length_m, along }
}

fn arc(degrees: f64, radius_m: f64, along: DVec3, toward: DVec3) -> Piece {
    Piece::Arc { radius_m, angle_rad: degrees.to_radians(), along, toward }
}

fn path(pieces: &[Piece]) -> Path {
    Path::new(pieces.to_vec()).unwrap()
}

fn along(weight_n_per_m: f64, mu: f64) -> Along {
    Along { weight_n_per_m, mu, air_n_per_m: 0.0 }
}

/// Tension after one whole piece.
fn after(piece: Piece, start_n: f64, along: &Along) -> f64 {
    drawn_in(&path(&[piece]), piece.length_m(), start_n, along)
}

/// A level bend, exact: `T cosh(mu th) + sinh(mu th) sqrt(T² + (W R)²)`. Source: a pulling-lubricant maker's
/// engineering note.
fn level_bend(t: f64, mu: f64, wr: f64, th: f64) -> f64 {
    t * (mu * th).cosh() + (mu * th).sinh() * t.hypot(wr)
}

/// The capstan, `T e^(mu th)`: a line without weight.
fn capstan(t: f64, mu: f64, th: f64) -> f64 {
    t * (mu * th).exp()
}

/// Upright bends with one end level, in the order of [`upright`]: with `k = W R / (1 + mu²)`, `E = e^(mu th)`,
/// `A = 2 mu sin th - (1 - mu²)(E - cos th)`, `B = 2 mu E sin th + (1 - mu²)(1 - E cos th)` they are
/// `T E - k A`, `T E - k B`, `T E + k B` and `T E + k A`. Derived for this program, with the shape of the forms
/// in the cable-pulling guides of the electrical trade (from memory).
fn upright_forms(t: f64, mu: f64, wr: f64, th: f64) -> [f64; 4] {
    let (k, e, less) = (wr / (1.0 + mu * mu), (mu * th).exp(), 1.0 - mu * mu);
    let a = 2.0 * mu * th.sin() - less * (e - th.cos());
    let b = 2.0 * mu * e * th.sin() + less * (1.0 - e * th.cos());
    [t * e - k * a, t * e - k * b, t * e + k * b, t * e + k * a]
}

/// From level curving up; down a slope into level; up a slope into level; from level curving down.
fn upright(degrees: f64, radius_m: f64) -> [Piece; 4] {
    let (sin, cos) = degrees.to_radians().sin_cos();
    [
        arc(degrees, radius_m, DVec3::X, DVec3::Z),
        arc(degrees, radius_m, DVec3::new(cos, 0.0, -sin), DVec3::new(sin, 0.0, cos)),
        arc(degrees, radius_m, DVec3::new(cos, 0.0, sin), DVec3::new(sin, 0.0, -cos)),
        arc(degrees, radius_m, DVec3::X, -DVec3::Z),
    ]
}

/// Source: worked example of a telecom conduit construction manual: 0.144 lb/ft, friction 0.5, bends of 10 ft
/// radius, all level; the manual rounds or cuts every step to whole pounds and uses the capstan form.
fn manual_route() -> [(f64, Option<f64>); 7] {
    [
        (100.0, None),
        (0.0, Some(45.0)),
        (80.0, None),
        (0.0, Some(90.0)),
        (75.0, None),
        (0.0, Some(45.0)),
        (70.0, None),
    ]
}

/// The manual's walk, either by its own capstan form or by the program's balance.
fn manual_walk(route: &[(f64, Option<f64>)], own: bool) -> Vec<f64> {
    let step = |t: &mut f64, (length, bend): &(f64, Option<f64>)| {
        let piece = match bend {
            Some(degrees) => arc(*degrees, 10.0, DVec3::X, DVec3::Y),
            None => straight(*length, DVec3::X),
        };
        *t = match bend {
            Some(degrees) if own => capstan(*t, 0.5, degrees.to_radians()),
            _ => after(piece, *t, &along(0.144, 0.5)),
        };
        Some(*t)
    };
    route.iter().scan(0.0, step).collect()
}

#[test]
fn published_conduit_manual_unrounded() {
    // Computed without rounding, four decimals. The balance adds the weight of the line inside the bends
    // (W R is 1.44 lb here), which makes every step a little more, by at most 2 %.
    let forth = [7.2, 10.6630, 16.4230, 36.0202, 41.4202, 61.3423, 66.3823];
    let back = [5.04, 7.4641, 12.8641, 28.2146, 33.9746, 50.3154, 57.5154];
    let mut reversed = manual_route();
    reversed.reverse();
    for (route, expected) in [(manual_route(), forth), (reversed, back)] {
        let (manual, balance) = (manual_walk(&route, true), manual_walk(&route, false));
        for ((manual, balance), expected) in manual.iter().zip(balance).zip(expected) {
            within(*manual, expected, 1e-4);
            assert!(balance >= *manual - 1e-9 && balance <= 1.02 * manual, "{balance} against {manual}");
        }
    }
}

#[test]
fn published_conduit_manual_as_printed() {
    // The manual cuts each step to whole pounds and later bends multiply what was cut: 4 % and 7 % at the two
    // ends, 4.5 % and 7.5 % with the weight inside the bends.
    let mut reversed = manual_route();
    reversed.reverse();
    near(*manual_walk(&manual_route(), false).last().unwrap(), 64.0, 0.045);
    near(*manual_walk(&reversed, false).last().unwrap(), 54.0, 0.075);
}

#[test]
fn published_multipliers_of_a_line_without_weight() {
    // Source: the same manual, two decimals; it prints 1.87 for 1.8745 and 1.60 for 1.6020.
    let quarter = [(0.7, 3.00), (0.6, 2.57), (0.5, 2.19), (0.4, 1.87), (0.3, 1.60), (0.15, 1.27)];
    let eighth = [(0.7, 1.73), (0.6, 1.60), (0.5, 1.48), (0.4, 1.37), (0.3, 1.27), (0.15, 1.13)];
    for (degrees, row) in [(90.0, quarter), (45.0, eighth)] {
        for (mu, printed) in row {
            let level = after(arc(degrees, 0.1778, DVec3::X, DVec3::Y), 1.0, &along(0.0, mu));
            let upright = after(arc(degrees, 0.1778, DVec3::X, DVec3::Z), 1.0, &along(0.0, mu));
            within(level, printed, 0.0051);
            near(upright, capstan(1.0, mu, f64::to_radians(degrees)), 2e-5);
        }
    }
}

#[test]
fn agrees_with_the_closed_form_of_a_level_bend() {
    let cases = [(50.0, 0.3, 0.5, 0.75, 90.0), (0.0, 0.3, 2.0, 10.0, 90.0), (100.0, 0.5, 21.22, 100.0, 45.0)];
    for (t, mu, w, r, degrees) in cases {
        let closed = level_bend(t, mu, w * r, f64::to_radians(degrees));
        for side in [DVec3::Y, -DVec3::Y] {
            near(after(arc(degrees, r, DVec3::X, side), t, &along(w, mu)), closed, 1e-6);
        }
    }
    // A hose that is pushed bears on the outer wall as hard: the form holds with the root's sign turned.
    let pushed = after(arc(90.0, 0.1778, DVec3::X, DVec3::Y), -20.0, &along(3.65, 0.3));
    let (th, wr) = (FRAC_PI_2, 3.65 * 0.1778);
    near(pushed, -20.0 * (0.3 * th).cosh() + (0.3 * th).sinh() * 20f64.hypot(wr), 1e-6);
}

#[test]
fn agrees_with_computed_bends() {
    // Computed with numpy and checked there by integration of the balance to 1e-9; six decimals given.
    let quarter = arc(90.0, 0.75, DVec3::X, DVec3::Y);
    within(after(quarter, 50.0, &along(0.5, 0.3)), 80.099570, 1e-4);
    within(after(arc(90.0, 10.0, DVec3::X, DVec3::Y), 0.0, &along(2.0, 0.3)), 9.7774922, 1e-5);
    let cases = [
        ((50.0, 0.3, 0.5, 0.75, 90.0), [80.393997, 79.455126, 80.742639, 79.803768]),
        ((10.0, 0.35, 1.0, 2.0, 45.0), [13.234526, 11.894757, 14.432943, 13.093174]),
    ];
    for ((t, mu, w, r, degrees), row) in cases {
        let forms = upright_forms(t, mu, w * r, f64::to_radians(degrees));
        for ((piece, form), expected) in upright(degrees, r).into_iter().zip(forms).zip(row) {
            within(form, expected, 1e-6);
            near(after(piece, t, &along(w, mu)), expected, 1e-6);
        }
    }
}

#[test]
fn agrees_with_a_straight_on_a_slope() {
    for degrees in [-90.0_f64, -30.0, 0.0, 45.0, 90.0] {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let slope = Along { air_n_per_m: 0.7, ..along(3.65, 0.32) };
        let found = after(straight(4.0, DVec3::new(0.0, cos, sin)), 5.0, &slope);
        within(found, 5.0 + 4.0 * (3.65 * (0.32 * cos + sin) - 0.7), 1e-9);
    }
}

/// Straights and bends in all planes, one of them rolled.
fn tour() -> Path {
    let skew = DVec3::new(0.0, 0.6, 0.8);
    path(&[
        straight(0.7, DVec3::Z),
        arc(90.0, 0.1778, DVec3::Z, -DVec3::X),
        straight(1.9, -DVec3::X),
        arc(45.0, 0.1778, -DVec3::X, skew),
        straight(2.0, (skew - DVec3::X).normalize()),
        arc(45.0, 0.1778, (skew - DVec3::X).normalize(), (skew + DVec3::X).normalize()),
        straight(1.0, skew),
    ])
}

#[test]
fn recovers_the_start_from_the_tail() {
    let (tour, air) = (tour(), Along { air_n_per_m: 1.1, ..along(3.65, 0.32) });
    for start_n in [-30.0, -2.0, 0.0, 4.0, 40.0] {
        for inserted_m in [0.3, 0.8, 3.0, tour.length_m()] {
            let tail_n = drawn_in(&tour, inserted_m, start_n, &air);
            within(drawn_in_from_tail(&tour, inserted_m, tail_n, &air), start_n, 2e-3);
        }
    }
}

#[test]
fn agrees_with_pulling_the_reversed_path_in() {
    // Drawing out is drawing in along the same path walked from its other end.
    let back = path(&[straight(2.0, DVec3::Y), arc(90.0, 0.3, DVec3::Y, DVec3::Z), straight(1.0, DVec3::Z)]);
    let out =
        path(&[straight(1.0, -DVec3::Z), arc(90.0, 0.3, -DVec3::Z, -DVec3::Y), straight(2.0, -DVec3::Y)]);
    let rub = along(3.65, 0.28);
    near(drawn_out(&out, out.length_m(), 3.0, &rub), drawn_in(&back, back.length_m(), 3.0, &rub), 1e-9);
}

#[test]
fn agrees_with_plain_small_steps_in_every_plane() {
    // Euler's rule with the vectors themselves, two hundred thousand steps a piece.
    let (tour, air) = (tour(), Along { air_n_per_m: 0.9, ..along(3.65, 0.32) });
    for start_n in [-12.0, 0.5, 12.0] {
        let mut n = start_n;
        for piece in tour.pieces() {
            n = in_small_steps(piece, n, &air);
        }
        near(drawn_in(&tour, tour.length_m(), start_n, &air), n, 2e-4);
    }
}

fn in_small_steps(piece: &Piece, start_n: f64, air: &Along) -> f64 {
    const STEPS: usize = 200_000;
    let ds = piece.length_m() / STEPS as f64;
    (0..STEPS).fold(start_n, |n, i| {
        let s = (i as f64 + 0.5) * ds;
        let (t, curve) = match *piece {
            Piece::Straight { along, .. } => (along, DVec3::ZERO),
            Piece::Arc { radius_m, along, toward, .. } => {
                let (sin, cos) = (s / radius_m).sin_cos();
                (cos * along + sin * toward, (cos * toward - sin * along) / radius_m)
            }
        };
        let down = -DVec3::Z;
        let press = n * curve + air.weight_n_per_m * (down - down.dot(t) * t);
        n + ds * (air.mu * press.length() + air.weight_n_per_m * t.z - air.air_n_per_m)
    })
}

#[test]
fn refuses_a_path_that_is_none() {
    assert!(Path::new(vec![]).is_err());
    assert!(Path::new(vec![straight(-0.1, DVec3::X)]).is_err());
    assert!(Path::new(vec![straight(1.0, DVec3::ZERO)]).is_err());
    assert!(Path::new(vec![arc(0.0, 0.2, DVec3::X, DVec3::Y)]).is_err());
    assert!(Path::new(vec![arc(90.0, 0.0, DVec3::X, DVec3::Y)]).is_err());
    assert!(Path::new(vec![arc(90.0, 0.2, DVec3::X, DVec3::X)]).is_err());
    assert!(Path::new(vec![straight(f64::NAN, DVec3::X)]).is_err());
}

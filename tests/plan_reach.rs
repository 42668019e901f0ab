//! Reach, the farthest point and the fewest valves, each against a second way of finding them.
#[path = "common/floors.rs"]
mod floors;
#[path = "common/generate.rs"]
#[allow(dead_code)]
mod generate;

use generate::Dice;
use longsweep::plan::{
    Laid, P2, Rings, area, candidates, cells, fan, farthest, fewest, fewest_valves, house, left_out, needs,
    place, regions, ways,
};

const FT: f64 = 0.3048;

/// Whether rings hold a point, by counting crossings.
fn inside(rings: &Rings, p: P2) -> bool {
    let mut odd = false;
    for ring in rings {
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
                odd = !odd;
            }
        }
    }
    odd
}

/// Houses of one or two valves, with stairs and without, wands from none to one as long as a room: what is drawn out with every step is held
/// against the shortest way to each of some points, over any corner that the hose comes to.
#[test]
fn agrees_with_distances_point_by_point() {
    let mut dice = Dice::new(7);
    let (mut points, mut reached, mut up) = (0, 0, 0);
    for number in 0..80 {
        let mut plan =
            if number / 8 % 2 == 0 { floors::floor(&mut dice, 5) } else { floors::house(&mut dice, 3) };
        plan.wand_m = [0.0, 4.5, 9.0, 14.0][number % 4] * FT;
        let placed = place(&plan).expect("it hangs together");
        let house = house(&plan, &placed);
        let corners: Vec<Vec<P2>> = placed.rooms.iter().map(|room| room.corners.clone()).collect();
        let all = ways(&house);
        let spot = |dice: &mut Dice| {
            let (room, at) = floors::spot(dice, &plan, &corners);
            (placed.rooms[room].floor, at)
        };
        let mut lie = || {
            let (floor, at) = spot(&mut dice);
            all.from(&house, house.home(floor, at))
        };
        let lies = [lie(), lie()];
        let own_m = [20.0 * FT, 14.0 * FT];
        let laid = lies.iter().zip(own_m).map(|(lie, hose_m)| Laid { lie, hose_m });
        let laid: Vec<Laid> = laid.take(1 + number / 4 % 2).collect();
        for region in regions(&house, &laid, &[5.0 * FT, 9.0 * FT, 12.0 * FT, 20.0 * FT], plan.wand_m) {
            for _ in 0..60 {
                let (floor, at) = spot(&mut dice);
                // By how much the hose that serves it best is too short.
                let short =
                    |laid: &Laid| laid.lie.hose_m(floor, at, plan.wand_m) - region.hose_m.min(laid.hose_m);
                let short_m = laid.iter().map(short).fold(f64::INFINITY, f64::min);
                // Chords stray by less than 1/32 in from the circle, inward.
                if short_m.abs() > 1e-3 {
                    let within = short_m < 0.0;
                    assert_eq!(
                        inside(&region.sheets[floor], at),
                        within,
                        "{at} by {short_m} of {}",
                        region.hose_m
                    );
                    points += 1;
                    reached += usize::from(within);
                    up += usize::from(within && floor > 0);
                }
            }
        }
    }
    assert!(points > 10_000 && reached > 3_000 && reached < points - 1_000, "{reached} of {points}");
    assert!(up > 200, "{up} of them upstairs");
}

/// A valve in the middle of an empty square of 20 ft with 8 ft of hose and no wand reaches a circle's area.
#[test]
fn published_area_of_a_circle() {
    let side = 20.0 * FT;
    let walk = vec![P2::new(side, 0.0), P2::new(0.0, side), P2::new(-side, 0.0), P2::new(0.0, -side)];
    let mut plan = floors::floor(&mut Dice::new(1), 1);
    plan.rooms[0].walk = walk;
    plan.things.clear();
    let placed = place(&plan).expect("it hangs together");
    let house = house(&plan, &placed);
    let all = ways(&house);
    let lie = all.from(&house, house.home(0, P2::splat(side / 2.0)));
    let region = &regions(&house, &[Laid { lie: &lie, hose_m: 8.0 * FT }], &[8.0 * FT], 0.0)[0];
    let circle = std::f64::consts::PI * (8.0 * FT).powi(2);
    // Archimedes; chords within 1/32 in of the circle leave out less than 3 parts in a thousand.
    let found = area(&region.sheets[0]);
    assert!(found < circle && found > circle * 0.997, "{found} of {circle}");
    // The corners of the square are the farthest.
    let far = farthest(&house, &lie, 0.0).expect("there is floor");
    assert!((far.hose_m - 200_f64.sqrt() * FT).abs() < 1e-6, "{far:?}");
}

/// From a place on a wall to the corners that are seen from there, corners in line with that wall among them: a line
/// to one that is hidden by a wall would leave the floor.
#[test]
fn nothing_is_seen_through_a_wall() {
    let mut dice = Dice::new(77);
    let (mut seen, mut in_line) = (0, 0);
    for number in 0..120 {
        let plan = floors::floor(&mut dice, 2 + number % 8);
        let placed = place(&plan).expect("it hangs together");
        let house = house(&plan, &placed);
        let all = ways(&house);
        for at in candidates(&plan, &placed, &house).iter().map(|place| place.home.at) {
            let start = fan(&house, house.home(0, at));
            for corner in all.corners.iter().map(|corner| corner.home.at) {
                if start.sees(0, corner).is_some() {
                    let on_floor = |k: i32| house.sheets[0].holds(at.lerp(corner, f64::from(k) / 20.0));
                    assert!((1..20).all(on_floor), "house {number}: {corner} from {at}");
                    seen += 1;
                    in_line += i32::from((corner - at).abs().min_element() < 1e-6);
                }
            }
        }
    }
    assert!(seen > 20_000 && in_line > 1_000, "{seen}, {in_line} of them in line with a wall");
}

#[test]
fn farthest_agrees_with_a_fine_grid() {
    let mut dice = Dice::new(99);
    for _ in 0..25 {
        let plan = floors::floor(&mut dice, 4);
        let placed = place(&plan).expect("it hangs together");
        let house = house(&plan, &placed);
        let corners: Vec<Vec<P2>> = placed.rooms.iter().map(|room| room.corners.clone()).collect();
        let all = ways(&house);
        let lie = all.from(&house, house.home(0, floors::spot(&mut dice, &plan, &corners).1));
        let far = farthest(&house, &lie, plan.wand_m).expect("there is floor");
        assert!(far.bound_m - far.hose_m < 0.0254 / 15.0, "{far:?}");
        let most = (0..2_000)
            .map(|_| lie.hose_m(0, floors::spot(&mut dice, &plan, &corners).1, plan.wand_m))
            .fold(0.0, f64::max);
        assert!(most <= far.bound_m + 1e-9, "a point wants {most}, the bound is {}", far.bound_m);
    }
}

#[test]
fn reach_names_what_is_left_out() {
    let mut dice = Dice::new(3);
    let plan = floors::floor(&mut dice, 6);
    let placed = place(&plan).expect("it hangs together");
    let house = house(&plan, &placed);
    let all = ways(&house);
    let start = house.home(0, P2::new(0.5, 0.0));
    let lie = all.from(&house, start);
    let reached = |hose_m: f64| {
        let whole = regions(&house, &[Laid { lie: &lie, hose_m }], &[hose_m], plan.wand_m).remove(0);
        let left = left_out(&house, &placed, &whole, |sheet, at| lie.distance_m(sheet, at).is_finite());
        (area(&whole.sheets[0]), left)
    };
    let (_, left) = reached(200.0 * FT);
    assert!(left.is_empty(), "{left:?}");
    let (got, left) = reached(8.0 * FT);
    assert!(!left.is_empty());
    let free = area(&house.sheets[0].rings);
    let left: f64 = left.iter().map(|left| left.area_m2).sum();
    // Only the doorways, which belong to no room, are in neither sum.
    assert!(got + left <= free + 1e-3 && got + left > free * 0.9, "{got} + {left} of {free}");
}

/// Every way of choosing columns.
fn brute(rows: &[Vec<usize>], columns: usize) -> usize {
    let covers = |set: u32| rows.iter().all(|row| row.iter().any(|c| set >> c & 1 == 1));
    (0..1_u32 << columns)
        .filter(|set| covers(*set))
        .map(|set| set.count_ones() as usize)
        .min()
        .expect("one does")
}

#[test]
fn cover_agrees_with_brute_force() {
    let mut dice = Dice::new(5);
    for _ in 0..300 {
        let columns = 3 + dice.below(9) as usize;
        let rows: Vec<Vec<usize>> = (0..1 + dice.below(20))
            .map(|_| {
                let mut row: Vec<usize> = (0..columns).filter(|_| dice.once_in(3)).collect();
                if row.is_empty() {
                    row.push(dice.below(columns as u64) as usize);
                }
                row
            })
            .collect();
        let cover = fewest(&rows, columns, 100_000).expect("every row has a column");
        assert!(cover.proven());
        assert_eq!(cover.chosen.len(), brute(&rows, columns));
        assert!(rows.iter().all(|row| row.iter().any(|c| cover.chosen.contains(c))));
    }
    assert_eq!(fewest(&[Vec::<usize>::new()], 3, 10), None);
}

/// Points of which every line holds one are what a largest cap leaves: 9 - 4, 27 - 9 and 15 - 8 points. Largest
/// caps: AG(2,3) 4 and AG(3,3) 9 (R. C. Bose, "Mathematical theory of the symmetrical factorial design",
/// Sankhya 8, 1947), PG(3,2) 8 (the same; all from memory).
#[test]
fn published_largest_caps() {
    let affine = |n: usize| {
        let q = 3_usize.pow(n as u32);
        let digits = |p: usize| (0..n).map(move |i| p / 3_usize.pow(i as u32) % 3);
        let third = |a: usize, b: usize| {
            digits(a)
                .zip(digits(b))
                .enumerate()
                .map(|(i, (x, y))| (6 - x - y) % 3 * 3_usize.pow(i as u32))
                .sum()
        };
        let mut lines = Vec::new();
        for a in 0..q {
            for b in a + 1..q {
                let c: usize = third(a, b);
                if c > b {
                    lines.push(vec![a, b, c]);
                }
            }
        }
        (lines, q)
    };
    let (lines, points) = affine(2);
    assert_eq!((lines.len(), points), (12, 9));
    let cover = fewest(&lines, points, 1_000_000).expect("a cover");
    assert!(cover.proven() && cover.chosen.len() == 5, "{cover:?}");
    let (lines, points) = affine(3);
    assert_eq!((lines.len(), points), (117, 27));
    let cover = fewest(&lines, points, 1_000_000).expect("a cover");
    assert!(cover.proven() && cover.chosen.len() == 18, "{cover:?}");
    // PG(3,2): the 15 nonzero vectors of four bits; a line is two of them and their sum.
    let mut lines = Vec::new();
    for a in 1..16_usize {
        for b in a + 1..16 {
            if a ^ b > b {
                lines.push(vec![a - 1, b - 1, (a ^ b) - 1]);
            }
        }
    }
    assert_eq!(lines.len(), 35);
    let cover = fewest(&lines, 15, 1_000_000).expect("a cover");
    assert!(cover.proven() && cover.chosen.len() == 7, "{cover:?}");
}

#[test]
fn needs_bound_every_point_of_a_cell() {
    let mut dice = Dice::new(12);
    for _ in 0..10 {
        let plan = floors::house(&mut dice, 3);
        let placed = place(&plan).expect("it hangs together");
        let house = house(&plan, &placed);
        let all = ways(&house);
        let places = candidates(&plan, &placed, &house);
        let cells = cells(&house, FT);
        let needs = needs(&house, &all, &places, &cells, plan.wand_m);
        for _ in 0..40 {
            let p = dice.below(places.len() as u64) as usize;
            let c = dice.below(cells.len() as u64) as usize;
            let lie = all.from(&house, places[p].home);
            let (piece, sheet) = (&cells[c].piece, cells[c].sheet);
            let centre = piece.iter().copied().sum::<P2>() / piece.len() as f64;
            for corner in piece {
                let wants = lie.hose_m(sheet, centre.lerp(*corner, 0.9), plan.wand_m);
                assert!(wants <= needs.cautious_m[p][c] + 1e-6, "{wants} {}", needs.cautious_m[p][c]);
                assert!(wants >= needs.optimistic_m[p][c] - 1e-6, "{wants} {}", needs.optimistic_m[p][c]);
            }
        }
        for found in fewest_valves(&house, &all, &places, &cells, plan.wand_m, &[15.0 * FT, 30.0 * FT]) {
            assert!(found.at_least <= found.spread.valves, "{found:?}");
            let reached =
                |c: usize| found.chosen.iter().any(|p| needs.cautious_m[*p][c] <= found.spread.hose_m + 1e-9);
            assert!((0..cells.len()).all(|c| found.out.contains(&c) || reached(c)));
        }
    }
}

/// The fewest valves, found from the few cells that decide, against the matrix of all cells and all places, for hoses
/// that are too short for some floor too: as many, no shorter a hose with as many, the same floor out of reach.
#[test]
fn fewest_valves_agree_with_the_whole_matrix() {
    let mut dice = Dice::new(31);
    let (mut answers, mut stairs, mut several, mut partly) = (0, 0, 0, 0);
    for number in 0..14 {
        let plan = floors::house(&mut dice, 1 + number % 3);
        stairs += plan.stairs.len();
        let placed = place(&plan).expect("it hangs together");
        let house = house(&plan, &placed);
        let all = ways(&house);
        let places: Vec<_> = candidates(&plan, &placed, &house).into_iter().step_by(1 + number % 3).collect();
        let cells = cells(&house, 2.0 * FT);
        let needs = needs(&house, &all, &places, &cells, plan.wand_m);
        let rows = |hose_m: f64, needs_m: &[Vec<f64>], out: &[usize]| -> Vec<Vec<usize>> {
            let row =
                |c: usize| (0..places.len()).filter(|p| needs_m[*p][c] <= hose_m + 1e-9).collect::<Vec<_>>();
            (0..cells.len()).filter(|c| !out.contains(c)).map(row).collect()
        };
        let valves = |hose_m: f64, needs_m: &[Vec<f64>], out: &[usize]| {
            fewest(rows(hose_m, needs_m, out), places.len(), 1_000_000).map(|cover| cover.chosen.len())
        };
        let hoses = [4.0, 8.0, 14.5, 30.0].map(|feet| feet * FT);
        for found in fewest_valves(&house, &all, &places, &cells, plan.wand_m, &hoses) {
            let (hose_m, out) = (found.hose_m, &found.out);
            let reached = rows(hose_m, &needs.cautious_m, &[]);
            let none: Vec<usize> = (0..cells.len()).filter(|c| reached[*c].is_empty()).collect();
            assert_eq!(*out, none);
            let in_part = rows(hose_m, &needs.optimistic_m, &[]);
            assert_eq!(found.in_doubt, out.iter().filter(|c| !in_part[**c].is_empty()).count());
            let count = Some(found.spread.valves);
            assert_eq!(valves(hose_m, &needs.cautious_m, out), count, "house {number}, {found:?}");
            assert_eq!(valves(hose_m, &needs.optimistic_m, out), Some(found.at_least));
            let spreads = [Some(&found.spread), found.less.as_ref(), found.more.as_ref()];
            for spread in spreads.into_iter().flatten() {
                let does =
                    |m: f64| valves(m, &needs.cautious_m, out).is_some_and(|count| count <= spread.valves);
                assert!(does(spread.hose_m), "house {number}, {spread:?}");
                let shorter_m = spread.hose_m - FT;
                assert!(shorter_m < FT / 2.0 || !does(shorter_m), "house {number}, {spread:?}");
                for row in rows(spread.hose_m, &needs.cautious_m, out) {
                    assert!(row.iter().any(|place| spread.chosen.contains(place)));
                }
            }
            answers += 1;
            several += usize::from(found.spread.valves > 2);
            partly += usize::from(!out.is_empty());
        }
    }
    assert!(answers > 40 && stairs > 3 && several > 5 && partly > 2, "{answers} {stairs} {several} {partly}");
}

//! Distances over floors against another library (`polyanya`, an any-angle path finder on meshes), and
//! against a triangle worked by hand.
#[path = "common/floors.rs"]
mod floors;
#[path = "common/generate.rs"]
#[allow(dead_code)]
mod generate;

use generate::Dice;
use longsweep::plan::{House, P2, Sheet, house, place, ways};

const PLANS: usize = 1_000;
/// The other library reckons in single precision: 20 m to some 2e-6 m, added up along a path.
const CLOSE_M: f64 = 4e-5;

#[test]
fn agrees_with_polyanya_on_random_plans() {
    let mut dice = Dice::new(20_261_125);
    let (mut paths, mut bent, mut worst) = (0, 0, 0.0_f64);
    for number in 0..PLANS {
        let rooms = 2 + dice.below(5) as usize;
        let plan = floors::floor(&mut dice, rooms);
        let placed = place(&plan).expect("it hangs together");
        let house = house(&plan, &placed);
        let corners: Vec<Vec<P2>> = placed.rooms.iter().map(|room| room.corners.clone()).collect();
        let mesh = mesh(&house.sheets[0]);
        let all = ways(&house);
        for _ in 0..2 {
            let (a, b) =
                (floors::spot(&mut dice, &plan, &corners).1, floors::spot(&mut dice, &plan, &corners).1);
            let ours = all.from(&house, house.home(0, a)).distance_m(0, b);
            let path = mesh.path(single(a), single(b)).unwrap_or_else(|| panic!("plan {number}: no path"));
            let off = (f64::from(path.length) - ours).abs();
            assert!(off < CLOSE_M, "plan {number}, {a} to {b}: {} by them, {ours} by us", path.length);
            worst = worst.max(off);
            paths += 1;
            bent += usize::from(ours > a.distance(b) + 1e-3);
        }
    }
    assert_eq!(paths, 2 * PLANS);
    assert!(bent > PLANS, "{bent} of {paths} paths go round a corner");
    println!("{paths} paths, {bent} of them round corners, differ by {worst:.1e} m at most");
}

fn single(p: P2) -> glam33::Vec2 {
    glam33::Vec2::new(p.x as f32, p.y as f32)
}

fn mesh(sheet: &Sheet) -> polyanya::Mesh {
    let ring = |ring: &Vec<P2>| ring.iter().map(|p| single(*p)).collect::<Vec<_>>();
    let (outer, holes): (Vec<_>, Vec<_>) =
        sheet.rings.iter().partition(|ring| longsweep::plan::signed_area_m2(ring) > 0.0);
    assert_eq!(outer.len(), 1, "all rooms hang together");
    let mut mesh = polyanya::Triangulation::from_outer_edges(&ring(outer[0]));
    holes.iter().for_each(|hole| mesh.add_obstacle(ring(hole)));
    let mut mesh = mesh.as_navmesh();
    mesh.set_search_delta(1e-5);
    mesh
}

/// Two rooms in a line, a door of 2 ft at the south end of the wall between them. From a point 3 ft west of
/// the door's north side and 4 ft north of it, the way to that side is the long side of a triangle of 3, 4
/// and 5 ft; then straight through the wall; 12 ft north and 5 ft east of its other face another of 13.
#[test]
fn published_right_triangles_round_a_corner() {
    // Pythagorean triples 3-4-5 and 5-12-13 (Euclid, Elements, book I, 47, and X, 28, lemma 1).
    const FT: f64 = 0.3048;
    const WALL_M: f64 = 4.5 * 0.0254;
    let room = |name: &str, north: f64| longsweep::plan::Room {
        name: name.into(),
        walk: vec![P2::new(10.0, 0.0), P2::new(0.0, north), P2::new(-10.0, 0.0), P2::new(0.0, -north)]
            .into_iter()
            .map(|p| p * FT)
            .collect(),
        at: None,
        up_m: None,
    };
    let door = longsweep::plan::Door {
        room: 0,
        wall: 1,
        at_m: 0.0,
        wide_m: 2.0 * FT,
        into: 1,
        its_wall: 3,
        its_at_m: 18.0 * FT,
    };
    let plan = longsweep::plan::Plan {
        walls_m: WALL_M,
        wand_m: 0.0,
        closes_within_m: 0.0,
        rooms: vec![room("West", 20.0), room("East", 20.0)],
        doors: vec![door],
        stairs: Vec::new(),
        things: Vec::new(),
        level: None,
        places: None,
    };
    let placed = place(&plan).expect("it hangs together");
    let house: House = house(&plan, &placed);
    let all = ways(&house);
    let start = house.home(0, P2::new(7.0, 6.0) * FT);
    let end = P2::new(15.0, 14.0) * FT + P2::new(WALL_M, 0.0);
    let lie = all.from(&house, start);
    assert!((lie.distance_m(0, end) - 18.0 * FT - WALL_M).abs() < 1e-6);
    // A wand of 4 ft reaches on from the corner: the hose is shorter by it.
    assert!((lie.hose_m(0, end, 4.0 * FT) - 14.0 * FT - WALL_M).abs() < 1e-6);
    assert_eq!(lie.way(0, end).len(), 4);
}

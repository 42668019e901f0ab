//! Whether a line's fittings, couplings and pieces fit where they are to stand.
//!
//! Plain data for whoever judges; nothing here says what is allowed.
use super::cuts::TubeCut;
use crate::company::{Catalog, Fitting};
use crate::route::{End, Line, Tube};

/// Overlaps under this are the rounding of sums, not wood.
const TOUCH_M: f64 = 1e-9;

/// A fitting's body on one leg of a line, from the work point, or the tube's end, to the socket's mouth.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    pub of: BodyOf,
    /// Index of the leg.
    pub leg: usize,
    /// Stations.
    pub from_m: f64,
    pub to_m: f64,
}

/// Whose body it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BodyOf {
    Fitting(End),
    /// The coupling after that piece (from 0) of that tube (index into the line's).
    Coupling(usize, usize),
}

/// Every body on a line, in the order of its tubes; `cuts` are the line's own.
///
/// A socket whose depth the catalog does not give counts as nothing deep.
pub fn bodies(line: &Line, cuts: &[TubeCut], catalog: &Catalog) -> Vec<Body> {
    let mut bodies: Vec<Body> = Vec::new();
    for (nth, tube) in line.tubes.iter().enumerate() {
        let end_m = tube.start_m + tube.clear_m;
        let (before, after) = (at_work_point_m(line, tube, true), at_work_point_m(line, tube, false));
        let mouth_m = tube.start_m + socket_m(line, tube.from, catalog);
        bodies.push(Body { of: BodyOf::Fitting(tube.from), leg: tube.leg, from_m: before, to_m: mouth_m });
        let couplings = cuts.get(nth).map_or(&[][..], |cut| &cut.couplings);
        bodies.extend(couplings.iter().enumerate().map(|(piece, (from_m, to_m))| Body {
            of: BodyOf::Coupling(nth, piece),
            leg: tube.leg,
            from_m: tube.start_m + from_m,
            to_m: tube.start_m + to_m,
        }));
        let mouth_m = end_m - socket_m(line, tube.to, catalog);
        bodies.push(Body { of: BodyOf::Fitting(tube.to), leg: tube.leg, from_m: mouth_m, to_m: after });
    }
    bodies
}

/// Station of the work point of what a tube seats in; of what has none on this leg, the tube's own end.
fn at_work_point_m(line: &Line, tube: &Tube, first: bool) -> f64 {
    let own_m = if first { tube.start_m } else { tube.start_m + tube.clear_m };
    match if first { tube.from } else { tube.to } {
        End::Bend(n) => line.bend(n).map_or(own_m, |bend| bend.at_centre_m),
        End::Junction(i) => line.inlines.get(i).map_or(own_m, |inline| inline.station_m),
        End::Branch => line.centre_m,
        _ => own_m,
    }
}

fn socket_m(line: &Line, end: End, catalog: &Catalog) -> f64 {
    let of = |fitting: Option<&Fitting>| fitting.and_then(|fitting| fitting.socket_m);
    let depth_m = match end {
        End::Bend(n) => of(line.bend(n).and_then(|bend| bend.fitting.as_ref())),
        End::Stop => of(catalog.stop()),
        End::Cap => of(catalog.cap()),
        End::From | End::Onto => of(catalog.coupling(crate::company::Reach::Air)),
        End::Branch => of(line.joins.as_ref().and_then(|joins| joins.with.as_ref())),
        End::Junction(i) => {
            of(line.junctions().find(|(at, ..)| *at == i).map(|(_, _, joining)| &joining.fitting))
        }
        End::Valve | End::Unit | End::Open => None,
    };
    depth_m.unwrap_or(0.0)
}

/// A body that stands inside a member.
#[derive(Debug, Clone, PartialEq)]
pub struct InMember {
    /// Index of the crossing on the line.
    pub crossing: usize,
    pub body: Body,
    /// How much of the body lies inside the member.
    pub by_m: f64,
    /// How far the crossing would have to move along the tube to be clear of the body, the shorter way.
    pub move_m: f64,
}

/// The bodies of a line that reach into a member, each member taken at its true thickness.
pub fn in_members(line: &Line, bodies: &[Body]) -> Vec<InMember> {
    let mut found = Vec::new();
    for (crossing, crossed) in line.crossings.iter().enumerate() {
        let half_m = crossed.crossing.along_tube_m() / 2.0;
        let (from_m, to_m) = (crossed.station_m - half_m, crossed.station_m + half_m);
        for body in bodies.iter().filter(|body| body.leg == crossed.leg) {
            let by_m = to_m.min(body.to_m) - from_m.max(body.from_m);
            if by_m > TOUCH_M {
                let move_m = (to_m - body.from_m).min(body.to_m - from_m);
                found.push(InMember { crossing, body: body.clone(), by_m, move_m });
            }
        }
    }
    found
}

/// A tube that is a little longer than whole sticks, so that a short piece and a coupling are spent on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Stub {
    /// Index of the tube on the line.
    pub tube: usize,
    /// By how much the leg would have to be shorter to do without the piece.
    pub over_m: f64,
}

/// The tubes of which at most `most_m` goes beyond whole sticks, couplings counted.
pub fn stubs(line: &Line, cuts: &[TubeCut], stick_m: f64, most_m: f64) -> Vec<Stub> {
    let over = |cut: &TubeCut| {
        let whole = cut.pieces.len().checked_sub(1).filter(|whole| *whole > 0)? as f64;
        let gaps_m: f64 =
            cut.pieces.windows(2).map(|pair| pair[1].from_m - pair[0].from_m - pair[0].length_m).sum();
        let gap_m = gaps_m / whole;
        Some(cut.clear_m - whole * stick_m - (whole - 1.0) * gap_m)
    };
    let tubes = line.tubes.iter().zip(cuts).enumerate();
    let overs = tubes.filter_map(|(tube, (_, cut))| Some((tube, over(cut)?)));
    let short = overs.filter(|(_, over_m)| *over_m > TOUCH_M && *over_m <= most_m);
    short.map(|(tube, over_m)| Stub { tube, over_m }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::company::{Coupling, Crossing, FittingKind, LineSpec, Member, Purpose, Run, Step};
    use crate::measure::{Lengths, Say};
    use crate::route::testing::{catalog, direction, line as spec_of};
    use crate::route::{JobLines, lay};
    use crate::takeoff::divided;
    use glam::DVec3;

    const INCH: f64 = 0.0254;

    fn crossing(member: Member, at_in: f64, depth_in: f64, hole_in: f64) -> Crossing {
        Crossing {
            thickness_m: (member != Member::Masonry).then_some(1.5 * INCH),
            depth_m: Some(depth_in * INCH),
            hole_m: Some(hole_in * INCH),
            ..Crossing::plain(at_in * INCH, member)
        }
    }

    /// A run of that many inches through one member, west into a sweep, and 60 in on to the stop.
    fn through(run_in: f64, crossing: Crossing) -> (Line, Vec<TubeCut>, Catalog) {
        let mut catalog = catalog();
        catalog.fittings.push(Fitting {
            id: "coupling".into(),
            name: "coupling".into(),
            kind: FittingKind::Coupling(Coupling { gap_m: 0.125 * INCH }),
            socket_m: Some(1.125 * INCH),
            purpose: Purpose::Either,
        });
        let first = Step::Run(Run { crossings: vec![crossing], ..Run::plain(run_in * INCH) });
        let turn = match spec("1 run; 90 north; 1 run").steps[1].clone() {
            Step::Turn(turn) => Step::Turn(turn),
            other => panic!("no turn: {other:?}"),
        };
        let spec = spec_of(direction("west"), vec![first, turn, Step::Run(Run::plain(60.0 * INCH))]);
        let line = lay(&spec, DVec3::ZERO, &catalog);
        let lines = JobLines { lines: vec![line.clone()], inlets: 1 };
        let cuts = divided(&lines, &catalog, &Say { lengths: Lengths::FtIn }).remove(0);
        (line, cuts, catalog)
    }

    fn spec(steps: &str) -> LineSpec {
        crate::route::testing::spec("west", steps)
    }

    #[test]
    fn a_socket_inside_a_joist_is_told_with_how_far_it_has_to_move() {
        // The sweep's socket runs from 8 in before its work point at 100 in back to 90-7/8 in.
        let (line, cuts, catalog) = through(100.0, crossing(Member::Joist, 91.0, 9.25, 2.125));
        let found = in_members(&line, &bodies(&line, &cuts, &catalog));
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].body.of, BodyOf::Fitting(End::Bend(1)));
        // The joist lies from 90-1/4 to 91-3/4: 7/8 in of it about the socket.
        assert!((found[0].by_m / INCH - 0.875).abs() < 1e-9);
        let (line, cuts, catalog) = through(100.0, crossing(Member::Joist, 90.125, 9.25, 2.125));
        assert_eq!(in_members(&line, &bodies(&line, &cuts, &catalog)), []);
    }

    #[test]
    fn masonry_is_as_thick_as_it_is_said_to_be() {
        let (line, cuts, catalog) = through(100.0, crossing(Member::Masonry, 87.0, 8.0, 2.5));
        let found = in_members(&line, &bodies(&line, &cuts, &catalog));
        assert!((found[0].by_m / INCH - 0.125).abs() < 1e-9, "{found:?}");
    }

    #[test]
    fn couplings_keep_clear_of_the_whole_of_a_wall() {
        // Without the wall the coupling would stand at the end of the first stick, at 96 in.
        let (line, cuts, catalog) = through(150.0, crossing(Member::Masonry, 96.0, 8.0, 2.5));
        assert_eq!(cuts[0].pieces.len(), 2);
        assert_eq!(in_members(&line, &bodies(&line, &cuts, &catalog)), []);
        assert!(cuts[0].pieces[0].length_m < (92.0 - 1.25) * INCH + 1e-9, "{:?}", cuts[0]);
    }

    #[test]
    fn a_stub_is_told_by_what_would_save_it() {
        // 96 in of stick and 8 in of laying length: a leg of 106 in is 2 in over.
        let (line, cuts, catalog) = through(106.0, crossing(Member::Joist, 50.0, 9.25, 2.125));
        let found = stubs(&line, &cuts, catalog.tube.stick_m, 6.0 * INCH);
        assert_eq!(found.len(), 1);
        assert!((found[0].over_m / INCH - 2.0).abs() < 1e-9, "{found:?}");
        assert_eq!(stubs(&line, &cuts, catalog.tube.stick_m, 1.0 * INCH), []);
    }
}

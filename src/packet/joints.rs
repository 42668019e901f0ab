//! Every joint of a line, in the order in which it is built.
//!
//! A joint is one tube end in one socket. A line is told end to end: what the first tube seats in,
//! its pieces with a coupling between each two, what the last seats in. A tube that cannot be cut
//! still has its two joints, so that numbers do not shift when the route is mended.
use super::worked::{InletPart, Worked, slice_at};
use crate::company::{Catalog, Fitting, FittingKind, Into, Purpose};
use crate::route::{Bend, End, Joining, Route, Tube};
use crate::takeoff::TubeCut;

/// A joint.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// `J1`, counted along the line.
    pub mark: String,
    /// What comes first on the way from the start: `valve`, `A1`, `coupling`.
    pub from: String,
    pub to: String,
    /// How far the tube goes in, for the mark on the tube; `None` where the catalog is silent.
    pub insertion_m: Option<f64>,
    /// Distance along work points from the start of the line to the end of the tube in this joint.
    pub station_m: f64,
    /// Whether the tube of this joint cannot be cut as planned.
    pub amiss: bool,
}

/// A socket: what it is called, and how deep it is where the catalog says so.
pub type Socket = (String, Option<f64>);

/// What the tubes of a line seat in, beside its bends.
#[derive(Debug, Clone)]
pub struct Sockets<'a> {
    pub start: Socket,
    pub far: Socket,
    pub coupling_m: Option<f64>,
    /// Junctions on the line, for a trunk, and the name of what joins at each.
    pub joinings: Vec<(&'a Joining, String)>,
}

/// Joints of a raceway, from the valve to the stop.
pub fn raceway(worked: &Worked, part: &InletPart) -> Vec<Joint> {
    line(part.route, part.cuts, &raceway_sockets(worked, part), 1)
}

/// Joints of an inlet's onward path, numbered on from its raceway; none where it has no onward path.
pub fn onward(worked: &Worked, part: &InletPart) -> Vec<Joint> {
    let laid = worked.work.routes.onward.get(part.index).and_then(Option::as_ref);
    let (Some(laid), Some(sockets)) = (laid, onward_sockets(worked, part)) else {
        return Vec::new();
    };
    let first = raceway(worked, part).len() + 1;
    line(&laid.route, part.onward_cuts, &sockets, first)
}

/// Joints of a trunk, numbered from 1.
pub fn trunk(worked: &Worked, index: usize) -> Vec<Joint> {
    let (Some(laid), Some(sockets)) = (worked.work.routes.trunks.get(index), trunk_sockets(worked, index))
    else {
        return Vec::new();
    };
    line(&laid.route, slice_at(&worked.work.cuts.trunks, index), &sockets, 1)
}

/// What a raceway seats in.
pub fn raceway_sockets<'a>(worked: &Worked<'a>, part: &InletPart) -> Sockets<'a> {
    let catalog = worked.work.catalog;
    Sockets {
        start: ("valve".into(), part.inlet.valve.socket_m),
        far: ("stop".into(), stop(catalog).and_then(|stop| stop.socket_m)),
        coupling_m: coupling(catalog, Purpose::Raceway).and_then(|c| c.socket_m),
        joinings: Vec::new(),
    }
}

/// What an onward path seats in; `None` where the inlet has none.
pub fn onward_sockets<'a>(worked: &Worked<'a>, part: &InletPart) -> Option<Sockets<'a>> {
    let catalog = worked.work.catalog;
    let into = &part.inlet.onward.as_ref()?.into;
    Some(Sockets {
        start: ("stop".into(), stop(catalog).and_then(|stop| stop.socket_m)),
        far: far_socket(worked, into),
        coupling_m: coupling(catalog, Purpose::Trunk).and_then(|c| c.socket_m),
        joinings: Vec::new(),
    })
}

/// What a trunk seats in; `None` where there is no such trunk.
pub fn trunk_sockets<'a>(worked: &Worked<'a>, index: usize) -> Option<Sockets<'a>> {
    let (laid, planned) = (worked.work.routes.trunks.get(index)?, worked.work.job.trunks.get(index)?);
    Some(Sockets {
        start: ("start".into(), None),
        far: far_socket(worked, &planned.into),
        coupling_m: coupling(worked.work.catalog, Purpose::Trunk).and_then(|c| c.socket_m),
        joinings: laid.joinings.iter().map(|joining| (joining, worked.owner_name(&joining.by))).collect(),
    })
}

/// Joints of any line, numbered from `first`.
pub fn line(route: &Route, cuts: &[TubeCut], sockets: &Sockets, first: usize) -> Vec<Joint> {
    let mut joints = Vec::new();
    for (place, tube) in route.tubes.iter().enumerate() {
        let cut = cuts.get(place);
        let amiss = cut.is_none_or(|cut| cut.pieces.is_empty());
        let start_m = start_station_m(route, tube, sockets);
        for (from, to, insertion_m, along_m) in ends(route, tube, cut, sockets) {
            let mark = format!("J{}", first + joints.len());
            joints.push(Joint { mark, from, to, insertion_m, station_m: start_m + along_m, amiss });
        }
    }
    joints
}

/// Name and depth of the socket at a tube's end.
pub fn seat(end: End, route: &Route, sockets: &Sockets) -> Socket {
    match end {
        End::Valve | End::Start => sockets.start.clone(),
        End::Bend(n) => (format!("B{n}"), bend(route, n).and_then(|b| b.fitting.as_ref()?.socket_m)),
        // An onward path starts at the stop and a raceway ends there; each has its own side of it.
        End::Stop if sockets.start.0 == "stop" => sockets.start.clone(),
        End::Stop | End::Far => sockets.far.clone(),
        End::Joining(i) => match sockets.joinings.get(i) {
            Some((joining, by)) => (format!("{} from {by}", joining.fitting.name), joining.fitting.socket_m),
            None => ("junction".into(), None),
        },
    }
}

/// The stop fitting of the firm's catalog.
pub fn stop(catalog: &Catalog) -> Option<&Fitting> {
    let is_stop = |fitting: &&Fitting| matches!(fitting.kind, FittingKind::Stop(_));
    catalog.fittings.iter().find(is_stop)
}

/// The coupling for raceways or for the tube beyond them.
fn coupling(catalog: &Catalog, purpose: Purpose) -> Option<&Fitting> {
    let couplings = || catalog.fittings.iter().filter(|f| matches!(f.kind, FittingKind::Coupling(_)));
    couplings().find(|f| f.purpose == purpose).or_else(|| couplings().find(|f| f.purpose == Purpose::Either))
}

/// The joints of one tube: from, to, depth of the socket, and how far along the tube its end is.
fn ends(
    route: &Route,
    tube: &Tube,
    cut: Option<&TubeCut>,
    sockets: &Sockets,
) -> Vec<(String, String, Option<f64>, f64)> {
    let (from, from_m) = seat(tube.from, route, sockets);
    let (to, to_m) = seat(tube.to, route, sockets);
    let Some(cut) = cut.filter(|cut| !cut.pieces.is_empty()) else {
        let end_m = tube.clear_m.max(0.0);
        let first = (tube.from != End::Start).then(|| (from, tube.mark.clone(), from_m, 0.0));
        return first.into_iter().chain([(tube.mark.clone(), to, to_m, end_m)]).collect();
    };
    let mut joints = Vec::new();
    let last = cut.pieces.len() - 1;
    for (place, piece) in cut.pieces.iter().enumerate() {
        let before =
            if place == 0 { (from.clone(), from_m) } else { ("coupling".into(), sockets.coupling_m) };
        let after = if place == last { (to.clone(), to_m) } else { ("coupling".into(), sockets.coupling_m) };
        // The open start of a trunk is no joint until something joins there.
        if place > 0 || tube.from != End::Start {
            joints.push((before.0, piece.mark.clone(), before.1, piece.from_m));
        }
        joints.push((piece.mark.clone(), after.0, after.1, piece.from_m + piece.length_m));
    }
    joints
}

/// Where a tube begins, along work points from the start of its line.
fn start_station_m(route: &Route, tube: &Tube, sockets: &Sockets) -> f64 {
    let leg_m = route.legs.get(tube.leg).map_or(0.0, |leg| leg.station_m);
    match tube.from {
        End::Bend(n) => leg_m + bend(route, n).map_or(0.0, |bend| bend.laying_length_m),
        End::Joining(i) => sockets.joinings.get(i).map_or(leg_m, |(joining, _)| {
            let half = joining.fitting.junction().and_then(|branch| branch.run_laying_length_m);
            joining.at_m + half.unwrap_or(0.0)
        }),
        End::Valve | End::Start | End::Stop | End::Far => leg_m,
    }
}

/// A bend by its number.
fn bend(route: &Route, n: usize) -> Option<&Bend> {
    route.bends.iter().find(|bend| bend.n == n)
}

/// What an onward path or trunk runs into.
fn far_socket(worked: &Worked, into: &Into) -> Socket {
    match into {
        Into::Unit => ("unit".into(), None),
        Into::Trunk { trunk, with, .. } => {
            let id = worked.work.job.trunks.get(*trunk).map_or("trunk", |trunk| &trunk.id);
            (format!("{} on {id}", with.name), with.socket_m)
        }
    }
}

//! Every joint of a line, in the order in which it is built.
//!
//! A joint is one tube end in one socket. A line is told end to end: what the first tube seats in,
//! its pieces with a coupling between each two, what the last seats in. A tube that cannot be cut
//! still has its two joints, so that numbers do not shift when the route is mended.
use super::worked::{InletPart, TubeCut, Worked};
use crate::company::{Catalog, Fitting, FittingKind, Into, Purpose};
use crate::route::{Bend, End, Route, Tube};

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
    /// Whether the tube of this joint cannot be cut as planned.
    pub amiss: bool,
}

/// The sockets in which a line begins and ends, and the coupling it uses.
#[derive(Debug, Clone)]
pub struct Sockets {
    /// Name and depth of what the line starts in.
    pub start: (String, Option<f64>),
    pub far: (String, Option<f64>),
    pub coupling_m: Option<f64>,
    /// Junctions on the line, by their index.
    pub joinings: Vec<(String, Option<f64>)>,
}

/// Joints of a raceway, from the valve to the stop.
pub fn raceway(worked: &Worked, part: &InletPart) -> Vec<Joint> {
    let sockets = Sockets {
        start: ("valve".into(), part.inlet.valve.socket_m),
        far: ("stop".into(), stop(worked.catalog).and_then(|stop| stop.socket_m)),
        coupling_m: coupling(worked.catalog, Purpose::Raceway).and_then(|c| c.socket_m),
        joinings: Vec::new(),
    };
    line(part.route, part.cuts, &sockets, 1)
}

/// Joints of an inlet's onward path, numbered on from its raceway; none where it has no onward path.
pub fn onward(worked: &Worked, part: &InletPart, first: usize) -> Vec<Joint> {
    let laid = worked.routes.onward.get(part.index).and_then(Option::as_ref);
    let (Some(laid), Some(planned)) = (laid, &part.inlet.onward) else {
        return Vec::new();
    };
    let sockets = Sockets {
        start: ("stop".into(), stop(worked.catalog).and_then(|stop| stop.socket_m)),
        far: far_socket(worked, &planned.into),
        coupling_m: coupling(worked.catalog, Purpose::Trunk).and_then(|c| c.socket_m),
        joinings: Vec::new(),
    };
    line(&laid.route, part.onward_cuts, &sockets, first)
}

/// Joints of a trunk, numbered from 1.
pub fn trunk(worked: &Worked, index: usize) -> Vec<Joint> {
    let (Some(laid), Some(planned)) = (worked.routes.trunks.get(index), worked.job.trunks.get(index)) else {
        return Vec::new();
    };
    let sockets = Sockets {
        start: ("start".into(), None),
        far: far_socket(worked, &planned.into),
        coupling_m: coupling(worked.catalog, Purpose::Trunk).and_then(|c| c.socket_m),
        joinings: laid
            .joinings
            .iter()
            .map(|j| (format!("{} ({})", j.fitting.name, j.by), j.fitting.socket_m))
            .collect(),
    };
    let cuts = worked
        .cuts
        .trunks
        .get(index)
        .map(Vec::as_slice)
        .unwrap_or_default();
    line(&laid.route, cuts, &sockets, 1)
}

/// Joints of any line, numbered from `first`.
pub fn line(route: &Route, cuts: &[TubeCut], sockets: &Sockets, first: usize) -> Vec<Joint> {
    let mut joints = Vec::new();
    for (place, tube) in route.tubes.iter().enumerate() {
        let cut = cuts.get(place);
        let pieces = piece_marks(tube, cut);
        let amiss = cut.is_none_or(|cut| cut.problem.is_some() || cut.pieces.is_empty());
        let (from, from_m) = seat(tube.from, route, sockets);
        let (to, to_m) = seat(tube.to, route, sockets);
        let mut add = |from: &str, to: &str, insertion_m| {
            let mark = format!("J{}", first + joints.len());
            joints.push(Joint {
                mark,
                from: from.into(),
                to: to.into(),
                insertion_m,
                amiss,
            });
        };
        if tube.from != End::Start {
            add(&from, &pieces[0], from_m);
        }
        for pair in pieces.windows(2) {
            add(&pair[0], "coupling", sockets.coupling_m);
            add("coupling", &pair[1], sockets.coupling_m);
        }
        add(&pieces[pieces.len() - 1], &to, to_m);
    }
    joints
}

/// The stop fitting of the firm's catalog.
pub fn stop(catalog: &Catalog) -> Option<&Fitting> {
    let is_stop = |fitting: &&Fitting| matches!(fitting.kind, FittingKind::Stop { .. });
    catalog.fittings.iter().find(is_stop)
}

/// The coupling for raceways or for the tube beyond them.
pub fn coupling(catalog: &Catalog, purpose: Purpose) -> Option<&Fitting> {
    let couplings = || {
        catalog
            .fittings
            .iter()
            .filter(|f| matches!(f.kind, FittingKind::Coupling(_)))
    };
    couplings()
        .find(|f| f.purpose == purpose)
        .or_else(|| couplings().find(|f| f.purpose == Purpose::Either))
}

/// Marks of a tube's pieces, never none.
fn piece_marks(tube: &Tube, cut: Option<&TubeCut>) -> Vec<String> {
    match cut {
        Some(cut) if !cut.pieces.is_empty() => cut.pieces.iter().map(|piece| piece.mark.clone()).collect(),
        Some(cut) => vec![cut.mark.clone()],
        None => vec![tube.mark.clone()],
    }
}

/// Name and depth of the socket at a tube's end.
fn seat(end: End, route: &Route, sockets: &Sockets) -> (String, Option<f64>) {
    match end {
        End::Valve | End::Start => sockets.start.clone(),
        End::Bend(n) => (
            format!("B{n}"),
            bend(route, n).and_then(|b| b.fitting.as_ref()?.socket_m),
        ),
        // An onward path starts at the stop and a raceway ends there; each has its own side of it.
        End::Stop if sockets.start.0 == "stop" => sockets.start.clone(),
        End::Stop | End::Far => sockets.far.clone(),
        End::Joining(i) => sockets
            .joinings
            .get(i)
            .cloned()
            .unwrap_or_else(|| ("junction".into(), None)),
    }
}

/// A bend by its number.
fn bend(route: &Route, n: usize) -> Option<&Bend> {
    route.bends.iter().find(|bend| bend.n == n)
}

/// What an onward path or trunk runs into.
fn far_socket(worked: &Worked, into: &Into) -> (String, Option<f64>) {
    match into {
        Into::Unit => ("unit".into(), None),
        Into::Trunk { trunk, with, .. } => {
            let id = worked.job.trunks.get(*trunk).map_or("trunk", |trunk| &trunk.id);
            (format!("{} on {id}", with.name), with.socket_m)
        }
    }
}

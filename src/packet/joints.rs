//! Every joint of a line, in the order in which it is built.
//!
//! A joint is one tube end in one socket. A line is told end to end, across the stop: what the first
//! tube seats in, its pieces with a coupling between each two, what the last seats in. A tube that
//! cannot be cut still has its two joints, so that numbers do not shift when the line is mended.
use crate::company::{Fitting, Reach};
use crate::route::{End, Line, Tube};
use crate::takeoff::TubeCut;
use crate::work::Work;

/// A joint.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// `J1`, counted along the line; its letters stand before it outside the sheets of its line.
    pub mark: String,
    /// What comes first on the way from the start: `valve`, `H1`, `coupling`.
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

/// The joints of a line, numbered from its start.
pub fn joints(work: &Work, index: usize) -> Vec<Joint> {
    let Some(line) = work.lines.lines.get(index) else {
        return Vec::new();
    };
    let cuts = work.cuts.lines.get(index).map(Vec::as_slice).unwrap_or_default();
    let mut joints = Vec::new();
    for (place, tube) in line.tubes.iter().enumerate() {
        let cut = cuts.get(place);
        let amiss = cut.is_none_or(|cut| cut.pieces.is_empty());
        for (from, to, insertion_m, along_m) in ends(work, line, tube, cut) {
            let mark = format!("J{}", joints.len() + 1);
            joints.push(Joint { mark, from, to, insertion_m, station_m: tube.start_m + along_m, amiss });
        }
    }
    joints
}

/// Name and depth of what a tube of a line seats in.
pub fn seat(work: &Work, line: &Line, end: End) -> Socket {
    let of = |words: &str, fitting: Option<&Fitting>| {
        (words.to_owned(), fitting.and_then(|fitting| fitting.socket_m))
    };
    match end {
        End::Valve => {
            let inlet = match line.owner {
                crate::company::Owner::Inlet(i) => work.job.inlets.get(i),
                crate::company::Owner::Trunk(_) => None,
            };
            ("valve".into(), inlet.and_then(|inlet| inlet.valve.socket_m))
        }
        End::Bend(n) => of(&format!("B{n}"), line.bend(n).and_then(|bend| bend.fitting.as_ref())),
        End::Stop => of("stop", work.catalog.stop()),
        End::Unit => ("unit".into(), work.job.unit.model.socket_m),
        End::Cap => of("cap", work.catalog.cap()),
        End::Open => ("start".into(), None),
        End::From | End::Onto => of("coupling", work.catalog.coupling(Reach::Air)),
        End::Junction(i) => match line.junctions().find(|(at, ..)| *at == i) {
            Some((_, _, joining)) => {
                let by = work.lines.lines.get(joining.line).map_or(joining.by.as_str(), |by| &by.letters);
                of(&format!("{} for {by}", joining.fitting.name), Some(&joining.fitting))
            }
            None => ("junction".into(), None),
        },
        End::Branch => {
            let onto = line.joins.as_ref().and_then(|joins| work.lines.lines.get(joins.line));
            let with = line.joins.as_ref().and_then(|joins| joins.with.as_ref());
            let name = with.map_or("junction", |fitting| &fitting.name);
            of(&format!("{name} on {}", onto.map_or("trunk", |line| &line.name)), with)
        }
    }
}

/// The joints of one tube: from, to, depth of the socket, and how far along the tube its end is.
fn ends(
    work: &Work,
    line: &Line,
    tube: &Tube,
    cut: Option<&TubeCut>,
) -> Vec<(String, String, Option<f64>, f64)> {
    let (from, from_m) = seat(work, line, tube.from);
    let (to, to_m) = seat(work, line, tube.to);
    // The open start of a trunk is no joint until something joins there.
    let open = tube.from == End::Open;
    let Some(cut) = cut.filter(|cut| !cut.pieces.is_empty()) else {
        let first = (!open).then(|| (from, tube.mark.clone(), from_m, 0.0));
        return first.into_iter().chain([(tube.mark.clone(), to, to_m, tube.clear_m.max(0.0))]).collect();
    };
    let coupling_m = work.catalog.coupling(line.reach_of(tube)).and_then(|fitting| fitting.socket_m);
    let coupling = || ("coupling".to_owned(), coupling_m);
    let mut joints = Vec::new();
    let last = cut.pieces.len() - 1;
    for (place, piece) in cut.pieces.iter().enumerate() {
        let before = if place == 0 { (from.clone(), from_m) } else { coupling() };
        let after = if place == last { (to.clone(), to_m) } else { coupling() };
        if place > 0 || !open {
            joints.push((before.0, piece.mark.clone(), before.1, piece.from_m));
        }
        joints.push((piece.mark.clone(), after.0, after.1, piece.from_m + piece.length_m));
    }
    joints
}

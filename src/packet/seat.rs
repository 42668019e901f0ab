//! What the end of a tube seats in.
use crate::company::{Fitting, Reach};
use crate::route::{End, Line};
use crate::work::Work;

/// A socket: what it is called, and how deep it is where the catalog says so.
pub type Socket = (String, Option<f64>);

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

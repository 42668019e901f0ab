//! Trunks and what joins them: where the tube of a trunk is interrupted by junctions.
use super::types::{End, Joining, Route, TrunkRoute, Tube};
use crate::company::{Into, Job};

/// Notes on every trunk what joins it, and divides its tubes at the junctions.
///
/// A junction takes `run-laying-length` off the trunk's tube on each side; nothing where the catalog is silent.
pub fn join(job: &Job, trunks: &mut [TrunkRoute]) {
    let inlets =
        job.inlets.iter().filter_map(|inlet| Some((inlet.id.as_str(), &inlet.onward.as_ref()?.into)));
    let lines = inlets.chain(job.trunks.iter().map(|trunk| (trunk.id.as_str(), &trunk.into)));
    for (by, into) in lines {
        let Into::Trunk { trunk, at, with } = into else {
            continue;
        };
        if let (Some(laid), Some(at_m)) = (trunks.get_mut(*trunk), at.station_m()) {
            laid.joinings.push(Joining { at_m, fitting: with.clone(), by: by.to_owned() });
        }
    }
    for laid in trunks {
        laid.joinings.sort_by(|a, b| a.at_m.total_cmp(&b.at_m));
        laid.route.tubes = divided(&laid.route, &laid.joinings);
    }
}

/// Takes the junction's `branch-laying-length` off the last tube of a line that ends in a branch.
pub fn seat_in_branch(route: &mut Route, into: &Into) {
    let Into::Trunk { with, .. } = into else { return };
    let taken_m = with.junction().and_then(|branch| branch.branch_laying_length_m).unwrap_or(0.0);
    if let Some(tube) = route.tubes.last_mut() {
        tube.clear_m -= taken_m;
    }
}

/// The tubes of a trunk between its fittings, marked anew in order.
fn divided(route: &Route, joinings: &[Joining]) -> Vec<Tube> {
    let mut tubes: Vec<Tube> = Vec::new();
    for tube in &route.tubes {
        let leg = &route.legs[tube.leg];
        let last = tube.leg + 1 == route.legs.len();
        let on_leg = joinings.iter().enumerate().filter(|(_, joining)| {
            let along_m = joining.at_m - leg.station_m;
            along_m >= 0.0 && (along_m < leg.length_m || (last && along_m <= leg.length_m))
        });
        // The tube's own ends along its leg: what the bends take off is already in its length.
        let start_m = bend_takes(route, tube.from);
        let (mut from, mut from_m) = (tube.from, start_m);
        for (i, joining) in on_leg {
            let half_m =
                joining.fitting.junction().and_then(|branch| branch.run_laying_length_m).unwrap_or(0.0);
            let at_m = joining.at_m - leg.station_m;
            let clear_m = at_m - half_m - from_m;
            // A junction at a trunk's very start is plugged, and no tube comes before it.
            if from != End::Start || clear_m > 0.0 {
                tubes.push(part(tube, from, End::Joining(i), clear_m));
            }
            (from, from_m) = (End::Joining(i), at_m + half_m);
        }
        tubes.push(part(tube, from, tube.to, start_m + tube.clear_m - from_m));
    }
    for (i, tube) in tubes.iter_mut().enumerate() {
        tube.mark = format!("T{}", i + 1);
    }
    tubes
}

fn bend_takes(route: &Route, end: End) -> f64 {
    match end {
        End::Bend(n) => route.bends.iter().find(|bend| bend.n == n).map_or(0.0, |bend| bend.laying_length_m),
        _ => 0.0,
    }
}

fn part(tube: &Tube, from: End, to: End, clear_m: f64) -> Tube {
    Tube { mark: tube.mark.clone(), leg: tube.leg, from, to, clear_m }
}

//! All lines of a job, set in the job's frame as far as places are given.
use super::join;
use super::lay::{Ends, lay};
use super::types::{Anchor, Closure, JobRoutes, Onward, Route, TrunkRoute};
use crate::company::{Catalog, Direction, Inlet, Into, Job, Path, Trunk};
use crate::measure::{Say, heading_words};
use glam::DVec3;

/// Lays every raceway, onward path and trunk of a job.
///
/// A trunk is placed by its `starts`; without it, backwards from what it runs into, where that has a
/// place. A raceway is placed by its inlet's `at`. Where both ends of a line have a place the
/// difference is its [`Closure`].
pub fn lay_job(job: &Job, catalog: &Catalog, say: &Say) -> JobRoutes {
    let mut trunks = lay_trunks(job, catalog, say);
    join::join(job, &mut trunks);
    let raceways: Vec<Route> = job.inlets.iter().map(|inlet| lay_raceway(inlet, catalog)).collect();
    let onward = job
        .inlets
        .iter()
        .zip(&raceways)
        .map(|(inlet, raceway)| lay_onward(job, inlet, raceway, &trunks, catalog, say))
        .collect();
    JobRoutes { raceways, onward, trunks }
}

/// The job's lines with one inlet laid again, for a trial of a change to it; the trunks stay.
pub fn lay_inlet_again(
    job: &Job,
    inlet: usize,
    routes: &JobRoutes,
    catalog: &Catalog,
    say: &Say,
) -> JobRoutes {
    let mut changed = routes.clone();
    if let (Some(spec), Some(place)) = (job.inlets.get(inlet), changed.raceways.get_mut(inlet)) {
        *place = lay_raceway(spec, catalog);
        changed.onward[inlet] = lay_onward(job, spec, &changed.raceways[inlet], &routes.trunks, catalog, say);
    }
    changed
}

/// Lays one raceway, at its inlet's place or at nought.
pub fn lay_raceway(inlet: &Inlet, catalog: &Catalog) -> Route {
    lay(inlet.at.unwrap_or(DVec3::ZERO), &inlet.raceway, Ends::RACEWAY, catalog)
}

/// The point at a station along a route's work points; `None` beyond its end.
pub fn point_at(route: &Route, station_m: f64) -> Option<DVec3> {
    const BEYOND_M: f64 = 1e-6;
    let leg = route.legs.iter().find(|leg| station_m <= leg.station_m + leg.length_m + BEYOND_M)?;
    Some(leg.from + leg.heading * (station_m - leg.station_m))
}

fn lay_onward(
    job: &Job,
    inlet: &Inlet,
    raceway: &Route,
    trunks: &[TrunkRoute],
    catalog: &Catalog,
    say: &Say,
) -> Option<Onward> {
    let onward = inlet.onward.as_ref()?;
    let leaves = Direction { vector: raceway.end_heading, words: heading_words(raceway.end_heading) };
    let path = Path { leaves, steps: onward.steps.clone() };
    let mut route = lay(raceway.end, &path, Ends::ONWARD, catalog);
    join::seat_in_branch(&mut route, &onward.into);
    let closure = inlet.at.and_then(|_| closure(job, &onward.into, &route, trunks, say));
    Some(Onward { route, closure })
}

/// Lays the trunks; one that runs into another waits for it, and reading has refused circles.
fn lay_trunks(job: &Job, catalog: &Catalog, say: &Say) -> Vec<TrunkRoute> {
    let mut done: Vec<Option<TrunkRoute>> = job.trunks.iter().map(|_| None).collect();
    for _ in 0..job.trunks.len() {
        for (i, trunk) in job.trunks.iter().enumerate() {
            let ready = match trunk.into {
                Into::Unit => true,
                Into::Trunk { trunk: parent, .. } => done.get(parent).is_some_and(Option::is_some),
            };
            if done[i].is_none() && ready {
                done[i] = Some(lay_trunk(job, trunk, &done, catalog, say));
            }
        }
    }
    done.into_iter().flatten().collect()
}

fn lay_trunk(
    job: &Job,
    trunk: &Trunk,
    done: &[Option<TrunkRoute>],
    catalog: &Catalog,
    say: &Say,
) -> TrunkRoute {
    let known: Vec<TrunkRoute> = done.iter().flatten().cloned().collect();
    let wanted = target(job, &trunk.into, &known, say).map(|(point, _)| point);
    let at_nought = lay(DVec3::ZERO, &trunk.path, Ends::TRUNK, catalog);
    let (start, anchor) = match (trunk.starts, wanted) {
        (Some(start), _) => (start, Anchor::Start),
        (None, Some(wanted)) => (wanted - at_nought.end, Anchor::End),
        (None, None) => (DVec3::ZERO, Anchor::None),
    };
    let route = lay(start, &trunk.path, Ends::TRUNK, catalog);
    let closure = match anchor {
        Anchor::Start => closure(job, &trunk.into, &route, &known, say),
        _ => None,
    };
    let mut laid = TrunkRoute { id: trunk.id.clone(), route, anchor, closure, joinings: Vec::new() };
    join::seat_in_branch(&mut laid.route, &trunk.into);
    laid
}

/// How a line closes on what it runs into, where that has a place.
fn closure(job: &Job, into: &Into, route: &Route, trunks: &[TrunkRoute], say: &Say) -> Option<Closure> {
    let (wanted, place) = target(job, into, trunks, say)?;
    Some(Closure { wanted, miss: route.end - wanted, place })
}

/// Where a line should arrive, and its name.
fn target(job: &Job, into: &Into, trunks: &[TrunkRoute], say: &Say) -> Option<(DVec3, String)> {
    match into {
        Into::Unit => Some((job.unit.at?, "the unit".to_owned())),
        Into::Trunk { trunk, at, .. } => {
            let at_m = at.station_m()?;
            let id = &job.trunks.get(*trunk)?.id;
            let parent = trunks.iter().find(|t| t.id == *id)?;
            if parent.anchor == Anchor::None {
                return None;
            }
            Some((point_at(&parent.route, at_m)?, format!("trunk {id} at {}", say.length(at_m))))
        }
    }
}

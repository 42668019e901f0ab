//! Every tube of a job in pieces, and the sticks they are cut from.
use crate::company::{Catalog, FittingKind, Job, Purpose, Tube as Stick};
use crate::material::{CuttingPlan, NamedTube, STEPS, SplitTube, Stock, TubePiece, plan};
use crate::route::{End, JobRoutes, Route, Tube};

/// A tube and how it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct TubeCut {
    pub mark: String,
    /// Between the stops of its fittings; not above nothing where they collide.
    pub clear_m: f64,
    /// Valve to stop; empty where it cannot be cut.
    pub pieces: Vec<TubePiece>,
    /// Why it cannot be cut.
    pub problem: Option<String>,
}

/// The tubes of one line, in the order of its route.
pub type LineCuts = Vec<TubeCut>;

/// All tubes of a job.
#[derive(Debug, Clone)]
pub struct Cuts {
    pub raceways: Vec<LineCuts>,
    /// Empty for an inlet without an onward path.
    pub onward: Vec<LineCuts>,
    pub trunks: Vec<LineCuts>,
    /// `Err` where there is no plan at all, with the reason.
    pub plan: Result<CuttingPlan, String>,
}

/// Cuts and plans a whole job.
///
/// Couplings keep clear of every crossing by its thickness (1-1/2 in where the member's is not known).
pub fn cuts(job: &Job, routes: &JobRoutes, catalog: &Catalog) -> Cuts {
    let stock = stock(catalog);
    let lines = lines(job, routes);
    let mut asked = Vec::new();
    for (owner, route) in &lines {
        asked.extend(
            route.tubes.iter().filter(|tube| tube.clear_m > 0.0).map(|tube| named(owner, route, tube)),
        );
    }
    let plan = plan(&asked, &stock, STEPS).map_err(|error| error.to_string());
    let of = |owner: &str, route: &Route| route.tubes.iter().map(|tube| cut(owner, tube, &plan)).collect();
    let mut all: Vec<LineCuts> = lines.iter().map(|(owner, route)| of(owner, route)).collect();
    let trunks = all.split_off(job.inlets.len() + routes.onward.iter().flatten().count());
    let mut laid = all.split_off(job.inlets.len()).into_iter();
    let onward = routes
        .onward
        .iter()
        .map(|line| line.as_ref().and_then(|_| laid.next()).unwrap_or_default())
        .collect();
    Cuts { raceways: all, onward, trunks, plan }
}

/// Raceways, then onward paths, then trunks, each with the name its pieces carry.
fn lines<'a>(job: &'a Job, routes: &'a JobRoutes) -> Vec<(String, &'a Route)> {
    let raceways = job.inlets.iter().zip(&routes.raceways).map(|(inlet, route)| (inlet.id.clone(), route));
    let onward = job
        .inlets
        .iter()
        .zip(&routes.onward)
        .filter_map(|(inlet, onward)| Some((inlet.id.clone(), &onward.as_ref()?.route)));
    let trunks = routes.trunks.iter().map(|trunk| (format!("trunk {}", trunk.id), &trunk.route));
    raceways.chain(onward).chain(trunks).collect()
}

/// What the catalog's tube and couplings are to the saw; a catalog without a coupling has one of no gap.
fn stock(catalog: &Catalog) -> Stock {
    let Stick { stick_m, kerf_m, shortest_m, .. } = catalog.tube;
    let couplings = || {
        catalog.fittings.iter().filter_map(|fitting| match &fitting.kind {
            FittingKind::Coupling(coupling) => Some((fitting, coupling)),
            _ => None,
        })
    };
    let coupling =
        couplings().find(|(fitting, _)| fitting.purpose != Purpose::Trunk).or_else(|| couplings().next());
    Stock {
        stick_m,
        kerf_m,
        shortest_m,
        coupling_gap_m: coupling.map_or(0.0, |(_, coupling)| coupling.gap_m),
        coupling_socket_m: coupling.and_then(|(fitting, _)| fitting.socket_m).unwrap_or(0.0),
    }
}

/// Thickness of a two-by, dressed (PS 20), for members whose size is not given.
const TWO_BY_M: f64 = 0.0381;

fn named(owner: &str, route: &Route, tube: &Tube) -> NamedTube {
    let leg = &route.legs[tube.leg];
    let taken_m = match tube.from {
        End::Bend(n) => route.bends.iter().find(|bend| bend.n == n).map_or(0.0, |bend| bend.laying_length_m),
        _ => 0.0,
    };
    let keep_clear = leg
        .crossings
        .iter()
        .map(|(at_m, crossing)| {
            let half_m = crossing.thickness_m.unwrap_or(TWO_BY_M) / 2.0;
            (at_m - taken_m - half_m, at_m - taken_m + half_m)
        })
        .filter(|(from_m, to_m)| *to_m > 0.0 && *from_m < tube.clear_m)
        .map(|(from_m, to_m)| (from_m.max(0.0), to_m.min(tube.clear_m)))
        .collect();
    NamedTube { mark: tube.mark.clone(), owner: owner.to_owned(), clear_m: tube.clear_m, keep_clear }
}

fn cut(owner: &str, tube: &Tube, plan: &Result<CuttingPlan, String>) -> TubeCut {
    let bare = |problem: String| TubeCut {
        mark: tube.mark.clone(),
        clear_m: tube.clear_m,
        pieces: Vec::new(),
        problem: Some(problem),
    };
    if tube.clear_m <= 0.0 {
        return bare("the fittings at its ends collide".into());
    }
    let plan = match plan {
        Ok(plan) => plan,
        Err(why) => return bare(why.clone()),
    };
    let of_owner = |other: &&SplitTube| other.owner == owner && other.mark == tube.mark;
    if let Some(split) = plan.tubes.iter().find(of_owner) {
        return TubeCut {
            mark: tube.mark.clone(),
            clear_m: tube.clear_m,
            pieces: split.pieces.clone(),
            problem: None,
        };
    }
    let why = plan.unsplit.iter().find(|other| other.owner == owner && other.mark == tube.mark);
    bare(why.map_or_else(|| "it is not in the plan".to_owned(), |unsplit| unsplit.error.to_string()))
}

//! The way of an inlet's air beyond its raceway: onward path, then trunk after trunk to the unit.
use crate::company::{Fitting, Into, Job};
use crate::route::{JobRoutes, Route};

/// One line on the way, entered at a station.
#[derive(Debug, Clone)]
pub struct Stretch<'a> {
    /// `the onward path`, `trunk main`.
    pub name: String,
    /// Index of the trunk; `None` for the onward path.
    pub trunk: Option<usize>,
    pub route: &'a Route,
    /// Station along work points at which the air comes in.
    pub from_m: f64,
    /// The junction by which it comes in; `None` for the onward path.
    pub by: Option<&'a Fitting>,
}

/// Every line from the stop to the unit; empty where the inlet has no onward path.
pub fn way<'a>(job: &'a Job, inlet: usize, routes: &'a JobRoutes) -> Vec<Stretch<'a>> {
    let mut way = Vec::new();
    let (Some(spec), Some(Some(onward))) = (job.inlets[inlet].onward.as_ref(), routes.onward.get(inlet))
    else {
        return way;
    };
    way.push(Stretch {
        name: "the onward path".into(),
        trunk: None,
        route: &onward.route,
        from_m: 0.0,
        by: None,
    });
    let mut into = &spec.into;
    // Each trunk is met once: reading has refused circles, and the count guards against them all the same.
    for _ in 0..job.trunks.len() {
        let Into::Trunk { trunk, at, with } = into else {
            break;
        };
        let (spec, laid, at_m) = (job.trunks.get(*trunk), routes.trunks.get(*trunk), at.station_m());
        let (Some(spec), Some(laid), Some(from_m)) = (spec, laid, at_m) else {
            break;
        };
        let name = format!("trunk {}", spec.id);
        way.push(Stretch { name, trunk: Some(*trunk), route: &laid.route, from_m, by: Some(with) });
        into = &spec.into;
    }
    way
}

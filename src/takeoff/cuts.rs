//! Every tube of a job in pieces, and the sticks they are cut from.
use crate::company::{Catalog, Reach, Tube as Stick};
use crate::material::{
    CuttingPlan, NamedTube, STEPS, Stock, TubePiece, TubeToSplit, couplings, pieces, plan, split,
};
use crate::measure::Say;
use crate::route::{JobLines, Line, Tube};

/// A tube and how it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct TubeCut {
    pub mark: String,
    /// From seat to seat; not above nothing where its fittings collide.
    pub clear_m: f64,
    /// In the order of the line; empty where it cannot be cut.
    pub pieces: Vec<TubePiece>,
    /// What each coupling between them covers, by distance from the tube's start.
    pub couplings: Vec<(f64, f64)>,
    /// Why it cannot be cut.
    pub problem: Option<String>,
}

/// The tubes of one line, in its order.
pub type LineCuts = Vec<TubeCut>;

/// All tubes of a job.
#[derive(Debug, Clone)]
pub struct Cuts {
    /// In the order of the laid lines.
    pub lines: Vec<LineCuts>,
    /// `Err` where there is no plan at all, with the reason.
    pub plan: Result<CuttingPlan, String>,
}

impl Cuts {
    /// How many tubes no list counts, since nobody can cut them; `None` where there are none.
    pub fn not_counted(&self) -> Option<String> {
        match self.lines.iter().flatten().filter(|cut| cut.problem.is_some()).count() {
            0 => None,
            1 => Some("1 tube cannot be made and is not counted".into()),
            n => Some(format!("{n} tubes cannot be made and are not counted")),
        }
    }
}

/// Cuts and plans a whole job.
///
/// Couplings keep clear of every crossing by the member's thickness (1-1/2 in where that is not known).
pub fn cuts(lines: &JobLines, catalog: &Catalog, say: &Say) -> Cuts {
    let asked: Vec<NamedTube> = lines
        .lines
        .iter()
        .flat_map(|line| line.tubes.iter().map(move |tube| (line, tube)))
        .filter(|(line, tube)| tube.clear_m > 0.0 && line.unmeasured(tube, catalog, say).is_none())
        .map(|(line, tube)| named(line, tube, catalog))
        .collect();
    let plan = plan(&asked, &stock(catalog, say), STEPS).map_err(|error| error.said(say));
    let of = |line: &Line| line.tubes.iter().map(|tube| cut(line, tube, &plan, (catalog, say))).collect();
    Cuts { lines: lines.lines.iter().map(of).collect(), plan }
}

/// Every tube of a job in pieces, each taken alone: which can be made, and where its couplings may lie. What
/// a whole plan moves to save a stick is not looked for, so that a change can be tried quickly.
pub fn divided(lines: &JobLines, catalog: &Catalog, say: &Say) -> Vec<LineCuts> {
    let stock = stock(catalog, say);
    let one = |line: &Line, tube: &Tube| {
        let asked = named(line, tube, catalog);
        let own = stock.coupled_by(asked.coupling);
        let bare = TubeToSplit { clear_m: asked.clear_m, keep_clear: asked.keep_clear };
        if let Some(why) = impossible(line, tube, catalog, say) {
            return uncut(tube, why);
        }
        match split(&bare, &own) {
            Ok(lengths_m) => TubeCut {
                couplings: couplings(&lengths_m, &own),
                pieces: pieces(&tube.mark, &lengths_m, &own),
                ..uncut(tube, String::new()).made()
            },
            Err(error) => uncut(tube, error.said(say)),
        }
    };
    lines.lines.iter().map(|line| line.tubes.iter().map(|tube| one(line, tube)).collect()).collect()
}

/// Why there is no tube to cut, whatever the stock: it has no room, or nobody knows how long it is.
fn impossible(line: &Line, tube: &Tube, catalog: &Catalog, say: &Say) -> Option<String> {
    match tube.clear_m > 0.0 {
        true => line.unmeasured(tube, catalog, say).map(|unmeasured| unmeasured.why),
        false => Some("the fittings at its ends collide".to_owned()),
    }
}

/// A tube that cannot be cut.
fn uncut(tube: &Tube, problem: String) -> TubeCut {
    TubeCut {
        mark: tube.mark.clone(),
        clear_m: tube.clear_m,
        pieces: Vec::new(),
        couplings: Vec::new(),
        problem: Some(problem),
    }
}

impl TubeCut {
    fn made(self) -> TubeCut {
        TubeCut { problem: None, ..self }
    }
}

/// What the catalog's tube is to the saw, with the coupling of raceways; pieces are marked as they are printed.
fn stock(catalog: &Catalog, say: &Say) -> Stock {
    let Stick { stick_m, kerf_m, shortest_m, .. } = catalog.tube;
    let (coupling_gap_m, coupling_socket_m) = coupling(catalog, Reach::Hose);
    let mark_m = say.step_m();
    Stock { stick_m, kerf_m, mark_m, shortest_m, coupling_gap_m, coupling_socket_m }
}

/// Gap and socket of the coupling of a stretch; a catalog without a coupling has one of no length.
fn coupling(catalog: &Catalog, reach: Reach) -> (f64, f64) {
    let socket_m = catalog.coupling(reach).and_then(|fitting| fitting.socket_m);
    (catalog.coupling_gap_m(reach), socket_m.unwrap_or(0.0))
}

fn named(line: &Line, tube: &Tube, catalog: &Catalog) -> NamedTube {
    let keep_clear = line
        .crossings
        .iter()
        .filter(|crossed| crossed.leg == tube.leg)
        .map(|crossed| {
            let half_m = crossed.crossing.along_tube_m() / 2.0;
            let at_m = crossed.station_m - tube.start_m;
            (at_m - half_m, at_m + half_m)
        })
        .filter(|(from_m, to_m)| *to_m > 0.0 && *from_m < tube.clear_m)
        .map(|(from_m, to_m)| (from_m.max(0.0), to_m.min(tube.clear_m)))
        .collect();
    NamedTube {
        mark: tube.mark.clone(),
        owner: line.belongs_to(),
        clear_m: tube.clear_m,
        keep_clear,
        coupling: Some(coupling(catalog, line.reach_of(tube))),
    }
}

fn cut(
    line: &Line,
    tube: &Tube,
    plan: &Result<CuttingPlan, String>,
    (catalog, say): (&Catalog, &Say),
) -> TubeCut {
    if let Some(why) = impossible(line, tube, catalog, say) {
        return uncut(tube, why);
    }
    let plan = match plan {
        Ok(plan) => plan,
        Err(why) => return uncut(tube, why.clone()),
    };
    // Marks are unique in the job.
    if let Some(split) = plan.tubes.iter().find(|split| split.mark == tube.mark) {
        let (pieces, couplings) = (split.pieces.clone(), split.couplings.clone());
        return TubeCut { pieces, couplings, ..uncut(tube, String::new()).made() };
    }
    let why = plan.unsplit.iter().find(|other| other.mark == tube.mark);
    uncut(tube, why.map_or_else(|| "it is not in the plan".to_owned(), |unsplit| unsplit.error.said(say)))
}

//! `hose-room`: the raceway is longer than the hose, with something to spare.
use crate::company::{Hose, Rule, Standard};
use crate::measure::{Bound, Kind};
use crate::standard::{
    AskInlet, Check, Clause, Limit, Mend, Need, Outcome, Parameter, Pictured, Quantity, Seen, Spot,
};

pub static CLAUSE: Clause = Clause {
    id: "hose-room",
    title: "Hose room",
    measures: "\
The hose path from the valve's seat to the stop is measured along the centerline, round the arcs of the bends: the \
sum of the runs, less `2 R tan(a/2)`, plus `R a`, for each bend of radius `R` and angle `a`. It is held against the \
hose's length and the allowance on top, for a hose grows with age. A path equal to that passes.

**Example.** A hose of 40 ft with an allowance of 10 % wants 44 ft of path. Six sticks of 8 ft hold it (48 ft) and \
five do not (40 ft); a 50 ft hose wants 55 ft, which is seven sticks. A raceway of 41 ft for a hose of 40 ft is a \
mistake that shows in the second winter.

**Remedy.** Lengthen the last run, move the stop on, or fit a shorter hose.

**Source.** Common practice, no source: six sticks of eight feet for a 40 ft hose, seven for a 50 ft one.",
    bound: Bound::AtLeast,
    limit: Limit::Set(Parameter { key: "allowance", default: None, kind: Kind::Ratio }),
    quantity: Quantity::Length,
    needs: &[Need::Hose],
    mends: &[Mend::LongerPath, Mend::OtherHose],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: down
hose: socked-40
path: [{run: 2 ft 10 in}, {turn: 90 east}, {run: 22 ft}, {turn: 90 north}, {run: 22 ft}]
",
        wrong: "\
leaves: down
hose: socked-40
path: [{run: 2 ft 10 in}, {turn: 90 east}, {run: 19 ft}, {turn: 90 north}, {run: 19 ft}]
",
    }),
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let allowance = ask.limit;
    let path_m = ask.raceway.hose_path_m;
    let need_m = wanted_m(&ask.inlet.hose, allowance);
    let mut hose = format!("{} of hose", ask.say.length(ask.inlet.hose.length_m));
    if allowance > 0.0 {
        hose += &format!(" and {}", percent(allowance));
    }
    let (path, need) = ask.beside_of(Kind::Length, path_m, need_m);
    if ask.keeps_to(path_m, need_m) {
        let note = format!("{path} of hose path; {need} needed for {hose}");
        return vec![Outcome::met(path_m, need_m, note)];
    }
    let short = ask.say.length_up(need_m - path_m);
    let note = format!("{path} of hose path, {short} short of the {need} needed for {hose}");
    let remedy = match longest_that_fits(ask, path_m, allowance) {
        Some(other) => format!(
            "make the last run {short} longer, or use a {} hose ({})",
            ask.say.length(other.length_m),
            other.id
        ),
        None => format!("make the last run {short} longer"),
    };
    vec![Outcome::broken(path_m, need_m, vec![Spot::Stop], note, remedy)]
}

/// By how much a standard lets a hose grow, as a share of its length; nothing where it does not say.
pub fn hose_allowance(standard: &Standard) -> f64 {
    match standard.clause(CLAUSE.id).map(|clause| &clause.rule) {
        Some(Rule::Computed(rule)) => rule.value.unwrap_or(0.0),
        _ => 0.0,
    }
}

/// The path that a hose wants.
fn wanted_m(hose: &Hose, allowance: f64) -> f64 {
    hose.length_m * (1.0 + allowance)
}

/// The longest hose of the catalog that the path holds: one of the same make of sock first.
fn longest_that_fits<'a>(ask: &AskInlet<'a>, path_m: f64, allowance: f64) -> Option<&'a Hose> {
    let fits = |hose: &&Hose| ask.keeps_to(path_m, wanted_m(hose, allowance));
    let longest = |same: bool| {
        ask.catalog
            .hoses
            .iter()
            .filter(|hose| !same || hose.sock == ask.inlet.hose.sock)
            .filter(fits)
            .max_by(|a, b| a.length_m.total_cmp(&b.length_m))
    };
    longest(true).or_else(|| longest(false))
}

/// A ratio as per cent: `10 %`.
fn percent(ratio: f64) -> String {
    let value = (ratio * 1e6).round() / 1e4;
    format!("{value} %")
}

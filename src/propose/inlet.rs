//! The search for one inlet: from the fewest degrees upward, over every stand of the valve within its bay.
use super::bound::Bound;
use super::build::Site;
use super::field::{Aim, Field, tubes_on_level, wall_size};
use super::judge::{Against, Judged};
use super::lanes::Lanes;
use super::onward::Onward;
use super::search::{Found, Search};
use super::{MOST_DEG, MOST_TRIED, OFFERED, Proposal, Proposals, Proposer, alike, order};
use crate::company::Into;
use crate::plan::P2;
use crate::route::lay_job;
use crate::standard::Verdict;
use rayon::prelude::*;

/// One stand of the valve with its lanes.
struct Stand {
    lanes: Lanes,
    moved: P2,
    start: usize,
}

impl Proposer<'_> {
    /// Proposes routes for an inlet, to the unit or to the trunk that it joins; an error says in one sentence
    /// what is missing. `told` hears of progress: stands looked at and routes inspected.
    pub fn inlet(&self, inlet: usize, told: &mut dyn FnMut(usize, usize)) -> Result<Proposals, String> {
        let field = self.field()?;
        let aim = self.aim(&field, inlet)?;
        let laid = lay_job(self.job, self.catalog, &self.say);
        let trunk = aim.old.into.as_ref().and_then(Into::trunk).map(|trunk| self.job.inlets.len() + trunk);
        let others = laid.lines.iter().enumerate().filter(|(i, _)| *i != inlet && Some(*i) != trunk);
        let tubes = tubes_on_level(&field, others.map(|(_, line)| line));
        let more: Vec<P2> = trunk.and_then(|t| laid.lines.get(t)).map_or(Vec::new(), |line| {
            line.legs.iter().flat_map(|leg| [leg.from.truncate(), leg.to.truncate()]).collect()
        });
        let unit = field.unit.truncate();
        let stand = |moved: &P2| {
            let at = aim.valve.truncate() + *moved;
            let points = if trunk.is_some() { vec![at] } else { vec![at, unit] };
            let lanes = self.lanes(&field, &points, &more, tubes.clone())?;
            let start = lanes.node_at(at)?;
            Some(Stand { lanes, moved: *moved, start })
        };
        let stands: Vec<Stand> = aim.shifts.par_iter().filter_map(stand).collect();
        if stands.is_empty() {
            return Err("no lane of the raceway's level runs under the valve and the unit".into());
        }
        let parts = &field.parts;
        let made = stands.par_iter().map(|stand| {
            let goals = self.goals(&field, &stand.lanes, aim.old, &laid)?;
            let bound = Bound::new(&stand.lanes, &parts.bends, parts.shortest_m, MOST_DEG);
            Ok((bound, Onward::new(&stand.lanes, &parts.shorts, parts.shortest_m, parts.arm_m(), goals)))
        });
        let made = made.collect::<Result<Vec<(Bound, Onward)>, String>>()?;
        let found = none(inlet, aim.need_m);
        let mut hunt = Hunt { proposer: self, field: &field, aim: &aim, inlet, trunk, stopped: 0, found };
        hunt.stopped = hunt.stops(&self.judge(self.job, &hunt.which()));
        let mut degrees = 0.0;
        while degrees <= MOST_DEG + 1.0 {
            hunt.of_degrees(degrees, &stands, &made, told);
            if hunt.found.offers.iter().filter(|p| p.verdict < Verdict::Caution).count() >= OFFERED {
                break;
            }
            degrees += 45.0;
        }
        let mut found = hunt.found;
        found.offers.sort_by(order);
        found.offers.truncate(OFFERED);
        found.against.sort();
        Ok(found)
    }
}

/// A search in which nothing was found yet.
pub fn none(inlet: usize, need_m: f64) -> Proposals {
    let against = Against::default();
    Proposals { inlet, bounds: Vec::new(), need_m, offers: Vec::new(), tried: 0, against }
}

/// The longest way on the level from over or under the valve.
pub fn longest_m(bound: &Bound, lanes: &Lanes, start: usize, degrees: f64, riser: usize) -> f64 {
    lanes.ground.headings().map(|h| bound.on_m(degrees, start, h, riser)).fold(f64::NEG_INFINITY, f64::max)
}

/// What a search gathers.
struct Hunt<'h> {
    proposer: &'h Proposer<'h>,
    field: &'h Field<'h>,
    aim: &'h Aim<'h>,
    inlet: usize,
    /// The line of the trunk that is joined.
    trunk: Option<usize>,
    /// What stops that trunk as it stands.
    stopped: usize,
    found: Proposals,
}

impl Hunt<'_> {
    /// The lines that are judged.
    fn which(&self) -> Vec<usize> {
        std::iter::once(self.inlet).chain(self.trunk).collect()
    }

    /// How much stops the trunk.
    fn stops(&self, judged: &Judged) -> usize {
        judged.findings.iter().skip(1).flatten().filter(|finding| finding.verdict.stops()).count()
    }

    /// Looks at all routes of so many degrees on the level.
    fn of_degrees(
        &mut self,
        degrees: f64,
        stands: &[Stand],
        made: &[(Bound, Onward)],
        told: &mut dyn FnMut(usize, usize),
    ) {
        let parts = &self.field.parts;
        let bounds = stands.iter().zip(made);
        let best_m = bounds
            .map(|(stand, (bound, _))| longest_m(bound, &stand.lanes, stand.start, degrees, parts.riser));
        let best_m = best_m.fold(f64::NEG_INFINITY, f64::max);
        if best_m.is_finite() {
            let more_m = self.aim.need_m - self.aim.level_need_m;
            self.found.bounds.push((degrees + 90.0, best_m + more_m));
        }
        let mut routes: Vec<(usize, Found)> = Vec::new();
        for (s, (stand, (bound, onward))) in stands.iter().zip(made).enumerate() {
            // The valve as it stands goes first; others are looked at while too little was found.
            if s > 0 && self.found.offers.len() + routes.len() >= OFFERED {
                break;
            }
            let mut search = Search::new(&stand.lanes, bound, onward, parts, self.aim.level_need_m);
            routes.extend(search.of_degrees(stand.start, degrees).into_iter().map(|route| (s, route)));
            told(s + 1, self.found.tried);
        }
        routes.sort_by(|a, b| {
            let key = |r: &Found| (r.bores, (r.onward_cost_m * 1e4) as u64);
            key(&a.1).cmp(&key(&b.1)).then_with(|| a.1.word.cmp(&b.1.word))
        });
        for (s, route) in routes {
            if self.found.tried >= MOST_TRIED || self.found.offers.len() >= 2 * OFFERED {
                break;
            }
            self.inspect(&stands[s], &route);
            told(stands.len(), self.found.tried);
        }
    }

    /// Lays a route in the job and inspects it by the whole standard; keeps it where nothing stops it.
    fn inspect(&mut self, stand: &Stand, route: &Found) {
        let proposer = self.proposer;
        let site = proposer.site(self.field, self.aim, stand.moved);
        let spec = site.line(&stand.lanes, route, self.aim.old);
        let laid = crate::route::lay(&spec, site.valve, proposer.catalog);
        if self.found.offers.iter().any(|kept| alike(&kept.line, &laid)) {
            return;
        }
        self.found.tried += 1;
        let mut job = proposer.job.clone();
        job.lines[self.inlet] = spec.clone();
        let judged = proposer.judge(&job, &self.which());
        let own = judged.findings.iter().take(1).flatten();
        // What stops the trunk without this line is no fault of the route.
        let harmed = self.stops(&judged) > self.stopped;
        if harmed || own.clone().any(|finding| finding.verdict.stops()) {
            let all = judged.findings.iter().take(1 + usize::from(harmed)).flatten();
            self.found.against.note(all);
            return;
        }
        self.found.offers.push(proposal(spec, judged, self.inlet, route, stand.moved));
    }
}

/// A route that nothing stops.
pub fn proposal(
    spec: crate::company::LineSpec,
    judged: Judged,
    inlet: usize,
    route: &Found,
    moved: P2,
) -> Proposal {
    let line = judged.lines.lines[inlet].clone();
    let findings = judged.findings.into_iter().next().unwrap_or_default();
    let stop_m = line.raceway.as_ref().map_or(0.0, |raceway| raceway.stop_m);
    Proposal {
        onward_m: line.centre_m - stop_m,
        degrees: route.degrees + 90.0,
        bores: route.bores,
        verdict: Verdict::worst(findings.iter().map(|finding| finding.verdict)),
        spec,
        line,
        findings,
        moved,
    }
}

impl Proposer<'_> {
    /// What lines of an inlet are built from, its valve moved.
    pub(super) fn site<'s>(&'s self, field: &'s Field, aim: &Aim, moved: P2) -> Site<'s> {
        Site {
            catalog: self.catalog,
            parts: &field.parts,
            valve: aim.valve + moved.extend(0.0),
            unit: field.unit,
            level_m: field.level.up_m,
            floor_m: aim.floor_m,
            wall: wall_size(field.plan.plan.walls_m),
        }
    }
}

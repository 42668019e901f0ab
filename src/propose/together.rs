//! Routes for all inlets of a job at once, on a trunk: each inlet brings the raceways that pass on their own, and
//! the tree over the lanes takes one of each and joins them with the least tube. What runs into each other is put
//! apart and sought again; the search ends by work done.
use super::bound::Bound;
use super::field::{Aim, Field, tubes_on_level};
use super::grow::{Chosen, Grower};
use super::inlet::{longest_m, none, proposal};
use super::judge::Against;
use super::lanes::{Lanes, off_all};
use super::net::{Kind, State, cost, net};
use super::onward::{Onward, TURN_M, over_unit};
use super::search::{Found, Search};
use super::steiner::{MOST_GROUPS, Net, Tree, tree};
use super::{ALIKE, MOST_DEG, Proposals, Proposer, shared};
use crate::company::{Into, Job, LineSpec, Owner};
use crate::plan::P2;
use crate::route::JobLines;
use crate::standard::{Finding, Verdict};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Raceways that one inlet brings, and those inspected to find them.
const CANDIDATES: usize = 10;
const TRIED: usize = 40;
/// Trees sought, and sets of routes offered.
const TREES: usize = 40;
const OFFERED: usize = 3;

/// Routes for all inlets, inspected together.
#[derive(Debug, Clone)]
pub struct Together {
    /// Lines of the inlets, then of the trunks.
    pub specs: Vec<LineSpec>,
    pub lines: JobLines,
    /// In the order of the lines.
    pub findings: Vec<Vec<Finding>>,
    pub verdict: Verdict,
    /// Of all bends before each inlet's stop.
    pub degrees: Vec<f64>,
    /// Tube past the stops.
    pub tube_m: f64,
    pub moved: Vec<P2>,
}

/// What came of the search for all.
#[derive(Debug, Clone)]
pub struct Shared {
    /// What each inlet brought: its bounds, and in `offers` the routes that pass alone.
    pub alone: Vec<Proposals>,
    /// Tube past the stops where every inlet runs to the unit by itself, at the least.
    pub separate_m: f64,
    /// The best first.
    pub offers: Vec<Together>,
    /// Trees laid and inspected.
    pub tried: usize,
    pub against: Against,
}

/// What one inlet brings.
struct Brought {
    moved: P2,
    found: Vec<Found>,
    /// Tube of each raceway, from above.
    tubes: Vec<Vec<(P2, P2)>>,
    alone: Proposals,
}

/// A set of choices still open: by inlet, which of its raceways may be taken.
type Open = Vec<Vec<bool>>;
/// Sets of choices by the cost of their cheapest tree, in the order of finding, with what was chosen.
type Waiting = BinaryHeap<Reverse<(u64, usize, Open, Vec<usize>)>>;

impl Proposer<'_> {
    /// Proposes routes for all inlets on a shared trunk; an error says in one sentence what is missing. `told`
    /// hears of progress in words.
    pub fn together(&self, told: &mut dyn FnMut(String)) -> Result<Shared, String> {
        let field = self.field()?;
        let n = self.job.inlets.len();
        if n > MOST_GROUPS {
            return Err(format!(
                "{n} inlets are too many for one tree, which takes {MOST_GROUPS}; propose for some of them with --inlet"
            ));
        }
        if let Err(why) = &field.parts.wye {
            return Err(format!("{why}, so that nothing can join a trunk"));
        }
        let mut aims = Vec::new();
        for inlet in 0..n {
            let aim =
                self.aim(&field, inlet).map_err(|why| format!("{}: {why}", self.job.inlets[inlet].name))?;
            aims.push(aim);
        }
        let mut moved = vec![P2::ZERO; n];
        let mut lanes = self.shared_lanes(&field, &aims, &moved)?;
        let mut brought: Vec<Brought> =
            (0..n).map(|i| self.bring(&field, &lanes, &aims[i], i, P2::ZERO, told)).collect();
        // Where nothing passes with a valve as it stands, the rest of its bay is looked at.
        for i in 0..n {
            for shift in aims[i].shifts.iter().skip(1) {
                if !brought[i].found.is_empty() {
                    break;
                }
                let own = self.shared_lanes(&field, &aims[i..=i], &[*shift]);
                let Ok(own) = own else { continue };
                let tried = self.bring(&field, &own, &aims[i], i, *shift, told);
                if !tried.found.is_empty() {
                    (moved[i], brought[i]) = (*shift, tried);
                }
            }
        }
        if moved.iter().any(|by| *by != P2::ZERO) {
            lanes = self.shared_lanes(&field, &aims, &moved)?;
            brought = (0..n).map(|i| self.bring(&field, &lanes, &aims[i], i, moved[i], told)).collect();
        }
        let net = net(&lanes, &field.parts);
        let mut hunt = Hunt {
            proposer: self,
            field: &field,
            aims: &aims,
            lanes: &lanes,
            net,
            brought: &brought,
            offers: Vec::new(),
            tried: 0,
            against: Against::default(),
        };
        // Raceways without a caution first; those with one only where no tree of the others passes.
        let mut separate_m = f64::INFINITY;
        for worst in [Verdict::Waived, Verdict::Caution] {
            let open: Open =
                brought.iter().map(|b| b.alone.offers.iter().map(|p| p.verdict <= worst).collect()).collect();
            separate_m = separate(&brought, worst);
            if separate_m.is_finite() {
                hunt.run(open, told);
            }
            if !hunt.offers.is_empty() {
                break;
            }
        }
        let (mut offers, tried, mut against) = (hunt.offers, hunt.tried, hunt.against);
        offers.sort_by(|a, b| a.verdict.cmp(&b.verdict).then_with(|| a.tube_m.total_cmp(&b.tube_m)));
        against.sort();
        let alone = brought.into_iter().map(|b| b.alone).collect();
        Ok(Shared { alone, separate_m, offers, tried, against })
    }

    fn shared_lanes(&self, field: &Field, aims: &[Aim], moved: &[P2]) -> Result<Lanes, String> {
        let valves = aims.iter().zip(moved).map(|(aim, by)| aim.valve.truncate() + *by);
        let points: Vec<P2> = valves.chain([field.unit.truncate()]).collect();
        let lanes = self.lanes(field, &points, &[], Vec::new());
        lanes.ok_or_else(|| "a valve, or the unit, does not stand over the raceway's level".into())
    }

    /// The raceways of one inlet that pass where it runs to the unit by itself.
    fn bring(
        &self,
        field: &Field,
        lanes: &Lanes,
        aim: &Aim,
        inlet: usize,
        moved: P2,
        told: &mut dyn FnMut(String),
    ) -> Brought {
        let mut brought =
            Brought { moved, found: Vec::new(), tubes: Vec::new(), alone: none(inlet, aim.need_m) };
        let name = &self.job.inlets[inlet].name;
        let (start, unit) =
            (lanes.node_at(aim.valve.truncate() + moved), lanes.node_at(field.unit.truncate()));
        let (Some(start), Some(unit)) = (start, unit) else { return brought };
        let parts = &field.parts;
        let bound = Bound::new(lanes, &parts.bends, parts.shortest_m, MOST_DEG);
        let goals = over_unit(lanes, unit);
        let onward = Onward::new(lanes, &parts.shorts, parts.shortest_m, parts.arm_m(), goals);
        let mut search = Search::new(lanes, &bound, &onward, parts, aim.level_need_m);
        let mut degrees = 0.0;
        while degrees <= MOST_DEG + 1.0 && brought.found.len() < CANDIDATES && brought.alone.tried < TRIED {
            let best_m = longest_m(&bound, lanes, start, degrees, parts.riser);
            if best_m.is_finite() {
                brought.alone.bounds.push((degrees + 90.0, best_m + aim.need_m - aim.level_need_m));
            }
            let mut routes = search.of_degrees(start, degrees);
            routes.sort_by(|a, b| {
                let key = |r: &Found| (r.bores, (r.onward_cost_m * 1e4) as u64);
                key(a).cmp(&key(b)).then_with(|| a.word.cmp(&b.word))
            });
            for route in routes {
                if brought.found.len() >= CANDIDATES || brought.alone.tried >= TRIED {
                    break;
                }
                brought.alone.tried += 1;
                told(format!("{name}: {} raceways inspected", brought.alone.tried));
                self.try_alone(field, lanes, aim, inlet, route, &mut brought);
            }
            degrees += 45.0;
        }
        brought.alone.against.sort();
        brought
    }

    /// Inspects a raceway in a job of its own inlet alone, with its own way to the unit.
    fn try_alone(
        &self,
        field: &Field,
        lanes: &Lanes,
        aim: &Aim,
        inlet: usize,
        route: Found,
        brought: &mut Brought,
    ) {
        let spec = self.site(field, aim, brought.moved).line(lanes, &route, aim.old);
        let job = alone(self.job, inlet, spec.clone());
        let judged = self.judge(&job, &[0]);
        if judged.verdict().stops() {
            brought.alone.against.note(judged.findings.iter().flatten());
            return;
        }
        let made = proposal(spec, judged, 0, &route, brought.moved);
        let stop_m = made.line.raceway.as_ref().map_or(0.0, |raceway| raceway.stop_m);
        let mut before = made.line.clone();
        before.legs.retain(|leg| leg.station_m < stop_m - 1e-6);
        if let Some(last) = before.legs.last_mut() {
            // A leg may run on across the stop.
            last.to = last.from + last.heading * (stop_m - last.station_m).min(last.length_m);
        }
        brought.tubes.push(tubes_on_level(field, std::iter::once(&before)));
        brought.found.push(route);
        brought.alone.offers.push(made);
    }
}

/// The least tube past the stops with which every inlet runs to the unit by itself, by routes no worse than a
/// verdict; infinite where one has none.
fn separate(brought: &[Brought], worst: Verdict) -> f64 {
    let passing = |b: &Brought| {
        let passing = b.alone.offers.iter().filter(|p| p.verdict <= worst);
        passing.map(|p| p.onward_m).fold(f64::INFINITY, f64::min)
    };
    brought.iter().map(passing).sum()
}

/// The job with one inlet, which runs to the unit.
fn alone(job: &Job, inlet: usize, spec: LineSpec) -> Job {
    let own = |owner: &Option<Owner>| owner.is_none() || *owner == Some(Owner::Inlet(inlet));
    let cleared = job.cleared.iter().filter(|paper| own(&paper.of)).cloned().map(|paper| {
        let of = paper.of.map(|_| Owner::Inlet(0));
        crate::company::Cleared { of, ..paper }
    });
    Job {
        lines: vec![LineSpec { owner: Owner::Inlet(0), into: Some(Into::Unit), ..spec }],
        inlets: vec![job.inlets[inlet].clone()],
        cleared: cleared.collect(),
        ..job.clone()
    }
}

/// The search over trees.
struct Hunt<'h> {
    proposer: &'h Proposer<'h>,
    field: &'h Field<'h>,
    aims: &'h [Aim<'h>],
    lanes: &'h Lanes,
    net: Net,
    brought: &'h [Brought],
    offers: Vec<Together>,
    tried: usize,
    against: Against,
}

impl Hunt<'_> {
    /// From the cheapest tree upward; what was taken once is shut out in the sets that follow it.
    fn run(&mut self, all: Open, told: &mut dyn FnMut(String)) {
        let mut queue = BinaryHeap::new();
        let mut trees = 0;
        self.seek(all, &mut queue, &mut trees);
        while let Some(Reverse((_, _, open, chosen))) = queue.pop() {
            if self.offers.len() >= OFFERED || trees >= TREES {
                break;
            }
            let met = self.met(&chosen);
            if met.is_none() {
                self.offer(&chosen);
                trees += 1;
            }
            told(format!("{trees} trees, {} laid and inspected", self.tried));
            // Of two that meet one must go; else the choices with another raceway for one inlet and the same
            // for those before it, which leaves none out.
            let change: Vec<usize> = met.map_or((0..chosen.len()).collect(), |(i, j)| vec![i, j]);
            for (k, inlet) in change.iter().enumerate() {
                let mut next = open.clone();
                for before in &change[..k] {
                    next[*before].iter_mut().enumerate().for_each(|(c, open)| *open = c == chosen[*before]);
                }
                next[*inlet][chosen[*inlet]] = false;
                self.seek(next, &mut queue, &mut trees);
            }
        }
    }

    /// The cheapest tree of a set of choices, put in the queue.
    fn seek(&self, open: Open, queue: &mut Waiting, trees: &mut usize) {
        if *trees >= TREES || open.iter().any(|of| !of.contains(&true)) {
            return;
        }
        *trees += 1;
        let listed: Vec<Vec<(usize, (u32, u32))>> =
            open.iter().enumerate().map(|(i, of)| self.starts(i, of)).collect();
        if let Some(found) = self.tree(&self.net, &listed) {
            let chosen = choices(&found, &listed);
            queue.push(Reverse((found.cost, *trees, open, chosen)));
        }
    }

    fn tree(&self, net: &Net, listed: &[Vec<(usize, (u32, u32))>]) -> Option<Tree> {
        let unit = self.lanes.node_at(self.field.unit.truncate())?;
        let goal = |heading| (State { node: unit, heading, kind: Kind::Runs }.number(), cost(2.0 * TURN_M));
        let goals: Vec<(u32, u32)> = self.lanes.ground.headings().map(goal).collect();
        let groups: Vec<Vec<(u32, u32)>> =
            listed.iter().map(|l| l.iter().map(|(_, start)| *start).collect()).collect();
        tree(net, &groups, &goals)
    }

    /// Where the tube of an inlet may take its first fitting past the stop, for each raceway that is open.
    fn starts(&self, inlet: usize, open: &[bool]) -> Vec<(usize, (u32, u32))> {
        let parts = &self.field.parts;
        let slant_m = parts.wye.as_ref().map_or(0.0, |wye| wye.along_m);
        let mut found = Vec::new();
        for (c, route) in self.brought[inlet].found.iter().enumerate().filter(|(c, _)| open[*c]) {
            let (Some(node), Some(heading)) = (route.corners.last(), route.word.last()) else { continue };
            let stop_m = route.stop_m + parts.stop_gap_m;
            for (kind, before_m) in [(Kind::Runs, 0.0), (Kind::RunsSquare, slant_m)] {
                let need_m = stop_m + parts.shortest_m + parts.arm_m() + before_m;
                let first = self.lanes.ahead(*node, *heading).iter().find(|(_, m)| *m >= need_m);
                if let Some((next, m)) = first {
                    let state = State { node: *next, heading: *heading, kind };
                    found.push((c, (state.number(), cost(m - stop_m))));
                }
            }
        }
        found
    }

    /// Two inlets whose raceways run into each other.
    fn met(&self, chosen: &[usize]) -> Option<(usize, usize)> {
        let tubes = |i: usize| &self.brought[i].tubes[chosen[i]];
        let pairs = (0..chosen.len()).flat_map(|j| (0..j).map(move |i| (i, j)));
        pairs.into_iter().find(|(i, j)| !off_all(&self.lanes.ground, tubes(*i), tubes(*j)))
    }

    /// The tree of these raceways, round their tube; laid, inspected, and kept where nothing stops it.
    fn offer(&mut self, chosen: &[usize]) -> Option<()> {
        let tubes: Vec<(P2, P2)> =
            self.brought.iter().zip(chosen).flat_map(|(b, c)| b.tubes[*c].iter().copied()).collect();
        let valves: Vec<P2> =
            self.aims.iter().zip(self.brought).map(|(aim, b)| aim.valve.truncate() + b.moved).collect();
        let points: Vec<P2> = valves.into_iter().chain([self.field.unit.truncate()]).collect();
        let lanes = self.proposer.lanes(self.field, &points, &[], tubes)?;
        let net = net(&lanes, &self.field.parts);
        let mut listed = Vec::new();
        for (i, c) in chosen.iter().enumerate() {
            let open: Vec<bool> = (0..self.brought[i].found.len()).map(|k| k == *c).collect();
            let clear = |(_, (state, past)): &(usize, (u32, u32))| self.clear_start(i, chosen, *state, *past);
            listed.push(self.starts(i, &open).into_iter().filter(clear).collect::<Vec<_>>());
        }
        let found = self.tree(&net, &listed)?;
        let chosen: Vec<Chosen> = chosen
            .iter()
            .enumerate()
            .map(|(i, c)| Chosen {
                old: self.aims[i].old,
                found: &self.brought[i].found[*c],
                site: self.proposer.site(self.field, &self.aims[i], self.brought[i].moved),
            })
            .collect();
        let degrees = chosen.iter().map(|c| c.found.degrees + 90.0).collect();
        let specs = Grower { lanes: &lanes, net: &net, chosen }.lines(&found.root)?;
        self.judge(specs, degrees);
        Some(())
    }

    /// Whether the tube from a stop to its first fitting keeps off the other inlets' raceways.
    fn clear_start(&self, inlet: usize, chosen: &[usize], state: u32, past: u32) -> bool {
        let state = State::of(state);
        let to = self.lanes.nodes[state.node];
        let from = to - super::lanes::way(state.heading) * (f64::from(past) / 1e4);
        let others = (0..chosen.len()).filter(|k| *k != inlet);
        others
            .into_iter()
            .all(|k| off_all(&self.lanes.ground, &[(from, to)], &self.brought[k].tubes[chosen[k]]))
    }

    fn judge(&mut self, specs: Vec<LineSpec>, degrees: Vec<f64>) {
        let job = Job { lines: specs.clone(), ..self.proposer.job.clone() };
        let which: Vec<usize> = (0..specs.len()).collect();
        let judged = self.proposer.judge(&job, &which);
        self.tried += 1;
        let verdict = judged.verdict();
        if verdict.stops() {
            self.against.note(judged.findings.iter().flatten());
            return;
        }
        let past = |line: &crate::route::Line| line.raceway.as_ref().map_or(0.0, |raceway| raceway.stop_m);
        let tube_m = judged.lines.lines.iter().map(|line| line.centre_m - past(line)).sum();
        if self.offers.iter().any(|kept| shared(&kept.lines.lines, &judged.lines.lines) >= ALIKE) {
            return;
        }
        let moved = self.brought.iter().map(|b| b.moved).collect();
        let (lines, findings) = (judged.lines, judged.findings);
        self.offers.push(Together { specs, lines, findings, verdict, degrees, tube_m, moved });
    }
}

/// Which raceway of each inlet a tree takes.
fn choices(found: &Tree, listed: &[Vec<(usize, (u32, u32))>]) -> Vec<usize> {
    let mut chosen = vec![0; listed.len()];
    for (group, start) in found.root.starts() {
        if let Some((c, _)) = listed.get(group).and_then(|of| of.get(start)) {
            chosen[group] = *c;
        }
    }
    chosen
}

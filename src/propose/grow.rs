//! A tree over the lanes as lines of a job: every inlet's own line, and trunks that begin in a coupling of one of
//! them and take the others in by wyes.
use super::build::{Site, named};
use super::lanes::{Heading, Lanes, way};
use super::net::{State, joint};
use super::search::Found;
use super::steiner::{Begins, Flow, Net};
use crate::company::{Into, LineSpec, Owner, Step, given_letters};
use crate::measure::INCH_M;
use crate::plan::P2;
use crate::text::Place;

/// The route chosen for an inlet, with what it is built from.
pub struct Chosen<'a> {
    pub old: &'a LineSpec,
    pub found: &'a Found,
    pub site: Site<'a>,
}

/// What lines are grown from.
pub struct Grower<'a> {
    pub lanes: &'a Lanes,
    pub net: &'a Net,
    /// In the order of the inlets.
    pub chosen: Vec<Chosen<'a>>,
}

/// Turns with the heading after each.
type Turns = Vec<(P2, Heading)>;

/// Where a line ends.
struct End {
    /// The turn before a wye, where the line comes square to it.
    entry: Option<(P2, Heading)>,
    to: P2,
    into: Into,
}

/// Lines as they grow.
struct Grown {
    inlets: Vec<Option<LineSpec>>,
    trunks: Vec<Option<LineSpec>>,
}

impl Grower<'_> {
    /// All lines of the tree, inlets first; `None` where an inlet has no line in it.
    pub fn lines(&self, root: &Flow) -> Option<Vec<LineSpec>> {
        let mut grown = Grown { inlets: self.chosen.iter().map(|_| None).collect(), trunks: Vec::new() };
        let last = State::of(*root.states.last()?);
        let end = End { entry: None, to: self.lanes.nodes[last.node], into: Into::Unit };
        self.line(root, end, &mut grown)?;
        let inlets = grown.inlets.into_iter().collect::<Option<Vec<_>>>()?;
        let mut lines: Vec<LineSpec> = inlets.into_iter().chain(grown.trunks.into_iter().flatten()).collect();
        let marks: Vec<(String, Option<String>)> = lines
            .iter()
            .map(|l| (l.id.clone(), matches!(l.owner, Owner::Inlet(_)).then(|| l.letters.clone())))
            .collect();
        let letters =
            given_letters(&marks.iter().map(|(id, m)| (id.as_str(), m.as_deref())).collect::<Vec<_>>());
        lines.iter_mut().zip(letters).for_each(|(line, letters)| line.letters = letters);
        Some(lines)
    }

    /// The line whose last flow this is, and all that run into it.
    fn line(&self, flow: &Flow, end: End, grown: &mut Grown) -> Option<()> {
        // From the first flow, that of an inlet, to the last, with what joins between them.
        let mut flows = vec![flow];
        let mut joints = Vec::new();
        while let Begins::Merge { merge, run, branch } = &flows.last()?.begins {
            joints.push((*merge, &**branch));
            flows.push(run);
        }
        flows.reverse();
        joints.reverse();
        let Begins::Start { group, .. } = flows.first()?.begins else { return None };
        let chosen = self.chosen.get(group)?;
        let (stop, heading) = chosen.found.stop(self.lanes);
        if joints.is_empty() {
            let turns: Turns = self.turns(flow).into_iter().chain(end.entry).collect();
            let steps = self.to_end(chosen, stop, heading, &turns, &end);
            grown.inlets[group] = Some(self.inlet(chosen, steps, end.into));
            return Some(());
        }
        let trunk = grown.trunks.len();
        grown.trunks.push(None);
        let before = self.turns(flows.first()?);
        let (first, _) = self.joint(joints.first()?.0);
        let (n, start) = coupling(stop, &before, first);
        let leaves = n.checked_sub(1).map_or(heading, |last| before[last].1);
        let steps = chosen.site.stretch(&self.lanes.ground, stop, heading, &before[..n], start);
        grown.inlets[group] = Some(self.inlet(chosen, steps, Into::Start { trunk }));
        let mut turns: Turns = before[n..].to_vec();
        for ((merge, branch), flow) in joints.into_iter().zip(&flows[1..]) {
            let (at, entry) = self.joint(merge);
            let station_m = length_m(start, &turns, at);
            let with = chosen.site.parts.wye.as_ref().ok()?.fitting.clone();
            let into = Into::Trunk { trunk, at_m: Some(station_m), with };
            self.line(branch, End { entry, to: at, into }, grown)?;
            turns.extend(self.turns(flow));
        }
        turns.extend(end.entry);
        let steps = self.to_end(chosen, start, leaves, &turns, &end);
        let id = if trunk == 0 { "main".to_owned() } else { format!("side-{trunk}") };
        grown.trunks[trunk] = Some(LineSpec {
            owner: Owner::Trunk(trunk),
            name: id.clone(),
            id,
            letters: String::new(),
            start: Some(start.extend(chosen.site.level_m)),
            leaves: named(way(leaves).extend(0.0).normalize()),
            steps,
            into: Some(end.into),
            place: Place::default(),
            into_place: Place::default(),
        });
        Some(())
    }

    fn inlet(&self, chosen: &Chosen, after: Vec<Step>, into: Into) -> LineSpec {
        let spec = chosen.old.with_steps(chosen.site.raceway(self.lanes, chosen.found), after);
        let leaves = chosen.site.leaves();
        LineSpec { start: Some(chosen.site.valve), leaves, into: Some(into), ..spec }
    }

    /// Runs and turns to an end, and down into the unit where that is it.
    fn to_end(&self, chosen: &Chosen, from: P2, heading: Heading, turns: &Turns, end: &End) -> Vec<Step> {
        let mut steps = chosen.site.stretch(&self.lanes.ground, from, heading, turns, end.to);
        if matches!(end.into, Into::Unit) {
            steps.extend(chosen.site.drop(turns.last().map_or(heading, |turn| turn.1)));
        }
        steps
    }

    /// Where a flow turns.
    fn turns(&self, flow: &Flow) -> Turns {
        let states: Vec<State> = flow.states.iter().map(|s| State::of(*s)).collect();
        let turned = states.windows(2).filter(|pair| pair[0].heading != pair[1].heading);
        turned.map(|pair| (self.lanes.nodes[pair[1].node], pair[1].heading)).collect()
    }

    /// The wye of a merge, and the turn before it on the branch.
    fn joint(&self, merge: usize) -> (P2, Option<(P2, Heading)>) {
        let merge = self.net.merges[merge];
        let (run, branch) = (State::of(merge.run), State::of(merge.branch));
        let parts = self.chosen[0].site.parts;
        joint(self.lanes, parts, run.node, branch.heading, run.heading)
    }
}

/// Where an inlet's tube goes on as a trunk: in the middle of its longest leg before the first wye, in whole
/// inches from where that leg begins. With the number of turns before it.
fn coupling(from: P2, turns: &Turns, to: P2) -> (usize, P2) {
    let points: Vec<P2> = std::iter::once(from).chain(turns.iter().map(|turn| turn.0)).chain([to]).collect();
    let length_m = |n: usize| points[n].distance(points[n + 1]);
    let longest = (0..=turns.len()).max_by(|a, b| length_m(*a).total_cmp(&length_m(*b))).unwrap_or(0);
    let along = (points[longest + 1] - points[longest]).normalize_or_zero();
    (longest, points[longest] + along * (length_m(longest) / 2.0 / INCH_M).round() * INCH_M)
}

/// Along a way with turns, from its start to a point after the last of them.
fn length_m(from: P2, turns: &Turns, to: P2) -> f64 {
    let points: Vec<P2> = std::iter::once(from).chain(turns.iter().map(|turn| turn.0)).chain([to]).collect();
    points.windows(2).map(|pair| pair[0].distance(pair[1])).sum()
}

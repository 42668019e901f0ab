//! The cheapest tree that brings one of each group's starts to a goal over one-way steps and merges: the directed
//! Steiner tree, by the table over subsets of S. E. Dreyfus and R. A. Wagner, "The Steiner problem in graphs",
//! Networks 1 (1971), with the shortest ways of each subset by Dijkstra's algorithm.
//!
//! Costs are whole numbers, so that the same tree comes out on every machine.
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// No way leads there.
const NEVER: u32 = u32::MAX;
/// No more groups than this: the table doubles with each.
pub const MOST_GROUPS: usize = 8;

/// Two flows become one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Merge {
    pub run: u32,
    pub branch: u32,
    pub out: u32,
    pub cost: u32,
}

/// One-way steps between states, and merges.
#[derive(Debug, Clone, Default)]
pub struct Net {
    /// By state: where a step leads, and what it costs.
    pub steps: Vec<Vec<(u32, u32)>>,
    pub merges: Vec<Merge>,
}

/// A flow from where it begins to where it merges or ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Flow {
    pub begins: Begins,
    /// States on the way, the first of them where it begins.
    pub states: Vec<u32>,
}

/// Where a flow begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Begins {
    /// At this start of a group.
    Start { group: usize, start: usize },
    /// Where two flows merge.
    Merge { merge: usize, run: Box<Flow>, branch: Box<Flow> },
}

/// A tree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tree {
    pub cost: u64,
    pub root: Flow,
}

impl Flow {
    /// The starts that the flow and all that run into it take, by group.
    pub fn starts(&self) -> Vec<(usize, usize)> {
        match &self.begins {
            Begins::Start { group, start } => vec![(*group, *start)],
            Begins::Merge { run, branch, .. } => [run.starts(), branch.starts()].concat(),
        }
    }
}

/// Where a state's cost comes from.
#[derive(Debug, Clone, Copy)]
enum From {
    Nothing,
    Start(u32),
    Step(u32),
    Merge { merge: u32, run: u32 },
}

/// The cheapest tree; `None` where there is none, or more than [`MOST_GROUPS`] groups. A start is a state with
/// its cost, as is a goal.
pub fn tree(net: &Net, groups: &[Vec<(u32, u32)>], goals: &[(u32, u32)]) -> Option<Tree> {
    if groups.is_empty() || groups.len() > MOST_GROUPS {
        return None;
    }
    let all = (1_usize << groups.len()) - 1;
    let mut table = Table { net, cost: vec![Vec::new(); all + 1], from: vec![Vec::new(); all + 1] };
    for set in 1..=all {
        table.fill(set, groups);
    }
    let ends =
        goals.iter().map(|(state, cost)| (table.cost[all][*state as usize].saturating_add(*cost), *state));
    let (cost, state) = ends.filter(|(cost, _)| *cost < NEVER).min()?;
    Some(Tree { cost: u64::from(cost), root: table.flow(all, state) })
}

struct Table<'n> {
    net: &'n Net,
    /// By set of groups, then by state.
    cost: Vec<Vec<u32>>,
    from: Vec<Vec<From>>,
}

impl Table<'_> {
    /// What it costs to bring all groups of a set together at each state; its subsets are filled.
    fn fill(&mut self, set: usize, groups: &[Vec<(u32, u32)>]) {
        let states = self.net.steps.len();
        let (mut cost, mut from) = (vec![NEVER; states], vec![From::Nothing; states]);
        let mut take = |state: u32, c: u32, f: From| {
            if c < cost[state as usize] {
                cost[state as usize] = c;
                from[state as usize] = f;
            }
        };
        if set.is_power_of_two() {
            for (start, (state, c)) in groups[set.trailing_zeros() as usize].iter().enumerate() {
                take(*state, *c, From::Start(start as u32));
            }
        }
        let mut run = (set - 1) & set;
        while run > 0 {
            let (of_run, of_branch) = (&self.cost[run], &self.cost[set & !run]);
            for (number, merge) in self.net.merges.iter().enumerate() {
                let (a, b) = (of_run[merge.run as usize], of_branch[merge.branch as usize]);
                if a < NEVER && b < NEVER {
                    let sum = a.saturating_add(b).saturating_add(merge.cost);
                    take(merge.out, sum, From::Merge { merge: number as u32, run: run as u32 });
                }
            }
            run = (run - 1) & set;
        }
        self.spread(&mut cost, &mut from);
        (self.cost[set], self.from[set]) = (cost, from);
    }

    fn spread(&self, cost: &mut [u32], from: &mut [From]) {
        let known = cost.iter().enumerate().filter(|(_, c)| **c < NEVER);
        let mut queue: BinaryHeap<Reverse<(u32, u32)>> =
            known.map(|(state, c)| Reverse((*c, state as u32))).collect();
        while let Some(Reverse((c, state))) = queue.pop() {
            if c > cost[state as usize] {
                continue;
            }
            for (next, step) in &self.net.steps[state as usize] {
                let sum = c.saturating_add(*step);
                if sum < cost[*next as usize] {
                    cost[*next as usize] = sum;
                    from[*next as usize] = From::Step(state);
                    queue.push(Reverse((sum, *next)));
                }
            }
        }
    }

    /// The flow that brings a set to a state.
    fn flow(&self, set: usize, state: u32) -> Flow {
        let mut states = vec![state];
        let mut at = state;
        loop {
            match self.from[set][at as usize] {
                From::Step(before) => at = before,
                From::Merge { merge, run } => {
                    states.reverse();
                    let (joint, run) = (self.net.merges[merge as usize], run as usize);
                    let (a, b) = (self.flow(run, joint.run), self.flow(set & !run, joint.branch));
                    let begins =
                        Begins::Merge { merge: merge as usize, run: Box::new(a), branch: Box::new(b) };
                    return Flow { begins, states };
                }
                // A state with a cost has been come to; nothing else is asked for.
                From::Start(_) | From::Nothing => {
                    states.reverse();
                    let start = if let From::Start(start) = self.from[set][at as usize] { start } else { 0 };
                    let begins =
                        Begins::Start { group: set.trailing_zeros() as usize, start: start as usize };
                    return Flow { begins, states };
                }
            }
            states.push(at);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::Dice;
    use super::*;

    /// Steps and merges thrown at random over a few states.
    fn thrown(dice: &mut Dice, states: u32) -> Net {
        let mut net = Net { steps: vec![Vec::new(); states as usize], merges: Vec::new() };
        for state in 0..states as usize {
            for _ in 0..2 {
                let step = (dice.below(states.into()) as u32, 1 + dice.below(20) as u32);
                net.steps[state].push(step);
            }
        }
        for _ in 0..2 * states {
            let mut state = || dice.below(states.into()) as u32;
            let (run, branch, out) = (state(), state(), state());
            net.merges.push(Merge { run, branch, out, cost: dice.below(5) as u32 });
        }
        net
    }

    /// The shortest ways between all states, by R. W. Floyd's algorithm.
    fn ways(net: &Net) -> Vec<Vec<u64>> {
        let n = net.steps.len();
        let mut way = vec![vec![u64::from(NEVER); n]; n];
        for (from, steps) in net.steps.iter().enumerate() {
            way[from][from] = 0;
            for (to, cost) in steps {
                way[from][*to as usize] = way[from][*to as usize].min(u64::from(*cost));
            }
        }
        for k in 0..n {
            for i in 0..n {
                for j in 0..n {
                    way[i][j] = way[i][j].min(way[i][k] + way[k][j]);
                }
            }
        }
        way
    }

    /// What every tree costs that brings these groups to a state: each start, each order of merges, each merge.
    fn brute(net: &Net, way: &[Vec<u64>], groups: &[&Vec<(u32, u32)>], to: usize) -> u64 {
        if let [group] = groups {
            let from = group.iter().map(|(state, cost)| u64::from(*cost) + way[*state as usize][to]);
            return from.min().unwrap_or(u64::from(NEVER));
        }
        let mut best = u64::from(NEVER);
        for parted in 1..(1_usize << groups.len()) - 1 {
            let part = |wanted: usize| -> Vec<&Vec<(u32, u32)>> {
                (0..groups.len()).filter(|i| parted >> i & 1 == wanted).map(|i| groups[i]).collect()
            };
            for merge in &net.merges {
                let sum = brute(net, way, &part(1), merge.run as usize)
                    + brute(net, way, &part(0), merge.branch as usize)
                    + u64::from(merge.cost)
                    + way[merge.out as usize][to];
                best = best.min(sum);
            }
        }
        best
    }

    /// What a tree costs by its own steps and merges, which must all be the net's.
    fn told(net: &Net, groups: &[Vec<(u32, u32)>], flow: &Flow) -> u64 {
        let first = flow.states[0];
        let begun = match &flow.begins {
            Begins::Start { group, start } => {
                assert_eq!(groups[*group][*start].0, first);
                u64::from(groups[*group][*start].1)
            }
            Begins::Merge { merge, run, branch } => {
                let joint = net.merges[*merge];
                assert_eq!(
                    (run.states.last(), branch.states.last()),
                    (Some(&joint.run), Some(&joint.branch))
                );
                assert_eq!(joint.out, first);
                told(net, groups, run) + told(net, groups, branch) + u64::from(joint.cost)
            }
        };
        let steps = flow.states.windows(2).map(|pair| {
            let steps = net.steps[pair[0] as usize].iter().filter(|(to, _)| *to == pair[1]);
            u64::from(steps.map(|(_, cost)| *cost).min().expect("a step of the net"))
        });
        begun + steps.sum::<u64>()
    }

    #[test]
    fn agrees_with_brute_force_on_small_nets() {
        let mut dice = Dice(59);
        let mut found = 0;
        for number in 0..150 {
            let net = thrown(&mut dice, 7);
            let way = ways(&net);
            let mut states = |n: usize| -> Vec<(u32, u32)> {
                (0..n).map(|_| (dice.below(7) as u32, dice.below(9) as u32)).collect()
            };
            let groups: Vec<Vec<(u32, u32)>> = (0..1 + number % 3).map(|_| states(2)).collect();
            let goals = states(2);
            let all: Vec<&Vec<(u32, u32)>> = groups.iter().collect();
            let ends =
                goals.iter().map(|(state, cost)| brute(&net, &way, &all, *state as usize) + u64::from(*cost));
            let least = ends.min().filter(|cost| *cost < u64::from(NEVER));
            let tree = tree(&net, &groups, &goals);
            assert_eq!(tree.as_ref().map(|tree| tree.cost), least, "net {number}");
            if let Some(tree) = tree {
                let end = goals.iter().filter(|(state, _)| Some(state) == tree.root.states.last());
                let end = end.map(|(_, cost)| u64::from(*cost)).min().expect("it ends in a goal");
                assert_eq!(told(&net, &groups, &tree.root) + end, tree.cost);
                assert_eq!(tree.root.starts().len(), groups.len());
                found += 1;
            }
        }
        assert!(found > 100, "{found}");
    }

    #[test]
    fn zero_groups_or_too_many_give_no_tree() {
        let net = Net { steps: vec![Vec::new()], merges: Vec::new() };
        assert_eq!(tree(&net, &[], &[(0, 0)]), None);
        assert_eq!(tree(&net, &vec![vec![(0, 0)]; MOST_GROUPS + 1], &[(0, 0)]), None);
    }
}

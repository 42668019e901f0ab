//! The cutting problem in whole numbers: nanometres, the kerf folded into every piece and into the
//! stick, equal pieces counted together.

use crate::material::stock::Stock;

/// How many pieces of each type are on one stick; types by falling size.
pub(super) type Pattern = Vec<u32>;

/// Added to a stick's capacity, in nanometres: more than the rounding of all the pieces it can hold
/// in practice, far less than a saw can tell.
pub(super) const SLACK: i64 = 100;

/// A length in nanometres, to the nearest.
pub(super) fn units(length_m: f64) -> i64 {
    (length_m * 1e9).round() as i64
}

/// A stock's stick in whole numbers, and how its pieces are turned into such.
#[derive(Debug, Clone, Copy)]
pub(in crate::material) struct Units {
    /// What a stick holds, kerf and slack included.
    pub capacity: i64,
    kerf: i64,
}

impl Units {
    pub fn of(stock: &Stock) -> Self {
        let kerf = units(stock.kerf_m);
        Self { capacity: units(stock.stick_m) + kerf + SLACK, kerf }
    }

    /// What a piece takes of a stick, its kerf included.
    pub fn folded(&self, length_m: f64) -> i64 {
        units(length_m) + self.kerf
    }
}

/// Sizes fall strictly, demands are at least one, no size is over the capacity.
#[derive(Debug, Clone)]
pub(super) struct Packing {
    pub capacity: i64,
    pub sizes: Vec<i64>,
    pub demand: Vec<u32>,
    /// For each type, which of the pieces given are of it, in the order given.
    pub members: Vec<Vec<usize>>,
}

impl Packing {
    pub fn of(lengths_m: &[f64], stock: &Stock) -> Self {
        let kerf = units(stock.kerf_m);
        let mut order: Vec<(i64, usize)> =
            lengths_m.iter().enumerate().map(|(index, m)| (units(stock.sawn_m(*m)) + kerf, index)).collect();
        order.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
        let capacity = units(stock.stick_m) + kerf + SLACK;
        let mut packing = Self { capacity, sizes: vec![], demand: vec![], members: vec![] };
        for (size, index) in order {
            if packing.sizes.last() != Some(&size) {
                packing.sizes.push(size);
                packing.members.push(Vec::new());
            }
            if let Some(members) = packing.members.last_mut() {
                members.push(index);
            }
        }
        packing.demand = packing.members.iter().map(|m| m.len() as u32).collect();
        packing
    }

    /// The same sizes with another demand; who the pieces are is forgotten.
    pub fn with_demand(&self, demand: Vec<u32>) -> Self {
        Self { capacity: self.capacity, sizes: self.sizes.clone(), demand, members: Vec::new() }
    }

    pub fn types(&self) -> usize {
        self.sizes.len()
    }

    pub fn pieces(&self) -> usize {
        self.demand.iter().map(|d| *d as usize).sum()
    }

    /// Sizes with their demands.
    pub fn counted(&self) -> Vec<(i64, i64)> {
        self.sizes.iter().copied().zip(self.demand.iter().map(|d| i64::from(*d))).collect()
    }
}

/// A count of steps that runs down.
#[derive(Debug)]
pub(super) struct Effort {
    left: u64,
}

impl Effort {
    pub fn of(steps: u64) -> Self {
        Self { left: steps }
    }

    /// Takes one step; false when there is none left.
    pub fn step(&mut self) -> bool {
        self.steps(1)
    }

    /// Takes as many steps as the work ahead is worth; false when there are not so many left.
    pub fn steps(&mut self, count: u64) -> bool {
        let enough = self.left >= count;
        self.left = self.left.saturating_sub(count);
        enough
    }

    /// Splits half of what is left off into a purse of its own.
    pub fn half(&mut self) -> Self {
        self.part(self.left / 2)
    }

    /// Splits so many steps, or all that are left, off into a purse of their own.
    pub fn part(&mut self, steps: u64) -> Self {
        let part = steps.min(self.left);
        self.left -= part;
        Self { left: part }
    }

    pub fn give_back(&mut self, other: Self) {
        self.left += other.left;
    }
}

//! The hose that places want for some floor, as views tell it: what a corner shows serves every place whose hose
//! comes to that corner, what a place shows itself serves it alone.
use super::ways::Lie;

/// Places, and from each the way to every corner.
pub struct Places {
    /// By corner, then by place.
    to_m: Vec<Vec<f64>>,
    places: usize,
    wand_m: f64,
}

/// What each place wants, metres; infinite where none of the views taken serves it.
pub struct Wants<'p> {
    of: &'p Places,
    pub m: Vec<f64>,
}

impl Places {
    /// Places whose hoses lie so; the wand reaches straight on from the last corner.
    pub fn of(lies: &[Lie], wand_m: f64) -> Places {
        let corners = lies.first().map_or(0, |lie| lie.to_m.len());
        let to_m = (0..corners).map(|r| lies.iter().map(|lie| lie.to_m[r]).collect());
        Places { to_m: to_m.collect(), places: lies.len(), wand_m }
    }

    /// How many places there are.
    pub fn count(&self) -> usize {
        self.places
    }

    /// No view taken yet.
    pub fn wants(&self) -> Wants<'_> {
        Wants { of: self, m: vec![f64::INFINITY; self.places] }
    }
}

impl Wants<'_> {
    /// Takes a view that shows what is so far off. Views are numbered corners first, places after them.
    pub fn take(&mut self, view: usize, straight_m: f64) {
        let wand_m = self.of.wand_m;
        if let Some(to_m) = self.of.to_m.get(view) {
            // Plainly compared: no length is no number, and `f64::max` would ask.
            for (wants, m) in self.m.iter_mut().zip(to_m) {
                let with_m = m + straight_m - wand_m;
                let with_m = if with_m < *m { *m } else { with_m };
                *wants = if with_m < *wants { with_m } else { *wants };
            }
        } else {
            let wants = &mut self.m[view - self.of.to_m.len()];
            *wants = wants.min((straight_m - wand_m).max(0.0));
        }
    }

    /// Whether a view that shows nothing nearer than this could make some place want less.
    pub fn worth(&self, view: usize, straight_m: f64) -> bool {
        let less = |wants: f64, m: f64| m < wants && m + straight_m - self.of.wand_m < wants;
        match self.of.to_m.get(view) {
            Some(to_m) => self.m.iter().zip(to_m).any(|(wants, m)| less(*wants, *m)),
            None => less(self.m[view - self.of.to_m.len()], 0.0),
        }
    }
}

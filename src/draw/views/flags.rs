//! Flags: for every bend its angle and fitting, for every branch whose it is, where, and how it stands.
use super::draft::{About, Draft};
use crate::draw::hand::geo::{V2, v2};
use crate::draw::hand::scene::Mark;
use crate::draw::hand::words::toward;
use crate::draw::placer::around::round;
use crate::draw::placer::labels::{Border, Label, place_label};
use crate::route::Bend;

impl Draft<'_> {
    /// A flag for every bend: in full, else in few words, else its number with a note, else a note alone.
    pub fn flags(&mut self) {
        let middle =
            self.drawn.legs.iter().map(|leg| leg.to).sum::<V2>() / self.drawn.legs.len().max(1) as f64;
        let bends = self.p.line.bends.iter().take(self.drawn.legs.len().saturating_sub(1));
        for (i, bend) in bends.enumerate() {
            let (name, at) = (self.bend_name(i), self.drawn.bend(i));
            let all = self.manner.tells_all;
            let favoured = if all { v2(0.1, -1.0) } else { (at - middle).normalize_or_zero() };
            let mut mark = self.flag_mark(i);
            let short = self.flag_lines(bend, true);
            let words = if all { mark.title.clone() } else { format!("{name} {}", short.join(" · ")) };
            match self.flag(&mut mark, &name, at, favoured, [self.flag_lines(bend, false), short]) {
                Flagged::Whole | Flagged::Short => self.marks.push(mark),
                Flagged::Name => {
                    self.marks.push(mark);
                    self.key(About::Bend, words);
                }
                Flagged::Not => self.note(About::Bend, mark, words),
            }
        }
    }

    /// Places a flag with the most words that find room.
    fn flag(
        &mut self,
        mark: &mut Mark,
        name: &str,
        at: V2,
        favoured: V2,
        [whole, short]: [Vec<String>; 2],
    ) -> Flagged {
        let same = whole == short;
        let tries = [(whole, Flagged::Whole), (short, Flagged::Short), (Vec::new(), Flagged::Name)];
        for (lines, told) in tries {
            if told == Flagged::Short && same {
                continue;
            }
            let label = Label { head: Some(name.into()), lines, border: Border::Flag };
            let places = ([], [round(at, label.size(), favoured)]);
            if place_label(&mut self.board, mark, &label, places, f64::MAX) {
                return told;
            }
        }
        Flagged::Not
    }

    /// What a flag says beside the mark, in full or in few words. The running total is the hose's affair, so
    /// it ends at the stop.
    fn flag_lines(&self, bend: &Bend, short: bool) -> Vec<String> {
        let angle = self.p.say.angle(bend.angle_deg);
        let counted = self.p.line.in_raceway(bend.n);
        let so_far = counted.then(|| format!("{} so far", self.p.say.angle(bend.so_far_deg)));
        let all = self.manner.tells_all;
        let mut lines = vec![if all { format!("{angle} {}", toward(&bend.heading_words)) } else { angle }];
        if all || !short {
            lines.extend(so_far);
        }
        if all && !short {
            lines.push(fitting_words(bend));
        }
        lines
    }

    /// The flag's mark with the bend's figures; its title is the flag in full.
    fn flag_mark(&self, index: usize) -> Mark {
        let (bend, name) = (&self.p.line.bends[index], self.bend_name(index));
        let so_far = format!(" · {} so far", self.p.say.angle(bend.so_far_deg));
        let title = format!(
            "{name} · {} {}{} · {}",
            self.p.say.angle(bend.angle_deg),
            toward(&bend.heading_words),
            if self.p.line.in_raceway(bend.n) { so_far.as_str() } else { "" },
            fitting_words(bend)
        );
        Mark::new("bend-flag", title)
            .with("mark", name)
            .figure("station-m", bend.at_centre_m)
            .figure("height-m", bend.point.z)
            .figure("angle", bend.angle_deg)
            .figure("so-far", bend.so_far_deg)
    }

    /// A flag for every branch that comes in: whose it is, where, and how it stands.
    pub fn branch_flags(&mut self, ends: &[V2]) {
        for (branch, at) in self.p.branches.iter().zip(ends) {
            let whole = format!("{} {}", branch.letters, branch.words.join(", "));
            let mut mark = Mark::new("branch-flag", whole.clone())
                .with("mark", &branch.letters)
                .figure("station-m", branch.station_m)
                .figure("roll-deg", branch.roll_deg);
            let first: Vec<String> = branch.words.iter().take(1).cloned().collect();
            let all = self.manner.tells_all;
            let lines = [if all { branch.words.clone() } else { first.clone() }, first];
            match self.flag(&mut mark, &branch.letters, *at, v2(0.1, -0.8), lines) {
                Flagged::Not => self.note(About::Branch, mark, whole),
                told => {
                    self.marks.push(mark);
                    if told == Flagged::Name || (told == Flagged::Short && all) {
                        self.key(About::Branch, whole);
                    }
                }
            }
        }
    }
}

/// How much of a flag found room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Flagged {
    Whole,
    Short,
    /// What it stands at alone.
    Name,
    Not,
}

/// The name of the fitting, or that there is none.
fn fitting_words(bend: &Bend) -> String {
    bend.fitting.as_ref().map_or_else(|| "no fitting".into(), |fitting| fitting.name.clone())
}

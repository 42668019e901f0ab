//! Flags: for every bend its angle and fitting, for every branch whose it is, where, and how it stands.
use super::draft::{About, Draft};
use crate::draw::hand::geo::{V2, v2};
use crate::draw::hand::scene::Mark;
use crate::draw::hand::words::toward;
use crate::draw::placer::around::round;
use crate::draw::placer::labels::{Border, Label, place_label};
use crate::route::Bend;

impl Draft<'_> {
    /// A flag for every bend: in full, else its number with a note, else a note alone.
    pub fn flags(&mut self) {
        let middle =
            self.drawn.legs.iter().map(|leg| leg.to).sum::<V2>() / self.drawn.legs.len().max(1) as f64;
        let bends = self.p.line.bends.iter().take(self.drawn.legs.len().saturating_sub(1));
        for (i, bend) in bends.enumerate() {
            let name = self.bend_name(i);
            let at = self.drawn.bend(i);
            let all = self.manner.tells_all;
            let favoured = if all { v2(0.1, -1.0) } else { (at - middle).normalize_or_zero() };
            let mut mark = self.flag_mark(i);
            let short = || format!("{name} {}", self.flag_lines(bend, 1).join(" · "));
            let words = if all { mark.title.clone() } else { short() };
            let head = Some(name.clone());
            let full =
                Label { head: head.clone(), lines: self.flag_lines(bend, self.terse), border: Border::Flag };
            let bare = Label { head, lines: Vec::new(), border: Border::Flag };
            if place_label(&mut self.board, &mut mark, &full, round(at, full.size(), favoured), f64::MAX) {
                self.marks.push(mark);
            } else if place_label(
                &mut self.board,
                &mut mark,
                &bare,
                round(at, bare.size(), favoured),
                f64::MAX,
            ) {
                self.marks.push(mark);
                self.key(About::Bend, words);
            } else {
                self.note(About::Bend, mark, words);
            }
        }
    }

    /// What a flag says beside the mark, by how terse it must be. The running total is the hose's affair, so
    /// it ends at the stop.
    fn flag_lines(&self, bend: &Bend, terse: usize) -> Vec<String> {
        let angle = self.p.say.angle(bend.angle_deg);
        let counted = self.p.line.in_raceway(bend.n);
        let so_far = counted.then(|| format!("{} so far", self.p.say.angle(bend.so_far_deg)));
        let mut lines = match (self.manner.tells_all, terse) {
            (true, 0 | 1) => vec![format!("{angle} {}", toward(&bend.heading_words))],
            _ => vec![angle],
        };
        if self.manner.tells_all || terse == 0 {
            lines.extend(so_far);
        }
        if self.manner.tells_all && terse == 0 {
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
            let head = Some(branch.letters.clone());
            let kept = if self.manner.tells_all && self.terse == 0 { branch.words.len() } else { 1 };
            let lines = branch.words.iter().take(kept).cloned().collect();
            let full = Label { head: head.clone(), lines, border: Border::Flag };
            let bare = Label { head, lines: Vec::new(), border: Border::Flag };
            let short = kept < branch.words.len() && self.manner.tells_all;
            let favoured = v2(0.1, -0.8);
            if place_label(&mut self.board, &mut mark, &full, round(*at, full.size(), favoured), f64::MAX) {
                self.marks.push(mark);
                if short {
                    self.key(About::Branch, whole);
                }
            } else if place_label(
                &mut self.board,
                &mut mark,
                &bare,
                round(*at, bare.size(), favoured),
                f64::MAX,
            ) {
                self.marks.push(mark);
                self.key(About::Branch, whole);
            } else {
                self.note(About::Branch, mark, whole);
            }
        }
    }
}

/// The name of the fitting, or that there is none.
fn fitting_words(bend: &Bend) -> String {
    bend.fitting.as_ref().map_or_else(|| "no fitting".into(), |fitting| fitting.name.clone())
}

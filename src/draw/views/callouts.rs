//! The words on the drawing of a line: balloons, cut lengths, members, hose, joints.
use super::centreline::OnLine;
use super::draft::{About, Draft};
use super::members::MEMBER_MM;
use super::tube::{Placed, pieces};
use crate::draw::hand::font::{self, SIZE_MM};
use crate::draw::hand::geo::{V2, v2};
use crate::draw::hand::scene::Mark;
use crate::draw::placer::around::{Round, beside, round, round_below};
use crate::draw::placer::candidate::{Candidate, Upright};
use crate::draw::placer::labels::{Border, Label, anywhere, centred, place_label, reading_angle, turned_box};
use crate::draw::subject::Balloon;
use crate::route::Spot;

/// Width to which a member's words are wrapped, mm.
const MEMBER_WORDS_MM: f64 = 36.0;

impl<'p> Draft<'p> {
    /// A balloon for every finding that has a place here; those of the whole line stand free.
    pub fn balloons(&mut self) {
        for balloon in &self.p.balloons {
            let mut mark =
                Mark::new("balloon", format!("{} {}: {}", balloon.number, balloon.kind.word(), balloon.text))
                    .with("number", balloon.number)
                    .with("verdict", balloon.kind.word().to_lowercase());
            let label = |words: String| Label {
                head: None,
                lines: vec![words],
                border: Border::Balloon(balloon.kind),
            };
            let full = label(format!("{} {}", balloon.number, balloon.kind.word()));
            let bare = label(balloon.number.to_string());
            let told = mark.title.clone();
            if self.place_balloon(&mut mark, balloon, &full) {
                self.marks.push(mark);
                continue;
            }
            if self.place_balloon(&mut mark, balloon, &bare) {
                self.marks.push(mark);
                // Its number leads to the notes; the elevation says it as well.
                if self.manner.tells_all {
                    self.key(About::Finding, told);
                }
            } else {
                self.note(About::Finding, mark, told);
            }
        }
    }

    fn place_balloon(&mut self, mark: &mut Mark, balloon: &Balloon, label: &Label) -> bool {
        if balloon.spot == Spot::Whole {
            let frame = self.board.frame;
            let top = self.drawn.bounds().0.y - 12.0;
            let all = anywhere(&frame, label.size(), v2(frame.max.x, top.max(frame.min.y)));
            return place_label(&mut self.board, mark, label, (all, []), f64::MAX);
        }
        let led = round(self.spot(balloon.spot).at, label.size(), v2(0.0, -0.4));
        place_label(&mut self.board, mark, label, ([], [led]), f64::MAX)
    }

    /// Mark and cut length along every piece of tube that has room beside it; answers the others.
    pub fn cut_lengths_beside(&mut self) -> Vec<Placed<'p>> {
        let mut left = Vec::new();
        for placed in pieces(self) {
            if self.drawn.legs[placed.leg].hides((placed.from_m + placed.to_m) / 2.0) {
                left.push(placed);
                continue;
            }
            let (mut mark, words) = self.cut_mark(&placed);
            let Some(chosen) = self.board.place_turned(self.beside_places(&placed, &words), f64::MAX) else {
                left.push(placed);
                continue;
            };
            let angle_deg = reading_angle(self.drawn.legs[placed.leg].along());
            mark.text(centred(chosen.words.middle(), &words, angle_deg));
            self.marks.push(mark);
        }
        left
    }

    /// The other pieces with a leader; else by their mark with a note, else a note alone.
    pub fn cut_lengths_led(&mut self, left: Vec<Placed>) {
        for placed in left {
            let (mut mark, words) = self.cut_mark(&placed);
            let line = &self.drawn.legs[placed.leg];
            if line.hides((placed.from_m + placed.to_m) / 2.0) {
                self.key(About::Cut, words);
                continue;
            }
            let spots = [0.5, 0.3, 0.7].map(|t| line.at(placed.from_m + (placed.to_m - placed.from_m) * t));
            let full = Label::words(words.clone());
            let bare = Label::words(placed.piece.mark.clone());
            let near = |label: &Label| {
                let size = label.size();
                ([], spots.map(|at| round_below(at, size, v2(0.0, 0.4), 24.0)))
            };
            if place_label(&mut self.board, &mut mark, &full, near(&full), 30.0) {
                self.marks.push(mark);
            } else if place_label(&mut self.board, &mut mark, &bare, near(&bare), 45.0) {
                self.marks.push(mark);
                self.key(About::Cut, words);
            } else {
                self.note(About::Cut, mark, words);
            }
        }
    }

    /// The mark of a piece and its words.
    fn cut_mark(&self, placed: &Placed) -> (Mark, String) {
        let words = placed.words(&self.p.say);
        let title = if placed.is_cut { format!("cut {words}") } else { words.clone() };
        let mark = Mark::new("cut-length", title).with("mark", &placed.piece.mark);
        let mark = if placed.is_cut { mark.figure("length-m", placed.piece.length_m) } else { mark };
        (mark, words)
    }

    /// Along the piece on either side.
    fn beside_places(&self, placed: &Placed, words: &str) -> Vec<Candidate> {
        let line = &self.drawn.legs[placed.leg];
        let (from, to, along) = (line.at(placed.from_m), line.at(placed.to_m), line.along());
        let (middle, long) = ((from + to) / 2.0, from.distance(to));
        let wide = font::width(words, SIZE_MM, false);
        if along == V2::ZERO || wide > long + 2.0 {
            return Vec::new();
        }
        let angle_deg = reading_angle(along);
        let reading = V2::from_angle(angle_deg.to_radians());
        let below = reading.perp();
        let slack = ((long - wide) / 2.0).max(0.0);
        let off = self.band_half() + 0.6 + font::line_height(SIZE_MM) / 2.0;
        let mut all = Vec::new();
        for (side, bias) in [(below, 0.0), (-below, 1.0)] {
            for t in [0.0, -0.4, 0.4, -0.7, 0.7, -1.0, 1.0] {
                let at = middle + along * slack * t + side * off;
                let cost = bias + f64::abs(t);
                all.push(Candidate::bare(turned_box(at, wide, reading), cost));
            }
        }
        all
    }

    /// Words at the members bored through: in full, else by number with a note, else a note alone.
    pub fn members(&mut self) {
        for crossing in &self.p.crossings {
            let Some(line) = self.drawn.legs.get(crossing.leg) else {
                continue;
            };
            let place = OnLine { at: line.at(crossing.at_m), along: line.along() };
            let verdict = crossing.verdict.to_uppercase();
            let whole = format!("{} {}: {}", crossing.mark, crossing.words, crossing.verdict);
            let words = format!("{} {}", crossing.mark, crossing.words);
            let mut lines = font::wrapped(&words, SIZE_MM, MEMBER_WORDS_MM);
            lines.push(verdict.clone());
            let mut mark = Mark::new("crossing-words", whole.clone())
                .with("mark", &crossing.mark)
                .with("verdict", &crossing.verdict);
            let (full, bare) = (Label::lines(lines), Label::words(format!("{} {verdict}", crossing.mark)));
            let far = self.member_places(place, full.size(), 34.0);
            if place_label(&mut self.board, &mut mark, &full, far, 34.0) {
                self.marks.push(mark);
                continue;
            }
            let near = self.member_places(place, bare.size(), f64::MAX);
            if place_label(&mut self.board, &mut mark, &bare, near, f64::MAX) {
                self.marks.push(mark);
                self.key(About::Member, whole);
            } else {
                self.note(About::Member, mark, whole);
            }
        }
    }

    /// From either end of a member's symbol, away from the tube; across it too for what has to stand at any cost.
    fn member_places(&self, place: OnLine, size: V2, limit: f64) -> ([Upright; 0], [Round; 2]) {
        let end = if place.along == V2::ZERO { V2::ZERO } else { place.along.perp() * (MEMBER_MM - 0.4) };
        let led = |off: V2| {
            let favoured = off.normalize_or_zero() + v2(0.1, 0.0);
            let side = if limit < f64::MAX { off } else { V2::ZERO };
            round_below(place.at + off, size, favoured, limit).on_side(side)
        };
        ([], [end, -end].map(led))
    }

    /// Where the tail lies, new and grown, and what is left to the stop.
    pub fn hose_words(&mut self) {
        let Some(hose) = self.p.hose else { return };
        let path_m = self.raceway_path_m();
        let spare_m = path_m - hose.grown_m;
        let spare = match spare_m {
            short if short < 0.0 => format!("{} too short", self.p.say.length(-short)),
            spare => format!("spare, grown {}", self.p.say.length(spare)),
        };
        let words = [
            ((hose.grown_m.min(path_m) + path_m) / 2.0, spare),
            (hose.new_m, String::from("hose tail, new")),
            (hose.grown_m, String::from("grown")),
        ];
        for (at_m, words) in words {
            let place = self.drawn.at_path(at_m.min(self.raceway_path_m()));
            let mut mark =
                Mark::new("hose-words", words.clone()).figure("path-m", at_m).figure("spare-m", spare_m);
            let label = Label::words(words.clone());
            let edge = place.along.perp() * self.band_half();
            let size = label.size();
            let over = round(place.at - edge, size, v2(0.3, -0.3)).on_side(-edge);
            let under = round(place.at + edge, size, v2(0.3, 0.5)).on_side(edge);
            let places = ([], [under, over]);
            if place_label(&mut self.board, &mut mark, &label, places, f64::MAX) {
                self.marks.push(mark);
            } else {
                let told = match words.as_str() {
                    "grown" | "hose tail, new" => {
                        let whole = if words == "grown" { "hose tail, grown" } else { &words };
                        format!("{whole}, {} along the tube", self.p.say.length(at_m))
                    }
                    spare => format!("{spare}, from the tail to the stop"),
                };
                self.note(About::Hose, mark, told);
            }
        }
    }

    /// Numbers and verdicts at the members; what they are is told on the elevation.
    pub fn member_marks(&mut self) {
        for crossing in &self.p.crossings {
            let Some(line) = self.drawn.legs.get(crossing.leg) else {
                continue;
            };
            let place = OnLine { at: line.at(crossing.at_m), along: line.along() };
            let mut mark = Mark::new("crossing-words", format!("{}: {}", crossing.words, crossing.verdict))
                .with("verdict", &crossing.verdict);
            let label = Label::words(format!("{} {}", crossing.mark, crossing.verdict.to_uppercase()));
            let places = self.member_places(place, label.size(), 20.0);
            if place_label(&mut self.board, &mut mark, &label, places, 20.0) {
                self.marks.push(mark);
            }
        }
    }

    /// Where the tail lies, where there is room to say it; the elevation tells it in any case.
    pub fn hose_words_short(&mut self) {
        let Some(hose) = self.p.hose else { return };
        for (at_m, words) in [(hose.new_m, "new tail"), (hose.grown_m, "grown")] {
            let place = self.drawn.at_path(at_m.min(self.raceway_path_m()));
            let mut mark = Mark::new("hose-words", words).figure("path-m", at_m);
            let label = Label::words(words);
            let edge = place.along.perp() * self.band_half();
            let size = label.size();
            let places = (
                [],
                [edge, -edge].map(|off| {
                    let out = off.normalize_or_zero();
                    round_below(place.at + off, size, out, 18.0).on_side(out)
                }),
            );
            if place_label(&mut self.board, &mut mark, &label, places, 18.0) {
                self.marks.push(mark);
            }
        }
    }

    /// Names of what is drawn in light line, where there is room.
    pub fn light_names(&mut self, names: Vec<(String, V2)>) {
        for (words, at) in names {
            let mut mark = Mark::new("light-name", words.clone());
            let label = Label::words(words);
            let size = label.size();
            let [near, off] = [0.8, 3.2].map(|off_mm| beside(at, size, off_mm, v2(0.0, -1.0)));
            if place_label(&mut self.board, &mut mark, &label, (near.chain(off), []), 20.0) {
                self.marks.push(mark);
            }
        }
    }

    /// Joint marks; those that stand close share one label. They are told in the joint table too, so
    /// one that finds no room is left out.
    pub fn joint_words(&mut self) {
        let near = 6.5;
        let mut groups: Vec<(V2, V2, Vec<&str>)> = Vec::new();
        for joint in self.p.joints.iter().filter(|joint| !self.drawn.hides(joint.station_m)) {
            let place = self.drawn.at_station(joint.station_m);
            match groups.last_mut() {
                Some((first, _, marks)) if first.distance(place.at) < near => marks.push(&joint.mark),
                _ => groups.push((place.at, place.along, vec![&joint.mark])),
            }
        }
        for (at, _, marks) in groups {
            let words = match marks.as_slice() {
                [one] => (*one).to_string(),
                [first, .., last] => {
                    let number = last.trim_start_matches(|c: char| !c.is_ascii_digit());
                    format!("{first}–{number}")
                }
                [] => continue,
            };
            let mut mark = Mark::new("joint-words", format!("joint {words}"));
            let label = Label::words(words);
            let (size, half) = (label.size(), self.band_half());
            let [near, off] = [0.7, 2.0].map(|off_mm| beside(at, size, half + off_mm, v2(0.0, -1.0)));
            let led = round_below(at, size, v2(0.0, -0.5), 10.0).dearer(3.0);
            let places = (near.chain(off), [led]);
            if place_label(&mut self.board, &mut mark, &label, places, 13.0) {
                self.marks.push(mark);
            }
        }
    }

    /// The name of something at its symbol.
    pub fn name(&mut self, kind: &'static str, words: &str, at: V2, off: f64, favoured: V2) {
        let mut mark = Mark::new(kind, words);
        let label = Label::words(words);
        let size = label.size();
        let places = (beside(at, size, off, favoured), [round(at, size, favoured).dearer(4.0)]);
        if place_label(&mut self.board, &mut mark, &label, places, f64::MAX) {
            self.marks.push(mark);
        } else {
            self.note(About::Name, mark, words);
        }
    }
}

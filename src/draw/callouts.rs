//! The words on a raceway's drawing: flags, balloons, cut lengths, members, hose, joints.
use super::font::{self, SIZE_MM};
use super::geo::{V2, v2};
use super::labels::{Frame, Label, anywhere, place_label, reading_angle, turned_box};
use super::line::OnLine;
use super::marks::{MEMBER_MM, Placed, pieces};
use super::place::{Candidate, beside, round};
use super::scene::Mark;
use super::subject::{Balloon, Spot};
use super::view::{Kind, View};
use crate::route::Bend;

/// Width to which a member's words are wrapped, mm.
const MEMBER_WORDS_MM: f64 = 36.0;

impl View<'_> {
    /// A flag for every bend; one that finds no room becomes a note.
    pub fn flags(&mut self) {
        let middle =
            self.drawn.legs.iter().map(|leg| leg.to).sum::<V2>() / self.drawn.legs.len().max(1) as f64;
        let bends = self
            .p
            .route
            .bends
            .iter()
            .take(self.drawn.legs.len().saturating_sub(1));
        for (i, bend) in bends.enumerate() {
            let at = self.drawn.bend(i);
            let favoured = match self.kind {
                Kind::Elevation => v2(0.1, -1.0),
                _ => (at - middle).normalize_or_zero(),
            };
            let mut mark = flag_mark(bend, &self.p.say);
            let label = Label {
                head: Some(format!("B{}", bend.n)),
                lines: self.flag_lines(bend),
                frame: Frame::Flag,
            };
            let places = round(at, label.size(), favoured);
            if place_label(&mut self.board, &mut mark, &label, places) {
                self.marks.push(mark);
            } else {
                let words = mark.title.clone();
                self.note(mark, words);
            }
        }
    }

    /// What a flag says beside the number, by how terse it must be.
    fn flag_lines(&self, bend: &Bend) -> Vec<String> {
        let angle = self.p.say.angle(bend.angle_deg);
        let so_far = format!("{} so far", self.p.say.angle(bend.so_far_deg));
        match (self.kind, self.terse) {
            (Kind::Elevation, 0) => {
                vec![
                    format!("{angle} to {}", bend.heading_words),
                    so_far,
                    fitting_words(bend),
                ]
            }
            (Kind::Elevation, 1) => vec![format!("{angle} to {}", bend.heading_words), so_far],
            (_, 0) => vec![angle, so_far],
            (Kind::Elevation, _) => vec![format!("{angle} · {so_far}")],
            _ => vec![angle],
        }
    }

    /// A balloon for every finding that has a place here; those of the whole line stand free.
    pub fn balloons(&mut self) {
        for balloon in &self.p.balloons {
            let mut mark = Mark::new(
                "balloon",
                format!("{} {}: {}", balloon.number, balloon.kind.word(), balloon.text),
            )
            .with("number", balloon.number)
            .with("verdict", balloon.kind.word().to_lowercase());
            let label = Label {
                head: None,
                lines: vec![format!("{} {}", balloon.number, balloon.kind.word())],
                frame: Frame::Balloon(balloon.kind),
            };
            let places = self.balloon_places(balloon, &label);
            if place_label(&mut self.board, &mut mark, &label, places) {
                self.marks.push(mark);
            } else {
                let words = mark.title.clone();
                self.note(mark, words);
            }
        }
    }

    fn balloon_places(&self, balloon: &Balloon, label: &Label) -> Vec<Candidate> {
        if balloon.spot == Spot::Whole {
            let frame = self.board.frame;
            let top = self.drawn.bounds().0.y - 12.0;
            return anywhere(&frame, label.size(), v2(frame.max.x, top.max(frame.min.y)));
        }
        let place = self.spot(balloon.spot);
        round(place.at, label.size(), v2(0.0, 0.4))
    }

    /// Mark and cut length along every piece of tube.
    pub fn cut_lengths(&mut self, must: bool) {
        for placed in pieces(self) {
            let words = format!(
                "{} {}",
                placed.piece.mark,
                self.p.say.length(placed.piece.length_m)
            );
            let mut mark = Mark::new("cut-length", format!("cut {words}"))
                .with("mark", &placed.piece.mark)
                .figure("length-m", placed.piece.length_m);
            let places = self.along_places(&placed, &words);
            let Some(chosen) = self.board.place(places) else {
                if must {
                    self.note(mark, words);
                }
                continue;
            };
            let turned = chosen.leaders.is_empty();
            let angle_deg = if turned {
                reading_angle(self.drawn.legs[placed.leg].along())
            } else {
                0.0
            };
            super::labels::leaders(&mut mark, &chosen);
            mark.text(super::labels::centred(
                chosen.boxes[0].middle(),
                &words,
                angle_deg,
            ));
            self.marks.push(mark);
        }
    }

    /// Along the piece on either side; else led off.
    fn along_places(&self, placed: &Placed, words: &str) -> Vec<Candidate> {
        let line = &self.drawn.legs[placed.leg];
        let (from, to, along) = (line.at(placed.from_m), line.at(placed.to_m), line.along());
        let middle = (from + to) / 2.0;
        let wide = font::width(words, SIZE_MM, false);
        let long = from.distance(to);
        let mut all = round(middle, v2(wide, font::line_height(SIZE_MM)), v2(0.0, 0.5));
        all.iter_mut().for_each(|c| c.cost += 4.0);
        if along == V2::ZERO || wide > long + 4.0 {
            return all;
        }
        let angle_deg = reading_angle(along);
        let below = V2::from_angle(angle_deg.to_radians()).perp();
        let slack = ((long - wide) / 2.0).max(0.0);
        let off = self.band_half() + 0.6 + font::line_height(SIZE_MM) / 2.0;
        for (side, bias) in [(below, 0.0), (-below, 1.0)] {
            for t in [0.0, -0.5, 0.5, -1.0, 1.0] {
                for (step, far) in [0.0, 2.2].into_iter().enumerate() {
                    let at = middle + along * slack * t + side * (off + far);
                    let cost = bias + f64::abs(t) + step as f64 * 1.5;
                    all.push(Candidate {
                        boxes: vec![turned_box(at, words, angle_deg)],
                        cost,
                        ..Candidate::default()
                    });
                }
            }
        }
        all
    }

    /// Words at the members bored through: in full, else by number with a note.
    pub fn members(&mut self, must: bool) {
        for (i, crossing) in self.p.crossings.iter().enumerate() {
            let Some(line) = self.drawn.legs.get(crossing.leg) else {
                continue;
            };
            let place = OnLine {
                at: line.at(crossing.at_m),
                along: line.along(),
            };
            let mut full = font::wrapped(&crossing.words, SIZE_MM, MEMBER_WORDS_MM);
            full.push(crossing.verdict.to_uppercase());
            let mut mark = Mark::new(
                "crossing-words",
                format!("{}: {}", crossing.words, crossing.verdict),
            )
            .with("verdict", &crossing.verdict);
            let short = format!("X{} {}", i + 1, crossing.verdict.to_uppercase());
            let labels = [Label::lines(full), Label::words(short.clone())];
            let first = usize::from(self.kind != Kind::Elevation || self.terse > 0);
            let found = (first..2).find(|k| {
                let places = self.member_places(place, labels[*k].size());
                place_label(&mut self.board, &mut mark, &labels[*k], places)
            });
            match found {
                Some(0) => self.marks.push(mark),
                Some(_) => {
                    self.marks.push(mark);
                    if must {
                        let key = Mark::new("key", String::new());
                        self.keys.push((
                            key,
                            format!("X{}  {}: {}", i + 1, crossing.words, crossing.verdict),
                        ));
                    }
                }
                None if must => self.note(mark, format!("{}: {}", crossing.words, crossing.verdict)),
                None => {}
            }
        }
    }

    /// From either end of a member's symbol.
    fn member_places(&self, place: OnLine, size: V2) -> Vec<Candidate> {
        let end = if place.along == V2::ZERO {
            V2::ZERO
        } else {
            place.along.perp() * (MEMBER_MM - 0.4)
        };
        [end, -end]
            .into_iter()
            .flat_map(|off| {
                let favoured = off.normalize_or_zero() + v2(0.1, 0.0);
                round(place.at + off, size, favoured)
            })
            .collect()
    }

    /// Where the tail lies, new and grown, and what is left to the stop.
    pub fn hose_words(&mut self) {
        let Some(hose) = self.p.hose else { return };
        let room_m = self.p.route.hose_path_m - hose.grown_m;
        let room = match room_m {
            r if r < 0.0 => format!("{} too short", self.p.say.length(-r)),
            r => format!("room {}", self.p.say.length(r)),
        };
        let words = [
            (hose.new_m, String::from("tail, new")),
            (hose.grown_m, String::from("tail, grown")),
            (
                (hose.grown_m.min(self.drawn.path_m) + self.drawn.path_m) / 2.0,
                room,
            ),
        ];
        for (at_m, words) in words {
            let place = self.drawn.at_path(at_m.min(self.drawn.path_m));
            let mut mark = Mark::new("hose-words", words.clone())
                .figure("path-m", at_m)
                .figure("room-m", room_m);
            let label = Label::words(words.clone());
            let edge = place.along.perp() * self.band_half();
            let mut places = round(place.at + edge, label.size(), v2(0.3, 0.5));
            places.extend(round(place.at - edge, label.size(), v2(0.3, -0.3)));
            if place_label(&mut self.board, &mut mark, &label, places) {
                self.marks.push(mark);
            } else {
                self.note(mark, words);
            }
        }
    }

    /// Joint marks; those that stand close share one label. They are told in the joint table too, so
    /// one that finds no room is left out.
    pub fn joint_words(&mut self) {
        let near = 6.5;
        let mut groups: Vec<(V2, V2, Vec<&str>)> = Vec::new();
        for joint in &self.p.joints {
            let place = self.drawn.at_station(joint.station_m);
            match groups.last_mut() {
                Some((first, _, marks)) if first.distance(place.at) < near => marks.push(&joint.mark),
                _ => groups.push((place.at, place.along, vec![&joint.mark])),
            }
        }
        for (at, _, marks) in groups {
            let words = match marks.as_slice() {
                [one] => (*one).to_string(),
                [first, .., last] => format!("{first}–{last}"),
                [] => continue,
            };
            let mut mark = Mark::new("joint-words", format!("joint {words}"));
            let label = Label::words(words);
            let mut places = beside(at, label.size(), self.band_half() + 0.7, v2(0.0, -1.0));
            places.extend(beside(at, label.size(), self.band_half() + 2.0, v2(0.0, -1.0)));
            places.extend(
                round(at, label.size(), v2(0.0, -0.5))
                    .into_iter()
                    .filter(|c| c.cost < 14.0)
                    .map(|mut c| {
                        c.cost += 3.0;
                        c
                    }),
            );
            if place_label(&mut self.board, &mut mark, &label, places) {
                self.marks.push(mark);
            }
        }
    }

    /// The name of something at its symbol.
    pub fn name(&mut self, kind: &'static str, words: &str, at: V2, off: f64, favoured: V2) {
        let mut mark = Mark::new(kind, words);
        let label = Label::words(words);
        let mut places = beside(at, label.size(), off, favoured);
        let mut far = round(at, label.size(), favoured);
        far.iter_mut().for_each(|c| c.cost += 4.0);
        places.extend(far);
        if place_label(&mut self.board, &mut mark, &label, places) {
            self.marks.push(mark);
        } else {
            self.note(mark, words);
        }
    }
}

/// The flag's mark with the bend's figures; its title is the flag in full.
fn flag_mark(bend: &Bend, say: &crate::measure::Say) -> Mark {
    let title = format!(
        "B{} · {} to {} · {} so far · {}",
        bend.n,
        say.angle(bend.angle_deg),
        bend.heading_words,
        say.angle(bend.so_far_deg),
        fitting_words(bend),
    );
    Mark::new("bend-flag", title)
        .with("mark", format!("B{}", bend.n))
        .figure("station-m", bend.at_centre_m)
        .figure("height-m", bend.point.z)
        .figure("angle", bend.angle_deg)
        .figure("so-far", bend.so_far_deg)
}

/// The name of the fitting, or that there is none.
fn fitting_words(bend: &Bend) -> String {
    bend.fitting
        .as_ref()
        .map_or_else(|| "no fitting".into(), |fitting| fitting.name.clone())
}

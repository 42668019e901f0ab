//! What is asked of a laid line: parts of it, places on it, words for it.
use super::types::{Bend, End, Inline, InlineKind, JobLines, Joining, Leg, Line, Raceway, Tube};
use crate::company::{Member, Owner, Reach};
use glam::DVec3;

/// Stations nearer than this are one; far under a tape, far over the rounding of sums.
const SAME_STATION_M: f64 = 1e-9;

/// A station this far past the end of a line still lies on it: lengths are written rounded.
const BEYOND_M: f64 = 1e-6;

impl Line {
    /// `line H`, `trunk main`: what a sentence calls it.
    pub fn called(&self) -> String {
        match self.owner {
            Owner::Inlet(_) => format!("line {}", self.letters),
            Owner::Trunk(_) => format!("trunk {}", self.name),
        }
    }

    /// Whose it is, on a list of pieces: `hall`, `trunk main`.
    pub fn belongs_to(&self) -> String {
        match self.owner {
            Owner::Inlet(_) => self.id.clone(),
            Owner::Trunk(_) => self.called(),
        }
    }

    /// `HB1`
    pub fn bend_mark(&self, n: usize) -> String {
        format!("{}B{n}", self.letters)
    }

    /// `HJ1`
    pub fn joint_mark(&self, n: usize) -> String {
        format!("{}J{n}", self.letters)
    }

    /// A bend by its number.
    pub fn bend(&self, n: usize) -> Option<&Bend> {
        n.checked_sub(1).and_then(|at| self.bends.get(at))
    }

    /// Width of the plate that the riser is bored through, of several the narrowest: studs are as wide as their plate.
    pub fn plate_m(&self) -> Option<f64> {
        let riser_legs = self.raceway.as_ref()?.riser_legs;
        let riser = self.crossings.iter().filter(|crossed| crossed.leg < riser_legs);
        let plates =
            riser.filter(|crossed| matches!(crossed.crossing.member, Member::TopPlate | Member::BottomPlate));
        plates.filter_map(|crossed| crossed.crossing.depth_m).min_by(f64::total_cmp)
    }

    /// Whether a bend lies where the hose slides.
    pub fn in_raceway(&self, n: usize) -> bool {
        self.raceway.as_ref().is_some_and(|raceway| n <= raceway.bends)
    }

    /// The bends before the stop, and those beyond it.
    pub fn bends_at_stop(&self) -> (&[Bend], &[Bend]) {
        let before = self.raceway.as_ref().map_or(0, |raceway| raceway.bends);
        self.bends.split_at(before.min(self.bends.len()))
    }

    /// How many tubes come before the stop.
    pub fn tubes_before_stop(&self) -> usize {
        match self.raceway {
            None => 0,
            Some(_) => self.tubes.iter().position(|tube| tube.from == End::Stop).unwrap_or(self.tubes.len()),
        }
    }

    /// The tubes before the stop, and those beyond it.
    pub fn tubes_at_stop(&self) -> (&[Tube], &[Tube]) {
        self.tubes.split_at(self.tubes_before_stop())
    }

    /// Which stretch a tube lies in.
    pub fn reach_of(&self, tube: &Tube) -> Reach {
        match &self.raceway {
            Some(raceway) if tube.to == End::Stop || tube.start_m < raceway.stop_m - SAME_STATION_M => {
                Reach::Hose
            }
            _ => Reach::Air,
        }
    }

    /// The junctions on it, with the index of each among its inline fittings.
    pub fn junctions(&self) -> impl Iterator<Item = (usize, &Inline, &Joining)> {
        self.inlines.iter().enumerate().filter_map(|(i, inline)| match &inline.kind {
            InlineKind::Junction(joining) => Some((i, inline, joining)),
            InlineKind::Stop => None,
        })
    }

    /// Work points from its start to its end.
    pub fn points(&self) -> Vec<DVec3> {
        std::iter::once(self.start).chain(self.legs.iter().map(|leg| leg.to)).collect()
    }

    /// Index of the leg on which a station lies; at a work point, the leg that starts there.
    pub fn leg_at(&self, station_m: f64) -> usize {
        let on = |leg: &Leg| station_m < leg.station_m + leg.length_m - SAME_STATION_M;
        self.legs.iter().position(on).unwrap_or(self.legs.len().saturating_sub(1))
    }

    /// The point at a station; `None` beyond the line's end.
    pub fn point_at(&self, station_m: f64) -> Option<DVec3> {
        let leg = self.legs.iter().find(|leg| station_m <= leg.station_m + leg.length_m + BEYOND_M)?;
        Some(leg.from + leg.heading * (station_m - leg.station_m))
    }

    /// Whether it lies where another does whose steps and fittings are the same, but for the lengths of runs.
    pub fn lies_as(&self, other: &Line) -> bool {
        let mut legs = self.legs.iter().zip(&other.legs);
        let mut inlines = self.inlines.iter().zip(&other.inlines);
        let mut crossings = self.crossings.iter().zip(&other.crossings);
        self.start == other.start
            && legs.all(|(one, two)| one.from == two.from && one.length_m == two.length_m)
            && inlines.all(|(one, two)| one.station_m == two.station_m && one.leg == two.leg)
            && crossings.all(|(one, two)| one.station_m == two.station_m)
    }

    /// Whether it meets what another does that [lies](Line::lies_as) where it does, at the same place.
    pub fn meets_as(&self, other: &Line) -> bool {
        let station_m = |line: &Line| line.joins.as_ref().map(|joins| joins.station_m);
        self.closure == other.closure && station_m(self) == station_m(other)
    }

    /// Whether what comes in on it comes in as it does on another: by the same fittings, at the same places, from the
    /// same sides; and its tubes are as long.
    pub fn takes_in_as(&self, other: &Line) -> bool {
        let same =
            |((_, at, one), (_, was_at, other)): ((usize, &Inline, &Joining), (usize, &Inline, &Joining))| {
                at.station_m == was_at.station_m
                    && one.fitting.id == other.fitting.id
                    && one.entry == other.entry
            };
        self.tubes == other.tubes
            && self.junctions().count() == other.junctions().count()
            && self.junctions().zip(other.junctions()).all(same)
    }

    /// The line from its start to the stop; all of it where it has none.
    pub fn to_stop(&self) -> Line {
        match &self.raceway {
            Some(raceway) => Line { tail: End::Stop, ..self.between(0.0, raceway.stop_m) },
            None => self.clone(),
        }
    }

    /// The line beyond the stop; all of it where it has none, `None` where the stop ends it.
    pub fn beyond_stop(&self) -> Option<Line> {
        match &self.raceway {
            Some(_) if self.tail == End::Stop => None,
            Some(raceway) => {
                Some(Line { head: End::Stop, raceway: None, ..self.between(raceway.stop_m, self.centre_m) })
            }
            None => Some(self.clone()),
        }
    }

    /// The first and the last leg of the stretch between two stations.
    pub fn legs_between(&self, from_m: f64, to_m: f64) -> (usize, usize) {
        let first = self.leg_at(from_m);
        if to_m >= self.centre_m - SAME_STATION_M {
            return (first, self.legs.len().saturating_sub(1));
        }
        let before = |leg: &Leg| leg.station_m < to_m - SAME_STATION_M;
        (first, self.legs.iter().rposition(before).unwrap_or(first).max(first))
    }

    /// The stretch between two stations. Marks, numbers and stations stay those of the whole line, and so
    /// does the list of inline fittings, to which tubes point.
    pub fn between(&self, from_m: f64, to_m: f64) -> Line {
        let (first_leg, last_leg) = self.legs_between(from_m, to_m);
        let legs: Vec<Leg> = self.legs.get(first_leg..=last_leg).unwrap_or_default().to_vec();
        let legs: Vec<Leg> = legs.into_iter().map(|leg| clipped(leg, from_m, to_m)).collect();
        let inside = |leg: usize| (first_leg..=last_leg).contains(&leg);
        let tubes = self.tubes.iter().filter(|tube| inside(tube.leg) && self.lies(tube, from_m, to_m));
        let tubes = tubes.map(|tube| Tube { leg: tube.leg - first_leg, ..tube.clone() }).collect();
        let within =
            |m: f64| m >= from_m.min(to_m) - SAME_STATION_M && m <= to_m.max(from_m) + SAME_STATION_M;
        let crossings = self.crossings.iter().filter(|c| inside(c.leg) && within(c.station_m)).map(|c| {
            let at_m = c.station_m - legs.get(c.leg - first_leg).map_or(0.0, |leg| leg.station_m);
            super::types::Crossed { leg: c.leg - first_leg, at_m, ..c.clone() }
        });
        let crossings = crossings.collect();
        let (start, end) =
            (legs.first().map_or(self.start, |leg| leg.from), legs.last().map_or(self.end, |leg| leg.to));
        Line {
            owner: self.owner,
            id: self.id.clone(),
            name: self.name.clone(),
            letters: self.letters.clone(),
            place: self.place.clone(),
            into_place: self.into_place.clone(),
            start,
            anchor: self.anchor,
            end,
            end_heading: legs.last().map_or(self.end_heading, |leg| leg.heading),
            bends: self.bends.get(first_leg..last_leg).unwrap_or_default().to_vec(),
            centre_m: legs.iter().map(|leg| leg.length_m).sum(),
            legs,
            tubes,
            crossings,
            inlines: self.inlines.clone(),
            head: self.head,
            tail: self.tail,
            raceway: self.raceway.clone(),
            joins: self.joins.clone(),
            closure: self.closure.clone(),
        }
    }

    /// Whether both fittings of a tube stand on a stretch.
    fn lies(&self, tube: &Tube, from_m: f64, to_m: f64) -> bool {
        let (from, to) = (self.station_of(tube.from, true), self.station_of(tube.to, false));
        from >= from_m - SAME_STATION_M && to <= to_m + SAME_STATION_M
    }

    /// The station of what a tube seats in; `start` tells which end of the line is meant.
    pub fn station_of(&self, end: End, start: bool) -> f64 {
        match end {
            End::Bend(n) => self.bend(n).map_or(0.0, |bend| bend.at_centre_m),
            End::Stop => self.raceway.as_ref().map_or(self.centre_m, |raceway| raceway.stop_m),
            End::Junction(i) => self.inlines.get(i).map_or(0.0, |inline| inline.station_m),
            End::Valve | End::Cap | End::Open | End::From => 0.0,
            End::Branch | End::Unit | End::Onto if start => 0.0,
            End::Branch | End::Unit | End::Onto => self.centre_m,
        }
    }
}

/// A leg with what lies before one station and after another cut off.
fn clipped(leg: Leg, from_m: f64, to_m: f64) -> Leg {
    let Some((starts_m, ends_m)) = leg.clip(from_m, to_m) else { return leg };
    let mut at_m = leg.station_m;
    let mut runs = Vec::new();
    for (length_m, place) in &leg.runs {
        let kept_m = (at_m + length_m).min(ends_m) - at_m.max(starts_m);
        if kept_m > SAME_STATION_M {
            runs.push((kept_m, place.clone()));
        }
        at_m += length_m;
    }
    let point = |station_m: f64| leg.from + leg.heading * (station_m - leg.station_m);
    Leg {
        from: point(starts_m),
        to: point(ends_m),
        length_m: ends_m - starts_m,
        station_m: starts_m,
        runs,
        heading: leg.heading,
    }
}

impl Leg {
    /// Where what of it lies between two stations begins and ends; `None` where all of it does.
    fn clip(&self, from_m: f64, to_m: f64) -> Option<(f64, f64)> {
        let starts_m = self.station_m.max(from_m);
        let ends_m = (self.station_m + self.length_m).min(to_m).max(starts_m);
        let whole = starts_m == self.station_m && ends_m == self.station_m + self.length_m;
        (!whole).then_some((starts_m, ends_m))
    }

    /// How much of it lies between two stations, the first no farther along than its end.
    pub fn between_m(&self, from_m: f64, to_m: f64) -> f64 {
        self.clip(from_m, to_m).map_or(self.length_m, |(starts_m, ends_m)| ends_m - starts_m)
    }
}

impl JobLines {
    /// The line of an inlet.
    pub fn of_inlet(&self, inlet: usize) -> Option<&Line> {
        self.lines.get(inlet).filter(|_| inlet < self.inlets)
    }

    /// The line of a trunk.
    pub fn of_trunk(&self, trunk: usize) -> Option<&Line> {
        self.lines.get(self.inlets + trunk)
    }

    /// The inlets' lines.
    pub fn of_inlets(&self) -> &[Line] {
        self.lines.get(..self.inlets).unwrap_or_default()
    }

    /// The trunks' lines.
    pub fn of_trunks(&self) -> &[Line] {
        self.lines.get(self.inlets..).unwrap_or_default()
    }

    /// Whether the air of a line goes on through another, at once or by lines between.
    pub fn runs_through(&self, line: usize, other: usize) -> bool {
        let next = |at: &usize| Some(self.lines.get(*at)?.joins.as_ref()?.line);
        // No way is longer than there are lines, should they ever run in a ring.
        std::iter::successors(next(&line), next).take(self.lines.len()).any(|at| at == other)
    }

    /// The raceway of an inlet's line.
    pub fn raceway(&self, inlet: usize) -> Option<&Raceway> {
        self.of_inlet(inlet)?.raceway.as_ref()
    }
}

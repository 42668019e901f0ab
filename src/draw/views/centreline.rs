//! A line's centreline as it is drawn in one view: straights and true arcs on paper.
//!
//! Positions on it are asked in two measures: *station*, along work points, and *path*, along the arcs
//! as the hose lies. Arcs are cubics tangent to both legs; where fittings collide they are drawn all the
//! same and overlap.
use crate::draw::hand::geo::V2;
use crate::route::Line;

/// The drawn centreline.
#[derive(Debug, Clone)]
pub struct Drawn {
    pub legs: Vec<DrawnLeg>,
    pub pieces: Vec<DrawnPiece>,
    /// Length along the arcs.
    pub path_m: f64,
}

/// A leg between work points on paper.
#[derive(Debug, Clone)]
pub struct DrawnLeg {
    pub from: V2,
    pub to: V2,
    pub length_m: f64,
    pub station_m: f64,
    /// Part of the leg that is left out, as distances along it, and the gap drawn in its stead.
    pub cut: Option<(f64, f64, f64)>,
}

/// A straight or an arc.
#[derive(Debug, Clone)]
pub struct DrawnPiece {
    /// Along the hose path.
    pub from_m: f64,
    pub to_m: f64,
    pub curve: [V2; 4],
    /// Index of the bend; `None` for a straight.
    pub bend: Option<usize>,
    pub leg: usize,
}

/// A point on the line with its direction on paper (nought where the line runs toward the viewer).
#[derive(Debug, Clone, Copy)]
pub struct OnLine {
    pub at: V2,
    pub along: V2,
}

impl DrawnLeg {
    /// The point so far along the leg.
    pub fn at(&self, along_m: f64) -> V2 {
        let whole = self.to - self.from;
        let Some((a, b, gap_mm)) = self.cut else {
            return self.from + whole * if self.length_m > 0.0 { along_m / self.length_m } else { 0.0 };
        };
        let (way, per_m) = (whole.normalize_or_zero(), self.mm_per_m());
        let drawn = if along_m <= a {
            along_m * per_m
        } else if along_m >= b {
            (along_m - (b - a)) * per_m + gap_mm
        } else {
            a * per_m + gap_mm * (along_m - a) / (b - a)
        };
        self.from + way * drawn
    }

    /// Millimetres of paper for a metre of it.
    pub fn mm_per_m(&self) -> f64 {
        let (left_out_m, gap_mm) = self.cut.map_or((0.0, 0.0), |(a, b, gap_mm)| (b - a, gap_mm));
        let shown_m = self.length_m - left_out_m;
        if shown_m > 0.0 { (self.drawn_mm() - gap_mm) / shown_m } else { 0.0 }
    }

    /// Whether a place so far along it lies in the part left out.
    pub fn hides(&self, along_m: f64) -> bool {
        self.cut.is_some_and(|(a, b, _)| along_m > a - 0.02 && along_m < b + 0.02)
    }

    /// Direction on paper.
    pub fn along(&self) -> V2 {
        (self.to - self.from).normalize_or_zero()
    }

    /// Length on paper, mm.
    pub fn drawn_mm(&self) -> f64 {
        self.from.distance(self.to)
    }
}

impl Drawn {
    /// Draws a line with its work points at `work` (one more than legs), with the angle each bend shows
    /// in the view, radians, and parts of legs left out.
    pub fn new(line: &Line, work: &[V2], angles: &[f64], cuts: &[Option<(f64, f64, f64)>]) -> Drawn {
        let legs: Vec<DrawnLeg> = line
            .legs
            .iter()
            .enumerate()
            .map(|(i, leg)| DrawnLeg {
                from: work[i],
                to: work[i + 1],
                length_m: leg.length_m,
                station_m: leg.station_m,
                cut: cuts.get(i).copied().flatten(),
            })
            .collect();
        let mut drawn = Drawn { legs, pieces: Vec::new(), path_m: 0.0 };
        let mut path_m = 0.0;
        for i in 0..line.legs.len() {
            let before = i.checked_sub(1).and_then(|b| line.bends.get(b)).map_or(0.0, |b| b.tangent_m);
            let after = line.bends.get(i).map_or(0.0, |b| b.tangent_m);
            drawn.straight(i, before, line.legs[i].length_m - after, &mut path_m);
            if let (Some(bend), true) = (line.bends.get(i), i + 1 < line.legs.len()) {
                let angle = angles.get(i).copied().unwrap_or(0.0);
                drawn.arc(i, bend.tangent_m, bend.arc_m, angle, &mut path_m);
            }
        }
        drawn.path_m = path_m;
        drawn
    }

    /// A straight, in two pieces where part of it is left out.
    fn straight(&mut self, leg: usize, from_m: f64, to_m: f64, path_m: &mut f64) {
        let line = &self.legs[leg];
        let ends = match line.cut {
            Some((a, b, _)) if a > from_m && b < to_m => vec![(from_m, a), (b, to_m)],
            _ => vec![(from_m, to_m)],
        };
        let start_m = *path_m;
        let made: Vec<DrawnPiece> = ends
            .into_iter()
            .filter(|(a, b)| b - a > 1e-9)
            .map(|(a, b)| {
                let (p, q) = (line.at(a), line.at(b));
                let curve = [p, p.lerp(q, 1.0 / 3.0), p.lerp(q, 2.0 / 3.0), q];
                DrawnPiece {
                    from_m: start_m + a - from_m,
                    to_m: start_m + b - from_m,
                    curve,
                    bend: None,
                    leg,
                }
            })
            .collect();
        self.pieces.extend(made);
        *path_m += to_m - from_m;
    }

    /// An arc tangent to two legs.
    fn arc(&mut self, leg: usize, tangent_m: f64, arc_m: f64, angle: f64, path_m: &mut f64) {
        let (first, second) = (&self.legs[leg], &self.legs[leg + 1]);
        let (p, w, q) = (first.at(first.length_m - tangent_m), first.to, second.at(tangent_m));
        // The handle of a cubic arc is 4/3 tan(angle/4) of the radius; the tangent is tan(angle/2) of it.
        let handle = match angle.abs() {
            a if a < 1e-6 => 2.0 / 3.0,
            a => 4.0 / 3.0 * (a / 4.0).tan() / (a / 2.0).tan(),
        };
        if arc_m > 0.0 {
            self.pieces.push(DrawnPiece {
                from_m: *path_m,
                to_m: *path_m + arc_m,
                curve: [p, p.lerp(w, handle), q.lerp(w, handle), q],
                bend: Some(leg),
                leg,
            });
        }
        *path_m += arc_m;
    }

    /// The point of a bend: the middle of its arc, or its work point when it has none.
    pub fn bend(&self, index: usize) -> V2 {
        let arc = self.pieces.iter().find(|piece| piece.bend == Some(index));
        arc.map_or_else(|| self.legs[index].to, |piece| on_cubic(&piece.curve, 0.5))
    }

    /// The place at a station, on the straight between work points.
    pub fn at_station(&self, station_m: f64) -> OnLine {
        let leg = self.legs.iter().rev().find(|leg| leg.station_m <= station_m).or(self.legs.first());
        leg.map_or(OnLine { at: V2::ZERO, along: V2::ZERO }, |leg| OnLine {
            at: leg.at((station_m - leg.station_m).clamp(0.0, leg.length_m)),
            along: leg.along(),
        })
    }

    /// Whether a station lies in a part left out.
    pub fn hides(&self, station_m: f64) -> bool {
        let leg = self.legs.iter().rev().find(|leg| leg.station_m <= station_m);
        leg.is_some_and(|leg| leg.hides(station_m - leg.station_m))
    }

    /// The place so far along the hose path.
    pub fn at_path(&self, path_m: f64) -> OnLine {
        let piece = self.pieces.iter().find(|piece| piece.to_m >= path_m).or(self.pieces.last());
        piece.map_or(OnLine { at: V2::ZERO, along: V2::ZERO }, |piece| {
            let t = ((path_m - piece.from_m) / (piece.to_m - piece.from_m)).clamp(0.0, 1.0);
            let (a, b) =
                (on_cubic(&piece.curve, (t - 0.01).max(0.0)), on_cubic(&piece.curve, (t + 0.01).min(1.0)));
            OnLine { at: on_cubic(&piece.curve, t), along: (b - a).normalize_or_zero() }
        })
    }

    /// The line between two places of the hose path as polylines, broken where part is left out; each
    /// vertex has its direction.
    pub fn polylines(&self, from_m: f64, to_m: f64) -> Vec<Vec<OnLine>> {
        let mut all: Vec<Vec<OnLine>> = Vec::new();
        for piece in &self.pieces {
            let (a, b) = (piece.from_m.max(from_m), piece.to_m.min(to_m));
            if b - a <= 1e-9 {
                continue;
            }
            let span = piece.to_m - piece.from_m;
            let (t0, t1) = ((a - piece.from_m) / span, (b - piece.from_m) / span);
            let steps = if piece.bend.is_some() { 8 } else { 1 };
            let points: Vec<OnLine> = (0..=steps)
                .map(|k| {
                    let t = t0 + (t1 - t0) * f64::from(k) / f64::from(steps);
                    OnLine { at: on_cubic(&piece.curve, t), along: slope(&piece.curve, t) }
                })
                .collect();
            match all.last_mut() {
                Some(line) if line.last().is_some_and(|p| p.at.distance(points[0].at) < 0.01) => {
                    line.extend(points);
                }
                _ => all.push(points),
            }
        }
        all
    }

    /// The pieces between two places of the hose path, arcs kept true.
    pub fn stretch(&self, from_m: f64, to_m: f64) -> Vec<DrawnPiece> {
        let within = |piece: &DrawnPiece| {
            let (a, b) = (piece.from_m.max(from_m), piece.to_m.min(to_m));
            let span = piece.to_m - piece.from_m;
            (b - a > 1e-9).then(|| DrawnPiece {
                from_m: a,
                to_m: b,
                curve: part(&piece.curve, (a - piece.from_m) / span, (b - piece.from_m) / span),
                ..piece.clone()
            })
        };
        self.pieces.iter().filter_map(within).collect()
    }

    /// Straight strokes that cover the line, for what it takes up.
    pub fn strokes(&self) -> Vec<(V2, V2)> {
        let lines = self.polylines(0.0, f64::MAX);
        lines.iter().flat_map(|line| line.windows(2).map(|w| (w[0].at, w[1].at))).collect()
    }

    /// Least and greatest corner of the drawn work points.
    pub fn bounds(&self) -> (V2, V2) {
        let ends = self.legs.iter().flat_map(|leg| [leg.from, leg.to]);
        ends.fold((V2::MAX, V2::MIN), |(lo, hi), p| (lo.min(p), hi.max(p)))
    }
}

/// A point on a cubic.
fn on_cubic(c: &[V2; 4], t: f64) -> V2 {
    let s = 1.0 - t;
    c[0] * (s * s * s) + c[1] * (3.0 * s * s * t) + c[2] * (3.0 * s * t * t) + c[3] * (t * t * t)
}

/// The direction of a cubic.
fn slope(c: &[V2; 4], t: f64) -> V2 {
    let s = 1.0 - t;
    let d = (c[1] - c[0]) * (s * s) + (c[2] - c[1]) * (2.0 * s * t) + (c[3] - c[2]) * (t * t);
    d.try_normalize().unwrap_or_else(|| (c[3] - c[0]).normalize_or_zero())
}

/// The part of a cubic between two parameters, by polar form.
fn part(c: &[V2; 4], t0: f64, t1: f64) -> [V2; 4] {
    let polar = |a: f64, b: f64, d: f64| {
        let first = [c[0].lerp(c[1], a), c[1].lerp(c[2], a), c[2].lerp(c[3], a)];
        let second = [first[0].lerp(first[1], b), first[1].lerp(first[2], b)];
        second[0].lerp(second[1], d)
    };
    [polar(t0, t0, t0), polar(t0, t0, t1), polar(t0, t1, t1), polar(t1, t1, t1)]
}

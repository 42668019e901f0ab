//! The rows of a cut list, in the order of assembly.
use super::words::{branch_roll, cut_words, limits_words, printed, short, sum_words};
use super::{BetweenRow, EndRow, PieceRow, Row, TapeField, TubeRow};
use crate::company::{Owner, Valve};
use crate::material::TubePiece;
use crate::measure::INCH_M;
use crate::packet::check::TickCell;
use crate::packet::prose::sentence;
use crate::packet::route::{spare_words, with_size};
use crate::packet::seat::seat;
use crate::packet::tape;
use crate::packet::throat::{arc_round_tube_m, looks, throat};
use crate::packet::worked::{Worked, slice_at};
use crate::route::{Bend, End, Inline, InlineKind, Line, Tube};
use crate::standard::{hose_allowance, lines_per_joint};
use crate::takeoff::TubeCut;
use glam::DVec3;

/// A line for which a cut list is made.
struct Listed<'a> {
    worked: &'a Worked<'a>,
    index: usize,
    line: &'a Line,
    /// The by-eye clauses that are ticked joint by joint: id and heading.
    boxes: Vec<(String, String)>,
}

/// What the boxes at each tube end of a line stand for, in their order, and every row of its cut list.
pub(super) fn listed(worked: &Worked, index: usize) -> Option<(Vec<String>, Vec<Row>)> {
    let line = worked.work.lines.lines.get(index)?;
    let valve = match line.owner {
        Owner::Inlet(i) => worked.work.job.inlets.get(i).map(|inlet| &inlet.valve),
        Owner::Trunk(_) => None,
    };
    let listed = Listed { worked, index, line, boxes: boxes(worked, valve) };
    let rows = listed.rows();
    Some((listed.boxes.into_iter().map(|(_, head)| head).collect(), rows))
}

/// The by-eye clauses ticked at each joint.
fn boxes(worked: &Worked, valve: Option<&Valve>) -> Vec<(String, String)> {
    let told = lines_per_joint(worked.work.standard, valve);
    told.into_iter().map(|(clause, _)| (clause.id.clone(), clause.title.to_lowercase())).collect()
}

impl Listed<'_> {
    /// Every row in the order of assembly.
    fn rows(&self) -> Vec<Row> {
        let cuts = slice_at(&self.worked.work.cuts.lines, self.index);
        let mut rows = Vec::new();
        for (place, tube) in self.line.tubes.iter().enumerate() {
            rows.push(Row::Tube(Box::new(self.tube_row(place, tube, cuts.get(place)))));
            rows.extend(self.between_row(tube.to).map(Row::Between));
        }
        rows
    }

    /// Where ticks and measures of this line are kept.
    fn note(&self, what: &str) -> String {
        match self.line.owner {
            Owner::Inlet(i) => {
                let id = self.worked.work.job.inlets.get(i).map_or("", |inlet| inlet.id.as_str());
                format!("inlets/{id}/{what}")
            }
            Owner::Trunk(_) => format!("trunks/{}/{what}", self.line.name),
        }
    }

    fn tube_row(&self, place: usize, tube: &Tube, cut: Option<&TubeCut>) -> TubeRow {
        let (work, say) = (self.worked.work, self.worked.work.say);
        let span = printed(say, tape::span(self.line, tube), tube.clear_m);
        let deduct_m = span.deducts_m.iter().sum();
        let known = self.line.unmeasured(tube, work.catalog, &say).is_none();
        let limits = self.worked.tapes.limits(work, self.index, place);
        let before_stop = self.line.tubes[..place].iter().all(|before| before.to != End::Stop);
        let short_m = self.short_together_m().filter(|_| before_stop);
        let pieces = cut.map(|cut| cut.pieces.as_slice()).unwrap_or_default();
        let taking_up = pieces.last().filter(|_| limits.is_some());
        let name = |end| seat(work, self.line, end).0;
        let heading = looks(self.line.legs.get(tube.leg).map_or(DVec3::X, |leg| leg.heading));
        let mut rows = self.piece_rows(tube, pieces, limits.is_some());
        let ends = if rows.len() == 1 { rows.remove(0).ends } else { Vec::new() };
        TubeRow {
            mark: tube.mark.clone(),
            run: match ends.is_empty() {
                true => format!("{} to {}, {heading}", name(tube.from), name(tube.to)),
                false => heading,
            },
            through: self.through(tube),
            ends,
            sum: if known { sum_words(say, span) } else { format!("{} − ? =", say.length(span.plan_m)) },
            cut: if known { cut_words(say, tube.clear_m) } else { "not known".into() },
            deduct: if known { format!("− {}", short(say, deduct_m)) } else { "− ?".into() },
            limits: limits_words(say, limits.as_ref()),
            pieces: rows,
            problem: cut.and_then(|cut| cut.problem.as_deref()).map(sentence).unwrap_or_default(),
            tape: TapeField {
                note: self.note(&format!("as-measured/{}", tube.mark)),
                label: format!("what the tape says for {}", tube.mark),
                deduct_m: micrometres(deduct_m),
                plan_m: micrometres(span.plan_m),
                // Where nothing can be cut no tape is inside.
                least_m: micrometres(limits.as_ref().map_or(span.plan_m + 1.0, |limits| limits.least_m)),
                most_m: micrometres(limits.as_ref().map_or(span.plan_m - 1.0, |limits| limits.most_m)),
                short_m: short_m.map(|m| micrometres(m).to_string()).unwrap_or_default(),
                piece: taking_up.map(|piece| piece.mark.clone()).unwrap_or_default(),
                piece_m: micrometres(taking_up.map_or(0.0, |piece| piece.length_m)),
            },
        }
    }

    /// What a tube is bored through, with the place on the tape.
    fn through(&self, tube: &Tube) -> Vec<String> {
        let say = self.worked.work.say;
        let (from_m, to_m) = tape::ends(self.line, tube);
        let here = self.line.crossings.iter().filter(|crossed| {
            crossed.leg == tube.leg && crossed.station_m > from_m && crossed.station_m < to_m
        });
        here.map(|crossed| format!("{} at {}", crossed.mark, say.length(crossed.station_m - from_m)))
            .collect()
    }

    fn piece_rows(&self, tube: &Tube, pieces: &[TubePiece], gives: bool) -> Vec<PieceRow> {
        let work = self.worked.work;
        let coupling = || {
            let fitting = work.catalog.coupling(self.line.reach_of(tube));
            ("coupling".to_string(), fitting.and_then(|fitting| fitting.socket_m))
        };
        let last = pieces.len().saturating_sub(1);
        let row = |(place, piece): (usize, &TubePiece)| {
            let before = if place == 0 { seat(work, self.line, tube.from) } else { coupling() };
            let after = if place == last { seat(work, self.line, tube.to) } else { coupling() };
            // The open start of a trunk is no joint until something joins there.
            let open = place == 0 && tube.from == End::Open;
            let ends = [(before, "start"), (after, "end")];
            let ends = ends.into_iter().skip(usize::from(open));
            PieceRow {
                mark: piece.mark.clone(),
                length: work.say.length(piece.length_m),
                takes_up: gives && place == last && last > 0,
                ends: ends.map(|(socket, which)| self.end_row(&piece.mark, socket, which)).collect(),
            }
        };
        pieces.iter().enumerate().map(row).collect()
    }

    fn end_row(&self, piece: &str, (into, depth_m): (String, Option<f64>), which: &str) -> EndRow {
        let say = self.worked.work.say;
        let tick = |(id, head): &(String, String)| TickCell::new(id.clone(), head.clone());
        EndRow {
            label: format!("{piece} into {into}"),
            note: self.note(&format!("ticks/{piece} {which} ")),
            boxes: self.boxes.iter().map(tick).collect(),
            insertion: depth_m.map_or_else(|| "measure the socket".into(), |m| say.length(m)),
            into,
        }
    }

    /// What follows a tube, where that is a fitting that the list has a row for.
    fn between_row(&self, end: End) -> Option<BetweenRow> {
        match end {
            End::Bend(n) => Some(self.bend_row(self.line.bend(n)?)),
            End::Stop => Some(self.stop_row()),
            End::Junction(i) => self.junction_row(self.line.inlines.get(i)?),
            _ => None,
        }
    }

    fn bend_row(&self, bend: &Bend) -> BetweenRow {
        let say = self.worked.work.say;
        let mark = self.line.bend_mark(bend.n);
        let name = bend.fitting.as_ref().map_or_else(
            || format!("{} bend, none in the catalog", say.angle(bend.angle_deg)),
            |fitting| with_size(&fitting.name, &say.angle(bend.angle_deg)),
        );
        let way = throat(bend).map(looks).unwrap_or_default();
        BetweenRow {
            tick: TickCell::new(self.note(&format!("ticks/{mark} set")), format!("{mark} set as told")),
            head: format!("{name}, throat {way}."),
            words: self.roll(bend),
            mark,
            tick_words: "set",
        }
    }

    /// How a bend is turned on the tube, from the one before.
    fn roll(&self, bend: &Bend) -> String {
        let say = self.worked.work.say;
        let before = bend.n.saturating_sub(1);
        match bend.roll_deg {
            None => "First bend.".into(),
            Some(roll) => {
                let arc = arc_round_tube_m(roll, self.worked.work.catalog.tube.outside_m);
                match arc < INCH_M / 32.0 {
                    true => format!("Roll: on B{before}'s line."),
                    false if roll.abs() > 179.5 => {
                        format!("Roll: {}, directly opposite B{before}'s line.", say.length(arc))
                    }
                    false => {
                        let way = if roll > 0.0 { "clockwise" } else { "counter-clockwise" };
                        format!("Roll: {} {way} from B{before}'s line.", say.length(arc))
                    }
                }
            }
        }
    }

    fn stop_row(&self) -> BetweenRow {
        let say = self.worked.work.say;
        let (path_m, hose_m) = match (self.line.owner, &self.line.raceway) {
            (Owner::Inlet(i), Some(raceway)) => {
                let hose_m = self.worked.work.job.inlets.get(i).map_or(0.0, |inlet| inlet.hose.length_m);
                (raceway.hose_path_m, hose_m)
            }
            _ => (0.0, 0.0),
        };
        let grown_m = hose_m * (1.0 + hose_allowance(self.worked.work.standard));
        BetweenRow {
            mark: "STOP".into(),
            head: format!("Hose path {}.", say.length(path_m)),
            words: match self.short_together_m() {
                // What matters to the tape is the grown spare; both spares stand on the route's sheet.
                Some(most_m) => format!("Short tapes, added up: at most {}.", say.length_down(most_m)),
                None => format!(
                    "Spare: new hose {}, grown {}.",
                    spare_words(say, path_m, hose_m),
                    spare_words(say, path_m, grown_m)
                ),
            },
            tick: TickCell::new(self.note("ticks/stop tried"), "ball or rod tried in the stop".into()),
            tick_words: "rod tried",
        }
    }

    /// By how much tapes may come up short together, where the limits of each alone would let them take more than the
    /// grown hose leaves.
    fn short_together_m(&self) -> Option<f64> {
        let (work, Owner::Inlet(inlet)) = (self.worked.work, self.line.owner) else { return None };
        let path_m = self.line.raceway.as_ref()?.hose_path_m;
        let hose_m = work.job.inlets.get(inlet)?.hose.length_m;
        let spare_m = path_m - hose_m * (1.0 + hose_allowance(work.standard));
        let bites = spare_m >= 0.0 && self.worked.tapes.short_m(work, self.index) > spare_m + INCH_M / 16.0;
        bites.then_some(spare_m)
    }

    fn junction_row(&self, inline: &Inline) -> Option<BetweenRow> {
        let InlineKind::Junction(joining) = &inline.kind else { return None };
        let say = self.worked.work.say;
        let by = self.worked.work.lines.lines.get(joining.line)?;
        let way = (-by.end_heading).try_normalize().map(looks).unwrap_or_default();
        let run = self.line.legs.get(inline.leg).map_or(DVec3::X, |leg| leg.heading);
        Some(BetweenRow {
            mark: by.letters.clone(),
            head: format!("{} for {}, branch {way}.", joining.fitting.name, by.belongs_to()),
            words: format!(
                "{} from start; {}.",
                say.length(inline.station_m),
                branch_roll(say, joining.entry.roll_deg, run)
            ),
            tick: TickCell::new(
                self.note(&format!("ticks/junction {} set", by.letters)),
                format!("junction for {} set as told", by.belongs_to()),
            ),
            tick_words: "set",
        })
    }
}

/// A length to a micrometre, in m.
fn micrometres(length_m: f64) -> f64 {
    (length_m * 1e6).round() / 1e6
}

//! The cut list of a line: one row to a tube, from its start to where it joins, and between the rows what
//! stands between the tubes. Whoever has it and a tape can cut and cement every tube.
use super::Source;
use super::check::TickCell;
use super::cut_words::{branch_roll, cut_words, limits_words, printed, short, sum_words};
use super::inline::inlined;
use super::outline::Kind;
use super::paper;
use super::prose::sentence;
use super::seat::seat;
use super::tape;
use super::throat::{arc_round_tube_m, looks, throat};
use super::worked::Worked;
use crate::company::{Owner, Valve};
use crate::measure::{INCH_M, Lengths};
use crate::route::{Bend, End, Inline, InlineKind, Line, Tube};
use crate::standard::{hose_allowance, lines_per_joint};
use crate::takeoff::TubeCut;
use serde::Serialize;

/// A cut list, as far as one sheet holds it.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Cuts {
    /// What the boxes at each tube end stand for, in their order.
    pub boxes: Vec<String>,
    pub rows: Vec<Row>,
    /// How the page reads and says lengths: `ft-in` or `metric`.
    pub lengths: &'static str,
    /// On the last sheet: one joint cut open, and how each is made.
    pub joint_svg: String,
    pub joint_words: Vec<String>,
    /// A line that has no tube to cut.
    pub nothing: String,
}

/// A row of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "is")]
pub enum Row {
    Tube(Box<TubeRow>),
    Between(BetweenRow),
}

/// A tube.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TubeRow {
    pub mark: String,
    /// `west, level`; of a tube in pieces with its ends before it: `B1 to B2, west, level`.
    pub run: String,
    /// What it is bored through.
    pub through: Vec<String>,
    /// The two ends of a tube that is one piece.
    pub ends: Vec<EndRow>,
    /// `25 ft 0 in − 8 in − 8 in =`
    pub sum: String,
    pub cut: String,
    /// `− 16 in`
    pub deduct: String,
    /// `ok 24 ft 11 in to 25 ft 1 in`
    pub limits: String,
    /// The pieces of a tube that takes several.
    pub pieces: Vec<PieceRow>,
    /// Why it cannot be cut; empty where it can.
    pub problem: String,
    pub tape: TapeField,
}

/// The blank for what the tape says, and what the page's script needs to work out the cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TapeField {
    /// Under which name it is kept.
    pub note: String,
    pub label: String,
    pub deduct_m: f64,
    pub plan_m: f64,
    pub least_m: f64,
    pub most_m: f64,
    /// The piece that takes the difference up, and its length as planned; empty and nothing where none is.
    pub piece: String,
    pub piece_m: f64,
}

/// A piece with its two ends.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PieceRow {
    pub mark: String,
    pub length: String,
    /// Whether it takes up what the tape differs by.
    pub takes_up: bool,
    pub ends: Vec<EndRow>,
}

/// An end of a piece: what it goes into, how deep, and its boxes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EndRow {
    pub into: String,
    pub insertion: String,
    /// `H1a into the valve`, what its boxes are of.
    pub label: String,
    /// How the names begin under which its ticks are kept; each box has the rest.
    pub note: String,
    pub boxes: Vec<TickCell>,
}

/// What stands between two tubes: a bend, the stop, a junction.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BetweenRow {
    pub mark: String,
    pub head: String,
    pub words: String,
    pub tick: TickCell,
    /// What the box is for.
    pub tick_words: &'static str,
}

/// A line for which a cut list is made.
struct Listed<'a> {
    worked: &'a Worked<'a>,
    index: usize,
    line: &'a Line,
    /// The by-eye clauses that are ticked joint by joint: id and heading.
    boxes: Vec<(String, String)>,
}

/// Every row of a line's cut list with what its boxes stand for.
fn listed<'a>(worked: &'a Worked<'a>, index: usize) -> Option<(Listed<'a>, Vec<Row>)> {
    let line = worked.work.lines.lines.get(index)?;
    let valve = match line.owner {
        Owner::Inlet(i) => worked.work.job.inlets.get(i).map(|inlet| &inlet.valve),
        Owner::Trunk(_) => None,
    };
    let listed = Listed { worked, index, line, boxes: boxes(worked, valve) };
    let rows = listed.rows();
    Some((listed, rows))
}

/// Height of a line's whole cut list, mm.
pub fn list_mm(worked: &Worked, index: usize) -> f64 {
    let rows = listed(worked, index).map(|(_, rows)| rows).unwrap_or_default();
    HEAD_MM + KEY_MM + rows.iter().map(row_mm).sum::<f64>()
}

/// The cut list of a line, on as many sheets as it takes; `index` is the line's among all lines.
pub fn sheets(source: &Source, index: usize, kind: Kind, above_mm: f64) -> Vec<Cuts> {
    let worked = source.worked;
    let Some((listed, rows)) = listed(worked, index) else { return Vec::new() };
    let line = listed.line;
    let heights: Vec<f64> = rows.iter().map(row_mm).collect();
    let room_mm = super::room_mm(worked, kind) - HEAD_MM - KEY_MM;
    let words = joint_words(worked);
    let (pages, joint) = placed(&heights, room_mm, above_mm, &words.join(" "));
    let heads: Vec<String> = listed.boxes.iter().map(|(_, head)| head.clone()).collect();
    let count = pages.len();
    let sheet = |(nth, range): (usize, std::ops::Range<usize>)| {
        let told = if nth + 1 == count { joint } else { Joint::Left };
        Cuts {
            boxes: heads.clone(),
            rows: rows[range].to_vec(),
            lengths: match worked.work.say.lengths {
                Lengths::FtIn => "ft-in",
                Lengths::Metric => "metric",
            },
            joint_svg: if told == Joint::Drawn { joint_svg(source, line) } else { String::new() },
            joint_words: if told == Joint::Left { Vec::new() } else { words.clone() },
            nothing: String::new(),
        }
    };
    pages.into_iter().enumerate().map(sheet).collect()
}

/// Height of the head of the list, of the key under it, and of what tells how a joint is made, mm.
const HEAD_MM: f64 = 6.5;
const KEY_MM: f64 = 9.5;
/// Height of a joint cut open, and what stands over and under it, mm.
const JOINT_MM: f64 = 34.0;
/// Widths of the columns, mm: the run with its ends, the sum, the tape; a piece and each of its ends.
const RUN_MM: f64 = 51.0;
const SUM_MM: f64 = 52.0;
const TAPE_MM: f64 = 62.0;
/// What the boxes of an end leave for its words, in the run's column and in a piece's row, mm.
const END_MM: (f64, f64) = (32.0, 34.0);

/// What tells how a joint is made, after the last row: a picture with words, words alone, or nothing where
/// it would fill a sheet of its own; the load sheet has the times as well.
#[derive(Clone, Copy, PartialEq)]
enum Joint {
    Drawn,
    Told,
    Left,
}

/// Rows shared out over sheets, and what of the joint finds room after the last.
fn placed(heights: &[f64], room_mm: f64, above_mm: f64, words: &str) -> (Vec<std::ops::Range<usize>>, Joint) {
    let alone = paper::pages(heights, room_mm, above_mm);
    let told_mm = paper::words_mm(words, 10.0, 182.0) + 2.0;
    let beside_mm = paper::words_mm(words, 10.0, 118.0);
    for (joint, mm) in [(Joint::Drawn, JOINT_MM.max(beside_mm) + 2.0), (Joint::Told, told_mm)] {
        let mut with_joint = heights.to_vec();
        if let Some(last) = with_joint.last_mut() {
            *last += mm;
        }
        let together = paper::pages(&with_joint, room_mm, above_mm);
        if together.len() == alone.len() {
            return (together, joint);
        }
    }
    (alone, Joint::Left)
}

/// Height of a row, mm: its words at the width of their columns.
fn row_mm(row: &Row) -> f64 {
    let of = |words: &str, room_mm: f64| paper::words_mm(words, 10.0, room_mm) * TIGHT;
    match row {
        Row::Between(row) => {
            paper::words_mm(&format!("{} {} xx {}", row.head, row.words, row.tick_words), 10.0, 168.0) + 0.9
        }
        Row::Tube(row) => {
            let ends: f64 = row.ends.iter().map(|end| of(&end_words(end), END_MM.0).max(4.4)).sum();
            let through: f64 = row.through.iter().map(|line| of(line, RUN_MM)).sum();
            let run = of(&row.run, RUN_MM) + through + ends;
            let sum = of(&row.sum, SUM_MM) + 6.2;
            let tape = 5.7 + of(&row.limits, TAPE_MM);
            let pieces: f64 = row.pieces.iter().map(piece_mm).sum();
            let problem = match row.problem.is_empty() {
                true => 0.0,
                false => paper::words_mm(&row.problem, 10.5, 158.0) + PROBLEM_MM,
            };
            run.max(sum).max(tape) + pieces + problem + 0.9
        }
    }
}

/// What stands over and under the words that a tube cannot be cut, and is more in its tape's column, mm.
const PROBLEM_MM: f64 = 3.0;

/// A line of a tube's row as a part of one elsewhere: the style sets them closer.
const TIGHT: f64 = 1.15 / paper::LINE;

/// A length to a micrometre, in m.
fn micrometres(length_m: f64) -> f64 {
    (length_m * 1e6).round() / 1e6
}

/// Height of a piece's line, mm.
fn piece_mm(piece: &PieceRow) -> f64 {
    let end = |end: &EndRow| paper::words_mm(&end_words(end), 10.0, END_MM.1) * TIGHT;
    piece.ends.iter().map(end).fold(5.7, f64::max)
}

/// What stands beside the boxes of an end.
fn end_words(end: &EndRow) -> String {
    format!("{}, {}", end.into, end.insertion)
}

/// The by-eye clauses ticked at each joint.
fn boxes(worked: &Worked, valve: Option<&Valve>) -> Vec<(String, String)> {
    let told = lines_per_joint(worked.work.standard, valve);
    told.into_iter().map(|(clause, _)| (clause.id.clone(), clause.title.to_lowercase())).collect()
}

impl Listed<'_> {
    /// Every row in the order of assembly.
    fn rows(&self) -> Vec<Row> {
        let cuts = super::worked::slice_at(&self.worked.work.cuts.lines, self.index);
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
        let pieces = cut.map(|cut| cut.pieces.as_slice()).unwrap_or_default();
        let taking_up = pieces.last().filter(|_| limits.is_some());
        let name = |end| seat(work, self.line, end).0;
        let heading = looks(self.line.legs.get(tube.leg).map_or(glam::DVec3::X, |leg| leg.heading));
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

    fn piece_rows(&self, tube: &Tube, pieces: &[crate::material::TubePiece], gives: bool) -> Vec<PieceRow> {
        let work = self.worked.work;
        let coupling = || {
            let fitting = work.catalog.coupling(self.line.reach_of(tube));
            ("coupling".to_string(), fitting.and_then(|fitting| fitting.socket_m))
        };
        let last = pieces.len().saturating_sub(1);
        let row = |(place, piece): (usize, &crate::material::TubePiece)| {
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
            |fitting| super::route::with_size(&fitting.name, &say.angle(bend.angle_deg)),
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
        // The tube beyond is cut as if the two met, too long by whatever the stop keeps between them.
        let silent = self.worked.work.catalog.known_stop_gap_m().is_none();
        let beyond = self.line.tubes.iter().find(|tube| silent && tube.from == End::Stop);
        let gap = beyond.map_or_else(String::new, |tube| {
            format!(" Its inside gap is not known: take it off {}.", tube.mark)
        });
        let spare = |m: f64| if m < 0.0 { format!("{} short", say.length(-m)) } else { say.length(m) };
        BetweenRow {
            mark: "STOP".into(),
            head: format!("Hose path {}.", say.length(path_m)),
            words: format!(
                "Spare: new hose {}, grown {}.{gap}",
                spare(path_m - hose_m),
                spare(path_m - grown_m)
            ),
            tick: TickCell::new(self.note("ticks/stop tried"), "ball or rod tried in the stop".into()),
            tick_words: "rod tried",
        }
    }

    fn junction_row(&self, inline: &Inline) -> Option<BetweenRow> {
        let InlineKind::Junction(joining) = &inline.kind else { return None };
        let say = self.worked.work.say;
        let by = self.worked.work.lines.lines.get(joining.line)?;
        let way = (-by.end_heading).try_normalize().map(looks).unwrap_or_default();
        Some(BetweenRow {
            mark: by.letters.clone(),
            head: format!("{} for {}, branch {way}.", joining.fitting.name, by.belongs_to()),
            words: format!(
                "{} from start; {}.",
                say.length(inline.station_m),
                branch_roll(say, joining.entry.roll_deg)
            ),
            tick: TickCell::new(
                self.note(&format!("ticks/junction {} set", by.letters)),
                format!("junction for {} set as told", by.belongs_to()),
            ),
            tick_words: "set",
        })
    }
}

/// A joint cut open.
fn joint_svg(source: &Source, line: &Line) -> String {
    let Owner::Inlet(i) = line.owner else { return String::new() };
    let drawn = source.pictures.inlets.get(i).and_then(|pictures| pictures.joint.as_deref());
    inlined(drawn, &format!("i{}j-", i + 1))
}

/// How a joint is made: the firm's own lines, then what holds of any cement.
fn joint_words(worked: &Worked) -> Vec<String> {
    let told = lines_per_joint(worked.work.standard, None);
    let mut words: Vec<String> = told.into_iter().map(|(_, line)| sentence(&line.tick)).collect();
    words.extend(super::load::cure_lines(worked.work.say));
    words
}

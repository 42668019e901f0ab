//! The record of a job for other programs: every figure of the pages, SI units in the key names.
#![allow(non_camel_case_types, non_snake_case, reason = "what `keys!` makes has the record's own names")]

use super::Work;
use crate::figures::{Call, Clash, HoseFigures, InletFigures, ReadingKind};
use crate::measure::Say;
use crate::reckon::air::Air;
use crate::remedy::Offer;
use crate::route::{Bend, End, Inline, Joining, Line, Raceway};
use crate::standard::{Finding, Verdict};
use crate::takeoff::TubeCut;
use glam::DVec3;
use serde::Serialize;
use serde_json::ser::{Formatter, Serializer as ToText};
use std::io::{self, Write};
use std::ops::Range;

/// Keys and their values, in that order; nothing is copied before it is written.
macro_rules! keys {
    ({ $($key:ident: $value:expr),* $(,)? }) => {{
        #[derive(Serialize)]
        struct Keys<$($key),*> { $($key: $key),* }
        Keys { $($key: $value),* }
    }};
}

/// One of two shapes.
#[derive(Serialize)]
#[serde(untagged)]
enum Either<A, B> {
    Had(A),
    Wanting(B),
}

/// The whole record; keys are those of `inspect --json` and `packet.json`.
pub fn record<'a>(work: &'a Work) -> impl Serialize + 'a {
    let inlets = 0..work.job.inlets.len();
    keys!({
        job: &work.job.key,
        title: &work.job.title,
        standard: &work.standard.revision,
        verdict: work.verdict(),
        may_be_built: work.findings.may_be_built(),
        inlets: inlets.map(|i| inlet(work, i)).collect::<Vec<_>>(),
        findings: work.findings.job.iter().map(|f| finding(f, None)).collect::<Vec<_>>(),
        trunks: trunks(work),
        clashes: clashes(work),
        material: material(work),
    })
}

/// The record as a file: a line to each of its keys, so that a change of one shows as one, and no more blanks.
pub fn file(record: &impl Serialize) -> Vec<u8> {
    let mut out = Vec::new();
    // Plain keys, lists and numbers always serialise.
    let _ = record.serialize(&mut ToText::with_formatter(&mut out, Lines { deep: 0 }));
    out.push(b'\n');
    out
}

/// Writes the outermost keys a line to each.
struct Lines {
    /// How many braces are open.
    deep: usize,
}

impl Formatter for Lines {
    fn begin_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.deep += 1;
        out.write_all(b"{")
    }

    fn end_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.deep -= 1;
        out.write_all(if self.deep == 0 { b"\n}" } else { b"}" })
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        out.write_all(if first { b"" } else { b"," })?;
        out.write_all(if self.deep == 1 { b"\n  " } else { b"" })
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        out.write_all(if self.deep == 1 { b": " } else { b":" })
    }
}

fn inlet<'a>(work: &'a Work, i: usize) -> impl Serialize + 'a {
    #[derive(Serialize)]
    struct InletRecord<I> {
        #[serde(flatten)]
        inlet: I,
        #[serde(skip_serializing_if = "Option::is_none")]
        misclosure_m: Option<f64>,
    }
    let spec = &work.job.inlets[i];
    let figures = &work.figures.inlets[i];
    let (line, cuts) = (&work.lines.lines[i], &work.cuts.lines[i]);
    let found = &work.findings.inlets[i];
    let told = Told { work, line, cuts };
    let inlet = keys!({
        id: &spec.id,
        name: &spec.name,
        verdict: work.findings.inlet_verdict(i),
        mark: &line.letters,
        raceway: line.raceway.as_ref().map(|part| raceway(part, told)),
        onward: onward(told),
        findings: found.iter().map(|f| finding(f, Some((work, i)))).collect::<Vec<_>>(),
        hose: hose(figures, work.say),
        readings: readings_of(work, i),
        air: air(figures, work.say),
        passage: passage(figures),
        wire: wire(figures, work.say),
    });
    let misclosure_m = line.closure.as_ref().map(|closure| number(closure.misclosure_m()));
    InletRecord { inlet, misclosure_m }
}

/// The part of a line that the hose lies in.
fn raceway<'a>(part: &'a Raceway, told: Told<'a>) -> impl Serialize + 'a {
    let line = told.line;
    keys!({
        centre_m: number(part.stop_m),
        hose_path_m: number(part.hose_path_m),
        bend_total_deg: number(part.bend_total_deg),
        level_deviation_m: number(part.level_deviation_m),
        reversals: part.reversals,
        end: point(part.end),
        bends: bends(line.bends_at_stop().0),
        tubes: told.tubes(0..line.tubes_before_stop()),
    })
}

/// What of a line lies beyond the stop; nothing where the stop ends it.
fn onward(told: Told<'_>) -> Option<impl Serialize + '_> {
    let line = told.line;
    (line.tail != End::Stop).then(|| {
        keys!({
            bends: bends(line.bends_at_stop().1),
            tubes: told.tubes(line.tubes_before_stop()..told.cuts.len()),
            end: point(line.end),
        })
    })
}

fn bends(bends: &[Bend]) -> Vec<impl Serialize + '_> {
    let bend = |bend: &'_ Bend| {
        keys!({
            n: bend.n,
            angle_deg: bend.angle_deg,
            fitting: bend.fitting.as_ref().map(|fitting| fitting.id.clone()),
            at_centre_m: number(bend.at_centre_m),
            point: point(bend.point),
            roll_deg: bend.roll_deg.map(number),
        })
    };
    bends.iter().map(bend).collect()
}

/// A line with its tubes as they are cut.
#[derive(Clone, Copy)]
struct Told<'a> {
    work: &'a Work<'a>,
    line: &'a Line,
    cuts: &'a [TubeCut],
}

impl<'a> Told<'a> {
    /// Some of them; the length of one that nobody can tell is null.
    fn tubes(self, which: Range<usize>) -> Vec<impl Serialize + 'a> {
        let Told { work, line, cuts } = self;
        let all = line.tubes.iter().zip(cuts).take(which.end).skip(which.start).map(|(tube, cut)| {
            let known = line.unmeasured(tube, work.catalog, &work.say).is_none();
            keys!({
                mark: &cut.mark,
                clear_m: known.then(|| number(cut.clear_m)),
                pieces_m: cut.pieces.iter().map(|piece| number(piece.length_m)).collect::<Vec<_>>(),
                problem: &cut.problem,
            })
        });
        all.collect()
    }
}

/// A finding; the last keys stand where there is something to tell.
#[derive(Serialize)]
struct FindingRecord<'a, F, C, W> {
    #[serde(flatten)]
    finding: F,
    #[serde(skip_serializing_if = "Option::is_none")]
    proven_remedies: Option<&'a [Offer]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    remedies_tried: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    mark: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cleared: Option<C>,
    #[serde(skip_serializing_if = "Option::is_none")]
    waiver: Option<W>,
}

fn finding<'a>(finding: &'a Finding, of: Option<(&'a Work, usize)>) -> impl Serialize + 'a {
    let offers = of.and_then(|(work, i)| work.offers_for(i, finding));
    let paper = finding.cleared.as_ref();
    let waiver = finding.waiver.as_ref();
    FindingRecord {
        proven_remedies: offers.map(|offers| offers.offers.as_slice()),
        remedies_tried: offers.map(|offers| offers.tried),
        mark: finding.mark.as_deref(),
        cleared: paper.map(|told| keys!({ paper: &told.paper, by: &told.by, on: told.on.to_string() })),
        waiver: waiver.map(|waiver| keys!({ because: &waiver.because, by: &waiver.by })),
        finding: keys!({
            clause: &finding.clause,
            number: &finding.number,
            level: finding.level,
            verdict: finding.verdict,
            line: finding.place.as_ref().map(|place| place.line),
            measured: finding.measured.map(number),
            limit: finding.limit.map(number),
            unit: finding.quantity,
            bends: &finding.bends,
            note: &finding.note,
            remedy: &finding.remedy,
        }),
    }
}

/// What each reading should show and what passes, in SI; what was read, and whether it passes.
fn readings_of<'a>(work: &'a Work, i: usize) -> Vec<impl Serialize + 'a> {
    let told = work.readings(i).iter().flatten().map(|read| {
        let (name, unit_of) = match read.kind {
            ReadingKind::SealedSuction => ("sealed-suction", "Pa"),
            ReadingKind::Flow => ("flow", "m3/s"),
            ReadingKind::DrawIn => ("draw-in", "N"),
            ReadingKind::PullOut => ("pull-out", "N"),
        };
        keys!({
            reading: name, unit: unit_of, expected: number(read.expected),
            least: read.least.map(number), most: read.most.map(number), taken: read.taken.map(number),
            passes: read.call().map(|call| call == Call::Pass),
        })
    });
    told.collect()
}

fn hose(figures: &InletFigures, say: Say) -> impl Serialize + '_ {
    let sealed_pa = figures.sealed_pa.as_ref().ok().copied().map(number);
    match &figures.hose {
        Ok(hose) => Either::Had(reckoned(hose, sealed_pa)),
        Err(why) => Either::Wanting(keys!({
            reserve: (), draw_in_N: (), available_N: (), pull_out_N: (),
            sealed_suction_Pa: sealed_pa, not_reckoned: why.words(&say),
        })),
    }
}

/// With unknown gaps the figures are those of the pure case with the least reserve, and all three are told.
fn reckoned(hose: &HoseFigures, sealed_pa: Option<f64>) -> impl Serialize + '_ {
    let (draw, spent) = (hose.draw(), hose.draw().worst.spent);
    let of_each = hose.draws.iter().map(
        |draw| keys!({ spent_Pa: draw.worst.spent.by_pa.map(number), reserve: number(draw.worst.reserve()) }),
    );
    keys!({
        reserve: number(draw.worst.reserve()),
        draw_in_suction_Pa: number(draw.worst.needed_pa),
        had_suction_Pa: number(spent.had_pa),
        at_m: number(draw.worst.inserted_m),
        spent_Pa: spent.by_pa.map(number),
        leak_m3_s: number(spent.leak_m3_s),
        friction_it_bears: hose.friction_it_bears().map(number),
        draw_in_N: number(draw.needed_n()),
        available_N: number(draw.available_n()),
        pull_out_N: hose.pull_running.as_ref().ok().map(|_| number(hose.pulls_n().1)),
        pull_out_at_rest_N: number(hose.pull_at_rest.force_n),
        sealed_suction_Pa: sealed_pa,
        wanted: &hose.wanted,
        cases: of_each.collect::<Vec<_>>(),
        assumed: &hose.assumed,
    })
}

fn air(figures: &InletFigures, say: Say) -> impl Serialize + '_ {
    #[derive(Serialize)]
    struct BothWays<A, B> {
        #[serde(flatten)]
        hose_out: A,
        hose_drawn_in: B,
    }
    let solved = |air: &Air, slowest_m_s: Option<f64>| {
        keys!({
            flow_m3_s: number(air.flow_m3_s),
            velocity_m_s: slowest_m_s.map(number),
            suction_at_valve_Pa: number(air.suction_at_valve_pa),
            suction_at_unit_Pa: number(air.suction_at_unit_pa),
            air_power_W: number(air.air_power_w),
        })
    };
    match &figures.air {
        Ok(air) => Either::Had(BothWays {
            hose_out: solved(&air.hose_out, air.slowest_tube_m_s()),
            hose_drawn_in: solved(&air.hose_in, None),
        }),
        Err(why) => Either::Wanting(keys!({
            flow_m3_s: (), velocity_m_s: (), suction_at_valve_Pa: (), suction_at_unit_Pa: (),
            air_power_W: (), not_reckoned: why.words(&say),
        })),
    }
}

fn passage(figures: &InletFigures) -> Vec<impl Serialize + '_> {
    let places = figures.passage.as_deref().unwrap_or_default().iter();
    places.map(|at| keys!({ place: &at.words, longest_m: number(at.longest_m) })).collect()
}

fn wire(figures: &InletFigures, say: Say) -> impl Serialize + '_ {
    match &figures.wire {
        Ok(wire) => Either::Had(keys!({
            length_m: number(wire.length_m),
            drop_V: number(wire.drop_v),
            drop_share: number(wire.drop_share),
        })),
        Err(why) => Either::Wanting(
            keys!({ length_m: (), drop_V: (), drop_share: (), not_reckoned: why.words(&say) }),
        ),
    }
}

fn trunks<'a>(work: &'a Work) -> Vec<impl Serialize + 'a> {
    let laid = work.lines.lines.iter().zip(&work.cuts.lines).enumerate().skip(work.lines.inlets);
    laid.map(|(index, (line, cuts))| {
        let found = work.findings.of(line.owner);
        keys!({
            id: &line.id,
            mark: &line.letters,
            centre_m: number(line.centre_m),
            end: point(line.end),
            misclosure_m: line.closure.as_ref().map(|closure| number(closure.misclosure_m())),
            bends: bends(&line.bends),
            tubes: Told { work, line, cuts }.tubes(0..cuts.len()),
            joins: joinings(work, line),
            verdict: Verdict::worst(found.iter().map(|f| f.verdict)),
            findings: found.iter().map(|f| finding(f, Some((work, index)))).collect::<Vec<_>>(),
        })
    })
    .collect()
}

/// What joins a trunk, and how each branch stands on it.
fn joinings<'a>(work: &'a Work, line: &'a Line) -> Vec<impl Serialize + 'a> {
    let one = |(_, inline, joining): (usize, &'a Inline, &'a Joining)| {
        keys!({
            line: work.lines.lines.get(joining.line).map(|line| &line.letters),
            fitting: &joining.fitting.id,
            at_m: number(inline.station_m),
            turn_deg: number(joining.entry.turn_deg),
            rise_deg: number(joining.entry.rise_deg),
            roll_deg: number(joining.entry.roll_deg),
        })
    };
    line.junctions().map(one).collect()
}

/// Lines too near each other, by their letters.
fn clashes<'a>(work: &'a Work) -> Vec<impl Serialize + 'a> {
    let letters = |line: usize| work.lines.lines.get(line).map(|line| &line.letters);
    let one = |clash: &'a Clash| {
        keys!({
            lines: [letters(clash.lines.0), letters(clash.lines.1)],
            at_m: [number(clash.stations_m.0), number(clash.stations_m.1)],
            point: point(clash.point),
            apart_m: number(clash.apart_m),
            needs_m: number(clash.needs_m),
        })
    };
    work.figures.clashes.iter().map(one).collect()
}

fn material<'a>(work: &'a Work) -> impl Serialize + 'a {
    let items = work.items.iter();
    let items =
        items.map(|item| keys!({ part: &item.part, kind: &item.kind, count: item.count, unit: &item.unit }));
    let items: Vec<_> = items.collect();
    match &work.cuts.plan {
        Ok(cutting) => {
            let of_each = cutting.sticks.iter().map(|stick| {
                let pieces = stick.pieces.iter();
                let pieces =
                    pieces.map(|p| keys!({ mark: &p.mark, owner: &p.owner, length_m: number(p.length_m) }));
                pieces.collect::<Vec<_>>()
            });
            Either::Had(keys!({
                sticks: cutting.sticks.len(),
                sticks_lower_bound: cutting.lower_bound,
                proven: cutting.proven,
                plan: of_each.collect::<Vec<_>>(),
                list: items,
            }))
        }
        Err(why) => Either::Wanting(keys!({
            sticks: (), sticks_lower_bound: (), proven: false, plan: [(); 0], list: items, not_planned: why,
        })),
    }
}

/// A number to a millionth of a millionth, so that the last digits of sums do not differ between machines;
/// infinity is told as null.
fn number(value: f64) -> f64 {
    let rounded = (value * 1e12).round() / 1e12;
    if rounded.is_finite() { rounded + 0.0 } else { value }
}

fn point(p: DVec3) -> [f64; 3] {
    [number(p.x), number(p.y), number(p.z)]
}

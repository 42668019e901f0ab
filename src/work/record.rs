//! The record of a job for other programs: every figure of the pages, SI units in the key names.
use super::Work;
use crate::figures::{Call, Clash, InletFigures, ReadingKind};
use crate::measure::Say;
use crate::route::{Bend, End, Inline, Joining, Line, Raceway};
use crate::standard::{Finding, Verdict};
use crate::takeoff::TubeCut;
use glam::DVec3;
use serde_json::{Value, json};

/// The whole record; keys are those of `inspect --json` and `packet.json`.
pub fn record(work: &Work) -> Value {
    let inlets: Vec<Value> = (0..work.job.inlets.len()).map(|i| inlet(work, i)).collect();
    json!({
        "job": work.job.key,
        "title": work.job.title,
        "standard": work.standard.revision,
        "verdict": work.verdict(),
        "may_be_built": work.findings.may_be_built(),
        "inlets": inlets,
        "findings": work.findings.job.iter().map(|f| finding(f, None)).collect::<Vec<_>>(),
        "trunks": trunks(work),
        "clashes": clashes(work),
        "material": material(work),
    })
}

/// The record as a file: a line to each of its keys, so that a change of one shows as one, and no more blanks.
pub fn file(record: &Value) -> String {
    let Value::Object(keys) = record else { return format!("{record}\n") };
    let lines: Vec<String> =
        keys.iter().map(|(key, value)| format!("  {}: {value}", Value::from(key.as_str()))).collect();
    format!("{{\n{}\n}}\n", lines.join(",\n"))
}

fn inlet(work: &Work, i: usize) -> Value {
    let spec = &work.job.inlets[i];
    let figures = &work.figures.inlets[i];
    let (line, cuts) = (&work.lines.lines[i], &work.cuts.lines[i]);
    let findings: Vec<Value> = work.findings.inlets[i].iter().map(|f| finding(f, Some((work, i)))).collect();
    let mut out = json!({
        "id": spec.id,
        "name": spec.name,
        "verdict": work.findings.inlet_verdict(i),
        "mark": line.letters,
        "raceway": line.raceway.as_ref().map(|part| raceway(part, line, cuts)),
        "onward": onward(line, cuts),
        "findings": findings,
        "hose": hose(figures, work.say),
        "readings": readings_of(work, i),
        "air": air(figures, work.say),
        "passage": passage(figures),
    });
    if let (Some(closure), Some(map)) = (&line.closure, out.as_object_mut()) {
        map.insert("misclosure_m".into(), number(closure.misclosure_m()));
    }
    out
}

/// The part of a line that the hose lies in.
fn raceway(part: &Raceway, line: &Line, cuts: &[TubeCut]) -> Value {
    json!({
        "centre_m": number(part.stop_m),
        "hose_path_m": number(part.hose_path_m),
        "bend_total_deg": number(part.bend_total_deg),
        "level_deviation_m": number(part.level_deviation_m),
        "reversals": part.reversals,
        "end": point(part.end),
        "bends": bends(line.bends_at_stop().0),
        "tubes": tubes(&cuts[..line.tubes_before_stop()]),
    })
}

/// What of a line lies beyond the stop; nothing where the stop ends it.
fn onward(line: &Line, cuts: &[TubeCut]) -> Value {
    if line.tail == End::Stop {
        return Value::Null;
    }
    json!({
        "bends": bends(line.bends_at_stop().1),
        "tubes": tubes(&cuts[line.tubes_before_stop()..]),
        "end": point(line.end),
    })
}

fn bends(bends: &[Bend]) -> Value {
    let bend = |bend: &Bend| {
        json!({
            "n": bend.n,
            "angle_deg": bend.angle_deg,
            "fitting": bend.fitting.as_ref().map(|fitting| &fitting.id),
            "at_centre_m": number(bend.at_centre_m),
            "point": point(bend.point),
            "roll_deg": bend.roll_deg.map(number),
        })
    };
    bends.iter().map(bend).collect()
}

fn tubes(cuts: &[TubeCut]) -> Value {
    let tube = |cut: &TubeCut| {
        let pieces: Vec<Value> = cut.pieces.iter().map(|piece| number(piece.length_m)).collect();
        json!({ "mark": cut.mark, "clear_m": number(cut.clear_m), "pieces_m": pieces, "problem": cut.problem })
    };
    cuts.iter().map(tube).collect()
}

fn finding(finding: &Finding, of: Option<(&Work, usize)>) -> Value {
    let offers = of.and_then(|(work, i)| work.offers_for(i, finding));
    let mut out = json!({
        "clause": finding.clause,
        "number": finding.number,
        "level": finding.level,
        "verdict": finding.verdict,
        "line": finding.place.as_ref().map(|place| place.line),
        "measured": finding.measured.map(number),
        "limit": finding.limit.map(number),
        "unit": finding.quantity,
        "bends": finding.bends,
        "note": finding.note,
        "remedy": finding.remedy,
    });
    if let Some(map) = out.as_object_mut() {
        if let Some(offers) = offers {
            map.insert("proven_remedies".into(), json!(offers.offers));
            map.insert("remedies_tried".into(), json!(offers.tried));
        }
        if let Some(mark) = &finding.mark {
            map.insert("mark".into(), json!(mark));
        }
        if let Some(paper) = &finding.cleared {
            let words = json!({ "paper": paper.paper, "by": paper.by, "on": paper.on.to_string() });
            map.insert("cleared".into(), words);
        }
        if let Some(waiver) = &finding.waiver {
            map.insert("waiver".into(), json!({ "because": waiver.because, "by": waiver.by }));
        }
    }
    out
}

/// What each reading should show and what passes, in SI; what was read, and whether it passes.
fn readings_of(work: &Work, i: usize) -> Value {
    let told = work.readings(i).iter().flatten().map(|reading| {
        let (name, unit) = match reading.kind {
            ReadingKind::SealedSuction => ("sealed-suction", "Pa"),
            ReadingKind::Flow => ("flow", "m3/s"),
            ReadingKind::DrawIn => ("draw-in", "N"),
            ReadingKind::PullOut => ("pull-out", "N"),
        };
        json!({
            "reading": name, "unit": unit, "expected": number(reading.expected),
            "least": reading.least.map(number), "most": reading.most.map(number), "taken": reading.taken.map(number),
            "passes": reading.call().map(|call| call == Call::Pass),
        })
    });
    told.collect()
}

/// With unknown gaps the figures are those of the pure case with the least reserve, and all three are told.
fn hose(figures: &InletFigures, say: Say) -> Value {
    let sealed = figures.sealed_pa.as_ref().ok().copied().map_or(Value::Null, number);
    let hose = match &figures.hose {
        Ok(hose) => hose,
        Err(why) => {
            return json!({
                "reserve": null, "draw_in_N": null, "available_N": null, "pull_out_N": null,
                "sealed_suction_Pa": sealed, "not_reckoned": why.words(&say),
            });
        }
    };
    let (draw, spent) = (hose.draw(), hose.draw().worst.spent);
    let bears = draw.setting.friction_for(1.0).map_or(Value::Null, number);
    let cases: Vec<Value> = hose
        .draws
        .iter()
        .map(|draw| json!({ "spent_Pa": draw.worst.spent.by_pa.map(number), "reserve": number(draw.worst.reserve()) }))
        .collect();
    json!({
        "reserve": number(draw.worst.reserve()),
        "draw_in_suction_Pa": number(draw.worst.needed_pa),
        "had_suction_Pa": number(spent.had_pa),
        "at_m": number(draw.worst.inserted_m),
        "spent_Pa": spent.by_pa.map(number),
        "leak_m3_s": number(spent.leak_m3_s),
        "friction_it_bears": bears,
        "draw_in_N": number(draw.needed_n()),
        "available_N": number(draw.available_n()),
        "pull_out_N": hose.pull_running.as_ref().map_or(Value::Null, |_| number(hose.pulls_n().1)),
        "pull_out_at_rest_N": number(hose.pull_at_rest.force_n),
        "sealed_suction_Pa": sealed,
        "wanted": hose.wanted,
        "cases": cases,
        "assumed": hose.assumed,
    })
}

fn air(figures: &InletFigures, say: Say) -> Value {
    let solved = |air: &crate::reckon::air::Air, slowest: Option<f64>| {
        json!({
            "flow_m3_s": number(air.flow_m3_s),
            "velocity_m_s": slowest.map(number),
            "suction_at_valve_Pa": number(air.suction_at_valve_pa),
            "suction_at_unit_Pa": number(air.suction_at_unit_pa),
            "air_power_W": number(air.air_power_w),
        })
    };
    match &figures.air {
        Ok(air) => {
            let mut out = solved(&air.hose_out, air.slowest_tube_m_s());
            if let Some(map) = out.as_object_mut() {
                map.insert("hose_drawn_in".into(), solved(&air.hose_in, None));
            }
            out
        }
        Err(why) => json!({
            "flow_m3_s": null, "velocity_m_s": null, "suction_at_valve_Pa": null, "suction_at_unit_Pa": null,
            "air_power_W": null, "not_reckoned": why.words(&say),
        }),
    }
}

fn passage(figures: &InletFigures) -> Value {
    let places = figures.passage.as_deref().unwrap_or_default();
    places.iter().map(|place| json!({ "place": place.words, "longest_m": number(place.longest_m) })).collect()
}

fn trunks(work: &Work) -> Value {
    let laid = work.lines.lines.iter().zip(&work.cuts.lines).enumerate().skip(work.lines.inlets);
    laid.map(|(index, (line, cuts))| {
        json!({
            "id": line.id,
            "mark": line.letters,
            "centre_m": number(line.centre_m),
            "end": point(line.end),
            "misclosure_m": line.closure.as_ref().map(|closure| number(closure.misclosure_m())),
            "bends": bends(&line.bends),
            "tubes": tubes(cuts),
            "joins": joinings(work, line),
            "verdict": Verdict::worst(work.findings.of(line.owner).iter().map(|f| f.verdict)),
            "findings": work.findings.of(line.owner).iter().map(|f| finding(f, Some((work, index)))).collect::<Vec<_>>(),
        })
    })
    .collect()
}

/// What joins a trunk, and how each branch stands on it.
fn joinings(work: &Work, line: &Line) -> Value {
    let one = |(_, inline, joining): (usize, &Inline, &Joining)| {
        json!({
            "line": work.lines.lines.get(joining.line).map(|line| &line.letters),
            "fitting": joining.fitting.id,
            "at_m": number(inline.station_m),
            "turn_deg": number(joining.entry.turn_deg),
            "rise_deg": number(joining.entry.rise_deg),
            "roll_deg": number(joining.entry.roll_deg),
        })
    };
    line.junctions().map(one).collect()
}

/// Lines too near each other, by their letters.
fn clashes(work: &Work) -> Value {
    let letters = |line: usize| work.lines.lines.get(line).map(|line| &line.letters);
    let one = |clash: &Clash| {
        json!({
            "lines": [letters(clash.lines.0), letters(clash.lines.1)],
            "at_m": [number(clash.stations_m.0), number(clash.stations_m.1)],
            "point": point(clash.point),
            "apart_m": number(clash.apart_m),
            "needs_m": number(clash.needs_m),
        })
    };
    work.figures.clashes.iter().map(one).collect()
}

fn material(work: &Work) -> Value {
    let list: Vec<Value> = work
        .items
        .iter()
        .map(|item| json!({ "part": item.part, "kind": item.kind, "count": item.count, "unit": item.unit }))
        .collect();
    match &work.cuts.plan {
        Ok(plan) => {
            let sticks: Vec<Value> = plan
                .sticks
                .iter()
                .map(|stick| {
                    let pieces = stick.pieces.iter();
                    pieces
                        .map(|p| json!({ "mark": p.mark, "owner": p.owner, "length_m": number(p.length_m) }))
                        .collect()
                })
                .collect();
            json!({
                "sticks": plan.sticks.len(),
                "sticks_lower_bound": plan.lower_bound,
                "proven": plan.proven,
                "plan": sticks,
                "list": list,
            })
        }
        Err(why) => json!({
            "sticks": null, "sticks_lower_bound": null, "proven": false, "plan": [], "list": list, "not_planned": why,
        }),
    }
}

/// A number to a millionth of a millionth, so that the last digits of sums do not differ between machines;
/// infinity is told as null.
fn number(value: f64) -> Value {
    let rounded = (value * 1e12).round() / 1e12;
    serde_json::Number::from_f64(if rounded.is_finite() { rounded + 0.0 } else { value })
        .map_or(Value::Null, Value::Number)
}

fn point(p: DVec3) -> Value {
    json!([number(p.x), number(p.y), number(p.z)])
}

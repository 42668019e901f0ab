//! `bores`: what a line is bored through keeps its strength.
use crate::company::Member;
use crate::figures::{CrossingFigure, Missing, Silence, silences};
use crate::measure::{Bound, INCH_M, Lengths};
use crate::reckon::bores::{Outcome as Ruled, Remedy, Ruling, Unit};
use crate::standard::{AskLine, Check, Clause, Limit, Mend, Need, Outcome, Pictured, Quantity, Seen, Spot};

pub static CLAUSE: Clause = Clause {
    id: "bores",
    title: "Bores",
    measures: "\
Every crossing that the job lists, on any line, is held against the International Residential Code: studs by R602.6 (a hole of at \
most 60 % of the width; over 40 % in a bearing wall the stud doubled; 5/8 in left at the edge), plates by R602.6.1 \
(over half the width of a bearing wall's top plate a steel tie), joists and rafters by R502.8.1 and R802.7.1 (a third \
of the depth, 2 in from either edge), and all by P2603.2.1 (shield plates where the hole comes within 1-1/4 in of an \
edge). Each crossing has a finding of its own. Shield plates, ties and fireblocking are named as work to be done.

A line whose riser says nothing, and a run that passes a level with no member named near it, puts the clause on hold: \
`crosses: none` says that somebody looked.

**Never a pass.** Engineered lumber, trusses, steel and masonry: the maker's or the engineer's word only.

**Example.** A hole of 2-1/8 in is 60.7 % of a 2x4 and breaks R602.6 by a fortieth of an inch.

**Remedy.** A wider member, a smaller bore, the bore moved to the middle, the stud doubled.

**Source.** International Residential Code 2018, sections as named; editions and places differ. The local code and \
the authority having jurisdiction decide.",
    bound: Bound::AtMost,
    limit: Limit::ByCase,
    quantity: Quantity::Length,
    needs: &[Need::Crossings],
    mends: &[Mend::BetterBore],
    waivable: false,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: down
path:
  - run: 2 ft 10 in
    crosses: [{at: 1 ft 5 in, member: bottom-plate, size: 2x6, bearing: true, hole: 2-1/8 in}]
  - turn: 90 east
  - run: 10 ft
    crosses: [{at: 5 ft, member: joist, size: 2x10, hole: 2-1/8 in}]
",
        wrong: "\
leaves: down
path:
  - run: 2 ft 10 in
    crosses: [{at: 1 ft 5 in, member: bottom-plate, size: 2x6, bearing: true, hole: 2-1/8 in}]
  - turn: 90 east
  - run: 10 ft
    crosses: [{at: 5 ft, member: joist, size: 2x6, hole: 2-1/8 in}]
",
    }),
    check: Check::Line(check),
};

fn check(ask: &AskLine) -> Vec<Outcome> {
    let silent = silences(ask.spec, ask.line, &ask.job.levels);
    let crossings = &ask.figures.crossings;
    if silent.is_empty() && crossings.is_empty() {
        return vec![Outcome::met(None, None, "the line is bored through nothing, as the job says".into())];
    }
    let bored = crossings.iter().map(|figure| one(ask, figure).marked(figure.mark.clone()));
    silent.iter().map(said_nothing).chain(bored).collect()
}

/// A stretch of which the job does not say what it is bored through.
fn said_nothing(silence: &Silence) -> Outcome {
    let note = match &silence.level {
        Some(level) => {
            format!("run on leg {} passes {level}, and the job names no bore there", silence.leg + 1)
        }
        None => "the job does not say what the riser is bored through".to_owned(),
    };
    let clears = match &silence.level {
        Some(_) => "add the plate, joist or slab there under `crosses:` of that run",
        None => "list `crosses:` on its runs, or write `crosses: none` where there is nothing",
    };
    Outcome::open(note, clears.into()).at(vec![Spot::Leg(silence.leg)])
}

fn one(ask: &AskLine, figure: &CrossingFigure) -> Outcome {
    let place =
        format!("{} at {} on leg {}", figure.member_words(), ask.say.length(figure.at_m), figure.leg + 1);
    let spots = vec![Spot::Station(figure.station_m)];
    let rulings = match &figure.rulings {
        Ok(rulings) => rulings,
        Err(why) => {
            let clears = match why {
                Missing::Range(_) => "correct the crossing's `size:` or `depth:`, `hole:` or `from-edge:`",
                _ => "fill in the member's `size:` or `depth:` and its `hole:`",
            };
            return Outcome::open(format!("{place}: {}", why.words(&ask.say)), clears.into()).at(spots);
        }
    };
    let Some(gravest) = rulings.iter().max_by_key(|ruling| ruling.outcome) else {
        return Outcome::no_subject(&format!("{place}: no rule applies"));
    };
    let extra = extras(figure);
    match gravest.outcome {
        Ruled::MakersWord => {
            let note =
                format!("{place}: the maker's or an engineer's word only ({}){extra}", gravest.section);
            Outcome::asked(note, paper(figure.crossing.member).to_owned()).at(spots)
        }
        Ruled::Broken | Ruled::NeedsDoubling => {
            let note = format!("{place}: {}; the local code decides{extra}", said(ask, gravest));
            let remedy =
                remedies(ask, rulings).unwrap_or_else(|| "ask the authority having jurisdiction".to_owned());
            let (measured, limit) = lengths(figure, gravest);
            Outcome::broken(measured, limit, spots, note, remedy)
        }
        Ruled::Ok | Ruled::NeedsShield | Ruled::NeedsTie => {
            let work = remedies(ask, rulings).map(|work| format!("; {work}")).unwrap_or_default();
            let (measured, limit) = lengths(figure, gravest);
            let note = format!("{place}: {}{work}; the local code decides{extra}", said(ask, gravest));
            Outcome::met(measured, limit, note)
        }
    }
}

/// Which paper is wanted from whom before a member is bored that no table judges.
fn paper(member: Member) -> &'static str {
    match member {
        Member::Engineered => "get the maker's hole chart, or a registered design professional's letter",
        Member::Truss => "get the truss designer's sealed letter; a truss is not cut or bored without it",
        Member::Steel => "get the steel framing maker's punch-out limits, or an engineer's letter",
        Member::Masonry => "get a structural engineer's letter for the hole",
        Member::Stud | Member::Joist | Member::Rafter | Member::TopPlate | Member::BottomPlate => {
            "ask the authority having jurisdiction"
        }
    }
}

/// What else the place asks for.
fn extras(figure: &CrossingFigure) -> String {
    let fire = figure.crossing.floor_line.then_some("; fireblock the gap round the tube (R302.11)");
    let garage = figure.crossing.garage_wall.then_some(
        "; the garage separation must be kept (R302.5.2): No. 26 gage sheet steel or other approved material, no openings into the garage",
    );
    let apart = match figure.crossing.member {
        Member::Joist | Member::Rafter => "; keep 2 in clear of any other hole or notch (R502.8.1)",
        Member::Stud => "; no cut or notch in the same section (R602.6)",
        _ => "",
    };
    format!("{apart}{}{}", fire.unwrap_or_default(), garage.unwrap_or_default())
}

/// A ruling in words, with both numbers.
fn said(ask: &AskLine, ruling: &Ruling) -> String {
    let number = |value: f64| match ruling.unit {
        Unit::Metres => ask.say.length(value),
        Unit::Share => format!("{:.1} %", value * 100.0),
    };
    let what = ruling.what.replacen("{}", &number(ruling.measured), 1);
    let limit = number(ruling.limit);
    match (ruling.bound.keeps(ruling.measured, ruling.limit), ruling.bound) {
        (true, bound) => format!("{what}, {} {limit} by {}", bound.words(), ruling.section),
        (false, Bound::AtLeast) => format!("{what}, under the {limit} of {}", ruling.section),
        (false, Bound::AtMost) => format!("{what}, over the {limit} of {}", ruling.section),
    }
}

/// Shares as lengths of the member, so that measured and limit carry one unit.
fn lengths(figure: &CrossingFigure, ruling: &Ruling) -> (Option<f64>, Option<f64>) {
    match (ruling.unit, figure.crossing.depth_m) {
        (Unit::Metres, _) => (Some(ruling.measured), Some(ruling.limit)),
        (Unit::Share, Some(width_m)) => (Some(ruling.measured * width_m), Some(ruling.limit * width_m)),
        (Unit::Share, None) => (None, None),
    }
}

/// The remedies of all rulings, gravest first.
fn remedies(ask: &AskLine, rulings: &[Ruling]) -> Option<String> {
    let mut ordered: Vec<&Ruling> = rulings.iter().filter(|ruling| ruling.outcome != Ruled::Ok).collect();
    ordered.sort_by_key(|ruling| std::cmp::Reverse(ruling.outcome));
    let words: Vec<String> =
        ordered.iter().filter_map(|ruling| Some(words(ask, ruling.remedy.as_ref()?))).collect();
    (!words.is_empty()).then(|| words.join("; "))
}

/// A remedy in words; its lengths are rounded to the side that keeps the rule, for a crew bores by them.
fn words(ask: &AskLine, remedy: &Remedy) -> String {
    let say = |m: f64| ask.say.length(m);
    let (at_least, at_most) = (|m: f64| ask.say.length_up(m), |m: f64| ask.say.length_down(m));
    match *remedy {
        Remedy::SmallerHole { largest_hole_m, least_width_m } if largest_hole_m <= 0.0 => {
            format!("go another way, or through a member at least {} wide", at_least(least_width_m))
        }
        Remedy::SmallerHole { largest_hole_m, least_width_m } => {
            format!(
                "bore no more than {}, or through a member at least {} wide",
                at_most(largest_hole_m),
                at_least(least_width_m)
            )
        }
        Remedy::MoveInward { least_edge_m, centre_from_m, centre_to_m } => format!(
            "leave {} of wood at each edge: center the hole {} to {} from the edge",
            at_least(least_edge_m),
            at_least(centre_from_m),
            at_most(centre_to_m)
        ),
        Remedy::DoubleStud { most_in_a_row } => {
            format!("double the stud, and bore no more than {most_in_a_row} doubled studs in a row")
        }
        Remedy::Tie { thickness_m, width_m, past_opening_m, nails_each_side } => format!(
            "tie the plate across the hole with galvanized steel, {} thick, {} wide, {} past it on each side, with {nails_each_side} 10d nails 1-1/2 in long on each side, or as the edition in force says",
            sheet(ask, thickness_m),
            say(width_m),
            say(past_opening_m)
        ),
        Remedy::Shield { thickness_m, beyond_plate_m, both_faces } => format!(
            "shield plates {} {} thick, {} past the plates",
            if both_faces { "on both faces," } else { "on the near face," },
            sheet(ask, thickness_m),
            say(beyond_plate_m)
        ),
        Remedy::AskMaker => "get the maker's or an engineer's word in writing".to_owned(),
    }
}

/// The thickness of sheet steel, finer than a tape: ten-thousandths of an inch, or hundredths of a millimetre.
fn sheet(ask: &AskLine, thickness_m: f64) -> String {
    match ask.say.lengths {
        Lengths::FtIn => format!("{:.4} in", thickness_m / INCH_M),
        Lengths::Metric => format!("{:.2} mm", thickness_m * 1000.0),
    }
}

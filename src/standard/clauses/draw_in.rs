//! `draw-in`: suction draws the hose in with something to spare.
use crate::figures::{Draw, HoseFigures};
use crate::measure::{Bound, Kind};
use crate::reckon::hose::Spending;
use crate::standard::{
    AskFigures, AskKept, Check, Clause, Limit, Mend, Need, Outcome, Parameter, Pictured, Quantity, Seen, Spot,
};

pub static CLAUSE: Clause = Clause {
    id: "draw-in",
    title: "Draw-in",
    measures: "\
With the handle covered, air still leaks in past the hose, and the suction is spent on the way: some in the ring of \
the valve, some along the hose, some round its tail. What is spent in the valve pushes the hose in, what is spent along \
it draws on every foot, what is spent round the tail pulls at the end and is multiplied by each bend. The program works \
the leak out from the catalog's gaps (valve `opening`, hose `tail`, the tube's bore) and the unit's curve, less what the \
other valves leak and what the empty line takes. Then it walks the hose along the true route, up, down and round every \
bend, at every length drawn in from the first touch to the whole hose, and finds the suction that just moves it. \
Suction had over suction needed is the *reserve*, the least of the travel; a reserve equal to the limit passes.

Where the catalog lacks `opening` or `tail`, the three pure cases are reckoned: all of the suction spent in the valve, \
all along, all round the tail. All three met, it passes; all three broken, it is broken; else it cannot be judged until \
the gap is measured.

**Example.** A 40 ft socked hose in 48 ft of raceway, 130 in of water, which is 11.3 lbf on the hose. Sealed at the \
valve and going down, four quarter bends need 8.9 lbf, 1.28 x, and five 11.6 lbf, 0.97 x. With a close tail in an attic, \
two quarter bends already need 9.9 lbf, 1.14 x. With the air free to leak along the hose, five need 3.0 lbf going down and \
5.9 going up. So the limit of four quarter bends is borne out where the air is sealed off, and no further.

**Remedy.** Fewer degrees, a bare hose in place of a socked one, a shorter hose; a slimmer tail or a wider opening in the \
valve where the tail takes most of the suction; the raceway in the basement in place of the attic, so that the riser helps.

**Source.** Effective tension, C. P. Sparks 1984; soft string, Johancsik, Friesen and Dawson 1984; orifice and narrow \
ring as in every handbook: all three from memory. Left out: the hose's stiffness and set, which the reserve is for. \
Friction of a sock on tube is not published: the catalog's figure should be the firm's own measurement.",
    bound: Bound::AtLeast,
    limit: Limit::Set(Parameter { key: "reserve", default: Some(1.25), kind: Kind::Plain }),
    quantity: Quantity::Ratio,
    needs: &[Need::Hose, Need::HoseFriction],
    mends: &[Mend::LesserAngles, Mend::EarlierStop, Mend::OtherHose],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Travel,
        right: "\
leaves: down
hose: HOSE
valve: VALVE
path: [{run: 3 ft}, {turn: 90 west}, {run: 24 ft}, {turn: 90 south}, {run: 30 ft}]
",
        wrong: "\
leaves: up
hose: HOSE
valve: VALVE
path: [{run: 30 ft}, {turn: 90 west}, {run: 9 ft}, {turn: 90 south}, {run: 9 ft}, {turn: 90 west}, {run: 9 ft}]
",
    }),
    check: Check::Figures(check, kept),
};

/// The reserve is surely as much as required, or no less than it was found.
fn kept(ask: &AskKept) -> Option<bool> {
    let kept = ask.change.keeps_reserve(|reserve| ask.bound.keeps(reserve, ask.limit), ask.limit);
    kept.then_some(true)
}

fn check(ask: &AskFigures) -> Vec<Outcome> {
    let hose = match &ask.figures.hose {
        Ok(hose) => hose,
        Err(why) => return vec![Outcome::unreckoned(&why.words(&ask.say))],
    };
    let outcome = if hose.wanted.is_empty() { known(ask, hose.draw()) } else { pure(ask, hose) };
    vec![Outcome { note: with_assumed(with_lock_up(ask, outcome.note.clone(), hose), hose), ..outcome }]
}

/// The suction's place is known.
fn known(ask: &AskFigures, draw: &Draw) -> Outcome {
    let (limit, reserve) = (ask.limit, draw.worst.reserve());
    let note = format!("{}; {} x required", gives(ask, draw), required(ask, reserve));
    if ask.keeps(reserve) {
        Outcome::met(told(reserve), limit, note)
    } else {
        broken(ask, draw, reserve, note)
    }
}

/// It is not, and all three pure cases must agree.
fn pure(ask: &AskFigures, hose: &HoseFigures) -> Outcome {
    let (limit, (least, most), draw) = (ask.limit, hose.reserves(), hose.draw());
    if ask.keeps(least) {
        let note = format!(
            "{}, at the least of the three ways it can be spent; {} x required",
            gives(ask, draw),
            required(ask, least)
        );
        return Outcome::met(told(least), limit, note);
    }
    if !ask.keeps(most) {
        let (most_words, limit_words) = ask.beside(Kind::Plain, most);
        let note = format!(
            "{} to {most_words} x the need, wherever the suction is spent; {limit_words} x required",
            ask.beside(Kind::Plain, least).0
        );
        return broken(ask, draw, most, note);
    }
    let all = hose.draws.iter().map(|draw| match draw.worst.reserve() {
        reserve if reserve.is_finite() => {
            format!("{} x {}", times(ask, reserve), place(draw.setting.spending()))
        }
        _ => format!("none is needed {}", place(draw.setting.spending())),
    });
    let note = format!(
        "the reserve depends on where the suction is spent: {}; {} x required",
        all.collect::<Vec<_>>().join(", "),
        required(ask, most)
    );
    Outcome::open(note, wanting(ask, hose))
}

/// `suction gives 11.3 lbf, 1.33 x the need of 8.5 lbf (worst with 30 ft 2 in drawn in)`.
fn gives(ask: &AskFigures, draw: &Draw) -> String {
    let reserve = draw.worst.reserve();
    let has = ask.say.force(draw.available_n());
    if reserve.is_infinite() {
        return format!("suction gives {has}, and the hose slides in by its own weight");
    }
    let need = ask.say.force(draw.needed_n());
    let at = match draw.worst.inserted_m {
        at_m if at_m <= 0.0 => "at the very start".to_owned(),
        at_m => format!("with {} drawn in", ask.say.length(at_m)),
    };
    format!("suction gives {has}, {} x the need of {need} (worst {at})", times(ask, reserve))
}

/// A reserve beside the one that is required.
fn times(ask: &AskFigures, reserve: f64) -> String {
    ask.beside(Kind::Plain, reserve).0
}

/// The reserve required, beside that one.
fn required(ask: &AskFigures, reserve: f64) -> String {
    ask.beside(Kind::Plain, reserve).1
}

fn broken(ask: &AskFigures, draw: &Draw, reserve: f64, note: String) -> Outcome {
    let [valve, along, tail] = draw.worst.spent.by_pa;
    let gap = match draw.setting.spending() {
        Spending::Leak(_) if tail > valve.max(along) => ", or a slimmer tail or a wider valve opening",
        Spending::Leak(_) if valve > along.max(tail) => ", or a wider valve opening",
        _ => "",
    };
    let down_to = ask.say.limit(Kind::Force, Bound::AtMost, draw.available_n() / ask.limit);
    let remedy =
        format!("bring the need down to {down_to}: fewer degrees of bend, a bare hose, a shorter one{gap}");
    Outcome::broken(told(reserve), ask.limit, vec![Spot::Whole], note, remedy)
}

/// A reserve without end is none that can be told.
fn told(reserve: f64) -> Option<f64> {
    reserve.is_finite().then_some(reserve)
}

fn place(spending: Spending) -> &'static str {
    match spending {
        Spending::AllAtValve => "all in the valve",
        Spending::AllAlong => "all along the hose",
        Spending::AllAtTail => "all round the tail",
        Spending::Leak(_) => "by the gaps",
    }
}

/// Which keys are wanted, and of which parts.
pub(super) fn wanting(ask: &AskFigures, hose: &HoseFigures) -> String {
    let keys = hose.wanted.iter().map(|key| match *key {
        "tail" => format!("`tail:` of hose {}", ask.inlet.hose.id),
        key => format!("`{key}:` of valve {}", ask.inlet.valve.id),
    });
    format!("measure and give {} in the catalog", keys.collect::<Vec<_>>().join(" and "))
}

/// A pushed hose may lock itself up; the limit is from memory and for straight tube, so it warns and does not judge.
fn with_lock_up(ask: &AskFigures, note: String, hose: &HoseFigures) -> String {
    match hose.lock_up.filter(|lock_up| lock_up.push_n > lock_up.limit_n) {
        Some(lock_up) => format!(
            "{note}; pushed with {} it may snake in the tube, which it bears up to {}",
            ask.say.force(lock_up.push_n),
            ask.say.force(lock_up.limit_n)
        ),
        None => note,
    }
}

/// A figure that rests on an unknown says so.
pub(super) fn with_assumed(note: String, hose: &HoseFigures) -> String {
    hose.assumed.iter().fold(note, |note, assumed| format!("{note}; {assumed}"))
}

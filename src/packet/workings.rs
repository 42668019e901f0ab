//! How each figure of an inlet was worked out: the formula, this job's numbers in it, the source.
use super::worked::Working;
use crate::figures::{PassageFigure, SLACK, TAIL_M};
use crate::lesson::Formula;
use crate::measure::{CFM_M3_S, INCH_M, INCH_WATER_PA, Lengths, Say};
use crate::reckon::air::conditions::STANDARD_DENSITY;
use crate::work::Work;

/// Names that a figure and its working share, so that one leads to the other.
pub const HOSE_PATH: &str = "Hose path";
pub const DRAW_IN: &str = "Draw-in, at its worst";
pub const PULL_OUT: &str = "Pull-out, at its worst";
pub const SEALED: &str = "Sealed suction at the valve";
pub const SPENT: &str = "Where the suction is spent";
pub const BEARS: &str = "Friction the hose can bear";
pub const AIRFLOW: &str = "Airflow, hose out";
pub const AT_VALVE: &str = "Suction at the valve, hose out";
pub const AIR_POWER: &str = "Air power";
pub const SLOWEST: &str = "Slowest air in any tube";
pub const WIRE_LENGTH: &str = "Control wire";
pub const WIRE_DROP: &str = "Voltage lost in the control wire";
pub const PASSAGE: &str = "Longest rigid object that gets through";

/// The workings of an inlet, in the order of its figures.
pub fn workings(work: &Work, inlet: usize) -> Vec<Working> {
    let all = [
        hose_path(work, inlet),
        draw_in(work, inlet),
        spent(work, inlet),
        pull_out(work, inlet),
        sealed(work, inlet),
        air(work, inlet),
        at_valve(work, inlet),
        air_power(work, inlet),
        slowest(work, inlet),
        wire_length(work, inlet),
        wire(work, inlet),
        passage(work, inlet),
    ];
    all.into_iter().flatten().collect()
}

fn working(
    name: &str,
    result: String,
    formula: &'static Formula,
    with_numbers: String,
    source: &str,
) -> Working {
    Working {
        name: name.into(),
        result_words: result,
        mathml: formula.mathml(),
        with_numbers,
        source: source.into(),
    }
}

fn hose_path(work: &Work, inlet: usize) -> Option<Working> {
    static FORMULA: Formula =
        Formula::of(r"L = \sum \ell_i - \sum \left( 2 R \tan \frac{\theta}{2} - R\,\theta \right)");
    let (say, line) = (work.say, work.lines.of_inlet(inlet)?);
    let raceway = line.raceway.as_ref()?;
    let (hose_bends, _) = line.bends_at_stop();
    let bends: Vec<String> = hose_bends
        .iter()
        .filter(|bend| bend.radius_m > 0.0)
        .map(|bend| {
            let less_m = 2.0 * bend.tangent_m - bend.arc_m;
            format!(
                "B{}: R {}, {}, takes {}",
                bend.n,
                say.length(bend.radius_m),
                say.angle(bend.angle_deg),
                say.length(less_m)
            )
        })
        .collect();
    let less = if bends.is_empty() { "no bends".to_owned() } else { bends.join("; ") };
    Some(working(
        HOSE_PATH,
        say.length(raceway.hose_path_m),
        &FORMULA,
        format!("runs {} in all; {less}", say.length(raceway.stop_m)),
        "Plane geometry of an arc between two tangents",
    ))
}

static BALANCE: Formula = Formula::of(
    r"\frac{dN}{ds} = \mu \left| N\,k\,\mathbf{n} + W\,\mathbf{g}_\perp \right| + W\,t_z - \frac{A\,\Delta p_2}{x}
N(0) = \mu_f W (L - x) - A\,\Delta p_1, \qquad N(x) = A_t\,\Delta p_3",
);
const BALANCE_SOURCE: &str = "Effective tension (C. P. Sparks, 1984) of a soft string (Johancsik, Friesen and Dawson, 1984), both from memory; \
     walked along the true route over the whole travel";

fn draw_in(work: &Work, inlet: usize) -> Option<Working> {
    let (hose, draw) = (&work.job.inlets[inlet].hose, work.figures.inlets[inlet].hose.as_ref().ok()?.draw());
    let (say, friction, worst) = (work.say, hose.friction?, &draw.worst);
    let numbers = format!(
        "W {}, friction {:.2} in the tube and {:.2} on the floor, hose {} outside; {} of bend; worst with {} drawn in: \
         {} needed where {} is had",
        say.weight(hose.weight_n_per_m),
        friction.drawn_in,
        friction.floor,
        fine_length(say, hose.outside_m),
        say.angle(work.lines.raceway(inlet)?.bend_total_deg),
        say.length(worst.inserted_m),
        fine_pressure(say, worst.needed_pa),
        fine_pressure(say, worst.spent.had_pa),
    );
    Some(working(DRAW_IN, say.force(draw.needed_n()), &BALANCE, numbers, BALANCE_SOURCE))
}

fn spent(work: &Work, inlet: usize) -> Option<Working> {
    static FORMULA: Formula = Formula::of(
        r"p_1^2 - p_2^2 = \left( \frac{m}{C_d\,a} \right)^2 R\,T
p_1^2 - p_2^2 = G^2 R\,T\,\frac{f\,x}{D - d}",
    );
    let (spec, draw) = (&work.job.inlets[inlet], work.figures.inlets[inlet].hose.as_ref().ok()?.draw());
    let (say, spent) = (work.say, &draw.worst.spent);
    let fine = |m: Option<f64>| m.map(|m| fine_length(say, m));
    let numbers = format!(
        "hose {} in an opening of {}, tube {} in the bore, tail {}; {} leaks in; {} in the valve, {} along the hose, {} round \
         the tail",
        fine_length(say, spec.hose.outside_m),
        fine(spec.valve.opening_m)?,
        fine_length(say, work.catalog.tube.bore_m),
        fine(spec.hose.tail_m)?,
        say.flow(spent.leak_m3_s),
        fine_pressure(say, spent.by_pa[0]),
        fine_pressure(say, spent.by_pa[1]),
        fine_pressure(say, spent.by_pa[2]),
    );
    Some(working(
        SPENT,
        fine_pressure(say, spent.had_pa),
        &FORMULA,
        numbers,
        "Sharp rings with a discharge coefficient of 0.62 (from memory), a narrow ring along the hose, the unit's curve",
    ))
}

fn pull_out(work: &Work, inlet: usize) -> Option<Working> {
    let (hose, figures) = (&work.job.inlets[inlet].hose, work.figures.inlets[inlet].hose.as_ref().ok()?);
    let running = match &figures.pull_running {
        Ok(running) if !running.is_empty() => "; with the unit running, the suction in the open hose added",
        _ => "",
    };
    let numbers = format!(
        "W {}, friction {:.2}; from the tail to the valve; {} at rest with {} in the raceway{running}",
        work.say.weight(hose.weight_n_per_m),
        hose.friction?.drawn_out,
        work.say.force(figures.pull_at_rest.force_n),
        work.say.length(figures.pull_at_rest.inserted_m)
    );
    Some(working(PULL_OUT, work.say.force(figures.pulls_n().1), &BALANCE, numbers, BALANCE_SOURCE))
}

fn sealed(work: &Work, inlet: usize) -> Option<Working> {
    static FORMULA: Formula =
        Formula::of(r"p = p_{\mathrm{unit}} \left( q \right), \qquad q = \sum q_i \sqrt{\frac{p}{p_i}}");
    let sealed_pa = *work.figures.inlets[inlet].sealed_pa.as_ref().ok()?;
    let (say, unit) = (work.say, &work.job.unit.model);
    let tight_pa = unit.curve.first()?.1;
    let others = work.job.inlets.len() - 1;
    let leaks = match others {
        0 => "no other valve leaks".to_string(),
        1 => "1 other valve leaks".to_string(),
        n => format!("{n} other valves leak"),
    };
    let numbers = format!(
        "{} gives {} with nothing flowing; {leaks}; at {} the unit gives just what leaks",
        unit.name,
        say.pressure(tight_pa),
        say.pressure(sealed_pa)
    );
    Some(working(
        SEALED,
        say.pressure(sealed_pa),
        &FORMULA,
        numbers,
        "The unit's curve as the catalog gives it; leaks as through an orifice",
    ))
}

fn at_valve(work: &Work, inlet: usize) -> Option<Working> {
    static FORMULA: Formula = Formula::of(r"p_v = \sum_{\mathrm{nozzle},\,\mathrm{hose}} \Delta p_i");
    let air = &work.figures.inlets[inlet].air.as_ref().ok()?.hose_out;
    let say = work.say;
    let mut sum_pa = 0.0;
    let before = air.parts.iter().take_while(|part| {
        let first = sum_pa < air.suction_at_valve_pa * (1.0 - 1e-9);
        sum_pa += part.loss_pa;
        first
    });
    let each: Vec<String> =
        before.map(|part| format!("{} {}", part.name, fine_pressure(say, part.loss_pa))).collect();
    let numbers = format!("what is lost before the raceway: {}", each.join(", "));
    let source = "The losses of the airflow's working, summed as far as the valve";
    Some(working(AT_VALVE, say.pressure(air.suction_at_valve_pa), &FORMULA, numbers, source))
}

fn air_power(work: &Work, inlet: usize) -> Option<Working> {
    static FORMULA: Formula = Formula::of(r"P = q \, p_v");
    let air = &work.figures.inlets[inlet].air.as_ref().ok()?.hose_out;
    let (flow, suction) = (work.say.flow(air.flow_m3_s), work.say.pressure(air.suction_at_valve_pa));
    let numbers = match work.say.lengths {
        Lengths::FtIn => format!(
            "{flow} times {suction}, times {:.4} W for one of each, an inch of water at 39 °F",
            CFM_M3_S * INCH_WATER_PA
        ),
        Lengths::Metric => format!(
            "{flow} times {suction}: {:.4} m³/s times {:.0} Pa",
            air.flow_m3_s, air.suction_at_valve_pa
        ),
    };
    Some(working(AIR_POWER, format!("{:.0} W", air.air_power_w), &FORMULA, numbers, "ASTM F558 and F820"))
}

fn slowest(work: &Work, inlet: usize) -> Option<Working> {
    static FORMULA: Formula =
        Formula::of(r"v = \frac{4 q}{\pi D^2} \, \frac{\rho_0}{\rho}, \qquad \rho = \frac{p}{R T}");
    let air = &work.figures.inlets[inlet].air.as_ref().ok()?.hose_out;
    let tubes = air.parts.iter().filter(|part| part.name.starts_with("tube"));
    let slowest = tubes.min_by(|a, b| a.velocity_m_s.total_cmp(&b.velocity_m_s))?;
    let numbers = format!(
        "{}: {} of standard air, {:.3} kg/m³, through a bore of {}; there {}",
        slowest.name,
        work.say.flow(slowest.flow_m3_s),
        STANDARD_DENSITY,
        fine_length(work.say, work.catalog.tube.bore_m),
        work.say.absolute_pressure(slowest.static_in_pa)
    );
    Some(working(
        SLOWEST,
        work.say.speed(slowest.velocity_m_s),
        &FORMULA,
        numbers,
        "Continuity, with air as a gas at the room's temperature",
    ))
}

fn air(work: &Work, inlet: usize) -> Option<Working> {
    static FORMULA: Formula = Formula::of(
        r"\sum \Delta p_i (q) = p_{\mathrm{unit}}(q)
p_1^2 - p_2^2 = G^2 R T \left( \frac{f L}{D} + 2 \ln \frac{p_1}{p_2} \right)
\frac{1}{\sqrt{f}} = -2 \log_{10} \left( \frac{\varepsilon}{3.7 D} + \frac{2.51}{\mathrm{Re} \sqrt{f}} \right)",
    );
    let air = &work.figures.inlets[inlet].air.as_ref().ok()?.hose_out;
    let say = work.say;
    let mut losses: Vec<(String, f64)> = Vec::new();
    for part in &air.parts {
        match losses.iter_mut().find(|(name, _)| *name == part.name) {
            Some((_, loss_pa)) => *loss_pa += part.loss_pa,
            None => losses.push((part.name.clone(), part.loss_pa)),
        }
    }
    let each: Vec<String> =
        losses.iter().map(|(name, pa)| format!("{name} {}", fine_pressure(say, *pa))).collect();
    let numbers = format!(
        "{}; together {}, what the unit gives at this flow",
        each.join(", "),
        say.pressure(air.suction_at_unit_pa)
    );
    Some(working(
        AIRFLOW,
        say.flow(air.flow_m3_s),
        &FORMULA,
        numbers,
        "Isothermal flow with Colebrook's friction; bends by Rennels; branches by the industrial ventilation table (from memory); standard air",
    ))
}

/// A bore or an outside to the hundredth: with a sixteenth the sum would not come out.
pub fn fine_length(say: Say, length_m: f64) -> String {
    match say.lengths {
        Lengths::FtIn => format!("{:.2} in", length_m / INCH_M),
        Lengths::Metric => format!("{:.1} mm", length_m * 1000.0),
    }
}

/// A loss to a tenth, for a part of a line takes little.
fn fine_pressure(say: Say, pressure_pa: f64) -> String {
    match say.lengths {
        Lengths::FtIn => format!("{:.1} inH2O", pressure_pa / INCH_WATER_PA),
        Lengths::Metric => format!("{:.2} kPa", pressure_pa / 1000.0),
    }
}

fn passage(work: &Work, inlet: usize) -> Option<Working> {
    static FORMULA: Formula = Formula::of(
        r"L = 2 \sqrt{(D - d)(2R + d)} \;\; (\theta \ge \theta_c)
L = \frac{2 \left( R_o - k \cos \frac{\theta}{2} \right)}{\sin \frac{\theta}{2}} \;\; (\theta < \theta_c)",
    );
    let places = work.figures.inlets[inlet].passage.as_ref().ok()?;
    let tightest: &PassageFigure = places.iter().min_by(|a, b| a.longest_m.total_cmp(&b.longest_m))?;
    let say = work.say;
    let place = |p: &PassageFigure| {
        format!(
            "{}: R {}, {}, L {}",
            p.words,
            say.length(p.radius_m),
            say.angle(p.angle_deg),
            say.length_down(p.longest_m)
        )
    };
    let each: Vec<String> = places.iter().map(place).collect();
    let rod = work.say.length(work.job.inlets[inlet].hose.throat_m?);
    let bore = fine_length(say, work.catalog.tube.bore_m);
    let numbers = format!("bore D {bore}, object d {rod} thick; {}", each.join("; "));
    Some(working(
        PASSAGE,
        say.length_down(tightest.longest_m),
        &FORMULA,
        numbers,
        "Plane geometry of a rod in a bent tube, k = R - D/2 + d, Ro = R + D/2",
    ))
}

fn wire_length(work: &Work, inlet: usize) -> Option<Working> {
    static FORMULA: Formula = Formula::of(r"L = (1 + s) \, \ell + 2 t");
    let length_m = work.figures.inlets[inlet].wire.as_ref().ok()?.length_m;
    let pipe_m = (length_m - 2.0 * TAIL_M) / (1.0 + SLACK);
    let (say, share) = (work.say, SLACK * 100.0);
    let numbers =
        format!("{} of pipe, {share:.0} % slack, {} at each end", say.length(pipe_m), say.length(TAIL_M));
    let source = "Common practice, no source: wire is run along the pipe and looped at valve and unit";
    Some(working(WIRE_LENGTH, say.length(length_m), &FORMULA, numbers, source))
}

fn wire(work: &Work, inlet: usize) -> Option<Working> {
    static FORMULA: Formula = Formula::of(r"V = 2 L r I");
    let figures = work.figures.inlets[inlet].wire.as_ref().ok()?;
    let wire = work.catalog.wire.as_ref()?;
    let source = if figures.from_table {
        "NFPA 70, chapter 9, table 8, 75 °C"
    } else {
        "Copper by ASTM B258 and IEC 60028, 75 °C"
    };
    let numbers = format!(
        "{} of {} AWG, {} A, {} V supply; {:.1} % lost",
        work.say.length(figures.length_m),
        wire.gauge_awg,
        wire.amps,
        wire.volts,
        figures.drop_share * 100.0
    );
    Some(working(WIRE_DROP, format!("{:.2} V", figures.drop_v), &FORMULA, numbers, source))
}

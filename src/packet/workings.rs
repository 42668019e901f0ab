//! How each figure of an inlet was worked out: the formula, this job's numbers in it, the source.
use super::worked::Working;
use crate::figures::PassageFigure;
use crate::lesson::formula;
use crate::measure::Say;
use crate::route::Route;
use crate::work::Work;

/// The workings of an inlet, in the order of its figures.
pub fn workings(work: &Work, inlet: usize) -> Vec<Working> {
    let all = [
        Some(hose_path(work.say, &work.routes.raceways[inlet])),
        draw_in(work, inlet),
        pull_out(work, inlet),
        available(work, inlet),
        air(work, inlet),
        passage(work, inlet),
        wire(work, inlet),
    ];
    all.into_iter().flatten().collect()
}

fn working(name: &str, result: String, latex: &str, with_numbers: String, source: &str) -> Working {
    Working {
        name: name.into(),
        result_words: result,
        mathml: formula(latex),
        with_numbers,
        source: source.into(),
    }
}

fn hose_path(say: Say, route: &Route) -> Working {
    let bends: Vec<String> = route
        .bends
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
    working(
        "Hose path",
        say.length(route.hose_path_m),
        r"L = \sum \ell_i - \sum \left( 2 R \tan \frac{\theta}{2} - R\,\theta \right)",
        format!("runs {} in all; {less}", say.length(route.centre_m)),
        "Plane geometry of an arc between two tangents",
    )
}

const PULLING: &str = r"T_2 = T_1 \cosh \mu\theta + \sinh \mu\theta \sqrt{T_1^2 + (W R)^2}, \quad \Delta T = W \ell (\mu \cos\alpha \pm \sin\alpha)";
const PULLING_SOURCE: &str =
    "Pulling formulas of conduit work, exact for level bends; walked over the whole travel";

fn draw_in(work: &Work, inlet: usize) -> Option<Working> {
    let (effort, hose) =
        (&work.figures.inlets[inlet].effort.as_ref().ok()?.draw_in, &work.job.inlets[inlet].hose);
    let friction = hose.friction?;
    let numbers = format!(
        "W {:.2} N/m, friction {:.2} in the tube and {:.2} on the floor; {} of bend; worst with {} drawn in",
        hose.weight_n_per_m,
        friction.drawn_in,
        friction.floor,
        work.say.angle(work.routes.raceways[inlet].bend_total_deg),
        work.say.length(effort.worst_inserted_m)
    );
    Some(working("Draw-in", work.say.force(effort.worst_n), PULLING, numbers, PULLING_SOURCE))
}

fn pull_out(work: &Work, inlet: usize) -> Option<Working> {
    let (effort, hose) =
        (&work.figures.inlets[inlet].effort.as_ref().ok()?.pull_out, &work.job.inlets[inlet].hose);
    let numbers = format!(
        "W {:.2} N/m, friction {:.2}; from the free tail to the valve; worst with {} in the raceway",
        hose.weight_n_per_m,
        hose.friction?.drawn_out,
        work.say.length(effort.worst_inserted_m)
    );
    Some(working("Pull-out", work.say.force(effort.worst_n), PULLING, numbers, PULLING_SOURCE))
}

fn available(work: &Work, inlet: usize) -> Option<Working> {
    let figures = &work.figures.inlets[inlet];
    let (force_n, sealed_pa) = (*figures.available_n.as_ref().ok()?, *figures.sealed_pa.as_ref().ok()?);
    let outside = work.say.length(work.job.inlets[inlet].hose.outside_m);
    let numbers = format!(
        "{} at the covered hose end (the unit's sealed suction less the other valves' leakage), hose {outside} outside",
        work.say.pressure(sealed_pa)
    );
    Some(working(
        "Force that suction gives",
        work.say.force(force_n),
        r"F = p \, \frac{\pi D^2}{4}",
        numbers,
        "Pressure on the outside area of the hose; the cautious side",
    ))
}

fn air(work: &Work, inlet: usize) -> Option<Working> {
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
        losses.iter().map(|(name, pa)| format!("{name} {:.1} kPa", pa / 1000.0)).collect();
    let numbers = format!(
        "{}; together {}, what the unit gives at this flow",
        each.join(", "),
        say.pressure(air.suction_at_unit_pa)
    );
    Some(working(
        "Airflow, hose fully out",
        say.flow(air.flow_m3_s),
        r"\sum \Delta p_i (q) = p_{\mathrm{unit}}(q), \qquad p_1^2 - p_2^2 = G^2 R T \left( \frac{f L}{D} + 2 \ln \frac{p_1}{p_2} \right), \qquad \frac{1}{\sqrt{f}} = -2 \log_{10} \left( \frac{\varepsilon}{3.7 D} + \frac{2.51}{\mathrm{Re} \sqrt{f}} \right)",
        numbers,
        "Isothermal flow with Colebrook's friction; bends by Rennels; branches by the industrial ventilation table (from memory); standard air",
    ))
}

fn passage(work: &Work, inlet: usize) -> Option<Working> {
    let places = work.figures.inlets[inlet].passage.as_ref().ok()?;
    let tightest: &PassageFigure = places.iter().min_by(|a, b| a.longest_m.total_cmp(&b.longest_m))?;
    let rod = work.say.length(work.job.inlets[inlet].hose.throat_m?);
    let numbers = format!(
        "{}: bore {}, radius {}, {}, object {rod} thick",
        tightest.words,
        work.say.length(work.catalog.tube.bore_m),
        work.say.length(tightest.radius_m),
        work.say.angle(tightest.angle_deg)
    );
    Some(working(
        "Longest stiff object past the tightest place",
        work.say.length(tightest.longest_m),
        r"L = 2 \sqrt{(D - d)(2R + d)} \;\; (\theta \ge \theta_c), \qquad L = \frac{2 \left( R_o - k \cos \frac{\theta}{2} \right)}{\sin \frac{\theta}{2}} \;\; (\theta < \theta_c)",
        numbers,
        "Plane geometry of a rod in a bent tube, k = R - D/2 + d, Ro = R + D/2",
    ))
}

fn wire(work: &Work, inlet: usize) -> Option<Working> {
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
    Some(working(
        "Voltage lost in the control wire",
        format!("{:.2} V", figures.drop_v),
        r"V = 2 L r I",
        numbers,
        source,
    ))
}

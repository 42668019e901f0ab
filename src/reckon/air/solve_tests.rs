//! Checks of the whole line against other solvers and reason.

use super::*;
use crate::reckon::air::conditions::{CFM, GAS_CONSTANT, INCH_OF_WATER_4C, viscosity};
use crate::reckon::air::curve::tests::{curve_of, demo_curve};
use crate::reckon::air::fittings::bend;
use crate::reckon::air::friction::friction_factor;
use crate::reckon::air::{
    Ambient, Angle, LeakJoins, Leakage, Length, Part, PartKind, Pressure, VolumeRate, cubic_meter_per_second,
    meter, pascal, radian,
};
use crate::reckon::check::{FT, IN, near, within};
use std::f64::consts::PI;

const HOSE: f64 = 1.4 * IN;
const TUBE: f64 = 1.87 * IN;

fn m(metres: f64) -> Length {
    Length::new::<meter>(metres)
}

fn named(name: &str, kind: PartKind) -> Part {
    Part { name: name.to_owned(), kind }
}

fn tube(name: &str, feet: f64) -> Part {
    named(name, PartKind::Tube { bore: m(TUBE), length: m(feet * FT), roughness: m(1.5e-6) })
}

fn sweep() -> Part {
    let angle = Angle::new::<radian>(PI / 2.0);
    named("sweep", PartKind::Bend { bore: m(TUBE), radius: m(7.0 * IN), angle, roughness: m(1.5e-6) })
}

/// 40 ft of hose, 40 ft of raceway with three sweeps, a 45-degree branch and 38 ft of trunk.
fn demo_line() -> Line {
    let branch = Angle::new::<radian>(PI / 4.0);
    let parts = vec![
        named("nozzle", PartKind::entry(m(HOSE))),
        named("hose", PartKind::Hose { bore: m(HOSE), length: m(40.0 * FT), friction: 0.045 }),
        named("hose's end", PartKind::Expansion { from: m(HOSE), to: m(TUBE) }),
        tube("raceway", 40.0),
        sweep(),
        sweep(),
        sweep(),
        named("branch", PartKind::Junction { bore: m(TUBE), branch, into: m(TUBE) }),
        tube("trunk", 38.0),
    ];
    Line { parts, ambient: Ambient::default(), leakage: None }
}

fn leak(cfm_at_100_in: f64, joins: LeakJoins) -> Option<Leakage> {
    Some(Leakage {
        reference_flow: VolumeRate::new::<cubic_meter_per_second>(cfm_at_100_in * CFM),
        reference_suction: Pressure::new::<pascal>(100.0 * INCH_OF_WATER_4C),
        joins,
    })
}

/// The least share by which another solver's last digits, and its explicit friction factor, may differ.
const SOLVERS: f64 = 1e-8;

#[test]
fn agrees_with_fluids_and_scipy_on_the_whole_line() {
    // The same line reckoned in Python with fluids 1.3.1 (isothermal_gas, Colebrook, bend_rounded by
    // Rennels) and scipy 1.17.1 (PCHIP, brentq): flow and suction after each kind of part.
    let air = solve(&demo_line(), &demo_curve()).unwrap();
    near(air.flow_m3_s, 0.04069241844390626, SOLVERS);
    near(air.flow_m3_s / CFM, 86.2223517262743, SOLVERS);
    let after = [
        (1, 508.18426670828194),
        (2, 18025.42398560398),
        (3, 18265.416624652775),
        (4, 20228.591614110977),
        (7, 20506.622121831184),
        (8, 20618.13591221324),
        (9, 22538.78786966155),
    ];
    for (parts, suction_pa) in after {
        let lost: f64 = air.parts.iter().take(parts).map(|part| part.loss_pa).sum();
        near(lost, suction_pa, 1e-7);
    }
    near(air.suction_at_valve_pa, 18265.416624652775, 1e-7);
    near(air.suction_at_unit_pa, 22538.78786966155, 1e-7);
    near(air.air_power_w, 0.04069241844390626 * 18265.416624652775, 1e-7);
}

#[test]
fn agrees_with_fluids_and_scipy_with_leakage_at_the_unit() {
    let line = Line { leakage: leak(5.0, LeakJoins::AtUnit), ..demo_line() };
    let air = solve(&line, &demo_curve()).unwrap();
    near(air.flow_m3_s / CFM, 85.07976025674546, SOLVERS);
    near(air.leak_m3_s, 5.0 * CFM * (air.suction_at_unit_pa / (100.0 * INCH_OF_WATER_4C)).sqrt(), 1e-9);
}

/// Static pressure after a loss number, taken in many short pieces of constant density with the
/// momentum that each gains.
fn in_short_pieces(p1: f64, flux: f64, n: f64) -> f64 {
    const PIECES: usize = 200_000;
    let rt = GAS_CONSTANT * 293.15;
    (0..PIECES).fold(p1, |p, _| {
        let friction = flux * flux * rt / (2.0 * p) * n / PIECES as f64;
        // dp (1 - G² R T / p²) = -friction: the rest of the drop speeds the thinning air up.
        p - friction / (1.0 - flux * flux * rt / (p * p))
    })
}

#[test]
fn agrees_with_short_pieces_of_constant_density() {
    let air = solve(&demo_line(), &demo_curve()).unwrap();
    let flux = air.flow_m3_s * STANDARD_DENSITY / (PI * TUBE * TUBE / 4.0);
    let re = flux * TUBE / viscosity(293.15).unwrap();
    let f = friction_factor(re, 1.5e-6 / TUBE).unwrap();
    for (part, n) in [(3, f * 40.0 * FT / TUBE), (4, bend(f, TUBE, 7.0 * IN, PI / 2.0).unwrap())] {
        let PartAir { static_in_pa, static_out_pa, .. } = air.parts[part];
        // 200 000 pieces leave an error of the first order, well under a millionth of the drop.
        within(in_short_pieces(static_in_pa, flux, n), static_out_pa, 0.01);
    }
}

#[test]
fn agrees_with_constant_density_when_little_is_lost() {
    // A weak unit: 0.5 kPa in all, where the density changes by half a percent.
    let weak = curve_of(&[(0.0, 2.0), (60.0, 0.0)]).unwrap();
    let air = solve(&demo_line(), &weak).unwrap();
    let rho = 101_325.0 / (GAS_CONSTANT * 293.15);
    let q = air.flow_m3_s * STANDARD_DENSITY / rho;
    let (in_hose, in_tube) = (q / (PI * HOSE * HOSE / 4.0), q / (PI * TUBE * TUBE / 4.0));
    let re = in_tube * TUBE * rho / viscosity(293.15).unwrap();
    let f = friction_factor(re, 1.5e-6 / TUBE).unwrap();
    let widening = (1.0 - (HOSE / TUBE).powi(2)).powi(2);
    let hose = (0.5 + 0.045 * 40.0 * FT / HOSE + widening) * rho * in_hose * in_hose / 2.0;
    let tube = f * 78.0 * FT / TUBE + 3.0 * bend(f, TUBE, 7.0 * IN, PI / 2.0).unwrap() + 0.28;
    near(air.suction_at_unit_pa, hose + tube * rho * in_tube * in_tube / 2.0, 5e-3);
}

#[test]
fn recovers_the_unit_curve_at_the_answer() {
    for joins in [LeakJoins::AtUnit, LeakJoins::Before("trunk".to_owned())] {
        let air = solve(&Line { leakage: leak(8.0, joins), ..demo_line() }, &demo_curve()).unwrap();
        let given = demo_curve().suction_pa(air.flow_m3_s + air.leak_m3_s).unwrap();
        near(given, air.suction_at_unit_pa, 1e-9);
    }
}

#[test]
fn grows_with_bore_and_falls_with_length_and_leakage() {
    let flow = |line: &Line| solve(line, &demo_curve()).unwrap().flow_m3_s;
    let base = flow(&demo_line());
    let mut longer = demo_line();
    longer.parts.push(tube("more trunk", 20.0));
    assert!(flow(&longer) < base);
    let at_unit = flow(&Line { leakage: leak(5.0, LeakJoins::AtUnit), ..demo_line() });
    let upstream = flow(&Line { leakage: leak(5.0, LeakJoins::Before("raceway".to_owned())), ..demo_line() });
    assert!(at_unit < base && upstream < at_unit);
}

#[test]
fn grows_with_speed_as_the_air_thins() {
    let air = solve(&demo_line(), &demo_curve()).unwrap();
    let raceway = &air.parts[3];
    assert!(raceway.velocity_out_m_s > raceway.velocity_m_s && raceway.static_out_pa < raceway.static_in_pa);
}

#[test]
fn refuses_a_line_that_makes_no_sense() {
    let refusal = |change: fn(&mut Line)| {
        let mut line = demo_line();
        change(&mut line);
        solve(&line, &demo_curve()).unwrap_err()
    };
    assert_eq!(refusal(|line| line.parts.clear()), AirError::NoParts);
    let step = refusal(|line| drop(line.parts.remove(2)));
    assert_eq!(
        step.to_string(),
        "raceway has a bore of 0.047498 m after one of 0.03556 m, with no part between that widens it"
    );
    let lost = refusal(|line| line.leakage = leak(5.0, LeakJoins::Before("attic".to_owned())));
    assert_eq!(lost, AirError::NoSuchPart { part: "attic".to_owned() });
    let steep =
        refusal(|line| line.parts[1].kind = PartKind::Hose { bore: m(HOSE), length: m(1.0), friction: -1.0 });
    assert!(matches!(steep, AirError::Part { .. }));
}

#[test]
fn refuses_a_flow_beyond_the_curve() {
    let short = curve_of(&[(0.0, 130.0), (40.0, 118.0)]).unwrap();
    assert!(matches!(solve(&demo_line(), &short), Err(AirError::BeyondCurve { .. })));
}

#[test]
fn refuses_a_unit_without_suction() {
    let dead = curve_of(&[(0.0, 0.0), (40.0, 0.0)]).unwrap();
    assert!(matches!(solve(&demo_line(), &dead), Err(AirError::NoFlow { .. })));
}

#[test]
fn refuses_a_choked_nozzle() {
    // A hose of 5 mm on a curve that would move 60 cfm at 30 kPa: its nozzle cannot pass it.
    let bore = m(0.005);
    let parts = vec![
        named("nozzle", PartKind::entry(bore)),
        named("hose", PartKind::Hose { bore, length: m(0.01), friction: 0.0 }),
    ];
    let strong = curve_of(&[(0.0, 390.0), (60.0, 380.0)]).unwrap();
    let refused = solve(&Line { parts, ambient: Ambient::default(), leakage: None }, &strong);
    assert!(matches!(refused, Err(AirError::Choked { .. })), "{refused:?}");
}

//! Air at an inlet, hose fully out and hose drawn in, with the other valves leaking.
use super::Missing;
use super::elements::{pieces, pieces_to_stop};
use super::way::{Stretch, way};
use crate::company::{Catalog, FittingKind, Inlet, Job};
use crate::reckon::air::conditions::STANDARD_DENSITY;
use crate::reckon::air::{
    self, Air, Ambient, Angle, LeakJoins, Leakage, Length, Line, Part, PartAir, PartKind, Pressure,
    UnitCurve, VolumeRate, cubic_meter_per_second, meter, pascal, radian, sealed_suction_pa, solve,
};
use crate::reckon::hose::{EmptyLine, Piece};
use crate::route::{JobLines, Line as Laid};

/// The air at an inlet.
#[derive(Debug, Clone, PartialEq)]
pub struct AirFigures {
    /// All of the hose outside the raceway, as when it is used at full length.
    pub hose_out: Air,
    /// The hose in the raceway, its end open at the valve.
    pub hose_in: Air,
}

impl AirFigures {
    /// The slowest air in any tube, hose out: what conveying dust depends on.
    pub fn slowest_tube_m_s(&self) -> Option<f64> {
        let tubes = self.hose_out.parts.iter().filter(|part| part.name.starts_with("tube"));
        tubes.map(|part| part.velocity_m_s).min_by(f64::total_cmp)
    }
}

/// Suction at the valve with nothing flowing through it: the unit's, less what the other valves leak.
pub fn sealed_pa(job: &Job, inlet: usize) -> Result<f64, Missing> {
    Ok(sealed_suction_pa(&unit_curve(job)?, leakage(job, inlet).as_ref()))
}

/// Solves both positions of the hose.
pub fn air(job: &Job, inlet: usize, lines: &JobLines, catalog: &Catalog) -> Result<AirFigures, Missing> {
    let way = way(inlet, lines)?;
    let curve = unit_curve(job)?;
    let pipe = Pipe { catalog };
    let run = |stored_m: f64| -> Result<Air, Missing> {
        let parts = pipe.parts(&job.inlets[inlet], &way, stored_m)?;
        let line = Line { parts, ambient: Ambient::default(), leakage: leakage(job, inlet) };
        solve(&line, &curve).map_err(Missing::from)
    };
    Ok(AirFigures { hose_out: run(0.0)?, hose_in: run(job.inlets[inlet].hose.length_m)? })
}

/// What the unit draws against: its curve, and what the other valves let in.
#[derive(Debug, Clone)]
pub(super) struct Drawn {
    pub curve: UnitCurve,
    pub others: Option<Leakage>,
}

impl Drawn {
    pub fn of(job: &Job, inlet: usize) -> Result<Drawn, Missing> {
        Ok(Drawn { curve: unit_curve(job)?, others: leakage(job, inlet) })
    }

    /// The suction at the valve with the hose in is surely no more than this, Pa, where surely less flows than
    /// `flow_m3_s`; `None` where that is not sure.
    pub fn most_with_hose_in_pa(
        &self,
        inlet: &Inlet,
        way: &[Stretch],
        catalog: &Catalog,
        flow_m3_s: f64,
    ) -> Option<f64> {
        let parts = Pipe { catalog }.kinds(inlet, way, inlet.hose.length_m).ok()?;
        air::valve_suction_above(&parts, self.others.as_ref(), &self.curve, flow_m3_s)
    }

    /// The suction at the valve with the hose in, Pa.
    pub fn with_hose_in_pa(&self, inlet: &Inlet, way: &[Stretch], catalog: &Catalog) -> Result<f64, Missing> {
        let parts = Pipe { catalog }.parts(inlet, way, inlet.hose.length_m)?;
        let line = Line { parts, ambient: Ambient::default(), leakage: self.others.clone() };
        Ok(solve(&line, &self.curve)?.suction_at_valve_pa)
    }
}

/// What the empty line takes beyond a hose that is drawn in: raceway, stop and way to the unit at a few small
/// flows, told as loss of the pressure's square. Where the way to the unit is not given, the raceway alone.
pub(super) fn empty_line(
    job: &Job,
    inlet: usize,
    lines: &JobLines,
    catalog: &Catalog,
) -> Result<EmptyLine, Missing> {
    let pipe = Pipe { catalog };
    let mut parts = Vec::new();
    let alone = || lines.of_inlet(inlet).map(|line| Stretch { index: inlet, line, from_m: 0.0, by: None });
    let way = way(inlet, lines).unwrap_or_else(|_| alone().into_iter().collect());
    let in_raceway = pipe.way(&way, 0.0, |called, kind| parts.push(called.part(kind)));
    let Some(raceway) =
        way.first().and_then(|first| first.line.raceway.as_ref()).filter(|_| !parts.is_empty())
    else {
        return Ok(EmptyLine::default());
    };
    // The air arrives there with most of the suction already spent past the hose.
    let room = Ambient::default();
    let behind = room.pressure - pressure(0.9 * sealed_pa(job, inlet)?);
    let line = Line { parts, ambient: Ambient { pressure: behind, ..room }, leakage: None };
    let widest_m3_s = unit_curve(job)?.widest_flow_m3_s();
    let mut taken = EmptyLine { raceway_m: raceway.hose_path_m, ..EmptyLine::default() };
    for share in SMALL_FLOWS {
        // A line that chokes at a flow passes no such leak; the flows below it tell enough.
        let Ok(found) = air::losses(&line, share * widest_m3_s) else { break };
        let flow_kg_s = share * widest_m3_s * STANDARD_DENSITY;
        let before = behind.get::<pascal>();
        let lost = |parts: &[PartAir]| before - parts.iter().map(|part| part.loss_pa).sum::<f64>();
        let (after_raceway, after_all) = (lost(&found[..in_raceway]), lost(&found));
        taken.flows_kg_s.push(flow_kg_s);
        taken.whole.push((before * before - after_all * after_all) / flow_kg_s.powi(2));
        taken.beyond.push((after_raceway * after_raceway - after_all * after_all) / flow_kg_s.powi(2));
    }
    Ok(taken)
}

/// What the air passes from the valve to the unit, no hose in the way.
pub(super) fn way_kinds(way: &[Stretch], catalog: &Catalog) -> Vec<PartKind> {
    let mut parts = Vec::new();
    Pipe { catalog }.way(way, 0.0, |_, kind| parts.push(kind));
    parts
}

/// Flows at which the empty line is asked, as shares of the unit's widest.
const SMALL_FLOWS: [f64; 4] = [0.01, 0.05, 0.2, 0.6];

/// The unit's suction against its flow.
pub(super) fn unit_curve(job: &Job) -> Result<UnitCurve, Missing> {
    let points: Vec<(VolumeRate, Pressure)> =
        job.unit.model.curve.iter().map(|(q, p)| (flow(*q), pressure(*p))).collect();
    UnitCurve::new(&points).map_err(|error| Missing::from(error).at(&format!("unit {}", job.unit.model.id)))
}

/// Suction with nothing flowing where the valves leak so many times what is given.
pub(super) fn sealed_with(curve: &UnitCurve, leakage: Option<&Leakage>, times: f64) -> f64 {
    let more = leakage.map(|leak| Leakage { reference_flow: leak.reference_flow * times, ..leak.clone() });
    sealed_suction_pa(curve, more.as_ref())
}

/// What the valves of the other inlets let in, joining at the unit; `None` where the catalog says nothing.
pub(super) fn leakage(job: &Job, inlet: usize) -> Option<Leakage> {
    let others = job.inlets.iter().enumerate().filter(|(i, _)| *i != inlet).map(|(_, inlet)| &inlet.valve);
    let reference = others.clone().find(|valve| valve.leak_m3_s.is_some())?.leak_at_pa;
    // Through an orifice the flow grows with the square root of the suction, so all are brought to one.
    let total: f64 =
        others.filter_map(|valve| Some(valve.leak_m3_s? * (reference / valve.leak_at_pa).sqrt())).sum();
    Some(Leakage {
        reference_flow: flow(total),
        reference_suction: pressure(reference),
        joins: LeakJoins::AtUnit,
    })
}

/// The tube of the catalog, as parts for the air.
struct Pipe<'a> {
    catalog: &'a Catalog,
}

/// What a part is called.
enum Called<'a> {
    Own(&'static str),
    Tube(&'a Laid),
    Bend(&'a Laid),
    JunctionInto(&'a Laid),
}

impl Called<'_> {
    fn part(&self, kind: PartKind) -> Part {
        let name = match self {
            Called::Own(name) => (*name).to_owned(),
            Called::Tube(line) => format!("tube of {}", line.called()),
            Called::Bend(line) => format!("bend of {}", line.called()),
            Called::JunctionInto(line) => format!("junction into {}", line.called()),
        };
        Part { name, kind }
    }
}

impl Pipe<'_> {
    fn parts(&self, inlet: &Inlet, way: &[Stretch], stored_m: f64) -> Result<Vec<Part>, Missing> {
        let mut parts = Vec::new();
        self.all(inlet, way, stored_m, |called, kind| parts.push(called.part(kind)))?;
        Ok(parts)
    }

    fn kinds(&self, inlet: &Inlet, way: &[Stretch], stored_m: f64) -> Result<Vec<PartKind>, Missing> {
        let mut kinds = Vec::new();
        self.all(inlet, way, stored_m, |_, kind| kinds.push(kind))?;
        Ok(kinds)
    }

    /// Hose and tube, from the nozzle to the unit.
    fn all(
        &self,
        inlet: &Inlet,
        way: &[Stretch],
        stored_m: f64,
        mut put: impl FnMut(Called, PartKind),
    ) -> Result<(), Missing> {
        let hose = &inlet.hose;
        let Some(friction) = hose.air_friction else {
            return Err(format!("the catalog gives no air friction for hose {}", hose.id).into());
        };
        let (hose_bore, bore) = (length(hose.bore_m), self.bore());
        put(Called::Own("nozzle"), PartKind::entry(hose_bore));
        let hose = PartKind::Hose { bore: hose_bore, length: length(hose.length_m), friction };
        put(Called::Own("hose"), hose);
        put(Called::Own("end of the hose"), PartKind::Expansion { from: hose_bore, to: bore });
        self.way(way, stored_m, put);
        Ok(())
    }

    /// The tube from valve to unit, less what the stored hose fills. Answers how many of the parts are the raceway.
    fn way(&self, way: &[Stretch], stored_m: f64, mut put: impl FnMut(Called, PartKind)) -> usize {
        let bore = self.bore();
        let (mut stored_m, mut in_raceway, mut count) = (stored_m, 0, 0);
        for stretch in way {
            let line = stretch.line;
            if let Some(branch) = stretch.by.and_then(|fitting| fitting.junction()) {
                let branch = Angle::new::<radian>(branch.branch_deg.to_radians());
                put(Called::JunctionInto(line), PartKind::Junction { bore, branch, into: bore });
                count += 1;
            }
            let mut from_m = stretch.from_m;
            if let Some(raceway) = &line.raceway {
                count += self.tubes(line, &pieces_to_stop(line), stored_m, &mut put);
                in_raceway = count;
                if let Some(stop) = self.stop() {
                    put(Called::Own("stop fitting"), stop);
                    count += 1;
                }
                (from_m, stored_m) = (raceway.stop_m, 0.0);
            }
            count += self.tubes(line, &pieces_from(line, from_m), 0.0, &mut put);
        }
        in_raceway
    }

    /// Pieces as tubes and bends, less the first `skip_m`, which the stored hose fills. Answers how many are left.
    fn tubes(
        &self,
        line: &Laid,
        pieces: &[Piece],
        skip_m: f64,
        put: &mut impl FnMut(Called, PartKind),
    ) -> usize {
        let roughness = length(self.catalog.tube.roughness_m);
        let bore = self.bore();
        let (mut skip_m, mut count) = (skip_m, 0);
        for piece in pieces {
            let whole_m = piece.length_m();
            let left_m = whole_m - skip_m.min(whole_m.max(0.0));
            skip_m = (skip_m - whole_m).max(0.0);
            let (called, kind) = match *piece {
                Piece::Straight { .. } if left_m > 0.0 => {
                    (Called::Tube(line), PartKind::Tube { bore, length: length(left_m), roughness })
                }
                Piece::Arc { angle_rad, radius_m, .. } if left_m > 0.0 => {
                    // A bend that the hose's tail lies in counts with the angle that is left of it.
                    let angle = Angle::new::<radian>(angle_rad * left_m / whole_m);
                    let radius = length(radius_m.max(self.catalog.tube.bore_m / 2.0));
                    (Called::Bend(line), PartKind::Bend { bore, radius, angle, roughness })
                }
                _ => continue,
            };
            put(called, kind);
            count += 1;
        }
        count
    }

    fn stop(&self) -> Option<PartKind> {
        let throat = match self.catalog.stop()?.kind {
            FittingKind::Stop(ref stop) if stop.passes_m < self.catalog.tube.bore_m => stop.passes_m,
            _ => return None,
        };
        Some(PartKind::Throat { bore: self.bore(), throat: length(throat) })
    }

    fn bore(&self) -> Length {
        length(self.catalog.tube.bore_m)
    }
}

/// The pieces of a line beyond a station along its work points.
fn pieces_from(line: &Laid, from_m: f64) -> Vec<Piece> {
    if from_m >= line.centre_m - 1e-9 {
        return Vec::new();
    }
    // A junction set into the very bend would leave a straight of less than nothing; it then has none.
    let kept = |piece| match piece {
        Piece::Straight { length_m, along } => Piece::Straight { length_m: f64::max(length_m, 0.0), along },
        arc => arc,
    };
    pieces(line, from_m, line.centre_m).into_iter().map(kept).collect()
}

fn length(metres: f64) -> Length {
    Length::new::<meter>(metres)
}

fn flow(m3_s: f64) -> VolumeRate {
    VolumeRate::new::<cubic_meter_per_second>(m3_s)
}

fn pressure(pa: f64) -> Pressure {
    Pressure::new::<pascal>(pa)
}

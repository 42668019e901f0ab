//! Air at an inlet, hose fully out and hose drawn in, with the other valves leaking.
use super::Missing;
use super::elements::elements;
use super::way::{Stretch, way};
use crate::company::{Catalog, FittingKind, Job};
use crate::reckon::air::{
    Air, Ambient, Angle, LeakJoins, Leakage, Length, Line, Part, PartKind, Pressure, UnitCurve, VolumeRate,
    cubic_meter_per_second, meter, pascal, radian, sealed_suction_pa, solve,
};
use crate::reckon::effort::Element;
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
    Ok(sealed_suction_pa(&curve(job)?, leakage(job, inlet).as_ref()))
}

/// Solves both positions of the hose.
pub fn air(job: &Job, inlet: usize, lines: &JobLines, catalog: &Catalog) -> Result<AirFigures, Missing> {
    let way = way(inlet, lines)?;
    let curve = curve(job)?;
    let pipe = Pipe { catalog };
    let run = |stored_m: f64| -> Result<Air, Missing> {
        let parts = pipe.parts(job, inlet, &way, stored_m)?;
        let line = Line { parts, ambient: Ambient::default(), leakage: leakage(job, inlet) };
        solve(&line, &curve).map_err(|error| error.to_string())
    };
    Ok(AirFigures { hose_out: run(0.0)?, hose_in: run(job.inlets[inlet].hose.length_m)? })
}

fn curve(job: &Job) -> Result<UnitCurve, Missing> {
    let points: Vec<(VolumeRate, Pressure)> =
        job.unit.model.curve.iter().map(|(q, p)| (flow(*q), pressure(*p))).collect();
    UnitCurve::new(&points).map_err(|error| format!("unit {}: {error}", job.unit.model.id))
}

/// What the valves of the other inlets let in, joining at the unit; `None` where the catalog says nothing.
fn leakage(job: &Job, inlet: usize) -> Option<Leakage> {
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

impl Pipe<'_> {
    fn parts(&self, job: &Job, inlet: usize, way: &[Stretch], stored_m: f64) -> Result<Vec<Part>, Missing> {
        let hose = &job.inlets[inlet].hose;
        let Some(friction) = hose.air_friction else {
            return Err(format!("the catalog gives no air friction for hose {}", hose.id));
        };
        let (hose_bore, bore) = (length(hose.bore_m), self.bore());
        let mut parts = vec![
            part("nozzle".into(), PartKind::entry(hose_bore)),
            part("hose".into(), PartKind::Hose { bore: hose_bore, length: length(hose.length_m), friction }),
            part("end of the hose".into(), PartKind::Expansion { from: hose_bore, to: bore }),
        ];
        let mut stored_m = stored_m;
        for stretch in way {
            if let Some(branch) = stretch.by.and_then(|fitting| fitting.junction()) {
                let branch = Angle::new::<radian>(branch.branch_deg.to_radians());
                parts.push(part(
                    format!("junction into {}", stretch.line.called()),
                    PartKind::Junction { bore, branch, into: bore },
                ));
            }
            let (name, line) = (stretch.line.called(), stretch.line);
            let mut from_m = stretch.from_m;
            if let Some(raceway) = &line.raceway {
                self.tubes(&name, &elements(&line.to_stop()), stored_m, &mut parts);
                parts.extend(self.stop());
                (from_m, stored_m) = (raceway.stop_m, 0.0);
            }
            self.tubes(&name, &elements_from(line, from_m), 0.0, &mut parts);
        }
        Ok(parts)
    }

    /// Elements as tubes and bends, less the first `skip_m`, which the stored hose fills.
    fn tubes(&self, line: &str, elements: &[Element], skip_m: f64, parts: &mut Vec<Part>) {
        let roughness = length(self.catalog.tube.roughness_m);
        let bore = self.bore();
        let mut skip_m = skip_m;
        for element in elements {
            let whole_m = element.length_m();
            let left_m = whole_m - skip_m.min(whole_m.max(0.0));
            skip_m = (skip_m - whole_m).max(0.0);
            match *element {
                Element::Straight { .. } if left_m > 0.0 => {
                    parts.push(part(
                        format!("tube of {line}"),
                        PartKind::Tube { bore, length: length(left_m), roughness },
                    ));
                }
                Element::Bend { angle_rad, radius_m } if left_m > 0.0 => {
                    // A bend that the hose's tail lies in counts with the angle that is left of it.
                    let angle = Angle::new::<radian>(angle_rad * left_m / whole_m);
                    let radius = length(radius_m.max(self.catalog.tube.bore_m / 2.0));
                    parts.push(part(
                        format!("bend of {line}"),
                        PartKind::Bend { bore, radius, angle, roughness },
                    ));
                }
                _ => {}
            }
        }
    }

    fn stop(&self) -> Option<Part> {
        let throat = match self.catalog.stop()?.kind {
            FittingKind::Stop(ref stop) if stop.passes_m < self.catalog.tube.bore_m => stop.passes_m,
            _ => return None,
        };
        Some(part("stop fitting".into(), PartKind::Throat { bore: self.bore(), throat: length(throat) }))
    }

    fn bore(&self) -> Length {
        length(self.catalog.tube.bore_m)
    }
}

/// The elements of a line beyond a station along its work points.
fn elements_from(line: &Laid, from_m: f64) -> Vec<Element> {
    if from_m >= line.centre_m - 1e-9 {
        return Vec::new();
    }
    // A junction set into the very bend would leave a straight of less than nothing; it then has none.
    let kept = |element| match element {
        Element::Straight { length_m, rise_angle_rad } => {
            Element::Straight { length_m: f64::max(length_m, 0.0), rise_angle_rad }
        }
        bend => bend,
    };
    elements(&line.between(from_m, line.centre_m)).into_iter().map(kept).collect()
}

fn part(name: String, kind: PartKind) -> Part {
    Part { name, kind }
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

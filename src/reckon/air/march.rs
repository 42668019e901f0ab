//! Walking down the line at a given flow: pressure, density and speed part by part.

use super::conditions::{GAS_CONSTANT, STANDARD_DENSITY, density, viscosity};
use super::fittings::{bend, branch_entry, expansion, throat};
use super::friction::friction_factor;
use super::isothermal::{IsothermalError, outlet_pressure};
use super::leakage::{LeakJoins, Leakage};
use super::line::{Ambient, Line, PartKind};
use super::solve::{AirError, PartAir};
use crate::reckon::range::{OutOfRange, in_range};
use std::f64::consts::PI;
use uom::si::angle::radian;
use uom::si::f64::Length;
use uom::si::length::meter;
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::kelvin;

/// A line in plain numbers, every input checked.
pub(super) struct Prepared<'a> {
    pieces: Vec<Piece<'a>>,
    room_pa: f64,
    rt: f64,
    viscosity: f64,
    leakage: Option<&'a Leakage>,
    /// The piece before which the leakage joins; the number of pieces for the unit.
    joins_before: usize,
}

struct Piece<'a> {
    name: &'a str,
    bore_m: f64,
    bore_after_m: f64,
    loss: Loss,
}

/// How a piece takes its pressure.
enum Loss {
    /// K at once, at the density before it.
    Sharp {
        k: f64,
    },
    /// `f L / D` with a friction that does not change.
    Fixed {
        n: f64,
    },
    /// `f L / D` with the friction of a wall.
    Wall {
        length_m: f64,
        rough: f64,
    },
    Bend {
        radius_m: f64,
        angle_rad: f64,
        rough: f64,
    },
}

/// The friction factor of the last tube: a line is mostly of one tube, and so of one factor.
#[derive(Default)]
struct LastFriction(Option<(f64, f64, f64)>);

impl LastFriction {
    fn factor(&mut self, re: f64, rough: f64) -> Result<f64, OutOfRange> {
        if let Some((_, _, factor)) = self.0.filter(|last| (last.0, last.1) == (re, rough)) {
            return Ok(factor);
        }
        let factor = friction_factor(re, rough)?;
        self.0 = Some((re, rough, factor));
        Ok(factor)
    }
}

/// The end of the walk.
pub(super) struct Arrival {
    pub suction_pa: f64,
    pub leak_kg_s: f64,
    pub parts: Vec<PartAir>,
}

impl<'a> Prepared<'a> {
    pub fn new(line: &'a Line) -> Result<Prepared<'a>, AirError> {
        let named = line.parts.iter().map(|part| (part.name.as_str(), &part.kind));
        Prepared::of(named, line.ambient, line.leakage.as_ref())
    }

    /// Of parts, each with its name.
    pub fn of<'k>(
        parts: impl Iterator<Item = (&'a str, &'k PartKind)>,
        ambient: Ambient,
        leakage: Option<&'a Leakage>,
    ) -> Result<Prepared<'a>, AirError> {
        let (room_pa, t_k) = (ambient.pressure.get::<pascal>(), ambient.temperature.get::<kelvin>());
        density(room_pa, t_k).and(viscosity(t_k)).map_err(AirError::Room)?;
        let pieces: Vec<Piece> = parts.map(piece).collect::<Result<_, _>>()?;
        check_bores(&pieces)?;
        let joins_before = leakage.map_or(Ok(pieces.len()), |leak| place_of(leak, &pieces))?;
        let viscosity = viscosity(t_k).map_err(AirError::Room)?;
        Ok(Prepared { pieces, room_pa, rt: GAS_CONSTANT * t_k, viscosity, leakage, joins_before })
    }

    /// The walk with `inlet_kg_s` through the nozzle.
    pub fn walk(&self, inlet_kg_s: f64) -> Result<Arrival, AirError> {
        let mut parts = Vec::with_capacity(self.pieces.len());
        let (suction_pa, total_kg_s) = self.walked(inlet_kg_s, |piece, part| {
            parts.push(PartAir { name: piece.name.to_owned(), ..part });
        })?;
        Ok(Arrival { suction_pa, leak_kg_s: total_kg_s - inlet_kg_s, parts })
    }

    /// Suction at the end of that walk, Pa, and all that flows there, kg/s.
    pub fn arrival(&self, inlet_kg_s: f64) -> Result<(f64, f64), AirError> {
        self.walked(inlet_kg_s, |_, _| ())
    }

    /// The same, with the suction after the first `places` pieces before it.
    pub fn arrival_by(&self, inlet_kg_s: f64, places: usize) -> Result<(f64, (f64, f64)), AirError> {
        let (mut lost_pa, mut place) = (0.0, 0);
        let arrival = self.walked(inlet_kg_s, |_, part| {
            lost_pa += if place < places { part.loss_pa } else { 0.0 };
            place += 1;
        })?;
        Ok((lost_pa, arrival))
    }

    fn walked(&self, inlet_kg_s: f64, mut pass: impl FnMut(&Piece, PartAir)) -> Result<(f64, f64), AirError> {
        let (mut total_pa, mut flow) = (self.room_pa, inlet_kg_s);
        let mut friction = LastFriction::default();
        for (i, piece) in self.pieces.iter().enumerate() {
            flow += self.leak(i, total_pa);
            let part =
                self.through(piece, total_pa, flow, &mut friction).map_err(|error| located(piece, error))?;
            total_pa -= part.loss_pa;
            pass(piece, part);
        }
        flow += self.leak(self.pieces.len(), total_pa);
        Ok((self.room_pa - total_pa, flow))
    }

    fn leak(&self, place: usize, total_pa: f64) -> f64 {
        let here = self.leakage.filter(|_| place == self.joins_before);
        here.map_or(0.0, |leak| leak.flow_kg_s(self.room_pa - total_pa))
    }

    /// What happens in a piece; the part has no name yet.
    fn through(
        &self,
        piece: &Piece,
        total_pa: f64,
        flow: f64,
        friction: &mut LastFriction,
    ) -> Result<PartAir, IsothermalError> {
        let (g, g_after) = (flux(flow, piece.bore_m), flux(flow, piece.bore_after_m));
        let static_in = self.static_of(total_pa, g)?;
        let static_out = match piece.loss {
            Loss::Sharp { k } => {
                self.static_of(total_pa - k * self.velocity_pressure(static_in, g), g_after)?
            }
            _ => outlet_pressure(static_in, g, self.rt, self.loss_number(piece, flow, friction)?)?,
        };
        let total_out = static_out + self.velocity_pressure(static_out, g_after);
        Ok(PartAir {
            name: String::new(),
            flow_m3_s: flow / STANDARD_DENSITY,
            velocity_m_s: g * self.rt / static_in,
            velocity_out_m_s: g_after * self.rt / static_out,
            static_in_pa: static_in,
            static_out_pa: static_out,
            loss_pa: total_pa - total_out,
        })
    }

    fn loss_number(&self, piece: &Piece, flow: f64, friction: &mut LastFriction) -> Result<f64, OutOfRange> {
        let d = piece.bore_m;
        let mut friction = |rough| friction.factor(4.0 * flow / (PI * d * self.viscosity), rough);
        match piece.loss {
            Loss::Sharp { k: n } | Loss::Fixed { n } => Ok(n),
            Loss::Wall { length_m, rough } => Ok(friction(rough)? * length_m / d),
            Loss::Bend { radius_m, angle_rad, rough } => bend(friction(rough)?, d, radius_m, angle_rad),
        }
    }

    fn velocity_pressure(&self, static_pa: f64, flux: f64) -> f64 {
        flux * flux * self.rt / (2.0 * static_pa)
    }

    /// Static pressure of air whose total pressure is known: the greater root of
    /// `p + G² R T / 2p = total`.
    fn static_of(&self, total_pa: f64, flux: f64) -> Result<f64, IsothermalError> {
        let under_root = total_pa * total_pa - 2.0 * flux * flux * self.rt;
        let static_pa = 0.5 * (total_pa + under_root.max(0.0).sqrt());
        let most_kg_s_m2 = total_pa / (1.5 * self.rt.sqrt());
        // Where the speed reaches that of (isothermal) sound, total is one and a half times static.
        if total_pa <= 0.0 || flux >= most_kg_s_m2 {
            return Err(IsothermalError::Choked { flux_kg_s_m2: flux, inlet_pa: total_pa, most_kg_s_m2 });
        }
        Ok(static_pa)
    }
}

fn flux(flow_kg_s: f64, bore_m: f64) -> f64 {
    flow_kg_s / (PI * bore_m * bore_m / 4.0)
}

fn located(piece: &Piece, error: IsothermalError) -> AirError {
    let part = piece.name.to_owned();
    match error {
        IsothermalError::Range(error) => AirError::Part { part, error },
        choked @ IsothermalError::Choked { .. } => AirError::Choked { part, choked },
    }
}

fn piece<'a>((name, kind): (&'a str, &PartKind)) -> Result<Piece<'a>, AirError> {
    let made = |(bore_m, bore_after_m, loss)| Piece { name, bore_m, bore_after_m, loss };
    measured(kind).map(made).map_err(|error| AirError::Part { part: name.to_owned(), error })
}

/// Bore before, bore after and loss of a part, its inputs checked once for every flow.
fn measured(kind: &PartKind) -> Result<(f64, f64, Loss), OutOfRange> {
    let m = |length: Length| length.get::<meter>();
    match *kind {
        PartKind::Entry { bore, loss } => {
            let k = in_range("entry loss", loss, (0.0, 10.0), "")?;
            even(bore, Loss::Sharp { k })
        }
        PartKind::Hose { bore, length, friction } => {
            in_range("length of the hose", m(length), (0.0, 100.0), "m")?;
            in_range("air friction of the hose", friction, (0.0, 1.0), "")?;
            even(bore, Loss::Fixed { n: friction * m(length) / m(bore) })
        }
        PartKind::Expansion { from, to } => {
            let k = expansion(m(from), m(to))?;
            Ok((m(from), m(to), Loss::Sharp { k }))
        }
        PartKind::Throat { bore, throat: narrow } => {
            let k = throat(m(bore), m(narrow))?;
            even(bore, Loss::Sharp { k })
        }
        PartKind::Tube { bore, length, roughness } => {
            let length_m = in_range("length of tube", m(length), (0.0, 1000.0), "m")?;
            even(bore, Loss::Wall { length_m, rough: relative(roughness, bore)? })
        }
        PartKind::Bend { bore, radius, angle, roughness } => {
            let (radius_m, angle_rad) = (m(radius), angle.get::<radian>());
            bend(0.02, m(bore), radius_m, angle_rad)?;
            even(bore, Loss::Bend { radius_m, angle_rad, rough: relative(roughness, bore)? })
        }
        PartKind::Junction { bore, branch, into } => {
            let k = branch_entry(branch.get::<radian>())?;
            in_range("bore of the trunk", m(into), (0.001, 10.0), "m")?;
            even(bore, Loss::Sharp { k }).map(|(before, _, loss)| (before, m(into), loss))
        }
    }
}

fn even(bore: Length, loss: Loss) -> Result<(f64, f64, Loss), OutOfRange> {
    let bore_m = in_range("bore", bore.get::<meter>(), (0.001, 1.0), "m")?;
    Ok((bore_m, bore_m, loss))
}

fn relative(roughness: Length, bore: Length) -> Result<f64, OutOfRange> {
    in_range("roughness over diameter", roughness.get::<meter>() / bore.get::<meter>(), (0.0, 0.1), "")
}

/// A step in bore that no part accounts for would lose or win pressure without a word.
fn check_bores(pieces: &[Piece]) -> Result<(), AirError> {
    if pieces.is_empty() {
        return Err(AirError::NoParts);
    }
    let step = |pair: &&[Piece]| (pair[1].bore_m - pair[0].bore_after_m).abs() > 1e-6;
    match pieces.windows(2).find(step) {
        None => Ok(()),
        Some(pair) => Err(AirError::BoreStep {
            part: pair[1].name.to_owned(),
            bore_m: pair[1].bore_m,
            before_m: pair[0].bore_after_m,
        }),
    }
}

fn place_of(leak: &Leakage, pieces: &[Piece]) -> Result<usize, AirError> {
    use uom::si::volume_rate::cubic_meter_per_second;
    let flow = leak.reference_flow.get::<cubic_meter_per_second>();
    in_range("leakage", flow, (0.0, 1.0), "m3/s").map_err(AirError::Leakage)?;
    let suction = leak.reference_suction.get::<pascal>();
    in_range("suction of the leakage", suction, (1.0, 1e5), "Pa").map_err(AirError::Leakage)?;
    match &leak.joins {
        LeakJoins::AtUnit => Ok(pieces.len()),
        LeakJoins::Before(name) => {
            let place = pieces.iter().position(|piece| piece.name == name);
            place.ok_or_else(|| AirError::NoSuchPart { part: name.clone() })
        }
    }
}

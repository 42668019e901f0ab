//! Data that clauses cannot do without, and what to fill in where they are missing.
use super::clause::{Ask, Outcome};
use crate::company::{Inlet, LineSpec, Owner};

/// Something that a clause needs to know.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Need {
    /// The hose itself: its length, weight and size, which the catalog always gives. A lesson may name none.
    Hose,
    /// Its friction against tube and floor.
    HoseFriction,
    /// The Darcy friction factor of its bore.
    HoseAirFriction,
    /// What its handle lets in: thickness and length.
    Handle,
    /// The way from the stop to the unit.
    WayToUnit,
    /// Places at both ends of a line; the check itself tells which line has them.
    Places,
    /// What the line is bored through; the check itself tells which run is silent.
    Crossings,
    /// The control wire of the catalog.
    ControlWire,
    /// What the unit draws, and the rating of its breaker.
    UnitAmps,
    /// Whether a circuit of its own feeds the unit.
    OwnCircuit,
}

/// The line of an inlet as the job writes it.
fn line_of<'a>(ask: &Ask<'a>, inlet: &Inlet) -> Option<&'a LineSpec> {
    ask.job.lines.iter().find(|line| matches!(line.owner, Owner::Inlet(_)) && line.id == inlet.id)
}

impl Need {
    /// Whether a bare raceway, drawn in a lesson with no house round it, can answer it.
    pub fn of_a_bare_raceway(self) -> bool {
        match self {
            Need::Hose | Need::HoseFriction | Need::HoseAirFriction | Need::Handle => true,
            Need::WayToUnit
            | Need::Places
            | Need::Crossings
            | Need::ControlWire
            | Need::UnitAmps
            | Need::OwnCircuit => false,
        }
    }

    /// Whether it is the hose, or something of it.
    pub fn of_the_hose(self) -> bool {
        matches!(self, Need::Hose | Need::HoseFriction | Need::HoseAirFriction | Need::Handle)
    }

    /// What has to be known, and where it is filled in; `None` for what is always there.
    pub fn wanted(self) -> Option<&'static str> {
        match self {
            Need::Hose => None,
            Need::HoseFriction => Some("the hose's friction, in the catalog"),
            Need::HoseAirFriction => Some("the hose's friction for air, in the catalog"),
            Need::Handle => Some("what the hose's handle lets in, in the catalog"),
            Need::WayToUnit => Some("how the line goes on from the stop to the unit, in the job"),
            Need::Places => Some("the places of both ends of the line, in the job"),
            Need::Crossings => Some("what every run is bored through, or that it is nothing, in the job"),
            Need::ControlWire => Some("the control wire, in the catalog"),
            Need::UnitAmps => Some("what the unit draws and the rating of its breaker, in the catalog"),
            Need::OwnCircuit => {
                Some("from the electrician, whether the unit has a circuit of its own, in the job")
            }
        }
    }

    /// That it is missing, and what would fill it in; `None` where it is there. `inlet` is the one that is
    /// judged, where an inlet is.
    pub fn lack(self, ask: &Ask, inlet: Option<&Inlet>) -> Option<Outcome> {
        match self {
            Need::Hose | Need::Places | Need::Crossings => None,
            Need::HoseFriction => {
                let hose = &inlet?.hose;
                hose.friction.is_none().then(|| open("hose", &hose.id, "friction"))
            }
            Need::HoseAirFriction => {
                let hose = &inlet?.hose;
                hose.air_friction.is_none().then(|| open("hose", &hose.id, "air-friction"))
            }
            Need::Handle => {
                let hose = &inlet?.hose;
                let (throat, passes) = (hose.throat_m.is_none(), hose.handle_passes_m.is_none());
                let key = if throat { "throat" } else { "handle-passes" };
                (throat || passes).then(|| open("hose", &hose.id, key))
            }
            Need::WayToUnit => line_of(ask, inlet?)?.into.is_none().then(|| {
                Outcome::open(
                    "the job does not say how the line goes on from the stop to the unit".into(),
                    "fill in `onward:` of this inlet".into(),
                )
            }),
            Need::ControlWire => {
                ask.catalog.wire.is_none().then(|| Outcome::no_subject("the catalog lists no control wire"))
            }
            Need::OwnCircuit => ask.job.unit.own_circuit.is_none().then(own_circuit),
            Need::UnitAmps => {
                let unit = &ask.job.unit.model;
                let key = if unit.amps.is_none() { "amps" } else { "breaker" };
                (unit.amps.is_none() || unit.breaker_amps.is_none()).then(|| open("unit", &unit.id, key))
            }
        }
    }
}

/// The job's word on the circuit, which is the electrician's.
fn own_circuit() -> Outcome {
    Outcome::asked(
        "the job does not say whether a circuit of its own feeds the unit".into(),
        "ask the electrician, and fill in `own-circuit: yes` or `no` under `unit:` of the job".into(),
    )
}

fn open(part: &str, id: &str, key: &str) -> Outcome {
    Outcome::open(
        format!("the catalog gives no `{key}` for {part} {id}"),
        format!("fill in `{key}:` of {part} {id} in the catalog"),
    )
}

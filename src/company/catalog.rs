//! The parts a firm uses, with their figures. Lengths in metres, forces in newtons, flow in m³/s.
use super::rests::FaultyPart;

/// All parts of a firm, by kind.
#[derive(Debug, Clone)]
pub struct Catalog {
    /// The tube; a firm has one.
    pub tube: Tube,
    /// Bends, couplings, stops and junctions, in the order written.
    pub fittings: Vec<Fitting>,
    /// Hoses.
    pub hoses: Vec<Hose>,
    /// Wall valves.
    pub valves: Vec<Valve>,
    /// Power units.
    pub units: Vec<UnitPart>,
    /// Control wire; `None` where the firm lists none.
    pub wire: Option<Wire>,
    /// Parts with a fault, which stand in none of the lists above (but for the tube, without which there is
    /// no catalog); a job that rests on one is not read.
    pub faulty: Vec<FaultyPart>,
}

/// The tube.
#[derive(Debug, Clone, PartialEq)]
pub struct Tube {
    pub id: String,
    pub outside_m: f64,
    pub bore_m: f64,
    /// Length of a stick as bought.
    pub stick_m: f64,
    /// What a cut takes away.
    pub kerf_m: f64,
    /// The shortest piece that may be built in.
    pub shortest_m: f64,
    /// Equivalent sand roughness of the bore.
    pub roughness_m: f64,
    /// How much wider than the tube's outside the firm bores; `None` where the catalog is silent.
    pub clearance_m: Option<f64>,
}

/// Where a fitting may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    Raceway,
    Trunk,
    Either,
}

impl Purpose {
    /// Whether a fitting of this purpose may stand in a raceway.
    pub fn suits_raceway(self) -> bool {
        self != Purpose::Trunk
    }
}

/// A fitting.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitting {
    pub id: String,
    /// Name for people; the id where the catalog gives none.
    pub name: String,
    pub kind: FittingKind,
    /// Depth of its sockets: how far a tube goes in. `None` where the catalog is silent.
    pub socket_m: Option<f64>,
    pub purpose: Purpose,
}

/// What a fitting does.
#[derive(Debug, Clone, PartialEq)]
pub enum FittingKind {
    Bend(Bend),
    Coupling(Coupling),
    Stop(StopFitting),
    Junction(Branch),
    /// Closes the open end of a trunk.
    Cap,
    Reducer(Reducer),
}

/// A bend's figures.
#[derive(Debug, Clone, PartialEq)]
pub struct Bend {
    pub angle_deg: f64,
    /// Centreline radius.
    pub radius_m: f64,
    /// From the work point to the socket bottom, where a tube's end comes to rest.
    pub laying_length_m: f64,
}

/// A coupling's figures.
#[derive(Debug, Clone, PartialEq)]
pub struct Coupling {
    /// What its middle ridge keeps between the two tube ends.
    pub gap_m: f64,
}

/// The figures of the stop fitting, in which a raceway ends and from which the onward tube goes on.
#[derive(Debug, Clone, PartialEq)]
pub struct StopFitting {
    /// The thickest thing that gets through.
    pub passes_m: f64,
    /// What it keeps between the end of the raceway's tube and that of the onward tube; `None` where
    /// the catalog is silent.
    pub inside_gap_m: Option<f64>,
}

/// The figures of a reducer between tube and a part of another size.
#[derive(Debug, Clone, PartialEq)]
pub struct Reducer {
    /// The thickest thing that gets through; `None` where the catalog is silent.
    pub passes_m: Option<f64>,
    /// What it keeps between the two ends that seat in it; `None` where the catalog is silent.
    pub inside_gap_m: Option<f64>,
}

/// A junction's figures.
#[derive(Debug, Clone, PartialEq)]
pub struct Branch {
    /// Angle between branch and run, degrees: 45 for a wye, 90 for a tee.
    pub branch_deg: f64,
    /// Centreline radius of the way from branch into run; `None` for a sharp one.
    pub radius_m: Option<f64>,
    /// From the work point to the bottom of the branch socket; `None` where the catalog is silent.
    pub branch_laying_length_m: Option<f64>,
    /// From the work point to the bottom of each run socket; `None` where the catalog is silent.
    pub run_laying_length_m: Option<f64>,
}

impl Fitting {
    /// The bend's figures, when it is one.
    pub fn bend(&self) -> Option<&Bend> {
        match &self.kind {
            FittingKind::Bend(bend) => Some(bend),
            _ => None,
        }
    }

    /// The junction's figures, when it is one.
    pub fn junction(&self) -> Option<&Branch> {
        match &self.kind {
            FittingKind::Junction(branch) => Some(branch),
            _ => None,
        }
    }
}

/// A hose's friction against tube (drawn in, drawn out) and against a floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Friction {
    pub drawn_in: f64,
    pub drawn_out: f64,
    pub floor: f64,
}

/// A hose.
#[derive(Debug, Clone, PartialEq)]
pub struct Hose {
    pub id: String,
    pub name: String,
    pub length_m: f64,
    pub outside_m: f64,
    pub bore_m: f64,
    pub weight_n_per_m: f64,
    pub sock: bool,
    pub friction: Option<Friction>,
    /// Darcy friction factor of its bore.
    pub air_friction: Option<f64>,
    /// Outside diameter of the hose's end, where it is thickest; `None` where the catalog is silent.
    pub tail_m: Option<f64>,
    /// Resistance to bending, N m²; `None` where it was never measured.
    pub stiffness_n_m2: Option<f64>,
    /// The thickest object that the handle lets in.
    pub throat_m: Option<f64>,
    /// The longest stiff object that the handle's bend lets in.
    pub handle_passes_m: Option<f64>,
}

/// What does a duty of a valve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Duty {
    Door,
    Cuff,
    Tab,
    Anywhere,
    FullLength,
}

/// What is set at rough-in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum RoughIn {
    /// The bare frame; the works come at trim.
    Frame,
    /// The box with its works; only the door comes at trim.
    Box,
}

/// A wall valve, told by what does each of its duties.
#[derive(Debug, Clone, PartialEq)]
pub struct Valve {
    pub id: String,
    pub name: String,
    /// `Door` or `Cuff`.
    pub seal: Duty,
    /// `Anywhere` or `FullLength`.
    pub grips: Duty,
    /// `Door`, `Cuff` or `Tab`.
    pub switch: Duty,
    pub rough_in: RoughIn,
    /// Room it takes in the wall.
    pub depth_m: f64,
    /// Depth of its socket; `None` where the catalog is silent.
    pub socket_m: Option<f64>,
    /// Diameter of the passage that the hose slides through; `None` where the catalog is silent.
    pub opening_m: Option<f64>,
    /// What it leaks when idle, at `leak_at_pa`; `None` where not known.
    pub leak_m3_s: Option<f64>,
    /// The suction at which `leak_m3_s` was taken.
    pub leak_at_pa: f64,
    /// Size of the rough-in box (width, height), for its drawing; `None` where the catalog is silent.
    pub box_m: Option<(f64, f64)>,
}

/// A power unit.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitPart {
    pub id: String,
    pub name: String,
    /// Suction (Pa below atmosphere) against flow (m³/s), flow rising.
    pub curve: Vec<(f64, f64)>,
    /// Depth of the socket that the line seats in; `None` where the catalog is silent.
    pub socket_m: Option<f64>,
    pub volts: Option<f64>,
    pub amps: Option<f64>,
    /// Rating of the breaker of its circuit; `None` where the catalog is silent.
    pub breaker_amps: Option<f64>,
    /// Whether it is fastened in place, as a unit hung on its bracket is, on cord and plug or not.
    pub fastened: bool,
}

/// Control wire.
#[derive(Debug, Clone, PartialEq)]
pub struct Wire {
    pub id: String,
    pub gauge_awg: i32,
    pub stranded: bool,
    pub volts: f64,
    pub amps: f64,
}

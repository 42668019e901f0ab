//! A job worked out by hand, for tests of sheets: two inlets on one trunk, one well and one amiss.
use super::worked::*;
use crate::company::*;
use crate::measure::{FOOT_M, INCH_M, Lengths};
use crate::route::{
    Bend as RouteBend, Closure, End, JobRoutes, Leg, Onward as OnwardRoute, Route, TrunkRoute,
    Tube as RouteTube,
};
use crate::standard::{Finding, Findings, Quantity, Spot, Verdict};
use glam::DVec3;

/// Everything that a [`Worked`] borrows.
pub struct Fixture {
    pub firm: Firm,
    pub catalog: Catalog,
    pub standards: Vec<Standard>,
    pub job: Job,
    pub routes: JobRoutes,
    pub findings: Findings,
    pub cuts: Cuts,
    pub figures: JobFigures,
}

impl Fixture {
    /// The job as the sheets take it.
    pub fn worked(&self) -> Worked<'_> {
        Worked {
            firm: &self.firm,
            catalog: &self.catalog,
            standard: &self.standards[1],
            job: &self.job,
            routes: &self.routes,
            findings: &self.findings,
            cuts: &self.cuts,
            figures: &self.figures,
        }
    }
}

/// The job.
pub fn gull_cottage() -> Fixture {
    let firm = firm();
    let catalog = catalog();
    let routes = routes(&catalog);
    Fixture {
        job: job(&catalog),
        cuts: cuts(&routes),
        findings: findings(),
        figures: figures(),
        standards: vec![standard("2025-1"), standard("2026-1")],
        firm,
        catalog,
        routes,
    }
}

/// Pictures that stand in for drawings.
pub fn pictures() -> JobPictures {
    let svg = |name: &str, high: u32| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"190mm\" height=\"{high}mm\" viewBox=\"0 0 190 {high}\" \
             role=\"img\" aria-labelledby=\"t\"><title id=\"t\">{name}</title>\
             <defs><pattern id=\"h\" width=\"2\" height=\"2\" patternUnits=\"userSpaceOnUse\">\
             <path d=\"M0 2 2 0\" stroke=\"#000\" stroke-width=\".25\"/></pattern></defs>\
             <rect x=\".25\" y=\".25\" width=\"189.5\" height=\"{}\" fill=\"url(#h)\" stroke=\"#000\" stroke-width=\".5\"/>\
             <rect x=\"40\" y=\"10\" width=\"110\" height=\"12\" fill=\"#fff\" stroke=\"#000\" stroke-width=\".25\"/>\
             <text x=\"44\" y=\"18\" font-family=\"DejaVu Sans\" font-size=\"4\">{name}, A1 4 ft 2-3/8 in, 190 mm wide</text></svg>",
            f64::from(high) - 0.5
        )
    };
    let inlet = |name: &str| Pictures {
        elevation: svg(&format!("{name} elevation"), 70),
        plan: svg(&format!("{name} plan"), 80),
        isometric: Some(svg(&format!("{name} isometric"), 80)),
        effort: Some(svg(&format!("{name} effort"), 50)),
    };
    JobPictures {
        inlets: vec![inlet("Hall"), inlet("Loft")],
        key_plan: Some(svg("Key plan", 90)),
        cutting: Some(svg("Cutting plan", 60)),
    }
}

fn ft(feet: f64) -> f64 {
    feet * FOOT_M
}

fn inch(inches: f64) -> f64 {
    inches * INCH_M
}

fn firm() -> Firm {
    Firm {
        name: "Saltmarsh Piping Co.".into(),
        contact: vec![
            "3 Quay Loft, Port Ellery".into(),
            "office: ring the yard before eight".into(),
        ],
        paper: Paper::Letter,
        lengths: Lengths::FtIn,
        theme: "drafting".into(),
        standard: "2026-1".into(),
    }
}

fn catalog() -> Catalog {
    let bend = |id: &str, name: &str, angle_deg, radius_in: f64, stop_in: f64, purpose| Fitting {
        id: id.into(),
        name: name.into(),
        kind: FittingKind::Bend(Bend {
            angle_deg,
            radius_m: inch(radius_in),
            centre_to_stop_m: inch(stop_in),
        }),
        socket_m: Some(inch(1.125)),
        purpose,
    };
    let plain = |id: &str, name: &str, kind, socket_m| Fitting {
        id: id.into(),
        name: name.into(),
        kind,
        socket_m,
        purpose: Purpose::Either,
    };
    let wye = Branch {
        branch_deg: 45.0,
        radius_m: None,
        branch_to_stop_m: None,
        run_to_stop_m: None,
    };
    Catalog {
        tube: Tube {
            id: "tube-2in".into(),
            outside_m: inch(2.0),
            bore_m: inch(1.87),
            stick_m: ft(8.0),
            kerf_m: inch(0.125),
            shortest_m: inch(4.0),
            roughness_m: 1.5e-6,
        },
        fittings: vec![
            bend("sweep-90", "sweep 90", 90.0, 7.0, 8.0, Purpose::Raceway),
            bend("sweep-45", "sweep 45", 45.0, 7.0, 4.0, Purpose::Raceway),
            bend("short-90", "short 90", 90.0, 2.0, 2.25, Purpose::Trunk),
            plain(
                "coupling",
                "coupling",
                FittingKind::Coupling(Coupling { gap_m: inch(0.125) }),
                Some(inch(1.125)),
            ),
            plain(
                "stop",
                "stop",
                FittingKind::Stop { passes_m: inch(1.5) },
                Some(inch(1.125)),
            ),
            plain("wye-45", "wye with a 45", FittingKind::Junction(wye), None),
        ],
        hoses: vec![hose()],
        valves: vec![valve("door-sealed", Duty::Door), valve("cuff-sealed", Duty::Cuff)],
        units: vec![unit()],
        wire: None,
    }
}

fn hose() -> Hose {
    Hose {
        id: "socked-40".into(),
        name: "socked, 40 ft".into(),
        length_m: ft(40.0),
        outside_m: inch(1.75),
        bore_m: inch(1.4),
        weight_n_per_m: 3.65,
        sock: true,
        friction: Some(Friction {
            drawn_in: 0.32,
            drawn_out: 0.28,
            floor: 0.3,
        }),
        air_friction: Some(0.045),
        throat_m: None,
        handle_passes_m: None,
    }
}

fn valve(id: &str, seal: Duty) -> Valve {
    let door = seal == Duty::Door;
    Valve {
        id: id.into(),
        name: if door {
            "Door-sealed frame valve"
        } else {
            "Cuff-sealed box valve"
        }
        .into(),
        seal,
        hold: if door { Duty::Anywhere } else { Duty::FullLength },
        switch: if door { Duty::Door } else { Duty::Cuff },
        rough_in: if door { RoughIn::Frame } else { RoughIn::Box },
        depth_m: inch(3.5),
        socket_m: door.then(|| inch(1.125)),
        leak_m3_s: None,
        leak_at_pa: 25_000.0,
        box_m: None,
    }
}

fn unit() -> UnitPart {
    UnitPart {
        id: "basement-600".into(),
        name: "Basement unit 600".into(),
        curve: vec![(0.0, 32_000.0), (0.06, 0.0)],
        volts: Some(120.0),
        amps: Some(14.0),
        breaker_amps: Some(20.0),
    }
}

fn direction(words: &str) -> Direction {
    Direction {
        vector: heading(words),
        words: words.into(),
    }
}

fn heading(words: &str) -> DVec3 {
    match words {
        "east" => DVec3::X,
        "west" => DVec3::NEG_X,
        "north" => DVec3::Y,
        "south" => DVec3::NEG_Y,
        "up" => DVec3::Z,
        _ => DVec3::NEG_Z,
    }
}

fn job(catalog: &Catalog) -> Job {
    let inlet = |id: &str, name: &str, valve: usize| Inlet {
        id: id.into(),
        name: name.into(),
        valve: catalog.valves[valve].clone(),
        hose: hose(),
        at: None,
        raceway: Path {
            leaves: direction(if valve == 0 { "down" } else { "up" }),
            steps: Vec::new(),
        },
        onward: Some(Onward {
            steps: Vec::new(),
            into: Into::Trunk {
                trunk: 0,
                at_m: ft(20.0),
                with: catalog.fittings[5].clone(),
            },
        }),
        waivers: Vec::new(),
        readings: Readings::default(),
    };
    Job {
        key: "harbour/gull-cottage".into(),
        title: "Gull Cottage".into(),
        address: "7 Heron Lane, Port Ellery".into(),
        date: Date::constant(2026, 11, 30),
        built: Some(1962),
        standard: "2026-1".into(),
        levels: Vec::new(),
        unit: UnitPlace {
            model: unit(),
            at: None,
        },
        trunks: vec![Trunk {
            id: "main".into(),
            starts: None,
            path: Path {
                leaves: direction("west"),
                steps: Vec::new(),
            },
            into: Into::Unit,
        }],
        inlets: vec![inlet("hall", "Hall", 0), inlet("loft", "Loft <stairs>", 1)],
    }
}

/// Lays a line of right-angled legs: direction and length in feet, with one fitting for every turn.
fn lay(fitting: &Fitting, ends: (End, End), legs: &[(&str, f64)]) -> Route {
    let (mut at, mut station, mut so_far) = (DVec3::ZERO, 0.0, 0.0);
    let mut route = Route {
        start: at,
        legs: Vec::new(),
        bends: Vec::new(),
        tubes: Vec::new(),
        centre_m: 0.0,
        hose_path_m: 0.0,
        bend_total_deg: 0.0,
        riser_legs: 1,
        level_deviation_m: 0.0,
        reversals: 0,
        end: at,
        end_heading: DVec3::X,
    };
    let figures = fitting.bend().unwrap();
    for (n, (words, feet)) in legs.iter().enumerate() {
        let (length_m, way) = (ft(*feet), heading(words));
        if n > 0 {
            so_far += figures.angle_deg;
            route.bends.push(RouteBend {
                n,
                angle_deg: figures.angle_deg,
                so_far_deg: so_far,
                point: at,
                at_centre_m: station,
                heading_in: heading(legs[n - 1].0),
                heading_out: way,
                heading_words: words.to_string(),
                fitting: Some(fitting.clone()),
                named: false,
                radius_m: figures.radius_m,
                tangent_m: figures.radius_m,
                arc_m: figures.radius_m * 1.5708,
                centre_to_stop_m: figures.centre_to_stop_m,
                roll_deg: [None, Some(90.0), Some(-90.0), Some(180.0), Some(0.0)]
                    .get(n - 1)
                    .copied()
                    .flatten(),
                line: 0,
            });
        }
        let first = (length_m / 2.0, 12);
        let runs = if *feet > 15.0 {
            vec![first, (length_m - first.0, 13)]
        } else {
            vec![(length_m, 12)]
        };
        let crossings = if n == 0 {
            vec![(ft(1.4), crossing())]
        } else {
            Vec::new()
        };
        let to = at + way * length_m;
        route.legs.push(Leg {
            from: at,
            to,
            heading: way,
            length_m,
            station_m: station,
            runs,
            crossings,
        });
        let end = |first: bool| match (first, n) {
            (true, 0) => ends.0,
            (true, n) => End::Bend(n),
            (false, n) if n + 1 == legs.len() => ends.1,
            (false, n) => End::Bend(n + 1),
        };
        let bends = f64::from(u8::from(n > 0) + u8::from(n + 1 < legs.len()));
        let clear_m = length_m - bends * figures.centre_to_stop_m;
        route.tubes.push(RouteTube {
            mark: format!("A{}", n + 1),
            leg: n,
            from: end(true),
            to: end(false),
            clear_m,
        });
        station += length_m;
        at = to;
    }
    route.centre_m = station;
    route.hose_path_m = station - so_far / 90.0 * figures.radius_m * (2.0 - 1.5708);
    route.bend_total_deg = so_far;
    route.end = at;
    route
}

fn crossing() -> Crossing {
    Crossing {
        at_m: ft(1.4),
        member: Member::BottomPlate,
        size: Some("2x4".into()),
        thickness_m: Some(inch(1.5)),
        depth_m: Some(inch(3.5)),
        bearing: true,
        doubled: false,
        hole_m: Some(inch(2.125)),
        from_edge_m: None,
        from_end_m: None,
        garage_wall: false,
        floor: true,
    }
}

fn routes(catalog: &Catalog) -> JobRoutes {
    let (sweep, short) = (&catalog.fittings[0], &catalog.fittings[2]);
    let race = (End::Valve, End::Stop);
    let far = (End::Stop, End::Far);
    let closure = Closure {
        wanted: DVec3::ZERO,
        miss: DVec3::new(0.01, 0.0, 0.0),
        place: "trunk main at 20 ft".into(),
    };
    let onward = |legs: &[(&str, f64)]| {
        Some(OnwardRoute {
            route: lay(short, far, legs),
            closure: Some(closure.clone()),
        })
    };
    JobRoutes {
        raceways: vec![
            lay(
                sweep,
                race,
                &[
                    ("down", 4.625),
                    ("north", 17.25),
                    ("east", 14.8125),
                    ("north", 9.1667),
                ],
            ),
            lay(
                sweep,
                race,
                &[
                    ("up", 5.0),
                    ("east", 12.5),
                    ("north", 10.25),
                    ("west", 1.0),
                    ("north", 6.0),
                    ("up", 3.0),
                ],
            ),
        ],
        onward: vec![
            onward(&[("north", 3.0), ("west", 2.5)]),
            onward(&[("up", 1.0), ("west", 4.0)]),
        ],
        trunks: vec![TrunkRoute {
            id: "main".into(),
            route: lay(short, (End::Start, End::Far), &[("west", 38.0), ("down", 3.6667)]),
            anchor: crate::route::Anchor::None,
            closure: None,
        }],
    }
}

/// Cuts every tube by rule, whole sticks first.
fn cuts(routes: &JobRoutes) -> Cuts {
    let cut = |letter: &str, route: &Route| -> Vec<TubeCut> {
        route
            .tubes
            .iter()
            .enumerate()
            .map(|(i, tube)| tube_cut(&format!("{letter}{}", i + 1), tube.clear_m))
            .collect()
    };
    let inlets: Vec<Vec<TubeCut>> = routes.raceways.iter().map(|route| cut("A", route)).collect();
    let sticks = inlets
        .iter()
        .zip(["Hall", "Loft <stairs>"])
        .flat_map(|(tubes, owner)| {
            tubes
                .iter()
                .flat_map(move |tube| tube.pieces.clone().into_iter().map(move |piece| (piece, owner)))
        });
    let stick = |(piece, owner): (Piece, &str)| StickCut {
        offcut_m: ft(8.0) - piece.length_m,
        pieces: vec![StickPiece {
            mark: piece.mark,
            owner: owner.into(),
            length_m: piece.length_m,
        }],
    };
    let item = |part: &str, kind: &str, count, unit: &str, note: &str| Item {
        part: part.into(),
        kind: kind.into(),
        count,
        unit: unit.into(),
        note: note.into(),
    };
    Cuts {
        sticks: sticks.map(stick).collect(),
        onward: routes
            .onward
            .iter()
            .flatten()
            .map(|o| cut("O", &o.route))
            .collect(),
        trunks: routes.trunks.iter().map(|t| cut("T", &t.route)).collect(),
        lower_bound: 11,
        proven: false,
        items: vec![
            item("Tube 2 in", "tube", 13.0, "sticks", "8 ft each; one spare"),
            item("sweep 90", "bend", 8.0, "", ""),
            item("stop", "stop", 2.0, "", "one for each raceway"),
            item("Solvent cement", "cement", 1.5, "pint", "for 44 joints"),
            item(
                "Control wire 18 AWG",
                "wire",
                120.0,
                "ft",
                "to every valve and spare at each end",
            ),
        ],
        inlets,
    }
}

fn tube_cut(mark: &str, clear_m: f64) -> TubeCut {
    if clear_m < 0.0 {
        let problem = Some("B3 and B4 collide: 4 in of room is missing".into());
        return TubeCut {
            mark: mark.into(),
            clear_m,
            pieces: Vec::new(),
            problem,
        };
    }
    let count = (clear_m / ft(8.0)).ceil().max(1.0) as usize;
    let piece = |i: usize| Piece {
        mark: if count == 1 {
            mark.into()
        } else {
            format!("{mark}{}", char::from(b'a' + i as u8))
        },
        length_m: clear_m / count as f64,
    };
    TubeCut {
        mark: mark.into(),
        clear_m,
        pieces: (0..count).map(piece).collect(),
        problem: None,
    }
}

fn finding(
    number: &str,
    clause: &str,
    title: &str,
    verdict: Verdict,
    note: &str,
    remedy: Option<&str>,
) -> Finding {
    Finding {
        clause: clause.into(),
        number: number.into(),
        title: title.into(),
        level: Forced::Must,
        verdict,
        measured: Some(3.9),
        limit: Some(6.28),
        quantity: Quantity::Angle,
        bends: vec![3],
        spots: vec![Spot::Bend(3)],
        note: note.into(),
        remedy: remedy.map(str::to_string),
        waiver: (verdict == Verdict::Waived).then(|| Waiver {
            clause: clause.into(),
            because: "Finished soffit; builder's drawing A-4".into(),
            by: "crew lead".into(),
        }),
    }
}

fn findings() -> Findings {
    Findings {
        inlets: vec![
            vec![
                finding(
                    "1.1",
                    "bend-total",
                    "Bend total",
                    Verdict::Pass,
                    "270° of 360° allowed",
                    None,
                ),
                finding(
                    "1.2",
                    "hose-room",
                    "Hose room",
                    Verdict::Pass,
                    "45 ft 2-9/16 in of hose path; 44 ft needed for 40 ft of hose and 10 %",
                    None,
                ),
                finding(
                    "1.3",
                    "bend-spacing",
                    "Bend spacing",
                    Verdict::Caution,
                    "9 in of tube between B2 and B3; 12 in wanted",
                    Some("move B3 3 in on"),
                ),
            ],
            vec![
                finding(
                    "1.1",
                    "bend-total",
                    "Bend total",
                    Verdict::Fail,
                    "450° of 360° allowed",
                    Some("turn toward north-east at B2 with a 45 and leave out B4 and B5: 180° less"),
                ),
                finding(
                    "1.2",
                    "hose-room",
                    "Hose room",
                    Verdict::Fail,
                    "36 ft 1 in of hose path; 44 ft needed",
                    Some("lengthen the run from B1 to B2 by 7 ft 11 in"),
                ),
                finding(
                    "1.3",
                    "bend-spacing",
                    "Bend spacing",
                    Verdict::Waived,
                    "no tube between B3 and B4; 12 in wanted",
                    None,
                ),
                finding(
                    "1.4",
                    "one-level",
                    "One level",
                    Verdict::NotChecked,
                    "no level is given for the loft",
                    None,
                ),
            ],
        ],
        job: vec![finding(
            "3.1",
            "circuit",
            "Circuit",
            Verdict::Pass,
            "14 A on a 20 A circuit; 16 A allowed",
            None,
        )],
    }
}

fn figures() -> JobFigures {
    let working = Working {
        name: "Draw-in through a level bend".into(),
        result_words: "9.5 lbf".into(),
        mathml: "<math display=\"block\"><mi>T</mi><mo>=</mo><msub><mi>T</mi><mn>0</mn></msub><mi>cosh</mi><mo>(</mo><mi>μ</mi><mi>θ</mi><mo>)</mo></math>".into(),
        with_numbers: "5.22 · cosh(0.32 · 1.571) + …".into(),
        source: "lubricant maker's note on cable pulling".into(),
    };
    JobFigures {
        inlets: vec![
            InletFigures {
                effort: Some(Effort {
                    draw_in_n: 23.2,
                    available_n: Some(42.0),
                    pull_out_n: 20.0,
                    curve: Vec::new(),
                }),
                air: Some(Air {
                    flow_m3_s: 0.0354,
                    velocity_m_s: 20.0,
                    suction_at_valve_pa: 17_400.0,
                    suction_at_unit_pa: 22_400.0,
                    air_power_w: 420.0,
                }),
                passage: vec![
                    Passage {
                        place: "B1, sweep 90".into(),
                        longest_m: inch(6.2),
                    },
                    Passage {
                        place: "wye on trunk main".into(),
                        longest_m: inch(4.1),
                    },
                ],
                workings: vec![working],
                sealed_suction_pa: Some(31_000.0),
            },
            InletFigures::default(),
        ],
    }
}

/// Two revisions that differ: the older has one more clause and a tighter one.
fn standard(revision: &str) -> Standard {
    let old = revision == "2025-1";
    let computed = |number: &str, id: &str, title: &str, value: Option<f64>, text: &str| ClauseText {
        number: number.into(),
        id: id.into(),
        title: title.into(),
        level: Forced::Must,
        text: text.into(),
        because: "A raceway one bend too many shows only *after* the plaster is on.".into(),
        source: "NFPA 70, 358.26, for conduit; common practice here".into(),
        rule: Rule::Computed { value },
    };
    let by_eye = |number: &str, id: &str, title: &str, tick: &str, per, when, seal| ClauseText {
        rule: Rule::ByEye(ByEye {
            tick: tick.into(),
            per,
            when,
            seal,
            hold: None,
            switch: None,
            rough_in: None,
        }),
        source: String::new(),
        ..computed(number, id, title, None, tick)
    };
    let mut raceway = vec![
        computed(
            "1.1",
            "bend-total",
            "Bend total",
            Some(if old { 315.0 } else { 360.0 }),
            "At most **360 degrees** between valve and stop. <script>alert(1)</script>",
        ),
        computed(
            "1.2",
            "hose-room",
            "Hose room",
            Some(0.1),
            "The hose path is longer than the hose by a tenth.",
        ),
        computed(
            "1.3",
            "bend-spacing",
            "Bend spacing",
            Some(0.3048),
            "A foot of tube between bends.",
        ),
        computed(
            "1.4",
            "one-level",
            "One level",
            Some(0.0127),
            "After the riser one level.",
        ),
    ];
    if old {
        raceway.push(computed("1.5", "no-dip", "No dip", None, "No dip anywhere."));
    }
    let joints = vec![
        by_eye(
            "2.1",
            "square",
            "Square",
            "Cut square",
            Per::Joint,
            Phase::RoughIn,
            None,
        ),
        by_eye(
            "2.2",
            "deburr",
            "Deburred",
            "Deburred inside and out",
            Per::Joint,
            Phase::RoughIn,
            None,
        ),
        by_eye(
            "2.3",
            "dry-fit",
            "Dry-fitted",
            "Dry-fitted, mark drawn",
            Per::Joint,
            Phase::RoughIn,
            None,
        ),
        by_eye(
            "2.4",
            "full-depth",
            "Full depth",
            "Cemented to the mark",
            Per::Joint,
            Phase::RoughIn,
            None,
        ),
        by_eye(
            "2.5",
            "straps",
            "Straps",
            "Strapped every 4 ft and at each bend",
            Per::Inlet,
            Phase::RoughIn,
            None,
        ),
        by_eye(
            "2.6",
            "gasket",
            "Gasket",
            "Gasket whole, seated all round",
            Per::Inlet,
            Phase::Trim,
            Some(Duty::Door),
        ),
        by_eye(
            "2.7",
            "truck",
            "Truck loaded",
            "Takeoff ticked part by part",
            Per::Job,
            Phase::Load,
            None,
        ),
        by_eye(
            "2.8",
            "shown",
            "Owner shown",
            "Owner has drawn the hose out and in",
            Per::Inlet,
            Phase::HandOver,
            None,
        ),
    ];
    let circuit = computed(
        "3.1",
        "circuit",
        "Circuit",
        Some(0.8),
        "No more than four fifths of the breaker.",
    );
    Standard {
        revision: revision.into(),
        effective: Date::constant(if old { 2025 } else { 2026 }, 1, 15),
        title: "Raceway installation standard".into(),
        parts: vec![
            StandardPart {
                title: "The raceway".into(),
                clauses: raceway,
            },
            StandardPart {
                title: "Joints and valves".into(),
                clauses: joints,
            },
            StandardPart {
                title: "Power".into(),
                clauses: vec![circuit],
            },
        ],
    }
}

//! A worked-up job as the subjects of its drawings, and its drawings.
use super::reach::reach_sheet;
use super::set_out::{datums, set_out};
use super::views::Views;
use super::worked::{InletPart, JobPictures, Pictures, Worked};
use crate::company::Inlet;
use crate::draw::{
    self, BoxHeights, ClashMark, CuttingPicture, DrawError, JointPicture, KeyPicture, Piece, Scene,
    TravelPanel, TravelPicture, TravelPlace, TubeLeaves, ValveBoxPicture,
};
use crate::figures::Clash;
use crate::figures::Draw;
use crate::measure::INCH_M;
use crate::reckon::hose::{At, Spending};
use crate::route::{Anchor, Line};
use crate::work::Work;

/// Of the layout's plan and the isometric beside it together; by how much the plan may be wider than half, and in
/// steps of what.
const KEYS_MM: f64 = 182.0;
const WIDER: u8 = 8;
const WIDER_MM: f64 = 4.0;
/// Of a drawing as wide as the sheet.
const WIDE_MM: (f64, f64) = (186.0, 70.0);
/// Of the hose's travel, with where its suction is spent below.
const TRAVEL_MM: (f64, f64) = (186.0, 96.0);
/// Of a detail beside a table.
const JOINT_MM: (f64, f64) = (58.0, 44.0);
const VALVE_MM: (f64, f64) = (80.0, 55.0);

/// Every drawing of a job. One that cannot be made is told among the faults and holds up no other.
pub fn pictures(worked: &Worked) -> JobPictures {
    let work = worked.work;
    let mut faults = Vec::new();
    let keys = keys(worked);
    JobPictures {
        inlets: worked.inlets().map(|part| inlet_pictures(worked, &part, &mut faults)).collect(),
        trunks: (work.lines.inlets..work.lines.lines.len())
            .map(|i| trunk_pictures(worked, i, &mut faults))
            .collect(),
        layout: written(&keys.as_ref().map(|(plan, _)| draw::layout(plan)), &mut faults),
        key_isometric: written(&keys.as_ref().map(|(_, onto)| draw::key_isometric(onto)), &mut faults),
        cutting: written(&cutting(work).map(|picture| draw::cutting(&picture)), &mut faults),
        reach: reach_sheet(work),
        faults,
    }
}

/// A drawing that a sheet holds, looked over and written out, or a frame in its place that says why it cannot be.
pub fn written(scene: &Option<Scene>, faults: &mut Vec<String>) -> Option<String> {
    let scene = scene.as_ref()?;
    let written = draw::fits_paper(scene.size_mm).and_then(|()| draw::written(scene));
    Some(written.unwrap_or_else(|why| not_drawn(scene, &why, faults).to_svg()))
}

fn not_drawn(scene: &Scene, why: &DrawError, faults: &mut Vec<String>) -> Scene {
    faults.push(format!("{} is not drawn: {why}", scene.title));
    draw::not_drawn(&scene.prefix, &scene.title, &why.to_string(), scene.size_mm.0.clamp(60.0, 186.0))
}

/// The views of a trunk over its cut list.
fn trunk_pictures(worked: &Worked, i: usize, faults: &mut Vec<String>) -> Pictures {
    Views::of_trunk(worked.work, i, super::trunk::views_mm(worked, i)).written(faults)
}

/// The drawings of an inlet; its views are as high as the rest of their sheet leaves. The route in words gives
/// way to drawings that would else be low.
fn inlet_pictures(worked: &Worked, part: &InletPart, faults: &mut Vec<String>) -> Pictures {
    let (work, i) = (worked.work, part.index);
    let (all_mm, words_mm) = super::route::views_mm(worked, part);
    Pictures {
        travel: written(&travel(work, i).map(|picture| draw::travel(&picture)), faults),
        joint: written(&joint(work, i).map(|picture| draw::joint(&picture)), faults),
        valve_box: written(&valve_box(work, i).map(|picture| draw::valve_box(&picture)), faults),
        ..Views::of_inlet(work, i, (all_mm - words_mm, all_mm)).written(faults)
    }
}

/// All lines that have a place in the job's frame; a single inlet without one alone, from its own valve.
pub fn key<'a>(work: &'a Work, prefix: &str, title: &str, area_mm: (f64, f64)) -> Option<KeyPicture<'a>> {
    let alone = work.job.inlets.len() == 1;
    let placed = work.lines.of_inlets().iter().any(|line| line.anchor != Anchor::None);
    let shown = |line: &&Line| match line.raceway {
        Some(_) => line.anchor != Anchor::None || alone,
        None => line.anchor != Anchor::None && placed,
    };
    let lines: Vec<&Line> = work.lines.lines.iter().filter(shown).collect();
    let unit = work.job.unit.at.filter(|_| placed).map(|at| ("unit".to_owned(), at));
    (!lines.is_empty()).then(|| KeyPicture {
        prefix: prefix.into(),
        title: title.into(),
        unit,
        clashes: clashes(work, &lines),
        datums: datums(work),
        points: set_out(work, &lines),
        lines,
        say: work.say,
        listed: false,
        area_mm,
    })
}

/// The plan of what is set out and the isometric beside it, as high as the schedules leave. Of the widths the one at
/// which the plan is largest, and the isometric no smaller than in half of the sheet.
fn keys<'a>(worked: &'a Worked) -> Option<(KeyPicture<'a>, KeyPicture<'a>)> {
    let high_mm = super::layout::key_mm(worked);
    let half_mm = KEYS_MM / 2.0;
    let key = |prefix, title| {
        let picture = key(worked.work, prefix, title, (half_mm, high_mm))?;
        Some(KeyPicture { listed: true, ..picture })
    };
    let (plan, onto) = (key("key", "Plan of what is set out")?, key("key-isometric", "Key isometric")?);
    let onto_ratio = |plan_mm: f64| draw::key_isometric_ratio(&onto, (KEYS_MM - plan_mm, high_mm));
    let wide = (0..=WIDER).map(|step| half_mm + f64::from(step) * WIDER_MM);
    let wide = wide.filter(|plan_mm| onto_ratio(*plan_mm) <= onto_ratio(half_mm));
    let plan_mm =
        wide.min_by_key(|plan_mm| draw::layout_ratio(&plan, (*plan_mm, high_mm))).unwrap_or(half_mm);
    let plan = KeyPicture { area_mm: (plan_mm, high_mm), ..plan };
    Some((plan, KeyPicture { area_mm: (KEYS_MM - plan_mm, high_mm), ..onto }))
}

/// Where lines that are shown come too near to each other.
fn clashes(work: &Work, shown: &[&Line]) -> Vec<ClashMark> {
    let line = |index: usize| {
        work.lines.lines.get(index).filter(|line| shown.iter().any(|s| std::ptr::eq(*s, *line)))
    };
    let mark = |clash: &Clash| {
        let (a, b) = (line(clash.lines.0)?, line(clash.lines.1)?);
        let words =
            format!("{} and {}: {} too near", a.letters, b.letters, work.say.length(clash.missing_m()));
        Some(ClashMark { at: clash.point, words })
    };
    work.figures.clashes.iter().filter_map(mark).collect()
}

/// The sticks in cutting order; `None` without a plan.
fn cutting(work: &Work) -> Option<CuttingPicture> {
    let plan = work.cuts.plan.as_ref().ok().filter(|plan| !plan.sticks.is_empty())?;
    let piece = |piece: &crate::material::CutPiece| Piece {
        mark: piece.mark.clone(),
        length_m: piece.length_m,
        from_m: 0.0,
    };
    Some(CuttingPicture {
        prefix: "cutting".into(),
        title: "Cutting plan".into(),
        stick_m: work.catalog.tube.stick_m,
        kerf_m: work.catalog.tube.kerf_m,
        sticks: plan.sticks.iter().map(|stick| stick.pieces.iter().map(piece).collect()).collect(),
        say: work.say,
        area_mm: WIDE_MM,
    })
}

/// Suction needed and had over the travel, and where it is spent; the three pure cases side by side where the
/// gaps are not known; `None` where nothing is.
pub fn travel(work: &Work, i: usize) -> Option<TravelPicture> {
    let hose = work.figures.inlets[i].hose.as_ref().ok()?;
    travel_of(work, i, &hose.draws)
}

/// The same of the three pure cases, whatever is known.
pub fn cases(work: &Work, i: usize) -> Option<TravelPicture> {
    let hose = work.figures.inlets[i].hose.as_ref().ok()?;
    travel_of(work, i, &hose.pure().ok()?)
}

fn travel_of(work: &Work, i: usize, draws: &[Draw]) -> Option<TravelPicture> {
    let line = work.lines.of_inlet(i)?;
    let bends = bend_middles(line);
    let riser = line.raceway.as_ref()?.riser_legs.checked_sub(1);
    // The riser goes as far as the middle of the bend that ends it, or all the way.
    let riser_m =
        riser.map_or(0.0, |last| bends.get(last).map_or(draws[0].setting.travel_m(), |(_, at_m)| *at_m));
    Some(TravelPicture {
        prefix: format!("{}-travel", work.job.inlets[i].id),
        title: format!("{}, draw-in", work.job.inlets[i].name),
        panels: draws.iter().map(|draw| panel(draw, draws.len() == 1)).collect::<Option<_>>()?,
        bends,
        riser_m,
        along: "hose drawn in".into(),
        say: work.say,
        area_mm: TRAVEL_MM,
    })
}

fn panel(draw: &Draw, alone: bool) -> Option<TravelPanel> {
    let title = match draw.setting.spending() {
        _ if alone => "",
        Spending::AllAtValve => "All in the valve",
        Spending::AllAlong => "All along the hose",
        Spending::AllAtTail => "All round the tail",
        Spending::Leak(_) => "By its gaps",
    };
    let mut travel = draw.setting.travel(PLACES).ok()?;
    // The worst may lie between two samples; the picture must not say less than the table.
    travel.push(draw.worst);
    travel.sort_by(|a, b| a.inserted_m.total_cmp(&b.inserted_m));
    let place = |at: &At| TravelPlace {
        inserted_m: at.inserted_m,
        needed_pa: at.needed_pa,
        spent_pa: at.spent.by_pa,
    };
    Some(TravelPanel { title: title.into(), places: travel.iter().map(place).collect() })
}

/// So many steps make a smooth curve.
const PLACES: usize = 30;

/// Where the middle of each bend lies along the hose path.
fn bend_middles(line: &Line) -> Vec<(String, f64)> {
    let mut given_back_m = 0.0;
    let middle = |bend: &crate::route::Bend| {
        let at_m = bend.at_centre_m - given_back_m - bend.tangent_m + bend.arc_m / 2.0;
        given_back_m += 2.0 * bend.tangent_m - bend.arc_m;
        (format!("B{}", bend.n), at_m)
    };
    line.bends_at_stop().0.iter().map(middle).collect()
}

/// The first joint at a bend, or at the stop, whose socket depth the catalog gives.
fn joint(work: &Work, i: usize) -> Option<JointPicture> {
    let route = work.lines.of_inlet(i)?;
    let (hose_bends, _) = route.bends_at_stop();
    let fitting = hose_bends.iter().find_map(|bend| bend.fitting.as_ref()).or(work.catalog.stop())?;
    Some(JointPicture {
        prefix: format!("{}-joint", work.job.inlets[i].id),
        title: format!("{}, a joint cut open", work.job.inlets[i].name),
        tube: route.tubes.first()?.mark.clone(),
        fitting: fitting.name.clone(),
        tube_outside_m: work.catalog.tube.outside_m,
        tube_bore_m: work.catalog.tube.bore_m,
        socket_m: fitting.socket_m?,
        say: work.say,
        area_mm: JOINT_MM,
    })
}

/// Clear width between studs at 16 in on centres, dressed 2x4s (PS 20), their depth, and half-inch drywall.
const BAY_M: f64 = 14.5 * INCH_M;
const STUD_M: f64 = 3.5 * INCH_M;
const DRYWALL_M: f64 = 0.5 * INCH_M;

/// The valve's box or frame in its wall, a common one where the job does not tell; `None` where the catalog gives no size.
pub fn valve_box(work: &Work, i: usize) -> Option<ValveBoxPicture> {
    let inlet = &work.job.inlets[i];
    let rough_in = match inlet.valve.rough_in {
        crate::company::RoughIn::Frame => "frame",
        crate::company::RoughIn::Box => "box",
    };
    let spec = work.job.of_inlet(i)?;
    let leaves = match spec.leaves.vector.z {
        z if z > 0.7 => TubeLeaves::Up,
        z if z < -0.7 => TubeLeaves::Down,
        _ => TubeLeaves::Level,
    };
    let box_m = inlet.valve.box_m?;
    let wall_m = inlet.wall_m.or(work.lines.of_inlet(i)?.plate_m());
    let heights = spec.start.and_then(|at| {
        let below = work.job.levels.iter().filter(|level| level.up_m <= at.z);
        let below = below.max_by(|a, b| a.up_m.total_cmp(&b.up_m))?;
        let seat_m = at.z - below.up_m;
        Some(BoxHeights { over: below.name.clone(), seat_m, bottom_m: box_bottom_m(inlet, leaves, seat_m)? })
    });
    Some(ValveBoxPicture {
        prefix: format!("{}-valve", inlet.id),
        title: format!("{}, the valve in its wall", inlet.name),
        name: format!("{}, {rough_in}", inlet.valve.name),
        box_m,
        depth_m: inlet.valve.depth_m,
        bay_m: inlet.bay_m.unwrap_or(BAY_M),
        bay_known: inlet.bay_m.is_some(),
        wall_m,
        stud_m: wall_m.unwrap_or(STUD_M.max(inlet.valve.depth_m)),
        drywall_m: DRYWALL_M,
        tube_outside_m: work.catalog.tube.outside_m,
        leaves,
        heights,
        say: work.say,
        area_mm: VALVE_MM,
    })
}

/// Height of a box's lower edge where its tube seats at `seat_m`: the socket stands inside the box, its mouth
/// at the edge through which the tube leaves; a tube that leaves level seats at the box's middle.
fn box_bottom_m(inlet: &Inlet, leaves: TubeLeaves, seat_m: f64) -> Option<f64> {
    let (high_m, socket_m) = (inlet.valve.box_m?.1, inlet.valve.socket_m.unwrap_or(0.0));
    Some(match leaves {
        TubeLeaves::Down => seat_m - socket_m,
        TubeLeaves::Up => seat_m + socket_m - high_m,
        TubeLeaves::Level => seat_m - high_m / 2.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Fill, Mark, Pen, Segment, Shape, V2};

    #[test]
    fn one_drawing_that_no_sheet_holds_is_named_and_stops_no_other() {
        let scene = |title: &str, wide_mm: f64| Scene {
            prefix: "p".into(),
            title: title.into(),
            desc: String::new(),
            size_mm: (wide_mm, 50.0),
            scale: None,
            marks: Vec::new(),
        };
        let mut faults = Vec::new();
        let drawn: Vec<String> =
            [scene("Hall, plan", 100.0), scene("Hall, elevation", 9000.0), scene("Loft, plan", 80.0)]
                .into_iter()
                .filter_map(|scene| written(&Some(scene), &mut faults))
                .collect();
        assert_eq!(drawn.len(), 3);
        assert_eq!(faults.len(), 1);
        assert!(faults[0].starts_with("Hall, elevation is not drawn"), "{faults:?}");
        // In its place stands a frame that says why, and that a viewer reads.
        assert!(draw::check(&drawn[1]).is_ok() && drawn[1].contains("larger than any sheet"), "{}", drawn[1]);
    }
    #[test]
    fn a_drawing_with_a_number_that_is_none_is_named_and_not_shown() {
        let line = Shape::Path {
            steps: vec![Segment::Move(V2::ZERO), Segment::Line(V2::new(f64::NAN, 1.0))],
            pen: Pen::Thin,
            fill: Fill::None,
        };
        let mark = Mark { kind: "tube", title: "H1".into(), data: Vec::new(), shapes: vec![line] };
        let scene = Scene {
            prefix: "p".into(),
            title: "Hall, plan".into(),
            desc: String::new(),
            size_mm: (100.0, 50.0),
            scale: None,
            marks: vec![mark],
        };
        let mut faults = Vec::new();
        let drawn = written(&Some(scene), &mut faults).expect("a frame in its place");
        assert!(faults[0].starts_with("Hall, plan is not drawn: "), "{faults:?}");
        assert!(draw::check(&drawn).is_ok() && !drawn.contains("\"tube\""), "{drawn}");
    }
}

//! What holds a job up, what clears it, and what a waiver may not do.
mod reading;

use longsweep::company::{FittingKind, read_job};
use longsweep::standard::Verdict;
use reading::held::{
    DOWN, JOINS, PLATE, TRUSS, bare_standard, house, job, of_clause, trunk_house, verdict, worked,
};

use longsweep::work::Work;

#[test]
fn a_house_with_nothing_wrong_passes() {
    let job = job(&house("", PLATE, ""));
    let work = worked(&job);
    let open: Vec<_> = work.findings.all().filter(|(_, f)| f.verdict > Verdict::NotChecked).collect();
    assert!(work.verdict() == Verdict::Pass && work.findings.may_be_built(), "{open:#?}");
}

#[test]
fn somebody_elses_word_holds_the_job_until_a_paper_clears_it() {
    let text = house("", TRUSS, "");
    let held = job(&text);
    let work = worked(&held);
    assert_eq!(work.verdict(), Verdict::Hold);
    assert!(!work.findings.may_be_built() && work.findings.holds().count() == 1);
    let paper = "cleared: [{clause: bores, inlet: hall, at: X1, paper: Sealed letter 7, by: truss designer, on: 2026-11-28}]";
    let cleared = job(&house(paper, TRUSS, ""));
    let work = worked(&cleared);
    assert_eq!((work.verdict(), work.findings.may_be_built()), (Verdict::Pass, true));
    let finding = of_clause(&work, "bores");
    assert_eq!((finding.verdict, finding.measured), (Verdict::Cleared, None));
    assert_eq!(finding.cleared.unwrap().words(), "hold cleared: Sealed letter 7; truss designer, 2026-11-28");
    assert!(work.findings.idle.is_empty());
}

#[test]
fn a_paper_clears_the_mark_it_names_and_no_other() {
    let paper =
        "cleared: [{clause: bores, inlet: hall, at: X2, paper: Letter, by: designer, on: 2026-11-28}]";
    let other = job(&house(paper, TRUSS, ""));
    let work = worked(&other);
    assert_eq!(work.verdict(), Verdict::Hold);
    let fault = &work.findings.idle[0];
    assert_eq!((fault.line, fault.file.as_str()), (4, "jobs/gull.yaml"));
    assert!(fault.message.contains("`bores` at X2"), "{}", fault.message);
}

#[test]
fn a_riser_that_says_nothing_is_on_hold() {
    assert_eq!(verdict(&house("", "crosses: none", "")), Verdict::Pass);
    let silent = house("", "crosses: none", "").replace(", crosses: none", "");
    let job = job(&silent);
    let finding = of_clause(&worked(&job), "bores");
    assert_eq!(finding.verdict, Verdict::Hold);
    assert!(finding.remedy.unwrap().contains("crosses: none"));
}

#[test]
fn a_hole_that_cannot_be_where_it_is_said_names_the_keys_to_correct() {
    // A hole in the middle of a 2x6 leaves 1-11/16 in at either edge.
    let said = |edge: &str| {
        let plate =
            "crosses: [{at: 1 ft 6 in, member: bottom-plate, size: 2x6, hole: 2-1/8 in, from-edge: EDGE}]";
        let job = job(&house("", &plate.replace("EDGE", edge), ""));
        let work = worked(&job);
        of_clause(&work, "bores")
    };
    assert_eq!(said("1-11/16 in").verdict, Verdict::Pass);
    let held = said("2-1/4 in");
    assert_eq!(held.verdict, Verdict::Hold);
    assert!(held.note.contains("2.25 in, outside 0 in to 1.6875 in"), "{}", held.note);
    assert!(held.remedy.as_deref().is_some_and(|words| words.contains("`from-edge:`")), "{:?}", held.remedy);
}

#[test]
fn a_run_that_passes_a_level_says_what_it_crosses_there() {
    let levels = "levels: [{name: First floor, up: 0 ft}]";
    let at = "at: {east: 0 ft, north: 0 ft, up: 1 ft 6 in}";
    // The riser runs from 1 ft 6 in above the floor to 1 ft 6 in below it.
    assert_eq!(verdict(&house(levels, PLATE, at)), Verdict::Pass);
    assert_eq!(verdict(&house(levels, "crosses: none", at)), Verdict::Hold);
}

#[test]
fn a_circuit_that_nobody_spoke_of_holds_the_job() {
    let job = job(&house("", PLATE, "").replace(", own-circuit: yes", ""));
    let work = worked(&job);
    assert_eq!(work.verdict(), Verdict::Hold);
    assert!(of_clause(&work, "circuit").remedy.unwrap().contains("own-circuit"));
}

#[test]
fn a_waiver_of_what_holds_is_an_error() {
    let waiver = "waivers: [{clause: bend-total, because: Beam, by: crew lead}]";
    let job = job(&house("", PLATE, waiver));
    let work = worked(&job);
    let fault = &work.findings.idle[0];
    assert_eq!(fault.line, 10);
    assert!(fault.message.contains("`bend-total` is not broken"), "{}", fault.message);
}

#[test]
fn no_job_passes_with_a_must_that_nobody_judged() {
    for text in [
        house("", TRUSS, ""),
        house("", "crosses: none", "").replace(", crosses: none", ""),
        house("", PLATE, "").replace(", own-circuit: yes", ""),
        house("", PLATE, "").replace("    wall: 5-1/2 in\n", "").replace(PLATE, "crosses: none"),
        house("", PLATE, "").replace("    onward:\n      path: [{run: 3 ft}]\n      into: unit\n", ""),
    ] {
        assert_eq!(verdict(&text), Verdict::Hold, "{text}");
    }
}

#[test]
fn no_job_passes_with_a_tube_that_cannot_be_cut() {
    let short = "path: [{run: 3 ft}, {turn: 90 south, with: short-90}, {run: 8-7/16 in}, {turn: 90 down, with: short-90}, {run: 3 ft}]";
    let job = job(&house("", PLATE, "").replace("path: [{run: 3 ft}]", short));
    let work = worked(&job);
    assert_eq!((work.verdict(), of_clause(&work, "cut-tubes").verdict), (Verdict::Fail, Verdict::Fail));
}

#[test]
fn no_job_passes_with_two_pipes_in_one_place() {
    let clear = job(&trunk_house(DOWN, JOINS, ""));
    let work = worked(&clear);
    assert_eq!(of_clause(&work, "clash").verdict, Verdict::Pass);
    // Straight on through the trunk, and past it.
    let through = job(&trunk_house(DOWN, "{path: [{run: 20 ft}], into: unit}", ""));
    let work = worked(&through);
    assert_eq!((work.verdict(), of_clause(&work, "clash").verdict), (Verdict::Fail, Verdict::Fail));
}

#[test]
fn no_job_passes_with_an_open_end() {
    let text = trunk_house(DOWN, JOINS, "");
    let (catalog, standards) = reading::shared();
    let bare = {
        let mut bare = catalog.clone();
        bare.fittings.retain(|fitting| fitting.id != "cap");
        bare
    };
    let job = read_job("jobs/gull.yaml", &text, &bare, &reading::firm(), standards, &[]).unwrap();
    let standard = standards.iter().find(|standard| standard.revision == job.standard).unwrap();
    let work = Work::up(&job, standard, &bare, reading::firm().say());
    assert_eq!((work.verdict(), of_clause(&work, "open-ends").verdict), (Verdict::Fail, Verdict::Fail));
    assert!(worked(&job).findings.trunks[0].iter().any(|f| f.clause == "open-ends"));
}

#[test]
fn no_revision_lets_a_job_pass_that_cannot_be_built() {
    let standard = bare_standard();
    let bored = |member: &str| format!("crosses: [{{at: 1 ft 6 in, member: {member}}}]");
    let good = house("", PLATE, "");
    let colliding = good.replace(
        "- {turn: 90 west}",
        "- {turn: 90 west}\n        - {run: 10 in, crosses: none}\n        - {turn: 90 south}",
    );
    let cases = [
        ("", good.clone(), Verdict::Pass),
        // No allowance is asked: 41 ft of path hold a hose of 40 ft, and 13 ft do not.
        ("", good.replace("run: 44 ft", "run: 38 ft 9 in"), Verdict::Pass),
        ("hose-room", good.replace("run: 44 ft", "run: 10 ft"), Verdict::Fail),
        ("fitting-room", colliding, Verdict::Fail),
        ("cut-tubes", good.replace("path: [{run: 3 ft}]", "path: [{run: 3 in}]"), Verdict::Fail),
        ("open-ends", good[..good.find("    onward:").unwrap()].to_owned(), Verdict::Hold),
        ("bores", house("", &bored("joist, size: 2x6, hole: 2-1/8 in"), ""), Verdict::Fail),
        ("bores", house("", &bored("engineered, depth: 12 in, hole: 2-1/8 in"), ""), Verdict::Hold),
        ("bore-size", house("", &bored("bottom-plate, size: 2x6, hole: 1-7/8 in"), ""), Verdict::Fail),
    ];
    for (clause, text, wanted) in cases {
        let (catalog, _) = reading::shared();
        let job = job(&text);
        let work = Work::up(&job, &standard, catalog, reading::firm().say());
        assert_eq!(work.findings.may_be_built(), wanted == Verdict::Pass, "{clause}: {text}");
        if clause.is_empty() {
            assert!(work.findings.all().all(|(_, finding)| !finding.number.is_empty()));
            continue;
        }
        let finding = of_clause(&work, clause);
        assert_eq!((finding.verdict, finding.number.as_str()), (wanted, ""), "{clause}");
        assert!(finding.note.contains("has no clause on it"), "{}", finding.note);
    }
}

#[test]
fn a_tube_whose_length_nobody_can_tell_is_on_hold_and_not_cut() {
    let (catalog, standards) = reading::shared();
    let trunk = "trunks:
  - {id: main, leaves: west, path: [{run: 9 ft}, {turn: 90 down, with: short-90}, {run: 3 ft}], into: unit}
";
    let good = house(trunk, PLATE, "").replace(
        "path: [{run: 3 ft}]\n      into: unit",
        "path: [{run: 3 ft}, {turn: 45 up, with: short-45}, {run: 2 ft}, {turn: 45 west, with: short-45}, {run: 3 ft}, {turn: 45 down, with: short-45}, {run: 3 ft}]\n      into: {trunk: main, at: 4 ft, with: wye-45}",
    );
    let changed = |change: &dyn Fn(&mut FittingKind)| {
        let mut catalog = catalog.clone();
        catalog.fittings.iter_mut().for_each(|fitting| change(&mut fitting.kind));
        catalog
    };
    let without = |is: &dyn Fn(&FittingKind) -> bool| {
        let mut catalog = catalog.clone();
        catalog.fittings.retain(|fitting| !is(&fitting.kind));
        catalog
    };
    let silent = changed(&|kind| {
        if let FittingKind::Junction(branch) = kind {
            (branch.run_laying_length_m, branch.branch_laying_length_m) = (None, None);
        }
    });
    let gapless = changed(&|kind| {
        if let FittingKind::Stop(stop) = kind {
            stop.inside_gap_m = None;
        }
    });
    let uncoupled = without(&|kind| matches!(kind, FittingKind::Coupling(_)));
    let stopless = without(&|kind| matches!(kind, FittingKind::Stop(_)));
    let no_fitting = good.replace("{turn: 45 up, with: short-45}", "{turn: 30 up}");
    let other_angle = good.replace("{turn: 45 up, with: short-45}", "{turn: 45 up, with: short-90}");
    for (catalog, text, marks) in [
        (catalog, &good, &[][..]),
        (&silent, &good, &["H6", "M1", "M2"]),
        (&gapless, &good, &["H3"]),
        (&stopless, &good, &["H3"]),
        (&uncoupled, &good, &["H2"]),
        (catalog, &no_fitting, &["H3", "H4"]),
        (catalog, &other_angle, &["H3", "H4"]),
    ] {
        let job = read_job("jobs/gull.yaml", text, catalog, &reading::firm(), standards, &[]).unwrap();
        let work = Work::up(&job, standards.last().unwrap(), catalog, reading::firm().say());
        let uncut = work.cuts.lines.iter().flatten().filter(|cut| cut.pieces.is_empty());
        assert_eq!(uncut.map(|cut| cut.mark.as_str()).collect::<Vec<_>>(), marks);
        assert_eq!(of_clause(&work, "cut-tubes").verdict == Verdict::Hold, !marks.is_empty());
        assert_eq!(work.findings.may_be_built(), marks.is_empty(), "{:?}", work.verdict());
        let plan = work.cuts.plan.as_ref().unwrap();
        assert!(plan.tubes.iter().all(|tube| !marks.contains(&tube.mark.as_str())));
        // Nor does a drawing tell a length to cut it by.
        for index in 0..work.lines.lines.len() {
            let picture =
                longsweep::packet::subjects::line(&work, index, "elevation", (186.0, 95.0)).unwrap();
            let drawn = longsweep::draw::elevation(&picture).to_svg();
            let lengths: Vec<&str> = drawn.split("<title>cut ").skip(1).collect();
            assert!(!lengths.is_empty() || !marks.is_empty());
            for mark in
                marks.iter().filter(|mark| work.lines.lines[index].tubes.iter().any(|t| t.mark == **mark))
            {
                assert!(drawn.contains(&format!("{mark} cannot be cut")), "{mark}");
                assert!(lengths.iter().all(|words| !words.starts_with(&format!("{mark} "))), "{mark}");
            }
        }
    }
}

#[test]
fn no_line_enters_a_branch_at_less_than_its_angle() {
    let trunk = "trunks:
  - {id: main, leaves: west, path: [{run: 9 ft}, {turn: 90 down, with: short-90}, {run: 3 ft}], into: unit}
";
    let house = house(trunk, PLATE, "");
    let joined = |path: &str| {
        let into = format!("path: [{path}]\n      into: {{trunk: main, at: 4 ft, with: wye-45}}");
        let text = house.replace("path: [{run: 3 ft}]\n      into: unit", &into);
        let job = job(&text);
        of_clause(&worked(&job), "wye-junctions")
    };
    let along = joined("{run: 3 ft}");
    assert_eq!(along.verdict, Verdict::Fail);
    assert!(along.note.contains("meets its run at 0°, and the branch is made for 45°"), "{}", along.note);
    let aslant = joined("{run: 1 ft}, {turn: 45 north, with: short-45}, {run: 3 ft}");
    assert_eq!(aslant.verdict, Verdict::Pass, "{}", aslant.note);
}

//! Sheets of a job worked out by hand.
use super::fixture::gull_cottage;
use super::seat::seat;
use super::throat::arc_round_tube_m;
use super::worked::Worked;
use super::*;
use crate::work::Work;

#[test]
fn a_full_turn_is_the_whole_way_round() {
    assert!((arc_round_tube_m(360.0, 1.0) - std::f64::consts::PI).abs() < 1e-12);
    assert_eq!(arc_round_tube_m(0.0, 1.0), 0.0);
}

#[test]
fn sheets_are_numbered_in_the_order_in_which_they_stand() {
    let fixture = gull_cottage();
    let work = fixture.work();
    let worked = fixture.worked(&work);
    let out = Outline::of(&fixture.job);
    let pictures = fixture::pictures();
    let laid = lay(&Source { worked: &worked, pictures: &pictures, out: &out, whole: false });
    let count = laid.len();
    for (place, laid) in laid.iter().enumerate() {
        assert_eq!(laid.sheet.block.number, format!("{} of {count}", place + 1));
        assert!(laid.sheet.block.stamp.is_some(), "{}", laid.sheet.title);
    }
    let kinds: Vec<Kind> = laid.iter().map(|laid| laid.kind).collect();
    assert_eq!(kinds[0], Kind::Cover);
    assert_eq!(kinds[count - 1], Kind::Owner);
    assert!(kinds.iter().position(|k| *k == Kind::Route(0)) < kinds.iter().position(|k| *k == Kind::Cuts(0)));
}

#[test]
fn inlets_named_like_a_page_of_the_job_get_a_page_of_their_own() {
    let mut fixture = gull_cottage();
    fixture.job.inlets[0].id = "index".into();
    fixture.job.inlets[1].id = "Index".into();
    let out = Outline::of(&fixture.job);
    let pages = [0, 1].map(|i| out.page(Kind::Route(i)));
    assert_eq!(pages, ["jobs/harbour/gull-cottage/index-2.html", "jobs/harbour/gull-cottage/Index-3.html"]);
}

#[test]
fn title_blocks_lead_on_within_a_page_and_across_pages() {
    let fixture = gull_cottage();
    let work = fixture.work();
    let worked = fixture.worked(&work);
    let out = Outline::of(&fixture.job);
    let pictures = fixture::pictures();
    let source = Source { worked: &worked, pictures: &pictures, out: &out, whole: false };
    let apart = lay(&source);
    let hall: Vec<_> = apart.iter().filter(|laid| inlet_of(laid.kind) == Some(0)).collect();
    let next = |sheet: &Sheet<Body>| sheet.block.next.as_ref().unwrap().href.clone();
    assert_eq!(next(&hall[0].sheet), "#hall-cuts");
    assert_eq!(next(&hall.last().unwrap().sheet), "loft.html#loft-route");
    let jumps: Vec<&str> = hall[0].sheet.jumps.iter().map(|link| link.href.as_str()).collect();
    assert_eq!(jumps[..3], ["#hall-route", "#hall-cuts", "check.html#check"]);
    let whole = lay(&Source { whole: true, ..source });
    assert_eq!(whole.len(), apart.len());
    let links = whole.iter().filter_map(|laid| laid.sheet.block.next.as_ref());
    assert!(links.into_iter().all(|link| link.href.starts_with('#')));
}

#[test]
fn the_worst_finding_stands_first_and_balloons_keep_the_drawings_order() {
    let fixture = gull_cottage();
    let work = fixture.work();
    let rows = sheet::finding_rows(
        &work.findings.inlets[1],
        &work.offers[1],
        "2026-1",
        &Here::page("jobs/x/y.html"),
    );
    let told: Vec<(&str, &str)> = rows.iter().map(|r| (r.stamp.word.as_str(), r.balloon.as_str())).collect();
    assert_eq!(told, [("fail", "1"), ("fail", "2"), ("fail", "3"), ("waived", "")]);
    assert_eq!(rows[0].href, "../../standard/2026-1/bend-total.html");
    assert!(rows[3].waiver.starts_with("Set aside by crew lead: Finished soffit"));
}

/// A riser with one bore that is fine and one that waits for a paper: `bores` both passes and holds.
const TWO_BORES: &str = "
title: Two Bores
date: 2026-11-30
unit: {model: basement-600, own-circuit: yes}
inlets:
  - id: hall
    valve: door-sealed
    hose: socked-40
    raceway:
      leaves: down
      path:
        - run: 3 ft
          crosses:
            - {at: 1 ft 2 in, member: bottom-plate, size: 2x6, hole: 2-1/8 in}
            - {at: 2 ft, member: engineered, depth: 12 in, hole: 2-1/8 in}
        - {turn: 90 west}
        - {run: 44 ft, crosses: none}
    onward: {path: [{run: 3 ft}], into: unit}
";

#[test]
fn a_clause_is_met_only_where_all_of_its_findings_pass() {
    let company =
        crate::company::load(std::path::Path::new(env!("CARGO_MANIFEST_DIR")), &crate::standard::kinds());
    let (catalog, firm) = (company.catalog.unwrap(), company.firm.unwrap());
    let two = crate::company::read_job("jobs/two.yaml", TWO_BORES, &catalog, &firm, &company.standards, &[])
        .unwrap();
    for job in company.jobs.iter().flatten().chain([&two]) {
        let standard = company.standards.iter().find(|standard| standard.revision == job.standard).unwrap();
        let work = Work::up(job, standard, &catalog, firm.say());
        let worked = Worked { firm: &firm, work: &work, workings: &[] };
        let (out, pictures) = (Outline::of(job), fixture::pictures());
        let source = Source { worked: &worked, pictures: &pictures, out: &out, whole: false };
        for (inlet, part) in office::sheet(&source).inlets.iter().zip(worked.inlets()) {
            let not_met: Vec<&str> = inlet.findings.iter().map(|row| row.number.as_str()).collect();
            for row in &inlet.figures.met {
                assert!(!not_met.contains(&row.number.as_str()), "{}: {} is both", job.key, row.number);
            }
            // Every clause has one word, and no more words are counted than there are clauses.
            let words = crate::standard::by_clause(part.findings);
            let mut clauses: Vec<&str> = words.iter().map(|(clause, _)| *clause).collect();
            clauses.sort_unstable();
            clauses.dedup();
            assert_eq!(clauses.len(), words.len());
            let met = words.iter().filter(|(_, word)| *word == crate::standard::Verdict::Pass).count();
            let told = route::sheets(&source, &part).into_iter().map(|sheet| sheet.more).collect::<String>();
            assert!(told.contains(&format!("{met} clause")), "{}: {told} for {met}", job.key);
        }
    }
    let work = Work::up(&two, &company.standards[company.standards.len() - 1], &catalog, firm.say());
    let bores = work.findings.inlets[0].iter().filter(|f| f.clause == "bores").map(|f| f.verdict.key());
    let mut bores: Vec<&str> = bores.collect();
    bores.sort_unstable();
    assert_eq!(bores, ["hold", "pass"]);
}

#[test]
fn a_tube_goes_into_the_unit_as_deep_as_its_socket() {
    let mut fixture = gull_cottage();
    for socket_m in [None, Some(0.0254)] {
        fixture.job.unit.model.socket_m = socket_m;
        let work = fixture.work();
        let line = &work.lines.lines[2];
        let end = line.tubes.last().unwrap().to;
        assert_eq!(seat(&work, line, end), ("unit".to_owned(), socket_m));
    }
}

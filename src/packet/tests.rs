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
    let laid = lay(&Source { worked: &worked, pictures: &pictures, out: &out });
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
fn inlets_of_like_names_have_places_of_their_own() {
    let mut fixture = gull_cottage();
    fixture.job.inlets[0].id = "Hall".into();
    fixture.job.inlets[1].id = "hall".into();
    let out = Outline::of(&fixture.job);
    assert_eq!([0, 1].map(|i| out.anchor(Kind::Route(i))), ["hall-route", "hall-2-route"]);
    assert_eq!([0, 1].map(|i| out.anchor(Kind::Cuts(i))), ["hall-cuts", "hall-2-cuts"]);
}

#[test]
fn title_blocks_and_heads_lead_on_within_the_page() {
    let fixture = gull_cottage();
    let work = fixture.work();
    let worked = fixture.worked(&work);
    let out = Outline::of(&fixture.job);
    let pictures = fixture::pictures();
    let laid = lay(&Source { worked: &worked, pictures: &pictures, out: &out });
    let anchors: Vec<String> = laid.iter().map(|laid| format!("#{}", laid.sheet.anchor)).collect();
    let href = |link: &Option<Link>| link.as_ref().map(|link| link.href.clone());
    for (place, sheet) in laid.iter().map(|laid| &laid.sheet).enumerate() {
        assert_eq!(href(&sheet.block.previous), place.checked_sub(1).map(|before| anchors[before].clone()));
        assert_eq!(href(&sheet.block.next), anchors.get(place + 1).cloned());
        assert_eq!(href(&sheet.block.index), Some("#cover".into()));
        let last = if place == 0 { "#notes" } else { "#cover" };
        assert_eq!(sheet.jumps.last().map(|link| link.href.as_str()), Some(last));
    }
    let hall = laid.iter().find(|laid| laid.kind == Kind::Route(0)).unwrap();
    let jumps: Vec<&str> = hall.sheet.jumps.iter().map(|link| link.href.as_str()).collect();
    assert_eq!(jumps, ["#hall-route", "#hall-cuts", "#check", "#cover"]);
}

#[test]
fn the_owners_sheet_alone_leads_nowhere_and_is_else_the_same() {
    let fixture = gull_cottage();
    let work = fixture.work();
    let worked = fixture.worked(&work);
    let (out, pictures) = (Outline::of(&fixture.job), fixture::pictures());
    let laid = lay(&Source { worked: &worked, pictures: &pictures, out: &out });
    let owner = laid.last().unwrap().sheet.clone();
    let alone = owner.clone().alone();
    assert!(alone.jumps.is_empty() && alone.block.index.is_none());
    assert!(alone.block.previous.is_none() && alone.block.next.is_none());
    assert_eq!((alone.title, alone.block.number), (owner.title, owner.block.number));
    assert_eq!(alone.block.stamp, owner.block.stamp);
}

#[test]
fn the_worst_finding_stands_first_and_balloons_keep_the_drawings_order() {
    let fixture = gull_cottage();
    let work = fixture.work();
    let rows = sheet::finding_rows(
        &work.findings.inlets[1],
        &work.offers[1],
        ("2026-1", &Here::page("jobs/x/y.html")),
        |_| true,
    );
    let told: Vec<(&str, &str)> = rows.iter().map(|r| (r.stamp.word.as_str(), r.balloon.as_str())).collect();
    assert_eq!(told, [("fail", "1"), ("fail", "2"), ("fail", "3"), ("waived", "")]);
    assert_eq!(rows[0].href, "../../standard/2026-1/bend-total.html");
    assert!(rows[3].settled.starts_with("Set aside by crew lead: Finished soffit"));
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
        let tapes = tape::Tapes::default();
        let worked = Worked { firm: &firm, work: &work, workings: &[], tapes: &tapes };
        let (out, pictures) = (Outline::of(job), fixture::pictures());
        let source = Source { worked: &worked, pictures: &pictures, out: &out };
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

//! Every clause, just met and just broken: `tests/jobs/<clause>/<case>.yaml`, each opening with the finding
//! that it must give by the demo's catalog and standard: `# hall: bend-total is pass, 360 of 360`.
use longsweep::company::{Catalog, Rule, load, read_catalog, read_job};
use longsweep::measure::{Lengths, Say};
use longsweep::standard::{CLAUSES, Finding, kinds};
use longsweep::work::Work;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// Figures in the opening lines are written to a ten-thousandth of a millimetre.
const TOLERANCE: f64 = 1e-6;

struct Expected {
    subject: String,
    clause: String,
    verdict: String,
    figures: Option<(f64, f64)>,
}

fn expected(text: &str) -> Expected {
    let line = text.lines().next().and_then(|line| line.strip_prefix("# ")).expect("an opening line");
    let (subject, rest) = line.split_once(": ").expect("a subject");
    let (clause, rest) = rest.split_once(" is ").expect("a clause");
    let (verdict, figures) = match rest.split_once(", ") {
        Some((verdict, figures)) => {
            let (measured, limit) = figures.split_once(" of ").expect("two figures");
            (verdict, Some((measured.parse().unwrap(), limit.parse().unwrap())))
        }
        None => (rest, None),
    };
    Expected { subject: subject.into(), clause: clause.into(), verdict: verdict.into(), figures }
}

/// The demo's catalog, and parts that only a breach needs.
fn catalog() -> Catalog {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = walkdir::WalkDir::new(root.join("content/catalog"))
        .into_iter()
        .filter_map(Result::ok)
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| entry.path().to_owned())
        .collect();
    files.push(root.join("tests/parts.yaml"));
    let texts: Vec<(String, String)> =
        files.iter().map(|path| (path.display().to_string(), fs::read_to_string(path).unwrap())).collect();
    let texts: Vec<(&str, &str)> = texts.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    let (catalog, faults) = read_catalog(&texts);
    assert!(faults.is_empty(), "{}", faults[0].render_plain());
    catalog.unwrap()
}

/// The catalog without the fitting that a case says it does without: `# without: cap`.
fn without(catalog: &Catalog, text: &str) -> Catalog {
    let mut catalog = catalog.clone();
    let left_out = text.lines().nth(1).and_then(|line| line.strip_prefix("# without: "));
    catalog.fittings.retain(|fitting| Some(fitting.id.as_str()) != left_out);
    catalog
}

fn cases() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/jobs");
    let files = walkdir::WalkDir::new(&root).sort_by_file_name().into_iter().filter_map(Result::ok);
    files
        .filter(|entry| entry.path().extension().is_some_and(|end| end == "yaml"))
        .map(|entry| {
            (
                entry.path().strip_prefix(&root).unwrap().display().to_string(),
                fs::read_to_string(entry.path()).unwrap(),
            )
        })
        .collect()
}

#[test]
fn each_case_gives_its_finding() {
    let company = load(Path::new(env!("CARGO_MANIFEST_DIR")), &kinds());
    let (catalog, firm) = (catalog(), company.firm.unwrap());
    let say = Say { lengths: Lengths::FtIn };
    let mut failed = Vec::new();
    let mut told: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (name, text) in cases() {
        let wanted = expected(&text);
        let catalog = without(&catalog, &text);
        let job = match read_job(&format!("jobs/{name}"), &text, &catalog, &firm, &company.standards, &[]) {
            Ok(job) => job,
            Err(faults) => {
                failed.push(format!("{name} is unread: {}", faults[0].render_plain()));
                continue;
            }
        };
        let standard = company.standards.iter().find(|standard| standard.revision == job.standard).unwrap();
        let work = Work::up(&job, standard, &catalog, say);
        let list = match job.inlets.iter().position(|inlet| inlet.id == wanted.subject) {
            Some(inlet) => &work.findings.inlets[inlet],
            None => match job.trunks().iter().position(|trunk| trunk.id == wanted.subject) {
                Some(trunk) => &work.findings.trunks[trunk],
                None => &work.findings.job,
            },
        };
        let of_clause = |f: &&Finding| f.clause == wanted.clause;
        let Some(finding) = list.iter().filter(of_clause).max_by_key(|f| f.verdict) else {
            failed.push(format!("{name}: no finding of {}", wanted.clause));
            continue;
        };
        told.entry(wanted.clause.clone()).or_default().insert(finding.verdict.key().to_owned());
        if finding.verdict.key() != wanted.verdict {
            failed.push(format!(
                "{name}: {} is {}, wanted {} ({})",
                wanted.clause,
                finding.verdict.key(),
                wanted.verdict,
                finding.note
            ));
        }
        if let Some((measured, limit)) = wanted.figures {
            let near = |has: Option<f64>, wants: f64| has.is_some_and(|has| (has - wants).abs() < TOLERANCE);
            if !near(finding.measured, measured) || !near(finding.limit, limit) {
                failed.push(format!(
                    "{name}: {:?} of {:?}, wanted {measured} of {limit}",
                    finding.measured, finding.limit
                ));
            }
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
    for clause in CLAUSES {
        let verdicts = told.get(clause.id).cloned().unwrap_or_default();
        assert!(verdicts.contains("pass"), "no case meets {}", clause.id);
        let broken = verdicts.contains("fail") || verdicts.contains("caution");
        assert!(broken, "no case breaks {}", clause.id);
    }
}

#[test]
fn list_and_standard_match_both_ways() {
    let company = load(Path::new(env!("CARGO_MANIFEST_DIR")), &kinds());
    let in_force = company.firm.unwrap().standard;
    let standard = company.standards.iter().find(|standard| standard.revision == in_force).unwrap();
    let mut ids = BTreeSet::new();
    for clause in CLAUSES {
        assert!(ids.insert(clause.id), "{} stands twice", clause.id);
        assert!(!clause.title.is_empty() && clause.measures.len() > 200, "{} is not explained", clause.id);
        for part in ["**Example.**", "**Remedy.**", "**Source.**"] {
            assert!(clause.measures.contains(part), "{} has no {part}", clause.id);
        }
        assert!(standard.clause(clause.id).is_some(), "{} is not in the demo's standard", clause.id);
    }
    let computed = standard.clauses().filter(|text| matches!(text.rule, Rule::Computed(_)));
    let computed: BTreeSet<&str> = computed.map(|text| text.id.as_str()).collect();
    assert_eq!(computed, ids);
}

//! Pinned: a whole packet's record, and a drawing as text. A change here must be meant:
//! `INSTA_UPDATE=always cargo test --test snapshots` renews them, and the difference is to be read.
use longsweep::company::load;
use longsweep::packet::subjects::line;
use longsweep::standard::kinds;
use longsweep::work::{Work, record};
use std::path::Path;

fn with_work(key: &str, check: impl FnOnce(&Work)) {
    let company = load(Path::new(env!("CARGO_MANIFEST_DIR")), &kinds());
    let (catalog, firm) = (company.catalog.unwrap(), company.firm.unwrap());
    let job = company.jobs.iter().flatten().find(|job| job.key == key).unwrap();
    let standard = company.standards.iter().find(|standard| standard.revision == job.standard).unwrap();
    check(&Work::up(job, standard, &catalog, firm.say()));
}

/// Numbers to a micrometre, so that the last digits of another machine's library do not count.
fn rounded(value: &mut serde_json::Value) {
    match value {
        serde_json::Value::Number(number) => {
            if let Some(short) = number.as_f64().filter(|_| number.is_f64()) {
                *value = serde_json::json!((short * 1e6).round() / 1e6);
            }
        }
        serde_json::Value::Array(items) => items.iter_mut().for_each(rounded),
        serde_json::Value::Object(map) => map.values_mut().for_each(rounded),
        _ => {}
    }
}

#[test]
fn pinned_record_of_curlew_lodge() {
    with_work("curlew-lodge", |work| {
        let mut record = serde_json::to_value(record(work)).expect("plain keys");
        rounded(&mut record);
        insta::assert_json_snapshot!(record);
    });
}

#[test]
fn pinned_elevation_of_plover_cottage() {
    with_work("plover-cottage", |work| {
        let picture = line(work, 0, "elevation", (186.0, 95.0)).expect("an inlet has its line");
        insta::assert_snapshot!(longsweep::draw::elevation(&picture).to_svg());
    });
}

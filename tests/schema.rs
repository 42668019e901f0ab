//! Schemas for editors take every file that the reader takes, and none with a key that it does not know.
mod common;

use longsweep::company::load;
use longsweep::lesson::front::split;
use longsweep::lesson::keys::BLOCKS;
use longsweep::schema::{Choices, FileKind, schema};
use longsweep::standard::kinds;
use serde_json::Value;
use std::fs;
use std::path::Path;

fn validator(kind: FileKind) -> jsonschema::Validator {
    let choices = Choices::of(&load(common::repository(), &kinds()));
    let schema = schema(kind, &choices, &kinds());
    jsonschema::draft7::meta::validate(&schema).expect("a sound schema of draft-07");
    jsonschema::draft7::new(&schema).expect("a schema")
}

fn kind_of(file: &Path) -> FileKind {
    let told =
        file.strip_prefix(common::repository()).expect("a file of ours").to_string_lossy().into_owned();
    match told.as_str() {
        plan if plan.ends_with(".plan.yaml") => FileKind::Plan,
        job if job.starts_with("jobs/") => FileKind::Job,
        part if part.contains("catalog") => FileKind::Catalog,
        standard if standard.contains("standard") => FileKind::Standard,
        lesson if lesson.contains("lessons") => FileKind::Lesson,
        theme if theme.starts_with("themes/") => FileKind::Theme,
        words if words.ends_with("words.yaml") => FileKind::Words,
        _ => FileKind::Firm,
    }
}

/// Every file of the demo of a kind, as an editor reads it.
fn demo(kind: FileKind) -> Vec<(String, Value)> {
    if kind == FileKind::LessonBlocks {
        return blocks();
    }
    let walk =
        ["content", "jobs", "themes"].map(|folder| walkdir::WalkDir::new(common::repository().join(folder)));
    let files = walk.into_iter().flatten().flatten().filter(|entry| entry.file_type().is_file());
    let texts = files.filter(|file| kind_of(file.path()) == kind).filter_map(|file| {
        let name = file.path().to_string_lossy().into_owned();
        let text = fs::read_to_string(file.path()).ok()?;
        match kind {
            FileKind::Lesson if name.ends_with(".md") => {
                Some((name.clone(), split(&name, &text).ok()?.front.to_owned()))
            }
            FileKind::Theme if !name.ends_with("/theme.yaml") => None,
            _ => name.ends_with(".yaml").then_some((name, text)),
        }
    });
    texts.map(|(name, text)| (name, serde_yaml::from_str(&text).expect("YAML"))).collect()
}

/// Every fenced block of the demo's lessons, under the word behind its fence.
fn blocks() -> Vec<(String, Value)> {
    let mut found = Vec::new();
    for entry in fs::read_dir(common::repository().join("content/lessons")).expect("lessons") {
        let file = entry.expect("a file").path();
        let text = fs::read_to_string(&file).unwrap_or_default();
        for kind in BLOCKS.names() {
            for block in text.split(&format!("\n```{kind}\n")).skip(1) {
                let block = block.split("\n```").next().unwrap_or("");
                let block: Value = serde_yaml::from_str(block).expect("YAML");
                found.push((format!("{} {kind}", file.display()), serde_json::json!({ kind: block })));
            }
        }
    }
    assert!(found.len() > 60, "{} blocks", found.len());
    found
}

#[test]
fn every_file_of_the_demo_fits_and_with_any_key_misspelt_it_does_not() {
    for kind in FileKind::ALL {
        let (validator, files) = (validator(kind), demo(kind));
        let mut spoilt = 0;
        for (name, value) in &files {
            let faults: Vec<String> = validator
                .iter_errors(value)
                .map(|fault| format!("{}: {fault}", fault.instance_path()))
                .collect();
            assert!(faults.is_empty(), "{name}: {faults:#?}");
            for place in mappings(value, "") {
                let keys: Vec<String> = value
                    .pointer(&place)
                    .and_then(Value::as_object)
                    .expect("a mapping")
                    .keys()
                    .cloned()
                    .collect();
                for key in keys {
                    let mut odd = value.clone();
                    let map = odd.pointer_mut(&place).and_then(Value::as_object_mut).expect("a mapping");
                    let kept = map.remove(&key).expect("its key");
                    map.insert(format!("{key}s"), kept);
                    assert!(!validator.is_valid(&odd), "{name}: `{key}s` is let pass at {place}");
                    spoilt += 1;
                }
            }
        }
        // The demo keeps its one plan inside the job.
        assert!(kind == FileKind::Plan || spoilt > 0, "{kind:?}: {spoilt}");
    }
}

/// The places of all mappings in a value.
fn mappings(value: &Value, at: &str) -> Vec<String> {
    let mut found = Vec::new();
    match value {
        Value::Object(map) => {
            found.push(at.to_owned());
            map.iter().for_each(|(key, value)| found.extend(mappings(value, &format!("{at}/{key}"))));
        }
        Value::Array(list) => {
            list.iter()
                .enumerate()
                .for_each(|(n, value)| found.extend(mappings(value, &format!("{at}/{n}"))));
        }
        _ => {}
    }
    found
}

#[test]
fn what_the_reader_refuses_for_a_key_the_schema_refuses_too() {
    let kinds = [
        ("job", FileKind::Job),
        ("catalog", FileKind::Catalog),
        ("standard", FileKind::Standard),
        ("company", FileKind::Firm),
    ];
    let mut refused = 0;
    for (folder, kind) in kinds {
        let validator = validator(kind);
        for entry in fs::read_dir(common::repository().join("tests/refusals").join(folder)).expect("a folder")
        {
            let file = entry.expect("a file").path();
            let text = fs::read_to_string(&file).unwrap_or_default();
            let first = text.lines().next().unwrap_or_default();
            // A merge key is put in its place before an editor holds the schema against the file.
            if !first.contains("is not a key of") || text.contains("<<:") {
                continue;
            }
            let Ok(value) = serde_yaml::from_str::<Value>(&text) else { continue };
            assert!(!validator.is_valid(&value), "{} is let pass", file.display());
            refused += 1;
        }
    }
    assert!(refused >= 8, "{refused} refusals of keys were tried");
}

#[test]
fn every_thing_of_the_tables_stands_in_a_schema_with_all_its_keys() {
    let sources = ["src/company/read/keys", "src/lesson/keys.rs"];
    let told: usize = sources
        .into_iter()
        .flat_map(|source| walkdir::WalkDir::new(common::repository().join(source)).into_iter().flatten())
        .filter(|entry| entry.file_type().is_file())
        .map(|file| fs::read_to_string(file.path()).expect("a source").matches(": Thing = Thing {").count())
        .sum();
    let mut met: Vec<*const longsweep::company::keys::Thing> = Vec::new();
    for kind in FileKind::ALL {
        let text = schema(kind, &Choices::default(), &kinds()).to_string();
        for thing in kind.things() {
            for key in thing.keys {
                assert!(text.contains(&format!("\"{}\":{{", key.name)), "{} of {}", key.name, thing.what);
                assert!(
                    !key.example.is_empty() && !key.about.is_empty() && key.must == key.without.is_empty()
                );
            }
            if !met.contains(&std::ptr::from_ref(thing)) {
                met.push(thing);
            }
        }
    }
    // Six kinds of fittings stand in one table.
    assert_eq!(met.len(), told + 6, "a table of keys stands in no schema");
}

/// A reader takes its keys from a table; a list of names beside it would stand in no schema.
#[test]
fn no_reader_has_a_list_of_keys_of_its_own() {
    let mut asked = 0;
    for entry in walkdir::WalkDir::new(common::repository().join("src")).into_iter().flatten() {
        let text = fs::read_to_string(entry.path()).unwrap_or_default();
        let file = entry.path().display().to_string();
        asked += text.matches("r.thing(").count();
        for call in text.split(".fields(").skip(1).filter(|_| !file.ends_with("read/kit/mod.rs")) {
            let call = call.split(['?', ';']).next().unwrap_or(call);
            assert!(call.contains("keys") || call.contains("&names"), "{file}: {call}");
            assert!(!call.contains("\"]") && !call.contains("&KEYS"), "{file} lists keys by hand: {call}");
        }
    }
    assert!(asked > 40, "only {asked} readers go by a table");
}

#[test]
fn the_command_prints_the_ids_of_the_company_as_choices() {
    let company = common::demo_without_jobs();
    let run = common::run(company.path(), &["schema", "job"]);
    assert_eq!(run.code, 0, "{}", run.err);
    let schema: Value = serde_json::from_str(&run.out).expect("JSON");
    let hoses = &schema["definitions"]["inlet"]["properties"]["hose"]["enum"];
    assert!(hoses.as_array().is_some_and(|hoses| hoses.contains(&"socked-40".into())), "{hoses}");
    let nowhere = tempfile::tempdir().expect("a folder");
    let run = common::run(nowhere.path(), &["schema", "catalog"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    assert_eq!(common::run(company.path(), &["schema", "jobs"]).code, 2);
}

#[test]
fn shells_and_the_manual_page_know_every_command() {
    let here = tempfile::tempdir().expect("a folder");
    let man = common::run(here.path(), &["man"]);
    assert_eq!(man.code, 0, "{}", man.err);
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let run = common::run(here.path(), &["completions", shell]);
        assert_eq!(run.code, 0, "{}", run.err);
        for command in
            ["publish", "inspect", "takeoff", "draw", "watch", "begin", "schema", "reach", "propose"]
        {
            assert!(run.out.contains(command), "{shell} does not know {command}");
            assert!(man.out.contains(&format!("longsweep\\-{command}")), "the manual has no {command}");
        }
    }
    assert!(man.out.starts_with(".ie"), "{}", &man.out[..40]);
}

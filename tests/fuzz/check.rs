//! What must hold of whatever is read: it ends without a panic, what is wrong has a place in its file, the
//! same text is read the same twice, a figure said and read again is the same figure, a drawing can be shown.
use super::corpus::Target;
use super::hand::Hand;
use super::reading;
use longsweep::company::{
    Catalog, Job, Standard, read_catalog, read_firm, read_job, read_plan, read_standards, read_words,
};
use longsweep::draw::{ReachPicture, Scene, Shown, VIEWS};
use longsweep::lesson::{front, render};
use longsweep::measure::{
    Kind, Lengths, MeasureError, Say, read_breadth, read_coordinate, read_date, read_direction, read_length,
    read_number, read_quantity, split_turn,
};
use longsweep::packet::pictures::key;
use longsweep::packet::reach::{picture, survey_of};
use longsweep::packet::subjects::line;
use longsweep::text::{Diagnostic, decode};
use longsweep::work::{Work, record};

/// The name of the file that is read.
pub const FILE: &str = "jobs/z22.yaml";
/// A job that breaks nothing.
const SOUND: &str = include_str!("../nothing_believed.yaml");
const PLAN: &str = "jobs/z22.plan.yaml";
const SAYS: [Say; 2] = [Say { lengths: Lengths::FtIn }, Say { lengths: Lengths::Metric }];

/// Reads the bytes and holds the outcome to the rules; answers whether they were read without a fault.
/// `deep` says whether what was read is worked up and drawn as well.
pub fn check(target: Target, bytes: &[u8], deep: bool) -> Result<bool, String> {
    let text = match decode(FILE, bytes) {
        Ok(text) => text,
        Err(faults) => return faults_sound(&faults, None, FILE).map(|()| false),
    };
    if !target.is_file() {
        return measure(target, text);
    }
    let faults = read(target, text, deep)?;
    let file = if target == Target::Plan { PLAN } else { FILE };
    faults_sound(&faults, Some(text), file)?;
    match read(target, text, false)? == faults {
        true => Ok(faults.is_empty()),
        false => Err("read twice, and not the same faults".into()),
    }
}

fn read(target: Target, text: &str, deep: bool) -> Result<Vec<Diagnostic>, String> {
    let (catalog, standards) = reading::shared();
    let firm = reading::firm();
    Ok(match target {
        Target::Job => match read_job(FILE, text, catalog, &firm, standards, &[]) {
            Ok(job) => {
                if deep {
                    worked(&job, standards.iter().find(|s| s.revision == job.standard), catalog)?;
                }
                job.warnings
            }
            Err(faults) => faults,
        },
        Target::Plan => {
            if let Err(faults) = read_plan(FILE, text, 0, catalog) {
                faults_sound(&faults, Some(text), FILE)?;
            }
            let job = format!("plan: z22.plan.yaml\n{SOUND}");
            match read_job(FILE, &job, catalog, &firm, standards, &[(PLAN.to_owned(), text.to_owned())]) {
                Ok(job) => {
                    if deep {
                        worked(&job, standards.iter().find(|s| s.revision == job.standard), catalog)?;
                    }
                    job.warnings
                }
                // The job itself may not fit a plan that was changed.
                Err(faults) => {
                    let (own, others): (Vec<_>, Vec<_>) = faults.into_iter().partition(|f| f.file == PLAN);
                    faults_sound(&others, Some(&job), FILE)?;
                    own
                }
            }
        }
        Target::Lesson => match front::split(FILE, text) {
            Ok(split) => {
                let mut faults = front::parse(FILE, &split, &["bend-total"]).err().unwrap_or_default();
                faults.extend(render(FILE, split.body, split.body_lines_above, &mut Hand).faults);
                faults
            }
            Err(fault) => vec![*fault],
        },
        Target::Catalog => {
            let (read, faults) = read_catalog(&[(FILE, text)]);
            if let Some(catalog) = read.filter(|_| deep && faults.is_empty()) {
                other_ground(&catalog, standards)?;
            }
            faults
        }
        Target::Standard => {
            let (read, faults) = read_standards(&[(FILE, text)], &reading::kinds());
            if deep && faults.is_empty() {
                other_ground(catalog, &read)?;
            }
            faults
        }
        Target::Firm => read_firm(FILE, text, &["2025-2", "2026-1"]).1,
        _ => read_words(FILE, text).err().unwrap_or_default(),
    })
}

/// A sound job on a catalog or a standard that was changed, where it can be read on it.
fn other_ground(catalog: &Catalog, standards: &[Standard]) -> Result<(), String> {
    let mut firm = reading::firm();
    let Some(standard) = standards.first() else { return Ok(()) };
    firm.standard.clone_from(&standard.revision);
    match read_job(FILE, SOUND, catalog, &firm, standards, &[]) {
        Ok(job) => worked(&job, Some(standard), catalog),
        Err(_) => Ok(()),
    }
}

/// A job that is read can be laid, judged and drawn, twice the same, in figures that are figures.
fn worked(job: &Job, standard: Option<&Standard>, catalog: &Catalog) -> Result<(), String> {
    let Some(standard) = standard else { return Err("a job is judged by no standard".into()) };
    let say = SAYS[job.title.len() % 2];
    let work = Work::up(job, standard, catalog, say);
    let text = |work: &Work| serde_json::to_string(&record(work)).expect("plain keys");
    let told = text(&work);
    let again = text(&Work::up(job, standard, catalog, say));
    if told != again {
        return Err("worked up twice, and not the same".into());
    }
    // Names may say what they like.
    let written = format!("{job:?}");
    for odd in ["NaN", "inf ", "-inf", "∞"] {
        if told.contains(odd) && !written.contains(odd) {
            return Err(format!("the record says {odd}"));
        }
    }
    const AREA_MM: (f64, f64) = (186.0, 120.0);
    for view in VIEWS {
        let scenes: Vec<_> = match view.shown {
            Shown::Line(draw) => (0..work.lines.lines.len())
                .filter_map(|i| Some(draw(&line(&work, i, view.name, AREA_MM)?)))
                .collect(),
            Shown::Job(draw) => {
                key(&work, view.name, view.title, AREA_MM).map(|picture| draw(&picture)).into_iter().collect()
            }
            Shown::Floor(draw) => floors(&work, draw),
        };
        for scene in scenes {
            usvg::Tree::from_str(&scene.to_svg(), &usvg::Options::default())
                .map_err(|why| format!("the {} cannot be shown: {why}", view.name))?;
        }
    }
    Ok(())
}

/// The floors of a job's plan with what its valves reach.
fn floors(work: &Work, draw: fn(&ReachPicture) -> Scene) -> Vec<Scene> {
    let (Some(plan), Some(survey)) = (work.job.plan.as_deref(), survey_of(work)) else { return Vec::new() };
    (0..plan.placed.floors_m.len()).map(|floor| draw(&picture(work, plan, &survey, floor))).collect()
}

/// Every fault has words, names its file, and stands on words of the text.
pub fn faults_sound(faults: &[Diagnostic], text: Option<&str>, file: &str) -> Result<(), String> {
    for fault in faults {
        let odd = |what: &str| Err(format!("{what}: {fault:?}"));
        if fault.file != file || fault.message.is_empty() {
            return odd("a fault without its file or words");
        }
        let control = |c: char| c.is_control() && c != '\n';
        if fault.render_plain().chars().any(control) {
            return odd("a control character reaches the terminal");
        }
        let Some(text) = text else { continue };
        if fault.line == 0 {
            // Where there are too many to show, where nothing stands in the file, and where all files of the
            // catalog together lack something.
            let whole = ["more faults in this file", "the file is empty", "the catalog has no tube"];
            if !whole.iter().any(|words| fault.message.contains(words)) {
                return odd("a fault without its place");
            }
            continue;
        }
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let Some(line) = text.split('\n').nth(fault.line - 1) else {
            return odd("below the end of the file");
        };
        let letters = line.split('\r').next().unwrap_or("").chars().count();
        if fault.column == 0 || fault.column - 1 + fault.len > letters {
            return odd(&format!("beyond the {letters} letters of its line"));
        }
    }
    Ok(())
}

/// A measure is read or refused at a place in it; what was read, said and read again is the same.
fn measure(target: Target, text: &str) -> Result<bool, String> {
    match target {
        Target::Length => {
            let read = refused_within(text, read_coordinate(text))?;
            refused_within(text, read_length(text))?;
            refused_within(text, read_breadth(text))?;
            if let Some(length_m) = read {
                for say in SAYS {
                    same_again(length_m, |v| say.length(v), Kind::Coordinate, say.step_m() / 2.0)?;
                }
            }
            Ok(read.is_some())
        }
        Target::Quantity => quantity(text),
        Target::Date => match refused_within(text, read_date(text))? {
            Some(date) => match read_date(&date.to_string()) {
                Ok(again) if again == date => Ok(true),
                other => Err(format!("{date} is read again as {other:?}")),
            },
            None => Ok(false),
        },
        _ => {
            let word = refused_within(text, read_direction(text))?;
            let turn = refused_within(text, split_turn(text))?;
            if let Some((angle, toward)) = &turn {
                let (angle, toward) = (text.get(angle.clone()), text.get(toward.clone()));
                let (Some(angle), Some(toward)) = (angle, toward) else {
                    return Err(format!("{turn:?} is no part of the text"));
                };
                refused_within(angle, read_quantity(angle, Kind::Angle))?;
                refused_within(toward, read_direction(toward))?;
            }
            Ok(word.is_some() || turn.is_some())
        }
    }
}

/// The value, or nothing where it is refused in words at a place in the text.
fn refused_within<T>(text: &str, read: Result<T, MeasureError>) -> Result<Option<T>, String> {
    match read {
        Ok(value) => Ok(Some(value)),
        Err(error) if text.get(error.at.clone()).is_none() => {
            Err(format!("{error:?} is not within the text"))
        }
        Err(error) if error.to_string().is_empty() => Err("refused without a word".into()),
        Err(error) => {
            let _ = error.fault.help();
            Ok(None)
        }
    }
}

fn quantity(text: &str) -> Result<bool, String> {
    let mut any = refused_within(text, read_number(text))?.is_some();
    // Length has readers and a target of its own.
    let kinds = Kind::ALL.into_iter().filter(|kind| *kind != Kind::Length).chain([Kind::Plain, Kind::Gauge]);
    for kind in kinds {
        let Some(value) = refused_within(text, read_quantity(text, kind))? else { continue };
        any = true;
        if !value.is_finite() {
            return Err(format!("{text:?} is {value} as {kind:?}"));
        }
        for say in SAYS {
            match kind {
                Kind::Angle => same_again(value, |v| say.angle(v), kind, 0.126)?,
                Kind::Weight => same_again(value, |v| say.weight(v), kind, f64::INFINITY)?,
                Kind::Pressure => same_again(value, |v| say.pressure(v), kind, f64::INFINITY)?,
                Kind::Flow => same_again(value, |v| say.flow(v), kind, f64::INFINITY)?,
                Kind::Force => same_again(value, |v| say.force(v), kind, f64::INFINITY)?,
                Kind::Speed => same_again(value, |v| say.speed(v), kind, f64::INFINITY)?,
                _ => {}
            }
        }
    }
    Ok(any)
}

/// What is said of a value can be read, says the same again, and is no further off than said.
fn same_again(value: f64, say: impl Fn(f64) -> String, kind: Kind, most: f64) -> Result<(), String> {
    let said = say(value);
    // Said to the nearest step, a value at the very end of what can be written may come out beyond it.
    let at_the_end = read_quantity(&say(value * 0.999), kind).is_ok();
    let read = match read_quantity(&said, kind) {
        Ok(read) => read,
        Err(_) if at_the_end => return Ok(()),
        Err(error) => return Err(format!("{value} is said as {said:?}, which is refused: {error}")),
    };
    if say(read) != said {
        return Err(format!(
            "{value} is said as {said:?}, which is read as {read} and said as {:?}",
            say(read)
        ));
    }
    match (read - value).abs() <= most + 1e-9 {
        true => Ok(()),
        false => Err(format!("{value} is said as {said:?}, which is {read}")),
    }
}

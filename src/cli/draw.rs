//! `draw`: single drawings as files or on standard output.
use super::read::{company_with, show_unread};
use super::terminal::{out_bytes, say};
use super::{FINE, UNREAD};
use crate::draw::{DrawError, Scene, Shown, VIEWS, View, check, png};
use crate::packet::pictures::key;
use crate::packet::reach::{picture, survey_of};
use crate::packet::subjects::{line, line_id};
use crate::text::{clip, nearest, refused};
use crate::work::Work;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use std::fs;
use std::path::Path;

/// Which drawings are wanted, and how.
pub struct Wanted<'a> {
    /// Id of an inlet or a trunk.
    pub line: Option<&'a str>,
    pub view: Option<&'static View>,
    pub png: bool,
    pub into: Option<&'a Path>,
}

/// A file's name and content, or why there is none.
type Drawing = Result<(String, Vec<u8>), String>;

/// A sheet's width, so that a drawing alone can be printed.
const AREA_MM: (f64, f64) = (186.0, 120.0);
const PNG_PER_MM: f64 = 8.0;

/// Draws what is wanted of a job.
pub fn draw(root: &Path, name: &str, wanted: &Wanted) -> u8 {
    let Some(company) = company_with(root, &[name]) else {
        return UNREAD;
    };
    let Some(job) = company.job(name) else {
        return UNREAD;
    };
    match company.work_up(&[job]).into_iter().next() {
        Some(Ok(work)) => match drawings(&work, wanted).and_then(|drawn| put_sound(drawn, wanted.into)) {
            Ok(true) => FINE,
            Ok(false) => UNREAD,
            Err(why) => {
                say(&format!("longsweep: {why}"));
                UNREAD
            }
        },
        Some(Err(unread)) => {
            show_unread(&unread);
            UNREAD
        }
        None => UNREAD,
    }
}

/// The names that `--view` takes, and the view each means.
pub fn view_names() -> impl TypedValueParser<Value = &'static View> {
    let names = VIEWS.iter().map(|view| PossibleValue::new(view.name).help(view.about));
    PossibleValuesParser::new(names)
        .try_map(|name| VIEWS.iter().copied().find(|view| view.name == name).ok_or("no such view"))
}

/// The drawings wanted, with their file names: every view of every line, then of the job.
fn drawings(work: &Work, wanted: &Wanted) -> Result<Vec<Drawing>, String> {
    let lines: Vec<usize> = match wanted.line {
        None => (0..work.lines.lines.len()).collect(),
        Some(id) => vec![line_named(work, id)?],
    };
    let mut scenes: Vec<(String, Scene)> = Vec::new();
    let views: Vec<&View> = wanted.view.map_or_else(|| VIEWS.to_vec(), |view| vec![view]);
    let of_line = |i: usize, view: &View| match view.shown {
        Shown::Line(draw) => {
            let picture = line(work, i, view.name, AREA_MM)?;
            Some((format!("{}-{}", line_id(work, i), view.name), draw(&picture)))
        }
        Shown::Job(_) | Shown::Floor(_) => None,
    };
    for i in lines {
        scenes.extend(views.iter().filter_map(|view| of_line(i, view)));
    }
    for view in &views {
        if let (Shown::Job(draw), None) = (&view.shown, wanted.line) {
            let picture = key(work, view.name, view.title, AREA_MM);
            // A job without places has no such view; that is an error only where it was asked for by name.
            match picture {
                Some(picture) => scenes.push((view.name.into(), draw(&picture))),
                None if wanted.view.is_some() => {
                    return Err("the job gives its lines no places to draw them by".into());
                }
                None => {}
            }
        }
    }
    scenes.extend(floors(work, &views, wanted)?);
    Ok(scenes.into_iter().map(|(name, scene)| file(&name, scene.to_svg(), wanted.png)).collect())
}

/// Writes the drawings that could be made and tells of the others; answers whether all could.
fn put_sound(drawn: Vec<Drawing>, into: Option<&Path>) -> Result<bool, String> {
    let (files, faults): (Vec<_>, Vec<_>) = drawn.into_iter().partition(Result::is_ok);
    faults.iter().filter_map(|fault| fault.as_ref().err()).for_each(|why| say(&format!("longsweep: {why}")));
    let files: Vec<(String, Vec<u8>)> = files.into_iter().flatten().collect();
    let written = files.is_empty() || put(&files, into)?;
    Ok(written && faults.is_empty())
}

/// The floors of the job's plan in the views that show them.
fn floors(work: &Work, views: &[&View], wanted: &Wanted) -> Result<Vec<(String, Scene)>, String> {
    let mut scenes = Vec::new();
    for view in views {
        let (Shown::Floor(draw), None) = (&view.shown, wanted.line) else { continue };
        let (Some(plan), Some(survey)) = (work.job.plan.as_deref(), survey_of(work)) else {
            if wanted.view.is_some() {
                return Err("the job has no plan; add `plan:` to its file".into());
            }
            continue;
        };
        let count = plan.placed.floors_m.len();
        scenes.extend((0..count).map(|floor| {
            let name = if count == 1 { view.name.into() } else { format!("{}-{}", view.name, floor + 1) };
            (name, draw(&picture(work, plan, &survey, floor)))
        }));
    }
    Ok(scenes)
}

/// A drawing, checked, as a file.
fn file(name: &str, svg: String, as_png: bool) -> Drawing {
    let told = |error: DrawError| format!("{name} is not drawn: {error}");
    check(&svg).map_err(told)?;
    Ok(match as_png {
        true => (format!("{name}.png"), png(&svg, PNG_PER_MM).map_err(told)?),
        false => (format!("{name}.svg"), svg.into_bytes()),
    })
}

/// The line of an inlet or a trunk.
fn line_named(work: &Work, id: &str) -> Result<usize, String> {
    let ids = || work.job.lines.iter().map(|line| line.id.as_str());
    ids().position(|known| known == id).ok_or_else(|| {
        let hint = match nearest(id, ids()) {
            Some(near) => format!("; the nearest is `{near}`"),
            None => format!("; it has {}", ids().collect::<Vec<_>>().join(", ")),
        };
        format!("job {} has no inlet or trunk `{}`{hint}", work.job.key, clip(id))
    })
}

/// Puts the files into a folder, or the only one onto standard output; answers whether that took it.
fn put(files: &[(String, Vec<u8>)], into: Option<&Path>) -> Result<bool, String> {
    match (into, files) {
        (Some(folder), _) => {
            fs::create_dir_all(folder)
                .map_err(|error| format!("{} cannot be made: {}", folder.display(), refused(&error)))?;
            for (name, bytes) in files {
                let path = folder.join(name);
                fs::write(&path, bytes)
                    .map_err(|error| format!("{} cannot be written: {}", path.display(), refused(&error)))?;
                say(&path.display().to_string());
            }
            Ok(true)
        }
        (None, [(_, bytes)]) => Ok(out_bytes(bytes)),
        (None, many) => Err(format!(
            "{} drawings do not fit on standard output; name one by --line and --view, or a folder by --into",
            many.len()
        )),
    }
}

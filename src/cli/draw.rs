//! `draw`: single drawings as files or on standard output.
use super::read::company;
use super::terminal::{say, show};
use super::{FINE, UNREAD};
use crate::draw::{Scene, Shown, VIEWS, View, check, png};
use crate::packet::pictures::{key, raceway};
use crate::work::Work;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use std::fs;
use std::io::Write;
use std::path::Path;

/// Which drawings are wanted, and how.
pub struct Wanted<'a> {
    pub inlet: Option<&'a str>,
    pub view: Option<&'static View>,
    pub png: bool,
    pub into: Option<&'a Path>,
}

/// A sheet's width, so that a drawing alone can be printed.
const AREA_MM: (f64, f64) = (186.0, 120.0);
const PNG_PER_MM: f64 = 8.0;

/// Draws what is wanted of a job.
pub fn draw(root: &Path, name: &str, wanted: &Wanted) -> u8 {
    let Some(company) = company(root) else {
        return UNREAD;
    };
    let Some(job) = company.job(name) else {
        return UNREAD;
    };
    match company.work_up(&[job]).into_iter().next() {
        Some(Ok(work)) => match drawings(&work, wanted).and_then(|files| put(&files, wanted.into)) {
            Ok(()) => FINE,
            Err(why) => {
                say(&format!("longsweep: {why}"));
                UNREAD
            }
        },
        Some(Err(unread)) => {
            show(&unread.diagnostics);
            UNREAD
        }
        None => UNREAD,
    }
}

/// The names that `--view` takes, and the view each means.
pub fn view_names() -> impl TypedValueParser<Value = &'static View> {
    let names = VIEWS.map(|view| PossibleValue::new(view.name).help(view.about));
    PossibleValuesParser::new(names)
        .try_map(|name| VIEWS.into_iter().find(|view| view.name == name).ok_or("no such view"))
}

/// The drawings wanted, with their file names: every view of every inlet, then of the job.
fn drawings(work: &Work, wanted: &Wanted) -> Result<Vec<(String, Vec<u8>)>, String> {
    let inlets: Vec<usize> = match wanted.inlet {
        None => (0..work.job.inlets.len()).collect(),
        Some(id) => vec![inlet(work, id)?],
    };
    let of_line = |i: usize, view: &View| match view.shown {
        Shown::Line(draw) => {
            let name = format!("{}-{}", work.job.inlets[i].id, view.name);
            Some((name, draw(&raceway(work, i, view.name, AREA_MM))))
        }
        Shown::Job(_) => None,
    };
    let mut scenes: Vec<(String, Scene)> = Vec::new();
    let views: Vec<&View> = wanted.view.map_or_else(|| VIEWS.to_vec(), |view| vec![view]);
    for i in inlets {
        scenes.extend(views.iter().filter_map(|view| of_line(i, view)));
    }
    for view in views {
        if let (Shown::Job(draw), None) = (&view.shown, wanted.inlet) {
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
    scenes.into_iter().map(|(name, scene)| file(&name, scene.to_svg(), wanted.png)).collect()
}

/// A drawing, checked, as a file.
fn file(name: &str, svg: String, as_png: bool) -> Result<(String, Vec<u8>), String> {
    check(&svg).map_err(|error| error.to_string())?;
    Ok(match as_png {
        true => (format!("{name}.png"), png(&svg, PNG_PER_MM).map_err(|error| error.to_string())?),
        false => (format!("{name}.svg"), svg.into_bytes()),
    })
}

fn inlet(work: &Work, id: &str) -> Result<usize, String> {
    let ids = || work.job.inlets.iter().map(|inlet| inlet.id.as_str());
    ids().position(|known| known == id).ok_or_else(|| {
        let nearest = ids().min_by_key(|known| strsim::damerau_levenshtein(known, id)).unwrap_or_default();
        format!("job {} has no inlet `{id}`; the nearest is `{nearest}`", work.job.key)
    })
}

fn put(files: &[(String, Vec<u8>)], into: Option<&Path>) -> Result<(), String> {
    match (into, files) {
        (Some(folder), _) => {
            fs::create_dir_all(folder)
                .map_err(|error| format!("{} cannot be made: {error}", folder.display()))?;
            for (name, bytes) in files {
                let path = folder.join(name);
                fs::write(&path, bytes)
                    .map_err(|error| format!("{} cannot be written: {error}", path.display()))?;
                say(&path.display().to_string());
            }
            Ok(())
        }
        (None, [(_, bytes)]) => std::io::stdout()
            .write_all(bytes)
            .map_err(|error| format!("standard output cannot be written: {error}")),
        (None, many) => Err(format!(
            "{} drawings do not fit on standard output; name one by --inlet and --view, or a folder by --into",
            many.len()
        )),
    }
}

//! `draw`: single drawings as files or on standard output.
use super::read::company;
use super::terminal::{say, show};
use super::{FINE, UNREAD};
use crate::draw::{check, elevation, isometric, key_plan, plan, png};
use crate::packet::pictures::{key, raceway};
use crate::work::Work;
use std::fs;
use std::io::Write;
use std::path::Path;

/// A view of a raceway.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum View {
    /// Unrolled along the route, height over station
    Elevation,
    /// From above, north up
    Plan,
    /// On three axes
    Isometric,
    /// All lines of the job, from above
    Key,
}

impl View {
    fn name(self) -> &'static str {
        match self {
            View::Elevation => "elevation",
            View::Plan => "plan",
            View::Isometric => "isometric",
            View::Key => "key",
        }
    }
}

/// Which drawings are wanted, and how.
pub struct Wanted<'a> {
    pub inlet: Option<&'a str>,
    pub view: Option<View>,
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

/// The drawings wanted, with their file names.
fn drawings(work: &Work, wanted: &Wanted) -> Result<Vec<(String, Vec<u8>)>, String> {
    if wanted.view == Some(View::Key) {
        let mut picture =
            key(work, "key", "Key plan").ok_or("the job gives its lines no places to draw them by")?;
        picture.area_mm = AREA_MM;
        return Ok(vec![file("key", key_plan(&picture).to_svg(), wanted.png)?]);
    }
    let inlets: Vec<usize> = match wanted.inlet {
        None => (0..work.job.inlets.len()).collect(),
        Some(id) => vec![inlet(work, id)?],
    };
    let views =
        wanted.view.map_or_else(|| vec![View::Elevation, View::Plan, View::Isometric], |view| vec![view]);
    let mut files = Vec::new();
    for i in inlets {
        for view in &views {
            let picture = raceway(work, i, view.name(), AREA_MM);
            let scene = match view {
                View::Plan => plan(&picture),
                View::Isometric => isometric(&picture),
                View::Elevation | View::Key => elevation(&picture),
            };
            let name = format!("{}-{}", work.job.inlets[i].id, view.name());
            files.push(file(&name, scene.to_svg(), wanted.png)?);
        }
    }
    Ok(files)
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

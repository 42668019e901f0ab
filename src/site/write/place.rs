//! Files put in their place together: all laid on the bench, noted in the journal, brought to the disk, and only
//! then renamed, so that a run that is cut off leaves each of them whole or not there, and known.
use super::mark::{Marked, marked};
use super::record::{JOURNAL, Made, note};
use super::stand::{Seen, Standing, seen, standing};
use super::{Left, Report, SiteFile, WriteError, Writer, changed_ns};
use std::path::{Path, PathBuf};

/// A file that lies on the bench.
struct Laid {
    file: Marked,
    at_ns: u128,
    bench: PathBuf,
    target: PathBuf,
    /// What stood in its place when it was laid there, and how it was seen.
    stands: (Standing, Seen),
}

/// What became of files.
#[derive(Default)]
struct Placed {
    made: Vec<(String, Made)>,
    report: Report,
}

impl Placed {
    fn made(&mut self, file: Marked, at_ns: u128) {
        self.made.push((file.path, Made { print: file.print, at_ns }));
    }

    fn left(&mut self, file: Marked, why: &'static str) {
        self.report.left.push(Left { path: file.path, why, missing: true });
    }
}

impl Writer {
    /// Puts files in their place, each unless the very bytes stand there.
    pub(super) fn place(&self, files: Vec<SiteFile>) -> Result<(), WriteError> {
        let mut placed = Placed::default();
        let mut laid = Vec::new();
        for file in marked(files) {
            laid.extend(self.lay(file, &mut placed)?);
        }
        if !laid.is_empty() {
            let noted = laid.iter().map(|laid| (laid.file.print.as_str(), laid.file.path.as_str()));
            note(&mut self.state().journal, noted).map_err(|error| WriteError::Io(JOURNAL.into(), error))?;
            self.bench.sync(laid.iter().map(|laid| laid.bench.as_path()))?;
        }
        let put = laid.into_iter().try_for_each(|laid| self.put_in_place(laid, &mut placed));
        let mut state = self.state();
        state.made.extend(placed.made);
        state.report.written.extend(placed.report.written);
        state.report.left.extend(placed.report.left);
        state.report.aside.extend(placed.report.aside);
        put
    }

    /// Lays a file on the bench, if it is to be put in its place.
    fn lay(&self, file: Marked, placed: &mut Placed) -> Result<Option<Laid>, WriteError> {
        let target = self.site_dir.join(&file.path);
        let stands = self.stands_at(&target, &file);
        match stands {
            (Standing::Same, seen) => placed.made(file, seen.map_or(0, |(_, at_ns)| at_ns)),
            (Standing::Foreign(why), _) => placed.left(file, why),
            (Standing::Ours | Standing::Edited, _) => {
                let laid = self.bench.lay(&file.bytes).and_then(|(bench, open)| {
                    // A rename leaves the time of the last change as it is.
                    Ok((bench, changed_ns(&open.metadata()?)))
                });
                let (bench, at_ns) = laid.map_err(|error| WriteError::Io(target.clone(), error))?;
                return Ok(Some(Laid { file, at_ns, bench, target, stands }));
            }
        }
        Ok(None)
    }

    /// Puts a file from the bench in its place; what was put there meanwhile is looked at anew.
    fn put_in_place(&self, laid: Laid, placed: &mut Placed) -> Result<(), WriteError> {
        let Laid { file, at_ns, bench, target, stands: (mut stands, before) } = laid;
        if seen(&target) != before {
            stands = self.stands_at(&target, &file).0;
        }
        match stands {
            Standing::Foreign(why) => {
                placed.left(file, why);
                return Ok(());
            }
            Standing::Edited => {
                let aside = self.bench.set_aside(&file.path)?;
                placed.report.aside.push((file.path.clone(), aside));
            }
            Standing::Same | Standing::Ours => {}
        }
        self.bench.put(&bench, &target).map_err(|error| WriteError::Io(target, error))?;
        placed.report.written.push(file.path.clone());
        placed.made(file, at_ns);
        Ok(())
    }

    fn stands_at(&self, target: &Path, file: &Marked) -> (Standing, Seen) {
        match self.barred(&file.path) {
            Some(why) => (Standing::Foreign(why), None),
            None => standing(target, &file.path, &file.bytes, &self.known),
        }
    }
}

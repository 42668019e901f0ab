//! The bench: where files are written before they are put in their place, and how they come to the disk.
use super::WriteError;
use super::stand::folder_of;
use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

/// The bench, in `site/`.
pub const BENCH: &str = ".longsweep-bench";

/// So many files or folders are brought to the disk one by one; more of them go with all else that the file system
/// holds back, so that a single save never waits for what other programs write.
const FEW: usize = 8;

/// The bench of a run.
pub struct Bench {
    site_dir: PathBuf,
    dir: PathBuf,
    /// Names given so far.
    named: AtomicUsize,
}

impl Bench {
    /// An empty bench; what a run that was killed left on it is cleared.
    pub fn open(site_dir: &Path) -> Result<Bench, WriteError> {
        let dir = site_dir.join(BENCH);
        match fs::symlink_metadata(&dir) {
            Err(_) => {}
            Ok(meta) if meta.is_dir() => {
                fs::remove_dir_all(&dir).map_err(|error| WriteError::Io(dir.clone(), error))?;
            }
            Ok(_) => return Err(WriteError::Record(format!("{BENCH} is no folder"))),
        }
        fs::create_dir(&dir).map_err(|error| WriteError::Io(dir.clone(), error))?;
        Ok(Bench { site_dir: site_dir.into(), dir, named: AtomicUsize::new(0) })
    }

    /// Lays bytes on the bench, open to everyone that the user's mask lets in.
    pub fn lay(&self, bytes: &[u8]) -> io::Result<(PathBuf, File)> {
        loop {
            let nth = self.named.fetch_add(1, Ordering::Relaxed);
            let path = self.dir.join(format!("{}-{nth}", std::process::id()));
            match File::options().write(true).create_new(true).open(&path) {
                // On a share that knows no locks another run may be at work.
                Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
                other => {
                    let mut file = other?;
                    file.write_all(bytes)?;
                    return Ok((path, file));
                }
            }
        }
    }

    /// Brings files from the bench to the disk.
    pub fn sync<'a>(&self, files: impl ExactSizeIterator<Item = &'a Path>) -> Result<(), WriteError> {
        if files.len() > FEW && sync_all(&self.site_dir)? {
            return Ok(());
        }
        for path in files {
            let open = File::options().write(true).open(path);
            open.and_then(|file| file.sync_data()).map_err(|error| WriteError::Io(path.into(), error))?;
        }
        Ok(())
    }

    /// Puts a file from the bench in its place, over what stands there.
    pub fn put(&self, from: &Path, target: &Path) -> io::Result<()> {
        match fs::rename(from, target) {
            Err(error) if error.kind() == ErrorKind::NotFound => {
                fs::create_dir_all(target.parent().unwrap_or(&self.site_dir))?;
                fs::rename(from, target)
            }
            other => other,
        }
    }

    /// Writes one file by way of the bench.
    pub fn write(&self, path: &str, bytes: &[u8]) -> Result<(), WriteError> {
        let target = self.site_dir.join(path);
        let written = self.lay(bytes).and_then(|(from, file)| {
            file.sync_data()?;
            self.put(&from, &target)
        });
        written.map_err(|error| WriteError::Io(target, error))
    }

    /// Moves a page that was changed by hand to a free name beside it, and answers that name.
    pub fn set_aside(&self, path: &str) -> Result<String, WriteError> {
        let (stem, ending) = path.rsplit_once('.').unwrap_or((path, "txt"));
        let free = (1..)
            .map(|n| format!("{stem}.by-hand-{n}.{ending}"))
            .find(|name| fs::symlink_metadata(self.site_dir.join(name)).is_err())
            .unwrap_or_default();
        let from = self.site_dir.join(path);
        fs::rename(&from, self.site_dir.join(&free)).map_err(|error| WriteError::Io(from, error))?;
        Ok(free)
    }
}

/// The bench goes with its run, and what a run that failed had laid on it; one that stays is cleared next time.
impl Drop for Bench {
    fn drop(&mut self) {
        let own = format!("{}-", std::process::id());
        let laid = fs::read_dir(&self.dir).into_iter().flatten().flatten();
        for file in laid.filter(|file| file.file_name().to_string_lossy().starts_with(&own)) {
            let _ = fs::remove_file(file.path());
        }
        let _ = fs::remove_dir(&self.dir);
    }
}

/// Brings the folder of every path to the disk.
pub fn sync<'a>(site_dir: &Path, paths: impl Iterator<Item = &'a String>) -> Result<(), WriteError> {
    let folders: BTreeSet<&str> = paths.map(|path| folder_of(path)).collect();
    if folders.len() > FEW && sync_all(site_dir)? {
        return Ok(());
    }
    let folders = folders.into_iter().map(|folder| site_dir.join(folder));
    folders.filter(|folder| folder.is_dir()).try_for_each(|folder| sync_folder(&folder))
}

/// Brings all that the file system of a folder holds back to the disk; answers whether it can be asked for that.
///
/// Only a disk of this machine is asked. A share, or a program that stands for a file system, may take the same order
/// for less than one for each file.
#[cfg(target_os = "linux")]
fn sync_all(folder: &Path) -> Result<bool, WriteError> {
    let fail = |error| WriteError::Io(folder.into(), error);
    let open = File::open(folder).map_err(fail)?;
    let kind = rustix::fs::fstatfs(&open).map_err(|error| fail(error.into()))?.f_type as u32;
    if !LOCAL.contains(&kind) {
        return Ok(false);
    }
    match rustix::fs::syncfs(open) {
        Err(rustix::io::Errno::NOSYS) => Ok(false),
        other => other.map(|()| true).map_err(|error| fail(error.into())),
    }
}

/// Kinds of file systems that lie on a disk of this machine: ext, xfs, btrfs, f2fs, and layers over them.
///
/// Source: the numbers of statfs(2).
#[cfg(target_os = "linux")]
const LOCAL: [u32; 5] = [0xEF53, 0x5846_5342, 0x9123_683E, 0xF2F5_2010, 0x794C_7630];

#[cfg(not(target_os = "linux"))]
fn sync_all(_: &Path) -> Result<bool, WriteError> {
    Ok(false)
}

/// Brings a folder's names to the disk.
#[cfg(unix)]
pub fn sync_folder(folder: &Path) -> Result<(), WriteError> {
    match File::open(folder).and_then(|folder| folder.sync_all()) {
        // Some file systems sync no folders.
        Err(error) if error.kind() == ErrorKind::InvalidInput => Ok(()),
        other => other.map_err(|error| WriteError::Io(folder.into(), error)),
    }
}

#[cfg(not(unix))]
pub fn sync_folder(_: &Path) -> Result<(), WriteError> {
    Ok(())
}

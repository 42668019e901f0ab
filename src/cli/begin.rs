//! `begin`: a new company folder from the embedded default.
use super::terminal::{count, say};
use super::{FINE, UNREAD};
use rust_embed::RustEmbed;
use std::fs;
use std::io;
use std::path::Path;

#[derive(RustEmbed)]
#[folder = "content"]
#[prefix = "content/"]
struct Content;

#[derive(RustEmbed)]
#[folder = "themes"]
#[prefix = "themes/"]
struct Themes;

#[derive(RustEmbed)]
#[folder = "jobs"]
#[prefix = "jobs/"]
struct Jobs;

/// Lays the folder out; refuses one that has anything in it.
pub fn begin(dir: &Path) -> u8 {
    match occupied(dir) {
        Ok(false) => {}
        Ok(true) => {
            say(&format!(
                "longsweep: {} is not empty; name a new folder, so that nothing is overwritten",
                dir.display()
            ));
            return UNREAD;
        }
        Err(error) => return failed(dir, &error),
    }
    match lay_out(dir) {
        Ok(files) => {
            say(&format!(
                "{} laid out with {}. Next: cd {} && longsweep",
                dir.display(),
                count(files, "file"),
                dir.display()
            ));
            FINE
        }
        Err(error) => failed(dir, &error),
    }
}

fn occupied(dir: &Path) -> io::Result<bool> {
    match fs::read_dir(dir) {
        Ok(mut entries) => Ok(entries.next().is_some()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(false),
        Err(error) => Err(error),
    }
}

fn lay_out(dir: &Path) -> io::Result<usize> {
    let all = Content::iter().map(|name| (Content::get(&name), name));
    let all = all.chain(Themes::iter().map(|name| (Themes::get(&name), name)));
    let all = all.chain(Jobs::iter().map(|name| (Jobs::get(&name), name)));
    let mut files = 0;
    for (file, name) in all {
        let Some(file) = file else { continue };
        let path = dir.join(name.as_ref());
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::write(&path, file.data)?;
        files += 1;
    }
    Ok(files)
}

fn failed(dir: &Path, error: &io::Error) -> u8 {
    say(&format!("longsweep: {} cannot be laid out: {error}", dir.display()));
    UNREAD
}

//! `begin`: a new company folder. Parts, standard, lessons and theme are the default's; the company's own file,
//! its README and its first job are written for a firm that has none yet.
use super::terminal::{count, say};
use super::{FINE, UNREAD};
use crate::text::refused;
use rust_embed::RustEmbed;
use std::borrow::Cow;
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

/// What is the new company's own.
const OWN: [(&str, &str); 3] = [
    (FIRM, include_str!("begin/company.yaml")),
    ("jobs/first-job.yaml", include_str!("begin/first-job.yaml")),
    ("README.md", include_str!("begin/README.md")),
];

/// The company's file, which the default has for a firm of its own.
const FIRM: &str = "content/company.yaml";

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
                "{} laid out with {}. Next: put your company's name into {FIRM}, then cd {} && longsweep",
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
    let embedded = Content::iter().filter(|name| name != FIRM).map(|name| (Content::get(&name), name));
    let embedded = embedded.chain(Themes::iter().map(|name| (Themes::get(&name), name)));
    let own = OWN.map(|(name, text)| (Cow::Borrowed(text.as_bytes()), Cow::Borrowed(name)));
    let files = embedded.filter_map(|(file, name)| Some((file?.data, name))).chain(own);
    let mut count = 0;
    for (data, name) in files {
        let path = dir.join(name.as_ref());
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::write(&path, data)?;
        count += 1;
    }
    Ok(count)
}

fn failed(dir: &Path, error: &io::Error) -> u8 {
    say(&format!("longsweep: {} cannot be laid out: {}", dir.display(), refused(error)));
    UNREAD
}

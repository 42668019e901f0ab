//! A job's file as the program changes it: read, changed, and put in its place whole or not at all.
use super::read::Company;
use crate::company::{Job, read_job};
use crate::text::refused;
use std::fs;
use std::io::{Error, Write};
use std::path::{Path, PathBuf};

/// A job's file as it stood when the job was read from it.
pub struct Held<'a> {
    company: &'a Company,
    file: PathBuf,
    text: String,
}

impl<'a> Held<'a> {
    pub fn of(root: &Path, company: &'a Company, job: &Job) -> Held<'a> {
        let file = root.join(job.file());
        // What cannot be read now is told when it is to be written.
        let text = fs::read_to_string(&file).unwrap_or_default();
        Held { company, file, text }
    }

    /// The file, for a sentence.
    pub fn named(&self) -> std::path::Display<'_> {
        self.file.display()
    }

    /// Writes what `change` makes of the file, unless somebody else has written into it since, or the job could not be
    /// read from it any more or reads otherwise than `meant`.
    pub fn write<T>(
        &self,
        job: &Job,
        change: impl FnOnce(&str) -> Result<(String, T), String>,
        meant: impl FnOnce(&Job) -> bool,
    ) -> Result<T, String> {
        let nothing = |why: &str| format!("{why}; nothing was written into {}", self.named());
        rewrite(&self.file, |text| {
            if text != self.text {
                return Err(nothing("the file has changed since it was read"));
            }
            let (text, answer) = change(text)?;
            let Company { catalog, firm, loaded } = self.company;
            match read_job(job.file(), &text, catalog, firm, &loaded.standards, &loaded.plans) {
                Err(faults) => {
                    let why = faults.first().map_or("it has faults", |fault| fault.message.as_str());
                    Err(nothing(&format!("the program cannot write into a file laid out so: {why}")))
                }
                Ok(again) if !meant(&again) => {
                    Err(nothing("the program cannot write into a file laid out so"))
                }
                Ok(_) => Ok((text, answer)),
            }
        })
    }
}

/// Writes into a job's file what `change` makes of its text; answers what that answers beside it, or why nothing
/// was written, in one sentence that names the file.
fn rewrite<T>(file: &Path, change: impl FnOnce(&str) -> Result<(String, T), String>) -> Result<T, String> {
    let named = |cannot: &str, error: &Error| {
        format!("{} cannot be {cannot}: {}; nothing was written", file.display(), refused(error))
    };
    // A link stays one; what it leads to is written.
    let file = file.canonicalize().map_err(|error| named("read", &error))?;
    let text = fs::read_to_string(&file).map_err(|error| named("read", &error))?;
    let (text, answer) = change(&text)?;
    replace(&file, &text).map_err(|error| named("written", &error))?;
    Ok(answer)
}

/// Puts a text in the place of a file.
fn replace(file: &Path, text: &str) -> std::io::Result<()> {
    let mut whole = tempfile::NamedTempFile::new_in(file.parent().unwrap_or(Path::new(".")))?;
    whole.write_all(text.as_bytes())?;
    whole.as_file().set_permissions(fs::metadata(file)?.permissions())?;
    whole.as_file().sync_data()?;
    whole.persist(file).map_err(|error| error.error)?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_changed_whole_or_not_at_all() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("hall.yaml");
        fs::write(&file, "a").unwrap();
        assert_eq!(rewrite(&file, |text| Ok((format!("{text}b"), 7))), Ok(7));
        assert_eq!(fs::read_to_string(&file).unwrap(), "ab");
        let refused: Result<(), String> = rewrite(&file, |_| Err("no".into()));
        assert_eq!(refused, Err("no".into()));
        assert_eq!(fs::read_to_string(&file).unwrap(), "ab");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "something was left beside it");
    }

    #[test]
    fn a_folder_or_nothing_in_its_place_is_told_in_plain_words() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("hall.yaml");
        let told = |what: &str| format!("{} cannot be {what}; nothing was written", place.display());
        let unchanged = |text: &str| Ok((text.to_owned(), ()));
        assert_eq!(rewrite(&place, unchanged), Err(told("read: it is not there")));
        fs::create_dir(&place).unwrap();
        assert_eq!(rewrite(&place, unchanged), Err(told("read: a folder stands where a file should be")));
        fs::remove_dir(&place).unwrap();
        fs::write(&place, "a").unwrap();
        // It becomes one while the routes are sought.
        let to_folder = |text: &str| {
            fs::remove_file(&place).unwrap();
            fs::create_dir(&place).unwrap();
            unchanged(text)
        };
        assert_eq!(rewrite(&place, to_folder), Err(told("written: a folder stands where a file should be")));
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_and_what_it_leads_to_is_written() {
        let folder = tempfile::tempdir().unwrap();
        let (file, link) = (folder.path().join("hall.yaml"), folder.path().join("link.yaml"));
        fs::write(&file, "a").unwrap();
        std::os::unix::fs::symlink(&file, &link).unwrap();
        rewrite(&link, |_| Ok(("b".into(), ()))).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read_to_string(&file).unwrap(), "b");
    }
}

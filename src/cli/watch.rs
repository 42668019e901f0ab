//! `watch`: publishes again whenever a file of the company changes.
use super::publish::{FOLDERS, Office, Touched};
use super::terminal::say;
use super::{FINE, UNREAD};
use crate::site::{forget_open_pages, tell_open_pages};
use crate::text::refused;
use notify::event::{CreateKind, EventKind, ModifyKind};
use notify::{ErrorKind, Event, RecommendedWatcher, RecursiveMode};
use notify_debouncer_full::{DebounceEventResult, Debouncer, RecommendedCache, new_debouncer};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// A burst of saves within this time is one change. An editor's save is a few steps of some milliseconds.
const SETTLE: Duration = Duration::from_millis(60);

/// What shells take for an end by Ctrl-C.
const ENDED: i32 = 130;

/// Publishes, then waits for changes until the program is ended.
pub fn watch(root: &Path) -> u8 {
    match follow(root) {
        Ok(()) => FINE,
        Err(error) => {
            say(&format!("longsweep: the folder cannot be watched: {}", why(&error)));
            UNREAD
        }
    }
}

type Watcher = Debouncer<RecommendedWatcher, RecommendedCache>;

fn follow(root: &Path) -> notify::Result<()> {
    // Changes are told by whole paths.
    let root = &root.canonicalize().unwrap_or_else(|_| root.into());
    end_clean(root);
    let (tell, changes) = mpsc::channel();
    let mut watcher = new_debouncer(SETTLE, None, tell)?;
    // The watch stands before anything is read, so that no save falls between the two.
    watcher.watch(root, RecursiveMode::NonRecursive)?;
    watch_sources(root, &mut watcher);
    let mut office = Office::open(root);
    publish(&mut office, root);
    say(&format!("watching content, jobs and themes; end with Ctrl-C\n{}", address(root)));
    serve(root, &mut office, &changes, || watch_sources(root, &mut watcher));
    Ok(())
}

/// Publishes after each change until there is nobody left to tell of any. Saves that were made while a
/// publish ran are one change after it.
fn serve(
    root: &Path,
    office: &mut Office,
    changes: &Receiver<DebounceEventResult>,
    mut rewatch: impl FnMut(),
) {
    while let Ok(first) = changes.recv() {
        let results = std::iter::once(first).chain(changes.try_iter());
        let change = Change::of(results, root);
        if change.folders {
            rewatch();
        }
        if office.note(&change.paths) != Touched::Nothing {
            publish(office, root);
        }
    }
}

/// Watches the source folders and all below them; those that are not there are waited for.
fn watch_sources(root: &Path, watcher: &mut Watcher) {
    for folder in FOLDERS.map(|name| root.join(name)).iter().filter(|folder| folder.is_dir()) {
        if let Err(error) = watcher.watch(folder, RecursiveMode::Recursive) {
            say(&format!("longsweep: {} cannot be watched: {}", folder.display(), why(&error)));
        }
    }
}

/// Held while open pages are told, and for ever once the program ends: none is told after that.
static TELLING: Mutex<()> = Mutex::new(());

fn telling() -> MutexGuard<'static, ()> {
    TELLING.lock().unwrap_or_else(PoisonError::into_inner)
}

fn publish(office: &mut Office, root: &Path) {
    let changed = office.publish().changed;
    let _telling = telling();
    if changed && let Err(error) = tell_open_pages(&root.join("site")) {
        say(&format!("longsweep: {error}; load the open pages again yourself"));
    }
}

/// Ended by hand, or with its window, the program takes away what open pages ask, and leaves a publish that runs
/// where it is: the next one takes up what was written.
fn end_clean(root: &Path) {
    let site = root.join("site");
    let end = move || {
        let _telling = telling();
        forget_open_pages(&site);
        std::process::exit(ENDED);
    };
    // Where somebody wants it to go on without its window, nothing is changed; what then stays, the next
    // publish takes away.
    let _ = ctrlc::try_set_handler(end);
}

/// Why a folder cannot be watched, in plain words.
fn why(error: &notify::Error) -> String {
    match &error.kind {
        ErrorKind::Io(error) => refused(error),
        ErrorKind::PathNotFound => "it is not there".into(),
        ErrorKind::MaxFilesWatch => {
            "the system watches no more folders; let it watch more (fs.inotify.max_user_watches), or publish by hand"
                .into()
        }
        _ => error.to_string(),
    }
}

/// Where to look while it runs.
fn address(root: &Path) -> String {
    let page = root.join("site").join("index.html");
    format!("open file://{}?watch in a browser: it shows every save by itself", page.display())
}

/// What was told at once.
#[derive(Debug, Default, PartialEq, Eq)]
struct Change {
    paths: Vec<PathBuf>,
    /// Whether folders may have been made or moved, or something was missed. They may have been filled before
    /// their watch stood, so all is looked at again.
    folders: bool,
}

impl Change {
    fn of(results: impl Iterator<Item = DebounceEventResult>, root: &Path) -> Change {
        let mut change = Change::default();
        for result in results {
            match result {
                Ok(events) => events.iter().for_each(|event| change.take(&event.event)),
                Err(_) => change.folders = true,
            }
        }
        if change.folders {
            change.paths = FOLDERS.map(|name| root.join(name)).into();
        }
        change.paths.sort();
        change.paths.dedup();
        change
    }

    /// Takes in an event; reading a file is no change.
    fn take(&mut self, event: &Event) {
        if matches!(event.kind, EventKind::Access(_)) {
            return;
        }
        let made = matches!(event.kind, EventKind::Create(CreateKind::Folder))
            || matches!(event.kind, EventKind::Modify(ModifyKind::Name(_)))
                && event.paths.iter().any(|p| p.is_dir());
        self.folders |= made || event.need_rescan();
        self.paths.extend(event.paths.iter().cloned());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use notify::event::{AccessKind, DataChange};
    use notify_debouncer_full::DebouncedEvent;
    use std::fs;
    use std::time::Instant;

    fn told(kind: EventKind, path: PathBuf) -> DebounceEventResult {
        Ok(vec![DebouncedEvent::new(Event::new(kind).add_path(path), Instant::now())])
    }

    fn saved(path: PathBuf) -> DebounceEventResult {
        told(EventKind::Modify(ModifyKind::Data(DataChange::Any)), path)
    }

    /// The demo with one job, published.
    fn office() -> (tempfile::TempDir, Office) {
        let company = tempfile::tempdir().unwrap();
        let (from, to) = (Path::new(env!("CARGO_MANIFEST_DIR")), company.path());
        for folder in ["content", "themes"] {
            for entry in walkdir::WalkDir::new(from.join(folder)).into_iter().map(Result::unwrap) {
                let target = to.join(entry.path().strip_prefix(from).unwrap());
                match entry.file_type().is_dir() {
                    true => fs::create_dir_all(target).unwrap(),
                    false => drop(fs::copy(entry.path(), target).unwrap()),
                }
            }
        }
        fs::create_dir(to.join("jobs")).unwrap();
        fs::copy(from.join("jobs/plover-cottage.yaml"), to.join("jobs/plover.yaml")).unwrap();
        let mut office = Office::open(to);
        assert_eq!(office.publish().code, FINE);
        (company, office)
    }

    /// Feeds changes to the serving loop; answers when the stamp was last written, if it was.
    fn serve_with(root: &Path, office: &mut Office, changes: Vec<DebounceEventResult>) -> Option<String> {
        let stamp = root.join("site/.longsweep-watch.js");
        let _ = fs::remove_file(&stamp);
        let (tell, told) = mpsc::channel();
        changes.into_iter().for_each(|change| tell.send(change).unwrap());
        drop(tell);
        serve(root, office, &told, || ());
        fs::read_to_string(stamp).ok()
    }

    #[test]
    fn a_save_is_published_and_open_pages_are_told_and_one_that_changes_no_byte_is_not() {
        let (company, mut office) = office();
        let root = company.path();
        let job = root.join("jobs/plover.yaml");
        let text = fs::read_to_string(&job).unwrap();
        fs::write(&job, &text).unwrap();
        assert_eq!(serve_with(root, &mut office, vec![saved(job.clone())]), None);
        fs::write(&job, text.replacen("title: ", "title: Old ", 1)).unwrap();
        let read = told(EventKind::Access(AccessKind::Read), job.clone());
        assert_eq!(serve_with(root, &mut office, vec![read]), None, "reading is no change");
        // Told twice and at two times, it is one change.
        assert!(serve_with(root, &mut office, vec![saved(job.clone()), saved(job.clone())]).is_some());
        let page = fs::read_to_string(root.join("site/jobs/plover/index.html")).unwrap();
        assert!(page.contains("Old "), "{page}");
        let index = fs::read_to_string(root.join("site/index.html")).unwrap();
        assert!(index.contains("Old "), "{index}");
        assert_eq!(serve_with(root, &mut office, vec![saved(job)]), None);
    }

    #[test]
    fn a_folder_made_later_is_seen_with_what_it_was_filled_with_and_goes_with_it() {
        let (company, mut office) = office();
        let root = company.path();
        let folder = root.join("jobs/2027");
        fs::create_dir(&folder).unwrap();
        fs::copy(root.join("jobs/plover.yaml"), folder.join("rail.yaml")).unwrap();
        let made = told(EventKind::Create(CreateKind::Folder), folder.clone());
        assert!(serve_with(root, &mut office, vec![made]).is_some());
        assert!(root.join("site/jobs/2027/rail/index.html").is_file());
        fs::remove_dir_all(&folder).unwrap();
        let gone = told(EventKind::Remove(notify::event::RemoveKind::Folder), folder);
        assert!(serve_with(root, &mut office, vec![gone]).is_some());
        assert!(!root.join("site/jobs/2027").exists());
    }

    #[test]
    fn content_that_was_spoilt_and_mended_ends_in_the_set_as_it_was() {
        let (company, mut office) = office();
        let root = company.path();
        let firm = root.join("content/company.yaml");
        let index = || fs::read_to_string(root.join("site/index.html")).unwrap();
        let (text, before) = (fs::read_to_string(&firm).unwrap(), index());
        fs::write(&firm, "name: [").unwrap();
        serve_with(root, &mut office, vec![saved(firm.clone())]);
        let kept = index();
        assert!(kept.contains("NOT READ AGAIN"), "a set that cannot be made stands under a bar");
        assert!(kept.len() > before.len(), "and stays whole under it");
        fs::write(&firm, text.replacen("name: ", "name: New ", 1)).unwrap();
        assert!(serve_with(root, &mut office, vec![saved(firm.clone())]).is_some());
        assert_ne!(index(), before);
        fs::write(&firm, &text).unwrap();
        assert!(serve_with(root, &mut office, vec![saved(firm)]).is_some());
        assert_eq!(index(), before);
    }
}

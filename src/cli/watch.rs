//! `watch`: publishes again whenever a file of the company changes.
use super::publish::publish;
use super::terminal::say;
use super::{FINE, UNREAD};
use notify::RecursiveMode;
use notify::event::EventKind;
use notify_debouncer_full::{DebounceEventResult, new_debouncer};
use std::path::Path;
use std::sync::mpsc;
use std::time::Duration;

/// A burst of saves within this time is one change.
const SETTLE: Duration = Duration::from_millis(300);
/// What a set is made from; the site folder itself is not watched, for publishing writes it.
const SOURCES: [&str; 3] = ["content", "jobs", "themes"];

/// Publishes, then waits for changes until the program is ended.
pub fn watch(root: &Path) -> u8 {
    publish(root);
    match follow(root) {
        Ok(()) => FINE,
        Err(error) => {
            say(&format!("longsweep: the folder cannot be watched: {error}"));
            UNREAD
        }
    }
}

fn follow(root: &Path) -> notify::Result<()> {
    let (tell, changes) = mpsc::channel();
    let mut watcher = new_debouncer(SETTLE, None, tell)?;
    for source in SOURCES.map(|name| root.join(name)).iter().filter(|folder| folder.is_dir()) {
        watcher.watch(source, RecursiveMode::Recursive)?;
    }
    say("watching content, jobs and themes; end with Ctrl-C");
    for change in changes {
        if is_change(&change) {
            // A folder made or moved in may have been filled before its watch stood.
            for source in SOURCES.map(|name| root.join(name)).iter().filter(|folder| folder.is_dir()) {
                watcher.watch(source, RecursiveMode::Recursive)?;
            }
            publish(root);
        }
    }
    Ok(())
}

/// Whether anything was written, made, moved or taken away; reading a file is no change.
fn is_change(result: &DebounceEventResult) -> bool {
    match result {
        Ok(events) => events.iter().any(|event| !matches!(event.event.kind, EventKind::Access(_))),
        Err(_) => true,
    }
}

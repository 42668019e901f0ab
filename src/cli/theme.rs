//! Reading a theme's folder.
use crate::site::Theme;
use crate::text::nearest;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// The theme of that name under `themes/`, or why there is none, one sentence.
pub fn theme(root: &Path, name: &str) -> Result<Theme, String> {
    let folder = root.join("themes").join(name);
    let entries = fs::read_dir(&folder).map_err(|error| {
        let known = names(root);
        let hint = match nearest(name, known.iter().map(String::as_str)) {
            Some(near) => format!("; write `theme: {near}`"),
            None if known.is_empty() => "; themes/ holds none".into(),
            None => format!("; themes/ holds {}", known.join(", ")),
        };
        match error.kind() {
            std::io::ErrorKind::NotFound => format!("there is no theme `{name}`{hint}"),
            kind => format!("theme `{name}` cannot be read: {kind}"),
        }
    })?;
    let mut files = BTreeMap::new();
    for entry in entries {
        let path = entry.map_err(|error| format!("theme `{name}` cannot be read: {error}"))?.path();
        let file = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        if path.is_file() {
            let text = fs::read_to_string(&path)
                .map_err(|error| format!("themes/{name}/{file} cannot be read: {error}"))?;
            files.insert(file, text);
        }
    }
    Theme::from_files(&files).map_err(|error| format!("theme `{name}`: {error}"))
}

/// The folders under `themes/`, sorted.
fn names(root: &Path) -> Vec<String> {
    let entries = fs::read_dir(root.join("themes")).into_iter().flatten().flatten();
    let mut names: Vec<String> = entries
        .filter(|entry| entry.path().is_dir())
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

//! Reading a theme's folder.
use crate::site::Theme;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// The theme of that name under `themes/`, or why there is none, one sentence.
pub fn theme(root: &Path, name: &str) -> Result<Theme, String> {
    let folder = root.join("themes").join(name);
    let entries = fs::read_dir(&folder).map_err(|error| format!("theme `{name}` cannot be read: {error}"))?;
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

//! Pictures that stand beside lessons, as the disk holds them.
use super::disk::{LESSONS, files};
use crate::text::{Diagnostic, refused};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// The most bytes of a picture: a photograph of 1600 dots across, well kept, has half of that.
pub const MOST_PICTURE_BYTES: u64 = 1 << 20;
/// Endings of pictures that are taken, each with its kind.
pub const PICTURE_KINDS: [(&str, &str); 5] = [
    ("png", "image/png"),
    ("jpg", "image/jpeg"),
    ("jpeg", "image/jpeg"),
    ("webp", "image/webp"),
    ("svg", "image/svg+xml"),
];

/// A picture's file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PictureFile {
    /// Its size; nothing was read where it is more than [`MOST_PICTURE_BYTES`].
    pub size: u64,
    pub bytes: Vec<u8>,
}

/// Every picture under `content/lessons`, by its path from the company folder.
pub fn load_pictures(root: &Path, found: &mut Vec<Diagnostic>) -> BTreeMap<String, PictureFile> {
    let endings = PICTURE_KINDS.map(|(ending, _)| ending);
    let read = |file: &String| {
        let path = root.join(file);
        let size = fs::metadata(&path)?.len();
        let bytes = if size > MOST_PICTURE_BYTES { Vec::new() } else { fs::read(&path)? };
        Ok(PictureFile { size, bytes })
    };
    let mut pictures = BTreeMap::new();
    // A folder that cannot be walked is told with the lessons.
    for file in files(root, LESSONS, &endings, &mut Vec::new()) {
        match read(&file) {
            Ok(picture) => drop(pictures.insert(file, picture)),
            Err(error) => {
                let error: std::io::Error = error;
                found.push(Diagnostic::of_file(
                    &file,
                    format!("the picture cannot be read: {}", refused(&error)),
                    None,
                ));
            }
        }
    }
    pictures
}

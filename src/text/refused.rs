//! What the file system refused, in plain words.
use std::io::{Error, ErrorKind};

/// Why a file could not be read or written: `the disk is full`.
///
/// ```
/// use longsweep::text::refused;
/// use std::io::{Error, ErrorKind};
/// assert_eq!(refused(&Error::from(ErrorKind::StorageFull)), "the disk is full");
/// ```
pub fn refused(error: &Error) -> String {
    match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full".into(),
        ErrorKind::FileTooLarge => "the disk takes no file as large".into(),
        ErrorKind::ReadOnlyFilesystem => "this disk can be read only".into(),
        ErrorKind::PermissionDenied => "you may not do that there".into(),
        ErrorKind::AlreadyExists | ErrorKind::NotADirectory => {
            "a file stands where a folder should be".into()
        }
        ErrorKind::IsADirectory => "a folder stands where a file should be".into(),
        ErrorKind::NotFound => "it is not there".into(),
        kind => kind.to_string(),
    }
}

//! What a run keeps for the next one, beside the record: what each page was made from, and every job in
//! short, so that a job whose file has not changed is neither read nor drawn again.
use crate::site::JobSummary;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Name of the file in the site folder, after the program's own beginning.
pub const NAME: &str = "kept.json";

/// What a run keeps.
#[derive(Debug, Default, Serialize, Deserialize)]
pub struct Kept {
    /// Fingerprint of the program, the content and the themes; what was made from others is made anew.
    pub base: String,
    /// Fingerprint of all that the pages about the whole set were made from.
    pub set: String,
    /// Those pages.
    pub set_files: Vec<String>,
    /// Whether everything could be read, so that there is nothing to be told again.
    pub whole: bool,
    /// Shared with the run that kept them: most jobs are the same from run to run.
    pub jobs: BTreeMap<String, Arc<KeptJob>>,
}

/// A job as it was published.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptJob {
    /// Fingerprint of its file.
    pub print: String,
    pub files: Vec<String>,
    pub summary: JobSummary,
}

impl Kept {
    /// What the last run kept; nothing where that cannot be read, or was made from another base.
    pub fn read(bytes: Option<Vec<u8>>, base: &str) -> Kept {
        let kept: Option<Kept> = bytes.and_then(|bytes| serde_json::from_slice(&bytes).ok());
        kept.filter(|kept| kept.base == base)
            .unwrap_or_else(|| Kept { base: base.to_owned(), ..Kept::default() })
    }

    /// As it is written.
    pub fn bytes(&self) -> Vec<u8> {
        // Strings and lists of them always serialise.
        serde_json::to_vec(self).unwrap_or_default()
    }
}

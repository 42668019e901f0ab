//! Where in a file a thing is written.
use serde::{Serialize, Serializer};
use std::fmt;
use std::sync::Arc;

/// A place in a file; lines and columns count from 1, columns count characters.
///
/// Everything of a job that a finding can speak of carries one. A thing that no file holds, such as a
/// step that a remedy adds, has the default: no file and line 0.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Place {
    /// Path from the company folder, `/` between folders.
    #[serde(serialize_with = "as_text")]
    pub file: Arc<str>,
    pub line: usize,
    pub column: usize,
}

fn as_text<S: Serializer>(file: &Arc<str>, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(file)
}

impl Place {
    /// Whether it is a place in a file.
    pub fn is_known(&self) -> bool {
        self.line > 0
    }
}

impl Default for Place {
    fn default() -> Self {
        Place { file: Arc::from(""), line: 0, column: 0 }
    }
}

impl fmt::Display for Place {
    /// `jobs/gull.yaml:12:9`, or the file alone where no line is known.
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self.line {
            0 => f.write_str(&self.file),
            line => write!(f, "{}:{line}:{}", self.file, self.column),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn is_said_as_editors_read_it() {
        let place = Place { file: "jobs/gull.yaml".into(), line: 12, column: 9 };
        assert_eq!(place.to_string(), "jobs/gull.yaml:12:9");
        assert!(place.is_known() && !Place::default().is_known());
    }
}

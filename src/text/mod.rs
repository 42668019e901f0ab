//! Text that people wrote, and words that are told about it.
//!
//! The ground floor: it knows nothing of lengths, parts or jobs. A [`Source`] is one file's text;
//! [`read_tree`] gives its YAML with the bytes of every value; a [`Place`] is a line and column that later
//! stages carry along; a [`Diagnostic`] is what is wrong there, drawn for a terminal or printed plainly;
//! [`nearest`] is the known name that was probably meant.
mod counted;
mod diagnostic;
mod drawn;
mod escape;
mod nearest;
mod notes;
mod place;
mod refused;
mod slip;
mod slug;
mod source;
mod tree;
mod whole;

pub use counted::counted;
pub use diagnostic::{Diagnostic, Related, Severity};
pub use escape::{escape, push_escaped};
pub use nearest::{clip, nearest};
pub use notes::{cut_values, may_be_cut};
pub use place::Place;
pub use refused::refused;
pub use slug::{Slugs, slug};
pub use source::{MOST_BYTES, Source, decode, harmless, is_odd, too_large, turns};
pub use tree::{Node, Value, read_tree};
pub use whole::{escape_whole, figures_whole};

//! `schema`: what an editor needs to know of a company's files.
use super::terminal::out;
use super::{FINE, UNREAD};
use crate::company::load_named;
use crate::schema::{Choices, FileKind, schema as of};
use crate::standard::kinds;
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use std::path::Path;

/// The words for kinds of files on the command line.
pub fn file_kinds() -> impl TypedValueParser<Value = FileKind> {
    let names = FileKind::ALL.map(|kind| PossibleValue::new(kind.word()).help(kind.files()));
    PossibleValuesParser::new(names)
        .try_map(|word| FileKind::ALL.into_iter().find(|kind| kind.word() == word).ok_or("no such file"))
}

/// Prints the schema of a kind of file. Where there is no company to read ids from, any id fits.
pub fn schema(root: &Path, kind: FileKind) -> u8 {
    let kinds = kinds();
    let choices = Choices::of(&load_named(root, &kinds, &[]));
    if out(&format!("{:#}\n", of(kind, &choices, &kinds))) { FINE } else { UNREAD }
}

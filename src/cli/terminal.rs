//! What goes to the terminal: colour only where it is one and `NO_COLOR` is not set.
pub use crate::text::counted as count;
use crate::text::{Diagnostic, harmless, refused};
use std::io::{ErrorKind, IsTerminal, Write};

/// Whether to colour what goes to standard error.
pub fn coloured() -> bool {
    let no_colour = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    !no_colour
        && std::env::var_os("TERM").is_none_or(|term| term != "dumb")
        && std::io::stderr().is_terminal()
}

/// Prints faults of files to standard error.
pub fn show(diagnostics: &[Diagnostic]) {
    let columns = columns();
    for diagnostic in diagnostics {
        let _ = writeln!(std::io::stderr(), "{}", diagnostic.render(coloured(), columns));
    }
}

/// How wide the terminal is, or is said to be; where there is none, as wide as a log is read.
fn columns() -> usize {
    let given = std::env::var("COLUMNS").ok().and_then(|columns| columns.trim().parse().ok());
    let terminal = terminal_size::terminal_size_of(std::io::stderr()).map(|(width, _)| usize::from(width.0));
    given.or(terminal).unwrap_or(120).clamp(30, 160)
}

/// A line to standard error, without what would move a terminal's cursor; a closed pipe is no reason to fail.
pub fn say(text: &str) {
    let _ = writeln!(std::io::stderr(), "{}", harmless(text));
}

/// Text to standard output; `false`, and told, where it could not be written. Who reads no further, as `head`
/// does, has what was wanted.
pub fn out(text: &str) -> bool {
    out_bytes(text.as_bytes())
}

/// The same for bytes.
pub fn out_bytes(bytes: &[u8]) -> bool {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            say(&format!("longsweep: what was asked for could not be written: {}", refused(&error)));
            false
        }
        _ => true,
    }
}

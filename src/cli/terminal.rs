//! What goes to the terminal: colour only where it is one and `NO_COLOR` is not set.
use crate::text::Diagnostic;
pub use crate::text::counted as count;
use std::io::{IsTerminal, Write};

/// Whether to colour what goes to standard error.
pub fn coloured() -> bool {
    let no_colour = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    !no_colour
        && std::env::var_os("TERM").is_none_or(|term| term != "dumb")
        && std::io::stderr().is_terminal()
}

/// Prints faults of files to standard error.
pub fn show(diagnostics: &[Diagnostic]) {
    for diagnostic in diagnostics {
        say(&diagnostic.render(coloured()));
    }
}

/// A line to standard error; a closed pipe is no reason to fail.
pub fn say(text: &str) {
    let _ = writeln!(std::io::stderr(), "{text}");
}

/// Text to standard output; `false` where it could not be written.
pub fn out(text: &str) -> bool {
    out_bytes(text.as_bytes())
}

/// The same for bytes.
pub fn out_bytes(bytes: &[u8]) -> bool {
    std::io::stdout().write_all(bytes).is_ok()
}

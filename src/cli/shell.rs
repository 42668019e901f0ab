//! `completions` and `man`: what shells and readers of manuals need, from the definitions of the commands.
use super::terminal::{out_bytes, say};
use super::{Cli, FINE, UNREAD};
use clap::CommandFactory;
use clap_complete::Shell;

/// Prints what a shell needs to complete commands and options.
pub fn completions(shell: Shell) -> u8 {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "longsweep", &mut script);
    put(&script)
}

/// Prints the manual page: the program's, then each command's.
pub fn man() -> u8 {
    let mut page = Vec::new();
    let program = Cli::command();
    let mut rendered = clap_mangen::Man::new(program.clone()).render(&mut page);
    for command in program.get_subcommands().filter(|command| !command.is_hide_set()) {
        let name = format!("longsweep {}", command.get_name());
        let man = clap_mangen::Man::new(command.clone().display_name(&name).bin_name(&name));
        rendered = rendered
            .and_then(|()| man.render_name_section(&mut page))
            .and_then(|()| man.render_synopsis_section(&mut page))
            .and_then(|()| man.render_description_section(&mut page))
            .and_then(|()| man.render_options_section(&mut page))
            .and_then(|()| man.render_extra_section(&mut page));
    }
    match rendered {
        Ok(()) => put(&page),
        Err(error) => {
            say(&format!("longsweep: the manual page cannot be made: {error}"));
            UNREAD
        }
    }
}

fn put(bytes: &[u8]) -> u8 {
    if out_bytes(bytes) { FINE } else { UNREAD }
}

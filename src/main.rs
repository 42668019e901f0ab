//! The `longsweep` program: parse the command, run it, and end with its exit code.
use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    let command = longsweep::cli::Cli::parse();
    ExitCode::from(longsweep::cli::run(&command))
}

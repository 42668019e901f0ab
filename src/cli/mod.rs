//! The shell: commands, what they print, and their exit codes.
mod begin;
mod crossings;
mod draw;
mod inspect;
mod propose;
mod publish;
mod reach;
mod read;
mod rewrite;
mod schema;
mod shell;
mod takeoff;
mod terminal;
mod theme;
mod watch;

use crate::draw::View;
use crate::schema::FileKind;
use clap::{Parser, Subcommand};
use std::path::PathBuf;

/// All went well (jobs may fail their clauses when publishing).
const FINE: u8 = 0;
/// `inspect` found a broken *must*.
const BROKEN: u8 = 1;
/// Some input could not be read, or the command could not be carried out.
const UNREAD: u8 = 2;

/// From a job file to a packet that can be built from: lessons, the firm's standard, and job packets for
/// installers of retractable-hose vacuum piping.
#[derive(Debug, Parser)]
#[command(
    name = "longsweep",
    version,
    after_help = "\
Run in a company folder (content/, jobs/, themes/). Without a command, `publish` is meant.

Examples:
  longsweep                        write the whole set of sheets into site/
  longsweep inspect tern-house     judge one job by the standard
  longsweep begin my-firm          lay out a new company folder

Exit codes: 0 all was read; 1 `inspect` found a job that may not be built;
2 something could not be read."
)]
pub struct Cli {
    /// The company folder
    #[arg(long, short = 'C', default_value = ".", global = true, value_name = "DIR")]
    pub company: PathBuf,
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write the set: every packet, lesson and clause as sheets in site/
    #[command(after_help = "\
Jobs that break their clauses are published all the same, with their verdict. A job that
cannot be read is shown as unread, the others are published, and the exit code is 2.

Example:
  longsweep publish")]
    Publish,
    /// Judge jobs by the standard and print what is found
    #[command(after_help = "\
Jobs are named by their file under jobs/ without its ending; without a name, all are inspected.
The exit code is 1 when a job may not be built (a must is broken, or it is on hold), 2 when a job
could not be read.

Examples:
  longsweep inspect
  longsweep inspect barns/dunlin-barn --json")]
    Inspect {
        /// Jobs to inspect
        #[arg(value_name = "JOB")]
        jobs: Vec<String>,
        /// Print every figure as JSON, one object per job
        #[arg(long)]
        json: bool,
    },
    /// List what to load for a job, with its cutting plan
    #[command(after_help = "\
Example:
  longsweep takeoff avocet-hall --csv > load.csv")]
    Takeoff {
        /// The job
        #[arg(value_name = "JOB")]
        job: String,
        /// The list as CSV
        #[arg(long)]
        csv: bool,
    },
    /// Draw a job's lines of tube, as SVG or PNG
    #[command(after_help = "\
Writes one file per line and view, and one per view of the whole job, into the folder given
with --into, or the only drawing to standard output.

Examples:
  longsweep draw tern-house --into drawings
  longsweep draw avocet-hall --line hall --view elevation > hall.svg")]
    Draw {
        /// The job
        #[arg(value_name = "JOB")]
        job: String,
        /// Only the line of this inlet or trunk
        #[arg(long, value_name = "ID")]
        line: Option<String>,
        /// Only this view
        #[arg(long, value_parser = draw::view_names())]
        view: Option<&'static View>,
        /// PNG in place of SVG
        #[arg(long)]
        png: bool,
        /// Folder to write into
        #[arg(long, value_name = "DIR")]
        into: Option<PathBuf>,
    },
    /// Tell what the hoses of a job reach on its plan, and how few valves would do
    #[command(after_help = "\
Example:
  longsweep reach whimbrel-house")]
    Reach {
        /// The job
        #[arg(value_name = "JOB")]
        job: String,
        /// Print it as JSON
        #[arg(long)]
        json: bool,
    },
    /// Propose routes over a job's plan, each inspected before it is shown
    #[command(after_help = "\
Routes run on lanes of the raceway's level. Only those that the standard passes are shown, the
best first. Several inlets are joined by a trunk; with --inlet one runs to what it joins today.
With --write the best is put into the job's file; all else there stays as it is. With
--crossings no route is sought: joists that a run meets and does not list are listed.

Examples:
  longsweep propose whimbrel-house
  longsweep propose whimbrel-house --inlet hall --write
  longsweep propose whimbrel-house --crossings --write")]
    Propose {
        /// The job
        #[arg(value_name = "JOB")]
        job: String,
        /// Only this inlet
        #[arg(long, value_name = "ID")]
        inlet: Option<String>,
        /// List the joists that the runs meet, in place of routes
        #[arg(long, conflicts_with_all = ["inlet", "json"])]
        crossings: bool,
        /// Write what was found into the job's file
        #[arg(long)]
        write: bool,
        /// Print it as JSON
        #[arg(long)]
        json: bool,
    },
    /// Publish again whenever a file changes
    #[command(after_help = "\
Example:
  longsweep watch")]
    Watch,
    /// Print the JSON Schema of a kind of file, for an editor
    #[command(after_help = "\
With it an editor completes keys and ids and marks what is wrong while you type. The ids of the
company folder stand in it as choices. Make it anew when a part or a clause is added.

Example:
  longsweep schema job > jobs/.job.schema.json")]
    Schema {
        /// Which file
        #[arg(value_name = "FILE", value_parser = schema::file_kinds())]
        file: FileKind,
    },
    /// Print what a shell needs to complete commands
    #[command(after_help = "\
Example:
  longsweep completions bash > ~/.local/share/bash-completion/completions/longsweep")]
    Completions {
        /// Which shell
        #[arg(value_name = "SHELL")]
        shell: clap_complete::Shell,
    },
    /// Print the manual page
    #[command(after_help = "\
Example:
  longsweep man > ~/.local/share/man/man1/longsweep.1")]
    Man,
    /// Lay out a new company folder
    #[command(after_help = "\
The folder must be empty or not there yet. It is filled with a catalog of typical parts, a standard,
lessons, a theme and one job with every key explained. Nothing of it is another firm's: put in your
name, your parts as measured, and your own jobs.

Example:
  longsweep begin my-firm")]
    Begin {
        /// The folder
        #[arg(value_name = "DIR")]
        dir: PathBuf,
    },
}

/// Runs a command and gives its exit code.
pub fn run(cli: &Cli) -> u8 {
    let company = cli.company.as_path();
    match cli.command.as_ref().unwrap_or(&Command::Publish) {
        Command::Publish => publish::publish(company),
        Command::Inspect { jobs, json } => inspect::inspect(company, jobs, *json),
        Command::Takeoff { job, csv } => takeoff::takeoff(company, job, *csv),
        Command::Draw { job, line, view, png, into } => draw::draw(
            company,
            job,
            &draw::Wanted { line: line.as_deref(), view: *view, png: *png, into: into.as_deref() },
        ),
        Command::Reach { job, json } => reach::reach(company, job, *json),
        Command::Propose { job, inlet, crossings, write, json } => propose::propose(
            company,
            job,
            &propose::Wanted { inlet: inlet.as_deref(), crossings: *crossings, write: *write, json: *json },
        ),
        Command::Watch => watch::watch(company),
        Command::Schema { file } => schema::schema(company, *file),
        Command::Completions { shell } => shell::completions(*shell),
        Command::Man => shell::man(),
        Command::Begin { dir } => begin::begin(dir),
    }
}

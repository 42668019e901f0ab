//! The hand that draws for a mutated lesson: it reads every block as the program's own does, and draws none.
use super::reading;
use longsweep::company::{read_path, read_plan, read_practice, read_tree};
use longsweep::lesson::{Blocks, Figure, Given, Judged, Picture, Refusal, Refused, Speaks, Target};
use longsweep::measure::{Lengths, Say};
use longsweep::text::Diagnostic;

use super::check::FILE;

#[derive(Default)]
pub struct Hand;

fn refused(message: &str) -> Refused {
    Refused { message: message.into(), help: None }
}

impl Blocks for Hand {
    fn raceway(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        read_path(FILE, text, line - 1, &reading::shared().0).map(|_| "<svg></svg>".into())
    }

    fn plan(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        read_plan(FILE, text, line - 1, &reading::shared().0).map(|_| "<svg></svg>".into())
    }

    fn practice(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        read_practice(FILE, text, line - 1).map(|_| "<svg></svg>".into())
    }

    fn tree(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        read_tree(FILE, text, line - 1).map(|_| "<svg></svg>".into())
    }

    fn drawing(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        self.raceway(text, line)
    }

    fn judge(&mut self, of: Speaks, _: &[String]) -> Result<Judged, Refusal> {
        if let Speaks::Written { text, line } = of {
            self.raceway(text, line).map_err(Refusal::Faults)?;
        }
        Err(Refusal::Asked(refused("nothing is judged here")))
    }

    fn figure(&mut self, name: &str, _: &[Given]) -> Option<Result<Figure, String>> {
        (name == "path").then(|| Ok(Figure::length(12.0)))
    }

    fn figures(&self) -> Vec<String> {
        vec!["path".into()]
    }

    fn say(&self) -> Say {
        Say { lengths: Lengths::FtIn }
    }

    fn link(&mut self, _: Target, _: &str) -> Option<String> {
        None
    }

    fn picture(&mut self, path: &str) -> Result<Picture, Refused> {
        Err(refused(&format!("no picture {path}")))
    }

    fn names(&self, _: Target) -> Vec<String> {
        Vec::new()
    }
}

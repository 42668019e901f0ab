//! Pages of the set as they are laid out, one after another; one that cannot be stops no other.
use super::input::Set;
use super::page::{Page, Print};
use super::ways::{FIND, SHARDS};
use super::{Body, SiteFile, Theme, html};
use crate::packet::here::Here;
use crate::packet::sheet::Sheet;
use crate::text::{Diagnostic, counted};
use serde::Serialize;

/// The pages that could be laid out, and those that could not.
#[derive(Debug, Default)]
pub struct Made {
    pub files: Vec<SiteFile>,
    pub failed: Vec<Failed>,
}

/// A page that could not be laid out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failed {
    /// Where it would stand, under `site/`.
    pub path: String,
    pub fault: Diagnostic,
}

impl Failed {
    /// Whether a file stands or falls with the page: itself, and the shards that the index names.
    pub fn takes(&self, path: &str) -> bool {
        path == self.path || (self.path == FIND && path.starts_with(SHARDS))
    }
}

impl Made {
    /// What is wrong, each place once, with how many pages it stopped.
    pub fn faults(&self) -> Vec<Diagnostic> {
        let mut told: Vec<(Diagnostic, usize)> = Vec::new();
        for failed in &self.failed {
            let same = |known: &&mut (Diagnostic, usize)| {
                known.0.place() == failed.fault.place() && known.0.message == failed.fault.message
            };
            match told.iter_mut().find(same) {
                Some((_, pages)) => *pages += 1,
                None => told.push((failed.fault.clone(), 1)),
            }
        }
        let more = |(mut fault, pages): (Diagnostic, usize)| {
            if let Some(help) = fault.help.as_mut().filter(|_| pages > 1) {
                help.push_str(&format!(" and {}", counted(pages - 1, "more page")));
            }
            fault
        };
        told.into_iter().map(more).collect()
    }
}

/// Lays pages out by the theme.
pub struct Maker<'a> {
    pub set: &'a Set<'a>,
    pub theme: &'a Theme,
    pub made: Made,
}

impl<'a> Maker<'a> {
    /// With no page yet.
    pub fn new(set: &'a Set<'a>, theme: &'a Theme) -> Maker<'a> {
        Maker { set, theme, made: Made::default() }
    }

    /// A page of one sheet, whose title is the page's.
    pub fn single(&mut self, here: &Here, sheet: Sheet<Body>) {
        self.scripted(here, sheet, &[]);
    }

    /// The same with scripts of the theme; answers whether it could be laid out.
    pub fn scripted(&mut self, here: &Here, sheet: Sheet<Body>, scripts: &[&'static str]) -> bool {
        let set = self.set;
        let title = format!("{}: {} – {}", sheet.block.number, sheet.title, set.firm.name);
        let bar = if sheet.bar.is_empty() { set.bar.to_owned() } else { sheet.bar.clone() };
        let mut page = Page::new(set.firm, here, title, Print::RunOn, vec![Sheet { bar, ..sheet }]);
        page.scripts = scripts.to_vec();
        self.page(here, &page)
    }

    /// A page; answers whether it could be laid out.
    pub fn page<B: Serialize>(&mut self, here: &Here, page: &Page<B>) -> bool {
        match html(self.theme, here, page) {
            Ok(file) => self.made.files.push(file),
            Err(error) => {
                self.made.failed.push(Failed { path: here.path().into(), fault: *error.0 });
                return false;
            }
        }
        true
    }
}

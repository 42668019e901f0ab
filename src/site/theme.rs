//! The firm's theme: templates that lay out, a style, scripts.
use super::page::Page;
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt;
use tera::{Context, Tera};

/// Stands in every page, whatever the theme, so that pages are the same with and without `watch`. A page
/// opened with `?watch` asks again and again what `site::write` told open pages last, takes itself anew when
/// that has changed, and hands the question on to its links. Any other asks nothing.
const WATCH: &str = include_str!("watch.js");

/// The template of every page.
const PAGE: &str = "paper.html";

/// A theme, its templates parsed.
pub struct Theme {
    tera: Tera,
    /// All styles, one after the other.
    style: String,
    /// Scripts by file name.
    scripts: BTreeMap<String, String>,
}

/// What is wrong with a theme, one sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ThemeError(pub String);

impl fmt::Display for ThemeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for ThemeError {}

impl Theme {
    /// A theme from its files by name: `*.html` are templates, `*.css` stand in every page, `*.js` in those
    /// that ask for them by name.
    pub fn from_files(files: &BTreeMap<String, String>) -> Result<Theme, ThemeError> {
        let mut tera = Tera::new();
        tera.autoescape_on(vec![".html"]);
        let templates = files.iter().filter(|(name, _)| name.ends_with(".html"));
        tera.add_raw_templates(templates)
            .map_err(|error| unfit("the theme's templates cannot be read", &error))?;
        if !tera.contains_template(PAGE) {
            return Err(ThemeError(format!("the theme has no {PAGE}")));
        }
        let style = files.iter().filter(|(name, _)| name.ends_with(".css")).map(|(_, text)| text.as_str());
        let scripts = files.iter().filter(|(name, _)| name.ends_with(".js"));
        Ok(Theme {
            tera,
            style: style.collect(),
            scripts: scripts.map(|(name, text)| (name.clone(), text.clone())).collect(),
        })
    }

    /// A page laid out, with the theme's style and the scripts it wants inside it.
    pub fn page<B: Serialize>(&self, page: &Page<B>) -> Result<String, ThemeError> {
        let mut context =
            Context::from_serialize(page).map_err(|error| unfit("a page cannot be told", &error))?;
        let scripts = page.scripts.iter().filter_map(|name| self.scripts.get(*name));
        context.insert("style_html", &self.style);
        let watch = WATCH.replace("UP", &page.up);
        let scripts = scripts.map(String::as_str).chain([watch.as_str()]);
        context.insert("script_html", &scripts.collect::<String>());
        self.tera.render(PAGE, &context).map_err(|error| unfit("a page cannot be laid out", &error))
    }
}

/// An error of the template library with every cause it names.
fn unfit(what: &str, error: &tera::Error) -> ThemeError {
    let mut words = format!("{what}: {error}");
    let mut cause = std::error::Error::source(error);
    while let Some(deeper) = cause {
        words.push_str(&format!(": {deeper}"));
        cause = deeper.source();
    }
    ThemeError(words)
}

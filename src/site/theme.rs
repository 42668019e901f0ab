//! The firm's theme: templates that lay out, a style, scripts.
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt;
use tera::{Context, Tera};

/// The template of every page.
const PAGE: &str = "page.html";

/// A theme, its templates parsed.
pub struct Theme {
    tera: Tera,
    /// Styles and scripts, by file name.
    assets: BTreeMap<String, String>,
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
    /// A theme from its files by name: `*.html` are templates, `*.css` and `*.js` go out as they are.
    pub fn from_files(files: &BTreeMap<String, String>) -> Result<Theme, ThemeError> {
        let mut tera = Tera::new();
        tera.autoescape_on(vec![".html"]);
        let templates = files.iter().filter(|(name, _)| name.ends_with(".html"));
        tera.add_raw_templates(templates)
            .map_err(|error| unfit("the theme's templates cannot be read", &error))?;
        if !tera.contains_template(PAGE) {
            return Err(ThemeError(format!("the theme has no {PAGE}")));
        }
        let is_asset = |name: &str| name.ends_with(".css") || name.ends_with(".js");
        let assets = files.iter().filter(|(name, _)| is_asset(name));
        Ok(Theme { tera, assets: assets.map(|(name, text)| (name.clone(), text.clone())).collect() })
    }

    /// Styles and scripts, by file name.
    pub fn assets(&self) -> &BTreeMap<String, String> {
        &self.assets
    }

    /// A page laid out.
    pub fn page<P: Serialize>(&self, page: &P) -> Result<String, ThemeError> {
        let context =
            Context::from_serialize(page).map_err(|error| unfit("a page cannot be told", &error))?;
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

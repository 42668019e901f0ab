//! The firm's theme: templates that lay out, a style, scripts.
use super::lean;
use super::page::{Page, style_kind};
use crate::text::{Diagnostic, escape, figures_whole};
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt;
use tera::{Context, ErrorKind, Kwargs, State, Tera, Value};

/// Stands in every page, whatever the theme, so that pages are the same with and without `watch`. A page
/// opened with `?watch` asks again and again what `site::write` told open pages last, takes itself anew when
/// that has changed, and hands the question on to its links. Any other asks nothing.
const WATCH: &str = include_str!("watch.js");

/// The template of every page.
const PAGE: &str = "paper.html";

/// A theme, its templates parsed.
pub struct Theme {
    tera: Tera,
    /// Where each file stands, by its name.
    paths: BTreeMap<String, String>,
    /// All styles in their order, each with the kind of sheets it is for; none where it is for all.
    styles: Vec<(Option<&'static str>, String)>,
    /// Scripts by file name.
    scripts: BTreeMap<String, String>,
    watch: String,
    #[cfg(test)]
    noted: std::sync::Mutex<Option<Vec<Context>>>,
}

/// A file of a theme.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ThemeFile {
    /// By which templates name each other: `sheet.html`.
    pub name: String,
    /// Where it stands, from the company folder.
    pub path: String,
    pub text: String,
}

/// What is wrong with a theme, with its place in a template where it has one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ThemeError(pub Box<Diagnostic>);

impl ThemeError {
    fn of(file: &str, message: impl Into<String>) -> ThemeError {
        ThemeError(Box::new(Diagnostic::of_file(file, message, None)))
    }

    /// The same, found while this page was laid out.
    pub fn on(mut self, page: &str) -> ThemeError {
        self.0.help = Some(format!("mend the template; it was found on site/{page}"));
        self
    }
}

impl fmt::Display for ThemeError {
    /// One sentence: `themes/drafting/check.html:4:11: ...`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0.file.as_str() {
            "" => f.write_str(&self.0.message),
            _ => write!(f, "{}: {}", self.0.place(), self.0.message),
        }
    }
}

impl std::error::Error for ThemeError {}

/// The filter `whole`: words as they are, but that no line ends within a figure like `6-5/16` or `2026-1`.
fn whole(words: &Value, _: Kwargs, _: &State) -> Value {
    let text = words.as_str().filter(|text| text.contains('-') && !words.is_safe());
    let html = text.and_then(|text| figures_whole(&escape(text)));
    html.map_or_else(|| words.clone(), |html| Value::safe_string(&html))
}

impl Theme {
    /// A theme from its files, those of the theme below first: `*.html` are templates, `*.css` stand in their
    /// order in every page, or in those with the sheets that they are named for, `*.js` in those that ask for
    /// them by name.
    pub fn from_files(files: &[ThemeFile]) -> Result<Theme, ThemeError> {
        let paths: BTreeMap<String, String> =
            files.iter().map(|file| (file.name.clone(), file.path.clone())).collect();
        let mut tera = Tera::new();
        tera.autoescape_on(vec![".html"]);
        tera.register_filter("whole", whole);
        let templates = files.iter().filter(|file| file.name.ends_with(".html"));
        tera.add_raw_templates(templates.map(|file| (file.name.as_str(), file.text.as_str())))
            .map_err(|error| unfit(&paths, &error))?;
        if !tera.contains_template(PAGE) {
            return Err(ThemeError::of("", format!("the theme has no {PAGE}")));
        }
        stamps(files)?;
        let styles = files.iter().filter(|file| file.name.ends_with(".css"));
        let scripts = files.iter().filter(|file| file.name.ends_with(".js"));
        Ok(Theme {
            tera,
            paths,
            styles: styles.map(|file| (style_kind(&file.name), lean::css(&file.text))).collect(),
            scripts: scripts.map(|file| (file.name.clone(), lean::js(&file.text))).collect(),
            watch: lean::js(WATCH),
            #[cfg(test)]
            noted: std::sync::Mutex::default(),
        })
    }

    /// A page laid out, with the theme's style and the scripts it wants inside it.
    pub fn page<B: Serialize>(&self, page: &Page<B>) -> Result<String, ThemeError> {
        let unfit = |error: tera::Error| {
            let mut told = unfit(&self.paths, &error);
            if told.0.file.is_empty() {
                told.0.file = self.paths.get(PAGE).cloned().unwrap_or_else(|| PAGE.to_owned());
            }
            told
        };
        let mut context = Context::from_serialize(page).map_err(unfit)?;
        let scripts = page.scripts.iter().filter_map(|name| self.scripts.get(*name));
        let wanted =
            self.styles.iter().filter(|(kind, _)| kind.is_none_or(|kind| page.styles.contains(&kind)));
        context.insert("style_html", &wanted.map(|(_, style)| style.as_str()).collect::<String>());
        let watch = self.watch.replace("UP", &page.up);
        let scripts = scripts.map(String::as_str).chain([watch.as_str()]);
        context.insert("script_html", &scripts.collect::<String>());
        #[cfg(test)]
        if let Some(noted) = self.noted.lock().unwrap().as_mut() {
            noted.push(context.clone());
        }
        self.tera.render(PAGE, &context).map_err(unfit)
    }
}

/// What the benchmark of the floor asks.
#[cfg(test)]
impl Theme {
    /// Notes the context of every page from now on.
    pub fn note_contexts(&self) {
        *self.noted.lock().unwrap() = Some(Vec::new());
    }

    pub fn noted_contexts(&self) -> Vec<Context> {
        self.noted.lock().unwrap().take().unwrap_or_default()
    }

    /// A page from its ready context.
    pub fn bare(&self, context: &Context) -> String {
        self.tera.render(PAGE, context).unwrap()
    }
}

/// An error of the template library: file, line, column and what is wrong, the deepest cause.
fn unfit(paths: &BTreeMap<String, String>, error: &tera::Error) -> ThemeError {
    let mut deepest = error;
    while let Some(cause) = std::error::Error::source(deepest).and_then(|cause| cause.downcast_ref()) {
        deepest = cause;
    }
    let shown = |name: &str| paths.get(name).cloned().unwrap_or_else(|| name.to_owned());
    match deepest.kind() {
        ErrorKind::SyntaxError(report) | ErrorKind::RenderingError(report) => {
            let span = report.span();
            let message = report.message().trim().trim_end_matches('.');
            let mut told = ThemeError::of(&shown(report.filename()), message);
            (told.0.line, told.0.column) = (span.start_line, span.start_col + 1);
            told
        }
        ErrorKind::CircularInclude { tpl, .. } | ErrorKind::CircularExtend { tpl, .. } => {
            ThemeError::of(&shown(tpl), "this template includes itself")
        }
        _ => ThemeError::of("", deepest.to_string()),
    }
}

/// How a stamp is written, so that [`super::bar`] can take a verdict off a packet that is not read again.
const STAMP: &str = "<span class=\"stamp {{ stamp.shape }} {{ size }}\">{{ stamp.word }}</span>";
const STAMP_COMPONENT: &str = "component stamp(";
/// The template of a sheet, and the stamp in its title block.
const SHEET: &str = "sheet.html";
const BLOCK_STAMP: &str = "stamp={block.stamp}";

/// Refuses a theme whose stamps could not be taken off again, or whose sheets have none.
fn stamps(files: &[ThemeFile]) -> Result<(), ThemeError> {
    let at = |file: &ThemeFile, byte: usize, message: String| {
        let mut told = ThemeError::of(&file.path, message);
        let before = &file.text[..byte];
        told.0.line = before.matches('\n').count() + 1;
        told.0.column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
        told
    };
    for file in files {
        if let Some(byte) = file.text.find(STAMP_COMPONENT)
            && !file.text.contains(STAMP)
        {
            let message = format!("a stamp is to be written as `{STAMP}`, so that it can be taken off later");
            return Err(at(file, byte, message));
        }
        if file.name == SHEET && !file.text.contains(BLOCK_STAMP) {
            let message =
                format!("the title block has no stamp, `{{{{ <stamp {BLOCK_STAMP} size=\"big\" /> }}}}`");
            return Err(at(file, 0, message));
        }
    }
    Ok(())
}

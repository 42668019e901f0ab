//! From SVG to PNG, the same on every machine: only the embedded font is known to it.
use super::scene::Scene;
use resvg::{tiny_skia, usvg};
use std::fmt;
use std::sync::{Arc, OnceLock};
use usvg::fontdb;

/// CSS pixels in a millimetre; the unit in which the SVG library counts.
const PX_PER_MM: f64 = 96.0 / INCH_MM;
const INCH_MM: f64 = 25.4;
/// The largest side of a picture, in pixels; beyond it memory is at risk.
const LARGEST_PX: f64 = 20_000.0;

/// The largest side of a drawing on paper, mm: no plotter takes more than a sheet of so much.
const LARGEST_MM: f64 = 2_000.0;

/// Why a drawing could not be read or turned into a picture.
#[derive(Debug)]
pub enum DrawError {
    /// The text is not SVG.
    Svg(String),
    /// It is larger than any sheet.
    Paper { width_mm: f64, height_mm: f64 },
    /// The picture would have this many pixels.
    Size { width_px: f64, height_px: f64 },
    /// The picture could not be written.
    Png(String),
}

impl fmt::Display for DrawError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DrawError::Svg(why) => write!(f, "the drawing is not readable SVG: {why}"),
            DrawError::Paper { width_mm, height_mm } => write!(
                f,
                "the drawing would be {:.0} by {:.0} in ({:.1} by {:.1} m), larger than any sheet ({:.0} in, {:.0} m)",
                width_mm / INCH_MM,
                height_mm / INCH_MM,
                width_mm / 1000.0,
                height_mm / 1000.0,
                LARGEST_MM / INCH_MM,
                LARGEST_MM / 1000.0
            ),
            DrawError::Size { width_px, height_px } => {
                write!(
                    f,
                    "the picture would be {width_px:.0} by {height_px:.0} px, outside 1 to {LARGEST_PX} px"
                )
            }
            DrawError::Png(why) => write!(f, "the picture could not be written as PNG: {why}"),
        }
    }
}

impl std::error::Error for DrawError {}

/// Whether a sheet holds a drawing of this width and height, mm.
pub fn fits_paper((width_mm, height_mm): (f64, f64)) -> Result<(), DrawError> {
    let fits = |side_mm: f64| side_mm > 0.0 && side_mm <= LARGEST_MM;
    if fits(width_mm) && fits(height_mm) { Ok(()) } else { Err(DrawError::Paper { width_mm, height_mm }) }
}

/// A drawing written out, where a viewer can read it: every point is a number, and the text is well-formed XML. What
/// a viewer makes of the rest is checked over random jobs, not at each publish.
pub fn written(scene: &Scene) -> Result<String, DrawError> {
    if let Some(mark) = scene.without_place() {
        return Err(DrawError::Svg(format!("{} {} has no place", mark.kind, mark.title)));
    }
    let svg = scene.to_svg();
    match usvg::roxmltree::Document::parse(&svg) {
        Ok(_) => Ok(svg),
        Err(why) => Err(DrawError::Svg(why.to_string())),
    }
}

/// Reads an SVG as a viewer would; an error tells what a viewer would refuse, or no sheet would hold.
pub fn check(svg: &str) -> Result<usvg::Tree, DrawError> {
    let tree = usvg::Tree::from_str(svg, &options()).map_err(|why| DrawError::Svg(why.to_string()))?;
    let (width_px, height_px) = (f64::from(tree.size().width()), f64::from(tree.size().height()));
    fits_paper((width_px / PX_PER_MM, height_px / PX_PER_MM))?;
    Ok(tree)
}

/// A picture of an SVG on white, with so many pixels to a millimetre of paper.
pub fn png(svg: &str, px_per_mm: f64) -> Result<Vec<u8>, DrawError> {
    let tree = check(svg)?;
    let zoom = px_per_mm / PX_PER_MM;
    let (width_px, height_px) =
        (f64::from(tree.size().width()) * zoom, f64::from(tree.size().height()) * zoom);
    let fits = |px: f64| (1.0..=LARGEST_PX).contains(&px.ceil());
    if !fits(width_px) || !fits(height_px) {
        return Err(DrawError::Size { width_px, height_px });
    }
    let mut picture = tiny_skia::Pixmap::new(width_px.ceil() as u32, height_px.ceil() as u32)
        .ok_or(DrawError::Size { width_px, height_px })?;
    picture.fill(tiny_skia::Color::WHITE);
    resvg::render(&tree, tiny_skia::Transform::from_scale(zoom as f32, zoom as f32), &mut picture.as_mut());
    picture.encode_png().map_err(|why| DrawError::Png(why.to_string()))
}

/// Reading options with the embedded font under every generic name.
fn options() -> usvg::Options<'static> {
    static FONTS: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    let fonts = FONTS.get_or_init(|| {
        let mut fonts = fontdb::Database::new();
        for bytes in [dejavu::sans::regular(), dejavu::sans::bold()] {
            fonts.load_font_source(fontdb::Source::Binary(Arc::new(bytes)));
        }
        fonts.set_sans_serif_family("DejaVu Sans");
        fonts.set_serif_family("DejaVu Sans");
        fonts.set_monospace_family("DejaVu Sans");
        fonts.set_cursive_family("DejaVu Sans");
        fonts.set_fantasy_family("DejaVu Sans");
        Arc::new(fonts)
    });
    usvg::Options { fontdb: Arc::clone(fonts), font_family: "DejaVu Sans".into(), ..usvg::Options::default() }
}

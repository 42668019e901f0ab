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

/// A drawing written out, where a viewer can read it: every number is one, and the text is well-formed XML, which
/// [`Scene::fault`] tells before a letter is written. That it tells truly, and what a viewer makes of the rest, is
/// checked over random drawings, not at each publish.
pub fn written(scene: &Scene) -> Result<String, DrawError> {
    match scene.fault() {
        Some(why) => Err(DrawError::Svg(why)),
        None => Ok(scene.to_svg()),
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::hand::geo::V2;
    use crate::draw::hand::scene::{Fill, Mark, Pen, Segment};
    use crate::draw::hand::text::{Align, Text};
    use proptest::prelude::*;

    /// Names right and wrong, a repeated one among them when two are drawn alike.
    const NAMES: [&str; 7] = ["mark", "station-m", "h2", "kind", "", "no name", "a\"b"];

    /// Numbers as they come and as they must not.
    fn number() -> impl Strategy<Value = f64> {
        prop_oneof![20 => -300.0..300.0f64, 1 => Just(f64::NAN), 1 => Just(f64::INFINITY)]
    }

    fn point() -> impl Strategy<Value = V2> {
        (number(), number()).prop_map(|(x, y)| V2::new(x, y))
    }

    fn mark() -> impl Strategy<Value = Mark> {
        let figures = proptest::collection::vec((0..12usize, any::<String>()), 0..3);
        let shapes = proptest::collection::vec((point(), point(), number(), any::<String>()), 0..3);
        (0..20usize, any::<String>(), figures, shapes).prop_map(|(kind, title, figures, shapes)| {
            let name = |nth: usize| NAMES.get(nth).copied().unwrap_or("length-m");
            let mut mark = Mark::new(name(kind), title);
            mark.data = figures.into_iter().map(|(nth, value)| (name(nth), value)).collect();
            for (a, b, angle_deg, words) in shapes {
                mark.path(vec![Segment::Move(a), Segment::Line(b), Segment::Close], Pen::Thin, Fill::White);
                mark.text(Text { angle_deg, ..Text::plain(b, words, Align::Middle) });
            }
            mark
        })
    }

    /// A drawing of anything.
    fn scene() -> impl Strategy<Value = Scene> {
        let words = (any::<String>(), any::<String>(), any::<String>());
        (words, (number(), number()), proptest::collection::vec(mark(), 0..3)).prop_map(
            |((prefix, title, desc), size_mm, marks)| Scene {
                prefix,
                title,
                desc,
                size_mm,
                scale: None,
                marks,
            },
        )
    }

    /// The words that a reader is to find.
    fn meant(words: &str) -> String {
        let safe = crate::text::escape(words);
        let signs = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&amp;", "&")];
        signs.iter().fold(safe, |words, (written, sign)| words.replace(written, sign))
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(1000))]
        #[test]
        fn what_no_reader_takes_is_told_and_the_rest_is_read_as_it_was_meant(scene in scene()) {
            let svg = scene.to_svg();
            let read = usvg::roxmltree::Document::parse(&svg);
            prop_assert!(read.is_ok() || written(&scene).is_err(), "{svg}");
            if let (Ok(read), Ok(_)) = (read, written(&scene)) {
                let shown: Vec<&Mark> = scene.marks.iter().filter(|mark| !mark.shapes.is_empty()).collect();
                let of_kind = |name: &'static str| read.descendants().filter(move |n| n.has_tag_name(name));
                prop_assert_eq!(of_kind("g").count(), shown.len());
                let told: Vec<&str> = of_kind("text").map(|node| node.text().unwrap_or("")).collect();
                let words: Vec<String> = shown.iter().flat_map(|mark| mark.texts()).map(|t| meant(&t.words)).collect();
                prop_assert_eq!(told, words);
            }
        }
    }

    #[test]
    fn each_fault_is_told() {
        let plain = || Text::plain(V2::ZERO, "H1", Align::Start);
        let mark = |text: Text| {
            let mut mark = Mark::new("tube", "H1").with("mark", "H1");
            mark.text(text);
            mark
        };
        let scene = |mark: Mark, high_mm: f64| Scene {
            prefix: "p".into(),
            title: "Hall".into(),
            desc: String::new(),
            size_mm: (100.0, high_mm),
            scale: None,
            marks: vec![mark],
        };
        assert!(written(&scene(mark(plain()), 50.0)).is_ok());
        let lost = V2::new(f64::NAN, 0.0);
        let wrong = [
            scene(mark(plain()), f64::NAN),
            scene(mark(Text { at: lost, ..plain() }), 50.0),
            scene(mark(Text { angle_deg: f64::INFINITY, ..plain() }), 50.0),
            scene(mark(plain()).with("mark", "H2"), 50.0),
            scene(mark(plain()).with("kind", "x"), 50.0),
            scene(mark(plain()).with("a\"b", "x"), 50.0),
            scene(Mark { kind: "<", ..mark(plain()) }, 50.0),
        ];
        assert!(wrong.iter().all(|scene| written(scene).is_err()));
    }
}

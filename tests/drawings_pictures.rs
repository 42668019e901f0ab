//! The dozen against reference pictures, pixel by pixel.
//!
//! `LONGSWEEP_RENEW=1` writes the references anew and fails that run, so that nobody renews them without
//! looking. A difference is left side by side (expected, actual, difference) under tests/.work.
mod drawings_support;
use drawings_support::*;
use resvg::tiny_skia::Pixmap;
use std::path::{Path, PathBuf};

/// Pixels for a millimetre: enough to show a thin line, small to keep.
const PX_PER_MM: f64 = 4.0;
/// A pixel differs when a channel does by more than this of 255; rounding on another processor stays below.
const SLIGHT: u8 = 24;
/// So many pixels may differ.
const FEW: usize = 20;

#[test]
fn the_dozen_looks_as_before() {
    let renew = std::env::var_os("LONGSWEEP_RENEW").is_some();
    let mut wrong = Vec::new();
    for (i, case) in dozen().iter().enumerate() {
        let Some(view) = line_views().nth(i % line_views().count()) else { continue };
        let svg = case.draw(view, usual_area(view)).to_svg();
        let actual = longsweep::draw::png(&svg, PX_PER_MM).expect("a picture");
        let file = root().join(format!("tests/drawings_reference/{}-{}.png", case.name, view.name));
        if renew {
            std::fs::create_dir_all(file.parent().expect("a folder")).expect("a folder to write in");
            std::fs::write(&file, &actual).expect("written");
        }
        wrong.extend(differs(&case.name, &file, &actual, &root().join("tests/.work/pictures")));
    }
    assert!(!renew, "the references are written anew: look at them, then run again without LONGSWEEP_RENEW");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A picture that is not as before is told, and left beside the one expected with what differs.
#[test]
fn a_difference_is_left_side_by_side() {
    let left = root().join("tests/.work/pictures-tried");
    let _ = std::fs::remove_dir_all(&left);
    std::fs::create_dir_all(&left).expect("a folder to write in");
    let draw = |end: f64| {
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20mm\" height=\"10mm\" viewBox=\"0 0 20 10\">\
             <path d=\"M2 5H{end}\" stroke=\"#000\" stroke-width=\"1\"/></svg>"
        );
        longsweep::draw::png(&svg, PX_PER_MM).expect("a picture")
    };
    let (long, short, file) = (draw(18.0), draw(10.0), left.join("reference.png"));
    std::fs::write(&file, &long).expect("written");
    assert_eq!(differs("same", &file, &long, &left), None);
    assert!(!left.join("same-actual.png").exists());

    let told = differs("line", &file, &short, &left).expect("half the line is missing");
    assert!(told.contains("line-actual.png"), "{told}");
    let read = |what: &str| std::fs::read(left.join(format!("line-{what}.png"))).expect("left behind");
    assert_eq!((read("expected"), read("actual")), (long.clone(), short));
    let shown = Pixmap::decode_png(&read("difference")).expect("a PNG");
    let black = shown.pixels().iter().filter(|pixel| pixel.red() == 0).count();
    // 8 mm of line, 1 mm wide, at 4 pixels a millimetre; its edges may lie on half pixels.
    assert!((112..=165).contains(&black), "{black} pixels shown");

    let told = differs("none", &left.join("nowhere.png"), &long, &left).expect("no reference");
    assert!(told.contains("LONGSWEEP_RENEW=1"), "{told}");
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// What is different, after leaving it side by side in a folder.
fn differs(name: &str, file: &Path, actual_png: &[u8], left: &Path) -> Option<String> {
    let Ok(expected_png) = std::fs::read(file) else {
        return Some(format!("{name}: no reference {}; LONGSWEEP_RENEW=1 writes it", file.display()));
    };
    let expected = Pixmap::decode_png(&expected_png).expect("a reference is a PNG");
    let actual = Pixmap::decode_png(actual_png).expect("a picture is a PNG");
    let same_size = (expected.width(), expected.height()) == (actual.width(), actual.height());
    let (count, difference) = if same_size { difference(&expected, &actual) } else { (usize::MAX, None) };
    if count <= FEW {
        return None;
    }
    std::fs::create_dir_all(left).expect("a folder to write in");
    let path = |what: &str| -> PathBuf { left.join(format!("{name}-{what}.png")) };
    std::fs::write(path("expected"), &expected_png).expect("written");
    std::fs::write(path("actual"), actual_png).expect("written");
    if let Some(difference) = difference {
        difference.save_png(path("difference")).expect("written");
    }
    Some(format!("{name}: differs; see {}", path("actual").display()))
}

/// How many pixels differ, and a picture with those in black.
fn difference(expected: &Pixmap, actual: &Pixmap) -> (usize, Option<Pixmap>) {
    let mut shown = Pixmap::new(expected.width(), expected.height());
    let mut count = 0;
    for (i, (a, b)) in expected.data().chunks(4).zip(actual.data().chunks(4)).enumerate() {
        let apart = a.iter().zip(b).any(|(x, y)| x.abs_diff(*y) > SLIGHT);
        count += usize::from(apart);
        if let Some(shown) = &mut shown {
            let shade = if apart { 0 } else { 255 };
            shown.data_mut()[i * 4..i * 4 + 4].copy_from_slice(&[shade, shade, shade, 255]);
        }
    }
    (count, shown)
}

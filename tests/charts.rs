//! Charts on a phone: those of one page that differ look different at its width, in black and white and without
//! a word read; lines of one chart are told apart by dash and by word.
mod common;

use longsweep::draw::png;
use resvg::tiny_skia::Pixmap;
use std::fs;

/// Width of a drawing on a phone 390 px wide, in px.
const PHONE_PX: f64 = 370.0;
/// Of the dark dots of two charts so many at least stand in one alone.
const DIFFERENT: f64 = 0.1;

/// The charts of a page, as SVG without its texts.
fn charts(page: &str) -> Vec<String> {
    let drawings = page.split("<svg").skip(1).filter_map(|rest| rest.split_once("</svg>"));
    let charts = drawings.filter(|(drawing, _)| drawing.contains("data-kind=\"axes\""));
    charts.map(|(drawing, _)| format!("<svg{drawing}</svg>")).collect()
}

/// What a chart says to somebody who cannot see it.
fn in_words(chart: &str) -> &str {
    chart.split("</desc>").next().and_then(|start| start.rsplit('>').next()).unwrap_or_default()
}

fn wordless(chart: &str) -> String {
    let mut out = String::new();
    let mut rest = chart;
    while let Some(start) = rest.find("<text") {
        out.push_str(&rest[..start]);
        rest = rest[start..].split_once("</text>").map_or("", |(_, after)| after);
    }
    out + rest
}

/// The dark dots of a chart at the width that a phone shows it.
fn dots(chart: &str) -> Vec<Vec<bool>> {
    let wide: f64 = chart
        .split("viewBox=\"")
        .nth(1)
        .and_then(|box_| box_.split([' ', '"']).nth(2)?.parse().ok())
        .expect("a width");
    let picture = png(&wordless(chart), PHONE_PX / wide).expect("a picture");
    let picture = Pixmap::decode_png(&picture).expect("a picture");
    let rows = picture.pixels().chunks(picture.width() as usize);
    // What is drawn thinner than a dot is grey.
    rows.map(|row| row.iter().map(|dot| dot.red() < 170).collect()).collect()
}

/// The part of the dark dots of two pictures that stands in one alone.
fn difference(a: &[Vec<bool>], b: &[Vec<bool>]) -> f64 {
    let (mut one, mut any) = (0.0, 0.0_f64);
    let dark = |rows: &[Vec<bool>], x: usize, y: usize| {
        rows.get(y).and_then(|row| row.get(x)).copied().unwrap_or(false)
    };
    let wide = a.iter().chain(b).map(Vec::len).max().unwrap_or_default();
    for y in 0..a.len().max(b.len()) {
        for x in 0..wide {
            let (p, q) = (dark(a, x, y), dark(b, x, y));
            one += f64::from(u8::from(p != q));
            any += f64::from(u8::from(p || q));
        }
    }
    one / any.max(1.0)
}

#[test]
fn charts_of_one_page_look_different_on_a_phone() {
    let company = common::demo();
    common::publish(company.path());
    let mut faults = Vec::new();
    let mut pairs = 0;
    for (name, path) in common::site::files(&company.path().join("site")) {
        // The course repeats the lessons.
        if !name.ends_with(".html") || name.starts_with("course/") {
            continue;
        }
        let charts = charts(&fs::read_to_string(path).expect("a page"));
        faults.extend(
            charts.iter().filter_map(|chart| lines_alike(chart)).map(|what| format!("{name}: {what}")),
        );
        let pictures: Vec<_> = charts.iter().map(|chart| (in_words(chart), dots(chart))).collect();
        for (i, (said, a)) in pictures.iter().enumerate() {
            // Two inlets may have the same to say.
            for (j, (_, b)) in pictures.iter().enumerate().skip(i + 1).filter(|(_, (other, _))| other != said)
            {
                pairs += 1;
                let part = difference(a, b);
                if part < DIFFERENT {
                    faults.push(format!(
                        "{name}: charts {} and {} differ by {part:.3} of their dots",
                        i + 1,
                        j + 1
                    ));
                }
            }
        }
    }
    assert!(pairs >= 6, "{pairs} pairs of charts");
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Least height of words in a drawing, and the size that drawings are lettered in, mm.
const LEAST_PX: f64 = 11.0;
const LETTERED_MM: f64 = 3.43;

/// Whoever learns on a phone must not have to open each drawing.
#[test]
fn drawings_of_lessons_and_clauses_are_read_on_a_phone_as_they_stand() {
    let company = common::demo();
    common::publish(company.path());
    let (mut faults, mut seen) = (Vec::new(), 0);
    for (name, path) in common::site::files(&company.path().join("site")) {
        let book = name.ends_with("book.html");
        if !name.ends_with(".html")
            || book
            || !(name.starts_with("lessons/") || name.starts_with("standard/"))
        {
            continue;
        }
        let page = fs::read_to_string(path).expect("a page");
        let widths =
            page.split("<svg").skip(1).filter_map(|rest| rest.split("width=\"").nth(1)?.split("mm\"").next());
        for wide_mm in widths.filter_map(|wide| wide.parse::<f64>().ok()) {
            seen += 1;
            let words_px = PHONE_PX / wide_mm * LETTERED_MM;
            if words_px < LEAST_PX {
                faults.push(format!("{name}: a drawing of {wide_mm} mm has words of {words_px:.1} px"));
            }
        }
    }
    assert!(seen > 100, "{seen} drawings");
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Why two lines of a chart cannot be told apart.
fn lines_alike(chart: &str) -> Option<String> {
    let curves = |of: &str| {
        let marks = chart.split("<g ").filter(|mark| {
            mark.contains("data-kind=\"curve\"") && mark.contains(&format!("data-of=\"{of}\""))
        });
        marks.map(|mark| mark.contains("stroke-dasharray")).collect::<Vec<_>>()
    };
    let (needed, had) = (curves("needed"), curves("had"));
    let told = |word: &str| chart.matches(&format!(">{word}</text>")).count();
    if needed.is_empty() || needed.len() != had.len() {
        return Some(format!("{} and {} lines", needed.len(), had.len()));
    }
    if needed.iter().zip(&had).any(|(a, b)| a == b) {
        return Some("two lines of one dash".into());
    }
    let count = needed.len();
    (told("needed") < count || told("had") < count)
        .then(|| format!("{count} pairs of lines, told {} and {} times", told("needed"), told("had")))
}

#[test]
fn charts_that_are_alike_are_found() {
    let chart = |y: f64| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\"><rect width=\"100\" height=\"50\" fill=\"#fff\"/>\
             <path d=\"M5 5V45H95\" stroke=\"#000\" fill=\"none\" stroke-width=\"0.25\"/><path d=\"M5 {y}H95\" stroke=\"#000\" stroke-width=\"0.5\"/><text x=\"9\" y=\"{y}\">{y}</text></svg>"
        )
    };
    assert_eq!(wordless(&chart(20.0)).matches("text").count(), 0);
    assert!(difference(&dots(&chart(20.0)), &dots(&chart(20.0))) < DIFFERENT);
    assert!(difference(&dots(&chart(20.0)), &dots(&chart(30.0))) > DIFFERENT);
}

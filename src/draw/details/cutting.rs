//! The cutting picture: sticks of tube with the pieces sawn from them, in the order of the cuts.
use crate::draw::hand::font::{self, SIZE_MM, line_height, middle_to_baseline};
use crate::draw::hand::geo::{Quad, hatch, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene};
use crate::draw::hand::text::{Align, Text};
use crate::draw::placer::labels::centred;
use crate::draw::subject::{CuttingPicture, Piece};
use crate::measure::Say;

/// Height of a stick on paper and from stick to stick, mm.
const STICK_MM: f64 = 5.6;
const ROW_MM: f64 = 8.4;
/// Room for a stick's number, mm.
const NUMBER_MM: f64 = 9.0;

/// Draws the sticks, one under another, all to one scale; what is left of a stick is hatched.
pub fn cutting(picture: &CuttingPicture) -> Scene {
    let mut scene = Scene {
        prefix: picture.prefix.clone(),
        title: picture.title.clone(),
        desc: in_words(picture),
        size_mm: picture.area_mm,
        scale: None,
        marks: Vec::new(),
    };
    let mut y = 1.0;
    for (i, stick) in picture.sticks.iter().enumerate() {
        let unwritten = draw_stick(picture, &mut scene, i, stick, y);
        y += ROW_MM;
        y = write_rest(&mut scene, &unwritten, y);
    }
    scene.size_mm.1 = y;
    scene
}

/// One stick; answers the words that are wider than their piece.
fn draw_stick(p: &CuttingPicture, scene: &mut Scene, index: usize, stick: &[Piece], y: f64) -> Vec<String> {
    let per_m = (p.area_mm.0 - NUMBER_MM - 1.0) / p.stick_m.max(1e-3);
    let base = y + STICK_MM / 2.0 + middle_to_baseline(SIZE_MM);
    let mut number = Mark::new("stick", format!("stick {}", index + 1)).figure("length-m", p.stick_m);
    number.text(Text::plain(v2(0.5, base), format!("{}", index + 1), Align::Start).bold());
    let at = |along_m: f64| NUMBER_MM + along_m.clamp(0.0, p.stick_m) * per_m;
    let outline = Quad::rect(v2(at(0.0), y), v2(at(p.stick_m), y + STICK_MM));
    number.polygon(&outline.corners, Pen::Thin, Fill::White);
    scene.marks.push(number);
    let (mut used_m, mut unwritten) = (0.0, Vec::new());
    for piece in stick {
        let words = piece_words(piece, &p.say);
        let place = Quad::rect(v2(at(used_m), y), v2(at(used_m + piece.length_m), y + STICK_MM));
        let mut mark = Mark::new("piece", format!("cut {words}"))
            .with("mark", &piece.mark)
            .figure("length-m", piece.length_m);
        mark.polygon(&place.corners, Pen::Thick, Fill::White);
        let room = place.max.x - place.min.x - 1.2;
        let fits = |words: &str| font::width(words, SIZE_MM, false) <= room;
        if fits(&words) {
            mark.text(centred(place.middle(), &words, 0.0));
        } else {
            if fits(&piece.mark) {
                mark.text(centred(place.middle(), &piece.mark, 0.0));
            }
            unwritten.push(words);
        }
        scene.marks.push(mark);
        used_m += piece.length_m + p.kerf_m;
    }
    offcut(p, scene, used_m, Quad::rect(v2(at(used_m), y), outline.max));
    unwritten
}

/// What is left of a stick, hatched; its length is written where there is room.
fn offcut(p: &CuttingPicture, scene: &mut Scene, used_m: f64, place: Quad) {
    let left_m = p.stick_m - used_m;
    if left_m <= 0.0 {
        return;
    }
    let words = format!("offcut {}", p.say.length(left_m));
    let mut mark = Mark::new("offcut", words.clone()).figure("length-m", left_m);
    let (wide, room) = (font::width(&words, SIZE_MM, false), place.max.x - place.min.x);
    let written = wide + 3.0 <= room;
    let hatched = if written { Quad::rect(place.min + v2(wide + 2.4, 0.0), place.max) } else { place };
    mark.lines(&hatch(&hatched.corners, 1.4, true), Pen::Thin);
    if written {
        let middle = v2(place.min.x + 1.2 + wide / 2.0, (place.min.y + place.max.y) / 2.0);
        mark.text(centred(middle, &words, 0.0));
    }
    scene.marks.push(mark);
}

/// Words that are wider than their piece, under the stick.
fn write_rest(scene: &mut Scene, words: &[String], y: f64) -> f64 {
    if words.is_empty() {
        return y;
    }
    let mut y = y - 1.6;
    for line in font::wrapped(&words.join(" · "), SIZE_MM, scene.size_mm.0 - NUMBER_MM - 1.0) {
        let mut mark = Mark::new("key", "");
        let base = y + line_height(SIZE_MM) / 2.0 + middle_to_baseline(SIZE_MM);
        mark.text(Text::plain(v2(NUMBER_MM, base), line, Align::Start));
        scene.marks.push(mark);
        y += line_height(SIZE_MM);
    }
    y + 1.6
}

/// `A3 6 ft 1-3/8 in`.
fn piece_words(piece: &Piece, say: &Say) -> String {
    format!("{} {}", piece.mark, say.length(piece.length_m))
}

/// Every stick with its pieces, in words.
fn in_words(p: &CuttingPicture) -> String {
    let stick = |(i, pieces): (usize, &Vec<Piece>)| {
        let all: Vec<String> = pieces.iter().map(|piece| piece_words(piece, &p.say)).collect();
        format!("Stick {}: {}.", i + 1, all.join(", "))
    };
    p.sticks.iter().enumerate().map(stick).collect::<Vec<_>>().join(" ")
}

//! A tree of questions: each asked in its box, its answers beside it with what they lead to. It stands in one
//! column, so that a phone shows it without sideways moves.
use crate::draw::hand::font::{SIZE_MM, line_height, wrapped};
use crate::draw::hand::geo::{Quad, V2, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene};
use crate::draw::hand::text::{Align, Text};
use crate::draw::subject::TreePicture;

/// Width of a question's box, and from it to the answers, mm.
const BOX_MM: f64 = 34.0;
/// Bold words run wider than those that are measured when lines are broken.
const BOLD: f64 = 0.86;
const ARM_MM: f64 = 7.0;
/// Round the words of a box, between two answers, and between two questions, mm.
const PAD_MM: f64 = 1.6;
const ROW_MM: f64 = 1.6;
const FORK_MM: f64 = 5.0;
/// Where the questions begin.
const LEFT_MM: f64 = 1.0;

/// Draws the tree from the top down.
pub fn tree(p: &TreePicture) -> Scene {
    let mut scene = Scene {
        prefix: p.prefix.clone(),
        title: p.title.clone(),
        desc: in_words(p),
        size_mm: (p.width_mm, 0.0),
        scale: None,
        marks: Vec::new(),
    };
    let mut y = 1.0;
    for (nth, fork) in p.forks.iter().enumerate() {
        let ask = wrapped(&format!("{}. {}", nth + 1, fork.ask), SIZE_MM, (BOX_MM - 2.0 * PAD_MM) * BOLD);
        let boxed_mm = ask.len() as f64 * line_height(SIZE_MM) + 2.0 * PAD_MM;
        let ways_mm = ways(&mut scene, p, nth, y);
        let corner = v2(LEFT_MM, y);
        let mut mark = Mark::new("question", fork.ask.clone());
        mark.polygon(&Quad::rect(corner, corner + v2(BOX_MM, boxed_mm)).corners, Pen::Thick, Fill::White);
        rows(&mut mark, corner + v2(PAD_MM, PAD_MM), &ask, true);
        scene.marks.push(mark);
        let foot = y + boxed_mm;
        y += boxed_mm.max(ways_mm) + FORK_MM;
        if fork.goes_on && nth + 1 < p.forks.len() {
            let x = LEFT_MM + BOX_MM / 2.0;
            let mut mark = Mark::new("way-on", "");
            mark.line(v2(x, foot), v2(x, y), Pen::Thick);
            mark.lines(&[(v2(x, y), v2(x - 1.0, y - 2.0)), (v2(x, y), v2(x + 1.0, y - 2.0))], Pen::Thick);
            scene.marks.push(mark);
        }
    }
    scene.size_mm.1 = y - FORK_MM + 1.0;
    scene
}

/// The answers of a question from `y` down; their height.
fn ways(scene: &mut Scene, p: &TreePicture, nth: usize, y: f64) -> f64 {
    let left = LEFT_MM + BOX_MM + ARM_MM;
    let room = p.width_mm - left - 1.0;
    let middle = line_height(SIZE_MM) / 2.0;
    let first = y + PAD_MM;
    let (mut at, mut last) = (first, first);
    for (answer, then) in &p.forks[nth].ways {
        let (answered, leads) = (wrapped(answer, SIZE_MM, room * BOLD), wrapped(then, SIZE_MM, room));
        let mut mark = Mark::new("answer", format!("{answer}: {then}"));
        mark.line(v2(left - ARM_MM / 2.0, at + middle), v2(left - 1.0, at + middle), Pen::Thin);
        rows(&mut mark, v2(left, at), &answered, true);
        rows(&mut mark, v2(left, at + answered.len() as f64 * line_height(SIZE_MM)), &leads, false);
        scene.marks.push(mark);
        last = at + middle;
        at += (answered.len() + leads.len()) as f64 * line_height(SIZE_MM) + ROW_MM;
    }
    let spine = left - ARM_MM / 2.0;
    let mut mark = Mark::new("spine", "");
    mark.line(v2(LEFT_MM + BOX_MM, first + middle), v2(spine, first + middle), Pen::Thin);
    mark.line(v2(spine, first + middle), v2(spine, last), Pen::Thin);
    scene.marks.push(mark);
    at - y
}

/// Lines of words from a corner down.
fn rows(mark: &mut Mark, corner: V2, lines: &[String], bold: bool) {
    for (nth, line) in lines.iter().enumerate() {
        let at = corner + v2(0.0, nth as f64 * line_height(SIZE_MM) + 0.93 * SIZE_MM);
        let text = Text::plain(at, line.clone(), Align::Start);
        mark.text(if bold { text.bold() } else { text });
    }
}

fn in_words(p: &TreePicture) -> String {
    let fork = |(nth, fork): (usize, &crate::draw::subject::Fork)| {
        let ways: Vec<String> = fork.ways.iter().map(|(answer, then)| format!("{answer}: {then}")).collect();
        format!("{}. {} {}.", nth + 1, fork.ask, ways.join("; "))
    };
    p.forks.iter().enumerate().map(fork).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::subject::Fork;

    fn drawn() -> Scene {
        let fork = |ask: &str, goes_on: bool| Fork {
            ask: ask.into(),
            ways: vec![
                ("at no valve".into(), "plug and pair, then the unit's own maker and its service".into()),
                ("it starts".into(), "question 2".into()),
            ],
            goes_on,
        };
        tree(&TreePicture {
            prefix: "t".into(),
            title: "Faults".into(),
            forks: vec![fork("Does the unit start when any valve is opened?", true), fork("And now?", false)],
            width_mm: 98.0,
        })
    }

    #[test]
    fn no_words_lie_on_others_and_all_lie_inside() {
        let scene = drawn();
        let boxes: Vec<Quad> = scene.marks.iter().flat_map(Mark::texts).map(Text::line_box).collect();
        let frame = Quad::rect(v2(0.0, 0.0), v2(scene.size_mm.0, scene.size_mm.1));
        for (nth, place) in boxes.iter().enumerate() {
            assert!(place.inside(&frame), "{nth} lies outside");
            assert!(boxes[nth + 1..].iter().all(|other| !other.grown(-0.1, -0.1).meets(place)), "{nth}");
        }
        let asked = scene.of_kind("question").flat_map(Mark::texts).map(Text::line_box);
        assert!(asked.into_iter().all(|place| place.max.x < LEFT_MM + BOX_MM), "words leave their box");
        assert!(boxes.len() > 8, "{}", boxes.len());
    }

    #[test]
    fn a_question_leads_on_to_the_next_where_it_says_so() {
        assert_eq!(drawn().of_kind("way-on").count(), 1);
    }
}

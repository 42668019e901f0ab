//! What stands around a line: the other lines and the unit, in light line.
use super::draft::Draft;
use crate::draw::hand::geo::{Quad, V2, clipped, v2};
use crate::draw::hand::scene::{Mark, Pen};
use crate::draw::hand::symbols::unit;
use crate::draw::placer::what::What;
use crate::route::End;
use glam::DVec3;

/// Other lines in light line, as far as the frame shows them; answers names to write.
pub fn surroundings(draft: &mut Draft, at: impl Fn(DVec3) -> V2) -> Vec<(String, V2)> {
    let Some(around) = &draft.p.surroundings else {
        return Vec::new();
    };
    let frame = draft.board.frame.grown(-1.0, -1.0);
    let mut names = Vec::new();
    for (name, points) in &around.others {
        let seen: Vec<(V2, V2)> =
            points.windows(2).filter_map(|pair| clipped(at(pair[0]), at(pair[1]), &frame)).collect();
        let Some((a, b)) = seen.first() else { continue };
        if !name.is_empty() {
            names.push((name.clone(), (*a + *b) / 2.0));
        }
        let mut mark = Mark::new("other-line", name.clone());
        mark.lines(&seen, Pen::Thin);
        seen.iter().for_each(|(a, b)| draft.board.take_line(*a, *b, 0.15, What::Object));
        draft.marks.push(mark);
    }
    names
}

/// The unit, when the line does not end in it, and it lies in the frame and clear of the line; answers its name to write.
pub fn power_unit(draft: &mut Draft, at: impl Fn(DVec3) -> V2) -> Option<(String, V2)> {
    if draft.p.line.tail == End::Unit {
        return None;
    }
    let point = draft.p.surroundings.as_ref()?.unit.map(at)?;
    let place = Quad::about(point, v2(5.0, 5.0));
    if !place.inside(&draft.board.frame.grown(-1.0, -1.0)) || !draft.board.is_free(&place.grown(-1.0, -1.0)) {
        return None;
    }
    let mut mark = Mark::new("unit", "power unit");
    unit(&mut mark, point);
    draft.board.take(place, What::Object);
    draft.marks.push(mark);
    Some(("unit".into(), point))
}

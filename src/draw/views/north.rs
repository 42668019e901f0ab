//! The north arrow of a view.
use super::draft::Draft;
use crate::draw::hand::geo::{V2, v2};
use crate::draw::hand::scene::Mark;
use crate::draw::hand::symbols;
use crate::draw::placer::labels::anywhere;

impl Draft<'_> {
    /// An arrow to the north with its letter, in a corner that is free; `north` is its way on paper.
    pub fn north_arrow(&mut self, north: V2) {
        let frame = self.board.frame;
        let wish = v2(frame.max.x, self.drawn.bounds().0.y.min(frame.middle().y) - 5.0);
        let Some(chosen) = self.board.place(anywhere(&frame, v2(9.0, 13.0), wish), [], f64::MAX) else {
            return;
        };
        let mut mark =
            Mark::new("north", "north").with("angle", format!("{:.0}", north.x.atan2(-north.y).to_degrees()));
        symbols::north_arrow(&mut mark, &chosen.words, north);
        self.marks.push(mark);
    }
}

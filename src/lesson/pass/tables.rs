//! Tables that scroll by themselves and name their columns.

use pulldown_cmark::{Alignment, Event};

use super::Pass;
use crate::lesson::pieces;

/// The table that is open.
#[derive(Default)]
pub(super) struct Table {
    alignments: Vec<Alignment>,
    column: usize,
    head: bool,
    /// Where the open cell's start stands among the events.
    cell_at: usize,
}

impl Pass<'_, '_> {
    pub(super) fn open_table(&mut self, alignments: Vec<Alignment>) {
        self.tables += 1;
        self.table = Table { alignments, ..Table::default() };
        self.block_html(pieces::table_open(self.tables));
    }

    pub(super) fn open_row(&mut self, head: bool) {
        self.table.head = head;
        self.table.column = 0;
        self.block_html(if head { "<thead><tr>" } else { "<tr>" }.to_owned());
    }

    pub(super) fn open_cell(&mut self) {
        let alignment = self.table.alignments.get(self.table.column).copied().unwrap_or(Alignment::None);
        self.table.cell_at = self.out.len();
        self.block_html(pieces::cell_open(self.table.head, alignment));
    }

    /// An empty cell in the head is no header of anything.
    pub(super) fn close_cell(&mut self) {
        let at = self.table.cell_at;
        let empty = self.out.len() == at + 1;
        if self.table.head && empty {
            self.out[at] = self.own_event(Event::Html("<td>".into()));
        }
        let tag = if self.table.head && !empty { "</th>" } else { "</td>" };
        self.block_html(tag.to_owned());
        self.table.column += 1;
        self.word(" ");
    }
}

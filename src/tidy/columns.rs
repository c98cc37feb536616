//! Where the columns of a block stand.
//!
//! In: rows. Out: for each row the column of its value and that of its first clause, shared by the
//! rows of one block, and at the top by `let` lines that stand together.

use super::rows::{Gap, Row, Word};

/// Names up to this length share the narrowest column, so that most blocks of a design line up.
const SHORT_NAME: usize = 12;
/// A longer name does not push the values of the other lines.
const LONG_NAME: usize = 20;
/// The same for the types of a kind's properties.
const LONG_TYPE: usize = 10;

/// The columns of one row, counted from its indent; `None` where it has none.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Columns {
    /// Where values begin.
    pub value: Option<usize>,
    /// Where the first clause after a property's type begins.
    pub clause: Option<usize>,
}

/// The columns of each row.
pub fn columns(rows: &[Row<'_>]) -> Vec<Columns> {
    let groups = groups(rows);
    let count = groups.iter().max().map_or(0, |last| last + 1);
    let mut names = vec![0_usize; count];
    let mut types = vec![0_usize; count];
    for (row, group) in rows.iter().zip(&groups) {
        let (name, ty) = widths(row);
        let least = if row.depth == 0 { 0 } else { SHORT_NAME };
        if let (Some(width), Some(place)) = (name, names.get_mut(*group)) {
            *place = (*place).max(least).max(if width <= LONG_NAME { width } else { 0 });
        }
        if let (Some(width), Some(place)) = (ty.filter(|width| *width <= LONG_TYPE), types.get_mut(*group)) {
            *place = (*place).max(width);
        }
    }
    let of = |row: &Row<'_>, group: usize| {
        let (name, ty) = widths(row);
        let value = name.map(|width| width.max(names.get(group).copied().unwrap_or(0)) + 2);
        let clause = value.zip(ty).map(|(value, width)| value + width.max(types.get(group).copied().unwrap_or(0)) + 2);
        Columns { value, clause }
    };
    rows.iter().zip(groups).map(|(row, group)| of(row, group)).collect()
}

/// The number of the group that each row lines up with.
fn groups(rows: &[Row<'_>]) -> Vec<usize> {
    let mut groups = Vec::with_capacity(rows.len());
    let mut open: Vec<usize> = vec![0];
    let mut next = 1;
    let mut run_goes_on = false;
    for row in rows {
        // A block opens behind its header and closes before its `}`.
        open.truncate(row.depth + 1);
        while open.len() <= row.depth {
            open.push(next);
            next += 1;
        }
        let is_let = row.depth == 0 && widths(row).0.is_some();
        if row.depth == 0 && !(is_let && run_goes_on && !row.apart) {
            open = vec![next];
            next += 1;
        }
        run_goes_on = is_let;
        groups.push(open.last().copied().unwrap_or(0));
    }
    groups
}

/// The widths of a row's name and of its type, where it has them.
fn widths(row: &Row<'_>) -> (Option<usize>, Option<usize>) {
    let words = || row.lines.iter().flat_map(|line| &line.words);
    let Some(value) = words().position(|word| word.gap == Gap::Value) else { return (None, None) };
    let name = width(words().take(value), 0);
    let clause = words().position(|word| word.gap == Gap::Clause);
    (Some(name), clause.map(|clause| width(words().take(clause).skip(value), 0)))
}

/// How wide words are on one line, the blanks before the first left out.
fn width<'w>(words: impl Iterator<Item = &'w Word<'w>>, start: usize) -> usize {
    words.enumerate().fold(start, |width, (at, word)| {
        let gap = if at == 0 { "" } else { word.gap.plain() };
        width + gap.len() + word.text.chars().count()
    })
}

//! From rows to text: columns, breaks of long lines, comments behind lines.

use super::columns::{Columns, columns};
use super::rows::{Gap, Row, WIDTH, Word, break_rank, goes_on};

/// A line longer than this does not push the comments of its neighbours.
const LONG_BEFORE_COMMENT: usize = 60;

/// A line of the outcome.
#[derive(Debug, Default)]
struct OutLine<'t> {
    text: String,
    comment: Option<&'t str>,
    /// An empty line stands before it.
    apart: bool,
    /// Its comment does not line up with those above.
    alone: bool,
}

/// The text of the rows.
pub fn write(rows: &[Row<'_>]) -> String {
    let mut lines: Vec<OutLine<'_>> = Vec::with_capacity(rows.len());
    for (row, columns) in rows.iter().zip(columns(rows)) {
        write_row(row, columns, &mut lines);
    }
    join(&lines)
}

fn write_row<'t>(row: &Row<'t>, columns: Columns, lines: &mut Vec<OutLine<'t>>) {
    let indent = 2 * row.depth;
    // A header that is longer than its line goes on where the lines of its block begin.
    let hanging = indent + columns.value.unwrap_or(if row.brace { 2 } else { 0 });
    let mut writer = Writer { indent, columns, hanging, brackets: 0 };
    let first = lines.len();
    for (number, part) in row.lines.iter().enumerate() {
        if part.words.is_empty() {
            let indent = if number == 0 { indent } else { writer.indent_of(&[]) };
            lines.push(OutLine { text: " ".repeat(indent), comment: part.comment, alone: true, ..OutLine::default() });
            continue;
        }
        let mut rest = part.words.as_slice();
        let mut at_start = number == 0;
        while !rest.is_empty() {
            let (text, taken) = writer.line(rest, at_start);
            lines.push(OutLine { text, ..OutLine::default() });
            rest = rest.get(taken..).unwrap_or_default();
            at_start = false;
        }
        if let Some(last) = lines.last_mut() {
            last.comment = part.comment;
        }
    }
    if let Some(line) = lines.get_mut(first) {
        line.apart = row.apart;
        line.alone |= row.brace;
    }
}

struct Writer {
    indent: usize,
    columns: Columns,
    /// Where a line goes on.
    hanging: usize,
    /// How many brackets are open.
    brackets: usize,
}

impl Writer {
    /// The indent of a line that goes on, by the brackets around it.
    fn indent_of(&self, words: &[Word<'_>]) -> usize {
        let closed = words.iter().take_while(|word| matches!(word.text, ")" | "]")).count();
        self.hanging + 2 * self.brackets.saturating_sub(closed)
    }

    /// As many words as one line takes, and how many they are.
    fn line(&mut self, words: &[Word<'_>], at_start: bool) -> (String, usize) {
        let indent = if at_start { self.indent } else { self.indent_of(words) };
        let mut text = " ".repeat(indent);
        let mut width = indent;
        let mut clause_seen = !at_start;
        // After a value has begun, where to break: the word after which, its rank, the text so far.
        let mut best: Option<(usize, (usize, usize), usize)> = None;
        let mut value_seen = !at_start;
        let mut brackets = self.brackets;
        let mut in_assumed = false;
        for (at, word) in words.iter().enumerate() {
            if at > 0 {
                let before = words.get(at - 1).map_or("", |before| before.text);
                // A property goes on most gladly with its next clause, whatever its expression would allow.
                let rank = if goes_on(word.text, word.gap) {
                    Some(0)
                } else {
                    break_rank(before, word.text, word.gap, brackets).map(|rank| rank + 1)
                };
                // What is assumed is short, and what makes its line long is the reason.
                in_assumed = (in_assumed || before == "assumed") && before != "because" && word.gap != Gap::Clause;
                if value_seen
                    && !(in_assumed && self.columns.clause.is_some())
                    && !matches!(word.text, ")" | "]")
                    && let Some(rank) = rank
                    && (width <= WIDTH || best.is_none())
                {
                    let rank = (brackets, rank);
                    if best.is_none_or(|(_, known, _)| rank <= known) {
                        best = Some((at, rank, text.len()));
                    }
                }
                let before = text.len();
                self.put_gap(word.gap, width - indent, &mut clause_seen, &mut text);
                width += text.len() - before;
            }
            value_seen |= word.gap == Gap::Value;
            if matches!(word.text, ")" | "]") {
                brackets = brackets.saturating_sub(1);
            }
            if matches!(word.text, "(" | "[") {
                brackets += 1;
            }
            text.push_str(word.text);
            width += word.text.chars().count();
            if width > WIDTH
                && let Some((taken, _, length)) = best
            {
                text.truncate(length);
                return self.taken(words, text, taken);
            }
        }
        self.taken(words, text, words.len())
    }

    fn taken(&mut self, words: &[Word<'_>], text: String, taken: usize) -> (String, usize) {
        for word in words.iter().take(taken) {
            match word.text {
                "(" | "[" => self.brackets += 1,
                ")" | "]" => self.brackets = self.brackets.saturating_sub(1),
                _ => {}
            }
        }
        (text, taken)
    }

    /// What stands before a word, `written` columns after the indent.
    fn put_gap(&self, gap: Gap, written: usize, clause_seen: &mut bool, text: &mut String) {
        let column = match gap {
            Gap::Value => self.columns.value,
            Gap::Clause if !*clause_seen => {
                *clause_seen = true;
                self.columns.clause
            }
            _ => None,
        };
        match column {
            Some(column) => text.extend(std::iter::repeat_n(' ', column.saturating_sub(written).max(2))),
            None => text.push_str(gap.plain()),
        }
    }
}

/// Lines with their comments, those that stand together in one column.
fn join(lines: &[OutLine<'_>]) -> String {
    let mut text = String::new();
    let mut from = 0;
    while from < lines.len() {
        let more = lines.get(from + 1..).unwrap_or_default().iter().take_while(|line| !line.apart && !line.alone).count();
        let together = if lines.get(from).is_some_and(|line| line.alone) { 1 } else { more + 1 };
        let run = lines.get(from..from + together).unwrap_or_default();
        let column = run.iter().filter(|line| line.comment.is_some()).map(|line| line.text.chars().count());
        let column = column.filter(|width| *width <= LONG_BEFORE_COMMENT).max().unwrap_or(0) + 2;
        for line in run {
            if line.apart {
                text.push('\n');
            }
            text.push_str(&line.text);
            if let Some(comment) = line.comment {
                let width = line.text.chars().count();
                let blanks = if line.text.trim_start().is_empty() { 0 } else { column.saturating_sub(width).max(2) };
                text.extend(std::iter::repeat_n(' ', blanks));
                text.push_str(comment);
            }
            text.push('\n');
        }
        from += together;
    }
    text
}

//! Markdown tables (GitHub Flavored Markdown 0.29, §4.10).

/// A row of a table; what would end a cell or begin a tag is written so that it does not.
pub(super) fn row<'t>(cells: impl IntoIterator<Item = &'t str>) -> String {
    let cells: Vec<String> = cells.into_iter().map(cell).collect();
    format!("| {} |\n", cells.join(" | "))
}

/// The first two rows of a table.
pub(super) fn head(columns: &[&str]) -> String {
    format!("{}|{}\n", row(columns.iter().copied()), " --- |".repeat(columns.len()))
}

/// A text in which no sign means anything to Markdown.
pub(super) fn cell(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '|' | '*' | '_' | '`' | '<' | '>' | '[' | ']' | '\\' | '#' | '~' => {
                out.push('\\');
                out.push(sign);
            }
            '\n' | '\r' => out.push(' '),
            sign => out.push(sign),
        }
    }
    out
}

//! What would mend it: every change that a notice offers, and the lines that a check waits for.

use super::desk::Desk;
use super::hover::type_name;
use super::notices::{Notice, notices};
use crate::design::{Component, Entry, Kind, Property, Type};
use crate::problem::Mend;
use crate::text::{FileId, Span};

/// Missing lines that are offered for one notice.
const MOST_LINES: usize = 8;

/// The mends for the notices that touch a stretch of a file, the most urgent notice first.
#[must_use]
pub fn actions(desk: &Desk, file: FileId, start: u32, end: u32) -> Vec<(Notice, Vec<Mend>)> {
    let touching = |notice: &Notice| match notice.span {
        Some(span) => {
            let span = desk.sources().settle(span);
            span.file == file && span.start <= end && start <= span.end
        }
        None => start == 0,
    };
    let mut found = Vec::new();
    for notice in notices(desk).into_iter().filter(touching) {
        let mut mends = notice.mends.clone();
        for missing in notice.missing.iter().take(MOST_LINES) {
            mends.extend(if missing.property.is_empty() {
                missing_block(desk, file, &missing.component)
            } else {
                missing_line(desk, &missing.component, &missing.property)
            });
        }
        if !mends.is_empty() {
            found.push((notice, mends));
        }
    }
    // What fails before what waits: the first offer is the one that most people take.
    found.sort_by_key(|(notice, _)| notice.weight);
    found
}

/// A line that a component lacks, at the end of its block.
fn missing_line(desk: &Desk, component: &str, property: &str) -> Option<Mend> {
    let design = desk.design();
    let name = component.split('[').next().unwrap_or(component);
    let (Entry::Component(id) | Entry::Array(id, ..)) = design.entry(name)? else { return None };
    let (component, kind) = (design.component(id), design.kind_of(id));
    let declared = kind.properties.get(kind.property(property)?)?;
    put_line(desk, component, kind, declared)
}

/// The text that puts a line for a property into the block of a component; the value is left to its writer
/// where more than one could be meant.
fn put_line(desk: &Desk, component: &Component, _: &Kind, property: &Property) -> Option<Mend> {
    let span = desk.sources().settle(component.span);
    let source = desk.sources().get(span.file).filter(|_| !span.file.is_built_in())?;
    let block = source.text.get(span.start as usize..span.end as usize)?;
    let inside = block.strip_suffix('}')?;
    let at = |offset: usize| span.start + u32::try_from(offset).unwrap_or(0);
    let value = only_value(desk, property);
    let title = match &value {
        Some(value) => format!("write `{} {value}`", property.name),
        None => format!("add the line `{}`", property.name),
    };
    let trimmed = inside.trim_end();
    if !block.contains('\n') {
        let joint = if trimmed.ends_with('{') { " " } else { "; " };
        let value = value.unwrap_or_default();
        let text = format!("{joint}{} {value} ", property.name).replace("  ", " ");
        return Some(Mend { title, span: Span { start: at(trimmed.len()), end: at(inside.len()), ..span }, text });
    }
    let last = trimmed.rfind(['\n', '{']).map_or("", |at| trimmed.get(at + 1..).unwrap_or_default());
    let indent: String = last.chars().take_while(|c| c.is_whitespace()).collect();
    let indent = if indent.is_empty() { "  ".to_owned() } else { indent };
    // The values of the block stand in one column.
    let words = last.trim_start();
    let name = words.split_whitespace().next().unwrap_or_default();
    let column = words.strip_prefix(name).map_or(0, |rest| name.len() + rest.len() - rest.trim_start().len());
    let width = column.max(property.name.len() + 2);
    let behind = value.unwrap_or_else(|| {
        let doc = if property.doc.is_empty() { String::new() } else { format!(": {}", property.doc) };
        format!("# {}{doc}", type_name(desk, &property.ty))
    });
    let text = format!("\n{indent}{:width$}{behind}\n", property.name);
    Some(Mend { title, span: Span { start: at(trimmed.len()), end: at(inside.len()), ..span }, text })
}

/// The value that alone can be meant: the only component that a link fits.
fn only_value(desk: &Desk, property: &Property) -> Option<String> {
    let Type::Link { kinds, .. } = &property.ty else { return None };
    let design = desk.design();
    let mut fitting = kinds.iter().flat_map(|kind| design.of_kind(*kind)).map(|id| design.component(*id));
    let one = fitting.next().filter(|_| fitting.next().is_none())?;
    one.element.is_none().then(|| one.name.to_string())
}

/// A block of a kind that the design lacks, at the end of the file, with the lines that it has to have.
fn missing_block(desk: &Desk, file: FileId, kind: &str) -> Option<Mend> {
    let design = desk.design();
    let kind = design.kind(design.kind_named(kind)?);
    let source = desk.sources().get(file)?;
    let end = u32::try_from(source.text.len()).ok()?;
    let name = if kind.one_only { String::new() } else { format!(" my_{}", kind.name) };
    let required: Vec<&Property> = kind.properties.iter().filter(|property| property.required).collect();
    let width = required.iter().map(|property| property.name.len()).max().unwrap_or(0) + 2;
    let line = |property: &&Property| match only_value(desk, property) {
        Some(value) => format!("  {:width$}{value}\n", property.name),
        None => format!("  {:width$}# {}: {}\n", property.name, type_name(desk, &property.ty), property.doc),
    };
    let lines: String = required.iter().map(line).collect();
    let gap = if source.text.is_empty() || source.text.ends_with("\n\n") {
        ""
    } else if source.text.ends_with('\n') {
        "\n"
    } else {
        "\n\n"
    };
    Some(Mend {
        title: format!("write {} block", crate::problem::quoted_with_article(&kind.name)),
        span: Span { file, start: end, end },
        text: format!("{gap}{}{name} {{\n{lines}}}\n", kind.name),
    })
}

//! What may stand in a property or be given to a function, in words: for the pages on a terminal and those on paper.

use crate::design::{Belonging, Design, Property, Type};
use crate::syntax::tree::Component;
use crate::units::{Dim, units_for};
use crate::values::{Parameter, Takes};

/// What may stand in a property: `length (m, mm, …)`, `link to roof`.
pub(super) fn of_type(design: &Design, ty: &Type) -> String {
    let name = |dim: &Dim| dim.describe().trim_start_matches("an ").trim_start_matches("a ").to_owned();
    match ty {
        Type::Quantity(dim) if dim.is_number() => "number".to_owned(),
        Type::Quantity(dim) => {
            let units = units_for(*dim);
            let some: Vec<&str> = units.into_iter().take(4).collect();
            if some.is_empty() { name(dim) } else { format!("{} ({})", name(dim), some.join(", ")) }
        }
        Type::Text => "text in quotes".to_owned(),
        Type::Date => "date".to_owned(),
        Type::Solid => "solid".to_owned(),
        Type::Condition => "condition".to_owned(),
        Type::Flag => "yes or no".to_owned(),
        Type::Word(words) => format!("one of {}", words.join(", ")),
        Type::Link { many, kinds } => {
            let kinds: Vec<&str> = kinds.iter().map(|kind| design.kind(*kind).name.as_str()).collect();
            format!("{} {}", if *many { "links to" } else { "link to" }, kinds.join(", "))
        }
        Type::List(of) => format!("list of {}", of_type(design, of)),
        Type::Range(dim) => format!("range of {}, `… to …`", name(dim)),
        Type::Size(dim) => format!("size of {}, `… by …`", name(dim)),
        Type::Table => "table".to_owned(),
    }
}

/// Whether a property is worked out where it is not written.
pub(super) fn is_derived(property: &Property) -> bool {
    property.default.is_some() && property.assumed.is_none()
}

/// An entry of a catalogue by its kind and title: `rack: Steel rack, module 4`.
pub(super) fn of_entry(entry: &Component) -> String {
    let title = entry.title.as_ref().map_or("", |title| title.text.as_str());
    if title.is_empty() { entry.kind.text.to_string() } else { format!("{}: {title}", entry.kind.text) }
}

/// What a function takes.
pub(super) fn of_parameter(parameter: &Parameter) -> String {
    let takes = match parameter.takes {
        Takes::Quantity(dim) => of_quantity(dim),
        Takes::AnyQuantity => "any quantity".to_owned(),
        Takes::Word(words) => format!("one of {}", words.join(", ")),
        Takes::Flag => "yes or no".to_owned(),
        Takes::Text => "a text".to_owned(),
        Takes::Date => "a date".to_owned(),
        Takes::List(dim) => format!("a list, each {}", of_quantity(dim)),
        Takes::Component => "a component".to_owned(),
        Takes::Components => "components".to_owned(),
        Takes::Kinds => "kinds".to_owned(),
        Takes::Carrying => "what a link carries".to_owned(),
        Takes::Record => "a table that another function gave".to_owned(),
        Takes::Anything => "anything".to_owned(),
        Takes::Quantities => "quantities".to_owned(),
    };
    let optional = if parameter.optional { "; may be left out" } else { "" };
    if parameter.doc.is_empty() { format!("{takes}{optional}") } else { format!("{}: {takes}{optional}", parameter.doc) }
}

fn of_quantity(dim: Dim) -> String {
    let units: Vec<&str> = units_for(dim).into_iter().take(4).collect();
    if units.is_empty() || dim.is_number() { dim.describe() } else { format!("{} ({})", dim.describe(), units.join(", ")) }
}

/// The key under which it is said what belongs to a whole building.
pub(super) fn belonging_key(whole: &Belonging) -> &'static str {
    if whole.each_has.is_some() { "needs" } else { "every building" }
}

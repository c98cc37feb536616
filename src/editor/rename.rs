//! Another name for something, in every file of the design; or why not.

use super::desk::Desk;
use super::uses::{Symbol, Use};
use crate::problem::Mend;
use crate::syntax;
use crate::text::FileId;

/// The word at an offset, if it is a name that the design itself gives.
///
/// # Errors
/// Why it cannot be renamed, in the builder's words.
pub fn nameable(desk: &Desk, file: FileId, offset: u32) -> Result<Use, String> {
    let one = desk.use_at(file, offset).ok_or("nothing here has a name")?;
    let name = one.symbol.name();
    let own = match &one.symbol {
        Symbol::Choice(_) => return Err(format!("`{name}` is a word that the kind declares")),
        Symbol::Function(_) => return Err(format!("`{name}` is a function of the language")),
        Symbol::Unit(_) => return Err(format!("`{name}` is a unit")),
        Symbol::Catalogue(_) => return Err(format!("`{name}` is a catalogue that comes with Wallplate")),
        Symbol::File(_) => return Err("rename the file, then write its new name here".to_owned()),
        Symbol::Local(_) if ["this", "index", "today"].contains(&name.as_str()) => {
            return Err(format!("`{name}` is a word of the language"));
        }
        Symbol::Local(_) => return Ok(one),
        symbol => desk.definition(symbol),
    };
    match own {
        Some(span) if span.file.is_built_in() => Err(format!("`{name}` comes with Wallplate and is not part of this design")),
        None => Err(format!("nothing is called `{name}`")),
        Some(_) if !desk.references(&one.symbol, &one).iter().any(|one| one.defines) => {
            Err(format!("`{name}` has no name of its own: it is the only one of its kind, and is called by it"))
        }
        Some(_) => Ok(one),
    }
}

/// The changes that give the thing at an offset another name.
///
/// # Errors
/// As [`nameable`]; also where the new name cannot be one or is taken.
pub fn rename(desk: &Desk, file: FileId, offset: u32, to: &str) -> Result<Vec<Mend>, String> {
    let one = nameable(desk, file, offset)?;
    let design = desk.design();
    let is_rule = matches!(one.symbol, Symbol::Rule(_));
    let fits = if is_rule { to.split('.').count() >= 2 && to.split('.').all(syntax::is_name) } else { syntax::is_name(to) };
    if !fits {
        return Err(if is_rule {
            format!("`{to}` cannot be a rule's name: it is an area and a name with a dot between them, like `house.cable_slack`")
        } else {
            format!(
                "`{to}` cannot be a name: a name begins with a lower-case letter, goes on with such letters, digits and `_`, and is no word of the language"
            )
        });
    }
    let all = desk.all_uses();
    let taken = match &one.symbol {
        Symbol::Entry(_) => design.entry(to).is_some(),
        Symbol::Kind(_) => design.kind_named(to).is_some(),
        Symbol::Property(kind, _) => design.kind_named(kind).is_some_and(|kind| design.kind(kind).property(to).is_some()),
        Symbol::Rule(_) => design.rule(to).is_some(),
        symbol => {
            let like = |other: &Symbol| std::mem::discriminant(symbol) == std::mem::discriminant(other) && other.name() == to;
            all.iter().any(|one| one.defines && like(&one.symbol))
        }
    };
    if taken && to != one.symbol.name() {
        return Err(format!("`{to}` is already taken"));
    }
    let title = || format!("rename `{}`", one.symbol.name());
    Ok(desk.references(&one.symbol, &one).into_iter().map(|place| Mend { title: title(), span: place.span, text: to.to_owned() }).collect())
}

//! Lines that are written in the wrong block: what is a block of its own, or a line of another one.
//!
//! In: a line that a kind has not. Out: where it belongs, as the kinds declare it.

use super::{Design, Kind, KindId, Type};

impl Design {
    /// Where a line belongs that this kind has not: in a block of that name which leads here, or in one of the only kinds
    /// that have it and have to do with this one.
    pub(super) fn stands_elsewhere(&self, word: &str, kind: KindId) -> Option<String> {
        let own = &self.kind(kind).name;
        if let Some(other) = self.kind_named(word).map(|id| self.kind(id)) {
            let link = links(other).find(|(_, kinds)| kinds.contains(&kind))?.0;
            return Some(format!(
                "`{word}` is a block of its own: write `{word} NAME {{ {link} … }}`, and name this {own} in its `{link}`"
            ));
        }
        let leads_here = |other: &Kind| links(other).any(|(_, kinds)| kinds.contains(&kind));
        let leads_there =
            |other: &Kind| self.kind_named(&other.name).is_some_and(|id| links(self.kind(kind)).any(|(_, kinds)| kinds.contains(&id)));
        let having: Vec<&Kind> =
            self.kinds.iter().map(AsRef::as_ref).filter(|other| other.property(word).is_some() && !other.catalogue_entry).collect();
        let near: Vec<&str> =
            having.iter().filter(|other| leads_here(other) || leads_there(other)).map(|other| other.name.as_str()).collect();
        match near.as_slice() {
            [] => None,
            [one] => Some(format!("`{word}` is a line of {}, which is a block of its own", crate::problem::quoted_with_article(one))),
            [some @ .., last] if some.len() < MOST_KINDS => Some(format!(
                "`{word}` is a line of {} or `{last}`, which are blocks of their own",
                crate::problem::quoted_with_article(&some.join("`, `"))
            )),
            _ => None,
        }
    }
}

/// More kinds than this that have a line of a name tell nobody which is meant.
const MOST_KINDS: usize = 3;

/// The links of a kind, each with the kinds that it leads to.
fn links(kind: &Kind) -> impl Iterator<Item = (&str, &[KindId])> {
    kind.properties.iter().filter_map(|property| match &property.ty {
        Type::Link { kinds, .. } => Some((property.name.as_str(), kinds.as_slice())),
        _ => None,
    })
}

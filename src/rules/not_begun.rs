//! What a whole building has and this one has not: there the rules have nothing to look at, and all that is
//! checked may hold.
//!
//! In: what the kinds say of a whole building, and the components of a design. Out: what is lacking. It is no
//! verdict, for nothing that is written is wrong.

use super::options::{Only, Options};
use crate::design::{ComponentId, KindId, Writer};
use crate::values::{Evaluator, Scope};
use smol_str::SmolStr;

/// Something that a whole building has and this one has not.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct NotBegun {
    /// The area of the rules that have nothing to look at.
    pub area: SmolStr,
    /// What is lacking, in a builder's words.
    pub lacks: SmolStr,
    /// The component that lacks it; none where the building has nothing of a kind.
    pub component: Option<SmolStr>,
}

/// What a design lacks to be a whole building, in the order of the kinds.
///
/// A condition that cannot be decided is not met: it is not known that the part is there. Where all that is written
/// is of the person's own kinds, it is no observatory, and what the library says of a whole one is not asked.
#[must_use]
pub fn not_begun(evaluator: &Evaluator, options: &Options) -> Vec<NotBegun> {
    let design = evaluator.design();
    let mut found: Vec<NotBegun> = Vec::new();
    let meant = Only::meant(options.only.as_ref(), design);
    let mut written = design.components.iter().filter(|component| !component.span.file.is_built_in()).peekable();
    let is_other = written.peek().is_some() && written.all(|component| !design.kind(component.kind).name_span.file.is_built_in());
    for (at, kind) in (0_u32..).zip(&design.kinds) {
        if is_other && kind.name_span.file.is_built_in() {
            continue;
        }
        let all = design.of_kind(KindId(at));
        for whole in &kind.belongings {
            let lacking = |component| NotBegun { area: whole.area.clone(), lacks: whole.lacks.clone(), component };
            let has = |id: &ComponentId, condition| {
                let mut scope = Scope { own: Some(*id), writer: Writer::Kind, ..Scope::default() };
                evaluator.reading(|| evaluator.condition(condition, &mut scope)).0 == Ok(true)
            };
            match &whole.each_has {
                Some(condition) => {
                    let without = all.iter().filter(|id| !has(id, condition));
                    found.extend(without.map(|id| lacking(Some(design.component(*id).name.clone()))));
                }
                None if all.is_empty() => found.push(lacking(None)),
                None => {}
            }
        }
    }
    found.retain(|one| meant.misses(&one.area, one.component.as_deref()));
    found
}

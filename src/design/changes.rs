//! Alternatives put in place: what a variant says otherwise, and what was measured on the site.

use super::components::{Origin, Written};
use super::near::{Names, offered};
use super::{Choice, ComponentId, Design, Entry};
use crate::problem::Problem;
use crate::syntax::tree::{self, Change, Changes, Item, Let, Tree};
use crate::text::Span;
use rustc_hash::FxHashMap;
use std::sync::Arc;

struct Replacement<'t> {
    changes: &'t Changes,
    origin: Origin,
}

impl Design {
    /// Checks all variants and measurements, and puts the chosen ones in place.
    pub(super) fn replace(&mut self, files: &[Arc<Tree>], choice: &Choice) {
        let mut measured: Vec<&tree::Measured> = Vec::new();
        let mut chosen: Vec<Replacement<'_>> = Vec::new();
        let mut near: Option<Names> = None;
        for item in files.iter().flat_map(|tree| &tree.items) {
            match item {
                Item::Variant(variant) => {
                    self.check_changes(&variant.changes, &Origin::Variant(variant.name.text.clone()), &mut near);
                    if choice.variant.as_ref() == Some(&variant.name.text) {
                        chosen.push(Replacement { changes: &variant.changes, origin: Origin::Variant(variant.name.text.clone()) });
                    }
                }
                Item::Measured(block) => {
                    self.check_changes(&block.changes, &Origin::Measured(block.date), &mut near);
                    measured.push(block);
                }
                _ => {}
            }
        }
        if choice.as_built {
            // What was measured later counts.
            measured.sort_by_key(|block| block.date);
            chosen.extend(measured.iter().map(|block| Replacement { changes: &block.changes, origin: Origin::Measured(block.date) }));
        }
        for replacement in chosen {
            for change in &replacement.changes.components {
                for id in self.changed(change) {
                    self.put_lines(id, change, &replacement.origin);
                }
            }
            for line in &replacement.changes.lets {
                self.put_named(line);
            }
        }
    }

    fn changed(&self, change: &Change) -> Vec<ComponentId> {
        match (self.entry(&change.name.text), change.element) {
            (Some(Entry::Component(id)), None) => vec![id],
            (Some(Entry::Array(id, _, count)), None) => (id.0..id.0 + count).map(ComponentId).collect(),
            (Some(Entry::Array(id, first, count)), Some(element)) if element >= first && element - first < count => {
                vec![ComponentId(id.0 + element - first)]
            }
            _ => Vec::new(),
        }
    }

    fn check_changes(&mut self, changes: &Changes, origin: &Origin, near: &mut Option<Names>) {
        let mut near = |design: &Design, word: &tree::Word, of_component: bool| {
            let names = near.get_or_insert_with(|| Names::of(design.names_with_kinds()));
            names.nearest(&word.text, |kind| kind.is_some() == of_component, []).map(str::to_owned)
        };
        let mut written: FxHashMap<(ComponentId, usize), Span> = FxHashMap::default();
        for change in &changes.components {
            let ids = self.changed(change);
            let Some(kind) = ids.first().map(|id| self.component(*id).kind) else {
                let written = &change.name;
                if self.is_unreadable(&written.text) {
                    continue;
                }
                let problem = match (self.entry(&written.text), change.element) {
                    (Some(Entry::Array(_, first, count)), Some(_)) => {
                        Problem::error(format!("`{}` has no such element", written.text), written.span, "this component")
                            .help(format!("its elements are {first} to {}", first + count - 1))
                    }
                    _ => {
                        let otherwise = "only lines of components that the design has can be replaced".to_owned();
                        let problem = Problem::error(format!("there is no component `{}`", written.text), written.span, "this component");
                        offered(problem, near(self, written, true).as_deref(), written.span, otherwise)
                    }
                };
                self.problems.push(problem);
                continue;
            };
            for line in &change.lines {
                let Some(property) = self.property_of(kind, line, &change.lines) else { continue };
                let first = ids.iter().filter_map(|id| written.insert((*id, property), line.span)).last();
                if let Some(first) = first {
                    self.problems.push(
                        Problem::error(format!("`{}` is written twice", line.name.text), line.span, "the second")
                            .also(first, "the first")
                            .help("keep one of them; what was measured on another day stands in a `measured` block of its own"),
                    );
                }
                let value = Written::of(line, origin);
                self.alternatives.extend(ids.iter().map(|id| (*id, property, value.clone())));
            }
        }
        for line in &changes.lets {
            if let Some(Entry::Named(at)) = self.entry(&line.name.text) {
                self.named_alternatives.push((at, line.clone()));
            } else {
                let problem = Problem::error(format!("there is no named value `{}` to replace", line.name.text), line.name.span, "here");
                let otherwise = format!("name it in the design: `let {} …`", line.name.text);
                self.problems.push(offered(problem, near(self, &line.name, false).as_deref(), line.name.span, otherwise));
            }
        }
    }

    fn put_lines(&mut self, id: ComponentId, change: &Change, origin: &Origin) {
        for line in &change.lines {
            let property = self.kind_of(id).property(&line.name.text).and_then(|property| u16::try_from(property).ok());
            let (Some(property), Some(component)) = (property, self.components.get_mut(id.0 as usize)) else { continue };
            component.replace(property, Written::of(line, origin));
        }
    }

    fn put_named(&mut self, line: &Let) {
        if let Some(Entry::Named(at)) = self.entry(&line.name.text)
            && let Some(named) = self.named.get_mut(at)
        {
            named.value = Arc::clone(&line.value);
            named.span = line.span;
            named.guessed = line.guessed.is_some();
        }
    }
}

//! From one state of a text to the next: what an edit does not touch is kept as it was worked out.
//!
//! In: the values of a design, and the same design after an edit. Out: an evaluator for the new one
//! that knows every value which cannot have changed. A line that says the same as before is the same
//! line, wherever it stands now; everything that was worked out from a line that says something else is
//! forgotten, to be worked out again when it is asked for. What comes out is what a fresh evaluator would
//! find; only sooner.

use super::aggregate::Join;
use super::evaluator::{Evaluator, JoinKey, Slot};
use super::links::Links;
use super::reads::{Question, is_value};
use super::renumbered::Renumbered;
use crate::design::{Component, ComponentId, Design, KindId, Named, NodeId, NodeKind, Type, Written};
use crate::syntax::tree::{Expr, Node};
use crate::text::{FileId, Span};
use crate::units::System;
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;
use std::cell::{Cell, OnceCell, RefCell};
use std::sync::Arc;

/// After so many rounds in which the indexes of the design still change, nothing is kept of them.
const MOST_ROUNDS: usize = 12;

impl Evaluator {
    /// An evaluator for `design` that keeps what `self` has worked out and the edit between both does not touch.
    ///
    /// Nothing where the vocabulary or the usual units have changed: then everything may have. Both designs
    /// are read with the trade library and no choice of alternatives.
    /// `gone` are the fragments of the text that are there no longer.
    #[must_use]
    pub fn renewed(self, design: Arc<Design>, system: System, gone: &FxHashSet<FileId>) -> Option<(Evaluator, Renumbered)> {
        let old = Arc::clone(&self.design);
        if system != self.system || self.in_circle.get() || !old.same_vocabulary(&design) {
            return None;
        }
        self.recover();
        let mut moved = Renumbered::between(&old, &design);
        let names = changed_names(&old, &design);
        if names.iter().any(|name| design.free_names().contains(name)) {
            return None;
        }
        moved.names = !names.is_empty();
        moved.places = moved_places(&old, &design, &moved, gone);
        moved.displaced = displaced(&old, &design, &moved, gone);
        let mut touched: FxHashSet<NodeId> = FxHashSet::default();
        self.graph.borrow().spread(changed_nodes(&self, &old, &design, &moved, &names, gone), &mut |node| touched.insert(node));
        self.forget_problems(&touched);
        Some((self.moved_to(design, &moved, touched), moved))
    }

    /// After work that was given up: nothing is being worked out any more.
    fn recover(&self) {
        for node in self.frames.take().into_iter().filter_map(|frame| frame.node) {
            self.put(node, Slot::Untouched);
        }
        self.scenario.take();
        self.scenario_number.set(0);
        self.kept.take();
    }

    fn forget_problems(&self, touched: &FxHashSet<NodeId>) {
        self.problems.borrow_mut().retain(|(owner, _)| owner.is_some_and(|owner| !touched.contains(&owner)));
    }

    fn moved_to(self, design: Arc<Design>, moved: &Renumbered, touched: FxHashSet<NodeId>) -> Evaluator {
        let count = design.node_count();
        let node = |node: NodeId| moved.node(node);
        let mut slots = self.slots.take();
        for node in touched.iter().filter(|node| is_value(**node)) {
            if let Some(slot) = slots.get_mut(node.0 as usize) {
                *slot = Slot::Untouched;
            }
        }
        let mut tolerances = self.tolerances.take();
        tolerances.retain(|node, _| !touched.contains(node));
        let (mut joins, mut links) = (self.joins.take(), self.links.into_inner());
        let mut stale_joins = self.stale_joins.take();
        let mut stale_links = self.stale_links.take();
        let mut graph = self.graph.take();
        graph.settle_order(&touched);
        let mut problems = self.problems.take();
        let mut buckets = self.buckets.take();
        let mut remembered = self.remembered.take();
        // What the rules have not looked at since counts as well.
        let mut dirty = touched;
        dirty.extend(self.dirty.take());
        if !moved.is_same() {
            let mut now = vec![Slot::Untouched; count];
            for (at, slot) in (0..).map(NodeId).zip(slots) {
                if let (Some(place), false) = (node(at).and_then(|at| now.get_mut(at.0 as usize)), matches!(slot, Slot::Untouched)) {
                    *place = moved.slot(slot);
                }
            }
            slots = now;
            graph = graph.renumbered(count, &node);
            tolerances = tolerances.into_iter().filter_map(|(at, tolerances)| Some((node(at)?, tolerances))).collect();
            problems = problems.into_iter().filter_map(|(owner, problem)| Some((Some(node(owner?)?), problem))).collect();
            let join = |join: &Arc<Join>| Arc::new(join.renumbered(&|id| moved.component(id)));
            joins = joins.iter().map(|(key, index)| (*key, join(index))).collect();
            stale_joins = stale_joins.iter().map(|(key, index)| (*key, join(index))).collect();
            let renumber = |links: Links| links.renumbered(design.components.len(), &|id| moved.component(id), &node);
            links = links.map(renumber);
            stale_links = stale_links.map(renumber);
            remembered = remembered.without_components();
            buckets = buckets.renumbered(&|id| moved.component(id));
            dirty = dirty.into_iter().filter_map(node).collect();
        }
        let evaluator = Evaluator {
            slots: RefCell::new(slots),
            graph: RefCell::new(graph),
            problems: RefCell::new(problems),
            tolerances: RefCell::new(tolerances),
            joins: RefCell::new(joins),
            stale_joins: RefCell::new(stale_joins),
            buckets: RefCell::new(buckets),
            remembered: RefCell::new(remembered),
            links: links.map_or_else(OnceCell::new, OnceCell::from),
            stale_links: RefCell::new(stale_links),
            dirty: RefCell::new(FxHashSet::default()),
            links_are_old: Cell::new(self.links_are_old.get()),
            everything: Cell::new(self.everything.get()),
            units: self.units,
            ..Evaluator::bare(design, self.system, self.functions)
        };
        evaluator.mark(dirty);
        evaluator.age_indexes();
        evaluator
    }

    /// Notes that these have changed, and that indexes over them have to be gathered again.
    fn mark(&self, nodes: impl IntoIterator<Item = NodeId>) {
        let design = Arc::clone(&self.design);
        let mut dirty = self.dirty.borrow_mut();
        for node in nodes {
            dirty.insert(node);
            if !is_value(node) {
                continue;
            }
            let NodeKind::Property(id, property) = design.node_kind(node) else { continue };
            let kind = design.component(id).kind;
            let Some(declared) = design.kind(kind).properties.get(property) else { continue };
            if matches!(declared.ty, Type::Link { .. } | Type::Word(_)) {
                let index = self.joins.borrow_mut().remove(&(kind, property));
                if let Some(index) = index {
                    self.stale_joins.borrow_mut().insert((kind, property), index);
                }
            }
            if matches!(declared.ty, Type::Link { .. }) && !declared.carries.is_none() {
                self.links_are_old.set(true);
            }
        }
    }

    /// Kinds whose components have come, gone or changed places make their indexes and the graph old.
    fn age_indexes(&self) {
        let dirty = self.dirty.borrow();
        let kinds: Vec<KindId> = dirty
            .iter()
            .filter_map(|node| match Question::of(*node) {
                Some(Question::Members(kind)) => Some(kind),
                _ => None,
            })
            .collect();
        if kinds.is_empty() {
            return;
        }
        self.links_are_old.set(true);
        let mut joins = self.joins.borrow_mut();
        let old: Vec<_> = joins.keys().filter(|(kind, _)| kinds.contains(kind)).copied().collect();
        for key in old {
            if let Some(index) = joins.remove(&key) {
                self.stale_joins.borrow_mut().insert(key, index);
            }
        }
    }

    /// Gathers the old indexes and the component graph again, and forgets what was worked out from answers
    /// that are others now. To be called before anything else is asked.
    pub fn bring_up_to_date(&mut self) {
        for _ in 0..MOST_ROUNDS {
            let waiting: Vec<JoinKey> = self.stale_joins.borrow().keys().copied().collect();
            if waiting.is_empty() && !self.links_are_old.get() {
                return;
            }
            for (kind, property) in waiting {
                self.renew_join(kind, property);
            }
            if self.links_are_old.get() {
                self.renew_links();
            }
        }
        self.forget_everything();
    }

    /// One index. The work may be given up while it is gathered: until then the old one stays noted as old.
    fn renew_join(&self, kind: KindId, property: usize) {
        let now = Arc::new(self.gather_join(kind, property));
        let Some(before) = self.stale_joins.borrow_mut().remove(&(kind, property)) else { return };
        self.joins.borrow_mut().insert((kind, property), Arc::clone(&now));
        let mut changed: Vec<NodeId> = before.differences(&now).into_iter().map(|key| self.bucket(kind, property, &key).node()).collect();
        if before.unknown != now.unknown {
            changed.extend(self.buckets.borrow().all(kind, property).map(|number| Question::Bucket(number).node()));
        }
        self.forget(changed);
    }

    fn renew_links(&mut self) {
        // Of two the older: the newer may have been gathered in work that was given up.
        let links = self.links.take();
        let mut stale = self.stale_links.borrow_mut();
        if stale.is_none() {
            *stale = links;
        }
        drop(stale);
        let now = self.gather_all_links();
        self.links_are_old.set(false);
        if let Some(before) = self.stale_links.take() {
            let (components, unknown) = before.differences(&now);
            let mut changed: Vec<NodeId> = components.into_iter().map(|id| Question::Links(id).node()).collect();
            changed.extend(unknown.then(|| Question::UnknownLinks.node()));
            self.forget(changed);
        }
        self.links = OnceCell::from(now);
    }

    /// What was worked out from these is not known any more.
    fn forget(&self, changed: Vec<NodeId>) {
        let mut touched = FxHashSet::default();
        self.graph.borrow().spread(changed, &mut |node| touched.insert(node));
        for node in touched.iter().filter(|node| is_value(**node)) {
            self.put(*node, Slot::Untouched);
            self.tolerances.borrow_mut().remove(node);
        }
        self.kept.take();
        self.forget_problems(&touched);
        self.mark(touched);
    }

    /// What went wrong in a derived value is forgotten with it where nobody asks for it any more: a fresh reading would not
    /// come to it, and says nothing of it. `asked` is what the rules read.
    pub(crate) fn forget_unasked(&self, asked: impl Iterator<Item = NodeId>) {
        let design = Arc::clone(&self.design);
        let is_derived = |node: &NodeId| match design.node_kind(*node) {
            NodeKind::Property(id, property) => design.component(id).written(property).is_none(),
            NodeKind::Named(_) => false,
        };
        let told: Vec<NodeId> = self.problems.borrow().iter().filter_map(|(owner, _)| *owner).filter(is_derived).collect();
        if told.is_empty() {
            return;
        }
        let named = (0..design.named.len()).filter_map(|at| u32::try_from(at).ok()).map(NodeId);
        let components = (0_u32..).map(ComponentId).zip(&design.components).filter(|(_, component)| !component.header.file.is_built_in());
        let written = components.flat_map(|(id, component)| component.lines().map(move |(property, _)| (id, property)));
        let joins = self.joins.borrow();
        let indexed = joins.keys().flat_map(|(kind, property)| design.of_kind(*kind).iter().map(|id| (*id, *property)));
        let lines = written.chain(indexed).map(|(id, property)| design.node(id, property));
        let reached = self.graph.borrow().reached(asked.chain(named).chain(lines));
        drop(joins);
        let lost: Vec<NodeId> = told.into_iter().filter(|node| !reached.contains(node)).collect();
        if !lost.is_empty() {
            self.forget(lost);
        }
    }

    /// Indexes that hang on one another without end: nothing that was asked of them is kept.
    fn forget_everything(&mut self) {
        self.joins.take();
        self.stale_joins.take();
        self.links.take();
        self.stale_links.take();
        self.links_are_old.set(false);
        self.slots.borrow_mut().fill(Slot::Untouched);
        self.tolerances.take();
        self.problems.take();
        self.everything.set(true);
    }

    /// Whether anything of these has changed since the rules ran last.
    pub(crate) fn has_changed(&self, reads: &[NodeId]) -> bool {
        let dirty = self.dirty.borrow();
        self.everything.get() || reads.iter().any(|read| dirty.contains(read))
    }

    /// The rules have looked at all that has changed.
    pub(crate) fn all_looked_at(&self) {
        self.dirty.take();
        self.everything.set(false);
    }
}

/// Names that stand for something else than before.
fn changed_names(old: &Design, new: &Design) -> FxHashSet<SmolStr> {
    let what = |design: &Design, name: &str| design.entry(name).map(|entry| design.stands_for(entry));
    let mut names = FxHashSet::default();
    if old.same_names(new) {
        return names;
    }
    for (name, _) in old.entries().chain(new.entries()) {
        if what(old, name) != what(new, name) {
            names.insert(name.clone());
        }
    }
    names.extend(old.unreadable().symmetric_difference(new.unreadable()).cloned());
    names
}

/// The nodes (in the old numbers) whose line says something else than before, and the questions whose answer is another.
fn changed_nodes(
    evaluator: &Evaluator,
    old: &Design,
    new: &Design,
    moved: &Renumbered,
    names: &FxHashSet<SmolStr>,
    gone: &FxHashSet<FileId>,
) -> Vec<NodeId> {
    let told: FxHashSet<NodeId> = evaluator.problems.borrow().iter().filter_map(|(owner, _)| *owner).collect();
    // A problem holds places of its line: read again, it is told again.
    let same = |node: NodeId, a: &Arc<Expr>, b: &Arc<Expr>| {
        (Arc::ptr_eq(a, b) || (!told.contains(&node) && same_words(a, b))) && (names.is_empty() || !speaks_of(b, names))
    };
    let mut changed = Vec::new();
    if !names.is_empty() {
        // What a message offers in place of an unknown name may be another now.
        changed.extend(told.iter().copied());
    }
    // What was told at a place that is gone is told again, wherever the value stands that it is about.
    let is_gone = |place: &crate::problem::Place| gone.contains(&place.span.file);
    let lost = |(owner, problem): &(Option<NodeId>, crate::problem::Problem)| owner.filter(|_| problem.places.iter().any(is_gone));
    changed.extend(evaluator.problems.borrow().iter().filter_map(lost));
    // Of two ways through the links that are equally long the one over the component that stands first is taken.
    let ids = || (0_u32..).map(ComponentId).take(old.components.len());
    if !ids().filter_map(|id| moved.component(id)).is_sorted() {
        changed.extend(ids().map(|id| Question::Links(id).node()));
    }
    for (at, named) in (0_u32..).zip(&old.named) {
        let now = match moved.is_same() {
            true => Some(at),
            false => moved.node(NodeId(at)).map(|node| node.0),
        };
        let now = now.and_then(|now| new.named.get(now as usize));
        let stays = |now: &Named| now.span == named.span || gone.contains(&named.span.file);
        if !now.is_some_and(|now| stays(now) && now.guessed == named.guessed && same(NodeId(at), &named.value, &now.value)) {
            changed.push(NodeId(at));
        }
    }
    changed.extend(of_other_alternatives(old, new, moved).map(|id| Question::Written(id).node()));
    for (id, component) in (0_u32..).map(ComponentId).zip(&old.components) {
        let Some(now) = moved.component(id).map(|id| new.component(id)) else {
            let count = old.kind(component.kind).properties.len();
            changed.extend((0..count).map(|property| old.node(id, property)));
            changed.extend([Question::Links(id).node(), Question::Title(id).node(), Question::Written(id).node()]);
            continue;
        };
        if component.header != now.header && !gone.contains(&component.header.file) {
            let count = old.kind(component.kind).properties.len();
            changed.extend((0..count).map(|property| old.node(id, property)));
        }
        if component.title != now.title || component.name != now.name {
            changed.push(Question::Title(id).node());
        }
        if !names.is_empty() || !component.is_untouched_in(now) {
            for (property, line) in component.lines() {
                let node = old.node(id, property);
                // A line of the same words in another statement, the old one still there, is another line.
                let stays = |now: &Written| now.span == line.span || gone.contains(&line.span.file);
                let is_same = |now: &Written| {
                    now.origin == line.origin && now.guessed == line.guessed && stays(now) && same(node, &line.value, &now.value)
                };
                if !now.written(property).is_some_and(is_same) {
                    changed.push(node);
                }
            }
            if !component.lines().map(|(property, _)| property).eq(now.lines().map(|(property, _)| property)) {
                changed.push(Question::Written(id).node());
            }
            let news = now.lines().filter(|(property, _)| component.written(*property).is_none());
            changed.extend(news.map(|(property, _)| old.node(id, property)));
        }
        // Defaults are the same words as before, but what goes wrong in one is told at the component's header.
        if component.header != now.header && !told.is_empty() {
            let count = old.kind(component.kind).properties.len();
            changed.extend((0..count).map(|property| old.node(id, property)).filter(|node| told.contains(node)));
        }
    }
    for kind in (0_u32..).map(KindId).take(old.kinds.len()) {
        let before = old.of_kind(kind).iter().map(|id| moved.component(*id));
        if !before.eq(new.of_kind(kind).iter().copied().map(Some)) {
            changed.push(Question::Members(kind).node());
        }
    }
    changed
}

/// Components (in the old numbers) that variants and measurements have lines for, where one of all those lines says something else.
fn of_other_alternatives(old: &Design, new: &Design, moved: &Renumbered) -> impl Iterator<Item = ComponentId> {
    let same = |(before, now): (&(ComponentId, usize, Written), &(ComponentId, usize, Written))| {
        moved.component(before.0) == Some(now.0) && before.1 == now.1 && same_words(&before.2.value, &now.2.value)
    };
    let all_same = old.alternatives.len() == new.alternatives.len() && old.alternatives.iter().zip(&new.alternatives).all(same);
    let concerned: FxHashSet<ComponentId> = new.alternatives.iter().map(|(id, ..)| *id).filter(|_| !all_same).collect();
    let gone: FxHashSet<ComponentId> = old.alternatives.iter().map(|(id, ..)| *id).filter(|_| !all_same).collect();
    (0_u32..)
        .map(ComponentId)
        .take(old.components.len())
        .filter(move |id| gone.contains(id) || moved.component(*id).is_some_and(|now| concerned.contains(&now)))
}

/// Components (in the new numbers) whose header stands elsewhere though the old one is still in the text: two of one name.
fn displaced(old: &Design, new: &Design, moved: &Renumbered, gone: &FxHashSet<FileId>) -> FxHashSet<ComponentId> {
    let pairs = (0_u32..).map(ComponentId).zip(&old.components).filter_map(|(id, component)| Some((component, moved.component(id)?)));
    let elsewhere =
        |(before, now): &(&Component, ComponentId)| before.header != new.component(*now).header && !gone.contains(&before.header.file);
    pairs.filter(elsewhere).map(|(_, now)| now).collect()
}

/// Where the lines and headers stand that stood in a fragment which is gone. A line of a pattern stood for all components
/// that followed it: where it is another line for each of them now, it stands nowhere.
fn moved_places(old: &Design, new: &Design, moved: &Renumbered, gone: &FxHashSet<FileId>) -> FxHashMap<Span, Span> {
    if gone.is_empty() {
        return FxHashMap::default();
    }
    let mut places: FxHashMap<Span, Option<Span>> = FxHashMap::default();
    let mut moves = |before: Span, now: Span| {
        let place = places.entry(before).or_insert(Some(now));
        *place = place.filter(|known| *known == now);
    };
    for (at, named) in (0_u32..).zip(&old.named).filter(|(_, named)| gone.contains(&named.span.file)) {
        if let Some(NodeId(now)) = moved.node(NodeId(at))
            && let Some(now) = new.named.get(now as usize)
        {
            moves(named.span, now.span);
        }
    }
    for (id, component) in (0_u32..).map(ComponentId).zip(&old.components) {
        let Some(now) = moved.component(id).map(|id| new.component(id)) else { continue };
        if gone.contains(&component.header.file) {
            moves(component.header, now.header);
        }
        for (property, line) in component.lines().filter(|(_, line)| gone.contains(&line.span.file)) {
            if let Some(now) = now.written(property) {
                moves(line.span, now.span);
            }
        }
    }
    places.into_iter().filter_map(|(before, now)| Some((before, now?))).collect()
}

/// Whether an expression names one of these.
fn speaks_of(expr: &Expr, names: &FxHashSet<SmolStr>) -> bool {
    let mut found = false;
    expr.walk(&mut |inner| found |= matches!(&inner.node, Node::Name(name) if names.contains(name)));
    found
}

/// Whether two expressions say the same, wherever they stand.
fn same_words(a: &Expr, b: &Expr) -> bool {
    stacker::maybe_grow(64 * 1024, 1024 * 1024, || a.says_the_same(b))
}

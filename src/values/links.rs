//! The component graph: which component leads to which, and what the link carries.

use super::evaluator::Evaluator;
use super::reads::Question;
use super::value::Value;
use crate::design::{Carries, ComponentId, Design, KindId, NodeId, Type};
use petgraph::Direction;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::EdgeRef;
use rustc_hash::{FxHashMap, FxHashSet};

/// One link of the component graph.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Link {
    /// The line that makes it.
    pub node: NodeId,
    /// What it carries.
    pub carries: Carries,
}

/// A link that is due and not known: its line is missing, or wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Unknown {
    from: ComponentId,
    link: Link,
    /// The kinds that it may lead to.
    kinds: Vec<KindId>,
}

/// The component graph.
#[derive(Debug, Default)]
pub struct Links {
    graph: DiGraph<ComponentId, Link>,
    /// By the component that they start from.
    unknown: Vec<Unknown>,
    /// The places of those that may lead to a kind.
    unknown_to: FxHashMap<KindId, Vec<usize>>,
}

/// Where a load goes from a component on.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Trail {
    /// Components of a kind that the soil carries, in the order in which they are found.
    pub grounds: Vec<ComponentId>,
    /// Components from which it goes no further, though the soil does not carry them.
    pub loose_ends: Vec<ComponentId>,
    /// The lines of all links asked, in the order in which they are found.
    pub lines: Vec<NodeId>,
    /// Those of them that are missing or wrong: what lies beyond is not known.
    pub unknown: Vec<NodeId>,
    /// All components whose links were looked at.
    pub(crate) asked: Vec<ComponentId>,
    /// For each component reached, the one before it.
    came_from: FxHashMap<ComponentId, ComponentId>,
}

impl Trail {
    /// The way from the start to a component that was reached.
    #[must_use]
    pub fn path(&self, to: ComponentId) -> Vec<ComponentId> {
        let mut path = vec![to];
        let mut at = to;
        while let Some(before) = self.came_from.get(&at) {
            path.push(*before);
            at = *before;
        }
        path.reverse();
        path
    }
}

/// What a search in either direction found.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Way {
    /// The shortest way, the start first; empty if there is none.
    pub path: Vec<ComponentId>,
    /// The lines that make it, the last first; without a way all lines that were asked.
    pub lines: Vec<NodeId>,
    /// Without a way, lines that are missing or wrong and could make one.
    pub unknown: Vec<NodeId>,
    /// All components whose links were looked at.
    pub(crate) asked: Vec<ComponentId>,
}

impl Evaluator {
    /// The component graph, worked out at the first call.
    pub fn links(&self) -> &Links {
        if self.links.get().is_none() {
            let links = self.gather_all_links();
            // Another call on the way may have been first; both are the same.
            let _ = self.links.set(links);
        }
        self.links.get_or_init(Links::default)
    }

    /// Notes that the links of these components, and the lack of others, were looked at.
    pub(crate) fn ask_links(&self, components: impl IntoIterator<Item = ComponentId>) {
        for id in components {
            self.ask(Question::Links(id));
        }
    }

    pub(super) fn gather_all_links(&self) -> Links {
        let design = &self.design;
        let mut graph = DiGraph::with_capacity(design.components.len(), design.components.len());
        let mut unknown = Vec::new();
        for at in 0..design.components.len() {
            graph.add_node(ComponentId(u32::try_from(at).unwrap_or(u32::MAX)));
        }
        self.apart(|| {
            for (at, component) in (0_u32..).zip(&design.components) {
                let from = ComponentId(at);
                for (property, declared) in design.kind(component.kind).properties.iter().enumerate() {
                    let Type::Link { kinds, .. } = &declared.ty else { continue };
                    if declared.carries.is_none() {
                        continue;
                    }
                    let link = Link { node: design.node(from, property), carries: declared.carries };
                    match self.property(from, property) {
                        Ok(value) => each_component(&value, &mut |to| {
                            graph.add_edge(NodeIndex::new(from.0 as usize), NodeIndex::new(to.0 as usize), link);
                        }),
                        Err(_) => unknown.push(Unknown { from, link, kinds: kinds.clone() }),
                    }
                }
            }
        });
        Links::of(graph, unknown)
    }
}

fn each_component(value: &Value, visit: &mut dyn FnMut(ComponentId)) {
    match value {
        Value::Component(id) => visit(*id),
        Value::List(items) => items.iter().for_each(|item| each_component(item, visit)),
        _ => {}
    }
}

impl Links {
    /// A graph with its unknown links, which come in the order of their components.
    fn of(graph: DiGraph<ComponentId, Link>, unknown: Vec<Unknown>) -> Links {
        let mut unknown_to: FxHashMap<KindId, Vec<usize>> = FxHashMap::default();
        for (place, kind) in unknown.iter().enumerate().flat_map(|(place, link)| link.kinds.iter().map(move |kind| (place, *kind))) {
            unknown_to.entry(kind).or_default().push(place);
        }
        Links { graph, unknown, unknown_to }
    }

    /// The same graph in other numbers, as if it had been gathered in them; what has no new number falls out.
    pub(super) fn renumbered(
        &self,
        components: usize,
        id: &dyn Fn(ComponentId) -> Option<ComponentId>,
        node: &dyn Fn(NodeId) -> Option<NodeId>,
    ) -> Links {
        let mut graph = DiGraph::with_capacity(components, self.graph.edge_count());
        for at in 0..components {
            graph.add_node(ComponentId(u32::try_from(at).unwrap_or(u32::MAX)));
        }
        let end = |at: NodeIndex| id(ComponentId(u32::try_from(at.index()).unwrap_or(u32::MAX)));
        let edges = self.graph.raw_edges().iter();
        let moved = edges.filter_map(|edge| {
            let link = Link { node: node(edge.weight.node)?, ..edge.weight };
            Some((end(edge.source())?, end(edge.target())?, link))
        });
        let mut moved: Vec<(ComponentId, ComponentId, Link)> = moved.collect();
        moved.sort_by_key(|(from, _, link)| (*from, link.node));
        for (from, to, link) in moved {
            graph.add_edge(NodeIndex::new(from.0 as usize), NodeIndex::new(to.0 as usize), link);
        }
        let unknown = self.unknown.iter().filter_map(|unknown| {
            let link = Link { node: node(unknown.link.node)?, ..unknown.link };
            Some(Unknown { from: id(unknown.from)?, link, kinds: unknown.kinds.clone() })
        });
        let mut unknown: Vec<Unknown> = unknown.collect();
        unknown.sort_by_key(|unknown| (unknown.from, unknown.link.node));
        Links::of(graph, unknown)
    }

    /// The components whose links differ between two graphs, and whether the links that are due and not known do.
    pub(super) fn differences(&self, other: &Links) -> (Vec<ComponentId>, bool) {
        let at = |links: &Links, index: usize| {
            let mut ends: Vec<(Direction, usize, Link)> = Vec::new();
            for direction in [Direction::Outgoing, Direction::Incoming] {
                ends.extend(links.graph.edges_directed(NodeIndex::new(index), direction).map(|edge| {
                    let end = if direction == Direction::Outgoing { edge.target() } else { edge.source() };
                    (direction, end.index(), *edge.weight())
                }));
            }
            ends.sort_unstable_by_key(|(direction, end, link)| (*direction == Direction::Incoming, *end, link.node));
            ends
        };
        let count = self.graph.node_count().max(other.graph.node_count());
        let differs = |index: &usize| at(self, *index) != at(other, *index);
        let mut changed: Vec<ComponentId> =
            (0..count).filter(differs).map(|index| ComponentId(u32::try_from(index).unwrap_or(u32::MAX))).collect();
        let unknown = self.unknown != other.unknown;
        if unknown {
            changed.extend(self.unknown.iter().chain(&other.unknown).map(|unknown| unknown.from));
        }
        (changed, unknown)
    }

    /// The links that lead on from a component and carry all of `what`.
    pub fn onward(&self, from: ComponentId, what: Carries) -> impl Iterator<Item = (ComponentId, Link)> + '_ {
        self.edges(from, what, Direction::Outgoing)
    }

    /// The links that lead to a component and carry all of `what`.
    pub fn arriving(&self, at: ComponentId, what: Carries) -> impl Iterator<Item = (ComponentId, Link)> + '_ {
        self.edges(at, what, Direction::Incoming)
    }

    fn edges(&self, at: ComponentId, what: Carries, direction: Direction) -> impl Iterator<Item = (ComponentId, Link)> + '_ {
        let index = NodeIndex::new(at.0 as usize);
        let known = self.graph.node_weight(index).is_some();
        known
            .then(|| self.graph.edges_directed(index, direction))
            .into_iter()
            .flatten()
            .filter(move |edge| edge.weight().carries.holds(what))
            .filter_map(move |edge| {
                let other = if direction == Direction::Outgoing { edge.target() } else { edge.source() };
                Some((*self.graph.node_weight(other)?, *edge.weight()))
            })
    }

    /// The missing or wrong lines of a component's links that carry `what`.
    pub fn missing_from(&self, from: ComponentId, what: Carries) -> impl Iterator<Item = NodeId> + '_ {
        let first = self.unknown.partition_point(|unknown| unknown.from < from);
        let own = self.unknown.iter().skip(first).take_while(move |unknown| unknown.from == from);
        own.filter(move |unknown| unknown.link.carries.holds(what)).map(|unknown| unknown.link.node)
    }

    /// Missing or wrong lines that could be one more link to a component, a few of them if there are many.
    #[must_use]
    pub fn could_arrive(&self, design: &Design, at: ComponentId, what: Carries) -> Vec<NodeId> {
        const ENOUGH: usize = 8;
        let to_kind = self.unknown_to.get(&design.component(at).kind).into_iter().flatten();
        let unknown = to_kind.filter_map(|place| self.unknown.get(*place));
        let other = unknown.filter(|unknown| unknown.from != at && unknown.link.carries.holds(what));
        other.map(|unknown| unknown.link.node).take(ENOUGH).collect()
    }

    /// Follows what a component passes on, along every branch, down to the ground or a loose end.
    #[must_use]
    pub fn trail(&self, design: &Design, start: ComponentId, what: Carries) -> Trail {
        let mut trail = Trail::default();
        let mut seen: FxHashSet<ComponentId> = FxHashSet::from_iter([start]);
        let mut waiting = std::collections::VecDeque::from([start]);
        while let Some(at) = waiting.pop_front() {
            if design.kind_of(at).ground {
                trail.grounds.push(at);
                continue;
            }
            trail.asked.push(at);
            trail.lines.extend(link_lines(design, at, what));
            let unknown = trail.unknown.len();
            trail.unknown.extend(self.missing_from(at, what));
            let mut goes_on = trail.unknown.len() > unknown;
            let mut next: Vec<ComponentId> = self.onward(at, what).map(|(to, _)| to).collect();
            next.sort_unstable();
            for to in next {
                goes_on = true;
                if seen.insert(to) {
                    trail.came_from.insert(to, at);
                    waiting.push_back(to);
                }
            }
            if !goes_on {
                trail.loose_ends.push(at);
            }
        }
        // Round and round without ever reaching anything is a loose end too.
        if trail.grounds.is_empty() && trail.loose_ends.is_empty() && trail.unknown.is_empty() {
            trail.loose_ends.push(start);
        }
        trail
    }

    /// The shortest way from a component to one that `to` looks for, over links that carry `what`, in either direction.
    #[must_use]
    pub fn way(&self, design: &Design, from: ComponentId, to: impl Fn(ComponentId) -> bool, what: Carries) -> Way {
        let spread = self.spread(from, |id| id != from && to(id), what);
        let Some(at) = spread.found else {
            let asked = spread.order.iter().flat_map(|id| link_lines(design, *id, what)).collect();
            let unknown = self.could_lead_on(design, &spread, &to, what);
            return Way { path: Vec::new(), lines: asked, unknown, asked: spread.order };
        };
        let (mut path, mut lines) = (vec![at], Vec::new());
        let mut step = at;
        while let Some((before, link)) = spread.came_from.get(&step) {
            path.push(*before);
            lines.push(link.node);
            step = *before;
        }
        path.reverse();
        lines.dedup();
        Way { path, lines, unknown: Vec::new(), asked: spread.order }
    }

    /// Goes on over links that carry `what`, in either direction, until one is found.
    fn spread(&self, from: ComponentId, found: impl Fn(ComponentId) -> bool, what: Carries) -> Spread {
        let mut spread = Spread { order: vec![from], ..Spread::default() };
        let mut seen: FxHashSet<ComponentId> = FxHashSet::from_iter([from]);
        let mut next_up = 0;
        while let Some(at) = spread.order.get(next_up).copied() {
            next_up += 1;
            if found(at) {
                spread.found = Some(at);
                break;
            }
            let mut next: Vec<(ComponentId, Link)> = self.onward(at, what).chain(self.arriving(at, what)).collect();
            next.sort_unstable_by_key(|(to, _)| *to);
            for (to, link) in next {
                if seen.insert(to) {
                    spread.came_from.insert(to, (at, link));
                    spread.order.push(to);
                }
            }
        }
        spread
    }

    /// The missing or wrong lines that could join what was reached with what is looked for.
    fn could_lead_on(&self, design: &Design, reached: &Spread, to: &impl Fn(ComponentId) -> bool, what: Carries) -> Vec<NodeId> {
        let members: FxHashSet<ComponentId> = reached.order.iter().copied().collect();
        let kinds: FxHashSet<KindId> = reached.order.iter().map(|id| design.component(*id).kind).collect();
        let due = || self.unknown.iter().filter(|unknown| unknown.link.carries.holds(what));
        let comes_in = |unknown: &Unknown| {
            // Another component could touch this one; that matters if the building lies behind it.
            unknown.kinds.iter().any(|kind| kinds.contains(kind))
                && (self.missing_from(unknown.from, what).count() > 1 || self.spread(unknown.from, to, what).found.is_some())
        };
        due().filter(|unknown| members.contains(&unknown.from) || comes_in(unknown)).map(|unknown| unknown.link.node).collect()
    }
}

/// What was reached on the way.
#[derive(Debug, Default)]
struct Spread {
    /// All components in the order in which they were reached, the start first.
    order: Vec<ComponentId>,
    /// For each the one before it, and the link.
    came_from: FxHashMap<ComponentId, (ComponentId, Link)>,
    /// The one that was looked for.
    found: Option<ComponentId>,
}

/// The lines of a component's links that carry `what`.
fn link_lines(design: &Design, id: ComponentId, what: Carries) -> impl Iterator<Item = NodeId> + '_ {
    let properties = design.kind_of(id).properties.iter().enumerate();
    properties
        .filter(move |(_, declared)| matches!(declared.ty, Type::Link { .. }) && declared.carries.holds(what))
        .map(move |(property, _)| design.node(id, property))
}

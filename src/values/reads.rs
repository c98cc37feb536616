//! Which value was worked out from which others, and from what else of the design: the graph behind
//! "how", worst cases, and working out again only what an edit touches.
//!
//! A node of the graph is a value ([`NodeId`] as the design numbers them) or one of the few questions
//! about the design as a whole that a value can depend on ([`Question`]): which components of a kind
//! there are, which of them lead somewhere, how a component is linked.

use crate::design::{ComponentId, KindId, NodeId};
use rustc_hash::{FxHashMap, FxHashSet};
use std::cell::RefCell;
use std::sync::Arc;

/// Above this a node is a question.
const QUESTION: u32 = 0x8000_0000;
const SORT: u32 = 0x7000_0000;
const NUMBER: u32 = 0x0FFF_FFFF;

/// A question about the design as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Question {
    /// Which components of a kind there are.
    Members(KindId),
    /// Which links start or end at a component.
    Links(ComponentId),
    /// Which links are due and not known.
    UnknownLinks,
    /// What a component is called.
    Title(ComponentId),
    /// Which lines of a component are written.
    Written(ComponentId),
    /// Which components have a value in an indexed property: a number that the index gave out.
    Bucket(u32),
}

impl Question {
    /// The question as a node of the graph.
    pub(super) fn node(self) -> NodeId {
        let (sort, number) = match self {
            Question::Members(kind) => (0, kind.0),
            Question::Links(id) => (1, id.0),
            Question::UnknownLinks => (2, 0),
            Question::Title(id) => (3, id.0),
            Question::Bucket(number) => (4, number),
            Question::Written(id) => (5, id.0),
        };
        NodeId(QUESTION | (sort << 28) | (number & NUMBER))
    }

    /// The question that a node stands for; nothing if it is a value.
    pub(super) fn of(node: NodeId) -> Option<Question> {
        if node.0 & QUESTION == 0 {
            return None;
        }
        let number = node.0 & NUMBER;
        Some(match (node.0 & SORT) >> 28 {
            0 => Question::Members(KindId(number)),
            1 => Question::Links(ComponentId(number)),
            2 => Question::UnknownLinks,
            3 => Question::Title(ComponentId(number)),
            4 => Question::Bucket(number),
            _ => Question::Written(ComponentId(number)),
        })
    }
}

/// Whether a node is a value and not a question.
pub(super) fn is_value(node: NodeId) -> bool {
    node.0 & QUESTION == 0
}

/// Marks on values that are taken away all at once: a check looks at few of many thousand values.
#[derive(Debug, Default)]
struct Seen {
    round: u32,
    marks: Vec<u32>,
}

impl Seen {
    /// Takes all marks away, with room for so many values.
    fn clear(&mut self, values: usize) {
        self.round = self.round.wrapping_add(1);
        if self.round == 0 || self.marks.len() != values {
            *self = Seen { round: 1, marks: vec![0; values] };
        }
    }

    /// Marks a value; whether it was not marked yet.
    fn mark(&mut self, node: NodeId) -> bool {
        let round = self.round;
        self.marks.get_mut(node.0 as usize).is_some_and(|mark| std::mem::replace(mark, round) != round)
    }
}

/// Who read each value: lists in one row, since nine of ten values have no reader, one or two.
#[derive(Debug, Default)]
struct Readers {
    /// The first and the last place of each value's list.
    ends: Vec<(u32, u32)>,
    places: Vec<Place>,
}

/// A place in a list of readers.
#[derive(Debug)]
struct Place {
    reader: NodeId,
    next: u32,
}

impl Readers {
    /// No place.
    const NONE: u32 = u32::MAX;

    fn new(values: usize) -> Readers {
        Readers { ends: vec![(Self::NONE, Self::NONE); values], places: Vec::new() }
    }

    fn push(&mut self, read: NodeId, reader: NodeId) {
        let (Some(ends), Ok(place)) = (self.ends.get_mut(read.0 as usize), u32::try_from(self.places.len())) else { return };
        match self.places.get_mut(ends.1 as usize) {
            Some(last) => last.next = place,
            None => ends.0 = place,
        }
        ends.1 = place;
        self.places.push(Place { reader, next: Self::NONE });
    }

    /// The readers of a value in the order in which they were noted.
    fn of(&self, read: NodeId) -> impl Iterator<Item = NodeId> + '_ {
        let first = self.ends.get(read.0 as usize).map_or(Self::NONE, |ends| ends.0);
        let at = |place: u32| self.places.get(place as usize);
        std::iter::successors(at(first), move |place| at(place.next)).map(|place| place.reader)
    }
}

/// The graph of reads.
#[derive(Debug, Default)]
pub(super) struct Reads {
    /// What each value was worked out from, in the order of reading, each once; questions left out.
    from: Vec<Option<Arc<[NodeId]>>>,
    /// What was read or asked besides: the questions, and where a worst case was tried another branch of an `if`.
    besides: FxHashSet<(NodeId, NodeId)>,
    /// Of those the values, by who read them.
    elsewhere: FxHashMap<NodeId, Vec<NodeId>>,
    /// Who was found to read one of those, in the order in which it was found.
    reads_more: Vec<NodeId>,
    /// Who read a value; may name some who read it once and do so no longer.
    by: Readers,
    /// Who asked a question; likewise.
    asked_by: FxHashMap<NodeId, Vec<NodeId>>,
    /// Which values have been seen in this round of looking down.
    seen: RefCell<Seen>,
    /// The values that read others, each after those that it read; one that was worked out again stands again at the end.
    order: Vec<NodeId>,
}

impl Reads {
    pub(super) fn new(nodes: usize) -> Reads {
        Reads { from: vec![None; nodes], by: Readers::new(nodes), ..Reads::default() }
    }

    /// Notes from what a value was worked out.
    pub(super) fn note(&mut self, node: NodeId, reads: &[NodeId]) {
        let mut once: Vec<NodeId> = reads.iter().copied().filter(|read| is_value(*read)).collect();
        self.keep_first(&mut once);
        let once: Arc<[NodeId]> = once.into();
        let before = self.from.get_mut(node.0 as usize).and_then(Option::take);
        for read in once.iter().filter(|read| !before.as_ref().is_some_and(|before| before.contains(read))) {
            self.link(*read, node);
        }
        for question in reads.iter().copied().filter(|read| !is_value(*read)) {
            self.note_besides(node, question);
        }
        if reads.is_empty() {
            return;
        }
        if let Some(from) = self.from.get_mut(node.0 as usize) {
            *from = Some(once);
        }
        self.order.push(node);
    }

    /// Notes that a value reads another in some worst case.
    pub(super) fn note_besides(&mut self, node: NodeId, read: NodeId) {
        let known = self.from.get(node.0 as usize).and_then(Option::as_ref).is_some_and(|from| from.contains(&read));
        if !known && self.besides.insert((node, read)) {
            self.link(read, node);
            if is_value(read) {
                self.elsewhere.entry(node).or_default().push(read);
                self.reads_more.push(node);
            }
        }
    }

    /// Notes what a value read in some worst case, in the order of reading: mostly what it reads in the design.
    pub(super) fn note_all_besides(&mut self, node: NodeId, reads: &[NodeId]) {
        let from = self.from(node);
        let mut at = 0;
        for read in reads {
            if from.get(at) == Some(read) {
                at += 1;
            } else {
                self.note_besides(node, *read);
            }
        }
    }

    fn link(&mut self, read: NodeId, by: NodeId) {
        if is_value(read) {
            self.by.push(read, by);
        } else {
            self.asked_by.entry(read).or_default().push(by);
        }
    }

    /// What a value was worked out from, questions left out.
    pub(super) fn from(&self, node: NodeId) -> Arc<[NodeId]> {
        self.from.get(node.0 as usize).and_then(Clone::clone).unwrap_or_else(|| Arc::new([]))
    }

    /// As [`Reads::from`], to look at.
    pub(super) fn reads(&self, node: NodeId) -> &[NodeId] {
        self.from.get(node.0 as usize).and_then(Option::as_deref).unwrap_or_default()
    }

    /// These values and all that they stand on, each once, nearest first.
    pub(super) fn below(&self, nodes: &[NodeId]) -> Vec<NodeId> {
        self.all_below(nodes, |_| &[])
    }

    /// As [`Reads::below`], also where a worst case was tried.
    pub(super) fn below_at_worst(&self, nodes: &[NodeId]) -> Vec<NodeId> {
        self.all_below(nodes, |node| self.elsewhere.get(&node).map(Vec::as_slice).unwrap_or_default())
    }

    /// `more` says what a value reads besides.
    fn all_below<'g>(&'g self, nodes: &[NodeId], more: impl Fn(NodeId) -> &'g [NodeId]) -> Vec<NodeId> {
        let mut seen = self.seen.borrow_mut();
        seen.clear(self.from.len());
        let mut found: Vec<NodeId> = nodes.iter().copied().filter(|node| seen.mark(*node)).collect();
        let mut at = 0;
        while let Some(node) = found.get(at).copied() {
            at += 1;
            found.extend(self.reads(node).iter().chain(more(node)).copied().filter(|read| seen.mark(*read)));
        }
        found
    }

    /// These values and all that they stand on, also in some worst case.
    pub(super) fn reached(&self, nodes: impl Iterator<Item = NodeId>) -> FxHashSet<NodeId> {
        let mut found: FxHashSet<NodeId> = FxHashSet::default();
        let mut waiting: Vec<NodeId> = nodes.filter(|node| is_value(*node)).collect();
        while let Some(node) = waiting.pop() {
            if found.insert(node) {
                let below = self.from.get(node.0 as usize).and_then(Option::as_ref);
                waiting.extend(below.iter().flat_map(|below| below.iter()));
                waiting.extend(self.elsewhere.get(&node).into_iter().flatten());
            }
        }
        found
    }

    /// Leaves each value and question only where it stands first.
    pub(super) fn keep_first(&self, nodes: &mut Vec<NodeId>) {
        let mut seen = self.seen.borrow_mut();
        seen.clear(self.from.len());
        let mut questions = FxHashSet::default();
        nodes.retain(|node| if is_value(*node) { seen.mark(*node) } else { questions.insert(*node) });
    }

    /// Whether one of these values is that one or stands on it; looks at the nearest first.
    pub(super) fn stands_on(&self, nodes: &[NodeId], wanted: NodeId) -> bool {
        let mut seen = self.seen.borrow_mut();
        seen.clear(self.from.len());
        let mut found: Vec<NodeId> = nodes.iter().copied().filter(|node| seen.mark(*node)).collect();
        let mut at = 0;
        while let Some(node) = found.get(at).copied() {
            if node == wanted || self.reads(node).contains(&wanted) {
                return true;
            }
            at += 1;
            found.extend(self.reads(node).iter().copied().filter(|read| seen.mark(*read)));
        }
        false
    }

    /// Leaves of the order only what still counts: each value once, where it was worked out last, none of `forgotten`.
    pub(super) fn settle_order(&mut self, forgotten: &FxHashSet<NodeId>) {
        if forgotten.is_empty() {
            return;
        }
        let mut seen = FxHashSet::default();
        let mut order: Vec<NodeId> = std::mem::take(&mut self.order);
        order.reverse();
        order.retain(|node| !forgotten.contains(node) && seen.insert(*node));
        order.reverse();
        self.order = order;
    }

    /// The values that were worked out from a node, directly.
    pub(super) fn by(&self, node: NodeId) -> impl Iterator<Item = NodeId> + '_ {
        let askers = if is_value(node) { None } else { self.asked_by.get(&node) };
        self.by.of(node).chain(askers.into_iter().flatten().copied())
    }

    /// What a value was found to read at that place, as it is written or in some worst case.
    pub(super) fn read_anywhere(&self, node: NodeId, at: usize) -> Option<NodeId> {
        let reads = self.reads(node);
        let elsewhere = || self.elsewhere.get(&node)?.get(at.checked_sub(reads.len())?);
        reads.get(at).or_else(elsewhere).copied()
    }

    /// The values that read others and were worked out since there were so many of them.
    pub(super) fn worked_out_since(&self, before: usize) -> &[NodeId] {
        self.order.get(before..).unwrap_or_default()
    }

    /// The values that were found to read more in some worst case, since there were so many of them.
    pub(super) fn found_to_read_more(&self, before: usize) -> &[NodeId] {
        self.reads_more.get(before..).unwrap_or_default()
    }

    /// Touches everything that was worked out from `nodes`, and the nodes themselves; `touch` says whether one is new.
    pub(super) fn spread(&self, nodes: impl IntoIterator<Item = NodeId>, touch: &mut impl FnMut(NodeId) -> bool) {
        let mut waiting: Vec<NodeId> = nodes.into_iter().filter(|node| touch(*node)).collect();
        while let Some(node) = waiting.pop() {
            waiting.extend(self.by(node).filter(|reader| touch(*reader)));
        }
    }

    /// The same graph in other numbers; what has no new number falls out.
    ///
    /// It is changed where it stands: it holds several places for each line of a design.
    pub(super) fn renumbered(self, nodes: usize, new: &dyn Fn(NodeId) -> Option<NodeId>) -> Reads {
        let renumber = |list: &mut Vec<NodeId>| list.retain_mut(|node| new(*node).map(|now| *node = now).is_some());
        let mut graph = Reads::new(nodes);
        graph.order = self.order;
        renumber(&mut graph.order);
        for (at, from) in (0_u32..).map(NodeId).zip(self.from) {
            let (Some(node), Some(mut from)) = (new(at), from) else { continue };
            match Arc::get_mut(&mut from).filter(|reads| reads.iter().all(|read| new(*read).is_some())) {
                Some(reads) => reads.iter_mut().for_each(|read| *read = new(*read).unwrap_or(*read)),
                None => from = from.iter().filter_map(|read| new(*read)).collect(),
            }
            if let Some(place) = graph.from.get_mut(node.0 as usize) {
                *place = Some(from);
            }
        }
        let readers = |mut readers: Vec<NodeId>| {
            renumber(&mut readers);
            readers.sort_unstable();
            readers.dedup();
            readers
        };
        for at in (0_u32..).map(NodeId).take(self.by.ends.len()) {
            if let Some(node) = new(at) {
                readers(self.by.of(at).collect()).into_iter().for_each(|reader| graph.by.push(node, reader));
            }
        }
        graph.asked_by = self.asked_by.into_iter().filter_map(|(question, by)| Some((new(question)?, readers(by)))).collect();
        let elsewhere = |(node, mut reads): (NodeId, Vec<NodeId>)| {
            renumber(&mut reads);
            Some((new(node)?, reads))
        };
        graph.elsewhere = self.elsewhere.into_iter().filter_map(elsewhere).collect();
        graph.besides = self.besides.into_iter().filter_map(|(node, read)| Some((new(node)?, new(read)?))).collect();
        graph
    }
}

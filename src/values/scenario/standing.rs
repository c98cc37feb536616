//! How each value stands in a scenario: apart from what is replaced, or on it, and then what it has come to.
//!
//! By the number of the node, in pages: a scenario touches few of the values of a large design, and most of those together.

use crate::design::NodeId;
use crate::values::Outcome;

/// So many values a page.
const PAGE: usize = 64;

/// How a value stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Standing {
    /// Nobody has asked yet.
    #[default]
    Unasked,
    /// It stands on nothing that is replaced.
    Apart,
    /// It is being worked out.
    Working,
    /// All that it stands on has come to what it is in the design: so has it.
    Same,
    /// What it has come to instead, and whether that is what it is in the design all the same.
    Other { at: u32, same: bool },
}

/// The standings of all values.
#[derive(Debug, Default)]
pub(super) struct Standings {
    /// For each page of values its number and one more, 0 where all are apart.
    numbers: Vec<u32>,
    pages: Vec<[Standing; PAGE]>,
    outcomes: Vec<Outcome>,
}

impl Standings {
    pub(super) fn of(&self, node: NodeId) -> Standing {
        let (page, at) = place(node);
        let number = self.numbers.get(page).copied().unwrap_or(0) as usize;
        let page = number.checked_sub(1).and_then(|number| self.pages.get(number));
        page.and_then(|page| page.get(at)).copied().unwrap_or_default()
    }

    fn put(&mut self, node: NodeId, standing: Standing) {
        let (page, at) = place(node);
        if page >= self.numbers.len() {
            self.numbers.resize(page + 1, 0);
        }
        let Some(number) = self.numbers.get_mut(page) else { return };
        if *number == 0 {
            self.pages.push([Standing::Unasked; PAGE]);
            *number = u32::try_from(self.pages.len()).unwrap_or(0);
        }
        let page = (*number as usize).checked_sub(1).and_then(|number| self.pages.get_mut(number));
        if let Some(place) = page.and_then(|page| page.get_mut(at)) {
            *place = standing;
        }
    }

    /// Notes that a value stands on nothing that is replaced.
    pub(super) fn is_apart(&mut self, node: NodeId) -> Standing {
        self.put(node, Standing::Apart);
        Standing::Apart
    }

    pub(super) fn work_on(&mut self, node: NodeId) {
        self.put(node, Standing::Working);
    }

    /// Notes that a value is what it is in the design.
    pub(super) fn is_same(&mut self, node: NodeId) -> Standing {
        self.put(node, Standing::Same);
        Standing::Same
    }

    /// Notes what a value has come to.
    pub(super) fn settle(&mut self, node: NodeId, outcome: Outcome, same: bool) -> Standing {
        let standing = u32::try_from(self.outcomes.len()).map_or(Standing::Unasked, |at| Standing::Other { at, same });
        self.outcomes.push(outcome);
        self.put(node, standing);
        standing
    }

    pub(super) fn outcome(&self, at: u32) -> Option<&Outcome> {
        self.outcomes.get(at as usize)
    }
}

fn place(node: NodeId) -> (usize, usize) {
    (node.0 as usize / PAGE, node.0 as usize % PAGE)
}

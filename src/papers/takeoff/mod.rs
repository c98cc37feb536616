//! What to buy for a design.
//!
//! In: a session and its papers. Out: a [`Takeoff`]: lines in groups, lumber with a list of cuts that wastes least, and
//! what is not known with the line that would say it. It must not know what is bought for what: that stands in the papers.

mod gather;
mod lumber;

pub use lumber::{Bars, Cut, Cutting};

use crate::design::{Paper, PaperSort};
use crate::papers::row::rows;
use crate::papers::unknown::Unknown;
use crate::session::Session;
use crate::values::Measure;
use smol_str::SmolStr;

/// Everything to buy.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Takeoff {
    /// In the order of the papers.
    pub groups: Vec<Group>,
    /// What has to be bought too, and is not known.
    pub unknown: Vec<Unknown>,
}

/// Things that are bought at one counter.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// "Timber".
    pub name: SmolStr,
    /// What to buy there.
    pub lines: Vec<Purchase>,
}

/// One thing to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct Purchase {
    /// What to ask for.
    pub item: SmolStr,
    /// How much of it.
    pub number: Number,
    /// What each part of it is for.
    pub uses: Vec<Use>,
    /// How to cut it, if it is cut.
    pub cutting: Option<Cutting>,
    /// For one piece, package or unit of what is bought, in the money of the design.
    pub price: Option<Measure>,
    /// Of all of it.
    pub cost: Option<f64>,
    /// What else to know.
    pub notes: Vec<SmolStr>,
    /// On whose word.
    pub sources: Vec<SmolStr>,
    /// What may go wrong.
    pub cautions: Vec<SmolStr>,
}

/// How much to buy.
#[derive(Debug, Clone, PartialEq)]
pub enum Number {
    /// So many pieces.
    Pieces(u64),
    /// A length, an area, a volume.
    Amount(Measure),
    /// Packages, for an amount.
    Packs {
        /// How many.
        count: u64,
        /// What one holds.
        pack: Measure,
        /// What it is called: "25 kg bag".
        packed_in: SmolStr,
        /// What is needed, spare counted.
        amount: Measure,
    },
    /// Lengths as they are sold, each with how many.
    Lengths(Vec<(u64, Measure)>),
}

/// A part of what is bought.
#[derive(Debug, Clone, PartialEq)]
pub struct Use {
    /// For which component.
    pub of: SmolStr,
    /// How many.
    pub count: u64,
    /// How long or how much each is.
    pub each: Option<Measure>,
}

impl Takeoff {
    /// What the lines with a price cost together, and how many lines have none.
    #[must_use]
    pub fn cost(&self) -> (f64, usize) {
        let lines = || self.groups.iter().flat_map(|group| &group.lines);
        (lines().filter_map(|line| line.cost).sum(), lines().filter(|line| line.cost.is_none()).count())
    }
}

/// What to buy for a design.
#[must_use]
pub fn of(session: &Session, papers: &[Paper]) -> Takeoff {
    let rows = rows(&session.evaluator, papers, PaperSort::Purchase);
    gather::gather(&session.evaluator, &rows)
}

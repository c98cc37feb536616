//! Lumber and bars: which lengths to buy, and what each is cut into.

use crate::calc::cutting::{Pieces, cut_list};
use crate::units::Dim;
use crate::values::{Measure, Quantity};
use smol_str::SmolStr;

/// How one section is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutting {
    /// Bars that are cut alike, together.
    pub bars: Vec<Bars>,
    /// Width of the saw cut.
    pub saw_cut: Measure,
    /// Length of all bars.
    pub bought: Measure,
    /// Nobody can come out with less.
    pub bound: Measure,
    /// Whether less cannot be bought: it is proven.
    pub proven: bool,
    /// Part of what is bought that is left over or sawn away.
    pub waste: f64,
    /// Pieces longer than anything that is sold: they have to be joined over a support, or ordered.
    pub too_long: Vec<Cut>,
}

/// Bars that are cut alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Bars {
    /// How many.
    pub times: u64,
    /// Length as bought.
    pub length: Measure,
    /// What each is cut into, the longest first.
    pub cuts: Vec<Cut>,
    /// What is left of each.
    pub left: Measure,
}

/// Pieces of one length.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// How many from each bar.
    pub times: u64,
    /// How long.
    pub length: Measure,
    /// For which components, over all bars that are cut so.
    pub of: Vec<SmolStr>,
}

/// Pieces that a component needs.
pub(super) struct Wanted {
    pub of: SmolStr,
    pub length: Quantity,
    pub count: u64,
}

impl Cutting {
    /// The lengths to buy, each with how many.
    pub(super) fn lengths(&self) -> Vec<(u64, Measure)> {
        let mut lengths: Vec<(u64, Measure)> = Vec::new();
        for bars in &self.bars {
            match lengths.iter_mut().find(|(_, length)| *length == bars.length) {
                Some((times, _)) => *times += bars.times,
                None => lengths.push((bars.times, bars.length.clone())),
            }
        }
        lengths.extend(self.too_long.iter().map(|cut| (cut.times, cut.length.clone())));
        lengths
    }
}

/// `None` where a length is none.
pub(super) fn cut(wanted: &[Wanted], stock: &[Quantity], saw_cut: &Quantity, measure: &dyn Fn(Quantity) -> Measure) -> Option<Cutting> {
    let longest = stock.iter().map(|length| length.si).fold(0.0, f64::max);
    let unit = stock.first()?.unit.clone();
    let like_stock = |si: f64| measure(Quantity { si, dim: Dim::LENGTH, unit: unit.clone() });
    let fits = |one: &&Wanted| one.length.si <= longest + 1e-6;
    let (short, long): (Vec<&Wanted>, Vec<&Wanted>) = wanted.iter().partition(fits);
    let pieces: Option<Vec<Pieces>> =
        short.iter().map(|one| Some(Pieces { length: one.length.si.min(longest), count: usize::try_from(one.count).ok()? })).collect();
    let sold: Vec<f64> = stock.iter().map(|length| length.si).collect();
    let list = cut_list(&pieces?, &sold, saw_cut.si).ok()?;
    let mut bars: Vec<Bars> = Vec::new();
    for bar in &list.bars {
        let mut cuts: Vec<Cut> = Vec::new();
        for one in bar.cuts.iter().filter_map(|place| short.get(*place)) {
            add(&mut cuts, one, 1, measure);
        }
        let length =
            stock.iter().find(|length| (length.si - bar.length).abs() < 1e-4).cloned().map_or_else(|| like_stock(bar.length), measure);
        match bars.iter_mut().find(|known| known.length == length && same_cuts(&known.cuts, &cuts)) {
            Some(known) => {
                known.times += 1;
                for (known, cut) in known.cuts.iter_mut().zip(cuts) {
                    known.of.extend(cut.of);
                }
            }
            None => bars.push(Bars { times: 1, length, cuts, left: like_stock(bar.left) }),
        }
    }
    for cut in bars.iter_mut().flat_map(|bars| &mut bars.cuts) {
        cut.of.dedup();
    }
    let mut too_long: Vec<Cut> = Vec::new();
    for one in long {
        add(&mut too_long, one, one.count, measure);
    }
    let needed: f64 = short.iter().map(|one| one.length.si * one.count as f64).sum();
    let extra: f64 = too_long.iter().map(|cut| cut.length.quantity.si * cut.times as f64).sum();
    Some(Cutting {
        waste: if list.bought > 0.0 { (1.0 - needed / list.bought).max(0.0) } else { 0.0 },
        proven: list.is_least(),
        bought: like_stock(list.bought + extra),
        bound: like_stock(list.bound + extra),
        saw_cut: measure(saw_cut.clone()),
        bars,
        too_long,
    })
}

fn add(cuts: &mut Vec<Cut>, one: &Wanted, times: u64, measure: &dyn Fn(Quantity) -> Measure) {
    match cuts.iter_mut().find(|cut| (cut.length.quantity.si - one.length.si).abs() < 1e-5) {
        Some(cut) => {
            cut.times += times;
            if cut.of.last() != Some(&one.of) {
                cut.of.push(one.of.clone());
            }
        }
        None => cuts.push(Cut { times, length: measure(one.length.clone()), of: vec![one.of.clone()] }),
    }
}

fn same_cuts(one: &[Cut], other: &[Cut]) -> bool {
    one.len() == other.len() && one.iter().zip(other).all(|(a, b)| a.times == b.times && a.length.text == b.length.text)
}

//! Lumber and bars: which lengths to buy, and what each is cut into.

use crate::calc::cutting::{Pieces, cut_list};
use crate::rules::Measure;
use crate::units::Dim;
use crate::values::Quantity;
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

/// One piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// For which component.
    pub of: SmolStr,
    /// How long.
    pub length: Measure,
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
        for cut in &self.too_long {
            lengths.push((1, cut.length.clone()));
        }
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
    let piece = |one: &Wanted| Cut { of: one.of.clone(), length: measure(one.length.clone()) };
    let pieces: Option<Vec<Pieces>> =
        short.iter().map(|one| Some(Pieces { length: one.length.si.min(longest), count: usize::try_from(one.count).ok()? })).collect();
    let sold: Vec<f64> = stock.iter().map(|length| length.si).collect();
    let list = cut_list(&pieces?, &sold, saw_cut.si).ok()?;
    let mut bars: Vec<Bars> = Vec::new();
    for bar in &list.bars {
        let cuts: Vec<Cut> = bar.cuts.iter().filter_map(|place| short.get(*place)).map(|one| piece(one)).collect();
        let length =
            stock.iter().find(|length| (length.si - bar.length).abs() < 1e-4).cloned().map_or_else(|| like_stock(bar.length), measure);
        match bars.iter_mut().find(|known| known.cuts == cuts && known.length == length) {
            Some(known) => known.times += 1,
            None => bars.push(Bars { times: 1, length, cuts, left: like_stock(bar.left) }),
        }
    }
    let needed: f64 = short.iter().map(|one| one.length.si * one.count as f64).sum();
    let too_long: Vec<Cut> = long.iter().flat_map(|one| (0..one.count).map(|_| piece(one))).collect();
    let extra: f64 = too_long.iter().map(|cut| cut.length.quantity.si).sum();
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

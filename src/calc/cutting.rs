//! The cutting-stock problem: pieces cut from the lengths that are sold, so that the least is bought.
//!
//! In: lengths and numbers (m), the width of the saw cut. Out: what each bar is cut into, how much is bought, and a
//! bound below which nobody can come. It must not know what the pieces are for.
//!
//! Every way of filling a bar is a column of an integer program (Gilmore and Gomory 1961); a solver finds how often each
//! is cut. Where there are too many ways, or the proof takes too long, the best that was found is given with the bound.

use crate::calc::FormulaError;
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOptions, Variable};
use std::collections::HashMap;

/// Lengths are counted in hundredths of a millimetre: no saw is finer, and sums are exact.
const UNITS_PER_METRE: f64 = 1e5;
/// More ways of filling a bar than this are not gone through.
const MOST_PATTERNS: usize = 6_000;
/// More nodes of the search than this take longer than anybody waits for a list.
const MOST_NODES: u64 = 2_000;
/// Pieces for which the list is worked out at all.
const MOST_PIECES: usize = 20_000;

/// Pieces of one length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pieces {
    /// Length of each, m.
    pub length: f64,
    /// How many.
    pub count: usize,
}

/// One bar as it is bought, and what is cut from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Its length, m.
    pub length: f64,
    /// The pieces by their number in what was asked for, the longest first.
    pub cuts: Vec<usize>,
    /// What is left of it, m.
    pub left: f64,
}

/// What to buy and how to cut it.
#[derive(Debug, Clone, PartialEq)]
pub struct CutList {
    /// The bars, the longest first.
    pub bars: Vec<Bar>,
    /// Length of all of them, m.
    pub bought: f64,
    /// Nobody can come out with less, m.
    pub bound: f64,
}

impl CutList {
    /// Whether less cannot be bought.
    #[must_use]
    pub fn is_least(&self) -> bool {
        self.bought <= self.bound + 0.5 / UNITS_PER_METRE
    }
}

/// Cuts pieces from stock lengths (m) with a saw that takes `kerf` (m) at each cut; the total length bought is least.
///
/// A bar of length L with cuts of width k holds what a bar of L + k holds of pieces that are longer by k: between two pieces
/// there is one cut, and none at the end of a bar that is used up.
///
/// # Errors
/// A length that is not above zero, a piece that is longer than the longest bar, or too many pieces.
///
/// Source: Gilmore and Gomory, A Linear Programming Approach to the Cutting-Stock Problem, Operations Research 9 (1961).
pub fn cut_list(pieces: &[Pieces], stock: &[f64], kerf: f64) -> Result<CutList, FormulaError> {
    let cutting = Cutting::of(pieces, stock, kerf)?;
    let mut best = cutting.fitted();
    let mut bound = cutting.length_bound();
    if cutting.cost(&best) > bound
        && let Some(patterns) = cutting.patterns()
        && let Some((found, least)) = cutting.solved(&patterns, &best)
    {
        bound = bound.max(least);
        if cutting.cost(&found) < cutting.cost(&best) {
            best = found;
        }
    }
    Ok(cutting.list(best, bound))
}

/// A way to fill a bar: its place among the stock lengths, and how many of each piece.
type Pattern = (usize, Vec<usize>);

/// The task in whole units: distinct pieces from the longest down, stock lengths from the shortest up, the kerf added.
struct Cutting<'a> {
    asked: &'a [Pieces],
    /// Places in `asked`, by length.
    places: Vec<Vec<usize>>,
    lengths: Vec<u64>,
    counts: Vec<usize>,
    stock: Vec<u64>,
    kerf: u64,
    /// Costs are whole multiples of this: the bound can be raised to the next.
    step: u64,
}

impl<'a> Cutting<'a> {
    fn of(asked: &'a [Pieces], stock: &[f64], kerf: f64) -> Result<Cutting<'a>, FormulaError> {
        let kerf = units(kerf).ok_or_else(|| FormulaError::domain("the width of the saw cut", "zero or more"))?;
        let above_zero = |length: f64, what: &'static str| match units(length) {
            Some(units) if units > 0 => Ok(units + kerf),
            _ => Err(FormulaError::domain(what, "above zero")),
        };
        let mut sold = Vec::with_capacity(stock.len());
        for length in stock {
            sold.push(above_zero(*length, "each length that is sold")?);
        }
        sold.sort_unstable();
        sold.dedup();
        let mut by_length: std::collections::BTreeMap<u64, Vec<usize>> = std::collections::BTreeMap::new();
        for (place, piece) in asked.iter().enumerate().filter(|(_, piece)| piece.count > 0) {
            by_length.entry(above_zero(piece.length, "the length of each piece")?).or_default().push(place);
        }
        let longest = sold.last().copied().ok_or_else(|| FormulaError::domain("the lengths that are sold", "at least one"))?;
        if by_length.last_key_value().is_some_and(|(length, _)| *length > longest) {
            return Err(FormulaError::domain("the longest piece", "no longer than the longest length that is sold"));
        }
        let (lengths, places): (Vec<u64>, Vec<Vec<usize>>) = by_length.into_iter().rev().unzip();
        let count = |places: &Vec<usize>| places.iter().filter_map(|place| asked.get(*place)).map(|piece| piece.count).sum();
        let counts: Vec<usize> = places.iter().map(count).collect();
        if counts.iter().sum::<usize>() > MOST_PIECES {
            return Err(FormulaError::domain("the number of pieces", "20,000 at the most"));
        }
        let step = sold.iter().fold(0, |step, length| gcd(step, length - kerf)).max(1);
        Ok(Cutting { asked, places, lengths, counts, stock: sold, kerf, step })
    }

    /// What a bar costs: its length as it is bought.
    fn price(&self, stock: usize) -> u64 {
        self.stock.get(stock).map_or(0, |length| length - self.kerf)
    }

    fn cost(&self, bars: &[Pattern]) -> u64 {
        bars.iter().map(|(stock, _)| self.price(*stock)).sum()
    }

    fn used(&self, cuts: &[usize]) -> u64 {
        cuts.iter().zip(&self.lengths).map(|(count, length)| *count as u64 * length).sum()
    }

    /// No list can buy less than what the pieces and their cuts take up; the last cut of each bar may fall beyond its end.
    fn length_bound(&self) -> u64 {
        let pieces = self.used(&self.counts);
        // Of each bar length, at best, L of L + k are paid for.
        let share = |length: &u64| (*length - self.kerf) as f64 / *length as f64;
        let best = self.stock.iter().map(share).fold(1.0, f64::min);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a sum of lengths")]
        let least = (pieces as f64 * best - 1e-6).max(0.0).ceil() as u64;
        least.div_ceil(self.step) * self.step
    }

    /// The longest piece first into the first bar that has room, for each length of bar, every bar then as short as may be.
    fn fitted(&self) -> Vec<Pattern> {
        let mut best: Option<Vec<Pattern>> = None;
        for (at, bar) in self.stock.iter().enumerate() {
            if self.lengths.first().is_some_and(|longest| longest > bar) {
                continue;
            }
            let mut bars: Vec<(u64, Vec<usize>)> = Vec::new();
            for (kind, (length, count)) in self.lengths.iter().zip(&self.counts).enumerate() {
                for _ in 0..*count {
                    let place = bars.iter().position(|(room, _)| room >= length).unwrap_or_else(|| {
                        bars.push((*bar, vec![0; self.lengths.len()]));
                        bars.len() - 1
                    });
                    if let Some((room, cuts)) = bars.get_mut(place) {
                        *room -= length;
                        if let Some(count) = cuts.get_mut(kind) {
                            *count += 1;
                        }
                    }
                }
            }
            let shortened: Vec<Pattern> = bars.into_iter().map(|(_, cuts)| (self.shortest_for(&cuts).unwrap_or(at), cuts)).collect();
            if best.as_ref().is_none_or(|best| self.cost(&shortened) < self.cost(best)) {
                best = Some(shortened);
            }
        }
        best.unwrap_or_default()
    }

    fn shortest_for(&self, cuts: &[usize]) -> Option<usize> {
        let used = self.used(cuts);
        self.stock.iter().position(|length| *length >= used)
    }

    /// Every way to fill a bar to which nothing can be added, of the shortest length that it fits; `None` if there are too many.
    fn patterns(&self) -> Option<Vec<Pattern>> {
        let mut found = Vec::new();
        for (at, bar) in self.stock.iter().enumerate() {
            let mut cuts = vec![0; self.lengths.len()];
            if !self.fill(at, 0, *bar, &mut cuts, &mut found, &mut (MOST_PATTERNS * 20)) {
                return None;
            }
        }
        Some(found)
    }

    fn fill(&self, at: usize, kind: usize, room: u64, cuts: &mut Vec<usize>, found: &mut Vec<Pattern>, budget: &mut usize) -> bool {
        let Some((length, count)) = self.lengths.get(kind).zip(self.counts.get(kind)) else {
            *budget = budget.saturating_sub(1);
            let could_take = |kind: usize| {
                let more = cuts.get(kind).zip(self.counts.get(kind)).is_some_and(|(cut, count)| cut < count);
                more && self.lengths.get(kind).is_some_and(|length| *length <= room)
            };
            let full = !(0..cuts.len()).any(could_take);
            if full && self.shortest_for(cuts) == Some(at) {
                found.push((at, cuts.clone()));
            }
            return *budget > 0 && found.len() <= MOST_PATTERNS;
        };
        let most = usize::try_from(room / length).unwrap_or(usize::MAX).min(*count);
        for take in (0..=most).rev() {
            if let Some(cut) = cuts.get_mut(kind) {
                *cut = take;
            }
            if !self.fill(at, kind + 1, room - take as u64 * length, cuts, found, budget) {
                return false;
            }
        }
        if let Some(cut) = cuts.get_mut(kind) {
            *cut = 0;
        }
        true
    }

    /// How often each pattern is cut, by integer programming: the bars, and the bound. `start` is what is known already.
    fn solved(&self, patterns: &[Pattern], start: &[Pattern]) -> Option<(Vec<Pattern>, u64)> {
        let mut program = Problem::new(OptimizationDirection::Minimize);
        let most = i32::try_from(self.counts.iter().sum::<usize>()).ok()?;
        let in_steps = |cost: u64| cost as f64 / self.step as f64;
        let columns: Vec<Variable> =
            patterns.iter().map(|(stock, _)| program.add_integer_var(in_steps(self.price(*stock)), (0, most))).collect();
        for (kind, count) in self.counts.iter().enumerate() {
            let row: Vec<(Variable, f64)> = columns
                .iter()
                .zip(patterns)
                .filter_map(|(column, (_, cuts))| Some((*column, *cuts.get(kind)? as f64)))
                .filter(|(_, cuts)| *cuts > 0.0)
                .collect();
            program.add_constraint(&row[..], ComparisonOp::Ge, *count as f64);
        }
        let mut options = SolveOptions::default();
        options.node_limit = Some(MOST_NODES);
        options.warm_start = self.hint(patterns, start).map(|times| columns.iter().copied().zip(times).collect());
        let outcome = program.solve_with(options).ok()?;
        let stats = outcome.stats();
        let solution = outcome.solution()?;
        let mut bars = Vec::new();
        for (column, pattern) in columns.iter().zip(patterns) {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and the number of pieces")]
            let times = solution.var_value(*column).round().max(0.0) as usize;
            bars.extend(std::iter::repeat_n(pattern.clone(), times));
        }
        // The solver's word is checked: a list that loses a piece is none.
        let has_all =
            self.counts.iter().enumerate().all(|(kind, count)| bars.iter().filter_map(|(_, cuts)| cuts.get(kind)).sum::<usize>() >= *count);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "no larger than what is bought")]
        let bound = (stats.best_bound.unwrap_or(0.0) - 1e-6).max(0.0).ceil() as u64 * self.step;
        has_all.then_some((bars, bound))
    }

    /// A known list in patterns to which nothing can be added.
    fn hint(&self, patterns: &[Pattern], start: &[Pattern]) -> Option<Vec<f64>> {
        let by_pattern: HashMap<&Pattern, usize> = patterns.iter().enumerate().map(|(at, pattern)| (pattern, at)).collect();
        let mut times = vec![0.0; patterns.len()];
        for (stock, cuts) in start {
            let mut cuts = cuts.clone();
            let mut room = self.stock.get(*stock)?.checked_sub(self.used(&cuts))?;
            for ((cut, length), count) in cuts.iter_mut().zip(&self.lengths).zip(&self.counts) {
                while *length <= room && *cut < *count {
                    *cut += 1;
                    room -= length;
                }
            }
            *times.get_mut(*by_pattern.get(&(*stock, cuts))?)? += 1.0;
        }
        Some(times)
    }

    /// What nobody asked for taken out, pieces given their places, bars in order.
    fn list(&self, mut bars: Vec<Pattern>, bound: u64) -> CutList {
        for (kind, wanted) in self.counts.iter().enumerate() {
            let mut surplus = bars.iter().filter_map(|(_, cuts)| cuts.get(kind)).sum::<usize>().saturating_sub(*wanted);
            for (_, cuts) in bars.iter_mut().rev() {
                if let Some(count) = cuts.get_mut(kind) {
                    let less = surplus.min(*count);
                    *count -= less;
                    surplus -= less;
                }
            }
        }
        bars.retain(|(_, cuts)| cuts.iter().any(|count| *count > 0));
        for (stock, cuts) in &mut bars {
            *stock = self.shortest_for(cuts).unwrap_or(*stock);
        }
        bars.sort_by(|a, b| (b.0, &b.1).cmp(&(a.0, &a.1)));
        let mut owners: Vec<std::collections::VecDeque<usize>> = self.places.iter().map(|places| self.owners(places)).collect();
        let bought = self.cost(&bars);
        let bars = bars.iter().map(|(stock, cuts)| {
            let mut pieces = Vec::new();
            for (owners, count) in owners.iter_mut().zip(cuts) {
                pieces.extend(owners.drain(..(*count).min(owners.len())));
            }
            let room = self.stock.get(*stock).map_or(0, |length| length - self.used(cuts));
            Bar { length: metres(self.price(*stock)), cuts: pieces, left: metres(room.saturating_sub(self.kerf)) }
        });
        CutList { bars: bars.collect(), bought: metres(bought), bound: metres(bound.min(bought)) }
    }

    fn owners(&self, places: &[usize]) -> std::collections::VecDeque<usize> {
        let of = |place: &usize| std::iter::repeat_n(*place, self.asked.get(*place).map_or(0, |piece| piece.count));
        places.iter().flat_map(of).collect()
    }
}

fn units(metres: f64) -> Option<u64> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
    (metres.is_finite() && (0.0..1e6).contains(&metres)).then(|| (metres * UNITS_PER_METRE).round() as u64)
}

fn metres(units: u64) -> f64 {
    units as f64 / UNITS_PER_METRE
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

//! The structure under the roof: its wheels, what belongs to which part, and the weakest part on the way of a pull.
//!
//! In: positions, loads. Out: tables with the worst of each. Beams stand in `beams`.
//! It must not know whether a result is too much.

use super::body::{Formula, Survey};
use super::lists::items;
use super::tables::table;
use super::take;
use crate::calc::FormulaError;
use crate::calc::holddown::{self, Resultant, Support};
use crate::values::{Evaluator, Lack, Refusal, Value};

include!(concat!(env!("OUT_DIR"), "/formulas_structure.rs"));

/// More places than this along one length are a slip of the pen (a spacing in the wrong unit).
const MOST_PLACES: f64 = 200.0;
/// So little more than a whole number of spaces is that number: it comes from rounding.
const NO_SPACE: f64 = 1e-9;

// ── wheels ───────────────────────────────────────────────────────────────────────────────────────

impl Formula for WheelLoads {
    fn answer(self) -> Result<table::WheelLoads, FormulaError> {
        if self.wheel_stations.len() != self.wheel_offsets.len() {
            return Err(FormulaError::domain("the wheels", "given with one station and one offset each"));
        }
        // About the point at which the weight acts, so that it has no moment.
        let places = self.wheel_stations.iter().zip(&self.wheel_offsets);
        let wheels: Vec<Support> = places.map(|(x, y)| Support::new(x - self.station, y - self.offset)).collect();
        match holddown::share_gravity(&wheels, Resultant::at(-self.weight, 0.0, 0.0)) {
            Ok(shares) => {
                let each = || shares.wheels.iter().copied();
                Ok(table::WheelLoads {
                    stands: true,
                    why: "".into(),
                    most: Some(each().fold(0.0, f64::max)),
                    least: Some(each().fold(f64::INFINITY, f64::min).min(self.weight)),
                    loads: shares.wheels,
                })
            }
            // No list of loads: whatever stands on them is not known.
            Err(FormulaError::Unstable { what }) => {
                Ok(table::WheelLoads { stands: false, why: what.into(), loads: Vec::new(), most: None, least: None })
            }
            Err(error) => Err(error),
        }
    }
}

/// The values that stand in a list at the places at which a component stands in another.
impl Survey for AllOf {
    fn answer(self, _: &Evaluator) -> Result<Value, Refusal> {
        let (values, components) = (items(&self.values), self.components.ids());
        if values.is_empty() && !components.is_empty() {
            // The table that should hold them has said why it does not: a roof that tips, a beam that is not held.
            return Err(Refusal::Lack(Lack::Faulty));
        }
        let at = components.into_iter().enumerate().filter(|(_, id)| *id == self.component);
        Ok(Value::List(at.filter_map(|(at, _)| values.get(at).cloned()).collect()))
    }
}

/// The components of a list that are of one of these kinds.
impl Survey for OfKind {
    fn answer(self, evaluator: &Evaluator) -> Result<Value, Refusal> {
        let design = evaluator.design();
        let found = self.components.ids().into_iter().filter(|id| self.kinds.contains(&design.component(*id).kind));
        Ok(Value::List(found.map(Value::Component).collect()))
    }
}

impl Formula for SpreadOut {
    fn answer(self) -> Result<Vec<f64>, FormulaError> {
        let (from, to, spacing) = (self.first.min(self.last), self.first.max(self.last), self.spacing);
        if !(spacing > 0.0 && (to - from) / spacing <= MOST_PLACES) {
            return Err(FormulaError::domain("the spacing", format!("more than zero, and no more than {MOST_PLACES} of them")));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
        let spaces = (((to - from) / spacing - NO_SPACE).ceil().max(1.0)) as u32;
        let each = (to - from) / f64::from(spaces);
        Ok((0..=spaces).map(|i| from + f64::from(i) * each).collect())
    }
}

// ── the weakest part of a way ────────────────────────────────────────────────────────────────────

impl Formula for PartOfAWay {
    fn answer(self) -> Result<table::PartOfAWay, FormulaError> {
        Ok(table::PartOfAWay { name: format!("{} {}", self.what, self.of).into(), pull: self.pull, holds: self.holds })
    }
}

/// Of a way's weakest part, as of a part, only these count: it may be one of several ways.
impl From<table::Weakest> for table::PartOfAWay {
    fn from(way: table::Weakest) -> Self {
        Self { name: way.name, pull: way.pull, holds: way.holds }
    }
}

impl table::PartOfAWay {
    /// The part that a value holds, or the weakest of the way that it holds.
    fn of(value: &Value) -> Option<Self> {
        take::table::<Self>(value).or_else(|| take::table::<table::Weakest>(value).map(Self::from))
    }

    /// The share of what it holds that is used.
    fn used(&self) -> f64 {
        if self.pull <= 0.0 {
            0.0
        } else if self.holds <= 0.0 {
            f64::MAX
        } else {
            self.pull / self.holds
        }
    }
}

impl Formula for Weakest {
    fn answer(self) -> Result<table::Weakest, FormulaError> {
        let parts = take::flat(&self.parts).into_iter().map(table::PartOfAWay::of).collect::<Option<Vec<_>>>();
        let parts = parts.ok_or_else(|| FormulaError::domain("the way", "of tables of `part_of_a_way`"))?;
        let worst = parts.iter().max_by(|one, other| one.used().total_cmp(&other.used())).cloned();
        let Some(table::PartOfAWay { name, pull, holds }) = worst else {
            return Err(FormulaError::domain("the way", "at least one part long"));
        };
        Ok(table::Weakest { name, pull, holds, margin: holds - pull, parts })
    }
}

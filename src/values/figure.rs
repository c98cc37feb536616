//! Another number in the place of a written one, in the form that its writer gave that.
//!
//! In: the parts of a number as they stand in a line, and a value in SI base units. Out: the text of that value with the
//! same unit (or units: `6 ft 2-1/2 in`) and as finely written, and what that text is worth when it is read again.

use crate::syntax::number::Form;
use crate::syntax::tree::Part;
use crate::units::{Dim, Unit};

/// How a number of a line is written.
#[derive(Debug, Clone)]
pub struct Figure {
    /// Its units, from the larger to the smaller.
    units: Vec<Unit>,
    /// How finely its last part is written.
    form: Form,
}

impl Figure {
    /// The form of a written number; `None` for one without a unit, or with one that there is not.
    #[must_use]
    pub fn of(parts: &[Part]) -> Option<Figure> {
        let units: Vec<Unit> = parts.iter().map(|part| Unit::parse(&part.unit.as_ref()?.text).ok()).collect::<Option<_>>()?;
        let form = match parts.last()?.number.form() {
            // Beside feet stand inches and the parts that a tape has of them.
            Form::Decimals(0) if parts.len() > 1 && units.first()?.dim == Dim::LENGTH => Form::Parts(1),
            form => form,
        };
        Some(Figure { units, form })
    }

    /// Whole numbers of one unit.
    #[must_use]
    pub fn whole(unit: Unit) -> Figure {
        Figure { units: vec![unit], form: Form::Decimals(0) }
    }

    /// As finely written, in another unit of the same dimension.
    #[must_use]
    pub fn in_unit(self, unit: Option<&Unit>) -> Figure {
        match unit.filter(|unit| unit.dim == self.dim() && !unit.is_feet_inches() && self.units.len() == 1) {
            Some(unit) => Figure { units: vec![unit.clone()], ..self },
            None => self,
        }
    }

    /// Of what dimension.
    #[must_use]
    pub fn dim(&self) -> Dim {
        self.units.first().map_or(Dim::NUMBER, |unit| unit.dim)
    }

    /// The unit that it counts in first.
    #[must_use]
    pub fn unit(&self) -> Option<&Unit> {
        self.units.first()
    }

    /// The text of a value (SI base units), `finer` by so many decimals or halvings, and its worth when it is read: the
    /// nearest there is, or the next in the direction of `round`. `None` where the units do not go into one another.
    #[must_use]
    pub fn write(&self, si: f64, finer: usize, round: Option<fn(f64) -> f64>) -> Option<(String, f64)> {
        let form = self.form.finer(finer);
        let (last, larger) = self.units.split_last()?;
        let number = form.write(last.from_si(si), round);
        if larger.is_empty() {
            return Some((format!("{number} {}", last.text), last.to_si(number.worth())));
        }
        let sign = if number.worth() < 0.0 { "-" } else { "" };
        let mut rest = number.worth().abs();
        let (mut texts, mut worth) = (Vec::new(), 0.0);
        for unit in larger {
            let size = (unit.factor / last.factor).round();
            if unit.offset != 0.0 || (size * last.factor - unit.factor).abs() > unit.factor * 1e-9 {
                return None;
            }
            // What has been rounded to a step is a whole number of this unit or clearly less.
            let count = ((rest + 1e-9) / size).floor();
            rest = (rest - count * size).max(0.0);
            if count > 0.0 || !texts.is_empty() {
                texts.push(format!("{count} {}", unit.text));
                worth += unit.to_si(count);
            }
        }
        let rest = form.write(rest, None);
        texts.push(format!("{rest} {}", last.text));
        worth += last.to_si(rest.worth());
        Some((format!("{sign}{}", texts.join(" ")), if sign.is_empty() { worth } else { -worth }))
    }
}

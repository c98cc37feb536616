//! Dimensions: what kind of thing a quantity is, worked out at run time.
//!
//! In comes the word of a declaration (`area_density`) or two dimensions that are multiplied; out
//! comes a dimension, or words for it. This file must not know units, factors or the language.
//! Angle counts as a dimension of its own, so that degrees are never taken for a plain number.

use serde::{Deserialize, Serialize};

/// Exponents of length, mass, time, current, difference of temperature, angle and money; the eighth is 1 for a
/// point on a scale of temperature, which is no difference: two points do not add up, and none has a half.
///
/// The default is a plain number. Two quantities may be compared only if these agree, and added but for a point
/// and a difference.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
pub struct Dim(pub [i8; 8]);

/// The base unit of each exponent, in the order of [`Dim`].
const BASE: [&str; 7] = ["m", "kg", "s", "A", "K", "rad", "money"];

const fn base(place: usize) -> Dim {
    let mut exponents = [0; 8];
    exponents[place] = 1;
    Dim(exponents)
}

impl Dim {
    /// A plain number.
    pub const NUMBER: Dim = Dim([0; 8]);
    /// Length (m).
    pub const LENGTH: Dim = base(0);
    /// Mass (kg).
    pub const MASS: Dim = base(1);
    /// Time (s).
    pub const TIME: Dim = base(2);
    /// Electric current (A).
    pub const CURRENT: Dim = base(3);
    /// Difference of two temperatures (K).
    pub const TEMPERATURE_DIFFERENCE: Dim = base(4);
    /// Temperature, a point on its scale, counted from absolute zero (K).
    pub const TEMPERATURE: Dim = Dim([0, 0, 0, 0, 1, 0, 0, 1]);
    /// Angle (rad).
    pub const ANGLE: Dim = base(5);
    /// Money; currencies are never converted.
    pub const MONEY: Dim = base(6);

    /// Area (m²).
    pub const AREA: Dim = Self::LENGTH.times(Self::LENGTH);
    /// Volume (m³).
    pub const VOLUME: Dim = Self::AREA.times(Self::LENGTH);
    /// Elastic section modulus, m³: the same dimension as a volume.
    pub const SECTION_MODULUS: Dim = Self::VOLUME;
    /// Second moment of area (m⁴).
    pub const SECOND_MOMENT: Dim = Self::AREA.times(Self::AREA);
    /// Warping constant of an open section.
    pub const WARPING: Dim = Self::AREA.times(Self::SECOND_MOMENT);

    /// Frequency (Hz).
    pub const FREQUENCY: Dim = Self::NUMBER.over(Self::TIME);
    /// Speed (m/s).
    pub const SPEED: Dim = Self::LENGTH.over(Self::TIME);
    /// Acceleration (m/s²).
    pub const ACCELERATION: Dim = Self::SPEED.over(Self::TIME);
    /// Turning speed (rad/s).
    pub const ANGULAR_SPEED: Dim = Self::ANGLE.over(Self::TIME);
    /// Volume by time (m³/s).
    pub const FLOW: Dim = Self::VOLUME.over(Self::TIME);

    /// Force (N).
    pub const FORCE: Dim = Self::MASS.times(Self::ACCELERATION);
    /// Force times length: a bending moment, a torque, and energy as well.
    pub const MOMENT: Dim = Self::FORCE.times(Self::LENGTH);
    /// Energy, of the same dimension as a moment (J).
    pub const ENERGY: Dim = Self::MOMENT;
    /// Pressure and stress (Pa).
    pub const PRESSURE: Dim = Self::FORCE.over(Self::AREA);
    /// Force per length: a load along a beam, and the stiffness of a spring as well.
    pub const LINE_LOAD: Dim = Self::FORCE.over(Self::LENGTH);
    /// Weight by volume (N/m³).
    pub const WEIGHT_DENSITY: Dim = Self::FORCE.over(Self::VOLUME);
    /// Bending stiffness EI (N·m²).
    pub const FLEXURAL_RIGIDITY: Dim = Self::FORCE.times(Self::AREA);
    /// Moment by angle (N·m/rad).
    pub const ROTATIONAL_STIFFNESS: Dim = Self::MOMENT.over(Self::ANGLE);

    /// Mass by volume (kg/m³).
    pub const DENSITY: Dim = Self::MASS.over(Self::VOLUME);
    /// Mass by area (kg/m²).
    pub const AREA_DENSITY: Dim = Self::MASS.over(Self::AREA);
    /// Mass by length (kg/m).
    pub const LINE_DENSITY: Dim = Self::MASS.over(Self::LENGTH);
    /// Mass moment of inertia (kg·m²).
    pub const INERTIA: Dim = Self::MASS.times(Self::AREA);

    /// Power (W).
    pub const POWER: Dim = Self::ENERGY.over(Self::TIME);
    /// Electric charge (C).
    pub const CHARGE: Dim = Self::CURRENT.times(Self::TIME);
    /// Voltage (V).
    pub const VOLTAGE: Dim = Self::POWER.over(Self::CURRENT);
    /// Electric resistance (Ω).
    pub const RESISTANCE: Dim = Self::VOLTAGE.over(Self::CURRENT);
    /// Resistance of a wire by its length (Ω/m).
    pub const RESISTANCE_PER_LENGTH: Dim = Self::RESISTANCE.over(Self::LENGTH);
    /// Magnetic flux density (T).
    pub const FLUX_DENSITY: Dim = Self::FORCE.over(Self::CURRENT.times(Self::LENGTH));
    /// Strain per kelvin.
    pub const EXPANSION: Dim = Self::NUMBER.over(Self::TEMPERATURE_DIFFERENCE);

    /// The dimension of a product. An exponent beyond what fits stays at the end of its scale;
    /// [`Dim::checked_times`] tells when that happens.
    #[must_use]
    pub const fn times(self, other: Dim) -> Dim {
        let mut exponents = self.0;
        let mut place = 0;
        while place < exponents.len() {
            exponents[place] = exponents[place].saturating_add(other.0[place]);
            place += 1;
        }
        Dim(exponents)
    }

    /// The dimension of a quotient; see [`Dim::times`] on exponents beyond the scale.
    #[must_use]
    pub const fn over(self, other: Dim) -> Dim {
        let mut exponents = self.0;
        let mut place = 0;
        while place < exponents.len() {
            exponents[place] = exponents[place].saturating_sub(other.0[place]);
            place += 1;
        }
        Dim(exponents)
    }

    /// The dimension of a product, or `None` where an exponent does not fit.
    #[must_use]
    pub fn checked_times(self, other: Dim) -> Option<Dim> {
        self.combine(other, i8::checked_add)
    }

    /// The dimension of a quotient, or `None` where an exponent does not fit.
    #[must_use]
    pub fn checked_over(self, other: Dim) -> Option<Dim> {
        self.combine(other, i8::checked_sub)
    }

    fn combine(self, other: Dim, join: impl Fn(i8, i8) -> Option<i8>) -> Option<Dim> {
        let mut exponents = self.0;
        for (mine, theirs) in exponents.iter_mut().zip(other.0) {
            *mine = join(*mine, theirs)?;
        }
        Some(Dim(exponents))
    }

    /// The dimension of the `n`th power, or `None` where an exponent does not fit.
    #[must_use]
    pub fn power(self, n: i32) -> Option<Dim> {
        let mut exponents = self.0;
        for exponent in &mut exponents {
            *exponent = i32::from(*exponent).checked_mul(n)?.try_into().ok()?;
        }
        Some(Dim(exponents))
    }

    /// The dimension of the `n`th root, or `None` where it is not a whole one (the root of a length).
    #[must_use]
    pub fn root(self, n: i32) -> Option<Dim> {
        let mut exponents = self.0;
        for exponent in &mut exponents {
            let whole = i32::from(*exponent);
            if whole.checked_rem(n)? != 0 {
                return None;
            }
            *exponent = (whole / n).try_into().ok()?;
        }
        Some(Dim(exponents))
    }

    /// Is this a point on a scale, with which nothing can be multiplied?
    #[must_use]
    pub fn is_point(self) -> bool {
        self == Dim::TEMPERATURE
    }

    /// What two quantities of this dimension differ by: for a temperature a difference, else the same.
    #[must_use]
    pub fn difference(self) -> Dim {
        if self.is_point() { Dim::TEMPERATURE_DIFFERENCE } else { self }
    }

    /// Is this a plain number?
    #[must_use]
    pub fn is_number(self) -> bool {
        self == Dim::NUMBER
    }

    /// The same dimension with its angle left out. A radian is a length over a length, so
    /// `speed = radius * angular_speed` agrees only in this sense.
    #[must_use]
    pub const fn without_angle(self) -> Dim {
        let mut exponents = self.0;
        exponents[5] = 0;
        Dim(exponents)
    }

    /// The dimension that a declaration's word stands for: `length`, `area_density`, …
    #[must_use]
    pub fn named(word: &str) -> Option<Dim> {
        NAMES.iter().find(|name| name.word == word).map(|name| name.dim)
    }

    /// As [`Dim::named`], in a constant: a word that names no dimension stops the compiler.
    #[must_use]
    pub const fn of_word(word: &str) -> Dim {
        let mut at = 0;
        while at < NAMES.len() {
            if same(NAMES[at].word.as_bytes(), word.as_bytes()) {
                return NAMES[at].dim;
            }
            at += 1;
        }
        assert!(at < NAMES.len(), "no dimension has this name");
        Dim::NUMBER
    }

    /// All words that [`Dim::named`] knows.
    pub fn names() -> impl Iterator<Item = &'static str> {
        NAMES.iter().map(|name| name.word)
    }

    /// Words for it: `a length`, `a plain number`, or `a quantity in kg*m2/s` where it has no name.
    #[must_use]
    pub fn describe(self) -> String {
        NAMES
            .iter()
            .find(|name| name.dim == self)
            .map_or_else(|| format!("a quantity in {}", self.base_units()), |name| name.words.to_owned())
    }

    /// The SI base units of it as a unit is written (`kg*m2/s`, `1/K`); empty for a plain number.
    #[must_use]
    pub fn base_units(self) -> String {
        // A mass is read first: kg*m2, not m2*kg.
        const ORDER: [usize; 7] = [6, 1, 0, 2, 3, 4, 5];
        let parts = || ORDER.iter().filter_map(|&place| Some((*BASE.get(place)?, *self.0.get(place)?)));
        let written = |unit: &str, exponent: i8| match exponent.unsigned_abs() {
            1 => unit.to_owned(),
            n => format!("{unit}{n}"),
        };
        let above: Vec<String> = parts().filter(|(_, n)| *n > 0).map(|(unit, n)| written(unit, n)).collect();
        let below: Vec<String> = parts().filter(|(_, n)| *n < 0).map(|(unit, n)| written(unit, n)).collect();
        let above = if above.is_empty() && !below.is_empty() { "1".to_owned() } else { above.join("*") };
        std::iter::once(above).chain(below).collect::<Vec<_>>().join("/")
    }
}

/// Whether two words are the same; comparing texts is not possible in a constant yet.
const fn same(a: &[u8], b: &[u8]) -> bool {
    let mut at = 0;
    while at < a.len() && at < b.len() && a[at] == b[at] {
        at += 1;
    }
    at == a.len() && at == b.len()
}

struct Name {
    word: &'static str,
    dim: Dim,
    words: &'static str,
}

const fn name(word: &'static str, dim: Dim, words: &'static str) -> Name {
    Name { word, dim, words }
}

/// The words of declarations. Where two share a dimension, the first one's words describe it.
const NAMES: &[Name] = &[
    name("number", Dim::NUMBER, "a plain number"),
    name("length", Dim::LENGTH, "a length"),
    name("area", Dim::AREA, "an area"),
    name("volume", Dim::VOLUME, "a volume"),
    name("section_modulus", Dim::SECTION_MODULUS, "a section modulus"),
    name("second_moment", Dim::SECOND_MOMENT, "a second moment of area"),
    name("warping_constant", Dim::WARPING, "a warping constant"),
    name("mass", Dim::MASS, "a mass"),
    name("time", Dim::TIME, "a time"),
    name("angle", Dim::ANGLE, "an angle"),
    name("temperature", Dim::TEMPERATURE, "a temperature"),
    name("temperature_difference", Dim::TEMPERATURE_DIFFERENCE, "a difference of temperatures"),
    name("frequency", Dim::FREQUENCY, "a frequency"),
    name("speed", Dim::SPEED, "a speed"),
    name("acceleration", Dim::ACCELERATION, "an acceleration"),
    name("angular_speed", Dim::ANGULAR_SPEED, "an angular speed"),
    name("flow", Dim::FLOW, "a flow"),
    name("force", Dim::FORCE, "a force"),
    name("moment", Dim::MOMENT, "a moment or an energy"),
    name("torque", Dim::MOMENT, "a torque"),
    name("energy", Dim::ENERGY, "an energy"),
    name("pressure", Dim::PRESSURE, "a pressure or a stress"),
    name("stress", Dim::PRESSURE, "a stress"),
    name("line_load", Dim::LINE_LOAD, "a force per length"),
    name("stiffness", Dim::LINE_LOAD, "a stiffness"),
    name("weight_density", Dim::WEIGHT_DENSITY, "a weight per volume"),
    name("flexural_rigidity", Dim::FLEXURAL_RIGIDITY, "a flexural rigidity"),
    name("rotational_stiffness", Dim::ROTATIONAL_STIFFNESS, "a rotational stiffness"),
    name("density", Dim::DENSITY, "a density"),
    name("area_density", Dim::AREA_DENSITY, "a mass per area"),
    name("line_density", Dim::LINE_DENSITY, "a mass per length"),
    name("inertia", Dim::INERTIA, "a moment of inertia"),
    name("power", Dim::POWER, "a power"),
    name("current", Dim::CURRENT, "an electric current"),
    name("charge", Dim::CHARGE, "an electric charge"),
    name("voltage", Dim::VOLTAGE, "a voltage"),
    name("resistance", Dim::RESISTANCE, "an electric resistance"),
    name("resistance_per_length", Dim::RESISTANCE_PER_LENGTH, "an electric resistance per length"),
    name("flux_density", Dim::FLUX_DENSITY, "a magnetic flux density"),
    name("expansion", Dim::EXPANSION, "a thermal expansion per degree"),
    name("money", Dim::MONEY, "a sum of money"),
];

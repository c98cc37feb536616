//! Posts and studs of timber and of steel: pressed, and bent at the same time.
//!
//! In: a section, lengths between braces, forces in each state, how far off its middle they act, what pushes at its
//! top. Out: the state that governs, what it may carry, how much of it is used. It must not know what presses.

use super::body::{may, needs};
use super::loads_on_their_way::by_state;
use super::structure::CODES;
use super::timber::{CODE, DAMPNESS, Governs, Member, SECTION, VALUES, number_in, pressure, table, when};
use crate::calc::FormulaError;
use crate::calc::column::{self, en1995, nds, steel};
use crate::calc::holddown::Combination;
use crate::calc::loads::states::{Code, Level, State, combinations};
use crate::calc::steel::member;
use crate::calc::timber::en1995 as timber;
use crate::calc::timber::nds_stability;
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Parameter, Takes};

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
/// Part of a built-up column's stability that nails leave, NDS 2018 §15.3.2.
const NAILED: f64 = 0.6;
/// How much is used of a post that buckles before it reaches any strength.
const BUCKLES: f64 = 99.0;

/// How a post is held and loaded.
struct Load {
    forces: Vec<(&'static str, f64)>,
    /// Between braces, in the plane of its depth and of its breadth, m, for a post pinned at both ends.
    lengths: [f64; 2],
    /// How far off its middle the load acts, in the direction of its depth and of its breadth, m.
    off: [f64; 2],
    /// Moment at its foot from what pushes at its top while the roof rolls or stands open, factored, N·m.
    pushed: [f64; 2],
}

impl Load {
    /// From the arguments: length, forces, code, then those that may be left out.
    fn new(a: &Arguments, [length, forces, code, more]: [usize; 4]) -> Result<Self, FormulaError> {
        let forces = by_state(&a.list(forces))?;
        let along = a.si(length);
        let number = |at: usize| a.optional(more + at).unwrap_or(0.0);
        let by_code = if a.word(code) == "asce7" { Code::Asce7 } else { Code::Eurocode };
        // A free top: the post stands like a flagpole on its foot.
        let (free, ends) = match (a.flag(more + 3), by_code) {
            (false, _) => (false, 1.0),
            (true, Code::Asce7) => (true, nds::buckling_length_factor(nds::Ends::FixedFree)),
            (true, Code::Eurocode | Code::EurocodeHigh) => (true, 2.0),
        };
        // What pushes comes from a wind that somebody measured: the 0.6 on the mapped wind of ASCE 7-16 §2.4.1 is not for it.
        let mapped = combinations(State::Wind, by_code, Level::Strength).iter().map(|each| each.factors.wind).fold(0.0, f64::max);
        let wind = mapped.max(Combination::Measured.wind_factor());
        let moment = |at: usize| if free { wind * number(at) * along } else { 0.0 };
        Ok(Self {
            forces: forces.map(|(state, force)| (state.word(), force)).to_vec(),
            lengths: [ends * along, ends * a.optional(more).unwrap_or(along)],
            off: [number(1), number(2)],
            pushed: [moment(4), moment(5)],
        })
    }

    /// The moments in one state, in the plane of the depth and of the breadth.
    fn moments(&self, case: &str, force: f64) -> [f64; 2] {
        let pushed = if case == State::Moving.word() { self.pushed } else { [0.0; 2] };
        [force * self.off[0].abs() + pushed[0].abs(), force * self.off[1].abs() + pushed[1].abs()]
    }

    fn bent(&self) -> bool {
        self.off.iter().chain(&self.pushed).any(|number| number.abs() > 1e-9)
    }
}

/// What a post check gives, the same for timber and steel.
struct Post {
    worst: Governs,
    factor: f64,
    used: f64,
    used_case: &'static str,
    moments: [f64; 2],
}

impl Post {
    fn new() -> Self {
        Self { worst: Governs::default(), factor: 1.0, used: 0.0, used_case: "shut", moments: [0.0; 2] }
    }

    fn meet(&mut self, (stress, strength, factor): (f64, f64, f64), used: f64, case: &'static str, moments: [f64; 2]) {
        if self.worst.meet(stress, strength, case) {
            self.factor = factor;
        }
        if used > self.used {
            (self.used, self.used_case, self.moments) = (used, case, moments);
        }
    }

    fn value(&self, area: f64, slenderness: f64, bent: bool) -> Value {
        Value::record(vec![
            ("stands", Value::Flag(true)),
            ("why", Value::Text(smol_str::SmolStr::default())),
            ("load", Value::quantity(self.worst.stress * area, Dim::FORCE)),
            ("holds", Value::quantity(self.worst.strength * area, Dim::FORCE)),
            ("case", Value::Word(self.worst.case.clone())),
            ("when", when(&self.worst.case)),
            ("slenderness", Value::number(slenderness)),
            ("stability_factor", Value::number(self.factor)),
            ("strength", pressure(self.worst.strength)),
            ("bent", Value::Flag(bent)),
            ("used", Value::number(self.used)),
            ("used_when", when(self.used_case)),
            ("moment_deep", Value::quantity(self.moments[0], Dim::MOMENT)),
            ("moment_broad", Value::quantity(self.moments[1], Dim::MOMENT)),
        ])
    }
}

/// A post that is too slender for its code.
fn too_slender(error: &FormulaError, slenderness: f64) -> Value {
    Value::record(vec![
        ("stands", Value::Flag(false)),
        ("why", Value::Text(error.to_string().into())),
        ("slenderness", Value::number(slenderness)),
    ])
}

fn timber_post(a: &Arguments) -> Result<Value, FormulaError> {
    let member = Member::new(a, [0, 1, 3, 5], false)?;
    let load = Load::new(a, [2, 4, 5, 6])?;
    let sides = [member.whole.depth, member.whole.breadth];
    let ratios = [load.lengths[0] / sides[0], load.lengths[1] / sides[1]];
    let slenderness = ratios[0].max(ratios[1]);
    let built_up = if member.piece.breadth < member.whole.breadth - 1e-9 { NAILED } else { 1.0 };
    let area = member.whole.area();
    // Section modulus in the plane of the depth, and of the breadth.
    let modulus = [area * sides[0] / 6.0, area * sides[1] / 6.0];
    let mut post = Post::new();
    for &(case, force) in &load.forces {
        let stress = force / area;
        let moments = load.moments(case, force);
        let bending = [moments[0] / modulus[0], moments[1] / modulus[1]];
        let (strength, factor, used) = if member.by_nds {
            match by_nds(&member, case, &load, built_up, stress, bending) {
                Ok(found) => found,
                Err(error @ FormulaError::Domain { .. }) if slenderness > 50.0 => return Ok(too_slender(&error, slenderness)),
                Err(error) => return Err(error),
            }
        } else {
            by_eurocode(&member, case, ratios, built_up, stress, bending)?
        };
        post.meet((stress, strength, factor), used, case, moments);
    }
    Ok(post.value(area, slenderness, load.bent()))
}

/// Strength along the post, CP, and how much is used.
fn by_nds(
    member: &Member,
    case: &str,
    load: &Load,
    built_up: f64,
    stress: f64,
    bending: [f64; 2],
) -> Result<(f64, f64, f64), FormulaError> {
    let adjusted = member.adjusted(case)?;
    let (depth, breadth) = (member.whole.depth, member.whole.breadth);
    let deep = nds::critical_stress(adjusted.elasticity_min, load.lengths[0], depth)?;
    let broad = nds::critical_stress(adjusted.elasticity_min, load.lengths[1], breadth)?;
    let factor = nds::stability_factor(nds::Kind::Sawn, deep.min(broad), adjusted.compression, built_up)?;
    let strength = adjusted.compression * factor;
    if bending == [0.0; 2] {
        return Ok((strength, factor, stress / strength));
    }
    // The strong axis is the one that bends it in the plane of its longer side.
    let (tipping, strong_first) = if depth >= breadth {
        let effective = nds_stability::effective_length(nds_stability::Loading::Other, load.lengths[1].max(1e-6), depth)?;
        (nds_stability::stability(member.whole, effective, adjusted.bending, adjusted.elasticity_min)?, true)
    } else {
        (nds_stability::Stability { slenderness: 0.0, critical: f64::INFINITY, factor: 1.0 }, false)
    };
    let (strong, weak) = if strong_first { (0, 1) } else { (1, 0) };
    let critical = [deep, broad];
    let bent = nds::BentColumn {
        compression: stress,
        bending_strong: bending[strong],
        bending_weak: bending[weak],
        compression_value: strength,
        bending_value_strong: adjusted.bending * tipping.factor,
        bending_value_weak: adjusted.bending * adjusted.weak_axis,
        critical_strong: critical[strong],
        critical_weak: critical[weak],
        critical_tipping: tipping.critical,
    };
    Ok((strength, factor, nds::bent_column_ratio(&bent).unwrap_or(BUCKLES)))
}

/// Strength along the post, kc, and how much is used.
fn by_eurocode(
    member: &Member,
    case: &str,
    ratios: [f64; 2],
    built_up: f64,
    stress: f64,
    bending: [f64; 2],
) -> Result<(f64, f64, f64), FormulaError> {
    let relative = |ratio: f64| {
        let radius = 1.0 / 12.0_f64.sqrt();
        column::en1995::relative_slenderness(ratio, radius, member.value("compression")?, member.value("elasticity_min")?)
    };
    let (deep, broad) = (relative(ratios[0])?, relative(ratios[1])?);
    let factor = en1995::buckling_factor(deep.max(broad), member.material()) * built_up;
    let strengths = member.strengths(case, 0.0)?;
    let strength = strengths.compression * factor;
    let bent = en1995::BentColumn {
        compression: stress / built_up,
        bending_y: bending[0],
        bending_z: bending[1],
        compression_strength: strengths.compression,
        bending_strength_y: strengths.bending,
        bending_strength_z: strengths.bending,
        slenderness_y: deep,
        slenderness_z: broad,
    };
    let used =
        if bending == [0.0; 2] { stress / strength } else { en1995::bent_column_ratio(&bent, member.material(), timber::KM_RECTANGLE) };
    Ok((strength, factor, used))
}

fn steel_post(a: &Arguments) -> Result<Value, FormulaError> {
    let (values, section) = (table(a, 0, "the grade's values")?, table(a, 1, "the section")?);
    let load = Load::new(a, [2, 3, 4, 5])?;
    let (fy, elasticity) = (number_in(&values, "yield_stress")?, number_in(&values, "elasticity")?);
    let (area, radius) = (number_in(&section, "area")?, number_in(&section, "weak_radius")?);
    let (modulus, weak) = (number_in(&section, "modulus")?, number_in(&section, "weak_modulus")?);
    let by_aisc = a.word(4) == "asce7";
    let length = load.lengths[0].max(load.lengths[1]);
    let relative = steel::en_relative_slenderness(area, area * radius * radius, length, fy, elasticity)?;
    let strength = if by_aisc {
        steel::aisc_critical_stress(length / radius, fy, elasticity)? / steel::OMEGA_COMPRESSION
    } else {
        steel::en_reduction_factor(relative, steel::Curve::C) * fy / member::GAMMA_M1
    };
    let holds = |modulus: f64| if by_aisc { member::aisc_moment(fy, modulus) } else { member::en_moment(fy, modulus) };
    let mut post = Post::new();
    for &(case, force) in &load.forces {
        let moments = load.moments(case, force);
        let axial = force / area / strength;
        let (strong, flat) = (moments[0] / holds(modulus), moments[1] / holds(weak));
        let used = if moments == [0.0; 2] {
            axial
        } else if by_aisc {
            steel::aisc_bent_column_ratio(axial, strong, flat)
        } else {
            steel::en_bent_column_ratio(&steel::EnBent {
                axial_y: axial,
                axial_z: axial,
                moment_y: strong,
                moment_z: flat,
                slenderness_y: relative,
                slenderness_z: relative,
                moment_factors: (1.0, 1.0),
            })
        };
        post.meet((force / area, strength, strength / fy), used, case, moments);
    }
    Ok(post.value(area, length / radius, load.bent()))
}

const PRESSES: Parameter =
    needs("forces", Takes::List(Dim::FORCE), "on it, factored, in the order of `load_states`: shut, moving, snow, live, wind");
const BROAD: Parameter = may("length_broad", LENGTH, "between braces in the plane of its breadth, if another");
const OFF_DEEP: Parameter = may("off_deep", LENGTH, "how far off its middle the load acts, in the direction of its depth");
const OFF_BROAD: Parameter = may("off_broad", LENGTH, "the same in the direction of its breadth");
const FREE: Parameter = may("free", Takes::Flag, "nothing holds its top sideways: it stands on its foot like a flagpole");
const PUSH_DEEP: Parameter = may("push_deep", Takes::Quantity(Dim::FORCE), "of the operating wind at its top, before load factors");
const PUSH_BROAD: Parameter = may("push_broad", Takes::Quantity(Dim::FORCE), "the same in the direction of its breadth");
const GIVES: &str = "table: stands, why, load, holds, case, when, slenderness, stability_factor, strength; bent, used (1 is the limit, bending included), used_when, moment_deep, moment_broad";

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "timber_post",
        doc: "what a timber post carries before it bows out, pinned at both ends, in the state that governs, and how much is used where it is bent as well; several pieces count as nailed together",
        parameters: &[
            VALUES,
            SECTION,
            needs("length", LENGTH, "between its ends or braces"),
            DAMPNESS,
            PRESSES,
            CODE,
            BROAD,
            OFF_DEEP,
            OFF_BROAD,
            FREE,
            PUSH_DEEP,
            PUSH_BROAD,
        ],
        gives: GIVES,
        source: "NDS 2018 §3.7, 3.9.2, 15.3, Table G1; EN 1995-1-1:2004 §6.3.2, eq. 6.19 to 6.24",
        remembered: false,
        body: Body::Formula(timber_post),
    },
    Function {
        name: "steel_post",
        doc: "what a steel post carries before it bows out, pinned at both ends, and how much is used where it is bent as well; EN 1993 by buckling curve c, on the safe side",
        parameters: &[
            VALUES,
            SECTION,
            needs("length", LENGTH, "between its ends or braces"),
            PRESSES,
            needs("code", Takes::Word(CODES), "asce7: AISC 360; eurocode: EN 1993"),
            BROAD,
            OFF_DEEP,
            OFF_BROAD,
            FREE,
            PUSH_DEEP,
            PUSH_BROAD,
        ],
        gives: GIVES,
        source: "AISC 360-16 §E3, H1.1; EN 1993-1-1:2005 6.3.1, 6.3.3 with Annex B",
        remembered: false,
        body: Body::Formula(steel_post),
    },
];

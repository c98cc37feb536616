//! Posts and studs of timber and of steel: pressed, and bent at the same time.
//!
//! In: a section, lengths between braces, forces in each state, how far off its middle they act, what pushes at its
//! top. Out: the state that governs, what it may carry, how much of it is used. It must not know what presses.

use super::body::Formula;
use super::governing::Governs;
use super::loads_on_their_way::{by_state, combined_by, when};
use super::tables::{table, word};
use super::timber_member::{Member, Standard};
use crate::calc::FormulaError;
use crate::calc::column::{self, en1995, nds, steel};
use crate::calc::holddown::Combination;
use crate::calc::loads::states::{Level, State, combinations};
use crate::calc::steel::member;
use crate::calc::timber::section::Rectangle;
use crate::calc::timber::{en1995 as timber, nds_size, nds_stability};
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_posts.rs"));

/// A moment (N·m) or a distance (m) of this size is none, and two breadths (m) that differ by it are the same.
const NOTHING: f64 = 1e-9;
/// A post has some length to tip over, m.
const SHORTEST: f64 = 1e-6;

/// What is said of how a post stands, whatever it is made of.
struct Stands {
    length: f64,
    length_broad: Option<f64>,
    forces: Vec<f64>,
    code: word::Code,
    off: [Option<f64>; 2],
    free: bool,
    push: [Option<f64>; 2],
}

/// How a post is held and loaded.
struct Load {
    forces: Vec<(State, f64)>,
    /// Between braces, in the plane of its depth and of its breadth, m, for a post pinned at both ends.
    lengths: [f64; 2],
    /// How far off its middle the load acts, in the direction of its depth and of its breadth, m.
    off: [f64; 2],
    /// Moment at its foot from what pushes at its top while the roof rolls or stands open, factored, N·m.
    pushed: [f64; 2],
}

impl Load {
    fn new(given: &Stands) -> Result<Self, FormulaError> {
        let along = given.length;
        // A free top: the post stands like a flagpole on its foot.
        let ends = match (given.free, given.code) {
            (false, _) => nds::buckling_length_factor(nds::Ends::PinnedPinned),
            (true, word::Code::Asce7) => nds::buckling_length_factor(nds::Ends::FixedFree),
            (true, word::Code::Eurocode) => column::FLAGPOLE,
        };
        // What pushes comes from a wind that somebody measured: the 0.6 on the mapped wind of ASCE 7-16 §2.4.1 is not for it.
        let all = combinations(State::Wind, combined_by(given.code, false), Level::Strength);
        let wind = all.iter().map(|each| each.factors.wind).fold(0.0, f64::max).max(Combination::Measured.wind_factor());
        let moment = |push: Option<f64>| if given.free { wind * push.unwrap_or_default() * along } else { 0.0 };
        Ok(Self {
            forces: by_state(&given.forces)?.to_vec(),
            lengths: [ends * along, ends * given.length_broad.unwrap_or(along)],
            off: given.off.map(Option::unwrap_or_default),
            pushed: given.push.map(moment),
        })
    }

    /// The moments in one state, in the plane of the depth and of the breadth.
    fn moments(&self, case: State, force: f64) -> [f64; 2] {
        let pushed = if case == State::Moving { self.pushed } else { [0.0; 2] };
        [force * self.off[0].abs() + pushed[0].abs(), force * self.off[1].abs() + pushed[1].abs()]
    }

    fn bent(&self) -> bool {
        self.off.iter().chain(&self.pushed).any(|number| number.abs() > NOTHING)
    }
}

/// What a post check gives, the same for timber and steel.
struct Post {
    worst: Governs,
    factor: f64,
    used: f64,
    used_case: State,
    moments: [f64; 2],
}

impl Post {
    fn new() -> Self {
        Self { worst: Governs::default(), factor: 1.0, used: 0.0, used_case: State::Shut, moments: [0.0; 2] }
    }

    fn meet(&mut self, (stress, strength, factor): (f64, f64, f64), used: f64, case: State, moments: [f64; 2]) {
        if self.worst.meet(stress, strength, case) {
            self.factor = factor;
        }
        if used > self.used {
            (self.used, self.used_case, self.moments) = (used, case, moments);
        }
    }

    fn checked(&self, area: f64, slenderness: f64, bent: bool) -> table::CheckedPost {
        table::CheckedPost {
            stands: true,
            why: SmolStr::default(),
            load: Some(self.worst.stress * area),
            holds: Some(self.worst.strength * area),
            case: Some(self.worst.state().into()),
            when: Some(self.worst.when()),
            slenderness,
            stability_factor: Some(self.factor),
            strength: Some(self.worst.strength),
            bent: Some(bent),
            used: Some(self.used),
            used_when: Some(when(self.used_case)),
            moment_deep: Some(self.moments[0]),
            moment_broad: Some(self.moments[1]),
        }
    }
}

/// A post that is too slender for its code.
fn too_slender(error: &FormulaError, slenderness: f64) -> table::CheckedPost {
    table::CheckedPost {
        stands: false,
        why: error.to_string().into(),
        load: None,
        holds: None,
        case: None,
        when: None,
        slenderness,
        stability_factor: None,
        strength: None,
        bent: None,
        used: None,
        used_when: None,
        moment_deep: None,
        moment_broad: None,
    }
}

impl Formula for TimberPost {
    fn answer(self) -> Result<table::CheckedPost, FormulaError> {
        let member = Member::new(self.values, &self.section, self.damp, self.code)?;
        let load = Load::new(&Stands {
            length: self.length,
            length_broad: self.length_broad,
            forces: self.forces,
            code: self.code,
            off: [self.off_deep, self.off_broad],
            free: self.free,
            push: [self.push_deep, self.push_broad],
        })?;
        let ratios = [load.lengths[0] / member.whole.depth, load.lengths[1] / member.whole.breadth];
        let slenderness = ratios[0].max(ratios[1]);
        let built_up = if member.piece.breadth < member.whole.breadth - NOTHING { nds::NAILED } else { 1.0 };
        let area = member.whole.area();
        // Section modulus in the plane of the depth, and of the breadth.
        let modulus = [member.whole.modulus(), member.whole.turned().modulus()];
        let mut post = Post::new();
        for &(case, force) in &load.forces {
            let stress = force / area;
            let moments = load.moments(case, force);
            let bending = [moments[0] / modulus[0], moments[1] / modulus[1]];
            let (strength, factor, used) = match member.standard {
                Standard::Nds(table) => match by_nds(&member, table, case, &load, built_up, stress, bending) {
                    Ok(found) => found,
                    Err(error @ FormulaError::Domain { .. }) if slenderness > nds::MOST_SLENDER => {
                        return Ok(too_slender(&error, slenderness));
                    }
                    Err(error) => return Err(error),
                },
                Standard::Eurocode(material) => by_eurocode(&member, material, case, ratios, built_up, stress, bending)?,
            };
            post.meet((stress, strength, factor), used, case, moments);
        }
        Ok(post.checked(area, slenderness, load.bent()))
    }
}

/// Strength along the post, CP, and how much is used.
fn by_nds(
    member: &Member,
    table: nds_size::Table,
    case: State,
    load: &Load,
    built_up: f64,
    stress: f64,
    bending: [f64; 2],
) -> Result<(f64, f64, f64), FormulaError> {
    let adjusted = member.adjusted(table, case)?;
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
        let effective = nds_stability::effective_length(nds_stability::Loading::Other, load.lengths[1].max(SHORTEST), depth)?;
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
    Ok((strength, factor, nds::bent_column_ratio(&bent).unwrap_or(column::BUCKLES)))
}

/// Strength along the post, kc, and how much is used.
fn by_eurocode(
    member: &Member,
    material: timber::Material,
    case: State,
    ratios: [f64; 2],
    built_up: f64,
    stress: f64,
    bending: [f64; 2],
) -> Result<(f64, f64, f64), FormulaError> {
    let relative = |ratio: f64| {
        // The length is in sides of the section.
        let radius = Rectangle { breadth: 1.0, depth: 1.0 }.radius();
        en1995::relative_slenderness(ratio, radius, member.values.compression, member.values.elasticity_min)
    };
    let (deep, broad) = (relative(ratios[0])?, relative(ratios[1])?);
    let factor = en1995::buckling_factor(deep.max(broad), material) * built_up;
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
    let used = if bending == [0.0; 2] { stress / strength } else { en1995::bent_column_ratio(&bent, material, timber::KM_RECTANGLE) };
    Ok((strength, factor, used))
}

impl Formula for SteelPost {
    fn answer(self) -> Result<table::CheckedPost, FormulaError> {
        let (values, section) = (self.values, self.section);
        let load = Load::new(&Stands {
            length: self.length,
            length_broad: self.length_broad,
            forces: self.forces,
            code: self.code,
            off: [self.off_deep, self.off_broad],
            free: self.free,
            push: [self.push_deep, self.push_broad],
        })?;
        let (fy, elasticity, area, radius) = (values.yield_stress, values.elasticity, section.area, section.weak_radius);
        let length = load.lengths[0].max(load.lengths[1]);
        let relative = steel::en_relative_slenderness(area, area * radius * radius, length, fy, elasticity)?;
        let strength = match self.code {
            word::Code::Asce7 => steel::aisc_critical_stress(length / radius, fy, elasticity)? / steel::OMEGA_COMPRESSION,
            word::Code::Eurocode => steel::en_reduction_factor(relative, steel::Curve::C) * fy / member::GAMMA_M1,
        };
        let holds = |modulus: f64| match self.code {
            word::Code::Asce7 => member::aisc_moment(fy, modulus),
            word::Code::Eurocode => member::en_moment(fy, modulus),
        };
        let mut post = Post::new();
        for &(case, force) in &load.forces {
            let moments = load.moments(case, force);
            let axial = force / area / strength;
            let (strong, flat) = (moments[0] / holds(section.modulus), moments[1] / holds(section.weak_modulus));
            let bent = || match self.code {
                word::Code::Asce7 => steel::aisc_bent_column_ratio(axial, strong, flat),
                word::Code::Eurocode => steel::en_bent_column_ratio(&steel::EnBent {
                    axial_y: axial,
                    axial_z: axial,
                    moment_y: strong,
                    moment_z: flat,
                    slenderness_y: relative,
                    slenderness_z: relative,
                    moment_factors: steel::EVEN_MOMENTS,
                }),
            };
            let used = if moments == [0.0; 2] { axial } else { bent() };
            post.meet((force / area, strength, strength / fy), used, case, moments);
        }
        Ok(post.checked(area, length / radius, load.bent()))
    }
}

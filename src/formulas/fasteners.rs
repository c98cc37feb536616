//! Fasteners in wood and steel: what one of them holds, pulled out or pushed sideways, at the level of working loads.
//!
//! In: diameters, lengths, the wood's density, how it is put in. Out: the hold of one fastener in a wind load, with the
//! steps on the way. NDS values are allowable stress; EN 1995 design values are divided by 1.5, the wind's factor, so that
//! both compare with the same pull. It must not know what is fastened.

use super::body::Formula;
use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::fastener::adjustment::{self, Action, Moisture};
use crate::calc::fastener::en_lateral::{self, Dowel, Rope};
use crate::calc::fastener::yield_limit::{self, Joint, Mode};
use crate::calc::fastener::{bearing, combined, dowel_bearing, en_axial, en_embedment, en_layout, withdrawal};
use crate::calc::holddown::Combination;
use crate::calc::steel::{bolt, weld};
use crate::calc::timber::{en1995, nds};
use smol_str::SmolStr;
use std::f64::consts::FRAC_PI_2;

include!(concat!(env!("OUT_DIR"), "/formulas_fasteners.rs"));

/// What rounding leaves of a length, m.
const NEAR: f64 = 1e-9;

impl From<word::Damp> for Moisture {
    /// Joints are made of seasoned wood.
    fn from(damp: word::Damp) -> Self {
        let used_wet = match damp {
            word::Damp::Indoors | word::Damp::Covered => false,
            word::Damp::Outdoors => true,
        };
        Self { made_wet: false, used_wet }
    }
}

/// Of wood in a gust.
pub(super) fn kmod(damp: word::Damp) -> f64 {
    en1995::kmod(damp.into(), en1995::Duration::Short)
}

/// A characteristic hold as a working load in the wind.
pub(super) fn worked(characteristic: f64, damp: word::Damp) -> f64 {
    en1995::design_value(characteristic, kmod(damp), en1995::GAMMA_M_CONNECTION) / Combination::Equilibrium.working_load_divisor()
}

/// A screw that is pulled.
struct Pulled {
    diameter: f64,
    root: f64,
    tensile_strength: f64,
    length: f64,
    thread: f64,
    tip: f64,
    through: f64,
    wood: f64,
    damp: word::Damp,
}

impl Pulled {
    /// What it holds, where a length of its thread holds so much, with a factor for the grain that it stands in.
    fn holds(&self, per_length: f64, grain: f64, why: &'static str) -> Result<table::NdsScrewPulled, FormulaError> {
        let thread_in_wood = withdrawal::thread_in_main(self.length, self.through, self.thread, self.tip, self.wood)?;
        let duration = nds::load_duration_factor(nds::Duration::TenMinutes);
        let wet = adjustment::wet_service_factor(Action::ScrewWithdrawal, self.damp.into(), self.diameter, true);
        let wood = per_length * thread_in_wood * duration * wet * grain;
        let shank = withdrawal::shank_tension(self.tensile_strength, self.root);
        let (why, holds) = (SmolStr::new_static(why), wood.min(shank));
        Ok(table::NdsScrewPulled { thread_in_wood, per_length, duration, wet, grain, wood, shank, holds, why })
    }
}

impl Formula for NdsLagScrew {
    fn answer(self) -> Result<table::NdsScrewPulled, FormulaError> {
        let per_length = withdrawal::lag_screw(self.gravity, self.diameter)?;
        let grain = match self.grain {
            word::Grain::Side => 1.0,
            word::Grain::End => withdrawal::END_GRAIN_LAG,
        };
        let Self { diameter, root, tensile_strength, length, thread, tip, through, wood, damp, .. } = self;
        Pulled { diameter, root, tensile_strength, length, thread, tip, through, wood, damp }.holds(per_length, grain, "")
    }
}

impl Formula for NdsWoodScrew {
    fn answer(self) -> Result<table::NdsScrewPulled, FormulaError> {
        let per_length = withdrawal::wood_screw(self.gravity, self.diameter)?;
        let (grain, why) = match self.grain {
            word::Grain::Side => (1.0, ""),
            word::Grain::End => (0.0, "wood screws along the grain do not count"),
        };
        let Self { diameter, root, tensile_strength, length, thread, tip, through, wood, damp, .. } = self;
        Pulled { diameter, root, tensile_strength, length, thread, tip, through, wood, damp }.holds(per_length, grain, why)
    }
}

impl NdsLateral {
    /// How far it is in the wood that holds it, the tip with it.
    fn depth(&self) -> f64 {
        (self.length - self.through).min(self.wood)
    }

    /// How far it bears in the wood that holds it: its bearing length for the equations, or why it does not count there.
    /// What it is decides, not how long it is: a lag screw that comes out at the back is no bolt.
    fn bearing_length(&self) -> Result<Result<f64, String>, FormulaError> {
        let depth = self.depth();
        let tip_in_wood = (self.tip - (self.length - self.through - self.wood).max(0.0)).max(0.0);
        let (least, counted) = match self.sort {
            word::Sort::Bolt if self.length >= self.through + self.wood - NEAR => return Ok(Ok(self.wood)),
            word::Sort::Bolt => return Ok(Err(DOES_NOT_COME_OUT.to_owned())),
            word::Sort::LagScrew => (yield_limit::LEAST_OF_LAG_SCREW, depth - tip_in_wood),
            word::Sort::WoodScrew | word::Sort::Nail => (yield_limit::LEAST_OF_SCREW_OR_NAIL, depth),
        };
        if counted < least * self.diameter - NEAR {
            return Ok(Err(too_short(least)));
        }
        yield_limit::main_bearing_length(depth, tip_in_wood, self.diameter, least).map(Ok)
    }

    /// What bears in what it crosses: a side member of wood, or a plate.
    fn side_bearing(&self, angle: f64) -> Result<f64, FormulaError> {
        match (self.side_gravity, self.plate_strength, self.plate_steel) {
            (Some(side), _, _) => dowel_bearing::wood(side, self.diameter, angle),
            (None, Some(strength), Some(word::PlateSteel::HotRolled)) => Ok(dowel_bearing::hot_rolled_steel(strength)),
            (None, Some(strength), Some(word::PlateSteel::ColdFormed) | None) => Ok(dowel_bearing::cold_formed_steel(strength)),
            (None, None, _) => {
                Err(FormulaError::domain("what the fastener crosses", "a side member of wood, or a plate with its strength"))
            }
        }
    }
}

const DOES_NOT_COME_OUT: &str = "the bolt does not come out at the other side";

fn too_short(least: f64) -> String {
    format!("it reaches less than {least} diameters into the wood")
}

impl Formula for NdsLateral {
    fn answer(self) -> Result<table::NdsLateral, FormulaError> {
        let penetration = self.depth();
        let main_length = match self.bearing_length()? {
            Ok(main) => main,
            Err(why) => return Ok(table::NdsLateral::holds_nothing(penetration, why)),
        };
        let (angle, grain) = match self.grain {
            word::Grain::Side => (self.angle, 1.0),
            word::Grain::End => (FRAC_PI_2, adjustment::END_GRAIN_LATERAL),
        };
        let side_bearing = self.side_bearing(angle)?;
        let found = yield_limit::single_shear(&Joint {
            nominal: self.diameter,
            diameter: self.bends_at,
            bending_yield: self.bending_yield,
            main_length,
            side_length: self.through,
            main_bearing: dowel_bearing::wood(self.gravity, self.diameter, angle)?,
            side_bearing,
            angle,
        })?;
        let duration = nds::load_duration_factor(nds::Duration::TenMinutes);
        let wet = adjustment::wet_service_factor(Action::Lateral, self.damp.into(), self.diameter, true);
        let slant = if self.toe_nailed { adjustment::toe_nail_factor(Action::Lateral) } else { 1.0 };
        Ok(table::NdsLateral {
            penetration,
            mode: Some(SmolStr::new_static(mode(found.mode))),
            plate_bearing: Some(side_bearing),
            reference: Some(found.value),
            duration: Some(duration),
            wet: Some(wet),
            grain: Some(grain),
            slant: Some(slant),
            why: SmolStr::default(),
            holds: found.value * duration * wet * grain * slant,
        })
    }
}

impl table::NdsLateral {
    fn holds_nothing(penetration: f64, why: String) -> Self {
        let (reference, plate_bearing, duration, wet, grain, slant) = (None, None, None, None, None, None);
        Self { penetration, mode: None, plate_bearing, reference, duration, wet, grain, slant, why: why.into(), holds: 0.0 }
    }
}

fn mode(mode: Mode) -> &'static str {
    match mode {
        Mode::Im => "I_m",
        Mode::Is => "I_s",
        Mode::II => "II",
        Mode::IIIm => "III_m",
        Mode::IIIs => "III_s",
        Mode::IV => "IV",
    }
}

impl Formula for EnScrew {
    fn answer(self) -> Result<table::EnScrew, FormulaError> {
        let thread = withdrawal::thread_in_main(self.length, self.through, self.thread, self.diameter, self.wood)?;
        let why = match self.grain {
            word::Grain::End => "screws along the grain do not count".to_owned(),
            word::Grain::Side if thread < en_axial::LEAST_THREAD * self.diameter => {
                format!("its thread reaches less than {} diameters into the wood", en_axial::LEAST_THREAD)
            }
            word::Grain::Side => String::new(),
        };
        let shank = worked(en_axial::shank_tension(self.tensile_strength, self.root), word::Damp::Indoors);
        let screws = en_axial::Screws { diameter: self.diameter, root: self.root, thread, angle: FRAC_PI_2, count: 1 };
        let one = match self.parameter {
            _ if !why.is_empty() => 0.0,
            Some(declared) => en_axial::declared_screws(&screws, declared, self.density, self.at_density.unwrap_or(self.density))?,
            None => en_axial::screws(&screws, self.density)?,
        };
        let group = en_axial::share_in_group(self.count);
        let wood = worked(one, self.damp) * group;
        Ok(table::EnScrew {
            thread_in_wood: thread,
            characteristic: one,
            kmod: kmod(self.damp),
            group,
            wood,
            shank,
            why: why.into(),
            holds: wood.min(shank),
        })
    }
}

impl EnLateral {
    /// Whether it follows the rules of nails.
    fn like_a_nail(&self) -> bool {
        self.sort != word::Sort::Bolt && self.diameter <= en_lateral::LIKE_A_NAIL
    }

    /// How deep it is in the wood that holds it, or why it does not count there.
    fn depth(&self) -> Result<f64, String> {
        let depth = (self.length - self.through).min(self.wood);
        let least = match self.sort {
            word::Sort::Bolt if depth < self.wood - NEAR => return Err(DOES_NOT_COME_OUT.to_owned()),
            word::Sort::Bolt => return Ok(depth),
            word::Sort::Nail => en_lateral::LEAST_OF_SMOOTH_NAIL,
            word::Sort::LagScrew | word::Sort::WoodScrew if self.like_a_nail() => en_lateral::LEAST_OF_THIN_SCREW,
            word::Sort::LagScrew | word::Sort::WoodScrew => en_lateral::LEAST_OF_THICK_SCREW,
        };
        if depth < least * self.diameter - NEAR { Err(too_short(least)) } else { Ok(depth) }
    }

    fn embedment(&self, density: f64) -> Result<f64, FormulaError> {
        if self.like_a_nail() {
            en_embedment::nail(density, self.diameter, false)
        } else {
            en_embedment::bolt(density, self.bends_at, self.angle, en_embedment::Wood::Softwood)
        }
    }

    /// What is left for each of those that stand in a row.
    fn share_in_row(&self) -> Result<f64, FormulaError> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a row is a small whole number of fasteners")]
        let in_row = self.row.clamp(1.0, en_layout::LONGEST_ROW) as u32;
        let counts = if in_row == 1 {
            1.0
        } else if self.like_a_nail() {
            en_layout::effective_nails_at(in_row, self.spacing, self.diameter, self.angle)?
        } else {
            en_layout::effective_bolts(in_row, self.spacing, self.diameter, self.angle)?
        };
        Ok(counts / f64::from(in_row))
    }
}

impl Formula for EnLateral {
    fn answer(self) -> Result<table::EnLateral, FormulaError> {
        let thickness = match self.depth() {
            Ok(depth) => depth,
            Err(why) => {
                let (mode, characteristic, kmod, group) = (None, None, None, None);
                return Ok(table::EnLateral { mode, characteristic, kmod, group, why: why.into(), holds: 0.0 });
            }
        };
        // Without the rope effect: on the safe side.
        let dowel = Dowel {
            diameter: self.bends_at,
            yield_moment: en_embedment::yield_moment_round(self.tensile_strength, self.bends_at)?,
            withdrawal: 0.0,
            rope_limit: Rope::Dowel.limit(),
        };
        let point = en_lateral::Member { thickness, embedment: self.embedment(self.density)? };
        let found = if let Some(side) = self.side_density {
            let head = en_lateral::Member { thickness: self.through, embedment: self.embedment(side)? };
            en_lateral::timber_single(&dowel, head, point)?
        } else {
            let plate = self.hole.map_or(self.through, |hole| en_lateral::plate_in_hole(self.through, self.diameter, hole));
            en_lateral::steel_single(&dowel, plate, point)?
        };
        let group = self.share_in_row()?;
        Ok(table::EnLateral {
            mode: Some(SmolStr::new(found.mode.to_string())),
            characteristic: Some(found.value),
            kmod: Some(kmod(self.damp)),
            group: Some(group),
            why: SmolStr::default(),
            holds: worked(found.value, self.damp) * group,
        })
    }
}

impl Formula for ThroughBolt {
    fn answer(self) -> Result<table::ThroughBolt, FormulaError> {
        let washer_area = bearing::round_washer_area(self.washer, self.hole)?;
        let (bolt, under_the_washer) = match self.code {
            word::Code::Asce7 => {
                let wet = if Moisture::from(self.damp).used_wet { nds::WET_BEARING } else { 1.0 };
                let bolt = bolt::aisc_tension(self.diameter, bolt::threaded_part(self.tensile_strength, true));
                (bolt, bearing::nds_washer(self.bearing * wet, washer_area, self.washer, f64::INFINITY)?)
            }
            word::Code::Eurocode => {
                let class = bolt::PropertyClass::of_strength(self.tensile_strength);
                let bolt = bolt::en_tension(class, self.stress_area) / Combination::Equilibrium.working_load_divisor();
                (bolt, worked(bearing::en_washer(self.bearing, washer_area), self.damp))
            }
        };
        Ok(table::ThroughBolt { washer_area, bolt, under_the_washer, holds: bolt.min(under_the_washer) })
    }
}

/// No longer duration helps what is pressed across the grain by the NDS; EN 1995 counts the gust.
impl Formula for PlateOnTimber {
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(match self.code {
            word::Code::Asce7 => {
                let wet = if Moisture::from(self.damp).used_wet { nds::WET_BEARING } else { 1.0 };
                self.bearing * wet * self.area
            }
            word::Code::Eurocode => worked(self.bearing * self.area, self.damp),
        })
    }
}

impl Formula for FilletWeld {
    fn answer(self) -> Result<f64, FormulaError> {
        let Self { leg, length, strength, yield_stress, .. } = self;
        match self.code {
            word::Code::Asce7 => {
                let weld = weld::aisc_fillet(leg, length, strength, 0.0)?;
                let part_strength = self.part_strength.unwrap_or(yield_stress);
                Ok(self.part.map_or(weld, |part| weld.min(weld::aisc_base_metal(part, length, yield_stress, part_strength))))
            }
            word::Code::Eurocode => {
                let correlation = weld::en_correlation_factor(yield_stress);
                Ok(weld::en_fillet(weld::throat(leg), length, strength, correlation)? / Combination::Equilibrium.working_load_divisor())
            }
        }
    }
}

impl Formula for SmallestWeld {
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(weld::aisc_smallest_leg(self.thinner))
    }
}

impl Formula for PulledAndPushed {
    fn answer(self) -> Result<f64, FormulaError> {
        let (pull, push, withdrawal, lateral) = (self.pull.max(0.0), self.push.abs(), self.holds_pull, self.holds_push);
        if (pull > 0.0 && withdrawal <= 0.0) || (push > 0.0 && lateral <= 0.0) {
            return Ok(combined::HOLDS_NOTHING);
        }
        match (pull > 0.0, push > 0.0, self.code) {
            (false, false, _) => Ok(0.0),
            (true, false, _) => Ok(pull / withdrawal),
            (false, true, _) => Ok(push / lateral),
            (true, true, word::Code::Asce7) if self.nailed => combined::nail_ratio(pull, push, withdrawal, lateral),
            (true, true, word::Code::Asce7) => combined::screw_ratio(pull, push, withdrawal, lateral),
            (true, true, word::Code::Eurocode) if self.nailed => en_axial::smooth_nail_ratio(pull, withdrawal, push, lateral),
            // The square root: 1 is the limit of both, and twice the load gives twice the number.
            (true, true, word::Code::Eurocode) => en_axial::screw_ratio(pull, withdrawal, push, lateral).map(f64::sqrt),
        }
    }
}

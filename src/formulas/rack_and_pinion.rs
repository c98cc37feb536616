//! Rack and pinion: teeth in contact, play, forces, strength, length and sections of the rack.

use super::body::Formula;
use super::tables::table;
use crate::calc::FormulaError;
use crate::calc::gear::{self, Making, Mounting, Pinion};

include!(concat!(env!("OUT_DIR"), "/formulas_rack_and_pinion.rs"));

impl Formula for ModuleOfPitch {
    fn answer(self) -> Result<f64, FormulaError> {
        gear::module_of_pitch(self.pitch)
    }
}

impl Formula for ModuleOfDiametralPitch {
    fn answer(self) -> Result<f64, FormulaError> {
        gear::module_of_diametral_pitch(self.teeth_per_inch)
    }
}

impl Formula for RackPitch {
    fn answer(self) -> Result<f64, FormulaError> {
        gear::rack_pitch(self.module)
    }
}

/// Teeth in contact; none once the teeth no longer reach each other.
impl Formula for ContactRatio {
    fn answer(self) -> Result<f64, FormulaError> {
        let pinion = Pinion::new(self.module, self.teeth, self.pressure_angle)?;
        Ok(gear::contact(&pinion, self.gap.max(0.0)).map_or(0.0, |contact| contact.ratio_undercut.max(0.0)))
    }
}

impl Formula for LargestMeshGap {
    fn answer(self) -> Result<f64, FormulaError> {
        gear::largest_gap(&Pinion::new(self.module, self.teeth, self.pressure_angle)?, self.contact_ratio)
    }
}

impl Formula for Backlash {
    fn answer(self) -> Result<f64, FormulaError> {
        gear::backlash(self.gap, self.pressure_angle)
    }
}

impl Formula for SeparatingForce {
    fn answer(self) -> Result<f64, FormulaError> {
        gear::separating_force(self.pull, self.pressure_angle)
    }
}

/// A rack has no number of teeth, and without a speed it stands still.
impl Formula for ToothForce {
    fn answer(self) -> Result<f64, FormulaError> {
        let form = if self.teeth == 0.0 {
            gear::rack_form_factor()
        } else {
            gear::form_factor(&Pinion::new(self.module, self.teeth, self.pressure_angle)?)?
        };
        let velocity = gear::velocity_factor(self.speed.unwrap_or_default(), Making::Cut)?;
        gear::force_allowed(self.stress, self.width, self.module, form, velocity)
    }
}

impl Formula for RackLeftOver {
    fn answer(self) -> Result<table::RackLeftOver, FormulaError> {
        let mounting = if self.on_roof { Mounting::OnRoof } else { Mounting::OnBuilding };
        let left = gear::left_over((self.begins, self.ends), self.pinion, (self.shut_travel, self.open_travel), mounting)?;
        Ok(table::RackLeftOver { closed: left.shut, open: left.open })
    }
}

impl Formula for RackSections {
    fn answer(self) -> Result<table::RackSections, FormulaError> {
        let made = gear::sections(self.length, self.section, self.pitch)?;
        let around = gear::around_joints(&made.joints, &self.fixings)?;
        // A joint without a fixing on one side stands free: it counts as a whole section away.
        let farthest =
            around.iter().flat_map(|(before, behind)| [*before, *behind]).map(|distance| distance.min(self.section)).fold(0.0, f64::max);
        #[expect(clippy::cast_precision_loss, reason = "at most a thousand")]
        let count = made.count as f64;
        Ok(table::RackSections {
            count,
            joints: made.joints,
            last: made.last,
            cut_off: made.cut_off,
            length: made.length,
            space: made.space,
            joint_to_fixing: farthest,
        })
    }
}

//! Where fasteners stand in the wood, and nails: distances, splitting, what one nail holds.
//!
//! In: diameters, lengths, the wood, the direction of the load. Out: distances, forces at the level of working loads in the
//! wind. It must not know what is fastened.

use super::body::Formula;
use super::fasteners::{kmod, worked};
use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::fastener::adjustment::{self, Action};
use crate::calc::fastener::{en_axial, en_lateral, en_layout, group, nds_layout, withdrawal};
use crate::calc::timber::nds;
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_nails_rows_and_distances.rs"));

impl From<word::NdsGroupFactorSide> for group::Pair {
    fn from(side: word::NdsGroupFactorSide) -> Self {
        match side {
            word::NdsGroupFactorSide::Wood => Self::WoodWood,
            word::NdsGroupFactorSide::Steel => Self::WoodSteel,
        }
    }
}

impl Formula for FastenerDistances {
    fn answer(self) -> Result<table::FastenerDistances, FormulaError> {
        let (d, angle) = (self.diameter, self.angle);
        let nail = d <= en_lateral::LIKE_A_NAIL;
        Ok(match self.code {
            word::Code::Asce7 => {
                let least = nds_layout::distances(angle);
                table::FastenerDistances { spacing: least.spacing * d, end: least.end * d, edge: least.edge * d }
            }
            word::Code::Eurocode if nail => {
                let least = en_layout::nail_distances(d, angle);
                table::FastenerDistances { spacing: least.along * d, end: least.loaded_end * d, edge: least.loaded_edge * d }
            }
            word::Code::Eurocode => {
                let least = en_layout::bolt_distances(angle);
                let end = (least.loaded_end * d).max(en_layout::LEAST_LOADED_END);
                table::FastenerDistances { spacing: least.along * d, end, edge: least.loaded_edge * d }
            }
        })
    }
}

impl Formula for NdsGeometryFactor {
    fn answer(self) -> Result<table::NdsGeometryFactor, FormulaError> {
        let Self { diameter, end, edge, spacing, .. } = self;
        let (factor, why) = match nds_layout::geometry_factor(&nds_layout::FastenerPosition { diameter, end, edge, spacing }, self.angle) {
            Ok(factor) => (factor, String::new()),
            Err(FormulaError::Domain { what, needs }) => (0.0, format!("{what} has to be {needs}")),
            Err(error) => return Err(error),
        };
        Ok(table::NdsGeometryFactor { factor, why: why.into() })
    }
}

impl Formula for NdsGroupFactor {
    fn answer(self) -> Result<f64, FormulaError> {
        let stiffness = group::Stiffness { main: self.elasticity * self.area, side: self.side_elasticity * self.side_area };
        // Part of a fastener more in the row than there can be: the safe side.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a row is a small whole number of fasteners")]
        let count = self.count.ceil().clamp(1.0, en_layout::LONGEST_ROW) as u32;
        group::group_action_factor(count, self.spacing, self.diameter, stiffness, self.side.into())
    }
}

impl Formula for SplittingPush {
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(worked(en_layout::splitting(self.breadth, self.depth, self.from_edge)?, self.damp))
    }
}

impl Formula for NdsNailPulled {
    fn answer(self) -> Result<table::NdsNailPulled, FormulaError> {
        let depth = (self.length - self.through).min(self.wood);
        let nothing = |why| {
            let (depth, per_length, duration, wet, slant) = (None, None, None, None, None);
            Ok(table::NdsNailPulled { depth, per_length, duration, wet, slant, why: SmolStr::new_static(why), holds: 0.0 })
        };
        if self.grain == word::Grain::End {
            return nothing("nails along the grain do not count");
        }
        if depth <= 0.0 {
            return nothing("it does not reach the wood");
        }
        let per_length = withdrawal::nail(self.gravity, self.diameter)?;
        let duration = nds::load_duration_factor(nds::Duration::TenMinutes);
        // Seasoned wood that gets wet again, or the other way round, lets go of a smooth nail.
        // A slanting nail does not let go as the wood dries. Source: NDS 2018 §12.5.4.1.
        let (wet, slant) = if self.toe_nailed {
            (1.0, adjustment::toe_nail_factor(Action::NailWithdrawal))
        } else {
            (adjustment::wet_service_factor(Action::NailWithdrawal, self.damp.into(), self.diameter, true), 1.0)
        };
        Ok(table::NdsNailPulled {
            depth: Some(depth),
            per_length: Some(per_length),
            duration: Some(duration),
            wet: Some(wet),
            slant: Some(slant),
            why: SmolStr::default(),
            holds: per_length * depth * duration * wet * slant,
        })
    }
}

impl Formula for EnNailPulled {
    fn answer(self) -> Result<table::EnNailPulled, FormulaError> {
        let depth = (self.length - self.through).min(self.wood);
        let nothing = |why: String| {
            let (depth, characteristic, kmod) = (None, None, None);
            Ok(table::EnNailPulled { depth, characteristic, kmod, why: why.into(), holds: 0.0 })
        };
        if self.grain == word::Grain::End {
            return nothing("smooth nails along the grain do not count".to_owned());
        }
        if depth < en_axial::LEAST_OF_SMOOTH_NAIL * self.diameter {
            return nothing(format!("it reaches less than {} diameters into the wood", en_axial::LEAST_OF_SMOOTH_NAIL));
        }
        let parameter = en_axial::smooth_nail_parameter(self.density, self.diameter, depth)?;
        let nail = en_axial::Nail { diameter: self.diameter, head: self.head, point_depth: depth, head_side: self.through };
        let characteristic = en_axial::smooth_nail(&nail, parameter, en_axial::nail_head_parameter(self.density));
        Ok(table::EnNailPulled {
            depth: Some(depth),
            characteristic: Some(characteristic),
            kmod: Some(kmod(self.damp)),
            why: SmolStr::default(),
            holds: worked(characteristic, self.damp),
        })
    }
}

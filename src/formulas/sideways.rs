//! The way sideways: frames, beams that are pushed across, walls as panels, and a roof that jams on its guide.
//!
//! In: sizes, stiffnesses, pushes. Out: sway, forces, strengths. It must not know what is pushed, or whether it is too much.

use super::body::Formula;
use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::beam::{self, Beam, Stretch, Support, Train, Wheel};
use crate::calc::frame::{self, Bar, Hold, Place, Push};
use crate::calc::racking::{self, Nail, Panel};
use crate::calc::skewing;

include!(concat!(env!("OUT_DIR"), "/formulas_sideways.rs"));

fn place(of: &[f64]) -> Result<Place, FormulaError> {
    match of {
        [across, level] => Ok((*across, *level)),
        _ => Err(FormulaError::domain("an end of a bar", "two lengths: across, and level")),
    }
}

impl Formula for FrameBar {
    fn answer(self) -> Result<table::FrameBar, FormulaError> {
        place(&self.from)?;
        place(&self.until)?;
        Ok(table::FrameBar {
            from: self.from,
            until: self.until,
            axial_stiffness: self.axial_stiffness,
            rigidity: self.rigidity,
            hinged_from: self.hinged_from,
            hinged_until: self.hinged_until,
        })
    }
}

impl Formula for PlaneFrame {
    fn answer(self) -> Result<table::PlaneFrame, FormulaError> {
        let bar = |bar: &table::FrameBar| {
            Ok(Bar {
                from: place(&bar.from)?,
                to: place(&bar.until)?,
                axial_stiffness: bar.axial_stiffness,
                bending_stiffness: bar.rigidity,
                hinged: [bar.hinged_from, bar.hinged_until],
            })
        };
        let bars: Vec<Bar> = self.bars.iter().map(bar).collect::<Result<_, FormulaError>>()?;
        if self.held_across.len() != self.held_levels.len() || self.held_across.len() != self.clamped.len() {
            return Err(FormulaError::domain("the holds", "given with a place across, a level and yes or no each"));
        }
        let places = self.held_across.iter().zip(&self.held_levels).zip(&self.clamped);
        let holds: Vec<Hold> = places.map(|((across, level), clamped)| Hold { at: (*across, *level), clamped: *clamped }).collect();
        let push = Push { at: (self.push_across, self.push_level), across: self.push, up: 0.0 };
        let answer = match frame::solve(&bars, &holds, &[push], self.reach) {
            Ok(answer) => answer,
            Err(FormulaError::Unstable { what }) => {
                return Ok(table::PlaneFrame {
                    held: false,
                    why: what.into(),
                    sway: None,
                    stiffness: None,
                    axial: Vec::new(),
                    moments: Vec::new(),
                    across: Vec::new(),
                    up: Vec::new(),
                    turning: Vec::new(),
                });
            }
            Err(error) => return Err(error),
        };
        let sway = answer.sways.first().copied().unwrap_or_default().abs();
        let way = |at: usize| answer.reactions.iter().filter_map(|all| all.get(at).copied()).collect();
        Ok(table::PlaneFrame {
            held: true,
            why: "".into(),
            sway: Some(sway),
            stiffness: Some(self.push.abs() / sway),
            across: way(0),
            up: way(1),
            turning: way(2),
            axial: answer.axial,
            moments: answer.moments,
        })
    }
}

impl Formula for SideBeam {
    fn answer(self) -> Result<table::SideBeam, FormulaError> {
        let (start, end) = (self.first_end, self.last_end);
        let same = self.supports.len() == self.springs.len() && self.supports.len() == self.stiff.len();
        if !same || self.wheels.len() != self.pushes.len() {
            return Err(FormulaError::domain("supports and wheels", "given with one station and one number each"));
        }
        let each = self.supports.iter().zip(&self.springs).zip(&self.stiff).enumerate();
        let holding = each.filter(|(_, ((at, spring), stiff))| **at >= start && **at <= end && (**stiff || **spring > 0.0));
        let (numbers, supports): (Vec<usize>, Vec<Support>) =
            holding.map(|(number, ((at, spring), stiff))| (number, Support { at: *at, spring: (!stiff).then_some(*spring) })).unzip();
        let beam =
            Beam { start, end, stretches: vec![Stretch { until: end, bending_stiffness: self.rigidity }], supports, hinges: Vec::new() };
        let wheels = self.wheels.iter().zip(&self.pushes).map(|(offset, load)| Wheel { offset: *offset, load: *load }).collect();
        let train = Train { wheels, from: self.from.unwrap_or_default(), to: self.travel };
        let answer = match beam::envelope(&beam, &train, 0.0) {
            Ok(answer) => answer,
            Err(FormulaError::Unstable { .. }) => {
                return Ok(table::SideBeam {
                    held: false,
                    why: "nothing holds it across at two places or more".into(),
                    moment: None,
                    sway: None,
                    sway_at: None,
                    sway_travel: None,
                    pushes: Vec::new(),
                });
            }
            Err(error) => return Err(error),
        };
        let (most, least) = (answer.deepest, answer.highest);
        let worst = if most.value.abs() >= least.value.abs() { most } else { least };
        let mut pushes = vec![0.0; self.supports.len()];
        for (number, range) in numbers.iter().zip(&answer.reactions) {
            if let Some(push) = pushes.get_mut(*number) {
                *push = range.largest.value.abs().max(range.smallest.value.abs());
            }
        }
        Ok(table::SideBeam {
            held: true,
            why: "".into(),
            moment: Some(answer.sagging.value.abs().max(answer.hogging.value.abs())),
            sway: Some(worst.value.abs()),
            sway_at: Some(worst.at),
            sway_travel: Some(worst.train),
            pushes,
        })
    }
}

impl Formula for SecondOrder {
    fn answer(self) -> Result<f64, FormulaError> {
        frame::second_order(self.weight, self.height, self.stiffness)
    }
}

impl Formula for SkewJam {
    fn answer(self) -> Result<f64, FormulaError> {
        frame::skew_jam(self.friction, self.beside, self.base)
    }
}

impl Formula for SkewPush {
    fn answer(self) -> Result<f64, FormulaError> {
        skewing::push(self.play, self.wear, &self.stations, self.load)
    }
}

impl Formula for SdpwsShear {
    fn answer(self) -> Result<f64, FormulaError> {
        let panel = match self.sheathing {
            word::Sheathing::Structural1532 => Panel::Structural15,
            word::Sheathing::Sheathing38 => Panel::Plain12,
            word::Sheathing::Sheathing716 => Panel::Plain14,
            word::Sheathing::Sheathing1532 => Panel::Plain15,
        };
        let nail = match self.nail {
            word::Nail::Nail8d => Nail::Eight,
            word::Nail::Nail10d => Nail::Ten,
        };
        racking::sdpws_nominal(panel, nail, self.edge_spacing, self.gravity)
    }
}

impl Formula for SdpwsWall {
    fn answer(self) -> Result<f64, FormulaError> {
        racking::sdpws_wall(self.nominal, self.height, self.length, &self.full, self.opening_height.unwrap_or(self.height))
    }
}

impl Formula for EnWallPanels {
    fn answer(self) -> Result<f64, FormulaError> {
        racking::en_method_a(self.fastener, self.spacing, self.height, &self.full)
    }
}

//! Numbers that no data sheet has, estimated from what is known, with how far they may be off.
//!
//! In: a nameplate, a build-up, what a hand can do with clay. Out: the least and the most that a number may be, in SI base
//! units. It must not know a component; whoever asks decides which end hurts.

use super::{FormulaError, check};
use std::f64::consts::PI;

/// The least and the most that something may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Between {
    /// The least.
    pub least: f64,
    /// The most.
    pub most: f64,
}

impl Between {
    /// In the middle.
    #[must_use]
    pub fn middle(self) -> f64 {
        f64::midpoint(self.least, self.most)
    }

    /// From the middle to either end.
    #[must_use]
    pub fn spread(self) -> f64 {
        (self.most - self.least) / 2.0
    }

    fn times(self, factor: f64) -> Between {
        Between { least: self.least * factor, most: self.most * factor }
    }

    fn and(self, other: Between) -> Between {
        Between { least: self.least + other.least, most: self.most + other.most }
    }
}

/// How a motor works.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Motor {
    /// A squirrel-cage motor on three phases.
    ThreePhase,
    /// With magnets, brushed or brushless; how fast it turns with nothing to turn, rad/s.
    PermanentMagnet(f64),
}

/// Share of the rated torque that a small three-phase motor gives when it is held: from the least locked-rotor torque to the
/// greatest breakdown torque of 1/2 to 2 hp, two to eight poles: NEMA MG 1-2016 Tables 12-2 and 12-3, from memory.
const THREE_PHASE: Between = Between { least: 1.35, most: 3.0 };
/// What is left of a magnet motor's stall torque when it is hot: copper that is 80 K warmer resists 1.314 times as much
/// (0.393 % per K at 20 degC).
const HOT: f64 = 1.0 / 1.314;
/// Turns and torque of one motor beside another of its type: common practice, no source.
const OF_ONE_TYPE: f64 = 0.10;

/// The torque of a stalled motor, N·m, by its rated power (W) at its rated turns (rad/s).
///
/// A magnet motor's torque falls in a straight line from stall to its idle turns: at rated turns it is the rated torque.
///
/// # Errors
/// If power or turns are not above zero, or it turns no faster with nothing to turn.
pub fn stall_torque(motor: Motor, power: f64, turns: f64) -> Result<Between, FormulaError> {
    let turns = check::positive("rated turns", turns)?;
    let rated = check::positive("rated power", power)? / turns;
    match motor {
        Motor::ThreePhase => Ok(THREE_PHASE.times(rated)),
        Motor::PermanentMagnet(idle) if idle > turns => {
            let stall = rated * idle / (idle - turns);
            Ok(Between { least: stall * HOT * (1.0 - OF_ONE_TYPE), most: stall * (1.0 + OF_ONE_TYPE) })
        }
        Motor::PermanentMagnet(_) => Err(FormulaError::domain("the idle turns", "more than the rated turns")),
    }
}

/// The pull at a rack, N, of a stalled motor: its torque through a gear of `ratio` and `efficiency` (0 to 1) on a pinion of
/// `radius` (m).
///
/// # Errors
/// As [`stall_torque`], and if ratio or radius are not above zero or the efficiency not between 0 and 1.
pub fn stall_pull(motor: Motor, power: f64, turns: f64, ratio: f64, efficiency: f64, radius: f64) -> Result<Between, FormulaError> {
    let torque = stall_torque(motor, power, turns)?;
    let efficiency = check::within("efficiency of the gear", efficiency, f64::MIN_POSITIVE, 1.0, "above 0 and not above 1")?;
    Ok(torque.times(check::positive("gear ratio", ratio)? * efficiency / check::positive("radius of the pinion", radius)?))
}

/// What keeps the rain out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Covering {
    /// Copper or steel sheet.
    SheetMetal,
    /// One sheet of plastic, or bituminous sheets with a smooth surface.
    Membrane,
    /// Asphalt shingles.
    AsphaltShingles,
    /// Wood shingles.
    WoodShingles,
    /// Clay tiles.
    ClayTile,
    /// Slate of 3/16 in to 1/4 in.
    Slate,
}

/// kg/m² of 1 psf.
const PSF: f64 = 0.453_592_37 / (0.3048 * 0.3048);
/// Of what a table gives one number for, the parts of one house from another: common practice, no source.
const OF_ONE_NUMBER: f64 = 0.25;
/// Plywood: 0.4 psf for each 1/8 in (ASCE 7-16 Table C3.1-1a, from memory), kg/m³.
const PLYWOOD: f64 = 0.4 * PSF / (0.125 * 0.0254);
/// Of plywood and boards, one from another: common practice, no source.
const OF_BOARDS: f64 = 0.15;
/// Softwood in the mean, C16 to C30: EN 338:2016 Table 1, kg/m³.
const SOFTWOOD: Between = Between { least: 370.0, most: 460.0 };

/// What a covering weighs, kg/m² of slope: ASCE 7-16 Table C3.1-1a, from memory.
#[must_use]
pub fn covering(covering: Covering) -> Between {
    let (least, most) = match covering {
        // Copper or tin; 20-gauge deck.
        Covering::SheetMetal => (1.0, 2.5),
        // Single-ply sheet; bituminous, smooth surface.
        Covering::Membrane => (0.7, 1.5),
        Covering::AsphaltShingles => (2.0 * (1.0 - OF_ONE_NUMBER), 2.0 * (1.0 + OF_ONE_NUMBER)),
        Covering::WoodShingles => (3.0 * (1.0 - OF_ONE_NUMBER), 3.0 * (1.0 + OF_ONE_NUMBER)),
        // Ludowici; Spanish.
        Covering::ClayTile => (10.0, 19.0),
        // 3/16 in; 1/4 in.
        Covering::Slate => (7.0, 10.0),
    };
    Between { least, most }.times(PSF)
}

/// What a roof weighs, kg/m² of slope: its covering, boards (m thick) and rafters (m wide and deep, m apart).
///
/// # Errors
/// If a measure of the rafters is not above zero, or the boards are less than nothing.
pub fn roof_build_up(cover: Covering, boards: f64, width: f64, depth: f64, spacing: f64) -> Result<Between, FormulaError> {
    let boards = check::not_negative("thickness of the boards", boards)?;
    let section = check::positive("width of the rafters", width)? * check::positive("depth of the rafters", depth)?;
    let rafters = SOFTWOOD.times(section / check::positive("spacing of the rafters", spacing)?);
    let plywood = Between { least: 1.0 - OF_BOARDS, most: 1.0 + OF_BOARDS }.times(boards * PLYWOOD);
    Ok(covering(cover).and(plywood).and(rafters))
}

/// What a hand can do with a lump of clay.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandTest {
    /// It oozes out between the fingers of a fist: very soft.
    OozesBetweenFingers,
    /// Light pressure of the fingers moulds it: soft.
    MouldsLightly,
    /// Strong pressure of the fingers moulds it: firm.
    MouldsHard,
    /// Fingers do not mould it, the thumb dents it: stiff.
    ThumbDents,
    /// The thumb does not dent it, its nail does: very stiff.
    NailDents,
}

/// Undrained shear strength of clay, Pa, from the least to the most of its class: BS 5930:2015 and EN ISO 14688-2:2018, from
/// memory.
#[must_use]
pub fn clay_strength(test: HandTest) -> Between {
    let (least, most) = match test {
        HandTest::OozesBetweenFingers => (10.0, 20.0),
        HandTest::MouldsLightly => (20.0, 40.0),
        HandTest::MouldsHard => (40.0, 75.0),
        HandTest::ThumbDents => (75.0, 150.0),
        HandTest::NailDents => (150.0, 300.0),
    };
    Between { least, most }.times(1000.0)
}

/// Safety of a foundation against what the ground fails at: common practice, no source.
const SAFETY: f64 = 3.0;

/// What clay of this undrained strength (Pa) may be loaded with, Pa: a third of what it fails at, (2 + π) times its strength
/// (Prandtl 1921), nothing for depth and shape.
///
/// # Errors
/// If the strength is not above zero.
pub fn clay_bearing(strength: f64) -> Result<f64, FormulaError> {
    Ok((2.0 + PI) * check::positive("strength of the clay", strength)? / SAFETY)
}

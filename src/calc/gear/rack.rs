//! The rack's length: what is left of it at the ends of the travel, and how it is made up of sections.
//!
//! In: where rack and pinion are with the roof shut, the travel, section length, pitch. Out: lengths,
//! teeth, joints, the piece cut off. It must not know forces. Plain geometry.

use crate::calc::{FormulaError, check};

/// Part of a pitch by which a length may miss a whole number of teeth and still count as whole.
const WHOLE: f64 = 0.01;

/// What carries the rack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mounting {
    /// The rack travels with the roof, the pinion stands.
    OnRoof,
    /// The rack stands, the pinion travels with the roof.
    OnBuilding,
}

/// Rack beyond the pinion's centre line where the travel takes the pinion nearest to each end, m;
/// negative if the pinion runs off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeftOver {
    /// Beyond the pinion at the end of the rack that it is nearest to with the roof shut.
    pub shut: f64,
    /// Beyond the pinion at the end of the rack that it is nearest to with the roof open.
    pub open: f64,
}

/// What is left of the rack at both ends of the travel.
///
/// `from` and `to` are the stations (m) of the rack's ends and `pinion` that of the pinion's axis, all
/// with the roof at travel 0; the roof goes from `shut_travel` to `open_travel` (m), stop to stop.
///
/// # Errors
/// If the rack has no length, or the travels are not in order.
pub fn left_over(
    (from, to): (f64, f64),
    pinion: f64,
    (shut_travel, open_travel): (f64, f64),
    mounting: Mounting,
) -> Result<LeftOver, FormulaError> {
    check::positive("length of the rack", to - from)?;
    check::finite("station of the pinion", pinion)?;
    check::positive("travel from stop to stop", open_travel - shut_travel)?;
    Ok(match mounting {
        // seen from the rack the pinion goes the other way
        Mounting::OnRoof => LeftOver { shut: to - (pinion - shut_travel), open: (pinion - open_travel) - from },
        Mounting::OnBuilding => LeftOver { shut: (pinion + shut_travel) - from, open: to - (pinion + open_travel) },
    })
}

/// A rack made up of equal sections, the last one cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Sections {
    /// Sections to buy.
    pub count: usize,
    /// Distance of each joint from the rack's beginning, m.
    pub joints: Vec<f64>,
    /// What is used of the last one, m.
    pub last: f64,
    /// What is cut off it, m.
    pub cut_off: f64,
    /// Length of the finished rack, a whole number of pitches, m.
    pub length: f64,
    /// Space to leave at each joint so that the pitch goes on, m: 0 if a section is a whole number of
    /// pitches. Butted without it, every joint shifts the teeth that follow by so much.
    pub space: f64,
}

/// The sections of a rack that is to be at least `wanted` (m) long, each `section` (m) long, with a `pitch`
/// (m).
///
/// The rack is cut in a gap between teeth, at the first whole number of pitches that is long enough.
///
/// # Errors
/// If a length or the pitch is not above zero, a section has no whole tooth, or there would be more than
/// a thousand.
pub fn sections(wanted: f64, section: f64, pitch: f64) -> Result<Sections, FormulaError> {
    let wanted = check::positive("length of the rack", wanted)?;
    let pitch = check::positive("pitch of the rack", pitch)?;
    let section = check::positive("length of a rack section", section)?;
    check::within("length of a rack section", section, pitch, f64::INFINITY, "a tooth or more")?;
    check::within("length of the rack", wanted, 0.0, 1000.0 * section, "at most 1000 sections")?;
    let up = |teeth: f64| (teeth - WHOLE).ceil();
    let teeth = up(wanted / pitch);
    let teeth_each = up(section / pitch);
    let whole_in_each = (section / pitch + WHOLE).floor();
    // all but the last take a step of whole pitches; the last has only the teeth that are whole in it
    let before_last = ((teeth - whole_in_each) / teeth_each).ceil().max(0.0);
    let last = (teeth - before_last * teeth_each).max(1.0);
    let step = teeth_each * pitch;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 1000")]
    let joints = before_last as usize;
    Ok(Sections {
        count: joints + 1,
        joints: std::iter::successors(Some(step), |at| Some(at + step)).take(joints).collect(),
        last: last * pitch,
        cut_off: (section - last * pitch).max(0.0),
        length: (before_last * teeth_each + last) * pitch,
        space: (step - section).max(0.0),
    })
}

/// Distance (m) from each joint to the nearest fixing before and behind it; infinite where there is none.
///
/// # Errors
/// If a place is not a finite number.
pub fn around_joints(joints: &[f64], fixings: &[f64]) -> Result<Vec<(f64, f64)>, FormulaError> {
    for place in joints.iter().chain(fixings) {
        check::finite("place along the rack", *place)?;
    }
    let nearest = |joint: f64| {
        fixings.iter().fold((f64::INFINITY, f64::INFINITY), |(before, behind), fixing| {
            if *fixing <= joint { (before.min(joint - fixing), behind) } else { (before, behind.min(fixing - joint)) }
        })
    };
    Ok(joints.iter().map(|joint| nearest(*joint)).collect())
}

//! A pinion in a rack: how many teeth share the work, how much play there is, which forces arise.
//!
//! In: a pinion, the radial gap by which it stands off its tight place, forces. Out: contact ratio,
//! backlash, forces. It must not know why there is a gap.
//!
//! With a rack the working pressure angle never changes, so that everything below is exact at any gap.

use super::geometry::{Pinion, usual_angle};
use crate::calc::{FormulaError, check};

/// Steps of the bisection for the first point of the involute; the last ones no longer change it.
const BISECTIONS: usize = 60;

/// The contact of rack and pinion along the line of action.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// Way along the line of action before the pitch point, m.
    pub approach: f64,
    /// Way after it, m.
    pub recess: f64,
    /// Mean number of teeth in contact, the involute taken as whole down to the base circle.
    pub ratio: f64,
    /// The same with what a rack-shaped cutter takes off the involute of a pinion with few teeth.
    pub ratio_undercut: f64,
    /// The rack's teeth reach beyond the pinion's involute: they do no work there.
    pub cut_short: bool,
    /// Length along the rack from the first to the last point of contact of a tooth, m.
    pub arc: f64,
}

/// The contact of a pinion that stands off its tight place by a radial `gap` (m).
///
/// `ε = [min((m − gap)/sin α, r sin α) + √(rₐ² − r_b²) − r sin α] / (π m cos α)`. Source: the contact
/// ratio of rack and pinion of the gear handbooks, the rack's addendum shortened by the gap and the
/// approach ended at the base circle, beyond which no involute is (SDP/SI, *Elements of Metric Gear
/// Technology*, 4.3). `ratio_undercut` goes further: the cutter's tip, a straight-sided rack of addendum
/// 1 m, removes some of the involute above the base circle as well.
///
/// # Errors
/// If the gap is negative, which would jam the teeth, or so large that they do not meet.
pub fn contact(pinion: &Pinion, gap: f64) -> Result<Contact, FormulaError> {
    let gap = check::not_negative("radial gap of the mesh", gap)?;
    let (sin, cos) = pinion.pressure_angle().sin_cos();
    let to_base = pinion.pitch_diameter() / 2.0 * sin;
    let reaches = (pinion.module() - gap) / sin;
    let approach = reaches.min(to_base);
    let recess = recess(pinion);
    if approach + recess <= 0.0 {
        return Err(FormulaError::domain("radial gap of the mesh", "small enough for the teeth to meet"));
    }
    let left = reaches.min(to_base - undercut(pinion));
    Ok(Contact {
        approach,
        recess,
        ratio: (approach + recess) / pinion.base_pitch(),
        ratio_undercut: (left + recess) / pinion.base_pitch(),
        cut_short: reaches > to_base,
        arc: (approach + recess) / cos,
    })
}

/// The largest radial gap, m, at which the contact ratio, undercut counted, is still the `wanted` one.
///
/// # Errors
/// If the pinion does not reach it even without a gap.
pub fn largest_gap(pinion: &Pinion, wanted: f64) -> Result<f64, FormulaError> {
    let wanted = check::positive("contact ratio wanted", wanted)?;
    // Deep in mesh the undercut bounds the approach whatever the gap: what is not reached there is reached nowhere.
    if contact(pinion, 0.0)?.ratio_undercut < wanted {
        return Err(FormulaError::domain("contact ratio wanted", "within this pinion's reach"));
    }
    let approach = wanted * pinion.base_pitch() - recess(pinion);
    Ok(pinion.module() - approach * pinion.pressure_angle().sin())
}

fn recess(pinion: &Pinion) -> f64 {
    let (tip, base) = (pinion.tip_diameter() / 2.0, pinion.base_diameter() / 2.0);
    (tip * tip - base * base).sqrt() - pinion.pitch_diameter() / 2.0 * pinion.pressure_angle().sin()
}

/// Length (m) of the line of action, from the base circle, on which the pinion has no involute because
/// the corner of the rack that cut it went through there.
fn undercut(pinion: &Pinion) -> f64 {
    let angle = pinion.pressure_angle();
    let (r, base) = (pinion.pitch_diameter() / 2.0, pinion.base_diameter() / 2.0);
    let depth = pinion.module();
    if depth <= r * angle.sin().powi(2) {
        return 0.0;
    }
    let involute = |a: f64| a.tan() - a;
    // how far the corner's path is ahead of the involute, as angles of the pinion, at a radius
    let ahead = |radius: f64| {
        let aside = (radius * radius - (r - depth).powi(2)).max(0.0).sqrt();
        let rolled = aside + depth * angle.tan();
        let path = aside.atan2(r - depth) - rolled / r;
        path - (involute((base / radius).min(1.0).acos()) - involute(angle))
    };
    let (mut cut, mut whole) = (base, r);
    let at_base = ahead(base);
    for _ in 0..BISECTIONS {
        let middle = f64::midpoint(cut, whole);
        if ahead(middle) * at_base > 0.0 {
            cut = middle;
        } else {
            whole = middle;
        }
    }
    (cut * cut - base * base).max(0.0).sqrt()
}

/// Play along the rack, m, of a radial gap (m): `2 ΔC tan α`.
///
/// # Errors
/// If the gap is negative or the pressure angle not between 10 and 35°.
pub fn backlash(gap: f64, pressure_angle: f64) -> Result<f64, FormulaError> {
    let gap = check::not_negative("radial gap of the mesh", gap)?;
    Ok(2.0 * gap * usual_angle(pressure_angle)?.tan())
}

/// Force, N, that presses rack and pinion apart at a `pull` (N) along the rack: `F tan α`.
///
/// # Errors
/// If the pull is negative or the pressure angle not between 10 and 35°.
pub fn separating_force(pull: f64, pressure_angle: f64) -> Result<f64, FormulaError> {
    Ok(check::not_negative("pull", pull)? * usual_angle(pressure_angle)?.tan())
}

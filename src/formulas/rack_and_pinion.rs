//! Rack and pinion: teeth in contact, play, forces, strength, length and sections of the rack.

use super::body::{may, needs};
use crate::calc::FormulaError;
use crate::calc::gear::{self, Making, Mounting, Pinion};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Parameter, Takes};

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const FORCE: Takes = Takes::Quantity(Dim::FORCE);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);
const ANGLE: Takes = Takes::Quantity(Dim::ANGLE);

const MODULE: Parameter = needs("module", LENGTH, "of the teeth");
const TEETH: Parameter = needs("teeth", NUMBER, "of the pinion");
const PRESSURE_ANGLE: Parameter = needs("pressure_angle", ANGLE, "of the teeth");

fn length(si: f64) -> Value {
    Value::quantity(si, Dim::LENGTH)
}

fn pinion(a: &Arguments) -> Result<Pinion, FormulaError> {
    Pinion::new(a.si(0), a.si(1), a.si(2))
}

fn rack_pitch(a: &Arguments) -> Result<Value, FormulaError> {
    // The pitch is that of any pinion of this module.
    Pinion::new(a.si(0), 20.0, 20_f64.to_radians()).map(|pinion| length(pinion.pitch()))
}

/// Teeth in contact; none once the teeth no longer reach each other.
fn contact_ratio(a: &Arguments) -> Result<Value, FormulaError> {
    let (pinion, gap) = (pinion(a)?, a.si(3).max(0.0));
    Ok(Value::number(gear::contact(&pinion, gap).map_or(0.0, |contact| contact.ratio_undercut.max(0.0))))
}

fn tooth_force(a: &Arguments) -> Result<Value, FormulaError> {
    let (stress, width, module, teeth) = (a.si(0), a.si(1), a.si(2), a.si(3));
    let form = if teeth == 0.0 { gear::rack_form_factor() } else { gear::form_factor(&Pinion::new(module, teeth, a.si(4))?)? };
    let velocity = gear::velocity_factor(a.optional(5).unwrap_or(0.0), Making::Cut)?;
    gear::force_allowed(stress, width, module, form, velocity).map(|force| Value::quantity(force, Dim::FORCE))
}

fn left_over(a: &Arguments) -> Result<Value, FormulaError> {
    let mounting = if a.flag(5) { Mounting::OnRoof } else { Mounting::OnBuilding };
    let left = gear::left_over((a.si(0), a.si(1)), a.si(2), (a.si(3), a.si(4)), mounting)?;
    Ok(Value::record(vec![("closed", length(left.shut)), ("open", length(left.open))]))
}

fn sections(a: &Arguments) -> Result<Value, FormulaError> {
    let made = gear::sections(a.si(0), a.si(1), a.si(2))?;
    let around = gear::around_joints(&made.joints, &a.list(3))?;
    // A joint without a fixing on one side stands free: it counts as a whole section away.
    let farthest = around.iter().flat_map(|(before, behind)| [*before, *behind]).map(|d| d.min(a.si(1))).fold(0.0, f64::max);
    #[expect(clippy::cast_precision_loss, reason = "at most a thousand")]
    let count = made.count as f64;
    Ok(Value::record(vec![
        ("count", Value::number(count)),
        ("joints", Value::list_of(made.joints, Dim::LENGTH)),
        ("last", length(made.last)),
        ("cut_off", length(made.cut_off)),
        ("length", length(made.length)),
        ("space", length(made.space)),
        ("joint_to_fixing", length(farthest)),
    ]))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "module_of_pitch",
        doc: "module of teeth that stand a pitch apart along the rack: p / pi",
        parameters: &[needs("pitch", LENGTH, "along the rack")],
        gives: "length",
        source: "ISO 54:1996",
        remembered: false,
        body: Body::Formula(|a| gear::module_of_pitch(a.si(0)).map(length)),
    },
    Function {
        name: "module_of_diametral_pitch",
        doc: "module of a diametral pitch: 25.4 mm / P",
        parameters: &[needs("teeth_per_inch", NUMBER, "teeth for each inch of pitch diameter")],
        gives: "length",
        source: "definition",
        remembered: false,
        body: Body::Formula(|a| gear::module_of_diametral_pitch(a.si(0)).map(length)),
    },
    Function {
        name: "rack_pitch",
        doc: "distance of the teeth along the rack: pi m",
        parameters: &[MODULE],
        gives: "length",
        source: "ISO 54:1996",
        remembered: false,
        body: Body::Formula(rack_pitch),
    },
    Function {
        name: "contact_ratio",
        doc: "mean number of teeth in contact, with what the cutter takes off a small pinion; 0 if the teeth do not meet",
        parameters: &[MODULE, TEETH, PRESSURE_ANGLE, needs("gap", LENGTH, "by which the pinion stands off its tight place")],
        gives: "number",
        source: "geometry: contact ratio of rack and pinion, full-depth teeth (ISO 53:1998)",
        remembered: false,
        body: Body::Formula(contact_ratio),
    },
    Function {
        name: "largest_mesh_gap",
        doc: "how far the pinion may stand off its tight place with so many teeth still in contact, with what the cutter takes off a small pinion; no answer where no gap gives as many",
        parameters: &[MODULE, TEETH, PRESSURE_ANGLE, needs("contact_ratio", NUMBER, "wanted")],
        gives: "length",
        source: "geometry: contact ratio of rack and pinion, full-depth teeth (ISO 53:1998)",
        remembered: false,
        body: Body::Formula(|a| gear::largest_gap(&pinion(a)?, a.si(3)).map(length)),
    },
    Function {
        name: "backlash",
        doc: "play along the rack of a radial gap: 2 tan(pressure angle) times the gap",
        parameters: &[needs("gap", LENGTH, "by which the pinion stands off its tight place"), PRESSURE_ANGLE],
        gives: "length",
        source: "geometry of straight-sided teeth",
        remembered: false,
        body: Body::Formula(|a| gear::backlash(a.si(0), a.si(1)).map(length)),
    },
    Function {
        name: "separating_force",
        doc: "what presses rack and pinion apart: pull times tan(pressure angle)",
        parameters: &[needs("pull", FORCE, "along the rack"), PRESSURE_ANGLE],
        gives: "force",
        source: "statics",
        remembered: false,
        body: Body::Formula(|a| gear::separating_force(a.si(0), a.si(1)).map(|force| Value::quantity(force, Dim::FORCE))),
    },
    Function {
        name: "tooth_force",
        doc: "pull at which the root of one tooth reaches the allowed bending stress: stress b m Y / Kv",
        parameters: &[
            needs("stress", Takes::Quantity(Dim::PRESSURE), "allowed"),
            needs("width", LENGTH, "of the teeth"),
            MODULE,
            needs("teeth", NUMBER, "of the pinion; 0 for a rack"),
            PRESSURE_ANGLE,
            may("speed", Takes::Quantity(Dim::SPEED), "of the rack; standstill if not given"),
        ],
        gives: "force",
        source: "Lewis 1892 with Barth's velocity factor; Shigley's Mechanical Engineering Design (9th ed. 2011), Table 14-2",
        remembered: false,
        body: Body::Formula(tooth_force),
    },
    Function {
        name: "rack_left_over",
        doc: "rack beyond the middle of the pinion at both ends of the travel; negative if the pinion runs off",
        parameters: &[
            needs("begins", LENGTH, "station of the rack's beginning, roof shut"),
            needs("ends", LENGTH, "station of its end, roof shut"),
            needs("pinion", LENGTH, "station of the pinion, roof shut"),
            needs("shut_travel", LENGTH, "travel at the closed stop"),
            needs("open_travel", LENGTH, "travel at the open stop"),
            needs("on_roof", Takes::Flag, "the rack travels with the roof, the pinion stands"),
        ],
        gives: "table: closed, open",
        source: "geometry",
        remembered: true,
        body: Body::Formula(left_over),
    },
    Function {
        name: "rack_sections",
        doc: "how a rack is made up of sections: how many, where the joints fall, what is cut off the last",
        parameters: &[
            needs("length", LENGTH, "that the rack needs"),
            needs("section", LENGTH, "of one section as bought"),
            needs("pitch", LENGTH, "of the teeth"),
            needs("fixings", Takes::List(Dim::LENGTH), "of the rack, from its beginning"),
        ],
        gives: "table: count, joints, last, cut_off, length, space (to leave at each joint), joint_to_fixing (the farthest)",
        source: "geometry; cut in a gap between teeth",
        remembered: true,
        body: Body::Formula(sections),
    },
];

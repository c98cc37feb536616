//! Fasteners in wood and steel: what one of them holds, pulled out or pushed sideways, at the level of working loads.
//!
//! In: diameters, lengths, the wood's density, how it is put in. Out: the hold of one fastener in a wind load, with the
//! steps on the way. NDS values are allowable stress; EN 1995 design values are divided by 1.5, the wind's factor, so that
//! both compare with the same pull. It must not know what is fastened.

use super::body::{may, needs};
use super::structure::CODES;
use super::timber::DAMP;
use crate::calc::FormulaError;
use crate::calc::fastener::adjustment::{self, Action, Moisture};
use crate::calc::fastener::en_lateral::{self, Dowel, Rope};
use crate::calc::fastener::yield_limit::{self, Joint, Mode};
use crate::calc::fastener::{bearing, combined, dowel_bearing, en_axial, en_embedment, en_layout, withdrawal};
use crate::calc::holddown::Combination;
use crate::calc::steel::{bolt, weld};
use crate::calc::timber::{en1995, nds};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Parameter, Takes};
use smol_str::SmolStr;
use std::f64::consts::FRAC_PI_2;

pub(super) const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const PRESSURE: Takes = Takes::Quantity(Dim::PRESSURE);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);
const FORCE: Takes = Takes::Quantity(Dim::FORCE);
pub(super) const DENSITY: Takes = Takes::Quantity(Dim::DENSITY);
/// Fasteners up to this diameter follow the rules of nails. Source: EN 1995-1-1 §8.7.1(4), (5).
const NAIL: f64 = 0.006;
const GRAINS: &[&str] = &["side", "end"];
const SORTS: &[&str] = &["lag_screw", "wood_screw", "bolt", "nail"];
const PLATES: &[&str] = &["hot_rolled", "cold_formed"];

pub(super) fn force(si: f64) -> Value {
    Value::quantity(si, Dim::FORCE)
}

pub(super) fn kmod(damp: &str) -> f64 {
    let service = match damp {
        "indoors" => en1995::ServiceClass::One,
        "outdoors" => en1995::ServiceClass::Three,
        _ => en1995::ServiceClass::Two,
    };
    en1995::kmod(service, en1995::Duration::Short)
}

/// A characteristic hold as a working load in the wind.
pub(super) fn worked(characteristic: f64, damp: &str) -> f64 {
    en1995::design_value(characteristic, kmod(damp), en1995::GAMMA_M_CONNECTION) / Combination::Equilibrium.working_load_divisor()
}

fn nds_lag_screw(a: &Arguments) -> Result<Value, FormulaError> {
    let grain = if a.word(9) == "end" { withdrawal::END_GRAIN_LAG } else { 1.0 };
    nds_screw(a, withdrawal::lag_screw(a.si(0), a.si(1))?, grain, "")
}

fn nds_wood_screw(a: &Arguments) -> Result<Value, FormulaError> {
    let per_length = withdrawal::wood_screw(a.si(0), a.si(1))?;
    if a.word(9) == "end" {
        return nds_screw(a, per_length, 0.0, "wood screws along the grain do not count");
    }
    nds_screw(a, per_length, 1.0, "")
}

/// A screw pulled: what a length of its thread holds, a factor for the grain that it stands in.
fn nds_screw(a: &Arguments, per_length: f64, grain: f64, why: &'static str) -> Result<Value, FormulaError> {
    let (diameter, root, tensile) = (a.si(1), a.si(2), a.si(3));
    let (length, thread, tip, through, wood) = (a.si(4), a.si(5), a.si(6), a.si(7), a.si(8));
    let in_wood = withdrawal::thread_in_main(length, through, thread, tip, wood)?;
    let duration = nds::load_duration_factor(nds::Duration::TenMinutes);
    let moisture = Moisture { made_wet: false, used_wet: a.word(10) == "outdoors" };
    let wet = adjustment::wet_service_factor(Action::ScrewWithdrawal, moisture, diameter, true);
    let wood_holds = per_length * in_wood * duration * wet * grain;
    let screw_holds = withdrawal::shank_tension(tensile, root);
    Ok(Value::record(vec![
        ("thread_in_wood", Value::quantity(in_wood, Dim::LENGTH)),
        ("per_length", Value::quantity(per_length, Dim::LINE_LOAD)),
        ("duration", Value::number(duration)),
        ("wet", Value::number(wet)),
        ("grain", Value::number(grain)),
        ("wood", force(wood_holds)),
        ("shank", force(screw_holds)),
        ("why", Value::Text(SmolStr::new_static(why))),
        ("holds", force(wood_holds.min(screw_holds))),
    ]))
}

/// How far a fastener bears in the wood that holds it: its bearing length for the equations, or why it does not count there.
/// What it is decides, not how long it is: a lag screw that comes out at the back is no bolt.
fn bearing_length(sort: &str, nominal: f64, tip: f64, length: f64, through: f64, wood: f64) -> Result<Result<f64, String>, FormulaError> {
    if sort == "bolt" {
        let reaches = length >= through + wood - 1e-9;
        return Ok(if reaches { Ok(wood) } else { Err("the bolt does not come out at the other side".to_owned()) });
    }
    let depth = (length - through).min(wood);
    let tip_in_wood = (tip - (length - through - wood).max(0.0)).max(0.0);
    // Lag screws four diameters without the tip, wood screws and nails six with it. Source: NDS 2018 §12.1.4.6, 12.1.5.6, 12.1.6.5.
    let (least, counted) = if sort == "lag_screw" { (4.0, depth - tip_in_wood) } else { (6.0, depth) };
    if counted < least * nominal - 1e-9 {
        return Ok(Err(format!("it reaches less than {least} diameters into the wood")));
    }
    yield_limit::main_bearing_length(depth, tip_in_wood, nominal, least).map(Ok)
}

fn nds_lateral(a: &Arguments) -> Result<Value, FormulaError> {
    let (gravity, nominal, diameter, bending_yield, sort) = (a.si(0), a.si(1), a.si(2), a.si(3), a.word(4));
    let (length, tip, through, wood) = (a.si(5), a.si(6), a.si(7), a.si(8));
    let (end_grain, damp) = (a.word(9) == "end", a.word(10));
    let angle = if end_grain { FRAC_PI_2 } else { a.si(11) };
    let penetration = (length - through).min(wood);
    let main = match bearing_length(sort, nominal, tip, length, through, wood)? {
        Ok(main) => main,
        Err(why) => {
            return Ok(Value::record(vec![
                ("holds", force(0.0)),
                ("why", Value::Text(why.into())),
                ("penetration", Value::quantity(penetration, Dim::LENGTH)),
            ]));
        }
    };
    let side_bearing = match (a.optional(12), a.optional(14)) {
        (Some(side), _) => dowel_bearing::wood(side, nominal, angle)?,
        (None, Some(strength)) if a.word(13) == "hot_rolled" => dowel_bearing::hot_rolled_steel(strength),
        (None, Some(strength)) => dowel_bearing::cold_formed_steel(strength),
        (None, None) => {
            return Err(FormulaError::domain("what the fastener crosses", "a side member of wood, or a plate with its strength"));
        }
    };
    let joint = Joint {
        nominal,
        diameter,
        bending_yield,
        main_length: main,
        side_length: through,
        main_bearing: dowel_bearing::wood(gravity, nominal, angle)?,
        side_bearing,
        angle,
    };
    let found = yield_limit::single_shear(&joint)?;
    let duration = nds::load_duration_factor(nds::Duration::TenMinutes);
    let wet = adjustment::wet_service_factor(Action::Lateral, Moisture { made_wet: false, used_wet: damp == "outdoors" }, nominal, true);
    let grain = if end_grain { adjustment::END_GRAIN_LATERAL } else { 1.0 };
    let slant = if a.flag(15) { adjustment::toe_nail_factor(Action::Lateral) } else { 1.0 };
    let mode = match found.mode {
        Mode::Im => "I_m",
        Mode::Is => "I_s",
        Mode::II => "II",
        Mode::IIIm => "III_m",
        Mode::IIIs => "III_s",
        Mode::IV => "IV",
    };
    Ok(Value::record(vec![
        ("penetration", Value::quantity(penetration, Dim::LENGTH)),
        ("mode", Value::Text(SmolStr::new_static(mode))),
        ("plate_bearing", Value::quantity(side_bearing, Dim::PRESSURE)),
        ("reference", force(found.value)),
        ("duration", Value::number(duration)),
        ("wet", Value::number(wet)),
        ("grain", Value::number(grain)),
        ("slant", Value::number(slant)),
        ("why", Value::Text(SmolStr::default())),
        ("holds", force(found.value * duration * wet * grain * slant)),
    ]))
}

fn en_screw(a: &Arguments) -> Result<Value, FormulaError> {
    let (density, diameter, root, tensile) = (a.si(0), a.si(1), a.si(2), a.si(3));
    let (length, thread, through, wood) = (a.si(4), a.si(5), a.si(6), a.si(7));
    let (end_grain, damp, count) = (a.word(8) == "end", a.word(9), a.si(10));
    let in_wood = withdrawal::thread_in_main(length, through, thread, diameter, wood)?;
    let why = if end_grain {
        "screws along the grain do not count"
    } else if in_wood < 6.0 * diameter {
        "its thread reaches less than 6 diameters into the wood"
    } else {
        ""
    };
    let shank = worked(tensile * std::f64::consts::FRAC_PI_4 * root * root, "indoors");
    let one = if why.is_empty() {
        let screws = en_axial::Screws { diameter, root, thread: in_wood, angle: FRAC_PI_2, count: 1 };
        match a.optional(11) {
            Some(declared) => en_axial::declared_screws(&screws, declared, density, a.optional(12).unwrap_or(density))?,
            None => en_axial::screws(&screws, density)?,
        }
    } else {
        0.0
    };
    // EN 1995-1-1 eq. 8.41 on each one, so that n times it is the group.
    let group = if count > 1.0 { count.powf(0.9) / count } else { 1.0 };
    let wood_holds = worked(one, damp) * group;
    Ok(Value::record(vec![
        ("thread_in_wood", Value::quantity(in_wood, Dim::LENGTH)),
        ("characteristic", force(one)),
        ("kmod", Value::number(kmod(damp))),
        ("group", Value::number(group)),
        ("wood", force(wood_holds)),
        ("shank", force(shank)),
        ("why", Value::Text(SmolStr::new_static(why))),
        ("holds", force(wood_holds.min(shank))),
    ]))
}

fn en_lateral(a: &Arguments) -> Result<Value, FormulaError> {
    let (density, nominal, diameter, tensile) = (a.si(0), a.si(1), a.si(2), a.si(3));
    let (sort, length, through, wood) = (a.word(4), a.si(5), a.si(6), a.si(7));
    let (damp, angle, row) = (a.word(8), a.si(9), a.si(10));
    let nail = sort != "bolt" && nominal <= NAIL;
    let depth = (length - through).min(wood);
    // Smooth nails eight diameters, thin screws six as other nails, thick ones four. Source: EN 1995-1-1 §8.3.1.2(1), (2), §8.7.1(2).
    let least = match sort {
        "bolt" => (wood - 1e-9) / nominal,
        "nail" => 8.0,
        _ if nail => 6.0,
        _ => 4.0,
    };
    if depth < least * nominal - 1e-9 {
        let why = if sort == "bolt" {
            "the bolt does not come out at the other side".to_owned()
        } else {
            format!("it reaches less than {least} diameters into the wood")
        };
        return Ok(Value::record(vec![("holds", force(0.0)), ("why", Value::Text(why.into()))]));
    }
    let embedment = |density: f64| {
        if nail {
            en_embedment::nail(density, nominal, false)
        } else {
            en_embedment::bolt(density, diameter, angle, en_embedment::Wood::Softwood)
        }
    };
    // Without the rope effect: on the safe side.
    let dowel = Dowel {
        diameter,
        yield_moment: en_embedment::yield_moment_round(tensile, diameter)?,
        withdrawal: 0.0,
        rope_limit: Rope::Dowel.limit(),
    };
    let point = en_lateral::Member { thickness: depth, embedment: embedment(density)? };
    let found = match (a.optional(12), a.optional(13)) {
        (Some(side), _) => {
            en_lateral::timber_single(&dowel, en_lateral::Member { thickness: through, embedment: embedment(side)? }, point)?
        }
        // In a hole that is not tight even a thick plate lets the fastener turn. Source: EN 1995-1-1 §8.2.3(1).
        (None, Some(hole)) if hole - nominal >= 0.1 * nominal - 1e-9 => {
            en_lateral::steel_single(&dowel, through.min(nominal / 2.0), point)?
        }
        (None, _) => en_lateral::steel_single(&dowel, through, point)?,
    };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a row is a small whole number of fasteners")]
    let in_row = row.clamp(1.0, 1000.0) as u32;
    let spacing = a.si(11);
    let counts = if in_row == 1 {
        1.0
    } else if nail {
        // Nails in a row across the load, or staggered, all count; along it fewer.
        let along = en_layout::effective_nails(in_row, spacing.max(7.0 * nominal), nominal, false)?;
        along + (angle / FRAC_PI_2).clamp(0.0, 1.0) * (f64::from(in_row) - along)
    } else {
        en_layout::effective_bolts(in_row, spacing, nominal, angle)?
    };
    let group = counts / f64::from(in_row);
    Ok(Value::record(vec![
        ("mode", Value::Text(SmolStr::new(found.mode.to_string()))),
        ("characteristic", force(found.value)),
        ("kmod", Value::number(kmod(damp))),
        ("group", Value::number(group)),
        ("why", Value::Text(SmolStr::default())),
        ("holds", force(worked(found.value, damp) * group)),
    ]))
}

fn through_bolt(a: &Arguments) -> Result<Value, FormulaError> {
    let (diameter, stress_area, tensile, washer, hole) = (a.si(0), a.si(1), a.si(2), a.si(3), a.si(4));
    let (across_the_grain, damp, by_nds) = (a.si(5), a.word(6), a.word(7) == "asce7");
    let area = bearing::round_washer_area(washer, hole)?;
    let (steel, wood) = if by_nds {
        let wet = if damp == "outdoors" { 0.67 } else { 1.0 };
        let steel = bolt::aisc_tension(diameter, bolt::threaded_part(tensile, true));
        (steel, bearing::nds_washer(across_the_grain * wet, area, washer, f64::INFINITY)?)
    } else {
        let class = match tensile / 1.0e6 {
            t if t < 450.0 => bolt::PropertyClass::C4_6,
            t if t < 650.0 => bolt::PropertyClass::C5_6,
            t if t < 750.0 => bolt::PropertyClass::A70,
            t if t < 900.0 => bolt::PropertyClass::C8_8,
            _ => bolt::PropertyClass::C10_9,
        };
        let steel = bolt::en_tension(class, stress_area) / Combination::Equilibrium.working_load_divisor();
        (steel, worked(bearing::en_washer(across_the_grain, area), damp))
    };
    Ok(Value::record(vec![
        ("washer_area", Value::quantity(area, Dim::AREA)),
        ("bolt", force(steel)),
        ("under_the_washer", force(wood)),
        ("holds", force(steel.min(wood))),
    ]))
}

fn fillet_weld(a: &Arguments) -> Result<Value, FormulaError> {
    let (leg, length, strength, yield_stress) = (a.si(0), a.si(1), a.si(2), a.si(3));
    let holds = if a.word(4) == "asce7" {
        let weld = weld::aisc_fillet(leg, length, strength, 0.0)?;
        a.optional(5)
            .map_or(weld, |part| weld.min(weld::aisc_base_metal(part, length, yield_stress, a.optional(6).unwrap_or(yield_stress))))
    } else {
        let correlation = weld::en_correlation_factor(yield_stress);
        weld::en_fillet(weld::throat(leg), length, strength, correlation)? / Combination::Equilibrium.working_load_divisor()
    };
    Ok(force(holds))
}

fn pulled_and_pushed(a: &Arguments) -> Result<Value, FormulaError> {
    let (pull, push, withdrawal, lateral) = (a.si(0).max(0.0), a.si(1).abs(), a.si(2), a.si(3));
    if (pull > 0.0 && withdrawal <= 0.0) || (push > 0.0 && lateral <= 0.0) {
        return Ok(Value::number(f64::from(u16::MAX)));
    }
    let used = match (pull > 0.0, push > 0.0) {
        (false, false) => 0.0,
        (true, false) => pull / withdrawal,
        (false, true) => push / lateral,
        (true, true) if a.word(4) == "asce7" && a.flag(5) => combined::nail_ratio(pull, push, withdrawal, lateral)?,
        (true, true) if a.word(4) == "asce7" => combined::screw_ratio(pull, push, withdrawal, lateral)?,
        (true, true) if a.flag(5) => en_axial::smooth_nail_ratio(pull, withdrawal, push, lateral)?,
        // The square root: 1 is the limit of both, and twice the load gives twice the number.
        (true, true) => en_axial::screw_ratio(pull, withdrawal, push, lateral)?.sqrt(),
    };
    Ok(Value::number(used))
}

pub(super) const GRAVITY: Parameter = needs("gravity", NUMBER, "specific gravity G of the wood that holds it");
const RHO: Parameter = needs("density", DENSITY, "characteristic density of the wood that holds it");
const DIAMETER: Parameter = needs("diameter", LENGTH, "nominal");
const ROOT: Parameter = needs("root", LENGTH, "diameter at the root of its thread");
const TENSILE: Parameter = needs("tensile_strength", PRESSURE, "of its steel");
pub(super) const WHOLE: Parameter = needs("length", LENGTH, "under its head");
const THREAD: Parameter = needs("thread", LENGTH, "length of its thread, the tip included");
const TIP: Parameter = needs("tip", LENGTH, "length of its tapered tip");
pub(super) const THROUGH: Parameter = needs("through", LENGTH, "what it crosses before that wood: washer, plate or side member");
pub(super) const WOOD: Parameter = needs("wood", LENGTH, "thickness of that wood along it");
pub(super) const GRAIN: Parameter = needs("grain", Takes::Word(GRAINS), "whether it goes into side grain or end grain");
pub(super) const DAMPNESS: Parameter = needs("damp", Takes::Word(DAMP), "where it is");
const SORT: Parameter = needs("sort", Takes::Word(SORTS), "what it is: a bolt goes right through, the others have a point in the wood");
const COUNT: Parameter = needs("count", NUMBER, "how many act together");
const ANGLE: Parameter = needs("angle", Takes::Quantity(Dim::ANGLE), "between the push and the grain");

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "nds_lag_screw",
        doc: "pull that one lag screw holds in the wind: 1800 G^1.5 D^0.75 on the thread in the wood without its tip, and the screw itself",
        parameters: &[GRAVITY, DIAMETER, ROOT, TENSILE, WHOLE, THREAD, TIP, THROUGH, WOOD, GRAIN, DAMPNESS],
        gives: "table: thread_in_wood, per_length, duration, wet, grain, wood, shank, holds, why",
        source: "NDS 2018 §12.2.1, Tables 2.3.2, 11.3.3",
        remembered: true,
        body: Body::Formula(nds_lag_screw),
    },
    Function {
        name: "nds_wood_screw",
        doc: "pull that one wood screw holds in the wind: 2850 G^2 D on the thread in the wood, and the screw itself; nothing in end grain",
        parameters: &[GRAVITY, DIAMETER, ROOT, TENSILE, WHOLE, THREAD, TIP, THROUGH, WOOD, GRAIN, DAMPNESS],
        gives: "table: thread_in_wood, per_length, duration, wet, grain, wood, shank, holds, why",
        source: "NDS 2018 §12.2.2, Tables 2.3.2, 11.3.3",
        remembered: true,
        body: Body::Formula(nds_wood_screw),
    },
    Function {
        name: "nds_lateral",
        doc: "push that one screw or bolt takes in the wind, single shear, by the yield limit equations",
        parameters: &[
            GRAVITY,
            DIAMETER,
            needs("bends_at", LENGTH, "diameter in the equations: the root for threads in the shear plane, else the shank"),
            needs("bending_yield", PRESSURE, "Fyb"),
            SORT,
            WHOLE,
            TIP,
            THROUGH,
            WOOD,
            GRAIN,
            DAMPNESS,
            ANGLE,
            may("side_gravity", NUMBER, "specific gravity of a side member of wood; a steel plate if it is not given"),
            may(
                "plate_steel",
                Takes::Word(PLATES),
                "how the steel plate was made: 1.5 Fu bear in a hot-rolled one, 1.375 Fu in a cold-formed one; cold-formed if it is not given",
            ),
            may("plate_strength", PRESSURE, "tensile strength Fu of the steel plate"),
            may("toe_nailed", Takes::Flag, "driven at a slant: 0.83 of it"),
        ],
        gives: "table: penetration, mode, plate_bearing, reference, duration, wet, grain, slant, holds, why",
        source: "NDS 2018 §12.1.4.6, 12.1.5.6, 12.1.6.5, 12.3.1, 12.5.2, 12.5.4, Tables 2.3.2, 11.3.3, Appendix I.2",
        remembered: true,
        body: Body::Formula(nds_lateral),
    },
    Function {
        name: "en_screw",
        doc: "pull that each of several screws holds in the wind, at the level of working loads",
        parameters: &[
            RHO,
            DIAMETER,
            ROOT,
            TENSILE,
            WHOLE,
            THREAD,
            THROUGH,
            WOOD,
            GRAIN,
            DAMPNESS,
            COUNT,
            may("parameter", PRESSURE, "declared withdrawal parameter, for screws thinner than 6 mm or thicker than 12 mm"),
            may("at_density", DENSITY, "density that it was declared at"),
        ],
        gives: "table: thread_in_wood, characteristic, kmod, group, wood, shank, holds, why",
        source: "EN 1995-1-1:2004 §8.7.2, Table 3.1, Table 2.3; divided by 1.5",
        remembered: true,
        body: Body::Formula(en_screw),
    },
    Function {
        name: "en_lateral",
        doc: "push that each of several screws or bolts takes in the wind, single shear, without rope effect, at the level of working loads",
        parameters: &[
            RHO,
            DIAMETER,
            needs("bends_at", LENGTH, "effective diameter: 1.1 times the root for threads in the shear plane, else the shank"),
            TENSILE,
            SORT,
            WHOLE,
            THROUGH,
            WOOD,
            DAMPNESS,
            ANGLE,
            needs("row", NUMBER, "how many stand one behind the other along the grain"),
            needs("spacing", LENGTH, "from one to the next in such a row"),
            may("side_density", DENSITY, "characteristic density of a side member of wood; a steel plate if it is not given"),
            may("hole", LENGTH, "in the steel plate: a tenth of the diameter wider or more, and the plate counts as a thin one"),
        ],
        gives: "table: mode, characteristic, kmod, group, holds, why",
        source: "EN 1995-1-1:2004 §8.2, 8.3.1, 8.5.1, 8.7.1, Table 3.1, Table 2.3; divided by 1.5",
        remembered: true,
        body: Body::Formula(en_lateral),
    },
    Function {
        name: "through_bolt",
        doc: "pull that one bolt through timber holds: the bolt itself, and the wood under its washer",
        parameters: &[
            DIAMETER,
            needs("stress_area", Takes::Quantity(Dim::AREA), "of its thread"),
            TENSILE,
            needs("washer", LENGTH, "diameter of its washer"),
            needs("hole", LENGTH, "diameter of the hole"),
            needs("bearing", PRESSURE, "of the wood across the grain: Fc across, fc,90,k"),
            DAMPNESS,
            needs("code", Takes::Word(CODES), "whose"),
        ],
        gives: "table: washer_area, bolt, under_the_washer, holds",
        source: "AISC 360-16 §J3.6, NDS 2018 §3.10; EN 1993-1-8:2005 Table 3.4, EN 1995-1-1:2004 §8.5.2, divided by 1.5",
        remembered: true,
        body: Body::Formula(through_bolt),
    },
    Function {
        name: "fillet_weld",
        doc: "force that a fillet weld takes, whichever way it is loaded",
        parameters: &[
            needs("leg", LENGTH, "of the weld"),
            needs("length", LENGTH, "of the weld, all runs together"),
            needs("strength", PRESSURE, "of the electrode (asce7), of the weaker part (eurocode)"),
            needs("yield_stress", PRESSURE, "of the weaker part"),
            needs("code", Takes::Word(CODES), "whose"),
            may("part", LENGTH, "thickness of the thinner part: beside the weld it shears by asce7"),
            may("part_strength", PRESSURE, "tensile strength of that part; its yield stress if it is not given"),
        ],
        gives: "force",
        source: "AISC 360-16 §J2.4, J4.2; EN 1993-1-8:2005 §4.5.3.3, divided by 1.5",
        remembered: false,
        body: Body::Formula(fillet_weld),
    },
    Function {
        name: "smallest_weld",
        doc: "least leg of a fillet weld, so that a thick part does not chill it",
        parameters: &[needs("thinner", LENGTH, "thickness of the thinner part joined")],
        gives: "length",
        source: "AISC 360-16 Table J2.4",
        remembered: false,
        body: Body::Formula(|a| Ok(Value::quantity(weld::aisc_smallest_leg(a.si(0)), Dim::LENGTH))),
    },
    Function {
        name: "pulled_and_pushed",
        doc: "how much of a joint is used by a pull and a push at once; 1 is the limit",
        parameters: &[
            needs("pull", FORCE, "along the fasteners"),
            needs("push", FORCE, "across the fasteners"),
            needs("holds_pull", FORCE, "what the joint holds of a pull alone"),
            needs("holds_push", FORCE, "what the joint holds of a push alone"),
            needs("code", Takes::Word(CODES), "whose rule for both together"),
            may("nailed", Takes::Flag, "by smooth nails"),
        ],
        gives: "number",
        source: "NDS 2018 §12.4; EN 1995-1-1:2004 eq. 8.27, 8.28",
        remembered: false,
        body: Body::Formula(pulled_and_pushed),
    },
];

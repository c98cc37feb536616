//! Electricity for the roof: wire, motors, batteries.
//!
//! In: resistances per length, currents, voltages, temperatures, charges. Out: the same. The tables of wire stand in the
//! catalogue and the limits in the rules.

use super::body::needs;
use crate::calc::FormulaError;
use crate::calc::power::battery::{Battery, Draw, lasts, stroke_charge, strokes};
use crate::calc::power::motor::{
    Feed, Phases, full_load_current, locked_rotor_band, locked_rotor_current, stall_current, voltage_at_stall,
};
use crate::calc::power::wire::{
    Circuit, Metal, ambient_factor, ampacity, awg_area, awg_diameter, resistance_from_20_celsius, resistance_from_75_celsius,
    resistance_from_k, voltage_drop,
};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Takes};

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);
const CURRENT: Takes = Takes::Quantity(Dim::CURRENT);
const VOLTAGE: Takes = Takes::Quantity(Dim::VOLTAGE);
const RESISTANCE: Takes = Takes::Quantity(Dim::RESISTANCE);
const PER_LENGTH: Takes = Takes::Quantity(Dim::RESISTANCE_PER_LENGTH);
const TEMPERATURE: Takes = Takes::Quantity(Dim::TEMPERATURE);
const TIME: Takes = Takes::Quantity(Dim::TIME);
const CHARGE: Takes = Takes::Quantity(Dim::CHARGE);
const CIRCUITS: &[&str] = &["two_wire", "three_phase"];

/// Zero of the Celsius scale, K.
const ICE: f64 = 273.15;

fn circuit(word: &str) -> Circuit {
    if word == "three_phase" { Circuit::ThreePhase } else { Circuit::TwoWire }
}

fn wire_resistance(a: &Arguments) -> Result<Value, FormulaError> {
    let metal = if a.word(0) == "aluminium" { Metal::Aluminium } else { Metal::Copper };
    let (table, celsius) = (a.si(2) - ICE, a.si(3) - ICE);
    let is = |usual: f64| (table - usual).abs() < 0.5;
    let resistance = if is(75.0) {
        resistance_from_75_celsius(metal, a.si(1), celsius)
    } else if is(20.0) {
        resistance_from_20_celsius(metal, a.si(1), celsius)
    } else {
        Err(FormulaError::domain("the temperature of the table", "20 degC (IEC 60228) or 75 degC (NEC chapter 9, Table 8)"))
    };
    resistance.map(|resistance| Value::quantity(resistance, Dim::RESISTANCE_PER_LENGTH))
}

fn drop(a: &Arguments) -> Result<Value, FormulaError> {
    voltage_drop(circuit(a.word(0)), a.si(1), a.si(2), a.si(3)).map(|drop| Value::quantity(drop, Dim::VOLTAGE))
}

fn allowed_current(a: &Arguments) -> Result<Value, FormulaError> {
    ampacity(a.si(0), &a.list(1), &a.list(2)).map(|current| Value::quantity(current, Dim::CURRENT))
}

fn locked_rotor(a: &Arguments) -> Result<Value, FormulaError> {
    let mut letters = a.word(1).chars();
    let (Some(letter), None) = (letters.next(), letters.next()) else {
        return Err(FormulaError::domain("the locked-rotor code letter", "one letter"));
    };
    // The band's upper end is the worst; the last letter has none.
    let Some(most) = locked_rotor_band(letter)?.high else {
        return Err(FormulaError::domain(
            "the locked-rotor code letter",
            "one below V: V says 22.4 kVA per horsepower or more and no upper end, so take the current of the data sheet",
        ));
    };
    let phases = if a.word(3) == "three_phase" { Phases::Three } else { Phases::One };
    locked_rotor_current(a.si(0), most, a.si(2), phases).map(|current| Value::quantity(current, Dim::CURRENT))
}

fn nec_motor_current(a: &Arguments) -> Result<Value, FormulaError> {
    let feed = match (a.word(0), a.word(3)) {
        ("direct_current", _) => Feed::Direct,
        (_, "three_phase") => Feed::ThreePhase,
        _ => Feed::OnePhase,
    };
    let nameplate = a.si(4);
    let current = full_load_current(feed, a.si(1), a.si(2)).map_or(nameplate, |table| table.max(nameplate));
    Ok(Value::quantity(current, Dim::CURRENT))
}

fn draws(a: &Arguments, at: usize) -> Result<Vec<Draw>, FormulaError> {
    let (currents, times) = (a.list(at), a.list(at + 1));
    if currents.len() != times.len() {
        return Err(FormulaError::domain("each current of a stroke", "given with its time"));
    }
    Ok(currents.into_iter().zip(times).map(|(current, time)| Draw { current, time }).collect())
}

fn battery(a: &Arguments) -> Battery {
    Battery { charge: a.si(0), rated_time: a.si(1), exponent: a.si(2) }
}

fn battery_lasts(a: &Arguments) -> Result<Value, FormulaError> {
    lasts(battery(a), a.si(3)).map(|time| Value::quantity(time, Dim::TIME))
}

fn battery_strokes(a: &Arguments) -> Result<Value, FormulaError> {
    strokes(battery(a), a.si(3), &draws(a, 4)?).map(Value::number)
}

macro_rules! from {
    ($name:literal, $doc:literal, [$($parameter:expr),* $(,)?], $gives:literal, $source:expr, $body:expr) => {
        Function { name: $name, doc: $doc, parameters: &[$($parameter),*], gives: $gives, source: $source, remembered: false, body: Body::Formula($body) }
    };
}

const OHM: &str = "Ohm's law";
const ASTM: &str = "ASTM B258-02";
const PEUKERT: &str = "Peukert 1897, in the form with the rated time: t = H (C/(I H))^k";

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    from!(
        "wire_resistance",
        "resistance per length of a wire at a temperature, from its table",
        [
            needs("metal", Takes::Word(&["copper", "aluminium"]), "of the conductor"),
            needs("resistance", PER_LENGTH, "as the table gives it"),
            needs("table", TEMPERATURE, "of the table: 20 degC (IEC 60228) or 75 degC (NEC)"),
            needs("temperature", TEMPERATURE, "of the conductor"),
        ],
        "resistance_per_length",
        "NEC 2020 chapter 9, Table 8 note 2; IEC 60228:2004 annex B",
        wire_resistance
    ),
    from!(
        "voltage_drop",
        "volts lost in a run: 2 I R L out and back on two wires, sqrt(3) I R L between three phases",
        [
            needs("circuit", Takes::Word(CIRCUITS), "how the current comes back"),
            needs("current", CURRENT, "that flows"),
            needs("resistance", PER_LENGTH, "of one wire, at its working temperature"),
            needs("length", LENGTH, "one way"),
        ],
        "voltage",
        OHM,
        drop
    ),
    from!(
        "ambient_factor",
        "factor on a table's ampacity for another air temperature: sqrt((Tc - Ta')/(Tc - Ta))",
        [
            needs("rating", TEMPERATURE, "that the insulation stands"),
            needs("table", TEMPERATURE, "air temperature of the table"),
            needs("ambient", TEMPERATURE, "air temperature where the wire lies"),
        ],
        "number",
        "NEC 2020 310.15(B), equation and Table 310.15(B)(1)",
        |a| ambient_factor(a.si(0) - ICE, a.si(1) - ICE, a.si(2) - ICE).map(Value::number)
    ),
    from!(
        "ampacity",
        "current that a wire may carry: the table's times every factor, but never more than the lowest limit",
        [
            needs("table", CURRENT, "ampacity of the table"),
            needs("factors", Takes::List(Dim::NUMBER), "for heat, for bundling"),
            needs("limits", Takes::List(Dim::CURRENT), "of terminals, of small conductors"),
        ],
        "current",
        "NEC 2020 110.14(C), 240.4(D), 310.15: correct first, then cap",
        allowed_current
    ),
    from!(
        "awg_diameter",
        "diameter of a solid wire of American gauge; 0000 is -3",
        [needs("gauge", NUMBER, "from -3 to 40")],
        "length",
        ASTM,
        |a| { awg_diameter(a.si(0)).map(|diameter| Value::quantity(diameter, Dim::LENGTH)) }
    ),
    from!(
        "awg_area",
        "area of metal of a wire of American gauge; 0000 is -3",
        [needs("gauge", NUMBER, "from -3 to 40")],
        "area",
        ASTM,
        |a| { awg_area(a.si(0)).map(|area| Value::quantity(area, Dim::AREA)) }
    ),
    from!(
        "resistance_from_k",
        "resistance per length by the electrician's constant K in ohm circular mils per foot, 12.9 for copper at 75 degC",
        [needs("k", NUMBER, "the constant"), needs("area", Takes::Quantity(Dim::AREA), "of the conductor")],
        "resistance_per_length",
        "Ohm's law, in the form 2 K I L/CM",
        |a| resistance_from_k(a.si(0), a.si(1)).map(|resistance| Value::quantity(resistance, Dim::RESISTANCE_PER_LENGTH))
    ),
    from!(
        "stall_current",
        "current of a direct-current motor that is held fast or just starts: V/R",
        [needs("voltage", VOLTAGE, "of the supply"), needs("resistance", RESISTANCE, "of winding, wire and source together")],
        "current",
        OHM,
        |a| stall_current(a.si(0), a.si(1)).map(|current| Value::quantity(current, Dim::CURRENT))
    ),
    from!(
        "voltage_at_stall",
        "voltage left at a direct-current motor while it is held fast behind a wire",
        [
            needs("voltage", VOLTAGE, "of the supply"),
            needs("motor", RESISTANCE, "of the winding"),
            needs("wire", RESISTANCE, "out and back")
        ],
        "voltage",
        OHM,
        |a| voltage_at_stall(a.si(0), a.si(1), a.si(2)).map(|voltage| Value::quantity(voltage, Dim::VOLTAGE))
    ),
    from!(
        "locked_rotor_current",
        "current of an alternating-current motor that just starts, from the code letter on its nameplate",
        [
            needs("power", Takes::Quantity(Dim::POWER), "on the nameplate"),
            needs("code_letter", Takes::Text, "A to U; V is open upward"),
            needs("voltage", VOLTAGE, "between the lines"),
            needs("circuit", Takes::Word(CIRCUITS), "how it is fed"),
        ],
        "current",
        "NEC 2020 430.7(B), which is NEMA MG 1",
        locked_rotor
    ),
    from!(
        "nec_motor_current",
        "current by which the wire of a motor is chosen: that of the code's table for its power and voltage, the next larger power if there is no such row; the nameplate's where the table has no such line or says less",
        [
            needs("sort", Takes::Word(&["direct_current", "alternating_current"]), "of motor"),
            needs("power", Takes::Quantity(Dim::POWER), "on the nameplate"),
            needs("voltage", VOLTAGE, "of the system"),
            needs("circuit", Takes::Word(CIRCUITS), "how it is fed"),
            needs("nameplate", CURRENT, "on the nameplate"),
        ],
        "current",
        "NEC 2020 (2020) 430.6(A), Tables 430.247, 430.248, 430.250",
        nec_motor_current
    ),
    from!(
        "battery_lasts",
        "time until a full battery is empty at a steady current",
        [
            needs("charge", CHARGE, "rated"),
            needs("rated_time", TIME, "of discharge for which it is rated"),
            needs("exponent", NUMBER, "Peukert's: 1 to 2"),
            needs("current", CURRENT, "drawn"),
        ],
        "time",
        PEUKERT,
        battery_lasts
    ),
    from!(
        "stroke_charge",
        "charge that one stroke of the roof takes: sum of I t",
        [needs("currents", Takes::List(Dim::CURRENT), "that flow"), needs("times", Takes::List(Dim::TIME), "how long each flows")],
        "charge",
        "definition of charge",
        |a| stroke_charge(&draws(a, 0)?).map(|charge| Value::quantity(charge, Dim::CHARGE))
    ),
    from!(
        "battery_strokes",
        "how often a battery moves the roof; not rounded, and only whole strokes count",
        [
            needs("charge", CHARGE, "rated"),
            needs("rated_time", TIME, "of discharge for which it is rated"),
            needs("exponent", NUMBER, "Peukert's: 1 to 2"),
            needs("usable", NUMBER, "part of the charge that may be drawn: depth of discharge, age, cold"),
            needs("currents", Takes::List(Dim::CURRENT), "of one stroke"),
            needs("times", Takes::List(Dim::TIME), "how long each flows"),
        ],
        "number",
        PEUKERT,
        battery_strokes
    ),
];

//! Electricity for the roof: wire, motors, batteries.
//!
//! In: resistances per length, currents, voltages, temperatures, charges. Out: the same. The tables of wire stand in the
//! catalogue and the limits in the rules.

use super::body::Formula;
use super::tables::word;
use crate::calc::FormulaError;
use crate::calc::power::battery::{self, Battery, Draw};
use crate::calc::power::motor::{self, Feed, Phases};
use crate::calc::power::wire::{self, Circuit, Metal, celsius};

include!(concat!(env!("OUT_DIR"), "/formulas_power.rs"));

impl From<word::Metal> for Metal {
    fn from(metal: word::Metal) -> Self {
        match metal {
            word::Metal::Copper => Self::Copper,
            word::Metal::Aluminium => Self::Aluminium,
        }
    }
}

impl From<word::Circuit> for Circuit {
    fn from(circuit: word::Circuit) -> Self {
        match circuit {
            word::Circuit::TwoWire => Self::TwoWire,
            word::Circuit::ThreePhase => Self::ThreePhase,
        }
    }
}

impl From<word::Circuit> for Phases {
    fn from(circuit: word::Circuit) -> Self {
        match circuit {
            word::Circuit::TwoWire => Self::One,
            word::Circuit::ThreePhase => Self::Three,
        }
    }
}

impl Formula for WireResistance {
    fn answer(self) -> Result<f64, FormulaError> {
        wire::resistance_from_table(self.metal.into(), self.resistance, celsius(self.table), celsius(self.temperature))
    }
}

impl Formula for VoltageDrop {
    fn answer(self) -> Result<f64, FormulaError> {
        wire::voltage_drop(self.circuit.into(), self.current, self.resistance, self.length)
    }
}

impl Formula for AmbientFactor {
    fn answer(self) -> Result<f64, FormulaError> {
        wire::ambient_factor(celsius(self.rating), celsius(self.table), celsius(self.ambient))
    }
}

impl Formula for Ampacity {
    fn answer(self) -> Result<f64, FormulaError> {
        wire::ampacity(self.table, &self.factors, &self.limits)
    }
}

impl Formula for AwgDiameter {
    fn answer(self) -> Result<f64, FormulaError> {
        wire::awg_diameter(self.gauge)
    }
}

impl Formula for AwgArea {
    fn answer(self) -> Result<f64, FormulaError> {
        wire::awg_area(self.gauge)
    }
}

impl Formula for ResistanceFromK {
    fn answer(self) -> Result<f64, FormulaError> {
        wire::resistance_from_k(self.k, self.area)
    }
}

impl Formula for StallCurrent {
    fn answer(self) -> Result<f64, FormulaError> {
        motor::stall_current(self.voltage, self.resistance)
    }
}

impl Formula for VoltageAtStall {
    fn answer(self) -> Result<f64, FormulaError> {
        motor::voltage_at_stall(self.voltage, self.motor, self.wire)
    }
}

impl Formula for LockedRotorCurrent {
    fn answer(self) -> Result<f64, FormulaError> {
        let mut letters = self.code_letter.chars();
        let (Some(letter), None) = (letters.next(), letters.next()) else {
            return Err(FormulaError::domain("the locked-rotor code letter", "one letter"));
        };
        // The band's upper end is the worst; the last letter has none.
        let Some(most) = motor::locked_rotor_band(letter)?.high else {
            return Err(FormulaError::domain(
                "the locked-rotor code letter",
                "one below V: V says 22.4 kVA per horsepower or more and no upper end, so take the current of the data sheet",
            ));
        };
        motor::locked_rotor_current(self.power, most, self.voltage, self.circuit.into())
    }
}

impl Formula for NecMotorCurrent {
    fn answer(self) -> Result<f64, FormulaError> {
        let feed = match (self.sort, self.circuit) {
            (word::NecMotorCurrentSort::DirectCurrent, _) => Feed::Direct,
            (word::NecMotorCurrentSort::AlternatingCurrent, word::Circuit::TwoWire) => Feed::OnePhase,
            (word::NecMotorCurrentSort::AlternatingCurrent, word::Circuit::ThreePhase) => Feed::ThreePhase,
        };
        let table = motor::full_load_current(feed, self.power, self.voltage);
        Ok(table.map_or(self.nameplate, |table| table.max(self.nameplate)))
    }
}

fn draws(currents: Vec<f64>, times: Vec<f64>) -> Result<Vec<Draw>, FormulaError> {
    if currents.len() != times.len() {
        return Err(FormulaError::domain("each current of a stroke", "given with its time"));
    }
    Ok(currents.into_iter().zip(times).map(|(current, time)| Draw { current, time }).collect())
}

impl Formula for BatteryLasts {
    fn answer(self) -> Result<f64, FormulaError> {
        let battery = Battery { charge: self.charge, rated_time: self.rated_time, exponent: self.exponent };
        battery::lasts(battery, self.current)
    }
}

impl Formula for StrokeCharge {
    fn answer(self) -> Result<f64, FormulaError> {
        battery::stroke_charge(&draws(self.currents, self.times)?)
    }
}

impl Formula for BatteryStrokes {
    fn answer(self) -> Result<f64, FormulaError> {
        let battery = Battery { charge: self.charge, rated_time: self.rated_time, exponent: self.exponent };
        battery::strokes(battery, self.usable, &draws(self.currents, self.times)?)
    }
}

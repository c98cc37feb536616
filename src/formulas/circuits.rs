//! Conditions as circuits of contacts and coils: of tables as the language has them to rungs, terminals and numbers of wires.
//!
//! In: coils with what pulls each, and what they ask by name. Out: a rung for each. How contacts are put side by side or one
//! below the other stands in `calc::ladder`.

use super::body::Formula;
use super::tables::{table, word};
use super::take;
use crate::calc::{FormulaError, ladder};
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_circuits.rs"));

/// The number of the rail that feeds, and how far the numbers of one circuit are from those of the next.
const RAIL: usize = 1;
const HUNDRED: usize = 100;

impl Formula for Terminal {
    fn answer(self) -> Result<table::Terminal, FormulaError> {
        Ok(table::Terminal { name: self.name, so: self.so, opens: self.opens, wired: self.wired })
    }
}

impl Formula for Coil {
    fn answer(self) -> Result<table::Coil, FormulaError> {
        Ok(table::Coil {
            name: self.name,
            letter: self.letter.unwrap_or_default(),
            says: self.says.unwrap_or_default(),
            when: self.when,
            direct: self.direct,
        })
    }
}

/// How what comes in is wired.
struct Wiring {
    terminals: Vec<table::Terminal>,
    /// Those that a relay repeats, in order.
    repeated: Vec<usize>,
    /// The next free terminal.
    next: usize,
    /// How often a contact of each has come in.
    came_in: Vec<usize>,
}

impl Wiring {
    /// A relay repeats what is asked in several places, and what is asked the other way about than its contact says it.
    fn of(terminals: Vec<table::Terminal>, coils: &[table::Coil], rungs: &[ladder::Rung]) -> Self {
        let contacts = || coils.iter().zip(rungs).flat_map(|(coil, rung)| rung.contacts.iter().map(|contact| (coil.direct, contact)));
        let asked = |at: usize| contacts().filter(move |(_, contact)| contact.asks == Some(at));
        let is_repeated = |at: &usize| {
            let Some(terminal) = terminals.get(*at) else { return false };
            let turned = asked(*at).any(|(_, contact)| contact.inverted != terminal.opens);
            match terminal.wired {
                word::Wired::ByRelay => turned || asked(*at).count() > 1,
                word::Wired::ByBlocks => turned || asked(*at).any(|(direct, _)| !direct),
                word::Wired::Inside => false,
            }
        };
        let repeated = (0..terminals.len()).filter(is_repeated).collect();
        let came_in = vec![0; terminals.len()];
        Wiring { terminals, repeated, next: 1, came_in }
    }

    /// The contact of what comes in, with two terminals of its own.
    fn incoming(&mut self, at: usize, contact: &ladder::Contact) -> table::PlacedContact {
        let terminal = self.terminals.get(at);
        let first = self.next;
        self.next += 2;
        let before = self.came_in.get(at).copied().unwrap_or(0);
        if let Some(count) = self.came_in.get_mut(at) {
            *count += 1;
        }
        table::PlacedContact {
            name: contact.name.clone(),
            device: contact.name.clone(),
            below: format!("X1: {first}, {}", first + 1).into(),
            inverted: terminal.is_some_and(|terminal| terminal.opens),
            terminal: number(first),
            core: number(2 * before + 1),
            ..plain(contact)
        }
    }

    fn placed(&mut self, coil: &table::Coil, contact: &ladder::Contact) -> table::PlacedContact {
        let Some((at, terminal)) = contact.asks.and_then(|at| Some((at, self.terminals.get(at)?))) else { return plain(contact) };
        let direct = terminal.wired == word::Wired::ByBlocks && coil.direct && contact.inverted == terminal.opens;
        match self.repeated.iter().position(|one| *one == at) {
            // The relay is pulled while the contact that it repeats is closed.
            Some(relay) if !direct => table::PlacedContact {
                name: relay_name(relay),
                below: contact.name.clone(),
                inverted: contact.inverted != terminal.opens,
                ..plain(contact)
            },
            _ if terminal.wired == word::Wired::Inside => plain(contact),
            _ => self.incoming(at, contact),
        }
    }
}

fn relay_name(number: usize) -> SmolStr {
    format!("R{}", number + 1).into()
}

#[expect(clippy::cast_precision_loss, reason = "a few hundred at the most")]
fn number(count: usize) -> f64 {
    count as f64
}

fn plain(contact: &ladder::Contact) -> table::PlacedContact {
    table::PlacedContact {
        name: contact.name.clone(),
        device: SmolStr::default(),
        below: SmolStr::default(),
        inverted: contact.inverted,
        column: number(contact.column),
        row: number(contact.row),
        columns: number(contact.columns),
        left: number(contact.wires[0]),
        right: number(contact.wires[1]),
        terminal: 0.0,
        core: 0.0,
    }
}

fn rung(coil: table::Coil, rung: &ladder::Rung, contacts: Vec<table::PlacedContact>) -> table::Rung {
    let upright = |one: &ladder::Upright| table::UprightWire { column: number(one.column), from: number(one.from), to: number(one.to) };
    table::Rung {
        shape: word::RungShape::Rung,
        coil,
        contacts,
        uprights: rung.uprights.iter().map(upright).collect(),
        columns: number(rung.columns),
        rows: number(rung.rows),
        wire: number(rung.last_wire),
    }
}

impl Formula for Ladder {
    fn answer(self) -> Result<Vec<table::Rung>, FormulaError> {
        let coils: Vec<table::Coil> = take::all(&self.coils, "the coils")?;
        let terminals: Vec<table::Terminal> = take::all(&self.terminals, "the terminals")?;
        let named: Vec<ladder::Named> = terminals.iter().map(|one| ladder::Named { name: one.name.clone(), so: one.so.clone() }).collect();
        let circuits = |before: usize| -> Result<Vec<ladder::Rung>, FormulaError> {
            let one = |(at, coil): (usize, &table::Coil)| ladder::rung(&coil.when, &named, RAIL, HUNDRED * (before + at + 1) + 1);
            coils.iter().enumerate().map(one).collect()
        };
        let mut wiring = Wiring::of(terminals, &coils, &circuits(0)?);
        let mut rungs = Vec::new();
        for (relay, at) in wiring.repeated.clone().into_iter().enumerate() {
            let Some(one) = named.get(at) else { continue };
            let circuit = ladder::rung(&one.so, &named, RAIL, HUNDRED * (relay + 1) + 1)?;
            let contacts = circuit.contacts.iter().map(|contact| wiring.incoming(at, contact)).collect();
            let coil = table::Coil {
                name: relay_name(relay),
                letter: SmolStr::default(),
                says: one.name.clone(),
                when: one.so.clone(),
                direct: false,
            };
            rungs.push(rung(coil, &circuit, contacts));
        }
        for (coil, circuit) in coils.iter().zip(circuits(rungs.len())?) {
            let contacts = circuit.contacts.iter().map(|contact| wiring.placed(coil, contact)).collect();
            rungs.push(rung(coil.clone(), &circuit, contacts));
        }
        Ok(rungs)
    }
}

//! A condition as contacts in a circuit: side by side what must all be so, one below the other what may each be so.
//!
//! In: a condition, and what the contacts in it are called. Out: each contact with its place on a grid and the numbers of
//! the wires on both sides of it. It must not know what a contact belongs to.
//!
//! Source: ladder diagrams of IEC 61131-3:2013 (contacts, coils), from memory; series and parallel circuits for and and or
//! (Shannon 1938).

use super::FormulaError;
use super::explore::Condition;
use smol_str::SmolStr;

/// Something that a condition can ask by its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// What stands over its contact.
    pub name: SmolStr,
    /// What it says.
    pub so: Condition,
}

/// A contact on the grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Contact {
    /// The number of what it asks among the names; none if a part is asked that has no name of its own.
    pub asks: Option<usize>,
    /// What stands over it.
    pub name: SmolStr,
    /// It lets current through while what it asks is not so.
    pub inverted: bool,
    /// Its place across, from the rail, from 0.
    pub column: usize,
    /// Its place down, from 0.
    pub row: usize,
    /// How far it reaches across, its wire included.
    pub columns: usize,
    /// The numbers of the wires at its left and its right.
    pub wires: [usize; 2],
}

/// An upright wire between rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Upright {
    /// Before this column.
    pub column: usize,
    /// From this row.
    pub from: usize,
    /// To this one.
    pub to: usize,
}

/// A rung: what lets current through to its coil.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rung {
    /// Row by row, from the rail.
    pub contacts: Vec<Contact>,
    /// The wires between rows.
    pub uprights: Vec<Upright>,
    /// How many columns it takes.
    pub columns: usize,
    /// How many rows.
    pub rows: usize,
    /// The number of the wire at its end, which goes to the coil.
    pub last_wire: usize,
}

/// A wire that has no number yet.
const NOT_NUMBERED: usize = usize::MAX;

/// Contacts in series and in parallel.
enum Net {
    Contact { asks: Option<usize>, name: SmolStr, inverted: bool },
    Series(Vec<Net>),
    Parallel(Vec<Net>),
}

/// The rung of a condition. Its rail has the number `rail`, its own wires are numbered from `first` on.
///
/// # Errors
/// A condition that is always so or never: it has no contact.
pub fn rung(condition: &Condition, named: &[Named], rail: usize, first: usize) -> Result<Rung, FormulaError> {
    let net = net(condition, named, false).ok_or_else(|| FormulaError::domain("what pulls the coil", "asked of something that changes"))?;
    let mut rung = Rung { columns: net.columns(), rows: net.rows(), ..Rung::default() };
    let mut next = first;
    place(&net, [0, 0], rung.columns, [rail, NOT_NUMBERED], &mut next, &mut rung);
    // The wire to the coil comes last.
    rung.contacts.iter_mut().flat_map(|contact| &mut contact.wires).filter(|wire| **wire == NOT_NUMBERED).for_each(|wire| *wire = next);
    rung.last_wire = next;
    rung.contacts.sort_by_key(|contact| (contact.row, contact.column));
    Ok(rung)
}

fn next_wire(next: &mut usize) -> usize {
    *next += 1;
    *next - 1
}

impl Net {
    fn columns(&self) -> usize {
        match self {
            Net::Contact { .. } => 1,
            Net::Series(of) => of.iter().map(Net::columns).sum(),
            Net::Parallel(of) => of.iter().map(Net::columns).max().unwrap_or(0),
        }
    }

    fn rows(&self) -> usize {
        match self {
            Net::Contact { .. } => 1,
            Net::Series(of) => of.iter().map(Net::rows).max().unwrap_or(0),
            Net::Parallel(of) => of.iter().map(Net::rows).sum(),
        }
    }
}

/// Puts a net from that column and row on, over so many columns, between two wires.
fn place(net: &Net, [column, row]: [usize; 2], columns: usize, wires: [usize; 2], next: &mut usize, rung: &mut Rung) {
    match net {
        Net::Contact { asks, name, inverted } => {
            rung.contacts.push(Contact { asks: *asks, name: name.clone(), inverted: *inverted, column, row, columns, wires });
        }
        Net::Series(of) => {
            let (mut at, mut left) = (column, wires[0]);
            for (number, one) in of.iter().enumerate() {
                let is_last = number + 1 == of.len();
                let wide = if is_last { columns - (at - column) } else { one.columns() };
                let right = if is_last { wires[1] } else { next_wire(next) };
                place(one, [at, row], wide, [left, right], next, rung);
                at += wide;
                left = right;
            }
        }
        Net::Parallel(of) => {
            let mut at = row;
            let mut lowest = row;
            for one in of {
                place(one, [column, at], columns, wires, next, rung);
                lowest = at;
                at += one.rows();
            }
            for column in [column, column + columns] {
                rung.uprights.push(Upright { column, from: row, to: lowest });
            }
        }
    }
}

/// The contacts of a condition, or of its opposite; none if it never changes.
fn net(condition: &Condition, named: &[Named], inverted: bool) -> Option<Net> {
    if let Some(asks) = named.iter().position(|one| one.so == *condition) {
        return Some(contact(asks, named, inverted));
    }
    match condition {
        Condition::Always(_) => None,
        Condition::Is { part, states } => {
            Some(Net::Contact { asks: None, name: format!("{part} {}", states.join(" or ")).into(), inverted })
        }
        Condition::Not(inner) => net(inner, named, !inverted),
        Condition::All(of) => Some(joined(parts(of, named, inverted, true), inverted)),
        Condition::Any(of) => Some(joined(parts(of, named, inverted, false), !inverted)),
    }
}

fn contact(asks: usize, named: &[Named], inverted: bool) -> Net {
    Net::Contact { asks: Some(asks), name: named.get(asks).map(|one| one.name.clone()).unwrap_or_default(), inverted }
}

/// In parallel or in series; what is so already inside of it is put out flat.
fn joined(of: Vec<Net>, in_parallel: bool) -> Net {
    let mut flat = Vec::new();
    for net in of {
        match net {
            Net::Parallel(inner) if in_parallel => flat.extend(inner),
            Net::Series(inner) if !in_parallel => flat.extend(inner),
            other => flat.push(other),
        }
    }
    match flat.len() {
        1 => flat.swap_remove(0),
        _ if in_parallel => Net::Parallel(flat),
        _ => Net::Series(flat),
    }
}

/// The pieces of a list: what has a name of its own may itself be several of them, for `a and b` forgets what it was made of.
fn parts(of: &[Condition], named: &[Named], inverted: bool, all: bool) -> Vec<Net> {
    let members = |so: &Condition| match so {
        Condition::All(members) if all => members.to_vec(),
        Condition::Any(members) if !all => members.to_vec(),
        _ => Vec::new(),
    };
    let mut used = vec![false; of.len()];
    let mut found: Vec<(usize, Net)> = Vec::new();
    let mut longest: Vec<(usize, Vec<Condition>)> = named.iter().map(|one| members(&one.so)).enumerate().collect();
    longest.sort_by_key(|(_, members)| std::cmp::Reverse(members.len()));
    for (asks, members) in longest.iter().filter(|(_, members)| !members.is_empty()) {
        let free = |member: &Condition| of.iter().enumerate().position(|(at, one)| one == member && used.get(at) == Some(&false));
        let places: Option<Vec<usize>> = members.iter().map(free).collect();
        if let Some(places) = places {
            for at in &places {
                if let Some(used) = used.get_mut(*at) {
                    *used = true;
                }
            }
            found.push((places.into_iter().min().unwrap_or(0), contact(*asks, named, inverted)));
        }
    }
    let rest = of.iter().enumerate().filter(|(at, _)| used.get(*at) == Some(&false));
    found.extend(rest.filter_map(|(at, one)| Some((at, net(one, named, inverted)?))));
    found.sort_by_key(|(at, _)| *at);
    found.into_iter().map(|(_, net)| net).collect()
}

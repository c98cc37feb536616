//! Designs that nobody wrote: a kind, some crates of it, named values with and without tolerances, a check on each crate.

use super::chance::Chance;
use super::reader::{AREA, Dims, FORCE, LENGTH, NUMBER};
use std::fmt::Write as _;

const STIFFNESS: Dims = [0, 1, -2];
const PRESSURE: Dims = [-1, 1, -2];

/// What an expression may name.
struct Known {
    /// Named values written so far.
    named: Vec<(String, Dims)>,
    /// The name that stands for a crate here.
    crate_name: Option<&'static str>,
    /// Inside of `for`: what goes over crates does not do so again.
    inner: bool,
    /// What a crate stands on may be asked, and which of them do something.
    links: bool,
}

/// A design as text.
pub fn design(chance: &mut Chance) -> String {
    let mut known = Known { named: Vec::new(), crate_name: None, inner: true, links: false };
    let mut text = String::from(
        "kind crate \"what is looked at\" {\n  wide   length  required  \"across\"\n  deep   length  required  \"along\"\n  load   force   required  \"its load\"\n  spare  length  \"perhaps\"\n",
    );
    known.crate_name = Some("this");
    for (property, dims, ty) in [("plan", AREA, "area"), ("half", LENGTH, "length"), ("borne", FORCE, "force")] {
        let _ = writeln!(text, "  {property}  {ty}  default {}  \"worked out\"", expression(chance, &known, dims, 3));
    }
    text.push_str("}\n");
    known.crate_name = None;
    let tolerances = chance.below(4);
    for at in 0..2 + chance.below(5) {
        let dims = *chance.of(&[LENGTH, LENGTH, FORCE, STIFFNESS, NUMBER, PRESSURE]);
        let value = if chance.once_in(3) { expression(chance, &known, dims, 2) } else { literal(chance, dims) };
        let off = if at <= tolerances { tolerance(chance, dims) } else { String::new() };
        let _ = writeln!(text, "let v{at} {value}{off}");
        known.named.push((format!("v{at}"), dims));
    }
    for at in 0..1 + chance.below(3) {
        let mut line = |property: &str, dims: Dims| {
            let value = if dims == FORCE && chance.once_in(4) { format!("{} kg", chance.below(300) + 20) } else { literal(chance, dims) };
            let off = if chance.once_in(3) { tolerance(chance, dims) } else { String::new() };
            format!("  {property}  {value}{off}\n")
        };
        let lines = [line("wide", LENGTH), line("deep", LENGTH), line("load", FORCE)].concat();
        let spare = if chance.once_in(2) { line_of_spare(chance) } else { String::new() };
        let _ = write!(text, "crate c{at} {{\n{lines}{spare}}}\n");
    }
    (known.crate_name, known.inner) = (Some("c"), false);
    let dims = *chance.of(&[LENGTH, FORCE, NUMBER, AREA]);
    let depth = 2 + chance.below(3);
    let (demand, capacity) = (expression(chance, &known, dims, depth), expression(chance, &known, dims, depth));
    let _ = write!(
        text,
        "rule own.holds \"It holds\" {{\n  each  c in crate\n  demand  {demand}\n  capacity  {capacity}\n  says  \"{{demand}} of {{capacity}}\"\n}}\n"
    );
    text
}

fn line_of_spare(chance: &mut Chance) -> String {
    format!("  spare  {}\n", literal(chance, LENGTH))
}

fn tolerance(chance: &mut Chance, dims: Dims) -> String {
    let amount = match dims {
        LENGTH => format!("{} mm", 1 + chance.below(400)),
        FORCE => format!("{} N", 1 + chance.below(900)),
        NUMBER => return format!(" ± 0.{:02}", 1 + chance.below(40)),
        _ => return format!(" ± {} %", 1 + chance.below(30)),
    };
    match chance.below(4) {
        0 => {
            format!(" +{amount} -0 mm").replace(if dims == FORCE { "-0 mm" } else { "-0 N" }, if dims == FORCE { "-0 N" } else { "-0 mm" })
        }
        1 => format!(" ± {} %", 1 + chance.below(30)),
        _ => format!(" ± {amount}"),
    }
}

/// A written number of a dimension, now in one unit and now in another.
fn literal(chance: &mut Chance, dims: Dims) -> String {
    let size = chance.between(0.2, 6.0);
    match dims {
        LENGTH => match chance.below(5) {
            0 => format!("{:.0} mm", size * 1000.0),
            1 => format!("{} ft {}-{}/16 in", 1 + chance.below(12), 1 + chance.below(10), 1 + 2 * chance.below(8)),
            2 => format!("{:.1} cm", size * 100.0),
            3 => format!("{}/8 in", 1 + chance.below(7)),
            _ => format!("{size:.2} m"),
        },
        AREA => match chance.below(2) {
            0 => format!("{size:.2} m2"),
            _ => format!("{:.1} ft2", size * 10.0),
        },
        FORCE => match chance.below(3) {
            0 => format!("{:.0} N", size * 1000.0),
            1 => format!("{:.0} lbf", size * 200.0),
            _ => format!("{size:.2} kN"),
        },
        STIFFNESS => match chance.below(3) {
            0 => format!("{:.0} N/m", size * 1000.0),
            1 => format!("{:.0} lbf/ft", size * 60.0),
            _ => format!("{size:.2} kN/m"),
        },
        PRESSURE => match chance.below(2) {
            0 => format!("{size:.2} kN/m2"),
            _ => format!("{:.0} psf", size * 20.0),
        },
        _ => match chance.below(3) {
            0 => format!("{:.0} %", size * 30.0),
            _ => format!("{size:.2}"),
        },
    }
}

/// An expression of a dimension.
fn expression(chance: &mut Chance, known: &Known, dims: Dims, depth: usize) -> String {
    let named: Vec<&str> = known.named.iter().filter(|(_, of)| *of == dims).map(|(name, _)| name.as_str()).collect();
    if depth == 0 || chance.once_in(6) {
        return leaf(chance, known, dims, &named);
    }
    let mut sub = |dims: Dims| expression(chance, known, dims, depth - 1);
    let (a, b) = (sub(dims), sub(dims));
    let part = sub(NUMBER);
    let condition = condition(chance, known, depth - 1);
    match chance.below(12) {
        0 | 1 => format!("({a} + {b})"),
        2 | 3 => format!("({a} - {b})"),
        4 => format!("{part} * {a}"),
        5 => format!("max({a}, {b})"),
        6 => format!("min({a}, {b})"),
        7 => format!("(if {condition} then {a} else {b})"),
        8 => format!("abs({a})"),
        9 => made_of_others(chance, known, dims, depth - 1),
        10 if !known.inner => gathered(chance, known, dims, depth - 1),
        _ => format!("{a} / ({part} + 3)"),
    }
}

fn leaf(chance: &mut Chance, known: &Known, dims: Dims, named: &[&str]) -> String {
    if !named.is_empty() && !chance.once_in(3) {
        return (*chance.of(named)).to_owned();
    }
    match (known.crate_name, dims) {
        // In its own kind what is worked out stands on what is written.
        (Some("this"), LENGTH) => (*chance.of(&["wide", "deep"])).to_owned(),
        (Some("this"), FORCE) => "load".to_owned(),
        (Some("this"), _) => literal(chance, dims),
        (Some(name), LENGTH) if known.links && chance.once_in(5) => format!("{name}.under.{}", chance.of(&["wide", "deep", "half"])),
        (Some(name), LENGTH) => format!("{name}.{}", chance.of(&["wide", "deep", "half", "spare", "wide", "deep"])),
        (Some(name), FORCE) => format!("{name}.{}", chance.of(&["load", "borne"])),
        (Some(name), AREA) => format!("{name}.plan"),
        _ => literal(chance, dims),
    }
}

/// A product or quotient of other dimensions.
fn made_of_others(chance: &mut Chance, known: &Known, dims: Dims, depth: usize) -> String {
    let mut sub = |dims: Dims| expression(chance, known, dims, depth);
    match dims {
        AREA => format!("{} * {}", sub(LENGTH), sub(LENGTH)),
        LENGTH => format!("sqrt(abs({}))", sub(AREA)),
        FORCE => format!("{} * {}", sub(STIFFNESS), sub(LENGTH)),
        PRESSURE => format!("{} / (abs({}) + 1 m2)", sub(FORCE), sub(AREA)),
        STIFFNESS => format!("{} / (abs({}) + 1 m)", sub(FORCE), sub(LENGTH)),
        _ => format!("{} / (abs({}) + 1 m)", sub(LENGTH), sub(LENGTH)),
    }
}

fn condition(chance: &mut Chance, known: &Known, depth: usize) -> String {
    if let Some(name) = known.crate_name.filter(|name| *name != "this")
        && chance.once_in(4)
    {
        return format!("given({name}.spare)");
    }
    if let Some(name) = known.crate_name.filter(|_| known.links && chance.once_in(3)) {
        return of_several(chance, known, name);
    }
    let dims = *chance.of(&[LENGTH, FORCE, NUMBER]);
    let (a, b) = (expression(chance, known, dims, depth), expression(chance, known, dims, depth));
    let one = format!("{a} {} {b}", chance.of(&["<", "<=", ">", ">="]));
    match chance.below(6) {
        0 => format!("(not {one})"),
        1 if depth > 0 => format!("({one} and {})", condition(chance, known, depth - 1)),
        2 if depth > 0 => format!("({one} or {})", condition(chance, known, depth - 1)),
        _ => one,
    }
}

/// A question about all of them, or about what stands on what.
fn of_several(chance: &mut Chance, known: &Known, name: &str) -> String {
    if known.inner {
        return format!("{name}.under {} {}", chance.of(&["==", "!="]), if name == "x" { "c" } else { "c0" });
    }
    let inside = Known { named: known.named.clone(), crate_name: Some("x"), inner: true, links: true };
    let which = match chance.below(4) {
        0 => format!("x.under == {name}"),
        1 => format!("x.under == {name} and {}", condition(chance, &inside, 0)),
        2 => format!("x != {name}"),
        _ => condition(chance, &inside, 1),
    };
    match chance.below(3) {
        0 => format!("any({which} for x in crate)"),
        1 => format!("all({} for x in crate where {which})", condition(chance, &inside, 0)),
        _ => format!("count(x for x in crate where {which}) >= {}", chance.below(3)),
    }
}

/// A design whose rule goes over one crate or two, some of them, and is asked only at times: as text.
pub fn asked(chance: &mut Chance) -> String {
    let mut known = Known { named: Vec::new(), crate_name: None, inner: true, links: true };
    let mut text = String::from(
        "kind crate \"what is looked at\" {\n  wide   length  required  \"across\"\n  deep   length  required  \"along\"\n  load   force   required  \"its load\"\n  spare  length  \"perhaps\"\n  under  link to crate  \"what it stands on\"\n",
    );
    // In its own kind what is worked out stands on what is written there.
    (known.crate_name, known.links) = (Some("this"), false);
    for (property, dims, ty) in [("plan", AREA, "area"), ("half", LENGTH, "length"), ("borne", FORCE, "force")] {
        let _ = writeln!(text, "  {property}  {ty}  default {}  \"worked out\"", expression(chance, &known, dims, 1));
    }
    text.push_str("}\n");
    (known.crate_name, known.links) = (None, true);
    for at in 0..1 + chance.below(3) {
        let dims = *chance.of(&[LENGTH, FORCE, NUMBER]);
        let off = if chance.once_in(2) { tolerance(chance, dims) } else { String::new() };
        let _ = writeln!(text, "let v{at} {}{off}", literal(chance, dims));
        known.named.push((format!("v{at}"), dims));
    }
    let blocks = 1 + chance.below(3);
    for at in 0..blocks {
        let mut line = |property: &str, dims: Dims| {
            let off = if chance.once_in(6) { tolerance(chance, dims) } else { String::new() };
            format!("  {property}  {}{off}\n", literal(chance, dims))
        };
        let lines = [line("wide", LENGTH), line("deep", LENGTH), line("load", FORCE)].concat();
        let spare = if chance.once_in(2) { line_of_spare(chance) } else { String::new() };
        let under = if at > 0 && !chance.once_in(4) { format!("  under  c{}\n", chance.below(at)) } else { String::new() };
        // Only the last are several: the others are named as what they carry.
        let several = if at + 1 == blocks && chance.once_in(3) { "[1..2]" } else { "" };
        let _ = write!(text, "crate c{at}{several} {{\n{lines}{spare}{under}}}\n");
    }
    (known.crate_name, known.inner) = (Some("c"), false);
    let mut other = Known { named: known.named.clone(), crate_name: Some("c"), inner: false, links: true };
    let mut each = "c in crate".to_owned();
    match chance.below(4) {
        0 => each = format!("c in crate where {}", condition(chance, &known, 1)),
        1 => {
            other.crate_name = Some("d");
            each = format!(
                "c in crate, d in crate where {}",
                if chance.once_in(2) { "d.wide > c.wide".to_owned() } else { "d.under == c".to_owned() }
            );
        }
        _ => {}
    }
    let when = if chance.once_in(2) { format!("  when  {}\n", condition(chance, &other, 1)) } else { String::new() };
    let asks = if chance.once_in(2) {
        format!("  require  {}\n", condition(chance, &known, 2))
    } else {
        let dims = *chance.of(&[LENGTH, FORCE, NUMBER]);
        format!("  demand  {}\n  capacity  {}\n", expression(chance, &known, dims, 2), expression(chance, &other, dims, 2))
    };
    let _ = write!(text, "rule own.holds \"It holds\" {{\n  each  {each}\n{when}{asks}}}\n");
    text
}

fn gathered(chance: &mut Chance, known: &Known, dims: Dims, depth: usize) -> String {
    let inside = Known { named: known.named.clone(), crate_name: Some("x"), inner: true, links: known.links };
    let (value, which) = (expression(chance, &inside, dims, depth.min(1)), condition(chance, &inside, 0));
    format!("{}({value} for x in crate where {which})", chance.of(&["sum", "min", "max"]))
}

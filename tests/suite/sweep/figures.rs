//! What a slip makes of the figures of a number, and of its unit.

/// Units that are taken for one another, in one direction each.
const TAKEN_FOR: [(&str, &str); 20] = [
    ("mm", "cm"),
    ("cm", "mm"),
    ("m", "ft"),
    ("in", "mm"),
    ("ft", "in"),
    ("kg", "lb"),
    ("lb", "kg"),
    ("kN", "N"),
    ("N", "kN"),
    ("lbf", "N"),
    ("m/s", "km/h"),
    ("mph", "m/s"),
    ("kN/m2", "N/m2"),
    ("psf", "kN/m2"),
    ("MPa", "kPa"),
    ("psi", "kPa"),
    ("A", "mA"),
    ("mm/s", "m/s"),
    ("s", "min"),
    ("J", "kJ"),
];

/// The unit that is written by mistake, where one is easily taken for another.
pub fn other_unit(unit: &str) -> Option<&'static str> {
    TAKEN_FOR.iter().find(|(from, _)| *from == unit).map(|(_, to)| *to)
}

/// The first two figures beside each other that differ, in the other order: `3.40` becomes `4.30`.
pub fn swapped(number: &str) -> Option<String> {
    let mut bytes = number.as_bytes().to_vec();
    let figures: Vec<usize> = (0..bytes.len()).filter(|at| bytes[*at].is_ascii_digit()).collect();
    if number.contains(['/', 'e', 'E']) || bytes.iter().any(|byte| !byte.is_ascii_digit() && *byte != b'.') {
        return None;
    }
    let pair = figures.windows(2).find(|pair| bytes[pair[0]] != bytes[pair[1]])?;
    bytes.swap(pair[0], pair[1]);
    String::from_utf8(bytes).ok().filter(|new| new.parse::<f64>().is_ok_and(|worth| worth != 0.0))
}

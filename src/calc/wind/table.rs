//! Reading between the lines of a standard's coefficient table.
//!
//! In: a short table and a number. Out: the value between its neighbours, straight-line.
//! It must not know what the table is about.

/// Pitch, rad, as the degrees a table is printed in, freed of the last bits of the conversion so
/// that 10 degrees is not 9.999….
pub(super) fn degrees(pitch: f64) -> f64 {
    (pitch.to_degrees() * 1e9).round() / 1e9
}

/// The value at `x` on the line through the table's `values` at its `heads`, which rise. Before the
/// first and after the last head the table is taken to go on level.
pub(super) fn interpolate<const N: usize>(heads: [f64; N], values: [f64; N], x: f64) -> f64 {
    let mut before: Option<(f64, f64)> = None;
    for (here, value) in heads.into_iter().zip(values) {
        if x <= here {
            return match before {
                Some((there, earlier)) => earlier + (value - earlier) * (x - there) / (here - there),
                None => value,
            };
        }
        before = Some((here, value));
    }
    before.map_or(0.0, |(_, value)| value)
}

/// Halves of a coefficient by sign, for standards that allow interpolation only between values of
/// one sign and put 0 where there is none: `(part above zero, part below zero)`.
pub(super) fn by_sign(value: f64) -> (f64, f64) {
    (value.max(0.0), value.min(0.0))
}

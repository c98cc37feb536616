//! Polynomials of a few terms, with their bounds and extremes on an interval that starts at zero.
//!
//! In: coefficients, lowest power first. Out: values, roots, extremes. Everything lives on the stack,
//! since the search for the governing wheel position makes many of them.
//! It must not know that a beam exists.

/// Terms that the largest polynomial here has: `moment + shear²/2w` is of degree six.
const MOST_TERMS: usize = 8;

/// `c₀ + c₁·t + c₂·t² + …`, with `N` coefficients.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Polynomial<const N: usize>(pub [f64; N]);

/// The few places that a root search found, in rising order.
#[derive(Debug, Clone, Copy)]
pub(super) struct Places {
    at: [f64; MOST_TERMS],
    count: usize,
}

impl Places {
    const NONE: Self = Self { at: [0.0; MOST_TERMS], count: 0 };

    fn push(&mut self, place: f64) {
        if let Some(free) = self.at.get_mut(self.count) {
            *free = place;
            self.count += 1;
        }
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = f64> + '_ {
        self.at.iter().copied().take(self.count)
    }
}

impl<const N: usize> Polynomial<N> {
    pub(super) const ZERO: Self = Self([0.0; N]);

    /// A constant.
    pub(super) fn constant(value: f64) -> Self {
        let mut result = Self::ZERO;
        if let Some(first) = result.0.first_mut() {
            *first = value;
        }
        result
    }

    /// `offset + slope·t`.
    pub(super) fn line(offset: f64, slope: f64) -> Self {
        let mut result = Self::ZERO;
        for (place, value) in result.0.iter_mut().zip([offset, slope]) {
            *place = value;
        }
        result
    }

    /// The value at `t`.
    pub(super) fn at(&self, t: f64) -> f64 {
        value_at(&self.0, t)
    }

    /// The same curve, counted from `by`: `shifted(by).at(t) == at(by + t)`.
    pub(super) fn shifted(&self, by: f64) -> Self {
        let mut c = self.0;
        for row in 0..N {
            for k in (row..N - 1).rev() {
                c[k] += by * c[k + 1];
            }
        }
        Self(c)
    }

    pub(super) fn scaled(&self, by: f64) -> Self {
        Self(self.0.map(|c| c * by))
    }

    pub(super) fn plus(&self, other: &Self) -> Self {
        let mut c = self.0;
        for (mine, theirs) in c.iter_mut().zip(other.0) {
            *mine += theirs;
        }
        Self(c)
    }

    pub(super) fn minus(&self, other: &Self) -> Self {
        self.plus(&other.scaled(-1.0))
    }

    /// The same polynomial with room for `M` coefficients (`M >= N`).
    pub(super) fn widened<const M: usize>(&self) -> Polynomial<M> {
        let mut c = [0.0; M];
        for (wide, narrow) in c.iter_mut().zip(self.0) {
            *wide = narrow;
        }
        Polynomial(c)
    }

    /// The product, with room for `M` coefficients; what does not fit is zero by the caller's choice of `M`.
    pub(super) fn times<const K: usize, const M: usize>(&self, other: &Polynomial<K>) -> Polynomial<M> {
        let mut c = [0.0; M];
        for (i, a) in self.0.iter().enumerate() {
            for (place, b) in c.iter_mut().skip(i).zip(other.0) {
                *place += a * b;
            }
        }
        Polynomial(c)
    }

    /// The curve whose slope this is, starting from `start`; the last coefficient has to be zero.
    pub(super) fn integral(&self, start: f64) -> Self {
        let mut c = [0.0; N];
        c[0] = start;
        for (k, (mine, slope)) in c.iter_mut().skip(1).zip(self.0).enumerate() {
            *mine = slope / (k + 1) as f64;
        }
        Self(c)
    }

    /// The slope of the curve.
    pub(super) fn slope(&self) -> Self {
        let mut c = [0.0; N];
        for (k, (mine, curve)) in c.iter_mut().zip(self.0.iter().skip(1)).enumerate() {
            *mine = curve * (k + 1) as f64;
        }
        Self(c)
    }

    /// Numbers between which the curve stays on `[0, width]`: its smallest and largest Bernstein coefficient.
    /// (Bernstein form: a polynomial lies in the convex hull of its control values.)
    pub(super) fn bounds(&self, width: f64) -> (f64, f64) {
        let mut control = self.0;
        let mut power = 1.0;
        let mut choose = 1.0;
        // Scaled power coefficients, each divided by the binomial of the degree …
        for (k, c) in control.iter_mut().enumerate() {
            *c *= power / choose;
            power *= width;
            choose *= (N - 1 - k) as f64 / (k + 1) as f64;
        }
        // … whose sums along Pascal's triangle are the control values.
        for row in 1..N {
            for k in (row..N).rev() {
                control[k] += control[k - 1];
            }
        }
        control.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &c| (low.min(c), high.max(c)))
    }

    /// Where the curve is level inside `(0, width)`.
    pub(super) fn level_places(&self, width: f64) -> Places {
        let mut slope = [0.0; MOST_TERMS];
        for (k, c) in self.0.iter().enumerate().skip(1) {
            slope[k - 1] = c * k as f64;
        }
        roots(&slope[..N - 1], width)
    }
}

fn value_at(c: &[f64], t: f64) -> f64 {
    c.iter().rev().fold(0.0, |sum, c| sum * t + c)
}

/// The roots of a polynomial inside `(0, width)`.
///
/// Between two neighbouring level places a polynomial has one root at most, so the roots of the derivative
/// fence those of the polynomial; each is then closed in by bisection and Newton steps.
fn roots(c: &[f64], width: f64) -> Places {
    let mut found = Places::NONE;
    // Most curves are of a lower degree than there is room for.
    let c = c.get(..c.iter().rposition(|term| *term != 0.0).map_or(0, |last| last + 1)).unwrap_or_default();
    match c {
        [] | [_] => {}
        [a, b] => push_inside(&mut found, -a / b, width),
        [a, b, q] => {
            let (first, second) = quadratic(*a, *b, *q);
            push_inside(&mut found, first, width);
            push_inside(&mut found, second, width);
        }
        _ => {
            let mut slope = [0.0; MOST_TERMS];
            for (k, value) in c.iter().enumerate().skip(1) {
                slope[k - 1] = value * k as f64;
            }
            let fences = roots(&slope[..c.len() - 1], width);
            let mut low = 0.0;
            for high in fences.iter().chain(std::iter::once(width)) {
                if let Some(root) = root_between(c, &slope[..c.len() - 1], low, high) {
                    push_inside(&mut found, root, width);
                }
                low = high;
            }
        }
    }
    found
}

fn push_inside(found: &mut Places, place: f64, width: f64) {
    if place > 0.0 && place < width {
        found.push(place);
    }
}

/// Both roots of `a + b·t + q·t²`, the smaller first; `NaN` or infinity where there is none.
fn quadratic(a: f64, b: f64, q: f64) -> (f64, f64) {
    // The form that does not subtract nearly equal numbers.
    let half = -0.5 * (b + (b * b - 4.0 * q * a).sqrt().copysign(b));
    let (one, other) = (half / q, a / half);
    if one <= other { (one, other) } else { (other, one) }
}

fn root_between(c: &[f64], slope: &[f64], mut low: f64, mut high: f64) -> Option<f64> {
    let (at_low, at_high) = (value_at(c, low), value_at(c, high));
    if at_low * at_high > 0.0 {
        return None;
    }
    let rising = at_low < at_high;
    let mut t = 0.5 * (low + high);
    for _ in 0..60 {
        let value = value_at(c, t);
        if (value < 0.0) == rising {
            low = t;
        } else {
            high = t;
        }
        let newton = t - value / value_at(slope, t);
        let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
        if (next - t).abs() <= 1e-15 * high.abs() {
            break;
        }
        t = next;
    }
    Some(t)
}

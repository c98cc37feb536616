//! The exact motion under one linear law, `y'' = a + b·y + c·y'`.
//!
//! In: the three coefficients, the speed at the start (`y` counts from there), a target. Out: place
//! and speed at any later moment, and the first moment at which a speed or a place is reached.
//! Constant force gives the parabola, a motor's line or a damper the exponential, a spring the
//! sinusoid; one pair of kernels covers them all. It must not know a roof, a drive or a track.
//!
//! Source: the linear differential equation of second order with constant coefficients, any
//! textbook of vibration, such as Thomson, *Theory of Vibration with Applications*, ch. 2.

/// A body that creeps towards a place without ever reaching it counts as standing there once it is nearer than
/// this, m.
const CREEP: f64 = 1e-9;

/// A final speed (m/s) below this is none.
const NO_SPEED: f64 = 1e-9;

/// The largest exponent that a bracket is allowed to grow to, well inside the range of `f64`.
const LARGEST_EXPONENT: f64 = 300.0;

/// Relative change of the moment searched for at which the search ends; the rounding of the motion
/// itself is about a tenth of this.
const ROOT_PRECISION: f64 = 1e-14;

/// Steps of the bracketed root search. Newton usually needs 5; bisection alone would need 60.
const ROOT_STEPS: usize = 100;

/// Acceleration `a + b·y + c·v`, with `y` counted from where the law begins to hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Law {
    /// Acceleration at the start with no speed, m/s².
    pub a: f64,
    /// Change of acceleration with place, 1/s². Negative for a spring.
    pub b: f64,
    /// Change of acceleration with speed, 1/s. Never positive.
    pub c: f64,
}

/// When a place is reached.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Arrival {
    /// After this time, s.
    At(f64),
    /// Not before the time limit.
    Later,
    /// Never: the body creeps towards a place.
    Creeps {
        /// The place, m.
        y: f64,
        /// When it has practically come to rest there, s.
        t: f64,
    },
}

/// Responses at one moment: to a unit acceleration (`step`), to a unit speed at the start
/// (`impulse`), and the slope of the latter.
struct Kernel {
    step: f64,
    impulse: f64,
    slope: f64,
}

impl Law {
    /// Distance (m) and speed (m/s) after `t` seconds, from a start with `speed`.
    pub fn state(&self, speed: f64, t: f64) -> (f64, f64) {
        let k = self.kernel(t);
        (speed * k.impulse + self.a * k.step, speed * k.slope + self.a * k.impulse)
    }

    /// Acceleration (m/s²) at distance `y` and speed `v`.
    pub fn acceleration(&self, y: f64, v: f64) -> f64 {
        self.a + self.b * y + self.c * v
    }

    /// First moment after the start at which the body stands still, infinite if never.
    pub fn standstill(&self, speed: f64) -> f64 {
        self.first_zero(speed, self.a + self.c * speed)
    }

    /// First moment after the start at which the acceleration is zero, infinite if never.
    pub fn turn(&self, speed: f64) -> f64 {
        let acceleration = self.a + self.c * speed;
        self.first_zero(acceleration, self.b * speed + self.c * acceleration)
    }

    /// First moment in `0..=limit` at which the speed passes `level`, infinite if not.
    pub fn speed_reached(&self, speed: f64, level: f64, limit: f64) -> f64 {
        let first = self.a + self.c * speed;
        let missing = level - speed;
        let found = if self.b == 0.0 {
            if missing == 0.0 || first == 0.0 {
                f64::INFINITY
            } else if self.c == 0.0 {
                missing / first
            } else {
                (self.c * missing / first).ln_1p() / self.c
            }
        } else {
            self.speed_reached_on_a_spring(speed, level, limit)
        };
        if found > 0.0 && found <= limit { found } else { f64::INFINITY }
    }

    /// When the distance `y` (m, on the side that the body moves to) is reached within `limit`
    /// seconds, during which the speed must not change its sign.
    pub fn place_reached(&self, speed: f64, y: f64, limit: f64) -> Arrival {
        if self.b == 0.0 && self.c == 0.0 {
            // 2y / (v + √(v² + 2ay)), the form of the quadratic that does not cancel
            let under = speed * speed + 2.0 * self.a * y;
            let t = 2.0 * y / (speed + under.max(0.0).sqrt().copysign(y));
            return if under >= 0.0 && t <= limit { Arrival::At(t) } else { Arrival::Later };
        }
        let side = if y < 0.0 { -1.0 } else { 1.0 };
        let miss = |t: f64| {
            let (at, v) = self.state(speed, t);
            (side * (at - y), side * v)
        };
        let upper = if limit.is_finite() {
            if miss(limit).0 < 0.0 {
                return Arrival::Later;
            }
            limit
        } else {
            if let Some(end) = self.creeps_to(speed, side)
                && side * (end - y) < 0.0
            {
                return Arrival::Creeps { y: end, t: self.creeping_time(speed, end) };
            }
            if y.is_infinite() {
                return Arrival::Later;
            }
            let mut t = (y / speed).abs().min((2.0 * y / self.a).abs().sqrt());
            if t.is_nan() || t <= 0.0 {
                t = 1.0;
            }
            while miss(t).0 < 0.0 {
                t *= 2.0;
                if t > 1e12 {
                    return Arrival::Later;
                }
            }
            t
        };
        let guess = (y / speed).abs();
        Arrival::At(root(miss, 0.0, upper, guess))
    }

    /// The distance at which the body would come to rest after an endless time, if it does.
    fn creeps_to(&self, speed: f64, side: f64) -> Option<f64> {
        if self.b == 0.0 {
            let final_speed = -self.a / self.c;
            return (side * final_speed < NO_SPEED).then(|| -speed / self.c);
        }
        let (fast, slow) = self.exponents()?;
        if self.b < 0.0 {
            return Some(-self.a / self.b);
        }
        let growing = (self.a + self.c * speed - slow * speed) / (fast - slow);
        (side * growing <= 0.0).then(|| -self.a / self.b)
    }

    /// Time after which a body that creeps towards `end` is nearer than [`CREEP`].
    fn creeping_time(&self, speed: f64, end: f64) -> f64 {
        let near = |t: f64| (self.state(speed, t).0 - end).abs() <= CREEP;
        let (mut far, mut there) = (0.0, 1.0);
        while !near(there) && there < 1e9 {
            (far, there) = (there, 2.0 * there);
        }
        for _ in 0..ROOT_STEPS {
            let middle = f64::midpoint(far, there);
            if near(middle) {
                there = middle;
            } else {
                far = middle;
            }
        }
        there
    }

    fn speed_reached_on_a_spring(&self, speed: f64, level: f64, limit: f64) -> f64 {
        // the speed is monotone between the moments at which the acceleration is zero
        let miss = |t: f64| {
            let (y, v) = self.state(speed, t);
            (v - level, self.acceleration(y, v))
        };
        let (mut from, mut before) = (0.0, speed - level);
        let (mut y, mut v) = (0.0, speed);
        for _ in 0..4 {
            let acceleration = self.acceleration(y, v);
            let jerk = self.b * v + self.c * acceleration;
            let turn = from + self.first_zero(acceleration, jerk);
            let mut to = turn.min(limit);
            if to.is_infinite() {
                // no turn any more: the exponent that is left over decides, after an age at the latest
                let Some((left_over, _)) = self.exponents() else { break };
                to = from + LARGEST_EXPONENT / left_over.abs();
            }
            let after = miss(to).0;
            if before != 0.0 && before.signum() != after.signum() {
                let up = -before.signum();
                let rising = |t: f64| {
                    let (m, slope) = miss(t);
                    (up * m, up * slope)
                };
                return root(rising, from, to, from + (before / acceleration).abs());
            }
            if turn >= limit || turn.is_infinite() {
                break;
            }
            (from, before) = (turn, after);
            (y, v) = self.state(speed, turn);
        }
        f64::INFINITY
    }

    /// First zero after the start of the solution of `w'' = b·w + c·w'` that begins with `w` and
    /// slope `dw`; infinite if there is none.
    fn first_zero(&self, w: f64, dw: f64) -> f64 {
        let Self { b, c, .. } = *self;
        let half = c / 2.0;
        let under = half * half + b;
        let t = if b == 0.0 && c == 0.0 {
            -w / dw
        } else if b == 0.0 {
            (-c * w / dw).ln_1p() / c
        } else if under < 0.0 {
            let omega = (-under).sqrt();
            let angle = (-w * omega).atan2(dw - half * w);
            let angle = if w == 0.0 {
                std::f64::consts::PI
            } else if angle <= 0.0 {
                angle + std::f64::consts::PI
            } else {
                angle
            };
            angle / omega
        } else if under == 0.0 {
            -w / (dw - half * w)
        } else {
            let spread = 2.0 * under.sqrt();
            let slow = half - under.sqrt();
            (-spread * w / (dw - slow * w)).ln_1p() / spread
        };
        // no change of sign, none after the start, or 0/0: never
        if t > 0.0 { t } else { f64::INFINITY }
    }

    /// The two real exponents, the larger first; none if the body swings.
    fn exponents(&self) -> Option<(f64, f64)> {
        let half = self.c / 2.0;
        let under = half * half + self.b;
        if under < 0.0 {
            return None;
        }
        let slow = half - under.sqrt();
        // their product is −b; the sum half + √under would cancel
        Some((if slow == 0.0 { 0.0 } else { -self.b / slow }, slow))
    }

    fn kernel(&self, t: f64) -> Kernel {
        let Self { b, c, .. } = *self;
        if b == 0.0 && c == 0.0 {
            return Kernel { step: t * t / 2.0, impulse: t, slope: 1.0 };
        }
        let z = c * t;
        if z.abs() + b.abs() * t * t < 0.25 {
            return self.kernel_by_series(t);
        }
        if b == 0.0 {
            let grown = z.exp_m1();
            return Kernel { step: (grown - z) / (c * c), impulse: grown / c, slope: grown + 1.0 };
        }
        let (impulse, slope) = if let Some((fast, slow)) = self.exponents() {
            let spread = fast - slow;
            let share = if spread * t < 1e-9 { t } else { -(-spread * t).exp_m1() / spread };
            let impulse = (fast * t).min(2.0 * LARGEST_EXPONENT).exp() * share;
            (impulse, (slow * t).exp() + fast * impulse)
        } else {
            let half = c / 2.0;
            let omega = (-half * half - b).sqrt();
            let (sin, cos) = (omega * t).sin_cos();
            let decay = (half * t).exp();
            (decay * sin / omega, decay * (cos + half * sin / omega))
        };
        Kernel { step: (slope - c * impulse - 1.0) / b, impulse, slope }
    }

    /// The same by the power series, where the closed form would lose digits to cancellation.
    fn kernel_by_series(&self, t: f64) -> Kernel {
        // terms of the step response: y'' = 1 + b·y + c·y' with y(0) = y'(0) = 0
        let (mut two_back, mut back) = (0.0, t * t / 2.0);
        let (mut step, mut impulse, mut slope) = (back, t, 1.0);
        let mut n = 2.0;
        for _ in 0..14 {
            let next = (self.c * t * n * back + self.b * t * t * two_back) / (n * (n + 1.0));
            n += 1.0;
            step += next;
            impulse += n * next / t;
            slope += n * (n - 1.0) * next / (t * t);
            (two_back, back) = (back, next);
        }
        if t == 0.0 {
            return Kernel { step: 0.0, impulse: 0.0, slope: 1.0 };
        }
        Kernel { step, impulse, slope }
    }
}

/// The zero in `lower..=upper` of a rising function that gives value and slope: Newton's steps, and
/// bisection where a step would leave the bracket or is not half as long as the step before the last.
fn root(f: impl Fn(f64) -> (f64, f64), lower: f64, upper: f64, guess: f64) -> f64 {
    let (mut low, mut high) = (lower, upper);
    let mut t = if guess > low && guess < high { guess } else { f64::midpoint(low, high) };
    let (mut step, mut step_before) = (high - low, high - low);
    for _ in 0..ROOT_STEPS {
        let (value, slope) = f(t);
        if value > 0.0 {
            high = t;
        } else {
            low = t;
        }
        let newton = t - value / slope;
        let fits = newton >= low && newton <= high && (2.0 * (newton - t)).abs() <= step_before.abs();
        let next = if fits { newton } else { f64::midpoint(low, high) };
        (step_before, step) = (step, next - t);
        if step.abs() <= ROOT_PRECISION * t.abs() {
            return next;
        }
        t = next;
    }
    t
}

//! Beams by differences along a fine mesh: the energy of bending, minus the work of the loads, is least.

use super::chance::Chance;
use super::how_many;
use wallplate::calc::beam::{Beam, Load, Stretch, Support, Train, Wheel, envelope, respond};

/// Places on which supports and wheels may stand.
const PLACES: usize = 240;
/// Steps from one place to the next: what differs for a short end and is right comes nearer with more of them.
const FINE: usize = 2;
/// Steps along the beam.
const STEPS: usize = PLACES * FINE;

/// A beam of even steps; supports, hinges and wheels stand on its points.
struct Mesh {
    step: f64,
    /// Bending stiffness of the beam at each inner point; 0 at a splice.
    bending: Vec<f64>,
    /// Which points do not move, and the springs under those that give way.
    supports: Vec<(usize, Option<f64>)>,
    /// The lower band of Cholesky's factor.
    factor: Vec<[f64; 3]>,
}

impl Mesh {
    fn new(step: f64, bending: Vec<f64>, supports: Vec<(usize, Option<f64>)>) -> Mesh {
        // K = sum over inner points of EI/h^3 (w[i-1] - 2 w[i] + w[i+1])^2, kept as its diagonal and the two beside it.
        let mut band = vec![[0.0; 3]; STEPS + 1];
        for (at, stiffness) in bending.iter().enumerate().take(STEPS).skip(1) {
            let k = stiffness / step.powi(3);
            let shape = [1.0, -2.0, 1.0];
            for (i, a) in shape.iter().enumerate() {
                for (j, b) in shape.iter().enumerate().take(i + 1) {
                    band[at - 1 + i][i - j] += k * a * b;
                }
            }
        }
        for (at, spring) in &supports {
            // What does not give way is a spring that hardly does.
            band[*at][0] += spring.unwrap_or(1e13);
        }
        let mut factor = vec![[0.0_f64; 3]; STEPS + 1];
        for at in 0..=STEPS {
            let second = if at >= 2 { band[at][2] / factor[at - 2][0] } else { 0.0 };
            let first =
                if at >= 1 { (band[at][1] - if at >= 2 { second * factor[at - 1][1] } else { 0.0 }) / factor[at - 1][0] } else { 0.0 };
            factor[at] = [(band[at][0] - first * first - second * second).sqrt(), first, second];
        }
        Mesh { step, bending, supports, factor }
    }

    /// Deflections at the points under forces there, down.
    fn sinks(&self, forces: &[f64]) -> Vec<f64> {
        let mut y = vec![0.0; STEPS + 1];
        for at in 0..=STEPS {
            let mut rest = forces[at];
            for back in 1..=2.min(at) {
                rest -= self.factor[at][back] * y[at - back];
            }
            y[at] = rest / self.factor[at][0];
        }
        for at in (0..=STEPS).rev() {
            let mut rest = y[at];
            for on in 1..=2.min(STEPS - at) {
                rest -= self.factor[at + on][on] * y[at + on];
            }
            y[at] = rest / self.factor[at][0];
        }
        y
    }

    /// Moment at each point, sagging positive.
    fn moments(&self, sinks: &[f64]) -> Vec<f64> {
        let inner = |at: usize| -self.bending[at] * (sinks[at - 1] - 2.0 * sinks[at] + sinks[at + 1]) / self.step.powi(2);
        (0..=STEPS).map(|at| if at == 0 || at == STEPS { 0.0 } else { inner(at) }).collect()
    }

    fn reactions(&self, sinks: &[f64]) -> Vec<f64> {
        self.supports.iter().map(|(at, spring)| spring.unwrap_or(1e13) * sinks[*at]).collect()
    }
}

struct Drawn {
    beam: Beam,
    mesh: Mesh,
    weight: f64,
    wheels: Vec<(usize, f64)>,
}

fn drawn(chance: &mut Chance) -> Drawn {
    let length = chance.between(2.0, 9.0);
    let step = length / STEPS as f64;
    let place = |at: usize| at as f64 * step;
    let mut at = if chance.once_in(2) { 0 } else { (4 + chance.below(30)) * FINE };
    let mut places = vec![at];
    while places.len() < 2 || (at < 170 * FINE && !chance.once_in(3)) {
        at = (at + (30 + chance.below(70)) * FINE).min(STEPS);
        if places.last() == Some(&at) {
            break;
        }
        places.push(at);
    }
    let supports: Vec<(usize, Option<f64>)> = places.iter().map(|at| (*at, chance.once_in(4).then(|| chance.between(2e5, 5e6)))).collect();
    let stiffness = chance.between(3e4, 4e5);
    let change = chance.once_in(2).then(|| ((40 + chance.below(160)) * FINE, chance.between(0.4, 2.5)));
    let hinge =
        (places.len() > 2 && chance.once_in(3)).then(|| places[1] + (6 + chance.below(10)) * FINE).filter(|at| *at + 4 * FINE < places[2]);
    let mut bending: Vec<f64> = (0..=STEPS)
        .map(|at| match change {
            // A change of the stiffness halfway over a point.
            Some((where_to, times)) if at == where_to => 2.0 / (1.0 / stiffness + 1.0 / (stiffness * times)),
            Some((where_to, times)) if at > where_to => stiffness * times,
            _ => stiffness,
        })
        .collect();
    if let Some(at) = hinge {
        bending[at] = 0.0;
    }
    let mut stretches = vec![Stretch { until: length, bending_stiffness: change.map_or(stiffness, |(_, times)| stiffness * times) }];
    if let Some((at, _)) = change {
        stretches.insert(0, Stretch { until: place(at), bending_stiffness: stiffness });
    }
    let beam = Beam {
        start: 0.0,
        end: length,
        stretches,
        supports: supports.iter().map(|(at, spring)| Support { at: place(*at), spring: *spring }).collect(),
        hinges: hinge.map(place).into_iter().collect(),
    };
    let weight = if chance.once_in(2) { 0.0 } else { chance.between(20.0, 600.0) };
    let mut offset = 0;
    let wheels = (0..1 + chance.below(3))
        .map(|_| {
            let wheel = (offset, chance.between(400.0, 4000.0));
            offset += (8 + chance.below(80)) * FINE;
            wheel
        })
        .collect();
    Drawn { beam, mesh: Mesh::new(step, bending, supports), weight, wheels }
}

impl Drawn {
    fn place(&self, at: usize) -> f64 {
        at as f64 * self.mesh.step
    }

    /// Forces at the points with the train at one of them; wheels beyond the ends do not load the beam.
    fn forces(&self, train: isize) -> Vec<f64> {
        self.forces_where(train, |_| true)
    }

    /// With those wheels only that stand at points which count.
    fn forces_where(&self, train: isize, counts: impl Fn(usize) -> bool) -> Vec<f64> {
        let own = self.weight * self.mesh.step;
        let mut forces: Vec<f64> = (0..=STEPS).map(|at| if at == 0 || at == STEPS { own / 2.0 } else { own }).collect();
        for (offset, load) in &self.wheels {
            let at = train + isize::try_from(*offset).unwrap();
            if let Some(force) = usize::try_from(at).ok().filter(|at| counts(*at)).and_then(|at| forces.get_mut(at)) {
                *force += load;
            }
        }
        forces
    }
}

fn most(of: &[f64]) -> f64 {
    of.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

fn least(of: &[f64]) -> f64 {
    of.iter().copied().fold(f64::INFINITY, f64::min)
}

/// What a mesh of 240 steps may be off by: a point load stands within half a step.
const ROUGH: f64 = 0.015;

#[test]
fn beams_bend_as_a_fine_mesh_does() {
    for seed in 0..how_many(80) {
        let mut chance = Chance::new(seed);
        let drawn = drawn(&mut chance);
        let train = (isize::try_from(chance.below(PLACES)).unwrap() - 40) * isize::try_from(FINE).unwrap();
        let sinks = drawn.mesh.sinks(&drawn.forces(train));
        let mut loads = vec![Load::self_weight(&drawn.beam, drawn.weight)];
        for (offset, load) in &drawn.wheels {
            if let Ok(at) = usize::try_from(train + isize::try_from(*offset).unwrap())
                && at <= STEPS
            {
                loads.push(Load::Point { at: drawn.place(at).min(drawn.beam.end), force: *load });
            }
        }
        let found = respond(&drawn.beam, &loads).unwrap();
        let moments = drawn.mesh.moments(&sinks);
        // Supports that do not give way at all give way by nanometres here.
        let (deep, bent) = (most(&sinks).max(-least(&sinks)).max(1e-6), most(&moments).max(-least(&moments)).max(0.1));
        for at in 0..=STEPS {
            let x = drawn.place(at).min(drawn.beam.end);
            let (sink, moment) = (found.deflection(x), found.moment(x));
            assert!((sink - sinks[at]).abs() <= ROUGH * deep, "seed {seed} at {x}: sinks {}, found {sink}", sinks[at]);
            assert!((moment - moments[at]).abs() <= ROUGH * bent, "seed {seed} at {x}: moment {}, found {moment}", moments[at]);
        }
        let whole: f64 = drawn.forces(train).iter().sum();
        for (due, found) in drawn.mesh.reactions(&sinks).iter().zip(&found.reactions) {
            assert!((due - found).abs() <= ROUGH * whole.max(1.0), "seed {seed}: reaction {due}, found {found}");
        }
    }
}

#[test]
fn wheels_on_their_way_do_what_small_steps_find() {
    for seed in 0..how_many(15) {
        let mut chance = Chance::new(seed);
        let drawn = drawn(&mut chance);
        let fine = isize::try_from(FINE).unwrap();
        let from = (isize::try_from(chance.below(PLACES)).unwrap() - 100) * fine;
        let to = from + (20 + isize::try_from(chance.below(PLACES)).unwrap()) * fine;
        // A wheel that begins or ends its way on an end of the beam stands there or does not, as numbers are rounded.
        let on_an_end = |train: isize| {
            let places = drawn.wheels.iter().filter_map(|(offset, _)| train.checked_add_unsigned(*offset)?.try_into().ok());
            places.into_iter().any(|at: usize| at == 0 || at == STEPS)
        };
        if on_an_end(from) || on_an_end(to) {
            continue;
        }
        let place = |at: isize| at as f64 * drawn.mesh.step;
        let wheels = drawn.wheels.iter().map(|(offset, load)| Wheel { offset: drawn.place(*offset), load: *load }).collect();
        let found = envelope(&drawn.beam, &Train { wheels, from: place(from), to: place(to) }, drawn.weight).unwrap();
        let none = (0.0_f64, 0.0_f64);
        let (mut deep, mut bent) = (none, none);
        let mut pressed = vec![(f64::INFINITY, f64::NEG_INFINITY); drawn.beam.supports.len()];
        for (train, just) in (from..=to).flat_map(|train| [(train, 0), (train, -1), (train, 1)]) {
            // A wheel at an end came onto the beam there or goes off it: just before or just after the others stand alone.
            let forces = match just {
                -1 if train > from => drawn.forces_where(train, |at| at != 0),
                1 if train < to => drawn.forces_where(train, |at| at != STEPS),
                0 => drawn.forces(train),
                _ => continue,
            };
            if just != 0 && forces == drawn.forces(train) {
                continue;
            }
            let sinks = drawn.mesh.sinks(&forces);
            let moments = drawn.mesh.moments(&sinks);
            deep = (deep.0.min(least(&sinks)), deep.1.max(most(&sinks)));
            bent = (bent.0.min(least(&moments)), bent.1.max(most(&moments)));
            for (range, reaction) in pressed.iter_mut().zip(drawn.mesh.reactions(&sinks)) {
                *range = (range.0.min(reaction), range.1.max(reaction));
            }
        }
        let alike = |what: &str, due: (f64, f64), found: (f64, f64), scale: f64| {
            let rough = 2.0 * ROUGH * scale;
            assert!((due.0 - found.0).abs() <= rough && (due.1 - found.1).abs() <= rough, "seed {seed}: {what} {due:?}, found {found:?}");
        };
        alike("sinks", deep, (found.highest.value, found.deepest.value), deep.1.max(-deep.0).max(1e-6));
        alike("bends", bent, (found.hogging.value, found.sagging.value), bent.1.max(-bent.0).max(0.1));
        let whole = drawn.wheels.iter().map(|(_, load)| load).sum::<f64>() + drawn.weight * drawn.beam.end;
        for (due, found) in pressed.iter().zip(&found.reactions) {
            alike("presses", *due, (found.smallest.value, found.largest.value), whole);
        }
    }
}

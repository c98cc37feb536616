//! Extremes of moment, shear and reactions over all positions of a train.
//!
//! In: influence lines, the way of the train cut where a wheel passes a node, the answer to the beam's own weight.
//! Out: the extremes with their positions, and for each element a bound of its moments.
//! It must not know about deflection.
//!
//! On one stretch of the way the moment at each node is a cubic in the position `t`. Along an element the moment then has
//! its extremes at the element's ends, under a wheel (a polynomial of degree four in `t`), or, because of the beam's own
//! weight `w`, where the shear `V` is zero: there it is the moment left of it plus `V²/2w`.

use super::influence::{Cubic, Influence};
use super::model::Beam;
use super::polynomial::Polynomial;
use super::response::Response;
use super::train::{Governing, Passes, SupportRange};

/// Extremes over all positions.
pub(super) struct Forces {
    pub sagging: Governing,
    pub hogging: Governing,
    pub shear_largest: Governing,
    pub shear_smallest: Governing,
    pub reactions: Vec<SupportRange>,
    /// For each element, moments that are never exceeded on it: the most hogging (at most zero) and the most sagging.
    pub bands: Vec<(f64, f64)>,
}

/// The largest and the smallest value met so far.
#[derive(Clone, Copy)]
struct Extremes {
    largest: Governing,
    smallest: Governing,
}

impl Extremes {
    fn from(value_largest: f64, value_smallest: f64, train: f64, at: f64) -> Self {
        Self { largest: Governing { value: value_largest, train, at }, smallest: Governing { value: value_smallest, train, at } }
    }

    fn meet(&mut self, value: f64, train: f64, at: f64) {
        if value > self.largest.value {
            self.largest = Governing { value, train, at };
        }
        if value < self.smallest.value {
            self.smallest = Governing { value, train, at };
        }
    }

    /// Meets a quantity's extremes on a stretch, `at` giving the place along the beam. Returns the curve's bounds.
    fn meet_curve<const N: usize>(&mut self, curve: &Polynomial<N>, stretch: (f64, f64), at: impl Fn(f64) -> f64) -> (f64, f64) {
        let (start, width) = stretch;
        let (low, high) = curve.bounds(width);
        if high > self.largest.value || low < self.smallest.value {
            for t in curve.level_places(width).iter().chain([0.0, width]) {
                self.meet(curve.at(t), start + t, at(t));
            }
        }
        (low, high)
    }
}

/// A wheel on an element during one stretch of the way.
#[derive(Clone, Copy)]
struct Standing {
    element: usize,
    /// Place at the start of the stretch.
    place: f64,
    load: f64,
}

/// Finds the extremes.
pub(super) fn scan(beam: &Beam, influence: &Influence, passes: &Passes, resting: &Response, weight: f64) -> Forces {
    let mesh = &influence.solved.mesh;
    let position = passes.cuts.first().copied().unwrap_or(0.0);
    let mut found = Found {
        moment: Extremes::from(0.0, 0.0, position, beam.start),
        shear: Extremes::from(0.0, 0.0, position, beam.start),
        reactions: beam.supports.iter().map(|s| Extremes::from(f64::NEG_INFINITY, f64::INFINITY, position, s.at)).collect(),
        bands: vec![(0.0, 0.0); mesh.elements.len()],
    };
    let own: Vec<f64> = mesh.nodes.iter().map(|node| if node.hinged { 0.0 } else { resting.moment(node.at) }).collect();
    let mut standing: Vec<Standing> = Vec::with_capacity(passes.wheels.len());
    let mut moments: Vec<Cubic> = Vec::with_capacity(own.len());
    for (start, width) in passes.stretches() {
        standing.clear();
        for wheel in &passes.wheels {
            if let Some(middle) = passes.on_beam(wheel, start, width) {
                standing.push(Standing { element: mesh.element_at(middle), place: start + wheel.offset, load: wheel.load });
            }
        }
        moments.clear();
        for (line, own) in influence.moments.iter().zip(&own) {
            let mut sum = Cubic::constant(*own);
            for wheel in &standing {
                if let (Some(cubic), Some(element)) = (line.get(wheel.element), mesh.elements.get(wheel.element)) {
                    sum = sum.plus(&cubic.shifted(wheel.place - element.left).scaled(wheel.load));
                }
            }
            moments.push(sum);
        }
        found.stretch(influence, &moments, &standing, (start, width), weight);
    }
    Forces {
        sagging: found.moment.largest,
        hogging: found.moment.smallest,
        shear_largest: found.shear.largest,
        shear_smallest: found.shear.smallest,
        reactions: found.reactions.iter().map(|range| SupportRange { largest: range.largest, smallest: range.smallest }).collect(),
        bands: found.bands,
    }
}

struct Found {
    moment: Extremes,
    shear: Extremes,
    reactions: Vec<Extremes>,
    bands: Vec<(f64, f64)>,
}

impl Found {
    /// Walks along the beam, from kink to kink of the moment.
    fn stretch(&mut self, influence: &Influence, moments: &[Cubic], standing: &[Standing], way: (f64, f64), weight: f64) {
        let mesh = &influence.solved.mesh;
        let mut left_of_node = Cubic::ZERO;
        let mut rest = standing;
        for (index, element) in mesh.elements.iter().enumerate() {
            let (Some(moment_left), Some(moment_right)) = (moments.get(index), moments.get(index + 1)) else {
                continue;
            };
            let mine = rest.iter().take_while(|wheel| wheel.element == index).count();
            let (wheels, others) = rest.split_at(mine);
            rest = others;

            let l = element.length;
            let right = element.left + l;
            let mut shear = moment_right.minus(moment_left).scaled(1.0 / l).plus(&Cubic::constant(0.5 * weight * l));
            for wheel in wheels {
                shear = shear.plus(&Cubic::line(right - wheel.place, -1.0).scaled(wheel.load / l));
            }
            self.reaction(influence, index, &shear.minus(&left_of_node), way);

            let (low, high) = self.moment.meet_curve(moment_left, way, |_| element.left);
            let mut band = (low, high);
            let mut kink = Kink { place: Cubic::constant(element.left), moment: moment_left.widened(), shear };
            for wheel in wheels {
                let place = Cubic::line(wheel.place, 1.0);
                kink = self.length(&kink, &place, weight, way);
                let bounds = self.moment.meet_curve(&kink.moment, way, |t| place.at(t));
                band = (band.0.min(bounds.0), band.1.max(bounds.1));
                kink.shear = kink.shear.minus(&Cubic::constant(wheel.load));
            }
            let end = self.length(&kink, &Cubic::constant(right), weight, way);
            left_of_node = end.shear;

            let bounds = moment_right.bounds(way.1);
            let bulge = weight * l * l / 8.0;
            if let Some(widest) = self.bands.get_mut(index) {
                widest.0 = widest.0.min(band.0.min(bounds.0) + bulge.min(0.0));
                widest.1 = widest.1.max(band.1.max(bounds.1) + bulge.max(0.0));
            }
        }
        self.reaction(influence, mesh.elements.len(), &left_of_node.scaled(-1.0), way);
    }

    fn reaction(&mut self, influence: &Influence, node: usize, jump: &Cubic, way: (f64, f64)) {
        let node = influence.solved.mesh.nodes.get(node);
        if let Some((node, support)) = node.and_then(|n| n.support.map(|s| (n, s)))
            && let Some(range) = self.reactions.get_mut(support)
        {
            range.meet_curve(jump, way, |_| node.at);
        }
    }

    /// Goes from one kink to the place of the next, where shear and moment are those just left of it.
    fn length(&mut self, kink: &Kink, to: &Cubic, weight: f64, way: (f64, f64)) -> Kink {
        let distance = to.minus(&kink.place);
        let shear = kink.shear.minus(&distance.scaled(weight));
        // The mean shear times the distance is the rise of the moment.
        let rise: Polynomial<5> = kink.shear.plus(&shear).scaled(0.5).times(&Polynomial([distance.0[0], distance.0[1]]));
        let moment = kink.moment.plus(&rise);
        self.shear.meet_curve(&kink.shear, way, |t| kink.place.at(t));
        if weight != 0.0 {
            self.shear.meet_curve(&shear, way, |t| to.at(t));
            self.between(kink, &distance, weight, way);
        }
        Kink { place: *to, moment, shear }
    }

    /// The moment where the shear is zero between two kinks, because of the beam's own weight.
    fn between(&mut self, kink: &Kink, distance: &Cubic, weight: f64, way: (f64, f64)) {
        let (start, width) = way;
        let (low, high) = kink.shear.scaled(1.0 / weight).bounds(width);
        if high <= 0.0 || low >= distance.bounds(width).1 {
            return;
        }
        let square: Polynomial<7> = kink.shear.times(&kink.shear);
        let moment = kink.moment.widened::<7>().plus(&square.scaled(0.5 / weight));
        let (least, most) = moment.bounds(width);
        if most <= self.moment.largest.value && least >= self.moment.smallest.value {
            return;
        }
        for t in moment.level_places(width).iter().chain([0.0, width]) {
            let beyond = kink.shear.at(t) / weight;
            if beyond > 0.0 && beyond < distance.at(t) {
                self.moment.meet(moment.at(t), start + t, kink.place.at(t) + beyond);
            }
        }
    }
}

/// A place where the moment has a kink: a node or a wheel; shear just right of it.
struct Kink {
    place: Cubic,
    moment: Polynomial<5>,
    shear: Cubic,
}

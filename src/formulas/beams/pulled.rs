//! A beam that is pulled up: how it shares the pull out to its ties, while the roof stands and while it rolls.

use super::{PulledBeam, placed};
use crate::calc::FormulaError;
use crate::calc::beam::{self, Beam, Load, bearings};
use crate::formulas::body::Formula;
use crate::formulas::tables::table;

/// Places of a roof's travel at which the pull of its keepers on a beam is looked at, besides those at a tie.
const KEEPER_PLACES: u32 = 40;
/// Only the ratio of stiffnesses counts on stiff supports: any will do, N·m².
const ANY_RIGIDITY: f64 = 1.0;

/// A pull on a beam, N, and where.
struct Pull {
    at: f64,
    force: f64,
    /// Rolls with the roof.
    rides: bool,
}

/// How the ties of a beam share pulls that stand still.
fn tied(beam: &Beam, pulls: &[(f64, f64)]) -> Result<Vec<f64>, FormulaError> {
    let up: Vec<Load> = pulls.iter().map(|(at, pull)| Load::Point { at: at.clamp(beam.start, beam.end), force: -pull }).collect();
    match beam::respond(beam, &up) {
        Ok(response) => Ok(response.reactions.iter().map(|reaction| (-reaction).max(0.0)).collect()),
        // One tie alone takes all of it: what keeps the beam from turning is that it presses on its other supports.
        Err(FormulaError::Unstable { .. }) => Ok(vec![pulls.iter().map(|(_, pull)| pull).sum::<f64>(); beam.supports.len()]),
        Err(error) => Err(error),
    }
}

/// The travels at which the keepers' pulls on the ties are looked at: each keeper at each tie, and places between.
fn keeper_travels(ties: &[f64], pulls: &[Pull], travel: f64) -> Vec<f64> {
    let mut travels: Vec<f64> = (0..=KEEPER_PLACES).map(|at| travel * f64::from(at) / f64::from(KEEPER_PLACES)).collect();
    let riding = || pulls.iter().filter(|pull| pull.rides);
    travels.extend(riding().flat_map(|pull| ties.iter().map(move |tie| tie - pull.at)).filter(|at| 0.0 <= *at && *at <= travel));
    if riding().next().is_none() { vec![0.0] } else { travels }
}

impl Formula for PulledBeam {
    fn answer(self) -> Result<table::PulledBeam, FormulaError> {
        let (start, end, forces) = (self.first_end, self.last_end, self.pulls);
        let (ties, places) = bearings::under(start, end, &self.ties);
        let (keepers, kept, rides) =
            (self.keepers.unwrap_or_default(), self.keeper_pulls.unwrap_or_default(), self.rides.unwrap_or_default());
        let rolling = self.rolling.unwrap_or_else(|| vec![false; self.stations.len()]);
        let each = [forces.len(), rolling.len()].iter().all(|count| *count == self.stations.len());
        if !each || keepers.len() != kept.len() || keepers.len() != rides.len() {
            return Err(FormulaError::domain("the pulls", "given with one station each"));
        }
        let standing: Vec<Pull> =
            self.stations.iter().zip(&forces).map(|(at, force)| Pull { at: *at, force: *force, rides: false }).collect();
        let keeping = keepers.iter().zip(&kept).zip(&rides);
        let keeping: Vec<Pull> = keeping.map(|((at, force), rides)| Pull { at: *at, force: *force, rides: *rides }).collect();
        let beam = Beam::uniform(start, end, ANY_RIGIDITY, &ties);
        let mut shares = tied(&beam, &standing.iter().map(|pull| (pull.at, pull.force)).collect::<Vec<_>>())?;
        if !keeping.is_empty() {
            let still = standing.iter().zip(&rolling).filter_map(|(pull, rolling)| rolling.then_some(pull));
            let all: Vec<&Pull> = still.chain(&keeping).collect();
            for travel in keeper_travels(&ties, &keeping, self.travel.unwrap_or_default()) {
                let here = all.iter().map(|pull| (if pull.rides { pull.at + travel } else { pull.at }, pull));
                // A keeper that has rolled off this beam pulls at the next.
                let here = here.filter(|(at, pull)| !pull.rides || bearings::is_on(start, end, *at));
                let now = tied(&beam, &here.map(|(at, pull)| (at, pull.force)).collect::<Vec<_>>())?;
                shares.iter_mut().zip(now).for_each(|(most, now)| *most = most.max(now));
            }
        }
        let total = forces.iter().sum();
        // None of its ties is on it: whatever pulls at it, each of them would have to hold all.
        if ties.is_empty() {
            let all = f64::max(total, kept.iter().sum());
            return Ok(table::PulledBeam { pulls: vec![all; places.len()], most: all, total });
        }
        Ok(table::PulledBeam { pulls: placed(&shares, &places), most: shares.iter().copied().fold(0.0, f64::max), total })
    }
}

//! Where the blow on a stop goes, just held and just not: through the rail it is fixed to, the beam below, the wall.

use super::just::{FAIL, PASS, TIGHT, findings, first};
use wallplate::rules::Verdict;

const CLIPS: &str = include_str!("../../../examples/broken/rail_on_two_clips.plate");
const GABLE: &str = include_str!("../../../examples/broken/stop_against_the_gable.plate");
const HERON: &str = "heron_fold.plate";
const OPEN: Option<Verdict> = Some(Verdict::Undetermined);

/// Conservation of energy: k = 2 x 40 J / (15 mm)^2; k x^2 / 2 = 20 J + 600 N x gives 12.427 mm, and with that 4418.6 N. A tenth is left.
#[test]
fn the_rail_holds_the_stop_on_it() {
    let (stiffness, energy, push): (f64, f64, f64) = (2.0 * 40.0 / 0.015_f64.powi(2), 20.0, 600.0);
    let force = push + (push * push + 2.0 * stiffness * energy).sqrt();
    assert!((force - 4418.6).abs() < 0.1, "{force}");
    let rule = "structure.rail_takes_the_blow";
    let held = |line: &str| CLIPS.replace("held_sideways  900 N", line);
    for (holds, due) in [(force / 0.9 + 1.0, PASS), (force / 0.9 - 1.0, TIGHT), (force - 0.1, FAIL)] {
        assert_eq!(first(&held(&format!("held_sideways {holds} N")), rule), due, "{holds}");
    }
    assert_eq!(first(&held(""), rule), OPEN);
    // The stalled drive may push harder than the blow.
    let stalls = |stall: &str| held("held_sideways 5 kN").replace("stall_force 1 kN", stall);
    for (stall, due) in [("stall_force 4.49 kN", PASS), ("stall_force 4.51 kN", TIGHT), ("stall_force 5.01 kN", FAIL)] {
        assert_eq!(first(&stalls(stall), rule), due, "{stall}");
    }
}

#[test]
fn a_wall_across_the_travel_is_no_place_for_a_stop() {
    let rule = "structure.stop_not_on_a_wall_across";
    assert_eq!(first(GABLE, rule), FAIL);
    assert_eq!(first(&GABLE.replace("station       0 m", "offset 0 m"), rule), None);
    assert_eq!(first(&GABLE.replace("built         studs", "built solid"), rule), TIGHT);
}

/// What pushes on the beam is the same whether the stop is bolted to it or to the rail on it.
#[test]
fn the_blow_goes_on_through_the_rail() {
    let demand = |changes: &str, rule: &str, of: &str| {
        let found = findings(HERON, changes, rule).into_iter().find(|finding| finding.subjects.iter().any(|subject| subject == of));
        found.and_then(|finding| finding.demand).map(|demand| demand.quantity.si)
    };
    let on = |part: &str| format!("open_stop {{ fixed_to {part} }}\nclosed_stop {{ fixed_to {part} }}");
    for (rule, of) in [("sideways.push_along_is_held", "east_plate"), ("sideways.wall_racking", "east_wall")] {
        let on_beam = demand(&on("east_plate"), rule, of);
        assert!(on_beam.is_some_and(|push| push > 2000.0), "{rule}: {on_beam:?}");
        assert_eq!(demand(&on("east_track"), rule, of), on_beam, "{rule}");
    }
    let on_wall = demand(&on("east_wall"), "sideways.wall_racking", "east_wall");
    assert_eq!(on_wall, demand("", "sideways.wall_racking", "east_wall"));
}

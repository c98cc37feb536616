//! Rack and pinion, and how fast a column swings.

use super::{US, asked, number, refused, verdicts};
use approx::assert_relative_eq;
use std::f64::consts::TAU;
use wallplate::rules::Verdict;

/// A full-depth rack cuts into pinions of fewer than 2/sin²20° = 17.1 teeth (ISO 53 teeth). At the gap that is named as the largest
/// the teeth in contact, undercut counted, are those that were wanted.
#[test]
fn the_largest_gap_of_the_mesh_works() {
    let (mut some, mut none) = (0, 0);
    for teeth in [8, 10, 12, 14, 17, 20] {
        for wanted in ["1.05", "1.2", "1.3", "1.4", "1.6"] {
            let of = |name: &str, last: &str| format!("{name}(module 4 mm, teeth {teeth}, pressure_angle 20 deg, {last})");
            let ratio = |gap: f64| number(US, &of("contact_ratio", &format!("gap {} m", gap)));
            match asked(US, &of("largest_mesh_gap", &format!("contact_ratio {wanted}"))) {
                Ok(gap) => {
                    some += 1;
                    let wanted: f64 = wanted.parse().unwrap();
                    let gap = gap.si().unwrap();
                    assert!(ratio(gap) > wanted - 1e-6, "{teeth} teeth: {} at {gap}", ratio(gap));
                    assert!(ratio(gap + 1e-5) < wanted, "{teeth} teeth: not the largest");
                }
                Err(said) => {
                    none += 1;
                    assert!(said.contains("within this pinion's reach"), "{said}");
                    assert!(ratio(0.0) < wanted.parse().unwrap(), "{teeth} teeth, {wanted}");
                }
            }
        }
    }
    assert!(some > 5 && none > 5, "{some} and {none}");
}

#[test]
fn a_pinion_that_cannot_reach_is_told_so() {
    let small = "use racks\nobservatory o { rolls_open east; design_code eurocode }\nroof r { mass 400 kg }\n\
        drive d { moves r; speed 0.1 m/s; reaction_time 0.1 s }\npinion p like module_4_pinion { driven_by d; teeth 9 }\n\
        rack k like module_4_steel { meshes_with p; fixed_to r; gap 0.2 mm; overlap_wanted 1.2; spacers []; sag 0 mm }\n";
    let overlap = verdicts(small, "drive.teeth_overlap");
    assert_eq!(overlap[0].0, Verdict::Fail, "{overlap:?}");
    assert_eq!(verdicts(small, "drive.mesh_all_year"), []);
}

/// Uniform cantilevers with a mass on top, exact: the roots of cos cosh + 1 = r λ (sin cosh − cos sinh) for a mass ratio r of 0, 0.5, 2
/// give ω = 3.5160, 2.0163, 1.1582 √(EI/mL⁴). What the program says lies below, and not far.
#[test]
fn a_column_is_not_said_to_swing_faster_than_it_does() {
    for (mass, exact) in [(0.0, 3.5160), (0.5, 2.0163), (2.0, 1.1582)] {
        let said = number(US, &format!("column_frequency(lengths [1 m], rigidities [1 N*m2], masses [1 kg/m], head {mass} kg)")) * TAU;
        assert!(said <= exact * (1.0 + 1e-9) && said > 0.97 * exact, "{said} for {exact}");
    }
    // By hand for no head: f(x) = x³/3, its integral 1/12.
    let bare = number(US, "column_frequency(lengths [1 m], rigidities [1 N*m2], masses [1 kg/m], head 0 kg)") * TAU;
    assert_relative_eq!(bare, 12.0_f64.sqrt(), max_relative = 1e-9);
    assert!(refused(US, "column_frequency(lengths [1 m], rigidities [1 N*m2], masses [0 kg/m], head 0 kg)").contains("mass"));
}

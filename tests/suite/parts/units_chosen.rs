//! In which unit numbers are told, at the edges: no more than four figures before the point, none of its noughts counted.

use wallplate::units::{Dim, System, Unit, common_unit, is_said_in};

fn told(numbers: &[f64], dim: &str, written: Option<&str>) -> String {
    let written = written.map(|text| Unit::parse(text).unwrap());
    let unit = common_unit(numbers, Dim::named(dim).unwrap(), written.as_ref(), System::Metric);
    unit.map(|unit| unit.text.to_string()).unwrap_or_default()
}

#[test]
fn the_unit_that_is_written_counts_until_its_number_is_too_long() {
    assert_eq!(told(&[9_999.0, 2_000.0], "force", Some("N")), "N");
    assert_eq!(told(&[10_000.0, 2_000.0], "force", Some("N")), "kN");
    assert_eq!(told(&[10_500.0, 2_000.0], "force", Some("N")), "kN");
    // A nought reads well in every unit, and is no size.
    assert_eq!(told(&[0.0, 0.0], "length", Some("mm")), "mm");
    assert_eq!(told(&[0.0, 9.0], "length", Some("mm")), "mm");
}

#[test]
fn where_nobody_wrote_one_it_suits_the_least_while_the_greatest_can_be_read() {
    assert_eq!(told(&[5.0, 5_000.0], "force", None), "N");
    assert_eq!(told(&[5.0, 9_999.0], "force", None), "N");
    assert_eq!(told(&[5.0, 10_000.0], "force", None), "kN");
}

#[test]
fn a_number_beside_others_is_said_in_their_unit_while_it_can_be_read() {
    let said = |unit: &str, si: f64| is_said_in(&Unit::parse(unit).unwrap(), si);
    assert!(said("mm", 0.0) && said("mm", 0.999) && !said("mm", 1.0));
    assert!(said("N", 9_999.0) && !said("N", 10_000.0));
    assert!(said("in", 11.9 * 0.0254) && !said("in", 12.1 * 0.0254));
    assert!(said("ft", 0.3048) && !said("ft", 0.3));
    // A tape in feet and inches reads every length.
    let tape = Unit::feet_inches();
    assert!(is_said_in(&tape, 0.001) && is_said_in(&tape, 500.0) && is_said_in(&tape, 0.0));
}

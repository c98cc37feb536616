//! Lists on paper: names in a row, days of work, signs that Markdown would take for its own.

use smol_str::SmolStr;
use wallplate::output::lists::markdown::cell;
use wallplate::output::lists::{names, work};
use wallplate::output::text::in_one_line;

#[test]
fn elements_in_a_row_are_named_together() {
    let all: Vec<SmolStr> = ["a[1]", "a[2]", "a[3]", "b", "a[5]", "c[1]"].into_iter().map(SmolStr::new).collect();
    assert_eq!(names(&all), "a[1] to [3], b, a[5], c[1]");
}

#[test]
fn work_is_told_in_parts_of_a_day() {
    assert_eq!(
        [0.125, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0].map(work),
        ["1/8 day", "1/4 day", "1/2 day", "3/4 day", "1 day", "1-1/2 days", "2 days"]
    );
}

#[test]
fn names_stay_readable_and_signs_mean_nothing() {
    assert_eq!(cell("east_gantry[1] | _x_ <b>\n*y*"), "east_gantry\\[1\\] \\| \\_x\\_ \\<b\\> \\*y\\*");
}

#[test]
fn a_formula_of_several_lines_reads_as_one() {
    let text = "hold_down(  # all of it\n    wind  wind_shut,\n    says \"a  # b\"\n  ) + [ 1,\n 2 ]";
    assert_eq!(in_one_line(text), "hold_down(wind wind_shut, says \"a  # b\") + [1, 2]");
}

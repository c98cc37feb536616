//! Screws, bolts and nails: what crosses first, what they are, where they stand.

use super::{EU, POUND, PSI, US, number, refused, verdicts};
use approx::assert_relative_eq;
use wallplate::rules::Verdict;

/// A joint of these lines, by the NDS.
fn us(lines: &str) -> String {
    format!("{US}joint j {{ damp covered; into douglas_fir_no_2; end_distance 8 in; edge_distance 4 in; spacing 4 in; {lines} }}\n")
}

fn eu(lines: &str) -> String {
    format!("{EU}joint j {{ damp covered; into c24; {lines} }}\n")
}

/// NDS 2018 Table 12K, 14 gage (0.075 in) A653 grade 33 side plates, G 0.50, printed to 10 lb: 1/4 in lag screws 150 lb along and
/// 110 lb across the grain. Fe of the plate: 61,850 psi there, 87,000 psi of A36 (Table 12M, both in its footnotes).
#[test]
fn a_gauge_bracket_bears_less_than_a_rolled_plate() {
    let bracket = "joined screwed; fastener lag_1_4x3; through 0.075 in; wood 3-1/2 in";
    for (angle, printed) in [("0 deg", 150.0), ("90 deg", 110.0)] {
        let design = us(&format!("{bracket}; push_angle {angle}; plate_steel cold_formed"));
        assert!((number(&design, "j.one_pushed.reference") / POUND - printed).abs() <= 6.0, "{angle}");
    }
    let bearing = |steel: &str| number(&us(&format!("{bracket}{steel}")), "j.one_pushed.plate_bearing") / PSI;
    assert_relative_eq!(bearing("; plate_steel cold_formed"), 61_850.0, max_relative = 1e-3);
    assert_relative_eq!(bearing("; plate_steel hot_rolled"), 87_000.0, max_relative = 1e-3);
    // Nobody wrote what it is: the weaker.
    assert_relative_eq!(bearing(""), 61_850.0, max_relative = 1e-3);
    let holds = |steel: &str| number(&us(&format!("{bracket}{steel}")), "j.holds_sideways");
    assert!(holds("") < 0.97 * holds("; plate_steel hot_rolled"));
}

/// NDS 2018 §12.1.4.6: a lag screw reaches four diameters into the wood without its tip; §12.1.5.6, §12.1.6.5: wood screws and
/// nails six. One that comes out at the back is no bolt.
#[test]
fn a_screw_that_comes_out_at_the_back_is_no_bolt() {
    let lag = |wood: &str| us(&format!("joined screwed; fastener lag_3_8x3; through 1/4 in; wood {wood}"));
    // 4 x 3/8 in is 1-1/2 in.
    assert!(number(&lag("1-1/2 in"), "j.one_pushed.holds") > 0.0);
    assert_relative_eq!(number(&lag("1-3/8 in"), "j.one_pushed.holds"), 0.0);
    assert_eq!(
        verdicts(&us("joined screwed; fastener lag_3_8x3; through 1/4 in; wood 1-3/8 in; push 10 lbf"), "structure.joint_strength")[0].0,
        Verdict::Fail
    );
    // 6 x 0.242 in is 1.452 in.
    let screw = |wood: &str| us(&format!("joined screwed; fastener wood_screw_14x3; through 1/4 in; wood {wood}"));
    assert!(number(&screw("1-1/2 in"), "j.one_pushed.holds") > 0.0);
    assert_relative_eq!(number(&screw("1-3/8 in"), "j.one_pushed.holds"), 0.0);
    // A bolt of the same wood goes right through, unless it is written to be too short.
    let bolt = us("joined bolted; fastener bolt_3_8; through 1/4 in; wood 1-3/8 in");
    assert!(number(&bolt, "j.one_pushed.holds") > 0.0);
    let short = format!(
        "{}fastener stub {{ sort bolt; length 1-1/2 in; diameter 3/8 in; bending_yield 45 ksi; tensile_strength 60 ksi }}\n",
        us("joined bolted; fastener stub; through 1/4 in; wood 1-3/8 in")
    );
    assert_relative_eq!(number(&short, "j.one_pushed.holds"), 0.0);
}

/// EN 1995-1-1 §8.3.1.2: smooth nails 8d into the wood, thin screws 6d as other nails; §8.7.1: thick ones 4d.
#[test]
fn least_depths_of_the_eurocode() {
    let holds = |lines: &str| number(&eu(lines), "j.one_pushed.holds");
    for (what, enough, short) in [
        ("joined nailed; fastener nail_3_8x100", "31 mm", "30 mm"),
        ("joined screwed; fastener screw_6x80", "36 mm", "35 mm"),
        ("joined screwed; fastener screw_8x80", "32 mm", "31 mm"),
    ] {
        assert!(holds(&format!("{what}; through 3 mm; wood {enough}")) > 0.0, "{what}");
        assert_relative_eq!(holds(&format!("{what}; through 3 mm; wood {short}")), 0.0);
    }
    assert!(holds("joined bolted; fastener bolt_m10; through 3 mm; wood 30 mm") > 0.0);
}

/// EN 1995-1-1 §8.2.3(1): a plate counts as thick from one diameter on if its holes are less than 0.1d wider; M8 in 9 mm are not,
/// M12 in 13 mm are.
#[test]
fn a_thick_plate_with_wide_holes_counts_as_a_thin_one() {
    let holds = |bolt: &str, plate: &str| {
        number(&eu(&format!("joined bolted; fastener {bolt}; through {plate}; wood 100 mm")), "j.one_pushed.holds")
    };
    assert_relative_eq!(holds("bolt_m8", "12 mm"), holds("bolt_m8", "4 mm"), max_relative = 1e-12);
    assert!(holds("bolt_m12", "12 mm") > 1.2 * holds("bolt_m12", "6 mm"));
}

#[test]
fn what_fastens_a_joint_is_what_it_says() {
    let verdict = |lines: &str| verdicts(&us(lines), "structure.joint_fastener")[0].0;
    assert_eq!(verdict("joined bolted; fastener lag_3_8x3; through 1/4 in; wood 3 in"), Verdict::Fail);
    assert_eq!(verdict("joined screwed; fastener bolt_3_8; through 1/4 in; wood 3 in"), Verdict::Fail);
    assert_eq!(verdict("joined nailed; fastener wood_screw_10x3; through 1/4 in; wood 3 in"), Verdict::Fail);
    assert_eq!(verdict("joined screwed; fastener wood_screw_10x3; through 1/4 in; wood 3 in"), Verdict::Pass);
    // Called bolted, a lag screw is still pulled out of the wood as one: it has no nut.
    let pulled = |joined: &str| number(&us(&format!("joined {joined}; fastener lag_3_8x3; through 1/4 in; wood 3 in")), "j.holds_up");
    assert_relative_eq!(pulled("bolted"), pulled("screwed"));
}

/// NDS 2018 Table 12.2B: No. 10 wood screws in G 0.50, 135 lb per inch of thread; §12.2.2: none along the grain.
#[test]
fn wood_screws_have_their_own_table() {
    let per_inch =
        number(&us("joined screwed; fastener wood_screw_10x3; through 1/8 in; wood 3-1/2 in"), "j.one_pulled.per_length") * 0.0254 / POUND;
    assert!((per_inch - 135.0).abs() <= 1.0, "{per_inch}");
    assert_relative_eq!(
        number(&us("joined screwed; fastener wood_screw_10x3; through 1/8 in; wood 3-1/2 in; grain end"), "j.one_pulled.holds"),
        0.0
    );
}

/// NDS 2018 §12.5.4: toe-nails 0.67 of the withdrawal value, without the wet service factor, and 0.83 of the lateral one.
#[test]
fn toe_nails_hold_less() {
    let nail =
        |more: &str| us(&format!("joined nailed; fastener nail_16d; through 1-1/2 in; wood 3-1/2 in; side_wood douglas_fir_no_2{more}"));
    let part = |what: &str| number(&nail("; toe_nailed yes"), what) / number(&nail(""), what);
    assert_relative_eq!(part("j.holds_up"), 0.67, max_relative = 1e-9);
    assert_relative_eq!(part("j.holds_sideways"), 0.83, max_relative = 1e-9);
}

/// NDS 2018 Tables 12.5.1A, C: half of 7D along the grain leaves half the value, less leaves none; 4D to a loaded edge.
#[test]
fn bolts_near_an_end_take_less() {
    let design = |more: &str| {
        let lines =
            "joined bolted; fastener bolt_1_2; through 1/4 in; into douglas_fir_no_2; wood 3-1/2 in; edge_distance 2 in; push_angle 0 deg";
        format!("{US}joint j {{ damp covered; {lines}{more} }}\n")
    };
    // How near they stand is not written: nobody knows what they take.
    assert!(refused(&design(""), "j.holds_sideways").contains("Missing"));
    let bolts = |more: &str| number(&design(more), "j.holds_sideways");
    let full = bolts("; end_distance 8 in");
    assert_relative_eq!(bolts("; end_distance 3-1/2 in"), full, max_relative = 1e-9);
    assert_relative_eq!(bolts("; end_distance 1-3/4 in"), 0.5 * full, max_relative = 1e-9);
    assert_relative_eq!(bolts("; end_distance 1-1/2 in"), 0.0);
}

/// NDS 2018 Table 11.3.6C (from memory): steel side plates, D 1 in, s 4 in, Am 5 in2, Am/As 12, E 1.4e6 psi: 0.97, 0.89, 0.80 for
/// two, three and four bolts in a row along the load.
#[test]
fn bolts_behind_one_another_share_unevenly() {
    let grade = "grade g { family timber; gravity 0.5; elasticity 1.4e6 psi; bearing 625 psi; density 350 kg/m3 }\nfastener big { sort bolt; diameter 1 in; bending_yield 45 ksi; tensile_strength 60 ksi }\n";
    for (count, printed) in [(2, 0.97), (3, 0.89), (4, 0.80)] {
        let joint = format!(
            "{US}{grade}joint j {{ joined bolted; fastener big; count {count}; through 0.2083 in; side_breadth 2 in; into g; wood 2 in; wood_depth 2.5 in; spacing 4 in; push_angle 0 deg; damp covered }}\n"
        );
        // The table is for E of steel of 30,000 ksi; this takes 29,000.
        assert!((number(&joint, "j.shared") - printed).abs() < 0.008, "{count}");
    }
    // What they cross is not written: nobody knows.
    let open = us("joined bolted; fastener bolt_1_2; count 3; through 1/4 in; wood 3-1/2 in; wood_depth 3-1/2 in; push_angle 0 deg");
    assert!(refused(&open, "j.holds_sideways").contains("Missing"));
}

/// By hand: 3/16 in fillets of E70, 2 in each: AISC 360-16 J2-4, 0.6 x 70 ksi x 0.707 x 3/16 x 2 / 2.0 = 5.57 kip.
#[test]
fn the_plate_of_the_motor_is_as_strong_as_its_joint() {
    let plate = |joint: &str| {
        format!(
            "{US}roof r {{ mass 400 kg }}\ndrive d {{ moves r; speed 0.1 m/s; reaction_time 0.1 s; stall_force 1.8 kN }}\n\
             beam b {{ rests_on w; runs 0 m to 3 m }}\nslab s {{ thickness 4 in }}\nwall w {{ stands_on s; tied_to s; height 2 m }}\n\
             joint j {{ damp covered; end_distance 8 in; edge_distance 4 in; spacing 4 in; {joint} }}\nmotor_plate p {{ holds d; fixed_to b; arm 90 mm; base 260 mm; separating 0 N; row_joint j }}\n"
        )
    };
    let welded = plate("joined welded; leg 3/16 in; weld_length 2 in; part_thickness 1/4 in");
    assert_relative_eq!(number(&welded, "p.row_tension") / POUND, 5568.0, max_relative = 2e-3);
    assert_relative_eq!(number(&welded, "p.shear"), 2.0 * number(&welded, "j.holds_sideways"));
    // AISC 360-16 J4-4: beside it 1/16 in of steel of 45 ksi shears at 0.6 x 45 x 1/16 x 2 / 2.0 = 1.69 kip (yielding, 34 ksi: 1.70).
    assert_relative_eq!(
        number(&plate("joined welded; leg 1/16 in; weld_length 2 in; part_thickness 1/16 in; weld_strength 150 ksi"), "p.row_tension")
            / POUND,
        1687.5,
        max_relative = 2e-3
    );
    // Table J2.4: beside 3/8 in of steel no less than 3/16 in.
    let thick = |leg: &str| {
        verdicts(&plate(&format!("joined welded; leg {leg}; weld_length 2 in; part_thickness 3/8 in")), "structure.weld_size")[0].0
    };
    assert_eq!([thick("1/8 in"), thick("3/16 in")], [Verdict::Fail, Verdict::Pass]);
    let lagged = plate("joined screwed; fastener lag_3_8x3; count 2; through 1/4 in; into douglas_fir_no_2; wood 3-1/2 in");
    assert!(number(&lagged, "p.row_tension") < 0.5 * number(&welded, "p.row_tension"));
    assert_eq!(verdicts(&welded, "drive.motor_plate")[0].0, Verdict::Pass);
    let few = plate("joined screwed; fastener lag_1_4x2; count 1; through 1 in; into douglas_fir_no_2; wood 3-1/2 in");
    assert_eq!(verdicts(&few, "drive.motor_plate_slides")[0].0, Verdict::Fail);
}

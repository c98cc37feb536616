//! The one standard layout: what it does to a text, and what it never does.

use super::reading::generate::{design, dice};
use proptest::prelude::*;
use wallplate::syntax::{LONGEST_LINE, parse};
use wallplate::text::FileId;
use wallplate::tidy::{TidyError, WIDTH, outline, tidy};

fn lays_out(before: &str, after: &str) {
    assert_eq!(tidy(before).as_deref(), Ok(after), "from {before}");
    assert_eq!(tidy(after).as_deref(), Ok(after), "a second time");
}

#[test]
fn values_of_a_block_stand_in_one_column() {
    lays_out(
        "clamp ne{\nstation 4.40 m\n      offset\t3.33 m\nworking_load   2.2kN\noperating_wind_of_the_day 8 m/s\n}",
        "clamp ne {
  station       4.40 m
  offset        3.33 m
  working_load  2.2 kN
  operating_wind_of_the_day  8 m/s
}
",
    );
    // A name of up to twenty letters moves the column.
    lays_out(
        "clamp ne {\n  station 1 m\n  level_of_the_surface 2 m\n}\n",
        "clamp ne {\n  station               1 m\n  level_of_the_surface  2 m\n}\n",
    );
}

#[test]
fn named_values_that_stand_together_line_up() {
    lays_out(
        "let eave 2.05 m\nlet ridge_height eave+1 m\n\nlet a 1\nuse timber\nlet bcd 2",
        "let eave          2.05 m\nlet ridge_height  eave + 1 m\n\nlet a  1\nuse timber\nlet bcd  2\n",
    );
}

#[test]
fn one_blank_stands_between_the_words_of_a_value() {
    lays_out(
        "peg a {\n  x (a+b)*-c ^ 2/f( 3 m ,y  4in )\n  y 6 ft   2-1/2 in,4.72 m±5 mm,8mm to 14mm\n  z row [2] .height ^ -1 + 3 m ^ 2\n}\n",
        "peg a {
  x             (a + b) * -c^2 / f(3 m, y 4 in)
  y             6 ft 2-1/2 in, 4.72 m ± 5 mm, 8 mm to 14 mm
  z             row[2].height^-1 + 3 m ^ 2
}
",
    );
    lays_out(
        "let a 3 m +3 mm −0 mm\nlet b [ 1,2 , 3 ]\nlet c not  (a<=b)  and x .y==no\nlet d if a then  -1 m else − 2 m\n",
        "let a  3 m +3 mm -0 mm\nlet b  [1, 2, 3]\nlet c  not (a <= b) and x.y == no\nlet d  if a then -1 m else -2 m\n",
    );
}

#[test]
fn a_header_goes_on_where_its_lines_begin() {
    let title = "kind boat \"Rows across the pond \" +\n\"and back\" {\nlength  length\n}\n";
    let laid_out = "kind boat \"Rows across the pond \" +\n  \"and back\" {\n  length        length\n}\n";
    assert_eq!(tidy(title).unwrap(), laid_out);
    assert_eq!(tidy(laid_out).unwrap(), laid_out);
    let names = "rule a.b,\nc.d \"Both\" {\n  require  1 > 0\n}\n";
    assert!(tidy(names).unwrap().starts_with("rule a.b,\n  c.d \"Both\" {\n"));
}

#[test]
fn a_decimal_comma_is_a_mistake_and_not_a_list_to_lay_out() {
    for text in ["let w 0,05 m\n", "let w -4,72 m\n", "let w [4,72 m, 5 m]\n", "let w 4,72 m ± 5 mm\n"] {
        assert!(matches!(tidy(text), Err(TidyError::Unreadable(_))), "{text}");
    }
    // Lists of numbers, and of arguments, are what they look like.
    assert_eq!(tidy("let w max(0 m,5 m)\nlet v [1,2,3]\n").unwrap(), "let w  max(0 m, 5 m)\nlet v  [1, 2, 3]\n");
}

#[test]
fn what_stands_in_quotes_or_behind_a_hash_is_not_touched() {
    lays_out(
        "peg a {\n x \"a  ,b − c\t{ # ;\"   #  as it  is;\tsaid − \n}\n",
        "peg a {\n  x             \"a  ,b − c\t{ # ;\"  #  as it  is;\tsaid −\n}\n",
    );
}

#[test]
fn comments_stay_with_what_they_belong_to() {
    lays_out(
        "#first\n\n\n\n# second\npeg a # behind the header\n  # between\n{ # behind the brace\n# of x\n x 1 m # short\n\n longer 2 m, # one
   # of three
   3 m # two\n    # at the end\n} # behind the block\n# last",
        "#first

# second
peg a {  # behind the header
  # between
  # behind the brace
  # of x
  x             1 m  # short

  longer        2 m,  # one
                # of three
                3 m  # two
  # at the end
}  # behind the block
# last
",
    );
}

#[test]
fn comments_behind_lines_that_stand_together_line_up() {
    lays_out(
        "site {\n  wind_speed 26 m/s # from the map\n  terrain open_country\n  operating_wind 8 m/s # we close above this\n\n  latitude 54.1 deg # alone\n}\n",
        "site {
  wind_speed      26 m/s  # from the map
  terrain         open_country
  operating_wind  8 m/s   # we close above this

  latitude        54.1 deg  # alone
}
",
    );
}

#[test]
fn empty_lines_part_groups_and_nothing_else() {
    lays_out(
        "\n\n\nuse timber\n\n\n\npeg a {\n\n\n  x 1 m\n\n\n  y 2 m\n\n}\n\n\n",
        "use timber\n\npeg a {\n  x             1 m\n\n  y             2 m\n}\n",
    );
}

#[test]
fn a_block_on_one_line_stays_there_if_it_fits() {
    lays_out(
        "clamp ne like p{a 1m;b 2 m ;}\npeg c { }\npeg d {\n}\nvariant v {a {x 1};b{y 2}}\n",
        "clamp ne like p { a 1 m; b 2 m }\npeg c { }\npeg d { }\nvariant v { a { x 1 }; b { y 2 } }\n",
    );
    lays_out("peg a { x 1 m; y 2 m\n}\n", "peg a {\n  x             1 m\n  y             2 m\n}\n");
    lays_out("use a;use b\n", "use a\nuse b\n");
    let name = "n".repeat(WIDTH - "peg  { x 1 m }".len());
    lays_out(&format!("peg {name} {{ x 1 m }}\n"), &format!("peg {name} {{ x 1 m }}\n"));
    lays_out(&format!("peg {name}n {{ x 1 m }}\n"), &format!("peg {name}n {{\n  x             1 m\n}}\n"));
}

#[test]
fn a_long_line_is_broken_after_a_comma_or_an_operator() {
    let names = |count: usize| (0..count).map(|at| format!("the_north_wall_{at}")).collect::<Vec<_>>().join(", ");
    lays_out(
        &format!("peg a {{\n  rests_on {}\n}}\n", names(7)),
        "peg a {
  rests_on      the_north_wall_0, the_north_wall_1, the_north_wall_2, the_north_wall_3,
                the_north_wall_4, the_north_wall_5, the_north_wall_6
}
",
    );
    // At the outermost operator that binds least; inside a bracket two blanks further in.
    lays_out(
        &format!("let long  first_of_the_names * (second_of_the_names + third) + list({})\n", names(5)),
        "let long  first_of_the_names * (second_of_the_names + third) +
          list(the_north_wall_0, the_north_wall_1, the_north_wall_2, the_north_wall_3,
            the_north_wall_4)
",
    );
    // A break of the writer's own stays where a line may be broken, and goes where it may not.
    lays_out(
        "peg a {\n  rests_on a,\n b, c\n  x f(\n  y (1 m\n + 2 m),\n  z 3 m\n )\n}\n",
        "peg a {
  rests_on      a,
                b, c
  x             f(
                  y (1 m + 2 m),
                  z 3 m
                )
}
",
    );
}

#[test]
fn kinds_and_rules_are_laid_out_alike() {
    lays_out(
        "kind clamp \"Holds\"{\none_only no\nholds link to roof required carrying uplift \"what it pulls down\"
working_load force required above 0 N
friction number assumed 0.3 because \"timber\" at_least 0 source \"a table\"\n}
rule a.b \"It holds\" {\neach s in sensor where s.marks==open , e in stop
 demand s.x\n capacity  e.x\nsays \"{s.name}  trips\"\n}\n",
        "kind clamp \"Holds\" {
  one_only      no
  holds         link to roof  required  carrying uplift  \"what it pulls down\"
  working_load  force   required  above 0 N
  friction      number  assumed 0.3 because \"timber\"  at_least 0  source \"a table\"
}
rule a.b \"It holds\" {
  each          s in sensor where s.marks == open, e in stop
  demand        s.x
  capacity      e.x
  says          \"{s.name}  trips\"
}
",
    );
}

#[test]
fn a_long_property_goes_on_in_the_lines_below() {
    lays_out(
        "kind clamp \"Holds\" {
  working_load force assumed if steel then 3 kN else 2 kN because \"a reason that is not short either\" above 0 N \"its rated load\"
  pull  force \"what it holds\" default (if rated
  then share_of(the_first_of_them, the_second_of_them, the_third_of_them, the_fourth) else 0 N) source \"statics\"
  let halves a + b
  # of the pull
  push force
      \"one \" +
         \"and the other\"
}
",
        "kind clamp \"Holds\" {
  working_load  force
                assumed if steel then 3 kN else 2 kN because
                \"a reason that is not short either\"  above 0 N  \"its rated load\"
  pull          force  \"what it holds\"  default (if rated
                  then share_of(the_first_of_them, the_second_of_them, the_third_of_them,
                    the_fourth) else 0 N)  source \"statics\"
  let halves    a + b
  # of the pull
  push          force
                \"one \" +
                \"and the other\"
}
",
    );
}

#[test]
fn line_ends_tabs_and_odd_blanks_become_plain() {
    lays_out(
        "\u{FEFF}let a\u{A0}4.72\u{202F}m\r\npeg b {\r\n\tx\u{2009}−\u{A0}1 m\r\n}\r\n",
        "let a  4.72 m\npeg b {\n  x             -1 m\n}\n",
    );
    lays_out("let a 1 m\rlet b 2 m\r", "let a  1 m\nlet b  2 m\n");
    lays_out("", "");
    lays_out("   \n\t\n", "");
    lays_out("# only words", "# only words\n");
    lays_out(";;;\n", "");
}

#[test]
fn a_text_with_mistakes_is_left_alone() {
    let Err(TidyError::Unreadable(problems)) = tidy("peg a {\n  x = 1 m\n  y 2 m\n") else { panic!("it was laid out") };
    assert_eq!(problems.len(), 2, "{problems:?}");
    // What a name or a unit means is not asked.
    assert!(tidy("nothing at { all 3 furlongs_of_it }").is_ok());
}

/// A statement that can be read as it stands, but not with the blanks of the layout.
#[test]
fn a_statement_that_would_be_too_long_is_named_with_its_place() {
    let long = format!("let long [{}1]", "1,".repeat(LONGEST_LINE / 2 - 10));
    assert!(long.len() <= LONGEST_LINE);
    for before in ["", "let a 1 m\n", "\u{FEFF}# no place is lost before a mark\npeg b { x 1 m }\n"] {
        let text = format!("{before}{long}\nlet c 3 m\n");
        let plain = text.trim_start_matches('\u{FEFF}');
        assert!(parse(plain, FileId::default()).1.is_empty());
        let Err(TidyError::Unreadable(problems)) = tidy(&text) else { panic!("it was laid out") };
        let [problem] = problems.as_slice() else { panic!("{problems:?}") };
        assert_eq!(problem.message, format!("laid out, a line of this statement is longer than {LONGEST_LINE} characters"));
        assert_eq!(&text[problem.span().start as usize..problem.span().end as usize], long);
    }
    // A block whose lines are each short enough is laid out, however long the whole is.
    let block = format!("peg b {{ {} }}\n", "x [1,2,3]; ".repeat(LONGEST_LINE / 12));
    assert!(tidy(&block).is_ok());
}

/// What is told of a text that cannot be laid out counts in the text as it was given, its mark included.
#[test]
fn places_count_behind_a_byte_order_mark() {
    let text = "\u{FEFF}let a = 1 m\n";
    let Err(TidyError::Unreadable(problems)) = tidy(text) else { panic!("it was laid out") };
    assert_eq!(&text[problems[0].span().start as usize..problems[0].span().end as usize], "=");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_layout_says_the_same_and_stays(dice in dice(1500)) {
        let sample = design(&dice);
        let once = tidy(&sample.text);
        prop_assert!(once.is_ok(), "{:?}\n{}", once, sample.text);
        let once = once.unwrap();
        let (tree, problems) = parse(&once, FileId::default());
        prop_assert!(problems.is_empty());
        prop_assert_eq!(outline(&tree), outline(&sample.tree));
        let comments: Vec<&str> =
            tree.comments.iter().map(|comment| &once[comment.span.start as usize..comment.span.end as usize]).collect();
        prop_assert_eq!(comments, sample.comments);
        prop_assert_eq!(tidy(&once), Ok(once.clone()), "from {}", sample.text);
        for line in once.lines() {
            prop_assert!(!line.ends_with([' ', '\t', '\r']), "{line:?}");
        }
        prop_assert!(once.is_empty() || (once.ends_with('\n') && !once.ends_with("\n\n") && !once.contains("\n\n\n") && !once.starts_with('\n')));
    }
}

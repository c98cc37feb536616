//! A number keeps the hand of its writer: what is put in its place has its unit and is written as finely.
//!
//! Fractions of an inch and feet with inches are checked by arithmetic: twelve inches to a foot, sixteenths on a tape.

use proptest::prelude::*;
use wallplate::design::Choice;
use wallplate::problem::Mend;
use wallplate::rules::{Finding, Options};
use wallplate::session::{Draft, NoShelf, Session};
use wallplate::syntax::number::{Form, Number};
use wallplate::syntax::tree::{Item, Part};
use wallplate::text::{FileId, Source};
use wallplate::values::{Figure, Halt, Scope};

fn read(text: &str) -> Session {
    Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default())
}

/// The parts of a number as the language reads it.
fn parts(text: &str) -> Vec<Part> {
    let (tree, problems) = wallplate::syntax::parse(&format!("let x {text}\n"), FileId(0));
    assert_eq!(problems, [], "{text}");
    let Some(Item::Let(line)) = tree.items.first() else { panic!("{text}") };
    line.value.written().unwrap_or_else(|| panic!("{text}")).0.to_vec()
}

/// What a number is worth, by the whole of the program.
fn worth(text: &str) -> f64 {
    let session = read(&format!("let x {text}\n"));
    assert_eq!(session.problems(), [], "{text}");
    let expr = &session.design().named[0].value;
    session.evaluator.evaluate(expr, &mut Scope::default()).unwrap().si().unwrap()
}

#[test]
fn a_number_keeps_its_text() {
    for (text, worth, form) in [
        ("4.720", 4.72, Form::Decimals(3)),
        ("12", 12.0, Form::Decimals(0)),
        (".5", 0.5, Form::Decimals(1)),
        ("3-1/2", 3.5, Form::Parts(2)),
        ("5/16", 0.3125, Form::Parts(16)),
        ("1.20e-5", 1.2e-5, Form::Power(2, -5)),
        ("-3-1/4", -3.25, Form::Parts(4)),
    ] {
        let number = Number::read(text);
        assert_eq!((number.text(), number.worth(), number.form()), (text, worth, form));
    }
}

#[test]
fn a_number_is_written_in_the_form_of_another() {
    for (written, wanted, expected) in [
        ("6.300 m", 5.8, "5.800 m"),
        ("6.300m", 5.8, "5.800 m"),
        ("6.300   m", 5.8, "5.800 m"),
        ("12 mm", 0.015, "15 mm"),
        ("3-1/2 in", 4.25 * 0.0254, "4-1/2 in"),
        ("3-1/4 in", 4.25 * 0.0254, "4-1/4 in"),
        ("5/8 in", 0.75 * 0.0254, "3/4 in"),
        ("6 ft 2-1/2 in", 81.5 * 0.0254, "6 ft 9-1/2 in"),
        ("6 ft 2 in", 84.0 * 0.0254, "7 ft 0 in"),
        ("6 ft 2-1/2 in", 11.9 * 0.0254, "1 ft 0 in"),
        ("6 ft 2-1/2 in", 11.4 * 0.0254, "11-1/2 in"),
        ("57 deg 12 arcmin", 30.5_f64.to_radians(), "30 deg 30 arcmin"),
        ("1.20e-5 1/K", 1.1e-5, "1.10e-5 1/K"),
        ("-0.42 m", -0.5, "-0.50 m"),
    ] {
        let parts = parts(written.trim_start_matches('-'));
        let (text, si) = Figure::of(&parts).unwrap().write(wanted, 0, None).unwrap();
        assert_eq!(text, expected, "{written}");
        assert!((worth(&text) - si).abs() <= si.abs() * 1e-12, "{text} is {} and not {si}", worth(&text));
    }
}

fn any_written() -> impl Strategy<Value = String> {
    let whole = 0_u32..200;
    prop_oneof![
        (whole.clone(), 0_usize..5, prop_oneof!["m", "mm", "kN", "kg", "in", "ft", "deg"])
            .prop_map(|(whole, decimals, unit)| format!("{:.decimals$} {unit}", f64::from(whole))),
        (whole.clone(), 1_u32..16, prop::sample::select(vec![2_u32, 4, 8, 16]))
            .prop_map(|(whole, above, below)| format!("{whole}-{}/{below} in", above % below)),
        (whole.clone(), 0_u32..12, 0_u32..16).prop_map(|(feet, inches, above)| format!("{feet} ft {inches}-{above}/16 in")),
        (whole, 0_usize..3, -9_i32..9).prop_map(|(whole, decimals, power)| format!("{:.decimals$}e{power} m", f64::from(whole))),
    ]
}

proptest! {
    #[test]
    fn what_is_written_reads_as_what_was_found(written in any_written(), wanted in -50.0_f64..50.0, finer in 0_usize..4, way in 0..3) {
        let before = parts(&written);
        let round: Option<fn(f64) -> f64> = [None, Some(f64::floor as fn(f64) -> f64), Some(f64::ceil)][way as usize];
        let (text, si) = Figure::of(&before).unwrap().write(wanted, finer, round).unwrap();
        let read = worth(&text);
        prop_assert!((read - si).abs() <= 1e-12 * si.abs().max(1e-9), "{text} reads as {read} and not as {si}");
        let after = parts(text.trim_start_matches('-'));
        let units = |parts: &[Part]| parts.iter().map(|part| part.unit.as_ref().unwrap().text.clone()).collect::<Vec<_>>();
        // A foot that is none is left out.
        prop_assert!(units(&before).ends_with(&units(&after)), "{written} becomes {text}");
        let fine = |parts: &[Part]| parts.last().unwrap().number.form();
        match (fine(&before), fine(&after)) {
            (Form::Decimals(a), Form::Decimals(b)) if before.len() == 1 => prop_assert_eq!(a + finer, b, "{} becomes {}", written, text),
            (Form::Power(a, p), Form::Power(b, q)) => prop_assert_eq!((a + finer, p), (b, q), "{} becomes {}", written, text),
            (Form::Parts(_), Form::Parts(b)) => prop_assert!(64 % b == 0, "{written} becomes {text}"),
            // In lowest terms parts may come to whole numbers.
            (_, Form::Decimals(0)) => {}
            (a, b) => prop_assert!(false, "{written} in {a:?} becomes {text} in {b:?}"),
        }
    }
}

/// A peg whose station has to be 20 mm off; how it is written is up to the case.
fn pegs(station: &str) -> String {
    format!(
        "kind peg \"A peg in the ground\" {{\n  station  length  required\n  reach  range of length\n}}\n\
         rule own.far \"A peg stands far enough out\" {{\n  each p in peg\n  demand 2.02 m\n  capacity p.station\n  reserve 0 %\n  mend p.station\n}}\n\
         peg a {{ station {station} }}\n"
    )
}

fn check(session: &Session) -> Vec<Finding> {
    session.check(&Options::default()).into_iter().filter(|finding| finding.rule == "own.far").collect()
}

fn only_mend(text: &str) -> Mend {
    let session = read(text);
    assert_eq!(session.problems(), []);
    let findings = check(&session);
    let [finding] = findings.as_slice() else { panic!("{findings:?}") };
    let [mend] = finding.mends.as_slice() else { panic!("{finding:?}") };
    mend.clone()
}

#[test]
fn a_mend_is_in_the_hand_of_the_line() {
    for (station, expected) in [
        ("2.000 m", "2.020 m"),
        ("2.000m", "2.020 m"),
        ("2.000  m", "2.020 m"),
        ("2000 mm", "2020 mm"),
        ("200.0 cm", "202.0 cm"),
        ("2.0 m", "2.02 m"),
        ("78-1/2 in", "79-5/8 in"),
        ("6 ft 6-1/2 in", "6 ft 7-5/8 in"),
        ("2.000 m ± 3 mm", "2.023 m"),
    ] {
        let text = pegs(station);
        let mend = only_mend(&text);
        assert_eq!(mend.text, expected, "{station}");
        let mut mended = text.clone();
        mended.replace_range(mend.span.start as usize..mend.span.end as usize, &mend.text);
        let findings = check(&read(&mended));
        assert!(findings.iter().all(|finding| finding.mends.is_empty() && finding.help.is_none()), "{mended}: {findings:?}");
    }
}

/// `2.00 m` and `2 m` are worth the same, and a change of one into the other changes what is offered.
#[test]
fn a_draft_forgets_how_a_number_was_written() {
    let mut draft = Draft::default();
    for station in ["2.000 m", "2 m", "2.00 m", "78-1/2 in", "6 ft 6-1/2 in", "2.000 m"] {
        let text = pegs(station);
        draft.read(vec![Source::new("a.plate", text.as_str())], &NoShelf, &Options::default(), &Halt::default());
        let own = draft.findings().iter().find(|finding| finding.rule == "own.far").unwrap();
        assert_eq!(own.mends[0].text, only_mend(&text).text, "{station}");
    }
}

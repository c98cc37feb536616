//! Rules whose failure hurts somebody, worked out by hand: both sides of each, from the numbers of the parts they stand on, on every
//! sound design and on some in which another part of the rule decides.
//!
//! Factors and limits are those of the sources that the rules name: 0.6 of what is dead beside the wind is ASCE 7-16 2.4.1(7) and
//! stands for EN 1990:2002 Table A1.2(A) too; the wind of a map of ASCE 7 counts 0.6 (2.4.1); a torque of the soil beside a footing
//! is its lateral bearing times the depth, over a third of the depth from the bottom, half of it on the average (IBC 2018 1806.3);
//! root of three for three phases is definition.

use std::collections::BTreeMap;
use std::path::Path;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::Value;

/// A design that was read, and the components that a finding is about.
struct Of<'s> {
    session: &'s mut Session,
    subjects: Vec<String>,
}

impl Of<'_> {
    fn value(&mut self, expression: &str) -> Value {
        let mut asked = expression.to_owned();
        for (at, name) in self.subjects.iter().enumerate() {
            asked = asked.replace(&format!("{{{at}}}"), name);
        }
        match self.session.value(&asked) {
            Ok((_, Ok(value))) => value.clone(),
            other => panic!("{asked}: {other:?}"),
        }
    }

    fn number(&mut self, expression: &str) -> f64 {
        match self.value(expression) {
            Value::Zero => 0.0,
            value => value.si().unwrap_or_else(|| panic!("{expression}: {value:?}")),
        }
    }

    fn is(&mut self, expression: &str) -> bool {
        self.value(expression) == Value::Flag(true)
    }
}

/// Both sides by hand.
type Sides = fn(&mut Of) -> (f64, f64);

const BY_HAND: [(&str, Sides); 13] = [
    ("storm.left_open_stays_put", |of| {
        let part = if of.is("observatory.design_code == asce7") { 0.6 } else { 1.0 };
        let (drag, lift) =
            (of.number("item({0}.rolls_on, 1).wind_left_open.drag_along"), of.number("item({0}.rolls_on, 1).wind_left_open.uplift"));
        let pressed = (0.6 * of.number("{0}.mass") * 9.806_65 - part * lift).max(0.0);
        let locks = of.number("sum(k.working_load for k in parking_lock where k.holds == {0} and k.works != closed)");
        let drives = of.number("sum(d.holding_force for d in drive where d.moves == {0} and not d.lets_go)");
        (part * drag, of.number("{0}.rolling_resistance") * pressed + locks + drives)
    }),
    ("holddown.open_roof_stays_put", |of| {
        let pressed = (0.6 * of.number("{0}.mass") * 9.806_65 - of.number("{0}.wind_off.uplift")).max(0.0);
        let locks = of.number("sum(k.working_load for k in parking_lock where k.holds == {0} and k.works != closed)");
        let drives = of.number("sum(d.holding_force for d in drive where d.moves == {0})");
        (of.number("{0}.wind_off.drag_along"), of.number("{0}.rolling_resistance") * pressed + locks + drives)
    }),
    ("sideways.footing_is_not_tipped", |of| {
        let (depth, broad, long) = (of.number("{1}.depth"), of.number("{1}.size.second"), of.number("{1}.size.first"));
        let soil = if of.is("given(soil.class.lateral)") {
            of.number("soil.class.lateral") * depth * depth / 2.0 * depth / 3.0 * long
        } else {
            0.0
        };
        let dead = of.number("{1}.concrete_weight") + of.number("{0}.loads.dead");
        let tips = of.number("{0}.foot_pushed") * depth + of.number("{0}.foot_turned") + of.number("{0}.foot_lifted") * broad / 2.0;
        (tips, 0.6 * dead * broad / 2.0 + soil)
    }),
    ("sideways.stands_by_itself", |of| (of.number("{0}.leans_more"), 1.5)),
    // Moments of friction about the guide: 2 mu b / base (EN 1991-3:2006 2.7.4 has the same lever).
    ("sideways.roof_does_not_jam", |of| {
        let guide = "first(g for g in {0}.rolls_on where g.runs_on.guides)";
        let beside = of.number(&format!("max(abs(w.runs_on.offset - {guide}.runs_on.offset) for w in {{0}}.rolls_on)"));
        let base = of.number(&format!("max({guide}.stations) - min({guide}.stations)"));
        (2.0 * of.number(&format!("{guide}.guide_friction")) * beside / base, 1.0)
    }),
    ("storm.plan_takes_its_time", |of| {
        let speed = if of.number("{0}.pulls") > 750.0 { 0.02 } else { 0.2 };
        (60.0 + of.number("{0}.of.full_travel") / speed, of.number("{0}.takes"))
    }),
    ("storm.plan_moves_the_roof", |of| {
        let more = of.number("{0}.of.breakaway") - 1.0;
        let drags = of.number(
            "sum((if given(d.lets_go) and not d.lets_go then d.holding_force else if given(d.drag_released) then d.drag_released else 0 N) for d in {0}.of.drives)",
        );
        (of.number("{0}.of.steady_pull") + more * of.number("{0}.of.way.resistance") + drags, of.number("{0}.pulls"))
    }),
    ("storm.shuts_in_time", |of| {
        // Without a drive somebody pushes it, as fast as `rolls_at` of the slowest handle says.
        let by_hand = of.is("length_of({0}.drives) == 0");
        let answers = of.number(&format!("max(0 s, list(x.answered_in for x in {{0}}.{}))", if by_hand { "handles" } else { "drives" }));
        let before = answers + of.number("max(0 s, list(x.parks_within for x in telescope))");
        let rolls = if by_hand {
            of.number("{0}.rests_open / min(list(h.rolls_at for h in {0}.handles))")
        } else {
            of.number("{0}.slowest_time + {0}.reaction")
        };
        let rises = of.number("site.operating_wind") - of.number("site.closes_at");
        (before + rolls, rises.max(0.0) / of.number("site.wind_rises"))
    }),
    ("storm.lock_holds_along", |of| {
        let (along, up) =
            (of.number("min(list(j.holds_sideways for j in {0}.anchored_by))"), of.number("sum(j.holds_up for j in {0}.anchored_by)"));
        let part = |asked: f64, held: f64| (asked / held).powf(5.0 / 3.0);
        (part(of.number("{0}.working_load"), along) + part(of.number("{0}.storm_pull"), up), 1.0)
    }),
    ("power.work_within_power", |of| {
        let phases = if of.is("{0}.fed_by.circuit == three_phase") { 1.73 } else { 1.0 };
        let takes = 2.0 * phases * of.number("{0}.fed_by.from.voltage") * of.number("{0}.current");
        let power = if of.is("given({0}.power)") { of.number("{0}.power") } else { takes };
        (of.number("{0}.moves.rated_pull") * of.number("{0}.moves.speed"), power.min(takes))
    }),
    ("power.shaft_within_power", |of| {
        let phases = if of.is("{0}.fed_by.circuit == three_phase") { 1.73 } else { 1.0 };
        (of.number("{0}.power"), 2.0 * phases * of.number("{0}.fed_by.from.voltage") * of.number("{0}.current"))
    }),
    ("power.voltage_while_it_starts", |of| {
        let ways = if of.is("{0}.fed_by.circuit == three_phase") { 3.0_f64.sqrt() } else { 2.0 };
        let lost = ways * of.number("{0}.start_current") * of.number("{0}.fed_by.resistance") * of.number("{0}.fed_by.length");
        (lost / of.number("{0}.fed_by.from.voltage"), 0.15)
    }),
    ("travel.stops_touch_together", |of| {
        ((of.number("{1}.touches_at") - of.number("{0}.touches_at")).abs(), of.number("{0}.stroke").min(of.number("{1}.stroke")))
    }),
];

fn text_of(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).unwrap()
}

fn read(text: &str) -> Session {
    Session::read(vec![Source::new("by_hand.plate", text)], &NoShelf, &Choice::default())
}

fn found(session: &Session) -> Vec<Finding> {
    let only = BY_HAND.iter().map(|(rule, _)| *rule).collect();
    session.check(&Options { only: Some(only), ..Options::default() })
}

/// Holds every answer of these rules against the hand; how often each had one.
fn compared(name: &str, mut session: Session, seen: &mut BTreeMap<&'static str, usize>) {
    for finding in found(&session) {
        let Some((rule, by_hand)) = BY_HAND.iter().find(|(rule, _)| *rule == finding.rule) else { continue };
        let sides = match (&finding.nominal, &finding.demand, &finding.capacity) {
            (Some(sides), ..) => (sides.0.quantity.si, sides.1.quantity.si),
            (None, Some(demand), Some(capacity)) => (demand.quantity.si, capacity.quantity.si),
            _ => continue,
        };
        let subjects = finding.subjects.iter().map(ToString::to_string).collect();
        let due = by_hand(&mut Of { session: &mut session, subjects });
        let near = |one: f64, other: f64| (one - other).abs() <= 1e-9 * one.abs().max(1e-3);
        assert!(near(due.0, sides.0) && near(due.1, sides.1), "{name}: {rule} {:?}: {due:?} by hand, found {sides:?}", finding.subjects);
        *seen.entry(rule).or_default() += 1;
    }
}

/// Sound designs, and what makes another part of a rule decide: a roof whose wheels hold by themselves, a drive that cannot be
/// pushed, three phases, a plan by hand.
#[test]
fn rules_that_keep_people_whole_are_what_a_hand_works_out() {
    let mut seen = BTreeMap::new();
    for folder in ["examples", "tests/designs", "examples/ways"] {
        let mut files: Vec<_> =
            std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)).unwrap().map(|file| file.unwrap().path()).collect();
        files.sort();
        for file in files.iter().filter(|file| file.extension().is_some_and(|is| is == "plate")) {
            compared(&file.display().to_string(), read(&std::fs::read_to_string(file).unwrap()), &mut seen);
        }
    }
    for (name, changes) in [
        ("examples/heron_fold.plate", "main_roof { mass 1500 kg }"),
        ("examples/heron_fold.plate", "roof_drive { lets_go no }"),
        ("examples/sorrel_kettle.plate", "main_roof { mass 1500 lb }"),
        ("examples/sorrel_kettle.plate", "dry_run { pulls 100 lbf }"),
        ("examples/tamarack_bench.plate", "main_roof { mass 5000 lb }"),
        ("examples/sorrel_kettle.plate", "house_cable { circuit three_phase }"),
    ] {
        let text = format!("{}\nvariant other \"Another\" {{\n  {changes}\n}}\n", text_of(name));
        let session = Session::read(
            vec![Source::new("by_hand.plate", &text)],
            &NoShelf,
            &Choice { variant: Some("other".into()), ..Choice::default() },
        );
        assert!(session.problems().is_empty(), "{changes}: {:?}", session.problems());
        compared(&format!("{name} with {changes}"), session, &mut seen);
    }
    let unasked: Vec<&str> = BY_HAND.iter().map(|(rule, _)| *rule).filter(|rule| !seen.contains_key(rule)).collect();
    assert!(unasked.is_empty(), "{unasked:?} of {seen:?}");
}

//! `rules`: the pages of the reference.

use super::desk::Desk;
use std::collections::{BTreeMap, BTreeSet};
use wallplate::design::Choice;
use wallplate::formulas;
use wallplate::session::{NoShelf, Session};

#[test]
fn every_rule_kind_and_function_has_its_page() {
    let session = Session::read(Vec::new(), &NoShelf, &Choice::default());
    let design = session.design();
    let look = wallplate::output::text::Look { width: 80, colour: false, unicode: true, narrated: false };
    let page = |name: &str| wallplate::output::text::reference(&session, Some(name), &look).unwrap_or_else(|_| panic!("{name}"));
    let squeezed = |text: &str| text.split_whitespace().collect::<String>();
    for rule in &design.rules {
        let text = squeezed(&page(&rule.name));
        for part in [Some(&rule.title), rule.source.as_ref(), rule.caution.as_ref(), rule.note.as_ref()].into_iter().flatten() {
            assert!(text.contains(&squeezed(part)), "{part} on the page of {}", rule.name);
        }
    }
    let areas: BTreeMap<&str, String> =
        design.rules.iter().map(|rule| rule.area()).collect::<BTreeSet<_>>().into_iter().map(|area| (area, page(area))).collect();
    assert!(design.rules.iter().all(|rule| areas[rule.area()].contains(rule.name.as_str())));
    for kind in &design.kinds {
        let text = squeezed(&page(&kind.name));
        for property in &kind.properties {
            let own = page(&format!("{}.{}", kind.name, property.name));
            for part in [Some(&property.doc), property.source.as_ref(), property.assumed.as_ref()].into_iter().flatten() {
                assert!(squeezed(&own).contains(&squeezed(part)), "{part} on the page of {}.{}", kind.name, property.name);
            }
            assert!(text.contains(&squeezed(&property.doc)), "{} on the page of {}", property.doc, kind.name);
            assert!(own.contains(property.name.as_str()));
        }
    }
    for (_, table) in formulas::all().subjects() {
        for function in *table {
            let text = squeezed(&page(function.name));
            assert!(text.contains(&squeezed(function.doc)) && text.contains(&squeezed(function.source)), "{}", function.name);
        }
    }
}

#[test]
fn the_contents_list_everything() {
    let done = Desk::new().run(&["rules"]);
    assert_eq!(done.status, Some(0));
    let session = Session::read(Vec::new(), &NoShelf, &Choice::default());
    for rule in &session.design().rules {
        assert!(done.out.contains(rule.name.as_str()), "{}", rule.name);
    }
    for kind in &session.design().kinds {
        assert!(done.out.contains(&format!("  {} ", kind.name)), "{}", kind.name);
    }
    for name in formulas::all().names() {
        assert!(done.out.contains(&format!("  {name} ")), "{name}");
    }
}

#[test]
fn a_function_and_units() {
    let desk = Desk::new();
    let done = desk.run(&["rules", "sqrt"]);
    assert!(done.out.starts_with("sqrt("), "{}", done.out);
    let units = desk.run(&["rules", "units"]).out;
    for unit in ["mm", "lbf", "kN/m2", "degF", "ft-lbf"] {
        assert!(units.contains(unit), "{unit}");
    }
    // SP 811 B.8: 1 lbf = 4.448 222 N; 1 lbf/ft2 = 47.880 26 Pa, rounded from 47.880 258…
    assert!(desk.run(&["rules", "lbf"]).out.contains("4.44822"));
    assert!(desk.run(&["rules", "lbf/ft2"]).out.contains("47.88025"));
}

#[test]
fn an_unknown_name_gives_the_nearest() {
    let desk = Desk::new();
    let done = desk.run(&["rules", "sqqrt"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("did you mean `sqrt`?"), "{}", done.err);
    assert_eq!(desk.run(&["rules", "zzzzzzzz"]).status, Some(2));
    assert_eq!(desk.run(&["rules", ""]).status, Some(2));
}

//! Temperatures are points, their differences are not: the sums and differences of the units library pint
//! (data/units_pint.json), and NIST SP 811 (2008).

use wallplate::design::Choice;
use wallplate::session::{NoShelf, Session};
use wallplate::units::Dim;
use wallplate::values::Value;

#[derive(serde::Deserialize)]
struct Reference {
    temperatures: Vec<(String, String, Option<f64>)>,
}

fn worth(text: &str) -> Result<(f64, Dim), String> {
    let mut session = Session::read(Vec::new(), &NoShelf, &Choice::default());
    match session.value(text) {
        Ok((_, Ok(Value::Quantity(quantity)))) => Ok((quantity.si, quantity.dim)),
        Ok((_, other)) => Err(format!("{other:?}")),
        Err(problems) => Err(problems.iter().map(|problem| problem.message.clone()).collect()),
    }
}

#[test]
fn sums_and_differences_are_those_of_pint() {
    let reference: Reference = serde_json::from_str(include_str!("data/units_pint.json")).expect("the reference is JSON");
    assert!(reference.temperatures.len() > 15);
    for (text, sort, kelvin) in reference.temperatures {
        let due = match sort.as_str() {
            "point" => Dim::TEMPERATURE,
            "difference" => Dim::TEMPERATURE_DIFFERENCE,
            "number" => Dim::NUMBER,
            _ => {
                assert!(worth(&text).is_err(), "{text}: pint refuses it");
                continue;
            }
        };
        let (si, dim) = worth(&text).unwrap_or_else(|said| panic!("{text}: {said}"));
        assert_eq!(dim, due, "{text}");
        let kelvin = kelvin.expect("a number where there is a sort");
        assert!((si - kelvin).abs() <= 1e-12 * 400.0, "{text}: {si} K, pint says {kelvin} K");
    }
}

/// NIST SP 811 (2008) 8.5: "an interval of 1 degC is 1 K"; B.8: T/K = t/degC + 273.15, T/K = (t/degF + 459.67)/1.8.
#[test]
fn the_sign_belongs_to_the_number() {
    for (text, kelvin) in [("-273.15 degC", 0.0), ("-459.67 degF", 0.0), ("-40 degC", 233.15), ("-40 degF", 233.15), ("- 40 degF", 233.15)]
    {
        let (si, dim) = worth(text).unwrap();
        assert!((si - kelvin).abs() < 1e-9, "{text}: {si}");
        assert_eq!(dim, Dim::TEMPERATURE);
    }
    assert!(worth("-273.16 degC").unwrap_err().contains("absolute zero"));
    assert!(worth("-(5 degC)").is_err());
}

/// Expansion of steel, 1.2e-5 1/K (EN 1993-1-1, 3.2.6), over 55 K on 150 mm: 0.15 m * 1.2e-5 * 55 = 99 um, by hand.
#[test]
fn a_year_of_frost_and_heat_moves_steel_by_its_difference() {
    let (si, _) = worth("thermal_movement(150 mm, 1.2e-5 1/K, -20 degC, 35 degC)").unwrap();
    assert!((si - 9.9e-5).abs() < 1e-12, "{si}");
}

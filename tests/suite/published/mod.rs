//! Formulas against what standards, handbooks and independent libraries print.

mod beam;
mod cladding;
mod column;
mod concrete;
mod cutting;
mod drive;
mod estimates;
mod explore;
mod fastener;
mod footing;
mod frame;
mod gear;
mod holddown;
mod ladder;
mod loads;
mod moisture;
mod motion;
mod motion_law;
mod network;
mod pier;
mod power;
mod racking;
mod rolling;
mod seal;
mod sections;
mod sensing;
mod skewing;
mod sky;
mod snow;
mod space;
mod steel;
mod stopping;
mod temperature;
mod timber;
mod tipping;
mod tolerance;
mod units;
mod vee;
mod visits;
mod wind;

/// Numbers of a clause as `clauses_reference.py` works them out by numpy and scipy.
fn clause(name: &str) -> Vec<f64> {
    fn flat(value: &serde_json::Value, into: &mut Vec<f64>) {
        match value {
            serde_json::Value::Array(items) => items.iter().for_each(|item| flat(item, into)),
            other => into.extend(other.as_f64()),
        }
    }
    let all: serde_json::Value = serde_json::from_str(include_str!("data/clauses.json")).unwrap();
    let mut found = Vec::new();
    flat(all.get(name).unwrap_or_else(|| panic!("no clause `{name}`")), &mut found);
    found
}

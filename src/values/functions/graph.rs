//! Questions about the component graph: where a load goes, what touches what.

use super::arguments::Arguments;
use super::{Body, Function, Takes, needs};
use crate::calc::FormulaError;
use crate::design::ComponentId;
use crate::values::evaluator::Evaluator;
use crate::values::value::Value;
use smol_str::SmolStr;

const SOURCE: &str = "the links of the design; a kind declares what each of its links carries";

fn start(arguments: &Arguments) -> Result<ComponentId, FormulaError> {
    arguments.component(0).ok_or_else(|| FormulaError::domain("the start", "a component"))
}

fn components(ids: impl IntoIterator<Item = ComponentId>) -> Value {
    Value::List(ids.into_iter().map(Value::Component).collect())
}

fn names(evaluator: &Evaluator, path: &[ComponentId]) -> String {
    path.iter().map(|id| evaluator.design().component(*id).name.to_string()).collect::<Vec<_>>().join(" → ")
}

fn reaches_ground(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, FormulaError> {
    let trail = evaluator.links().trail(evaluator.design(), start(arguments)?, arguments.carrying(1));
    Ok(Value::Flag(trail.loose_ends.is_empty() && !trail.grounds.is_empty()))
}

fn loose_ends(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, FormulaError> {
    let trail = evaluator.links().trail(evaluator.design(), start(arguments)?, arguments.carrying(1));
    Ok(components(trail.loose_ends))
}

fn grounds(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, FormulaError> {
    let trail = evaluator.links().trail(evaluator.design(), start(arguments)?, arguments.carrying(1));
    Ok(components(trail.grounds))
}

/// The way that breaks, or if none does the way to the first ground.
fn load_path(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, FormulaError> {
    let trail = evaluator.links().trail(evaluator.design(), start(arguments)?, arguments.carrying(1));
    let (end, broken) = match (trail.loose_ends.first(), trail.grounds.first()) {
        (Some(end), _) => (*end, true),
        (None, Some(ground)) => (*ground, false),
        (None, None) => return Ok(Value::Text(SmolStr::default())),
    };
    let mut text = names(evaluator, &trail.path(end));
    if broken {
        text.push_str(" → nothing");
    }
    Ok(Value::Text(text.into()))
}

fn on_the_way(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, FormulaError> {
    let trail = evaluator.links().trail(evaluator.design(), start(arguments)?, arguments.carrying(1));
    let mut all: Vec<ComponentId> = Vec::new();
    for end in trail.grounds.iter().chain(&trail.loose_ends) {
        for id in trail.path(*end) {
            if !all.contains(&id) {
                all.push(id);
            }
        }
    }
    Ok(components(all))
}

fn touching(evaluator: &Evaluator, arguments: &Arguments) -> Option<Vec<(ComponentId, Option<crate::values::Link>)>> {
    let from = arguments.component(0)?;
    let kinds = arguments.kinds(2);
    let design = evaluator.design();
    evaluator.links().way(from, |id| kinds.contains(&design.component(id).kind), arguments.carrying(1))
}

fn is_connected(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, FormulaError> {
    Ok(Value::Flag(touching(evaluator, arguments).is_some()))
}

fn connection(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, FormulaError> {
    let path = touching(evaluator, arguments).unwrap_or_default();
    let ids: Vec<ComponentId> = path.iter().map(|(id, _)| *id).collect();
    Ok(Value::Text(names(evaluator, &ids).into()))
}

fn connecting(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, FormulaError> {
    Ok(components(touching(evaluator, arguments).unwrap_or_default().into_iter().map(|(id, _)| id)))
}

fn linked_to(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, FormulaError> {
    let mut found: Vec<ComponentId> = evaluator.links().arriving(start(arguments)?, arguments.carrying(1)).map(|(id, _)| id).collect();
    found.sort_unstable();
    found.dedup();
    Ok(components(found))
}

fn linked_from(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, FormulaError> {
    let mut found: Vec<ComponentId> = evaluator.links().onward(start(arguments)?, arguments.carrying(1)).map(|(id, _)| id).collect();
    found.sort_unstable();
    found.dedup();
    Ok(components(found))
}

macro_rules! function {
    ($name:literal, $doc:literal, $gives:literal, $body:expr $(, $more:expr)*) => {
        Function {
            name: $name,
            doc: $doc,
            parameters: &[
                needs("start", Takes::Component, "where it starts"),
                needs("carrying", Takes::Carrying, "what the links carry: gravity, uplift, lateral, vibration, control, power"),
                $($more),*
            ],
            gives: $gives,
            source: SOURCE,
            body: Body::Design($body),
        }
    };
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    function!("reaches_ground", "whether every branch of a load path ends in something that the soil carries", "yes or no", reaches_ground),
    function!("loose_ends", "the components at which a load path ends without having reached the ground", "components", loose_ends),
    function!("grounds", "the footings and slabs that a load path reaches", "components", grounds),
    function!("load_path", "the path as text: the branch that breaks, or else the way to the ground", "text", load_path),
    function!("on_the_way", "all components of a load path, the start included", "components", on_the_way),
    function!("linked_to", "the components that link to this one", "components", linked_to),
    function!("linked_from", "the components that this one links to", "components", linked_from),
    function!(
        "is_connected",
        "whether links lead, in either direction, from a component to one of these kinds",
        "yes or no",
        is_connected,
        needs("kinds", Takes::Kinds, "the kinds to look for")
    ),
    function!(
        "connection",
        "the way to one of these kinds as text, the shortest",
        "text",
        connection,
        needs("kinds", Takes::Kinds, "the kinds to look for")
    ),
    function!("connecting", "the components of that way", "components", connecting, needs("kinds", Takes::Kinds, "the kinds to look for")),
];

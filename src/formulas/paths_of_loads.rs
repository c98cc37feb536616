//! Questions about the component graph: where a load goes, what touches what.

use super::body::needs;
use crate::calc::FormulaError;
use crate::design::{ComponentId, NodeId};
use crate::values::Arguments;
use crate::values::Evaluator;
use crate::values::Lack;
use crate::values::Question;
use crate::values::Value;
use crate::values::{Body, Function, Refusal, Takes};
use crate::values::{Link, Trail};
use smol_str::SmolStr;

const SOURCE: &str = "the links of the design; a kind declares what each of its links carries";

fn start(arguments: &Arguments) -> Result<ComponentId, FormulaError> {
    arguments.component(0).ok_or_else(|| FormulaError::domain("the start", "a component"))
}

fn components(ids: impl IntoIterator<Item = ComponentId>) -> Value {
    Value::List(ids.into_iter().map(Value::Component).collect())
}

fn names(evaluator: &Evaluator, path: &[ComponentId]) -> String {
    path.iter().map(|id| evaluator.name_of(*id)).collect::<Vec<_>>().join(" → ")
}

/// Where a load goes. That its links were asked is noted, so that a finding knows the lines it stands on.
fn trail(evaluator: &Evaluator, arguments: &Arguments) -> Result<Trail, Refusal> {
    let trail = evaluator.links().trail(evaluator.design(), start(arguments)?, arguments.carrying(1));
    for line in &trail.lines {
        let _ = evaluator.value(*line);
    }
    evaluator.ask_links(trail.asked.iter().copied());
    Ok(trail)
}

/// Refuses if one of these lines is missing or wrong.
fn all_known(evaluator: &Evaluator, lines: &[NodeId]) -> Result<(), Refusal> {
    match lines.iter().filter_map(|line| evaluator.value(*line).err()).reduce(Lack::with) {
        Some(lack) => Err(Refusal::Lack(lack)),
        None => Ok(()),
    }
}

/// The trail if all of it is known, or if it breaks whatever the rest may be.
fn settled(evaluator: &Evaluator, arguments: &Arguments) -> Result<Trail, Refusal> {
    let trail = trail(evaluator, arguments)?;
    if trail.loose_ends.is_empty() {
        all_known(evaluator, &trail.unknown)?;
    }
    Ok(trail)
}

fn reaches_ground(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    let trail = settled(evaluator, arguments)?;
    Ok(Value::Flag(trail.loose_ends.is_empty() && !trail.grounds.is_empty()))
}

fn loose_ends(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    Ok(components(settled(evaluator, arguments)?.loose_ends))
}

fn grounds(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    let trail = trail(evaluator, arguments)?;
    all_known(evaluator, &trail.unknown)?;
    Ok(components(trail.grounds))
}

/// The way that breaks, or if none does the way to the first ground.
fn load_path(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    let trail = settled(evaluator, arguments)?;
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

fn on_the_way(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    let trail = trail(evaluator, arguments)?;
    all_known(evaluator, &trail.unknown)?;
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

/// The way to one of the kinds; refuses if there is none and a line that could make one is missing or wrong.
fn touching(evaluator: &Evaluator, arguments: &Arguments) -> Result<Vec<ComponentId>, Refusal> {
    let kinds = arguments.kinds(2);
    let design = evaluator.design();
    let way = evaluator.links().way(design, start(arguments)?, |id| kinds.contains(&design.component(id).kind), arguments.carrying(1));
    for line in &way.lines {
        let _ = evaluator.value(*line);
    }
    evaluator.ask_links(way.asked.iter().copied());
    if way.path.is_empty() {
        // Any link that is due and not known could make a way.
        evaluator.ask(Question::UnknownLinks);
    }
    all_known(evaluator, &way.unknown)?;
    Ok(way.path)
}

fn is_connected(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    Ok(Value::Flag(!touching(evaluator, arguments)?.is_empty()))
}

fn connection(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    Ok(Value::Text(names(evaluator, &touching(evaluator, arguments)?).into()))
}

fn connecting(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    Ok(components(touching(evaluator, arguments)?))
}

/// Refuses if a line is missing or wrong that could be one more link to it.
fn linked_to(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    let (start, what) = (start(arguments)?, arguments.carrying(1));
    evaluator.ask_links([start]);
    evaluator.ask(Question::UnknownLinks);
    all_known(evaluator, &evaluator.links().could_arrive(evaluator.design(), start, what))?;
    linked(evaluator, evaluator.links().arriving(start, what))
}

fn linked_from(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    let (start, what) = (start(arguments)?, arguments.carrying(1));
    evaluator.ask_links([start]);
    all_known(evaluator, &evaluator.links().missing_from(start, what).collect::<Vec<_>>())?;
    linked(evaluator, evaluator.links().onward(start, what))
}

/// The other ends of these links, each once; that their lines were read is noted.
fn linked(evaluator: &Evaluator, links: impl Iterator<Item = (ComponentId, Link)>) -> Result<Value, Refusal> {
    let mut found: Vec<ComponentId> = Vec::new();
    for (id, link) in links {
        let _ = evaluator.value(link.node);
        found.push(id);
    }
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
            remembered: false,
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

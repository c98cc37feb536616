//! Questions about the component graph: where a load goes, what touches what.

use super::body::Survey;
use crate::design::{Carries, ComponentId, KindId, NodeId};
use crate::values::{Evaluator, Lack, Link, Question, Refusal, Trail};
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_paths_of_loads.rs"));

fn names(evaluator: &Evaluator, path: &[ComponentId]) -> SmolStr {
    path.iter().map(|id| evaluator.name_of(*id)).collect::<Vec<_>>().join(" → ").into()
}

/// Where a load goes. That its links were asked is noted, so that a finding knows the lines it stands on.
fn trail(evaluator: &Evaluator, start: ComponentId, carrying: Carries) -> Trail {
    let trail = evaluator.links().trail(evaluator.design(), start, carrying);
    for line in &trail.lines {
        let _ = evaluator.value(*line);
    }
    evaluator.ask_links(trail.asked.iter().copied());
    trail
}

/// Refuses if one of these lines is missing or wrong.
fn all_known(evaluator: &Evaluator, lines: &[NodeId]) -> Result<(), Refusal> {
    match lines.iter().filter_map(|line| evaluator.value(*line).err()).reduce(Lack::with) {
        Some(lack) => Err(Refusal::Lack(lack)),
        None => Ok(()),
    }
}

/// The trail if all of it is known.
fn known(evaluator: &Evaluator, start: ComponentId, carrying: Carries) -> Result<Trail, Refusal> {
    let trail = trail(evaluator, start, carrying);
    all_known(evaluator, &trail.unknown)?;
    Ok(trail)
}

/// The trail if all of it is known, or if it breaks whatever the rest may be.
fn settled(evaluator: &Evaluator, start: ComponentId, carrying: Carries) -> Result<Trail, Refusal> {
    let trail = trail(evaluator, start, carrying);
    if trail.loose_ends.is_empty() {
        all_known(evaluator, &trail.unknown)?;
    }
    Ok(trail)
}

impl Survey for ReachesGround {
    fn answer(self, evaluator: &Evaluator) -> Result<bool, Refusal> {
        let trail = settled(evaluator, self.start, self.carrying)?;
        Ok(trail.loose_ends.is_empty() && !trail.grounds.is_empty())
    }
}

impl Survey for LooseEnds {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        Ok(settled(evaluator, self.start, self.carrying)?.loose_ends)
    }
}

impl Survey for Grounds {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        Ok(known(evaluator, self.start, self.carrying)?.grounds)
    }
}

/// The way that breaks, or if none does the way to the first ground.
impl Survey for LoadPath {
    fn answer(self, evaluator: &Evaluator) -> Result<SmolStr, Refusal> {
        let trail = settled(evaluator, self.start, self.carrying)?;
        Ok(match (trail.loose_ends.first(), trail.grounds.first()) {
            (Some(end), _) => format!("{} → nothing", names(evaluator, &trail.path(*end))).into(),
            (None, Some(ground)) => names(evaluator, &trail.path(*ground)),
            (None, None) => SmolStr::default(),
        })
    }
}

impl Survey for OnTheWay {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        let trail = known(evaluator, self.start, self.carrying)?;
        let mut all: Vec<ComponentId> = Vec::new();
        for end in trail.grounds.iter().chain(&trail.loose_ends) {
            for id in trail.path(*end) {
                if !all.contains(&id) {
                    all.push(id);
                }
            }
        }
        Ok(all)
    }
}

/// The way to one of the kinds; refuses if there is none and a line that could make one is missing or wrong.
fn touching(evaluator: &Evaluator, start: ComponentId, carrying: Carries, kinds: &[KindId]) -> Result<Vec<ComponentId>, Refusal> {
    let design = evaluator.design();
    let way = evaluator.links().way(design, start, |id| kinds.contains(&design.component(id).kind), carrying);
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

impl Survey for IsConnected {
    fn answer(self, evaluator: &Evaluator) -> Result<bool, Refusal> {
        Ok(!touching(evaluator, self.start, self.carrying, &self.kinds)?.is_empty())
    }
}

impl Survey for Connection {
    fn answer(self, evaluator: &Evaluator) -> Result<SmolStr, Refusal> {
        Ok(names(evaluator, &touching(evaluator, self.start, self.carrying, &self.kinds)?))
    }
}

impl Survey for Connecting {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        touching(evaluator, self.start, self.carrying, &self.kinds)
    }
}

/// Refuses if a line is missing or wrong that could be one more link to it.
impl Survey for LinkedTo {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        evaluator.ask_links([self.start]);
        evaluator.ask(Question::UnknownLinks);
        all_known(evaluator, &evaluator.links().could_arrive(evaluator.design(), self.start, self.carrying))?;
        Ok(linked(evaluator, evaluator.links().arriving(self.start, self.carrying)))
    }
}

impl Survey for LinkedFrom {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        evaluator.ask_links([self.start]);
        all_known(evaluator, &evaluator.links().missing_from(self.start, self.carrying).collect::<Vec<_>>())?;
        Ok(linked(evaluator, evaluator.links().onward(self.start, self.carrying)))
    }
}

/// The other ends of these links, each once; that their lines were read is noted.
fn linked(evaluator: &Evaluator, links: impl Iterator<Item = (ComponentId, Link)>) -> Vec<ComponentId> {
    let mut found: Vec<ComponentId> = Vec::new();
    for (id, link) in links {
        let _ = evaluator.value(link.node);
        found.push(id);
    }
    found.sort_unstable();
    found.dedup();
    found
}

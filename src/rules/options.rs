//! What is checked, and on which day.

use super::Finding;
use crate::design::{Design, Entry, Rule};
use crate::syntax::tree::Date;
use smol_str::SmolStr;

/// What is checked, and on which day.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// Only a part of the checks.
    pub only: Option<Only>,
    /// The day that acceptances and dated rules are judged on; without it no date has passed.
    pub today: Option<Date>,
}

/// Areas, rules and components by name: what a rule finds is asked for if the rule, its area or a component that it is about
/// is named.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Only(Vec<SmolStr>);

impl<S: Into<SmolStr>> From<S> for Only {
    fn from(name: S) -> Only {
        Only(vec![name.into()])
    }
}

impl<S: Into<SmolStr>> FromIterator<S> for Only {
    fn from_iter<I: IntoIterator<Item = S>>(names: I) -> Only {
        Only(names.into_iter().map(Into::into).collect())
    }
}

/// What such names mean in a design.
#[derive(Debug, Default)]
pub(super) struct Meant<'o> {
    rules: Vec<&'o str>,
    components: Vec<&'o str>,
}

impl Only {
    /// The names.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(SmolStr::as_str)
    }

    /// Whether a name is one of an area, a rule or a component of this design.
    #[must_use]
    pub fn is_known(design: &Design, name: &str) -> bool {
        design.rules.iter().any(|rule| rule.area() == name || rule.name == name) || is_component(design, name)
    }

    pub(super) fn meant<'o>(only: Option<&'o Only>, design: &Design) -> Meant<'o> {
        let is_rule = |name: &str| design.rules.iter().any(|rule| rule.area() == name || rule.name == name);
        let names = || only.into_iter().flat_map(Only::names);
        let (components, rules) = names().partition(|name| !is_rule(name) && is_component(design, name));
        Meant { rules, components }
    }
}

/// Whether this is a component, an array, or one of an array.
fn is_component(design: &Design, name: &str) -> bool {
    let whole = name.split('[').next().unwrap_or(name);
    matches!(design.entry(whole), Some(Entry::Component(_) | Entry::Array(..)))
}

impl Meant<'_> {
    fn all(&self) -> bool {
        self.rules.is_empty() && self.components.is_empty()
    }

    /// Whether a rule may find something that is asked for.
    pub(super) fn may_ask(&self, rule: &Rule) -> bool {
        self.all() || !self.components.is_empty() || self.names(&rule.name, rule.area())
    }

    /// Whether what a rule found is asked for.
    pub(super) fn asks(&self, finding: &Finding) -> bool {
        self.all() || self.names(&finding.rule, finding.area()) || finding.subjects.iter().any(|subject| self.is_about(subject))
    }

    /// Whether what a whole building lacks is asked for.
    pub(super) fn misses(&self, area: &str, component: Option<&str>) -> bool {
        self.all() || self.rules.contains(&area) || component.is_some_and(|name| self.is_about(name))
    }

    fn names(&self, rule: &str, area: &str) -> bool {
        self.rules.iter().any(|name| rule == *name || area == *name)
    }

    fn is_about(&self, subject: &str) -> bool {
        let of = |name: &str| subject == name || subject.strip_prefix(name).is_some_and(|element| element.starts_with('['));
        self.components.iter().any(|name| of(name))
    }
}

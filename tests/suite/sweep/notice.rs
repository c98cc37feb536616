//! Whether a slip is noticed: a finding is worse than before or new, the text has a mistake, or something is not begun.

use super::slips::Slip;
use std::collections::{BTreeMap, BTreeSet};
use wallplate::design::Choice;
use wallplate::rules::{Finding, NotBegun, Options, Verdict};
use wallplate::session::{Draft, NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;
use wallplate::values::Halt;

/// A day on which every acceptance of the examples still counts.
const TODAY: Date = Date { year: 2027, month: 6, day: 1 };

fn options() -> Options {
    Options { today: Some(TODAY), ..Options::default() }
}

/// How bad a finding is; what is accepted is hardly worse than a pass.
fn badness(finding: &Finding) -> u8 {
    match finding.verdict {
        Verdict::Pass => 0,
        _ if finding.is_accepted() => 1,
        Verdict::Tight => 2,
        Verdict::Undetermined => 3,
        Verdict::Fail => 4,
    }
}

type Key = (String, Vec<String>);

/// What is said of a design.
#[derive(Default)]
struct Said {
    findings: BTreeMap<Key, u8>,
    problems: BTreeSet<String>,
    not_begun: BTreeSet<String>,
}

impl Said {
    fn of<'f>(session: &Session, findings: impl Iterator<Item = &'f Finding>) -> Said {
        let key = |finding: &Finding| (finding.rule.to_string(), finding.subjects.iter().map(ToString::to_string).collect());
        let lacking = |one: &NotBegun| format!("{} {:?} {}", one.area, one.component, one.lacks);
        Said {
            findings: findings.map(|finding| (key(finding), badness(finding))).collect(),
            problems: session.problems().into_iter().map(|problem| problem.message).collect(),
            not_begun: session.not_begun(&options()).iter().map(lacking).collect(),
        }
    }

    /// Read afresh in one of its alternatives.
    fn afresh(text: &str, choice: &Choice) -> Said {
        let session = Session::read(vec![Source::new("a.plate", text)], &NoShelf, choice);
        Said::of(&session, session.check(&options()).iter())
    }

    /// What is worse here than it was before.
    fn worse_than(&self, before: &Said) -> Vec<String> {
        let worse = self.findings.iter().filter(|(key, bad)| **bad > before.findings.get(*key).copied().unwrap_or(0));
        let worse = worse.map(|((rule, subjects), bad)| format!("{rule} {subjects:?} {bad}"));
        worse
            .chain(self.problems.difference(&before.problems).cloned())
            .chain(self.not_begun.difference(&before.not_begun).cloned())
            .collect()
    }
}

/// A design, read again with one slip after the other.
pub struct Watcher {
    draft: Draft,
    text: String,
    before: Said,
}

impl Watcher {
    pub fn new(text: &str) -> Watcher {
        let mut watcher = Watcher { draft: Draft::default(), text: text.to_owned(), before: Said::default() };
        watcher.before = watcher.said(text);
        watcher
    }

    fn said(&mut self, text: &str) -> Said {
        self.draft.read(vec![Source::new("a.plate", text)], &NoShelf, &options(), &Halt::default());
        Said::of(self.draft.session(), self.draft.findings().iter().map(AsRef::as_ref))
    }

    /// What is said of a text that was not said before.
    pub fn news_of(&mut self, text: &str) -> Vec<String> {
        self.said(text).worse_than(&self.before)
    }

    /// What is said of a slip.
    pub fn news(&mut self, slip: &Slip) -> Vec<String> {
        let changed = slip.made_in(&self.text);
        let news = self.news_of(&changed);
        if !news.is_empty() || (slip.choice.variant.is_none() && !slip.choice.as_built) {
            return news;
        }
        Said::afresh(&changed, &slip.choice).worse_than(&Said::afresh(&self.text, &slip.choice))
    }
}

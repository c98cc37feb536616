//! What may be written in a rule and in what goes onto paper: what it goes over, the properties of that, the words and
//! tasks that the library knows.

use super::{Menu, Sort, sort_of};
use crate::design::{COMMON_LINES, KindId, LineTakes, Paper, PaperSort, RULE_LINES};
use crate::editor::cursor::Cursor;
use crate::session::forms;
use crate::syntax::{
    self,
    tree::{Binder, Item, Node, TemplatePart},
};
use crate::trade;
use std::collections::BTreeSet;

/// Lines that hold a text for people.
const TEXTS: [&str; 6] = ["says", "otherwise", "help", "source", "caution", "note"];
/// Lines of paper whose text is one of a few that return.
const RETURNING: [&str; 3] = ["trade", "group", "card"];

/// The words of a text, without the signs that part them.
fn words(text: &str) -> Vec<&str> {
    text.split(|c: char| c.is_whitespace() || "(),[]{};".contains(c)).filter(|word| !word.is_empty()).collect()
}

/// The names that are bound up to a place: `c` in `each c in clamp` and in `sum(c.pull for c in clamp)`, `far` in `let far 2 m`.
pub(super) fn bound(place: &Cursor) -> Vec<&str> {
    let pairs = words(&place.so_far);
    let named = pairs.windows(2).filter_map(|pair| match pair {
        [name, "in"] | ["let", name] if syntax::is_name(name) => Some(*name),
        _ => None,
    });
    named.collect()
}

impl Menu<'_> {
    /// A line of a rule, or of something for paper of that sort.
    pub(super) fn rule_line(&mut self, sort: Option<PaperSort>, words: &[&str]) {
        let Some((first, rest)) = words.split_first() else {
            let lines: Vec<&str> = match sort {
                None => RULE_LINES.iter().filter(|word| **word != "kind").copied().collect(),
                Some(_) => ["each", "when"].to_vec(),
            };
            lines.into_iter().for_each(|word| self.property_word(word, ""));
            if let Some(form) = sort.and_then(|sort| forms().form(sort.word())) {
                form.lines.iter().for_each(|line| self.property_word(&line.name, ""));
                COMMON_LINES.iter().skip(2).for_each(|word| self.property_word(word, ""));
            }
            return;
        };
        match *first {
            "each" => self.binder(rest),
            "for" => self.repeated(rest),
            "advice" | "last_resort" | "by_line" => {
                ["yes", "no"].into_iter().for_each(|word| self.ranked(0, word, Sort::Choice, "", "", word))
            }
            line if TEXTS.contains(&line) || RETURNING.contains(&line) => {}
            "state" => {
                let states = &self.desk.design().states;
                states.iter().for_each(|state| self.ranked(0, &state.name, Sort::Choice, "", state.doc.as_str(), state.name.as_str()));
            }
            "areas" => {
                let areas: BTreeSet<&str> = self.desk.design().rules.iter().map(|rule| rule.area()).collect();
                areas.into_iter().for_each(|area| self.ranked(0, area, Sort::Rule, "an area of rules", "", area));
            }
            line => {
                if let Some(sort) = sort {
                    let form = forms().form(sort.word());
                    match form.and_then(|form| form.line(line)).map(|line| &line.takes) {
                        Some(LineTakes::Sheets) => forms().sheet_words().for_each(|word| self.ranked(0, word, Sort::Choice, "", "", word)),
                        Some(LineTakes::Words(words)) => {
                            words.iter().for_each(|word| self.ranked(0, word, Sort::Choice, "", "", word.as_str()))
                        }
                        _ => {}
                    }
                    for word in known_words(sort, line).into_iter().filter(|word| syntax::is_name(word)) {
                        self.ranked(0, &word, Sort::Choice, "", "", word.as_str());
                    }
                    for (name, _, doc) in form.iter().flat_map(|form| &form.binds) {
                        self.ranked(0, name, Sort::Named, doc.as_str(), "", name.as_str());
                    }
                }
                self.value(None, None);
            }
        }
    }

    /// The words that a rule stands for: `end in [open, closed]`.
    fn repeated(&mut self, rest: &[&str]) {
        match rest {
            [_] => self.ranked(0, "in", Sort::Keyword, "", "", "in ["),
            [_, "in", ..] => self.value(None, None),
            _ => {}
        }
    }

    /// What a rule goes over: `c in clamp, r in c.holds`.
    fn binder(&mut self, rest: &[&str]) {
        let from = rest.iter().rposition(|word| word.ends_with(',')).map_or(0, |at| at + 1);
        match rest.get(from..).unwrap_or_default() {
            [_] => self.ranked(0, "in", Sort::Keyword, "", "", "in "),
            [_, "in"] => self.gone_over(None),
            // Behind a dot nothing has been typed yet.
            [_, "in", path] if path.ends_with('.') => self.gone_over(None),
            [_, "in", _] => self.ranked(0, "where", Sort::Keyword, "only those", "", "where "),
            [_, "in", _, "where", ..] => self.value(None, None),
            _ => {}
        }
    }

    /// What may stand behind `in`: a kind, or what something that is bound leads to.
    pub(super) fn gone_over(&mut self, own: Option<KindId>) {
        let behind = self.place.before.strip_suffix(self.place.typed()).unwrap_or_default().to_owned();
        if let Some(of) = behind.strip_suffix('.') {
            self.fields(of, own);
            return;
        }
        for kind in &self.desk.design().kinds {
            self.ranked(1, &kind.name, Sort::Kind, "a kind", kind.doc.as_str(), kind.name.as_str());
        }
        self.bound_names();
    }

    /// The names that are bound here.
    pub(super) fn bound_names(&mut self) {
        let place = self.place;
        for name in bound(place) {
            let kinds: Vec<&str> =
                self.of_bound(name, None).unwrap_or_default().into_iter().map(|kind| self.desk.design().kind(kind).name.as_str()).collect();
            self.ranked(0, name, Sort::Named, kinds.join(", "), "", name);
        }
    }

    /// The kinds of what a name that is bound here may stand for.
    pub(super) fn of_bound(&self, name: &str, own: Option<KindId>) -> Option<Vec<KindId>> {
        self.of_bound_in(&words(&self.place.so_far), name, own)
    }

    fn of_bound_in(&self, words: &[&str], name: &str, own: Option<KindId>) -> Option<Vec<KindId>> {
        let at = words.windows(2).rposition(|pair| pair == [name, "in"] || pair == ["let", name])?;
        let mut steps = words.get(at + 2)?.split('.');
        let first = steps.next()?;
        let begins = self.of_bound_in(words.get(..at)?, first, own).unwrap_or_else(|| self.begins_unbound(first, own));
        Some(steps.fold(begins, |kinds, step| self.leads_on(&kinds, step)))
    }

    /// What may stand in a text in quotes that begins at an offset.
    pub(super) fn text(&mut self, start: usize, text: &str) {
        let [header] = self.place.blocks.as_slice() else { return };
        let Some(sort) = sort_of(header) else { return };
        if text.get(..start).is_some_and(|before| before.trim_end().ends_with("done(")) {
            for (name, title) in self.tasks() {
                self.ranked(0, &name, Sort::Rule, "a task", title, name.as_str());
            }
        } else if let Some(line) = self.place.before.split_whitespace().next().filter(|line| RETURNING.contains(line)) {
            for words in known_words(sort, line).into_iter().filter(|words| !words.contains('{')) {
                self.ranked(0, &words, Sort::Choice, "", "", words.as_str());
            }
        }
    }

    /// The tasks of the library and of the design, with what each is.
    fn tasks(&self) -> Vec<(String, String)> {
        let library = trade::papers().iter().flat_map(|part| &part.as_tree().items);
        let task = |item: &Item| match item {
            Item::Paper(paper) if paper.sort.text == PaperSort::Task.word() => {
                let title = paper.block.title.as_ref().map(|title| title.text.to_string()).unwrap_or_default();
                Some((paper.block.name.text.to_string(), title))
            }
            _ => None,
        };
        library.chain(self.desk.all_items()).filter_map(task).collect()
    }
}

/// The words that the library writes in a line of this sort of paper.
fn known_words(sort: PaperSort, line: &str) -> BTreeSet<String> {
    let papers = trade::papers().iter().flat_map(|part| Paper::all_in(part.as_tree()).0).filter(|paper| paper.sort == sort);
    let words = |paper: Paper| {
        // A text without a `{` in it is one piece.
        let text = paper.line(line).and_then(|value| match &value.node {
            Node::Template(pieces) => match pieces.as_slice() {
                [TemplatePart::Text(text)] => Some(text.to_string()),
                _ => None,
            },
            _ => None,
        });
        let is_bound = |word: &str| paper.each.iter().any(|binder: &Binder| binder.name.text == word);
        paper.words(line).into_iter().filter(|word| !is_bound(word)).map(ToString::to_string).chain(text).collect::<Vec<_>>()
    };
    papers.flat_map(words).collect()
}

//! A design that is being written: read again after each edit, with what the edit does not touch kept.
//!
//! In: the texts as they stand now. Out: what [`Session::read`](super::Session::read) and the rules would
//! say of them. Three things are kept from one reading to the next: the trees of statements whose text is
//! the same, the values that stand on the same lines, and the findings that stand on the same values.

use super::{Reader, Session, Shelf, system_of, units_of, vocabulary};
use crate::design::{Choice, Design};
use crate::problem::Problem;
use crate::rules::{Finding, Memory, Options, check_again};
use crate::syntax::{
    self, Kept, Statement,
    tree::{Comment, Tree},
};
use crate::text::{FileId, Fragment, Source, Sources, Span};
use crate::units::System;
use crate::values::{Evaluator, Halt};
use rustc_hash::{FxHashMap, FxHashSet, FxHasher};
use std::hash::{Hash, Hasher};
use std::rc::Rc;
use std::sync::Arc;

/// A design that is being written.
pub struct Draft {
    fragments: Fragments,
    session: Session,
    memory: Memory,
    findings: Vec<Rc<Finding>>,
    /// It keeps values of the reading before.
    goes_on: bool,
}

impl Default for Draft {
    fn default() -> Draft {
        let session = Session { sources: Sources::default(), trees: Vec::new(), evaluator: nothing(), problems: Vec::new() };
        Draft { fragments: Fragments::default(), session, memory: Memory::default(), findings: Vec::new(), goes_on: false }
    }
}

/// The values of a design in which there is nothing.
fn nothing() -> Evaluator {
    Evaluator::new(Arc::new(Design::default()), System::default(), crate::formulas::all())
}

/// The statements that were read before, by a hash of what the grammar sees of them.
#[derive(Default)]
pub(super) struct Fragments {
    known: FxHashMap<u64, Vec<Known>>,
    /// How often each hash was met in this reading: the second of two equal statements is another one.
    met: FxHashMap<u64, usize>,
    next: u32,
    /// The comments of each file.
    comments: Vec<(FileId, Vec<Comment>)>,
    units: (usize, usize),
}

struct Known {
    id: FileId,
    /// What it was read from, to be sure.
    kept: Kept,
    tree: Arc<Tree>,
    problems: Arc<[Problem]>,
    units: (usize, usize),
}

impl Fragments {
    fn begin(&mut self) {
        self.met.clear();
        self.comments.clear();
        self.units = (0, 0);
    }

    /// Forgets what this reading has not met; gives the numbers of what is gone.
    fn end(&mut self) -> FxHashSet<FileId> {
        let mut gone = FxHashSet::default();
        let met = &self.met;
        self.known.retain(|hash, known| {
            let count = met.get(hash).copied().unwrap_or(0);
            gone.extend(known.drain(count.min(known.len())..).map(|known| known.id));
            !known.is_empty()
        });
        gone
    }

    /// The statements of a file as trees of their own, and what is wrong with them.
    pub(super) fn read(&mut self, text: &str, file: FileId, sources: &mut Sources) -> (Vec<(FileId, Arc<Tree>)>, Vec<Problem>) {
        let cut = syntax::cut(text, file);
        let mut problems = cut.problems.clone();
        let mut trees = Vec::new();
        for (start, statement) in cut.statements(text) {
            let at = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
            let end = at(start + statement.text.len());
            let known = self.one(&statement);
            let (id, tree) = (known.id, Arc::clone(&known.tree));
            problems.extend(known.problems.iter().cloned());
            let units = known.units;
            self.units = (self.units.0 + units.0, self.units.1 + units.1);
            sources.add_fragment(Fragment { file, start: at(start), end, id });
            trees.push((id, tree));
        }
        self.comments.push((file, cut.comments));
        (trees, problems)
    }

    fn one(&mut self, statement: &Statement<'_>) -> &Known {
        let mut hasher = FxHasher::default();
        statement.hash(&mut hasher);
        let hash = hasher.finish();
        let met = self.met.entry(hash).or_default();
        let at = *met;
        *met += 1;
        let known = self.known.entry(hash).or_default();
        if known.get(at).is_some_and(|known| !statement.is(&known.kept)) {
            known.truncate(at);
        }
        if known.len() <= at {
            let id = FileId::fragment(self.next);
            self.next = (self.next + 1) % FileId::MOST_FRAGMENTS;
            known.push(Known::read(statement, id));
        }
        // Just pushed, if it was not there.
        &known[at]
    }
}

impl Known {
    fn read(statement: &Statement<'_>, id: FileId) -> Known {
        let (item, problems) = syntax::parse_statement(statement, id);
        let tree = Tree { items: vec![item], comments: Vec::new() };
        Known { id, kept: statement.kept(), units: units_of(&tree), tree: Arc::new(tree), problems: problems.into() }
    }
}

impl Draft {
    /// Reads the texts as they stand now, and runs the rules: [`Draft::take`], then [`Draft::work_out`].
    pub fn read(&mut self, files: Vec<Source>, shelf: &dyn Shelf, options: &Options, halt: &Halt) {
        self.take(files, shelf, halt);
        self.work_out(options);
    }

    /// Reads the texts as they stand now: what is wrong with their words is known then, and no number is.
    ///
    /// `halt` is heeded by the work that follows.
    pub fn take(&mut self, files: Vec<Source>, shelf: &dyn Shelf, halt: &Halt) {
        self.fragments.begin();
        let mut reader = Reader::new(shelf, Some(&mut self.fragments));
        for file in files {
            reader.file(file);
        }
        let Reader { sources, trees, catalogues, mut problems, .. } = reader;
        let gone = self.fragments.end();
        let all: Vec<Arc<Tree>> = catalogues.into_iter().chain(trees.iter().map(|(_, tree)| Arc::clone(tree))).collect();
        let before = std::mem::replace(&mut self.session.evaluator, nothing());
        let mut design = Design::with(vocabulary(), &all, &Choice::default(), Some(before.design()));
        problems.append(&mut design.problems);
        let system = system_of(self.fragments.units.0, self.fragments.units.1);
        let design = Arc::new(design);
        self.goes_on = false;
        let evaluator = match before.renewed(Arc::clone(&design), system, &gone) {
            Some((evaluator, moved)) => {
                self.goes_on = true;
                self.memory.renumber(&moved, &gone);
                evaluator
            }
            None => {
                self.memory = Memory::default();
                Evaluator::new(design, system, crate::formulas::all())
            }
        };
        self.session = Session { sources, trees, evaluator: evaluator.heeding(halt.clone()), problems };
    }

    /// Works out what the texts say, and runs the rules.
    ///
    /// Where nobody waits for it any more it is given up (call it below
    /// [`unless_halted`](crate::values::unless_halted)); what is there by then is the next reading's start.
    pub fn work_out(&mut self, options: &Options) {
        self.session.evaluator.bring_up_to_date();
        self.session.work_out_all();
        self.findings = check_again(&self.session.evaluator, options, &mut self.memory);
        // Where a circle is told depends on who asks first: asked from the beginning it is where a fresh reading tells it.
        if self.goes_on && self.session.evaluator.has_met_a_circle() {
            self.goes_on = false;
            self.session.evaluator = self.session.evaluator.anew();
            self.memory = Memory::default();
            self.session.work_out_all();
            self.findings = check_again(&self.session.evaluator, options, &mut self.memory);
        }
    }

    /// The design as it was read last.
    #[must_use]
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// What the rules found.
    #[must_use]
    pub fn findings(&self) -> &[Rc<Finding>] {
        &self.findings
    }

    /// The comments of a file.
    #[must_use]
    pub fn comments(&self, file: FileId) -> &[Comment] {
        self.fragments.comments.iter().find(|(of, _)| *of == file).map_or(&[], |(_, comments)| comments.as_slice())
    }

    /// The statements of a file in order, each with its stretch there.
    pub fn statements(&self, file: FileId) -> impl Iterator<Item = (Span, &Tree)> {
        self.session.trees.iter().filter_map(move |(id, tree)| {
            let fragment = self.session.sources.fragment(*id)?;
            (fragment.file == file).then(|| (Span { file, start: fragment.start, end: fragment.end }, tree.as_ref()))
        })
    }
}

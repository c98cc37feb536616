//! Inputs in, one immutable checked design out.
//!
//! Command line, editor and tests are skins over [`Session`], so they cannot disagree. It reads no
//! file itself: what a `use` asks for comes from the [`Shelf`] it is given. A text that is being written is
//! read again and again: [`Draft`] keeps what an edit does not touch.

mod draft;

pub use draft::Draft;

use crate::design::{Catalogues, Choice, Design, Forms, Formulas, NodeId, Paper};
use crate::problem::{Place, Problem};
use crate::rules::{self, Finding, NotBegun, Options};
use crate::syntax::{
    self,
    tree::{Item, Node, Tree, Use},
};
use crate::text::{FileId, Source, Sources, Span};
use crate::trade;
use crate::units::System;
use crate::values::{Evaluator, Halt, Outcome, Scope};
use rustc_hash::{FxHashMap, FxHashSet};
use std::sync::{Arc, OnceLock};

/// Stands under everything that is said of a design: what it is not, and who has the last word.
pub use crate::trade::says::LAST_WORD;

/// Where files come from.
pub trait Shelf {
    /// The text of the file that `target` names in a `use` of the file `from` (by its shown name), with
    /// the name to show for it.
    ///
    /// # Errors
    /// Why it cannot be had, in the builder's words, and what to do about it.
    fn fetch(&self, from: &str, target: &str) -> Result<Source, Refused>;
}

/// Why a file cannot be had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub help: String,
}

/// A shelf with nothing on it.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoShelf;

impl Shelf for NoShelf {
    fn fetch(&self, _: &str, target: &str) -> Result<Source, Refused> {
        Err(Refused { message: format!("`{target}` cannot be read from here"), help: "put its lines into this file".to_owned() })
    }
}

/// A design as it was read, ready to be asked.
pub struct Session {
    /// All files that it is made of.
    pub sources: Sources,
    /// The person's own files as trees.
    pub trees: Vec<(FileId, Arc<Tree>)>,
    /// The values.
    pub evaluator: Evaluator,
    problems: Vec<Problem>,
}

impl Session {
    /// Reads a design.
    ///
    /// `files` are the files named by the person, `shelf` where others come from, `choice` which of its
    /// alternatives. Never fails: what is wrong is among [`Session::problems`].
    #[must_use]
    pub fn read(files: Vec<Source>, shelf: &dyn Shelf, choice: &Choice) -> Session {
        Self::read_heeding(files, shelf, choice, &Halt::default())
    }

    /// As [`Session::read`], giving up where that is wished: call it below [`crate::values::unless_halted`].
    #[must_use]
    pub fn read_heeding(files: Vec<Source>, shelf: &dyn Shelf, choice: &Choice, halt: &Halt) -> Session {
        let mut reader = Reader::new(shelf, None);
        for file in files {
            reader.file(file);
        }
        let Reader { sources, trees, catalogues, mut problems, .. } = reader;
        let all: Vec<Arc<Tree>> = catalogues.into_iter().chain(trees.iter().map(|(_, tree)| Arc::clone(tree))).collect();
        let mut design = Design::with(vocabulary(), &all, choice, None);
        if let Some(variant) = &choice.variant
            && !design.variants.iter().any(|(name, _)| name == variant)
        {
            let known: Vec<&str> = design.variants.iter().map(|(name, _)| name.as_str()).collect();
            let problem = Problem::error(format!("there is no variant `{variant}`"), crate::text::Span::default(), "in this design");
            problems.push(if known.is_empty() {
                problem.help("the design has no variants")
            } else {
                problem.help(format!("its variants are {}", known.join(", ")))
            });
        }
        problems.append(&mut design.problems);
        let system = usual_system(&trees);
        let evaluator = Evaluator::new(Arc::new(design), system, crate::formulas::all()).heeding(halt.clone());
        let session = Session { sources, trees, evaluator, problems };
        session.work_out_all();
        session
    }

    /// Works out every written line, so that every mistake in the text is told whether or not a rule needs the line.
    fn work_out_all(&self) {
        let design = self.evaluator.design();
        for at in 0..design.named.len() {
            let _ = self.evaluator.value(NodeId(u32::try_from(at).unwrap_or(0)));
        }
        for (at, component) in (0_u32..).zip(&design.components) {
            if component.span.file.is_built_in() {
                continue;
            }
            let id = crate::design::ComponentId(at);
            for (property, _) in component.lines() {
                let node = design.node(id, property);
                if !self.evaluator.is_known(node) {
                    let _ = self.evaluator.value(node);
                }
            }
        }
        self.evaluator.look_at_alternatives();
    }

    /// The design.
    #[must_use]
    pub fn design(&self) -> &Design {
        self.evaluator.design()
    }

    /// What is wrong with the text, in the order of the files, each once.
    #[must_use]
    pub fn problems(&self) -> Vec<Problem> {
        let mut problems = self.settled(self.problems.clone());
        let worked_out = self.settled(self.evaluator.problems());
        // Of two errors at one place the first said is the closer one.
        let mut told: FxHashSet<Span> = problems.iter().map(Problem::span).collect();
        let mistyped = self.settled(self.design().mistyped.clone());
        let of_one_slip: FxHashSet<Span> = mistyped.iter().map(Problem::span).collect();
        // A slip in what is written shows again with each component that it is worked out for, and in what it is compared with.
        let mut slips: Vec<Span> = of_one_slip.iter().copied().collect();
        slips.sort_unstable();
        let stands_on_one = |problem: &Problem| {
            problem.places.iter().skip(1).any(|place| {
                let around = place.span;
                let first = slips.partition_point(|slip| (slip.file, slip.start) < (around.file, around.start));
                slips.get(first).is_some_and(|slip| slip.file == around.file && slip.end <= around.end)
            })
        };
        problems.extend(worked_out.into_iter().filter(|problem| {
            let span = problem.span();
            if of_one_slip.contains(&span) { told.insert(span) } else { !told.contains(&span) && !stands_on_one(problem) }
        }));
        if !mistyped.is_empty() {
            let told = Covered::by(&problems);
            // A rule that is written once for several kinds is looked at for each of them.
            let mut first: FxHashSet<Span> = FxHashSet::default();
            problems.extend(mistyped.into_iter().filter(|problem| !told.contains(problem.span()) && first.insert(problem.span())));
        }
        in_order(problems)
    }

    /// What is wrong with the words of the text, as far as it is known before a value is worked out; among
    /// [`Session::problems`] they all are.
    #[must_use]
    pub fn problems_of_text(&self) -> Vec<Problem> {
        in_order(self.settled(self.problems.clone()))
    }

    /// Where a text is read in fragments the places of a problem become those of the file.
    fn settled(&self, mut problems: Vec<Problem>) -> Vec<Problem> {
        for problem in &mut problems {
            problem.places.iter_mut().for_each(|place| place.span = self.sources.settle(place.span));
            problem.mends.iter_mut().for_each(|mend| mend.span = self.sources.settle(mend.span));
            let mut spans = problem.places.iter().map(|place| place.span).chain(problem.mends.iter().map(|mend| mend.span));
            debug_assert!(spans.all(|span| self.sources.holds(span)), "out of place: {problem:?}");
        }
        problems
    }

    /// What goes onto paper: what the trade library says, then what the design adds.
    ///
    /// The library's part is read at the first call only: a check has no need of it.
    pub fn papers(&mut self) -> Vec<Paper> {
        let mut papers = Vec::new();
        for part in trade::papers() {
            self.sources.add_built_in(part.place, part.source());
            papers.extend(Paper::all_in(&part.tree()).0);
        }
        papers.extend(self.design().papers.iter().cloned());
        papers
    }

    /// Runs the rules.
    #[must_use]
    pub fn check(&self, options: &Options) -> Vec<Finding> {
        rules::check(&self.evaluator, options)
    }

    /// What a whole building has and this one has not.
    #[must_use]
    pub fn not_begun(&self, options: &Options) -> Vec<NotBegun> {
        rules::not_begun(&self.evaluator, options)
    }

    /// Works out one expression in the design.
    ///
    /// # Errors
    /// What is wrong with it. Places are in a file of their own, which is added to the sources.
    pub fn value(&mut self, text: &str) -> Result<(crate::syntax::tree::Expr, Outcome), Vec<Problem>> {
        let Some(file) = self.sources.add(Arc::new(Source::new("expression", text))) else { return Err(Vec::new()) };
        let expr = syntax::parse_expression(text, file)?;
        let outcome = self.evaluator.evaluate(&expr, &mut Scope::default());
        let problems: Vec<Problem> = self.evaluator.problems().into_iter().filter(|problem| problem.span().file == file).collect();
        if problems.is_empty() { Ok((expr, outcome)) } else { Err(problems) }
    }
}

/// What problems stand on: within it nothing more needs to be said.
struct Covered {
    /// By their beginnings; each with the farthest end up to there in its file.
    reach: Vec<(Span, u32)>,
}

impl Covered {
    fn by(problems: &[Problem]) -> Covered {
        let mut spans: Vec<Span> = problems.iter().map(Problem::span).collect();
        spans.sort_unstable();
        let mut reach: Vec<(Span, u32)> = Vec::with_capacity(spans.len());
        for span in spans {
            let before = reach.last().filter(|(before, _)| before.file == span.file).map_or(0, |(_, end)| *end);
            reach.push((span, before.max(span.end)));
        }
        Covered { reach }
    }

    fn contains(&self, span: Span) -> bool {
        let behind = self.reach.partition_point(|(known, _)| (known.file, known.start) <= (span.file, span.start));
        let last = behind.checked_sub(1).and_then(|at| self.reach.get(at));
        last.is_some_and(|(known, end)| known.file == span.file && *end >= span.end)
    }
}

/// How deep files may use one another: far more than anybody keeps in mind, far less than a stack holds.
const DEEPEST_USE: usize = 60;

/// The kinds and rules of the trade library, put together once.
fn vocabulary() -> &'static Design {
    static VOCABULARY: OnceLock<Design> = OnceLock::new();
    VOCABULARY.get_or_init(|| {
        let library: Vec<Arc<Tree>> = trade::library().iter().map(trade::Part::tree).collect();
        let mut vocabulary = Design::vocabulary(&library, Some(formulas));
        vocabulary.forms = Some(forms);
        vocabulary.catalogues = Some(Catalogues { with: trade::catalogue_with, of_kind: trade::catalogues_of });
        vocabulary
    })
}

/// The forms of paper and the sheets, read when something is put there.
#[must_use]
pub fn forms() -> &'static Forms {
    static FORMS: OnceLock<Forms> = OnceLock::new();
    FORMS.get_or_init(|| Forms::of(&trade::forms().iter().map(trade::Part::tree).collect::<Vec<_>>()))
}

/// What the formulas take and give, read at the first call that is looked at.
fn formulas() -> &'static Formulas {
    static FORMULAS: OnceLock<Formulas> = OnceLock::new();
    FORMULAS.get_or_init(|| Formulas::of(&trade::formulas().iter().map(trade::Part::tree).collect::<Vec<_>>()))
}

/// In the order of the files, each once.
fn in_order(mut problems: Vec<Problem>) -> Vec<Problem> {
    problems.sort_by_key(Problem::span);
    let mut seen: FxHashSet<Problem> = FxHashSet::default();
    problems.retain(|problem| seen.insert(problem.clone()));
    one_for_each_slip(problems)
}

/// More places of one slip than this are counted, not shown.
const MOST_PLACES: usize = 8;

/// Of the problems that are one slip at several places the first, with the places of the others.
fn one_for_each_slip(problems: Vec<Problem>) -> Vec<Problem> {
    let mut kept: Vec<Problem> = Vec::with_capacity(problems.len());
    let mut firsts: FxHashMap<String, (usize, usize)> = FxHashMap::default();
    for problem in problems {
        if !problem.once {
            kept.push(problem);
            continue;
        }
        match firsts.get_mut(&problem.message) {
            None => {
                firsts.insert(problem.message.clone(), (kept.len(), 0));
                kept.push(problem);
            }
            Some((first, more)) => {
                *more += 1;
                if let Some(first) = kept.get_mut(*first).filter(|first| first.places.len() < MOST_PLACES) {
                    // A label that says more than that it is the same again is kept.
                    let own = problem.places.first().map(|place| place.label.as_str()).unwrap_or_default();
                    let is_new = own.contains('`') && first.places.iter().all(|place| place.label != own);
                    let label = if is_new { own } else { "and here" }.to_owned();
                    first.places.push(Place { span: problem.span(), label });
                }
            }
        }
    }
    for (first, more) in firsts.into_values() {
        if let Some(problem) = kept.get_mut(first).filter(|problem| more >= problem.places.len())
            && let Some(last) = problem.places.last_mut()
        {
            last.label = format!("and here, and at {} more places", more + 1 - MOST_PLACES);
        }
    }
    kept
}

struct Reader<'s> {
    sources: Sources,
    /// The statements read before, where a text is read in fragments.
    fragments: Option<&'s mut draft::Fragments>,
    shelf: &'s dyn Shelf,
    trees: Vec<(FileId, Arc<Tree>)>,
    catalogues: Vec<Arc<Tree>>,
    problems: Vec<Problem>,
    /// Files by the name they are shown under.
    known: FxHashMap<String, FileId>,
    /// The files being read, the outermost first.
    open: Vec<String>,
    /// Catalogues in use.
    used: FxHashSet<&'static str>,
}

impl<'s> Reader<'s> {
    fn new(shelf: &'s dyn Shelf, fragments: Option<&'s mut draft::Fragments>) -> Reader<'s> {
        let mut reader = Reader {
            sources: Sources::default(),
            fragments,
            shelf,
            trees: Vec::new(),
            catalogues: Vec::new(),
            problems: Vec::new(),
            known: FxHashMap::default(),
            open: Vec::new(),
            used: FxHashSet::default(),
        };
        for part in trade::library() {
            reader.sources.add_built_in(part.place, part.source());
        }
        reader
    }

    fn built_in(&mut self, part: &'static trade::Part) -> Arc<Tree> {
        self.sources.add_built_in(part.place, part.source());
        part.tree()
    }

    /// Reads a file and what it uses; `false` if there are more files than can be numbered.
    fn file(&mut self, source: Source) -> bool {
        let name = source.name.clone();
        if self.known.contains_key(&name) {
            return true;
        }
        let source = Arc::new(source);
        let Some(id) = self.sources.add(Arc::clone(&source)) else { return false };
        self.known.insert(name.clone(), id);
        let trees = match &mut self.fragments {
            Some(fragments) => {
                let (fragments, problems) = fragments.read(&source.text, id, &mut self.sources);
                self.problems.extend(problems);
                fragments
            }
            None => {
                let (tree, problems) = syntax::parse(&source.text, id);
                self.problems.extend(problems);
                vec![(id, Arc::new(tree))]
            }
        };
        self.trees.extend(trees.iter().cloned());
        self.open.push(name);
        for item in trees.iter().flat_map(|(_, tree)| &tree.items) {
            if let Item::Use(line) = item {
                self.take_in(line);
            }
        }
        self.open.pop();
        true
    }

    fn take_in(&mut self, line: &Use) {
        let name = line.target.text.as_str();
        if !line.is_file {
            match trade::catalogue(name) {
                Some(part) => {
                    if self.used.insert(part.name) {
                        let tree = self.built_in(part);
                        self.catalogues.push(tree);
                    }
                }
                None => self.problems.push(
                    Problem::error(format!("there is no catalogue `{name}`"), line.target.span, "this catalogue")
                        .help(format!(
                            "the catalogues are {}; a file of your own stands in quotes",
                            trade::catalogue_names().collect::<Vec<_>>().join(", ")
                        ))
                        .nearest(name, line.target.span, trade::catalogue_names()),
                ),
            }
            return;
        }
        let from = self.open.last().cloned().unwrap_or_default();
        match self.shelf.fetch(&from, name) {
            Ok(source) => {
                if let Some(at) = self.open.iter().position(|open| *open == source.name) {
                    let circle: Vec<&str> = self.open.iter().skip(at).map(String::as_str).chain([source.name.as_str()]).collect();
                    self.problems.push(
                        Problem::error("these files use each other in a circle", line.target.span, "back to where it began")
                            .help(format!("the circle is {}; take out one `use`", circle.join(" → "))),
                    );
                    return;
                }
                let too_many = if self.open.len() > DEEPEST_USE {
                    Some(format!("files use one another more than {DEEPEST_USE} deep"))
                } else if self.file(source) {
                    None
                } else {
                    Some(format!("more than {} files", Sources::MOST))
                };
                if let Some(message) = too_many {
                    let problem = Problem::error(message, line.target.span, "not read").help("put the lines of several files into one");
                    self.problems.push(problem);
                }
            }
            Err(refused) => {
                self.problems.push(Problem::error(refused.message, line.target.span, "this file").help(refused.help));
            }
        }
    }
}

/// The system that most lengths of the design are written in.
fn usual_system(trees: &[(FileId, Arc<Tree>)]) -> System {
    let (metric, us) = trees.iter().map(|(_, tree)| units_of(tree)).fold((0, 0), |a, b| (a.0 + b.0, a.1 + b.1));
    system_of(metric, us)
}

fn system_of(metric: usize, us: usize) -> System {
    if us > metric { System::Us } else { System::Metric }
}

/// How many units of the metric and of the US system a tree has.
fn units_of(tree: &Tree) -> (usize, usize) {
    let (mut metric, mut us) = (0_usize, 0_usize);
    let mut count = |expr: &crate::syntax::tree::Expr| {
        expr.walk(&mut |inner| {
            if let Node::Quantity(parts) = &inner.node {
                for unit in parts.iter().filter_map(|part| part.unit.as_ref()) {
                    match unit.text.as_str() {
                        "m" | "mm" | "cm" | "kg" | "N" | "kN" | "kPa" => metric += 1,
                        "ft" | "in" | "lb" | "lbf" | "psf" | "psi" | "mph" => us += 1,
                        _ => {}
                    }
                }
            }
        });
    };
    for item in &tree.items {
        match item {
            Item::Component(component) | Item::Pattern(component) => component.lines.iter().for_each(|line| count(&line.value)),
            Item::Let(line) => count(&line.value),
            _ => {}
        }
    }
    (metric, us)
}

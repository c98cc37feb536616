//! What goes onto paper may say what: the forms of paper, and the sheets of a set of drawings.
//!
//! In: the `paper`, `sheet` and `sheet_view` blocks of the vocabulary. Out: which lines each form takes and of what sort, which
//! sheets there are in which order. How a sheet is drawn is for the room that draws it.

use super::{Sort, Type};
use crate::problem::Problem;
use crate::syntax::tree::{self, Item, Line, Node, PropertyType, Tree, Word};
use crate::text::Span;
use crate::units::Dim;
use smol_str::SmolStr;
use std::sync::Arc;

/// The forms of paper and the sheets, with what is wrong with their declarations.
#[derive(Debug, Default)]
pub struct Forms {
    /// The forms, by the word that each begins with.
    pub papers: Vec<Form>,
    /// The sheets in the order of a set of drawings.
    pub sheets: Vec<SheetForm>,
    /// What is wrong with them.
    pub problems: Vec<Problem>,
}

/// A form of paper.
#[derive(Debug, Clone)]
pub struct Form {
    /// The word that it begins with.
    pub word: SmolStr,
    /// What it is.
    pub doc: SmolStr,
    /// Its lines in order, without those that every form has.
    pub lines: Vec<FormLine>,
    /// Names that stand for something in its expressions: each with its sort and what it is.
    pub binds: Vec<(SmolStr, Sort, SmolStr)>,
}

/// A line of a form.
#[derive(Debug, Clone)]
pub struct FormLine {
    /// Its name.
    pub name: SmolStr,
    /// What may stand there.
    pub takes: LineTakes,
    /// Nothing comes of the paper without it.
    pub required: bool,
    /// What it means.
    pub doc: SmolStr,
}

/// What may stand in a line of paper.
#[derive(Debug, Clone, PartialEq)]
pub enum LineTakes {
    /// Sheets or views, by name.
    Sheets,
    /// Areas of rules, by name.
    Areas,
    /// One of these words.
    Words(Vec<SmolStr>),
    /// What a formula for drawings gives, or components.
    Shape,
    /// One component or several.
    Components,
    /// A number of any dimension.
    Quantity,
    /// Tables of that shape.
    Tables(SmolStr),
    /// As a property of this type.
    Value(Type),
}

impl LineTakes {
    /// Whether its words are no expression.
    #[must_use]
    pub fn is_words(&self) -> bool {
        matches!(self, Self::Sheets | Self::Areas | Self::Words(_))
    }
}

/// Lines that every form has: each with what it is for.
pub const COMMON_LINES: [&str; 4] = ["each", "when", "note", "source"];

/// How a sheet comes about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetSort {
    /// The building on planes, to scale.
    OnPlanes,
    /// The ways of loads, from box to box.
    AsPaths,
    /// Curves over one measure; one sheet for each component.
    AsDiagram,
    /// Circuits, contact by contact; as many sheets as they need, for each component.
    AsLadder,
    /// What accounts tell, line by line; as many sheets as they need.
    AsList,
    /// Full size, page by page; one sheet for each component.
    FullSize,
    /// No sheet: its label stands in each title block.
    InTitleBlock,
    /// No sheet: a picture on a page.
    OnPage,
}

impl SheetSort {
    const WORDS: [(&str, SheetSort); 8] = [
        ("on_planes", Self::OnPlanes),
        ("as_paths", Self::AsPaths),
        ("as_diagram", Self::AsDiagram),
        ("as_ladder", Self::AsLadder),
        ("as_list", Self::AsList),
        ("full_size", Self::FullSize),
        ("in_title_block", Self::InTitleBlock),
        ("on_page", Self::OnPage),
    ];
}

/// A sheet as it is declared.
#[derive(Debug, Clone)]
pub struct SheetForm {
    /// Its name.
    pub name: SmolStr,
    /// What it shows; `{of}` is the component that it is of.
    pub title: SmolStr,
    /// How it comes about.
    pub drawn: SheetSort,
    /// The type of the document, for its title block.
    pub sort: SmolStr,
    /// What a diagram runs over.
    pub across: SmolStr,
    /// Its views in order.
    pub views: Vec<ViewForm>,
}

/// A view on a sheet.
#[derive(Debug, Clone)]
pub struct ViewForm {
    /// Its name, as a picture writes it.
    pub name: SmolStr,
    /// What it is called on its sheet.
    pub called: SmolStr,
    /// What stands above it, or beside its axis.
    pub title: SmolStr,
    /// The way one looks at the building.
    pub looks: Option<SmolStr>,
    /// What rolls is drawn rolled open.
    pub rolled: bool,
    /// Names stand beside the parts; else the dimensions name them.
    pub names: bool,
    /// The upright dimensions stand on the right.
    pub upright_on_right: bool,
    /// What the links carry that it follows.
    pub carries: Option<SmolStr>,
    /// What a picture names to come onto it.
    pub words: Vec<SmolStr>,
}

/// What a line of a `sheet` or a `sheet_view` may be, and what it takes.
const SHEET_LINES: [(&str, &str); 3] = [
    ("drawn", "one of on_planes, as_paths, as_diagram, as_ladder, as_list, full_size, in_title_block, on_page"),
    ("sort", "a text"),
    ("across", "a text"),
];
const VIEW_LINES: [(&str, &str); 8] = [
    ("of", "a sheet"),
    ("called", "a word"),
    ("looks", "the way one looks"),
    ("rolled", "yes or no"),
    ("names", "yes or no"),
    ("upright_on", "left or right"),
    ("carries", "what a link carries"),
    ("with", "sheets"),
];
/// The ways to look at the building; at `corner` down over the right-hand corner of the closed end.
const WAYS: [&str; 6] = ["down", "left", "right", "opening", "closing", "corner"];

impl Form {
    /// A line of it.
    #[must_use]
    pub fn line(&self, name: &str) -> Option<&FormLine> {
        self.lines.iter().find(|line| line.name == name)
    }
}

impl Forms {
    /// Those of these trees.
    #[must_use]
    pub fn of(trees: &[Arc<Tree>]) -> Forms {
        let mut forms = Forms::default();
        let words =
            || trees.iter().flat_map(|tree| &tree.items).filter_map(|item| if let Item::Words(words) = item { Some(words) } else { None });
        for declared in words() {
            match declared.sort.text.as_str() {
                "paper" => forms.add_paper(&declared.block),
                "sheet" => forms.add_sheet(&declared.block),
                _ => {}
            }
        }
        words().filter(|declared| declared.sort.text == "sheet_view").for_each(|declared| forms.add_view(&declared.block));
        forms
    }

    /// The form that begins with this word.
    #[must_use]
    pub fn form(&self, word: &str) -> Option<&Form> {
        self.papers.iter().find(|form| form.word == word)
    }

    /// The names that a picture's `sheet` may be: sheets, and views.
    pub fn sheet_words(&self) -> impl Iterator<Item = &str> {
        self.sheets
            .iter()
            .flat_map(|sheet| std::iter::once(&sheet.name).chain(sheet.views.iter().map(|view| &view.name)))
            .map(SmolStr::as_str)
    }

    fn add_paper(&mut self, block: &tree::Kind) {
        let mut form = Form { word: block.name.text.clone(), doc: doc(block.title.as_ref()), lines: Vec::new(), binds: Vec::new() };
        for fact in block.facts.iter().filter(|fact| fact.name.text == "binds") {
            match bound(&fact.value) {
                Some(bound) => form.binds.push(bound),
                None => self.problems.push(
                    Problem::error("`binds` is a name, its type and what it is", fact.value.span, "this value")
                        .help("write `binds travel, length, \"how far it is open\"`"),
                ),
            }
        }
        for line in &block.properties {
            let takes = match &line.ty {
                PropertyType::OneOf(words) => Some(LineTakes::Words(words.iter().map(|word| word.text.clone()).collect())),
                PropertyType::Plain(word) => plain(word),
                PropertyType::ListOf(word) => match plain(word) {
                    Some(LineTakes::Value(of)) => Some(LineTakes::Value(Type::List(Box::new(of)))),
                    // A table is known by what a formula gives.
                    None => Some(LineTakes::Tables(word.text.clone())),
                    _ => None,
                },
                _ => None,
            };
            match takes {
                Some(takes) => form.lines.push(FormLine {
                    name: line.name.text.clone(),
                    takes,
                    required: line.required,
                    doc: doc(line.doc.as_ref()),
                }),
                None => self.problems.push(
                    Problem::error("this cannot stand in a line of paper", line.span, "this line")
                        .help("its type is a quantity like `length`, `text`, `yes_no`, `quantity`, `components`, `sheets`, `areas`, `shape`, `one of …` or a list"),
                ),
            }
        }
        self.papers.push(form);
    }

    fn add_sheet(&mut self, block: &tree::Kind) {
        let mut sheet = SheetForm {
            name: block.name.text.clone(),
            title: doc(block.title.as_ref()),
            drawn: SheetSort::OnPlanes,
            sort: SmolStr::default(),
            across: SmolStr::default(),
            views: Vec::new(),
        };
        for line in &block.facts {
            match (line.name.text.as_str(), &line.value.node) {
                ("drawn", Node::Name(word)) => match SheetSort::WORDS.iter().find(|(known, _)| known == word) {
                    Some((_, drawn)) => sheet.drawn = *drawn,
                    None => self.not_one(word, line.value.span, SheetSort::WORDS.iter().map(|(known, _)| *known)),
                },
                ("sort", Node::Text(text)) => sheet.sort = text.clone(),
                ("across", Node::Text(text)) => sheet.across = text.clone(),
                _ => self.wrong_line("sheet", line, &SHEET_LINES),
            }
        }
        self.sheets.push(sheet);
    }

    fn add_view(&mut self, block: &tree::Kind) {
        let name = &block.name.text;
        let mut of = None;
        let mut view = ViewForm {
            name: name.clone(),
            called: name.clone(),
            title: doc(block.title.as_ref()),
            looks: None,
            rolled: false,
            names: true,
            upright_on_right: false,
            carries: None,
            words: vec![name.clone()],
        };
        for line in &block.facts {
            match (line.name.text.as_str(), &line.value.node) {
                ("of", Node::Name(sheet)) => of = self.sheet(sheet, line.value.span),
                ("called", Node::Name(word)) => view.called = word.clone(),
                ("looks", Node::Name(word)) if WAYS.contains(&word.as_str()) => view.looks = Some(word.clone()),
                ("looks", Node::Name(word)) => self.not_one(word, line.value.span, WAYS),
                ("rolled", Node::Flag(flag)) => view.rolled = *flag,
                ("names", Node::Flag(flag)) => view.names = *flag,
                ("upright_on", Node::Name(word)) if word == "left" || word == "right" => view.upright_on_right = word == "right",
                ("carries", Node::Name(word)) => view.carries = Some(word.clone()),
                ("with", Node::Name(sheet)) => {
                    if self.sheet(sheet, line.value.span).is_some() {
                        view.words.push(sheet.clone());
                    }
                }
                _ => self.wrong_line("sheet_view", line, &VIEW_LINES),
            }
        }
        match of.and_then(|at| self.sheets.get_mut(at)) {
            Some(sheet) => {
                view.words.push(sheet.name.clone());
                sheet.views.push(view);
            }
            None => self.problems.push(Problem::error("a view is on a sheet", block.name.span, "this view").help("add a line `of SHEET`")),
        }
    }

    fn sheet(&mut self, word: &SmolStr, span: Span) -> Option<usize> {
        let at = self.sheets.iter().position(|sheet| sheet.name == *word);
        if at.is_none() {
            let known: Vec<SmolStr> = self.sheets.iter().map(|sheet| sheet.name.clone()).collect();
            self.not_one(word, span, known.iter().map(SmolStr::as_str));
        }
        at
    }

    fn not_one<'k>(&mut self, word: &str, span: Span, known: impl IntoIterator<Item = &'k str> + Clone) {
        let all: Vec<&str> = known.clone().into_iter().collect();
        let problem = Problem::error(format!("`{word}` is none of these"), span, "this word").help(format!("write {}", all.join(", ")));
        self.problems.push(problem.nearest(word, span, known));
    }

    fn wrong_line(&mut self, what: &str, line: &Line, known: &[(&str, &str)]) {
        let word = line.name.text.as_str();
        self.problems.push(match known.iter().find(|(name, _)| *name == word) {
            Some((_, takes)) => Problem::error(format!("`{word}` is {takes}"), line.value.span, "this value"),
            None => Problem::error(format!("a {what} has no line `{word}`"), line.name.span, "this line")
                .help(format!("its lines are {}", known.iter().map(|(name, _)| *name).collect::<Vec<_>>().join(", ")))
                .nearest(word, line.name.span, known.iter().map(|(name, _)| *name)),
        });
    }
}

fn doc(text: Option<&tree::Text>) -> SmolStr {
    text.map(|text| text.text.clone()).unwrap_or_default()
}

fn plain(word: &Word) -> Option<LineTakes> {
    Some(match word.text.as_str() {
        "sheets" => LineTakes::Sheets,
        "areas" => LineTakes::Areas,
        "shape" => LineTakes::Shape,
        "components" => LineTakes::Components,
        "quantity" => LineTakes::Quantity,
        "text" => LineTakes::Value(Type::Text),
        "date" => LineTakes::Value(Type::Date),
        "yes_no" => LineTakes::Value(Type::Flag),
        name => LineTakes::Value(Type::Quantity(Dim::named(name)?)),
    })
}

/// `travel, length, "how far it is open"`
fn bound(value: &tree::Expr) -> Option<(SmolStr, Sort, SmolStr)> {
    let Node::List(items) = &value.node else { return None };
    match items.iter().map(|item| &item.node).collect::<Vec<_>>().as_slice() {
        [Node::Name(name), Node::Name(ty), Node::Text(doc)] => Some((name.clone(), Sort::Quantity(Some(Dim::named(ty)?)), doc.clone())),
        _ => None,
    }
}

//! What formulas take and give, and the shapes of the tables that they give, as the trade library declares them.

use super::Sort;
use super::call::Called;
use crate::problem::Problem;
use crate::syntax::tree::{self, Item, PropertyType, Tree, Word};
use crate::units::Dim;
use rustc_hash::FxHashMap;
use smol_str::SmolStr;
use std::sync::Arc;

/// A formula as it is declared.
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    /// Its name.
    pub name: SmolStr,
    /// What it gives, in a sentence.
    pub doc: SmolStr,
    /// What it takes, in order.
    pub parameters: Vec<Parameter>,
    /// What comes out.
    pub gives: Gives,
    /// On whose word.
    pub source: SmolStr,
}

/// One parameter of a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Parameter {
    /// Its name, as it may stand in front of the argument.
    pub name: SmolStr,
    /// What may be given.
    pub takes: Takes,
    /// It has to be given.
    pub required: bool,
    /// What it means.
    pub doc: SmolStr,
}

/// What a parameter takes.
#[derive(Debug, Clone, PartialEq)]
pub enum Takes {
    /// One thing of this sort; a list of that sort also where one is due that a list is wanted of.
    Sort(Sort),
    /// One of these words.
    Words(Vec<SmolStr>),
    /// One component or several.
    Components,
    /// Names of kinds.
    Kinds,
    /// What a link carries.
    Carried,
    /// All arguments from here on: quantities, or lists of them.
    Quantities,
    /// Anything.
    Anything,
}

/// What a formula gives.
#[derive(Debug, Clone, PartialEq)]
pub enum Gives {
    /// Always this sort.
    Sort(Sort),
    /// The sort of that argument.
    As(usize),
    /// One item of that argument.
    ItemOf(usize),
    /// The square root of that argument's sort.
    RootOf(usize),
    /// The components that link to that argument, carrying what is asked for.
    LinksTo(usize),
}

/// The shape of a table that a formula gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Its name.
    pub name: SmolStr,
    /// Its fields in order.
    pub fields: Vec<(SmolStr, Sort)>,
}

impl Called for Parameter {
    fn name(&self) -> &str {
        &self.name
    }

    fn doc(&self) -> &str {
        &self.doc
    }

    fn is_required(&self) -> bool {
        self.required
    }

    fn takes_the_rest(&self) -> bool {
        self.takes == Takes::Quantities
    }
}

impl Table {
    /// The sort of a field.
    #[must_use]
    pub fn field(&self, name: &str) -> Option<&Sort> {
        self.fields.iter().find(|(field, _)| field == name).map(|(_, sort)| sort)
    }
}

/// All formulas and tables that the trade library declares.
#[derive(Debug, Default)]
pub struct Formulas {
    formulas: FxHashMap<SmolStr, Formula>,
    tables: FxHashMap<SmolStr, Table>,
    /// What is wrong with their declarations.
    pub problems: Vec<Problem>,
}

impl Formulas {
    /// Those of these trees.
    #[must_use]
    pub fn of(trees: &[Arc<Tree>]) -> Formulas {
        let mut all = Formulas::default();
        let items = || trees.iter().flat_map(|tree| &tree.items);
        // A table may be named before it stands.
        for item in items() {
            if let Item::Table(table) = item {
                all.tables.insert(table.name.text.clone(), Table { name: table.name.text.clone(), fields: Vec::new() });
            }
        }
        for item in items() {
            match item {
                Item::Table(table) => {
                    let fields = table.properties.iter().map(|field| (field.name.text.clone(), all.sort(&field.ty))).collect();
                    all.tables.insert(table.name.text.clone(), Table { name: table.name.text.clone(), fields });
                }
                Item::Formula(formula) => all.add(formula),
                _ => {}
            }
        }
        all
    }

    /// The formula of that name.
    #[must_use]
    pub fn formula(&self, name: &str) -> Option<&Formula> {
        self.formulas.get(name)
    }

    /// The table of that name.
    #[must_use]
    pub fn table(&self, name: &str) -> Option<&Table> {
        self.tables.get(name)
    }

    /// All formulas, in no order.
    pub fn all(&self) -> impl Iterator<Item = &Formula> {
        self.formulas.values()
    }

    fn add(&mut self, written: &tree::Kind) {
        let parameters: Vec<Parameter> = written
            .properties
            .iter()
            .filter(|property| property.name.text != "gives")
            .map(|property| Parameter {
                name: property.name.text.clone(),
                takes: self.takes(&property.ty),
                required: property.required,
                doc: property.doc.as_ref().map(|doc| doc.text.clone()).unwrap_or_default(),
            })
            .collect();
        let Some(gives) = written.properties.iter().find(|property| property.name.text == "gives") else {
            let problem = Problem::error(format!("`{}` gives nothing", written.name.text), written.name.span, "this formula");
            return self.problems.push(problem.help("add a line `gives …`"));
        };
        let gives = match &gives.ty {
            PropertyType::As(word) => self.argument(&parameters, word).map(Gives::As),
            PropertyType::ItemOf(word) => self.argument(&parameters, word).map(Gives::ItemOf),
            PropertyType::RootOf(word) => self.argument(&parameters, word).map(Gives::RootOf),
            PropertyType::Link { many: true, kinds } => kinds.first().and_then(|word| self.argument(&parameters, word)).map(Gives::LinksTo),
            ty => Some(Gives::Sort(self.sort(ty))),
        };
        let Some(gives) = gives else { return };
        let source = written.facts.iter().find(|fact| fact.name.text == "source").and_then(|fact| match &fact.value.node {
            tree::Node::Text(text) => Some(text.clone()),
            _ => None,
        });
        let formula = Formula {
            name: written.name.text.clone(),
            doc: written.title.as_ref().map(|title| title.text.clone()).unwrap_or_default(),
            parameters,
            gives,
            source: source.unwrap_or_default(),
        };
        if self.formulas.insert(formula.name.clone(), formula).is_some() {
            self.problems.push(Problem::error(
                format!("there is already a formula `{}`", written.name.text),
                written.name.span,
                "the second",
            ));
        }
    }

    fn argument(&mut self, parameters: &[Parameter], word: &Word) -> Option<usize> {
        let at = parameters.iter().position(|parameter| parameter.name == word.text);
        if at.is_none() {
            self.problems.push(Problem::error(format!("there is no parameter `{}`", word.text), word.span, "this name").nearest(
                &word.text,
                word.span,
                parameters.iter().map(|parameter| parameter.name.as_str()),
            ));
        }
        at
    }

    fn takes(&mut self, ty: &PropertyType) -> Takes {
        match ty {
            PropertyType::OneOf(words) => Takes::Words(words.iter().map(|word| word.text.clone()).collect()),
            PropertyType::Plain(word) => match word.text.as_str() {
                "components" => Takes::Components,
                "kinds" => Takes::Kinds,
                "carried" => Takes::Carried,
                "quantities" => Takes::Quantities,
                "anything" => Takes::Anything,
                _ => Takes::Sort(self.plain(word)),
            },
            ty => Takes::Sort(self.sort(ty)),
        }
    }

    fn sort(&mut self, ty: &PropertyType) -> Sort {
        match ty {
            PropertyType::Plain(word) => self.plain(word),
            PropertyType::OneOf(_) => Sort::Word,
            PropertyType::ListOf(word) => self.plain(word).several(),
            PropertyType::RangeOf(word) => Sort::Range(self.dimension(word)),
            PropertyType::SizeOf(word) => Sort::Size(self.dimension(word)),
            PropertyType::Link { .. } | PropertyType::As(_) | PropertyType::ItemOf(_) | PropertyType::RootOf(_) => Sort::Unknown,
        }
    }

    fn plain(&mut self, word: &Word) -> Sort {
        match word.text.as_str() {
            "text" => Sort::Text,
            "date" => Sort::Date,
            "solid" => Sort::Solid,
            "condition" => Sort::Condition,
            "yes_no" => Sort::Flag,
            "word" => Sort::Word,
            "quantity" => Sort::Quantity(None),
            "component" => Sort::Component(Vec::new()),
            "components" => Sort::Component(Vec::new()).several(),
            "table" => Sort::Table(Vec::new()),
            "anything" => Sort::Unknown,
            name if self.tables.contains_key(name) => Sort::Table(vec![word.text.clone()]),
            _ => Sort::Quantity(self.dimension(word)),
        }
    }

    fn dimension(&mut self, word: &Word) -> Option<Dim> {
        let dim = Dim::named(&word.text);
        if dim.is_none() {
            let tables = self.tables.keys().map(SmolStr::as_str);
            let known: Vec<&str> = Dim::names().map(|name: &str| name).chain(tables).collect();
            let problem = Problem::error(format!("`{}` is neither a type nor a table", word.text), word.span, "here");
            let problem = problem.nearest(&word.text, word.span, known);
            self.problems.push(problem);
        }
        dim
    }
}

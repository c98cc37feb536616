//! Writes the Rust side of each declaration in `trade/formulas`; the build alone reads this file.
//!
//! In: the trees of the declarations. Out, for each file of them: a struct of the arguments of each formula, what it gives,
//! and the table [`Function`](crate::values::Function)s that the evaluator calls; for all together the structs of the tables and
//! the choices. A formula that is declared and has no body does not compile, nor does a body without a declaration.

use super::syntax::tree::{Item, Kind, Node, Property, PropertyType, Tree, Word};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// What the code of every file needs.
const USES: &str = "use crate::calc::explore::Condition;\nuse crate::calc::space::piece::Piece;\nuse crate::design::{Carries, ComponentId, KindId};\nuse crate::formulas::body::{Declared, Formula, Survey, dimension};\nuse crate::formulas::tables::{table, word};\nuse crate::formulas::take::{Components, Table};\nuse crate::formulas::{give, take};\n\
                    use crate::syntax::tree::Date;\nuse crate::values::{Body, Function, Parameter, Quantity, Record, Shape, Takes, Value};\nuse smol_str::SmolStr;\nuse std::sync::Arc;\n";

/// Of what sort a parameter, a field or an answer is.
enum Sort {
    Number(String),
    Quantity,
    /// A number that keeps the unit in which it is written: `carrying unit`.
    Measured(String),
    Text,
    Word,
    Date,
    Solid,
    Condition,
    Flag,
    Component,
    Components,
    Kinds,
    Carried,
    Quantities,
    Anything,
    AnyTable,
    Table(String),
    Choice(String, Vec<String>),
    List(Box<Sort>),
    Range(String),
    /// A range whose ends keep their units: `carrying unit`.
    MeasuredRange(String),
    Size(String),
    /// Of the sort of an argument.
    Follows(String),
}

/// All declarations of the library.
pub struct Declarations {
    /// For each file of them its name and its tree.
    files: Vec<(String, Tree)>,
    /// The names of all tables, each with the fields it has.
    tables: BTreeMap<String, Vec<String>>,
    /// For each name of a choice the lists of words that are declared under it, each with how often.
    choices: BTreeMap<String, BTreeMap<Vec<String>, usize>>,
}

impl Declarations {
    /// Those of these files.
    pub fn new(files: Vec<(String, Tree)>) -> Self {
        let mut all = Self { files: Vec::new(), tables: BTreeMap::new(), choices: BTreeMap::new() };
        for item in files.iter().flat_map(|(_, tree)| &tree.items) {
            if let Item::Table(table) = item {
                all.tables.insert(table.name.text.to_string(), table.properties.iter().map(|field| field.name.text.to_string()).collect());
            }
            if let Item::Table(block) | Item::Formula(block) = item {
                for property in &block.properties {
                    if let PropertyType::OneOf(words) = &property.ty {
                        *all.choices.entry(property.name.text.to_string()).or_default().entry(texts(words)).or_default() += 1;
                    }
                }
            }
        }
        all.files = files;
        all
    }

    /// The code of each file by its name, and last that of the tables and choices of all.
    ///
    /// # Errors
    /// What a declaration says that no code can be written for.
    pub fn write(&self) -> Result<Vec<(String, String)>, String> {
        let mut written = Vec::new();
        let (mut tables, mut choices) = (String::new(), BTreeMap::new());
        for (name, tree) in &self.files {
            let (mut code, mut functions) = (String::new(), String::new());
            for item in &tree.items {
                match item {
                    Item::Formula(formula) => self.formula(formula, &mut code, &mut functions, &mut choices)?,
                    Item::Table(table) => self.table(table, &mut tables, &mut choices)?,
                    _ => return Err(format!("{name}.plate: only formulas and tables stand here")),
                }
            }
            written.push((name.clone(), format!(
                "#[allow(clippy::all, clippy::pedantic, unused_imports, reason = \"written by the build\")]\nmod declared {{\n{USES}{code}\n\
                 /// The formulas of this subject.\npub const FUNCTIONS: &[Function] = &[\n{functions}];\n}}\n\
                 #[allow(unused_imports, clippy::wildcard_imports, reason = \"written by the build\")]\npub use declared::*;\n"
            )));
        }
        let words: String = choices.into_values().collect();
        written.push(("tables".to_owned(), format!(
            "/// The tables that formulas give.\n#[allow(clippy::all, clippy::pedantic, unused_imports, reason = \"written by the build\")]\npub mod table {{\n{USES}{tables}}}\n\
             /// The words that formulas take and give.\n#[allow(clippy::all, clippy::pedantic, reason = \"written by the build\")]\npub mod word {{\n{words}}}\n"
        )));
        Ok(written)
    }

    fn formula(
        &self,
        formula: &Kind,
        code: &mut String,
        functions: &mut String,
        choices: &mut BTreeMap<String, String>,
    ) -> Result<(), String> {
        let name = formula.name.text.as_str();
        let (type_name, doc) = (camel(name), formula.title.as_ref().map_or("", |title| title.text.as_str()));
        let gives =
            formula.properties.iter().find(|property| property.name.text == "gives").ok_or_else(|| format!("`{name}` gives nothing"))?;
        let gives = self.sort(name, gives)?;
        let fact = |wanted: &str| formula.facts.iter().find(|fact| fact.name.text == wanted);
        let source = match fact("source").map(|fact| &fact.value.node) {
            Some(Node::Text(text)) => text.to_string(),
            _ => String::new(),
        };
        let asks = fact("asks_the_design").is_some();
        let (mut fields, mut parameters, mut taken) = (String::new(), String::new(), String::new());
        for (at, property) in formula.properties.iter().filter(|property| property.name.text != "gives").enumerate() {
            let sort = self.sort(name, property)?;
            choice(&sort, choices);
            let (field, about) = (raw(&property.name.text), property.doc.as_ref().map_or("", |doc| doc.text.as_str()));
            let plain = if matches!(sort, Sort::Components) { "Components".to_owned() } else { sort.rust() };
            let ty = if property.required || matches!(sort, Sort::Flag) { plain } else { format!("Option<{plain}>") };
            writeln!(fields, "    #[doc = {:?}]\n    pub {field}: {ty},", format!("{}: {about}", sort.said())).ok();
            writeln!(
                parameters,
                "        Parameter {{ name: {:?}, takes: {}, doc: {about:?}, optional: {} }},",
                property.name.text.as_str(),
                sort.takes()?,
                !property.required
            )
            .ok();
            writeln!(taken, "            {field}: {},", sort.argument(at, &property.name.text, property.required)).ok();
        }
        let lifetime = if fields.is_empty() { "{}".to_owned() } else { format!("{{\n{fields}}}") };
        writeln!(code, "#[doc = {doc:?}]\n#[derive(Debug, Clone)]\npub struct {type_name} {lifetime}").ok();
        writeln!(code, "impl Declared for {type_name} {{\n    type Gives = {};\n}}", gives.rust()).ok();
        let given = gives.give("answer");
        let body = if asks {
            format!(
                "Body::Design(|evaluator, given| {{ let _ = given; let answer = Survey::answer({type_name} {{\n{taken}        }}, evaluator)?; Ok({given}) }})"
            )
        } else {
            format!(
                "Body::Formula(|given| {{ let _ = given; let answer = Formula::answer({type_name} {{\n{taken}        }})?; Ok({given}) }})"
            )
        };
        writeln!(
            functions,
            "    Function {{ name: {name:?}, doc: {doc:?}, parameters: &[\n{parameters}    ], gives: {:?}, source: {source:?}, remembered: {}, body: {body} }},",
            self.told(&gives, 2),
            matches!(gives, Sort::Table(_)) && !asks
        )
        .ok();
        Ok(())
    }

    fn table(&self, table: &Kind, code: &mut String, choices: &mut BTreeMap<String, String>) -> Result<(), String> {
        let name = table.name.text.as_str();
        let (type_name, doc) =
            (camel(name), table.title.as_ref().map_or_else(|| format!("The table `{name}`."), |title| title.text.to_string()));
        let (mut fields, mut read, mut kept, mut names) = (String::new(), String::new(), String::new(), String::new());
        for property in &table.properties {
            let sort = self.sort(name, property)?;
            choice(&sort, choices);
            let (word, field) = (property.name.text.as_str(), raw(&property.name.text));
            let about = property.doc.as_ref().map_or("", |doc| doc.text.as_str());
            let (ty, reading, keeping) = match property.when {
                None => (sort.rust(), format!("{}?", sort.field(word)), format!("Some({})", sort.give(&format!("self.{field}")))),
                Some(_) => {
                    (format!("Option<{}>", sort.rust()), sort.field(word), format!("self.{field}.map(|field| {})", sort.give("field")))
                }
            };
            writeln!(fields, "    #[doc = {:?}]\n    pub {field}: {ty},", format!("{}: {about}", sort.said())).ok();
            writeln!(read, "            {field}: {reading},").ok();
            writeln!(kept, "            {keeping},").ok();
            write!(names, "{word:?}, ").ok();
        }
        writeln!(
            code,
            "#[doc = {doc:?}]\n#[derive(Debug, Clone)]\npub struct {type_name} {{\n{fields}}}\nimpl Table for {type_name} {{\n    \
             const SHAPE: &'static Shape = &Shape {{ name: {name:?}, fields: &[{names}] }};\n    \
             fn read(record: &Record) -> Option<Self> {{\n        Some(Self {{\n{read}        }})\n    }}\n    \
             fn values(self) -> Vec<Option<Value>> {{\n        vec![\n{kept}        ]\n    }}\n}}"
        )
        .ok();
        Ok(())
    }

    fn sort(&self, owner: &str, property: &Property) -> Result<Sort, String> {
        let keeps_unit = property.carrying.iter().any(|word| word.text == "unit");
        Ok(match &property.ty {
            PropertyType::Plain(word) if keeps_unit => Sort::Measured(word.text.to_string()),
            PropertyType::ListOf(word) if keeps_unit => Sort::List(Box::new(Sort::Measured(word.text.to_string()))),
            PropertyType::Plain(word) => self.plain(&word.text),
            PropertyType::OneOf(words) => {
                // The list that is declared most under this name has it for its own; any other is called after where it stands.
                let words = texts(words);
                let lists = || self.choices.get(property.name.text.as_str()).into_iter().flatten();
                let own = lists().find(|(list, _)| **list == words).map_or(0, |(_, often)| *often);
                let most = lists().all(|(list, often)| *list == words || *often < own);
                let name = camel(&property.name.text);
                Sort::Choice(if most { name } else { format!("{}{name}", camel(owner)) }, words)
            }
            PropertyType::ListOf(word) => Sort::List(Box::new(self.plain(&word.text))),
            PropertyType::RangeOf(word) if keeps_unit => Sort::MeasuredRange(word.text.to_string()),
            PropertyType::RangeOf(word) => Sort::Range(word.text.to_string()),
            PropertyType::SizeOf(word) => Sort::Size(word.text.to_string()),
            PropertyType::As(word) => Sort::Follows(format!("the sort of `{}`", word.text)),
            PropertyType::ItemOf(word) => Sort::Follows(format!("one of `{}`", word.text)),
            PropertyType::RootOf(word) => Sort::Follows(format!("the sort of the square root of `{}`", word.text)),
            PropertyType::Link { many: true, .. } => Sort::Components,
            PropertyType::Link { .. } => return Err(format!("`{owner}.{}`: no formula gives one link", property.name.text)),
        })
    }

    fn plain(&self, word: &str) -> Sort {
        match word {
            "quantity" => Sort::Quantity,
            "text" => Sort::Text,
            "word" => Sort::Word,
            "date" => Sort::Date,
            "solid" => Sort::Solid,
            "condition" => Sort::Condition,
            "yes_no" => Sort::Flag,
            "component" => Sort::Component,
            "components" => Sort::Components,
            "kinds" => Sort::Kinds,
            "carried" => Sort::Carried,
            "quantities" => Sort::Quantities,
            "anything" => Sort::Anything,
            "table" => Sort::AnyTable,
            name if self.tables.contains_key(name) => Sort::Table(name.to_owned()),
            dimension => Sort::Number(dimension.to_owned()),
        }
    }

    /// What comes out, for its readers: a sort, or the fields of a table, and so many levels of tables in it.
    fn told(&self, sort: &Sort, levels: usize) -> String {
        let fields = |name: &String| match self.tables.get(name) {
            Some(fields) if levels > 0 => {
                let of = |field: &String| match self.field(name, field) {
                    Some(Sort::List(of)) if matches!(*of, Sort::Table(_)) && levels > 1 => {
                        format!("{field} ({})", self.told(&of, 1).trim_start_matches("table: "))
                    }
                    _ => field.clone(),
                };
                format!("table: {}", fields.iter().map(of).collect::<Vec<_>>().join(", "))
            }
            _ => "table".to_owned(),
        };
        match sort {
            Sort::Table(name) => fields(name),
            Sort::List(of) if matches!(**of, Sort::Table(_)) => format!("list of {}", self.told(of, levels)),
            sort => sort.said(),
        }
    }

    fn field(&self, table: &str, field: &str) -> Option<Sort> {
        let all = self.files.iter().flat_map(|(_, tree)| &tree.items);
        let found =
            all.filter_map(|item| if let Item::Table(block) = item { Some(block) } else { None }).find(|block| block.name.text == table);
        found?.properties.iter().find(|property| property.name.text == field).and_then(|property| self.sort(table, property).ok())
    }
}

impl Sort {
    /// The type that holds it.
    fn rust(&self) -> String {
        match self {
            Self::Number(_) => "f64".to_owned(),
            Self::Quantity | Self::Measured(_) => "Quantity".to_owned(),
            Self::Text | Self::Word => "SmolStr".to_owned(),
            Self::Date => "Date".to_owned(),
            Self::Solid => "Arc<[Piece]>".to_owned(),
            Self::Condition => "Condition".to_owned(),
            Self::Flag => "bool".to_owned(),
            Self::Component => "ComponentId".to_owned(),
            Self::Components => "Vec<ComponentId>".to_owned(),
            Self::Kinds => "Vec<KindId>".to_owned(),
            Self::Carried => "Carries".to_owned(),
            Self::Quantities => "Vec<Value>".to_owned(),
            Self::Anything | Self::Follows(_) => "Value".to_owned(),
            Self::AnyTable => "Arc<Record>".to_owned(),
            Self::Table(name) => format!("table::{}", camel(name)),
            Self::Choice(name, _) => format!("word::{name}"),
            Self::List(of) => format!("Vec<{}>", of.rust()),
            Self::Range(_) => "[f64; 2]".to_owned(),
            Self::MeasuredRange(_) => "[Quantity; 2]".to_owned(),
            Self::Size(_) => "Vec<f64>".to_owned(),
        }
    }

    /// In a reader's words.
    fn said(&self) -> String {
        match self {
            Self::Number(dimension) | Self::Measured(dimension) => dimension.replace('_', " "),
            Self::Quantity => "quantity".to_owned(),
            Self::Text => "text".to_owned(),
            Self::Word => "word".to_owned(),
            Self::Date => "date".to_owned(),
            Self::Solid => "solid".to_owned(),
            Self::Condition => "condition".to_owned(),
            Self::Flag => "yes or no".to_owned(),
            Self::Component => "component".to_owned(),
            Self::Components => "components".to_owned(),
            Self::Kinds => "kinds".to_owned(),
            Self::Carried => "what a link carries".to_owned(),
            Self::Quantities => "quantities".to_owned(),
            Self::Anything => "anything".to_owned(),
            Self::AnyTable => "table".to_owned(),
            Self::Table(name) => format!("table of `{name}`"),
            Self::Choice(_, words) => format!("one of {}", words.join(", ")),
            Self::List(of) => format!("list of {}", of.said()),
            Self::Range(dimension) | Self::MeasuredRange(dimension) => format!("range of {}", dimension.replace('_', " ")),
            Self::Size(dimension) => format!("size of {}", dimension.replace('_', " ")),
            Self::Follows(what) => what.clone(),
        }
    }

    /// What the evaluator asks of the argument.
    fn takes(&self) -> Result<String, String> {
        Ok(match self {
            Self::Number(dimension) | Self::Measured(dimension) => format!("Takes::Quantity({})", dim(dimension)),
            Self::Quantity => "Takes::AnyQuantity".to_owned(),
            Self::Text => "Takes::Text".to_owned(),
            Self::Date => "Takes::Date".to_owned(),
            Self::Solid | Self::Condition => "Takes::Anything".to_owned(),
            Self::Flag => "Takes::Flag".to_owned(),
            Self::Component => "Takes::Component".to_owned(),
            Self::Components => "Takes::Components".to_owned(),
            Self::Kinds => "Takes::Kinds".to_owned(),
            Self::Carried => "Takes::Carrying".to_owned(),
            Self::Quantities => "Takes::Quantities".to_owned(),
            Self::AnyTable | Self::Table(_) => "Takes::Record".to_owned(),
            Self::Choice(_, words) => format!("Takes::Word(&{words:?})"),
            Self::List(of) => match &**of {
                Self::Number(dimension) | Self::Measured(dimension) => format!("Takes::List({})", dim(dimension)),
                _ => "Takes::Anything".to_owned(),
            },
            Self::Anything => "Takes::Anything".to_owned(),
            Self::Word | Self::Range(_) | Self::MeasuredRange(_) | Self::Size(_) | Self::Follows(_) => {
                return Err(format!("no formula takes {}", self.said()));
            }
        })
    }

    /// What makes it of a value.
    fn taker(&self) -> String {
        match self {
            Self::Number(_) => "take::number".to_owned(),
            Self::Quantity | Self::Measured(_) => "take::quantity".to_owned(),
            Self::Text | Self::Word => "take::text".to_owned(),
            Self::Date => "take::date".to_owned(),
            Self::Solid => "take::solid".to_owned(),
            Self::Condition => "take::condition".to_owned(),
            Self::Flag => "take::flag".to_owned(),
            Self::Component => "take::component".to_owned(),
            Self::Components => "take::components".to_owned(),
            Self::Kinds | Self::Carried | Self::Anything | Self::Follows(_) => "take::value".to_owned(),
            Self::Quantities => "take::values".to_owned(),
            Self::AnyTable => "take::record".to_owned(),
            Self::Table(name) => format!("take::table::<table::{}>", camel(name)),
            Self::Choice(name, _) => format!("|value| take::word(value, word::{name}::of)"),
            Self::List(of) => format!("|value| take::several(value, {})", of.taker()),
            Self::Range(_) => "take::range".to_owned(),
            Self::MeasuredRange(_) => "take::ends".to_owned(),
            Self::Size(_) => "take::parts".to_owned(),
        }
    }

    /// The argument at a place of a call.
    fn argument(&self, at: usize, name: &str, required: bool) -> String {
        match self {
            Self::Kinds => format!("given.kinds({at}).to_vec()"),
            Self::Carried => format!("given.carrying({at})"),
            Self::Flag if !required => format!("given.value({at}).and_then(take::flag).unwrap_or_default()"),
            _ => {
                let way = if required { "required" } else { "optional" };
                let taker = if matches!(self, Self::Components) { "Components::of".to_owned() } else { self.taker() };
                format!("take::{way}(given.value({at}), {taker}, {name:?}, {:?})?", self.said())
            }
        }
    }

    /// A field of a record, none if it is not there or of another sort.
    fn field(&self, name: &str) -> String {
        format!("record.get({name:?}).and_then({})", self.taker())
    }

    /// The value of it.
    fn give(&self, what: &str) -> String {
        match self {
            Self::Number(dimension) => format!("Value::quantity({what}, {})", dim(dimension)),
            Self::Quantity | Self::Measured(_) => format!("Value::Quantity({what})"),
            Self::Text => format!("Value::Text({what})"),
            Self::Word => format!("Value::Word({what})"),
            Self::Date => format!("Value::Date({what})"),
            Self::Solid => format!("Value::Solid({what})"),
            Self::Condition => format!("Value::of_condition({what})"),
            Self::Flag => format!("Value::Flag({what})"),
            Self::Component => format!("Value::Component({what})"),
            Self::Components => format!("Value::List({what}.into_iter().map(Value::Component).collect())"),
            Self::Kinds | Self::Carried | Self::Anything | Self::Follows(_) => what.to_owned(),
            Self::Quantities => format!("Value::List({what}.into())"),
            Self::AnyTable => format!("Value::Record({what})"),
            Self::Table(_) => format!("give::table({what})"),
            Self::Choice(..) => format!("Value::Word(SmolStr::new_static({what}.word()))"),
            Self::List(of) => format!("Value::List({what}.into_iter().map(|item| {}).collect())", of.give("item")),
            Self::MeasuredRange(_) => format!("Value::Range(Arc::new({what}))"),
            Self::Range(dimension) => format!("give::range({what}, {})", dim(dimension)),
            Self::Size(dimension) => format!("give::size({what}, {})", dim(dimension)),
        }
    }
}

fn texts(words: &[Word]) -> Vec<String> {
    words.iter().map(|word| word.text.to_string()).collect()
}

/// Keeps the code of a choice.
fn choice(sort: &Sort, choices: &mut BTreeMap<String, String>) {
    let Sort::Choice(name, words) = sort else {
        if let Sort::List(of) = sort {
            choice(of, choices);
        }
        return;
    };
    let (mut variants, mut of, mut word) = (String::new(), String::new(), String::new());
    for each in words {
        let variant = camel(each);
        writeln!(variants, "    #[doc = \"`{each}`\"]\n    {variant},").ok();
        writeln!(of, "            {each:?} => Self::{variant},").ok();
        writeln!(word, "            Self::{variant} => {each:?},").ok();
    }
    let code = format!(
        "#[doc = {:?}]\n#[derive(Debug, Clone, Copy, PartialEq, Eq)]\npub enum {name} {{\n{variants}}}\nimpl {name} {{\n    \
         /// The choice of that word.\n    #[must_use]\n    pub fn of(word: &str) -> Option<Self> {{\n        Some(match word {{\n{of}            _ => return None,\n        }})\n    }}\n    \
         /// Its word.\n    #[must_use]\n    pub const fn word(self) -> &'static str {{\n        match self {{\n{word}        }}\n    }}\n}}\n",
        sort.said()
    );
    choices.insert(name.clone(), code);
}

/// The dimension of that name, found when the program is compiled.
fn dim(word: &str) -> String {
    format!("const {{ dimension({word:?}) }}")
}

/// `wheel_loads` → `WheelLoads`.
fn camel(name: &str) -> String {
    let part = |part: &str| {
        let mut letters = part.chars();
        letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
    };
    name.split('_').map(part).collect()
}

/// A name as a field, where Rust has another use for the word.
fn raw(name: &str) -> String {
    match name {
        "in" | "for" | "as" | "type" | "loop" | "match" | "move" | "ref" | "use" | "where" | "if" | "else" => format!("r#{name}"),
        _ => name.to_owned(),
    }
}

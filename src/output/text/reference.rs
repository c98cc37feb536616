//! The reference: rules, kinds, functions, units and catalogues with what they mean and on whose word.
//!
//! In: a session (for the vocabulary and its text) and a name. Out: the pages of that name, or the
//! nearest name there is.

use super::how::formula;
use super::look::{Look, Tone};
use super::search::search;
use crate::design::GATHERERS;
use crate::design::{Kind, Property, Rule};
use crate::formulas;
use crate::output::words::{belonging_key, is_derived, of_entry, of_parameter, of_type};
use crate::problem::nearest;
use crate::session::Session;
use crate::syntax::examples;
use crate::syntax::tree::{Expr, Node};
use crate::text::Span;
use crate::trade::{self, says};
use crate::units::{Dim, Unit, UnitDef, all_units, figures, units_for};
use crate::values::Function;
use std::cmp::Reverse;
use std::fmt::Write;

/// Words that stand for a list.
const LISTS: [&str; 5] = ["rules", "kinds", "functions", "units", "states"];

/// Names longer than this do not push the column of their texts to the right.
const LONGEST_NAME: usize = 36;

/// The pages for a name; without one, the table of contents.
///
/// # Errors
/// The nearest name, if any is near, where there is no such page.
pub fn reference(session: &Session, topic: Option<&str>, look: &Look) -> Result<String, Option<String>> {
    let mut book = Book { session, look, out: String::new() };
    let Some(topic) = topic else {
        book.contents();
        return Ok(book.out);
    };
    book.pages(topic);
    if book.out.is_empty() {
        book.out = search(session, topic, look).unwrap_or_default();
    }
    if book.out.is_empty() { Err(nearest(topic, book.topics().iter().map(String::as_str)).map(str::to_owned)) } else { Ok(book.out) }
}

struct Book<'b> {
    session: &'b Session,
    look: &'b Look,
    out: String,
}

impl Book<'_> {
    fn topics(&self) -> Vec<String> {
        let design = self.session.design();
        let mut topics: Vec<String> = LISTS.iter().map(ToString::to_string).collect();
        topics.extend(design.drawn.iter().map(|word| word.name.to_string()));
        topics.extend(design.kinds.iter().map(|kind| kind.name.to_string()));
        topics.extend(design.rules.iter().flat_map(|rule| [rule.name.to_string(), rule.area().to_owned()]));
        topics.extend(formulas::all().names().map(str::to_owned));
        topics.extend(trade::catalogue_names().map(str::to_owned));
        topics
    }

    fn contents(&mut self) {
        self.list_of_rules(None);
        self.out.push('\n');
        self.list_of_kinds();
        self.out.push('\n');
        self.list_of_functions();
        self.out.push('\n');
        let catalogues: Vec<&str> = trade::catalogue_names().collect();
        if !catalogues.is_empty() {
            self.heading("catalogues");
            self.out.push_str(&self.look.paragraph(2, &catalogues.join(", ")));
            self.out.push('\n');
        }
        let hint = format!(
            "`wallplate rules NAME` has the page of a rule, an area, a kind, a property (`{}`), a function or a catalogue; `wallplate rules \
             units` lists the units.",
            examples::PROPERTY
        );
        self.out.push_str(&self.look.paragraph(0, &hint));
    }

    fn pages(&mut self, topic: &str) {
        let design = self.session.design();
        match topic {
            "rules" => self.list_of_rules(None),
            "kinds" => self.list_of_kinds(),
            "functions" => self.list_of_functions(),
            "units" => self.list_of_units(),
            "states" => self.list_of_states(),
            _ => {}
        }
        if design.rules.iter().any(|rule| rule.area() == topic) {
            self.list_of_rules(Some(topic));
        }
        self.drawn(topic);
        if let Some(rule) = design.rule(topic) {
            self.rule(rule);
        }
        if let Some(id) = design.kind_named(topic) {
            self.kind(design.kind(id));
        }
        if let Some((kind, property)) = topic.split_once('.')
            && let Some(id) = design.kind_named(kind)
            && let Some(property) = design.kind(id).property(property).and_then(|at| design.kind(id).properties.get(at))
        {
            self.heading(topic);
            self.property(property);
        }
        if let Some(function) = formulas::all().find(topic) {
            self.function(function);
        }
        if let Some((name, doc)) = GATHERERS.iter().find(|(name, _)| *name == topic)
            && formulas::all().find(topic).is_none()
        {
            self.heading(name);
            self.out.push_str(&self.look.paragraph(2, &format!("{doc}: `{name}({})`", examples::GATHERED)));
        }
        match all_units().iter().find(|unit| unit.symbol == topic || unit.aliases.contains(&topic)) {
            Some(unit) => self.unit(unit),
            None => self.joined_unit(topic),
        }
        self.catalogue(topic);
    }

    fn heading(&mut self, text: &str) {
        if !self.out.is_empty() && !self.out.ends_with("\n\n") {
            self.out.push('\n');
        }
        let text = self.look.paragraph(0, text);
        let _ = writeln!(self.out, "{}", self.look.paint(Tone::Strong, text.trim_end()));
    }

    /// A name and what it is, the texts in one column; on a narrow page below the name.
    fn entry(&mut self, name: &str, column: usize, text: &str) {
        if column + 4 > self.look.width / 2 {
            self.out.push_str(&self.look.paragraph(2, name));
            self.out.push_str(&self.look.paragraph(6, text));
            return;
        }
        let start = format!("  {name:<column$}  ");
        let indent = start.chars().count();
        self.out.push_str(&self.look.wrap(&start, &" ".repeat(column + 4), indent, text));
    }

    fn column<'n>(names: impl Iterator<Item = &'n str>) -> usize {
        names.map(|name| name.chars().count()).max().unwrap_or(0).min(LONGEST_NAME)
    }

    fn list_of_rules(&mut self, area: Option<&str>) {
        let design = self.session.design();
        let mut areas: Vec<&str> = Vec::new();
        for rule in &design.rules {
            if !areas.contains(&rule.area()) && area.is_none_or(|area| area == rule.area()) {
                areas.push(rule.area());
            }
        }
        for area in areas {
            self.heading(area);
            let rules = || design.rules.iter().filter(|rule| rule.area() == area);
            let column = Self::column(rules().map(|rule| rule.name.as_str()));
            for rule in rules() {
                let advice = if rule.advice { " (advice)" } else { "" };
                self.entry(&rule.name, column, &format!("{}{advice}", rule.title));
            }
        }
    }

    fn list_of_kinds(&mut self) {
        let design = self.session.design();
        self.heading("kinds");
        let column = Self::column(design.kinds.iter().map(|kind| kind.name.as_str()));
        for kind in &design.kinds {
            self.entry(&kind.name, column, &kind.doc);
        }
    }

    fn list_of_functions(&mut self) {
        for (subject, table) in formulas::all().subjects() {
            if table.is_empty() {
                continue;
            }
            self.heading(&format!("functions: {subject}"));
            let column = Self::column(table.iter().map(|function| function.name));
            for function in *table {
                self.entry(function.name, column, function.doc);
            }
        }
        self.heading(&format!("functions: gathering over components, as in `{}`", examples::SUM));
        for (name, doc) in GATHERERS {
            self.entry(name, 8, doc);
        }
        self.entry("given", 8, "whether a value can be worked out from what is written");
        self.entry("as_written", 8, "a value with the tolerance of its line, as text: what to measure");
    }

    /// The states of a roof, and what is looked at in each: by which rules, or why none does.
    fn list_of_states(&mut self) {
        for state in &self.session.design().states {
            self.heading(&format!("{}: {}", state.name, state.doc));
            let column = Self::column(state.cells.iter().map(|cell| cell.action.as_str()));
            for cell in state.cells.iter() {
                let text = if cell.rules.is_empty() { format!("not checked: {}", cell.why_not) } else { cell.rules.join(", ") };
                self.entry(&cell.action, column, &text);
            }
        }
    }

    /// A word that a small drawing explains, and the lines of that name.
    fn drawn(&mut self, topic: &str) {
        let design = self.session.design();
        let Some(word) = design.drawn.iter().find(|word| word.name == topic) else { return };
        self.heading(&format!("{}: {}", word.name, word.doc));
        if !self.look.narrated {
            self.out.push('\n');
            for row in &word.looks {
                let _ = writeln!(self.out, "    {row}");
            }
            self.out.push('\n');
        }
        let lines = || design.kinds.iter().filter_map(|kind| Some((kind, kind.properties.get(kind.property(topic)?)?)));
        let written: Vec<_> = lines().filter(|(_, property)| !is_derived(property)).collect();
        let column = Self::column(written.iter().map(|(kind, _)| kind.name.as_str()));
        for (kind, property) in written {
            self.entry(&kind.name, column, &property.doc);
        }
    }

    fn list_of_units(&mut self) {
        self.heading("units");
        let mut seen: Vec<Dim> = Vec::new();
        for word in Dim::names() {
            let Some(dim) = Dim::named(word).filter(|dim| !seen.contains(dim)) else { continue };
            seen.push(dim);
            let mut symbols: Vec<&str> = units_for(dim);
            for unit in all_units().iter().filter(|unit| unit.dim == dim) {
                if !symbols.contains(&unit.symbol) {
                    symbols.push(unit.symbol);
                }
            }
            if !symbols.is_empty() {
                let words: Vec<&str> = Dim::names().filter(|word| Dim::named(word) == Some(dim)).collect();
                self.entry(&words.join(", "), 22, &symbols.join(", "));
            }
        }
        self.out.push('\n');
        let hint = "Units join with * and / and take powers: `kN/m2`, `lbf*in2`. A length may be written as the tape reads: `6 ft 2-1/2 in`. `kg` and `lb` where a force is due are the weight of that mass.";
        self.out.push_str(&self.look.paragraph(0, hint));
    }

    fn unit(&mut self, unit: &UnitDef) {
        self.heading(&format!("{}: {}", unit.symbol, unit.name));
        let base = unit.dim.base_units();
        let offset = if unit.offset == 0.0 { String::new() } else { format!(", and {} more", figures(unit.offset, 9)) };
        self.fact("is", &format!("{} {base}{offset}", figures(unit.factor, 12)));
        if !unit.aliases.is_empty() {
            self.fact("also", &unit.aliases.join(", "));
        }
        self.fact("source", unit.source);
    }

    /// A unit that is made of others: `kN/m2`.
    fn joined_unit(&mut self, written: &str) {
        let Ok(unit) = Unit::parse(written) else { return };
        self.heading(&format!("{written}: {}", unit.dim.describe()));
        self.fact("is", &format!("{} {}", figures(unit.factor, 12), unit.dim.base_units()));
        let others = units_for(unit.dim);
        if !others.is_empty() {
            self.fact("others", &others.join(", "));
        }
    }

    fn fact(&mut self, key: &str, text: &str) {
        self.out.push_str(&self.look.fact(key, text));
    }

    fn text_of(&self, span: Span) -> String {
        formula(self.session, span)
    }

    fn expr(&mut self, key: &str, expr: Option<&std::sync::Arc<Expr>>) {
        if let Some(expr) = expr {
            let text = self.text_of(expr.span);
            self.fact(key, &text);
        }
    }

    fn optional(&mut self, key: &str, text: Option<&smol_str::SmolStr>) {
        if let Some(text) = text {
            self.fact(key, text);
        }
    }

    fn rule(&mut self, rule: &Rule) {
        let advice = if rule.advice { " (advice: never fails)" } else { "" };
        self.heading(&format!("{}: {}{advice}", rule.name, rule.title));
        if rule.last_resort {
            self.fact("last resort", "told only where no other rule names what is missing");
        }
        if rule.by_line {
            self.fact("taken on", "line by line: a component, a dot, and the line");
        }
        if let Some((name, word)) = &rule.stands_for {
            self.fact("for", &format!("{name}: {word}"));
        }
        for (at, binder) in rule.each.iter().enumerate() {
            let text = self.text_of(binder.span);
            self.fact(if at == 0 { "for each" } else { "and" }, &text);
        }
        for line in &rule.lets {
            let value = self.text_of(line.written);
            self.fact("let", &format!("{} = {value}", line.name));
        }
        self.expr("where", rule.when.as_ref());
        self.expr("demand", rule.demand.as_ref());
        self.expr("capacity", rule.capacity.as_ref());
        self.expr("requires", rule.require.as_ref());
        self.expr("else tight if", rule.tight_if.as_ref());
        self.expr("reserve", rule.reserve.as_ref());
        self.expr("says", rule.says.as_ref());
        self.expr("otherwise", rule.otherwise.as_ref());
        self.expr("help", rule.help.as_ref());
        if let Some(state) = &rule.state {
            self.fact(&state.of, &state.name);
        }
        self.optional("source", rule.source.as_ref());
        self.optional("note", rule.note.as_ref());
        self.optional("caution", rule.caution.as_ref());
    }

    fn kind(&mut self, kind: &Kind) {
        self.heading(&format!("{}: {}", kind.name, kind.doc));
        if kind.one_only {
            self.fact("one only", "a design has one; it needs no name");
        }
        if kind.titles_design {
            self.fact("titles", "its title is that of the whole design");
        }
        if kind.ground {
            self.fact("ground", says::GROUND);
        }
        if kind.catalogue_entry {
            self.fact("catalogue", "an entry of a catalogue: bought or specified, not placed");
        }
        for whole in &kind.belongings {
            self.fact(belonging_key(whole), &format!("{} ({})", whole.lacks, whole.area));
        }
        self.optional("source", kind.source.as_ref());
        self.optional("note", kind.note.as_ref());
        self.optional("caution", kind.caution.as_ref());
        let design = self.session.design();
        let about: Vec<&str> = design
            .rules
            .iter()
            .filter(|rule| rule.each.iter().any(|binder| matches!(&binder.source.node, Node::Name(name) if *name == kind.name)))
            .map(|rule| rule.name.as_str())
            .collect();
        if !about.is_empty() {
            self.fact("rules", &about.join(", "));
        }
        let derived = |follows: bool| -> Vec<&Property> {
            kind.properties.iter().filter(|property| !property.required && is_derived(property) && property.follows == follows).collect()
        };
        let weights = design.rules_on_each_line();
        let groups = [
            ("to be written", kind.properties.iter().filter(|property| property.required).collect::<Vec<_>>()),
            ("may be written", kind.properties.iter().filter(|property| !property.required && !is_derived(property)).collect()),
            ("worked out, unless written", derived(false)),
            ("worked out", derived(true)),
        ];
        for (title, mut properties) in groups {
            if properties.is_empty() {
                continue;
            }
            self.out.push('\n');
            let _ = writeln!(self.out, "  {}", self.look.paint(Tone::Quiet, title));
            if properties.iter().all(|property| property.required) {
                properties.iter().for_each(|property| self.property(property));
            } else if properties.iter().any(|property| is_derived(property)) {
                for property in &properties {
                    self.entry(&property.name, 16, &in_a_line(property, &of_type(design, &property.ty)));
                }
                let hint = format!("`wallplate rules {}.NAME` has the formula and the source of each", kind.name);
                self.out.push_str(&self.look.paragraph(2, &hint));
            } else {
                // What most rules stand on first.
                properties.sort_by_key(|property| Reverse(weights.get(&property.name).copied().unwrap_or(0)));
                properties.iter().for_each(|property| self.property(property));
            }
        }
    }

    fn property(&mut self, property: &Property) {
        let mut says = of_type(self.session.design(), &property.ty);
        if property.required {
            says.push_str(", required");
        }
        if property.whole {
            says.push_str(", whole");
        }
        for limit in &property.limits {
            let _ = write!(says, ", {} {}", limit.word.words(), self.text_of(limit.value.span));
        }
        let carries: Vec<&str> = self.session.design().carried_words(property.carries).collect();
        if !carries.is_empty() {
            let _ = write!(says, ", carries {}", carries.join(", "));
        }
        self.entry(&property.name, 16, &says);
        let indent = if self.look.width < 40 { 6 } else { 20 };
        let mut note = |text: &str| self.out.push_str(&self.look.paragraph(indent, text));
        if !property.doc.is_empty() {
            note(&property.doc);
        }
        if let Some(found) = &property.found {
            note(&format!("found: {found}"));
        }
        if let Some(default) = &property.default {
            let text = formula(self.session, default.span);
            match &property.assumed {
                Some(because) => note(&format!("assumed {text}: {because}")),
                None => note(&format!("= {text}")),
            }
        }
        for usual in &property.usual {
            note(&format!("usually {}: {}", formula(self.session, usual.range.span), usual.because));
        }
        if let Some(source) = &property.source {
            note(&format!("source: {source}"));
        }
    }

    fn function(&mut self, function: &Function) {
        let parameters: Vec<String> = function
            .parameters
            .iter()
            .map(|parameter| if parameter.optional { format!("[{}]", parameter.name) } else { parameter.name.to_owned() })
            .collect();
        self.heading(&format!("{}({})", function.name, parameters.join(", ")));
        self.out.push_str(&self.look.paragraph(2, function.doc));
        let column = Self::column(function.parameters.iter().map(|parameter| parameter.name));
        for parameter in function.parameters {
            self.entry(parameter.name, column, &of_parameter(parameter));
        }
        self.fact("gives", function.gives);
        self.fact("source", function.source);
    }

    fn catalogue(&mut self, topic: &str) {
        let Some(part) = trade::catalogue(topic) else { return };
        self.heading(&format!("use {topic}"));
        let column = Self::column(trade::entries_of(part).filter_map(|entry| entry.name.as_ref()).map(|name| name.text.as_str()));
        for entry in trade::entries_of(part) {
            self.entry(entry.name.as_ref().map_or("", |name| name.text.as_str()), column, &of_entry(entry));
        }
    }
}

/// What a property is, in a line; of one that nobody explains at least what it holds.
fn in_a_line(property: &Property, of_type: &str) -> String {
    if property.doc.is_empty() { of_type.to_owned() } else { property.doc.to_string() }
}

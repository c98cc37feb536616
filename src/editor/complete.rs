//! What may be written next: properties of the kind, names that fit the link, units that fit the
//! dimension, entries of catalogues, words of choices, the words of the language.

mod offer;
mod rules;

pub use offer::{Offer, Sort};

use super::cursor::{Cursor, Inside};
use super::desk::Desk;
use super::hover::type_name;
use crate::design::{Around, Entry, GATHERERS, KindId, Meaning, PaperSort, Property, Type, WHOLE, Writer};
use crate::formulas;
use crate::syntax::tree::Item;
use crate::text::FileId;
use crate::trade::{self, says};
use crate::units::{Dim, all_units, units_for};
use crate::values::Takes;

/// The words that begin a top-level statement.
pub const STATEMENTS: [(&str, &str); 9] = [
    ("use", "takes in a catalogue or another file of the design"),
    ("let", "names a value"),
    ("pattern", "says once what several components share"),
    ("variant", "an alternative to the design"),
    ("measured", "what the tape said on a day, in place of what was planned"),
    ("accept", "a finding that someone has looked at and taken on"),
    ("kind", "a kind of component of your own"),
    ("rule", "a check of your own"),
    ("like", "follows a pattern"),
];

const ACCEPT_LINES: [(&str, &str); 4] = [
    ("on", "the components that it is about"),
    ("because", "why it is taken on, in quotes"),
    ("until", "the day until which it counts"),
    ("up_to", "the share of the capacity up to which it counts"),
];

const KIND_FACTS: [(&str, &str); 9] = [
    ("one_only", "`yes`: a design has one of it"),
    ("ground", says::GROUND_YES),
    ("catalogue_entry", "`yes`: bought or specified, not placed"),
    ("titles_design", "`yes`: the title of the only one of it is that of the design"),
    ("every_building", "an area, and in quotes what a whole building has: at least one of this kind"),
    ("needs", "an area, in quotes what each of this kind needs, and the condition that it has it"),
    ("caution", "what can hurt, in quotes"),
    ("source", "on whose word, in quotes"),
    ("note", "anything more, in quotes"),
];

/// What may be written at an offset; `files` are the design's files that a `use` could name.
#[must_use]
pub fn complete(desk: &Desk, file: FileId, offset: u32, files: &[String]) -> (usize, Vec<Offer>) {
    let text = desk.source(file).map_or("", |source| source.text.as_str());
    let place = Cursor::at(text, offset as usize);
    let mut menu = Menu { desk, place: &place, offers: Vec::new() };
    let mut from = place.word;
    match place.inside {
        Inside::Comment => {}
        Inside::Text(start) if !place.blocks.is_empty() => {
            from = start + 1;
            menu.text(start, text);
        }
        Inside::Text(start) => {
            if place.blocks.is_empty() && place.before.trim_start().starts_with("use ") {
                from = start + 1;
                for name in files {
                    menu.offer(name, Sort::File, "a file of this design", "", name);
                }
            }
        }
        Inside::Line => {
            // `3m`: what is completed is the unit, not the number that it touches.
            let number = place.typed().chars().take_while(char::is_ascii_digit).count();
            from += if number < place.typed().len() { number } else { 0 };
            if let Some(rule) = place.accepted() {
                from = offset as usize - rule.len();
                menu.rules();
            } else {
                menu.line();
            }
        }
    }
    let mut offers = menu.offers;
    offers.sort_by(|a, b| (a.rank, &a.label).cmp(&(b.rank, &b.label)));
    offers.dedup_by(|a, b| a.label == b.label && a.sort == b.sort);
    (from, offers)
}

struct Menu<'d> {
    desk: &'d Desk,
    place: &'d Cursor,
    offers: Vec<Offer>,
}

impl Menu<'_> {
    fn offer(&mut self, label: &str, sort: Sort, detail: impl Into<String>, doc: impl Into<String>, text: impl Into<String>) {
        self.ranked(1, label, sort, detail, doc, text);
    }

    fn ranked(&mut self, rank: u8, label: &str, sort: Sort, detail: impl Into<String>, doc: impl Into<String>, text: impl Into<String>) {
        self.offers.push(Offer { label: label.to_owned(), sort, detail: detail.into(), doc: doc.into(), text: text.into(), rank });
    }

    fn line(&mut self) {
        let blocks: Vec<&str> = self.place.blocks.iter().map(String::as_str).collect();
        let words = self.place.words();
        match (blocks.as_slice(), words.as_slice()) {
            ([], []) => self.statements(),
            ([], ["use"]) => {
                for part in trade::catalogues() {
                    self.offer(part.name, Sort::Catalogue, "a catalogue", "", part.name);
                }
            }
            ([], ["let", _, ..]) => self.value(None, None),
            ([], ["pattern"]) => self.kinds(),
            ([], [.., kind, _, "like"] | [kind, "like"]) => self.patterns(kind),
            ([], [.., "like"]) => self.all_patterns(),
            ([], [first, ..]) => {
                if self.desk.design().kind_named(first).is_some() || *first == "pattern" {
                    self.offer("like", Sort::Keyword, "follows a pattern", "", "like ");
                }
            }
            ([header], words) => self.in_block(header, words),
            ([_, inner, ..], words) => {
                // Lines of a variant or of measurements, for the component of that name.
                let name = inner.split(['[', ' ']).next().unwrap_or_default();
                let kind = match self.desk.design().entry(name) {
                    Some(Entry::Component(id) | Entry::Array(id, ..)) => Some(self.desk.design().component(id).kind),
                    _ => None,
                };
                if let Some(kind) = kind {
                    self.component_line(kind, words);
                }
            }
        }
    }

    fn in_block(&mut self, header: &str, words: &[&str]) {
        let mut parts = header.split_whitespace();
        match (parts.next().unwrap_or_default(), words) {
            ("variant" | "measured", []) => {
                self.entries(None);
                self.offer("let", Sort::Keyword, "another value for a name", "", "let ");
            }
            ("variant" | "measured", ["let"]) => self.named(),
            ("variant" | "measured", _) => self.value(None, None),
            ("accept", []) => {
                for (word, doc) in ACCEPT_LINES {
                    self.property_word(word, doc);
                }
            }
            ("accept", ["on", ..]) => self.entries(None),
            ("kind", []) => {
                for (word, doc) in KIND_FACTS {
                    self.property_word(word, doc);
                }
            }
            ("kind", [_]) => self.types(),
            ("kind", [.., "to"]) => self.kinds(),
            ("kind", [.., "carrying"]) => {
                for carried in &self.desk.design().carried {
                    self.ranked(0, &carried.name, Sort::Choice, "", carried.doc.as_str(), carried.name.as_str());
                }
            }
            ("kind", _) => {
                for word in [
                    "required", "default", "assumed", "because", "source", "carrying", "above", "below", "at_least", "at_most", "usually",
                    "found",
                ] {
                    self.offer(word, Sort::Keyword, "", "", word);
                }
                self.kinds();
            }
            ("rule", words) => self.rule_line(None, words),
            ("pattern", words) => {
                if let Some(kind) = parts.next().and_then(|kind| self.desk.design().kind_named(kind)) {
                    self.component_line(kind, words);
                }
            }
            (word, words) if sort_of(word).is_some() => self.rule_line(sort_of(word), words),
            (kind, words) => {
                if let Some(kind) = self.desk.design().kind_named(kind) {
                    self.component_line(kind, words);
                }
            }
        }
    }

    fn property_word(&mut self, word: &str, doc: &str) {
        if !self.place.written.iter().any(|written| written == word) {
            self.offer(word, Sort::Property, "", doc, format!("{word} "));
        }
    }

    fn statements(&mut self) {
        for (word, doc) in STATEMENTS.iter().filter(|(word, _)| *word != "like") {
            self.offer(word, Sort::Keyword, "", *doc, format!("{word} "));
        }
        for (word, _) in PaperSort::ALL {
            self.offer(word, Sort::Keyword, "", "something of your own for paper", format!("{word} "));
        }
        self.kinds();
    }

    fn kinds(&mut self) {
        for kind in &self.desk.design().kinds {
            self.ranked(2, &kind.name, Sort::Kind, "a kind", kind.doc.as_str(), kind.name.as_str());
        }
    }

    fn types(&mut self) {
        for name in Dim::names().chain(["text", "date", "yes_no", "condition", "solid", "table", WHOLE]) {
            self.offer(name, Sort::Keyword, "a type", "", name);
        }
        for text in ["link to ", "links to ", "one of ", "list of ", "range of ", "size of "] {
            self.offer(text.trim_end(), Sort::Keyword, "a type", "", text);
        }
    }

    fn rules(&mut self) {
        for rule in &self.desk.design().rules {
            self.offer(&rule.name, Sort::Rule, "a rule", rule.title.as_str(), rule.name.as_str());
        }
    }

    fn patterns(&mut self, kind: &str) {
        let kind = kind.to_owned();
        self.patterns_where(|block| block.kind.text == kind);
    }

    fn all_patterns(&mut self) {
        self.patterns_where(|_| true);
    }

    fn patterns_where(&mut self, fits: impl Fn(&crate::syntax::tree::Component) -> bool) {
        let desk = self.desk;
        for item in desk.all_items() {
            if let Item::Pattern(block) = item
                && let Some(name) = &block.name
                && fits(block)
            {
                let title = block.title.as_ref().map(|title| title.text.to_string()).unwrap_or_default();
                self.offer(&name.text, Sort::Pattern, format!("a pattern for {}", block.kind.text), title, name.text.as_str());
            }
        }
    }

    /// A line of a component of that kind: its property, then what fits it.
    fn component_line(&mut self, kind: KindId, words: &[&str]) {
        let desk = self.desk;
        let declared = desk.design().kind(kind);
        let Some(first) = words.first() else {
            for property in &declared.properties {
                if property.follows || self.place.written.iter().any(|written| *written == property.name) {
                    continue;
                }
                let rank = if property.required { 0 } else { 1 };
                let detail = format!("{}{}", type_name(desk, &property.ty), if property.required { ", required" } else { "" });
                self.ranked(rank, &property.name, Sort::Property, detail, property.doc.as_str(), format!("{} ", property.name));
            }
            return;
        };
        let property = declared.property(first).and_then(|at| declared.properties.get(at));
        self.value(property, Some(kind));
    }

    /// What may stand in a value: of that property, in a line of a component of that kind.
    fn value(&mut self, property: Option<&Property>, kind: Option<KindId>) {
        let before = self.place.before.clone();
        let behind = before.strip_suffix(self.place.typed()).unwrap_or(&before).to_owned();
        if let Some(of) = behind.strip_suffix('.') {
            self.fields(of, kind);
            return;
        }
        match behind.split_whitespace().next_back() {
            // A name of the writer's own.
            Some("for") => return,
            Some("in") => {
                self.gone_over(kind);
                return;
            }
            _ => {}
        }
        let dim = property.and_then(|property| dimension(&property.ty));
        if is_behind_number(&behind, self.place.typed()) {
            self.units(dim);
            return;
        }
        if let Some(function) = open_call(&behind) {
            self.arguments(&function);
        }
        match property.map(|property| &property.ty) {
            Some(Type::Word(words)) => {
                for word in words {
                    self.ranked(0, word, Sort::Choice, "", "", word.as_str());
                }
                return;
            }
            Some(Type::Flag) => {
                for word in ["yes", "no"] {
                    self.ranked(0, word, Sort::Choice, "", "", word);
                }
                return;
            }
            Some(Type::Link { kinds, .. }) => {
                let kinds = kinds.clone();
                self.entries(Some(&kinds));
                return;
            }
            Some(Type::Text | Type::Date) => return,
            _ => {}
        }
        self.bound_names();
        self.named();
        self.entries(None);
        if let Some(kind) = kind {
            let own = self.desk.design().kind(kind);
            for property in &own.properties {
                self.ranked(
                    3,
                    &property.name,
                    Sort::Property,
                    type_name(self.desk, &property.ty),
                    property.doc.as_str(),
                    property.name.as_str(),
                );
            }
        }
        for (_, table) in formulas::all().subjects() {
            for function in *table {
                self.ranked(4, function.name, Sort::Function, function.signature(), function.doc, format!("{}(", function.name));
            }
        }
        for (word, doc) in GATHERERS {
            self.ranked(4, word, Sort::Function, format!("{word}(… for c in KIND where …)"), doc, format!("{word}("));
        }
        for word in ["if", "then", "else", "and", "or", "not", "to", "by", "for", "in", "where", "yes", "no", "guessed"] {
            self.ranked(5, word, Sort::Keyword, "", "", word);
        }
    }

    fn named(&mut self) {
        let desk = self.desk;
        for (at, named) in (0_u32..).zip(&desk.design().named) {
            let worth = desk.session().evaluator.known(crate::design::NodeId(at)).and_then(Result::ok);
            let detail = worth.map_or_else(String::new, |value| format!("= {}", desk.session().evaluator.show_value(&value)));
            self.offer(&named.name, Sort::Named, detail, "a named value", named.name.as_str());
        }
    }

    /// Components and arrays, of these kinds or all that are not out of a catalogue.
    fn entries(&mut self, kinds: Option<&[KindId]>) {
        let design = self.desk.design();
        for (name, entry) in design.entries() {
            let (Entry::Component(id) | Entry::Array(id, ..)) = entry else { continue };
            let component = design.component(id);
            let kind = design.kind(component.kind);
            let fits = kinds.map_or(!component.span.file.is_built_in(), |kinds| kinds.contains(&component.kind));
            if fits {
                let rank = if kinds.is_some() { 0 } else { 2 };
                let title = component.title.as_deref().unwrap_or_default();
                self.ranked(rank, name, Sort::Component, kind.name.as_str(), title, name.as_str());
            }
        }
    }

    fn units(&mut self, dim: Option<Dim>) {
        match dim {
            Some(dim) => {
                for unit in units_for(dim) {
                    self.ranked(0, unit, Sort::Unit, "", "", unit);
                }
                for unit in all_units().iter().filter(|unit| unit.dim == dim) {
                    self.ranked(1, unit.symbol, Sort::Unit, unit.name, "", unit.symbol);
                }
                if crate::units::as_weight(dim, Dim::MASS) {
                    for unit in units_for(Dim::MASS) {
                        self.ranked(2, unit, Sort::Unit, "its weight", "", unit);
                    }
                }
            }
            None => {
                for unit in all_units() {
                    self.offer(unit.symbol, Sort::Unit, unit.name, "", unit.symbol);
                }
            }
        }
    }

    /// Properties of what stands before the dot.
    fn fields(&mut self, of: &str, own: Option<KindId>) {
        let path: String = of.chars().rev().take_while(|c| c.is_alphanumeric() || matches!(c, '_' | '.' | '[' | ']')).collect();
        let path: String = path.chars().rev().collect();
        let mut kinds: Vec<KindId> = Vec::new();
        for (at, step) in path.split('.').enumerate() {
            let name = step.split('[').next().unwrap_or_default();
            kinds = if at == 0 { self.begins(name, own) } else { self.leads_on(&kinds, name) };
        }
        for kind in kinds {
            let declared = self.desk.design().kind(kind);
            for property in &declared.properties {
                let detail = format!("{} of {}", type_name(self.desk, &property.ty), declared.name);
                self.offer(&property.name, Sort::Property, detail, property.doc.as_str(), property.name.as_str());
            }
        }
    }

    fn begins(&self, name: &str, own: Option<KindId>) -> Vec<KindId> {
        self.of_bound(name, own).unwrap_or_else(|| self.begins_unbound(name, own))
    }

    fn begins_unbound(&self, name: &str, own: Option<KindId>) -> Vec<KindId> {
        let design = self.desk.design();
        let around = Around { writer: Writer::Design, own, in_array: false };
        match design.meaning_of(name, around, |_| None) {
            Some(Meaning::This) => own.into_iter().collect(),
            Some(Meaning::Entry(Entry::Component(id) | Entry::Array(id, ..))) => vec![design.component(id).kind],
            Some(Meaning::Property(kind, _)) => self.leads_on(&[kind], name),
            Some(Meaning::Kind(kind)) => vec![kind],
            _ => Vec::new(),
        }
    }

    fn leads_on(&self, kinds: &[KindId], word: &str) -> Vec<KindId> {
        let design = self.desk.design();
        let property = |kind: &KindId| {
            let kind = design.kind(*kind);
            kind.property(word).and_then(|at| kind.properties.get(at))
        };
        kinds.iter().filter_map(property).flat_map(|property| crate::design::Design::linked_kinds(&property.ty).to_vec()).collect()
    }

    fn arguments(&mut self, function: &str) {
        let Some(function) = formulas::all().find(function) else { return };
        for parameter in function.parameters {
            self.ranked(0, parameter.name, Sort::Property, "an argument", parameter.doc, format!("{} ", parameter.name));
            if let Takes::Word(words) = parameter.takes {
                for word in words {
                    self.ranked(1, word, Sort::Choice, parameter.name, "", *word);
                }
            }
        }
    }
}

/// The dimension of the numbers that a type is made of.
fn dimension(ty: &Type) -> Option<Dim> {
    match ty {
        Type::Quantity(dim) | Type::Range(dim) | Type::Size(dim) => Some(*dim),
        Type::List(of) => dimension(of),
        _ => None,
    }
}

/// Whether a number stands before the word that is being written, so that a unit is due.
fn is_behind_number(behind: &str, typed: &str) -> bool {
    let number = |text: &str| {
        let word: String = text.chars().rev().take_while(|c| !c.is_whitespace() && !matches!(c, '(' | ',' | '[')).collect();
        let mut word = word.chars().rev().skip_while(|c| matches!(c, '-' | '±' | '+'));
        word.next().is_some_and(|c| c.is_ascii_digit() || c == '.')
    };
    let trimmed = behind.trim_end();
    let touching = typed.chars().next().is_some_and(|c| c.is_ascii_digit()) && typed.chars().any(|c| !c.is_ascii_digit());
    touching || (trimmed.len() < behind.len() && trimmed.ends_with(|c: char| c.is_ascii_digit()) && number(trimmed))
}

/// The function whose bracket is open at the end of a text.
fn open_call(behind: &str) -> Option<String> {
    let mut depth = 0_usize;
    for (at, c) in behind.char_indices().rev() {
        match c {
            ')' | ']' => depth += 1,
            '(' | '[' if depth > 0 => depth -= 1,
            '(' => {
                let name: String = behind.get(..at)?.chars().rev().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                return Some(name.chars().rev().collect());
            }
            _ => {}
        }
    }
    None
}

/// The sort of paper whose block has this header.
fn sort_of(header: &str) -> Option<PaperSort> {
    let word = header.split_whitespace().next()?;
    PaperSort::ALL.into_iter().find(|(known, _)| *known == word).map(|(_, sort)| sort)
}

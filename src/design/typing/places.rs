//! What a name, a field or an element is, by the order in which values are looked up.

use super::*;
use crate::syntax::examples::GONE_THROUGH;

impl Typing<'_> {
    pub(super) fn name(&mut self, name: &SmolStr, around: &Surroundings) -> Sort {
        if let Some((_, sort)) = around.bound.iter().rev().find(|(bound, _)| bound == name) {
            return sort.clone();
        }
        if around.writer == Writer::Kind
            && let Some(own) = self.own(name, around)
        {
            return own;
        }
        if let Some(own) = around.own {
            match name.as_str() {
                "this" => return Sort::Component(vec![own]),
                "index" if around.in_array || around.writer == Writer::Kind => return Sort::NUMBER,
                _ => {}
            }
        }
        if around.writer != Writer::Kind {
            match self.design.entry(name) {
                Some(Entry::Component(id)) => return Sort::Component(vec![self.design.component(id).kind]),
                Some(Entry::Array(id, ..)) => return Sort::Component(vec![self.design.component(id).kind]).several(),
                Some(Entry::Named(at)) => return self.named(at),
                None => {}
            }
            if let Some(own) = self.own(name, around) {
                return own;
            }
        }
        match (self.design.kind_named(name), self.design.is_choice_word(name) || self.design.carries(name).is_some()) {
            // The only one of its kind, or a choice that is called like it.
            (Some(_), true) | (None, false) => Sort::Unknown,
            (Some(kind), false) => Sort::Component(vec![kind]),
            (None, true) => Sort::Word,
        }
    }

    fn own(&mut self, name: &str, around: &Surroundings) -> Option<Sort> {
        let kind = around.own?;
        Some(self.property(kind, self.design.kind(kind).property(name)?))
    }

    /// What a named value holds; one that stands on itself is told when it is worked out.
    pub(super) fn named(&mut self, at: usize) -> Sort {
        if let Some(known) = self.named.get(&at) {
            return known.clone().unwrap_or(Sort::Unknown);
        }
        let Some(named) = self.design.named.get(at) else { return Sort::Unknown };
        self.named.insert(at, None);
        let sort = self.quietly(|typing| typing.sort(&named.value, &mut Surroundings::of(Writer::Design, None, false)));
        self.named.insert(at, Some(sort.clone()));
        sort
    }

    /// What a property holds: a table has the shape that its default gives.
    fn property(&mut self, kind: KindId, at: usize) -> Sort {
        let Some(declared) = self.design.kind(kind).properties.get(at) else { return Sort::Unknown };
        let table = match &declared.ty {
            Type::Table => true,
            Type::List(of) => **of == Type::Table,
            _ => false,
        };
        let Some(default) = declared.default.as_ref().filter(|_| table) else { return Sort::declared(&declared.ty) };
        if let Some(known) = self.tables.get(&(kind, at)) {
            self.met_itself |= known.is_none();
            return known.clone().unwrap_or(Sort::Itself);
        }
        self.tables.insert((kind, at), None);
        let outer = std::mem::take(&mut self.met_itself);
        let sort = self.quietly(|typing| typing.sort(default, &mut Surroundings::of(Writer::Kind, Some(kind), false)));
        // What was told while another one was open is told again when that one is known.
        if self.met_itself && self.tables.values().filter(|known| known.is_none()).count() > 1 {
            self.tables.remove(&(kind, at));
        } else {
            self.tables.insert((kind, at), Some(sort.clone()));
            self.met_itself = false;
        }
        self.met_itself |= outer;
        sort
    }

    pub(super) fn field(&mut self, of: &Sort, word: &Word) -> Sort {
        let (what, known): (String, Vec<SmolStr>) = match of {
            Sort::Unknown | Sort::Itself => return of.clone(),
            Sort::Component(kinds) => return self.property_of(kinds, word),
            Sort::List(of) => return self.field(of, word).several(),
            Sort::Table(shapes) => match self.part_of(shapes, &word.text) {
                Ok(sort) => return sort,
                Err(known) => ("this table".to_owned(), known),
            },
            Sort::Range(dim) if matches!(word.text.as_str(), "from" | "to") => return Sort::Quantity(*dim),
            Sort::Size(dim) if matches!(word.text.as_str(), "first" | "second" | "third") => return Sort::Quantity(*dim),
            Sort::Range(_) => ("a range".to_owned(), ["from", "to"].map(SmolStr::new_static).to_vec()),
            Sort::Size(_) => ("a size".to_owned(), ["first", "second", "third"].map(SmolStr::new_static).to_vec()),
            other => (self.describe(other), Vec::new()),
        };
        let problem = Problem::error(format!("{what} has no `{}`", word.text), word.span, "this part");
        let names = || known.iter().map(SmolStr::as_str);
        self.refuse(match nearest(&word.text, names()) {
            Some(_) => problem.nearest(&word.text, word.span, names()),
            None if known.is_empty() => problem,
            None => problem.help(format!("it has {}", known.join(", "))),
        })
    }

    /// A part of a table of one of these shapes; where none has it, the parts that there are.
    fn part_of(&self, shapes: &[SmolStr], word: &str) -> Result<Sort, Vec<SmolStr>> {
        let tables: Vec<&Table> = shapes.iter().filter_map(|name| (self.formulas)().table(name)).collect();
        let found = tables.iter().filter_map(|table| table.field(word)).cloned();
        match found.map(Some).reduce(|a, b| a?.common(&b?)) {
            Some(sort) => Ok(sort.unwrap_or(Sort::Unknown)),
            None if tables.is_empty() => Ok(Sort::Unknown),
            None => Err(tables.iter().flat_map(|table| &table.fields).map(|(name, _)| name.clone()).collect()),
        }
    }

    /// A property of a component of one of these kinds; a name that none of them has was told with the names.
    fn property_of(&mut self, kinds: &[KindId], word: &Word) -> Sort {
        let all: Vec<KindId>;
        let kinds = if kinds.is_empty() {
            all = (0_u32..).zip(&self.design.kinds).map(|(at, _)| KindId(at)).collect();
            &all
        } else {
            kinds
        };
        let found = kinds.iter().filter_map(|kind| Some((*kind, self.design.kind(*kind).property(&word.text)?)));
        let found: Vec<(KindId, usize)> = found.collect();
        let sorts: Vec<Sort> = found.into_iter().map(|(kind, at)| self.property(kind, at)).collect();
        match (sorts.is_empty(), word.text.as_str()) {
            (true, "name" | "title") => Sort::Text,
            (true, "kind") => Sort::Word,
            (true, "index") => Sort::NUMBER,
            (true, _) => Sort::Unknown,
            (false, _) => sorts.into_iter().map(Some).reduce(|a, b| a?.common(&b?)).flatten().unwrap_or(Sort::Unknown),
        }
    }

    pub(super) fn element(&mut self, of: &Expr, at: &Expr, around: &mut Surroundings) -> Sort {
        match self.sort(at, around) {
            Sort::Unknown | Sort::Itself | Sort::Quantity(None) => {}
            Sort::Quantity(Some(dim)) if dim.is_number() => {}
            other => {
                let what = self.describe(&other);
                self.refuse(Problem::error(format!("an element's number is a whole number, and this is {what}"), at.span, "this number"));
            }
        }
        match self.sort(of, around) {
            Sort::List(item) => *item,
            open @ (Sort::Unknown | Sort::Itself) => open,
            other => {
                let what = self.describe(&other);
                self.refuse(Problem::error(format!("only a list has numbered elements, and this is {what}"), of.span, what))
            }
        }
    }

    /// What a binder goes through, bound to its name.
    pub(in crate::design) fn bind(&mut self, binder: &Binder, around: &mut Surroundings) {
        let kind = match &binder.source.node {
            Node::Name(name) if !around.bound.iter().any(|(bound, _)| bound == name) => self.design.kind_named(name),
            _ => None,
        };
        let item = match kind {
            Some(kind) => Sort::Component(vec![kind]),
            None => match self.sort(&binder.source, around) {
                one @ (Sort::List(_) | Sort::Component(_) | Sort::Word | Sort::Table(_) | Sort::Unknown | Sort::Itself) => one.item(),
                other => {
                    let what = self.describe(&other);
                    let problem =
                        Problem::error(format!("`in` goes through a kind or a list, and this is {what}"), binder.source.span, what);
                    self.refuse(problem.help(format!("write a kind, like `{GONE_THROUGH}`, or a list")))
                }
            },
        };
        around.bound.push((binder.name.text.clone(), item));
        if let Some(condition) = &binder.condition {
            self.condition(condition, around);
        }
    }
}

//! What a name, a field or an element is, by the order in which values are looked up.

use super::*;

/// A name is offered for so many mistakes.
const MOST_OFFERED: usize = 100;

impl Typing<'_> {
    /// What a bare word stands for.
    pub(super) fn meaning(&self, name: &str, around: &Surroundings) -> Option<Meaning> {
        let place = Around { writer: around.writer, own: around.own, in_array: around.in_array };
        self.design.meaning_of(name, place, |word| around.bound.iter().rposition(|(bound, _)| bound == word))
    }

    /// A bare word as an argument, where it may be one that the function knows: it is none of the other names either.
    pub(super) fn stands_for_nothing(&self, name: &str, span: Span, around: &Surroundings) -> Problem {
        let own = around.own.iter().flat_map(|kind| self.design.kind(*kind).properties.iter().map(|property| property.name.as_str()));
        let bound = around.bound.iter().map(|(name, _)| name.as_str());
        // Among so many mistakes nobody looks for a name.
        let entries = (self.problems.len() < MOST_OFFERED).then(|| self.design.entries().map(|(name, _)| name.as_str()));
        let known = bound.chain(own).chain(entries.into_iter().flatten());
        refusals::stands_for_nothing(name, span).once().nearest_or(name, span, known, "name a component, a property or a `let`")
    }

    pub(super) fn name(&mut self, name: &SmolStr, around: &Surroundings) -> Sort {
        let design = self.design;
        match self.meaning(name, around) {
            Some(Meaning::Bound(at)) => around.bound.get(at).map_or(Sort::Unknown, |(_, sort)| sort.clone()),
            Some(Meaning::Today) => Sort::Date,
            Some(Meaning::This) => Sort::Component(around.own.into_iter().collect()),
            Some(Meaning::Index) => Sort::NUMBER,
            Some(Meaning::Entry(Entry::Component(id))) => Sort::Component(vec![design.component(id).kind]),
            Some(Meaning::Entry(Entry::Array(id, ..))) => Sort::Component(vec![design.component(id).kind]).several(),
            Some(Meaning::Entry(Entry::Named(at))) => self.named(at),
            Some(Meaning::Property(kind, at)) => self.property(kind, at),
            // The only one of its kind, or a choice that is called like it.
            Some(Meaning::Kind(_)) if design.is_choice_word(name) || design.carries(name).is_some() => Sort::Unknown,
            Some(Meaning::Kind(kind)) => Sort::Component(vec![kind]),
            Some(Meaning::Choice) => Sort::Word,
            Some(Meaning::Constant(_)) => Sort::NUMBER,
            Some(Meaning::Unreadable | Meaning::Function) | None => Sort::Unknown,
        }
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
        self.refuse(refusals::no_part(&what, word, known.iter().map(SmolStr::as_str)))
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

    /// A property of a component of one of these kinds.
    fn property_of(&mut self, kinds: &[KindId], word: &Word) -> Sort {
        let all = (0_u32..).zip(&self.design.kinds).map(|(at, _)| KindId(at));
        let asked: Vec<KindId> = if kinds.is_empty() { all.collect() } else { kinds.to_vec() };
        let found = asked.iter().filter_map(|kind| Some((*kind, self.design.kind(*kind).property(&word.text)?)));
        let found: Vec<(KindId, usize)> = found.collect();
        let sorts: Vec<Sort> = found.into_iter().map(|(kind, at)| self.property(kind, at)).collect();
        match (sorts.is_empty(), word.text.as_str()) {
            (true, "name" | "in_words" | "title") => Sort::Text,
            (true, "kind") => Sort::Word,
            (true, "index") => Sort::NUMBER,
            (true, _) => self.refuse(self.design.no_property(kinds, &word.text, word.span)),
            (false, _) => sorts.into_iter().map(Some).reduce(|a, b| a?.common(&b?)).flatten().unwrap_or(Sort::Unknown),
        }
    }

    pub(super) fn element(&mut self, of: &Expr, at: &Expr, around: &mut Surroundings) -> Sort {
        match self.sort(at, around) {
            Sort::Unknown | Sort::Itself | Sort::Quantity(None) => {}
            Sort::Quantity(Some(dim)) if dim.is_number() => {}
            other => {
                let what = self.describe(&other);
                self.refuse(refusals::no_element_number(&what, at.span));
            }
        }
        match self.sort(of, around) {
            Sort::List(item) => *item,
            open @ (Sort::Unknown | Sort::Itself) => open,
            other => {
                let what = self.describe(&other);
                self.refuse(refusals::no_elements(what, of.span))
            }
        }
    }

    /// What a binder goes through, bound to its name.
    pub(in crate::design) fn bind(&mut self, binder: &Binder, around: &mut Surroundings) {
        let kind = self.design.gone_through(&binder.source, |word| around.is_bound(word));
        let item = match kind {
            Some(kind) => Sort::Component(vec![kind]),
            None => match self.sort(&binder.source, around) {
                one @ (Sort::List(_) | Sort::Component(_) | Sort::Word | Sort::Table(_) | Sort::Unknown | Sort::Itself) => one.item(),
                other => {
                    let what = self.describe(&other);
                    self.refuse(refusals::not_gone_through(what, binder.source.span))
                }
            },
        };
        around.bound.push((binder.name.text.clone(), item));
        if let Some(condition) = &binder.condition {
            self.condition(condition, around);
        }
    }
}

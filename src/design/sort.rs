//! What sort of thing an expression is, before it is worked out.

use super::{Design, KindId, Type};
use crate::problem::with_article;
use crate::units::{self, Dim};
use smol_str::SmolStr;

/// What an expression will be, as far as the declarations tell.
#[derive(Debug, Clone, PartialEq)]
pub enum Sort {
    /// It cannot be told.
    Unknown,
    /// It stands on itself: whatever the rest of it is.
    Itself,
    /// A number with its dimension, where that can be told.
    Quantity(Option<Dim>),
    /// A text.
    Text,
    /// A day.
    Date,
    /// What fills room.
    Solid,
    /// Yes or no, as it is at each moment.
    Condition,
    /// Yes or no.
    Flag,
    /// A choice.
    Word,
    /// From one to another.
    Range(Option<Dim>),
    /// One by another.
    Size(Option<Dim>),
    /// Several of one sort.
    List(Box<Sort>),
    /// A component of one of these kinds; of any if none is named.
    Component(Vec<KindId>),
    /// A table of one of these shapes; of any if none is named.
    Table(Vec<SmolStr>),
}

impl Sort {
    /// Whether nothing can be said against it.
    #[must_use]
    pub fn is_open(&self) -> bool {
        matches!(self, Sort::Unknown | Sort::Itself)
    }

    /// A plain number.
    pub const NUMBER: Sort = Sort::Quantity(Some(Dim::NUMBER));

    /// Several of this sort.
    #[must_use]
    pub fn several(self) -> Sort {
        Sort::List(Box::new(self))
    }

    /// One of those that a list holds; the thing itself if it is no list.
    #[must_use]
    pub fn item(&self) -> Sort {
        match self {
            Sort::List(of) => of.as_ref().clone(),
            one => one.clone(),
        }
    }

    /// One of those that a list, or the lists in it, hold in the end.
    #[must_use]
    pub fn innermost(&self) -> Sort {
        match self {
            Sort::List(of) => of.innermost(),
            one => one.clone(),
        }
    }

    /// What a property holds that is declared so.
    #[must_use]
    pub fn declared(ty: &Type) -> Sort {
        match ty {
            Type::Quantity(dim) => Sort::Quantity(Some(*dim)),
            Type::Text => Sort::Text,
            Type::Date => Sort::Date,
            Type::Solid => Sort::Solid,
            Type::Condition => Sort::Condition,
            Type::Flag => Sort::Flag,
            Type::Word(_) => Sort::Word,
            Type::Link { many: false, kinds } => Sort::Component(kinds.clone()),
            Type::Link { many: true, kinds } => Sort::Component(kinds.clone()).several(),
            Type::List(of) => Sort::declared(of).several(),
            Type::Range(dim) => Sort::Range(Some(*dim)),
            Type::Size(dim) => Sort::Size(Some(*dim)),
            Type::Table => Sort::Table(Vec::new()),
        }
    }

    /// What both can be taken for; `None` if they have nothing in common.
    #[must_use]
    pub fn common(&self, other: &Sort) -> Option<Sort> {
        Some(match (self, other) {
            (Sort::Itself, other) | (other, Sort::Itself) => other.clone(),
            (Sort::Unknown, _) | (_, Sort::Unknown) => Sort::Unknown,
            // What is always so is a condition too.
            (Sort::Flag, Sort::Condition) | (Sort::Condition, Sort::Flag) => Sort::Condition,
            (Sort::Quantity(None), Sort::Quantity(_)) | (Sort::Quantity(_), Sort::Quantity(None)) => Sort::Quantity(None),
            (Sort::List(a), Sort::List(b)) => a.common(b).unwrap_or(Sort::Unknown).several(),
            (Sort::Component(a), Sort::Component(b)) => Sort::Component(either(a, b)),
            (Sort::Table(a), Sort::Table(b)) => Sort::Table(either(a, b)),
            (a, b) if a == b => a.clone(),
            _ => return None,
        })
    }

    /// Whether it may stand where this type is due; what cannot be told may.
    #[must_use]
    pub fn fits(&self, ty: &Type) -> bool {
        let alike = |given: &Option<Dim>, due: &Dim| {
            given.is_none_or(|given| given == *due || units::as_weight(*due, given) || units::as_mass(*due, given))
        };
        match (ty, self) {
            (_, Sort::Unknown | Sort::Itself) | (Type::Table, _) => true,
            (Type::Quantity(due), Sort::Quantity(given))
            | (Type::Range(due), Sort::Range(given))
            | (Type::Size(due), Sort::Size(given)) => alike(given, due),
            (Type::Text, Sort::Text)
            | (Type::Date, Sort::Date)
            | (Type::Solid, Sort::Solid)
            | (Type::Flag, Sort::Flag)
            // Of a component its `signal`: that it has one is asked in `typing`.
            | (Type::Condition, Sort::Condition | Sort::Flag | Sort::Component(_))
            | (Type::Word(_), Sort::Word) => true,
            (Type::Link { kinds, .. }, Sort::Component(given)) => given.is_empty() || given.iter().any(|kind| kinds.contains(kind)),
            (Type::Link { many: true, .. }, Sort::List(of)) => of.fits(ty),
            (Type::List(due), Sort::List(of)) => of.fits(due),
            (Type::Solid, Sort::List(of)) => of.fits(ty),
            (Type::List(due), one) => one.fits(due),
            _ => false,
        }
    }

    /// What it is, for messages, in the words that are used of a value.
    #[must_use]
    pub fn describe(&self, design: &Design) -> String {
        match self {
            Sort::Unknown | Sort::Itself => "something else".to_owned(),
            Sort::Quantity(Some(dim)) => dim.describe(),
            Sort::Quantity(None) => "a number".to_owned(),
            Sort::Text => "a text".to_owned(),
            Sort::Date => "a date".to_owned(),
            Sort::Solid => "a solid".to_owned(),
            Sort::Condition => "a condition".to_owned(),
            Sort::Flag => "yes or no".to_owned(),
            Sort::Word => "a word".to_owned(),
            Sort::Range(_) => "a range".to_owned(),
            Sort::Size(_) => "a size".to_owned(),
            Sort::List(_) => "a list".to_owned(),
            Sort::Component(kinds) => match kinds.as_slice() {
                [] => "a component".to_owned(),
                kinds => {
                    let names: Vec<&str> = kinds.iter().map(|kind| design.kind(*kind).name.as_str()).collect();
                    with_article(&names.join(" or "))
                }
            },
            Sort::Table(_) => "a table".to_owned(),
        }
    }
}

/// All of both; of any sort where one of them may be of any.
fn either<T: Clone + PartialEq>(a: &[T], b: &[T]) -> Vec<T> {
    if a.is_empty() || b.is_empty() {
        return Vec::new();
    }
    a.iter().chain(b.iter().filter(|one| !a.contains(one))).cloned().collect()
}

//! Whether two expressions say the same, wherever they stand.

use super::tree::{Argument, Binder, Expr, Node, Part, TemplatePart, Word};

impl Expr {
    /// Whether both say the same: equal but for their places.
    #[must_use]
    pub fn says_the_same(&self, other: &Expr) -> bool {
        let word = |a: &Word, b: &Word| a.text == b.text;
        match (&self.node, &other.node) {
            (Node::Quantity(a), Node::Quantity(b)) => {
                all(a, b, |a: &Part, b: &Part| a.number == b.number && option(a.unit.as_ref(), b.unit.as_ref(), word))
            }
            (Node::Date(a), Node::Date(b)) => a == b,
            (Node::Text(a), Node::Text(b)) | (Node::Name(a), Node::Name(b)) => a == b,
            (Node::Flag(a), Node::Flag(b)) => a == b,
            (Node::Template(a), Node::Template(b)) => all(a, b, |a, b| match (a, b) {
                (TemplatePart::Text(a), TemplatePart::Text(b)) => a == b,
                (TemplatePart::Value(a), TemplatePart::Value(b)) => a.says_the_same(b),
                _ => false,
            }),
            (Node::Field(a, x), Node::Field(b, y)) | (Node::In(a, x), Node::In(b, y)) => word(x, y) && a.says_the_same(b),
            (Node::Index(a, x), Node::Index(b, y)) | (Node::Range(a, x), Node::Range(b, y)) => a.says_the_same(b) && x.says_the_same(y),
            (Node::Call(a, x), Node::Call(b, y)) => {
                word(a, b)
                    && all(x, y, |a: &Argument, b: &Argument| {
                        option(a.name.as_ref(), b.name.as_ref(), word) && a.value.says_the_same(&b.value)
                    })
            }
            (Node::Aggregate { name: a, value: x, binders: p }, Node::Aggregate { name: b, value: y, binders: q }) => {
                word(a, b)
                    && x.says_the_same(y)
                    && all(p, q, |a: &Binder, b: &Binder| {
                        word(&a.name, &b.name)
                            && a.source.says_the_same(&b.source)
                            && option(a.condition.as_ref(), b.condition.as_ref(), |a, b| a.says_the_same(b))
                    })
            }
            (Node::Unary(a, x), Node::Unary(b, y)) => a == b && x.says_the_same(y),
            (Node::Binary(a, _, p, x), Node::Binary(b, _, q, y)) => a == b && p.says_the_same(q) && x.says_the_same(y),
            (Node::If(a, p, x), Node::If(b, q, y)) => a.says_the_same(b) && p.says_the_same(q) && x.says_the_same(y),
            (Node::Size(a), Node::Size(b)) | (Node::List(a), Node::List(b)) => all(a, b, Expr::says_the_same),
            (Node::Tolerance { value: a, down: p, up: x }, Node::Tolerance { value: b, down: q, up: y }) => {
                a.says_the_same(b) && option(p.as_ref(), q.as_ref(), |a, b| a.says_the_same(b)) && x.says_the_same(y)
            }
            _ => false,
        }
    }
}

fn all<T>(a: &[T], b: &[T], same: impl Fn(&T, &T) -> bool) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
}

fn option<T>(a: Option<&T>, b: Option<&T>, same: impl Fn(&T, &T) -> bool) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => same(a, b),
        (None, None) => true,
        _ => false,
    }
}

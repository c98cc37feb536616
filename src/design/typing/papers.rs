//! What goes onto paper: every expression of the sort that its form asks for.

use super::super::forms::{COMMON_LINES, Form, FormLine, LineTakes};
use super::super::papers::Paper;
use super::*;

impl Typing<'_> {
    pub(super) fn paper(&mut self, paper: &Paper, form: &Form) {
        let mut around = Surroundings::of(Writer::Rule, None, false);
        around.bound.extend(form.binds.iter().map(|(name, sort, _)| (name.clone(), sort.clone())));
        paper.each.iter().for_each(|binder| self.bind(binder, &mut around));
        if let Some(when) = &paper.when {
            self.condition(when, &mut around);
        }
        for (line, value) in paper.expressions(form) {
            match form.line(&line.text) {
                Some(declared) => self.line_of_paper(declared, value, &mut around),
                None if COMMON_LINES.contains(&line.text.as_str()) => self.due(value, &Type::Text, &line.text, &mut around),
                // That there is no such line was told with the words.
                None => {}
            }
        }
    }

    fn line_of_paper(&mut self, line: &FormLine, value: &Expr, around: &mut Surroundings) {
        match (&line.takes, &value.node) {
            // Lists of lists are read as one.
            (LineTakes::Value(Type::List(_)) | LineTakes::Tables(_), Node::List(items)) => {
                return items.iter().for_each(|item| self.line_of_paper(line, item, around));
            }
            (LineTakes::Value(Type::List(_)), Node::Aggregate { .. }) => {}
            (LineTakes::Value(ty), _) => return self.due(value, ty, &line.name, around),
            _ => {}
        }
        let sort = self.sort(value, around);
        let (fits, due) = match &line.takes {
            LineTakes::Shape => {
                (matches!(sort.innermost(), Sort::Solid | Sort::Table(_) | Sort::Component(_)), "a solid, a shape or a component")
            }
            LineTakes::Components => (matches!(sort.item(), Sort::Component(_)), "a component"),
            LineTakes::Quantity => (matches!(sort, Sort::Quantity(_)), "a number with its unit"),
            LineTakes::Value(ty @ Type::List(_)) => (sort.innermost().fits(ty), "a list"),
            LineTakes::Tables(shape) => {
                (matches!(sort.innermost(), Sort::Table(shapes) if shapes.is_empty() || shapes.contains(shape)), "what is done before")
            }
            _ => return,
        };
        if !fits && !sort.innermost().is_open() {
            let what = self.describe(&sort);
            self.refuse(
                Problem::error(format!("`{}` is {due}, and this is {what}", line.name), value.span, what).help(line.doc.to_string()),
            );
        }
    }
}

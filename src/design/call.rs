//! A call: which argument stands for which parameter of what is called.
//!
//! In: what is called as it is declared, and the arguments as they are written. Out: the expressions for each parameter, in
//! its order, or the slip. The sorts and the evaluator both ask here, so that each slip has one wording.

use crate::problem::Problem;
use crate::syntax::tree::{Argument, Expr, Word};
use crate::text::Span;

/// The words that gather values.
pub const GATHERERS: [(&str, &str); 9] = [
    ("sum", "all added up; 0 of none"),
    ("count", "how many"),
    ("min", "the smallest"),
    ("max", "the largest"),
    ("mean", "the average"),
    ("all", "whether every one is yes; yes of none"),
    ("any", "whether one is yes; no of none"),
    ("list", "all of them in order"),
    ("first", "the first of them"),
];

/// The questions that look at the line of a value and not at its worth.
pub const ABOUT_A_LINE: [&str; 2] = ["given", "as_written"];

/// One parameter, as far as a call has to know it.
pub trait Called {
    /// Its name, as it may stand in front of the argument.
    fn name(&self) -> &str;
    /// What it means.
    fn doc(&self) -> &str;
    /// It has to be given.
    fn is_required(&self) -> bool;
    /// All arguments from here on are its own.
    fn takes_the_rest(&self) -> bool;
}

/// The expressions for one parameter: hardly ever more than one.
#[derive(Debug, Clone, Default)]
pub enum Placed<'e> {
    /// It is left out.
    #[default]
    Nothing,
    /// The one.
    One(&'e Expr),
    /// All that it takes.
    Several(Vec<&'e Expr>),
}

impl<'e> Placed<'e> {
    /// All of them, in the order of the text.
    #[must_use]
    pub fn all(&self) -> &[&'e Expr] {
        match self {
            Placed::Nothing => &[],
            Placed::One(expr) => std::slice::from_ref(expr),
            Placed::Several(exprs) => exprs,
        }
    }

    fn push(&mut self, expr: &'e Expr) {
        match self {
            Placed::Nothing => *self = Placed::One(expr),
            Placed::One(first) => *self = Placed::Several(vec![*first, expr]),
            Placed::Several(exprs) => exprs.push(expr),
        }
    }
}

/// `velocity_pressure(speed, height)`
#[must_use]
pub fn signature(name: &str, parameters: &[impl Called]) -> String {
    let shown = |parameter: &_| {
        let name = Called::name(parameter);
        if Called::is_required(parameter) { name.to_owned() } else { format!("[{name}]") }
    };
    format!("{name}({})", parameters.iter().map(shown).collect::<Vec<_>>().join(", "))
}

/// Which expressions go to which parameter, nothing to one that may be left out and is.
///
/// # Errors
/// An unknown name, a second value for a parameter, one too many, or one that is missing: at its place.
pub fn placed<'e, P: Called>(name: &str, parameters: &[P], arguments: &'e [Argument], span: Span) -> Result<Vec<Placed<'e>>, Problem> {
    let mut placed: Vec<Placed<'_>> = vec![Placed::Nothing; parameters.len()];
    let mut next = 0;
    for argument in arguments {
        let at = match &argument.name {
            Some(word) => {
                parameters.iter().position(|parameter| parameter.name() == word.text).ok_or_else(|| unknown(name, parameters, word))?
            }
            None => next,
        };
        let takes_the_rest = parameters.get(at).is_some_and(Called::takes_the_rest);
        match placed.get_mut(at) {
            Some(place) if takes_the_rest || matches!(place, Placed::Nothing) => place.push(&argument.value),
            Some(_) => return Err(Problem::error("this argument is given twice", argument.value.span, "the second")),
            None => {
                let problem = Problem::error(format!("`{name}` takes {}", counted(parameters.len())), argument.value.span, "one too many");
                return Err(problem.help(format!("write `{}`", signature(name, parameters))));
            }
        }
        next = if takes_the_rest { at } else { at + 1 };
    }
    match parameters.iter().zip(&placed).find(|(parameter, place)| parameter.is_required() && matches!(place, Placed::Nothing)) {
        None => Ok(placed),
        Some((parameter, _)) => {
            let problem = Problem::error(format!("`{name}` needs `{}`: {}", parameter.name(), parameter.doc()), span, "this call");
            Err(problem.help(format!("write `{}`", signature(name, parameters))))
        }
    }
}

fn unknown(name: &str, parameters: &[impl Called], word: &Word) -> Problem {
    let known: Vec<&str> = parameters.iter().map(Called::name).collect();
    let all = format!("it takes {}", known.join(", "));
    Problem::error(format!("`{name}` takes no `{}`", word.text), word.span, "this argument").nearest_or(&word.text, word.span, known, all)
}

fn counted(arguments: usize) -> String {
    match arguments {
        1 => "one argument".to_owned(),
        many => format!("{many} arguments"),
    }
}

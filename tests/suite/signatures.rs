//! What formulas take and give is declared in the language; every expression of the trade library is typed by it.

use std::sync::Arc;
use wallplate::design::{Design, Formulas, Paper, PaperSort};
use wallplate::session;
use wallplate::text::{Sources, Span};
use wallplate::trade;

fn formulas() -> &'static Formulas {
    static ALL: std::sync::OnceLock<Formulas> = std::sync::OnceLock::new();
    ALL.get_or_init(|| Formulas::of(&trade::formulas().iter().map(trade::Part::tree).collect::<Vec<_>>()))
}

fn shown(sources: &Sources, span: Span) -> String {
    let source = sources.get(span.file).unwrap();
    let at = source.lines().position(&source.text, span.start);
    format!("{}:{}:{}: {}", source.name, at.line, at.column, &source.text[span.start as usize..span.end as usize])
}

#[test]
fn the_library_names_what_there_is_and_is_of_one_sort_throughout() {
    let mut sources = Sources::default();
    for part in trade::parts() {
        sources.add_built_in(part.place, part.source());
    }
    assert_eq!(formulas().problems, []);
    let library: Vec<Arc<_>> = trade::library().iter().map(trade::Part::tree).collect();
    let design = Design::vocabulary(&library, Some(formulas));
    let (problems, unknown) = design.wrong_in_vocabulary();
    let told = problems.iter().map(|problem| format!("{}: {}", shown(&sources, problem.span()), problem.message));
    let told: Vec<String> = told.chain(unknown.iter().map(|span| format!("{}: of no known sort", shown(&sources, *span)))).collect();
    println!("{} mistakes in the library, {} expressions of an unknown sort", problems.len(), unknown.len());
    assert!(told.is_empty(), "{}", told.join("\n"));
}

#[test]
fn papers_are_of_one_sort_throughout() {
    let mut sources = Sources::default();
    for part in trade::parts() {
        sources.add_built_in(part.place, part.source());
    }
    assert_eq!(session::forms().problems, []);
    let library: Vec<Arc<_>> = trade::library().iter().map(trade::Part::tree).collect();
    let mut design = Design::vocabulary(&library, Some(formulas));
    design.forms = Some(session::forms);
    let mut papers = Vec::new();
    for part in trade::papers() {
        let (read, problems) = Paper::all_in(&part.tree());
        assert_eq!(problems, []);
        papers.extend(read);
    }
    let (problems, unknown) = design.paper_sorts(&papers);
    let told = problems.iter().map(|problem| format!("{}: {}", shown(&sources, problem.span()), problem.message));
    let told: Vec<String> = told.chain(unknown.iter().map(|span| format!("{}: of no known sort", shown(&sources, *span)))).collect();
    println!("{} papers: {} expressions of a wrong sort, {} of an unknown one", papers.len(), problems.len(), unknown.len());
    assert!(told.is_empty(), "{}", told.join("\n"));
    // Each form is one that the program knows what to do with, and the reverse.
    let forms: Vec<&str> = session::forms().papers.iter().map(|form| form.word.as_str()).collect();
    assert_eq!(forms, PaperSort::ALL.map(|(word, _)| word));
}

/// A file of declarations that nobody takes in would leave its formulas without bodies, and nothing else would say so.
#[test]
fn each_declared_formula_has_its_body() {
    let bound = wallplate::formulas::all();
    let mut without: Vec<&str> = formulas().all().map(|formula| formula.name.as_str()).filter(|name| bound.find(name).is_none()).collect();
    without.sort_unstable();
    assert!(without.is_empty(), "no body in src/formulas, or no row of SUBJECTS there: {without:?}");
}

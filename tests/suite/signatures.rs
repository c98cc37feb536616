//! What formulas take and give is declared in the language; every expression of the trade library is typed by it.

use std::sync::Arc;
use wallplate::design::{Design, Formulas};
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
fn the_library_is_of_one_sort_throughout() {
    let mut sources = Sources::default();
    for part in trade::parts() {
        sources.add_built_in(part.place, part.source());
    }
    assert_eq!(formulas().problems, []);
    let library: Vec<Arc<_>> = trade::library().iter().map(trade::Part::tree).collect();
    let design = Design::vocabulary(&library, Some(formulas));
    let (problems, unknown) = design.vocabulary_sorts();
    for problem in &problems {
        println!("{}\n    {}", shown(&sources, problem.span()), problem.message);
    }
    for span in &unknown {
        println!("unknown {}", shown(&sources, *span));
    }
    println!("{} mistyped, {} unknown", problems.len(), unknown.len());
    assert!(problems.is_empty());
}

//! The reference as Markdown: kinds, rules, functions, units and catalogues, a page for each.
//!
//! In: a session, for the vocabulary and its text. Out: the pages by file name. `grammar/reference/` holds them as
//! they were last written, and a test says when they are no longer true.

use super::text::formula;
use super::words::{belonging_key, is_derived, of_parameter, of_type};
use crate::design::GATHERERS;
use crate::design::{Kind, Property, Rule};
use crate::formulas;
use crate::session::Session;
use crate::syntax::tree::{Expr, Node};
use crate::text::Span;
use crate::trade::{self, says};
use crate::units::{Dim, all_units, figures};
use smol_str::SmolStr;
use std::fmt::Write;
use std::sync::Arc;

const NOTE: &str = "<!-- Written by the program from what it knows: `WALLPLATE_REFERENCE=write cargo test --test suite reference`. -->\n";

/// The pages, each with its file name.
#[must_use]
pub fn reference(session: &Session) -> Vec<(&'static str, String)> {
    let page = |title: &str, says: &str, body: String| format!("{NOTE}\n# {title}\n\n{says}\n{body}");
    let writer = Writer { session };
    vec![
        (
            "kinds.md",
            page(
                "Kinds",
                "What a design is made of. Each kind lists what has to be written, what may be, and what is worked out from the rest\nunless a line says otherwise.",
                writer.kinds(),
            ),
        ),
        (
            "rules.md",
            page("Rules", "What is checked, on whose word. `wallplate check FILE --only NAME` runs one area or one rule.", writer.rules()),
        ),
        (
            "functions.md",
            page(
                "Functions",
                "What an expression can call; [expressions](README.md#expressions) says how. `wallplate value - EXPR` works one out without a\ndesign.",
                writer.functions(),
            ),
        ),
        ("units.md", page("Units", "Each with what it is in SI base units, and on whose word.", units())),
        (
            "catalogues.md",
            page("Catalogues", "What is bought or specified by name; a design takes a catalogue in with `use NAME`.", catalogues()),
        ),
    ]
}

struct Writer<'s> {
    session: &'s Session,
}

/// Text in Markdown: what would be markup stands as it is.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        if matches!(sign, '\\' | '*' | '<' | '>' | '|' | '#') {
            out.push('\\');
        }
        out.push(sign);
    }
    out
}

/// A piece of the language.
fn code(text: &str) -> String {
    format!("`{}`", text.replace('|', "\\|"))
}

fn item(out: &mut String, key: &str, text: &str) {
    let _ = writeln!(out, "- *{key}*: {text}");
}

impl Writer<'_> {
    fn text_of(&self, span: Span) -> String {
        formula(self.session, span)
    }

    fn kinds(&self) -> String {
        let design = self.session.design();
        let mut out = String::new();
        let names: Vec<String> = design.kinds.iter().map(|kind| format!("[{0}](#{0})", kind.name)).collect();
        let _ = writeln!(out, "\n{}", names.join(" · "));
        for kind in &design.kinds {
            self.kind(kind, &mut out);
        }
        out
    }

    fn kind(&self, kind: &Kind, out: &mut String) {
        let design = self.session.design();
        let _ = writeln!(out, "\n## {}\n\n{}.\n", kind.name, plain(&kind.doc));
        let before = out.len();
        if kind.one_only {
            item(out, "one only", "a design has one; it needs no name");
        }
        if kind.titles_design {
            item(out, "titles the design", "its title is that of the whole design");
        }
        if kind.ground {
            item(out, "ground", says::GROUND);
        }
        if kind.catalogue_entry {
            item(out, "catalogue", "an entry of a catalogue: bought or specified, not placed");
        }
        for whole in &kind.belongings {
            item(out, belonging_key(whole), &plain(&format!("{} ({})", whole.lacks, whole.area)));
        }
        for (key, text) in [("source", &kind.source), ("note", &kind.note), ("caution", &kind.caution)] {
            if let Some(text) = text {
                item(out, key, &plain(text));
            }
        }
        let about = |rule: &&Rule| rule.each.iter().any(|binder| matches!(&binder.source.node, Node::Name(name) if *name == kind.name));
        let rules: Vec<String> = design.rules.iter().map(AsRef::as_ref).filter(about).map(|rule| rule_link(&rule.name)).collect();
        if !rules.is_empty() {
            item(out, "rules", &rules.join(", "));
        }
        if out.len() > before {
            out.push('\n');
        }
        let group = |property: &Property| match (property.required, is_derived(property)) {
            (true, _) => "To be written",
            (false, false) => "May be written",
            (false, true) if property.follows => "Worked out",
            (false, true) => "Worked out, unless written",
        };
        for title in ["To be written", "May be written", "Worked out, unless written", "Worked out"] {
            let properties: Vec<&Property> = kind.properties.iter().filter(|property| group(property) == title).collect();
            if !properties.is_empty() {
                let _ = writeln!(out, "| {title} | | |\n| --- | --- | --- |");
                properties.iter().for_each(|property| self.property(property, out));
                out.push('\n');
            }
        }
        out.truncate(out.trim_end().len());
        out.push('\n');
    }

    fn property(&self, property: &Property, out: &mut String) {
        let mut says = of_type(self.session.design(), &property.ty).replace('|', "\\|");
        if property.whole {
            says.push_str(", whole");
        }
        for limit in &property.limits {
            let _ = write!(says, ", {} {}", limit.word.words(), code(&self.text_of(limit.value.span)));
        }
        let carries: Vec<&str> = self.session.design().carried_words(property.carries).collect();
        if !carries.is_empty() {
            let _ = write!(says, ", carries {}", carries.join(", "));
        }
        let mut meaning: Vec<String> = Vec::new();
        if !property.doc.is_empty() {
            meaning.push(plain(&property.doc));
        }
        if let Some(default) = &property.default {
            let text = code(&self.text_of(default.span));
            meaning.push(match &property.assumed {
                Some(because) => format!("assumed {text}: {}", plain(because)),
                None => format!("= {text}"),
            });
        }
        for usual in &property.usual {
            meaning.push(format!("usually {}: {}", code(&self.text_of(usual.range.span)), plain(&usual.because)));
        }
        if let Some(source) = &property.source {
            meaning.push(format!("*source*: {}", plain(source)));
        }
        let _ = writeln!(out, "| {} | {says} | {} |", code(&property.name), meaning.join("<br>"));
    }

    fn rules(&self) -> String {
        let design = self.session.design();
        let mut areas: Vec<&str> = Vec::new();
        for rule in &design.rules {
            if !areas.contains(&rule.area()) {
                areas.push(rule.area());
            }
        }
        let mut out = String::new();
        let links: Vec<String> = areas.iter().map(|area| format!("[{area}](#{area})")).collect();
        let _ = writeln!(out, "\n{}", links.join(" · "));
        for area in areas {
            let _ = writeln!(out, "\n## {area}");
            design.rules.iter().filter(|rule| rule.area() == area).for_each(|rule| self.rule(rule, &mut out));
        }
        out
    }

    fn rule(&self, rule: &Rule, out: &mut String) {
        let _ = writeln!(out, "\n### {}\n\n{}.\n", plain(&rule.name), plain(&rule.title));
        if rule.advice {
            item(out, "advice", "it never fails");
        }
        if rule.last_resort {
            item(out, "last resort", "told only where no other rule names what is missing");
        }
        if rule.by_line {
            item(out, "taken on", "line by line: a component, a dot, and the line");
        }
        let binders: Vec<String> = rule.each.iter().map(|binder| code(&self.text_of(binder.span))).collect();
        if let Some((name, word)) = &rule.stands_for {
            item(out, "for", &format!("{}: {}", code(name), code(word)));
        }
        item(out, "for each", &binders.join(" and "));
        for line in &rule.lets {
            item(out, "let", &format!("{} = {}", code(&line.name), code(&self.text_of(line.written))));
        }
        let expressions: [(&str, &Option<Arc<Expr>>); 9] = [
            ("where", &rule.when),
            ("demand", &rule.demand),
            ("capacity", &rule.capacity),
            ("requires", &rule.require),
            ("else tight if", &rule.tight_if),
            ("reserve", &rule.reserve),
            ("says", &rule.says),
            ("otherwise", &rule.otherwise),
            ("help", &rule.help),
        ];
        for (key, expr) in expressions {
            if let Some(expr) = expr {
                item(out, key, &code(&self.text_of(expr.span)));
            }
        }
        if let Some(state) = &rule.state {
            item(out, &state.of, &plain(&state.name));
        }
        let texts: [(&str, &Option<SmolStr>); 3] = [("source", &rule.source), ("note", &rule.note), ("caution", &rule.caution)];
        for (key, text) in texts {
            if let Some(text) = text {
                item(out, key, &plain(text));
            }
        }
    }

    #[expect(clippy::unused_self, reason = "a page like the others")]
    fn functions(&self) -> String {
        let mut out = String::new();
        for (subject, table) in formulas::all().subjects() {
            if table.is_empty() {
                continue;
            }
            let _ = writeln!(out, "\n## {}", plain(subject));
            for function in *table {
                let parameters: Vec<String> = function
                    .parameters
                    .iter()
                    .map(|parameter| if parameter.optional { format!("[{}]", parameter.name) } else { parameter.name.to_owned() })
                    .collect();
                let _ = writeln!(out, "\n### {}\n", plain(function.name));
                let _ = writeln!(out, "{}: {}.\n", code(&format!("{}({})", function.name, parameters.join(", "))), plain(function.doc));
                for parameter in function.parameters {
                    let _ = writeln!(out, "- {}: {}", code(parameter.name), plain(&of_parameter(parameter)));
                }
                item(&mut out, "gives", &plain(function.gives));
                item(&mut out, "source", &plain(function.source));
            }
        }
        out.push_str("\n## gathering over components\n\n");
        for (name, doc) in GATHERERS {
            let _ = writeln!(out, "- {}: {}", code(name), plain(doc));
        }
        let _ = writeln!(out, "- {}: whether a value can be worked out from what is written", code("given"));
        out
    }
}

/// A link to a rule's heading, by the names that hosts give to headings.
fn rule_link(name: &str) -> String {
    format!("[{}](rules.md#{})", plain(name), name.replace('.', ""))
}

fn units() -> String {
    let mut out = String::new();
    let mut seen: Vec<Dim> = Vec::new();
    for word in Dim::names() {
        let Some(dim) = Dim::named(word).filter(|dim| !seen.contains(dim)) else { continue };
        seen.push(dim);
        let units: Vec<_> = all_units().iter().filter(|unit| unit.dim == dim).collect();
        if units.is_empty() {
            continue;
        }
        let words: Vec<&str> = Dim::names().filter(|word| Dim::named(word) == Some(dim)).collect();
        let _ = writeln!(out, "\n## {}\n\n| unit | name | is | also | source |\n| --- | --- | --- | --- | --- |", plain(&words.join(", ")));
        for unit in units {
            let offset = if unit.offset == 0.0 { String::new() } else { format!(", and {} more", figures(unit.offset, 9)) };
            let also: Vec<String> = unit.aliases.iter().map(|alias| code(alias)).collect();
            let _ = writeln!(
                out,
                "| {} | {} | {} {}{offset} | {} | {} |",
                code(unit.symbol),
                plain(unit.name),
                figures(unit.factor, 12),
                plain(&unit.dim.base_units()),
                also.join(", "),
                plain(unit.source)
            );
        }
    }
    out
}

fn catalogues() -> String {
    let mut out = String::new();
    for name in trade::catalogue_names() {
        let Some(part) = trade::catalogue(name) else { continue };
        let _ = writeln!(out, "\n## {name}\n\n| entry | kind | |\n| --- | --- | --- |");
        for entry in trade::entries_of(part) {
            let name = entry.name.as_ref().map_or("", |name| name.text.as_str());
            let title = entry.title.as_ref().map_or("", |title| title.text.as_str());
            let _ = writeln!(out, "| {} | {} | {} |", code(name), plain(&entry.kind.text), plain(title));
        }
    }
    out
}

//! What editors colour, held against what the parser knows: the TextMate grammar run by the engine of Visual Studio Code,
//! the Vim syntax by Neovim, the tree-sitter grammar and its queries by tree-sitter's library.
//!
//! Those need programs that a machine may not have: `cargo test editor_support -- --ignored`, as `.ci/run` does it.

use serde_json::Value;
use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::process::Command;
use wallplate::syntax::tree::{Change, Component, Expr, Item, Let, Line, Node, Property, PropertyType, Rule};
use wallplate::syntax::{Joint, parse, tokens};
use wallplate::text::{FileId, Span};

/// What a stretch of text is to a reader.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Class {
    Comment,
    Text,
    Number,
    Unit,
    Date,
    Flag,
    Keyword,
    /// The kind that a block is of.
    Kind,
    /// A name that is given here, or a pattern or catalogue that is followed.
    Given,
    /// The first word of a line.
    Property,
    Function,
    /// Any other word.
    Word,
    /// An operator, a bracket, a comma.
    Sign,
}

/// Words that an expression keeps for itself, and those of a kind's properties.
const KEYWORDS: [&str; 25] = [
    "and", "or", "not", "if", "then", "else", "for", "in", "where", "to", "by", "like", "required", "default", "assumed", "because",
    "source", "carrying", "above", "below", "at_least", "at_most", "usually", "found", "guessed",
];
const OF_TYPES: [&str; 7] = ["link", "links", "one", "list", "range", "size", "of"];

/// The class of each byte of a text that the parser reads without a problem; `None` for blanks.
struct Known {
    classes: Vec<Option<Class>>,
    in_kind: bool,
}

impl Known {
    fn of(text: &str) -> Vec<Option<Class>> {
        let (tree, _) = parse(text, FileId::default());
        let mut known = Known { classes: vec![None; text.len()], in_kind: false };
        let declared = |item: &Item| match item {
            Item::Kind(block) => Some(block.span),
            Item::Words(words) => Some(words.block.span),
            _ => None,
        };
        let kinds: Vec<Span> = tree.items.iter().filter_map(declared).collect();
        let starts: Vec<u32> = tree.items.iter().map(|item| item.span().start).collect();
        for token in tokens(text) {
            known.in_kind = kinds.iter().any(|kind| kind.start <= token.span.start && token.span.end <= kind.end);
            let written = &text[token.span.start as usize..token.span.end as usize];
            let begins = starts.contains(&token.span.start) || token.joint == Joint::Begins && written == "each";
            let class = if begins { Class::Keyword } else { known.class(written) };
            known.mark(token.span, class);
            if written.starts_with('.') && written.len() > 1 && class == Class::Word {
                known.mark(Span { end: token.span.start + 1, ..token.span }, Class::Sign);
            }
        }
        tree.items.iter().for_each(|item| known.item(item));
        // A text with expressions in braces is one text to an editor.
        let is_text = |span: Span| text[span.start as usize..].starts_with('"');
        tokens(text).iter().filter(|token| is_text(token.span)).for_each(|token| known.mark(token.span, Class::Text));
        tree.comments.iter().for_each(|comment| known.mark(comment.span, Class::Comment));
        known.classes
    }

    fn class(&self, written: &str) -> Class {
        let first = written.chars().next().unwrap_or(' ');
        let second_is_digit = written.chars().nth(1).is_some_and(|sign| sign.is_ascii_digit());
        match first {
            '"' => Class::Text,
            '0'..='9' if written.len() == 10 && written.as_bytes()[4] == b'-' && written.as_bytes()[7] == b'-' => Class::Date,
            '0'..='9' => Class::Number,
            '.' if second_is_digit => Class::Number,
            '.' if written != ".." => Class::Word,
            _ if written == "yes" || written == "no" => Class::Flag,
            _ if KEYWORDS.contains(&written) || self.in_kind && OF_TYPES.contains(&written) => Class::Keyword,
            'a'..='z' => Class::Word,
            _ => Class::Sign,
        }
    }

    fn mark(&mut self, span: Span, class: Class) {
        self.classes[span.start as usize..span.end as usize].fill(Some(class));
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Use(line) if !line.is_file => self.mark(line.target.span, Class::Given),
            Item::Let(line) => self.named(line),
            Item::Component(block) | Item::Pattern(block) => self.component(block),
            Item::Variant(variant) => {
                self.mark(variant.name.span, Class::Given);
                variant.changes.components.iter().for_each(|change| self.change(change));
                variant.changes.lets.iter().for_each(|line| self.named(line));
            }
            Item::Measured(measured) => {
                measured.changes.components.iter().for_each(|change| self.change(change));
                measured.changes.lets.iter().for_each(|line| self.named(line));
            }
            Item::Accept(accept) => {
                self.mark(accept.rule.span, Class::Function);
                accept.lines.iter().for_each(|line| self.line(line));
            }
            Item::Kind(kind) | Item::Formula(kind) | Item::Table(kind) => {
                self.mark(kind.name.span, Class::Kind);
                kind.facts.iter().for_each(|line| self.line(line));
                kind.lets.iter().for_each(|line| self.named(line));
                kind.properties.iter().for_each(|property| self.declared(property));
            }
            Item::Words(words) => {
                self.mark(words.block.name.span, Class::Kind);
                words.block.facts.iter().for_each(|line| self.line(line));
                words.block.properties.iter().for_each(|line| self.declared(line));
            }
            Item::Rule(rule) => self.rule(rule),
            Item::Paper(paper) => self.rule(&paper.block),
            _ => {}
        }
    }

    fn declared(&mut self, property: &Property) {
        self.mark(property.name.span, Class::Property);
        match &property.ty {
            PropertyType::Link { kinds: words, .. } | PropertyType::OneOf(words) => {
                words.iter().for_each(|word| self.mark(word.span, Class::Word));
            }
            PropertyType::Plain(word)
            | PropertyType::ListOf(word)
            | PropertyType::RangeOf(word)
            | PropertyType::SizeOf(word)
            | PropertyType::As(word)
            | PropertyType::ItemOf(word)
            | PropertyType::RootOf(word) => {
                self.mark(word.span, Class::Word);
            }
        }
        property.carrying.iter().for_each(|word| self.mark(word.span, Class::Word));
        let limits = property.bounds.iter().map(|(_, limit)| limit).chain(property.usual.iter().map(|usual| &usual.range));
        property.default.iter().chain(limits).for_each(|value| self.value(value));
    }

    fn component(&mut self, block: &Component) {
        self.mark(block.kind.span, Class::Kind);
        block.name.iter().chain(&block.like).for_each(|name| self.mark(name.span, Class::Given));
        block.lines.iter().for_each(|line| self.line(line));
    }

    fn change(&mut self, change: &Change) {
        self.mark(change.name.span, Class::Given);
        change.lines.iter().for_each(|line| self.line(line));
    }

    fn named(&mut self, line: &Let) {
        self.mark(Span { end: line.span.start + 3, ..line.span }, Class::Keyword);
        self.mark(line.name.span, Class::Given);
        self.value(&line.value);
    }

    fn rule(&mut self, rule: &Rule) {
        std::iter::once(&rule.name).chain(&rule.also).for_each(|name| self.mark(name.span, Class::Function));
        if let Some(repeated) = &rule.repeated {
            std::iter::once(&repeated.name).chain(&repeated.words).for_each(|word| self.mark(word.span, Class::Word));
        }
        rule.lets.iter().for_each(|line| self.named(line));
        rule.lines.iter().for_each(|line| self.line(line));
        for binder in &rule.each {
            self.value(&binder.source);
            binder.condition.iter().for_each(|condition| self.value(condition));
        }
    }

    fn line(&mut self, line: &Line) {
        self.mark(line.name.span, Class::Property);
        self.value(&line.value);
    }

    fn value(&mut self, value: &Expr) {
        value.walk(&mut |expr| match &expr.node {
            Node::Quantity(parts) => parts.iter().filter_map(|part| part.unit.as_ref()).for_each(|unit| self.mark(unit.span, Class::Unit)),
            Node::Name(_) => self.mark(expr.span, Class::Word),
            Node::Aggregate { name, .. } => self.mark(name.span, Class::Function),
            Node::Call(name, arguments) => {
                self.mark(name.span, Class::Function);
                arguments.iter().filter_map(|argument| argument.name.as_ref()).for_each(|name| self.mark(name.span, Class::Word));
            }
            _ => {}
        });
    }
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn plates(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            plates(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "plate") {
            found.push(path);
        }
    }
}

/// Every example and every file of the trade library that the parser reads whole, with its text; of the broken examples, which are
/// hundreds and much alike, every fifth.
fn whole_texts() -> Vec<(String, String)> {
    let mut files = Vec::new();
    plates(&root().join("examples"), &mut files);
    plates(&root().join("src"), &mut files);
    let mut broken = 0;
    files.retain(|file| {
        let is_broken = file.parent().is_some_and(|folder| folder.ends_with("broken"));
        broken += usize::from(is_broken);
        !is_broken || broken % 5 == 1
    });
    let texts: Vec<(String, String)> = files
        .into_iter()
        .map(|file| (file.display().to_string(), std::fs::read_to_string(file).unwrap()))
        .filter(|(_, text)| parse(text, FileId::default()).1.is_empty())
        // What formulas take, and what paper may say, is the library's alone: there words of the language are names too.
        .filter(|(name, _)| !["/trade/formulas/", "/trade/forms/"].iter().any(|folder| name.contains(folder)))
        .collect();
    assert!(texts.len() > 90, "the examples and the library are there");
    texts
}

fn json_of(command: &mut Command) -> Value {
    let output = command.current_dir(root()).output().unwrap_or_else(|error| panic!("{command:?}: {error}"));
    assert!(output.status.success(), "{command:?}: {}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {}", String::from_utf8_lossy(&output.stdout)))
}

/// Holds the stretches that an editor colours (`[from, to, name]`, a later one over an earlier) against what the parser knows.
fn compare(file: &str, text: &str, runs: &Value, class_of: &HashMap<&str, Class>) -> Vec<String> {
    let known = Known::of(text);
    let mut painted: Vec<Option<&str>> = vec![None; text.len()];
    for run in runs.as_array().unwrap() {
        let at = |number: usize| usize::try_from(run[number].as_u64().unwrap()).unwrap();
        painted[at(0)..at(1)].fill(run[2].as_str());
    }
    let mut wrong = Vec::new();
    for (at, byte) in text.bytes().enumerate() {
        let Some(class) = known[at] else { continue };
        // The dots of a rule's name are no part of it to some.
        if byte.is_ascii_whitespace() || byte == b'.' && class == Class::Function {
            continue;
        }
        let name = painted[at].unwrap_or_default();
        // The longest beginning of a scope that says what it is.
        let said = class_of.iter().filter(|(scope, _)| name.starts_with(**scope)).max_by_key(|(scope, _)| scope.len());
        let said = said.map_or(Class::Sign, |(_, class)| *class);
        if said != class {
            let line = text[..at].matches('\n').count() + 1;
            wrong.push(format!("{file}:{line}: `{}` is {class:?} and painted as {name:?}", text[at..].chars().next().unwrap()));
        }
    }
    wrong
}

fn none_wrong(wrong: &[String]) {
    assert!(wrong.is_empty(), "{} places, of which\n{}", wrong.len(), wrong[..wrong.len().min(20)].join("\n"));
}

#[test]
#[ignore = "needs Node.js and the packages of editor-support/vscode"]
fn textmate_scopes_are_what_the_parser_knows() {
    // Names by the conventions of the TextMate manual, "Naming Conventions"; themes colour by their beginnings.
    let class_of = HashMap::from([
        ("comment.line.number-sign", Class::Comment),
        ("string.quoted.double", Class::Text),
        ("constant.numeric", Class::Number),
        ("keyword.other.unit", Class::Unit),
        ("constant.other.date", Class::Date),
        ("constant.language", Class::Flag),
        ("keyword.control", Class::Keyword),
        ("keyword.other", Class::Keyword),
        ("keyword.operator.logical", Class::Keyword),
        ("keyword.operator.word", Class::Keyword),
        ("storage.type", Class::Kind),
        ("entity.name.type", Class::Given),
        ("entity.name.namespace", Class::Given),
        ("support.type.property-name", Class::Property),
        ("entity.name.function", Class::Function),
        ("variable.", Class::Word),
    ]);
    let texts = whole_texts();
    let found =
        json_of(Command::new("node").args(["tests/tools/textmate.mjs", "editor-support/vscode"]).args(texts.iter().map(|(file, _)| file)));
    let wrong: Vec<String> = texts.iter().flat_map(|(file, text)| compare(file, text, &found[file], &class_of)).collect();
    none_wrong(&wrong);
}

/// Every third of them: Neovim takes a minute and more for all.
fn texts_for_neovim() -> Vec<(String, String)> {
    whole_texts().into_iter().step_by(3).collect()
}

/// What a script of `tests/tools` writes that Neovim runs over these files.
fn neovim(script: &str, texts: &[(String, String)]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let files: Vec<&str> = texts.iter().map(|(file, _)| file.as_str()).collect();
    let mut command = Command::new("nvim");
    command.current_dir(root()).args(["--headless", "-u", "NONE", "-n", "-c"]);
    command.arg(format!("luafile tests/tools/{script}.lua")).args(["-c", "quitall!"]);
    command.env("FILES", files.join("\n")).env("OUT", &out).env("PLUGIN", root().join("editor-support/vim"));
    let output = command.output().expect("nvim is installed");
    std::fs::read_to_string(out).unwrap_or_else(|_| panic!("{}", String::from_utf8_lossy(&output.stderr)))
}

#[test]
#[ignore = "needs Neovim"]
fn vim_indents_what_is_laid_out_as_it_stands() {
    let texts: Vec<(String, String)> =
        texts_for_neovim().into_iter().filter(|(_, text)| wallplate::tidy::tidy(text).is_ok_and(|laid_out| laid_out == *text)).collect();
    assert!(texts.len() > 50);
    assert_eq!(neovim("indent", &texts), "");
}

#[test]
#[ignore = "needs Neovim"]
fn vim_syntax_is_what_the_parser_knows() {
    let class_of = HashMap::from([
        ("wallplateComment", Class::Comment),
        ("wallplateString", Class::Text),
        ("wallplateKindTitle", Class::Text),
        ("wallplateChangesTitle", Class::Text),
        ("wallplateRuleTitle", Class::Text),
        ("wallplateKindPlus", Class::Sign),
        ("wallplateChangesPlus", Class::Sign),
        ("wallplateRulePlus", Class::Sign),
        ("wallplateRuleComma", Class::Sign),
        ("wallplateNumber", Class::Number),
        ("wallplateUnit", Class::Unit),
        ("wallplateDate", Class::Date),
        ("wallplateMeasuredOn", Class::Date),
        ("wallplateBoolean", Class::Flag),
        ("wallplateKeyword", Class::Keyword),
        ("wallplateMore", Class::Keyword),
        ("wallplateLetWord", Class::Keyword),
        ("wallplateLet", Class::Keyword),
        ("wallplateLetLine", Class::Sign),
        ("wallplateLike", Class::Keyword),
        ("wallplateList", Class::Sign),
        ("wallplateEach", Class::Keyword),
        ("wallplateClause", Class::Keyword),
        ("wallplateConditional", Class::Keyword),
        ("wallplateRepeat", Class::Keyword),
        ("wallplateWord", Class::Keyword),
        ("wallplateKind", Class::Kind),
        ("wallplateKindBlock", Class::Sign),
        ("wallplateKindOf", Class::Kind),
        ("wallplateDeclared", Class::Given),
        ("wallplateChangesName", Class::Given),
        ("wallplateChange", Class::Given),
        ("wallplateChanges", Class::Sign),
        ("wallplateUsed", Class::Given),
        ("wallplateRule", Class::Function),
        ("wallplateRuleBlock", Class::Sign),
        ("wallplateFunction", Class::Function),
        ("wallplateProperty", Class::Property),
        ("wallplateName", Class::Word),
        ("wallplateField", Class::Word),
        ("wallplateArgument", Class::Word),
    ]);
    let texts = texts_for_neovim();
    let found: Value = serde_json::from_str(&neovim("syntax", &texts)).unwrap();
    let wrong: Vec<String> = texts.iter().flat_map(|(file, text)| compare(file, text, &found[file], &class_of)).collect();
    none_wrong(&wrong);
}

#[test]
#[ignore = "needs Python with tree-sitter, and a C compiler"]
fn tree_sitter_reads_every_text_and_captures_what_the_parser_knows() {
    let class_of = HashMap::from([
        ("comment", Class::Comment),
        ("string", Class::Text),
        ("number", Class::Number),
        ("type.builtin", Class::Unit),
        ("constant", Class::Date),
        ("boolean", Class::Flag),
        ("keyword", Class::Keyword),
        ("type", Class::Kind),
        ("constructor", Class::Given),
        ("module", Class::Given),
        ("property", Class::Property),
        ("function", Class::Function),
        ("variable", Class::Word),
    ]);
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let texts = whole_texts();
    let found = json_of(
        Command::new(python).args(["tests/tools/parse_tree.py", "editor-support/tree-sitter"]).args(texts.iter().map(|(file, _)| file)),
    );
    for (file, _) in &texts {
        assert_eq!(found[file]["errors"], serde_json::json!([]), "{file}");
    }
    assert!(texts.iter().any(|(file, _)| found[file]["folds"].as_u64().unwrap() > 50), "blocks fold");
    let wrong: Vec<String> = texts.iter().flat_map(|(file, text)| compare(file, text, &found[file]["runs"], &class_of)).collect();
    none_wrong(&wrong);
}

/// What a snippet puts into a text when its defaults are taken.
fn expanded(lines: &Value) -> String {
    let mut text = String::new();
    for line in lines.as_array().unwrap() {
        let mut rest = line.as_str().unwrap();
        while let Some(at) = rest.find("${") {
            text.push_str(&rest[..at]);
            let inner = &rest[at + 2..];
            // A `}` of the text itself is written `\\}`.
            let end = inner.match_indices('}').find(|(end, _)| !inner[..*end].ends_with('\\')).expect("closed").0;
            let default = inner[..end].trim_start_matches(|sign: char| sign.is_ascii_digit());
            let default = default.strip_prefix(':').or_else(|| default.strip_prefix('|')?.split(',').next()).expect("a default");
            text.push_str(&default.replace("\\}", "}"));
            rest = &inner[end + 1..];
        }
        text.push_str(rest);
        text.push('\n');
    }
    text
}

#[test]
fn snippets_are_lines_of_the_language() {
    use wallplate::design::Choice;
    use wallplate::session::{NoShelf, Session};
    use wallplate::text::Source;
    let path = root().join("editor-support/vscode/snippets/wallplate.json");
    let snippets: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    for (name, snippet) in snippets.as_object().unwrap() {
        let text = expanded(&snippet["body"]);
        assert_eq!(parse(&text, FileId::default()).1, [], "{name}:\n{text}");
        let session = Session::read(vec![Source::new("snippet.plate", text.as_str())], &NoShelf, &Choice::default());
        // The components that it names stand elsewhere; kinds, properties, choices and units are known.
        let elsewhere = ["there is no `", "there is no component `", "is not a component of the design"];
        for problem in session.problems() {
            assert!(elsewhere.iter().any(|known| problem.message.contains(known)), "{name}: {}\n{text}", problem.message);
        }
        assert_eq!(wallplate::tidy::tidy(&text).unwrap(), text, "{name} is laid out");
    }
}

#[test]
fn the_hooks_name_commands_that_there_are() {
    let hooks = std::fs::read_to_string(root().join(".pre-commit-hooks.yaml")).unwrap();
    let entries = hooks.lines().filter_map(|line| line.strip_prefix("  entry: wallplate "));
    let started: Vec<&str> = entries.map(|entry| entry.split(' ').next().unwrap()).collect();
    assert_eq!(started.len(), 2);
    for command in started {
        let output = Command::new(env!("CARGO_BIN_EXE_wallplate")).args([command, "--help"]).output().unwrap();
        assert!(output.status.success(), "wallplate {command}");
    }
}

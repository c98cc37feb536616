//! Where the code can be changed, and into what: a parse of one file, a list of changes.

use proc_macro2::Span;
use std::collections::BTreeMap;
use std::ops::Range;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{BinOp, Expr, ItemConst, ItemStatic, Lit, ReturnType, Type, UnOp};

/// One change: what stands at `place` reads `text` instead.
#[derive(Debug, Clone)]
pub struct Change {
    /// Byte range of the file.
    pub place: Range<usize>,
    /// What it reads instead; of the body of a function, what it returns at once.
    pub text: String,
    /// The change in a few words.
    pub what: String,
    /// The body of a function is left at once.
    pub leaves: bool,
}

/// Constants of numbers, by name: whether they are a fraction (`f64`) or count.
pub type Constants = BTreeMap<String, bool>;

/// The constants that a file declares.
pub fn constants(file: &syn::File, into: &mut Constants) {
    struct Finder<'c>(&'c mut Constants);
    impl<'a> Visit<'a> for Finder<'_> {
        fn visit_item_const(&mut self, item: &'a ItemConst) {
            if let Type::Path(path) = &*item.ty {
                match path.path.segments.last().map(|segment| segment.ident.to_string()).as_deref() {
                    Some("f64") => drop(self.0.insert(item.ident.to_string(), true)),
                    Some("usize" | "u32" | "i32" | "u64") => drop(self.0.insert(item.ident.to_string(), false)),
                    _ => {}
                }
            }
        }
    }
    Finder(into).visit_file(file);
}

/// All changes of a file.
pub fn changes(text: &str, file: &syn::File, constants: &Constants) -> Vec<Change> {
    let mut finder = Finder { text, constants, found: Vec::new() };
    finder.visit_file(file);
    // What would hide the rest of its line cannot be woven in on one line.
    finder.found.retain(|change| !change.text.contains("//"));
    finder.found
}

struct Finder<'t> {
    text: &'t str,
    constants: &'t Constants,
    found: Vec<Change>,
}

impl Finder<'_> {
    fn of(&self, span: Span) -> &str {
        &self.text[span.byte_range()]
    }

    fn add(&mut self, place: Span, text: String, what: impl Into<String>) {
        self.found.push(Change { place: place.byte_range(), text, what: what.into(), leaves: false });
    }

    fn binary(&mut self, whole: &syn::ExprBinary) {
        let instead: &[&str] = match whole.op {
            BinOp::Add(_) => &["-"],
            BinOp::Sub(_) => &["+"],
            BinOp::Mul(_) => &["/"],
            BinOp::Div(_) => &["*"],
            BinOp::Rem(_) => &["/"],
            BinOp::Lt(_) => &["<=", ">"],
            BinOp::Le(_) => &["<", ">"],
            BinOp::Gt(_) => &[">=", "<"],
            BinOp::Ge(_) => &[">", "<"],
            BinOp::Eq(_) => &["!="],
            BinOp::Ne(_) => &["=="],
            BinOp::And(_) => &["||"],
            BinOp::Or(_) => &["&&"],
            _ => &[],
        };
        let (left, right, op) =
            (self.of(whole.left.span()).to_owned(), self.of(whole.right.span()).to_owned(), self.of(whole.op.span()).to_owned());
        for other in instead {
            self.add(whole.span(), format!("({left}) {other} ({right})"), format!("`{op}` reads `{other}`"));
        }
        if matches!(whole.op, BinOp::Add(_) | BinOp::Sub(_)) {
            self.add(whole.span(), left, format!("`{op} …` is left out"));
        }
    }

    fn call(&mut self, call: &syn::ExprMethodCall) {
        let receiver = self.of(call.receiver.span()).to_owned();
        let name = call.method.to_string();
        let other = match name.as_str() {
            "min" if call.args.len() == 1 => "max",
            "max" if call.args.len() == 1 => "min",
            "ceil" => "floor",
            "floor" => "ceil",
            "sin" => "cos",
            "cos" => "sin",
            "any" => "all",
            "all" => "any",
            "first" => "last",
            "last" => "first",
            "abs" if call.args.is_empty() => return self.add(call.span(), receiver, "`.abs()` is left out"),
            "sqrt" if call.args.is_empty() => return self.add(call.span(), receiver, "`.sqrt()` is left out"),
            _ => return,
        };
        let arguments = call.args.iter().map(|argument| self.of(argument.span())).collect::<Vec<_>>().join(", ");
        self.add(call.span(), format!("{receiver}.{other}({arguments})"), format!("`.{name}` reads `.{other}`"));
    }

    /// A function is left at once with an empty answer.
    fn body(&mut self, output: &ReturnType, block: &syn::Block, constant: bool) {
        let ReturnType::Type(_, ty) = output else { return };
        if constant || block.stmts.is_empty() {
            return;
        }
        let ty: String = self.of(ty.span()).split_whitespace().collect();
        let answers: &[&str] = match ty.as_str() {
            "bool" => &["true", "false"],
            "f64" => &["0.0", "1.0"],
            "usize" | "u32" => &["0"],
            "String" => &["String::new()"],
            "Result<f64,FormulaError>" => &["Ok(0.0)"],
            "Result<(),FormulaError>" | "Result<(),Lack>" => &["Ok(())"],
            _ if ty.starts_with("Option<") => &["None"],
            _ if ty.starts_with("Vec<") => &["Vec::new()"],
            _ => &[],
        };
        let open = block.brace_token.span.open().byte_range();
        for answer in answers {
            let what = format!("answers `{answer}` at once");
            self.found.push(Change { place: open.end..open.end, text: (*answer).to_owned(), what, leaves: true });
        }
    }
}

impl<'a> Visit<'a> for Finder<'_> {
    fn visit_expr(&mut self, expr: &'a Expr) {
        match expr {
            // `let` inside of it: no value of its own.
            Expr::Binary(whole) if self.of(whole.span()).contains("let ") => {}
            Expr::Binary(whole) => self.binary(whole),
            Expr::MethodCall(call) => self.call(call),
            Expr::Unary(unary) if matches!(unary.op, UnOp::Neg(_) | UnOp::Not(_)) => {
                let inner = self.of(unary.expr.span()).to_owned();
                self.add(unary.span(), inner, format!("`{}` is left out", self.of(unary.op.span())));
            }
            Expr::Lit(literal) => match &literal.lit {
                Lit::Float(number) => {
                    let zero = number.base10_parse::<f64>().is_ok_and(|value| value == 0.0);
                    let other = if zero { "1.0".to_owned() } else { format!("({number} * 1.1)") };
                    self.add(literal.span(), other.clone(), format!("`{number}` reads `{other}`"));
                }
                Lit::Int(number) => self.add(literal.span(), format!("({number} + 1)"), format!("`{number}` reads one more")),
                Lit::Bool(word) => self.add(literal.span(), (!word.value).to_string(), format!("`{}` reads its opposite", word.value)),
                _ => {}
            },
            Expr::Path(path) if path.qself.is_none() => {
                let name = path.path.segments.last().map(|segment| segment.ident.to_string()).unwrap_or_default();
                let own = self.of(path.span()).to_owned();
                match self.constants.get(&name) {
                    Some(true) => self.add(path.span(), format!("({own} * 1.1)"), format!("`{name}` is a tenth more")),
                    Some(false) => self.add(path.span(), format!("({own} + 1)"), format!("`{name}` is one more")),
                    None => {}
                }
            }
            _ => {}
        }
        visit::visit_expr(self, expr);
    }

    // What is worked out while compiling cannot be chosen when it runs.
    fn visit_item_const(&mut self, _: &'a ItemConst) {}
    fn visit_item_static(&mut self, _: &'a ItemStatic) {}
    fn visit_impl_item_const(&mut self, _: &'a syn::ImplItemConst) {}
    fn visit_type(&mut self, _: &'a Type) {}
    fn visit_pat(&mut self, _: &'a syn::Pat) {}
    fn visit_attribute(&mut self, _: &'a syn::Attribute) {}
    fn visit_expr_repeat(&mut self, _: &'a syn::ExprRepeat) {}
    fn visit_generic_argument(&mut self, _: &'a syn::GenericArgument) {}

    fn visit_item_fn(&mut self, item: &'a syn::ItemFn) {
        if item.sig.constness.is_none() {
            self.body(&item.sig.output, &item.block, false);
            visit::visit_block(self, &item.block);
        }
    }

    fn visit_impl_item_fn(&mut self, item: &'a syn::ImplItemFn) {
        if item.sig.constness.is_none() {
            self.body(&item.sig.output, &item.block, false);
            visit::visit_block(self, &item.block);
        }
    }
}

//! Each request with its answer: what the desk says, in the words of the protocol.

use super::Server;
use super::messages::{Refusal, parsed, refuse};
use super::showing::DeskPlaces;
use crate::editor::actions::actions;
use crate::editor::complete::complete;
use crate::editor::desk::Desk;
use crate::editor::folds::{Fold, folds};
use crate::editor::hints::{Hint, hints};
use crate::editor::hover::hover;
use crate::editor::protocol::{self, Places, markdown};
use crate::editor::rename::{nameable, rename};
use crate::editor::symbols::{self, Entry, Sort, named_like, outline};
use crate::problem::Mend;
use crate::text::Span;
use crate::tidy::{TidyError, tidy};
use gen_lsp_types::{
    CodeAction, CodeActionKind, CodeActionParams, CompletionList, CompletionParams, Contents, Diagnostic, DocumentFormattingParams,
    DocumentSymbol, DocumentSymbolParams, FoldingRange, FoldingRangeKind, FoldingRangeParams, Hover, HoverParams, InlayHint,
    InlayHintParams, Label, Location, Position, PrepareRenameParams, PrepareRenamePlaceholder, Range, RenameParams, SemanticTokensParams,
    SymbolKind, TextEdit, Tooltip, Uri, WorkspaceEdit, WorkspaceSymbolParams,
};
use lsp_server::ErrorCode;
use serde::Serialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Names of a folder that are told at once.
const MOST_SYMBOLS: usize = 500;

pub(super) fn told(value: impl Serialize) -> Result<Value, Refusal> {
    serde_json::to_value(value).map_err(|error| refuse(ErrorCode::InternalError, error.to_string()))
}

impl Server<'_> {
    /// Answers a request about the designs.
    pub(super) fn asked(&mut self, method: &str, params: Value) -> Result<Value, Refusal> {
        match method {
            "textDocument/hover" => self.hover(&parsed(params)?),
            "textDocument/completion" => self.completion(&parsed(params)?),
            "textDocument/definition" => self.definition(&parsed(params)?),
            "textDocument/references" => self.references(&parsed(params)?),
            "textDocument/documentHighlight" => self.highlights(&parsed(params)?),
            "textDocument/prepareRename" => self.prepare_rename(&parsed(params)?),
            "textDocument/rename" => self.rename(&parsed(params)?),
            "textDocument/documentSymbol" => self.document_symbols(&parsed(params)?),
            "workspace/symbol" => self.workspace_symbols(&parsed(params)?),
            "textDocument/foldingRange" => self.folding(&parsed(params)?),
            "textDocument/formatting" => self.formatting(&parsed(params)?),
            "textDocument/semanticTokens/full" => {
                let params: SemanticTokensParams = parsed(params)?;
                self.colours(&params.text_document.uri.0)
            }
            "textDocument/semanticTokens/full/delta" => self.new_colours(&parsed(params)?),
            "textDocument/semanticTokens/range" => self.colours_between(&parsed(params)?),
            "textDocument/inlayHint" => self.hints(&parsed(params)?),
            "textDocument/codeAction" => self.actions(&parsed(params)?),
            _ => Err(refuse(ErrorCode::MethodNotFound, format!("`{method}` is not known here"))),
        }
    }

    /// The byte offset of a place in an open text.
    pub(super) fn offset(&self, uri: &str, position: Position) -> u32 {
        self.documents.get(uri).map_or(0, |document| self.encoding.offset(document.text(), document.lines(), position))
    }

    fn hover(&mut self, params: &HoverParams) -> Result<Value, Refusal> {
        let (uri, position) = at(&params.text_document_position_params);
        let offset = self.offset(uri, position);
        let (desk, file) = self.desk(uri)?;
        let found = hover(desk, file, offset).map(|(span, text)| (desk.sources().settle(span), text));
        let found = found.map(|(span, text)| (self.range_in(uri, span), text));
        told(found.map(|(range, text)| Hover { contents: Contents::MarkupContent(markdown(text)), range: Some(range) }))
    }

    /// A range in an open text.
    pub(super) fn range_in(&self, uri: &str, span: Span) -> Range {
        self.documents.get(uri).map_or_else(Range::default, |document| {
            let at = |offset| self.encoding.position(document.text(), document.lines(), offset);
            Range { start: at(span.start), end: at(span.end) }
        })
    }

    fn completion(&mut self, params: &CompletionParams) -> Result<Value, Refusal> {
        let (uri, position) = at(&params.text_document_position_params);
        let offset = self.offset(uri, position);
        let files = self.files_beside(uri);
        let (desk, file) = self.desk(uri)?;
        let (from, offers) = complete(desk, file, offset, &files);
        let start = u32::try_from(from).unwrap_or(offset).min(offset);
        let range = self.range_in(uri, Span { file, start, end: offset });
        told(CompletionList {
            is_incomplete: false,
            item_defaults: None,
            apply_kind: None,
            items: offers.iter().map(|offer| protocol::completion(offer, range)).collect(),
        })
    }

    fn prepare_rename(&mut self, params: &PrepareRenameParams) -> Result<Value, Refusal> {
        let (uri, position) = at(&params.text_document_position_params);
        let offset = self.offset(uri, position);
        let (desk, file) = self.desk(uri)?;
        let one = nameable(desk, file, offset).map_err(|reason| refuse(ErrorCode::RequestFailed, reason))?;
        let placeholder = one.symbol.name().to_string();
        let span = desk.sources().settle(one.span);
        told(PrepareRenamePlaceholder { range: self.range_in(uri, span), placeholder })
    }

    fn rename(&mut self, params: &RenameParams) -> Result<Value, Refusal> {
        let (uri, position) = at(&params.text_document_position_params);
        let offset = self.offset(uri, position);
        let (desk, file) = self.desk(uri)?;
        let mut mends = rename(desk, file, offset, &params.new_name).map_err(|reason| refuse(ErrorCode::RequestFailed, reason))?;
        mends.iter_mut().for_each(|mend| mend.span = desk.sources().settle(mend.span));
        self.keeps_its_meaning(uri, &mends)?;
        told(self.desk_of(uri).map(|(desk, _)| self.edit(desk, &mends)))
    }

    /// A change of the texts, by file; with versions where the editor takes them.
    fn edit(&self, desk: &Desk, mends: &[Mend]) -> WorkspaceEdit {
        let places = DeskPlaces { server: self, desk };
        let mut by_file: BTreeMap<String, Vec<TextEdit>> = BTreeMap::new();
        for mend in mends {
            if let Some(Location { uri, range }) = places.location(mend.span) {
                by_file.entry(uri.0).or_default().push(TextEdit { range, new_text: mend.text.clone() });
            }
        }
        if !self.versioned {
            let changes = by_file.into_iter().map(|(uri, edits)| (Uri(uri), edits)).collect();
            return WorkspaceEdit { changes: Some(changes), ..WorkspaceEdit::default() };
        }
        let changes = by_file.into_iter().map(|(uri, edits)| {
            let version = self.documents.get(&uri).map(|document| document.version);
            gen_lsp_types::DocumentChange::TextDocumentEdit(gen_lsp_types::TextDocumentEdit {
                text_document: gen_lsp_types::OptionalVersionedTextDocumentIdentifier {
                    version,
                    text_document_identifier: gen_lsp_types::TextDocumentIdentifier { uri: Uri(uri) },
                },
                edits: edits.into_iter().map(gen_lsp_types::Edit::TextEdit).collect(),
            })
        });
        WorkspaceEdit { document_changes: Some(changes.collect()), ..WorkspaceEdit::default() }
    }

    fn document_symbols(&mut self, params: &DocumentSymbolParams) -> Result<Value, Refusal> {
        let uri = &params.text_document.uri.0;
        let (desk, file) = self.desk(uri)?;
        let mut entries = outline(desk, file);
        entries.iter_mut().for_each(|entry| entry.settle(desk.sources()));
        told(entries.iter().map(|entry| self.document_symbol(uri, entry)).collect::<Vec<_>>())
    }

    fn document_symbol(&self, uri: &str, entry: &Entry) -> DocumentSymbol {
        let (range, name) = (self.range_in(uri, entry.span), self.range_in(uri, entry.name_span));
        let children: Vec<DocumentSymbol> = entry.children.iter().map(|child| self.document_symbol(uri, child)).collect();
        let text = |text: &str| (!text.is_empty()).then(|| text.to_owned());
        #[expect(deprecated, reason = "a field that may be left empty, and has no other way to be")]
        DocumentSymbol {
            name: entry.name.clone(),
            detail: text(&entry.detail),
            kind: symbol_kind(entry.sort),
            tags: None,
            deprecated: None,
            range,
            selection_range: name,
            children: (!children.is_empty()).then_some(children),
        }
    }

    fn workspace_symbols(&mut self, params: &WorkspaceSymbolParams) -> Result<Value, Refusal> {
        let found: Vec<(String, Vec<Entry>)> = {
            let named = |desk: &Desk| {
                let mut entries = named_like(desk, &params.query);
                entries.truncate(MOST_SYMBOLS);
                let first = desk.sources().own().next().map(|(_, source)| source.name.clone()).unwrap_or_default();
                (first, entries)
            };
            self.desks().map(named).collect()
        };
        let mut symbols: Vec<Value> = Vec::new();
        for (root, entries) in found {
            let Some(desk) = self.read_desk(&root) else { continue };
            let places = DeskPlaces { server: self, desk };
            for entry in entries {
                if let Some(location) = places.location(entry.name_span) {
                    symbols.push(
                        json!({ "name": entry.name, "kind": symbol_kind(entry.sort), "location": location, "containerName": entry.detail }),
                    );
                }
            }
        }
        symbols.dedup();
        Ok(Value::Array(symbols))
    }

    fn folding(&mut self, params: &FoldingRangeParams) -> Result<Value, Refusal> {
        let (desk, file) = self.desk(&params.text_document.uri.0)?;
        let range = |(start_line, end_line, fold): (u32, u32, Fold)| FoldingRange {
            start_line,
            end_line,
            kind: match fold {
                Fold::Block => None,
                Fold::Comment => Some(FoldingRangeKind::Comment),
                Fold::Uses => Some(FoldingRangeKind::Imports),
            },
            ..FoldingRange::default()
        };
        told(folds(desk, file).into_iter().map(range).collect::<Vec<_>>())
    }

    fn formatting(&mut self, params: &DocumentFormattingParams) -> Result<Value, Refusal> {
        let uri = &params.text_document.uri.0;
        let document = self.documents.get(uri).ok_or_else(|| refuse(ErrorCode::InvalidParams, format!("`{uri}` is not open")))?;
        let laid_out = match tidy(document.text()) {
            Ok(laid_out) => laid_out,
            Err(TidyError::Unreadable(problems)) => {
                let first = problems.first().map(|problem| format!(": {}", problem.message)).unwrap_or_default();
                return Err(refuse(ErrorCode::RequestFailed, format!("the text is left as it is until its mistakes are mended{first}")));
            }
            Err(error @ TidyError::WouldChange) => return Err(refuse(ErrorCode::RequestFailed, error.to_string())),
        };
        told(self.differences(uri, &laid_out))
    }

    /// The changes that turn an open text into another, line by line, so that a cursor stays where it is.
    fn differences(&self, uri: &str, to: &str) -> Vec<TextEdit> {
        let Some(document) = self.documents.get(uri) else { return Vec::new() };
        let diff = similar::TextDiff::from_lines(document.text(), to);
        let line = |at: usize| Position { line: u32::try_from(at).unwrap_or(u32::MAX), character: 0 };
        let end = self.encoding.position(document.text(), document.lines(), u32::try_from(document.text().len()).unwrap_or(u32::MAX));
        // Past a last line without its newline there is no next line to begin at.
        let place = |at: usize| line(at).min(end);
        diff.ops()
            .iter()
            .filter(|op| op.tag() != similar::DiffTag::Equal)
            .map(|op| TextEdit {
                range: Range { start: place(op.old_range().start), end: place(op.old_range().end) },
                new_text: diff
                    .iter_changes(op)
                    .filter(|change| change.tag() == similar::ChangeTag::Insert)
                    .map(|change| change.value())
                    .collect(),
            })
            .collect()
    }

    fn hints(&mut self, params: &InlayHintParams) -> Result<Value, Refusal> {
        let uri = &params.text_document.uri.0;
        let (start, end) = (self.offset(uri, params.range.start), self.offset(uri, params.range.end));
        let (desk, file) = self.desk(uri)?;
        let mut found = hints(desk, file, start, end);
        found.iter_mut().for_each(|hint| hint.at = desk.sources().settle(hint.at));
        let hint = |hint: Hint| InlayHint {
            position: self.range_in(uri, hint.at).end,
            label: Label::String(hint.text),
            kind: None,
            text_edits: None,
            tooltip: (!hint.more.is_empty()).then_some(Tooltip::String(hint.more)),
            padding_left: Some(true),
            padding_right: None,
            data: None,
        };
        told(found.into_iter().map(hint).collect::<Vec<_>>())
    }

    fn actions(&mut self, params: &CodeActionParams) -> Result<Value, Refusal> {
        let uri = &params.text_document.uri.0;
        let fixes = |only: &Vec<CodeActionKind>| only.iter().any(|kind| matches!(kind, CodeActionKind::QuickFix | CodeActionKind::Empty));
        if !params.context.only.as_ref().is_none_or(fixes) {
            return told(Vec::<CodeAction>::new());
        }
        let (start, end) = (self.offset(uri, params.range.start), self.offset(uri, params.range.end));
        let (desk, file) = self.desk(uri)?;
        let found = actions(desk, file, start.min(end), start.max(end));
        let Some((desk, _)) = self.desk_of(uri) else { return Ok(Value::Null) };
        let places = DeskPlaces { server: self, desk };
        let mut told_actions: Vec<CodeAction> = Vec::new();
        for (notice, mends) in found {
            let diagnostic: Diagnostic = protocol::diagnostic(&notice, &places);
            let only = mends.len() == 1;
            for mend in mends {
                told_actions.push(CodeAction {
                    title: mend.title.clone(),
                    kind: Some(CodeActionKind::QuickFix),
                    diagnostics: Some(vec![diagnostic.clone()]),
                    is_preferred: only.then_some(true),
                    edit: Some(self.edit(desk, std::slice::from_ref(&mend))),
                    ..CodeAction::default()
                });
            }
        }
        told(told_actions)
    }
}

pub(super) fn at(params: &gen_lsp_types::TextDocumentPositionParams) -> (&str, Position) {
    (&params.text_document.uri.0, params.position)
}

fn symbol_kind(sort: symbols::Sort) -> SymbolKind {
    match sort {
        Sort::Component => SymbolKind::Object,
        Sort::Array => SymbolKind::Array,
        Sort::Named => SymbolKind::Constant,
        Sort::Pattern => SymbolKind::Interface,
        Sort::Block => SymbolKind::Namespace,
        Sort::Kind => SymbolKind::Class,
        Sort::Property => SymbolKind::Property,
        Sort::Rule => SymbolKind::Function,
        Sort::Taken => SymbolKind::Module,
    }
}

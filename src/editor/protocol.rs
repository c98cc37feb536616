//! From what is found to the types of the protocol: places, notices, offers, symbols.
//!
//! Source: LSP 3.17. What is decided here is only how a thing is called there.

use super::colours;
use super::complete::{Offer, Sort};
use super::documents::Encoding;
use super::notices::{Notice, Weight};
use crate::problem::Place;
use crate::text::{Source, Span};
use gen_lsp_types::{
    ChangeNotifications, CodeActionKind, CodeActionOptions, CodeActionProvider, CompletionItem, CompletionItemKind, CompletionItemTextEdit,
    CompletionOptions, DefinitionProvider, Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, DocumentFormattingProvider,
    DocumentHighlightProvider, DocumentSymbolProvider, Documentation, FoldingRangeProvider, Full, HoverProvider, InlayHintProvider,
    Location, MarkupContent, MarkupKind, PositionEncodingKind, Range, ReferencesProvider, RenameOptions, RenameProvider,
    SemanticTokensFullDelta, SemanticTokensLegend, SemanticTokensOptions, SemanticTokensOptionsRange, SemanticTokensProvider,
    ServerCapabilities, TextDocumentSync, TextDocumentSyncKind, TextDocumentSyncOptions, TextEdit, Uri, WorkspaceFoldersServerCapabilities,
    WorkspaceOptions, WorkspaceSymbolProvider,
};

/// Under which name notices are shown.
pub const NAME: &str = "wallplate";

/// What this server can do.
#[must_use]
pub fn capabilities(encoding: Encoding) -> ServerCapabilities {
    ServerCapabilities {
        position_encoding: Some(match encoding {
            Encoding::Utf8 => PositionEncodingKind::UTF8,
            Encoding::Utf16 => PositionEncodingKind::UTF16,
        }),
        text_document_sync: Some(TextDocumentSync::Options(TextDocumentSyncOptions {
            open_close: Some(true),
            change: Some(TextDocumentSyncKind::Incremental),
            ..TextDocumentSyncOptions::default()
        })),
        hover_provider: Some(HoverProvider::Bool(true)),
        completion_provider: Some(CompletionOptions {
            trigger_characters: Some([".", " ", "\""].map(str::to_owned).to_vec()),
            ..CompletionOptions::default()
        }),
        definition_provider: Some(DefinitionProvider::Bool(true)),
        references_provider: Some(ReferencesProvider::Bool(true)),
        document_highlight_provider: Some(DocumentHighlightProvider::Bool(true)),
        document_symbol_provider: Some(DocumentSymbolProvider::Bool(true)),
        workspace_symbol_provider: Some(WorkspaceSymbolProvider::Bool(true)),
        folding_range_provider: Some(FoldingRangeProvider::Bool(true)),
        document_formatting_provider: Some(DocumentFormattingProvider::Bool(true)),
        rename_provider: Some(RenameProvider::RenameOptions(RenameOptions { prepare_provider: Some(true), ..RenameOptions::default() })),
        code_action_provider: Some(CodeActionProvider::CodeActionOptions(CodeActionOptions {
            code_action_kinds: Some(vec![CodeActionKind::QuickFix]),
            ..CodeActionOptions::default()
        })),
        inlay_hint_provider: Some(InlayHintProvider::Bool(true)),
        semantic_tokens_provider: Some(SemanticTokensProvider::SemanticTokensOptions(SemanticTokensOptions {
            legend: SemanticTokensLegend {
                token_types: colours::TYPES.map(str::to_owned).to_vec(),
                token_modifiers: colours::MODIFIERS.map(str::to_owned).to_vec(),
            },
            full: Some(Full::SemanticTokensFullDelta(SemanticTokensFullDelta { delta: Some(true) })),
            range: Some(SemanticTokensOptionsRange::Bool(true)),
            ..SemanticTokensOptions::default()
        })),
        workspace: Some(WorkspaceOptions {
            workspace_folders: Some(WorkspaceFoldersServerCapabilities {
                supported: Some(true),
                change_notifications: Some(ChangeNotifications::Bool(true)),
            }),
            ..WorkspaceOptions::default()
        }),
        ..ServerCapabilities::default()
    }
}

/// What a place needs to become a range of the protocol.
pub trait Places {
    /// The file of a span, its address, and the span as the file counts; nothing for one that the editor cannot open.
    fn source(&self, span: Span) -> Option<(&Source, Uri, Span)>;
    /// How the editor counts.
    fn encoding(&self) -> Encoding;

    /// Where a span stands.
    fn location(&self, span: Span) -> Option<Location> {
        let (source, uri, span) = self.source(span)?;
        Some(Location { uri, range: self.encoding().range(source, span.start, span.end) })
    }

    /// The range of a span in its file.
    fn range(&self, span: Span) -> Range {
        self.source(span).map_or_else(Range::default, |(source, _, span)| self.encoding().range(source, span.start, span.end))
    }
}

/// What is said at a place besides the one where a notice is shown.
#[must_use]
pub fn at_related(place: &Place) -> &str {
    if place.label.is_empty() { "it stands on this" } else { &place.label }
}

/// A notice as a diagnostic.
#[must_use]
pub fn diagnostic(notice: &Notice, places: &dyn Places) -> Diagnostic {
    let related = |place: &Place| {
        let location = places.location(place.span)?;
        Some(DiagnosticRelatedInformation { location, message: at_related(place).to_owned() })
    };
    let related: Vec<DiagnosticRelatedInformation> = notice.related.iter().filter_map(related).collect();
    Diagnostic {
        range: notice.span.map(|span| places.range(span)).unwrap_or_default(),
        severity: Some(match notice.weight {
            Weight::Error => DiagnosticSeverity::Error,
            Weight::Warning => DiagnosticSeverity::Warning,
            Weight::Information => DiagnosticSeverity::Information,
            Weight::Hint => DiagnosticSeverity::Hint,
        }),
        code: notice.rule.clone().map(Into::into),
        source: Some(NAME.to_owned()),
        message: notice.message.clone().into(),
        related_information: (!related.is_empty()).then_some(related),
        ..Diagnostic::default()
    }
}

/// An offer as an item of completion that replaces `range`.
#[must_use]
pub fn completion(offer: &Offer, range: Range) -> CompletionItem {
    let text = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    CompletionItem {
        label: offer.label.clone(),
        kind: Some(match offer.sort {
            Sort::Keyword => CompletionItemKind::Keyword,
            Sort::Kind => CompletionItemKind::Class,
            Sort::Property => CompletionItemKind::Property,
            Sort::Component => CompletionItemKind::Reference,
            Sort::Named => CompletionItemKind::Constant,
            Sort::Pattern => CompletionItemKind::Interface,
            Sort::Choice => CompletionItemKind::EnumMember,
            Sort::Unit => CompletionItemKind::Unit,
            Sort::Function => CompletionItemKind::Function,
            Sort::Catalogue => CompletionItemKind::Module,
            Sort::File => CompletionItemKind::File,
            Sort::Rule => CompletionItemKind::Event,
        }),
        detail: text(&offer.detail),
        documentation: text(&offer.doc).map(|value| Documentation::MarkupContent(markdown(value))),
        sort_text: Some(format!("{}{}", offer.rank, offer.label)),
        text_edit: Some(CompletionItemTextEdit::TextEdit(TextEdit { range, new_text: offer.text.clone() })),
        ..CompletionItem::default()
    }
}

/// A text for people.
#[must_use]
pub fn markdown(value: String) -> MarkupContent {
    MarkupContent { kind: MarkupKind::Markdown, value }
}

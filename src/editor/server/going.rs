//! From a word to where it gets its name and to where else it stands: in the design, and in the library's own files,
//! which lie on the disk for that, to be read only.

use super::Server;
use super::messages::Refusal;
use super::requests::{at, told};
use super::showing::DeskPlaces;
use crate::editor::desk::Desk;
use crate::editor::files::{self, uri_of};
use crate::editor::listing;
use crate::editor::protocol::Places;
use crate::editor::uses::{Symbol, Use};
use crate::text::{FileId, Span};
use crate::trade;
use gen_lsp_types::{
    DefinitionParams, DocumentHighlight, DocumentHighlightParams, Location, Position, Range, ReferenceParams, TextDocumentPositionParams,
    Uri,
};
use serde_json::Value;
use std::path::Path;

impl Server<'_> {
    pub(super) fn definition(&mut self, params: &DefinitionParams) -> Result<Value, Refusal> {
        let Some((this, desk, file, one)) = self.used_at(&params.text_document_position_params)? else { return Ok(Value::Null) };
        let top = |file: FileId| Span { file, start: 0, end: 0 };
        told(match &one.symbol {
            Symbol::File(target) => {
                let from = desk.sources().get(file).map(|source| source.name.clone()).unwrap_or_default();
                let used = files::used_by(Path::new(&from), &format!("use \"{target}\""));
                let known = used.first().map(|path| path.display().to_string()).filter(|name| desk.file(name).is_some());
                known.map(|name| Location { uri: this.uri(&name), range: Range::default() })
            }
            Symbol::Catalogue(name) => trade::catalogue(name).and_then(|part| this.location(desk, top(FileId::built_in(part.place)))),
            Symbol::Function(name) => this.in_listing(name),
            Symbol::Local(_) => desk.references(&one.symbol, &one).first().and_then(|first| this.location(desk, first.span)),
            symbol => desk.definition(symbol).and_then(|span| this.location(desk, span)),
        })
    }

    /// What a place of an open text uses, with the design and the file that it is in.
    fn used_at(&mut self, place: &TextDocumentPositionParams) -> Result<Option<(&Self, &Desk, FileId, Use)>, Refusal> {
        let (uri, position) = at(place);
        let offset = self.offset(uri, position);
        self.desk(uri)?;
        let this: &Self = self;
        Ok(this.desk_of(uri).and_then(|(desk, file)| Some((this, desk, file, desk.use_at(file, offset)?))))
    }

    /// Where a span stands: in the design, or in a file of the library.
    fn location(&self, desk: &Desk, span: Span) -> Option<Location> {
        let Some(part) = trade::part(span.file) else { return DeskPlaces { server: self, desk }.location(span) };
        let open = self.library.iter().find(|(_, file)| **file == span.file).map(|(uri, _)| uri.clone());
        let uri = match open {
            Some(uri) => uri,
            None => uri_of(&self.world.disk.keep(part.path, part.text)?),
        };
        Some(Location { uri: Uri(uri), range: self.encoding.range(part.as_source(), span.start, span.end) })
    }

    /// Where a function is described.
    fn in_listing(&self, name: &str) -> Option<Location> {
        let (text, line) = listing::functions(name)?;
        let place = Position { line, character: 0 };
        Some(Location { uri: Uri(uri_of(&self.world.disk.keep(listing::FUNCTIONS, &text)?)), range: Range { start: place, end: place } })
    }

    pub(super) fn references(&mut self, params: &ReferenceParams) -> Result<Value, Refusal> {
        let Some((this, desk, _, one)) = self.used_at(&params.text_document_position_params)? else { return Ok(Value::Null) };
        let declared = params.context.include_declaration;
        let wanted = |place: &Use| declared || !place.defines;
        let mut spans: Vec<Span> = desk.references(&one.symbol, &one).into_iter().filter(wanted).map(|place| place.span).collect();
        spans.extend(desk.definition(&one.symbol).filter(|span| declared && span.file.is_built_in()));
        told(spans.into_iter().filter_map(|span| this.location(desk, span)).collect::<Vec<_>>())
    }

    pub(super) fn highlights(&mut self, params: &DocumentHighlightParams) -> Result<Value, Refusal> {
        let (uri, position) = at(&params.text_document_position_params);
        let offset = self.offset(uri, position);
        let (desk, file) = self.desk(uri)?;
        let Some(one) = desk.use_at(file, offset) else { return Ok(Value::Null) };
        let all = match one.symbol {
            Symbol::Local(_) => desk.references(&one.symbol, &one),
            _ => desk.uses_in(file).into_iter().filter(|other| other.symbol == one.symbol).collect(),
        };
        let spans: Vec<Span> = all.into_iter().map(|place| desk.sources().settle(place.span)).collect();
        told(spans.into_iter().map(|span| DocumentHighlight { range: self.range_in(uri, span), kind: None }).collect::<Vec<_>>())
    }
}

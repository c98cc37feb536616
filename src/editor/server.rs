//! The conversation with one editor: what is open, which designs that makes, who is answered what.
//!
//! In: the messages of the editor, in their order. Out: answers, and notices about every file of the
//! designs that are open. A design is read again where one of its texts has changed and somebody asks,
//! or nothing else is waiting. No request takes the others down: each is answered, with an error if need be.

use super::desk::Desk;
use super::documents::{Document, Encoding};
use super::files::{Disk, Uses, path_of, uri_of};
use super::notices::{Notice, notices};
use super::protocol::{self, Places};
use crate::problem::Mend;
use crate::rules::Options;
use crate::session::{NoShelf, Shelf};
use crate::syntax::tree::Date;
use crate::text::{LARGEST_FILE, Source, Span};
use crate::values::{Halt, unless_halted};
use gen_lsp_types::{
    Diagnostic, DidChangeTextDocumentParams, DidChangeWatchedFilesParams, DidChangeWorkspaceFoldersParams, DidCloseTextDocumentParams,
    DidOpenTextDocumentParams, InitializeParams, PositionEncodingKind, TextDocumentContentChangeEvent, Uri, WorkspaceFolders,
};
use lsp_server::{ErrorCode, Notification, Request, RequestId, ResponseError};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::collections::{BTreeMap, HashMap};
use std::path::{Path, PathBuf};

/// Something to send to the editor, as the text of its message.
pub type Sent = String;

/// Where the server gets what it cannot know by itself.
pub struct World<'w> {
    /// Files that are not open.
    pub disk: &'w dyn Disk,
    /// What day it is.
    pub today: &'w dyn Fn() -> Option<Date>,
    /// Raised where the work at hand is no longer wanted.
    pub halt: Halt,
    /// Takes what is to be sent.
    pub send: &'w dyn Fn(Sent),
}

/// The state of the conversation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stage {
    /// `initialize` is due.
    New,
    /// Work.
    Open,
    /// `shutdown` was asked for: only `exit` is due.
    Shut,
}

/// One conversation.
pub struct Server<'w> {
    world: World<'w>,
    stage: Stage,
    pub(super) encoding: Encoding,
    /// The editor takes edits with the version that they are for.
    pub(super) versioned: bool,
    folders: Vec<PathBuf>,
    /// The open texts by their address.
    pub(super) documents: BTreeMap<String, Document>,
    /// Where the file of an open text really lies.
    places: HashMap<String, PathBuf>,
    uses: Uses,
    /// The designs that are open, by the name of their first file.
    designs: BTreeMap<String, Design>,
    /// Files for which something is shown, with it.
    shown: BTreeMap<String, Vec<Diagnostic>>,
}

/// A design that is open.
#[derive(Default)]
struct Design {
    desk: Desk,
    /// It has been read and checked at least once, though perhaps not since the last change.
    read: bool,
    /// A text has changed since.
    stale: bool,
    /// The check took too long and was given up; it is tried again after the next change.
    given_up: bool,
}

/// Why a request has no answer.
pub(super) type Refusal = ResponseError;

pub(super) fn refuse(code: ErrorCode, message: impl Into<String>) -> Refusal {
    ResponseError { code: code as i32, message: message.into(), data: None }
}

#[derive(Serialize)]
struct Frame<'f, T> {
    jsonrpc: &'static str,
    method: &'f str,
    params: T,
}

/// `PublishDiagnosticsParams`, without a copy of what it carries.
#[derive(Serialize)]
struct Published<'f> {
    uri: &'f Uri,
    #[serde(skip_serializing_if = "Option::is_none")]
    version: Option<i32>,
    diagnostics: &'f [Diagnostic],
}

#[derive(Serialize)]
struct Answer<'f, T> {
    jsonrpc: &'static str,
    id: &'f RequestId,
    #[serde(skip_serializing_if = "Option::is_none")]
    result: Option<T>,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<&'f ResponseError>,
}

/// What should happen after a message.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Next {
    /// The next message.
    GoOn,
    /// The end; orderly or not.
    End(bool),
}

impl Design {
    /// The design as it was read last.
    fn desk(&self) -> Option<&Desk> {
        self.read.then_some(&self.desk)
    }
}

impl<'w> Server<'w> {
    /// A conversation that has not begun.
    #[must_use]
    pub fn new(world: World<'w>) -> Server<'w> {
        Server {
            world,
            stage: Stage::New,
            encoding: Encoding::default(),
            versioned: false,
            folders: Vec::new(),
            documents: BTreeMap::new(),
            places: HashMap::new(),
            uses: Uses::default(),
            designs: BTreeMap::new(),
            shown: BTreeMap::new(),
        }
    }

    fn notify<T: Serialize>(&self, method: &str, params: T) {
        if let Ok(text) = serde_json::to_string(&Frame { jsonrpc: "2.0", method, params }) {
            (self.world.send)(text);
        }
    }

    fn answer(&self, id: &RequestId, outcome: &Result<Value, Refusal>) {
        let answer = Answer { jsonrpc: "2.0", id, result: outcome.as_ref().ok(), error: outcome.as_ref().err() };
        if let Ok(text) = serde_json::to_string(&answer) {
            (self.world.send)(text);
        }
    }

    /// Answers a request that its sender has taken back.
    pub fn answer_cancelled(&self, id: &RequestId) {
        self.answer(id, &Err(refuse(ErrorCode::RequestCanceled, "taken back")));
    }

    /// Answers a request. Whatever happens on the way, it is answered and the server goes on.
    pub fn request(&mut self, request: Request) {
        let Request { id, method, params } = request;
        let outcome = match unless_halted(|| self.respond(&method, params)) {
            Ok(Some(outcome)) => outcome,
            Ok(None) => Err(refuse(ErrorCode::ContentModified, "the text has changed meanwhile")),
            Err(_) => {
                self.start_afresh();
                Err(refuse(
                    ErrorCode::InternalError,
                    format!("`{method}` came upon a fault of the program; please report it, with the file"),
                ))
            }
        };
        self.answer(&id, &outcome);
    }

    /// Takes note of something.
    pub fn notification(&mut self, notification: Notification) -> Next {
        let Notification { method, params } = notification;
        if method == "exit" {
            return Next::End(self.stage == Stage::Shut);
        }
        if self.stage == Stage::Open && unless_halted(|| self.take_note(&method, params)).is_err() {
            self.start_afresh();
        }
        Next::GoOn
    }

    /// After a fault: what was read is read again, the texts are kept.
    fn start_afresh(&mut self) {
        for design in self.designs.values_mut() {
            *design = Design { stale: true, ..Design::default() };
        }
    }

    fn respond(&mut self, method: &str, params: Value) -> Result<Value, Refusal> {
        match (self.stage, method) {
            (Stage::New, "initialize") => self.initialize(parsed(params)?),
            (Stage::New, _) => Err(refuse(ErrorCode::ServerNotInitialized, "`initialize` comes first")),
            (Stage::Open, "initialize") => Err(refuse(ErrorCode::InvalidRequest, "the conversation has begun already")),
            (Stage::Open, "shutdown") => {
                self.stage = Stage::Shut;
                Ok(Value::Null)
            }
            (Stage::Open, _) => self.asked(method, params),
            (Stage::Shut, _) => Err(refuse(ErrorCode::InvalidRequest, "after `shutdown` only `exit` is due")),
        }
    }

    fn initialize(&mut self, params: InitializeParams) -> Result<Value, Refusal> {
        let encodings = params.capabilities.general.and_then(|general| general.position_encodings).unwrap_or_default();
        // In bytes nothing has to be counted; every editor can do UTF-16.
        self.encoding = if encodings.contains(&PositionEncodingKind::UTF8) { Encoding::Utf8 } else { Encoding::Utf16 };
        let edits = params.capabilities.workspace.and_then(|workspace| workspace.workspace_edit);
        self.versioned = edits.and_then(|edits| edits.document_changes).unwrap_or(false);
        let mut folders: Vec<PathBuf> = match params.workspace_folders_initialize_params.workspace_folders {
            Some(WorkspaceFolders::WorkspaceFolderList(folders)) => folders.iter().filter_map(|folder| path_of(&folder.uri.0)).collect(),
            _ => Vec::new(),
        };
        if folders.is_empty() {
            #[expect(deprecated, reason = "editors that know of one folder only say it here")]
            folders.extend(params.root_uri.and_then(|uri| path_of(&uri.0)));
        }
        for folder in folders {
            self.add_folder(&folder);
        }
        self.stage = Stage::Open;
        Ok(serde_json::json!({
            "capabilities": protocol::capabilities(self.encoding),
            "serverInfo": { "name": protocol::NAME, "version": env!("CARGO_PKG_VERSION") },
        }))
    }

    fn add_folder(&mut self, folder: &Path) {
        let folder = self.world.disk.place(folder);
        for path in self.world.disk.below(&folder) {
            if let Some(text) = self.world.disk.text(&path) {
                self.uses.note(&path, &text);
            }
        }
        self.folders.push(folder);
    }

    fn take_note(&mut self, method: &str, params: Value) {
        match method {
            "textDocument/didOpen" => {
                if let Ok(params) = parsed::<DidOpenTextDocumentParams>(params) {
                    self.open(params);
                }
            }
            "textDocument/didChange" => {
                if let Ok(params) = parsed::<DidChangeTextDocumentParams>(params) {
                    self.change(params);
                }
            }
            "textDocument/didClose" => {
                if let Ok(params) = parsed::<DidCloseTextDocumentParams>(params) {
                    self.close(&params.text_document.uri.0);
                }
            }
            "workspace/didChangeWorkspaceFolders" => {
                if let Ok(params) = parsed::<DidChangeWorkspaceFoldersParams>(params) {
                    for folder in params.event.removed.iter().filter_map(|folder| path_of(&folder.uri.0)) {
                        let folder = self.world.disk.place(&folder);
                        self.folders.retain(|known| *known != folder);
                    }
                    for folder in params.event.added.iter().filter_map(|folder| path_of(&folder.uri.0)) {
                        self.add_folder(&folder);
                    }
                    self.arrange();
                }
            }
            "workspace/didChangeWatchedFiles" => {
                if let Ok(params) = parsed::<DidChangeWatchedFilesParams>(params) {
                    self.files_changed(&params);
                }
            }
            _ => {}
        }
    }

    fn open(&mut self, params: DidOpenTextDocumentParams) {
        let item = params.text_document;
        let uri = item.uri.0;
        if let Some(path) = path_of(&uri) {
            let place = self.world.disk.place(&path);
            self.uses.note(&place, &item.text);
            self.places.insert(uri.clone(), place);
        }
        self.documents.insert(uri, Document::new(item.version, item.text));
        self.arrange();
        self.stale_everything();
    }

    fn change(&mut self, params: DidChangeTextDocumentParams) {
        let uri = params.text_document.text_document_identifier.uri.0;
        let encoding = self.encoding;
        let Some(document) = self.documents.get_mut(&uri) else { return };
        document.version = params.text_document.version;
        for change in params.content_changes {
            match change {
                TextDocumentContentChangeEvent::TextDocumentContentChangePartial(part) => {
                    document.change(encoding, Some(part.range), &part.text);
                }
                TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(whole) => {
                    document.change(encoding, None, &whole.text)
                }
            }
        }
        let news = match self.places.get(&uri) {
            Some(place) => self.uses.note(place, document.text()),
            None => false,
        };
        if news {
            self.arrange();
        }
        self.stale(&uri);
    }

    fn close(&mut self, uri: &str) {
        self.documents.remove(uri);
        if let Some(place) = self.places.remove(uri) {
            match self.world.disk.text(&place) {
                Some(text) => {
                    self.uses.note(&place, &text);
                }
                None => self.uses.forget(&place),
            }
        }
        self.arrange();
        self.stale_everything();
    }

    fn files_changed(&mut self, params: &DidChangeWatchedFilesParams) {
        for change in &params.changes {
            let Some(path) = path_of(&change.uri.0) else { continue };
            let place = self.world.disk.place(&path);
            if self.places.values().any(|open| *open == place) {
                continue;
            }
            match self.world.disk.text(&place) {
                Some(text) => {
                    self.uses.note(&place, &text);
                }
                None => self.uses.forget(&place),
            }
        }
        self.arrange();
        self.stale_everything();
    }

    /// Which designs are open: for each open text those that it is part of.
    fn arrange(&mut self) {
        let mut roots: Vec<String> = Vec::new();
        for uri in self.documents.keys() {
            match self.places.get(uri) {
                Some(place) => roots.extend(self.uses.roots(place).iter().map(|root| root.display().to_string())),
                None => roots.push(uri.clone()),
            }
        }
        self.designs.retain(|root, _| roots.contains(root));
        for root in roots {
            self.designs.entry(root).or_insert_with(|| Design { stale: true, ..Design::default() });
        }
    }

    fn stale_everything(&mut self) {
        for design in self.designs.values_mut() {
            (design.stale, design.given_up) = (true, false);
        }
    }

    /// The designs that a text is part of have to be read again.
    fn stale(&mut self, uri: &str) {
        let name = self.name_of(uri);
        for (root, design) in &mut self.designs {
            let part = design.desk().is_none_or(|desk| desk.file(&name).is_some());
            if part || *root == name {
                (design.stale, design.given_up) = (true, false);
            }
        }
    }

    /// The name under which a text is read: its path, or its address where it has none.
    pub(super) fn name_of(&self, uri: &str) -> String {
        self.places.get(uri).map_or_else(|| uri.to_owned(), |place| place.display().to_string())
    }

    /// The address of a file by its name; for an open text the one that the editor gave it.
    pub(super) fn uri(&self, name: &str) -> Uri {
        let open = self.places.iter().find(|(_, place)| place.display().to_string() == name).map(|(uri, _)| uri.clone());
        Uri(open.unwrap_or_else(|| {
            if name.contains(':') && self.documents.contains_key(name) { name.to_owned() } else { uri_of(Path::new(name)) }
        }))
    }

    /// Whether there is something to do while nobody asks.
    #[must_use]
    pub fn has_work(&self) -> bool {
        self.designs.values().any(|design| design.stale && !design.given_up)
    }

    /// Reads again what has changed, and shows what was found. Ends early where it is halted.
    pub fn work(&mut self) {
        let done = unless_halted(|| self.read_stale());
        match done {
            Ok(Some(())) => self.show(),
            Ok(None) => {}
            Err(_) => {
                // The texts that bring it about are not read again until they change.
                for design in self.designs.values_mut().filter(|design| design.stale) {
                    *design = Design { given_up: true, stale: true, ..Design::default() };
                }
                self.say("a fault of the program while this design was checked; please report it, with the file");
            }
        }
    }

    /// A check took too long: it is given up until the text changes.
    pub fn give_up(&mut self) {
        for design in self.designs.values_mut().filter(|design| design.stale) {
            design.given_up = true;
        }
        self.say("this design takes too long to check: the findings are not up to date. Editing goes on, and the next change tries again.");
    }

    fn say(&self, message: &str) {
        self.notify("window/showMessage", serde_json::json!({ "type": 2, "message": format!("Wallplate: {message}") }));
    }

    fn read_stale(&mut self) {
        let stale: Vec<String> =
            self.designs.iter().filter(|(_, design)| design.stale && !design.given_up).map(|(root, _)| root.clone()).collect();
        for root in stale {
            let (source, shelf) = self.texts(&root, &HashMap::new());
            let options = Options { today: (self.world.today)(), ..Options::default() };
            if let Some(design) = self.designs.get_mut(&root) {
                // Given up in between, it is still where it is, with all that was done by then.
                design.desk.read(vec![source], shelf.as_ref(), &options, &self.world.halt);
                (design.read, design.stale, design.given_up) = (true, false, false);
            }
        }
    }

    /// A design read on its own, with other texts for some files.
    fn read_with(&self, root: &str, changed: &HashMap<String, String>) -> Desk {
        let (source, shelf) = self.texts(root, changed);
        let options = Options { today: (self.world.today)(), ..Options::default() };
        let mut desk = Desk::default();
        desk.read(vec![source], shelf.as_ref(), &options, &self.world.halt);
        desk
    }

    /// The first file of a design and where the others come from; `changed` texts count before those in the editor.
    fn texts(&self, root: &str, changed: &HashMap<String, String>) -> (Source, Box<dyn Shelf>) {
        if let Some(document) = self.documents.get(root) {
            let text = changed.get(root).map_or(document.text(), String::as_str);
            return (Source::new(root, within_bounds(text)), Box::new(NoShelf));
        }
        let mut open: HashMap<PathBuf, String> = self
            .places
            .iter()
            .filter_map(|(uri, place)| Some((place.clone(), within_bounds(self.documents.get(uri)?.text()).to_owned())))
            .collect();
        open.extend(changed.iter().map(|(name, text)| (PathBuf::from(name), text.clone())));
        match self.world.disk.design(Path::new(root), &open) {
            Ok(design) => design,
            // Another file of the design has gone: the one that is open is looked at alone.
            Err(_) => (Source::new(root, open.get(Path::new(root)).cloned().unwrap_or_default()), Box::new(NoShelf)),
        }
    }

    /// Publishes what is news about each file.
    fn show(&mut self) {
        let mut now: BTreeMap<String, Vec<Diagnostic>> = BTreeMap::new();
        for (root, design) in &self.designs {
            let Some(desk) = design.desk() else { continue };
            let places = DeskPlaces { server: self, desk };
            for (_, source) in desk.sources().own() {
                now.entry(source.name.clone()).or_default();
            }
            for notice in notices(desk) {
                let span = self.shown_at(desk, root, &notice);
                let Some(source) = desk.sources().get(span.file) else { continue };
                let diagnostic = protocol::diagnostic(&Notice { span: Some(span), ..notice }, &places);
                let all = now.entry(source.name.clone()).or_default();
                // A file of several designs shows once what they have in common.
                if self.designs.len() == 1 || !all.contains(&diagnostic) {
                    all.push(diagnostic);
                }
            }
        }
        let gone: Vec<String> = self.shown.keys().filter(|name| !now.contains_key(*name)).cloned().collect();
        for name in gone {
            now.insert(name, Vec::new());
        }
        for (name, diagnostics) in &now {
            let uri = self.uri(name);
            let version = self.documents.get(&uri.0).map(|document| document.version);
            // An open text is told each time, so that its editor knows that this version has been looked at.
            if version.is_some() || self.shown.get(name) != Some(diagnostics) {
                self.notify("textDocument/publishDiagnostics", Published { uri: &uri, version, diagnostics });
            }
        }
        now.retain(|_, diagnostics| !diagnostics.is_empty());
        self.shown = now;
    }

    /// Where a notice is shown: at its own place, else at the top of the design.
    fn shown_at(&self, desk: &Desk, root: &str, notice: &Notice) -> Span {
        let top = || Span { file: desk.file(root).unwrap_or_default(), start: 0, end: 0 };
        notice.span.filter(|span| !span.file.is_built_in() && desk.sources().get(span.file).is_some()).unwrap_or_else(top)
    }

    /// The design that a text is part of, up to date, with the text's file in it.
    pub(super) fn desk(&mut self, uri: &str) -> Result<(&Desk, crate::text::FileId), Refusal> {
        let unknown = || refuse(ErrorCode::InvalidParams, format!("`{uri}` is not open"));
        if !self.documents.contains_key(uri) {
            return Err(unknown());
        }
        self.bring_up_to_date();
        let name = self.name_of(uri);
        let found = self.designs.values().filter_map(Design::desk).find_map(|desk| Some((desk, desk.file(&name)?)));
        found.ok_or_else(|| refuse(ErrorCode::RequestFailed, "this design could not be checked"))
    }

    /// All designs, up to date.
    pub(super) fn desks(&mut self) -> impl Iterator<Item = &Desk> {
        self.bring_up_to_date();
        self.designs.values().filter_map(Design::desk)
    }

    /// The design that a file is part of, as it was read last.
    pub(super) fn read_desk(&self, name: &str) -> Option<&Desk> {
        self.designs.values().filter_map(Design::desk).find(|desk| desk.file(name).is_some())
    }

    /// Refuses a change of names after which the design would say something else than before.
    pub(super) fn keeps_its_meaning(&self, uri: &str, mends: &[Mend]) -> Result<(), Refusal> {
        let name = self.name_of(uri);
        let Some((root, before)) =
            self.designs.iter().filter_map(|(root, design)| Some((root, design.desk()?))).find(|(_, desk)| desk.file(&name).is_some())
        else {
            return Ok(());
        };
        let changed: HashMap<String, String> =
            before.sources().own().map(|(file, source)| (source.name.clone(), mended(&source.text, file, mends))).collect();
        let after = self.read_with(root, &changed);
        let verdicts = |desk: &Desk| desk.findings().iter().map(|finding| (finding.rule.clone(), finding.verdict)).collect::<Vec<_>>();
        if before.problems.len() == after.problems.len() && verdicts(before) == verdicts(&after) {
            return Ok(());
        }
        let why = after.problems.first().map(|problem| format!(": {}", problem.message)).unwrap_or_default();
        Err(refuse(ErrorCode::RequestFailed, format!("with this name the design would say something else{why}")))
    }

    fn bring_up_to_date(&mut self) {
        if self.has_work() {
            self.read_stale();
            self.show();
        }
    }

    /// The names of the files that a `use` of a design could name.
    pub(super) fn files_beside(&self, uri: &str) -> Vec<String> {
        let Some(place) = self.places.get(uri) else { return Vec::new() };
        let Some(folder) = place.parent() else { return Vec::new() };
        let below = self.world.disk.below(folder);
        below
            .iter()
            .filter(|path| *path != place)
            .filter_map(|path| path.strip_prefix(folder).ok())
            .map(|path| path.display().to_string())
            .collect()
    }
}

/// A file's text with changes made; they do not overlap.
fn mended(text: &str, file: crate::text::FileId, mends: &[Mend]) -> String {
    let mut own: Vec<&Mend> = mends.iter().filter(|mend| mend.span.file == file).collect();
    own.sort_by_key(|mend| std::cmp::Reverse(mend.span.start));
    let mut text = text.to_owned();
    for mend in own {
        let range = mend.span.start as usize..mend.span.end as usize;
        if text.get(range.clone()).is_some() {
            text.replace_range(range, &mend.text);
        }
    }
    text
}

/// A text that is too large for a file is not read at all.
fn within_bounds(text: &str) -> &str {
    if text.len() > LARGEST_FILE { "" } else { text }
}

/// The parameters of a message.
///
/// # Errors
/// What is wrong with them, for the editor's log.
pub(super) fn parsed<T: DeserializeOwned>(params: Value) -> Result<T, Refusal> {
    serde_json::from_value(params).map_err(|error| refuse(ErrorCode::InvalidParams, error.to_string()))
}

/// The places of one design.
pub(super) struct DeskPlaces<'d, 'w> {
    pub(super) server: &'d Server<'w>,
    pub(super) desk: &'d Desk,
}

impl Places for DeskPlaces<'_, '_> {
    fn source(&self, span: Span) -> Option<(&Source, Uri, Span)> {
        if span.file.is_built_in() {
            return None;
        }
        let span = self.desk.sources().settle(span);
        let source = self.desk.sources().get(span.file)?;
        Some((source, self.server.uri(&source.name), span))
    }

    fn encoding(&self) -> Encoding {
        self.server.encoding
    }
}

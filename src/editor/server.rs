//! The conversation with one editor: what is open, which designs that makes, who is answered what.
//!
//! In: the messages of the editor, in their order. Out: answers, and notices about every file of the
//! designs that are open. A design is read again where one of its texts has changed and somebody asks,
//! or nothing else is waiting. No request takes the others down: each is answered, with an error if need be.

mod colouring;
mod going;
mod introduction;
mod messages;
mod reading;
mod requests;
mod showing;
mod texts;

use super::desk::Desk;
use super::documents::{Document, Encoding};
use super::files::{Disk, Uses, path_of};
use super::protocol;
use crate::syntax::tree::Date;
use crate::text::FileId;
use crate::values::{Halt, unless_halted};
use colouring::Coloured;
use introduction::Introduction;
use lsp_server::{ErrorCode, Notification, Request, RequestId};
use messages::{Refusal, parsed, refuse};
use serde::Serialize;
use serde_json::Value;
use showing::{AllSaid, Shown};
use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};
use std::path::PathBuf;

pub use messages::Sent;

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
    /// Takes what is to be sent where the work at hand takes longer than anybody likes to wait, in the place of what it
    /// took before; to be dropped where that work ends, or a text changes.
    pub later: &'w dyn Fn(Option<Later>),
}

/// Makes what is to be sent, if it is.
pub type Later = Box<dyn FnOnce() -> Vec<Sent> + Send>;

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
    encoding: Encoding,
    /// The editor takes edits with the version that they are for.
    versioned: bool,
    folders: Vec<PathBuf>,
    /// The open texts by their address.
    documents: BTreeMap<String, Document>,
    /// Where the file of an open text really lies.
    places: HashMap<String, PathBuf>,
    uses: Uses,
    /// The designs that are open, by the name of their first file.
    designs: BTreeMap<String, Design>,
    /// Files for which something is shown, with it.
    shown: BTreeMap<String, Vec<Shown>>,
    /// Files in which a mistake in the text was overwritten since: that is news, even if no other has come.
    struck: std::collections::BTreeSet<String>,
    /// The open texts that are files of the library: to be read, and no part of a design.
    library: BTreeMap<String, FileId>,
    /// For those, while no design is open.
    bare: Desk,
    /// The editor looks after files that are not open, if it is asked to.
    watches: bool,
    /// The colours that were told last of each text.
    coloured: BTreeMap<String, Coloured>,
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
    /// What was said of its findings when they were shown last.
    said: RefCell<AllSaid>,
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
            struck: std::collections::BTreeSet::new(),
            library: BTreeMap::new(),
            bare: Desk::default(),
            watches: false,
            coloured: BTreeMap::new(),
        }
    }

    fn notify<T: Serialize>(&self, method: &str, params: T) {
        messages::notice(method, params).into_iter().for_each(|text| (self.world.send)(text));
    }

    fn answer(&self, id: &RequestId, outcome: &Result<Value, Refusal>) {
        messages::answer(id, outcome).into_iter().for_each(|text| (self.world.send)(text));
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

    fn initialize(&mut self, params: Introduction) -> Result<Value, Refusal> {
        self.encoding = if params.counts_bytes() { Encoding::Utf8 } else { Encoding::Utf16 };
        self.versioned = params.takes_versions();
        self.watches = params.can_watch();
        let folders: Vec<PathBuf> = params.folders().filter_map(path_of).collect();
        for folder in folders {
            self.add_folder(&folder);
        }
        self.stage = Stage::Open;
        Ok(serde_json::json!({
            "capabilities": protocol::capabilities(self.encoding),
            "serverInfo": { "name": protocol::NAME, "version": env!("CARGO_PKG_VERSION") },
        }))
    }
}

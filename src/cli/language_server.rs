//! `wallplate language-server`: an editor's messages in, ours out, and nobody waits for what is not wanted any more.
//!
//! One thread reads, so that a taken-back request or a new edit is seen while a design is being
//! checked; one writes; this one works, through the messages in their order, and on the designs while
//! none waits.

use super::args::LanguageServerArgs;
use super::files::{self, Folder};
use super::library::Library;
use super::status::Status;
use super::{folders, today};
use crate::editor::files::Disk;
use crate::editor::server::{Later, Next, Server, World};
use crate::session::{Refused, Shelf};
use crate::text::Source;
use crate::values::Halt;
use lsp_server::{Message, RequestId};
use std::collections::{HashMap, HashSet};
use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// A design that takes longer to check is given up until its text changes.
const LONGEST: Duration = Duration::from_secs(10);
/// What tells of an edit.
const EDIT: &str = "textDocument/didChange";
/// How often a check that goes on is looked after.
const LOOK: Duration = Duration::from_millis(50);
/// Work that takes longer than this is late: what can be said before its end is said.
const LATE: Duration = Duration::from_millis(30);
/// Broken messages in a row after which nobody speaks the protocol at the other end.
const MOST_BROKEN: usize = 100;

/// The files of this computer.
#[derive(Default)]
struct Files {
    library: Library,
}

impl Disk for Files {
    fn design(&self, root: &Path, open: &HashMap<PathBuf, String>) -> Result<(Source, Box<dyn Shelf>), Refused> {
        let (source, folder): (Source, Folder) = files::read_open(root, open)?;
        Ok((source, Box::new(folder)))
    }

    fn below(&self, folder: &Path) -> Vec<PathBuf> {
        folders::plates(&[folder.to_owned()]).0
    }

    fn text(&self, path: &Path) -> Option<String> {
        files::text_of(path).ok()
    }

    fn place(&self, path: &Path) -> PathBuf {
        fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
    }

    fn keep(&self, name: &str, text: &str) -> Option<PathBuf> {
        self.library.keep(name, text)
    }

    fn kept(&self, path: &Path) -> Option<String> {
        self.library.kept(path)
    }
}

/// What the reading thread tells the working one besides the messages.
#[derive(Default)]
struct Shared {
    /// Requests that their sender has taken back.
    cancelled: HashSet<RequestId>,
    /// When the work at hand began, if any is going on.
    since: Option<Instant>,
    /// It was halted because it took too long.
    too_long: bool,
    /// Edits that are on their way to the working thread: what is at hand is about an older text.
    edits: usize,
    /// What is to be sent where the work at hand is late.
    later: Option<Later>,
    /// The conversation has ended.
    over: bool,
}

impl Shared {
    /// When the work at hand is late, if there is something to be sent then.
    fn late(&self) -> Option<Instant> {
        self.later.as_ref().and(self.since).map(|since| since + LATE)
    }
}

fn lock(shared: &Mutex<Shared>) -> MutexGuard<'_, Shared> {
    shared.lock().unwrap_or_else(PoisonError::into_inner)
}

pub(super) fn run(_: &LanguageServerArgs) -> Status {
    let halt = Halt::default();
    let shared = Arc::new(Mutex::new(Shared::default()));
    let (told, messages) = channel::<Message>();
    let (out, written) = channel::<String>();
    let reader = {
        let (halt, shared) = (halt.clone(), Arc::clone(&shared));
        move || read(&told, &halt, &shared)
    };
    std::thread::spawn(reader);
    let told_to_watch = Arc::new(Condvar::new());
    let watcher = {
        let (halt, shared, told, out) = (halt.clone(), Arc::clone(&shared), Arc::clone(&told_to_watch), out.clone());
        std::thread::spawn(move || watch(&halt, &shared, &told, &out))
    };
    let writer = std::thread::spawn(move || write(&written));
    let orderly = {
        let send = |text: String| {
            // Where nobody listens any more, the end comes through the reader.
            let _ = out.send(text);
        };
        let later = |later: Option<Later>| {
            let mut shared = lock(&shared);
            // Where a newer text is on its way the places would be those of an older one.
            shared.later = later.filter(|_| shared.edits == 0);
            if shared.later.is_some() {
                told_to_watch.notify_one();
            }
        };
        let files = Files::default();
        let world = World { disk: &files, today: &today::today, halt: halt.clone(), send: &send, later: &later };
        work(&mut Server::new(world), &messages, &halt, &shared)
    };
    lock(&shared).over = true;
    told_to_watch.notify_one();
    let _ = watcher.join();
    drop(out);
    let _ = writer.join();
    if orderly { Status::Fine } else { Status::Fails }
}

/// Goes through the messages; says whether the end was an orderly one.
fn work(server: &mut Server<'_>, messages: &Receiver<Message>, halt: &Halt, shared: &Mutex<Shared>) -> bool {
    loop {
        let next = if server.has_work() {
            match messages.recv_timeout(Duration::ZERO) {
                Ok(message) => Some(message),
                Err(RecvTimeoutError::Timeout) => None,
                Err(RecvTimeoutError::Disconnected) => return false,
            }
        } else {
            match messages.recv() {
                Ok(message) => Some(message),
                Err(_) => return false,
            }
        };
        let edit = matches!(&next, Some(Message::Notification(notification)) if notification.method == EDIT);
        begin(halt, shared, edit);
        match next {
            Some(Message::Request(request)) => {
                let taken_back = lock(shared).cancelled.remove(&request.id);
                if taken_back { server.answer_cancelled(&request.id) } else { server.request(request) }
            }
            Some(Message::Notification(notification)) => {
                if let Next::End(orderly) = server.notification(notification) {
                    return orderly;
                }
            }
            // Nothing is asked of the editor that it would have to answer.
            Some(Message::Response(_)) => {}
            None => server.work(),
        }
        let mut shared = lock(shared);
        (shared.since, shared.later) = (None, None);
        if std::mem::take(&mut shared.too_long) {
            drop(shared);
            server.give_up();
        }
    }
}

/// Nothing halts the work that begins but an edit that is on its way. `edit` says that this is one.
fn begin(halt: &Halt, shared: &Mutex<Shared>, edit: bool) {
    let mut shared = lock(shared);
    shared.edits -= usize::from(edit && shared.edits > 0);
    if shared.edits == 0 {
        halt.lower();
    }
    shared.since = Some(Instant::now());
    shared.too_long = false;
}

/// Reads messages until there are no more. An edit halts the work at hand: it is about an older text.
fn read(told: &Sender<Message>, halt: &Halt, shared: &Mutex<Shared>) {
    let mut input = io::stdin().lock();
    let mut broken = 0;
    loop {
        match Message::read(&mut input) {
            Ok(Some(message)) => {
                broken = 0;
                if let Message::Notification(notification) = &message {
                    match notification.method.as_str() {
                        "$/cancelRequest" => {
                            let id = notification.params.get("id").and_then(|id| serde_json::from_value(id.clone()).ok());
                            lock(shared).cancelled.extend(id);
                            continue;
                        }
                        EDIT => {
                            let mut shared = lock(shared);
                            shared.edits += 1;
                            // It would have the places of an older text.
                            shared.later = None;
                            halt.raise();
                        }
                        _ => {}
                    }
                }
                if told.send(message).is_err() {
                    return;
                }
            }
            Ok(None) => return,
            // A message that cannot be read is passed over; its length was told, so the next one is found.
            Err(error) if error.kind() == ErrorKind::InvalidData && broken < MOST_BROKEN => broken += 1,
            Err(_) => return,
        }
    }
}

/// Sends what is to be sent where work is late, and halts work that takes too long.
fn watch(halt: &Halt, shared: &Mutex<Shared>, told: &Condvar, out: &Sender<String>) {
    let mut shared = lock(shared);
    while !shared.over {
        let patience = shared.late().map_or(LOOK, |late| late.saturating_duration_since(Instant::now()).min(LOOK));
        shared = told.wait_timeout(shared, patience).map_or_else(|poisoned| poisoned.into_inner().0, |(shared, _)| shared);
        if shared.late().is_some_and(|late| late <= Instant::now())
            && let Some(later) = shared.later.take()
        {
            // While the lock is held nothing newer can be on its way.
            later().into_iter().for_each(|text| drop(out.send(text)));
        }
        if shared.since.is_some_and(|since| since.elapsed() > LONGEST) && !shared.too_long {
            shared.too_long = true;
            halt.raise();
        }
    }
}

fn write(written: &Receiver<String>) {
    let mut output = io::stdout().lock();
    for text in written {
        let sent = write!(output, "Content-Length: {}\r\n\r\n{text}", text.len()).and_then(|()| output.flush());
        if sent.is_err() {
            return;
        }
    }
}

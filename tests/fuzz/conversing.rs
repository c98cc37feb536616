//! A conversation with an editor: edits, and at any time any question about any place.

use crate::mutate::{Dice, changed};
use crate::pool::Pool;
use lsp_server::{Notification, Request, RequestId};
use serde_json::{Value, json};
use std::cell::RefCell;
use std::collections::HashMap;
use std::path::{Path, PathBuf};
use wallplate::editor::files::Disk;
use wallplate::editor::server::{Server, World};
use wallplate::session::{NoShelf, Refused, Shelf};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;
use wallplate::values::Halt;

const NAME: &str = "file:///d/a.plate";
/// What an editor may ask about a place.
const OF_A_PLACE: [&str; 6] = ["hover", "completion", "definition", "references", "documentHighlight", "prepareRename"];
/// And about a whole text.
const OF_A_TEXT: [&str; 4] = ["documentSymbol", "foldingRange", "formatting", "semanticTokens/full"];

/// The part.
pub struct Conversing;

impl crate::Part for Conversing {
    const NAME: &'static str = "conversing";
    const COUNTS: &'static str = "answers";

    fn case(pool: &Pool, dice: &mut Dice) -> Vec<String> {
        let whole = dice.of(&pool.designs).clone();
        let mut texts = vec![whole];
        for _ in 0..5 {
            let times = 1 + dice.below(2);
            let next = changed(texts.last().map_or("", String::as_str), pool, dice, times);
            texts.push(next);
        }
        texts
    }

    fn run(texts: &[String], dice: &mut Dice) -> u64 {
        let sent: RefCell<Vec<Value>> = RefCell::default();
        let send = |text: String| sent.borrow_mut().push(serde_json::from_str(&text).unwrap());
        let today = || Some(Date { year: 2027, month: 6, day: 1 });
        let world = World { disk: &Empty, today: &today, halt: Halt::default(), send: &send, later: &|_| () };
        let mut editor = Editor { server: Server::new(world), sent: &sent, id: 0, text: String::new(), answers: 0 };
        editor.ask("initialize", json!({ "processId": null, "rootUri": null, "capabilities": {} }));
        for (at, text) in texts.iter().enumerate() {
            editor.write(text, at, dice);
            for _ in 0..dice.below(4) {
                editor.ask_anything(dice);
            }
            if dice.once_in(2) {
                while editor.server.has_work() {
                    editor.server.work();
                }
                editor.look_at_what_is_shown();
            }
            for _ in 0..dice.below(4) {
                editor.ask_anything(dice);
            }
        }
        editor.answers
    }
}

struct Editor<'w> {
    server: Server<'w>,
    sent: &'w RefCell<Vec<Value>>,
    id: i32,
    text: String,
    answers: u64,
}

impl Editor<'_> {
    fn tell(&mut self, method: &str, params: Value) {
        self.server.notification(Notification::new(method.to_owned(), params));
    }

    fn ask(&mut self, method: &str, params: Value) {
        self.id += 1;
        self.server.request(Request::new(RequestId::from(self.id), method.to_owned(), params));
        let sent = self.sent.borrow();
        let answer = sent.iter().rev().find(|message| message["id"] == json!(self.id)).expect("an answer");
        assert_ne!(answer["error"]["code"], json!(-32603), "{method}: {answer}");
        if let Some(result) = answer.get("result") {
            ranges(result, &self.text, method);
        }
        self.answers += 1;
    }

    /// The text as it is now: whole, or the part of it that has changed.
    fn write(&mut self, text: &str, version: usize, dice: &mut Dice) {
        if version == 0 {
            let item = json!({ "uri": NAME, "languageId": "wallplate", "version": 0, "text": text });
            self.tell("textDocument/didOpen", json!({ "textDocument": item }));
        } else {
            let whole = json!({ "text": text });
            let change = if dice.once_in(3) { whole } else { part(&self.text, text) };
            let document = json!({ "uri": NAME, "version": version });
            self.tell("textDocument/didChange", json!({ "textDocument": document, "contentChanges": [change] }));
        }
        text.clone_into(&mut self.text);
    }

    fn ask_anything(&mut self, dice: &mut Dice) {
        let document = json!({ "uri": NAME });
        let lines = self.text.matches('\n').count();
        let mut place = || json!({ "line": dice.below(lines + 2), "character": dice.below(60) });
        let (place, other) = (place(), place());
        match dice.below(16) {
            0..8 => {
                let method = format!("textDocument/{}", dice.of(&OF_A_PLACE));
                let params =
                    json!({ "textDocument": document, "position": place, "context": { "includeDeclaration": true, "triggerKind": 1 } });
                self.ask(&method, params);
            }
            8 => {
                let name = *dice.of(&["other", "clamp", "x y", "", "if", "ж", "main_roof"]);
                self.ask("textDocument/rename", json!({ "textDocument": document, "position": place, "newName": name }));
            }
            9 => self.ask("workspace/symbol", json!({ "query": *dice.of(&["", "a", "roof", "ж"]) })),
            10 => {
                let method = *dice.of(&["textDocument/inlayHint", "textDocument/semanticTokens/range"]);
                self.ask(method, json!({ "textDocument": document, "range": { "start": place, "end": other } }));
            }
            11 => {
                let context = json!({ "diagnostics": [] });
                self.ask(
                    "textDocument/codeAction",
                    json!({ "textDocument": document, "range": { "start": place, "end": other }, "context": context }),
                );
            }
            _ => {
                let method = format!("textDocument/{}", dice.of(&OF_A_TEXT));
                self.ask(&method, json!({ "textDocument": document, "options": { "tabSize": 2, "insertSpaces": true } }));
            }
        }
    }

    fn look_at_what_is_shown(&self) {
        let sent = self.sent.borrow();
        let shown = sent.iter().rev().find(|message| message["method"] == "textDocument/publishDiagnostics");
        if let Some(shown) = shown.filter(|shown| shown["params"]["uri"] == NAME) {
            ranges(&shown["params"]["diagnostics"], &self.text, "what is shown");
        }
    }
}

/// The part of a text that has changed, as an editor tells it.
fn part(before: &str, now: &str) -> Value {
    let floor = |text: &str, mut at: usize| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let same = before.bytes().zip(now.bytes()).take_while(|(a, b)| a == b).count();
    let start = floor(before, floor(now, same));
    let most = before.len().min(now.len()) - start;
    let behind = before.bytes().rev().zip(now.bytes().rev()).take(most).take_while(|(a, b)| a == b).count();
    let mut end = before.len() - behind;
    while !before.is_char_boundary(end) {
        end += 1;
    }
    let now_end = now.len() - (before.len() - end);
    json!({ "range": { "start": position(before, start), "end": position(before, end) }, "text": &now[start..now_end] })
}

fn position(text: &str, offset: usize) -> Value {
    // A lone return ends a line too.
    let before = &text[..offset];
    let plain = before.replace("\r\n", "\n");
    let split = before.ends_with('\r') && text[offset..].starts_with('\n');
    let line = plain.matches(['\n', '\r']).count() - usize::from(split);
    let start = before.strip_suffix('\r').filter(|_| split).unwrap_or(before).rfind(['\n', '\r']).map_or(0, |at| at + 1);
    json!({ "line": line, "character": before[start..].encode_utf16().count() })
}

/// Every range in an answer ends where it begins or later, and lies in the text.
fn ranges(answer: &Value, text: &str, what: &str) {
    match answer {
        Value::Array(items) => items.iter().for_each(|item| ranges(item, text, what)),
        Value::Object(fields) => {
            if let (Some(start), Some(end)) = (fields.get("start").filter(|start| start.is_object()), fields.get("end")) {
                let of = |place: &Value| (place["line"].as_u64().unwrap(), place["character"].as_u64().unwrap());
                assert!(of(start) <= of(end), "{what}: a range that ends before it begins: {answer}");
                let lines = text.replace("\r\n", "\n").matches(['\n', '\r']).count() as u64;
                assert!(of(end).0 <= lines, "{what}: a range past the end of the text: {answer}");
            }
            fields.values().for_each(|field| ranges(field, text, what));
        }
        _ => {}
    }
}

/// A disk with nothing on it.
struct Empty;

impl Disk for Empty {
    fn design(&self, root: &Path, open: &HashMap<PathBuf, String>) -> Result<(Source, Box<dyn Shelf>), Refused> {
        match open.get(root) {
            Some(text) => Ok((Source::new(root.display().to_string(), text.as_str()), Box::new(NoShelf))),
            None => Err(Refused { message: "there is no such file".to_owned(), help: "write it".to_owned() }),
        }
    }

    fn below(&self, _: &Path) -> Vec<PathBuf> {
        Vec::new()
    }

    fn text(&self, _: &Path) -> Option<String> {
        None
    }

    fn place(&self, path: &Path) -> PathBuf {
        path.to_owned()
    }

    fn keep(&self, _: &str, _: &str) -> Option<PathBuf> {
        None
    }

    fn kept(&self, _: &Path) -> Option<String> {
        None
    }
}

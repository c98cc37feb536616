//! An editor's side of the conversation, played by a script against the real program.

use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

/// Longer than any answer takes on a machine that does many other things.
const PATIENCE: Duration = Duration::from_secs(60);

pub struct Client {
    program: Child,
    input: Option<ChildStdin>,
    messages: Receiver<Value>,
    next: i64,
    versions: BTreeMap<String, i64>,
    /// What was published last about each file: version and diagnostics.
    pub published: BTreeMap<String, (Option<i64>, Vec<Value>)>,
    /// All that was published, in order: file, version and diagnostics.
    pub all_published: Vec<(String, Option<i64>, Vec<Value>)>,
    /// Requests of the server: method and parameters.
    pub asked_of: Vec<(String, Value)>,
    /// Messages shown to the person.
    pub said: Vec<String>,
}

pub fn uri(path: &Path) -> String {
    format!("file://{}", path.display())
}

impl Client {
    /// The program, with nothing said yet.
    pub fn start() -> Client {
        Client::start_with(&Path::new(env!("CARGO_TARGET_TMPDIR")).join("cache"), &std::env::temp_dir())
    }

    /// As [`Client::start`], with these folders for what can be made again and for what is passing.
    pub fn start_with(cache: &Path, passing: &Path) -> Client {
        let mut program = Command::new(env!("CARGO_BIN_EXE_wallplate"))
            .arg("language-server")
            .env("SOURCE_DATE_EPOCH", "1811808000") // 2027-06-01
            .env("XDG_CACHE_HOME", cache)
            .env("TMPDIR", passing)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let input = program.stdin.take();
        let mut output = BufReader::new(program.stdout.take().unwrap());
        let (send, messages) = channel();
        std::thread::spawn(move || {
            loop {
                let mut length = 0;
                loop {
                    let mut line = String::new();
                    if output.read_line(&mut line).unwrap_or(0) == 0 {
                        return;
                    }
                    match line.trim_end() {
                        "" => break,
                        header => {
                            if let Some(text) = header.strip_prefix("Content-Length: ") {
                                length = text.parse().unwrap();
                            }
                        }
                    }
                }
                let mut body = vec![0; length];
                output.read_exact(&mut body).unwrap();
                if send.send(serde_json::from_slice(&body).unwrap()).is_err() {
                    return;
                }
            }
        });
        Client {
            program,
            input,
            messages,
            next: 0,
            versions: BTreeMap::new(),
            published: BTreeMap::new(),
            all_published: Vec::new(),
            asked_of: Vec::new(),
            said: Vec::new(),
        }
    }

    /// The program after `initialize` with these folders.
    pub fn ready(folders: &[&Path]) -> Client {
        Self::ready_with(folders, json!({}))
    }

    pub fn ready_with(folders: &[&Path], capabilities: Value) -> Client {
        let mut client = Client::start();
        let folders: Vec<Value> = folders.iter().map(|folder| json!({ "uri": uri(folder), "name": "folder" })).collect();
        let answer = client
            .ask("initialize", json!({ "processId": null, "rootUri": null, "capabilities": capabilities, "workspaceFolders": folders }));
        assert!(answer["capabilities"]["hoverProvider"].as_bool().unwrap(), "{answer}");
        client.tell("initialized", json!({}));
        client
    }

    pub fn raw(&mut self, bytes: &[u8]) {
        self.input.as_mut().unwrap().write_all(bytes).unwrap();
    }

    fn send(&mut self, message: &Value) {
        let text = message.to_string();
        self.raw(format!("Content-Length: {}\r\n\r\n{text}", text.len()).as_bytes());
    }

    pub fn tell(&mut self, method: &str, params: Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    /// Sends a request and gives its number.
    pub fn request(&mut self, method: &str, params: Value) -> i64 {
        self.next += 1;
        let id = self.next;
        self.send(&json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params }));
        id
    }

    /// The whole answer to a request.
    pub fn answer(&mut self, id: i64) -> Value {
        loop {
            let message = self.take().unwrap_or_else(|| panic!("no answer to request {id}"));
            if message["id"] == json!(id) {
                return message;
            }
        }
    }

    /// The result of a request that has one.
    pub fn ask(&mut self, method: &str, params: Value) -> Value {
        let id = self.request(method, params);
        let answer = self.answer(id);
        assert!(answer.get("error").is_none(), "{method}: {answer}");
        answer["result"].clone()
    }

    /// The error of a request that is refused: its number and its words.
    pub fn refused(&mut self, method: &str, params: Value) -> (i64, String) {
        let id = self.request(method, params);
        let answer = self.answer(id);
        let error = answer.get("error").unwrap_or_else(|| panic!("{method} was not refused: {answer}"));
        (error["code"].as_i64().unwrap(), error["message"].as_str().unwrap().to_owned())
    }

    fn take(&mut self) -> Option<Value> {
        let message = self.messages.recv_timeout(PATIENCE).ok()?;
        match message["method"].as_str() {
            Some("textDocument/publishDiagnostics") => {
                let params = &message["params"];
                let found = params["diagnostics"].as_array().unwrap().clone();
                let uri = params["uri"].as_str().unwrap().to_owned();
                self.all_published.push((uri.clone(), params["version"].as_i64(), found.clone()));
                self.published.insert(uri, (params["version"].as_i64(), found));
            }
            Some(method) if message.get("id").is_some() => self.asked_of.push((method.to_owned(), message["params"].clone())),
            Some("window/showMessage") => self.said.push(message["params"]["message"].as_str().unwrap().to_owned()),
            _ => {}
        }
        Some(message)
    }

    pub fn open(&mut self, uri: &str, text: &str) {
        self.versions.insert(uri.to_owned(), 1);
        let item = json!({ "uri": uri, "languageId": "wallplate", "version": 1, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": item }));
    }

    pub fn close(&mut self, uri: &str) {
        self.tell("textDocument/didClose", json!({ "textDocument": { "uri": uri } }));
    }

    pub fn change(&mut self, uri: &str, changes: Value) {
        let version = self.versions.entry(uri.to_owned()).or_default();
        *version += 1;
        let version = *version;
        self.tell("textDocument/didChange", json!({ "textDocument": { "uri": uri, "version": version }, "contentChanges": changes }));
    }

    /// Waits until the newest version of a text has been looked at, and gives what is shown beside it.
    pub fn diagnostics(&mut self, uri: &str) -> Vec<Value> {
        let version = self.versions.get(uri).copied();
        loop {
            if let Some((shown, found)) = self.published.get(uri)
                && *shown >= version
            {
                return found.clone();
            }
            self.take().unwrap_or_else(|| panic!("nothing published about {uri}"));
        }
    }

    /// Ends the conversation as an editor should; the program's status.
    pub fn end(mut self) -> Option<i32> {
        self.ask("shutdown", Value::Null);
        self.tell("exit", Value::Null);
        self.program.wait().unwrap().code()
    }

    /// Closes the program's input and waits; its status.
    pub fn hang_up(mut self) -> Option<i32> {
        drop(self.input.take());
        self.program.wait().unwrap().code()
    }

    pub fn is_alive(&mut self) -> bool {
        self.program.try_wait().unwrap().is_none()
    }
}

impl Drop for Client {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

/// Line and UTF-16 column of the first `needle` in a text, `within` characters into it.
pub fn at(text: &str, needle: &str, within: usize) -> Value {
    let offset = text.find(needle).unwrap_or_else(|| panic!("no `{needle}` in the text")) + within;
    position(text, offset)
}

pub fn position(text: &str, offset: usize) -> Value {
    let before = &text[..offset];
    let line = before.matches('\n').count();
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    json!({ "line": line, "character": before[start..].encode_utf16().count() })
}

/// The byte offset of a place that counts in UTF-16 units.
pub fn offset(text: &str, position: &Value) -> usize {
    let (line, mut column) = (position["line"].as_u64().unwrap(), position["character"].as_u64().unwrap());
    let mut at: usize = text.split_inclusive('\n').take(usize::try_from(line).unwrap()).map(str::len).sum();
    for character in text[at..].chars() {
        if column == 0 || character == '\n' {
            break;
        }
        column -= character.len_utf16() as u64;
        at += character.len_utf8();
    }
    at
}

/// A text after edits of the protocol.
pub fn edited(text: &str, edits: &Value) -> String {
    let mut edits: Vec<(usize, usize, &str)> = edits
        .as_array()
        .unwrap()
        .iter()
        .map(|edit| (offset(text, &edit["range"]["start"]), offset(text, &edit["range"]["end"]), edit["newText"].as_str().unwrap()))
        .collect();
    edits.sort_by_key(|(start, ..)| std::cmp::Reverse(*start));
    let mut text = text.to_owned();
    for (start, end, new) in edits {
        text.replace_range(start..end, new);
    }
    text
}

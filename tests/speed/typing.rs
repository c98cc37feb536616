//! How soon an editor is told: `cargo bench --bench typing`. Replays typing, key by key, against the real
//! program over its standard input and output, and measures from each key to the diagnostics of that text.
//!
//! `cargo bench --bench typing -- --fit` only looks whether the keys fit their texts.
//!
//! The keys stand in `typing.keys` and, for a whole design, in `typing_heron.keys`: `find TEXT` puts the cursor behind the next place of a text, `type TEXT`
//! types it, `back N` takes characters away, `line` begins a new line.

#![expect(clippy::print_stdout, reason = "a benchmark prints its figures")]

mod generate;

use std::io::{BufRead, BufReader, Error, ErrorKind, Read, Result, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

const IN_A_ROW_OF_BAYS: &str = include_str!("typing.keys");
const IN_HERON: &str = include_str!("typing_heron.keys");
const ADDRESS: &str = "untitled:typing";

/// A key: what it takes away before the cursor, and what it puts there.
struct Key {
    at: usize,
    takes: usize,
    puts: String,
}

impl Key {
    fn press_into(&self, text: &mut String) {
        text.replace_range(self.at - self.takes..self.at, &self.puts);
    }
}

/// An editor with one text.
struct Editor {
    program: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
    version: i64,
}

impl Editor {
    fn start() -> Result<Editor> {
        let mut program = Command::new(env!("CARGO_BIN_EXE_wallplate"))
            .arg("language-server")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()?;
        let (input, output) = (program.stdin.take(), program.stdout.take());
        let (Some(input), Some(output)) = (input, output) else { return Err(Error::new(ErrorKind::BrokenPipe, "no pipes")) };
        Ok(Editor { program, input, output: BufReader::new(output), version: 0 })
    }

    fn send(&mut self, body: &str) -> Result<()> {
        write!(self.input, "Content-Length: {}\r\n\r\n{body}", body.len())?;
        self.input.flush()
    }

    fn receive(&mut self) -> Result<String> {
        let mut length = 0;
        loop {
            let mut line = String::new();
            if self.output.read_line(&mut line)? == 0 {
                return Err(Error::new(ErrorKind::UnexpectedEof, "the server has ended"));
            }
            match line.trim_end().strip_prefix("Content-Length: ") {
                Some(text) => length = text.parse().map_err(|_| Error::new(ErrorKind::InvalidData, "no length"))?,
                None if line.trim_end().is_empty() => break,
                None => {}
            }
        }
        let mut body = vec![0; length];
        self.output.read_exact(&mut body)?;
        String::from_utf8(body).map_err(|error| Error::new(ErrorKind::InvalidData, error))
    }

    /// Waits for the diagnostics of the newest version.
    fn told(&mut self) -> Result<()> {
        let wanted = format!("\"version\":{}", self.version);
        loop {
            let body = self.receive()?;
            let head = body.get(..body.len().min(400)).unwrap_or(&body);
            if head.contains("publishDiagnostics") && (head.contains(&wanted) || body.contains(&wanted)) {
                return Ok(());
            }
        }
    }

    fn open(&mut self, text: &str) -> Result<()> {
        self.send(r#"{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"processId":null,"rootUri":null,"capabilities":{"general":{"positionEncodings":["utf-8"]}}}}"#)?;
        self.receive()?;
        self.version = 1;
        let item = serde_json::json!({ "uri": ADDRESS, "languageId": "wallplate", "version": 1, "text": text });
        self.send(
            &serde_json::json!({ "jsonrpc": "2.0", "method": "textDocument/didOpen", "params": { "textDocument": item } }).to_string(),
        )?;
        self.told()
    }

    fn press(&mut self, text: &mut String, key: &Key) -> Result<Duration> {
        let place = |at: usize| {
            let before = text.get(..at).unwrap_or_default();
            let line = before.matches('\n').count();
            serde_json::json!({ "line": line, "character": at - before.rfind('\n').map_or(0, |at| at + 1) })
        };
        let range = serde_json::json!({ "start": place(key.at - key.takes), "end": place(key.at) });
        self.version += 1;
        let change = serde_json::json!({ "jsonrpc": "2.0", "method": "textDocument/didChange", "params": {
            "textDocument": { "uri": ADDRESS, "version": self.version }, "contentChanges": [{ "range": range, "text": key.puts }] } })
        .to_string();
        key.press_into(text);
        let pressed = Instant::now();
        self.send(&change)?;
        self.told()?;
        Ok(pressed.elapsed())
    }
}

impl Drop for Editor {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

/// Presses all keys and gives how long each took, with the lines of the script that they belong to.
fn replay(
    text: &str,
    keys: &'static str,
    bay: usize,
    mut press: impl FnMut(&mut String, &Key) -> Result<Duration>,
) -> Result<Vec<(Duration, &'static str)>> {
    let mut text = text.to_owned();
    let mut times = Vec::new();
    let mut cursor = 0;
    for line in keys.lines().filter(|line| !line.trim_start().starts_with('#') && !line.trim().is_empty()) {
        let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
        let rest = rest.replace("BAY", &bay.to_string());
        match word {
            "top" => cursor = 0,
            "find" => {
                let found = text.get(cursor..).and_then(|after| after.find(&rest));
                cursor += found.ok_or_else(|| Error::new(ErrorKind::NotFound, format!("`{rest}` is not in the text")))? + rest.len();
            }
            "back" => {
                for _ in 0..rest.parse().unwrap_or(1) {
                    times.push((press(&mut text, &Key { at: cursor, takes: 1, puts: String::new() })?, line));
                    cursor -= 1;
                }
            }
            "line" => {
                times.push((press(&mut text, &Key { at: cursor, takes: 0, puts: "\n".to_owned() })?, line));
                cursor += 1;
            }
            _ => {
                for letter in rest.chars() {
                    times.push((press(&mut text, &Key { at: cursor, takes: 0, puts: letter.to_string() })?, line));
                    cursor += letter.len_utf8();
                }
            }
        }
    }
    Ok(times)
}

fn report(name: &str, text: &str, keys: &'static str, bay: usize, wanted: &str) -> Result<()> {
    let mut editor = Editor::start()?;
    let opened = Instant::now();
    editor.open(text)?;
    let first = opened.elapsed();
    let mut times = replay(text, keys, bay, |text, key| editor.press(text, key))?;
    times.sort_unstable_by_key(|(time, _)| *time);
    let at =
        |share: usize| times.get((times.len() * share / 100).min(times.len().saturating_sub(1))).map(|(time, _)| *time).unwrap_or_default();
    println!(
        "{name}: {} lines, {} keys: half within {:.1?}, 90 % {:.1?}, 99 % {:.1?} ({wanted} wanted), all {:.1?}; first diagnostics after {first:.1?}",
        text.lines().count(),
        times.len(),
        at(50),
        at(90),
        at(99),
        at(100),
    );
    for (time, line) in times.iter().rev().take(5) {
        println!("    {time:.1?} at `{line}`");
    }
    Ok(())
}

fn main() -> Result<()> {
    // `cargo test --benches` builds and runs this too; it is for `cargo bench`.
    if !std::env::args().any(|argument| argument == "--bench") {
        return Ok(());
    }
    let example = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/heron_fold.plate"))?;
    let typed = [
        ("heron_fold.plate", example.clone(), IN_HERON, 0, "16 ms"),
        ("a design of 1,000 lines", generate::design(1_000), IN_A_ROW_OF_BAYS, 3, "16 ms"),
        ("a design of 10,000 lines", generate::design(10_000), IN_A_ROW_OF_BAYS, 40, "50 ms"),
    ];
    if std::env::args().any(|argument| argument == "--fit") {
        for (name, text, keys, bay, _) in typed {
            let pressed = replay(&text, keys, bay, |text, key| {
                key.press_into(text);
                Ok(Duration::ZERO)
            })?;
            println!("{name}: {} keys fit", pressed.len());
        }
        return Ok(());
    }
    let mut starts: Vec<Duration> = Vec::new();
    for _ in 0..11 {
        let begun = Instant::now();
        let mut editor = Editor::start()?;
        editor.open(&example)?;
        starts.push(begun.elapsed());
    }
    starts.sort_unstable();
    println!(
        "heron_fold.plate, from the start of the program to its first diagnostics: {:.1?} (50 ms wanted)",
        starts.get(5).copied().unwrap_or_default()
    );
    typed.iter().try_for_each(|(name, text, keys, bay, wanted)| report(name, text, keys, *bay, wanted))
}

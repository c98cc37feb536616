//! A folder with a few files in it, and the program run in it.

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

/// 2027-01-01, 00:00 UTC, in seconds of Unix time: 20,819 days from 1970 with 14 leap days among them.
pub const NEW_YEAR_2027: &str = "1798761600";

/// Longer than any small design takes on a machine that does many other things.
const PATIENCE: Duration = Duration::from_secs(60);

/// Kinds and rules of a lid that is held down by pegs.
pub const VOCABULARY: &str = r#"
kind lid "A lid" {
  uplift  force  required  "what lifts it"
}
kind peg "Holds a lid down" {
  holds         link to lid  required  "the lid it holds"
  working_load  force   required  above 0 N  "as rated"
  grip          number  assumed 0.5 because "timber on timber, common practice, no source"
  capacity      force   default working_load * grip  "what it holds"
  share         force   default holds.uplift / count(p for p in peg where p.holds == holds)  source "equal shares"
  height        length  "above the floor"
}
rule lidding.pegs_hold "Each peg holds its share" {
  each          p in peg
  demand        p.share
  capacity      p.capacity
  says          "{p.name} is pulled with {demand} and holds {capacity}"
  help          "a peg rated {demand / p.grip} or more would do"
  source        "statics"
  caution       "a lid that flies off can kill"
  state         shut
}
rule reach.peg_in_reach "A person reaches the peg" {
  each          p in peg where given(p.height)
  require       p.height <= 2 m
  says          "{p.name} is {p.height} up"
}
"#;

/// A folder of its own.
pub struct Desk {
    folder: tempfile::TempDir,
}

/// What the program did.
#[derive(Debug)]
pub struct Done {
    pub status: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Desk {
    pub fn new() -> Desk {
        Desk { folder: tempfile::tempdir().unwrap() }
    }

    /// With one file, `a.plate`: the vocabulary and what is given.
    pub fn with(design: &str) -> Desk {
        Desk::new().file("vocabulary.plate", VOCABULARY).file("a.plate", format!("use \"vocabulary.plate\"\n{design}"))
    }

    pub fn file(self, name: &str, content: impl AsRef<[u8]>) -> Desk {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, content).unwrap();
        self
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap()
    }

    pub fn command(&self, arguments: &[&str]) -> Command {
        command(self.folder.path(), arguments)
    }

    pub fn run(&self, arguments: &[&str]) -> Done {
        self.run_with(arguments, &[])
    }

    /// As [`Desk::run`], where it may be that the program never ends: then it is ended.
    pub fn run_patiently(&self, arguments: &[&str]) -> Done {
        let mut child = self.command(arguments).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let start = Instant::now();
        while child.try_wait().unwrap().is_none() {
            if start.elapsed() > PATIENCE {
                child.kill().unwrap();
                panic!("{arguments:?} does not end");
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        done(child.wait_with_output().unwrap())
    }

    pub fn run_with(&self, arguments: &[&str], variables: &[(&str, &str)]) -> Done {
        let mut command = self.command(arguments);
        for (name, value) in variables {
            command.env(name, value);
        }
        done(command.output().unwrap())
    }
}

fn done(output: Output) -> Done {
    Done { status: output.status.code(), out: String::from_utf8(output.stdout).unwrap(), err: String::from_utf8(output.stderr).unwrap() }
}

/// The program with nothing of this machine's environment in it.
pub fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_wallplate"));
    command.current_dir(folder).args(arguments).stdin(Stdio::null());
    command.env_clear().env("LC_ALL", "C.UTF-8").env("SOURCE_DATE_EPOCH", NEW_YEAR_2027);
    command
}

impl Done {
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {}\n{}", self.out, self.err))
    }

    /// The pieces of text above the marks of each excerpt.
    pub fn underlined(&self) -> Vec<String> {
        let all = format!("{}{}", self.out, self.err);
        let lines: Vec<Vec<char>> = all.lines().map(|line| line.chars().collect()).collect();
        let mut found = Vec::new();
        for pair in lines.windows(2) {
            let [text, marks] = pair else { continue };
            let Some(gutter) = marks.iter().position(|sign| *sign == '·').map(|at| at + 1) else { continue };
            let is_row = marks.iter().skip(gutter).all(|sign| " ─┬▲│".contains(*sign)) && marks.iter().any(|sign| "─▲┬".contains(*sign));
            if !is_row || !text.contains(&'│') {
                continue;
            }
            let mut piece = String::new();
            for (at, mark) in marks.iter().enumerate().skip(gutter) {
                if "─┬▲".contains(*mark) {
                    piece.push(text.get(at).copied().unwrap_or(' '));
                } else if !piece.is_empty() {
                    found.push(std::mem::take(&mut piece));
                }
            }
            if !piece.is_empty() {
                found.push(piece);
            }
        }
        found
    }
}

//! JSON in lines: a document of lists, each item of a list in one line.

use serde_json::ser::Formatter;
use std::io::{Result, Write};

/// So deep a line is begun for each value: the document, and the lists in it.
const DEEPEST: usize = 2;

/// Begins a line for each field of the document and for each item of its lists, and none within those.
#[derive(Debug, Default)]
pub(super) struct Lines {
    depth: usize,
    /// Whether what was opened last holds nothing yet.
    is_empty: bool,
}

impl Lines {
    fn open<W: ?Sized + Write>(&mut self, writer: &mut W, sign: &[u8]) -> Result<()> {
        self.depth += 1;
        self.is_empty = true;
        writer.write_all(sign)
    }

    fn close<W: ?Sized + Write>(&mut self, writer: &mut W, sign: &[u8]) -> Result<()> {
        self.depth = self.depth.saturating_sub(1);
        if !self.is_empty && self.depth < DEEPEST {
            self.line(writer)?;
        }
        self.is_empty = false;
        writer.write_all(sign)
    }

    fn item<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> Result<()> {
        self.is_empty = false;
        match (first, self.depth <= DEEPEST) {
            (true, true) => self.line(writer),
            (true, false) => Ok(()),
            (false, true) => writer.write_all(b",").and_then(|()| self.line(writer)),
            (false, false) => writer.write_all(b", "),
        }
    }

    fn line<W: ?Sized + Write>(&self, writer: &mut W) -> Result<()> {
        writer.write_all(b"\n")?;
        (0..self.depth).try_for_each(|_| writer.write_all(b"  "))
    }
}

impl Formatter for Lines {
    fn begin_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> Result<()> {
        self.open(writer, b"[")
    }

    fn end_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> Result<()> {
        self.close(writer, b"]")
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> Result<()> {
        self.item(writer, first)
    }

    fn begin_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> Result<()> {
        self.open(writer, b"{")
    }

    fn end_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> Result<()> {
        self.close(writer, b"}")
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> Result<()> {
        self.item(writer, first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> Result<()> {
        writer.write_all(b": ")
    }
}

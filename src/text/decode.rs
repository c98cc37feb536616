//! From the bytes of a file to text, or to a place and a reason why not.

/// The largest file that is read: a design is a few hundred lines, and 100,000 lines are 4 MB.
pub const LARGEST_FILE: usize = 32 * 1024 * 1024;

/// Why the bytes of a file are not a text that can be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unreadable {
    /// Some byte is not UTF-8.
    #[error("line {line} is not UTF-8 text (byte {byte:#04x} at column {column})")]
    NotUtf8 {
        /// Line, from 1.
        line: usize,
        /// Column in bytes, from 1.
        column: usize,
        /// The first byte that does not fit.
        byte: u8,
    },
    /// A NUL byte: this is not a text file, or it is UTF-16.
    #[error("line {line} holds a NUL byte: this is not a plain text file, or it was saved as UTF-16")]
    Nul {
        /// Line, from 1.
        line: usize,
    },
    /// Larger than [`LARGEST_FILE`].
    #[error("the file has {size} bytes; the largest that is read has {LARGEST_FILE}")]
    TooLarge {
        /// Its size in bytes.
        size: usize,
    },
}

impl Unreadable {
    /// What to do about it.
    #[must_use]
    pub fn help(&self) -> &'static str {
        match self {
            Self::NotUtf8 { .. } | Self::Nul { .. } => "save the file again as UTF-8 in your editor",
            Self::TooLarge { .. } => "split the design into several files and join them with `use \"part.plate\"`",
        }
    }
}

/// The text of a file: UTF-8, a byte order mark taken off.
///
/// # Errors
/// [`Unreadable`] with the place of the first byte that is no text.
pub fn decode(bytes: Vec<u8>) -> Result<String, Unreadable> {
    if bytes.len() > LARGEST_FILE {
        return Err(Unreadable::TooLarge { size: bytes.len() });
    }
    if let Some(at) = bytes.iter().position(|byte| *byte == 0) {
        return Err(Unreadable::Nul { line: line_of(&bytes, at) });
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(match text.strip_prefix('\u{FEFF}') {
            Some(rest) => rest.to_owned(),
            None => text,
        }),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let bytes = error.into_bytes();
            let before = bytes.get(..at).unwrap_or_default();
            let column = before.iter().rev().take_while(|byte| **byte != b'\n').count() + 1;
            Err(Unreadable::NotUtf8 { line: line_of(&bytes, at), column, byte: bytes.get(at).copied().unwrap_or(0) })
        }
    }
}

fn line_of(bytes: &[u8], at: usize) -> usize {
    bytes.iter().take(at).filter(|byte| **byte == b'\n').count() + 1
}

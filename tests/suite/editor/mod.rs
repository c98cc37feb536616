//! The language server: the real program, spoken to over standard input and output as an editor does.
//!
//! Source of what is due: Language Server Protocol Specification 3.17.

mod agreement;
mod client;
mod completion;
mod conversation;
mod drafts;
mod hostile;
mod library;
mod mends;
mod waiting;

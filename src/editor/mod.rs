//! What an editor asks of a design while it is being written, and the protocol in which it asks.
//!
//! In: the texts as they stand in the editor, and places in them. Out: what is found there, in plain
//! types ([`desk`] and the modules that ask it), and the same as messages of the Language Server
//! Protocol ([`server`], [`protocol`]). It works on the [`Session`](crate::session::Session) that the
//! command line works on. It reads no file itself ([`files::Disk`]) and asks no clock.
//!
//! Source of the protocol: Language Server Protocol Specification 3.17.

pub mod actions;
pub mod colours;
pub mod complete;
pub mod cursor;
pub mod desk;
pub mod documents;
pub mod files;
pub mod folds;
pub mod hints;
pub mod hover;
pub mod listing;
pub mod notices;
pub mod protocol;
pub mod rename;
pub mod server;
pub mod symbols;
pub mod uses;

//! What an editor says of itself first: of all that the protocol has it say, what is asked here.
//!
//! Language Server Protocol Specification 3.17, `InitializeParams`. The types of the protocol's library are not used for
//! it: to read the few hundred abilities that nobody asks about would be a large part of the whole program.

use serde::Deserialize;

/// The parameters of `initialize`.
#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Introduction {
    capabilities: Abilities,
    workspace_folders: Option<Vec<Folder>>,
    /// Editors that know of one folder only say it here.
    root_uri: Option<String>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "camelCase")]
struct Abilities {
    general: Option<General>,
    workspace: Option<Workspace>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "camelCase")]
struct General {
    position_encodings: Option<Vec<String>>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "camelCase")]
struct Workspace {
    workspace_edit: Option<Edits>,
    did_change_watched_files: Option<Watching>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "camelCase")]
struct Edits {
    document_changes: Option<bool>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "camelCase")]
struct Watching {
    dynamic_registration: Option<bool>,
}

#[derive(Debug, Deserialize)]
struct Folder {
    uri: String,
}

impl Introduction {
    /// Whether places may be told in bytes, where nothing has to be counted; every editor can do UTF-16.
    pub(super) fn counts_bytes(&self) -> bool {
        let encodings = self.capabilities.general.as_ref().and_then(|general| general.position_encodings.as_ref());
        encodings.is_some_and(|encodings| encodings.iter().any(|encoding| encoding == "utf-8"))
    }

    /// Whether it takes edits with the version that they are for.
    pub(super) fn takes_versions(&self) -> bool {
        self.workspace().and_then(|workspace| workspace.workspace_edit.as_ref()?.document_changes).unwrap_or(false)
    }

    /// Whether it looks after files that are not open, if it is asked to.
    pub(super) fn can_watch(&self) -> bool {
        self.workspace().and_then(|workspace| workspace.did_change_watched_files.as_ref()?.dynamic_registration).unwrap_or(false)
    }

    fn workspace(&self) -> Option<&Workspace> {
        self.capabilities.workspace.as_ref()
    }

    /// The addresses of the folders that are open.
    pub(super) fn folders(&self) -> impl Iterator<Item = &str> {
        let several = self.workspace_folders.iter().flatten().map(|folder| folder.uri.as_str());
        let one = self.root_uri.as_deref().filter(|_| self.workspace_folders.as_ref().is_none_or(Vec::is_empty));
        several.chain(one)
    }
}

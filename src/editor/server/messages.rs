//! What goes over the wire: an answer, a notice, a refusal, and the parameters of what comes in.
//!
//! Source: LSP 3.17, "Base Protocol".

use lsp_server::{ErrorCode, RequestId, ResponseError};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// Something to send to the editor, as the text of its message.
pub type Sent = String;

/// Why a request has no answer.
pub(super) type Refusal = ResponseError;

pub(super) fn refuse(code: ErrorCode, message: impl Into<String>) -> Refusal {
    ResponseError { code: code as i32, message: message.into(), data: None }
}

/// The parameters of a message.
///
/// # Errors
/// What is wrong with them, for the editor's log.
pub(super) fn parsed<T: DeserializeOwned>(params: Value) -> Result<T, Refusal> {
    serde_json::from_value(params).map_err(|error| refuse(ErrorCode::InvalidParams, error.to_string()))
}

#[derive(Serialize)]
struct Frame<'f, T> {
    jsonrpc: &'static str,
    method: &'f str,
    params: T,
}

#[derive(Serialize)]
struct Answer<'f> {
    jsonrpc: &'static str,
    id: &'f RequestId,
    #[serde(skip_serializing_if = "Option::is_none")]
    result: Option<&'f Value>,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<&'f ResponseError>,
}

/// The text of a notice.
pub(super) fn notice<T: Serialize>(method: &str, params: T) -> Option<Sent> {
    serde_json::to_string(&Frame { jsonrpc: "2.0", method, params }).ok()
}

/// The text of a request to the editor.
pub(super) fn request(id: &str, method: &str, params: &Value) -> Option<Sent> {
    serde_json::to_string(&serde_json::json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params })).ok()
}

/// The text of an answer.
pub(super) fn answer(id: &RequestId, outcome: &Result<Value, Refusal>) -> Option<Sent> {
    serde_json::to_string(&Answer { jsonrpc: "2.0", id, result: outcome.as_ref().ok(), error: outcome.as_ref().err() }).ok()
}

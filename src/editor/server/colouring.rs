//! The colours of a text, of a part of it, or what is new of them since they were told last.
//!
//! Source: LSP 3.17, "Semantic Tokens".

use super::Server;
use super::messages::Refusal;
use super::requests::told;
use crate::editor::colours::{Colour, colours};
use gen_lsp_types::{Position, Range, SemanticToken, SemanticTokens, SemanticTokensDeltaParams, SemanticTokensRangeParams};
use serde_json::{Value, json};

/// What was told last of a text.
pub(super) struct Coloured {
    /// How often it was told.
    count: u64,
    words: Vec<SemanticToken>,
}

impl Server<'_> {
    /// All colours of a text.
    pub(super) fn colours(&mut self, uri: &str) -> Result<Value, Refusal> {
        let data = self.words(uri, None)?;
        let count = self.remember(uri, data.clone());
        told(SemanticTokens { result_id: Some(count.to_string()), data })
    }

    /// The colours of a part of a text.
    pub(super) fn colours_between(&mut self, params: &SemanticTokensRangeParams) -> Result<Value, Refusal> {
        let data = self.words(&params.text_document.uri.0, Some(params.range))?;
        told(SemanticTokens { result_id: None, data })
    }

    /// What has to be changed in the colours that were told before; all of them, if the editor has others.
    pub(super) fn new_colours(&mut self, params: &SemanticTokensDeltaParams) -> Result<Value, Refusal> {
        let uri = &params.text_document.uri.0;
        let known = |known: &Coloured| known.count.to_string() == params.previous_result_id;
        if !self.coloured.get(uri).is_some_and(known) {
            return self.colours(uri);
        }
        let data = self.words(uri, None)?;
        let before = self.coloured.get(uri).map_or(&[][..], |told| told.words.as_slice());
        let head = before.iter().zip(&data).take_while(|(a, b)| a == b).count();
        let (old, new) = (before.get(head..).unwrap_or_default(), data.get(head..).unwrap_or_default());
        let tail = old.iter().rev().zip(new.iter().rev()).take_while(|(a, b)| a == b).count();
        let (gone, put) = (old.len() - tail, new.get(..new.len() - tail).unwrap_or_default());
        let numbers: Vec<u32> = put
            .iter()
            .flat_map(|word| [word.delta_line, word.delta_start, word.length, word.token_type, word.token_modifiers_bitset])
            .collect();
        let edits =
            if gone == 0 && put.is_empty() { json!([]) } else { json!([{ "start": head * 5, "deleteCount": gone * 5, "data": numbers }]) };
        let count = self.remember(uri, data);
        Ok(json!({ "resultId": count.to_string(), "edits": edits }))
    }

    fn remember(&mut self, uri: &str, words: Vec<SemanticToken>) -> u64 {
        let count = self.coloured.get(uri).map_or(0, |told| told.count) + 1;
        self.coloured.insert(uri.to_owned(), Coloured { count, words });
        count
    }

    fn words(&mut self, uri: &str, range: Option<Range>) -> Result<Vec<SemanticToken>, Refusal> {
        let between = range.map(|range| (self.offset(uri, range.start), self.offset(uri, range.end)));
        let (desk, file) = self.desk(uri)?;
        let (from, to) = between.unwrap_or((0, u32::MAX));
        let all: Vec<Colour> = colours(desk, file, from, to);
        let mut words: Vec<SemanticToken> = Vec::with_capacity(all.len());
        let mut last = Position::default();
        for colour in all.into_iter().filter(|colour| colour.span.start <= to && from <= colour.span.end) {
            let Range { start, end } = self.range_in(uri, colour.span);
            // A word of the protocol stands on one line; nothing here goes over several but broken text.
            if start.line != end.line {
                continue;
            }
            let delta_line = start.line - last.line;
            words.push(SemanticToken {
                delta_line,
                delta_start: if delta_line == 0 { start.character - last.character } else { start.character },
                length: end.character - start.character,
                token_type: colour.ty,
                token_modifiers_bitset: colour.modifiers,
            });
            last = start;
        }
        Ok(words)
    }
}

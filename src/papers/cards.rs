//! The short lists that hang on the wall.
//!
//! In: a session and its papers. Out: [`Cards`], each line of them about something that the design has.
//! It must not know what a card is for: its heading and its lines stand in the papers.

use crate::design::{Paper, PaperSort};
use crate::papers::row::rows;
use crate::papers::unknown::Unknown;
use crate::session::Session;
use smol_str::SmolStr;

/// All cards of a design.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Cards {
    /// In the order of the papers.
    pub cards: Vec<Card>,
    /// What belongs on one and is not known.
    pub unknown: Vec<Unknown>,
}

/// One card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Card {
    /// Its heading.
    pub name: SmolStr,
    /// What to do, in order.
    pub lines: Vec<CardLine>,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardLine {
    /// What to do.
    pub says: SmolStr,
    /// The component that it is about.
    pub of: Option<SmolStr>,
    /// What may happen otherwise; said once where it holds for several lines.
    pub caution: Option<SmolStr>,
    /// On whose word.
    pub source: Option<SmolStr>,
}

/// The cards of a design.
#[must_use]
pub fn of(session: &Session, papers: &[Paper]) -> Cards {
    let mut cards = Cards::default();
    for row in rows(&session.evaluator, papers, PaperSort::Reminder) {
        match (row.text("card"), row.text("says")) {
            (Ok(Some(name)), Ok(Some(says))) => {
                let line = CardLine {
                    says,
                    of: row.names().into_iter().next(),
                    caution: row.text("caution").ok().flatten(),
                    source: row.text("source").ok().flatten(),
                };
                let at = cards.cards.iter().position(|card| card.name == name).unwrap_or_else(|| {
                    cards.cards.push(Card { name, lines: Vec::new() });
                    cards.cards.len() - 1
                });
                if let Some(card) = cards.cards.get_mut(at)
                    && !card.lines.iter().any(|known| known.says == line.says)
                {
                    card.lines.push(line);
                }
            }
            (Err(lack), _) | (_, Err(lack)) => cards.unknown.push(row.unknown(&lack)),
            // A reminder without a card or a word has been told as a mistake.
            _ => {}
        }
    }
    cards.unknown = Unknown::gather(cards.unknown);
    cards
}

//! Designs are read again where one of their texts has changed and somebody asks, or nothing else is waiting.

use super::messages::{Refusal, refuse};
use super::{Design, Server};
use crate::editor::desk::Desk;
use crate::problem::Mend;
use crate::rules::Options;
use crate::session::{NoShelf, Shelf};
use crate::text::{FileId, LARGEST_FILE, Source};
use crate::trade;
use crate::values::unless_halted;
use lsp_server::ErrorCode;
use std::collections::HashMap;
use std::path::{Path, PathBuf};

impl Server<'_> {
    /// Whether there is something to do while nobody asks.
    #[must_use]
    pub fn has_work(&self) -> bool {
        self.designs.values().any(|design| design.stale && !design.given_up)
    }

    /// Reads again what has changed, and shows what was found. Ends early where it is halted.
    pub fn work(&mut self) {
        let done = unless_halted(|| self.read_stale());
        match done {
            Ok(Some(())) => self.show(),
            Ok(None) => {}
            Err(_) => {
                // The texts that bring it about are not read again until they change.
                for design in self.designs.values_mut().filter(|design| design.stale) {
                    *design = Design { given_up: true, stale: true, ..Design::default() };
                }
                self.say("a fault of the program while this design was checked; please report it, with the file");
            }
        }
    }

    /// A check took too long: it is given up until the text changes.
    pub fn give_up(&mut self) {
        for design in self.designs.values_mut().filter(|design| design.stale) {
            design.given_up = true;
        }
        self.say("this design takes too long to check: the findings are not up to date. Editing goes on, and the next change tries again.");
    }

    pub(super) fn say(&self, message: &str) {
        self.notify("window/showMessage", serde_json::json!({ "type": 2, "message": format!("Wallplate: {message}") }));
    }

    fn read_stale(&mut self) {
        let stale: Vec<String> =
            self.designs.iter().filter(|(_, design)| design.stale && !design.given_up).map(|(root, _)| root.clone()).collect();
        for root in &stale {
            let (source, shelf) = self.texts(root, &HashMap::new());
            if let Some(design) = self.designs.get_mut(root) {
                design.desk.take(vec![source], shelf.as_ref(), &self.world.halt);
            }
        }
        self.show_if_late();
        let options = Options { today: (self.world.today)(), ..Options::default() };
        for root in &stale {
            if let Some(design) = self.designs.get_mut(root) {
                // Given up in between, it is still where it is, with all that was done by then.
                design.desk.work_out(&options);
                (design.read, design.stale, design.given_up) = (true, false, false);
            }
        }
        (self.world.later)(None);
    }

    /// A design read on its own, with other texts for some files.
    fn read_with(&self, root: &str, changed: &HashMap<String, String>) -> Desk {
        let (source, shelf) = self.texts(root, changed);
        let options = Options { today: (self.world.today)(), ..Options::default() };
        let mut desk = Desk::default();
        desk.read(vec![source], shelf.as_ref(), &options, &self.world.halt);
        desk
    }

    /// The first file of a design and where the others come from; `changed` texts count before those in the editor.
    fn texts(&self, root: &str, changed: &HashMap<String, String>) -> (Source, Box<dyn Shelf>) {
        if let Some(document) = self.documents.get(root) {
            let text = changed.get(root).map_or(document.text(), String::as_str);
            return (Source::new(root, within_bounds(text)), Box::new(NoShelf));
        }
        let mut open: HashMap<PathBuf, String> = self
            .places
            .iter()
            .filter_map(|(uri, place)| Some((place.clone(), within_bounds(self.documents.get(uri)?.text()).to_owned())))
            .collect();
        open.extend(changed.iter().map(|(name, text)| (PathBuf::from(name), text.clone())));
        match self.world.disk.design(Path::new(root), &open) {
            Ok(design) => design,
            // Another file of the design has gone: the one that is open is looked at alone.
            Err(_) => (Source::new(root, open.get(Path::new(root)).cloned().unwrap_or_default()), Box::new(NoShelf)),
        }
    }

    /// The design that a text is part of, up to date, with the text's file in it.
    pub(super) fn desk(&mut self, uri: &str) -> Result<(&Desk, FileId), Refusal> {
        if !self.documents.contains_key(uri) {
            return Err(refuse(ErrorCode::InvalidParams, format!("`{uri}` is not open")));
        }
        self.bring_up_to_date();
        self.desk_of(uri).ok_or_else(|| refuse(ErrorCode::RequestFailed, "this design could not be checked"))
    }

    /// The design that an open text is part of, as it was read last, with the text's file in it.
    ///
    /// A file of the library is looked at from a design that is open, so long as its text is what the library says.
    pub(super) fn desk_of(&self, uri: &str) -> Option<(&Desk, FileId)> {
        let mut desks = self.designs.values().filter_map(Design::desk);
        if let Some(file) = self.library.get(uri) {
            let text = self.documents.get(uri)?.text();
            return (trade::part(*file)?.text == text).then(|| (desks.next().unwrap_or(&self.bare), *file));
        }
        let name = self.name_of(uri);
        desks.find_map(|desk| Some((desk, desk.file(&name)?)))
    }

    /// All designs, up to date.
    pub(super) fn desks(&mut self) -> impl Iterator<Item = &Desk> {
        self.bring_up_to_date();
        self.designs.values().filter_map(Design::desk)
    }

    /// The design that a file is part of, as it was read last.
    pub(super) fn read_desk(&self, name: &str) -> Option<&Desk> {
        self.designs.values().filter_map(Design::desk).find(|desk| desk.file(name).is_some())
    }

    /// Refuses a change of names after which the design would say something else than before.
    pub(super) fn keeps_its_meaning(&self, uri: &str, mends: &[Mend]) -> Result<(), Refusal> {
        let name = self.name_of(uri);
        let Some((root, before)) =
            self.designs.iter().filter_map(|(root, design)| Some((root, design.desk()?))).find(|(_, desk)| desk.file(&name).is_some())
        else {
            return Ok(());
        };
        let changed: HashMap<String, String> =
            before.sources().own().map(|(file, source)| (source.name.clone(), mended(&source.text, file, mends))).collect();
        let after = self.read_with(root, &changed);
        let verdicts = |desk: &Desk| desk.findings().iter().map(|finding| (finding.rule.clone(), finding.verdict)).collect::<Vec<_>>();
        if before.problems.len() == after.problems.len() && verdicts(before) == verdicts(&after) {
            return Ok(());
        }
        let why = after.problems.first().map(|problem| format!(": {}", problem.message)).unwrap_or_default();
        Err(refuse(ErrorCode::RequestFailed, format!("with this name the design would say something else{why}")))
    }

    pub(super) fn bring_up_to_date(&mut self) {
        if self.has_work() {
            self.read_stale();
            self.show();
        }
    }
}

/// A file's text with changes made; they do not overlap.
fn mended(text: &str, file: FileId, mends: &[Mend]) -> String {
    let mut own: Vec<&Mend> = mends.iter().filter(|mend| mend.span.file == file).collect();
    own.sort_by_key(|mend| std::cmp::Reverse(mend.span.start));
    let mut text = text.to_owned();
    for mend in own {
        let range = mend.span.start as usize..mend.span.end as usize;
        if text.get(range.clone()).is_some() {
            text.replace_range(range, &mend.text);
        }
    }
    text
}

/// A text that is too large for a file is not read at all.
fn within_bounds(text: &str) -> &str {
    if text.len() > LARGEST_FILE { "" } else { text }
}

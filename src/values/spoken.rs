//! Names of components as people say them.

use crate::design::{ComponentId, Design};
use smol_str::SmolStr;

/// The points of the compass as names are shortened to them.
const COMPASS: [(&str, &str); 8] = [
    ("ne", "north-east"),
    ("nw", "north-west"),
    ("se", "south-east"),
    ("sw", "south-west"),
    ("n", "north"),
    ("e", "east"),
    ("s", "south"),
    ("w", "west"),
];

/// A component's name as people say it: `gantry[2]` is `gantry 2`, `ne_wall` is `north-east wall`. Of what stands somewhere (it has an
/// offset) a letter at the end is a side, `sill_e` the `east sill`; of a cable it may be neutral or earth.
#[must_use]
pub fn in_words(design: &Design, id: ComponentId) -> SmolStr {
    let component = design.component(id);
    let stands = design.kind(component.kind).property("offset").is_some();
    let words = component.name.replace(['_', '['], " ").replace(']', "");
    let mut words: Vec<&str> = words.split(' ').collect();
    let number = words.pop_if(|last| last.parse::<u32>().is_ok());
    let point =
        |word: &str, least: usize| COMPASS.iter().find(|(short, _)| *short == word && short.len() >= least).map(|(_, point)| *point);
    if words.len() > 1 {
        if let Some(point) = words.first().and_then(|word| point(word, 2)) {
            words[0] = point;
        } else if let Some(point) = words.last().and_then(|word| point(word, if stands { 1 } else { 2 })) {
            words.pop();
            words.insert(0, point);
        }
    }
    words.extend(number);
    words.join(" ").into()
}

//! The building from the side, to be rolled on a page: what moves stands in groups of its own, and nothing is dimensioned.

use super::gather::{Missed, gather};
use super::plots::projection;
use super::projected::{self, Projection};
use super::sheet::{Rect, View};
use super::{Paper, PaperSort, Scale, Session, SheetSort, forms, rows};

/// As broad as it may be, mm, so that its lines and names read on a screen as they do on a sheet.
const BREADTH: f64 = 260.0;

/// The picture, with the room that it takes when what moves has moved.
#[derive(Debug)]
pub struct Rolled {
    /// The roof shut.
    pub view: View,
    /// Its room, with the roof anywhere on its way.
    pub bounds: Rect,
    /// From metres of travel to the picture.
    pub per_metre: f64,
}

/// The picture of what rolls `least` to `most` (m, at nought it is drawn); `None` if there is nothing to draw.
#[must_use]
pub fn rolled(session: &Session, papers: &[Paper], least: f64, most: f64) -> Option<Rolled> {
    let evaluator = &session.evaluator;
    let rows = rows(evaluator, papers, PaperSort::Picture);
    let form = forms().sheets.iter().find(|form| form.drawn == SheetSort::OnPage)?.views.first()?;
    // What moves will uncover what stands behind it.
    let asked = Projection { apart: true, ..projection(form)? };
    let mut gathered = gather(evaluator, &rows, asked.words, (&asked.eye, asked.plane), &mut Missed::default());
    gathered.chains.clear();
    for drawn in &mut gathered.drawn {
        // A name would stay behind when its part rolls away.
        if drawn.moves_with.is_some() {
            drawn.label = None;
        }
    }
    let scales = Scale::usual(evaluator.system());
    let system = evaluator.system();
    let scene = projected::scene(&asked, &gathered);
    let view = |scale: Scale| projected::view(&asked, form.title.to_string(), &gathered, &scene, scale, system);
    let smallest = scales.last().copied()?;
    // Names have the same size in every scale: they do not count.
    let parts = view(smallest)?.0.groups.into_iter().filter(|group| group.of != "name" && group.of != "title");
    let parts = parts.flat_map(|group| group.items).map(|item| item.bounds()).reduce(Rect::with)?;
    let breadth = parts.breadth() + (most - least) * smallest.per_metre();
    let fits = |scale: &&Scale| breadth * scale.per_metre() / smallest.per_metre() <= BREADTH;
    let scale = scales.iter().find(fits).copied().unwrap_or(smallest);
    let (mut view, _) = view(scale)?;
    // Its title stands above it on the page.
    view.groups.retain(|group| group.of != "title");
    let still = view.bounds();
    let moving = view.groups.iter().filter(|group| group.moves_with.is_some()).flat_map(|group| &group.items);
    let per_metre = scale.per_metre();
    let bounds = moving.map(super::Item::bounds).reduce(Rect::with).map_or(still, |moving| {
        let by = |travel: f64| Rect {
            from: [moving.from[0] + travel * per_metre, moving.from[1]],
            to: [moving.to[0] + travel * per_metre, moving.to[1]],
        };
        still.with(by(least)).with(by(most))
    });
    Some(Rolled { view, bounds, per_metre })
}

//! The views of a sheet that shows the building on planes, as the sheet is declared.

use super::chain::Side;
use super::flat::Plane;
use super::projected::Projection;
use crate::calc::sight::Eye;
use crate::design::{SheetForm, ViewForm};

/// What is asked of each view of a sheet, with what stands above it.
pub(super) fn projections(sheet: &'static SheetForm) -> impl Iterator<Item = (Projection, &'static str)> {
    sheet.views.iter().filter_map(|view| Some((projection(view)?, view.title.as_str())))
}

/// What is asked of a view of the building; `None` for one that shows none.
pub(super) fn projection(view: &'static ViewForm) -> Option<Projection> {
    let (eye, plane) = match view.looks.as_deref()? {
        "down" => (Eye::ABOVE, Some(Plane::PLAN)),
        "left" => (Eye::RIGHT, Some(Plane::SIDE)),
        "right" => (Eye::LEFT, Some(Plane::OTHER_SIDE)),
        "opening" => (Eye::CLOSED_END, Some(Plane::SECTION)),
        "closing" => (Eye::OPEN_END, Some(Plane::OPEN_END)),
        _ => (Eye::corner(), None),
    };
    Some(Projection {
        name: &view.called,
        words: &view.words,
        eye,
        plane,
        open: view.rolled,
        apart: false,
        level_side: if view.upright_on_right { Side::Right } else { Side::Left },
        names: view.names,
    })
}

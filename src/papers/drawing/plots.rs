//! The views of a sheet that shows the building on planes, as the sheet is declared.

use super::chain::Side;
use super::flat::{Axis, Plane};
use super::projected::Projection;
use crate::design::{SheetForm, ViewForm};

/// What is asked of each view of a sheet, with what stands above it.
pub(super) fn projections(sheet: &'static SheetForm) -> impl Iterator<Item = (Projection, &'static str)> {
    sheet.views.iter().filter_map(|view| Some((projection(view)?, view.title.as_str())))
}

/// What is asked of a view on a plane; `None` for one that has none.
pub(super) fn projection(view: &'static ViewForm) -> Option<Projection> {
    let [across, up] = view.plane.as_ref()?;
    Some(Projection {
        name: &view.called,
        words: &view.words,
        plane: Plane { across: Axis::named(across)?, up: Axis::named(up)? },
        open: view.rolled,
        level_side: if view.upright_on_right { Side::Right } else { Side::Left },
        names: view.names,
    })
}

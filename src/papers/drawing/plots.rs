//! The sheets that show the building on planes: which views, which words of the pictures, how they stand.

use super::chain::Side;
use super::flat::Plane;
use super::projected::Projection;

/// A sheet that shows the building on planes.
pub(super) struct Plot {
    pub name: &'static str,
    pub title: &'static str,
    pub sort: &'static str,
    pub views: &'static [(Projection, &'static str)],
}

pub(super) const PLOTS: &[Plot] = &[
    Plot {
        name: "plan",
        title: "Plan",
        sort: "plan",
        views: &[(
            Projection { name: "plan", words: &["plan"], plane: Plane::PLAN, open: false, level_side: Side::Left, names: true },
            "Plan",
        )],
    },
    Plot {
        name: "side",
        title: "Side elevation, roof shut and open",
        sort: "elevation",
        views: &[
            (
                Projection {
                    name: "shut",
                    words: &["side", "side_shut"],
                    plane: Plane::SIDE,
                    open: false,
                    level_side: Side::Left,
                    names: true,
                },
                "Roof shut, from the right when looking the way it opens",
            ),
            (
                Projection {
                    name: "open",
                    words: &["side", "side_open"],
                    plane: Plane::SIDE,
                    open: true,
                    level_side: Side::Left,
                    names: true,
                },
                "Roof open",
            ),
        ],
    },
    Plot {
        name: "section",
        title: "Cross section, looking the way the roof opens",
        sort: "section",
        views: &[(
            Projection { name: "section", words: &["section"], plane: Plane::SECTION, open: false, level_side: Side::Left, names: true },
            "Looking the way the roof opens, roof shut",
        )],
    },
    Plot {
        name: "setting_out",
        title: "Setting out, stations and offsets from one datum",
        sort: "setting-out",
        views: &[(
            Projection { name: "stations", words: &["setting_out"], plane: Plane::PLAN, open: false, level_side: Side::Left, names: false },
            "Stations and offsets",
        )],
    },
    Plot {
        name: "levels",
        title: "Setting out, levels from the floor slab",
        sort: "setting-out",
        views: &[(
            Projection { name: "levels", words: &["levels"], plane: Plane::SECTION, open: false, level_side: Side::Right, names: false },
            "Levels",
        )],
    },
];

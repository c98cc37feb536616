//! The plan of a roof as the wind divides it, and the sum over the zones.
//!
//! In: rectangles measured from the windward edge, each with a coefficient and a pressure. Out: a
//! [`RoofCase`].
//! It must not know which standard the zones come from.

use super::{RoofCase, ZoneLine};
use crate::calc::wind::roof::{Facing, Heading, Roof};

/// A rectangle of the plan seen with the wind: `from`..`to` downwind from the windward edge,
/// `right`..`left` across from the middle (left positive), m.
#[derive(Debug, Clone, Copy)]
pub(super) struct RoofZone {
    pub name: &'static str,
    pub from: f64,
    pub to: f64,
    pub right: f64,
    pub left: f64,
}

/// A zone with what the wind does to it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Loaded {
    pub zone: RoofZone,
    pub coefficient: f64,
    /// Downwards on the roof, Pa.
    pub pressure: f64,
}

/// A vertical face under pressure: force in the direction of the wind (N) and its height above the
/// eaves (m).
#[derive(Debug, Clone, Copy)]
pub(super) struct Push {
    pub force: f64,
    pub level: f64,
}

impl RoofZone {
    /// Across the whole breadth.
    pub fn strip(name: &'static str, from: f64, to: f64, breadth: f64) -> Self {
        Self { name, from, to, right: -breadth / 2.0, left: breadth / 2.0 }
    }

    /// The part of it between the windward edge and `depth`; none if nothing is left.
    pub fn within(self, depth: f64) -> Option<Self> {
        let cut = Self { from: self.from.min(depth), to: self.to.min(depth), ..self };
        (cut.area() > 0.0).then_some(cut)
    }

    pub fn area(&self) -> f64 {
        (self.to - self.from) * (self.left - self.right)
    }

    pub fn loaded(self, coefficient: f64, pressure: f64) -> Loaded {
        Loaded { zone: self, coefficient, pressure }
    }
}

/// The roof as one wind meets it.
#[derive(Debug, Clone, Copy)]
pub(super) struct View<'a> {
    pub roof: &'a Roof,
    pub wind: Heading,
    pub depth: f64,
    pub breadth: f64,
    pub facing: Facing,
}

impl<'a> View<'a> {
    pub fn new(roof: &'a Roof, wind: Heading) -> Self {
        let (depth, breadth) = roof.depth_and_breadth(wind);
        Self { roof, wind, depth, breadth, facing: roof.facing(wind) }
    }

    /// The plan within the walls.
    pub fn inside(&self) -> RoofZone {
        let over = self.roof.overhangs;
        let (left, right) = match self.wind {
            Heading::Opening => (Heading::Left, Heading::Right),
            Heading::Closing => (Heading::Right, Heading::Left),
            Heading::Left => (Heading::Closing, Heading::Opening),
            Heading::Right => (Heading::Opening, Heading::Closing),
        };
        RoofZone {
            name: "inside",
            from: over.at(self.wind.opposite()),
            to: self.depth - over.at(self.wind),
            right: -self.breadth / 2.0 + over.at(right),
            left: self.breadth / 2.0 - over.at(left),
        }
    }

    /// The underside of the overhang on the windward side, corners included.
    pub fn windward_soffit(&self) -> Option<RoofZone> {
        let depth = self.roof.overhangs.at(self.wind.opposite());
        RoofZone::strip("windward soffit", 0.0, depth, self.breadth).within(self.depth)
    }

    /// Plan dimensions of the building, along the wind and across it, m.
    pub fn building(&self) -> (f64, f64) {
        let inside = self.inside();
        (inside.to - inside.from, inside.left - inside.right)
    }

    /// Which way the slope falls where `zone` lies: +1 downwind, -1 upwind, 0 neither.
    fn fall(&self, zone: &RoofZone) -> f64 {
        match self.facing {
            Facing::Level | Facing::AcrossFall { .. } | Facing::AlongRidge => 0.0,
            Facing::LowEavesFirst => -1.0,
            Facing::HighEavesFirst => 1.0,
            Facing::AcrossRidge => {
                if f64::midpoint(zone.from, zone.to) < self.depth / 2.0 {
                    -1.0
                } else {
                    1.0
                }
            }
        }
    }

    /// Height of the slope above the eaves, m, at the middle of `zone`.
    fn level(&self, zone: &RoofZone) -> f64 {
        let down = f64::midpoint(zone.from, zone.to) / self.depth;
        let part = match self.facing {
            Facing::LowEavesFirst => down,
            Facing::HighEavesFirst => 1.0 - down,
            Facing::AcrossRidge => 1.0 - (2.0 * down - 1.0).abs(),
            Facing::Level | Facing::AcrossFall { .. } | Facing::AlongRidge => 0.5,
        };
        part * self.roof.rise()
    }

    /// A zone that lies astride the ridge falls both ways: its parts are kept apart, so that each
    /// pushes sideways the way its slope faces.
    fn split_at_ridge(&self, loaded: &Loaded) -> Vec<Loaded> {
        let (Loaded { zone, .. }, ridge) = (*loaded, self.depth / 2.0);
        if self.facing == Facing::AcrossRidge && zone.from < ridge && ridge < zone.to {
            [RoofZone { to: ridge, ..zone }, RoofZone { from: ridge, ..zone }].map(|part| Loaded { zone: part, ..*loaded }).to_vec()
        } else {
            vec![*loaded]
        }
    }

    fn line(&self, loaded: &Loaded) -> ZoneLine {
        let Loaded { zone, coefficient, pressure } = *loaded;
        let down = (zone.from + zone.to - self.depth) / 2.0;
        let left = f64::midpoint(zone.left, zone.right);
        let (x, y) = self.wind.unit();
        ZoneLine { name: zone.name, area: zone.area(), x: x * down - y * left, y: y * down + x * left, coefficient, pressure }
    }

    /// Sums a case. `above` covers the plan; `below` is inside pressure and soffits; `pushes` are
    /// the vertical faces.
    pub fn case(&self, combination: &str, above: &[Loaded], below: &[Loaded], pushes: &[Push]) -> RoofCase {
        let above: Vec<Loaded> = above.iter().flat_map(|one| self.split_at_ridge(one)).collect();
        let tangent = self.roof.pitch().tan();
        let slopes = above.iter().map(|loaded| Push {
            force: -loaded.pressure * loaded.zone.area() * tangent * self.fall(&loaded.zone),
            level: self.level(&loaded.zone),
        });
        let all: Vec<Push> = slopes.chain(pushes.iter().copied()).collect();
        let zones: Vec<ZoneLine> = above.iter().map(|loaded| self.line(loaded)).collect();
        let underside: Vec<ZoneLine> = below.iter().map(|loaded| self.line(loaded)).collect();
        let lines = || zones.iter().chain(&underside);
        RoofCase {
            direction: self.wind,
            description: format!("{}, {combination}", self.wind.words()),
            uplift: lines().map(ZoneLine::uplift).sum(),
            moment_along: lines().map(|line| line.uplift() * line.x).sum(),
            moment_across: lines().map(|line| line.uplift() * line.y).sum(),
            horizontal: all.iter().map(|push| push.force).sum(),
            horizontal_moment: all.iter().map(|push| push.force * push.level).sum(),
            zones,
            underside,
        }
    }
}

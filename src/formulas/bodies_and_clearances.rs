//! Bodies of the building, and whether they come close: what rolls over what, what stands beside what.
//!
//! In: stations, offsets and levels of walls, roofs and telescopes. Out: solids, which the functions
//! of this file and of `sky` take; gaps, and the travel at which they are least. It must not know which of the bodies
//! may touch which.

use super::body::{Formula, Survey};
use super::tables::table;
use crate::calc::FormulaError;
use crate::calc::space::body;
use crate::calc::space::meet;
use crate::calc::space::piece::{Form, Piece, Room, bounds};
use crate::calc::space::prism::{PlacedRoof, Prism, point};
use crate::calc::space::solid::{Point, Solid};
use crate::calc::space::sweep::{Track, lowering_needed, stretch_within};
use crate::design::ComponentId;
use crate::values::{Evaluator, Refusal};
use smol_str::SmolStr;
use std::sync::Arc;

include!(concat!(env!("OUT_DIR"), "/formulas_bodies_and_clearances.rs"));

/// Bodies with flat faces have no depth of overlap, only none or some: what touches within this is an overlap, m.
const TOUCH: f64 = 1e-6;
fn one(name: SmolStr, form: Form) -> Result<Arc<[Piece]>, FormulaError> {
    Ok(Arc::new([Piece::new(name, form)?]))
}

/// A body with its name, for gaps.
struct Named<'p> {
    name: &'p SmolStr,
    body: &'p body::Body,
    room: &'p Room,
}

fn bodies(pieces: &[Piece]) -> Result<Vec<Named<'_>>, FormulaError> {
    let named = |piece: &'_ Piece| match &piece.room {
        Some(_) => Ok(()),
        None => Err(FormulaError::domain(format!("`{}`", piece.name), "a body, not a stretch of sky")),
    };
    pieces.iter().try_for_each(named)?;
    Ok(pieces.iter().filter_map(|piece| piece.room.as_ref().map(|room| Named { name: &piece.name, body: &room.body, room })).collect())
}

impl Formula for Box {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let (stations, offsets) = ([self.station_from, self.station_to], [self.offset_from, self.offset_to]);
        one(self.name, Form::Prism(Prism::cuboid(stations, offsets, [self.level_from, self.level_to])))
    }
}

/// Strips from opening to opening along the travel, each cut across where an opening is in it.
impl Formula for SlabWithOpenings {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let middles = self.openings_station.iter().zip(&self.openings_offset);
        let sizes = self.openings_along.iter().zip(&self.openings_across);
        let holes: Vec<[[f64; 2]; 2]> = middles
            .zip(sizes)
            .map(|((x, y), (along, across))| [[x - along / 2.0, x + along / 2.0], [y - across / 2.0, y + across / 2.0]])
            .collect();
        let mut cuts: Vec<f64> = holes.iter().flat_map(|[along, _]| *along).collect();
        cuts.extend([self.station_from, self.station_to]);
        cuts.retain(|cut| (self.station_from..=self.station_to).contains(cut));
        cuts.sort_by(f64::total_cmp);
        cuts.dedup();
        let mut pieces = Vec::new();
        for (from, to) in cuts.iter().zip(cuts.iter().skip(1)) {
            let middle = f64::midpoint(*from, *to);
            let mut across: Vec<[f64; 2]> =
                holes.iter().filter(|[along, _]| along[0] < middle && middle < along[1]).map(|[_, across]| *across).collect();
            across.sort_by(|a, b| a[0].total_cmp(&b[0]));
            let mut begins = self.offset_from;
            for [right, left] in across.into_iter().chain([[self.offset_to, self.offset_to]]) {
                if right > begins {
                    let offsets = [begins, right.min(self.offset_to)];
                    let form = Form::Prism(Prism::cuboid([*from, *to], offsets, [self.level_from, self.level_to]));
                    pieces.push(Piece::new(self.name.clone(), form)?);
                }
                begins = begins.max(left);
            }
        }
        Ok(pieces.into())
    }
}

impl Formula for TopEdge {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let at = |station: f64, offset: f64| point(station, offset, self.level);
        one(self.name, Form::Edge { from: at(self.station_from, self.offset_from), to: at(self.station_to, self.offset_to) })
    }
}

impl Formula for Ball {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        one(self.name, Form::Ball { centre: point(self.station, self.offset, self.level), radius: self.radius })
    }
}

/// The tube's axis on the compass, turned into the building's own measures.
impl Formula for Tube {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let (altitude, to_the_right) = (self.altitude, self.azimuth - self.facing);
        let (along, right, up) = (altitude.cos() * to_the_right.cos(), altitude.cos() * to_the_right.sin(), altitude.sin());
        let at = |way: f64| point(self.station + way * along, self.offset - way * right, self.level + way * up);
        one(self.name, Form::Tube { from: at(-self.back), to: at(self.front), diameter: self.diameter })
    }
}

impl Formula for Drum {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let from = point(self.station_from, self.offset_from, self.level_from);
        let to = point(self.station_to, self.offset_to, self.level_to);
        one(self.name, Form::Tube { from, to, diameter: self.diameter })
    }
}

/// Staves side by side.
impl Formula for HollowDrum {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        const STAVES: u32 = 48;
        let outside = self.diameter / 2.0;
        if !(self.wall > 0.0 && self.wall < outside) {
            return Err(FormulaError::domain("the wall of a tube", "above zero, and thinner than half of its diameter"));
        }
        let at = |stave: u32, radius: f64| {
            let (sin, cos) = (f64::from(stave % STAVES) / f64::from(STAVES) * std::f64::consts::TAU).sin_cos();
            [self.station + radius * cos, self.offset + radius * sin]
        };
        let stave = |stave: u32| {
            let inside = outside - self.wall;
            let plan = [at(stave, inside), at(stave, outside), at(stave + 1, outside), at(stave + 1, inside)];
            let solid =
                Solid::prism(&plan, self.level_from, self.level_to)?.mapped(|[station, level, offset]| point(station, offset, level));
            Piece::new(self.name.clone(), Form::Block(solid))
        };
        (0..STAVES).map(stave).collect()
    }
}

/// A place that is written as three lengths.
fn place(written: &[f64]) -> Result<Point, FormulaError> {
    let [station, offset, level] = written else {
        return Err(FormulaError::domain("a place", "three lengths: station, offset and level"));
    };
    Ok(point(*station, *offset, *level))
}

impl Formula for Strut {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        one(self.name, Form::Block(Solid::strut(place(&self.from)?, place(&self.until)?, self.breadth, self.depth)?))
    }
}

impl Formula for Distance {
    fn answer(self) -> Result<f64, FormulaError> {
        let (from, until) = (place(&self.from)?, place(&self.until)?);
        Ok((until[0] - from[0]).hypot(until[1] - from[1]).hypot(until[2] - from[2]))
    }
}

/// The roof of that form whose closed-end edge, right-hand edge and eaves are there.
fn placed(form: &table::RoofForm, start: f64, right: f64, eaves: f64) -> Result<PlacedRoof, FormulaError> {
    let roof = form.roof()?;
    Ok(PlacedRoof { shape: roof.shape, stations: [start, start + roof.length], offsets: [right, right + roof.width], eaves })
}

/// Shut without a travel.
impl Formula for RoofOutside {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let start = self.start + self.travel.unwrap_or_default();
        let outside = placed(&self.form, start, self.right_edge, self.eaves_level)?.outside(self.bottom);
        one(self.name, Form::Prism(outside))
    }
}

impl Formula for RoofSlopes {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let slopes = placed(&self.form, self.start, self.right_edge, self.eaves_level)?.slopes(self.depth);
        slopes.into_iter().map(|slope| Piece::new(self.name.clone(), Form::Prism(slope))).collect()
    }
}

impl Formula for RoofRafters {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let roof = placed(&self.form, self.start, self.right_edge, self.eaves_level)?;
        let rafters = roof.rafters(self.slope_depth, self.spacing, self.breadth, self.depth, self.ridge)?;
        rafters.into_iter().map(|rafter| Piece::new(self.name.clone(), Form::Prism(rafter))).collect()
    }
}

impl Formula for RoofShell {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let roof = placed(&self.form, self.start, self.right_edge, self.eaves_level)?;
        let pieces = roof.shell(self.depth, self.board, self.bottom, [self.closed_end, self.open_end]);
        pieces.into_iter().map(|piece| Piece::new(self.name.clone(), Form::Prism(piece))).collect()
    }
}

fn none() -> FormulaError {
    FormulaError::domain("the bodies", "at least one that rolls and one that stands")
}

/// Without a wanted gap any will do.
impl Formula for Sweep {
    fn answer(self) -> Result<table::Sweep, FormulaError> {
        let (parts, standing) = (bodies(&self.moving)?, bodies(&self.standing)?);
        let track = Track::new(point(1.0, 0.0, 0.0), self.from, self.until)?;
        let wanted = self.wanted.unwrap_or_default();
        let along = |travel: f64| point(travel, 0.0, 0.0);
        // All that each part passes through; most pairs are told apart by the boxes around them.
        let swept = parts.iter().map(|part| Room::of(part.body.swept(along(self.from), along(self.until))));
        let swept: Vec<(&Named, Room)> = parts.iter().zip(swept).collect();
        let pairs = || swept.iter().flat_map(|(part, way)| standing.iter().map(move |still| (*part, way, still)));
        // The pair that has most to give way, the last of those that have as much, and by how much.
        let lowering = |wanted: f64| {
            let mut deepest: Option<(f64, (&Named, &Named))> = None;
            for (part, _, still) in pairs().filter(|(_, way, still)| !way.is_clear_of(still.room, wanted)) {
                let enough = deepest.as_ref().map_or(0.0, |(needed, _)| *needed);
                let needed = lowering_needed(part.body, still.body, &track, wanted, enough);
                if needed >= enough {
                    deepest = Some((needed, (part, still)));
                }
            }
            deepest
        };
        let deepest = lowering(TOUCH);
        // Of those that meet, the pair that has most to give way; else the closest.
        let (gap, (part, still), closer_than) = match deepest {
            Some((too_tall, pair)) if too_tall > 0.0 => (-too_tall, pair, TOUCH),
            _ => {
                let mut nearest: Option<(f64, (&Named, &Named))> = None;
                for (part, way, still) in pairs() {
                    if nearest.as_ref().is_some_and(|(least, _)| way.is_clear_of(still.room, *least)) {
                        continue;
                    }
                    let gap = way.body.gap(still.body);
                    if nearest.as_ref().is_none_or(|(least, _)| gap < *least) {
                        nearest = Some((gap, (part, still)));
                    }
                }
                let (gap, pair) = nearest.ok_or_else(none)?;
                (gap, pair, if gap < wanted { wanted } else { gap + TOUCH })
            }
        };
        let lowering = lowering(wanted).map_or(0.0, |(needed, _)| needed);
        let (travel, until) = stretch_within(part.body, still.body, &track, closer_than).unwrap_or((self.from, self.from));
        Ok(table::Sweep { gap, lowering, part: part.name.clone(), body: still.name.clone(), travel, until })
    }
}

impl Formula for GapBetween {
    fn answer(self) -> Result<table::GapBetween, FormulaError> {
        let (these, those) = (bodies(&self.these)?, bodies(&self.those)?);
        let pairs = these.iter().flat_map(|a| those.iter().map(move |b| (a.body.gap(b.body), a, b)));
        let (gap, this, that) =
            pairs.min_by(|a, b| a.0.total_cmp(&b.0)).ok_or_else(|| FormulaError::domain("the bodies", "at least one on each side"))?;
        Ok(table::GapBetween { gap, this: this.name.clone(), that: that.name.clone() })
    }
}

/// Where one of them fills no room there is no way between them.
impl Formula for WayBetween {
    fn answer(self) -> Result<table::WayBetween, FormulaError> {
        let found =
            meet::between(&self.these, &self.those).ok_or_else(|| FormulaError::domain("the bodies", "at least one on each side"))?;
        // The axes of bodies are to the right, along the travel, up.
        let [right, station, level] = found.way.by;
        let offset = -right;
        // Said first of what is wrong of the heights of two parts, then across, then along.
        let ways = [(level, "too high", "too low"), (offset, "too far to the left", "too far to the right")];
        let along = (station, "too far along the way the roof opens", "too far along the way the roof closes");
        let (most, back, forth) = ways.into_iter().fold(along, |most, way| if way.0.abs() >= most.0.abs() { way } else { most });
        let (most, beside) = (most.abs(), SmolStr::new_static(if most < 0.0 { back } else { forth }));
        Ok(table::WayBetween { gap: found.way.gap, station, offset, level, most, beside })
    }
}

/// No building is taller or deeper, m.
const PLUMB: f64 = 100.0;

impl Formula for Plumb {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let at = |level: f64| point(self.station, self.offset, level);
        one(self.name, Form::Edge { from: at(self.level_from.unwrap_or(-PLUMB)), to: at(self.level_to.unwrap_or(PLUMB)) })
    }
}

impl Formula for SeatBetween {
    fn answer(self) -> Result<table::SeatBetween, FormulaError> {
        let ([low, high], [other_low, other_high]) = (bounds(&self.these).ok_or_else(none)?, bounds(&self.those).ok_or_else(none)?);
        // The axes of bodies are to the right, along the travel, up.
        let common = |axis: usize| high[axis].min(other_high[axis]) - low[axis].max(other_low[axis]);
        let shorter = |axis: usize| (high[axis] - low[axis]).min(other_high[axis] - other_low[axis]);
        let part = |axis: usize| if shorter(axis) > 0.0 { common(axis) / shorter(axis) } else { 1.0 };
        Ok(table::SeatBetween { along: common(1), across: common(0), along_part: part(1), across_part: part(0) })
    }
}

/// A part whose body cannot be worked out is told of where its own body is asked for.
impl Survey for SharesRoom {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        let own = body_of(evaluator, self.this).transpose()?.ok_or_else(none)?;
        // How components of several kinds stand to each other in the text is not asked.
        let place = |id: ComponentId| {
            let kind = evaluator.design().component(id).kind;
            (kind, evaluator.members(kind).iter().position(|member| *member == id))
        };
        let own_place = place(self.this);
        let after = self.among.ids().into_iter().filter(|id| place(*id) > own_place);
        let others: Vec<(ComponentId, Arc<[Piece]>)> = after.filter_map(|id| Some((id, body_of(evaluator, id)?.ok()?))).collect();
        let parts: Vec<&[Piece]> = std::iter::once(&*own).chain(others.iter().map(|(_, body)| &**body)).collect();
        let found = meet::shared(&parts, self.play, |one, _| one != 0);
        Ok(found.iter().filter_map(|pair| others.get(pair.other.checked_sub(1)?)).map(|(id, _)| *id).collect())
    }
}

/// The body of a part; `None` of a kind that has none.
fn body_of(evaluator: &Evaluator, part: ComponentId) -> Option<Result<Arc<[Piece]>, Refusal>> {
    let design = evaluator.design();
    let property = design.kind(design.component(part).kind).property("body")?;
    Some(match evaluator.property(part, property) {
        Ok(value) => value.solid().ok_or_else(|| none().into()),
        Err(lack) => Err(Refusal::Lack(lack)),
    })
}

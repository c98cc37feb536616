//! Views of the building itself: its parts on a plane, with dimension chains outside and names beside.

use super::bodies::{Looked, Scene};
use super::chain::{self, Base, Chainage, Side};
use super::flat::{Axis, Flat, Plane};
use super::gather::{Chain, Drawn, Gathered, joined};
use super::label::{self, Obstacles, Wish};
use super::lettering::{LARGE, NORMAL, dimension};
use super::paper::Scale;
use super::sheet::{Anchor, Group, Item, LineType, Point, Rect, Text, View};
use crate::calc::sight::Eye;
use crate::units::System;
use smol_str::SmolStr;

/// Between a view and its first chain, and around its names, mm.
const MARGIN: f64 = 9.0;
/// Places nearer than this are one, m.
const SAME: f64 = 5e-5;
/// Half the length of the mark of a middle, mm.
const MARK: f64 = 1.6;

/// What is asked of a view.
#[derive(Debug, Clone, Copy)]
pub(super) struct Projection {
    pub name: &'static str,
    /// The words of `sheet` lines whose pictures come onto it.
    pub words: &'static [SmolStr],
    pub eye: Eye,
    /// The measures on paper; none of them can be measured from a corner.
    pub plane: Option<Plane>,
    /// What rolls is drawn rolled open.
    pub open: bool,
    /// What rolls is seen as if nothing stood before it.
    pub apart: bool,
    pub level_side: Side,
    /// Names stand beside the parts; else the chains name them.
    pub names: bool,
}

/// From metres to the paper.
#[derive(Debug, Clone, Copy)]
struct Onto {
    plane: Option<Plane>,
    per_metre: f64,
}

impl Onto {
    fn point(&self, [u, v]: [f64; 2]) -> Point {
        let across = if self.plane.is_some_and(|plane| plane.mirrored) { -u } else { u };
        [across * self.per_metre, -v * self.per_metre]
    }

    fn along(&self, axis: Axis, value: f64) -> f64 {
        let at =
            if self.plane.is_some_and(|plane| plane.across == axis) { self.point([value, 0.0])[0] } else { self.point([0.0, value])[1] };
        if at == 0.0 { 0.0 } else { at }
    }
}

/// What is seen of the bodies of a view.
pub(super) fn scene(asked: &Projection, gathered: &Gathered) -> Scene {
    let looked = Looked { eye: asked.eye, cut: gathered.cut, apart: asked.apart };
    Scene::of(&gathered.drawn, &looked, |drawn| if asked.open { drawn.travel } else { 0.0 })
}

/// A view about its datum at the origin of the paper; `None` if there is nothing to draw.
pub(super) fn view(
    asked: &Projection,
    title: String,
    gathered: &Gathered,
    scene: &Scene,
    scale: Scale,
    system: System,
) -> Option<(View, Vec<String>)> {
    let onto = Onto { plane: asked.plane, per_metre: scale.per_metre() };
    let mut groups: Vec<Group> = Vec::new();
    let mut seen: Vec<Item> = Vec::new();
    let mut travel = 0.0_f64;
    let shift = |drawn: &Drawn| if asked.open { drawn.travel } else { 0.0 };
    let bodies = scene.items(&gathered.drawn, onto.per_metre);
    let mut shown: Vec<(&Drawn, Vec<Item>)> = Vec::new();
    for (drawn, bodies) in gathered.drawn.iter().zip(bodies) {
        let shift = shift(drawn);
        travel = travel.max(shift);
        let mut items: Vec<Item> = drawn.flats.iter().flat_map(|flat| flat_items(flat, drawn.line, onto, shift)).collect();
        // What stands behind its like on the other side is not drawn twice.
        items.retain(|item| drawn.moves_with.is_some() || !seen.contains(item));
        seen.extend(items.iter().cloned());
        items.extend(bodies);
        if !items.is_empty() {
            shown.push((drawn, items.clone()));
            groups.push(Group { of: drawn.of.clone(), layer: drawn.layer.clone(), moves_with: drawn.moves_with.clone(), items });
        }
    }
    let body = groups.iter().flat_map(|group| &group.items).map(Item::bounds).reduce(Rect::with)?;
    let north = gathered.drawn.iter().flat_map(|drawn| &drawn.flats).find_map(|flat| match flat {
        Flat::North(opening) => Some(north_arrow(*opening, [body.to[0], body.from[1] - 2.0 * ARROW])),
        _ => None,
    });
    let dimensions = chains(asked, gathered, onto, &body, system);
    let mut obstacles = Obstacles::default();
    groups.iter().flat_map(|group| &group.items).for_each(|item| obstacles.add(item));
    dimensions.iter().for_each(|item| obstacles.add_dimension(item));
    let wishes = if asked.names { wishes(&shown) } else { Vec::new() };
    let mut names = Vec::new();
    let room = body.grown(MARGIN * 4.0);
    let unplaced = label::place(&wishes, &mut obstacles, &room, &mut names);
    let group = |of: &'static str, items| Group { of: SmolStr::new_static(of), layer: SmolStr::new_static(of), moves_with: None, items };
    groups.extend(north.map(|items| group("north", items)));
    groups.push(group("dimension", dimensions));
    groups.push(group("name", names));
    let mut view = View { name: SmolStr::new_static(asked.name), title, origin: [0.0, 0.0], ratio: 1.0 / scale.times, travel, groups };
    head(&mut view);
    Some((view, unplaced))
}

/// The title above a view.
pub(super) fn head(view: &mut View) {
    let bounds = view.bounds();
    let at = [bounds.from[0], bounds.from[1] - LARGE];
    let text = Text { at, words: view.title.clone(), height: LARGE, anchor: Anchor::Start, turned: false };
    let name = SmolStr::new_static("title");
    view.groups.push(Group { of: name.clone(), layer: name, moves_with: None, items: vec![Item::Text(text)] });
}

/// Everything of a view moved on the paper.
pub(super) fn shift(view: &mut View, [dx, dy]: Point) {
    let moved = |point: &mut Point| *point = [point[0] + dx, point[1] + dy];
    moved(&mut view.origin);
    for item in view.groups.iter_mut().flat_map(|group| &mut group.items) {
        match item {
            Item::Path { points, .. } | Item::Fill { points } => points.iter_mut().for_each(moved),
            Item::Circle { centre, .. } => moved(centre),
            Item::Text(text) => moved(&mut text.at),
        }
    }
}

fn flat_items(flat: &Flat, line: LineType, onto: Onto, shift: f64) -> Vec<Item> {
    let place =
        |[u, v]: [f64; 2]| onto.point(if onto.plane.is_some_and(|plane| plane.across == Axis::Station) { [u + shift, v] } else { [u, v] });
    match flat {
        Flat::Path { points, closed } => {
            vec![Item::Path { points: points.iter().map(|point| place(*point)).collect(), closed: *closed, line }]
        }
        Flat::Circle { centre, radius } => vec![Item::Circle { centre: place(*centre), radius: radius * onto.per_metre, line }],
        Flat::Mark(at) => {
            let [x, y] = place(*at);
            vec![Item::segment([x - MARK, y], [x + MARK, y], line), Item::segment([x, y - MARK], [x, y + MARK], line)]
        }
        Flat::North(_) | Flat::Places { .. } => Vec::new(),
    }
}

/// Length of the arrow to the north, mm.
const ARROW: f64 = 12.0;

/// An arrow to the north about a place on the paper; the way the roof opens is to the right there.
fn north_arrow(opening: f64, [x, y]: Point) -> Vec<Item> {
    let (sin, cos) = opening.sin_cos();
    // North lies as far to the left of the way the roof opens as that lies to the right of north.
    let at = |forth: f64, aside: f64| [x + forth * cos - aside * sin, y - forth * sin - aside * cos];
    let half = ARROW / 2.0;
    let tip = at(half + 3.5, 0.0);
    let letter = Text { at: [tip[0], tip[1] + NORMAL / 2.0], words: "N".to_owned(), height: NORMAL, anchor: Anchor::Middle, turned: false };
    vec![
        Item::segment(at(-half, 0.0), at(half, 0.0), LineType::Outline),
        Item::Fill { points: vec![at(half, 0.0), at(half - 4.0, 1.2), at(half - 4.0, -1.2)] },
        Item::Text(letter),
    ]
}

fn chains(asked: &Projection, gathered: &Gathered, onto: Onto, body: &Rect, system: System) -> Vec<Item> {
    let mut items = Vec::new();
    let (mut below, mut left, mut right) = (body.to[1] + MARGIN, body.from[0] - MARGIN, body.to[0] + MARGIN);
    let sided: Vec<(&Chain, Side)> = gathered.chains.iter().filter_map(|chain| Some((chain, side_of(asked, chain.axis)?))).collect();
    for (at, (chain, side)) in sided.iter().enumerate() {
        let (edge, start) = match side {
            Side::Below => (body.to[1], below),
            Side::Left => (body.from[0], left),
            Side::Right => (body.to[0], right),
        };
        let farther = sided.iter().skip(at + 1).filter(|(_, other)| other == side);
        let passing = farther.flat_map(|(chain, _)| chain.ticks.iter().map(|tick| onto.along(chain.axis, tick.at))).collect();
        let base = Base { side: *side, edge, start, passing };
        let end = if chain.running { run(chain, &base, onto, system, &mut items) } else { step(chain, &base, onto, system, &mut items) };
        match side {
            Side::Below => below = end,
            Side::Left => left = end,
            Side::Right => right = end,
        }
    }
    items
}

/// Where the chains of a measure run; nowhere if it is looked along.
fn side_of(asked: &Projection, axis: Axis) -> Option<Side> {
    let plane = asked.plane?;
    if axis == plane.across {
        Some(Side::Below)
    } else if axis != plane.up {
        None
    } else if axis == Axis::Level {
        Some(asked.level_side)
    } else {
        Some(Side::Left)
    }
}

fn step(chain: &Chain, base: &Base, onto: Onto, system: System, items: &mut Vec<Item>) -> f64 {
    let mut values: Vec<f64> = chain.ticks.iter().map(|tick| tick.at).collect();
    values.dedup_by(|a, b| (*a - *b).abs() < SAME);
    if values.len() < 2 {
        return base.start;
    }
    let words: Vec<String> = values.iter().zip(values.iter().skip(1)).map(|(a, b)| dimension(b - a, system)).collect();
    let places: Vec<f64> = values.iter().map(|value| onto.along(chain.axis, *value)).collect();
    chain::steps(base, &places, &words, items)
}

/// What stands at one place: where, the names, the tolerance.
type Together = (f64, Vec<String>, Option<(f64, f64)>);

fn run(chain: &Chain, base: &Base, onto: Onto, system: System, items: &mut Vec<Item>) -> f64 {
    let mut rows: Vec<Together> = Vec::new();
    for tick in &chain.ticks {
        match rows.last_mut() {
            Some((at, names, tolerance)) if (*at - tick.at).abs() < SAME && *tolerance == tick.tolerance => {
                if !names.contains(&tick.label) {
                    names.push(tick.label.clone());
                }
            }
            _ => rows.push((tick.at, vec![tick.label.clone()], tick.tolerance)),
        }
    }
    let mut places: Vec<Chainage> = rows
        .into_iter()
        .map(|(at, names, tolerance)| {
            let value = dimension(at, system) + &tolerance.map(|tolerance| plus_minus(tolerance, system)).unwrap_or_default();
            let names = joined(&names);
            let words = if base.side == Side::Right { format!("{value}  {names}") } else { format!("{names}  {value}") };
            Chainage { along: onto.along(chain.axis, at), words }
        })
        .collect();
    places.sort_by(|a, b| a.along.total_cmp(&b.along));
    chain::running(base, &places, onto.along(chain.axis, 0.0), items)
}

fn plus_minus((down, up): (f64, f64), system: System) -> String {
    if (down - up).abs() < 1e-9 {
        format!(" ±{}", dimension(up, system))
    } else {
        format!(" +{} -{}", dimension(up, system), dimension(down, system))
    }
}

/// The names of what is drawn, with places on it to point to. What looks the same is named together.
fn wishes(shown: &[(&Drawn, Vec<Item>)]) -> Vec<Wish> {
    let mut named: Vec<(&[Item], Vec<String>)> = Vec::new();
    for (drawn, items) in shown {
        let Some(label) = &drawn.label else { continue };
        match named.iter_mut().find(|(known, names)| known == items || names.contains(label)) {
            Some((_, names)) if names.contains(label) => {}
            Some((_, names)) => names.push(label.clone()),
            None => named.push((items, vec![label.clone()])),
        }
    }
    let wish = |(items, names): (&[Item], Vec<String>)| {
        // Hatching is no place to point to, and an edge that is seen is a better one than one that is not.
        let weight = |line: LineType| match line {
            LineType::Cut => 0,
            LineType::Outline => 1,
            LineType::Moved | LineType::Centre => 2,
            LineType::Hidden => 3,
            LineType::Thin => 4,
        };
        let line = |item: &Item| match item {
            Item::Path { line, .. } | Item::Circle { line, .. } => Some(*line),
            Item::Fill { .. } | Item::Text(_) => None,
        };
        let best = items.iter().filter_map(line).map(weight).min();
        let pointed: Vec<&Item> = items.iter().filter(|item| line(item).map(weight) == best).collect();
        let anchors = pointed.iter().flat_map(|item| anchors(item)).collect();
        let areas = pointed.iter().filter(|item| matches!(item, Item::Circle { .. } | Item::Path { closed: true, .. }));
        let own = areas.map(|item| item.bounds()).reduce(Rect::with);
        Wish { words: joined(&names), anchors, own }
    };
    named.into_iter().map(wish).collect()
}

/// Parts of the length of something long at which a leader may point to it.
const ALONG: [f64; 5] = [0.5, 0.35, 0.65, 0.2, 0.8];

fn anchors(item: &Item) -> Vec<Point> {
    let bounds = item.bounds();
    let between = |at: usize, part: f64| bounds.from[at] + part * (bounds.to[at] - bounds.from[at]);
    let middle = [between(0, 0.5), between(1, 0.5)];
    match item {
        Item::Circle { radius, .. } => {
            let edge = radius * std::f64::consts::FRAC_1_SQRT_2;
            let on_edge = [[1.0, -1.0], [-1.0, 1.0], [-1.0, -1.0], [1.0, 1.0]].map(|[x, y]| [middle[0] + x * edge, middle[1] + y * edge]);
            std::iter::once(middle).chain(on_edge).collect()
        }
        // Of what does not fill the rectangle around it, the edges are pointed to.
        Item::Path { points, closed, .. } if !(*closed && fills(points, &bounds)) => {
            let length = |(a, b): &(Point, Point)| (a[0] - b[0]).hypot(a[1] - b[1]);
            let next = points.iter().copied().cycle().skip(1);
            let mut edges: Vec<(Point, Point)> = points.iter().copied().zip(next).take(points.len() - usize::from(!*closed)).collect();
            edges.sort_by(|a, b| length(b).total_cmp(&length(a)));
            let on = |(a, b): &(Point, Point)| ALONG.map(|part| [a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])]);
            edges.iter().take(if *closed { 3 } else { 1 }).flat_map(on).collect()
        }
        Item::Path { .. } if bounds.breadth().min(bounds.height()) > 12.0 => {
            // A dot in the middle of something large says little: its edge is pointed to.
            let mut places = vec![middle];
            places.extend(ALONG.map(|part| [between(0, part), bounds.from[1]]));
            places.extend(ALONG.map(|part| [between(0, part), bounds.to[1]]));
            places
        }
        Item::Path { .. } if bounds.breadth() >= bounds.height() => ALONG.map(|part| [between(0, part), middle[1]]).to_vec(),
        Item::Path { .. } => ALONG.map(|part| [middle[0], between(1, part)]).to_vec(),
        Item::Fill { .. } | Item::Text(_) => Vec::new(),
    }
}

/// Whether an outline fills the rectangle around it, or nearly.
fn fills(points: &[Point], bounds: &Rect) -> bool {
    let next = points.iter().cycle().skip(1);
    let twice: f64 = points.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum();
    twice.abs() / 2.0 > 0.9 * bounds.breadth() * bounds.height()
}

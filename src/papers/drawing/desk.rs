//! The desk at which every sheet is made: the values, the pictures, what is wanted; views put on paper, in a frame.

use super::bodies::Scene;
use super::flat::Plane;
use super::frame::{self, Block};
use super::gather::{Drawn, Gathered, Missed, gather};
use super::paper::{PaperSize, Scale};
use super::plots::projections;
use super::projected::{self, Projection};
use super::sheet::{Rect, Sheet, View};
use super::{Wanted, graph, in_title_block, is_of, ladder, list, load_path, template};
use crate::calc::sight::Eye;
use crate::design::{ComponentId, SheetForm};
use crate::papers::row::Row;
use crate::session::LAST_WORD;
use crate::trade::says;
use crate::units::System;
use crate::values::{Evaluator, in_words};
use smol_str::SmolStr;

/// What every sheet is made from.
pub(super) struct Desk<'d> {
    evaluator: &'d Evaluator,
    rows: &'d [Row<'d>],
    wanted: &'d Wanted,
    system: System,
    building: String,
    codes: String,
}

/// Between views, mm.
const GAP: f64 = 6.0;

/// A view that is asked for, with what comes onto it.
struct Asked {
    projection: Projection,
    title: &'static str,
    gathered: Gathered,
    scene: Scene,
}

/// What is filled into the title block of one sheet.
struct Says<'s> {
    name: &'s str,
    title: &'s str,
    sort: &'static str,
    scale: Option<Scale>,
    number: &'s str,
}

impl<'d> Desk<'d> {
    pub fn new(evaluator: &'d Evaluator, rows: &'d [Row<'d>], wanted: &'d Wanted) -> Self {
        let mut says = in_title_block(rows).into_iter();
        let mut next = || says.next().unwrap_or_default();
        let (building, codes) = (next(), next());
        Desk { evaluator, rows, wanted, system: evaluator.system(), building, codes }
    }

    fn paper(&self) -> PaperSize {
        self.wanted.paper.unwrap_or_else(|| PaperSize::usual(self.system))
    }

    /// A sheet of the building on planes, at the largest usual scale at which it fits.
    pub fn plot(&self, form: &'static SheetForm, number: &str) -> Sheet {
        let paper = self.paper();
        let mut missed = Missed::default();
        let asked = |(projection, title): (Projection, &'static str)| {
            let gathered = gather(self.evaluator, self.rows, projection.words, (&projection.eye, projection.plane), &mut missed);
            let scene = projected::scene(&projection, &gathered);
            Asked { projection, title, gathered, scene }
        };
        let views: Vec<Asked> = projections(form).map(asked).collect();
        let missing = missed.told(self.evaluator);
        let mut unplaced: Vec<String> = Vec::new();
        // Nothing is measured from a corner: there it is drawn as large as it may be.
        let measured = views.iter().any(|view| view.projection.plane.is_some());
        let scales = if measured { Scale::usual(self.system).to_vec() } else { Scale::any() };
        // Twice at most: names that find no room are told in the notes, which may take room in turn.
        loop {
            let notes = self.notes(&missing, &unplaced, scales.first().copied());
            let room = frame::room(&paper, frame::notes(&paper, &notes).1);
            let smallest = scales.len().saturating_sub(1);
            for (at, scale) in scales.iter().enumerate() {
                let Some((placed, left_out)) = self.place(&views, *scale, &room, at == smallest) else { continue };
                if left_out != unplaced && unplaced.is_empty() {
                    unplaced = left_out;
                    break;
                }
                let scale = (measured && !placed.is_empty()).then_some(*scale);
                let says = Says { name: &form.name, title: &form.title, sort: &form.sort, scale, number };
                return self.sheet(&says, paper, placed, &notes, missing);
            }
        }
    }

    /// A diagram that fills its sheet.
    pub fn graph(&self, form: &'static SheetForm, name: &str, of: Option<ComponentId>, number: &str) -> Sheet {
        let paper = self.paper();
        let rows: Vec<&Row> = self.rows.iter().filter(|row| of.is_none() || is_of(row) == of).collect();
        let title = self.title(form, of);
        let mut unplaced = Vec::new();
        loop {
            let mut missed = Missed::default();
            let draft = |room: &Rect, missed: &mut Missed| graph::view(self.evaluator, &rows, &form.views, &form.across, room, missed);
            let _ = draft(&frame::room(&paper, 0.0), &mut missed);
            let missing = missed.told(self.evaluator);
            let notes = self.notes(&missing, &unplaced, None);
            let room = frame::room(&paper, frame::notes(&paper, &notes).1);
            let (view, left_out) = draft(&room, &mut Missed::default()).unzip();
            let left_out = left_out.unwrap_or_default();
            if left_out != unplaced && unplaced.is_empty() {
                unplaced = left_out;
                continue;
            }
            let says = Says { name, title: &title, sort: &form.sort, scale: None, number };
            return self.sheet(&says, paper, view.into_iter().collect(), &notes, missing);
        }
    }

    /// How weight and pull come down to the ground.
    pub fn load_path(&self, form: &'static SheetForm, number: &str) -> Sheet {
        let paper = self.paper();
        let mut missed = Missed::default();
        let rows: Vec<&Row> = self.rows.iter().collect();
        let views = form.views.iter().filter_map(|asked| {
            let carries = self.evaluator.design().carries(asked.carries.as_deref()?)?;
            let mut view = load_path::view(self.evaluator, &rows, asked, carries, &mut missed)?;
            projected::head(&mut view);
            Some(view)
        });
        let mut views: Vec<View> = views.collect();
        let missing = missed.told(self.evaluator);
        let notes = self.notes(&missing, &[], None);
        let room = frame::room(&paper, frame::notes(&paper, &notes).1);
        stack(&mut views, &room);
        let says = Says { name: &form.name, title: &form.title, sort: &form.sort, scale: None, number };
        self.sheet(&says, paper, views, &notes, missing)
    }

    /// Circuits, contact by contact, on as many sheets as they need.
    pub fn ladder(&self, form: &'static SheetForm, name: &str, of: Option<ComponentId>, number: &str) -> Vec<Sheet> {
        let paper = self.paper();
        let rows: Vec<&Row> = self.rows.iter().filter(|row| is_of(row) == of).collect();
        let mut missed = Missed::default();
        let rungs = ladder::rungs(self.evaluator, &rows, &form.name, &mut missed);
        let missing = missed.told(self.evaluator);
        let mut notes = vec![says::CIRCUITS_READ.to_owned()];
        notes.extend(self.notes(&missing, &[], None));
        let room = frame::room(&paper, frame::notes(&paper, &notes).1);
        let views = ladder::views(&rungs, &room);
        self.pages(form, name, &self.title(form, of), number, views, &notes, &missing)
    }

    /// Lists, on as many sheets as they need.
    pub fn list(&self, form: &'static SheetForm, rows: &[&Row], number: &str) -> Vec<Sheet> {
        let paper = self.paper();
        let mut missed = Missed::default();
        let told = list::told(self.evaluator, rows, &mut missed);
        let missing = missed.told(self.evaluator);
        let notes = self.notes(&missing, &[], None);
        let room = frame::room(&paper, frame::notes(&paper, &notes).1);
        self.pages(form, &form.name, &form.title, number, list::views(&told, &room), &notes, &missing)
    }

    /// A sheet for each view, numbered where there are several.
    #[expect(clippy::too_many_arguments, reason = "what a title block says")]
    fn pages(
        &self,
        form: &'static SheetForm,
        name: &str,
        title: &str,
        number: &str,
        views: Vec<View>,
        notes: &[String],
        missing: &[String],
    ) -> Vec<Sheet> {
        let count = views.len();
        let page_sheet = |(at, view): (usize, View)| {
            let (name, title) = if count > 1 {
                (format!("{name}_{}", at + 1), format!("{title}, {} of {count}", at + 1))
            } else {
                (name.to_owned(), title.to_owned())
            };
            let says = Says { name: &name, title: &title, sort: &form.sort, scale: None, number };
            self.sheet(&says, self.paper(), vec![view], notes, missing.to_vec())
        };
        views.into_iter().enumerate().map(page_sheet).collect()
    }

    /// A full-size template, page by page, or whole for who draws on.
    pub fn template(&self, form: &'static SheetForm, name: &str, of: Option<ComponentId>, number: &str) -> Vec<Sheet> {
        let mut missed = Missed::default();
        let rows: Vec<&Row> = self.rows.iter().filter(|row| is_of(row) == of).collect();
        let gathered: Vec<Drawn> =
            gather(self.evaluator, rows, std::slice::from_ref(&form.name), (&Eye::ABOVE, Some(Plane::PLAN)), &mut missed).drawn;
        let missing = missed.told(self.evaluator);
        let title = self.title(form, of);
        if self.wanted.whole_templates {
            let Some((mut view, bounds)) = template::whole(&gathered) else { return Vec::new() };
            projected::shift(&mut view, [-bounds.from[0], -bounds.from[1]]);
            let paper = PaperSize { name: "full", shown: "full size", breadth: bounds.breadth(), height: bounds.height() };
            let whole = Sheet { name: name.into(), title, paper, scale: Some(Scale::FULL), views: vec![view], frame: Vec::new(), missing };
            return vec![whole];
        }
        let paper = self.wanted.paper.unwrap_or_else(|| PaperSize::of_a_desk_printer(self.system));
        let mut says: Vec<String> = gathered.iter().filter_map(|drawn| drawn.label.clone()).collect();
        says.dedup();
        says.extend(self.notes(&missing, &[], None).into_iter().skip(1));
        let room = frame::room(&paper, frame::notes(&paper, &says).1);
        let pages = template::pages(&gathered, &room, self.system);
        let page_sheet = |page: template::Page| {
            let mut notes = vec![format!("Page {} of {}: row {}, place {} in it.", page.number, page.of, page.place[0], page.place[1])];
            notes.extend(says.iter().cloned());
            let name = format!("{name}_{}", page.number);
            let says = Says { name: &name, title: &title, sort: &form.sort, scale: Some(Scale::FULL), number };
            self.sheet(&says, paper, vec![page.view], &notes, missing.clone())
        };
        pages.into_iter().map(page_sheet).collect()
    }

    /// The title of a sheet of which there is one for each component.
    fn title(&self, form: &SheetForm, of: Option<ComponentId>) -> String {
        form.title.replace("{of}", &of.map_or_else(SmolStr::default, |of| in_words(self.evaluator.design(), of)))
    }

    fn sheet(&self, says: &Says, paper: PaperSize, views: Vec<View>, notes: &[String], missing: Vec<String>) -> Sheet {
        let (lines, strip) = frame::notes(&paper, notes);
        let block = Block {
            building: self.building.clone(),
            codes: self.codes.clone(),
            title: says.title.to_owned(),
            sort: says.sort,
            number: says.name.to_owned(),
            scale: says.scale.map_or("none", |scale| scale.shown).to_owned(),
            date: self.wanted.date.clone(),
            revision: self.wanted.revision.clone(),
            sheet: says.number.to_owned(),
        };
        let frame = frame::draw(&paper, &lines, strip, &block);
        Sheet { name: says.name.into(), title: says.title.to_owned(), paper, scale: says.scale, views, frame, missing }
    }

    fn notes(&self, missing: &[String], unplaced: &[String], scale: Option<Scale>) -> Vec<String> {
        let mut notes = vec![frame::measures(self.system, scale), LAST_WORD.to_owned()];
        if !missing.is_empty() {
            notes.push(format!("Not drawn, because the design does not say: {}.", missing.join("; ")));
        }
        if !unplaced.is_empty() {
            notes.push(format!("Drawn without a name, for want of room: {}.", unplaced.join(", ")));
        }
        notes
    }

    /// The views at a scale; `None` if they do not fit and need not be `forced`.
    fn place(&self, views: &[Asked], scale: Scale, room: &Rect, forced: bool) -> Option<(Vec<View>, Vec<String>)> {
        let mut unplaced = Vec::new();
        let mut placed: Vec<View> = Vec::new();
        for Asked { projection, title, gathered, scene } in views {
            let view = projected::view(projection, (*title).to_owned(), gathered, scene, scale, self.system);
            let Some((view, left_out)) = view else { continue };
            for name in left_out {
                if !unplaced.contains(&name) {
                    unplaced.push(name);
                }
            }
            placed.push(view);
        }
        // Views whose measures run against each other have no line in common: they may stand side by side.
        let mirrored = |view: &Asked| view.projection.plane.is_some_and(|plane| plane.mirrored);
        let alike = views.iter().all(|view| mirrored(view) == views.first().is_some_and(mirrored));
        let fits = if alike { stack(&mut placed, room) } else { rows_of(&mut placed, room) };
        (fits || forced).then_some((placed, unplaced))
    }
}

/// Puts views side by side, as many as there is room for, their data on one line, then below, and says whether they fit.
fn rows_of(views: &mut [View], room: &Rect) -> bool {
    let between = 3.0 * GAP;
    // Rows: how many views each has, its breadth, how far it reaches above and below the line of the data.
    let mut rows: Vec<(usize, f64, [f64; 2])> = Vec::new();
    for view in views.iter() {
        let bounds = view.bounds();
        let own = [view.origin[1] - bounds.from[1], bounds.to[1] - view.origin[1]];
        match rows.last_mut() {
            Some((count, breadth, reaches)) if *breadth + between + bounds.breadth() <= room.breadth() => {
                *count += 1;
                *breadth += between + bounds.breadth();
                *reaches = [reaches[0].max(own[0]), reaches[1].max(own[1])];
            }
            _ => rows.push((1, bounds.breadth(), own)),
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "a few views")]
    let gaps = GAP * rows.len().saturating_sub(1) as f64;
    let height = rows.iter().map(|(_, _, [above, below])| above + below).sum::<f64>() + gaps;
    let widest = rows.iter().map(|(_, breadth, _)| *breadth).fold(0.0, f64::max);
    let mut y = room.from[1] + (room.height() - height).max(0.0) / 2.0;
    let mut placed = views.iter_mut();
    for (count, breadth, [above, below]) in rows {
        let mut x = room.from[0] + (room.breadth() - breadth).max(0.0) / 2.0;
        for view in placed.by_ref().take(count) {
            let bounds = view.bounds();
            projected::shift(view, [x - bounds.from[0], y + above - view.origin[1]]);
            x += bounds.breadth() + between;
        }
        y += above + below + GAP;
    }
    widest <= room.breadth() && height <= room.height()
}

/// Puts views one below the other into the middle of a room, their data on one line, and says whether they fit.
fn stack(views: &mut [View], room: &Rect) -> bool {
    let bounds: Vec<Rect> = views.iter().map(View::bounds).collect();
    let all = bounds.iter().copied().reduce(Rect::with).unwrap_or_default();
    #[expect(clippy::cast_precision_loss, reason = "a few views")]
    let gaps = GAP * bounds.len().saturating_sub(1) as f64;
    let (breadth, height) = (all.breadth(), bounds.iter().map(Rect::height).sum::<f64>() + gaps);
    let x = room.from[0] + (room.breadth() - breadth).max(0.0) / 2.0;
    let mut y = room.from[1] + (room.height() - height).max(0.0) / 2.0;
    for (view, bounds) in views.iter_mut().zip(&bounds) {
        projected::shift(view, [x - all.from[0], y - bounds.from[1]]);
        y += bounds.height() + GAP;
    }
    breadth <= room.breadth() && height <= room.height()
}

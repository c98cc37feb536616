//! `wallplate draw FILE…`: sheets to build from, as SVG or DXF.

use super::args::{DrawArgs, DrawFormat};
use super::progress::Progress;
use super::status::Status;
use super::terminal::{complain, complain_of, look_of_complaints};
use super::write::{Document, MARK, write};
use super::{paper, today};
use crate::output::{dxf, svg, text};
use crate::papers::drawing::{self, PaperSize, Sheet, Wanted};
use crate::problem::{Problem, Severity, nearest};
use crate::units::System;

pub(super) fn run(args: &DrawArgs) -> Status {
    let progress = Progress::of("working out the design");
    let mut session = match paper::read(&args.design) {
        Ok((session, _)) => session,
        Err(status) => return status,
    };
    progress.now("drawing the sheets");
    let papers = session.papers();
    let known = drawing::names(&session, &papers);
    for sheet in &args.sheet {
        if !known.iter().any(|name| name == sheet) {
            drop(progress);
            let help = match nearest(sheet, known.iter().map(String::as_str)) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("its sheets are {}", known.join(", ")),
            };
            complain_of(&format!("the design has no sheet `{sheet}`"), &help);
            return Status::Wrong;
        }
    }
    let date = args.date.or_else(today::today).map(|date| date.to_string()).unwrap_or_default();
    let wanted = Wanted {
        sheets: args.sheet.clone(),
        paper: args.paper.as_deref().and_then(PaperSize::named),
        date,
        revision: args.revision.clone().unwrap_or_default(),
        whole_templates: args.format == DrawFormat::Dxf,
    };
    let sheets = drawing::sheets(&session, &papers, &wanted);
    let documents: Vec<Document> = sheets.iter().map(|sheet| document(args, sheet, session.evaluator.system())).collect();
    drop(progress);
    let mistakes: Vec<Problem> = session.problems().into_iter().filter(|problem| problem.severity == Severity::Error).collect();
    let written = write(&documents, &session.sources, args.replace);
    if mistakes.is_empty() {
        return written;
    }
    complain(&text::problems(&mistakes, &session.sources, &look_of_complaints()));
    complain_of("the design has mistakes", "the sheets show only what does not stand on them");
    Status::Wrong
}

fn document(args: &DrawArgs, sheet: &Sheet, system: System) -> Document {
    let (ending, text) = match args.format {
        DrawFormat::Svg => ("svg", svg::document(sheet, MARK)),
        DrawFormat::Dxf => ("dxf", dxf::document(sheet, system, MARK)),
    };
    Document { path: args.into.join(format!("{}.{ending}", sheet.name)), text, mark: MARK }
}

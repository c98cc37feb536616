//! Checking: a whole design, edited again and again. A draft of it has to say word for word what a fresh reading says,
//! and each format has to take what was found.

use crate::answers::{sound, sound_findings};
use crate::mutate::{Dice, changed};
use crate::pool::Pool;
use std::sync::mpsc::{Sender, channel};
use std::time::Duration;
use wallplate::design::Choice;
use wallplate::output::report::{self, Content, Issue};
use wallplate::output::text::{self, Look};
use wallplate::output::{Checked, dxf, json, lists, sarif, svg};
use wallplate::papers::{accounts, cards, drawing, rolling, sequence, takeoff};
use wallplate::problem::Problem;
use wallplate::rules::{Finding, Options};
use wallplate::session::{Draft, NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;
use wallplate::values::{Halt, unless_halted};

/// What a made-up design may take; what takes longer is given up, as an editor does.
const PATIENCE: Duration = Duration::from_secs(10);

/// The part.
pub struct Checking;

impl crate::Part for Checking {
    const NAME: &'static str = "checking";
    const COUNTS: &'static str = "checks";

    fn case(pool: &Pool, dice: &mut Dice) -> Vec<String> {
        let whole = dice.of(&pool.designs).clone();
        let mut texts = vec![whole.clone()];
        for _ in 0..10 {
            let times = 1 + dice.below(2);
            // Now and then back to a sound design: much is left open by then.
            let before = if dice.once_in(4) { &whole } else { texts.last().unwrap_or(&whole) };
            let next = changed(before, pool, dice, times);
            texts.push(next);
        }
        texts
    }

    fn run(texts: &[String], dice: &mut Dice) -> u64 {
        let halt = Halt::default();
        let clock = Clock::new(&halt);
        let mut draft = Draft::default();
        let mut checks = 0;
        for text in texts {
            clock.wind();
            let fresh = unless_halted(|| afresh(text, &halt)).unwrap_or_else(|panic| std::panic::resume_unwind(panic));
            let Some(fresh) = fresh else {
                draft = Draft::default();
                continue;
            };
            clock.wind();
            let again = unless_halted(|| again(&mut draft, text, &halt)).unwrap_or_else(|panic| std::panic::resume_unwind(panic));
            let Some((problems, findings)) = again else { continue };
            checks += 2;
            same(&problems, &fresh.problems);
            same(&findings, &fresh.findings);
            clock.wind();
            let shown = unless_halted(|| show(fresh, dice)).unwrap_or_else(|panic| std::panic::resume_unwind(panic));
            if shown.is_none() {
                draft = Draft::default();
            }
        }
        checks
    }
}

/// Every word of what a draft says is what a fresh reading says.
fn same<T: PartialEq + std::fmt::Debug>(draft: &[T], fresh: &[T]) {
    for (one, other) in draft.iter().zip(fresh) {
        assert!(one == other, "draft and fresh reading differ:\n  {one:?}\n  {other:?}");
    }
    let more = draft.iter().skip(fresh.len()).chain(fresh.iter().skip(draft.len())).next();
    assert!(more.is_none(), "draft and fresh reading differ: {} and {}, {more:?}", draft.len(), fresh.len());
}

/// Raises a halt where nobody has wound it for too long.
struct Clock {
    wound: Sender<()>,
    halt: Halt,
}

impl Clock {
    fn new(halt: &Halt) -> Clock {
        let (wound, waits) = channel();
        let raised = halt.clone();
        std::thread::spawn(move || {
            loop {
                match waits.recv_timeout(PATIENCE) {
                    Ok(()) => {}
                    Err(std::sync::mpsc::RecvTimeoutError::Timeout) => raised.raise(),
                    Err(std::sync::mpsc::RecvTimeoutError::Disconnected) => return,
                }
            }
        });
        Clock { wound, halt: halt.clone() }
    }

    fn wind(&self) {
        self.wound.send(()).unwrap();
        self.halt.lower();
    }
}

fn options() -> Options {
    Options { today: Some(Date { year: 2027, month: 6, day: 1 }), ..Options::default() }
}

fn afresh(text: &str, halt: &Halt) -> Checked {
    let choice = Choice::default();
    let session = Session::read_heeding(vec![Source::new("a.plate", text)], &NoShelf, &choice, halt);
    sound(text, &session.problems());
    let findings = session.check(&options());
    let not_begun = session.not_begun(&options());
    let problems = session.problems();
    sound(text, &problems);
    sound_findings(&session.sources, &findings);
    Checked { session, choice, findings, not_begun, problems, only: None, today: options().today, built: None }
}

fn again(draft: &mut Draft, text: &str, halt: &Halt) -> (Vec<Problem>, Vec<Finding>) {
    draft.read(vec![Source::new("a.plate", text)], &NoShelf, &options(), halt);
    let sources = &draft.session().sources;
    let mut findings: Vec<Finding> = draft.findings().iter().map(|finding| finding.as_ref().clone()).collect();
    for finding in &mut findings {
        finding.places.iter_mut().for_each(|place| place.span = sources.settle(place.span));
        finding.influences.iter_mut().for_each(|influence| influence.place.span = sources.settle(influence.place.span));
        finding.mends.iter_mut().chain(&mut finding.suffices).for_each(|mend| mend.span = sources.settle(mend.span));
    }
    (draft.session().problems(), findings)
}

/// What was found, in one of the forms in which it can be had.
fn show(mut checked: Checked, dice: &mut Dice) {
    let look = Look { width: 20 + dice.below(100), colour: dice.once_in(2), unicode: dice.once_in(2), narrated: dice.once_in(3) };
    match dice.below(12) {
        0..3 => {
            drop(text::check(&checked, &look, text::Wanted { all: dice.once_in(2), assumed: dice.once_in(2), cautions: dice.once_in(2) }))
        }
        3..6 => drop(serde_json::from_str::<serde_json::Value>(&json::check(&checked)).expect("JSON")),
        6..8 => drop(serde_json::from_str::<serde_json::Value>(&sarif::check(&checked, dice.once_in(2))).expect("JSON")),
        8 => {
            let papers = checked.session.papers();
            let (takeoff, cards) = (takeoff::of(&checked.session, &papers), cards::of(&checked.session, &papers));
            drop((lists::takeoff_text(&takeoff, &look), lists::takeoff_markdown(&takeoff, "a"), lists::takeoff_csv(&takeoff)));
            drop((lists::cards_text(&cards, &look), lists::cards_markdown(&cards, "a"), lists::cards_html(&cards, "a")));
        }
        9 => {
            let papers = checked.session.papers();
            let sequence = sequence::of(&checked.session, &papers);
            let start = Date { year: 2027, month: 4, day: 1 };
            drop((lists::sequence_text(&sequence, &look, Some(start)), lists::sequence_markdown(&sequence, "a", None)));
            drop((lists::sequence_chart(&sequence, "a", Some(start)), lists::sequence_calendar(&sequence, "a", start)));
        }
        10 => {
            let papers = checked.session.papers();
            let system = checked.session.evaluator.system();
            for sheet in drawing::sheets(&checked.session, &papers, &drawing::Wanted::default()) {
                drop((svg::document(&sheet, "mark"), dxf::document(&sheet, system, "mark")));
            }
        }
        _ => {
            let papers = checked.session.papers();
            let rolls = rolling::rolls(&checked.session.evaluator, &papers);
            let sheets = drawing::sheets(&checked.session, &papers, &drawing::Wanted::default());
            let travels = || rolls.iter().flat_map(|roll| &roll.places).map(|place| place.travel);
            let rolled = drawing::rolled(&checked.session, &papers, travels().fold(0.0, f64::min), travels().fold(0.0, f64::max));
            let takeoff = takeoff::of(&checked.session, &papers);
            let sequence = sequence::of(&checked.session, &papers);
            let cards = cards::of(&checked.session, &papers);
            let accounts = accounts::in_report(&checked.session, &papers);
            let content = Content {
                checked: &checked,
                papers: &papers,
                rolls: &rolls,
                rolled: rolled.as_ref(),
                sheets: &sheets,
                takeoff: &takeoff,
                sequence: &sequence,
                accounts: &accounts,
                cards: &cards,
                issue: &Issue::default(),
            };
            drop(report::html(&content, "mark"));
        }
    }
}

//! `wallplate rules [NAME]`: the reference.

use super::args::RulesArgs;
use super::status::Status;
use super::terminal::{complain_of, look, print};
use crate::design::Choice;
use crate::output::text::reference;
use crate::session::{NoShelf, Session};

pub(super) fn run(args: &RulesArgs) -> Status {
    let session = Session::read(Vec::new(), &NoShelf, &Choice::default());
    let name = (!args.name.is_empty()).then(|| args.name.join(" "));
    match reference(&session, name.as_deref(), &look()) {
        Ok(page) => print(&page, Status::Fine),
        Err(near) => {
            let name = name.unwrap_or_default();
            let help = near.map_or_else(
                || "`wallplate rules` lists all there is".to_owned(),
                |near| format!("did you mean `{near}`? `wallplate rules` lists all there is"),
            );
            complain_of(&format!("there is no rule, area, kind, function, unit or catalogue `{name}`, and nothing speaks of it"), &help);
            Status::Wrong
        }
    }
}

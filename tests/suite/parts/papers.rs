//! Rows of a paper, before anybody lays them out.

use wallplate::design::{Choice, PaperSort};
use wallplate::papers::row::rows;
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::Lack;

#[test]
fn a_paper_goes_over_the_components() {
    let text = "kind hatch \"x\" { width length \"its width\"\n}\nhatch north { width 60 cm }\nhatch south { }\n\
                purchase hatch.board \"A board\" { each h in hatch; when h.width > 0 m; group \"boards\"; item \"board of {h.width}\" }\n";
    let mut session = Session::read(vec![Source::new("x.plate", text)], &NoShelf, &Choice::default());
    assert_eq!(session.problems(), []);
    let papers = session.papers();
    let rows = rows(&session.evaluator, &papers, PaperSort::Purchase);
    let rows: Vec<_> = rows.iter().filter(|row| row.paper.name == "hatch.board").collect();
    let [north, south] = rows.as_slice() else { panic!("{rows:?}") };
    assert_eq!(north.text("item"), Ok(Some("board of 60 cm".into())));
    assert_eq!(north.text("note"), Ok(None));
    assert!(matches!(&south.lack, Some(Lack::Missing(_))), "{:?}", south.lack);
    assert!(south.text("item").is_err());
}

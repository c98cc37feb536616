//! The one standard layout: what it does to a text, and what it never does.

use super::reading::generate::{design, dice};
use proptest::prelude::*;
use wallplate::syntax::parse;
use wallplate::text::FileId;
use wallplate::tidy::{outline, tidy};

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_layout_says_the_same_and_stays(dice in dice(1500)) {
        let sample = design(&dice);
        let once = tidy(&sample.text);
        prop_assert!(once.is_ok(), "{:?}\n{}", once, sample.text);
        let once = once.unwrap();
        let (tree, problems) = parse(&once, FileId::default());
        prop_assert!(problems.is_empty());
        prop_assert_eq!(outline(&tree), outline(&sample.tree));
        prop_assert_eq!(tidy(&once), Ok(once.clone()), "from {}", sample.text);
        for line in once.lines() {
            prop_assert!(!line.ends_with([' ', '\t', '\r']), "{line:?}");
        }
        prop_assert!(once.is_empty() || (once.ends_with('\n') && !once.ends_with("\n\n") && !once.contains("\n\n\n") && !once.starts_with('\n')));
    }
}

//! What a terminal is shown: which look it gets, how lines are wrapped, what is said of work that lasts.

mod look {
    use wallplate::output::text::{Look, Tone};

    const PLAIN: Look = Look { width: 40, colour: false, unicode: false, narrated: false };

    #[test]
    fn control_characters_cannot_reach_the_terminal() {
        assert_eq!(PLAIN.tame("a\u{1b}[31mb\u{7}\u{202E}c"), "a?[31mb??c");
        assert_eq!(PLAIN.tame("8 mm → 9 mm ± 1 mm"), "8 mm -> 9 mm +- 1 mm");
        assert_eq!(Look { unicode: true, ..PLAIN }.tame("8 mm ± 1 mm"), "8 mm ± 1 mm");
    }

    #[test]
    fn facts_stand_in_one_column_and_keep_to_the_width() {
        let text = PLAIN.fact("help", "move the sensor nearer the closed end of the track");
        assert_eq!(text, "  help        move the sensor nearer the\n              closed end of the track\n");
        assert!(text.lines().all(|line| line.len() <= 40));
    }

    #[test]
    fn colour_only_where_it_may_be() {
        assert_eq!(PLAIN.paint(Tone::Bad, "fail"), "fail");
        assert_eq!(Look { colour: true, ..PLAIN }.paint(Tone::Bad, "fail"), "\u{1b}[1;31mfail\u{1b}[0m");
    }
}

mod choice {
    use wallplate::cli::terminal::decide;
    use wallplate::output::text::Look;

    fn with(is_terminal: bool, variables: &[(&str, &str)]) -> Look {
        decide(is_terminal, None, &|name| variables.iter().find(|(known, _)| *known == name).map(|(_, value)| (*value).to_owned()))
    }

    #[test]
    fn colour_is_for_terminals_and_no_color_has_the_last_word() {
        assert!(with(true, &[]).colour);
        assert!(!with(false, &[]).colour);
        assert!(!with(false, &[("FORCE_COLOR", "1"), ("CLICOLOR_FORCE", "1")]).colour);
        assert!(!with(true, &[("NO_COLOR", "1"), ("FORCE_COLOR", "1"), ("CLICOLOR_FORCE", "1")]).colour);
        assert!(with(true, &[("NO_COLOR", "")]).colour);
        assert!(!with(true, &[("TERM", "dumb")]).colour);
    }

    #[test]
    fn the_first_locale_variable_that_is_set_counts() {
        assert!(with(false, &[("LANG", "en_GB.UTF-8")]).unicode);
        assert!(with(false, &[("LC_ALL", ""), ("LC_CTYPE", "C.utf8")]).unicode);
        assert!(!with(false, &[("LC_ALL", "C"), ("LANG", "en_GB.UTF-8")]).unicode || cfg!(windows));
        assert!(!with(false, &[]).unicode || cfg!(windows));
    }

    #[test]
    fn the_width_keeps_within_what_can_be_read() {
        assert_eq!(with(false, &[]).width, 100);
        assert_eq!(with(false, &[("COLUMNS", "40")]).width, 40);
        assert_eq!(with(false, &[("COLUMNS", "3")]).width, 24);
        assert_eq!(with(false, &[("COLUMNS", "many")]).width, 100);
        assert_eq!(decide(true, Some(300), &|_| None).width, 120);
    }
}

mod progress {
    use std::cell::RefCell;
    use std::sync::mpsc::channel;
    use std::time::Duration;
    use wallplate::cli::progress::show;

    /// Back to the beginning of the line, and the line cleared (ECMA-48: EL).
    const CLEAR: &str = "\r\u{1b}[K";

    #[test]
    fn short_work_says_nothing() {
        let said = RefCell::new(String::new());
        let (sender, receiver) = channel();
        sender.send("next".to_owned()).unwrap();
        drop(sender);
        show("first".to_owned(), &receiver, &|text| said.borrow_mut().push_str(text));
        assert_eq!(said.into_inner(), "");
    }

    #[test]
    fn long_work_is_told_and_wiped_away() {
        let said = RefCell::new(String::new());
        let (sender, receiver) = channel();
        let later = std::thread::spawn(move || {
            std::thread::sleep(Duration::from_millis(1500));
            drop(sender);
        });
        show("sawing".to_owned(), &receiver, &|text| said.borrow_mut().push_str(text));
        later.join().unwrap();
        assert_eq!(said.into_inner(), format!("{CLEAR}sawing (1 s){CLEAR}"));
    }
}

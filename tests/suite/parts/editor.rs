//! What an editor asks with, in plain types: places in a text that is being written, addresses, edits.

mod cursor {
    use wallplate::editor::cursor::{Cursor, Inside};

    fn place(marked: &str) -> Cursor {
        let offset = marked.find('|').unwrap();
        Cursor::at(&marked.replacen('|', "", 1), offset)
    }

    #[test]
    fn places_in_whole_and_broken_text() {
        let whole = place("clamp ne like corner { station 1 m\n  off|set 2 m\n  holds roof }\n");
        assert_eq!(whole.blocks, ["clamp ne like corner"]);
        assert_eq!(whole.before, "off");
        assert_eq!(whole.written, ["station", "holds"]);
        let broken = place("clamp ne {\n  holds  ma|\n\nwall a { height 2 m }\n");
        assert_eq!(broken.blocks, ["clamp ne"]);
        assert_eq!((broken.words(), broken.typed()), (vec!["holds"], "ma"));
        let top = place("wall a { height 2 m }\ncl|");
        assert_eq!((top.blocks.len(), top.typed()), (0, "cl"));
        let after = place("wall a { height 2 m }\n|\nwall b { }\n");
        assert_eq!((after.blocks.len(), after.before.as_str()), (0, ""));
        let nested = place("variant fast {\n  roof_drive { speed| }\n}\n");
        assert_eq!(nested.blocks, ["variant fast", "roof_drive"]);
        assert_eq!(place("let a 1 m # no|te\n").inside, Inside::Comment);
        assert!(matches!(place("use \"par|ts\"\n").inside, Inside::Text(4)));
        assert_eq!(place("let a 3 m|").typed(), "m");
    }
}

mod files {
    use std::path::{Path, PathBuf};
    use wallplate::editor::files::{Uses, path_of, uri_of};

    #[test]
    fn addresses_and_paths() {
        assert_eq!(path_of("file:///home/a%20b/%C3%A9.plate"), Some(PathBuf::from("/home/a b/é.plate")));
        assert_eq!(uri_of(Path::new("/home/a b/é.plate")), "file:///home/a%20b/%C3%A9.plate");
        assert_eq!(path_of("file:///c%3A/x.plate"), Some(PathBuf::from("c:/x.plate")));
        assert_eq!(path_of("untitled:Untitled-1"), None);
    }

    #[test]
    fn roots_are_what_nothing_uses() {
        let mut uses = Uses::default();
        assert!(uses.note(Path::new("/d/main.plate"), "use timber\nuse \"parts/clamps.plate\"\n"));
        assert!(uses.note(Path::new("/d/parts/clamps.plate"), "use \"../bolts.plate\"\n"));
        assert!(!uses.note(Path::new("/d/parts/clamps.plate"), "# news\nuse \"../bolts.plate\"\n"));
        uses.note(Path::new("/d/x.plate"), "use \"y.plate\"");
        uses.note(Path::new("/d/y.plate"), "use \"x.plate\"");
        assert_eq!(uses.roots(Path::new("/d/bolts.plate")), [PathBuf::from("/d/main.plate")]);
        assert_eq!(uses.roots(Path::new("/d/main.plate")), [PathBuf::from("/d/main.plate")]);
        assert_eq!(uses.roots(Path::new("/d/x.plate")), [PathBuf::from("/d/x.plate")]);
    }
}

mod documents {
    use gen_lsp_types::{Position, Range};
    use wallplate::editor::documents::{Document, Encoding};

    fn range(from: (u32, u32), to: (u32, u32)) -> Option<Range> {
        let at = |(line, character)| Position { line, character };
        Some(Range { start: at(from), end: at(to) })
    }

    #[test]
    fn changes_in_both_encodings() {
        let mut document = Document::new(1, "a ± b\nsecond \u{1F52D} line\n".to_owned());
        document.change(Encoding::Utf16, range((0, 2), (0, 3)), "+");
        assert_eq!(document.text(), "a + b\nsecond \u{1F52D} line\n");
        document.change(Encoding::Utf16, range((1, 9), (1, 10)), "_");
        assert_eq!(document.text(), "a + b\nsecond \u{1F52D}_line\n");
        document.change(Encoding::Utf8, range((1, 11), (1, 12)), " ");
        assert_eq!(document.text(), "a + b\nsecond \u{1F52D} line\n");
        document.change(Encoding::Utf8, range((99, 0), (0, 0)), "");
        assert_eq!(document.text(), "");
        document.change(Encoding::Utf16, None, "let a 1 m\r\nlet b 2 m");
        document.change(Encoding::Utf16, range((1, 400), (7, 7)), "m");
        assert_eq!(document.text(), "let a 1 m\r\nlet b 2 mm");
    }

    /// What the range covered is what it covers after the edit, where it is still there.
    #[test]
    fn places_move_with_what_they_stand_on() {
        let text = "let a 1 m\nlet bé 2 m\nlet c 3 m\n";
        let stood = |range: Option<Range>, new: &str, at: ((u32, u32), (u32, u32))| {
            let mut document = Document::new(1, text.to_owned());
            let shift = document.change(Encoding::Utf16, range, new);
            let range = super::documents::range(at.0, at.1).and_then(|range| shift.range(range))?;
            let offset = |place| Encoding::Utf16.offset(document.text(), document.lines(), place) as usize;
            Some(document.text()[offset(range.start)..offset(range.end)].to_owned())
        };
        let second = ((1, 4), (1, 10));
        for (edit, new) in [
            (range((0, 8), (0, 9)), "ft"),
            (range((0, 0), (1, 0)), ""),
            (range((1, 0), (1, 0)), "let x 1 m\nlet y 2 m\n"),
            (range((1, 3), (1, 4)), "  é "),
            (range((2, 0), (3, 0)), "x"),
            (range((1, 10), (1, 10)), "é"),
            (range((1, 4), (1, 4)), "\n "),
            (None, "let b\nlet z 1 m\nlet bé 2 m\nlet c 3 m\n"),
        ] {
            assert_eq!(stood(edit, new, second).as_deref(), Some("bé 2 m"), "{edit:?} {new:?}");
        }
        assert_eq!(stood(range((1, 7), (1, 8)), "11", second).as_deref(), Some("bé 11 m"));
        assert_eq!(stood(range((1, 4), (1, 6)), "width", second).as_deref(), Some("width 2 m"));
        assert_eq!(stood(range((1, 8), (2, 3)), "", second).as_deref(), Some("bé 2"));
        assert_eq!(stood(range((0, 5), (1, 6)), "=", second).as_deref(), Some(" 2 m"));
        assert_eq!(stood(range((1, 0), (2, 0)), "", second), None);
        assert_eq!(stood(None, "let a 1 m\nlet c 3 m\n", second), None);
    }
}

mod listing {
    use wallplate::design::GATHERERS;
    use wallplate::editor::listing::functions;
    use wallplate::formulas;

    #[test]
    fn each_function_is_found_at_its_line() {
        let all = formulas::all().subjects().iter().flat_map(|(_, table)| table.iter()).map(|function| function.name);
        for name in all.chain(GATHERERS.map(|(name, _)| name)) {
            let (text, line) = functions(name).unwrap();
            assert!(text.lines().nth(line as usize).unwrap().starts_with(&format!("{name}(")), "{name}");
        }
        assert!(functions("no_such_function").is_none());
    }
}

mod server {
    use lsp_server::{ErrorCode, Notification, Request, RequestId};
    use serde_json::{Value, json};
    use std::cell::RefCell;
    use std::collections::HashMap;
    use std::path::{Path, PathBuf};
    use wallplate::editor::files::Disk;
    use wallplate::editor::server::{Next, Sent, Server, World};
    use wallplate::session::{Refused, Shelf};
    use wallplate::text::Source;
    use wallplate::values::Halt;

    /// A disk with nothing on it, which takes the program down where something is to be put there.
    struct Empty;

    impl Disk for Empty {
        fn design(&self, _: &Path, _: &HashMap<PathBuf, String>) -> Result<(Source, Box<dyn Shelf>), Refused> {
            Err(Refused { message: String::new(), help: String::new() })
        }

        fn below(&self, _: &Path) -> Vec<PathBuf> {
            Vec::new()
        }

        fn text(&self, _: &Path) -> Option<String> {
            None
        }

        fn place(&self, path: &Path) -> PathBuf {
            path.to_owned()
        }

        fn keep(&self, _: &str, _: &str) -> Option<PathBuf> {
            panic!("as a fault of ours would")
        }

        fn kept(&self, _: &Path) -> Option<String> {
            None
        }
    }

    /// No text is known that makes a request panic, so the disk does.
    #[test]
    fn a_request_that_panics_is_answered_and_the_conversation_goes_on() {
        let sent: RefCell<Vec<Value>> = RefCell::default();
        let send = |text: Sent| sent.borrow_mut().push(serde_json::from_str(&text).unwrap());
        let mut server = Server::new(World { disk: &Empty, today: &|| None, halt: Halt::default(), send: &send, later: &|_| () });
        let answer = || sent.borrow().iter().rev().find(|message| message.get("id").is_some()).cloned().unwrap();
        let request = |id: i32, method: &str, params: Value| Request::new(RequestId::from(id), method.to_owned(), params);
        server.request(request(1, "initialize", json!({ "processId": null, "rootUri": null, "capabilities": {} })));
        let text = json!({ "uri": "untitled:a", "languageId": "wallplate", "version": 1, "text": "let eave 2 m\nsite { }\n" });
        server.notification(Notification::new("textDocument/didOpen".to_owned(), json!({ "textDocument": text })));

        let place = |line: u32, character: u32| json!({ "textDocument": { "uri": "untitled:a" }, "position": { "line": line, "character": character } });
        // Where the kind is declared: in a file of the library, which is put on the disk for that.
        server.request(request(2, "textDocument/definition", place(1, 1)));
        assert_eq!((&answer()["id"], &answer()["error"]["code"]), (&json!(2), &json!(ErrorCode::InternalError as i32)));
        assert!(answer()["error"]["message"].as_str().unwrap().contains("`textDocument/definition` came upon a fault"), "{}", answer());

        server.request(request(3, "textDocument/hover", place(0, 5)));
        assert!(answer()["result"]["contents"]["value"].as_str().unwrap().contains("2 m"), "{}", answer());
        server.request(request(4, "shutdown", Value::Null));
        assert_eq!(server.notification(Notification::new("exit".to_owned(), Value::Null)), Next::End(true));
    }
}

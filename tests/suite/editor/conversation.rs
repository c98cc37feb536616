//! Every request once, on a small design.

use super::client::{Client, at, edited, uri};
use serde_json::{Value, json};
use std::path::Path;

const BARN: &str = r#"# A shed with a roof that rolls east.
# Nothing of it is built.
use timber

observatory drumlin {
  rolls_open   east
  design_code  eurocode
}
site {
  latitude        54.1 deg
  wind_speed      26 m/s
  operating_wind  8 m/s
  terrain         open_country
}
slab floor { thickness 150 mm }
let eave  2.05 m  # “under the wall plate”
let top   eave + 60 mm

wall east_wall { stands_on floor; height 1.90 m; offset 0.05 m }
track south_track {
  profile   vee
  runs      0 m to 9.40 m
  offset    0.07 m
  level     top
  rests_on  east_wall
}
variant higher "A higher wall" {
  east_wall { height 2.40 m }
}
"#;

fn opened(text: &str) -> (tempfile::TempDir, String, Client) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().canonicalize().unwrap().join("barn.plate");
    std::fs::write(&path, text).unwrap();
    let mut client = Client::ready(&[folder.path()]);
    let uri = uri(&path);
    client.open(&uri, text);
    (folder, uri, client)
}

fn place(uri: &str, position: Value) -> Value {
    json!({ "textDocument": { "uri": uri }, "position": position })
}

fn labels(answer: &Value) -> Vec<&str> {
    answer["items"].as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap()).collect()
}

#[test]
fn mistakes_and_findings_are_shown_at_their_places() {
    let text = BARN.replace("profile   vee", "profil   vee");
    let (_folder, uri, mut client) = opened(&text);
    let found = client.diagnostics(&uri);
    let mistake = found.iter().find(|one| one["severity"] == 1 && one["code"].is_null()).unwrap();
    assert_eq!(mistake["range"]["start"], at(&text, "profil ", 0));
    assert_eq!(mistake["range"]["end"], at(&text, "profil ", 6));
    assert!(mistake["message"].as_str().unwrap().contains("did you mean `profile`?"), "{mistake}");
    assert!(found.iter().any(|one| one["code"] == "structure.wall_is_held_down" || one["code"].is_string()), "{found:?}");
    for one in &found {
        assert_eq!(one["source"], "wallplate");
    }
    // Mended, the mistake goes.
    client.change(&uri, json!([{ "range": mistake["range"], "text": "profile" }]));
    let after = client.diagnostics(&uri);
    assert!(!after.iter().any(|one| one["severity"] == 1 && one["code"].is_null()), "{after:?}");
    assert_eq!(client.end(), Some(0));
}

#[test]
fn hover_tells_meaning_value_and_source() {
    let (_folder, uri, mut client) = opened(BARN);
    let mut hover = |needle: &str, within| {
        let answer = client.ask("textDocument/hover", place(&uri, at(BARN, needle, within)));
        answer["contents"]["value"].as_str().unwrap_or_default().to_owned()
    };
    let level = hover("level ", 1);
    assert!(level.contains("**track.level**") && level.contains("length"), "{level}");
    assert!(level.contains("2.11 m") && level.contains("ft"), "in the author's unit and in the other system: {level}");
    let top = hover("top   eave", 1);
    assert!(top.contains("2.05 m + 60 mm"), "with the numbers put in: {top}");
    let wind = hover("26 m/s", 4);
    assert!(wind.contains("a unit of speed"), "{wind}");
    let kind = hover("track south", 2);
    assert!(kind.contains("a kind of component") && kind.contains("`runs`"), "{kind}");
    let choice = hover("open_country", 2);
    assert!(choice.contains("open_country"), "{choice}");
    let named = hover("eave + 60", 1);
    assert!(named.contains("a named value") && named.contains("2.05 m"), "{named}");
    assert_eq!(hover("# Nothing", 4), "", "nothing in a comment");
}

#[test]
fn completion_knows_what_fits() {
    let text = "use timber\nslab floor { thickness 150 mm }\nwall a {\n  \n}\nlet eave 2 m\nsite {\n  terrain op\n  wind_speed 26 \n}\nwall b { stands_on  }\nuse \nlet x floor.\nla\npattern wall low { height 1 m }\nwall c like \nlet y 3m\n";
    let (_folder, uri, mut client) = opened(text);
    let mut offers = |needle: &str, within| client.ask("textDocument/completion", place(&uri, at(text, needle, within)));
    let properties = offers("wall a {\n  ", 11);
    let runs = properties["items"].as_array().unwrap().iter().find(|item| item["label"] == "runs").unwrap().clone();
    assert!(runs["detail"].as_str().unwrap().contains("length"), "{runs}");
    assert!(runs["documentation"]["value"].as_str().is_some_and(|doc| !doc.is_empty()), "{runs}");
    let words = offers("terrain op", 10);
    assert!(labels(&words).contains(&"open_country"), "{words}");
    assert_eq!(words["items"][0]["textEdit"]["range"]["start"], at(text, "terrain op", 8), "the word begun is replaced");
    let units = offers("wind_speed 26 ", 14);
    assert_eq!(&labels(&units)[..4], ["ft/s", "km/h", "m/s", "mph"], "{units}");
    let links = offers("stands_on  ", 11);
    assert!(labels(&links).contains(&"floor") && !labels(&links).contains(&"eave"), "{links}");
    assert!(labels(&offers("\nuse \n", 5)).contains(&"fasteners"));
    assert!(labels(&offers("let x floor.", 12)).contains(&"thickness"));
    let kinds = offers("\nla\n", 3);
    assert!(labels(&kinds).contains(&"slab") && labels(&kinds).contains(&"pattern"), "{kinds}");
    assert_eq!(labels(&offers("wall c like ", 12)), ["low"]);
    let touching = offers("let y 3m", 8);
    assert_eq!(touching["items"][0]["textEdit"]["range"]["start"], at(text, "let y 3m", 7), "the unit, not the number");
}

#[test]
fn definition_references_and_highlights() {
    let (_folder, uri, mut client) = opened(BARN);
    let definition = client.ask("textDocument/definition", place(&uri, at(BARN, "rests_on  east_wall", 12)));
    assert_eq!(definition["range"]["start"], at(BARN, "east_wall { stands_on", 0), "{definition}");
    assert_eq!(definition["uri"], uri.as_str());
    let asked = |declaration: bool| {
        let mut params = place(&uri, at(BARN, "east_wall {", 1));
        params["context"] = json!({ "includeDeclaration": declaration });
        params
    };
    let all = client.ask("textDocument/references", asked(true));
    assert_eq!(all.as_array().unwrap().len(), 3, "the block, the track's line, the variant's: {all}");
    let others = client.ask("textDocument/references", asked(false));
    assert_eq!(others.as_array().unwrap().len(), 2, "{others}");
    let highlights = client.ask("textDocument/documentHighlight", place(&uri, at(BARN, "eave + 60", 1)));
    assert_eq!(highlights.as_array().unwrap().len(), 2, "{highlights}");
}

#[test]
fn rename_changes_every_place_or_says_why_not() {
    let (_folder, uri, mut client) = opened(BARN);
    let params = |needle: &str, within, name: &str| {
        let mut params = place(&uri, at(BARN, needle, within));
        params["newName"] = json!(name);
        params
    };
    let before = client.ask("textDocument/prepareRename", place(&uri, at(BARN, "east_wall {", 3)));
    assert_eq!(before["placeholder"], "east_wall");
    let edit = client.ask("textDocument/rename", params("east_wall {", 3, "long_wall"));
    let after = edited(BARN, &edit["changes"][&uri]);
    assert_eq!(after, BARN.replace("east_wall", "long_wall"));
    let mut refusal = |needle: &str, within, name: &str| client.refused("textDocument/rename", params(needle, within, name)).1;
    assert!(refusal("east_wall {", 3, "floor").contains("already taken"));
    assert!(refusal("east_wall {", 3, "East wall").contains("cannot be a name"));
    assert!(refusal("east_wall {", 3, "where").contains("cannot be a name"));
    assert!(refusal("track south", 1, "rail").contains("comes with Wallplate"));
    assert!(refusal("open_country", 1, "field").contains("a word that the kind declares"));
    assert!(refusal("26 m/s", 4, "knots").contains("is a unit"));
}

#[test]
fn a_rule_that_is_written_once_for_several() {
    let text = "rule own.opens, own.shuts \"The {end} end\" {\n  for end in [open, closed]\n  each s in sensor where s.marks == end\n  \
                let far if end == open then 3 m else 0 m\n  require s.station > far\n  says \"{s.name} at the {end} end\"\n}\n\
                accept own.shuts { because \"seen\" }\n";
    let (_folder, uri, mut client) = opened(text);
    assert_eq!(client.diagnostics(&uri), Vec::<Value>::new());
    let mut renamed = |needle: &str, within, name: &str| {
        let mut params = place(&uri, at(text, needle, within));
        params["newName"] = json!(name);
        edited(text, &client.ask("textDocument/rename", params)["changes"][&uri])
    };
    // The name of the words, wherever it is asked for: in the line, in the title, in a text.
    let whichever =
        text.replace("{end}", "{side}").replace("for end", "for side").replace("== end", "== side").replace("if end", "if side");
    assert_eq!(renamed("end in", 1, "side"), whichever);
    assert_eq!(renamed("{end} end\" {", 2, "side"), whichever);
    assert_eq!(renamed("{end} end\"\n", 2, "side"), whichever);
    assert_eq!(renamed("far if", 1, "wanted"), text.replace("far", "wanted"));
    // One of the rules, from the acceptance of it.
    assert_eq!(renamed("own.shuts {", 5, "own.closes"), text.replace("own.shuts", "own.closes"));
    let definition = client.ask("textDocument/definition", place(&uri, at(text, "own.shuts {", 5)));
    assert_eq!(definition["range"]["start"], at(text, "own.shuts \"", 0), "{definition}");
    let says = |client: &mut Client, needle: &str, within| {
        client.ask("textDocument/hover", place(&uri, at(text, needle, within)))["contents"]["value"].as_str().unwrap().to_owned()
    };
    let rule = says(&mut client, "own.shuts \"", 5);
    assert!(rule.contains("own.shuts") && rule.contains("The closed end"), "{rule}");
    assert!(says(&mut client, "end in", 1).contains("named where it stands"));
    let outline = client.ask("textDocument/documentSymbol", json!({ "textDocument": { "uri": uri } }));
    assert_eq!(outline[0]["name"], "own.opens, own.shuts", "{outline}");
}

#[test]
fn outline_folds_and_names_of_the_folder() {
    let (_folder, uri, mut client) = opened(BARN);
    let outline = client.ask("textDocument/documentSymbol", json!({ "textDocument": { "uri": uri } }));
    let names: Vec<&str> = outline.as_array().unwrap().iter().map(|one| one["name"].as_str().unwrap()).collect();
    assert_eq!(names, ["timber", "drumlin", "site", "floor", "eave", "top", "east_wall", "south_track", "higher"]);
    let folds = client.ask("textDocument/foldingRange", json!({ "textDocument": { "uri": uri } }));
    let folds: Vec<(u64, u64)> =
        folds.as_array().unwrap().iter().map(|fold| (fold["startLine"].as_u64().unwrap(), fold["endLine"].as_u64().unwrap())).collect();
    assert_eq!(folds, [(0, 1), (4, 7), (8, 13), (19, 25), (26, 28)], "the comment and the blocks");
    let found = client.ask("workspace/symbol", json!({ "query": "sttr" }));
    assert_eq!(found[0]["name"], "south_track", "{found}");
}

#[test]
fn formatting_lays_out_or_leaves_alone() {
    let crooked = "wall a {height 1.90 m\n   offset   0.05 m}\n";
    let (_folder, uri, mut client) = opened(crooked);
    let params = json!({ "textDocument": { "uri": uri }, "options": { "tabSize": 2, "insertSpaces": true } });
    let edits = client.ask("textDocument/formatting", params.clone());
    assert_eq!(edited(crooked, &edits), wallplate::tidy::tidy(crooked).unwrap());
    client.change(&uri, json!([{ "text": "wall a { height 1.90 m" }]));
    let (_, why) = client.refused("textDocument/formatting", params);
    assert!(why.contains("left as it is"), "{why}");
}

#[test]
fn colours_by_the_protocols_names() {
    let (_folder, uri, mut client) = opened(BARN);
    let legend = super::client::Client::start().ask("initialize", json!({ "processId": null, "rootUri": null, "capabilities": {} }));
    let types: Vec<String> =
        serde_json::from_value(legend["capabilities"]["semanticTokensProvider"]["legend"]["tokenTypes"].clone()).unwrap();
    let tokens = client.ask("textDocument/semanticTokens/full", json!({ "textDocument": { "uri": uri } }));
    let data: Vec<usize> = serde_json::from_value(tokens["data"].clone()).unwrap();
    let (mut line, mut column) = (0, 0);
    let lines: Vec<Vec<u16>> = BARN.lines().map(|line| line.encode_utf16().collect()).collect();
    let mut seen: Vec<(String, &str)> = Vec::new();
    for token in data.chunks(5) {
        (line, column) = if token[0] == 0 { (line, column + token[1]) } else { (line + token[0], token[1]) };
        let word = String::from_utf16(&lines[line][column..column + token[2]]).unwrap();
        seen.push((word, types[token[3]].as_str()));
    }
    for (word, ty) in [
        ("# Nothing of it is built.", "comment"),
        ("use", "keyword"),
        ("observatory", "class"),
        ("drumlin", "variable"),
        ("rolls_open", "property"),
        ("east", "enumMember"),
        ("26", "number"),
        ("m/s", "type"),
        ("+", "operator"),
        ("\"A higher wall\"", "string"),
        ("# “under the wall plate”", "comment"),
    ] {
        assert!(seen.iter().any(|(text, as_type)| text == word && *as_type == ty), "`{word}` as {ty}: {seen:?}");
    }
}

/// A part of the colours is what the whole says of it, and after an edit what is new makes the whole.
#[test]
fn colours_of_a_part_and_after_an_edit() {
    let (_folder, uri, mut client) = opened(BARN);
    let document = json!({ "uri": uri });
    let numbers = |answer: &Value| -> Vec<u64> { serde_json::from_value(answer["data"].clone()).unwrap() };
    let places = |data: &[u64]| -> Vec<(u64, u64, u64, u64)> {
        let (mut line, mut column) = (0, 0);
        let place = |token: &[u64]| {
            (line, column) = if token[0] == 0 { (line, column + token[1]) } else { (line + token[0], token[1]) };
            (line, column, token[2], token[3])
        };
        data.chunks(5).map(place).collect()
    };
    let whole = client.ask("textDocument/semanticTokens/full", json!({ "textDocument": document }));
    let range = json!({ "start": { "line": 5, "character": 0 }, "end": { "line": 12, "character": 99 } });
    let part = client.ask("textDocument/semanticTokens/range", json!({ "textDocument": document, "range": range }));
    let within: Vec<_> = places(&numbers(&whole)).into_iter().filter(|(line, ..)| (5..=12).contains(line)).collect();
    assert_eq!(places(&numbers(&part)), within);

    let line = |at: u64| json!({ "line": at, "character": 0 });
    client.change(&uri, json!([{ "range": { "start": line(14), "end": line(14) }, "text": "# one more\nlet low 1.2 m\n" }]));
    let params = json!({ "textDocument": document, "previousResultId": whole["resultId"] });
    let news = client.ask("textDocument/semanticTokens/full/delta", params.clone());
    let edit = &news["edits"][0];
    let (start, count) = (edit["start"].as_u64().unwrap() as usize, edit["deleteCount"].as_u64().unwrap() as usize);
    let mut patched = numbers(&whole);
    let put = numbers(edit);
    assert!(put.len() < patched.len() / 4, "only what is new: {news}");
    patched.splice(start..start + count, put);
    assert_eq!(patched, numbers(&client.ask("textDocument/semanticTokens/full", json!({ "textDocument": document }))));
    let all = client.ask("textDocument/semanticTokens/full/delta", params);
    assert_eq!(numbers(&all), patched, "all of them where the editor has older ones");
}

#[test]
fn hints_tell_what_an_expression_is_worth() {
    let (_folder, uri, mut client) = opened(BARN);
    let range = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 99, "character": 0 } });
    let hints = client.ask("textDocument/inlayHint", json!({ "textDocument": { "uri": uri }, "range": range }));
    let top = hints.as_array().unwrap().iter().find(|hint| hint["position"] == at(BARN, "eave + 60 mm", 12)).unwrap().clone();
    assert_eq!(top["label"], "= 2.11 m");
}

#[test]
fn actions_offer_every_mend() {
    let text = BARN.replace("profile   vee", "profil   vee").replace("2.05 m ", "2.05 ");
    let (_folder, uri, mut client) = opened(&text);
    let mut actions = |needle: &str| {
        let place = at(&text, needle, 1);
        let params = json!({ "textDocument": { "uri": uri }, "range": { "start": place, "end": place }, "context": { "diagnostics": [] } });
        client.ask("textDocument/codeAction", params)
    };
    let nearest = actions("profil ");
    assert_eq!(nearest[0]["title"], "write `profile`", "{nearest}");
    assert_eq!(edited(&text, &nearest[0]["edit"]["changes"][&uri]), text.replace("profil ", "profile "));
    let _ = actions("rests_on");
    let missing = actions("track south");
    let titles: Vec<&str> = missing.as_array().unwrap().iter().map(|one| one["title"].as_str().unwrap()).collect();
    assert!(titles.iter().any(|title| title.starts_with("add the line `") || title.starts_with("write `")), "missing lines: {titles:?}");
}

#[test]
fn a_design_of_several_files() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().canonicalize().unwrap();
    std::fs::create_dir(root.join("parts")).unwrap();
    let (main, part) = (root.join("main.plate"), root.join("parts/walls.plate"));
    let main_text = "use \"parts/walls.plate\"\nslab floor { thickness 150 mm }\nlet high east_wall.height\n";
    let part_text = "wall east_wall { stands_on floor; height 1.90 m; offset 0.05 m }\n";
    std::fs::write(&main, main_text).unwrap();
    std::fs::write(&part, part_text).unwrap();
    let mut client = Client::ready(&[&root]);
    // Only the part is open: the design that uses it is looked at.
    client.open(&uri(&part), part_text);
    let found = client.diagnostics(&uri(&part));
    assert!(!found.iter().any(|one| one["message"].as_str().unwrap().contains("no component `floor`")), "{found:?}");
    let definition = client.ask("textDocument/definition", place(&uri(&part), at(part_text, "floor", 1)));
    assert_eq!(definition["uri"], uri(&main).as_str());
    let mut params = place(&uri(&part), at(part_text, "east_wall", 1));
    params["newName"] = json!("long_wall");
    let edit = client.ask("textDocument/rename", params);
    assert_eq!(edited(main_text, &edit["changes"][&uri(&main)]), main_text.replace("east_wall", "long_wall"));
    assert_eq!(edited(part_text, &edit["changes"][&uri(&part)]), part_text.replace("east_wall", "long_wall"));
    // What is open counts before what is on the disk; a mistake in one file is shown there.
    client.open(&uri(&main), main_text);
    client.change(&uri(&part), json!([{ "text": part_text.replace("east_wall", "west_wall") }]));
    let found = client.diagnostics(&uri(&main));
    let stale = found.is_empty();
    client.diagnostics(&uri(&part));
    let found = if stale { client.diagnostics(&uri(&main)) } else { found };
    let _ = found;
    let hover = client.ask("textDocument/hover", place(&uri(&main), at(main_text, "use", 6)));
    assert!(hover["contents"]["value"].as_str().unwrap().contains("walls.plate"), "{hover}");
    let main_now = client.published[&uri(&main)].1.clone();
    assert!(main_now.iter().any(|one| one["message"].as_str().unwrap().contains("east_wall")), "{main_now:?}");
    let target = client.ask("textDocument/definition", place(&uri(&main), at(main_text, "parts", 2)));
    assert_eq!(target["uri"], uri(&part).as_str());
    // Closed, both are forgotten.
    client.close(&uri(&main));
    client.close(&uri(&part));
    client.ask("workspace/symbol", json!({ "query": "" }));
    assert_eq!(client.end(), Some(0));
}

#[test]
fn two_folders_are_two_designs() {
    let (first, second) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let paths: Vec<std::path::PathBuf> =
        [first.path(), second.path()].iter().map(|folder: &&Path| folder.canonicalize().unwrap().join("a.plate")).collect();
    let text = "let eave 2 m\nlet top eave + 1 m\n";
    let mut client = Client::ready(&[first.path(), second.path()]);
    for path in &paths {
        std::fs::write(path, text).unwrap();
        client.open(&uri(path), text);
    }
    for path in &paths {
        let found = client.diagnostics(&uri(path));
        assert!(!found.iter().any(|one| one["message"].as_str().unwrap().contains("taken")), "one name in two designs: {found:?}");
    }
    let found = client.ask("workspace/symbol", json!({ "query": "eave" }));
    assert_eq!(found.as_array().unwrap().len(), 2, "{found}");
}

#[test]
fn columns_are_counted_as_the_editor_counts() {
    let text = "let a \"±±\u{1F52D}\" + bad\n";
    for (encodings, column) in [(json!(["utf-16"]), 15), (json!(["utf-8", "utf-16"]), 19)] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().canonicalize().unwrap().join("a.plate");
        let mut client = Client::ready_with(&[], json!({ "general": { "positionEncodings": encodings } }));
        client.open(&uri(&path), text);
        let found = client.diagnostics(&uri(&path));
        let name = found.iter().find(|one| one["message"].as_str().unwrap().contains("`bad`")).unwrap();
        assert_eq!(name["range"]["start"], json!({ "line": 0, "character": column }), "{encodings}");
    }
}

/// What is shown is put together from what was said before; an action carries the same notice made in one piece.
#[test]
fn what_is_shown_is_what_an_action_carries() {
    let mut compared = 0;
    for name in ["stop_inside_the_coast", "post_without_a_tie", "roof_not_weighed", "misspelt"] {
        let text = std::fs::read_to_string(format!("{}/examples/broken/{name}.plate", env!("CARGO_MANIFEST_DIR"))).unwrap();
        let (_folder, uri, mut client) = opened(&text);
        for edit in ["", "# \u{201c}Quoted\u{201d} \u{1F52D}\n", "\n\n"] {
            if !edit.is_empty() {
                let start = json!({ "line": 0, "character": 0 });
                client.change(&uri, json!([{ "range": { "start": start, "end": start }, "text": edit }]));
            }
            let shown = client.diagnostics(&uri);
            assert!(!shown.is_empty(), "{name}");
            for one in &shown {
                let typed: gen_lsp_types::Diagnostic = serde_json::from_value(one.clone()).unwrap();
                assert_eq!(serde_json::to_value(typed).unwrap(), *one, "{name}: members of no diagnostic");
                let asked = json!({ "textDocument": { "uri": uri }, "range": one["range"], "context": { "diagnostics": [] } });
                for action in client.ask("textDocument/codeAction", asked).as_array().unwrap() {
                    for carried in action["diagnostics"].as_array().unwrap() {
                        assert!(shown.contains(carried), "{name}: {carried:#} is not among what is shown");
                        compared += 1;
                    }
                }
            }
        }
        client.end();
    }
    assert!(compared > 10, "{compared} compared");
}

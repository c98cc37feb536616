//! From a word of the design to the place in the library's own text, and what is answered there.

use super::client::{Client, at, uri};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

const SHED: &str = r#"use timber
observatory drumlin { rolls_open east; design_code eurocode }
slab floor { thickness 150 mm }
wall east_wall { stands_on floor; height 1.90 m; stud_grade c24 }
let across sqrt(3 m * 4 m)
accept travel.open_sensor_margin {
  because "looked at on the bench"
}
"#;

struct Shed {
    _folder: tempfile::TempDir,
    uri: String,
    client: Client,
}

fn shed() -> Shed {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().canonicalize().unwrap().join("shed.plate");
    std::fs::write(&path, SHED).unwrap();
    let mut client = Client::ready(&[folder.path()]);
    let uri = uri(&path);
    client.open(&uri, SHED);
    Shed { _folder: folder, uri, client }
}

fn ask_at(client: &mut Client, method: &str, uri: &str, position: &Value) -> Value {
    client.ask(&format!("textDocument/{method}"), json!({ "textDocument": { "uri": uri }, "position": position }))
}

/// The file that a location is in, and its line.
fn opened(location: &Value) -> (PathBuf, String) {
    let path = PathBuf::from(location["uri"].as_str().unwrap_or_else(|| panic!("{location}")).strip_prefix("file://").unwrap());
    let text = std::fs::read_to_string(&path).unwrap();
    let line = usize::try_from(location["range"]["start"]["line"].as_u64().unwrap()).unwrap();
    (path, text.lines().nth(line).unwrap().to_owned())
}

#[test]
fn words_of_the_library_lead_to_its_text() {
    let mut shed = shed();
    for (needle, within, file, begins) in [
        ("observatory drumlin", 2, "trade/kinds/", "kind observatory"),
        ("wall east", 1, "trade/kinds/", "kind wall"),
        ("height 1.90", 2, "trade/kinds/", "height"),
        ("travel.open_sensor", 8, "trade/rules/travel.plate", "rule travel.open_sensor_margin"),
        ("c24", 1, "trade/catalogue/timber.plate", "c24"),
        ("timber", 1, "trade/catalogue/timber.plate", "#"),
        ("sqrt", 1, "functions.txt", "sqrt("),
    ] {
        let found = ask_at(&mut shed.client, "definition", &shed.uri, &at(SHED, needle, within));
        let (path, line) = opened(&found);
        assert!(path.display().to_string().contains(file), "{needle}: {}", path.display());
        assert!(line.contains(begins), "{needle}: {line}");
        assert!(std::fs::metadata(&path).unwrap().permissions().readonly(), "for reading only");
        if file.starts_with("trade") {
            let own = path
                .display()
                .to_string()
                .split("trade/")
                .nth(1)
                .map(|name| Path::new(env!("CARGO_MANIFEST_DIR")).join("src/trade").join(name));
            assert_eq!(std::fs::read_to_string(&path).unwrap(), std::fs::read_to_string(own.unwrap()).unwrap());
        }
    }
}

#[test]
fn a_file_of_the_library_is_read_and_not_checked() {
    let mut shed = shed();
    let kind = ask_at(&mut shed.client, "definition", &shed.uri, &at(SHED, "wall east", 1));
    let (path, _) = opened(&kind);
    let text = std::fs::read_to_string(&path).unwrap();
    let library = kind["uri"].as_str().unwrap().to_owned();
    let Shed { client, uri, .. } = &mut shed;
    let before = client.diagnostics(uri);
    client.open(&library, &text);
    // From its own text back to the design, and on within the library.
    let place =
        json!({ "textDocument": { "uri": library }, "position": at(&text, "kind wall", 6), "context": { "includeDeclaration": true } });
    let references = client.ask("textDocument/references", place);
    let of: Vec<&str> = references.as_array().unwrap().iter().map(|one| one["uri"].as_str().unwrap()).collect();
    assert_eq!(of, [uri.as_str(), &library], "{references}");
    let hover = ask_at(client, "hover", &library, &at(&text, "kind wall", 6));
    assert!(hover["contents"]["value"].as_str().unwrap().contains("a kind of component"), "{hover}");
    let outline = client.ask("textDocument/documentSymbol", json!({ "textDocument": { "uri": library } }));
    assert!(outline.as_array().unwrap().iter().any(|one| one["name"] == "wall"), "{outline}");
    let colours = client.ask("textDocument/semanticTokens/full", json!({ "textDocument": { "uri": library } }));
    assert!(colours["data"].as_array().unwrap().len() > 500, "{colours}");
    // What is said of the design stays as it is, and nothing is said of the library.
    client.change(uri, json!([{ "text": format!("{SHED}\n") }]));
    assert_eq!(client.diagnostics(uri), before);
    let said: Vec<_> = client.all_published.iter().filter(|(of, _, found)| *of == library && !found.is_empty()).collect();
    assert!(said.is_empty(), "{said:?}");
    // With the design closed the file can still be read; changed, nothing is said of places that are not there.
    client.close(uri);
    let hover = ask_at(client, "hover", &library, &at(&text, "kind wall", 6));
    assert!(hover["contents"]["value"].as_str().unwrap().contains("a kind of component"), "{hover}");
    client.change(&library, json!([{ "text": "wall a { }\n" }]));
    client.refused("textDocument/hover", json!({ "textDocument": { "uri": library }, "position": { "line": 0, "character": 1 } }));
    client.close(&library);
    assert!(client.is_alive());
}

/// The folder for what is passing may be anybody's: nothing that lies there already is followed, and nothing stays there.
#[cfg(unix)]
#[test]
fn without_a_folder_of_ones_own_the_texts_lie_in_a_new_one() {
    let folder = tempfile::tempdir().unwrap();
    let passing = folder.path().canonicalize().unwrap().join("passing");
    let mine = folder.path().join("mine");
    std::fs::create_dir_all(&mine).unwrap();
    std::fs::write(mine.join("site.plate"), "# mine\n").unwrap();
    // Somebody else was there, and knows what it will be called.
    let planted = passing.join(concat!("wallplate-", env!("CARGO_PKG_VERSION")));
    std::fs::create_dir_all(planted.join("trade")).unwrap();
    std::os::unix::fs::symlink(&mine, planted.join("trade/kinds")).unwrap();
    let no_folder = folder.path().join("a_file");
    std::fs::write(&no_folder, "").unwrap();

    let mut client = Client::start_with(&no_folder.join("cache"), &passing);
    client.ask("initialize", json!({ "processId": null, "rootUri": null, "capabilities": {} }));
    client.open("untitled:shed", "site { }\n");
    let found = ask_at(&mut client, "definition", "untitled:shed", &json!({ "line": 0, "character": 1 }));
    let (path, line) = opened(&found);
    assert!(line.contains("kind site") && path.starts_with(&passing) && !path.starts_with(&planted), "{}", path.display());
    assert_eq!(client.end(), Some(0));
    assert!(!path.exists(), "it goes with the server");
    assert_eq!(std::fs::read_to_string(mine.join("site.plate")).unwrap(), "# mine\n");
    assert_eq!(std::fs::read_dir(&passing).unwrap().count(), 1, "nothing of ours stays");
}

"""The tree-sitter grammar and its queries, run by tree-sitter's own library.

`python tree_sitter.py FOLDER FILE…` with FOLDER the grammar's: compiles the committed parser, and prints for each file what
the grammar did not understand and what the highlight query captures, in bytes, so that a later capture wins.
Needs the package `tree-sitter` and a C compiler.
"""

import ctypes
import json
import subprocess
import sys
import tempfile
import warnings
from pathlib import Path

from tree_sitter import Language, Parser, Query, QueryCursor


def language(folder: Path, place: str) -> Language:
    library = f"{place}/wallplate.so"
    source = folder / "src"
    subprocess.run(["cc", "-shared", "-fPIC", "-O1", f"-I{source}", str(source / "parser.c"), "-o", library], check=True)
    function = ctypes.CDLL(library).tree_sitter_wallplate
    function.restype = ctypes.c_void_p
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return Language(function())


def errors(node, found):
    if node.is_error or node.is_missing:
        found.append([node.start_byte, node.end_byte, "missing " + node.type if node.is_missing else node.type])
    elif node.has_error:
        for child in node.children:
            errors(child, found)
    return found


def main() -> None:
    folder = Path(sys.argv[1])
    with tempfile.TemporaryDirectory() as place:
        spoken = language(folder, place)
        parser = Parser(spoken)
        queries = {path.stem: Query(spoken, path.read_text()) for path in sorted((folder / "queries").glob("*.scm"))}
        found = {}
        for file in sys.argv[2:]:
            root = parser.parse(Path(file).read_bytes()).root_node
            captures = []
            for pattern, captured in QueryCursor(queries["highlights"]).matches(root):
                for name, nodes in captured.items():
                    captures += [[pattern, node.start_byte, node.end_byte, name] for node in nodes]
            captures.sort(key=lambda one: one[0])
            folds = sum(len(nodes) for _, captured in QueryCursor(queries["folds"]).matches(root) for nodes in captured.values())
            found[file] = {"errors": errors(root, []), "runs": [one[1:] for one in captures], "folds": folds}
        json.dump(found, sys.stdout)


main()

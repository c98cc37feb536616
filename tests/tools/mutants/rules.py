#!/usr/bin/env python3
"""Changes each rule in many small ways and says which of the changes no design shows.

    tests/tools/mutants/rules.py PROGRAM [--some N] [--seed S] [--area AREA] [--least PERCENT] [--list]

A rule may stand in a design as well as in the library: so each design of `examples` and `tests/designs` is checked once with
its own text, all changed rules behind it under names of their own. A change is noticed where what a test of `examples.rs` looks
at would be other: what does not hold in a sound design, what is marked in a broken one. Nothing is built for it.
`--some` takes so many by chance; `--list` prints what no design shows: tests that look at one rule by itself may still notice
it, `mutants.py` asks them. With fewer than `--least` per cent noticed it ends in status 1.
"""

import argparse
import concurrent.futures
import json
import random
import re
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict
from pathlib import Path

sys.dont_write_bytecode = True
sys.path.insert(0, str(Path(__file__).resolve().parent))
import mutants  # noqa: E402

ROOT = Path(__file__).resolve().parents[3]


def rules():
    """Name and text of each rule, its file and the line on which it begins."""
    for path in sorted((ROOT / "src/trade/rules").glob("*.plate")):
        text = path.read_text()
        for match in re.finditer(r"^rule [^\n]*?\{\n.*?^\}\n", text, re.M | re.S):
            yield path, text.count("\n", 0, match.start()) + 1, match[0]


def names(text):
    head = re.match(r"rule ([^\"{]*)", text)[1]
    return [word.strip() for word in head.split(",")]


def renamed(text, new):
    """The rule under names of its own."""
    head = re.match(r"rule ([^\"{]*)", text)
    own = ", ".join(f"own.{new}_{at}" for at in range(len(names(text))))
    return f"rule {own} {text[head.end():]}"


def changed(text):
    """Each change of a rule: its line in the rule, what changes, the text then."""
    for _, start, end in mutants.statements(text, "rules"):
        line = text[start:end]
        for at, old, new, what in mutants.changes_in(line):
            number = text.count("\n", 0, start + at)
            yield number, what, text[: start + at] + new + text[start + at + len(old):]
        if re.match(r"\s*when\b", line):
            yield text.count("\n", 0, start), "`when` is left out", text[:start] + text[end:]


class Change:
    def __init__(self, rule, path, line, number, what, text):
        self.rule, self.path, self.number, self.what, self.text = rule, path, number, what, text
        self.line = line
        self.of = " ".join(text_line(path, line).split())
        self.noticed = None
        self.looked = 0

    def __str__(self):
        return f"{self.rule[0]}: {self.what} in `{self.of}`"


def text_line(path, number):
    return path.read_text().splitlines()[number - 1]


class Design:
    def __init__(self, path, sort):
        self.path, self.sort = path, sort
        self.text = path.read_text()
        self.marks = set()
        for line in self.text.splitlines():
            comment = line.rpartition("# ")
            found = re.fullmatch(r"(fail|tight|undetermined): (.*)", comment[2].strip()) if comment[1] else None
            if found:
                self.marks |= {(found[1], rule.strip()) for rule in found[2].split(",")}
        self.areas = {rule.split(".")[0] for _, rule in self.marks}

    def is_about(self, rules):
        return self.sort != "broken" or any(rule.split(".")[0] in self.areas for rule in rules)

    def marks_one_of(self, rules):
        return any(rule in rules for _, rule in self.marks)

    def looks_at(self, rule, verdict):
        if verdict == "pass":
            return False
        area = rule.split(".")[0]
        if self.sort == "broken":
            return ("undetermined", rule) in self.marks if verdict == "undetermined" else area in self.areas
        return not (self.sort == "other" and area in ("storm", "sideways"))


def findings(program, text):
    with tempfile.NamedTemporaryFile("w", suffix=".plate") as file:
        file.write(text)
        file.flush()
        run = subprocess.run([program, "check", "--format", "json", "--only", "own", file.name], text=True, capture_output=True)
    try:
        answer = json.loads(run.stdout)
    except json.JSONDecodeError:
        return None, run.stderr[-300:]
    found = defaultdict(list)
    for result in answer["results"]:
        place = result["spans"][0]["line"] if result["spans"] else 0
        found[result["rule"]].append((tuple(result["subjects"]), result["verdict"], place))
    lines = text.count("\n")
    wrong = [(span["line"], problem["message"]) for problem in answer["problems"] for span in problem["spans"][:1] if problem["severity"] == "error" and span["line"] <= lines]
    return found, wrong


def look(program, design, originals, changes):
    """Marks the changes that this design shows."""
    left = [change for change in changes if not change.noticed and design.is_about(change.rule)]
    if not left:
        return
    wanted = {change.number for change in left}
    originals = [(at, text) for at, text in originals if at in wanted]
    text = design.text + "\n" + "".join(renamed(rule, f"o{at}") for at, rule in originals)
    base, _ = findings(program, text)
    if base is None:
        return
    asked = {at for at, rule in originals for sub in range(len(names(rule))) if f"own.o{at}_{sub}" in base}
    looked = [
        change
        for change in left
        if change.number in asked or "left out" in change.what or "reads" in change.what and change.of.startswith(("when", "each"))
    ]
    for start in range(0, len(looked), 400):
        batch = looked[start: start + 400]
        behind = "".join(renamed(change.text, f"m{at}") for at, change in enumerate(batch))
        found, _ = findings(program, design.text + "\n" + behind)
        if found is None:
            continue
        for at, change in enumerate(batch):
            change.looked += 1
            for sub, rule in enumerate(change.rule):
                seen = lambda of: sorted(one for one in of if design.looks_at(rule, one[1]))
                if seen(base[f"own.o{change.number}_{sub}"]) != seen(found[f"own.m{at}_{sub}"]):
                    change.noticed = design.path.name


def readable(program, changes):
    """Those that are still rules: a change that the language itself refuses stops the build of the library."""
    good = []
    for start in range(0, len(changes), 200):
        batch = changes[start: start + 200]
        text = ""
        ends = []
        for at, change in enumerate(batch):
            text += renamed(change.text, f"m{at}")
            ends.append(text.count("\n"))
        with tempfile.NamedTemporaryFile("w", suffix=".plate") as file:
            file.write(text)
            file.flush()
            run = subprocess.run([program, "check", "--format", "json", "--only", "own", file.name], text=True, capture_output=True)
        lines = {span["line"] for problem in json.loads(run.stdout)["problems"] if problem["severity"] == "error" for span in problem["spans"][:1]}
        before = 0
        for change, end in zip(batch, ends):
            if not any(before < line <= end for line in lines):
                good.append(change)
            before = end
    return good


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program")
    parser.add_argument("--some", type=int)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--area")
    parser.add_argument("--least", type=float, default=0)
    parser.add_argument("--list", action="store_true")
    asked = parser.parse_args()
    program = str(Path(asked.program).resolve())
    originals, changes = [], []
    for at, (path, line, text) in enumerate(rules()):
        if asked.area and not names(text)[0].startswith(asked.area):
            continue
        originals.append((at, text))
        changes += [Change(names(text), path, line + number, at, what, new) for number, what, new in changed(text)]
    if asked.some:
        changes = random.Random(asked.seed).sample(changes, asked.some)
    total = len(changes)
    changes = readable(program, changes)
    wanted = {change.number for change in changes}
    originals = [(at, text) for at, text in originals if at in wanted]
    designs = [Design(path, "broken") for path in sorted((ROOT / "examples/broken").glob("*.plate"))]
    designs += [Design(path, "sound") for path in sorted((ROOT / "examples").glob("*.plate"))]
    designs += [Design(path, "other") for path in sorted((ROOT / "tests/designs").glob("*.plate"))]
    # First those in which a changed rule is marked: what they show need not be looked for in the others.
    changed_rules = {rule for change in changes for rule in change.rule}
    designs.sort(key=lambda design: not design.marks_one_of(changed_rules))
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for _ in pool.map(lambda design: look(program, design, originals, changes), designs):
            pass
    left = [change for change in changes if not change.noticed]
    by_area = defaultdict(Counter)
    for change in changes:
        by_area[change.rule[0].split(".")[0]][bool(change.noticed)] += 1
    for area, count in sorted(by_area.items()):
        print(f"{area:12} {count[True]:4} of {count[True] + count[False]:4} noticed")
    for change in left if asked.list else []:
        print(f"{change}   {change.path.name}:{change.line} looked at in {change.looked} designs")
    share = 100 * (len(changes) - len(left)) / max(1, len(changes))
    print(f"{len(changes) - len(left)} of {len(changes)} changes of rules are shown by a design, {share:.0f} %; {total - len(changes)} are no rules any more")
    sys.exit(share < asked.least)


if __name__ == "__main__":
    main()

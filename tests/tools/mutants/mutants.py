#!/usr/bin/env python3
"""Changes the program in many small ways and says which of the changes no test notices.

    tests/tools/mutants/mutants.py TREE [--code N] [--lines N] [--seed S] [--cap SECONDS] [--again LOG] [--slow TEST...] [--tests FILTER...]

TREE is a checkout of its own (`git worktree add TREE`), clean: its `src` is written over and put back. `--code` changes of the
Rust of units, values, rules and calc (an operator, a constant, a limit, an early answer) are woven into one build and chosen
one at a time by an environment variable; `--lines` changes of the rules and kinds in `src/trade` (`<=` to `<`, a dropped `when`,
`min` for `max`, a number a tenth off, a dropped term) need no build at all. Each test is run once by itself to see what it
reaches, and a change is only shown to the tests that reach it, until one fails or they have taken `--cap` seconds. `--again` asks
only what survived in the output of a run before; `--slow` names tests that are left out of the first round, to ask of what survives.
What is left is printed with its place. What changes nothing that anybody could see stands in `equivalent.txt` with the reason, and
is left out; a row there that fits no change any more is told. Tests that fail without any change (those that look at the text of `src`) are left out.
"""

import argparse
import concurrent.futures
import json
import os
import random
import re
import subprocess
import sys
import time
from collections import Counter, defaultdict
from pathlib import Path

HERE = Path(__file__).resolve().parent
# Slow ones that run over everything: what they find others should find first.
SKIPPED = ["hostile", "drafts", "deletion", "sweep", "architecture", "editor_support", "cli::speed", "real_tools", "one_slip"]


def said(*command, **more):
    return subprocess.run(command, check=True, text=True, capture_output=True, **more).stdout


class Tree:
    """The checkout that is written over."""

    def __init__(self, path, config):
        self.path = Path(path).resolve()
        self.config = config
        if self.path in [HERE, *HERE.parents]:
            sys.exit("give a checkout of its own: this one would be written over")
        if said("git", "status", "--porcelain", "--untracked-files=no", cwd=self.path).strip():
            sys.exit(f"{self.path} has changes: commit them or put them back")
        target = os.environ.get("CARGO_TARGET_DIR", str(HERE.parents[2] / "target" / "mutants"))
        said("cargo", "build", "--quiet", "--manifest-path", str(HERE / "Cargo.toml"), env={**os.environ, "CARGO_TARGET_DIR": target})
        self.tool = f"{target}/debug/mutants"
        self.suite = None

    def listed(self):
        rows = [line.split("\t") for line in said(self.tool, "list", str(self.path)).splitlines()]
        return [dict(number=int(n), file=f, line=int(l), what=w, of=o, room=f.split("/")[1]) for n, f, l, w, o in rows]

    def put_back(self):
        subprocess.run(["git", "checkout", "-q", "src"], cwd=self.path, check=True)
        (self.path / "src/mutants.rs").unlink(missing_ok=True)

    def build(self, numbers):
        """Builds with these changes woven in; those that do not compile are left out. Gives the ones that do."""
        numbers = set(numbers)
        while True:
            self.put_back()
            said(self.tool, "weave", str(self.path), *map(str, sorted(numbers)))
            command = ["cargo", "test", "--release", "--test", "suite", "--no-run", "--message-format=json", *self.config]
            run = subprocess.run(command, cwd=self.path, text=True, capture_output=True)
            messages = [json.loads(line) for line in run.stdout.splitlines() if line.startswith("{")]
            if run.returncode == 0:
                self.suite = next(m["executable"] for m in messages if m.get("executable") and m["target"]["name"] == "suite")
                return numbers
            wrong = set()
            for message in messages:
                if message.get("reason") == "compiler-message" and message["message"]["level"] == "error":
                    for span in message["message"]["spans"]:
                        before = (self.path / span["file_name"]).read_bytes()[: span["byte_end"]].decode(errors="ignore")
                        marks = re.findall(r"/\*m(\d+)\*/", before)
                        wrong.update(map(int, marks[-1:]))
            if not wrong & numbers:
                sys.exit(run.stderr[-4000:])
            print(f"  {len(wrong & numbers)} do not compile", flush=True)
            numbers -= wrong


def rule_changes(folder):
    """The changes of the rules and kinds: file, new text, who is changed, where and how."""
    found = []
    for path in sorted(folder.glob("rules/*.plate")) + sorted(folder.glob("kinds/*.plate")):
        text = path.read_text()
        name = f"trade/{path.parent.name}/{path.name}"
        for whose, start, end in statements(text, path.parent.name):
            line = text[start:end]
            for at, old, new, what in changes_in(line):
                changed = text[: start + at] + new + text[start + at + len(old):]
                number = text.count("\n", 0, start + at) + 1
                found.append(dict(file=name, text=changed, whose=whose, line=number, what=what, of=text.splitlines()[number - 1].strip(), room="trade " + path.parent.name))
            if re.match(r"\s*when\b", line):
                number = text.count("\n", 0, start) + 1
                found.append(dict(file=name, text=text[:start] + text[end:], whose=whose, line=number, what="`when` is left out", of=line.strip(), room="trade " + path.parent.name))
    return found


WORDS = r"says|otherwise|help|source|caution|points_to|state|mend|suffices|for|by_line|last_resort|speaks_in"


def statements(text, folder):
    """The lines that decide: of a rule its `each`, `let`, `when`, `demand` …, of a kind what is worked out."""
    whose, owner, start = None, None, 0
    lines = text.splitlines(keepends=True)
    at = 0
    spans = []
    for line in lines:
        head = re.match(r"(rule|kind) ([^\"{]*)", line)
        if head:
            owner = [word.strip() for word in head[2].split(",")]
        first = re.match(r"  ([a-z_]+)\b", line)
        if first and not line.startswith("   "):
            whose = owner if folder == "rules" else [f"{owner[0]}:{first[1]}"] if owner else None
            spans.append([whose, first[1], at, at + len(line)])
        elif spans and line.startswith("   ") and spans[-1][3] == at:
            spans[-1][3] = at + len(line)
        at += len(line)
    for whose, word, start, end in spans:
        if not whose or (folder == "rules" and re.fullmatch(WORDS, word)):
            continue
        if folder == "kinds":
            # What a line is by default; what it says and where its number usually lies are for people.
            body = re.search(r"\bdefault\b", text[start:end])
            if word != "let" and not body:
                continue
            start += body.end() if body else 0
            stop = re.search(r"\bassumed\b|\bsource\b|\busually\b|\babove\b|\bat most\b|\bat least\b|\bfound\b|\bmeasured\b", text[start:end])
            end = start + stop.start() if stop else end
        yield whose, start, end


def changes_in(line):
    """Changes of one statement outside of its texts: place, what stands there, what instead, in words."""
    outside = re.sub(r'"[^"]*"|#[^\n]*', lambda text: " " * len(text[0]), line)
    other = {"<=": ["<"], ">=": [">"], "<": [">"], ">": ["<"], "==": ["!="], "!=": ["=="]}
    for match in re.finditer(r"<=|>=|==|!=|<|>", outside):
        for new in other[match[0]]:
            yield match.start(), match[0], new, f"`{match[0]}` reads `{new}`"
    for match in re.finditer(r"\b(and|or|min|max|any|all)\b(?=[ (])", outside):
        new = {"and": "or", "or": "and", "min": "max", "max": "min", "any": "all", "all": "any"}[match[0]]
        yield match.start(), match[0], new, f"`{match[0]}` reads `{new}`"
    for match in re.finditer(r"(?<![\w.\-/])\d+(\.\d+)?(?![\w./\-])", outside):
        number = float(match[0])
        if re.match(r"\s*ft\b", outside[match.end():]) or re.search(r"\^\s*$", outside[: match.start()]):
            continue
        # What counts, one more; what measures, a tenth off.
        counts = "." not in match[0] and not re.match(r" ?[a-zA-Z%]", outside[match.end():]) and number < 20
        instead = [f"{number + 1:.0f}"] if counts or number == 0 else [f"{number * 1.1:.12g}", f"{number / 1.1:.12g}"]
        for new in instead:
            yield match.start(), match[0], new, f"`{match[0]}` reads `{new}`"
    term = r"(?:[\w.]+(?:\([^()]*\))?)"
    for match in re.finditer(rf" [+\-] ({term}(?: [*/] {term})*)(?= [+\-)]|\)|,|\n|$)", outside):
        old = line[match.start(): match.end()]
        yield match.start(), old, " " * len(old), f"`{old.strip()}` is left out"
    for match in re.finditer(r" where ", outside):
        rest = re.match(r"[^,\n\])]*", outside[match.end():])
        old = line[match.start(): match.end() + rest.end()]
        if old.count("(") == old.count(")"):
            yield match.start(), old, "", f"`{old.strip()}` is left out"


class Tests:
    """The tests of the woven build: what each reaches and how long it takes."""

    def __init__(self, tree, filters, into):
        self.tree, self.into = tree, into
        names = [line.removesuffix(": test") for line in said(tree.suite, "--list", *filters, cwd=tree.path).splitlines() if line.endswith(": test")]
        ignored = {line.removesuffix(": test") for line in said(tree.suite, "--list", "--ignored", *filters, cwd=tree.path).splitlines()}
        names = [name for name in names if name not in ignored and not any(word in name for word in SKIPPED)]
        self.seconds, self.reached = {}, defaultdict(set)
        with concurrent.futures.ThreadPoolExecutor(2) as pool:
            for name, seconds, reached, held in pool.map(self.traced, names):
                if held:
                    self.seconds[name] = seconds
                    for what in reached:
                        self.reached[what].add(name)
        reaches = Counter(name for names in self.reached.values() for name in names)
        # What reaches little is about little, and says most clearly that it has changed; quick ones first among their like.
        self.rank = {name: self.seconds[name] * (1 + reaches[name]) for name in self.seconds}

    def traced(self, name):
        trace = self.into / f"{abs(hash(name))}.trace"
        began = time.monotonic()
        held = self.run([name], {"WALLPLATE_MUTANTS_REACHED": str(trace)}, 300)
        seconds = time.monotonic() - began
        reached = trace.read_text().split("\n")[:-1] if trace.exists() else []
        trace.unlink(missing_ok=True)
        return name, seconds, reached, held

    def run(self, names, environment, within):
        env = {**os.environ, **environment, "INSTA_UPDATE": "no", "INSTA_FORCE_PASS": "0"}
        command = [self.tree.suite, "--exact", "--test-threads=1", *names]
        try:
            return subprocess.run(command, cwd=self.tree.path, env=env, capture_output=True, timeout=within).returncode == 0
        except subprocess.TimeoutExpired:
            return False

    def notice(self, whats, environment, cap):
        """The tests that reach one of these, until one fails: its name, or the number of tests that did not notice."""
        names = sorted(set().union(*(self.reached.get(what, set()) for what in whats)), key=self.rank.get)
        spent, shown, at = 0.0, 0, 0
        while at < len(names) and spent < cap:
            # The first ones by themselves: most changes end there.
            size, batch = (0.3 if at == 0 else 2.0), []
            while at < len(names) and (not batch or sum(self.seconds[name] for name in batch) < size):
                batch.append(names[at])
                at += 1
            due = sum(self.seconds[name] for name in batch)
            if not self.run(batch, environment, 20 + 10 * due):
                return batch[-1] if len(batch) == 1 else f"{batch[0]} …", None
            spent += due
            shown += len(batch)
        return None, (shown, len(names))


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("tree")
    parser.add_argument("--code", type=int, default=100)
    parser.add_argument("--lines", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--cap", type=float, default=60)
    parser.add_argument("--again", help="the output of a run before: only what survived in it")
    parser.add_argument("--slow", nargs="*", default=[], help="tests by their whole names, to ask of what survives the others")
    parser.add_argument("--room", help="only of this room: units, values, rules, calc, kinds, or a part of a file's path")
    parser.add_argument("--tests", nargs="*", default=[])
    parser.add_argument("--config", action="append", default=[], help="handed to cargo")
    asked = parser.parse_args()
    tree = Tree(asked.tree, [word for config in asked.config for word in ("--config", config)])
    into = Path(said("mktemp", "-d").strip())
    chance = random.Random(asked.seed)
    try:
        tree.put_back()
        run(tree, into, chance, asked)
    finally:
        tree.put_back()
        subprocess.run(["rm", "-r", str(into)])


def equivalent(listed):
    """The changes without those that change nothing: file, what, the line, why, a tab between; `*` for any."""
    rows = [[part.strip() for part in line.split("\t")] for line in (HERE / "equivalent.txt").read_text().splitlines() if line and line[0] != "#"]
    fits = lambda one, row: one["file"] == row[0] and row[1] in ("*", one["what"]) and row[2] in ("*", one["of"])
    for row in rows:
        if len(row) != 4 or not row[3] or not any(fits(one, row) for one in listed):
            print(f"equivalent.txt: no such change any more, or no reason: {' | '.join(row)}", flush=True)
    left = [one for one in listed if not any(fits(one, row) for row in rows)]
    print(f"{len(listed) - len(left)} of {len(listed)} changes of code change nothing, as equivalent.txt says", flush=True)
    return left


def surviving(log):
    """What survived in the output of a run: file, what changes, and the line as it reads."""
    found = re.findall(r"^SURVIVED (\S+?):\d+: (.*)\n    (.*)$", Path(log).read_text(), re.M)
    return {(file, what, of.strip()) for file, what, of in found}


def sampled(all_of, count, chance, room):
    """As many from each room: the same chance for a room of few lines."""
    by_room = defaultdict(list)
    for one in all_of:
        if not room or room in one["file"]:
            by_room[one["room"]].append(one)
    chosen = []
    for at, name in enumerate(sorted(by_room)):
        share = count // len(by_room) + (at < count % len(by_room))
        chosen += chance.sample(by_room[name], min(share, len(by_room[name])))
    return chosen


def run(tree, into, chance, asked):
    code, lines = equivalent(tree.listed()), rule_changes(tree.path / "src/trade")
    if asked.again:
        before = surviving(asked.again)
        code, lines = ([one for one in of if (one["file"], one["what"], one["of"].strip()) in before] for of in (code, lines))
    else:
        code, lines = sampled(code, asked.code, chance, asked.room), sampled(lines, asked.lines, chance, asked.room)
    built = tree.build([one["number"] for one in code])
    code = [one for one in code if one["number"] in built]
    print(f"{len(code)} changes of code woven in, {len(lines)} of the library", flush=True)
    tests = Tests(tree, asked.tests, into)
    print(f"{len(tests.seconds)} tests, {sum(tests.seconds.values()):.0f} s one by one", flush=True)

    def shown(one):
        if "number" in one:
            environment = {"WALLPLATE_MUTANT": str(one["number"])}
            by, looked = tests.notice([str(one["number"])], environment, asked.cap)
            slow = next((name for name in asked.slow if not by and not tests.run([name], environment, 600)), None)
            return one, by or slow, looked
        file = into / f"{id(one)}.plate"
        file.write_text(one["text"])
        found = tests.notice(one["whose"], {"WALLPLATE_MUTANT_PLATE": f"{one['file']}={file}"}, asked.cap)
        file.unlink()
        return one, *found

    killed, total = Counter(), Counter()
    # Whoever ends it early has seen some of each room.
    every = code + lines
    chance.shuffle(every)
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for one, by, looked in pool.map(shown, every):
            total[one["room"]] += 1
            killed[one["room"]] += by is not None
            place = f"{one['file']}:{one['line']}: {one['what']}\n    {one['of']}"
            print(f"killed   {place}\n    {by}" if by else f"SURVIVED {place}\n    {looked[0]} of {looked[1]} tests that reach it", flush=True)
    for room in sorted(total):
        print(f"{room:12} {killed[room]:4} of {total[room]:4} noticed, {100 * killed[room] / total[room]:.0f} %")


if __name__ == "__main__":
    main()

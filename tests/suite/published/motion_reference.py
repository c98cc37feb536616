#!/usr/bin/env python3
"""Random drives of a roof, followed by a general-purpose ODE solver.

Writes data/motion_drives.json beside this file: for each drive its numbers and what
scipy.integrate.solve_ivp (DOP853) with event functions makes of it. The Rust test works the same
drives out piece by piece and compares.

    python3 -m venv venv && venv/bin/pip install scipy==1.17.1
    venv/bin/python motion_reference.py

Independence: forces are written here as functions of place and speed and integrated numerically; only
the statics of a roof at rest (does it give way, and to which side) is decided by comparing forces.
Each drive is followed twice, with tolerances of 1e-9 and 1e-11; where the two do not agree to 1e-7 the
answer hangs on rounding (a roof that just fails to start, say) and the drive is left out. How many were
left out is printed and stored.
"""
import json
import math
import pathlib
import random

import numpy as np
from scipy.integrate import solve_ivp

WANTED = 200
MOST_THAT_NEVER_START = 10
INF = float("inf")


def slope_at(levels, s):
    """Slope of a rail drawn through points; the end slopes go on."""
    i = 0
    while i < len(levels) - 2 and s >= levels[i + 1][0]:
        i += 1
    (s0, z0), (s1, z1) = levels[i], levels[i + 1]
    return (z1 - z0) / (s1 - s0)


class Drive:
    """The forces of one case in the frame of the travel (opening is positive)."""

    def __init__(self, case):
        self.c = case
        self.m = case["mass"]
        self.way = 1.0 if case["direction"] == "opening" else -1.0
        t = case["track"]
        self.stops = {+1: case["open_stop"], -1: case["shut_stop"]}
        marks = {t["from"], t["to"]}
        for wheel in t["wheels"]:
            marks |= {s - wheel["station"] for s, _ in t["rails"][wheel["rail"]][1:-1]}
        for a, b, *_ in t["pushes"] + t["seals"]:
            marks |= {a, b}
        for stop in self.stops.values():
            if stop:
                marks.add(stop["at"])
        if case["sensor"]:
            marks.add(case["sensor"]["at"])
        lowest, highest = t["from"], t["to"]
        if self.stops[-1]:
            lowest = self.stops[-1]["at"]
        if self.stops[+1]:
            highest = self.stops[+1]["at"]
        self.marks = sorted(x for x in marks if lowest <= x <= highest)
        self.lowest, self.highest = lowest, highest

    def push(self, x, middle):
        """Push at x; `middle` picks the side of a kink."""
        t = self.c["track"]
        inside = min(max(middle, self.lowest + 1e-9), self.highest - 1e-9)
        force = 0.0
        for wheel in t["wheels"]:
            slope = slope_at(t["rails"][wheel["rail"]], inside + wheel["station"])
            force -= wheel["load"] * math.sin(math.atan(slope))
        for a, b, at_a, at_b in t["pushes"]:
            if a < inside < b:
                force += at_a + (at_b - at_a) * (x - a) / (b - a)
        for side, stop in self.stops.items():
            if stop and stop["spring"] and side * (middle - stop["at"]) > 0:
                force -= stop["spring"]["rate"] * (x - stop["at"])
        return force

    def resistance(self, middle):
        t = self.c["track"]
        inside = min(max(middle, self.lowest + 1e-9), self.highest - 1e-9)
        return t["resistance"] + sum(r for a, b, r in t["seals"] if a < inside < b)

    def region(self, x, side):
        """The kinks on both sides of a roof that moves to `side` from x."""
        marks = list(self.marks)
        for s, stop in self.stops.items():
            if stop and stop["spring"]:
                marks.append(stop["at"] + s * stop["spring"]["stroke"])
        marks.sort()
        if side > 0:
            lower = [a for a in marks if a <= x]
            upper = [a for a in marks if a > x]
        else:
            lower = [a for a in marks if a < x]
            upper = [a for a in marks if a >= x]
        if not lower or not upper:
            return None
        return lower[-1], upper[0]

    def edge(self, side):
        return "solid" if self.stops[side] else "open"

    def motor_pull(self, v):
        """Pull along the way of the drive, for a motor."""
        d = self.c["drive"]
        u = self.way * v
        return float(np.clip(d["stall"] * (1 - u / d["no_load_speed"]), -d["holds_back"], d["limit"]))

    def most_pull(self):
        d = self.c["drive"]
        if d["kind"] == "motor":
            return min(d["stall"], d["limit"])
        return d["pull"]


def follow(case, rtol):
    d = Drive(case)
    m, way, drive, sensor, halt = d.m, d.way, case["drive"], case["sensor"], case["halt"]
    x, v, t = case["start"], case["speed"], 0.0
    mode = "driven" if drive else "halting"
    ramping = mode == "halting" and halt["kind"] == "ramp"
    until = INF
    out = {k: None for k in ("trip_time", "trip_speed", "cut_time", "cut_travel", "contact_time",
                             "contact_speed", "contact_travel", "hard_speed", "spring_force", "back_time")}
    peak = 0.0
    previous = None

    def finish(end):
        return {**out, "end": end, "time": t, "travel": x, "speed": v, "peak_pull": peak}

    def let_go():
        nonlocal mode, ramping
        out["cut_time"], out["cut_travel"] = t, x
        mode = "halting"
        ramping = halt["kind"] == "ramp" and way * v > 0

    for _ in range(3000):
        if mode == "driven" and sensor and way * (x - sensor["at"]) >= 0:
            out["trip_time"], out["trip_speed"] = t, v
            if sensor["reaction"] > 0:
                mode, until = "reacting", t + sensor["reaction"]
            else:
                let_go()
        pulling = mode != "halting"
        brake = halt["brake"] if mode == "halting" and not ramping else 0.0
        if v != 0:
            side = 1 if v > 0 else -1
        else:
            side = 0
            at_rest = way * d.most_pull() if pulling else 0.0
            for s in ((1, -1) if way > 0 else (-1, 1)):
                region = d.region(x, s)
                if region is None:
                    beyond = d.region(x, -s)
                    force = s * (d.push(x, sum(beyond) / 2) + at_rest)
                    if d.edge(s) == "open" and force > brake:
                        side = s
                        break
                    continue
                middle = sum(region) / 2
                if s * (d.push(x, middle) + at_rest) > case["breakaway"] * d.resistance(middle) + brake:
                    side = s
                    break
            if side == 0:
                if mode == "reacting":
                    t = until
                    let_go()
                    continue
                return finish("stalls" if pulling else "rests")
        if side * way < 0 and out["back_time"] is None:
            out["back_time"] = t
        region = d.region(x, side)
        stop = d.stops[side]
        if region is None:
            if d.edge(side) == "open":
                return finish("leaves_track")
            if out["contact_time"] is None:
                out["contact_time"], out["contact_speed"], out["contact_travel"] = t, v, x
            out["hard_speed"] = abs(v)
            if stop["spring"]:
                out["spring_force"] = stop["spring"]["rate"] * abs(x - stop["at"])
            return finish("at_stop")
        low, high = region
        middle = (low + high) / 2
        in_spring = bool(stop and stop["spring"] and side * (middle - stop["at"]) > 0)
        if in_spring and out["contact_time"] is None and previous is not None:
            out["contact_time"], out["contact_speed"], out["contact_travel"] = t, v, x
        resistance = d.resistance(middle)

        # what a geared drive aims at, as an acceleration along its way
        target, level = None, None
        if pulling and drive["kind"] == "geared":
            u = way * v
            speed = drive["speed"]
            others0 = way * (d.push(x, middle) - side * resistance)
            if abs(u - speed) < 1e-12:
                if others0 < -drive["pull"]:
                    target, level = drive["ramp"], speed
                elif others0 > drive["holds_back"]:
                    target, level = -drive["ramp"], speed
                else:
                    target = 0.0
            elif u < speed:
                target, level = drive["ramp"], speed
            else:
                target, level = -drive["ramp"], speed
        elif ramping:
            target = -halt["ramp"]

        def pull_at(x, v):
            if target is not None:
                needed = m * target - way * (d.push(x, middle) - side * resistance)
                return float(np.clip(needed, -drive["holds_back"], drive["pull"]))
            if pulling and drive["kind"] == "motor":
                return d.motor_pull(v)
            return 0.0

        def rhs(_, y):
            x, v = y
            force = d.push(x, middle) - side * resistance + way * pull_at(x, v)
            if mode == "halting" and not ramping:
                force -= side * halt["brake"] + halt.get("damping", 0.0) * v
            return [v, force / m]

        ahead = high if side > 0 else low
        events = [lambda _, y: y[0] - ahead, lambda _, y: y[1]]
        events[0].direction = side
        events[1].direction = -side
        if level is not None:
            events.append(lambda _, y: way * y[1] - level)
            events[2].direction = 1 if way * v < level or target > 0 else -1
        if target == 0.0 and d.push(low, middle) != d.push(high, middle):
            # the set speed is kept until a limit of the drive is passed
            def spare(_, y):
                needed = -way * (d.push(y[0], middle) - side * resistance)
                return min(drive["pull"] - needed, needed + drive["holds_back"])
            spare.direction = -1
            events.append(spare)
        for e in events:
            e.terminal = True
        end = min(until, t + 1e5) if mode == "reacting" else t + 1e5
        # one long step may pass the kink, turn and come back: take shorter ones until none does
        for longest in (INF, 0.5, 0.05, 0.005):
            sol = solve_ivp(rhs, (t, end), [x, v], method="DOP853", rtol=rtol, atol=rtol * 1e-2,
                            events=events, first_step=min(1e-3, (end - t) / 2), max_step=longest)
            assert sol.status >= 0, sol.message
            if side * (sol.y[0, -1] - ahead) < 1e-6:
                break
        pulls = [pull_at(*y) for y in sol.y.T]
        if pulling or ramping:
            peak = max(peak, max(pulls))
        previous = side
        t, (x, v) = float(sol.t[-1]), (float(a) for a in sol.y[:, -1])
        if sol.status == 0:
            if mode != "reacting":
                return finish("never_rests")
            t = until
            let_go()
            continue
        which = [i for i, e in enumerate(sol.t_events) if len(e)][0]
        if which == 0:
            x = ahead
        elif which == 1:
            v = 0.0
            if ramping:
                ramping = False
            if in_spring:
                if out["contact_time"] is None:
                    out["contact_time"], out["contact_speed"], out["contact_travel"] = t, v, x
                out["spring_force"] = stop["spring"]["rate"] * abs(x - stop["at"])
                return finish("at_stop")
        elif level is not None and which == 2:
            v = way * level
        else:
            # a hair beyond, so that the limit is seen as passed
            v -= way * math.copysign(1e-13, -way * (d.push(x, middle) - side * resistance))
    return finish("never_rests")


def random_case(rng):
    case = any_case(rng)
    if rng.random() < 0.3:
        # a motor at the edge of what it can do, on a push that changes along the travel
        case["track"]["rails"], case["track"]["wheels"] = [], []
        resistance = case["track"]["resistance"]
        length = case["track"]["to"]
        ends = [rng.uniform(-0.5, 0.7) * resistance for _ in range(2)]
        case["track"]["pushes"] = [[0.0, length, *ends]]
        way = 1.0 if case["direction"] == "opening" else -1.0
        first = resistance - way * ends[0 if way > 0 else 1]
        stall = first * rng.uniform(1.05, 2.5) + 50.0
        case["drive"] = {"kind": "motor", "stall": stall, "no_load_speed": rng.uniform(0.06, 0.35),
                         "limit": max(first * 1.05, stall * rng.uniform(0.5, 1.0)) + 5.0,
                         "holds_back": rng.choice([0.0, stall * 0.3])}
        case["breakaway"] = 1.0
        if case["halt"]["kind"] == "ramp":
            case["halt"] = {"kind": "coast", "brake": 0.0, "damping": 500.0}
    return case


def any_case(rng):
    length = rng.uniform(2.5, 7.0)
    mass = rng.uniform(250, 2500)
    weight = mass * 9.81
    track = {
        "from": 0.0,
        "to": length,
        "resistance": weight * rng.choice([0.0, 0.008, 0.014, 0.014, 0.03, 0.05]) * rng.uniform(0.8, 1.2),
        "rails": [],
        "wheels": [],
        "pushes": [],
        "seals": [],
    }
    rough = rng.choice([0.0, 0.0, 0.002, 0.004, 0.01])
    if rough:
        for number in range(2):
            stations = [-1.0]
            while stations[-1] < 2 * length + 1:
                stations.append(stations[-1] + rng.uniform(0.8, 2.5))
            tilt = rng.uniform(-0.006, 0.006)
            track["rails"].append([[s, 2.1 + tilt * s + rng.uniform(-rough, rough)] for s in stations])
            for station in (0.3, length - 0.2):
                track["wheels"].append({"rail": number, "station": station, "load": weight / 4})
    if rng.random() < 0.7:
        wind = rng.uniform(-0.05, 0.05) * weight
        lee = rng.uniform(-0.2, 1.0)
        track["pushes"].append([0.0, length, wind * lee, wind])
    if rng.random() < 0.3:
        a = rng.uniform(0.0, 0.4)
        track["seals"].append([a, a + 0.25, rng.uniform(20, 120)])
    kind = rng.choice(["motor", "motor", "geared", "geared", "none"])
    typical = weight * 0.05
    if kind == "motor":
        stall = typical * rng.uniform(0.4, 4.0)
        drive = {"kind": "motor", "stall": stall, "no_load_speed": rng.uniform(0.06, 0.35),
                 "limit": rng.choice([1e9, stall * rng.uniform(0.4, 0.9)]),
                 "holds_back": rng.choice([0.0, 1e9, stall * 0.3])}
    elif kind == "geared":
        pull = typical * rng.uniform(0.4, 3.0)
        drive = {"kind": "geared", "speed": rng.uniform(0.05, 0.3), "ramp": rng.uniform(0.02, 0.5),
                 "pull": pull, "holds_back": rng.choice([0.0, pull])}
    else:
        drive = None
    if kind == "geared" and rng.random() < 0.4:
        halt = {"kind": "ramp", "ramp": rng.uniform(0.03, 0.4), "brake": rng.choice([0.0, 200.0])}
    else:
        halt = {"kind": "coast", "brake": rng.choice([0.0, 0.0, 60.0, 300.0]),
                "damping": rng.choice([0.0, 0.0, 500.0, 2500.0])}
    def stop(at):
        if rng.random() < 0.12:
            return None
        spring = None
        if rng.random() < 0.6:
            spring = {"rate": rng.uniform(3e3, 6e4), "stroke": rng.uniform(0.02, 0.15)}
        return {"at": at, "spring": spring}
    direction = rng.choice(["opening", "shutting"])
    shut, opened = 0.05, length - 0.05
    start = shut if direction == "opening" else opened
    if drive is None or rng.random() < 0.2:
        start = rng.uniform(shut, opened)
    sensor = None
    if drive and rng.random() < 0.8:
        before = rng.uniform(0.02, 0.3)
        at = opened - before if direction == "opening" else shut + before
        sensor = {"at": at, "reaction": rng.choice([0.0, 0.05, 0.25, 0.6])}
    return {
        "mass": mass,
        "track": track,
        "direction": direction,
        "start": start,
        "speed": rng.choice([0.0, 0.0, 0.0, 0.1, -0.15]) if rng.random() < 0.5 or drive is None else 0.0,
        "breakaway": rng.choice([1.0, 1.3, 2.0]),
        "drive": drive,
        "sensor": sensor,
        "halt": halt,
        "shut_stop": stop(shut),
        "open_stop": stop(opened),
    }


def rounded(value, digits):
    """The same with every number to so many significant digits, to keep the file small."""
    if isinstance(value, float):
        return float(f"{value:.{digits}g}")
    if isinstance(value, dict):
        return {k: rounded(v, digits) for k, v in value.items()}
    if isinstance(value, list):
        return [rounded(v, digits) for v in value]
    return value


def agree(a, b):
    for key in a:
        p, q = a[key], b[key]
        if p is None or q is None or isinstance(p, str):
            if p != q:
                return False
        elif abs(p - q) > 1e-7 * max(1.0, abs(p)):
            return False
    return True


def main():
    rng = random.Random(20260401)
    drives, left_out, never_started = [], 0, 0
    while len(drives) < WANTED:
        case = rounded(random_case(rng), 5)
        if case["start"] in (0.05,) and case["speed"] < 0 or case["speed"] > 0 and case["start"] > case["track"]["to"] - 0.06:
            case["speed"] = 0.0
        coarse, fine = follow(case, 1e-9), follow(case, 1e-11)
        if not agree(coarse, fine):
            left_out += 1
            continue
        if fine["time"] == 0.0:
            never_started += 1
            if never_started > MOST_THAT_NEVER_START:
                continue
        drives.append({"case": case, "expect": rounded(fine, 11)})
        print(len(drives), fine["end"], flush=True)
    kinds = {}
    for d in drives:
        kinds[d["expect"]["end"]] = kinds.get(d["expect"]["end"], 0) + 1
    print(kinds, "left out:", left_out)
    path = pathlib.Path(__file__).with_name("data") / "motion_drives.json"
    with path.open("w") as f:
        f.write('{"made_by": "motion_reference.py, scipy 1.17.1 solve_ivp DOP853, rtol 1e-11",\n')
        f.write(f'"left_out": {left_out},\n"drives": [\n')
        f.write(",\n".join(json.dumps(d) for d in drives))
        f.write("\n]}\n")


if __name__ == "__main__":
    main()

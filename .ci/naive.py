"""Reads drafts with Python's own INI parser, fills in a full grid and finds the
longest floats. .ci/bench compares the speed of fettle with it."""

import configparser
import sys
import time


def numbers(section, count):
    return [[int(v) for v in section.get(str(n), "0").split(",") if int(v)] for n in range(1, count + 1)]


def longest(line):
    best = run = 1
    for a, b in zip(line, line[1:]):
        run = run + 1 if a == b else 1
        best = max(best, run)
    return best


def floats(path):
    draft = configparser.ConfigParser(interpolation=None)
    draft.read(path)
    ends, picks = draft.getint("WARP", "threads"), draft.getint("WEFT", "threads")
    threading = numbers(draft["THREADING"], ends)
    tieup = numbers(draft["TIEUP"], draft.getint("WEAVING", "treadles"))
    lifts = [{s for t in row for s in tieup[t - 1]} for row in numbers(draft["TREADLING"], picks)]
    grid = [[any(s in lift for s in shafts) for shafts in threading] for lift in lifts]
    return max(map(longest, zip(*grid))), max(map(longest, grid))


start = time.perf_counter()
for path in sys.argv[1:]:
    floats(path)
print(f"{(len(sys.argv) - 1) / (time.perf_counter() - start):.1f}")

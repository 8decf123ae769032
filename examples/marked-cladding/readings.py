# Makes readings.csv of this example from one seed; every number in it is invented here.
#
#     python3 examples/marked-cladding/readings.py
#
# Python's Mersenne Twister with this seed gives the same file on every machine.
import random
from pathlib import Path

random.seed(80931)
MAP = ["bora bare sirocco foehn bare mistral", "mistral foehn bare bora sirocco bare"]
PATCHES = {"a1": "spray+gel", "a2": "pen+gel", "b1": "spray+lye"}
# Gloss on the day, and what a cycle takes: marks of ghost and gloss, for spray with gel.
CLEARS = {
    "bare": (72.0, 1.70, 3.4),
    "bora": (84.0, 0.24, 0.5),
    "foehn": (80.0, 0.52, 1.2),
    "sirocco": (77.0, 0.85, 2.3),
    "mistral": (66.0, 0.62, 1.6),
}
HARDER = {"spray+gel": (1.0, 1.0), "pen+gel": (0.75, 0.9), "spray+lye": (1.25, 0.45)}
CYCLES = ["2025-05-19", "2025-05-21", "2025-05-23", "2025-05-27", "2025-05-29", "2025-06-02"]


def places():
    for row, names in zip("AB", MAP):
        for at, name in enumerate(names.split()):
            for patch, word in PATCHES.items():
                if not (name == "mistral" and word.endswith("gel")):
                    yield f"{row}{at + 1}", patch, name, word


def three(value):
    # Three readings that lie further apart than the gauge allows are taken again, as its user would.
    while True:
        noise = [random.gauss(0, 0.16) for _ in range(3)]
        if max(noise) - min(noise) <= 0.4:
            return ",".join(f"{value + one:.1f}" for one in noise)


lines = ["date,round,section,measure,unit,by,1,2,3"]
own = {(code, patch): random.gauss(0, 0.9) for code, patch, _, _ in places()}
pace = {(code, patch): random.gauss(1.0, 0.12) for code, patch, _, _ in places()}
stopped = set()


def read(date, round_, code, patch, gloss, ghost):
    place = f"{code} / {patch}"
    lines.append(f"{date},{round_},{place},gloss-60,GU,E. B.,{three(gloss)}")
    lines.append(f"{date},{round_},{place},ghost,marks,E. B.,{ghost},,")


for code, patch, name, word in places():
    read("2025-05-06", "baseline", code, patch, 74.0 + own[code, patch], 0)
for code, patch, name, word in places():
    read("2025-05-15", "fresh", code, patch, CLEARS[name][0] + own[code, patch], 0)
for number, date in enumerate(CYCLES, 1):
    for code, patch, name, word in places():
        if (code, patch) in stopped:
            continue
        gloss, shade, loss = CLEARS[name]
        more, milder = HARDER[word]
        done = number * pace[code, patch]
        mark = min(4, max(0, round(shade * more * done + random.gauss(0, 0.2))))
        read(date, f"cycle {number}", code, patch, gloss + own[code, patch] - loss * milder * done, mark)
        if mark == 4:
            stopped.add((code, patch))
GRIP = {"bare": 5.2, "bora": 4.6, "foehn": 3.9, "sirocco": 3.1, "mistral": 1.2}
for row, names in zip("AB", MAP):
    for at, name in enumerate(names.split()):
        lines.append(f"2025-06-05,end,{row}{at + 1} / b2,grip,MPa,E. B.,{GRIP[name] + random.gauss(0, 0.3):.1f},,")
(Path(__file__).parent / "readings.csv").write_text("\n".join(lines) + "\n")

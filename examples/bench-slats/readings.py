# Makes roof.csv and lake.csv of this example from one seed; every number in them is invented here.
#
#     python3 examples/bench-slats/readings.py
#
# Python's Mersenne Twister with this seed gives the same files on every machine.
import random
from pathlib import Path

random.seed(52417)
HERE = Path(__file__).parent
MAPS = {
    "roof": ["alkanet bare weld woad madder", "woad madder alkanet bare weld", "weld woad bare madder alkanet"],
    "lake": ["madder weld woad alkanet bare", "bare alkanet madder weld woad", "woad bare alkanet madder weld"],
}
PLANKS = {
    "roof": ["p1 p2 p3 p4 p5", "p5 p6 p2 p3 p4", "p5 p6 p4 p1 p3"],
    "lake": ["p2 p6 p1 p4 p5", "p6 p5 p3 p1 p2", "p3 p1 p6 p4 p2"],
}
# What an oil does to L*, a*, b* on the day, and how fast the board then greys, in L* a year.
OILS = {
    "bare": ((0.0, 0.0, 0.0), 13.0),
    "alkanet": ((-6.5, 2.2, 5.0), 6.6),
    "madder": ((-15.0, 6.5, 7.5), 2.9),
    "weld": ((-5.0, 1.8, 4.2), 5.6),
    "woad": ((-6.0, 2.0, 4.6), 9.6),
}
DAYS = {
    "roof": ["2025-03-03", "2025-03-31", "2025-07-02", "2025-10-02", "2026-04-02"],
    "lake": ["2025-03-03", "2025-03-31", "2025-07-04", "2025-10-06", "2026-04-04"],
}
ROUNDS = ["baseline", "fresh", "month 3", "month 6", "month 12"]
YEARS = [0.0, 0.0, 0.25, 0.5, 1.0]
planks = {f"p{n}": [random.gauss(0, s) for s in (1.2, 0.35, 0.8)] for n in range(1, 7)}


def boards(site):
    for row, (names, cut) in enumerate(zip(MAPS[site], PLANKS[site])):
        for place, (name, plank) in enumerate(zip(names.split(), cut.split())):
            yield f"{'ABC'[row]}{place + 1}", name, plank


def marks(greyed):
    true = min(5.0, max(0.0, 0.30 * greyed + random.gauss(0, 0.35)))
    return [str(min(5, max(0, round(true + random.gauss(0, 0.25))))) for _ in range(2)]


def three():
    # Three readings that lie further apart than the gauge allows are taken again, as its user would.
    while True:
        noise = [random.gauss(0, 0.12) for _ in range(3)]
        if max(noise) - min(noise) <= 0.18:
            return noise


for site in MAPS:
    lines = ["date,round,section,measure,unit,by,1,2,3"]
    own = {code: [random.gauss(0, s) for s in (0.5, 0.15, 0.35)] for code, _, _ in boards(site)}
    pace = {code: random.gauss(1.0, 0.07) for code, _, _ in boards(site)}
    for at, round_ in enumerate(ROUNDS):
        for code, name, plank in boards(site):
            laid, speed = OILS[name]
            faster = 1.12 if site == "lake" else 1.0
            greyed = speed * faster * pace[code] * YEARS[at] ** 0.8
            start = [64.0, 7.0, 19.5]
            coat = laid if at > 0 else (0.0, 0.0, 0.0)
            shift = (-greyed, -0.28 * greyed, -0.62 * greyed)
            lab = [sum(parts) for parts in zip(start, planks[plank], own[code], coat, shift)]
            for measure, value in zip(("L*", "a*", "b*"), lab):
                if at == 0:
                    continue
                reads = ",".join(f"{value + noise:.2f}" for noise in three())
                lines.append(f"{DAYS[site][at]},{round_},{code},{measure},,L. F.,{reads}")
            one, two = marks(greyed)
            lines.append(f"{DAYS[site][at]},{round_},{code},cracks,marks,L. F.,{one},{two},")
    (HERE / f"{site}.csv").write_text("\n".join(lines) + "\n")

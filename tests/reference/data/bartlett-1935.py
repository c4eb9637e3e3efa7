"""Writes bartlett-1935.csv: the plum root cuttings of Hoblyn & Palmer (1934), one row per cutting.

Counts: M. S. Bartlett, "Contingency table interactions", Supplement to the Journal of the Royal Statistical
Society 2 (1935), 248-252; 240 cuttings in each of four cells. The two days are stand-ins: the counts come without
days, and an import asks for them.
"""

import csv
from pathlib import Path

alive_of_240 = {
    "long, planted at once": 156,
    "short, planted at once": 107,
    "long, planted in spring": 84,
    "short, planted in spring": 31,
}

with (Path(__file__).parent / "bartlett-1935.csv").open("w", newline="", encoding="utf-8") as file:
    table = csv.writer(file, lineterminator="\n")
    table.writerow(
        ["variety", "crop", "method", "treatment", "made on", "pieces", "alive", "dead", "unknown", "checked on", "note"]
    )
    for treatment, alive in alive_of_240.items():
        for cutting in range(240):
            lives = cutting < alive
            table.writerow(
                ["Plum rootstock", "European plum", "root cutting", treatment, "1931-11-01", 1, int(lives), int(not lives), 0, "1932-10-01", ""]
            )

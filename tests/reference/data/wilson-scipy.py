"""Writes wilson-scipy.json and normal-quantile-scipy.json: an independent implementation's values.

Run with Python 3 and scipy (written with 1.17.1): python3 wilson-scipy.py
"""
import json
import scipy
from scipy.special import ndtri
from scipy.stats import binomtest

COUNTS = [
    (0, 1), (1, 1), (0, 2), (1, 2), (2, 2), (3, 3), (0, 5), (1, 5), (2, 5), (5, 5), (1, 10), (5, 10), (9, 10),
    (10, 10), (0, 20), (7, 20), (1, 29), (15, 148), (81, 263), (45, 50), (5, 60), (12, 15), (16, 48), (84, 240),
    (107, 240), (156, 240), (31, 240), (500, 1000), (999, 1000), (7345, 10000), (0, 100000), (100000, 100000),
    (123456, 1000000), (999999, 1000000),
]
rows = []
for k, n in COUNTS:
    for level in (0.95, 0.9, 0.8):
        interval = binomtest(k, n).proportion_ci(level, method='wilson')
        rows.append({'k': k, 'n': n, 'level': level, 'low': float(interval.low), 'high': float(interval.high)})
with open('wilson-scipy.json', 'w') as out:
    json.dump({'source': f'scipy {scipy.__version__}: binomtest(k, n).proportion_ci(level, method="wilson")',
               'rows': rows}, out, indent=1)

PROBABILITIES = [1e-300, 1e-100, 1e-20, 1e-12, 1e-11, 1e-6, 0.001, 0.0013, 0.01, 0.05, 0.0749, 0.0751, 0.1, 0.25, 0.4,
                 0.5, 0.6, 0.75, 0.9, 0.925, 0.9251, 0.95, 0.975, 0.99, 0.999, 0.999999, 1 - 1e-12]
with open('normal-quantile-scipy.json', 'w') as out:
    json.dump({'source': f'scipy {scipy.__version__}: scipy.special.ndtri (Cephes)',
               'rows': [{'p': p, 'z': float(ndtri(p))} for p in PROBABILITIES]}, out, indent=1)

"""The same calculation in Python: with NumPy over whole arrays, and with a units library one sample at a time.

Prints a JSON object: nanoseconds a sample, drawing apart, and the results for the readings as they are.
"""

import json
import math
import sys
import time

import numpy as np

DEGREE = math.pi / 180.0
NOMINAL = [3.4 * DEGREE, -1.3 * DEGREE, 2.6 * DEGREE, 0.0, 0.905, 0.022, -0.070, 1.750, 0.0, -0.120, 0.0]
LIMITS = [0.1 * DEGREE, 0.15 * DEGREE, 0.1 * DEGREE, 0.15 * DEGREE, 1e-3, 1e-3, 1e-3, 1e-3, 1e-3, 1e-3, 0.5 * DEGREE]
TOP = 4500.0 * math.pi / 30.0


def level(fall, plan):
    return np.cos(fall) * np.cos(plan), np.cos(fall) * np.sin(plan), -np.sin(fall)


def cross(a, b):
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def dot(a, b):
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def norm(a):
    return np.sqrt(dot(a, a))


def calculate(read, top=TOP):
    gearbox, pinion = level(read[0], read[1]), level(read[2], read[3])
    apart = read[7] - read[4], read[8] - read[5], read[9] - read[6]
    length = norm(apart)
    shaft = apart[0] / length, apart[1] / length, apart[2] / length
    first, second = cross(gearbox, shaft), cross(shaft, pinion)
    front = np.arctan2(norm(first), dot(gearbox, shaft))
    rear = np.arctan2(norm(second), dot(shaft, pinion))
    planes = np.arctan2(dot(shaft, cross(first, second)), dot(first, second))
    k1, k2 = 4.0 * np.tan(front / 2.0) ** 2, 4.0 * np.tan(rear / 2.0) ** 2
    squared = np.sqrt(k1**2 + k2**2 - 2.0 * k1 * k2 * np.cos(2.0 * (read[10] - planes)))
    return front, rear, planes, np.sqrt(squared), top**2 * squared, top**2 * k1, top**2 * k2


def fastest(work, seconds=1.0):
    """Of repeated runs the fastest, in seconds."""
    best, until = math.inf, time.perf_counter() + seconds
    while time.perf_counter() < until:
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def with_numpy():
    """The best of several array lengths: short ones stay in the cache, long ones spread the overhead."""
    random = np.random.default_rng(2026)
    found = []
    for length in [1_000, 4_000, 16_000, 64_000]:
        def draw():
            return [value + limits * (2.0 * random.random(length) - 1.0) for value, limits in zip(NOMINAL, LIMITS)]

        drawn = draw()
        drawing = fastest(draw) / length
        found.append((drawing + fastest(lambda: calculate(drawn)) / length, drawing))
    total, drawing = min(found)
    return {"ns": total * 1e9, "drawing_ns": drawing * 1e9}


def with_units():
    try:
        import pint
    except ImportError:
        return None
    units = pint.UnitRegistry()
    names = ["radian"] * 4 + ["meter"] * 6 + ["radian"]
    read = [units.Quantity(value, name) for value, name in zip(NOMINAL, names)]
    top = units.Quantity(TOP, "radian / second")

    return {"ns": fastest(lambda: calculate(read, top)) * 1e9}


result = {
    "numpy": np.__version__,
    "python": sys.version.split()[0],
    "results": [float(value) for value in calculate(NOMINAL)],
    "with_numpy": with_numpy(),
    "with_units": with_units(),
}
print(json.dumps(result))

"""What both scripts share: the flow of an ideal gas through an orifice, written down anew from the textbook (J. B. Heywood, Internal
Combustion Engine Fundamentals, 1988, eqs. C.8 and C.9, numbers from memory), and reading the car's numbers from JSON."""
import json
import math
import sys

R, G = 287.05, 1.4
CRITICAL = (2 / (G + 1)) ** (G / (G - 1))


def orifice(cda, p0, p1, t0, t1, soft=0.05):
    """Mass flow in kg/s from p0 to p1 (Pa), negative when it runs back; soft is the difference in Pa below which it is straight."""
    if p0 < p1:
        return -orifice(cda, p1, p0, t1, t0, soft)
    ratio = max(p1 / p0, CRITICAL)
    psi = math.sqrt(max(0.0, 2 * G / (G - 1) * (ratio ** (2 / G) - ratio ** ((G + 1) / G))))
    d = p0 - p1
    if d < soft:
        edge = 1 - soft / p0
        psi = math.sqrt(2 * G / (G - 1) * (edge ** (2 / G) - edge ** ((G + 1) / G))) * d / soft
    return cda * p0 / math.sqrt(R * t0) * psi


def read_car():
    with open(sys.argv[1], encoding="utf-8") as f:
        return json.load(f)

"""Shared by make_wort, make_liquor, make_boil, make_hops, make_chill, make_ferment, make_package: collects rows, writes <topic>.csv.

Columns: id, quantity, inputs, expected, unit, tolerance, kind, source.
`inputs` is key=value pairs joined by ';'; the key ends in the unit (t_c, ua_w_k), the value is a bare number where it can be.
`tolerance` is absolute, in the unit of the row, unless it ends in '%'; empty: the row is a bound or a trend, not a target.
"""
import csv
import re

from place import check

KINDS = {"published", "handbook", "worked-example", "library", "common-practice", "from-memory"}
UNITS = {"C": "c", "F": "f", "K": "k", "kPa": "kpa", "bar": "bar", "kg": "kg", "g": "g", "kg/s": "kg_s", "L": "l", "m": "m", "mm": "mm",
         "m/s": "m_s", "W": "w", "kW": "kw", "W/K": "w_k", "J/K": "j_k", "J/(kg K)": "j_kg_k", "min": "min", "h": "h", "s": "s",
         "kW/m2": "kw_m2", "kg/h": "kg_h", "mg/L": "mg_l", "g/L": "g_l", "ug/L": "ug_l", "mmol/kg": "mmol_kg", "mmol/L": "mmol_l",
         "meq/L": "meq_l", "mg/kg": "mg_kg", "1/min": "per_min", "1/h": "per_h", "/K": "per_k", "vol": "vol", "kJ/kg": "kj_kg",
         "kg/L": "kg_l", "in": "in", "ft": "ft", "mPa s": "mpa_s", "W/(m2 K)": "w_m2k", "lb/bbl": "lb_bbl", "g/mL": "g_ml",
         "%/h": "pct_h", "mL": "ml"}


def clean(key):
    return re.sub(r"[^a-z0-9]+", "_", key.lower()).strip("_")


def pair(key, value):
    m = re.fullmatch(r"(-?[0-9.]+(?:e-?[0-9]+)?) (.+)", str(value))
    if m and m.group(2) in UNITS:
        return f"{clean(key)}_{UNITS[m.group(2)]}={m.group(1)}"
    return f"{clean(key)}={value}"


class Table:
    def __init__(self, topic):
        self.topic, self.rows, self.last = topic, [], {}

    def add(self, quantity, inputs, expected, unit, tolerance, kind, source, digits=7):
        if kind not in KINDS:
            raise ValueError(f"{quantity}: unknown kind {kind}")
        if "as" in inputs:                       # repeats the inputs of the row before
            inputs = {**self.last, **{k: v for k, v in inputs.items() if k != "as"}}
        self.last = inputs
        text = ";".join(pair(k, v) for k, v in inputs.items())
        if isinstance(expected, float):
            expected = f"{expected:.{digits}g}"
        self.rows.append([f"{self.topic}-{len(self.rows) + 1:03d}", quantity, text, expected, unit, tolerance, kind, source])

    def write(self):
        path = check(self.topic + ".csv")
        with open(path, "w", newline="") as f:
            w = csv.writer(f, lineterminator="\n")
            w.writerow(["id", "quantity", "inputs", "expected", "unit", "tolerance", "kind", "source"])
            w.writerows(self.rows)
        print(f"{len(self.rows)} rows -> checks/{self.topic}.csv")

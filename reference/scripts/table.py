"""Shared by make_mash.py, make_malt.py and make_lauter.py: collect check rows, compare, write the CSV."""
import csv
import os
import sys

from place import check
COLUMNS = ['id', 'quantity', 'inputs', 'expected', 'unit', 'tolerance', 'kind', 'source']
KINDS = {'published', 'handbook', 'worked-example', 'library', 'common-practice', 'from-memory'}


class Table:
    def __init__(self, name):
        self.name, self.rows, self.bad = name, [], 0

    def add(self, id_, quantity, inputs, expected, unit, tolerance, kind, source, got=None):
        """expected: the outside value, or a string such as '>0.95'; got: what our own script computes for it."""
        assert kind in KINDS, kind
        assert id_ not in {r[0] for r in self.rows}, id_
        if got is not None:
            got = float(got)
            text = str(expected)
            if text[0] in '<>':
                ok = got > float(text[1:]) if text[0] == '>' else got < float(text[1:])
            else:
                e, t = float(text), str(tolerance)
                ok = abs(got - e) <= (float(t[:-1]) / 100 * abs(e) if t.endswith('%') else float(t)) + 1e-12
            if not ok:
                self.bad += 1
            print(f'{"ok  " if ok else "MISS"} {id_:6} {quantity[:58]:58} expected {text:>12} got {got:.6g} tol {tolerance}')
        self.rows.append([id_, quantity, inputs, expected, unit, tolerance, kind, source])

    def calc(self, id_, quantity, inputs, value, unit, tolerance, source, digits=6):
        """A value computed here from an equation of the sheet with numpy/scipy."""
        self.add(id_, quantity, inputs, f'{value:.{digits}g}', unit, tolerance, 'library', source)

    def write(self):
        path = check(self.name)
        with open(path, 'w', newline='') as f:
            w = csv.writer(f, lineterminator='\n')
            w.writerow(COLUMNS)
            w.writerows(self.rows)
        print(f'{len(self.rows)} rows written to {self.name}; {self.bad} outside tolerance')
        sys.exit(0)

"""Where the scripts read and write. `REFERENCE_OUT` sends the tables elsewhere, so that a fresh run can be compared with what is kept."""
import os

ROOT = os.path.join(os.path.dirname(os.path.abspath(__file__)), '..')
OUT = os.environ.get('REFERENCE_OUT', ROOT)


def check(name):
    """Path of a check table to write."""
    return os.path.join(OUT, 'checks', name)


def data_out(name):
    """Path of a data table to write."""
    return os.path.join(OUT, 'data', name)


def data_in(name):
    """Path of a data table to read: always the one that is kept."""
    return os.path.join(ROOT, 'data', name)

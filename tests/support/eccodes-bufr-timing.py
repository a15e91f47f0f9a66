"""Times ecCodes on a BUFR file, for the benchmark of the BUFR reader.

Reads one line a task from standard input: JSON [what, path, times]. `values`: every message opened, unpacked and its levels
taken as arrays, in this process. `dump`: `bufr_dump -p` of the file, its output thrown away. Answers each with one JSON line:
the CPU microseconds of one time round, the number of messages, and the sum of all temperatures (0 for the dump).
"""
import json
import resource
import subprocess
import sys
import time

import eccodes

KEYS = ["pressure", "airTemperature", "dewpointTemperature", "windDirection", "windSpeed"]
HEIGHTS = ["nonCoordinateGeopotentialHeight", "nonCoordinateGeopotential"]
MISSING = -1e100


def levels(message):
    """The columns of a message's levels; the sum of its temperatures."""
    eccodes.codes_set(message, "unpack", 1)
    columns = [eccodes.codes_get_double_array(message, key) for key in KEYS]
    for key in HEIGHTS:
        try:
            columns.append(eccodes.codes_get_double_array(message, key))
            break
        except eccodes.KeyValueNotFoundError:
            continue
    temperatures = columns[1]
    return float(temperatures[temperatures != MISSING].sum())


def values(path):
    count, total = 0, 0.0
    with open(path, "rb") as file:
        while True:
            message = eccodes.codes_bufr_new_from_file(file)
            if message is None:
                return count, total
            total += levels(message)
            count += 1
            eccodes.codes_release(message)


def dump(path):
    subprocess.run(["bufr_dump", "-p", path], stdout=subprocess.DEVNULL, check=True)
    return 0, 0.0


def cpu_us(what):
    if what == "values":
        return time.thread_time_ns() / 1e3
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return (used.ru_utime + used.ru_stime) * 1e6


for line in sys.stdin:
    what, path, times = json.loads(line)
    start = cpu_us(what)
    for _ in range(times):
        count, total = values(path) if what == "values" else dump(path)
    print(json.dumps([(cpu_us(what) - start) / times, count, total]), flush=True)

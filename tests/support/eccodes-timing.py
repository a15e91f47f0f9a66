"""Times ecCodes on messages of GRIB files, for the benchmark of the GRIB2 reader.

Reads one line a message from standard input: JSON [path, offset, length]. Answers each with one JSON line: microseconds
of this thread's CPU time to decode the values of the opened message, microseconds to open it and decode, and the sum of the values.
"""

import json
import sys
import time

import eccodes

HELD = {}


def message(path, offset, length):
    key = (path, offset)
    if key not in HELD:
        with open(path, "rb") as file:
            file.seek(offset)
            HELD[key] = file.read(length)
    return HELD[key]


for line in sys.stdin:
    content = message(*json.loads(line))
    start = time.thread_time_ns()
    handle = eccodes.codes_new_from_message(content)
    opened = time.thread_time_ns()
    values = eccodes.codes_get_values(handle)
    end = time.thread_time_ns()
    eccodes.codes_release(handle)
    print(json.dumps([(end - opened) / 1e3, (end - start) / 1e3, float(values.sum())]), flush=True)

"""Times ecCodes on messages of GRIB files, for the benchmark of the GRIB2 reader.

Reads one line a task from standard input: JSON [path, offset, length, decodes]. Answers each with one JSON line: the
mean microseconds to decode the values of the opened message, the mean microseconds to open it and decode, and the sum
of the values. The clock is `wall` (default) or, as first argument, `cpu`: the CPU time of this thread.
"""

import json
import sys
import time

import eccodes

CLOCK_NS = time.thread_time_ns if sys.argv[1:] == ["cpu"] else time.perf_counter_ns


def decode(content):
    start = CLOCK_NS()
    handle = eccodes.codes_new_from_message(content)
    opened = CLOCK_NS()
    values = eccodes.codes_get_values(handle)
    end = CLOCK_NS()
    eccodes.codes_release(handle)
    return end - opened, end - start, values


for line in sys.stdin:
    path, offset, length, decodes = json.loads(line)
    with open(path, "rb") as file:
        file.seek(offset)
        content = file.read(length)
    values_ns = opened_ns = 0
    for _ in range(decodes):
        one_values_ns, one_opened_ns, values = decode(content)
        values_ns += one_values_ns
        opened_ns += one_opened_ns
    print(json.dumps([values_ns / decodes / 1e3, opened_ns / decodes / 1e3, float(values.sum())]), flush=True)

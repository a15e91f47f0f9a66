"""Packs values into GRIB2 messages with ecCodes: an independent encoder for the tests of the packings.

Reads a JSON list of [columns, rows, values, keys] from standard input. For each: length of the message (4 bytes,
little-endian), then the message; of length 0 when ecCodes does not pack it. Each is packed in a process of its own,
since ecCodes 2.28 ends the process on some fields it cannot pack. A null among the values is missing.
"""

import json
import os
import struct
import sys

import eccodes

MISSING = 1e34
STEP_MICRODEGREES = 1000


def pack(columns, rows, values, keys):
    handle = eccodes.codes_grib_new_from_samples("regular_ll_sfc_grib2")
    eccodes.codes_set(handle, "Ni", columns)
    eccodes.codes_set(handle, "Nj", rows)
    for axis, first, number in (("latitude", 50e6, 1 - rows), ("longitude", 10e6, columns - 1)):
        eccodes.codes_set(handle, axis + "OfFirstGridPoint", int(first))
        eccodes.codes_set(handle, axis + "OfLastGridPoint", int(first + number * STEP_MICRODEGREES))
    eccodes.codes_set(handle, "iDirectionIncrement", STEP_MICRODEGREES)
    eccodes.codes_set(handle, "jDirectionIncrement", STEP_MICRODEGREES)
    eccodes.codes_set(handle, "missingValue", MISSING)
    eccodes.codes_set(handle, "bitmapPresent", int(None in values))
    for key, value in keys.items():
        eccodes.codes_set(handle, key, value)
    eccodes.codes_set_values(handle, [MISSING if value is None else value for value in values])
    return eccodes.codes_get_message(handle)


def packed_apart(field):
    source, target = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(source)
        with os.fdopen(target, "wb") as pipe:
            pipe.write(pack(*field))
        os._exit(0)
    os.close(target)
    with os.fdopen(source, "rb") as pipe:
        message = pipe.read()
    os.waitpid(child, 0)
    return message


for each in json.load(sys.stdin):
    message = packed_apart(each)
    sys.stdout.buffer.write(struct.pack("<I", len(message)) + message)
    sys.stdout.buffer.flush()

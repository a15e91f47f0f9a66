"""Place and time of the launch of each message of a BUFR file, read with ecCodes at full precision.

usage: eccodes-bufr-places.py FILE
prints one JSON array: [[latitude, longitude, "YYYY-MM-DDTHH:MM:SSZ"], ...]
"""
import json
import sys

import eccodes

PARTS = ["year", "month", "day", "hour", "minute", "second"]
places = []


def first(message, key):
    """First value of an element of the data; 0 where it is missing or not there."""
    try:
        value = eccodes.codes_get_array(message, "#1#" + key)[0]
    except eccodes.KeyValueNotFoundError:
        return 0
    return 0 if value == eccodes.CODES_MISSING_LONG else value


with open(sys.argv[1], "rb") as file:
    while True:
        message = eccodes.codes_bufr_new_from_file(file)
        if message is None:
            break
        eccodes.codes_set(message, "unpack", 1)
        time = "%04d-%02d-%02dT%02d:%02d:%02dZ" % tuple(int(first(message, part)) for part in PARTS)
        places.append([float(first(message, "latitude")), float(first(message, "longitude")), time])
        eccodes.codes_release(message)
print(json.dumps(places))

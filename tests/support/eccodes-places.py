"""Writes where ecCodes puts the points of every distinct grid of a GRIB file: the outside truth of grid coordinates.

usage: eccodes-places.py FILE

For each distinct section 3: length of a JSON header (4 bytes, little-endian), the header, then latitudes, then longitudes
as little-endian doubles in ecCodes' order. A grid that ecCodes cannot place has `error` in its header and no points.
"""

import json
import struct
import sys

import eccodes
import numpy


def integer(handle, key):
    try:
        return eccodes.codes_get(handle, key, int)
    except eccodes.CodesInternalError:
        return None


def write(header, arrays):
    text = json.dumps(header).encode()
    sys.stdout.buffer.write(struct.pack("<I", len(text)) + text)
    for array in arrays:
        sys.stdout.buffer.write(numpy.asarray(array, dtype="<f8").tobytes())


def main(path):
    seen = set()
    eccodes.codes_grib_multi_support_on()
    with open(path, "rb") as file:
        while True:
            handle = eccodes.codes_grib_new_from_file(file)
            if handle is None:
                return
            section3 = eccodes.codes_get(handle, "md5Section3", str)
            if section3 not in seen:
                seen.add(section3)
                keys = {"template": "gridDefinitionTemplateNumber", "windsAlongGrid": "uvRelativeToGrid"}
                header = {name: integer(handle, key) for name, key in keys.items()}
                header["offset"] = integer(handle, "offset")
                arrays = []
                try:
                    arrays = [eccodes.codes_get_array(handle, key) for key in ("latitudes", "longitudes")]
                except eccodes.CodesInternalError as error:
                    header["error"] = str(error)
                header["count"] = len(arrays[0]) if arrays else 0
                write(header, arrays)
            eccodes.codes_release(handle)


main(sys.argv[1])

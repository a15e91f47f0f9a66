"""Writes every field of a GRIB file as ecCodes reads it: the outside truth of the GRIB2 tests.

usage: eccodes-fields.py FILE [places]

For each field: length of a JSON header (4 bytes, little-endian), the header, then the values as little-endian doubles
in ecCodes' order, NaN where missing; with `places` also the latitudes and the longitudes, in the same order. A field
that ecCodes cannot decode has `error` in its header and no values.
"""

import json
import struct
import sys

import eccodes
import numpy

MISSING = 1e34
INTEGER_KEYS = [
    "offset",
    "edition",
    "discipline",
    "parameterCategory",
    "parameterNumber",
    "typeOfFirstFixedSurface",
    "scaleFactorOfFirstFixedSurface",
    "scaledValueOfFirstFixedSurface",
    "typeOfSecondFixedSurface",
    "dataDate",
    "dataTime",
    "validityDate",
    "validityTime",
    "gridDefinitionTemplateNumber",
    "productDefinitionTemplateNumber",
    "dataRepresentationTemplateNumber",
    "Nx",
    "Ny",
    "numberOfDataPoints",
    "numberOfMissing",
    "centre",
    "generatingProcessIdentifier",
    "bitsPerValue",
    "binaryScaleFactor",
    "decimalScaleFactor",
]


def integer(handle, key):
    """None where the key is absent or coded as missing."""
    try:
        if eccodes.codes_is_missing(handle, key):
            return None
        return eccodes.codes_get(handle, key, int)
    except eccodes.CodesInternalError:
        return None


def real(handle, key):
    try:
        return eccodes.codes_get(handle, key, float)
    except eccodes.CodesInternalError:
        return None


def write(header, arrays):
    text = json.dumps(header).encode()
    sys.stdout.buffer.write(struct.pack("<I", len(text)) + text)
    for array in arrays:
        sys.stdout.buffer.write(numpy.asarray(array, dtype="<f8").tobytes())


def main(path, with_places):
    eccodes.codes_grib_multi_support_on()
    with open(path, "rb") as file:
        while True:
            handle = eccodes.codes_grib_new_from_file(file)
            if handle is None:
                return
            header = {key: integer(handle, key) for key in INTEGER_KEYS}
            header["referenceValue"] = real(handle, "referenceValue")
            arrays = []
            try:
                eccodes.codes_set(handle, "missingValue", MISSING)
                values = eccodes.codes_get_values(handle)
                values[values == MISSING] = numpy.nan
                arrays = [values]
                if with_places:
                    arrays += [eccodes.codes_get_array(handle, key) for key in ("latitudes", "longitudes")]
                header["count"] = len(values)
                header.update({key: real(handle, key) for key in ("min", "max", "average")})
            except eccodes.CodesInternalError as error:
                header["error"] = str(error)
                header["count"] = 0
                arrays = []
            write(header, arrays)
            eccodes.codes_release(handle)


main(sys.argv[1], "places" in sys.argv[2:])

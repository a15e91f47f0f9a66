"""Prints what the code tables of ecCodes call parameters: names and units of WMO code table 4.2.

usage: eccodes-names.py DISCIPLINE.CATEGORY.NUMBER...

prints one line a parameter: the name, a tab, the unit
"""

import sys

import eccodes

handle = eccodes.codes_grib_new_from_samples("GRIB2")
eccodes.codes_set(handle, "tablesVersion", eccodes.codes_get(handle, "tablesVersionLatest", int))
for parameter in sys.argv[1:]:
    discipline, category, number = map(int, parameter.split("."))
    eccodes.codes_set(handle, "discipline", discipline)
    eccodes.codes_set(handle, "parameterCategory", category)
    eccodes.codes_set(handle, "parameterNumber", number)
    # The tables are chosen when a message is read, not when a key changes.
    read = eccodes.codes_new_from_message(eccodes.codes_get_message(handle))
    name = eccodes.codes_get(read, "parameterName", str)
    unit = eccodes.codes_get(read, "parameterUnits", str)
    eccodes.codes_release(read)
    print(f"{name}\t{unit}")

"""Fields of a GRIB2 file inside a box, read with ecCodes: the outside truth for tests of a whole brief.

usage: eccodes-box.py FILE SHORTNAMES SOUTH NORTH WEST EAST     (degrees east 0-360)
prints one JSON object: {"points": [[lat, lon], ...], "fields": {"t": {"850": [values in point order], ...}, ...}}
"""
import json
import sys

import eccodes

path, names = sys.argv[1], sys.argv[2].split(',')
south, north, west, east = map(float, sys.argv[3:7])
points, fields = [], {name: {} for name in names}
with open(path, 'rb') as file:
    while True:
        message = eccodes.codes_grib_multi_support_on() or eccodes.codes_grib_new_from_file(file)
        if message is None:
            break
        name = eccodes.codes_get(message, 'shortName')
        if name in fields and eccodes.codes_get(message, 'typeOfLevel') == 'isobaricInhPa':
            latitudes = eccodes.codes_get_array(message, 'latitudes')
            longitudes = eccodes.codes_get_array(message, 'longitudes')
            values = eccodes.codes_get_values(message)
            inside = [
                index
                for index in range(len(values))
                if south <= latitudes[index] <= north and west <= longitudes[index] <= east
            ]
            points = [[float(latitudes[index]), float(longitudes[index])] for index in inside]
            level = str(eccodes.codes_get(message, 'level'))
            fields[name][level] = [float(values[index]) for index in inside]
        eccodes.codes_release(message)
print(json.dumps({'points': points, 'fields': fields}))

/**
 * FM 94 Table B, reduced to what upper-air messages say of the air, the sea surface, quality and the data themselves:
 * classes 10 to 35. Rows as in table-b-place.ts.
 *
 * @source WMO-No. 306, Manual on Codes, volume I.2, Table B, version 39, as ecCodes 2.28 lists it.
 */
export const AIR_ELEMENTS: readonly string[] = [
  // Class 10: non-coordinate height and pressure
  '10 001 number 0 -400 15', // height of land surface
  '10 002 number -1 -40 16', // height
  '10 003 number -1 -400 17', // geopotential
  '10 004 number -1 0 14', // pressure
  '10 007 number 0 -1000 17', // height
  '10 008 number 0 -10000 20', // geopotential
  '10 009 number 0 -1000 17', // geopotential height
  '10 010 number -1 0 14', // minimum pressure reduced to mean sea level
  '10 051 number -1 0 14', // pressure reduced to mean sea level
  '10 052 number -1 0 14', // altimeter setting (qnh)
  '10 061 number -1 -500 10', // 3-hour pressure change
  '10 062 number -1 -1000 11', // 24-hour pressure change
  '10 063 code 0 0 4', // characteristic of pressure tendency
  // Class 11: wind
  '11 001 number 0 0 9', // wind direction
  '11 002 number 1 0 12', // wind speed
  '11 003 number 1 -4096 13', // u-component
  '11 004 number 1 -4096 13', // v-component
  '11 005 number 1 -512 10', // w-component
  '11 006 number 2 -4096 13', // w-component
  '11 007 number 0 0 9', // relative wind direction (in degrees off bow)
  '11 010 number 0 0 9', // wind direction associated with wind speed which follows
  '11 011 number 0 0 9', // wind direction at 10 m
  '11 012 number 1 0 12', // wind speed at 10 m
  '11 013 number 0 0 9', // wind direction at 5 m
  '11 014 number 1 0 12', // wind speed at 5 m
  '11 016 number 0 0 9', // extreme counterclockwise wind direction of a variable wind
  '11 017 number 0 0 9', // extreme clockwise wind direction of a variable wind
  '11 019 number 0 0 7', // steadiness of wind
  '11 021 number 9 -65536 17', // relative vorticity
  '11 022 number 9 -65536 17', // divergence
  '11 030 code 0 0 6', // extended degree of turbulence
  '11 031 code 0 0 4', // degree of turbulence
  '11 032 number -1 -40 16', // height of base of turbulence
  '11 033 number -1 -40 16', // height of top of turbulence
  '11 034 number 1 -1024 11', // vertical gust velocity
  '11 035 number 2 -8192 14', // vertical gust acceleration
  '11 036 number 1 0 10', // maximum derived equivalent vertical gust speed
  '11 037 code 0 0 6', // turbulence index
  '11 040 number 1 0 12', // maximum wind speed (mean wind)
  '11 041 number 1 0 12', // maximum wind gust speed
  '11 042 number 1 0 12', // maximum wind speed (10-minute mean wind)
  '11 043 number 0 0 9', // maximum wind gust direction
  '11 044 number 0 0 9', // mean wind direction for surface - 1 500 m (5 000 feet)
  '11 045 number 1 0 12', // mean wind speed for surface - 1 500 m (5 000 feet)
  '11 046 number 1 0 12', // maximum instantaneous wind speed
  '11 047 number 1 0 12', // maximum instantaneous wind speed over 10 minutes
  '11 049 number 0 0 9', // standard deviation of wind direction
  '11 050 number 1 0 12', // standard deviation of horizontal wind speed
  '11 051 number 1 0 8', // standard deviation of vertical wind speed
  '11 052 number 2 0 13', // formal uncertainty in wind speed
  '11 053 number 2 0 15', // formal uncertainty in wind direction
  '11 054 number 0 0 9', // mean wind direction for 1 500 - 3 000 m
  '11 055 number 1 0 12', // mean wind speed for 1 500 - 3 000 m
  '11 061 number 1 0 12', // absolute wind shear in 1 km layer below
  '11 062 number 1 0 12', // absolute wind shear in 1 km layer above
  '11 084 number 0 0 8', // wind speed
  // Class 12: temperature
  '12 001 number 1 0 12', // temperature/air temperature
  '12 002 number 1 0 12', // wet-bulb temperature
  '12 003 number 1 0 12', // dewpoint temperature
  '12 004 number 1 0 12', // air temperature at 2 m
  '12 005 number 1 0 12', // wet-bulb temperature at 2 m
  '12 006 number 1 0 12', // dewpoint temperature at 2 m
  '12 007 number 1 0 12', // virtual temperature
  '12 023 number 0 -99 8', // temperature
  '12 024 number 0 -99 8', // dewpoint temperature
  '12 061 number 1 0 12', // skin temperature
  '12 101 number 2 0 16', // temperature/air temperature
  '12 102 number 2 0 16', // wet-bulb temperature
  '12 103 number 2 0 16', // dewpoint temperature
  '12 104 number 2 0 16', // air temperature at 2 m
  '12 105 number 2 0 16', // web-bulb temperature at 2 m
  '12 106 number 2 0 16', // dewpoint temperature at 2 m
  '12 107 number 2 0 16', // virtual temperature
  // Class 13: humidity and water
  '13 001 number 5 0 14', // specific humidity
  '13 002 number 5 0 14', // mixing ratio
  '13 003 number 0 0 7', // relative humidity
  '13 004 number -1 0 10', // vapor pressure
  '13 007 number 0 0 7', // minimum relative humidity
  '13 008 number 0 0 7', // maximum relative humidity
  '13 009 number 1 -1000 12', // relative humidity
  '13 011 number 1 -1 14', // total precipitation/total water equivalent
  '13 016 number 0 0 7', // precipitable water
  '13 023 number 1 -1 14', // total precipitation past 24 hours
  '13 038 code 0 0 2', // superadiabatic indicator
  '13 041 code 0 0 4', // pasquill-gifford stability category
  '13 042 number 0 -20 6', // parcel lifted index (to 500 hpa)
  '13 043 number 0 -20 6', // best lifted index (to 500 hpa)
  '13 044 number 0 -30 8', // k index
  '13 045 number 0 -30 8', // ko index
  '13 046 number 0 -30 8', // maximum buoyancy
  '13 047 number 0 -60 6', // modified showalter stability index
  '13 090 number 1 0 10', // radiometer water vapor content
  '13 091 number 2 0 8', // radiometer liquid content
  '13 095 number 4 0 19', // total column water vapor
  '13 096 number 2 0 14', // mwr water vapor content
  // Class 20: cloud and weather
  '20 001 number -1 0 13', // horizontal visibility
  '20 002 number -1 0 7', // vertical visibility
  '20 003 code 0 0 9', // present weather
  '20 004 code 0 0 5', // past weather (1)
  '20 005 code 0 0 5', // past weather (2)
  '20 006 code 0 0 3', // flight rules
  '20 008 code 0 0 5', // cloud distribution for aviation
  '20 010 number 0 0 7', // cloud cover (total)
  '20 011 code 0 0 4', // cloud amount
  '20 012 code 0 0 6', // cloud type
  '20 013 number -1 -40 11', // height of base of cloud
  '20 014 number -1 -40 11', // height of top of cloud
  '20 015 number -1 0 14', // pressure at base of cloud
  '20 016 number -1 0 14', // pressure at top of cloud
  '20 017 code 0 0 4', // cloud top description
  // Class 22: sea
  '22 042 number 1 0 12', // sea/water temperature
  '22 043 number 2 0 15', // sea/water temperature
  '22 045 number 3 0 19', // sea/water temperature
  '22 049 number 2 0 15', // sea-surface temperature
  // Class 25: processing
  '25 061 text 0 0 96', // software identification and version number
  '25 065 number 2 -1000 11', // orientation correction (azimuth)
  '25 066 number 2 -1000 11', // orientation correction (elevation)
  '25 069 code 0 0 8', // flight level pressure corrections
  // Class 31: data description operator qualifiers
  '31 000 number 0 0 1', // short delayed descriptor replication factor
  '31 001 number 0 0 8', // delayed descriptor replication factor
  '31 002 number 0 0 16', // extended delayed descriptor replication factor
  '31 011 number 0 0 8', // delayed descriptor and data repetition factor
  '31 012 number 0 0 16', // extended delayed descriptor and data repetition factor
  '31 021 code 0 0 6', // associated field significance
  '31 031 code 0 0 1', // data present indicator
  // Class 33: quality
  '33 002 code 0 0 2', // quality information
  '33 003 code 0 0 3', // quality information
  '33 005 code 0 0 30', // quality information (aws data)
  '33 006 code 0 0 3', // internal measurement status information (aws)
  '33 007 number 0 0 7', // per cent confidence
  '33 015 code 0 0 6', // data quality-check indicator
  '33 020 code 0 0 3', // quality control indication of following value
  '33 021 code 0 0 2', // quality of following value
  '33 024 code 0 0 4', // station elevation quality mark (for mobile stations)
  '33 025 code 0 0 3', // acars interpolated values indicator
  '33 026 code 0 0 6', // moisture quality
  '33 027 code 0 0 3', // location quality class (range of radius of 66 % confidence)
  '33 035 code 0 0 4', // manual/automatic quality control
  '33 036 number 0 0 7', // nominal confidence threshold
  '33 040 number 0 0 7', // confidence interval
  '33 041 code 0 0 2', // attribute of following value
  // Class 35: data monitoring
  '35 035 code 0 0 5', // reason for termination
];

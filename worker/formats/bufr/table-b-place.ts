/**
 * FM 94 Table B, reduced to what upper-air messages say of the station, the instruments, time and place: classes 1 to 8.
 *
 * A row is X, Y, kind, scale, reference value, data width in bits; the name follows. The units of numbers are those of
 * the manual: SI, degrees of arc, kelvin.
 *
 * @source WMO-No. 306, Manual on Codes, volume I.2, Table B, version 39, as ecCodes 2.28 lists it. Looked through from
 *         version 7 on, the first of which no entry below differs; 0 04 024 and 0 33 024 were narrower before.
 */
export const PLACE_ELEMENTS: readonly string[] = [
  // Class 1: identification
  '01 001 number 0 0 7', // WMO block number
  '01 002 number 0 0 10', // WMO station number
  '01 003 code 0 0 3', // WMO region number/geographical area
  '01 004 number 0 0 3', // WMO region sub-area
  '01 005 number 0 0 17', // buoy/platform identifier
  '01 006 text 0 0 64', // aircraft flight number
  '01 010 text 0 0 64', // stationary buoy platform identifier; e.g. c-man buoys
  '01 011 text 0 0 72', // ship or mobile land station identifier
  '01 012 number 0 0 9', // direction of motion of moving observing platform
  '01 013 number 0 0 10', // speed of motion of moving observing platform
  '01 014 number 2 0 10', // platform drift speed (high precision)
  '01 015 text 0 0 160', // station or site name
  '01 018 text 0 0 40', // short station or site name
  '01 019 text 0 0 256', // long station or site name
  '01 031 code 0 0 16', // identification of originating/generating center
  '01 032 code 0 0 8', // generating application
  '01 033 code 0 0 8', // identification of originating/generating center
  '01 034 code 0 0 8', // identification of originating/generating sub-center
  '01 035 code 0 0 16', // originating center
  '01 036 code 0 0 20', // agency in charge of operating the observing platform
  '01 062 text 0 0 32', // short ICAO location indicator
  '01 063 text 0 0 64', // ICAO location indicator
  '01 081 text 0 0 160', // radiosonde serial number
  '01 082 number 0 0 14', // radiosonde ascension number
  '01 083 number 0 0 3', // radiosonde release number
  '01 085 text 0 0 160', // observing platform manufacturer's model
  '01 087 number 0 0 23', // WMO marine observing platform extended identifier
  '01 093 text 0 0 96', // balloon lot number
  '01 094 number 0 0 17', // WBAN number
  '01 095 text 0 0 32', // observer identification
  '01 096 text 0 0 160', // station acquisition
  '01 101 code 0 0 10', // state identifier
  '01 102 number 0 0 30', // national station number
  '01 125 number 0 0 4', // WIGOS identifier series
  '01 126 number 0 0 16', // WIGOS issuer of identifier
  '01 127 number 0 0 16', // WIGOS issue number
  '01 128 text 0 0 128', // WIGOS local identifier (character)
  // Class 2: instrumentation
  '02 001 code 0 0 2', // type of station
  '02 002 code 0 0 4', // type of instrumentation for wind measurement
  '02 003 code 0 0 4', // type of measuring equipment used
  '02 004 code 0 0 4', // type of instrumentation for evaporation measurement or type
  '02 005 number 2 0 7', // precision of temperature observation
  '02 011 code 0 0 8', // radiosonde type
  '02 012 code 0 0 4', // radiosonde computational method
  '02 013 code 0 0 4', // solar and infrared radiation correction
  '02 014 code 0 0 7', // tracking technique/status of system used
  '02 015 code 0 0 4', // radiosonde completeness
  '02 016 code 0 0 5', // radiosonde configuration
  '02 017 code 0 0 5', // correction algorithms for humidity measurements
  '02 066 code 0 0 6', // radiosonde ground receiving system
  '02 067 number -5 0 15', // radiosonde operating frequency
  '02 080 code 0 0 6', // balloon manufacturer
  '02 081 code 0 0 5', // type of balloon
  '02 082 number 3 0 12', // weight of balloon
  '02 083 code 0 0 4', // type of balloon shelter
  '02 084 code 0 0 4', // type of gas used in balloon
  '02 085 number 3 0 13', // amount of gas used in balloon
  '02 086 number 1 0 10', // balloon flight train length
  '02 095 code 0 0 5', // type of pressure sensor
  '02 096 code 0 0 5', // type of temperature sensor
  '02 097 code 0 0 5', // type of humidity sensor
  '02 103 code 0 0 2', // radome
  '02 115 code 0 0 5', // type of surface observing equipment
  '02 191 code 0 0 4', // geopotential height calculation
  // Class 4: time
  '04 001 number 0 0 12', // year
  '04 002 number 0 0 4', // month
  '04 003 number 0 0 6', // day
  '04 004 number 0 0 5', // hour
  '04 005 number 0 0 6', // minute
  '04 006 number 0 0 6', // second
  '04 007 number 6 0 26', // seconds within a minute (microsecond accuracy)
  '04 011 number 0 -1024 11', // time increment
  '04 012 number 0 -1024 11', // time increment
  '04 013 number 0 -1024 11', // time increment
  '04 014 number 0 -1024 11', // time increment
  '04 015 number 0 -2048 12', // time increment
  '04 016 number 0 -4096 13', // time increment
  '04 021 number 0 -1024 11', // time period or displacement
  '04 022 number 0 -1024 11', // time period or displacement
  '04 023 number 0 -1024 11', // time period or displacement
  '04 024 number 0 -2048 12', // time period or displacement
  '04 025 number 0 -2048 12', // time period or displacement
  '04 026 number 0 -4096 13', // time period or displacement
  '04 031 number 0 0 8', // duration of time relating to following value
  '04 032 number 0 0 6', // duration of time relating to following value
  '04 041 number 0 -1440 12', // time difference, UTC - LMT
  '04 043 number 0 0 9', // day of the year
  '04 059 code 0 0 6', // times of observation used to compute the reported mean values
  '04 065 number 0 -128 8', // short time increment
  '04 073 number 0 -128 8', // short time period or displacement
  '04 074 number 0 -128 8', // short time period or displacement
  '04 075 number 0 -128 8', // short time period or displacement
  '04 086 number 0 -8192 15', // long time period or displacement
  // Class 5: location, north-south
  '05 001 number 5 -9000000 25', // latitude (high accuracy)
  '05 002 number 2 -9000 15', // latitude (coarse accuracy)
  '05 011 number 5 -9000000 25', // latitude increment (high accuracy)
  '05 012 number 2 -9000 15', // latitude increment (coarse accuracy)
  '05 015 number 5 -9000000 25', // latitude displacement (high accuracy)
  '05 016 number 2 -9000 15', // latitude displacement (coarse accuracy)
  '05 021 number 2 0 16', // bearing or azimuth
  '05 022 number 2 0 16', // solar azimuth
  // Class 6: location, east-west
  '06 001 number 5 -18000000 26', // longitude (high accuracy)
  '06 002 number 2 -18000 16', // longitude (coarse accuracy)
  '06 011 number 5 -18000000 26', // longitude increment (high accuracy)
  '06 012 number 2 -18000 16', // longitude increment (coarse accuracy)
  '06 015 number 5 -18000000 26', // longitude displacement (high accuracy)
  '06 021 number -1 0 13', // distance
  // Class 7: location, vertical
  '07 001 number 0 -400 15', // height of station
  '07 002 number -1 -40 16', // height or altitude
  '07 003 number -1 -400 17', // geopotential
  '07 004 number -1 0 14', // pressure
  '07 005 number 0 -400 12', // height increment
  '07 006 number 0 0 15', // height above station
  '07 007 number 0 -1000 17', // height
  '07 008 number 0 -10000 20', // geopotential
  '07 009 number 0 -1000 17', // geopotential height
  '07 010 number 0 -1024 16', // flight level
  '07 021 number 2 -9000 15', // elevation
  '07 022 number 2 -9000 15', // solar elevation
  '07 025 number 2 -9000 15', // solar zenith angle
  '07 030 number 1 -4000 17', // height of station ground above mean sea level
  '07 031 number 1 -4000 17', // height of barometer above mean sea level
  '07 032 number 2 0 16', // height of sensor above local ground (or deck of marine
  '07 033 number 1 0 12', // height of sensor above water surface
  '07 064 number 0 0 4', // representative height of sensor above station
  // Class 8: significance
  '08 001 code 0 0 7', // vertical sounding significance
  '08 002 code 0 0 6', // vertical significance (surface observations)
  '08 004 code 0 0 3', // phase of aircraft flight
  '08 005 code 0 0 4', // meteorological attribute significance
  '08 007 code 0 0 4', // dimensional significance
  '08 008 code 0 0 9', // radiation vertical sounding significance
  '08 009 code 0 0 4', // detailed phase of flight
  '08 020 number 0 0 16', // total number of missing entities (with respect to
  '08 021 code 0 0 5', // time significance
  '08 022 number 0 0 16', // total number (with respect to accumulation or average)
  '08 023 code 0 0 6', // first-order statistics
  '08 024 code 0 0 6', // difference statistics
  '08 025 code 0 0 4', // time difference qualifier
  '08 026 code 0 0 6', // matrix significance
  '08 040 code 0 0 6', // flight level significance
  '08 041 code 0 0 5', // data significance
  '08 042 code 0 0 18', // extended vertical sounding significance
  '08 043 code 0 0 8', // atmospheric chemical or physical constituent type
  '08 050 code 0 0 4', // qualifier for number of missing values in calculation of
  '08 054 code 0 0 3', // qualifier for wind speed or wind gusts
  '08 060 code 0 0 4', // sample scanning mode significance
  '08 080 code 0 0 6', // qualifier for gtspp quality flag
  '08 082 code 0 0 3', // modification of sensor height to another value
  '08 083 code 0 0 15', // nominal value indicator
  '08 085 code 0 0 3', // beam identifier
  '08 086 code 0 0 12', // vertical significance for nwp
  '08 090 number 0 -127 8', // decimal scale of following significands
  '08 091 code 0 0 8', // coordinates significance
  '08 092 code 0 0 5', // measurement uncertainty expression
  '08 093 code 0 0 5', // measurement uncertainty significance
];

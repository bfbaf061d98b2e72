package water

import "math"

const (
	solarConstant   = 0.0820   // MJ/m2/min
	stefanBoltzmann = 4.903e-9 // MJ/K4/m2/day
	kelvin          = 273.16   // as FAO-56 prints it in the long-wave term
	albedo          = 0.23     // of the grass reference
	angstromA       = 0.25     // share of the sun's radiation on a day without sunshine
	angstromB       = 0.50     // and what full sunshine adds to it
	toMM            = 0.408    // mm of water that 1 MJ/m2 evaporates (equation 20)
)

// Sun is where the sun stands on a day at a latitude.
type Sun struct {
	Distance    float64 // inverse relative distance earth to sun (equation 23)
	Declination float64 // rad (equation 24)
	Sunset      float64 // hour angle of sunset, rad (equation 25)
	Ra          float64 // radiation at the top of the air, MJ/m2/day (equation 21)
	Daylight    float64 // hours (equation 34)
}

// SunOf is the sun of a day of the year (1 to 366) at a latitude in degrees,
// north positive. Within a polar circle Ra may be 0.
func SunOf(latitudeDeg float64, day int) Sun {
	year := 2 * math.Pi * float64(day) / 365
	latitude := latitudeDeg * math.Pi / 180
	s := Sun{Distance: 1 + 0.033*math.Cos(year), Declination: 0.409 * math.Sin(year-1.39)}
	s.Sunset = math.Acos(min(1, max(-1, -math.Tan(latitude)*math.Tan(s.Declination))))
	s.Ra = max(0, 24*60/math.Pi*solarConstant*s.Distance*
		(s.Sunset*math.Sin(latitude)*math.Sin(s.Declination)+math.Cos(latitude)*math.Cos(s.Declination)*math.Sin(s.Sunset)))
	s.Daylight = 24 / math.Pi * s.Sunset
	return s
}

// Solar is the sun's radiation on the ground in MJ/m2/day on a day with so
// many hours of bright sunshine (equation 35).
func (s Sun) Solar(sunHours float64) float64 {
	return (angstromA + angstromB*min(1, sunHours/s.Daylight)) * s.Ra
}

// SolarFromRange is the same where nobody counts the hours of sunshine, from
// the day's extremes of temperature in °C (equation 50): krs is 0.16 inland and
// 0.19 at a coast. It is never more than that of a clear sky.
func (s Sun) SolarFromRange(tmaxC, tminC, krs, altitudeM float64) float64 {
	return min(krs*math.Sqrt(tmaxC-tminC)*s.Ra, s.ClearSky(altitudeM))
}

// ClearSky is the radiation on the ground on a day without clouds, MJ/m2/day
// (equation 37).
func (s Sun) ClearSky(altitudeM float64) float64 { return (0.75 + 2e-5*altitudeM) * s.Ra }

// ShortWave is what the grass keeps of the sun's radiation, MJ/m2/day
// (equation 38).
func ShortWave(solar float64) float64 { return (1 - albedo) * solar }

// LongWave is what the ground radiates away in MJ/m2/day (equation 39), from the
// day's extremes in °C, the actual vapour pressure in kPa and the sun's
// radiation beside that of a clear sky.
func LongWave(tmaxC, tminC, vapourKPa, solar, clearSky float64) float64 {
	warm, cool := math.Pow(tmaxC+kelvin, 4), math.Pow(tminC+kelvin, 4)
	return stefanBoltzmann * (warm + cool) / 2 * (0.34 - 0.14*math.Sqrt(vapourKPa)) * (1.35*min(1, solar/clearSky) - 0.35)
}

// SoilHeat is what the ground takes up in a month in MJ/m2/day, from the mean
// temperatures in °C of the months before and after (equation 43).
func SoilHeat(beforeC, afterC float64) float64 { return 0.07 * (afterC - beforeC) }

// SoilHeatSoFar is the same where the next month is not known yet (equation 44).
func SoilHeatSoFar(beforeC, thisC float64) float64 { return 0.14 * (thisC - beforeC) }

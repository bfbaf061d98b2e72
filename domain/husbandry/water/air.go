// Package water owns how much water a unit asks for: the reference
// evapotranspiration of FAO Irrigation and Drainage Paper 56 (Allen, Pereira,
// Raes and Smith 1998), the crops that feed and shade the animals, and the
// animals themselves. Equation numbers are those of that paper.
package water

import "math"

// Pressure is the air pressure in kPa at an altitude in m (equation 7).
func Pressure(altitudeM float64) float64 {
	return 101.3 * math.Pow((293-0.0065*altitudeM)/293, 5.26)
}

// Psychrometric is the psychrometric constant in kPa/°C at an air pressure in
// kPa (equation 8).
func Psychrometric(pressureKPa float64) float64 { return 0.665e-3 * pressureKPa }

// Saturation is the saturation vapour pressure in kPa at an air temperature in
// °C (equation 11).
func Saturation(temperatureC float64) float64 {
	return 0.6108 * math.Exp(17.27*temperatureC/(temperatureC+237.3))
}

// MeanSaturation is the saturation vapour pressure in kPa of a day with these
// extremes in °C (equation 12): the mean of both, not that of the mean
// temperature, which would be too low.
func MeanSaturation(tmaxC, tminC float64) float64 { return (Saturation(tmaxC) + Saturation(tminC)) / 2 }

// Slope is that of the saturation curve in kPa/°C at an air temperature in °C
// (equation 13).
func Slope(temperatureC float64) float64 {
	return 4098 * Saturation(temperatureC) / ((temperatureC + 237.3) * (temperatureC + 237.3))
}

// VapourFromHumidity is the actual vapour pressure in kPa from the day's
// extremes of temperature in °C and relative humidity in % (equation 17).
func VapourFromHumidity(tmaxC, tminC, rhmax, rhmin float64) float64 {
	return (Saturation(tminC)*rhmax + Saturation(tmaxC)*rhmin) / 200
}

// VapourFromMostHumidity is the same from the highest humidity alone, where
// the lowest is not to be trusted (equation 18).
func VapourFromMostHumidity(tminC, rhmax float64) float64 { return Saturation(tminC) * rhmax / 100 }

// VapourFromMeanHumidity is the same from the day's mean humidity (equation 19).
func VapourFromMeanHumidity(tmaxC, tminC, rhmean float64) float64 {
	return MeanSaturation(tmaxC, tminC) * rhmean / 100
}

// VapourFromBulbs is the same from a psychrometer: dry and wet bulb in °C, its
// coefficient in 1/°C (0.000662 ventilated) and the air pressure in kPa
// (equation 15).
func VapourFromBulbs(dryC, wetC, coefficient, pressureKPa float64) float64 {
	return Saturation(wetC) - coefficient*pressureKPa*(dryC-wetC)
}

// WindAtTwo is the wind speed at 2 m from one measured at another height above
// short grass, in m (equation 47); heights below half a metre have none.
func WindAtTwo(speed, heightM float64) float64 { return speed * 4.87 / math.Log(67.8*heightM-5.42) }

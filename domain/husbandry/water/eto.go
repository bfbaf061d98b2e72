package water

import (
	"math"

	"tendfold/domain"
	"tendfold/domain/husbandry"
)

// What the inputs may be.
var (
	Latitude    = husbandry.Range{Low: -90, High: 90, Measure: "degrees"}
	Altitude    = husbandry.Range{Low: -430, High: 6000, Measure: "m"}
	Day         = husbandry.Range{Low: 1, High: 366, Measure: "(day of the year)"}
	Temperature = husbandry.Range{Low: -60, High: 60, Measure: "°C"}
	Humidity    = husbandry.Range{Low: 1, High: 100, Measure: "%"}
	Wind        = husbandry.Range{Low: 0, High: 60, Measure: "m/s"}
	WindHeight  = husbandry.Range{Low: 0.5, High: 200, Measure: "m"}
	SunHours    = husbandry.Range{Low: 0, High: 24, Measure: "h"}
)

// lightWind is the least wind at 2 m that the formula is good for: FAO-56,
// chapter 3 takes 0.5 m/s where it is calmer.
const lightWind = 0.5

// darkest is the radiation at the top of the air in MJ/m2/day below which
// there is no day to speak of.
const darkest = 0.1

// Weather is a day, or the mean day of a month, at a place.
type Weather struct {
	LatitudeDeg float64
	AltitudeM   float64
	DayOfYear   int
	TmaxC       float64
	TminC       float64
	TmeanC      *float64 // where it is known better than as the mid of both
	RHMax       float64  // %; the humidity is not read where VapourKPa is given
	RHMin       float64  // %
	VapourKPa   *float64 // actual vapour pressure
	Wind        float64  // m/s
	WindHeightM float64
	SunHours    float64
	SolarMJ     *float64 // sun's radiation on the ground; sun hours are not read where it is given
	SoilHeatMJ  float64  // what the ground takes up; 0 for a day, and here for a month too
}

// Reference is the reference evapotranspiration with what it was made of.
type Reference struct {
	ETo                 float64 // mm/day
	Sun                 Sun
	Slope               float64 // kPa/°C
	PressureKPa         float64
	Psychrometric       float64 // kPa/°C
	SaturationKPa       float64
	VapourKPa           float64
	WindAtTwo           float64 // m/s
	Solar, ClearSky     float64 // MJ/m2/day
	ShortWave, LongWave float64 // MJ/m2/day
	Net                 float64 // MJ/m2/day
}

func (w Weather) mean() float64 {
	if w.TmeanC != nil {
		return *w.TmeanC
	}
	return (w.TmaxC + w.TminC) / 2
}

// check refuses what temperatures and a place cannot be.
func (w Weather) check() []*domain.Field {
	wrong := []*domain.Field{
		Latitude.Within("latitude_deg", w.LatitudeDeg), Day.Within("day_of_year", float64(w.DayOfYear)),
		Temperature.Within("tmax_c", w.TmaxC), Temperature.Within("tmin_c", w.TminC), Temperature.Within("tmean_c", w.mean()),
	}
	if w.TminC > w.TmaxC {
		wrong = append(wrong, husbandry.Wrong("tmin_c", "is %v °C, above tmax_c of %v °C", w.TminC, w.TmaxC))
	}
	if SunOf(w.LatitudeDeg, w.DayOfYear).Ra < darkest {
		wrong = append(wrong, husbandry.Wrong("latitude_deg", "is %v degrees, where the sun does not rise on day %d", w.LatitudeDeg, w.DayOfYear))
	}
	return wrong
}

// checkAll refuses what air, wind and sun cannot be as well.
func (w Weather) checkAll() error {
	wrong := append(w.check(), Altitude.Within("altitude_m", w.AltitudeM), Wind.Within("wind_m_s", w.Wind), WindHeight.Within("wind_height_m", w.WindHeightM))
	if w.VapourKPa == nil {
		wrong = append(wrong, Humidity.Within("rhmax_pct", w.RHMax), Humidity.Within("rhmin_pct", w.RHMin))
		if w.RHMin > w.RHMax {
			wrong = append(wrong, husbandry.Wrong("rhmin_pct", "is %v %%, above rhmax_pct of %v %%", w.RHMin, w.RHMax))
		}
	} else {
		wrong = append(wrong, husbandry.Range{Low: 0, High: 20, Measure: "kPa"}.Within("ea_kpa", *w.VapourKPa))
	}
	if w.SolarMJ == nil {
		wrong = append(wrong, w.checkSun())
	} else {
		wrong = append(wrong, husbandry.Range{Low: 0, High: 50, Measure: "MJ/m2/day"}.Within("solar_mj_m2_day", *w.SolarMJ))
	}
	wrong = append(wrong, husbandry.Range{Low: -20, High: 20, Measure: "MJ/m2/day"}.Within("soil_heat_mj_m2_day", w.SoilHeatMJ))
	return husbandry.Refuse(wrong...)
}

// checkSun refuses more sunshine than a day has; a sunshine recorder may count
// a few minutes more than the formula of the day's length.
func (w Weather) checkSun() *domain.Field {
	const rounding = 0.5
	if f := SunHours.Within("sun_hours", w.SunHours); f != nil {
		return f
	}
	if most := SunOf(w.LatitudeDeg, w.DayOfYear).Daylight; w.SunHours > most+rounding {
		return husbandry.Wrong("sun_hours", "is %v h, and the day has only %.1f h", w.SunHours, most)
	}
	return nil
}

// PenmanMonteith is the reference evapotranspiration of grass with full data
// (equation 6), never below 0.
func PenmanMonteith(w Weather) (Reference, error) {
	if err := w.checkAll(); err != nil {
		return Reference{}, err
	}
	t := w.mean()
	r := Reference{
		Sun: SunOf(w.LatitudeDeg, w.DayOfYear), Slope: Slope(t), PressureKPa: Pressure(w.AltitudeM),
		SaturationKPa: MeanSaturation(w.TmaxC, w.TminC), WindAtTwo: WindAtTwo(w.Wind, w.WindHeightM),
	}
	r.Psychrometric = Psychrometric(r.PressureKPa)
	r.VapourKPa = w.vapour()
	r.radiate(w)
	wind := max(lightWind, r.WindAtTwo)
	r.ETo = max(0, (toMM*r.Slope*(r.Net-w.SoilHeatMJ)+r.Psychrometric*900/(t+273)*wind*(r.SaturationKPa-r.VapourKPa))/
		(r.Slope+r.Psychrometric*(1+0.34*wind)))
	return r, nil
}

func (w Weather) vapour() float64 {
	if w.VapourKPa != nil {
		return *w.VapourKPa
	}
	return VapourFromHumidity(w.TmaxC, w.TminC, w.RHMax, w.RHMin)
}

func (r *Reference) radiate(w Weather) {
	r.Solar, r.ClearSky = r.Sun.Solar(w.SunHours), r.Sun.ClearSky(w.AltitudeM)
	if w.SolarMJ != nil {
		r.Solar = *w.SolarMJ
	}
	r.ShortWave = ShortWave(r.Solar)
	r.LongWave = LongWave(w.TmaxC, w.TminC, r.VapourKPa, r.Solar, r.ClearSky)
	r.Net = r.ShortWave - r.LongWave
}

// Hargreaves is the reference evapotranspiration where only temperatures are
// known (equation 52), never below 0.
func Hargreaves(w Weather) (Reference, error) {
	if err := husbandry.Refuse(w.check()...); err != nil {
		return Reference{}, err
	}
	r := Reference{Sun: SunOf(w.LatitudeDeg, w.DayOfYear)}
	r.ETo = max(0, 0.0023*(w.mean()+17.8)*math.Sqrt(w.TmaxC-w.TminC)*r.Sun.Ra*toMM)
	return r, nil
}

// Estimated fills in what a station does not measure as chapter 3 of FAO-56
// does: the air as moist as at the dew point of the lowest temperature, the
// wind at 2 m/s, and the sun by the range of temperature, inland or at a coast.
func (w Weather) Estimated(coast bool) (Weather, error) {
	if err := husbandry.Refuse(append(w.check(), Altitude.Within("altitude_m", w.AltitudeM))...); err != nil {
		return Weather{}, err
	}
	krs := 0.16
	if coast {
		krs = 0.19
	}
	vapour := Saturation(w.TminC)
	solar := SunOf(w.LatitudeDeg, w.DayOfYear).SolarFromRange(w.TmaxC, w.TminC, krs, w.AltitudeM)
	w.VapourKPa, w.SolarMJ = &vapour, &solar
	w.Wind, w.WindHeightM = 2, 2
	return w, nil
}

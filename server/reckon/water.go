package reckon

import "tendfold/domain/husbandry/water"

// The two ways to the reference evapotranspiration.
const (
	penmanMonteith = "penman-monteith"
	hargreaves     = "hargreaves"
)

// reckonWater answers how much water a unit asks for.
func reckonWater(w work) {
	if g, ok := w.part("eto"); ok {
		waterETo(w, g)
		g.done()
	}
	if w.has("station") || w.has("crops") || w.has("animals") {
		waterPlan(w)
	}
}

// waterETo answers the reference evapotranspiration of one day.
func waterETo(w work, g group) {
	method := g.word("method", penmanMonteith, hargreaves)
	day := water.Weather{
		LatitudeDeg: g.number("latitude_deg", water.Latitude),
		DayOfYear:   g.whole("day_of_year", water.Day),
		TmaxC:       g.number("tmax_c", water.Temperature),
		TminC:       g.number("tmin_c", water.Temperature),
		TmeanC:      g.maybe("tmean_c", water.Temperature),
	}
	reckon, source := water.Hargreaves, hargreavesSource
	if method == penmanMonteith {
		reckon, source = water.PenmanMonteith, penmanMonteithSource
		day = withAir(w, g, day)
	} else {
		g.has("altitude_m") // what is measured and not needed does no harm
		for _, key := range airKeys {
			g.has(key)
		}
	}
	if !w.ok() {
		return
	}
	r, err := reckon(day)
	g.blame(err)
	w.put("eto_mm_day", r.ETo, "mm/day")
	w.put("ra_mj_m2_day", r.Sun.Ra, "MJ/m2/day")
	w.put("daylight_h", r.Sun.Daylight, "h")
	w.formula("eto_mm_day", source)
}

// airKeys are what only a full station measures.
var airKeys = []string{"rhmax_pct", "rhmin_pct", "wind_m_s", "wind_height_m", "sun_hours", "estimate_missing", "coast"}

// withAir reads humidity, wind and sun, or estimates all three where the sheet
// asks for it.
func withAir(w work, g group, day water.Weather) water.Weather {
	day.AltitudeM = g.number("altitude_m", water.Altitude)
	if g.flag("estimate_missing") {
		coast := g.flag("coast")
		if !w.ok() {
			return day
		}
		filled, err := day.Estimated(coast)
		g.blame(err)
		w.mind("air-estimated")
		w.formula("eto_mm_day", missingSource)
		return filled
	}
	day.RHMax, day.RHMin = g.number("rhmax_pct", water.Humidity), g.number("rhmin_pct", water.Humidity)
	day.Wind, day.WindHeightM = g.number("wind_m_s", water.Wind), g.number("wind_height_m", water.WindHeight)
	day.SunHours = g.number("sun_hours", water.SunHours)
	return day
}

package reckon

import (
	"slices"

	"tendfold/checklists"
	"tendfold/domain/husbandry/water"
)

// Bounds of a plot.
const mostBeds = 100

// waterPlan answers the litres a day of a unit by month of the year.
func waterPlan(w work) {
	p := w.pack("snail")
	normals, rain := station(w, w.need("station"))
	plot := plotOf(w, p, rain)
	animals := animalLitres(w, p)
	tank := w.maybe("tank_litres", water.Tank)
	if !w.ok() {
		return
	}
	eto, err := normals.ETo()
	w.blameAt("station", err)
	crops, err := plot.Litres(eto)
	w.blame(err)
	if !w.ok() {
		return
	}
	waterNeed(w, eto, crops, animals, tank)
}

// station reads the monthly normals of the nearest station; nothing stands in
// for a month that is missing. The rain is nil where it is not given.
func station(w work, g group) (water.Normals, *[water.Months]float64) {
	g.text("name")
	if source := g.text("source"); source != "" {
		w.source(Source{For: "station", Grade: asEntered, Citation: source})
	} else {
		w.mind("station-unsourced")
	}
	n := water.Normals{LatitudeDeg: g.number("latitude_deg", water.Latitude), AltitudeM: g.number("altitude_m", water.Altitude)}
	year := func(key string) (out [water.Months]float64) {
		copy(out[:], g.numbers(key, stationRanges[key], water.Months, water.Months))
		return out
	}
	n.TmaxC, n.TminC = year("tmax_c"), year("tmin_c")
	if slices.ContainsFunc(airKeys[:5], g.has) {
		n.Air = &water.Air{
			RHMax: year("rhmax_pct"), RHMin: year("rhmin_pct"), Wind: year("wind_m_s"), WindHeightM: g.number("wind_height_m", water.WindHeight),
			SunHours: year("sun_hours"),
		}
		w.formula("eto_mm_day", penmanMonteithSource)
	} else {
		w.formula("eto_mm_day", hargreavesSource)
	}
	var rain *[water.Months]float64
	if g.has("rain_mm") {
		mm := year("rain_mm")
		rain = &mm
	}
	g.done()
	return n, rain
}

var stationRanges = map[string]rangeOf{
	"tmax_c": water.Temperature, "tmin_c": water.Temperature, "rhmax_pct": water.Humidity, "rhmin_pct": water.Humidity,
	"wind_m_s": water.Wind, "sun_hours": water.SunHours, "rain_mm": water.Rain,
}

// plotOf reads the ground that is watered. Rain counts only when the sheet
// says which share of it reaches the roots.
func plotOf(w work, p *checklists.Pack, rain *[water.Months]float64) water.Plot {
	plot := water.Plot{Shade: w.numberOr("shade", water.Shade, 1), Efficiency: 1}
	if w.has("crops") || w.has("efficiency") { // nothing stands in for it: to take none lost would flatter
		plot.Efficiency = w.number("efficiency", water.Efficiency)
	}
	if share := w.maybe("rain_share", water.RainShare); share != nil {
		plot.RainShare, plot.RainMM = *share, rain
		if rain == nil {
			w.refuse("station.rain_mm", "missing", "is missing; give it in %s, or leave rain_share out", water.Rain.Measure)
		}
	}
	for _, g := range w.parts("crops", mostBeds) {
		plot.Beds = append(plot.Beds, water.Bed{AreaM2: g.number("area_m2", water.Area), Kc: coefficient(w, g, p)})
		g.done()
	}
	return plot
}

// coefficient is that of a crop of the pack at a stage, or one of the sheet's.
func coefficient(w work, g group, p *checklists.Pack) float64 {
	if g.has("kc") {
		g.has("crop")
		g.text("crop")
		return g.number("kc", water.Kc)
	}
	var keys []string
	for _, c := range p.Husbandry.Crops {
		keys = append(keys, c.Key)
	}
	key := g.word("crop", keys...)
	stage := g.wordOr("stage", "mid", "ini", "mid", "end")
	for _, c := range p.Husbandry.Crops {
		if c.Key != key {
			continue
		}
		w.basis("crops", c.Basis, p)
		kc := map[string]float64{"ini": c.Ini, "mid": c.Mid, "end": c.End}[stage]
		g.echo["kc"] = kc
		return kc
	}
	return 0
}

// animalLitres is the animals' own need: litres a day as entered, or by the
// ground that is misted.
func animalLitres(w work, p *checklists.Pack) (out [water.Months]float64) {
	g, ok := w.part("animals")
	if !ok {
		return out
	}
	var litres float64
	if g.has("litres_day") {
		litres = g.number("litres_day", water.OwnNeed)
	} else {
		litres = g.number("area_m2", water.Area) * w.span(g, "mist_l_m2", water.OwnNeed, p.Husbandry.MistLM2, p).Typical
	}
	g.done()
	for m := range out {
		out[m] = litres
	}
	return out
}

func waterNeed(w work, eto, crops, animals [water.Months]float64, tank *float64) {
	litres := 1.0
	if tank != nil {
		litres = *tank
	}
	n, err := water.NeedOf(crops, animals, litres)
	w.blame(err)
	months := make([]float64, water.Months)
	for m := range months {
		months[m] = float64(m + 1)
	}
	w.put("need_l_day", n.TotalL[n.Peak], "l/day")
	w.put("peak_month", float64(n.Peak+1), "month of the year")
	w.row("month_of_year", months)
	w.row("eto_mm_day", eto[:])
	w.row("crops_l_day", n.CropsL[:])
	w.row("animals_l_day", n.AnimalL[:])
	w.row("need_l_day", n.TotalL[:])
	if tank != nil {
		w.put("tank_days", n.TankDays[n.Peak], "days")
		w.row("tank_days", n.TankDays[:])
	}
	w.mind("normals-are-means")
}

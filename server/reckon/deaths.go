package reckon

import "tendfold/domain/husbandry/deaths"

// reckonDeaths answers how sure a rate of deaths is.
func reckonDeaths(w work) {
	if w.has("count") || w.has("exposure") {
		deathRate(w)
	}
}

func deathRate(w work) {
	count, exposure := w.whole("count", deaths.Deaths), w.number("exposure", deaths.Exposure)
	if !w.ok() {
		return
	}
	r, err := deaths.RateOf(count, exposure)
	w.blame(err)
	w.put("rate", r.Rate, "deaths per unit of exposure")
	w.put("rate_low", r.Low, "deaths per unit of exposure")
	w.put("rate_high", r.High, "deaths per unit of exposure")
	w.formula("rate_low", garwood)
}

package reckon

import (
	"tendfold/checklists"
	"tendfold/domain/husbandry/ammonia"
)

// reckonAmmonia answers how much of the ammonia in a tank harms fish.
func reckonAmmonia(w work) {
	if len(w.values) == 0 {
		return
	}
	got, err := ammonia.Of(ammonia.Water{
		TAN: w.number("tan_mg_l", ammonia.TAN), TemperatureC: w.number("temperature_c", ammonia.Temperature), PH: w.number("ph", ammonia.PH),
	})
	if !w.ok() {
		return
	}
	w.blame(err)
	w.put("fraction", got.Fraction, "share of total ammonia")
	w.put("nh3_n_mg_l", got.NH3N, "mg/l NH3-N")
	w.formula("fraction", emerson)
	ammoniaLimits(w, w.pack("catfish"), got.NH3N)
	w.mind("fresh-water-only")
}

// ammoniaLimits tells two lines apart: one for fish in general, which fry are
// held to, and one that was found with grown African catfish.
func ammoniaLimits(w work, p *checklists.Pack, nh3n float64) {
	for _, name := range []string{"general", "species", "severe"} {
		limit, known := p.Husbandry.Limit("ammonia-" + name)
		if !known || limit.High == nil {
			continue
		}
		w.put("limit_"+name+"_mg_l", *limit.High, "mg/l NH3-N")
		w.put("over_"+name, nh3n > *limit.High, "")
		w.basis("limit_"+name+"_mg_l", limit.Basis, p)
		if _, said := cautionWords["ammonia-over-"+name]; said && nh3n > *limit.High {
			w.mind("ammonia-over-"+name, *limit.High)
		}
	}
}

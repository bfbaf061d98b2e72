package reckon

import "tendfold/domain/husbandry/ammonia"

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
	w.mind("fresh-water-only")
}

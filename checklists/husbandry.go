package checklists

import "slices"

// Husbandry are the figures that the arithmetic of an enterprise takes where a
// sheet, a farm or the firm says nothing of its own; those of animals, their
// growth, losses and feed, are in Stock.
type Husbandry struct {
	Deaths   DeathFigures `json:"deaths"`
	Avoid    []Avoided    `json:"avoid,omitempty"` // feeds that harm
	Crops    []Crop       `json:"crops,omitempty"`
	MistLM2  Span         `json:"mist_l_m2"` // water that a unit's own animals are given, l a day a m2
	Systems  []System     `json:"systems,omitempty"`
	Limits   []WaterLimit `json:"limits,omitempty"`
	Gradings []Grading    `json:"gradings,omitempty"`
	Pump     PumpFigures  `json:"pump"`
}

// DeathFigures are what a deaths chart begins with.
type DeathFigures struct {
	Shape    Figure `json:"shape"`      // of the gamma prior of a rate: how many deaths' worth of knowing it is
	RunWeeks Figure `json:"run_weeks"`  // unit-weeks without a change until a chart calls falsely, on average
	SeeWeeks Figure `json:"see_weeks"`  // within which a doubling must show, else a unit is too small to chart
	AtOnce   Figure `json:"at_once"`    // deaths a week that are a signal by themselves; 0 = none
	AtOncePc Figure `json:"at_once_pc"` // deaths on a day, % of the stock, that are one
}

// Avoided is a feed that harms.
type Avoided struct {
	Key  string `json:"key"`
	Name Text   `json:"name"`
	Why  Text   `json:"why"`
	Basis
}

// Crop is a plant by its crop coefficients.
type Crop struct {
	Key  string  `json:"key"`
	Name Text    `json:"name"`
	Ini  float64 `json:"ini"`
	Mid  float64 `json:"mid"`
	End  float64 `json:"end"`
	Basis
}

// System is a way of keeping water; what one can hold says nothing of another.
type System struct {
	Key  string  `json:"key"`
	Name Text    `json:"name"`
	In   Measure `json:"in"`   // kg/m2 or kg/m3
	Most Figure  `json:"most"` // of animals, in that measure
	// Changes are the water to be changed at what the water holds.
	Changes []Change `json:"changes,omitempty"`
}

// Change is the share of the water in % a day that is changed from From on, in
// the measure of its system, up to the next.
type Change struct {
	From      float64 `json:"from"`
	PercentPD Figure  `json:"percent_day"`
}

// WaterLimit is what a measured value of the water should be. A nil end is
// open.
type WaterLimit struct {
	Key  string   `json:"key"`
	Name Text     `json:"name"`
	In   Measure  `json:"in"`
	Low  *float64 `json:"low,omitempty"`
	High *float64 `json:"high,omitempty"`
	Basis
}

// Grading is how often animals below a weight are sorted.
type Grading struct {
	BelowG float64 `json:"below_g"`
	Days   Figure  `json:"days"`
}

// PumpFigures are of small pumps and their pipes.
type PumpFigures struct {
	Efficiency Span   `json:"efficiency"` // from the plug to the water
	Fittings   Figure `json:"fittings"`   // share of the pipe's friction
	SuctionM   Figure `json:"suction_m"`  // that a pump above the water can draw
}

// Limit is the limit of a key, false where the pack has none.
func (h Husbandry) Limit(key string) (WaterLimit, bool) {
	i := slices.IndexFunc(h.Limits, func(l WaterLimit) bool { return l.Key == key })
	if i < 0 {
		return WaterLimit{}, false
	}
	return h.Limits[i], true
}

package water

import (
	"tendfold/domain"
	"tendfold/domain/husbandry"
)

// What the inputs may be.
var (
	Rain       = husbandry.Range{Low: 0, High: 3000, Measure: "mm a month"}
	Kc         = husbandry.Range{Low: 0.05, High: 1.6, Measure: "(crop coefficient)"}
	Area       = husbandry.Range{Low: 0.01, High: 1e6, Measure: "m2"}
	Shade      = husbandry.Range{Low: 0.05, High: 1, Measure: "(share of the evapotranspiration that is left under the shade)"}
	Efficiency = husbandry.Range{Low: 0.1, High: 1, Measure: "(share of the water that reaches the roots)"}
	RainShare  = husbandry.Range{Low: 0, High: 1, Measure: "(share of the rain that reaches the roots)"}
	OwnNeed    = husbandry.Range{Low: 0, High: 1e7, Measure: "l a day"}
	Tank       = husbandry.Range{Low: 1, High: 1e8, Measure: "l"}
)

// Months of the year, their days and the day of the year of their 15th.
const Months = 12

var (
	daysOf = [Months]float64{31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	midOf  = [Months]int{15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349}
)

// Normals are the mean days of the twelve months at a station.
type Normals struct {
	LatitudeDeg float64
	AltitudeM   float64
	TmaxC       [Months]float64
	TminC       [Months]float64
	// Air is what only a full station has; nil where it measures temperatures
	// and rain alone.
	Air *Air
}

// Air is humidity, wind and sun by month.
type Air struct {
	RHMax, RHMin [Months]float64 // %
	Wind         [Months]float64 // m/s
	WindHeightM  float64
	SunHours     [Months]float64
}

// ETo is the reference evapotranspiration in mm a day by month: Penman-Monteith
// where the station is full, Hargreaves where it is not.
func (n Normals) ETo() ([Months]float64, error) {
	var out [Months]float64
	for m := range Months {
		w := Weather{LatitudeDeg: n.LatitudeDeg, AltitudeM: n.AltitudeM, DayOfYear: midOf[m], TmaxC: n.TmaxC[m], TminC: n.TminC[m]}
		reckon := Hargreaves
		if a := n.Air; a != nil {
			w.RHMax, w.RHMin, w.Wind, w.WindHeightM, w.SunHours = a.RHMax[m], a.RHMin[m], a.Wind[m], a.WindHeightM, a.SunHours[m]
			reckon = PenmanMonteith
		}
		r, err := reckon(w)
		if err != nil {
			return out, inMonth(err, m)
		}
		out[m] = r.ETo
	}
	return out, nil
}

// inMonth says of a fault in which month it is.
func inMonth(err error, month int) error {
	var wrong []*domain.Field
	for _, f := range husbandry.Fields(err) {
		wrong = append(wrong, husbandry.Wrong(f.Path, "%s (month %d)", f.Text, month+1))
	}
	return husbandry.Refuse(wrong...)
}

// Bed is a piece of ground under one crop.
type Bed struct {
	AreaM2 float64
	Kc     float64 // crop coefficient of the stage that it is in
}

// Plot is the ground that a unit waters.
type Plot struct {
	Beds       []Bed
	Shade      float64          // share of the evapotranspiration left under trees or mesh; 1 = none
	Efficiency float64          // share of the water that reaches the roots: 0.9 drip, 0.6 can (trade practice)
	RainMM     *[Months]float64 // nil = under a roof, or not counted on
	RainShare  float64          // of that rain, what reaches the roots
}

func (p Plot) check() []*domain.Field {
	wrong := []*domain.Field{Shade.Within("shade", p.Shade), Efficiency.Within("efficiency", p.Efficiency), RainShare.Within("rain_share", p.RainShare)}
	for _, b := range p.Beds {
		wrong = append(wrong, Area.Within("area_m2", b.AreaM2), Kc.Within("kc", b.Kc))
	}
	if p.RainMM != nil {
		wrong = append(wrong, Rain.Each("rain_mm", p.RainMM[:]))
	}
	return wrong
}

// Litres is what the plot needs in l a day by month, from the reference
// evapotranspiration in mm a day; 1 mm on 1 m2 is 1 l. No month is below 0.
func (p Plot) Litres(eto [Months]float64) ([Months]float64, error) {
	var out [Months]float64
	if err := husbandry.Refuse(append(p.check(), husbandry.Range{Low: 0, High: 30, Measure: "mm/day"}.Each("eto_mm_day", eto[:]))...); err != nil {
		return out, err
	}
	for m := range Months {
		rain := 0.0
		if p.RainMM != nil {
			rain = p.RainShare * p.RainMM[m] / daysOf[m]
		}
		for _, b := range p.Beds {
			out[m] += max(0, eto[m]*b.Kc*p.Shade-rain) * b.AreaM2 / p.Efficiency
		}
	}
	return out, nil
}

// Need is what a unit needs a day.
type Need struct {
	CropsL  [Months]float64 // l a day
	AnimalL [Months]float64
	TotalL  [Months]float64
	// Peak is the month of the largest need, counted from 0.
	Peak int
	// TankDays are the days that a full tank lasts in each month when nothing
	// comes in; at most a year.
	TankDays [Months]float64
}

// NeedOf adds the animals' own need in l a day to that of the plot, and says
// how long a tank in l lasts.
func NeedOf(crops [Months]float64, animals [Months]float64, tank float64) (Need, error) {
	n := Need{CropsL: crops, AnimalL: animals}
	if err := husbandry.Refuse(OwnNeed.Each("crops_l_day", crops[:]), OwnNeed.Each("animals_l_day", animals[:]), Tank.Within("tank_litres", tank)); err != nil {
		return Need{}, err
	}
	for m := range Months {
		n.TotalL[m] = crops[m] + animals[m]
		if n.TotalL[m] > n.TotalL[n.Peak] {
			n.Peak = m
		}
	}
	for m, l := range n.TotalL {
		n.TankDays[m] = 365
		if l > 0 {
			n.TankDays[m] = min(365, tank/l)
		}
	}
	return n, nil
}

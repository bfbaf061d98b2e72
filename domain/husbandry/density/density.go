// Package density owns how full a house is: what stands on its floor today and
// at harvest, against what is published for animals of that size.
package density

import (
	"math"

	"tendfold/domain/husbandry"
)

// What the inputs may be.
var (
	Animals = husbandry.Range{Low: 0, High: 1e7, Measure: "animals"}
	Grams   = husbandry.Range{Low: 0.001, High: 100_000, Measure: "g"}
	Area    = husbandry.Range{Low: 0.01, High: 1e6, Measure: "m2"}
	Volume  = husbandry.Range{Low: 0.01, High: 1e6, Measure: "m3"}
)

// Load is what stands on a square metre, or in a cubic metre of water.
type Load struct {
	Animals float64
	Kg      float64
}

// LoadOf is the load of so many animals of a mean weight in g on an area in m2,
// or in a volume in m3.
func LoadOf(animals, meanG, room float64) (Load, error) {
	if err := husbandry.Refuse(Animals.Within("animals", animals), Grams.Within("mean_g", meanG), Area.Within("area_m2", room)); err != nil {
		return Load{}, err
	}
	return Load{animals / room, animals * meanG / 1000 / room}, nil
}

// Limit is the most that is published for animals of a size, on a square or in
// a cubic metre. 0 = nobody has published one.
type Limit struct {
	Animals float64
	Kg      float64
}

// Over says by which limits a load is too much.
type Over struct{ Animals, Kg bool }

// Any says whether it is too much at all.
func (o Over) Any() bool { return o.Animals || o.Kg }

// Beyond holds a load against a limit.
func (l Load) Beyond(most Limit) Over {
	return Over{most.Animals > 0 && l.Animals > most.Animals, most.Kg > 0 && l.Kg > most.Kg}
}

// Room is how many animals of a mean weight in g the limit allows on an area
// in m2, whole animals; false where there is no limit.
func (m Limit) Room(meanG, room float64) (float64, bool, error) {
	if err := husbandry.Refuse(Grams.Within("mean_g", meanG), Area.Within("area_m2", room)); err != nil {
		return 0, false, err
	}
	most := math.Inf(1)
	if m.Animals > 0 {
		most = m.Animals * room
	}
	if m.Kg > 0 {
		most = min(most, m.Kg*1000/meanG*room)
	}
	if math.IsInf(most, 1) {
		return 0, false, nil
	}
	const slip = 1e-9 // of the arithmetic: 10 a m2 on 0.3 m2 are 3
	return math.Floor(most + slip), true, nil
}

// Pens is how many pens of an area in m2 so many animals need, one at least;
// false where there is no limit or a pen does not hold a single animal.
func (m Limit) Pens(animals, meanG, penM2 float64) (float64, bool, error) {
	room, known, err := m.Room(meanG, penM2)
	if f := Animals.Within("animals", animals); f != nil {
		return 0, false, husbandry.Refuse(f)
	}
	if err != nil || !known || room == 0 {
		return 0, false, err
	}
	return max(1, math.Ceil(animals/room)), true, nil
}

// Exact measures: international yard and pound agreement of 1959.
const (
	kgPerPound = 0.45359237
	m2PerFt2   = 0.3048 * 0.3048
)

// PoundsPerFt2 turns lb/ft2 into kg/m2.
func PoundsPerFt2(v float64) float64 { return v * kgPerPound / m2PerFt2 }

// PerFt2 turns a number a square foot into one a square metre.
func PerFt2(v float64) float64 { return v / m2PerFt2 }

// Package ammonia owns how much of the ammonia in fresh water is the
// un-ionised form, the one that harms fish.
package ammonia

import (
	"math"

	"tendfold/domain"
	"tendfold/domain/husbandry"
)

// What the inputs may be. Emerson's formula is for fresh water of 0 to 50 °C.
var (
	Temperature = husbandry.Range{Low: 0, High: 50, Measure: "°C"}
	PH          = husbandry.Range{Low: 0, High: 14, Measure: "pH"}
	TAN         = husbandry.Range{Low: 0, High: 1000, Measure: "mg/l"}
)

// Fraction is the share (0 to 1) of total ammonia that is un-ionised, by water
// temperature in °C and pH: Emerson, Russo, Lund and Thurston (1975), J. Fish.
// Res. Board Can. 32:2379-2383. A help page in circulation prints the constant
// 2729.92 as 2727.92; the published table fits the former.
func Fraction(temperatureC, ph float64) (float64, error) {
	if err := husbandry.Refuse(Temperature.Within("temperature_c", temperatureC), PH.Within("ph", ph)); err != nil {
		return 0, err
	}
	pka := 0.09018 + 2729.92/(temperatureC+273.15)
	return 1 / (math.Pow(10, pka-ph) + 1), nil
}

// Water is one measurement of a tank.
type Water struct {
	TAN          float64 // total ammonia nitrogen, mg/l
	TemperatureC float64
	PH           float64
}

// Toxic is what Of says of it.
type Toxic struct {
	Fraction float64 // un-ionised share, 0 to 1
	NH3N     float64 // un-ionised ammonia as nitrogen, mg/l
}

// Of is how much of the measured ammonia is un-ionised.
func Of(w Water) (Toxic, error) {
	share, err := Fraction(w.TemperatureC, w.PH)
	if err := husbandry.Refuse(append([]*domain.Field{TAN.Within("tan_mg_l", w.TAN)}, husbandry.Fields(err)...)...); err != nil {
		return Toxic{}, err
	}
	return Toxic{share, w.TAN * share}, nil
}

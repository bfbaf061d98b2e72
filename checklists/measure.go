package checklists

import (
	"maps"
	"slices"
)

// Measure is what a measured value is counted in.
type Measure string

// The measures that items may ask for.
const (
	Metres       Measure = "m"
	Centimetres  Measure = "cm"
	Millimetres  Measure = "mm"
	SquareMetres Measure = "m2"
	Percent      Measure = "percent"
	PH           Measure = "ph"
	Celsius      Measure = "celsius"
	LitresMinute Measure = "l/min"
	Litres       Measure = "l"
	Grams        Measure = "g"
	Kilograms    Measure = "kg"
	Animals      Measure = "animals"
	Days         Measure = "days"
	Minutes      Measure = "min"
	Milliamperes Measure = "ma"
	Milliseconds Measure = "ms"
	MgLitre      Measure = "mg/l"
	KgPerM2      Measure = "kg/m2"
	KgPerM3      Measure = "kg/m3"
)

// possible is the range outside which a value cannot be: a slip of the
// finger, whatever the enterprise.
var possible = map[Measure][2]float64{
	Metres:       {0, 10_000},
	Centimetres:  {0, 100_000},
	Millimetres:  {0, 100_000},
	SquareMetres: {0, 1_000_000},
	Percent:      {0, 100},
	PH:           {0, 14},
	Celsius:      {-20, 70},
	LitresMinute: {0, 10_000},
	Litres:       {0, 10_000_000},
	Grams:        {0, 1_000_000},
	Kilograms:    {0, 1_000_000},
	Animals:      {0, 10_000_000},
	Days:         {0, 3_650},
	Minutes:      {0, 10_080},
	Milliamperes: {0, 10_000},
	Milliseconds: {0, 10_000},
	MgLitre:      {0, 1_000},
	KgPerM2:      {0, 1_000},
	KgPerM3:      {0, 1_000},
}

// Measures are all measures that an item may ask for.
func Measures() []Measure { return slices.Sorted(maps.Keys(possible)) }

// Possible is the range outside which a value of this measure is refused.
func (m Measure) Possible() (low, high float64) { return possible[m][0], possible[m][1] }

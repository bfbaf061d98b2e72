// Package growth owns what weights say: how sure a sample is, how fast animals
// grow, whether they have fallen behind, and when they reach the market.
package growth

import (
	"math"

	"tendfold/domain"
	"tendfold/domain/husbandry"

	"gonum.org/v1/gonum/stat/distuv"
)

// What the inputs may be.
var (
	Grams  = husbandry.Range{Low: 0.001, High: 100_000, Measure: "g"}
	Days   = husbandry.Range{Low: 0.01, High: 3650, Measure: "days"}
	Months = husbandry.Range{Low: 0, High: 240, Measure: "months"}
	Warmth = husbandry.Range{Low: 0.1, High: 45, Measure: "°C"}
)

// Sample is a sample of single weights in g with the interval of its mean.
type Sample struct {
	N    int
	Mean float64
	SD   float64 // of single animals
	Low  float64 // of the mean
	High float64
}

// SampleOf is the mean of weights in g and its two-sided t interval (Student
// 1908) that holds it so often (0.9: 90 times in 100). One weight has no
// interval, and none has no mean.
func SampleOf(weights []float64, confidence float64) (Sample, error) {
	if err := checkSample(weights, confidence); err != nil {
		return Sample{}, err
	}
	s := Sample{N: len(weights)}
	n := float64(s.N)
	for _, w := range weights {
		s.Mean += w / n
	}
	for _, w := range weights {
		s.SD += (w - s.Mean) * (w - s.Mean) / (n - 1)
	}
	s.SD = math.Sqrt(s.SD)
	half := distuv.StudentsT{Sigma: 1, Nu: n - 1}.Quantile((1+confidence)/2) * s.SD / math.Sqrt(n)
	s.Low, s.High = max(0, s.Mean-half), s.Mean+half
	return s, nil
}

func checkSample(weights []float64, confidence float64) error {
	wrong := []*domain.Field{Grams.Each("weights_g", weights), husbandry.Range{Low: 0.5, High: 0.999, Measure: "(share)"}.Within("confidence", confidence)}
	if len(weights) < 2 {
		wrong = append(wrong, husbandry.Wrong("weights_g", "has %d weights; two at least, in g, make an interval", len(weights)))
	}
	return husbandry.Refuse(wrong...)
}

// SGR is the specific growth rate in % a day between two mean weights in g:
// 100 (ln W2 - ln W1) / days.
func SGR(fromG, toG, days float64) (float64, error) {
	if err := husbandry.Refuse(Grams.Within("from_g", fromG), Grams.Within("to_g", toG), Days.Within("days", days)); err != nil {
		return 0, err
	}
	return 100 * (math.Log(toG) - math.Log(fromG)) / days, nil
}

// TGC is the thermal growth coefficient: 100 (W2^(1/3) - W1^(1/3)) by the
// degree-days, the mean water temperature in °C times the days.
func TGC(fromG, toG, days, temperatureC float64) (float64, error) {
	err := husbandry.Refuse(Grams.Within("from_g", fromG), Grams.Within("to_g", toG), Days.Within("days", days), Warmth.Within("temperature_c", temperatureC))
	if err != nil {
		return 0, err
	}
	return 100 * (math.Cbrt(toG) - math.Cbrt(fromG)) / (days * temperatureC), nil
}

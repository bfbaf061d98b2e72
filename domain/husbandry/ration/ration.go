// Package ration owns what animals eat: the day's ration, what feed turned
// into, the order for the weeks ahead, and what the water they live in asks for.
package ration

import (
	"math"

	"tendfold/domain"
	"tendfold/domain/husbandry"
)

// What the inputs may be.
var (
	Animals  = husbandry.Range{Low: 0, High: 1e7, Measure: "animals"}
	Grams    = husbandry.Range{Low: 0.001, High: 100_000, Measure: "g"}
	Share    = husbandry.Range{Low: 0, High: 1, Measure: "(share of the body weight a day)"}
	FCR      = husbandry.Range{Low: 0.1, High: 20, Measure: "kg of feed for a kg of growth"}
	Kilos    = husbandry.Range{Low: 0, High: 1e8, Measure: "kg"}
	Survival = husbandry.Range{Low: 0, High: 1, Measure: "(share that lives)"}
	Days     = husbandry.Range{Low: 1, High: 1000, Measure: "days"}
	Percent  = husbandry.Range{Low: 0, High: 100, Measure: "%"}
)

// Ration is the share of the body weight that an animal of a weight in g is
// fed in a day.
type Ration func(grams float64) float64

// Tank is animals of one weight.
type Tank struct {
	Animals float64
	MeanG   float64
}

func (t Tank) check() []*domain.Field {
	return []*domain.Field{Animals.Within("animals", t.Animals), Grams.Within("mean_g", t.MeanG)}
}

// Kg is their weight together.
func (t Tank) Kg() float64 { return t.Animals * t.MeanG / 1000 }

// Daily is the feed of a day in kg at a share of the body weight.
func (t Tank) Daily(share float64) (float64, error) {
	if err := husbandry.Refuse(append(t.check(), Share.Within("ration", share))...); err != nil {
		return 0, err
	}
	return t.Kg() * share, nil
}

// Conversion is kg of feed for each kg that the animals gained; the weight put
// in is no gain.
func Conversion(feedKg, stockedKg, harvestedKg float64) (float64, error) {
	wrong := []*domain.Field{Kilos.Within("feed_kg", feedKg), Kilos.Within("stocked_kg", stockedKg), Kilos.Within("harvested_kg", harvestedKg)}
	if harvestedKg <= stockedKg {
		wrong = append(wrong, husbandry.Wrong("harvested_kg", "is %v kg, no more than the %v kg that were stocked", harvestedKg, stockedKg))
	}
	if err := husbandry.Refuse(wrong...); err != nil {
		return 0, err
	}
	return feedKg / (harvestedKg - stockedKg), nil
}

// Week is the end of a week of the plan.
type Week struct {
	Animals float64
	MeanG   float64
	Kg      float64 // of animals
	FeedKg  float64 // eaten in the week
}

// Course is what a tank is held to grow by.
type Course struct {
	Ration Ration
	FCR    float64
	Weekly float64 // share that lives through a week
}

func (c Course) check() []*domain.Field {
	return []*domain.Field{FCR.Within("fcr", c.FCR), Survival.Within("survival_week", c.Weekly)}
}

// Ahead is the tank at the end of each of so many weeks, day by day: a day's
// gain is the ration by the feed conversion.
func (c Course) Ahead(t Tank, weeks int) ([]Week, error) {
	err := husbandry.Refuse(append(append(t.check(), c.check()...), husbandry.Range{Low: 1, High: 104, Measure: "weeks"}.Within("weeks", float64(weeks)))...)
	if err != nil {
		return nil, err
	}
	lives := math.Pow(c.Weekly, 1.0/7)
	var out []Week
	for range weeks {
		var w Week
		for range 7 {
			share := c.Ration(t.MeanG)
			w.FeedKg += t.Kg() * share
			t.MeanG = min(Grams.High, t.MeanG*(1+share/c.FCR))
			t.Animals *= lives
		}
		w.Animals, w.MeanG, w.Kg = t.Animals, t.MeanG, t.Kg()
		out = append(out, w)
	}
	return out, nil
}

// DaysTo is how many days an animal of a weight takes to another at the ration
// and the feed conversion; false where it takes more than mostDays.
func (c Course) DaysTo(fromG, toG float64) (int, bool, error) {
	if err := husbandry.Refuse(append(c.check(), Grams.Within("mean_g", fromG), Grams.Within("market_g", toG))...); err != nil {
		return 0, false, err
	}
	days := 0
	for w := fromG; w < toG; days++ {
		if days == mostDays {
			return 0, false, nil
		}
		w *= 1 + c.Ration(w)/c.FCR
	}
	return days, true, nil
}

// mostDays is past which a growth is none.
const mostDays = 3650

// Change is the share of the water in % a day that is to be changed from a
// density on.
type Change struct{ From, PercentDay float64 }

// WaterChange is the share in % a day at a density, in the measure of the
// changes; 0 below the first.
func WaterChange(density float64, changes []Change) float64 {
	var out float64
	for _, c := range changes {
		if density >= c.From {
			out = c.PercentDay
		}
	}
	return out
}

// Need is the feed of a week in kg.
type Need struct {
	Dry     float64
	Fresh   float64
	Calcium float64 // shell powder; part of no other
	Gap     float64 // fresh feed that the own crops do not give
}

// NeedOf is the feed of a week of animals that weigh so many kg together, by
// the shares of the body weight a day and the shell powder as a share of the
// dry feed; own is the fresh feed in kg a week that the unit's crops give.
func NeedOf(kg, dry, fresh, calcium, own float64) (Need, error) {
	err := husbandry.Refuse(Kilos.Within("biomass_kg", kg), Share.Within("dry_feed", dry), Share.Within("fresh_feed", fresh), Share.Within("calcium_of_dry_feed", calcium),
		Kilos.Within("own_kg_week", own))
	if err != nil {
		return Need{}, err
	}
	n := Need{Dry: 7 * kg * dry, Fresh: 7 * kg * fresh}
	n.Calcium, n.Gap = n.Dry*calcium, max(0, n.Fresh-own)
	return n, nil
}

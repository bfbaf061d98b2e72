// Package stock projects how many animals a unit holds, what they weigh and
// eat and how many will be for sale: cohorts of snails that lay, hatch, grow,
// die and crowd one another, and tanks of fish that only grow. Every answer
// is a middle with a band over many runs; what a farm has counted moves the
// runs that explain it. Pure: the day, the plan and the seed are arguments.
package stock

import (
	"fmt"
	"math"

	"tendfold/domain"
)

// DaysPerMonth is the mean month of the civil calendar: 365.25 / 12.
const DaysPerMonth = 30.4375

// Span is a value as three numbers: one run in twenty lies below Low, half
// below Likely, and one in twenty above High.
type Span struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

// GrowthPoint is the weight in grams at an age in months (of 30.4375 days).
type GrowthPoint struct {
	Months float64 `json:"months"`
	Grams  Span    `json:"grams"`
}

// Figures are what is held true of one species. Shares are parts of one;
// rates a month are the share of animals that it takes in 30.4375 days.
type Figures struct {
	Growth           []GrowthPoint // ages rising from 0; between them ln(weight) is straight
	EggsYear         Span          // eggs an adult lays in a year
	ClutchEggs       float64       // eggs in a clutch
	Season           [12]float64   // laying by month, January first; any scale, the mean is taken as 1
	IncubationDays   Span
	Hatch            Span    // share of eggs that hatch when there is room
	HatchlingLoss    Span    // deaths a month in the first month
	JuvenileLoss     Span    // deaths a month from then until they lay
	AdultLoss        Span    // deaths a month
	UnseenLoss       Span    // a month taken by thieves, predators and gaps: no body is found
	MaturityMonths   Span    // age at the first eggs
	JuvenileMonths   float64 // age at which a juvenile is called a grower
	CapacityKgM2     Span    // biomass a square metre at which crowding begins
	Theta            Span    // growth, laying and hatch fall with crowding x as x^-theta
	Phi              Span    // deaths rise with crowding x as x^phi
	WeightCV         float64 // spread of single animals of one age about their mean weight
	DryFeed          Span    // compound feed a day, share of body weight
	FreshFeed        Span    // leaves and fruit a day, share of body weight
	CalciumOfDryFeed Span    // shell powder, share of the dry feed
}

// hatchlingMonths is how long an animal counts as a hatchling.
const hatchlingMonths = 1

// Check says what cannot be; nil when every figure is usable.
func (f Figures) Check() error {
	var bad []domain.Field
	wrong := func(path, text string) {
		bad = append(bad, domain.Field{Path: path, Code: "out-of-range", Text: text})
	}
	f.checkGrowth(wrong)
	for _, r := range f.spans() {
		if !r.span.within(r.low, r.high) {
			wrong(r.name, fmt.Sprintf("low, likely and high must rise and lie from %g to %g", r.low, r.high))
		}
	}
	for _, r := range []struct {
		name         string
		v, low, high float64
	}{
		{"clutch_eggs", f.ClutchEggs, 1, 1000},
		{"juvenile_months", f.JuvenileMonths, hatchlingMonths, 60},
		{"weight_cv", f.WeightCV, 0, 1},
	} {
		if !(r.v >= r.low && r.v <= r.high) {
			wrong(r.name, fmt.Sprintf("must lie from %g to %g", r.low, r.high))
		}
	}
	var year float64
	for _, s := range f.Season {
		if !(s >= 0 && s <= 100) {
			wrong("season", "a month's rate must lie from 0 to 100")
			break
		}
		year += s
	}
	if !(year > 0) {
		wrong("season", "one month at least must have a rate above 0")
	}
	if bad != nil {
		return domain.Invalid("stock-figures", "These figures of a species cannot be used for a projection.", bad...)
	}
	return nil
}

type namedSpan struct {
	name      string
	span      Span
	low, high float64
}

func (f Figures) spans() []namedSpan {
	return []namedSpan{
		{"eggs_year", f.EggsYear, 0.01, 1e5},
		{"incubation_days", f.IncubationDays, 0.01, 45},
		{"hatch", f.Hatch, 0.001, 1},
		{"hatchling_loss", f.HatchlingLoss, 1e-6, 0.99},
		{"juvenile_loss", f.JuvenileLoss, 1e-6, 0.99},
		{"adult_loss", f.AdultLoss, 1e-6, 0.99},
		{"unseen_loss", f.UnseenLoss, 1e-6, 0.99},
		{"maturity_months", f.MaturityMonths, hatchlingMonths, 60},
		{"capacity_kg_m2", f.CapacityKgM2, 0.01, 100},
		{"theta", f.Theta, 0.01, 10},
		{"phi", f.Phi, 0.01, 10},
		{"dry_feed", f.DryFeed, 1e-5, 1},
		{"fresh_feed", f.FreshFeed, 1e-5, 1},
		{"calcium_of_dry_feed", f.CalciumOfDryFeed, 1e-5, 1},
	}
}

func (s Span) within(low, high float64) bool {
	return s.Low >= low && s.Low <= s.Likely && s.Likely <= s.High && s.High <= high
}

func (f Figures) checkGrowth(wrong func(path, text string)) {
	if len(f.Growth) < 2 || len(f.Growth) > 60 || f.Growth[0].Months != 0 {
		wrong("growth", "needs 2 to 60 points, the first at age 0")
		return
	}
	for i, g := range f.Growth {
		if !g.Grams.within(1e-4, 1e6) {
			wrong(fmt.Sprintf("growth.%d", i), "low, likely and high must rise and lie from 0.0001 to 1000000 g")
		}
		if i > 0 && !(g.Months > f.Growth[i-1].Months && g.Months <= 240) {
			wrong(fmt.Sprintf("growth.%d", i), "ages must rise and end by 240 months")
		}
	}
}

// at95 is the 95th percentile of the standard normal distribution.
const at95 = 1.6448536269514722

// drawn is the value of a span at a standard normal z, on the log scale with
// one spread below the likely value and another above it: -1.645 gives Low
// and +1.645 gives High.
func (s Span) drawn(z float64) float64 {
	to := s.High
	if z < 0 {
		to, z = s.Low, -z
	}
	return s.Likely * math.Exp(z/at95*math.Log(to/s.Likely))
}

// share is the same for a part of one, on the logit scale so that it stays one.
func (s Span) share(z float64) float64 {
	to := s.High
	if z < 0 {
		to, z = s.Low, -z
	}
	mid := logit(s.Likely)
	return 1 / (1 + math.Exp(-mid-z/at95*(logit(to)-mid)))
}

// nearlyOne keeps a share of one off the end of the logit scale, where no
// spread could bring it back.
const nearlyOne = 0.9995

func logit(p float64) float64 {
	p = min(p, nearlyOne)
	return math.Log(p / (1 - p))
}

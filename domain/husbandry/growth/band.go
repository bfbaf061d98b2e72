package growth

import (
	"math"

	"tendfold/domain"
	"tendfold/domain/husbandry"
)

// DaysPerMonth is the mean month of the civil calendar.
const DaysPerMonth = 30.4375

// Age is what a reference says animals weigh at an age: low, typical and high
// weight in g.
type Age struct {
	Months, Low, Typical, High float64
}

// Band is a reference by rising age; between ages the logarithm of the weight
// is straight.
type Band []Age

func (b Band) check() []*domain.Field {
	if len(b) < 2 {
		return []*domain.Field{husbandry.Wrong("band", "has %d ages; two at least make a curve", len(b))}
	}
	var wrong []*domain.Field
	for i, a := range b {
		wrong = append(wrong, Months.Within("band.months", a.Months), Grams.Within("band.low_g", a.Low), Grams.Within("band.typical_g", a.Typical), Grams.Within("band.high_g", a.High))
		if a.Low > a.Typical || a.Typical > a.High {
			wrong = append(wrong, husbandry.Wrong("band", "has low, typical and high in g that do not rise at %v months", a.Months))
		}
		if i > 0 && (a.Months <= b[i-1].Months || a.Low < b[i-1].Low || a.Typical < b[i-1].Typical || a.High < b[i-1].High) {
			wrong = append(wrong, husbandry.Wrong("band", "does not rise to %v months", a.Months))
		}
	}
	return wrong
}

// line is one of a band's three.
type line func(Age) float64

func low(a Age) float64     { return a.Low }
func typical(a Age) float64 { return a.Typical }
func high(a Age) float64    { return a.High }

// at is a line's weight at an age, level beyond its ends.
func (b Band) at(months float64, of line) float64 {
	for i, to := range b {
		if months > to.Months {
			continue
		}
		if i == 0 {
			return of(to)
		}
		from := b[i-1]
		share := (months - from.Months) / (to.Months - from.Months)
		return math.Exp(math.Log(of(from)) + share*(math.Log(of(to))-math.Log(of(from))))
	}
	return of(b[len(b)-1])
}

// when is the age at which a line first reaches a weight; false where it never
// does. A weight below the line's first is taken as of the first age.
func (b Band) when(grams float64, of line) (float64, bool) {
	if grams <= of(b[0]) {
		return b[0].Months, true
	}
	for i := 1; i < len(b); i++ {
		if of(b[i]) < grams {
			continue
		}
		from, to := math.Log(of(b[i-1])), math.Log(of(b[i]))
		return b[i-1].Months + (math.Log(grams)-from)/(to-from)*(b[i].Months-b[i-1].Months), true
	}
	return 0, false
}

// At is what the reference says at an age in months.
func (b Band) At(months float64) (Age, error) {
	if err := husbandry.Refuse(append(b.check(), Months.Within("age_months", months))...); err != nil {
		return Age{}, err
	}
	return Age{months, b.at(months, low), b.at(months, typical), b.at(months, high)}, nil
}

// Verdict is what a sample says beside the reference.
type Verdict string

// The verdicts.
const (
	Within    Verdict = "within-the-band"
	Above     Verdict = "above-the-band"
	Below     Verdict = "below-the-band"
	NotEnough Verdict = "not-enough-to-say"
)

// Judged is a verdict and, where there is not enough to say, what is lacking.
type Judged struct {
	Verdict Verdict
	Lacks   string // age, animals, choosing or spread
	Age     Age    // the reference at that age; zero without one
}

// FewestAnimals make a sample that speaks for a batch.
const FewestAnimals = 10

// Taken is how a sample came about.
type Taken struct {
	AgeMonths *float64 // nil where ages are mixed or not known
	Chosen    bool     // picked: the finest, or the nearest to the door
}

// Judge holds a sample of at least ten animals of one known age, taken without
// choosing, against the reference. It is below when the upper end of the 90 %
// interval of its mean is below the low line: then chance does not explain it.
// A house of mixed ages, or a picked sample, says nothing.
func (b Band) Judge(weights []float64, taken Taken) (Judged, error) {
	if err := husbandry.Refuse(b.check()...); err != nil {
		return Judged{}, err
	}
	if len(weights) < FewestAnimals {
		if f := Grams.Each("weights_g", weights); f != nil {
			return Judged{}, husbandry.Refuse(f)
		}
		return Judged{Verdict: NotEnough, Lacks: "animals"}, nil
	}
	s, err := SampleOf(weights, 0.90)
	switch {
	case err != nil:
		return Judged{}, err
	case taken.AgeMonths == nil:
		return Judged{Verdict: NotEnough, Lacks: "age"}, nil
	case taken.Chosen:
		return Judged{Verdict: NotEnough, Lacks: "choosing"}, nil
	}
	at, err := b.At(*taken.AgeMonths)
	if err != nil {
		return Judged{}, err
	}
	v := Within
	switch {
	case s.High < at.Low:
		v = Below
	case s.Low > at.High:
		v = Above
	}
	return Judged{Verdict: v, Age: at}, nil
}

// ToMarket is when animals of a weight reach the weight of sale, in days from
// now.
type ToMarket struct {
	Early, Likely float64
	// Late is 0 and Never is true where animals that grow as the low line does
	// never reach it.
	Late  float64
	Never bool
	// LikelyNever is true where not even typical ones do; then Likely is 0.
	LikelyNever bool
}

// ToMarket says how long animals of a mean weight in g, which lies between two
// others, take to the market weight if they grow on as fast, typical and slow
// ones of the reference do.
func (b Band) ToMarket(lowG, meanG, highG, marketG float64) (ToMarket, error) {
	wrong := append(b.check(), Grams.Within("mean_g", meanG), Grams.Within("market_g", marketG), Grams.Within("mean_low_g", lowG), Grams.Within("mean_high_g", highG))
	if lowG > meanG || meanG > highG {
		wrong = append(wrong, husbandry.Wrong("mean_g", "is %v g, outside its own interval", meanG))
	}
	if err := husbandry.Refuse(wrong...); err != nil {
		return ToMarket{}, err
	}
	early, reached := b.days(highG, marketG, high)
	if !reached {
		return ToMarket{}, husbandry.Refuse(husbandry.Wrong("market_g", "is %v g, which nothing in the reference reaches", marketG))
	}
	m := ToMarket{Early: early}
	likely, reached := b.days(meanG, marketG, typical)
	m.LikelyNever = !reached
	m.Likely = max(likely, early)
	if !reached {
		m.Likely = 0
	}
	late, reached := b.days(lowG, marketG, low)
	m.Never = !reached
	if reached {
		m.Late = max(late, m.Likely)
	}
	return m, nil
}

// days along a line from one weight to another; false where it ends before.
func (b Band) days(fromG, toG float64, of line) (float64, bool) {
	if fromG >= toG {
		return 0, true
	}
	to, reached := b.when(toG, of)
	if !reached {
		return 0, false
	}
	from, _ := b.when(fromG, of)
	return max(0, to-from) * DaysPerMonth, true
}

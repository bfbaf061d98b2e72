package truth

// The steps that a farm really goes through. A step's name is ours: whoever
// compares with a pack keeps the table of names.
const (
	Built       = "built"
	WaterDone   = "water"
	Planted     = "planted"
	CoverReady  = "cover"
	Trained     = "trained"
	Ordered     = "ordered"
	Ready       = "ready"
	Stocked     = "stocked"
	EarlyCheck  = "early-check"
	Clutch      = "clutch"
	Hatch       = "hatch"
	YoungSorted = "young-sorted"
	HalfYear    = "half-year"
	Harvest     = "harvest"

	Filled    = "filled"
	Tested    = "tested"
	Grading   = "grading"
	Grading2  = "grading-2"
	MidSample = "mid-sample"
)

// Nature says what makes a step end.
type Nature int

// The natures.
const (
	Doing   Nature = iota // people do it: it stands still while nobody is there
	Fixed                 // a date in the diary, kept more or less; worlds do not change it
	Covers                // plants grow to the level of a stocked house, at the season's rate
	Waits                 // animals take their time, at the season's rate, and nothing can be read
	Fattens               // animals grow to market weight, at the season's rate
	Passes                // the same growth, worked out before, passes a lower weight on its way
)

// Step is one step's law: its duration from the last of the steps before it
// is log-normal.
type Step struct {
	Name   string
	After  []int   // places of the steps before it
	Nature Nature  //
	Median float64 // days at an average season, in the fair world
	Sigma  float64 // standard deviation of the logarithm
	Closed bool    // must not fall in the closed months
	Sale   float64 // median days to a first sale once grown, part of the step
}

// Plan is the network of one enterprise and purpose, in an order in which
// every step follows those before it.
type Plan struct {
	Enterprise string
	Purpose    string
	Steps      []Step
	Season     Season
	Herd       Herd
	places     map[string]int
}

// At is the place of a step in Steps, -1 when the plan has none of that name.
func (p *Plan) At(name string) int {
	if i, ok := p.places[name]; ok {
		return i
	}
	return -1
}

// named builds a plan from steps that name their predecessors.
func named(enterprise, purpose string, season Season, herd Herd, steps []namedStep) *Plan {
	p := &Plan{Enterprise: enterprise, Purpose: purpose, Season: season, Herd: herd, places: map[string]int{}}
	for i, s := range steps {
		for _, before := range s.after {
			s.Step.After = append(s.Step.After, p.places[before])
		}
		p.Steps = append(p.Steps, s.Step)
		p.places[s.Name] = i
	}
	return p
}

type namedStep struct {
	Step
	after []string
}

func step(name string, n Nature, median, sigma float64, after ...string) namedStep {
	return namedStep{Step{Name: name, Nature: n, Median: median, Sigma: sigma}, after}
}

func (s namedStep) closed() namedStep { s.Closed = true; return s }

func (s namedStep) sale(days float64) namedStep { s.Sale = days; return s }

// SnailGrowOut is a snail house whose stocked animals, four months old and of
// 35 g, are grown to market: hatch to table takes 18 months (12 to 24; snail
// reference section 8), less those four. Spreads are guesses.
func SnailGrowOut() *Plan {
	return named("snail", "grow-out", southWest, growers, append(snailHouse(),
		step(HalfYear, Fixed, 183, .03, Stocked),
		step(Harvest, Fattens, 438, .16, Stocked).sale(1.5),
	))
}

// SnailBreeding is a snail house that sells its home-bred animals: adults lay
// some weeks after stocking (1 to 12; section 8), eggs hatch after 29 days
// (Archachatina marginata, Okon and others 2013), the young go to pens of
// their own at 35 g and reach the table at about 18 months.
func SnailBreeding() *Plan {
	return named("snail", "breeding", southWest, breeders, append(snailHouse(),
		step(Clutch, Waits, 38, .45, Stocked),
		step(Hatch, Waits, 29.5, .12, Clutch),
		step(HalfYear, Fixed, 183, .03, Stocked),
		step(Harvest, Fattens, 570, .15, Hatch).sale(1.5),
		step(YoungSorted, Passes, 130, 0, Hatch),
	))
}

// snailHouse is what both purposes have in common, up to the first weeks
// after stocking. Planting to stocking is 4 to 8 weeks by common practice,
// without a source.
func snailHouse() []namedStep {
	return []namedStep{
		step(Built, Doing, 0, 0),
		step(WaterDone, Doing, 4, .55, Built),
		step(Planted, Doing, 6, .45, WaterDone),
		step(CoverReady, Covers, 40, .14, Planted),
		step(Trained, Doing, 21, .30, Planted),
		step(Ordered, Doing, 21, .30, Planted),
		step(Ready, Doing, 1.2, .50, CoverReady, Trained, Ordered),
		step(Stocked, Doing, 1.7, .60, Ready).closed(),
		step(EarlyCheck, Fixed, 15, .15, Stocked),
	}
}

// CatfishGrowOut is a catfish tank. New concrete is filled and flushed for
// about three weeks; fish of 8 to 10 g are sold from a mean of about 600 g
// after six months (catfish reference sections 3, 4b and 9). Spreads are
// guesses.
func CatfishGrowOut() *Plan {
	return named("catfish", "grow-out", warmWater, fish, []namedStep{
		step(Built, Doing, 0, 0),
		step(Filled, Doing, 21, .17, Built),
		step(Tested, Doing, 3, .50, Filled),
		step(Trained, Doing, 18.5, .27, Built),
		step(Ready, Doing, 1.6, .50, Tested, Trained),
		step(Stocked, Doing, 4.2, .45, Ready),
		step(Grading, Fixed, 15, .12, Stocked),
		step(Grading2, Fixed, 15, .12, Grading),
		step(MidSample, Fixed, 91, .06, Stocked),
		step(Harvest, Fattens, 184, .15, Stocked).sale(1.5),
	})
}

// Plans are all plans that the truth knows.
func Plans() []*Plan { return []*Plan{SnailGrowOut(), SnailBreeding(), CatfishGrowOut()} }

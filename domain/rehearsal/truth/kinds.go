package truth

import "slices"

// Kind of fault.
type Kind string

// The kinds of fault that the truth can inject.
const (
	LatePlanting   Kind = "late-planting"
	SlowCover      Kind = "slow-cover"
	GoAheadSkipped Kind = "go-ahead-skipped"
	LateTraining   Kind = "late-training"
	SlowGrowth     Kind = "slow-growth"
	PoorFeed       Kind = "poor-feed"
	SilentFarm     Kind = "silent-farm"
	MissedSeason   Kind = "missed-season"

	PumpFailure  Kind = "pump-failure"
	DieOff       Kind = "die-off"
	Overcrowding Kind = "overcrowding"
)

// DefaultKinds are the faults for which a rule exists today, the ones that
// are injected when nobody says otherwise. Pump failure, die-off and
// overcrowding wait for the husbandry rules deaths-high, over-density and
// water-short.
func DefaultKinds() []Kind {
	return []Kind{LatePlanting, SlowCover, GoAheadSkipped, LateTraining, SlowGrowth, PoorFeed, SilentFarm, MissedSeason}
}

// Kinds are all faults that can be asked for by name.
func Kinds() []Kind { return append(DefaultKinds(), PumpFailure, DieOff, Overcrowding) }

// Known says whether k is a kind of fault.
func (k Kind) Known() bool { return slices.Contains(Kinds(), k) }

// Schedule says whether the fault delays a step on the way to stocking, the
// faults on which a plain date check is compared.
func (k Kind) Schedule() bool {
	return slices.Contains([]Kind{LatePlanting, SlowCover, LateTraining, MissedSeason}, k)
}

// weight of a kind in the draw: how often it strikes beside the others
// (guess; silence and lateness are what an advisor's day is full of).
func (k Kind) weight() float64 {
	switch k {
	case GoAheadSkipped, MissedSeason:
		return 0.6
	case PoorFeed:
		return 0.8
	default:
		return 1
	}
}

// Step is the step on which the kind sits, "" when on none.
func (k Kind) Step() string {
	switch k {
	case LatePlanting:
		return Planted
	case SlowCover:
		return CoverReady
	case LateTraining:
		return Trained
	case MissedSeason:
		return Ordered
	case GoAheadSkipped:
		return Ready
	default:
		return ""
	}
}

// Fault is one thing that goes wrong. What Days, From and Factor mean depends
// on the kind:
//
//	late planting, late training, missed season: the step takes Days longer
//	slow cover: the plants grow at Factor of their rate
//	go-ahead skipped: animals arrive Days before the house is ready, and die
//	  at Factor times the hazard for skipSpan days
//	slow growth: the animals grow at Factor of their rate, always
//	poor feed: the same from day From of their growth for Days
//	silent farm: nobody writes or works from day From for Days
//	pump failure: from day From after stocking deaths are Factor times for Days
//	die-off: Factor of the stock dies on day From after stocking
//	overcrowding: Factor times the animals are stocked
type Fault struct {
	Kind   Kind
	From   int
	Days   int
	Factor float64
}

// Side effects of faults (guesses).
const (
	skipSpan      = 60   // days for which animals suffer from a house that was not ready
	skipGrowth    = 0.85 // and their growth meanwhile
	silentGrowth  = 0.60 // growth of animals that nobody feeds properly
	silentHazard  = 2.5  // and by how much more of them die
	crowdedGrowth = 0.70
	crowdedHazard = 2.0
	pumpSpanLimit = 6 // days after which somebody has carried water
)

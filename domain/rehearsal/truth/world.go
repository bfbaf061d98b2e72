package truth

// World says how the truth lies to what the packs promise.
type World string

// The worlds.
const (
	Fair        World = "fair"        // on average what the packs say
	Optimistic  World = "optimistic"  // the packs are too hopeful: durations and losses 30 % worse
	Pessimistic World = "pessimistic" // the packs are too gloomy: 30 % better
)

// Worlds are all of them.
func Worlds() []World { return []World{Fair, Optimistic, Pessimistic} }

// factor by which true durations and hazards differ from the fair world's.
func (w World) factor() float64 {
	switch w {
	case Optimistic:
		return 1.3
	case Pessimistic:
		return 0.7
	default:
		return 1
	}
}

// Median is a step's true median in this world, in days.
func (s *Step) median(w World) float64 {
	if s.Nature == Fixed {
		return s.Median
	}
	return s.Median * w.factor()
}

func (s *Step) sale(w World) float64 { return s.Sale * w.factor() }

package rehearsal

import (
	"fmt"
	"math"

	"tendfold/domain"
	"tendfold/domain/programme"
	"tendfold/domain/rehearsal/truth"
	"tendfold/domain/sweep"
)

// milestones are the packs' words for the truth's steps, by enterprise. The
// two were named apart, so that neither had to look at the other.
var milestones = map[string]map[string]string{
	"snail": {
		truth.Built: "build-finished", truth.WaterDone: "water-proved", truth.Planted: "planted",
		truth.CoverReady: "cover-ready", truth.Trained: "caretaker-trained", truth.Ordered: "stock-ordered",
		truth.Ready: "ready-to-stock", truth.Stocked: "stocked", truth.EarlyCheck: "two-week-check",
		truth.Clutch: "first-clutch", truth.Hatch: "first-hatch", truth.YoungSorted: "young-sorted",
		truth.HalfYear: "half-year-count", truth.Harvest: "first-harvest",
	},
	"catfish": {
		truth.Built: "tank-finished", truth.Filled: "filled-and-flushed", truth.Tested: "water-tested",
		truth.Trained: "caretaker-trained", truth.Ready: "ready-to-stock", truth.Stocked: "stocked",
		truth.Grading: "first-grading", truth.Grading2: "second-grading", truth.MidSample: "mid-cycle-sample",
		truth.Harvest: "first-partial-harvest",
	},
}

// Way is a kind of cycle.
type Way struct{ Enterprise, Purpose string }

// script is a plan beside the truth's: which milestone is which step.
type script struct {
	*sweep.Plan
	truth     *truth.Plan
	milestone map[string]string // by step
	step      map[string]string // by milestone
	promised  truth.Medians     // the pack's, by the step's place
}

// newScript lays a pack's plan beside the truth's. A step that the pack does
// not have cannot be rehearsed.
func newScript(p *sweep.Plan, t *truth.Plan) (*script, error) {
	s := &script{Plan: p, truth: t, milestone: map[string]string{}, step: map[string]string{}}
	for _, st := range t.Steps {
		key := milestones[t.Enterprise][st.Name]
		if _, ok := p.Network.Milestone(key); !ok {
			return nil, domain.Invalid("rehearsal-milestone",
				fmt.Sprintf("The rehearsal of %s (%s) needs a milestone %q for the step %q. Name it in the pack or in the rehearsal's table.",
					t.Enterprise, t.Purpose, key, st.Name))
		}
		s.milestone[st.Name], s.step[key] = key, st.Name
	}
	for i := range t.Steps {
		s.promised = append(s.promised, s.promise(i))
	}
	return s, nil
}

// promise is the pack's median of a step: that of its milestone, and of those
// on its way that the truth counts as one.
func (s *script) promise(i int) float64 {
	st := &s.truth.Steps[i]
	if st.Name == truth.Built {
		return 0
	}
	m, _ := s.Network.Milestone(s.milestone[st.Name])
	days := median(m.Days, s.Programme.Pi)
	if young, ok := s.milestone[truth.YoungSorted]; ok && st.Name == truth.Harvest {
		y, _ := s.Network.Milestone(young)
		days += median(y.Days, s.Programme.Pi)
	}
	return days
}

// median is the middle of a pack's law: triangular with an exponential tail
// of probability pi beyond the longest (design page of the programme).
func median(d programme.Days, pi float64) float64 {
	width, p := d.Max-d.Min, (0.5-pi)/(1-pi)
	if width == 0 {
		return d.Min
	}
	if p*width <= d.Max-d.Likely {
		return d.Max - math.Sqrt(p*width*(d.Max-d.Likely))
	}
	return d.Min + math.Sqrt((1-p)*width*(d.Likely-d.Min))
}

// follows says whether a milestone is the step or waits for it.
func (s *script) follows(milestone, step string) bool {
	name, ok := s.step[milestone]
	return ok && s.after(s.truth.At(name), s.truth.At(step))
}

func (s *script) after(i, step int) bool {
	if i == step {
		return true
	}
	for _, p := range s.truth.Steps[i].After {
		if s.after(p, step) {
			return true
		}
	}
	return false
}

// FromHandover is a plan whose cycles begin with the finished house or tank:
// the milestones before the pack's start that the firm itself still has to
// do are then watched too. Packs count from the day that registers know; a
// firm that hands a house over knows the earlier one, and only so does a late
// planting show.
func FromHandover(p *sweep.Plan, w Way, season programme.Season) (*sweep.Plan, error) {
	out := *p
	out.Programme.Start = milestones[w.Enterprise][truth.Built]
	n, err := programme.Compile(out.Programme, programme.Purpose(w.Purpose), season)
	if err != nil {
		return nil, err
	}
	out.Network = n
	return &out, nil
}

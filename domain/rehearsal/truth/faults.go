package truth

import "slices"

// margin is how many days before the season closes the stocking of a farm
// without faults must fall for it to be one that misses the season.
const (
	marginLow  = 4
	marginHigh = 45
	tailDays   = 60 // no fault begins in the last days of a rehearsal: nobody could see it
)

// Inject draws what goes wrong on a farm that is watched for so many days;
// nothing on faultless farms. Kinds that cannot strike here are left out.
func (f *Farm) Inject(kinds []Kind, days int) []Fault {
	if !f.faultier || len(kinds) == 0 {
		return nil
	}
	luck, twin := f.luck.Sub("faults"), f.Run(nil)
	count := 1
	if luck.U(0) < .2 {
		count = 2
	}
	var out []Fault
	for n := range count {
		can, weights := f.candidates(kinds, out, twin, days)
		if len(can) == 0 {
			break
		}
		k := can[choose(luck.U(1+n), weights)]
		out = append(out, f.strike(k, luck.Sub(string(k)), twin, days))
	}
	return out
}

// candidates are the kinds that can strike the farm beside those that already
// have, with their weights. A farm that stocks shortly before the season
// closes is rare, so there the missed season is drawn more often.
func (f *Farm) candidates(kinds []Kind, have []Fault, twin *Course, days int) (can []Kind, weights []float64) {
	for _, k := range kinds {
		if slices.ContainsFunc(have, func(x Fault) bool { return x.Kind == k || clash(x.Kind, k) }) || !f.may(k, twin, days) {
			continue
		}
		w := k.weight()
		if k == MissedSeason {
			w *= 12
		}
		can, weights = append(can, k), append(weights, w)
	}
	return can, weights
}

// clash says whether two kinds would hide each other: whoever stocks without
// the go-ahead does not wait for what is late.
func clash(a, b Kind) bool {
	early := func(k Kind) bool { return k.Schedule() }
	return (a == GoAheadSkipped && early(b)) || (b == GoAheadSkipped && early(a))
}

// may says whether the kind can strike this farm and be seen in time.
func (f *Farm) may(k Kind, twin *Course, days int) bool {
	if s := k.Step(); s != "" && f.Plan.At(s) < 0 {
		return false
	}
	last := days - tailDays
	switch k {
	case MissedSeason:
		close, ok := f.Plan.Season.closes(f.Start, float64(twin.stocked()))
		margin := int(close) - twin.stocked()
		return ok && margin >= marginLow && margin <= marginHigh && twin.stocked() < last
	case SlowGrowth, PoorFeed, PumpFailure, DieOff, Overcrowding:
		return twin.growFrom+tailDays < last
	default:
		return true
	}
}

// How bad faults are: the reader knows these laws too.
const (
	delayMedian, delaySigma = 20, .6   // days by which work is late
	coverLow, coverHigh     = .42, .88 // of the plants' rate
	growthLow, growthHigh   = .60, .96 // of the animals' rate, always
	feedLow, feedHigh       = .25, .60 // of the animals' rate, for a while
	feedShort, feedLong     = 35, 100  // days
)

// strike draws how bad it is (guesses: from a nuisance to half a season).
func (f *Farm) strike(k Kind, s Stream, twin *Course, days int) Fault {
	x := Fault{Kind: k, Factor: 1}
	switch k {
	case LatePlanting, LateTraining:
		x.Days = min(90, round(s.LogNormal(0, delayMedian, delaySigma)))
	case MissedSeason:
		close, _ := f.Plan.Season.closes(f.Start, float64(twin.stocked()))
		slack := int(close) - twin.stocked() + f.float(twin, Ordered)
		x.Days = slack + round(s.Between(0, 8, 35))
	case SlowCover:
		x.Factor = s.Between(0, coverLow, coverHigh)
	case GoAheadSkipped:
		x.Days, x.Factor = round(s.Between(0, 6, 22)), s.Between(1, 2.5, 6)
	case SlowGrowth:
		x.Factor = s.Between(0, growthLow, growthHigh)
	case PoorFeed:
		room := min(twin.Harvest(), days-tailDays) - twin.growFrom - 50
		x.From = 15 + round(s.U(0)*float64(max(0, room)))
		x.Days, x.Factor = round(s.Between(1, feedShort, feedLong)), s.Between(2, feedLow, feedHigh)
	case SilentFarm:
		room := min(twin.Harvest()-20, days-tailDays) - 20
		x.From = 20 + round(s.U(0)*float64(max(0, room)))
		x.Days = round(s.Between(1, 20, 90))
	case PumpFailure:
		x.From, x.Days, x.Factor = round(s.Between(0, 10, 120)), round(s.Between(1, 1, pumpSpanLimit)), s.Between(2, 20, 80)
	case DieOff:
		x.From, x.Days, x.Factor = round(s.Between(0, 10, 120)), 1, s.Between(1, .06, .40)
	case Overcrowding:
		x.Factor = s.Between(0, 1.5, 3)
	}
	return x
}

// float is how many days a step may take longer before stocking moves.
func (f *Farm) float(c *Course, step string) int {
	ready := f.Plan.At(Ready)
	return c.begun[ready] - c.Done[f.Plan.At(step)]
}

// Case is a fault and what became of it.
type Case struct {
	Fault
	Start    int // first day on which it is there, after the farm's start
	Complete int // day on which the loss is complete: later help is too late
	End      int // last day on which it is there
	// CostDays and CostStock are what it cost when nobody acted: days of the
	// first harvest, and the share of the animals alive on that day.
	CostDays  int
	CostStock float64
}

// Major says whether the fault cost 14 days or 5 % of the stock.
func (c Case) Major() bool { return c.CostDays >= 14 || c.CostStock >= .05 }

// Minor says whether it cost less than that, but 7 days or 3 %.
func (c Case) Minor() bool { return !c.Major() && (c.CostDays >= 7 || c.CostStock >= .03) }

// Cases are the course's faults with their cost: the difference to the twin
// that lived through the same luck without that one fault.
func (c *Course) Cases() []Case {
	out := make([]Case, len(c.Faults))
	for i, x := range c.Faults {
		rest := slices.Delete(slices.Clone(c.Faults), i, i+1)
		twin := c.Farm.Run(rest)
		out[i] = c.caseOf(x)
		out[i].CostDays = c.Harvest() - twin.Harvest()
		before, after := float64(twin.Alive(twin.Harvest())), float64(c.Alive(c.Harvest()))
		if before > 0 {
			out[i].CostStock = (before - after) / before
		}
	}
	return out
}

// caseOf is when a fault is there, and until when help would still help.
func (c *Course) caseOf(x Fault) Case {
	k := Case{Fault: x}
	step := func(name string) (begun, done int) {
		i := c.Farm.Plan.At(name)
		return c.begun[i], c.Done[i]
	}
	switch x.Kind {
	case LatePlanting, LateTraining, SlowCover:
		k.Start, k.End = step(x.Kind.Step())
	case MissedSeason:
		k.Start, _ = step(Ordered)
		k.End = c.stocked()
		k.Complete = c.missed(k.Start)
		return k
	case GoAheadSkipped:
		k.Start = c.stocked()
		k.End = k.Start + skipSpan
	case SlowGrowth, Overcrowding:
		k.Start, k.End = c.growFrom, c.Harvest()
	case PoorFeed:
		k.Start = c.growFrom + x.From
		k.End = k.Start + x.Days
	case SilentFarm:
		k.Start, k.End = x.From, x.From+x.Days
	case PumpFailure, DieOff:
		k.Start = c.stocked() + x.From
		k.End = k.Start + x.Days
	}
	k.End = min(k.End, c.Harvest())
	k.Complete = k.End
	return k
}

// missed is the day on which the season closed that the farm has missed: the
// last one before its stocking at which it was still waiting.
func (c *Course) missed(from int) int {
	season, start := &c.Farm.Plan.Season, c.Farm.Start
	close, ok := season.closes(start, float64(from))
	if !ok {
		return c.stocked()
	}
	return min(int(close), c.stocked())
}

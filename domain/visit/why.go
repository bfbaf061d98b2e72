package visit

// horizon is how many days ahead WhyNotHigher looks for the next cause.
const horizon = 30

// Why says why a need is not higher: reasons that a higher one of their cause
// stands for, and the causes that would come next if nothing happened.
type Why struct {
	Uncounted []Scored `json:"uncounted"`
	Next      []Next   `json:"next"`
}

// Next is a cause that the farm does not have today and would have after so
// many days, with the points that it would add then. Must says that the farm
// would have to be gone to.
type Next struct {
	InDays int     `json:"in_days"`
	Adds   float64 `json:"adds"`
	Must   bool    `json:"must"`
	Scored Scored  `json:"scored"`
}

// WhyNotHigher answers for a need of the same facts and weights, with what
// visits dealt with taken away. Next are the causes of the coming 30 days,
// soonest first: each once, when it first adds points or becomes must-go.
func WhyNotHigher(f Facts, w Weights, dealt []Dealt) Why {
	today := Of(f, w).Discount(dealt, w)
	var out Why
	known := map[string]bool{}
	for _, s := range today.all() {
		known[cause(s)] = true
		if s.Points > 0 && !s.Counted {
			out.Uncounted = append(out.Uncounted, s)
		}
	}
	for day := 1; day <= horizon; day++ {
		then := f
		then.On = f.On.Add(day)
		for _, s := range Of(then, w).Discount(dealt, w).all() {
			must := mustRank(s) >= 0
			if known[cause(s)] || !(must || s.Counted) {
				continue
			}
			known[cause(s)] = true
			out.Next = append(out.Next, Next{InDays: day, Adds: s.Points, Must: must, Scored: s})
		}
	}
	return out
}

// cause tells a group's points from its must-go.
func cause(s Scored) string {
	if mustRank(s) >= 0 {
		return "must:" + s.Key
	}
	return string(s.Group)
}

package checklists

import "slices"

// readWatch reads how long a farm may be quiet and how often it is visited:
// one figure before and one after stocking, which a milestone may overrule.
func readWatch(o object, p *Pack) {
	quiet := o.need("quiet").object(with("before_stocking", "after_stocking")...)
	visits := o.need("visits").object(with("after_handover", "before_stocking", "after_stocking")...)
	p.Bases["quiet"], p.Bases["visits"] = quiet.basisOf(quiet.cursor), visits.basisOf(visits.cursor)
	p.Visits.AfterHandover = readVisitStages(visits.need("after_handover"))
	before := [2]int{quiet.need("before_stocking").whole(1, longestDays), visits.need("before_stocking").whole(1, longestDays)}
	after := [2]int{quiet.need("after_stocking").whole(1, longestDays), visits.need("after_stocking").whole(1, longestDays)}
	stocked := follows(p, p.Programme.Stocking)
	for i := range p.Programme.Milestones {
		m, days := &p.Programme.Milestones[i], before
		if stocked[m.Key] {
			days = after
		}
		if m.QuietDays == 0 {
			m.QuietDays = days[0]
		}
		if m.VisitDays == 0 {
			m.VisitDays = days[1]
		}
	}
}

func readVisitStages(c cursor) []VisitStage {
	var out []VisitStage
	for _, each := range c.list() {
		o := each.object("days", "every")
		out = append(out, VisitStage{Days: o.need("days").whole(1, longestDays), Every: o.need("every").whole(1, longestDays)})
	}
	return out
}

// follows is every milestone that waits, directly or not, for the one named.
func follows(p *Pack, key string) map[string]bool {
	out := map[string]bool{}
	for changed := true; changed; {
		changed = false
		for _, m := range p.Programme.Milestones {
			waits := slices.ContainsFunc(m.After, func(a string) bool { return a == key || out[a] })
			if waits && !out[m.Key] {
				out[m.Key], changed = true, true
			}
		}
	}
	return out
}

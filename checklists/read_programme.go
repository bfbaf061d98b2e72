package checklists

import (
	"time"

	"tendfold/domain/farm"
	"tendfold/domain/programme"
)

// Bounds of what a programme may say: ten years, and readings up to a tonne.
const (
	longestDays    = 3650
	highestReading = 1e6
)

// readProgramme reads programme.yaml into the pack.
func readProgramme(c cursor, p *Pack) {
	o := c.object("start", "stocking", "harvest", "harvest_count", "pi", "lag_days", "limits", "quiet", "visits",
		"season", "claims", "milestones")
	pi, lag := o.need("pi").figure(0, 0.5), o.need("lag_days").figure(0, 60)
	p.Bases["pi"], p.Bases["lag"] = pi.Basis, lag.Basis
	p.HarvestCount = o.need("harvest_count").figure(1, 1e6)
	p.Programme = programme.Programme{
		Enterprise: p.Enterprise,
		Start:      o.need("start").ref(aMilestone),
		Stocking:   o.need("stocking").ref(aMilestone),
		Harvest:    o.need("harvest").ref(aMilestone),
		Pi:         pi.Value,
		LagDays:    int(lag.Value),
		Limits:     readLimits(o.need("limits"), p),
	}
	places := readMilestones(o.need("milestones"), p)
	readWatch(o, p)
	p.Season = readSeason(o.may("season"), p)
	p.Claims = readClaims(o.may("claims"))
	for _, field := range []string{"start", "stocking", "harvest", "pi", "lag_days", "limits"} {
		places["."+field] = o.may(field)
	}
	c.book.later = append(c.book.later, func() { checkProgramme(c, p, places) })
}

func readLimits(c cursor, p *Pack) programme.Limits {
	o := c.object(with("behind", "grace", "tolerance", "leave")...)
	p.Bases["limits"] = o.basisOf(c)
	return programme.Limits{
		Behind:    o.need("behind").number(1, longestDays),
		Grace:     o.need("grace").number(0, longestDays),
		Tolerance: o.need("tolerance").number(0, longestDays),
		Leave:     o.need("leave").number(0, longestDays),
	}
}

// readMilestones reads the network and gives the place of each milestone's
// fields, by "key.field", for what programme.Check has to say.
func readMilestones(c cursor, p *Pack) map[string]cursor {
	places := map[string]cursor{}
	for _, each := range c.some() {
		o := each.object("key", "name", "note", "after", "days", "kind", "purposes", "by", "go_ahead",
			"on_way", "seasonal", "curve", "quiet_days", "visit_days")
		words := Milestone{Key: o.need("key").declared(aMilestone), Name: o.need("name").text(), Note: o.need("note").text()}
		m := programme.Milestone{
			Key:       words.Key,
			After:     o.may("after").refs(aMilestone),
			Kind:      choice(o.need("kind"), programme.Work, programme.Living),
			By:        readRoles(o.need("by")),
			GoAhead:   o.may("go_ahead").ref(aGoAhead),
			OnWay:     o.may("on_way").yes(),
			Seasonal:  o.may("seasonal").yes(),
			QuietDays: o.may("quiet_days").whole(0, longestDays),
			VisitDays: o.may("visit_days").whole(0, longestDays),
		}
		if !o.may("purposes").absent() {
			m.Purposes = choices(o.may("purposes"), programme.GrowOut, programme.Breeding)
		}
		m.Days, words.Days = readDays(o.need("days"))
		m.Curve, words.Curve = readCurve(o.may("curve"))
		p.Programme.Milestones = append(p.Programme.Milestones, m)
		p.Milestones = append(p.Milestones, words)
		for _, field := range []string{"key", "after", "days", "kind", "purposes", "curve"} {
			places[m.Key+"."+field] = o.may(field)
		}
	}
	return places
}

func readRoles(c cursor) []farm.Role {
	return choices(c, farm.Administrator, farm.Manager, farm.Advisor, farm.FieldOfficer, farm.Caretaker, farm.Owner)
}

func readDays(c cursor) (programme.Days, Basis) {
	o := c.object(with("min", "likely", "max")...)
	return programme.Days{
		Min:    o.need("min").number(0, longestDays),
		Likely: o.need("likely").number(0, longestDays),
		Max:    o.need("max").number(0, longestDays),
	}, o.basisOf(c)
}

func readCurve(c cursor) (*programme.Curve, Basis) {
	if c.absent() {
		return nil, Basis{}
	}
	o := c.object(with("reading", "from", "to", "shape", "sd", "cv", "spread_cv", "scale_cv", "carry")...)
	curve := &programme.Curve{
		Reading:  choice(o.need("reading"), programme.Cover, programme.Weight),
		From:     o.need("from").number(0, highestReading),
		To:       o.need("to").number(0, highestReading),
		SD:       o.need("sd").number(0, highestReading),
		CV:       o.need("cv").number(0, 1),
		SpreadCV: o.may("spread_cv").number(0, 2),
		ScaleCV:  o.may("scale_cv").number(0, 1),
		Carry:    o.may("carry").number(0, 0.99),
	}
	for _, each := range o.need("shape").some() {
		curve.Shape = append(curve.Shape, readPoint(each))
	}
	return curve, o.basis()
}

// readPoint reads [time, share].
func readPoint(c cursor) programme.Point {
	pair := c.list()
	if len(pair) != 2 {
		c.wrong("a point is [time, share], each from 0 to 1")
		return programme.Point{}
	}
	return programme.Point{Time: pair[0].number(0, 1), Share: pair[1].number(0, 1)}
}

func readSeason(c cursor, p *Pack) programme.Season {
	var s programme.Season
	if c.absent() {
		return s
	}
	o := c.object(with("not_in", "rate")...)
	p.Bases["season"] = o.basis()
	for _, each := range o.may("not_in").pairs() {
		if s.NotIn == nil {
			s.NotIn = map[string][]time.Month{}
		}
		c.book.refer(aMilestone, each.name, each)
		s.NotIn[each.name] = readMonths(each)
	}
	if rates := o.may("rate").list(); len(rates) == 12 {
		for i, r := range rates {
			s.Rate[i] = r.number(0.05, 10)
		}
	} else if !o.may("rate").absent() {
		o.may("rate").wrong("has %d entries; a rate is twelve numbers, January first", len(rates))
	}
	return s
}

func readMonths(c cursor) []time.Month {
	var blocked [13]bool
	var out []time.Month
	for _, each := range c.some() {
		m := each.whole(1, 12)
		if !blocked[m] {
			out = append(out, time.Month(m))
		}
		blocked[m] = true
	}
	if len(out) == 12 {
		c.wrong("all twelve months are blocked; the milestone could never come")
	}
	return out
}

func readClaims(c cursor) []Claim {
	var out []Claim
	for _, each := range c.list() {
		o := each.object(with("text", "from", "to", "days")...)
		out = append(out, Claim{
			Text:  o.need("text").text(),
			From:  o.need("from").ref(aMilestone),
			To:    o.need("to").ref(aMilestone),
			Days:  o.need("days").number(1, longestDays),
			Basis: o.basis(),
		})
	}
	return out
}

// checkProgramme asks the programme room about the network as a whole. It is
// asked only when every line of the file reads well by itself, so that one
// slip is not reported twice.
func checkProgramme(c cursor, p *Pack, places map[string]cursor) {
	for _, known := range c.book.problems {
		if known.File == c.file {
			return
		}
	}
	for _, found := range append(programme.Check(p.Programme), programme.CheckSeason(p.Programme, p.Season)...) {
		at, ok := places[found.Key+"."+found.Field]
		if !ok || at.absent() {
			at, ok = places[found.Key+".key"]
		}
		if !ok {
			at = c
		}
		at.wrong("%s", found.Reason)
	}
	for _, purpose := range p.Purposes {
		if !p.Programme.Offers(purpose) {
			c.wrong("purpose %q is named in pack.yaml, but the start, the stocking or the harvest is not part of it", purpose)
		}
	}
}

package checklists

import (
	"slices"

	"tendfold/domain/farm"
	"tendfold/domain/programme"
)

// readChecklists reads checklists.yaml: the lists and the go-aheads.
func readChecklists(c cursor, p *Pack) {
	o := c.object("checklists", "go_aheads")
	for _, each := range o.need("checklists").list() {
		p.Checklists = append(p.Checklists, readChecklist(each))
	}
	for _, each := range o.need("go_aheads").list() {
		g := readGoAhead(each)
		p.GoAheads = append(p.GoAheads, g)
		c.book.later = append(c.book.later, func() { checkGoAhead(each, g, p) })
	}
}

func readChecklist(c cursor) Checklist {
	o := c.object("key", "name", "milestone", "items")
	list := Checklist{
		Key:       o.need("key").declared(aChecklist),
		Name:      o.need("name").text(),
		Milestone: o.need("milestone").ref(aMilestone),
	}
	for _, each := range o.need("items").some() {
		list.Items = append(list.Items, readItem(each, list.Milestone))
	}
	return list
}

func readItem(c cursor, milestone string) Item {
	o := c.object("key", "text", "help", "suffices", "by", "measure", "caution", "in_person", "milestone")
	item := Item{
		Key:       o.need("key").declared(anItem),
		Text:      o.need("text").text(),
		Help:      o.need("help").text(),
		Suffices:  choice(o.need("suffices"), farm.Photo, farm.StaffSaw, farm.WordGiven),
		By:        readRoles(o.need("by")),
		Measured:  readMeasured(o.may("measure")),
		Caution:   o.may("caution").ref(aCaution),
		InPerson:  o.may("in_person").yes(),
		Milestone: milestone,
	}
	if !o.may("milestone").absent() {
		item.Milestone = o.may("milestone").ref(aMilestone)
	}
	if item.InPerson && item.Suffices == farm.WordGiven {
		o.may("suffices").wrong("an item that needs a person of the firm there cannot rest on the caretaker's word")
	}
	return item
}

func readMeasured(c cursor) *Measured {
	if c.absent() {
		return nil
	}
	o := c.object(with("in", "low", "high")...)
	m := &Measured{Measure: choice(o.need("in"), Measures()...)}
	low, high := m.Measure.Possible()
	m.Low, m.High = o.may("low").end(low, high), o.may("high").end(low, high)
	// A value that is only written down rests on nothing.
	if m.Low != nil || m.High != nil {
		m.Basis = o.basis()
	}
	c.inOrder(m.Low, m.High)
	return m
}

// inOrder reports a range whose ends are crossed.
func (c cursor) inOrder(low, high *float64) {
	if low != nil && high != nil && *low > *high {
		c.wrong("low %s is above high %s", short(*low), short(*high))
	}
}

func readGoAhead(c cursor) GoAhead {
	o := c.object("key", "name", "milestone", "items", "modules", "limits", "lead_days")
	g := GoAhead{
		Key:       o.need("key").declared(aGoAhead),
		Name:      o.need("name").text(),
		Milestone: o.need("milestone").ref(aMilestone),
		Items:     o.may("items").refs(anItem),
		Modules:   o.may("modules").refs(aModule),
		LeadDays:  o.need("lead_days").whole(0, 365),
	}
	for _, each := range o.may("limits").list() {
		g.Limits = append(g.Limits, readLimit(each))
	}
	if len(g.Items)+len(g.Modules)+len(g.Limits) == 0 && !c.absent() {
		c.wrong("asks for nothing; name items, modules or limits")
	}
	return g
}

func readLimit(c cursor) Limit {
	o := c.object(with("reading", "low", "high", "fresh")...)
	l := Limit{
		Reading: choice(o.need("reading"), programme.Cover, programme.Weight),
		Low:     o.may("low").end(0, highestReading),
		High:    o.may("high").end(0, highestReading),
		Fresh:   o.may("fresh").whole(0, 365),
		Basis:   o.basis(),
	}
	if l.Low == nil && l.High == nil && !c.absent() {
		c.wrong("has neither low nor high")
	}
	c.inOrder(l.Low, l.High)
	return l
}

// readTraining reads training.yaml.
func readTraining(c cursor, p *Pack) {
	o := c.object("modules")
	for _, each := range o.need("modules").list() {
		m := each.object("key", "name", "safety", "months")
		p.Modules = append(p.Modules, Module{
			Key:    m.need("key").declared(aModule),
			Name:   m.need("name").text(),
			Safety: m.may("safety").yes(),
			Months: m.need("months").whole(1, 120),
		})
	}
}

// checkGoAhead wants a go-ahead and its milestone to name each other.
func checkGoAhead(c cursor, g GoAhead, p *Pack) {
	found := false
	for _, m := range p.Programme.Milestones {
		switch {
		case m.GoAhead == g.Key && m.Key == g.Milestone:
			found = true
		case m.GoAhead == g.Key:
			c.wrong("go-ahead %q names milestone %q, but programme.yaml gives it to %q", g.Key, g.Milestone, m.Key)
			return
		}
	}
	if !found {
		c.wrong("no milestone in programme.yaml has go_ahead: %s", g.Key)
	}
}

// tieModules tells each module which go-aheads ask for it.
func tieModules(p *Pack) {
	for i := range p.Modules {
		for _, g := range p.GoAheads {
			if slices.Contains(g.Modules, p.Modules[i].Key) {
				p.Modules[i].GoAheads = append(p.Modules[i].GoAheads, g.Key)
			}
		}
	}
}

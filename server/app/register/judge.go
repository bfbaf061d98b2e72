package register

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
)

// patience is by how much an interval may outlast the pack's longest path
// before it is odd: twice (our choice).
const patience = 2

// judge brings up what is wrong with the row against the register and the
// pack. It makes and changes nothing.
func (p *planner) judge(t target) {
	p.judgeBranch(t)
	p.judgeClient(t)
	if !p.judgeUnit(t) {
		return
	}
	p.judgePurpose(t)
	p.judgeAnimals(t)
	p.judgeDates(t)
}

func (p *planner) judgeBranch(t target) {
	id, name := "", cmp.Or(p.row.Branch, p.Branch.Name)
	if t.branch != nil {
		id, name = t.branch.it.ID, t.branch.it.Name
	}
	own := t.farm == nil || p.may(t.farm.it.BranchID)
	if !p.may(id) || !own {
		p.refuse(ColBranch, BranchNotYours, Values{"value": name})
	}
	if p.row.Branch == "" && t.farm == nil && len(p.book.branches) > 1 {
		p.flag(ColBranch, BranchAssumed, Values{"kept": name})
	}
}

func (p *planner) may(branchID string) bool { return p.MayBranch == nil || p.MayBranch(branchID) }

func (p *planner) judgeClient(t target) {
	if t.client == nil || p.row.ClientPhone.Text == "" || Fold(t.client.it.Name) == Fold(p.row.Client) {
		return
	}
	if !p.doubled[[2]string{t.client.it.ID, Fold(p.row.Client)}] {
		p.flag(ColClientPhone, DoublePhone, Values{"phone": t.client.it.Phone, "kept": t.client.it.Name, "value": p.row.Client})
	}
}

// judgeUnit says whether the rest of the row can be judged at all.
func (p *planner) judgeUnit(t target) bool {
	if t.pack == nil {
		p.refuse(ColEnterprise, EnterpriseUnknown, Values{"value": p.row.Enterprise})
		return false
	}
	if t.unit == nil {
		return true
	}
	if t.unit.running != nil && t.unit.it.Enterprise != p.row.Enterprise {
		p.refuse(ColEnterprise, OtherEnterprise, Values{"known": t.unit.it.Enterprise, "value": p.row.Enterprise})
		return false
	}
	if t.unit.seen != 0 {
		p.flag(ColUnit, RowRepeated, Values{"first": strconv.Itoa(t.unit.seen)})
	}
	return true
}

func (p *planner) judgePurpose(t target) {
	if said := p.row.Purpose; said != "" && !slices.Contains(t.pack.Purposes, said) {
		p.flag(ColPurpose, PurposeUnknown, Values{
			"value": string(said), "kept": string(purposeOf(t.pack, "")), "known": listed(t.pack.Purposes),
		})
	}
}

// merged is the unit as it stands with what the row adds, and its animals.
func (p *planner) merged(t target) (farm.Unit, farm.Batch) {
	u, says := farm.Unit{}, farm.Unit{Enterprise: p.row.Enterprise, Species: p.row.Species, Build: p.row.Build}
	b := farm.Batch{}
	if t.unit != nil {
		u = t.unit.it
		if c := t.running(); c != nil && c.batch != nil {
			b = c.batch.it
		}
	}
	overlay(unitFacts, &u, says)
	overlay(batchFacts, &b, farm.Batch{Count: p.row.StockedCount, MeanWeightG: p.row.MeanWeightG})
	return u, b
}

func overlay[T any](facts []fact[T], to *T, from T) {
	for _, f := range facts {
		if f.of(from) != "" {
			f.put(to, from)
		}
	}
}

func (p *planner) judgeAnimals(t target) {
	u, b := p.merged(t)
	if u.Build.Capacity > 0 && b.Count > u.Build.Capacity {
		p.flag(ColCount, OverCapacity, Values{"count": strconv.Itoa(b.Count), "most": strconv.Itoa(u.Build.Capacity)})
	}
	if b.Count > 0 && p.row.StockedOn.IsZero() && p.row.StockedCount > 0 && b.StockedOn.IsZero() {
		p.flag(ColCount, CountWithoutDate, Values{"count": strconv.Itoa(b.Count)})
	}
	kind, known := species(t.pack, u.Species)
	area := u.Build.AreaM2()
	if !known || area <= 0 {
		return
	}
	if most := kind.MaxPerM2.Value; most > 0 && float64(b.Count) > most*area {
		p.refuse(ColCount, TooManyAnimals, Values{"count": strconv.Itoa(b.Count), "area": rounded(area), "most": number(most)})
		return
	}
	p.judgeDensity(t.pack, kind, b.Count, cmp.Or(b.MeanWeightG, kind.StockedG.Typical), area)
}

// judgeDensity holds animals of a mean weight in g on an area in m2 to the
// published limit.
func (p *planner) judgeDensity(pack *checklists.Pack, kind checklists.Species, count int, grams, area float64) {
	d, known := kind.DensityAt(grams)
	if !known || count == 0 {
		return
	}
	v := Values{"count": strconv.Itoa(count), "area": rounded(area)}
	kilos := float64(count) * grams / 1000
	switch {
	case d.PerM2.Value > 0 && float64(count) > d.PerM2.Value*area:
		v["limit"], v["source"] = number(d.PerM2.Value)+"/m2", sourceText(pack, d.PerM2)
	case d.KgPerM2.Value > 0 && kilos > d.KgPerM2.Value*area:
		v["limit"], v["source"] = number(d.KgPerM2.Value)+" kg/m2", sourceText(pack, d.KgPerM2)
	default:
		return
	}
	p.flag(ColCount, OverDensity, v)
}

// sourceText is what a figure rests on, in words: what is cited, else its grade.
func sourceText(pack *checklists.Pack, f checklists.Figure) string {
	return cmp.Or(pack.Sources[f.Source].Citation, string(f.Grade))
}

func rounded(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }

func (p *planner) judgeDates(t target) {
	start, from := p.startOf(t)
	if c := t.running(); c != nil && p.row.StartedOn.IsZero() {
		start = c.it.StartedOn
		if !c.marks[t.pack.Programme.Start].DoneOn.IsZero() {
			from = 0
		}
	}
	if !from.IsZero() {
		p.flag(ColStarted, StartEstimated, Values{"value": start.String(), "from": from.String()})
		start = 0 // reckoned, so it cannot be odd
	}
	g := t.pack.Programme
	stocked := p.latest(t, p.row.StockedOn, g.Stocking)
	harvest := p.latest(t, p.row.FirstHarvestOn, g.Harvest)
	if stocked < start && !stocked.IsZero() {
		p.flag(ColStocked, StockedBeforeStarted, Values{"value": stocked.String(), "start": start.String()})
	} else {
		p.judgeInterval(t, ColStocked, g.Start, g.Stocking, start, stocked)
	}
	if harvest < stocked && !harvest.IsZero() {
		p.flag(ColHarvest, HarvestBeforeStocked, Values{"value": harvest.String(), "stocked": stocked.String()})
	} else {
		p.judgeInterval(t, ColHarvest, g.Stocking, g.Harvest, stocked, harvest)
	}
}

// latest is the day that the row gives for a milestone, else the one known of
// the cycle under way.
func (p *planner) latest(t target, given calendar.Date, key string) calendar.Date {
	c := t.running()
	if !given.IsZero() || c == nil || p.isNext(t, c) {
		return given
	}
	return c.marks[key].DoneOn
}

func (p *planner) judgeInterval(t target, col Column, from, to string, a, b calendar.Date) {
	if a.IsZero() || b.IsZero() {
		return
	}
	s, days := p.span(t, from, to), b.Sub(a)
	if s == nil || float64(days) >= s.min && float64(days) <= patience*s.max {
		return
	}
	p.flag(col, OddInterval, Values{
		"days": strconv.Itoa(days), "from": a.String(), "to": b.String(),
		"low": strconv.Itoa(int(s.min)), "high": strconv.Itoa(int(patience * s.max)),
	})
}

// span is spanOf for the row's enterprise and purpose, kept for the next row.
func (p *planner) span(t target, from, to string) *span {
	purpose := purposeOf(t.pack, p.row.Purpose)
	if c := t.running(); c != nil && p.row.Purpose == "" {
		purpose = purposeOf(t.pack, programme.Purpose(c.it.Purpose))
	}
	key := route{t.pack.Enterprise, purpose, from, to}
	s, known := p.spans[key]
	if !known {
		if found, leads := spanOf(t.pack.Programme, key); leads {
			s = &found
		}
		p.spans[key] = s
	}
	return s
}

func listed(purposes []programme.Purpose) string {
	words := make([]string, len(purposes))
	for i, p := range purposes {
		words[i] = string(p)
	}
	return strings.Join(words, ", ")
}

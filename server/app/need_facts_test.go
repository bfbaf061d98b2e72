package app

import (
	"testing"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
	"tendfold/domain/ticket"
	"tendfold/domain/visit"

	"github.com/stretchr/testify/require"
)

var needToday = calendar.MustDate("2026-06-01")

// snailRules are those of the snail pack that ships.
func snailRules(t *testing.T) rulesOf {
	t.Helper()
	set, err := checklists.Embedded()
	require.NoError(t, err)
	pack, _ := set.Pack("snail")
	network, err := set.Network("snail", programme.GrowOut, pack.Season)
	require.NoError(t, err)
	r := needRulesOf(pack, PlanOf(pack, network, nil))
	return func(enterprise, _, _ string) *needRules {
		if enterprise != "snail" {
			return nil
		}
		return r
	}
}

// needCycleOf is a snail cycle whose milestones stand as given; those that
// are not named are ahead.
func needCycleOf(id string, states map[string]programme.State) needCycle {
	c := needCycle{NeedCycle: NeedCycle{ID: id, UnitID: "u" + id, Enterprise: "snail", Purpose: "grow-out", Started: needToday.Add(-60), Standing: programme.OnCourse, Schedule: programme.OnCourse}}
	for _, key := range []string{"planted", "cover-ready", "caretaker-trained", "stock-ordered", "ready-to-stock", "stocked", "half-year-count", "first-harvest"} {
		state, ok := states[key]
		if !ok {
			state = programme.Ahead
		}
		m := briefMilestone{Key: key, State: state, Target: needToday.Add(40), P10: needToday.Add(60), P50: needToday.Add(70)}
		if state == programme.Done {
			m.DoneOn = needToday.Add(-30)
		}
		c.Milestones = append(c.Milestones, m)
		if state == programme.Open && c.Next == "" {
			c.Next = key
		}
	}
	return c
}

func (c *needCycle) move(key string, target, p10 int) {
	for i := range c.Milestones {
		if c.Milestones[i].Key == key {
			c.Milestones[i].Target, c.Milestones[i].P10 = needToday.Add(target), needToday.Add(p10)
		}
	}
}

func needFarmOf(cycles ...needCycle) *needFarm {
	f := &needFarm{on: needToday, cycles: cycles}
	f.ID, f.Town, f.IntakeOn = "f1", "Muea", needToday.Add(-90)
	for _, c := range cycles {
		f.units = append(f.units, FactUnit{FarmID: "f1", ID: c.UnitID, Enterprise: "snail", HandedOver: needToday.Add(-400), DefectsMonths: 12})
	}
	return f
}

var planted = map[string]programme.State{"planted": programme.Done, "cover-ready": programme.Open}

func TestTheWorstCycleSpeaksForTheFarm(t *testing.T) {
	rules := snailRules(t)
	late, later, fine := needCycleOf("a", planted), needCycleOf("b", planted), needCycleOf("c", planted)
	late.Schedule, late.EnteredOn, late.OwnSlip, late.HoldUp = programme.Behind, needToday.Add(-9), 25, "cover-ready"
	later.Schedule, later.EnteredOn, later.OwnSlip = programme.Behind, needToday.Add(-2), 12
	fine.OwnSlip, fine.EnteredOn = -8, needToday
	fine.move("cover-ready", -3, 0)
	v := needFarmOf(fine, late, later).facts(rules)
	require.Equal(t, []any{programme.Behind, needToday.Add(-2), 25, "cover-ready", 3}, []any{v.Schedule, v.Since, v.OwnSlip, v.HoldUp, v.LateDays})
	require.Equal(t, -8, needFarmOf(fine).facts(rules).OwnSlip, "a farm may be early")

	over := late
	over.Standing = programme.Complete
	foreign := late
	foreign.Enterprise = "duck"
	v = needFarmOf(fine, over, foreign).facts(rules)
	require.Equal(t, []any{programme.OnCourse, -8}, []any{v.Schedule, v.OwnSlip}, "what is over, or of no pack, says nothing")
}

func TestTheStrictestStageHolds(t *testing.T) {
	rules := snailRules(t)
	growing := needCycleOf("a", map[string]programme.State{"planted": programme.Done, "stocked": programme.Done, "half-year-count": programme.Open})
	v := needFarmOf(growing).facts(rules)
	require.Equal(t, []any{30, 27, needToday.Add(-30)}, []any{v.EveryDays, v.QuietDays, v.StockedOn}, "monthly, 27 days: the pack's figures after stocking")
	v = needFarmOf(growing, needCycleOf("b", planted)).facts(rules)
	require.Equal(t, []any{14, 27}, []any{v.EveryDays, v.QuietDays})

	implied := needCycleOf("a", map[string]programme.State{"stocked": programme.Implied, "half-year-count": programme.Open})
	require.Equal(t, needToday.Add(70), needFarmOf(implied).facts(rules).StockedOn, "the likeliest day")
}

func TestQuietAndVisitsCountFromTheBeginning(t *testing.T) {
	rules := snailRules(t)
	f := needFarmOf(needCycleOf("a", planted))
	v := f.facts(rules)
	require.Equal(t, []any{needToday.Add(-90), needToday.Add(-90)}, []any{v.LastHeard, v.LastVisit}, "the later of intake and handover")
	f.Heard, f.Visited = needToday.Add(-5), needToday.Add(-20)
	v = f.facts(rules)
	require.Equal(t, []any{needToday.Add(-5), needToday.Add(-20)}, []any{v.LastHeard, v.LastVisit})
	f.Heard = 0
	require.Equal(t, needToday.Add(-20), f.facts(rules).LastHeard, "a visit is news")
	f.Visited, f.units[0].HandedOver = 0, needToday.Add(10)
	require.Zero(t, f.facts(rules).LastHeard, "it is not handed over yet")
}

func TestAGoAheadThatIsNearSaysWhatAPersonMustSee(t *testing.T) {
	rules := snailRules(t)
	c := needCycleOf("a", planted)
	f := needFarmOf(c)
	require.Empty(t, f.facts(rules).GoAheads, "its window is far away")
	g := rules("snail", "grow-out", "").plan.GoAheads[0]
	f.cycles[0].move(g.Milestone, 40, g.LeadDays)
	got := f.facts(rules).GoAheads
	require.Len(t, got, 1)
	require.Equal(t, []any{g.Key, "ua", g.Milestone, needToday.Add(g.LeadDays), needToday}, []any{got[0].Key, got[0].UnitID, got[0].Milestone, got[0].Opens, got[0].Since})
	require.NotEmpty(t, got[0].Items)

	f.short = []NeedShort{{FarmID: "f1", CycleID: "a", GoAhead: g.Key, Since: needToday.Add(-12)}}
	require.Equal(t, needToday.Add(-12), f.facts(rules).GoAheads[0].Since, "as the sweep remembers it")

	item := got[0].Items[0]
	f.marks = map[string]map[string]sweep.Mark{"a": {item: {Answer: farm.No, Grade: farm.StaffSaw, On: needToday.Add(-2)}}}
	require.Equal(t, needToday.Add(-2), f.facts(rules).GoAheads[0].Since, "somebody looked, and it was not so")
	f.marks["a"][item] = sweep.Mark{Answer: farm.Yes, Grade: farm.StaffSaw, On: needToday.Add(-2)}
	require.NotContains(t, f.facts(rules).GoAheads[0].Items, item)
	for _, i := range got[0].Items {
		f.marks["a"][i] = sweep.Mark{Answer: farm.Yes, Grade: farm.StaffSaw, On: needToday}
	}
	require.Empty(t, f.facts(rules).GoAheads)
}

func TestWhatCaretakersLack(t *testing.T) {
	rules := snailRules(t)
	modules := rules("snail", "grow-out", "").plan.Modules
	growing := needCycleOf("a", map[string]programme.State{"stocked": programme.Done, "half-year-count": programme.Open})
	f := needFarmOf(growing)
	f.work = []FactWork{{FarmID: "f1", PersonID: "p1", InCharge: true}, {FarmID: "f1", PersonID: "p2", Since: needToday.Add(1)}}
	got := f.facts(rules).Caretakers
	require.Len(t, got, 1, "who begins tomorrow is not there yet")
	require.Len(t, got[0].Lacks, len(modules))
	require.Equal(t, needToday.Add(-30), got[0].Since, "since animals live there")

	for _, m := range modules {
		f.passes = append(f.passes, FactPass{PersonID: "p1", Enterprise: "snail", Module: m, On: needToday.Add(-100), Until: needToday.Add(100)})
	}
	require.Empty(t, f.facts(rules).Caretakers[0].Lacks)
	f.passes[0].Until = needToday.Add(-3)
	got = f.facts(rules).Caretakers
	require.Equal(t, []any{[]string{modules[0]}, needToday.Add(-2)}, []any{got[0].Lacks, got[0].Since}, "the day after it lapsed")

	f.passes[0].Until, f.passes[0].Enterprise = needToday.Add(100), "catfish"
	require.Equal(t, []string{modules[0]}, f.facts(rules).Caretakers[0].Lacks, "another enterprise's module of the same key does not do")

	before := needFarmOf(needCycleOf("a", planted))
	before.work = f.work
	require.Empty(t, before.facts(rules).Caretakers[0].Lacks, "before stocking the go-ahead asks")
}

func TestSnagsPromisesWishesAndTickets(t *testing.T) {
	f := needFarmOf(needCycleOf("a", planted))
	f.units[0].HandedOver = needToday.Add(-330)
	f.snags = []FactSnag{{UnitID: "ua", Found: needToday.Add(-9)}, {UnitID: "ua", Found: needToday.Add(-4)}, {UnitID: "other", Found: needToday}}
	f.promises = []Promise{{ID: "p", Text: "I come", MadeOn: needToday.Add(-3), DueOn: needToday}}
	f.requests = []VisitRequest{{ID: "r", Text: "please", On: needToday.Add(-1)}}
	f.tickets = []NeedTicket{{ID: "t", Number: "1/26", Rule: sweep.NoNews, Urgency: ticket.Routine, Opened: needToday.Add(-30), Reopened: []calendar.Date{needToday.Add(-20)}}}
	v := f.facts(snailRules(t))
	require.Equal(t, []visit.Snags{{UnitID: "ua", Open: 2, Newest: needToday.Add(-4), Until: defectsUntil(needToday.Add(-330), 12)}}, v.Snags)
	require.Equal(t, []visit.Promise{{ID: "p", Text: "I come", Made: needToday.Add(-3), DueOn: needToday}}, v.Promises)
	require.Equal(t, []visit.Request{{ID: "r", Text: "please", On: needToday.Add(-1)}}, v.Requests)
	require.Equal(t, []visit.Ticket{{ID: "t", Number: "1/26", Rule: sweep.NoNews, Urgency: ticket.Routine, Since: needToday.Add(-20)}}, v.Tickets)

	event := func(kind ticket.EventKind, day int, was, is ticket.Urgency) TicketEvent {
		return TicketEvent{On: needToday.Add(day), Event: ticket.Event{Kind: kind, Data: map[string]any{"was": string(was), "urgency": string(is)}}}
	}
	for name, c := range map[string]struct {
		events []TicketEvent
		since  int
	}{
		"nothing":      {nil, -20},
		"worse":        {[]TicketEvent{event(ticket.Worse, -7, "", "")}, -7},
		"more urgent":  {[]TicketEvent{event(ticket.Judged, -6, ticket.Routine, ticket.LosingTime)}, -6},
		"on assessing": {[]TicketEvent{event(ticket.Moved, -5, ticket.Routine, ticket.AnimalsAtRisk)}, -5},
		"less urgent":  {[]TicketEvent{event(ticket.Judged, -4, ticket.Routine, ticket.NoHurry)}, -20},
		"long ago":     {[]TicketEvent{event(ticket.Worse, -25, "", "")}, -20},
	} {
		require.Equal(t, needToday.Add(c.since), f.tickets[0].since(c.events), name)
	}
}

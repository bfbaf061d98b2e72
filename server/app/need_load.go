package app

import (
	"cmp"
	"context"
	"encoding/json"
	"runtime"
	"slices"
	"sync"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/programme"
	"tendfold/domain/sweep"
)

// outlookBrief is what the visit need reads of a cycle's outlook.
type outlookBrief struct {
	Next       string           `json:"next"`
	HoldUp     string           `json:"hold_up"`
	Milestones []briefMilestone `json:"milestones"`
}

// briefMilestone is the part of a MilestoneOutlook that the visit need reads.
type briefMilestone struct {
	Key    string          `json:"key"`
	State  programme.State `json:"state"`
	DoneOn calendar.Date   `json:"done_on"`
	Target calendar.Date   `json:"target"`
	P10    calendar.Date   `json:"p10"`
	P50    calendar.Date   `json:"p50"`
}

// needCycle is a cycle with its outlook read.
type needCycle struct {
	NeedCycle
	outlookBrief
}

// readBriefs reads the outlooks on all cores: they are most of the work.
func readBriefs(rows []NeedCycle) ([]needCycle, error) {
	out := make([]needCycle, len(rows))
	workers := runtime.GOMAXPROCS(0)
	errs := make([]error, workers)
	var wg sync.WaitGroup
	for w := range workers {
		wg.Go(func() {
			for i := w; i < len(rows); i += workers {
				out[i].NeedCycle = rows[i]
				if len(rows[i].Outlook) > 0 {
					if err := json.Unmarshal(rows[i].Outlook, &out[i].outlookBrief); err != nil {
						errs[w] = err
					}
				}
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// needRules are what a pack says about one kind of cycle in one branch, as far
// as visits are concerned.
type needRules struct {
	pack     *checklists.Pack
	plan     *sweep.Plan
	inPerson map[string]bool // items for which a person of the firm must stand there
	quiet    map[string]int  // days without news that a milestone's stage allows
}

// rulesOf gives them; nil where the pack is not installed.
type rulesOf func(enterprise, purpose, branch string) *needRules

// needs is everything for a list of visit needs, by farm.
type needs struct {
	farms []needFarm
	rules rulesOf
}

// loadNeeds reads the farms of a query and all that their need follows from.
// Today is the farm's own day.
func loadNeeds(ctx context.Context, store needStore, plans *Plans, sc Scope, q NeedQuery, today func(branchID string) (calendar.Date, error)) (*needs, error) {
	rows, err := store.NeedRows(ctx, sc, q)
	if err != nil {
		return nil, err
	}
	cycles, err := readBriefs(rows.Cycles)
	if err != nil {
		return nil, err
	}
	n := &needs{farms: make([]needFarm, len(rows.Farms))}
	var failed error
	n.rules = rulesFrom(ctx, plans, &failed)
	at := make(map[string]*needFarm, len(rows.Farms))
	for i, f := range rows.Farms {
		n.farms[i].NeedFarm = f
		if n.farms[i].on, err = today(f.BranchID); err != nil {
			return nil, err
		}
		at[f.ID] = &n.farms[i]
	}
	deal(at, rows, cycles)
	if err := n.addMarks(ctx, store, at); err != nil {
		return nil, err
	}
	return n, failed
}

// rulesFrom looks rules up once for each kind of cycle. What cannot be planned
// is remembered as the first error.
func rulesFrom(ctx context.Context, plans *Plans, failed *error) rulesOf {
	known := map[planKey]*needRules{}
	return func(enterprise, purpose, branch string) *needRules {
		key := planKey{enterprise, purpose, branch, ""}
		if r, ok := known[key]; ok {
			return r
		}
		known[key] = nil
		pack, ok := plans.packs.Pack(enterprise)
		if !ok {
			return nil
		}
		plan, err := plans.Plan(ctx, enterprise, purpose, branch)
		if err != nil {
			if domain.CodeOf(err) != "enterprise-unknown" && *failed == nil {
				*failed = err
			}
			return nil
		}
		known[key] = needRulesOf(pack, plan)
		return known[key]
	}
}

func needRulesOf(pack *checklists.Pack, plan *sweep.Plan) *needRules {
	r := &needRules{pack: pack, plan: plan, inPerson: map[string]bool{}, quiet: map[string]int{}}
	for _, c := range pack.Checklists {
		for _, it := range c.Items {
			r.inPerson[it.Key] = it.InPerson
		}
	}
	for _, m := range plan.Network.Milestones() {
		r.quiet[m.Key] = m.QuietDays
	}
	return r
}

// deal gives each farm its rows.
func deal(at map[string]*needFarm, rows NeedRows, cycles []needCycle) {
	give(at, rows.Units, func(u *FactUnit) string { return u.FarmID }, func(f *needFarm) *[]FactUnit { return &f.units })
	give(at, cycles, func(c *needCycle) string { return c.FarmID }, func(f *needFarm) *[]needCycle { return &f.cycles })
	give(at, rows.Short, func(s *NeedShort) string { return s.FarmID }, func(f *needFarm) *[]NeedShort { return &f.short })
	give(at, rows.Snags, func(s *FactSnag) string { return s.FarmID }, func(f *needFarm) *[]FactSnag { return &f.snags })
	give(at, rows.Work, func(w *FactWork) string { return w.FarmID }, func(f *needFarm) *[]FactWork { return &f.work })
	give(at, rows.Passes, func(p *FactPass) string { return p.FarmID }, func(f *needFarm) *[]FactPass { return &f.passes })
	give(at, rows.Promises, func(p *Promise) string { return p.FarmID }, func(f *needFarm) *[]Promise { return &f.promises })
	give(at, rows.Requests, func(r *VisitRequest) string { return r.FarmID }, func(f *needFarm) *[]VisitRequest { return &f.requests })
	give(at, rows.Tickets, func(t *NeedTicket) string { return t.FarmID }, func(f *needFarm) *[]NeedTicket { return &f.tickets })
	give(at, rows.Planned, func(v *Visit) string { return v.FarmID }, func(f *needFarm) *[]Visit { return &f.planned })
	for _, d := range rows.Dealt {
		if f := at[d.FarmID]; f != nil {
			f.dealt = append(f.dealt, d.Dealt...)
		}
	}
	events := map[string][]TicketEvent{}
	for _, e := range rows.Events {
		events[e.TicketID] = append(events[e.TicketID], e)
	}
	for _, f := range at {
		f.events = events
		slices.SortFunc(f.cycles, func(a, b needCycle) int { return cmp.Compare(a.ID, b.ID) })
		slices.SortFunc(f.planned, func(a, b Visit) int { return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.ID, b.ID)) })
	}
}

func give[T any](at map[string]*needFarm, rows []T, farmID func(*T) string, list func(*needFarm) *[]T) {
	for i := range rows {
		if f := at[farmID(&rows[i])]; f != nil {
			l := list(f)
			*l = append(*l, rows[i])
		}
	}
}

// addMarks reads what was verified where a go-ahead is near: on one farm in
// ten or so, so that the rest is not read.
func (n *needs) addMarks(ctx context.Context, store needStore, at map[string]*needFarm) error {
	owner := map[string]string{}
	var ids []string
	for i := range n.farms {
		f := &n.farms[i]
		for _, c := range f.going(n.rules) {
			if len(c.near(f.on)) > 0 {
				owner[c.ID] = f.ID
				ids = append(ids, c.ID)
			}
		}
	}
	if len(ids) == 0 {
		return nil
	}
	marks, err := store.MarksOf(ctx, ids)
	if err != nil {
		return err
	}
	for _, m := range marks {
		f := at[owner[m.CycleID]]
		if f.marks == nil {
			f.marks = map[string]map[string]sweep.Mark{}
		}
		if f.marks[m.CycleID] == nil {
			f.marks[m.CycleID] = map[string]sweep.Mark{}
		}
		f.marks[m.CycleID][m.Item] = sweep.Mark{Answer: m.Answer, Grade: m.Grade, On: m.On}
	}
	return nil
}

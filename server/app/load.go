package app

import (
	"cmp"
	"context"
	"slices"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/ticket"
)

// loadStore is what Loads needs of the database.
type loadStore interface {
	Raised(ctx context.Context, sc Scope, q LoadQuery) ([]RaisedTicket, error)
	TicketTotals(ctx context.Context, sc Scope, q LoadQuery, now time.Time) (TicketTotals, error)
	Served(ctx context.Context, sc Scope, q LoadQuery) ([]ServedTicket, error)
	Stale(ctx context.Context, sc Scope, q LoadQuery, now time.Time) (int, error)
	Hands(ctx context.Context, sc Scope, q LoadQuery, now time.Time) ([]AdvisorLoad, error)
	LeftLying(ctx context.Context, sc Scope, q LoadQuery, now time.Time, limit int) ([]TicketLine, error)
	People(ctx context.Context, sc Scope, q PeopleQuery) (Page[farm.Person], error)
	Branches(ctx context.Context) ([]farm.Branch, error)
}

// Loads say whether the advisors can cope, and which rule is noisy.
type Loads struct {
	Core
	store loadStore
	days  *Days
}

// NewLoads wires the use case.
func NewLoads(core Core, store loadStore, days *Days) *Loads {
	return &Loads{Core: core, store: store, days: days}
}

// LoadQuery picks tickets by the days on which they came up, by branch and by
// whose hands they are in.
type LoadQuery struct {
	From   calendar.Date
	To     calendar.Date
	Branch string
	Holder string
}

// RaisedTicket is a ticket on the day on which it was opened, or reopened.
type RaisedTicket struct {
	At       time.Time
	On       calendar.Date
	BranchID string
	Rule     string // "" when a person opened it
	Origin   ticket.Origin
	Reopened bool
	BySweep  bool // what an advisor did not choose
}

// TicketTotals is how many tickets there are now, and how many were settled
// in the days of the query.
type TicketTotals struct {
	Open    int `json:"open"`
	Overdue int `json:"overdue"`
	Settled int `json:"settled"`
}

// LoadLine is how many tickets the sweep may raise for one advisor on a bad
// day (the programme's own line, derived from the alarm rates of ISA-18.2 and
// EEMUA 191).
const LoadLine = 6

// Many tickets at once are one piece of news: more than burstMany within
// burstTime gather into one group (a flood of alarms by ISA-18.2 and
// IEC 62682: over 10 in 10 minutes for one operator).
const (
	burstMany = 10
	burstTime = 10 * time.Minute
)

// lyingMost bounds the list of tickets that were left lying.
const lyingMost = 100

// Load is the load of a range of days.
type Load struct {
	From     calendar.Date `json:"from"`
	To       calendar.Date `json:"to"`
	Mine     bool          `json:"mine" doc:"Of the actor's own hands alone: that is what an advisor sees."`
	Opened   int           `json:"opened"`
	Reopened int           `json:"reopened"`
	TicketTotals
	Service  Service       `json:"service"`
	Advisors []AdvisorLoad `json:"people" doc:"Of whoever asks alone, and of everybody for a manager."`
	Origins  []OriginShare `json:"origins"`
	Rules    []RuleShare   `json:"rules" doc:"What the sweep raised, the noisiest rule first."`
	Days     []DayLoad     `json:"days" doc:"Days on which something came up."`
	Branches []BranchLoad  `json:"branches"`
	Bursts   []Burst       `json:"bursts" doc:"More than 10 tickets within 10 minutes."`
	Lying    []TicketLine  `json:"left_lying" doc:"Past their time, and nobody has touched them: at most 100, oldest first."`
}

// OriginShare is how many tickets one origin opened.
type OriginShare struct {
	Origin  ticket.Origin `json:"origin"`
	Tickets int           `json:"tickets"`
}

// RuleShare is how many tickets a rule raised, and its share of all that the
// sweep raised, from 0 to 1.
type RuleShare struct {
	Rule    string  `json:"rule"`
	Tickets int     `json:"tickets"`
	Share   float64 `json:"share"`
}

// DayLoad is what came up on a day in a branch.
type DayLoad struct {
	On       calendar.Date `json:"on"`
	BranchID string        `json:"branch_id"`
	Opened   int           `json:"opened" doc:"By whomever."`
	Raised   int           `json:"raised" doc:"Opened or reopened by the sweep."`
}

// BranchLoad is what the sweep put before one advisor of a branch.
type BranchLoad struct {
	BranchID string        `json:"branch_id"`
	Branch   string        `json:"branch"`
	Advisors int           `json:"advisors" doc:"Who advise there; without any the load counts as one's."`
	Raised   int           `json:"raised"`
	Mean     float64       `json:"mean" doc:"A calendar day and advisor."`
	Worst    float64       `json:"worst" doc:"An advisor's on the worst day."`
	WorstOn  calendar.Date `json:"worst_on"`
	Line     int           `json:"line" doc:"What a bad day may hold for one advisor."`
	OverDays int           `json:"over_days" doc:"Days above the line."`
}

// Burst is a group of tickets that came up together in a branch.
type Burst struct {
	BranchID string      `json:"branch_id"`
	From     time.Time   `json:"from"`
	Until    time.Time   `json:"until"`
	Tickets  int         `json:"tickets"`
	Rules    []RuleShare `json:"rules"`
}

// loadDays bounds the days of one question.
const loadDays = 184

// Of is the load from one day to another; without days, of the last four
// weeks. Managers see all in scope, an advisor the own hands.
func (s *Loads) Of(ctx context.Context, who Actor, q LoadQuery) (Load, error) {
	if err := who.Need(planners...); err != nil {
		return Load{}, err
	}
	q.Holder = ""
	if !who.Is(leader...) {
		q.Holder = who.PersonID
	}
	if err := s.fillDays(ctx, who, &q); err != nil {
		return Load{}, err
	}
	rows, err := s.store.Raised(ctx, who.Scope(), q)
	if err != nil {
		return Load{}, err
	}
	out := loadOf(q, rows)
	now := s.Now()
	if out.TicketTotals, err = s.store.TicketTotals(ctx, who.Scope(), q, now); err != nil {
		return Load{}, err
	}
	if out.Lying, err = s.store.LeftLying(ctx, who.Scope(), q, now, lyingMost); err != nil {
		return Load{}, err
	}
	out.Lying = orEmpty(out.Lying)
	if err := s.service(ctx, who, q, now, &out); err != nil {
		return Load{}, err
	}
	out.Branches, err = s.branches(ctx, who, q, rows)
	return out, err
}

// service fills in how tickets were served, and by whom.
func (s *Loads) service(ctx context.Context, who Actor, q LoadQuery, now time.Time, out *Load) error {
	served, err := s.store.Served(ctx, who.Scope(), q)
	if err != nil {
		return err
	}
	out.Service = serviceOf(served)
	if out.Service.Stale, err = s.store.Stale(ctx, who.Scope(), q, now); err != nil {
		return err
	}
	out.Advisors, err = s.store.Hands(ctx, who.Scope(), q, now)
	out.Advisors = orEmpty(out.Advisors)
	return err
}

// fillDays fills in the days that were not given, and refuses what cannot be.
func (s *Loads) fillDays(ctx context.Context, who Actor, q *LoadQuery) error {
	if q.To == 0 {
		today, err := s.days.Today(ctx, who, q.Branch)
		if err != nil {
			return err
		}
		q.To = max(today, q.From)
	}
	if q.From == 0 {
		q.From = q.To.Add(-27)
	}
	if q.From > q.To || q.To.Sub(q.From) >= loadDays {
		return domain.Invalid("load-days", "Ask about at most half a year, from the first day to the last.",
			domain.Field{Path: "from", Code: "range", Text: "Give a first day and a last one at most 184 days apart."})
	}
	return nil
}

// loadOf counts what came up.
func loadOf(q LoadQuery, rows []RaisedTicket) Load {
	l := Load{From: q.From, To: q.To, Mine: q.Holder != "", Origins: []OriginShare{}, Days: []DayLoad{}}
	origins := map[ticket.Origin]int{}
	days := map[DayLoad]*DayLoad{}
	for _, r := range rows {
		key := DayLoad{On: r.On, BranchID: r.BranchID}
		d := days[key]
		if d == nil {
			d = &DayLoad{On: r.On, BranchID: r.BranchID}
			days[key] = d
		}
		if r.Reopened {
			l.Reopened++
		} else {
			l.Opened++
			d.Opened++
			origins[r.Origin]++
		}
		if r.BySweep {
			d.Raised++
		}
	}
	for o, n := range origins {
		l.Origins = append(l.Origins, OriginShare{o, n})
	}
	slices.SortFunc(l.Origins, func(a, b OriginShare) int {
		return cmp.Or(cmp.Compare(b.Tickets, a.Tickets), cmp.Compare(a.Origin, b.Origin))
	})
	for _, d := range days {
		l.Days = append(l.Days, *d)
	}
	slices.SortFunc(l.Days, func(a, b DayLoad) int {
		return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.BranchID, b.BranchID))
	})
	l.Rules, l.Bursts = shares(rows), bursts(rows)
	return l
}

// shares are the rules' shares of what the sweep raised.
func shares(rows []RaisedTicket) []RuleShare {
	counts, all := map[string]int{}, 0
	for _, r := range rows {
		if r.BySweep {
			counts[r.Rule]++
			all++
		}
	}
	out := []RuleShare{}
	for rule, n := range counts {
		out = append(out, RuleShare{Rule: rule, Tickets: n, Share: float64(n) / float64(all)})
	}
	slices.SortFunc(out, func(a, b RuleShare) int {
		return cmp.Or(cmp.Compare(b.Tickets, a.Tickets), cmp.Compare(a.Rule, b.Rule))
	})
	return out
}

// bursts gathers what came up together. A group grows for as long as its last
// eleven lie within ten minutes, so that one long flood is one group. Rows are
// in order of time.
func bursts(rows []RaisedTicket) []Burst {
	byBranch := map[string][]RaisedTicket{}
	for _, r := range rows {
		byBranch[r.BranchID] = append(byBranch[r.BranchID], r)
	}
	out := []Burst{}
	for branch, list := range byBranch {
		for i := 0; i+burstMany < len(list); {
			end := i + burstMany // the eleventh
			if list[end].At.Sub(list[i].At) > burstTime {
				i++
				continue
			}
			for end+1 < len(list) && list[end+1].At.Sub(list[end+1-burstMany].At) <= burstTime {
				end++
			}
			group := list[i : end+1]
			out = append(out, Burst{BranchID: branch, From: group[0].At, Until: list[end].At, Tickets: len(group), Rules: shares(group)})
			i = end + 1
		}
	}
	slices.SortFunc(out, func(a, b Burst) int { return cmp.Or(a.From.Compare(b.From), cmp.Compare(a.BranchID, b.BranchID)) })
	return out
}

// branches is the load of each branch that the actor may know of.
func (s *Loads) branches(ctx context.Context, who Actor, q LoadQuery, rows []RaisedTicket) ([]BranchLoad, error) {
	list, err := s.store.Branches(ctx)
	if err != nil {
		return nil, err
	}
	advisors, err := s.advisors(ctx)
	if err != nil {
		return nil, err
	}
	sc, out := who.Scope(), []BranchLoad{}
	for _, b := range list {
		if (q.Branch != "" && q.Branch != b.ID) || !(sc.All || slices.Contains(sc.Branches, b.ID)) {
			continue
		}
		l := BranchLoad{BranchID: b.ID, Branch: b.Name, Advisors: advisors[b.ID] + advisors[""], Line: LoadLine}
		if q.Holder != "" {
			l.Advisors = 1
		}
		out = append(out, l.of(q, rows))
	}
	return out, nil
}

// of works the load of the branch out.
func (l BranchLoad) of(q LoadQuery, rows []RaisedTicket) BranchLoad {
	byDay := map[calendar.Date]int{}
	for _, r := range rows {
		if r.BranchID == l.BranchID && r.BySweep {
			l.Raised++
			byDay[r.On]++
		}
	}
	each := float64(max(1, l.Advisors))
	l.Mean = float64(l.Raised) / each / float64(q.To.Sub(q.From)+1)
	for on, n := range byDay {
		share := float64(n) / each
		if share > l.Worst || share == l.Worst && on > l.WorstOn {
			l.Worst, l.WorstOn = share, on
		}
		if share > LoadLine {
			l.OverDays++
		}
	}
	return l
}

// advisors counts those who advise, by branch; "" is all branches.
func (s *Loads) advisors(ctx context.Context) (map[string]int, error) {
	yes := true
	out, q := map[string]int{}, PeopleQuery{Role: farm.Advisor, Active: &yes, Limit: 200}
	for {
		page, err := s.store.People(ctx, Everything, q)
		if err != nil {
			return nil, err
		}
		for _, p := range page.Items {
			for _, g := range p.Grants {
				if g.Role == farm.Advisor {
					out[g.BranchID]++
				}
			}
		}
		if q.Cursor = page.Next; q.Cursor == "" {
			return out, nil
		}
	}
}

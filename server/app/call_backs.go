package app

import (
	"cmp"
	"context"
	"slices"

	"tendfold/domain/calendar"
	"tendfold/domain/farm"
)

// quietWeek is after how many days without news a farm is called: a line on a
// list, long before the rule opens a ticket (programme rules: 7 days as a
// limit made 2.5 false tickets a farm and year).
const quietWeek = 7

// callBackMost bounds the call-back list.
const callBackMost = 500

// QuietQuery picks watched, active farms with a cycle that goes on, of which
// nothing was heard for at least Days days before On; the longest quiet
// first.
type QuietQuery struct {
	On     calendar.Date
	Days   int
	Branch string
	Limit  int
}

// QuietFarm is such a farm, with the day from which the quiet counts.
type QuietFarm struct {
	FarmID string
	Since  calendar.Date
}

// CallBack is a farm to call: because it was promised, because it has been
// quiet, or both.
type CallBack struct {
	FarmID    string        `json:"farm_id"`
	Farm      string        `json:"farm"`
	Client    string        `json:"client"`
	Town      string        `json:"town"`
	BranchID  string        `json:"branch_id"`
	DueOn     calendar.Date `json:"due_on" doc:"The first day on which to call: that of the oldest promise, or a week after the last news."`
	Promises  []PromiseLine `json:"promises"`
	QuietDays int           `json:"quiet_days" doc:"0 when the farm is not quiet."`
	LastHeard calendar.Date `json:"last_heard"`
	People    []CallPerson  `json:"people" doc:"Whom to call: whoever is in charge first."`
}

// CallPerson is somebody who may be called about a farm.
type CallPerson struct {
	PersonID string `json:"person_id"`
	Name     string `json:"name"`
	Phone    string `json:"phone"`
	Language string `json:"language"`
	InCharge bool   `json:"in_charge"`
}

// CallBackList is the whole list, due first.
type CallBackList struct {
	On    calendar.Date `json:"on"`
	Items []CallBack    `json:"items"`
	More  bool          `json:"more" doc:"There are more than the 500 shown."`
}

// CallBacks are the farms to call.
func (s *Promises) CallBacks(ctx context.Context, who Actor, branch string) (CallBackList, error) {
	var out CallBackList
	if err := who.Need(desk...); err != nil {
		return out, err
	}
	today, err := s.days.Today(ctx, who, branch)
	if err != nil {
		return out, err
	}
	lines := map[string]*CallBack{}
	if err := s.promised(ctx, who, branch, lines); err != nil {
		return out, err
	}
	quiet, err := s.store.QuietFarms(ctx, who.Scope(), QuietQuery{On: today, Days: quietWeek, Branch: branch, Limit: callBackMost + 1})
	if err != nil {
		return out, err
	}
	for _, q := range quiet {
		l := lineOf(lines, q.FarmID)
		l.LastHeard, l.QuietDays = q.Since, today.Sub(q.Since)
		if due := q.Since.Add(quietWeek); l.DueOn == 0 || due < l.DueOn {
			l.DueOn = due
		}
	}
	out.On, out.Items = today, inOrderOfDay(lines)
	if out.More = len(out.Items) > callBackMost; out.More {
		out.Items = out.Items[:callBackMost]
	}
	return out, s.name(ctx, who, out.Items)
}

// promised adds the open promises to call back.
func (s *Promises) promised(ctx context.Context, who Actor, branch string, lines map[string]*CallBack) error {
	open := false
	q := PromiseQuery{Kind: "call-back", Branch: branch, Kept: &open, Limit: 200}
	for len(lines) <= callBackMost {
		page, err := s.store.PromiseLines(ctx, who.Scope(), q)
		if err != nil {
			return err
		}
		for _, p := range page.Items {
			l := lineOf(lines, p.FarmID)
			l.Promises = append(l.Promises, p)
			if l.DueOn == 0 {
				l.DueOn = p.DueOn
			}
		}
		if q.Cursor = page.Next; q.Cursor == "" {
			return nil
		}
	}
	return nil
}

func lineOf(lines map[string]*CallBack, farmID string) *CallBack {
	l := lines[farmID]
	if l == nil {
		l = &CallBack{FarmID: farmID, Promises: []PromiseLine{}, People: []CallPerson{}}
		lines[farmID] = l
	}
	return l
}

func inOrderOfDay(lines map[string]*CallBack) []CallBack {
	out := make([]CallBack, 0, len(lines))
	for _, l := range lines {
		out = append(out, *l)
	}
	slices.SortFunc(out, func(a, b CallBack) int {
		return cmp.Or(cmp.Compare(a.DueOn, b.DueOn), cmp.Compare(b.QuietDays, a.QuietDays), cmp.Compare(a.FarmID, b.FarmID))
	})
	return out
}

// name puts the names of farms and of the people to call on the lines.
func (s *Promises) name(ctx context.Context, who Actor, lines []CallBack) error {
	ids := make([]string, len(lines))
	for i := range lines {
		ids[i] = lines[i].FarmID
	}
	farms, err := s.store.FarmsByIDs(ctx, who.Scope(), ids)
	if err != nil {
		return err
	}
	byID := make(map[string]FarmLine, len(farms))
	for _, f := range farms {
		byID[f.ID] = f
	}
	people, err := s.callable(ctx, ids)
	if err != nil {
		return err
	}
	for i := range lines {
		l := &lines[i]
		f := byID[l.FarmID]
		l.Farm, l.Client, l.Town, l.BranchID = f.Name, f.Client, f.Town, f.BranchID
		l.People = append(l.People, people[l.FarmID]...)
	}
	return nil
}

// callable are the people who work on the farms and have a phone.
func (s *Promises) callable(ctx context.Context, farmIDs []string) (map[string][]CallPerson, error) {
	work, err := s.store.WorkOn(ctx, farmIDs)
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(work, func(a, b farm.Work) int { // in charge first
		if a.InCharge == b.InCharge {
			return 0
		} else if a.InCharge {
			return -1
		}
		return 1
	})
	ids := make([]string, len(work))
	for i, w := range work {
		ids[i] = w.PersonID
	}
	people, err := s.store.PeopleByIDs(ctx, ids)
	if err != nil {
		return nil, err
	}
	byID := make(map[string]farm.Person, len(people))
	for _, p := range people {
		byID[p.ID] = p
	}
	out := map[string][]CallPerson{}
	for _, w := range work {
		if p := byID[w.PersonID]; p.Phone != "" {
			out[w.FarmID] = append(out[w.FarmID], CallPerson{PersonID: p.ID, Name: p.Name, Phone: p.Phone, Language: p.Language, InCharge: w.InCharge})
		}
	}
	return out, nil
}

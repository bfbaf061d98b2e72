package app

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/visit"
)

// EventVisit is the kind of the event that a visit leaves on its farm.
const EventVisit = "visit"

// visitStore is what Visits needs of the database.
type visitStore interface {
	Store
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Person(ctx context.Context, sc Scope, id string) (farm.Person, error)
	AddVisits(ctx context.Context, vs ...Visit) error
	ChangeVisit(ctx context.Context, v Visit) error
	Visit(ctx context.Context, sc Scope, id string) (Visit, error)
	VisitLines(ctx context.Context, sc Scope, q VisitQuery) (Page[VisitLine], error)
	AppendEvents(ctx context.Context, es ...Event) ([]string, error)
	Promise(ctx context.Context, sc Scope, id string) (Promise, error)
	ChangePromise(ctx context.Context, p Promise) error
	AddVisitRequest(ctx context.Context, r VisitRequest) error
	AnswerVisitRequests(ctx context.Context, farmID string, on calendar.Date) error
	VisitRequestsOf(ctx context.Context, farmIDs []string) ([]VisitRequest, error)
}

// Visits are planned by the desk and made by officers.
type Visits struct {
	Core
	store visitStore
	plans *Plans
	days  *Days
	needs *VisitNeeds
	queue Queue
}

// NewVisits wires the use case.
func NewVisits(core Core, store visitStore, plans *Plans, days *Days, needs *VisitNeeds, queue Queue) *Visits {
	return &Visits{Core: core, store: store, plans: plans, days: days, needs: needs, queue: queue}
}

// planners may plan visits for others and see all of their branches; a field
// officer sees and ends the own.
var planners = []farm.Role{farm.Administrator, farm.Manager, farm.Advisor}

// VisitQuery picks visits from one day to another, by day. Zero fields pick
// all. Limit is 50 when 0, and 200 at most.
type VisitQuery struct {
	ID        string
	From      calendar.Date
	To        calendar.Date
	OfficerID string
	FarmID    string
	Branch    string
	State     string
	Cursor    string
	Limit     int
}

// VisitLine is a visit as lists and rounds show it.
type VisitLine struct {
	Visit
	Farm     string        `json:"farm"`
	Town     string        `json:"town"`
	Landmark string        `json:"landmark"`
	Position farm.Position `json:"position"`
	BranchID string        `json:"branch_id"`
	Officer  string        `json:"officer"`
}

// List is a page of visits. Without days it begins today and goes on for four
// weeks; for one farm it holds all.
func (s *Visits) List(ctx context.Context, who Actor, q VisitQuery) (Page[VisitLine], error) {
	if err := who.Need(desk...); err != nil {
		return Page[VisitLine]{}, err
	}
	if !who.Is(planners...) {
		if q.OfficerID != "" && q.OfficerID != who.PersonID {
			return Page[VisitLine]{}, domain.Forbidden("You see your own visits. Ask the desk about those of others.")
		}
		q.OfficerID = who.PersonID
	}
	if q.FarmID != "" {
		if _, err := s.store.Farm(ctx, who.Scope(), q.FarmID); err != nil {
			return Page[VisitLine]{}, err
		}
	} else if q.From == 0 && q.To == 0 {
		today, err := s.days.Today(ctx, who, q.Branch)
		if err != nil {
			return Page[VisitLine]{}, err
		}
		q.From, q.To = today, today.Add(27)
	}
	return s.store.VisitLines(ctx, who.Scope(), q)
}

// One is one visit.
func (s *Visits) One(ctx context.Context, who Actor, id string) (VisitLine, error) {
	if err := who.Need(desk...); err != nil {
		return VisitLine{}, err
	}
	q := VisitQuery{ID: id, Limit: 1}
	if !who.Is(planners...) {
		q.OfficerID = who.PersonID
	}
	page, err := s.store.VisitLines(ctx, who.Scope(), q)
	if err != nil {
		return VisitLine{}, err
	}
	if len(page.Items) == 0 {
		return VisitLine{}, domain.NotFound("visit")
	}
	return page.Items[0], nil
}

// PlanVisit is who goes where and when.
type PlanVisit struct {
	ID        string
	FarmID    string
	OfficerID string
	On        calendar.Date
}

// planAhead is how many days ahead a visit may be planned.
const planAhead = 183

// Plan plans a visit. Why, and what to do there, are kept as they stand now.
func (s *Visits) Plan(ctx context.Context, who Actor, in PlanVisit) (VisitLine, error) {
	if err := who.Need(planners...); err != nil {
		return VisitLine{}, err
	}
	if in.ID == "" {
		in.ID = s.NewID()
	}
	f, err := s.store.Farm(ctx, who.Scope(), in.FarmID)
	if err != nil {
		return VisitLine{}, err
	}
	_, need, err := s.needs.of(ctx, f.ID)
	if err != nil {
		return VisitLine{}, err
	}
	at := s.Now()
	v := Visit{
		ID: in.ID, FarmID: f.ID, OfficerID: in.OfficerID, On: in.On, State: VisitPlanned,
		Reasons: slices.Concat(need.MustGo, need.Reasons), Agenda: visit.Agenda(need), Dealt: []visit.Dealt{}, PlannedBy: who.PersonID, Version: 1,
	}
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.checkPlan(ctx, f, v, at); err != nil {
			return err
		}
		if err := s.store.AddVisits(ctx, v); err != nil {
			return err
		}
		return s.record(ctx, who, at, Change{Verb: "plan", Thing: "visit", ThingID: v.ID, FarmID: f.ID, After: v})
	})
	if err != nil {
		return VisitLine{}, err
	}
	return s.One(ctx, who, v.ID)
}

// checkPlan refuses a day or an officer that cannot be, and a second visit to
// the same farm on one day.
func (s *Visits) checkPlan(ctx context.Context, f FarmLine, v Visit, at time.Time) error {
	today, err := s.plans.Today(ctx, f.BranchID, at)
	if err != nil {
		return err
	}
	if v.On < today || v.On.Sub(today) > planAhead {
		return domain.Invalid("visit-refused", "A visit is planned for a day from today to half a year ahead.",
			domain.Field{Path: "on", Code: "range", Text: "Give a day from today to half a year ahead."})
	}
	if err := s.checkOfficer(ctx, f, v.OfficerID); err != nil {
		return err
	}
	page, err := s.store.VisitLines(ctx, Everything, VisitQuery{FarmID: f.ID, From: v.On, To: v.On, State: VisitPlanned, Limit: 2})
	if err != nil {
		return err
	}
	for _, other := range page.Items {
		if other.ID != v.ID {
			return domain.Conflict("visit-planned", fmt.Sprintf("%s goes there on %s already. Change that visit, or choose another day.", other.Officer, v.On))
		}
	}
	return nil
}

// checkOfficer refuses whoever is not one of the firm's people in the farm's
// branch.
func (s *Visits) checkOfficer(ctx context.Context, f FarmLine, officerID string) error {
	refuse := func(code, text string) error {
		return domain.Invalid("visit-officer", text, domain.Field{Path: "officer_id", Code: code, Text: "Choose someone of the farm's branch."})
	}
	p, err := s.store.Person(ctx, Everything, officerID)
	switch {
	case domain.KindOf(err) == domain.KindNotFound:
		return refuse("unknown", "There is no such person.")
	case err != nil:
		return err
	}
	serves := func(g farm.Grant) bool { return g.Role.Staff() && (g.BranchID == "" || g.BranchID == f.BranchID) }
	if !p.Active || !slices.ContainsFunc(p.Grants, serves) {
		return refuse("other-branch", p.Name+" does not work for this farm's branch.")
	}
	return nil
}

// change is a change of one visit, at the version that the person saw.
func (s *Visits) change(ctx context.Context, who Actor, id string, version int, verb string, do func(ctx context.Context, f FarmLine, v *Visit, at time.Time) error) (VisitLine, error) {
	at := s.Now()
	err := s.store.InTx(ctx, func(ctx context.Context) error {
		old, err := s.store.Visit(ctx, who.Scope(), id)
		if err != nil {
			return err
		}
		if !who.Is(planners...) && old.OfficerID != who.PersonID {
			return domain.NotFound("visit")
		}
		if old.Version != version {
			return domain.Stale()
		}
		if old.State != VisitPlanned {
			return domain.Conflict("visit-over", "This visit is over: "+old.State+". Plan another one.")
		}
		f, err := s.store.Farm(ctx, who.Scope(), old.FarmID)
		if err != nil {
			return err
		}
		v := old
		if err := do(ctx, f, &v, at); err != nil {
			return err
		}
		if err := s.store.ChangeVisit(ctx, v); err != nil {
			return err
		}
		return s.record(ctx, who, at, Change{Verb: verb, Thing: "visit", ThingID: id, FarmID: f.ID, Before: old, After: v})
	})
	if err != nil {
		return VisitLine{}, err
	}
	return s.One(ctx, who, id)
}

// Change gives a planned visit another officer or day; why and what to do
// stay as they were planned.
func (s *Visits) Change(ctx context.Context, who Actor, id string, version int, officerID string, on calendar.Date) (VisitLine, error) {
	if err := who.Need(planners...); err != nil {
		return VisitLine{}, err
	}
	return s.change(ctx, who, id, version, "change", func(ctx context.Context, f FarmLine, v *Visit, at time.Time) error {
		v.OfficerID, v.On = officerID, on
		return s.checkPlan(ctx, f, *v, at)
	})
}

// Missed says that nobody went, and why.
func (s *Visits) Missed(ctx context.Context, who Actor, id string, version int, why string) (VisitLine, error) {
	if err := who.Need(desk...); err != nil {
		return VisitLine{}, err
	}
	return s.change(ctx, who, id, version, "miss", func(_ context.Context, _ FarmLine, v *Visit, _ time.Time) error {
		v.State, v.Missed = VisitMissed, strings.TrimSpace(why)
		return visitText("why", v.Missed)
	})
}

func visitText(path, text string) error {
	if text == "" || len(text) > maxNote {
		return domain.Invalid("visit-refused", "Say it in a few words.", domain.Field{Path: path, Code: "required", Text: "Write something, at most 4,000 characters."})
	}
	return nil
}

// VisitReport is what an officer brings back. Dealt are the keys of the
// reasons that the visit dealt with.
type VisitReport struct {
	DoneOn   calendar.Date // zero = today
	Findings string
	Dealt    []string
}

// lateReport is how many days after a visit it may be reported: as long as a
// phone may be without signal.
const lateReport = 60

// Done says that a visit took place. It counts as news from the farm and as
// its last visit; what it dealt with takes its points away until it grows,
// and a promise that it dealt with is kept.
func (s *Visits) Done(ctx context.Context, who Actor, id string, version int, in VisitReport) (VisitLine, error) {
	if err := who.Need(desk...); err != nil {
		return VisitLine{}, err
	}
	return s.change(ctx, who, id, version, "finish", func(ctx context.Context, f FarmLine, v *Visit, at time.Time) error {
		if err := s.queue.SweepFarm(ctx, f.ID); err != nil {
			return err
		}
		v.State, v.Findings = VisitDone, strings.TrimSpace(in.Findings)
		if err := visitText("findings", v.Findings); err != nil {
			return err
		}
		if err := s.doneOn(ctx, f, v, in.DoneOn, at); err != nil {
			return err
		}
		if err := s.dealt(ctx, v, in.Dealt); err != nil {
			return err
		}
		if err := s.answer(ctx, who, v); err != nil {
			return err
		}
		data, err := json.Marshal(map[string]string{"visit_id": v.ID})
		if err != nil {
			return err
		}
		_, err = s.store.AppendEvents(ctx, Event{
			ID: s.NewID(), FarmID: f.ID, Kind: EventVisit, On: v.DoneOn, PersonID: v.OfficerID, DeviceID: who.DeviceID, RecordedAt: at, Evidence: true, Data: data,
		})
		return err
	})
}

func (s *Visits) doneOn(ctx context.Context, f FarmLine, v *Visit, on calendar.Date, at time.Time) error {
	today, err := s.plans.Today(ctx, f.BranchID, at)
	if err != nil {
		return err
	}
	if on == 0 {
		on = today
	}
	if on > today || today.Sub(on) > lateReport {
		return domain.Invalid("visit-refused", "A visit is reported on its day, or up to 60 days later.",
			domain.Field{Path: "done_on", Code: "range", Text: "Give a day from 60 days ago to today."})
	}
	v.DoneOn = on
	return nil
}

// dealt writes down what the visit dealt with, at the size that it has now; a
// reason of the plan that is gone meanwhile keeps the size that it had.
func (s *Visits) dealt(ctx context.Context, v *Visit, keys []string) error {
	now, _, err := s.needs.of(ctx, v.FarmID)
	if err != nil {
		return err
	}
	v.Dealt = orEmpty(now.DealtWith(keys, v.DoneOn))
	for i, key := range keys {
		if slices.ContainsFunc(v.Dealt, func(d visit.Dealt) bool { return d.Key == key }) {
			continue
		}
		planned := slices.IndexFunc(v.Reasons, func(r visit.Scored) bool { return r.Key == key })
		if planned < 0 {
			return domain.Invalid("visit-refused", "A visit deals with reasons that the farm has.",
				domain.Field{Path: fmt.Sprintf("dealt.%d", i), Code: "unknown", Text: "Name the key of a reason of this visit, or of what the farm needs now."})
		}
		v.Dealt = append(v.Dealt, visit.Dealt{Key: key, On: v.DoneOn, Size: v.Reasons[planned].Size})
	}
	return nil
}

// answer keeps the promises and answers the wishes that the visit dealt with.
func (s *Visits) answer(ctx context.Context, who Actor, v *Visit) error {
	for _, d := range v.Dealt {
		if id, ok := strings.CutPrefix(d.Key, string(visit.Promises)+":"); ok {
			p, err := s.store.Promise(ctx, Everything, id)
			if err != nil {
				return err
			}
			if !p.KeptOn.IsZero() {
				continue
			}
			p.KeptOn, p.KeptBy = v.DoneOn, who.PersonID
			if err := s.store.ChangePromise(ctx, p); err != nil {
				return err
			}
		}
		if strings.HasPrefix(d.Key, visit.OwnerAsked+":") {
			if err := s.store.AnswerVisitRequests(ctx, v.FarmID, v.DoneOn); err != nil {
				return err
			}
		}
	}
	return nil
}

// Ask notes an owner's wish for a visit; the desk may note it for one.
func (s *Visits) Ask(ctx context.Context, who Actor, id, farmID, text string) (VisitRequest, error) {
	r := VisitRequest{ID: id, FarmID: farmID, PersonID: who.PersonID, Text: strings.TrimSpace(text)}
	f, err := s.store.Farm(ctx, who.Scope(), farmID)
	if err != nil {
		return r, err
	}
	if err := who.Need(append([]farm.Role{farm.Owner}, desk...)...); err != nil {
		return r, err
	}
	if err := visitText("text", r.Text); err != nil {
		return r, err
	}
	at := s.Now()
	if r.On, err = s.plans.Today(ctx, f.BranchID, at); err != nil {
		return r, err
	}
	if r.ID == "" {
		r.ID = s.NewID()
	}
	err = s.store.InTx(ctx, func(ctx context.Context) error {
		if err := s.store.AddVisitRequest(ctx, r); err != nil {
			return err
		}
		return s.record(ctx, who, at, Change{Verb: "ask", Thing: "visit-request", ThingID: r.ID, FarmID: farmID, After: r})
	})
	return r, err
}

// Requests are the wishes of a farm, answered ones too.
func (s *Visits) Requests(ctx context.Context, who Actor, farmID string) ([]VisitRequest, error) {
	if _, err := s.store.Farm(ctx, who.Scope(), farmID); err != nil {
		return nil, err
	}
	if err := who.Need(append([]farm.Role{farm.Owner}, desk...)...); err != nil {
		return nil, err
	}
	rows, err := s.store.VisitRequestsOf(ctx, []string{farmID})
	return orEmpty(rows), err
}

package app

import (
	"cmp"
	"context"
	"encoding/json"
	"slices"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/daybook"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/domain/ticket"
)

// todayStore is what Today needs of the database.
type todayStore interface {
	Store
	factStore
	WorkOf(ctx context.Context, personID string) ([]farm.Work, error)
	FarmsByIDs(ctx context.Context, sc Scope, ids []string) ([]FarmLine, error)
	UnitsOf(ctx context.Context, farmIDs []string) ([]farm.Unit, error)
	BatchesOf(ctx context.Context, unitIDs []string) ([]farm.Batch, error)
	MarksOf(ctx context.Context, cycleIDs []string) ([]Mark, error)
	PassesOf(ctx context.Context, personIDs []string) ([]Pass, error)
	learnStore
	EventsSince(ctx context.Context, farmID string, since calendar.Date, kinds ...string) ([]Event, error)
	PromisesOf(ctx context.Context, farmIDs []string) ([]Promise, error)
	RequestsOf(ctx context.Context, farmID string, since calendar.Date) ([]Request, error)
	TicketsOf(ctx context.Context, farmIDs []string, settledSince calendar.Date) ([]ticket.Ticket, error)
	TicketEvents(ctx context.Context, ticketID string) ([]TicketEvent, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	Staff(ctx context.Context, branch string, roles ...farm.Role) ([]farm.Person, error)
	SeenOf(ctx context.Context, personID string, since time.Time) ([]Seen, error)
}

// Today is a caretaker's day, worked out here so that a phone needs one short
// answer: what is open on the own farms and what became of the own reports.
// It names no standing, no reasons and no slip: those a person tells.
type Today struct {
	Core
	store todayStore
	plans *Plans
}

// NewToday wires the use case.
func NewToday(core Core, store todayStore, plans *Plans) *Today {
	return &Today{Core: core, store: store, plans: plans}
}

// TodayPage is the answer. MadeAt tells its age to a phone without a network;
// it is right for AheadDays from then: what begins later carries its day, and
// the phone picks by the date that it is.
type TodayPage struct {
	MadeAt    time.Time   `json:"made_at"`
	AheadDays int         `json:"ahead_days" doc:"For so many days it was worked out."`
	Language  string      `json:"language" doc:"Of every text in it."`
	Farms     []TodayFarm `json:"farms"`
	Seen      []TodaySeen `json:"seen" doc:"What the firm has read of the own entries in the last seven days."`
}

// aheadDays is how long a phone must do without a network.
const aheadDays = 60

// TodayFarm is what is open on one farm, now or within the days ahead. The
// words of the packs stand in the book (Book), so that this stays short.
type TodayFarm struct {
	ID          string          `json:"id"`
	Name        string          `json:"name"`
	Town        string          `json:"town,omitempty"`
	On          calendar.Date   `json:"on" doc:"The day it is there."`
	TimeZone    string          `json:"time_zone"`
	Stocked     bool            `json:"stocked" doc:"Animals live there."`
	Advisors    []TodayContact  `json:"advisors" doc:"Whom to call, at most two."`
	Units       []TodayUnit     `json:"units"`
	Modules     []TodayModule   `json:"modules" doc:"What this caretaker has not passed, no longer holds, or will not hold to the end of the days ahead."`
	MoreModules []TodayModule   `json:"more_modules" doc:"The others that can be learned here: held, or asked of nobody."`
	MissingDays []calendar.Date `json:"missing_days" doc:"Days of the last seven without a daybook, today left out."`
	WrittenOn   []calendar.Date `json:"written_on" doc:"Days of the last seven with a daybook, today included."`
	Days        []TodayDay      `json:"days" doc:"The daybook of the last 14 days as it stands, to look at and to mend."`
	Reports     []TodayReport   `json:"reports" doc:"The own reports that are open, and those settled in the last two weeks."`
	Promises    []TodayPromise  `json:"promises"`
	Requests    []TodayRequest  `json:"requests" doc:"What the firm asks for and nobody has answered; the phone shows each from its day on."`
}

// TodayContact is a person of the firm to call.
type TodayContact struct {
	Name  string `json:"name"`
	Phone string `json:"phone"`
}

// TodayDay is an entry of the daybook that stands.
type TodayDay struct {
	ID     string          `json:"id"`
	On     calendar.Date   `json:"on"`
	UnitID string          `json:"unit_id,omitempty" doc:"Absent where it is about the whole farm."`
	Data   json.RawMessage `json:"data"`
}

// TodayUnit is a unit with what is open on its running cycle.
type TodayUnit struct {
	ID          string               `json:"id"`
	Name        string               `json:"name"`
	Enterprise  string               `json:"enterprise"`
	CycleID     string               `json:"cycle_id,omitempty" doc:"Absent between cycles; then nothing below is there."`
	Animals     *daybook.Stock       `json:"animals,omitempty" doc:"What numbers are held against; absent where nobody knows."`
	NoSaleUntil calendar.Date        `json:"no_sale_until,omitzero" doc:"Until this day nothing is sold: a treatment runs."`
	Strip       *TodayStrip          `json:"strip,omitempty"`
	Milestones  []TodayMilestone     `json:"milestones,omitempty" doc:"What this caretaker may mark as done, now or later."`
	Lists       []TodayList          `json:"lists,omitempty" doc:"Checklists that are in hand, or come in hand."`
	Marks       map[string]TodayMark `json:"marks,omitempty" doc:"What was said of their items, by the item."`
	Work        []TodayWork          `json:"work,omitempty" doc:"What comes again and again."`

	stockedOn calendar.Date // zero when not stocked, or the day is not known
}

// TodayStrip is the cycle's dates without a judgement.
type TodayStrip struct {
	StartedOn calendar.Date `json:"started_on"`
	Harvest   string        `json:"harvest" doc:"The key of the first harvest."`
	Ticks     []TodayTick   `json:"ticks"`
}

// TodayTick is a milestone of the strip; dates that say nothing are absent.
type TodayTick struct {
	Key    string          `json:"key"`
	State  programme.State `json:"state"`
	DoneOn calendar.Date   `json:"done_on,omitzero"`
	P50    calendar.Date   `json:"p50,omitzero"`
	P90    calendar.Date   `json:"p90,omitzero"`
}

// TodayMilestone is one that may be marked: at once, or from a day on.
type TodayMilestone struct {
	Key   string        `json:"key"`
	From  calendar.Date `json:"from,omitzero" doc:"The day from which it is asked for, a week before it may first come; absent when that is now. It may be marked before."`
	After []string      `json:"after,omitempty" doc:"Milestones that this caretaker marks first."`
	Made  string        `json:"made,omitempty" doc:"When it was last spoken of, where it was: an earlier word does not mark it."`
}

// TodayList is a checklist that is in hand between two days.
type TodayList struct {
	Key   string        `json:"key"`
	From  calendar.Date `json:"from,omitzero" doc:"The first day; absent when it is in hand now."`
	Until calendar.Date `json:"until,omitzero" doc:"The last day, once its milestone is done."`
}

// TodayWork is a piece of work of the pack that comes again.
type TodayWork struct {
	Key   string        `json:"key"`
	Due   calendar.Date `json:"due" doc:"The day on which it is next to be done."`
	After string        `json:"after,omitempty" doc:"A milestone that must be done first; then the work is due so many days after it."`
	Until string        `json:"until,omitempty" doc:"A milestone with which it ends."`
}

// TodayMark is the mark that stands.
type TodayMark struct {
	Answer farm.Answer   `json:"answer"`
	Value  *float64      `json:"value,omitempty"`
	Grade  farm.Grade    `json:"grade"`
	On     calendar.Date `json:"on"`
	Made   string        `json:"made,omitempty" doc:"When it was said, as a text that sorts: a later one of the same day takes its place."`
}

// Read is the caretaker's own day, in a language or in the person's own.
func (s *Today) Read(ctx context.Context, who Actor, language string) (TodayPage, error) {
	if err := who.Need(farm.Caretaker); err != nil {
		return TodayPage{}, err
	}
	if language == "" {
		language = who.Language
	}
	page := TodayPage{MadeAt: s.Now(), AheadDays: aheadDays, Language: language, Farms: []TodayFarm{}}
	var err error
	if page.Seen, err = s.seen(ctx, who, page.MadeAt); err != nil {
		return page, err
	}
	farms, since, err := s.farms(ctx, who)
	if err != nil {
		return page, err
	}
	passes, err := s.store.PassesOf(ctx, []string{who.PersonID})
	if err != nil {
		return page, err
	}
	parts, err := loadLearned(ctx, s.store, who.PersonID)
	if err != nil {
		return page, err
	}
	for _, f := range farms {
		v := &todayView{Today: s, who: who, language: language, farm: f, since: since[f.ID], passes: passes, learned: parts, at: page.MadeAt}
		out, err := v.read(ctx)
		if err != nil {
			return page, err
		}
		page.Farms = append(page.Farms, out)
	}
	return page, nil
}

// farms are those on which the caretaker works, by name, and since when. A
// role in the firm beside that of caretaker adds none: this is the own work.
func (s *Today) farms(ctx context.Context, who Actor) (farms []FarmLine, since map[string]calendar.Date, err error) {
	work, err := s.store.WorkOf(ctx, who.PersonID)
	if err != nil || len(work) == 0 {
		return nil, nil, err
	}
	ids, since := make([]string, len(work)), map[string]calendar.Date{}
	for i, w := range work {
		ids[i] = w.FarmID
		if since[w.FarmID], err = calendar.ParseDate(w.Since); err != nil {
			return nil, nil, err
		}
	}
	farms, err = s.store.FarmsByIDs(ctx, Scope{PersonFarms: who.PersonID}, ids)
	farms = slices.DeleteFunc(farms, func(f FarmLine) bool { return f.Status == farm.Closed })
	slices.SortFunc(farms, func(a, b FarmLine) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID)) })
	return farms, since, err
}

// todayView is one farm on its way into the answer.
type todayView struct {
	*Today
	who      Actor
	language string
	farm     FarmLine
	since    calendar.Date // the caretaker's first day there, zero when unknown
	passes   []Pass
	learned  learned
	loaded   *Loaded // the farm's facts, empty where no cycle runs
	at       time.Time
	today    calendar.Date
	events   []Event      // of the kinds that say something of the days, oldest day first
	batches  []farm.Batch // of the farm's units
}

func (v *todayView) read(ctx context.Context) (TodayFarm, error) {
	terms, err := v.plans.Terms(ctx, v.farm.BranchID)
	if err != nil {
		return TodayFarm{}, err
	}
	v.today = terms.Calendar.Day(v.at)
	out := TodayFarm{ID: v.farm.ID, Name: v.farm.Name, Town: v.farm.Town, On: v.today, TimeZone: terms.Calendar.Zone().String()}
	steps := []func(context.Context, *TodayFarm) error{v.load, v.addAdvisors, v.addUnits, v.addModules, v.addDays, v.addReports, v.addPromises, v.addRequests}
	for _, step := range steps {
		if err := step(ctx, &out); err != nil {
			return out, err
		}
	}
	return out, nil
}

// lookBack is how far back entries are read: longer than any work comes again
// and any module stays read, and as long as most cycles.
const lookBack = 2 * 366

// load reads what was entered lately.
func (v *todayView) load(ctx context.Context, _ *TodayFarm) (err error) {
	v.events, err = v.store.EventsSince(ctx, v.farm.ID, v.today.Add(-lookBack), EntryDay, EntryCouldNot, EntryWork)
	return err
}

// said are the events of a kind.
func (v *todayView) said(kind string) []Event {
	var out []Event
	for _, e := range v.events {
		if e.Kind == kind {
			out = append(out, e)
		}
	}
	return out
}

// mostAdvisors is how many numbers a caretaker is given: one may be away.
const mostAdvisors = 2

func (v *todayView) addAdvisors(ctx context.Context, out *TodayFarm) error {
	staff, err := v.store.Staff(ctx, v.farm.BranchID, farm.Advisor)
	out.Advisors = contacts(staff)
	return err
}

// contacts are the first of the staff who have a number.
func contacts(staff []farm.Person) []TodayContact {
	out := []TodayContact{}
	for _, p := range staff {
		if p.Phone != "" && len(out) < mostAdvisors {
			out = append(out, TodayContact{p.Name, p.Phone})
		}
	}
	return out
}

func (v *todayView) addUnits(ctx context.Context, out *TodayFarm) error {
	out.Units = []TodayUnit{}
	units, err := v.store.UnitsOf(ctx, []string{v.farm.ID})
	if err != nil {
		return err
	}
	loaded, err := loadFarm(ctx, v.store, v.plans, v.farm.ID, v.today)
	if domain.KindOf(err) == domain.KindNotFound {
		loaded, err = &Loaded{}, nil // no cycle runs there
	}
	if err != nil {
		return err
	}
	v.loaded = loaded
	if v.batches, err = v.store.BatchesOf(ctx, unitIDs(units)); err != nil {
		return err
	}
	for _, u := range units {
		row := TodayUnit{ID: u.ID, Name: u.Name, Enterprise: u.Enterprise}
		if facts := loaded.unit(u.ID); facts != nil && facts.Cycle != nil {
			if err := v.addCycle(ctx, facts.Cycle, &row, out); err != nil {
				return err
			}
		}
		out.Units = append(out.Units, row)
	}
	return nil
}

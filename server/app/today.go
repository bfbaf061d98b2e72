package app

import (
	"cmp"
	"context"
	"slices"
	"time"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
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
	MarksOf(ctx context.Context, cycleIDs []string) ([]Mark, error)
	PassesOf(ctx context.Context, personIDs []string) ([]Pass, error)
	learnStore
	EventsSince(ctx context.Context, farmID string, since calendar.Date, kinds ...string) ([]Event, error)
	PromisesOf(ctx context.Context, farmIDs []string) ([]Promise, error)
	TicketsOf(ctx context.Context, farmIDs []string, settledSince calendar.Date) ([]ticket.Ticket, error)
	TicketEvents(ctx context.Context, ticketID string) ([]TicketEvent, error)
	PeopleByIDs(ctx context.Context, ids []string) ([]farm.Person, error)
	Staff(ctx context.Context, branch string, roles ...farm.Role) ([]farm.Person, error)
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

// TodayPage is the answer. MadeAt tells its age to a phone without a network.
type TodayPage struct {
	MadeAt   time.Time   `json:"made_at"`
	Language string      `json:"language" doc:"Of every text in it."`
	Farms    []TodayFarm `json:"farms"`
}

// TodayFarm is what is open on one farm.
type TodayFarm struct {
	ID          string          `json:"id"`
	Name        string          `json:"name"`
	Town        string          `json:"town,omitempty"`
	On          calendar.Date   `json:"on" doc:"The day it is there."`
	TimeZone    string          `json:"time_zone"`
	Stocked     bool            `json:"stocked" doc:"Animals live there."`
	Advisors    []TodayContact  `json:"advisors" doc:"Whom to call, at most two."`
	Units       []TodayUnit     `json:"units"`
	Modules     []TodayModule   `json:"modules" doc:"What this caretaker has not passed, no longer holds, or holds for less than a month."`
	MoreModules []TodayModule   `json:"more_modules" doc:"The others that can be learned here: held, or asked of nobody."`
	MissingDays []calendar.Date `json:"missing_days" doc:"Days of the last seven without a daybook, today left out."`
	WrittenOn   []calendar.Date `json:"written_on" doc:"Days of the last seven with a daybook, today included."`
	Reports     []TodayReport   `json:"reports" doc:"The own reports that are open, and those settled in the last two weeks."`
	Promises    []TodayPromise  `json:"promises"`
}

// TodayContact is a person of the firm to call.
type TodayContact struct {
	Name  string `json:"name"`
	Phone string `json:"phone"`
}

// TodayUnit is a unit with what is open on its running cycle.
type TodayUnit struct {
	ID         string           `json:"id"`
	Name       string           `json:"name"`
	Enterprise string           `json:"enterprise"`
	CycleID    string           `json:"cycle_id,omitempty" doc:"Absent between cycles; then nothing below is there."`
	Strip      *TodayStrip      `json:"strip,omitempty"`
	Milestones []TodayMilestone `json:"milestones,omitempty" doc:"What this caretaker may mark as done now."`
	Checklists []TodayChecklist `json:"checklists,omitempty"`
	Reading    string           `json:"reading,omitempty" enum:"cover,weight" doc:"What can be read while the next milestone is under way."`

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
	Key      string          `json:"key"`
	Name     string          `json:"name"`
	State    programme.State `json:"state"`
	DoneOn   calendar.Date   `json:"done_on,omitzero"`
	Earliest calendar.Date   `json:"earliest,omitzero"`
	Latest   calendar.Date   `json:"latest,omitzero"`
	P50      calendar.Date   `json:"p50,omitzero"`
	P90      calendar.Date   `json:"p90,omitzero"`
}

// TodayMilestone is one that may be marked.
type TodayMilestone struct {
	Key  string `json:"key"`
	Name string `json:"name"`
	Note string `json:"note,omitempty"`
}

// TodayChecklist is a checklist with the items that the caretaker may mark.
type TodayChecklist struct {
	Key   string      `json:"key"`
	Name  string      `json:"name"`
	Items []TodayItem `json:"items"`
}

// TodayItem is one thing to verify, with the mark that stands.
type TodayItem struct {
	Key      string         `json:"key"`
	Text     string         `json:"text"`
	Help     string         `json:"help,omitempty"`
	Caution  string         `json:"caution,omitempty"`
	Suffices farm.Grade     `json:"suffices" doc:"The weakest evidence that is enough; a caretaker alone gives the word."`
	Measured *TodayMeasured `json:"measured,omitempty"`
	Mark     *TodayMark     `json:"mark,omitempty"`
}

// TodayMeasured is the value that an item asks for. Least and Most bound what
// can be; Low and High what holds.
type TodayMeasured struct {
	Measure checklists.Measure `json:"measure"`
	Least   float64            `json:"least"`
	Most    float64            `json:"most"`
	Low     *float64           `json:"low,omitempty"`
	High    *float64           `json:"high,omitempty"`
}

// TodayMark is the mark that stands.
type TodayMark struct {
	Answer farm.Answer   `json:"answer"`
	Value  *float64      `json:"value,omitempty"`
	Grade  farm.Grade    `json:"grade"`
	On     calendar.Date `json:"on"`
}

// Read is the caretaker's own day, in a language or in the person's own.
func (s *Today) Read(ctx context.Context, who Actor, language string) (TodayPage, error) {
	if err := who.Need(farm.Caretaker); err != nil {
		return TodayPage{}, err
	}
	if language == "" {
		language = who.Language
	}
	page := TodayPage{MadeAt: s.Now(), Language: language, Farms: []TodayFarm{}}
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
}

func (v *todayView) say(t checklists.Text) string { return t.In(v.language) }

func (v *todayView) read(ctx context.Context) (TodayFarm, error) {
	terms, err := v.plans.Terms(ctx, v.farm.BranchID)
	if err != nil {
		return TodayFarm{}, err
	}
	v.today = terms.Calendar.Day(v.at)
	out := TodayFarm{ID: v.farm.ID, Name: v.farm.Name, Town: v.farm.Town, On: v.today, TimeZone: terms.Calendar.Zone().String()}
	for _, step := range []func(context.Context, *TodayFarm) error{v.addAdvisors, v.addUnits, v.addModules, v.addDays, v.addReports, v.addPromises} {
		if err := step(ctx, &out); err != nil {
			return out, err
		}
	}
	return out, nil
}

// mostAdvisors is how many numbers a caretaker is given: one may be away.
const mostAdvisors = 2

func (v *todayView) addAdvisors(ctx context.Context, out *TodayFarm) error {
	out.Advisors = []TodayContact{}
	staff, err := v.store.Staff(ctx, v.farm.BranchID, farm.Advisor)
	for _, p := range staff {
		if p.Phone != "" && len(out.Advisors) < mostAdvisors {
			out.Advisors = append(out.Advisors, TodayContact{p.Name, p.Phone})
		}
	}
	return err
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

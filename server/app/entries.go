package app

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
	"tendfold/domain/merge"
)

// The kinds of entries that people make about a farm.
const (
	EntryMilestone   = "milestone"    // a milestone was done on a day
	EntryUndone      = "not-done"     // a milestone marked by mistake
	EntryItem        = "item"         // a checklist item was looked at
	EntryCover       = "cover"        // a reading of plant cover
	EntryWeights     = "weights"      // a sample of animals was weighed
	EntryDay         = "day"          // the daybook of one day
	EntryCouldNot    = "could-not"    // the day's work could not be done, and why
	EntryRequest     = "request"      // what the firm asked for was done
	EntryWork        = "work"         // a piece of work that comes again was done
	EntryTrouble     = "trouble"      // something is wrong
	EntryModule      = "module"       // a person of the firm saw whether a caretaker can do it
	EntryAnswers     = "answers"      // a round of a module's questions
	EntryModuleRead  = "module-read"  // a module was gone through; the practical check is still to come
	EntryCallMe      = "call-me"      // please call back
	EntryStocking    = "stocking"     // animals were put in
	EntryNote        = "note"         // anything else worth keeping
	EntrySnag        = "snag"         // a fault of the build
	EntrySnagMended  = "snag-mended"  // it was put right
	EntryPause       = "pause"        // work stops for a while
	EntryPauseAgreed = "pause-agreed" // the second person agrees to a long one
	EntryPauseEnded  = "pause-ended"  // work goes on
)

// entryStore is what Entries needs of the database.
type entryStore interface {
	Store
	// Try runs fn within ctx's transaction; its error undoes fn alone.
	Try(ctx context.Context, fn func(ctx context.Context) error) error
	factStore
	// TicketOfReport is the id of the ticket that began with an entry; "" where none did.
	TicketOfReport(ctx context.Context, farmID, entryID string) (string, error)
	Farm(ctx context.Context, sc Scope, id string) (FarmLine, error)
	Unit(ctx context.Context, sc Scope, id string) (farm.Unit, error)
	UnitsOf(ctx context.Context, farmIDs []string) ([]farm.Unit, error)
	BatchesOf(ctx context.Context, unitIDs []string) ([]farm.Batch, error)
	Cycle(ctx context.Context, sc Scope, id string) (CycleLine, error)
	MilestonesOf(ctx context.Context, cycleIDs []string) ([]Milestone, error)
	MarkMilestone(ctx context.Context, cycleID, key string, on calendar.Date, grade farm.Grade, by string) error
	PutMarks(ctx context.Context, ms ...Mark) error
	MarksOf(ctx context.Context, cycleIDs []string) ([]Mark, error)
	AddReadings(ctx context.Context, rs ...Reading) error
	AddPasses(ctx context.Context, ps ...Pass) error
	learnStore
	AddAttempt(ctx context.Context, a Attempt) error
	AddCheck(ctx context.Context, c PracticalCheck) error
	PutEarned(ctx context.Context, personID string, key ModuleKey, ps ...Pass) error
	EndPasses(ctx context.Context, personID string, key ModuleKey, on, until calendar.Date) error
	PassesOf(ctx context.Context, personIDs []string) ([]Pass, error)
	WorkOn(ctx context.Context, farmIDs []string) ([]farm.Work, error)
	AddBatches(ctx context.Context, bs ...farm.Batch) error
	AddSnags(ctx context.Context, ns ...Snag) error
	Snag(ctx context.Context, sc Scope, id string) (Snag, error)
	ChangeSnag(ctx context.Context, n Snag) error
	AddPause(ctx context.Context, p Pause) error
	Pause(ctx context.Context, sc Scope, id string) (Pause, error)
	PausesOf(ctx context.Context, cycleIDs []string) ([]Pause, error)
	ChangePause(ctx context.Context, p Pause) error
	AddPromises(ctx context.Context, ps ...Promise) error
	Request(ctx context.Context, sc Scope, id string) (Request, error)
	ChangeRequest(ctx context.Context, r Request) error
	BumpCycle(ctx context.Context, id string, version int) error
	AppendEvents(ctx context.Context, es ...Event) ([]string, error)
	KnownEvents(ctx context.Context, ids []string) ([]string, error)
	RecordAll(ctx context.Context, at time.Time, personID string, newID func() string, changes []Change) error
	Event(ctx context.Context, sc Scope, id string) (Event, error)
	EventsSince(ctx context.Context, farmID string, since calendar.Date, kinds ...string) ([]Event, error)
	LastStamp(ctx context.Context, farmID string) (string, error)
	MediaOf(ctx context.Context, entryIDs []string) ([]Medium, error)
}

// Entries takes what people report: every entry is appended as it was said,
// and the current rows, the ticket it opens and the sweep of the farm follow
// in the same transaction.
type Entries struct {
	Core
	store   entryStore
	plans   *Plans
	tickets *Tickets
	queue   Queue
}

// NewEntries wires the use case.
func NewEntries(core Core, store entryStore, plans *Plans, tickets *Tickets, queue Queue) *Entries {
	return &Entries{Core: core, store: store, plans: plans, tickets: tickets, queue: queue}
}

// entry is one event on its way in, with what its kind needs.
type entry struct {
	Event
	who   Actor
	at    time.Time
	today calendar.Date
	farm  FarmLine
	cycle CycleLine
	pack  *checklists.Pack
}

// kindOf says who may make an entry of a kind, whether it is news from the
// farm, whether it is about a running cycle, and what it does.
type kindOf struct {
	staff   []farm.Role // of the firm
	farmers bool        // caretakers of the farm too
	news    bool
	cycle   bool
	apply   func(s *Entries, ctx context.Context, e *entry) error
	planned bool // may lie ahead (a pause)
}

var (
	desk   = []farm.Role{farm.Administrator, farm.Manager, farm.Advisor, farm.FieldOfficer}
	leader = []farm.Role{farm.Administrator, farm.Manager}
)

// kinds is filled in init: the functions refer back to it.
var kinds map[string]kindOf

func init() {
	kinds = map[string]kindOf{
		EntryMilestone:   {staff: desk, farmers: true, news: true, cycle: true, apply: (*Entries).milestone},
		EntryUndone:      {staff: desk, cycle: true, apply: (*Entries).undone},
		EntryItem:        {staff: desk, farmers: true, news: true, cycle: true, apply: (*Entries).item},
		EntryCover:       {staff: desk, farmers: true, news: true, cycle: true, apply: (*Entries).cover},
		EntryWeights:     {staff: desk, farmers: true, news: true, cycle: true, apply: (*Entries).weights},
		EntryDay:         {staff: desk, farmers: true, news: true, apply: (*Entries).day},
		EntryCouldNot:    {staff: desk, farmers: true, news: true, apply: (*Entries).couldNot},
		EntryWork:        {staff: desk, farmers: true, news: true, cycle: true, apply: (*Entries).workDone},
		EntryRequest:     {staff: desk, farmers: true, news: true, apply: (*Entries).requestDone},
		EntryTrouble:     {staff: desk, farmers: true, news: true, apply: (*Entries).trouble},
		EntryModule:      {staff: desk, apply: (*Entries).module},
		EntryAnswers:     {staff: desk, farmers: true, news: true, apply: (*Entries).answers},
		EntryModuleRead:  {farmers: true, news: true, apply: (*Entries).moduleRead},
		EntryCallMe:      {staff: desk, farmers: true, news: true, apply: (*Entries).callMe},
		EntryStocking:    {staff: desk, news: true, cycle: true, apply: (*Entries).stocking},
		EntryNote:        {staff: desk, farmers: true, news: true, apply: (*Entries).note},
		EntrySnag:        {staff: desk, apply: (*Entries).snag},
		EntrySnagMended:  {staff: desk, apply: (*Entries).snagMended},
		EntryPause:       {staff: leader, cycle: true, planned: true, apply: (*Entries).pause},
		EntryPauseAgreed: {staff: leader, cycle: true, apply: (*Entries).pauseAgreed},
		EntryPauseEnded:  {staff: desk, cycle: true, apply: (*Entries).pauseEnded},
	}
}

// AddNow takes one entry of somebody who is with us this moment and sees what
// is on record. Without a stamp of its own it gets ours, which comes after all
// that is known of the farm: nobody's fast clock makes it void.
func (s *Entries) AddNow(ctx context.Context, who Actor, ev Event) (Event, error) {
	if ev.HLC == "" {
		last, err := s.store.LastStamp(ctx, ev.FarmID)
		if err != nil {
			return ev, err
		}
		ev.HLC = merge.After(last, s.Now().UnixMilli())
	}
	return s.Add(ctx, who, ev)
}

// Add takes one entry. An entry with an id that is kept already, with the
// same content, is answered as the first time; so a phone that never saw the
// answer sends again without harm.
func (s *Entries) Add(ctx context.Context, who Actor, ev Event) (Event, error) {
	kind, ok := kinds[ev.Kind]
	if !ok {
		return Event{}, domain.Invalid("entry-kind", fmt.Sprintf("There is no kind of entry called %q.", ev.Kind), domain.Field{Path: "kind", Code: "unknown", Text: "Choose one of the kinds in the API description."})
	}
	undo := func() {}
	err := s.store.Try(ctx, func(ctx context.Context) error {
		e, err := s.prepare(ctx, who, ev, kind)
		if err != nil {
			return err
		}
		ev = e.Event
		added, err := s.store.AppendEvents(ctx, e.Event)
		if err != nil || len(added) == 0 {
			return err
		}
		if undo, err = s.sweepOnce(ctx, e.FarmID); err != nil {
			return err
		}
		if err := kind.apply(s, ctx, e); err != nil {
			return err
		}
		return s.recordEntry(ctx, e)
	})
	if err != nil {
		undo()
	}
	return ev, err
}

// prepare finds what the entry is about, and refuses it when the actor may
// not make it or it cannot be.
func (s *Entries) prepare(ctx context.Context, who Actor, ev Event, kind kindOf) (*entry, error) {
	at := s.Now()
	e := &entry{Event: ev, who: who, at: at}
	var err error
	if e.farm, err = s.farmOf(ctx, who, ev.FarmID); err != nil {
		return nil, err
	}
	if !who.Is(kind.staff...) && !(kind.farmers && who.Is(farm.Caretaker)) {
		return nil, domain.Forbidden("Your role does not make this kind of entry. Tell the desk, they can.")
	}
	if e.farm.Status == farm.Closed {
		return nil, domain.Conflict("farm-closed", "This farm is closed in the register. Open it again before adding entries.")
	}
	if e.today, err = s.plans.Today(ctx, e.farm.BranchID, at); err != nil {
		return nil, err
	}
	if err := e.check(kind); err != nil {
		return nil, err
	}
	if err := s.findCycle(ctx, e, kind); err != nil {
		return nil, err
	}
	e.PersonID, e.DeviceID, e.RecordedAt, e.Evidence = who.PersonID, who.DeviceID, at, kind.news
	e.ClockOff = e.ClockOff || e.isAhead(at)
	return e, nil
}

// isAhead says whether a clock of the device was ahead of ours.
func (e Event) isAhead(now time.Time) bool {
	stamped, ok := merge.StampMs(e.HLC)
	return !e.DeviceAt.IsZero() && e.DeviceAt.Sub(now) > clockError || ok && time.UnixMilli(stamped).Sub(now) > clockError
}

// word is what the entry tells of when it was said, for merge.
func (e Event) word() merge.Word {
	var device int64
	if !e.DeviceAt.IsZero() {
		device = e.DeviceAt.UnixMilli()
	}
	return merge.Word{ID: e.ID, On: e.On, Made: merge.Made(e.HLC, e.ID, device)}
}

// clockError is how far ahead a device's clock may be before its entries are
// flagged. A device that was offline is behind for good reasons, so only the
// sync, which knows when it sent, flags clocks that are behind.
const clockError = 5 * time.Minute

// oldest is how many days back an entry may be dated.
const oldest = 3 * 366

func (e *entry) check(kind kindOf) error {
	var fields []domain.Field
	bad := func(path, code, text string) {
		fields = append(fields, domain.Field{Path: path, Code: code, Text: text})
	}
	if e.ID == "" || len(e.ID) > 64 {
		bad("id", "required", "Give the entry an id of its own, at most 64 characters.")
	}
	switch {
	case e.On.IsZero():
		bad("on", "required", "Say on which day this was.")
	case e.On > e.today && !kind.planned:
		bad("on", "future", fmt.Sprintf("%s is after today. Check the day, and the date of the phone.", e.On))
	case e.today.Sub(e.On) > oldest || e.On.Sub(e.today) > oldest:
		bad("on", "far", fmt.Sprintf("%s is too far away. Check the year.", e.On))
	}
	if !attachedGood(e.Data) {
		bad("data.media", "invalid", fmt.Sprintf("Name at most %d photos and voice notes, each by its id, a UUID.", mostMediaPerEntry))
	}
	if _, ok := merge.StampMs(e.HLC); !ok && e.HLC != "" {
		bad("hlc", "malformed", "A stamp is 12, 4 and 8 hexadecimal digits in lower case, joined by hyphens.")
	}
	if len(e.Data) > maxEntryData {
		bad("data", "too-large", "This entry is too long. Send longer texts as several notes.")
	}
	if fields != nil {
		return domain.Invalid("entry-refused", "This entry cannot be kept as it is.", fields...)
	}
	return nil
}

// maxEntryData bounds the data of one entry in bytes; photos and voice notes
// travel apart.
const maxEntryData = 16 << 10

// findCycle loads the cycle that the entry names; an entry about a cycle is
// about a running one of this very farm.
func (s *Entries) findCycle(ctx context.Context, e *entry, kind kindOf) error {
	if e.CycleID == "" {
		if kind.cycle {
			return domain.Invalid("entry-refused", "Say which cycle this is about.", domain.Field{Path: "cycle_id", Code: "required", Text: "Name a running cycle of the farm."})
		}
		return s.findUnit(ctx, e)
	}
	c, err := s.store.Cycle(ctx, e.who.Scope(), e.CycleID)
	if err != nil {
		return err
	}
	if c.FarmID != e.FarmID {
		return domain.NotFound("cycle")
	}
	if !c.EndedOn.IsZero() {
		return domain.Conflict("cycle-ended", fmt.Sprintf("This cycle ended on %s. Start the next one before adding entries to it.", c.EndedOn))
	}
	if e.On < c.StartedOn.Add(-oldest) {
		return domain.Invalid("entry-refused", "This lies long before the cycle began.", domain.Field{Path: "on", Code: "far", Text: "Check the year."})
	}
	pack, ok := s.Packs.Pack(c.Enterprise)
	if !ok {
		return domain.Conflict("enterprise-unknown", fmt.Sprintf("The pack of %q is not installed here.", c.Enterprise))
	}
	e.cycle, e.pack, e.UnitID = c, pack, c.UnitID
	return nil
}

func (s *Entries) findUnit(ctx context.Context, e *entry) error {
	if e.UnitID == "" {
		return nil
	}
	u, err := s.store.Unit(ctx, e.who.Scope(), e.UnitID)
	if err != nil {
		return err
	}
	if u.FarmID != e.FarmID {
		return domain.NotFound("unit")
	}
	e.pack, _ = s.Packs.Pack(u.Enterprise)
	return nil
}

// decode reads the data of an entry strictly: a word that the kind does not
// know is refused rather than lost.
func decode[T any](e *entry) (T, error) {
	var v T
	raw := withoutMedia(e.Data)
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		return v, domain.Invalid("entry-refused", "The data of this entry cannot be read.", domain.Field{Path: "data", Code: "malformed", Text: err.Error()})
	}
	return v, nil
}

// refuse is an error about one field of the data.
func refuse(path, code, text string) error {
	return domain.Invalid("entry-refused", "This entry cannot be kept as it is.", domain.Field{Path: "data." + path, Code: code, Text: text})
}

// short refuses a text that is too long for its place.
func short(path, text string, most int) error {
	if len(text) > most {
		return refuse(path, "too-long", fmt.Sprintf("At most %d characters.", most))
	}
	return nil
}

// maxNote bounds free text in bytes.
const maxNote = 4000

// grade is how well the entry is known: what staff say they saw, they saw;
// a caretaker gives a word. The register's grade belongs to intake alone, and
// a photo's to an item that carries one; see itemGrade.
func (e *entry) grade(asked farm.Grade) (farm.Grade, error) {
	staff := e.who.Staff()
	switch {
	case asked == "" && staff:
		return farm.StaffSaw, nil
	case asked == "":
		return farm.WordGiven, nil
	case asked == farm.WordGiven, asked == farm.StaffSaw && staff:
		return asked, nil
	}
	return "", refuse("grade", "not-yours", "Choose one of: staff saw it, word of the caretaker. Only staff can say that staff saw it, and only a checklist item can rest on a photo.")
}

// mayDo says whether one of the actor's roles is among those that a step or
// an item names; managers and administrators may stand in for anyone.
func (e *entry) mayDo(by []farm.Role) error {
	if len(by) == 0 || e.who.Is(leader...) || slices.ContainsFunc(by, func(r farm.Role) bool { return e.who.Is(r) }) {
		return nil
	}
	if e.who.Is(farm.Advisor) && slices.Contains(by, farm.FieldOfficer) {
		return nil // the desk takes down what an officer tells it
	}
	return domain.Forbidden("This is for someone else of the firm to mark. Tell the desk what you see; they will mark it.")
}

package app

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/daybook"
	"tendfold/domain/farm"
	"tendfold/domain/ticket"
)

func (s *Entries) day(ctx context.Context, e *entry) error {
	in, err := decode[DayEntry](e)
	if err != nil {
		return err
	}
	if deaths, _ := in.Values["deaths"].(float64); in.AllWell && deaths > 0 {
		return refuse("all_well", "contradiction", "All well means no deaths. Leave one of the two out.")
	}
	housed, err := s.housedOn(ctx, e)
	if err != nil {
		return err
	}
	if err := s.fromPaper(ctx, e, in); err != nil {
		return err
	}
	if err := s.judgeAll(ctx, e, housed, in); err != nil {
		return err
	}
	return short("note", in.Note, maxNote)
}

// judgeAll holds every value against its field and names all that are
// refused, so that whoever types a page in sees them at once.
func (s *Entries) judgeAll(ctx context.Context, e *entry, housed []*checklists.Pack, in DayEntry) error {
	var refused *domain.Error
	for _, name := range slices.Sorted(maps.Keys(in.Values)) {
		f, ok := fieldOf(housed, name)
		err := refuse(name, "unknown", fmt.Sprintf("The daybook of this farm has no field %q.", name))
		if ok {
			err = s.judge(ctx, e, f, in)
		}
		var one *domain.Error
		switch {
		case err == nil:
		case !errors.As(err, &one) || one.Kind != domain.KindInvalid:
			return err
		case refused == nil:
			refused = one
		default:
			refused.Fields = append(refused.Fields, one.Fields...)
		}
	}
	if refused != nil {
		return refused
	}
	return nil
}

// fromPaper wants a page that the firm types in to name who of the farm wrote
// it; nobody else speaks for another.
func (s *Entries) fromPaper(ctx context.Context, e *entry, in DayEntry) error {
	switch {
	case in.Source == "" && in.WrittenBy == "":
		return nil
	case in.Source != FromPaper:
		return refuse("source", "unknown", "A day comes as it was given, or from paper.")
	case !e.who.Staff():
		return domain.Forbidden("The firm types in what was written on paper. Write your own day in the daybook.")
	case in.WrittenBy == "":
		return refuse("written_by", "required", "Say who wrote the page.")
	}
	return s.works(ctx, in.WrittenBy, e.FarmID)
}

// housedOn are the packs of what lives where the entry is about.
func (s *Entries) housedOn(ctx context.Context, e *entry) ([]*checklists.Pack, error) {
	if e.pack != nil {
		return []*checklists.Pack{e.pack}, nil
	}
	units, err := s.store.UnitsOf(ctx, []string{e.FarmID})
	var out []*checklists.Pack
	for _, u := range units {
		if p, ok := s.Packs.Pack(u.Enterprise); ok && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out, err
}

// firstFields are those that every phone knew before packs had a daybook;
// entries with them are good whatever the pack asks for.
var firstFields = map[string]checklists.FieldKind{
	"deaths": checklists.CountField, "missing": checklists.CountField, "eggs": checklists.CountField, "hatchlings": checklists.CountField,
	"feed_kg": checklists.AmountField, "water_l": checklists.AmountField,
}

func fieldOf(packs []*checklists.Pack, name string) (checklists.Field, bool) {
	for _, p := range packs {
		if f, ok := p.Daybook.Field(name); ok {
			return f, true
		}
	}
	kind, ok := firstFields[name]
	least, most := 0.0, float64(mostAnimals)
	return checklists.Field{Key: name, Kind: kind, Bounds: daybook.Bounds{Least: &least, Most: &most, Whole: kind == checklists.CountField}}, ok
}

// judge holds a value against its field. An impossible one is refused. An
// unlikely one is asked back by the phone, which has the same bounds; a person
// of the firm, who has a network, is asked here. What a caretaker sends is
// kept: the phone may be months old, and the word is the caretaker's.
func (s *Entries) judge(ctx context.Context, e *entry, f checklists.Field, in DayEntry) error {
	v, numeric := in.Values[f.Key].(float64)
	if numeric != f.Kind.Numeric() {
		return refuse(f.Key, "malformed", "This field takes another kind of value.")
	}
	if !numeric {
		return judgeText(f, in.Values[f.Key].(string))
	}
	stock, err := s.stockFor(ctx, e, f, v)
	if err != nil {
		return err
	}
	switch r := f.Bounds.Judge(v, stock); {
	case r.Verdict == daybook.Impossible:
		return refuse(f.Key, "impossible", impossible(r))
	case r.Verdict == daybook.Unlikely && e.who.Staff() && !slices.Contains(in.Sure, f.Key):
		return refuse(f.Key, "unlikely", fmt.Sprintf("%g: is that right? If so, name the field in sure.", v))
	}
	return nil
}

func impossible(r daybook.Ruling) string {
	switch r.Why {
	case daybook.NotWhole:
		return "A count is a whole number."
	case daybook.TooLow:
		return fmt.Sprintf("This cannot be below %g.", r.Limit)
	case daybook.OverStock:
		return fmt.Sprintf("This cannot be: by the register at most %g.", r.Limit)
	case daybook.TooHigh, daybook.OfStock:
	}
	return fmt.Sprintf("This cannot be above %g.", r.Limit)
}

func judgeText(f checklists.Field, v string) error {
	switch f.Kind {
	case checklists.ChoiceField:
		if !slices.ContainsFunc(f.Choices, func(o checklists.Option) bool { return o.Key == v }) {
			return refuse(f.Key, "unknown", fmt.Sprintf("%q is not one of its choices.", v))
		}
	case checklists.DateField:
		if _, err := calendar.ParseDate(v); err != nil {
			return refuse(f.Key, "malformed", "Write the day as 2026-03-12.")
		}
	case checklists.TextField, checklists.CountField, checklists.AmountField:
	}
	return short(f.Key, v, maxNote)
}

// stockFor is the stock that a value is held against. It is looked up only
// for what the stock bounds; most days nothing has died.
func (s *Entries) stockFor(ctx context.Context, e *entry, f checklists.Field, v float64) (daybook.Stock, error) {
	var sum daybook.Stock
	if v <= 0 || f.Bounds.MostOfStock == 0 && f.Bounds.AskOfStock == 0 {
		return sum, nil
	}
	units, err := s.store.UnitsOf(ctx, []string{e.FarmID})
	if err != nil {
		return sum, err
	}
	batches, err := s.store.BatchesOf(ctx, unitIDs(units))
	if err != nil {
		return sum, err
	}
	days, err := s.daysBefore(ctx, e)
	if err != nil {
		return sum, err
	}
	for _, u := range units {
		pack, ok := s.Packs.Pack(u.Enterprise)
		if !ok || e.UnitID != "" && e.UnitID != u.ID {
			continue
		}
		if one := stockOf(batches, days, cycleOn(batches, u.ID, e.On), u.ID, pack); one != nil {
			sum.PutIn, sum.Living = sum.PutIn+one.PutIn, sum.Living+one.Living
		}
	}
	return sum, nil
}

// daysBefore is the daybook of the farm, for whoever is asked back: what is
// impossible does not depend on it. The entry itself, and what it corrects,
// are no reason to doubt it.
func (s *Entries) daysBefore(ctx context.Context, e *entry) ([]Event, error) {
	if !e.who.Staff() {
		return nil, nil
	}
	days, err := s.store.EventsSince(ctx, e.FarmID, e.On.Add(-lookBack), EntryDay)
	return slices.DeleteFunc(days, func(o Event) bool { return o.ID == e.ID || o.ID == e.Replaces }), err
}

// cycleOn is the cycle of the latest batch that a unit had on a day.
func cycleOn(batches []farm.Batch, unitID string, on calendar.Date) string {
	var last farm.Batch
	for _, b := range batches {
		if b.UnitID == unitID && b.StockedOn <= on && b.StockedOn >= last.StockedOn {
			last = b
		}
	}
	return last.CycleID
}

// WorkEntry is the data of EntryWork: a piece of work of the pack was done.
type WorkEntry struct {
	Work string `json:"work"`
	Note string `json:"note,omitempty"`
}

func (s *Entries) workDone(_ context.Context, e *entry) error {
	in, err := decode[WorkEntry](e)
	if err != nil {
		return err
	}
	if _, ok := e.pack.Daybook.WorkOf(in.Work); !ok {
		return refuse("work", "unknown", fmt.Sprintf("The pack has no work %q.", in.Work))
	}
	return short("note", in.Note, maxNote)
}

// CouldNotEntry is the data of EntryCouldNot: of one task, or of the day as a
// whole where none is named.
type CouldNotEntry struct {
	Task   string `json:"task,omitempty"` // such as work:CYCLE:KEY or request:ID
	Reason string `json:"reason"`         // no-feed, rain, ill, no-water, other
	Note   string `json:"note,omitempty"`
}

// maxTask bounds the name of a task.
const maxTask = 200

var couldNotReasons = []string{"no-feed", "rain", "ill", "no-water", "other"}

func (s *Entries) couldNot(ctx context.Context, e *entry) error {
	in, err := decode[CouldNotEntry](e)
	if err != nil {
		return err
	}
	if !slices.Contains(couldNotReasons, in.Reason) {
		return refuse("reason", "unknown", "Choose no-feed, rain, ill, no-water or other.")
	}
	if err := short("task", in.Task, maxTask); err != nil {
		return err
	}
	if err := short("note", in.Note, maxNote); err != nil {
		return err
	}
	if id, ok := strings.CutPrefix(in.Task, requestTask); ok {
		return s.answerRequest(ctx, e, id, couldNotBeDone(in.Reason, in.Note))
	}
	return nil
}

// TroubleEntry is the data of EntryTrouble: a sign of the pack, or words.
type TroubleEntry struct {
	Sign string `json:"sign,omitempty"`
	Note string `json:"note,omitempty"`
	// About is the report, by its entry, to which this adds something.
	About string `json:"about,omitempty"`
}

// trouble opens a ticket at once: the sign's impact and time to loss give its
// urgency, and danger to a person stands above both. Words alone are taken as
// something that may be lost within days, until somebody has assessed them.
func (s *Entries) trouble(ctx context.Context, e *entry) error {
	in, err := decode[TroubleEntry](e)
	if err != nil {
		return err
	}
	if err := short("note", in.Note, maxNote); err != nil {
		return err
	}
	if added, err := s.addToReport(ctx, e, in); added || err != nil {
		return err
	}
	o := ticket.Opening{
		Key:    ticket.Key{FarmID: e.FarmID, UnitID: e.UnitID, CycleID: e.CycleID, Subject: in.Sign},
		Origin: ticket.FromCaretaker, Title: in.Note, Impact: ticket.Middle, TimeToLoss: ticket.Week,
	}
	if e.who.Staff() {
		o.Origin = ticket.FromVisit
	}
	if in.Sign != "" {
		sign, ok := s.signOf(e, in.Sign)
		if !ok {
			return refuse("sign", "unknown", fmt.Sprintf("The pack has no sign %q.", in.Sign))
		}
		o.Impact, o.TimeToLoss, o.Danger = sign.Impact, sign.TimeToLoss, sign.Danger
		o.Reasons = []domain.Reason{{Code: "sign", Values: map[string]any{"sign": in.Sign, "enterprise": s.enterpriseOf(e, in.Sign)}}}
		if o.Title == "" {
			o.Title = sign.Text.In(e.who.Language)
		}
	}
	if o.Title == "" && len(attachedOf(e.Data)) > 0 {
		o.Title = spoken[e.who.Language]
	}
	if o.Title == "" {
		return refuse("note", "required", "Choose a sign, or say in a few words what is wrong.")
	}
	o.EntryID = e.ID
	return s.tickets.open(ctx, e.who, e.farm, o, e.at)
}

// addToReport says on the ticket of an earlier report what was shown or said
// since. Where no ticket began with that report, this is a report of its own.
func (s *Entries) addToReport(ctx context.Context, e *entry, in TroubleEntry) (bool, error) {
	if in.About == "" {
		return false, nil
	}
	id, err := s.store.TicketOfReport(ctx, e.FarmID, in.About)
	if id == "" || err != nil {
		return false, err
	}
	text := in.Note
	if text == "" {
		text = spoken[e.who.Language]
	}
	return true, s.tickets.add(ctx, e, id, text)
}

// spoken is the title of a report that is only shown or spoken.
var spoken = map[string]string{"en": "A photo or a voice note: see or hear it", "fr": "Une photo ou une note vocale : à voir ou à écouter"}

// signOf looks in the entry's own pack, else in all: a report may name the
// farm alone.
func (s *Entries) signOf(e *entry, key string) (checklists.Sign, bool) {
	for _, p := range s.packsOf(e) {
		for _, sign := range p.Signs {
			if sign.Key == key {
				return sign, true
			}
		}
	}
	return checklists.Sign{}, false
}

func (s *Entries) enterpriseOf(e *entry, key string) string {
	for _, p := range s.packsOf(e) {
		if slices.ContainsFunc(p.Signs, func(sign checklists.Sign) bool { return sign.Key == key }) {
			return p.Enterprise
		}
	}
	return ""
}

func (s *Entries) packsOf(e *entry) []*checklists.Pack {
	if e.pack != nil {
		return []*checklists.Pack{e.pack}
	}
	var out []*checklists.Pack
	for _, name := range s.Packs.Enterprises() {
		if p, ok := s.Packs.Pack(name); ok {
			out = append(out, p)
		}
	}
	return out
}

// NoteEntry is the data of EntryNote and EntryCallMe.
type NoteEntry struct {
	Note string `json:"note,omitempty"`
}

func (s *Entries) note(_ context.Context, e *entry) error {
	in, err := decode[NoteEntry](e)
	if err != nil {
		return err
	}
	if in.Note == "" && len(attachedOf(e.Data)) == 0 {
		return refuse("note", "required", "Write the note, or send a photo or a voice note.")
	}
	return short("note", in.Note, maxNote)
}

// callMe puts the farm on the call-back list, due on the next working day.
func (s *Entries) callMe(ctx context.Context, e *entry) error {
	in, err := decode[NoteEntry](e)
	if err != nil {
		return err
	}
	if err := short("note", in.Note, maxNote); err != nil {
		return err
	}
	terms, err := s.plans.Terms(ctx, e.farm.BranchID)
	if err != nil {
		return err
	}
	return s.store.AddPromises(ctx, Promise{
		ID: s.NewID(), FarmID: e.FarmID, Kind: "call-back", Text: in.Note,
		DueOn: terms.Calendar.AddWorkingDays(e.today, 1), MadeBy: e.who.PersonID, MadeOn: e.today, Version: 1,
	})
}

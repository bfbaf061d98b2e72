package app

import (
	"context"
	"fmt"
	"slices"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/ticket"
)

// DayEntry is the data of EntryDay, the daybook of one day. A field that is
// not there was not counted: blank is never zero. AllWell says "all well
// today: no deaths".
type DayEntry struct {
	AllWell    bool     `json:"all_well,omitempty"`
	Deaths     *int     `json:"deaths,omitempty"`
	Missing    *int     `json:"missing,omitempty"` // lost without a body
	Eggs       *int     `json:"eggs,omitempty"`
	Hatchlings *int     `json:"hatchlings,omitempty"`
	FeedKg     *float64 `json:"feed_kg,omitempty"`
	WaterL     *float64 `json:"water_l,omitempty"`
	Note       string   `json:"note,omitempty"`
}

func (s *Entries) day(_ context.Context, e *entry) error {
	in, err := decode[DayEntry](e)
	if err != nil {
		return err
	}
	if in.AllWell && in.Deaths != nil && *in.Deaths > 0 {
		return refuse("all_well", "contradiction", "All well means no deaths. Leave one of the two out.")
	}
	counts := []struct {
		path string
		n    *int
	}{{"deaths", in.Deaths}, {"missing", in.Missing}, {"eggs", in.Eggs}, {"hatchlings", in.Hatchlings}}
	for _, c := range counts {
		if c.n != nil && (*c.n < 0 || *c.n > mostAnimals) {
			return refuse(c.path, "impossible", "A count cannot be below nought.")
		}
	}
	for path, v := range map[string]*float64{"feed_kg": in.FeedKg, "water_l": in.WaterL} {
		if v != nil && !(*v >= 0 && *v <= 100_000) {
			return refuse(path, "impossible", "An amount lies between 0 and 100,000.")
		}
	}
	return short("note", in.Note, maxNote)
}

// CouldNotEntry is the data of EntryCouldNot.
type CouldNotEntry struct {
	Reason string `json:"reason"` // no-feed, rain, ill, no-water, other
	Note   string `json:"note,omitempty"`
}

var couldNotReasons = []string{"no-feed", "rain", "ill", "no-water", "other"}

func (s *Entries) couldNot(_ context.Context, e *entry) error {
	in, err := decode[CouldNotEntry](e)
	if err != nil {
		return err
	}
	if !slices.Contains(couldNotReasons, in.Reason) {
		return refuse("reason", "unknown", "Choose no-feed, rain, ill, no-water or other.")
	}
	return short("note", in.Note, maxNote)
}

// TroubleEntry is the data of EntryTrouble: a sign of the pack, or words.
type TroubleEntry struct {
	Sign string `json:"sign,omitempty"`
	Note string `json:"note,omitempty"`
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
	if o.Title == "" {
		return refuse("note", "required", "Choose a sign, or say in a few words what is wrong.")
	}
	return s.tickets.open(ctx, e.who, e.farm, o, e.at)
}

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
	if in.Note == "" {
		return refuse("note", "required", "Write the note.")
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

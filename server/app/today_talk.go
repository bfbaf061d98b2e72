package app

import (
	"cmp"
	"context"
	"slices"
	"time"
	"unicode/utf8"

	"tendfold/checklists"
	"tendfold/domain/calendar"
	"tendfold/domain/ticket"
)

// TodayReport is a ticket as the caretaker who reported it reads it: "your
// report no. 417/26".
type TodayReport struct {
	ID        string           `json:"id"`
	Number    string           `json:"number"`
	Text      string           `json:"text" doc:"The sign, or what the caretaker wrote."`
	Sign      string           `json:"sign,omitempty"`
	UnitID    string           `json:"unit_id,omitempty"`
	State     ticket.State     `json:"state"`
	WaitingOn ticket.WaitingOn `json:"waiting_on,omitempty"`
	Holder    string           `json:"holder,omitempty" doc:"In whose hands it is."`
	OpenedAt  time.Time        `json:"opened_at"`
	SeenBy    string           `json:"seen_by,omitempty" doc:"Who of the firm first dealt with it, and when."`
	SeenAt    time.Time        `json:"seen_at,omitzero"`
	SettledOn calendar.Date    `json:"settled_on,omitzero"`
	Messages  []TodayMessage   `json:"messages" doc:"The last five, oldest first."`
}

// TodayMessage is a word between the farm and the firm.
type TodayMessage struct {
	ID   string    `json:"id"`
	From string    `json:"from"`
	Mine bool      `json:"mine,omitempty"`
	At   time.Time `json:"at"`
	Text string    `json:"text"`
}

// TodayPromise is something that the firm promised to the farm.
type TodayPromise struct {
	ID    string        `json:"id"`
	Kind  string        `json:"kind" enum:"call-back,visit,other"`
	Text  string        `json:"text,omitempty"`
	DueOn calendar.Date `json:"due_on"`
	Mine  bool          `json:"mine,omitempty" doc:"This caretaker asked for it."`
}

// How much of the talk goes to the phone: an answer stays below ten kilobytes
// for a usual farm.
const (
	settledShown    = 14 // days for which a settled report is shown
	mostReports     = 10
	mostMessages    = 5
	mostPromises    = 5
	longestOnScreen = 400 // characters of a message; the whole stands at the desk
)

// addReports are the newest of the own reports.
func (v *todayView) addReports(ctx context.Context, out *TodayFarm) error {
	out.Reports = []TodayReport{}
	tickets, err := v.store.TicketsOf(ctx, []string{v.farm.ID}, v.today.Add(-settledShown))
	if err != nil {
		return err
	}
	tickets = slices.DeleteFunc(tickets, func(t ticket.Ticket) bool { return t.Origin != ticket.FromCaretaker || t.JoinedInto != "" })
	slices.SortFunc(tickets, func(a, b ticket.Ticket) int { return b.OpenedAt.Compare(a.OpenedAt) })
	for _, t := range tickets {
		if len(out.Reports) == mostReports {
			return nil
		}
		thread, err := v.store.TicketEvents(ctx, t.ID)
		if err != nil {
			return err
		}
		if len(thread) == 0 || thread[0].PersonID != v.who.PersonID {
			continue // somebody else's
		}
		report, err := v.report(ctx, t, thread)
		if err != nil {
			return err
		}
		out.Reports = append(out.Reports, report)
	}
	return nil
}

func (v *todayView) report(ctx context.Context, t ticket.Ticket, thread []TicketEvent) (TodayReport, error) {
	out := TodayReport{
		ID: t.ID, Number: t.Number, Text: t.Title, Sign: t.Subject, UnitID: t.UnitID, State: t.State, WaitingOn: t.WaitingOn,
		OpenedAt: t.OpenedAt, SettledOn: t.SettledOn, Messages: []TodayMessage{},
	}
	names, err := v.names(ctx, t, thread)
	if err != nil {
		return out, err
	}
	out.Holder = names[t.HolderID]
	for _, e := range thread[1:] {
		if e.PersonID != "" && e.PersonID != v.who.PersonID && out.SeenAt.IsZero() {
			out.SeenBy, out.SeenAt = names[e.PersonID], e.At
		}
		if e.Kind == ticket.Messaged || e.Kind == ticket.Asked || e.Kind == ticket.Answered && e.Text != "" {
			out.Messages = append(out.Messages, TodayMessage{
				ID: e.ID, From: names[e.PersonID], Mine: e.PersonID == v.who.PersonID, At: e.At, Text: cut(e.Text, longestOnScreen),
			})
		}
	}
	out.Messages = out.Messages[max(0, len(out.Messages)-mostMessages):]
	return out, nil
}

// names are those of everybody in a thread.
func (v *todayView) names(ctx context.Context, t ticket.Ticket, thread []TicketEvent) (map[string]string, error) {
	ids := []string{t.HolderID}
	for _, e := range thread {
		if !slices.Contains(ids, e.PersonID) {
			ids = append(ids, e.PersonID)
		}
	}
	people, err := v.store.PeopleByIDs(ctx, ids)
	out := make(map[string]string, len(people))
	for _, p := range people {
		out[p.ID] = p.Name
	}
	return out, err
}

// addPromises are the promises that are not kept yet, first due first.
func (v *todayView) addPromises(ctx context.Context, out *TodayFarm) error {
	out.Promises = []TodayPromise{}
	promises, err := v.store.PromisesOf(ctx, []string{v.farm.ID})
	for _, p := range promises {
		if p.KeptOn.IsZero() && len(out.Promises) < mostPromises {
			out.Promises = append(out.Promises, TodayPromise{
				ID: p.ID, Kind: p.Kind, Text: cut(p.Text, longestOnScreen), DueOn: p.DueOn, Mine: p.MadeBy == v.who.PersonID,
			})
		}
	}
	return err
}

// cut shortens a text to so many characters, with a mark where it went on.
func cut(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most-1]) + "…"
}

// FirstSteps is the card of one sign for whoever sees it: what to do now.
type FirstSteps struct {
	Enterprise string `json:"enterprise"`
	Sign       string `json:"sign"`
	Text       string `json:"text"`
	Danger     bool   `json:"danger,omitempty" doc:"A person is in danger: people first, then call."`
	FirstWords string `json:"first_words"`
	Caution    string `json:"caution,omitempty"`
}

// FirstSteps are the cards of the enterprises on the caretaker's farms, those
// about people first. They change with a pack alone, so a phone keeps them.
func (s *Today) FirstSteps(ctx context.Context, who Actor, language string) ([]FirstSteps, error) {
	packs, err := s.housedPacks(ctx, who)
	out := []FirstSteps{}
	for _, pack := range packs {
		out = append(out, cardsOf(pack, cmp.Or(language, who.Language))...)
	}
	slices.SortStableFunc(out, func(a, b FirstSteps) int { return rank(a) - rank(b) })
	return out, err
}

func rank(c FirstSteps) int {
	if c.Danger {
		return 0
	}
	return 1
}

func cardsOf(pack *checklists.Pack, language string) []FirstSteps {
	out := make([]FirstSteps, len(pack.Signs))
	for i, sign := range pack.Signs {
		out[i] = FirstSteps{
			Enterprise: pack.Enterprise, Sign: sign.Key, Text: sign.Text.In(language), Danger: sign.Danger,
			FirstWords: sign.FirstWords.In(language), Caution: pack.Cautions[sign.Caution].In(language),
		}
	}
	return out
}

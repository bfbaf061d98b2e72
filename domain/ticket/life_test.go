package ticket_test

import (
	"strings"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/ticket"

	"github.com/stretchr/testify/require"
)

var (
	friday = wall("2026-05-15 16:00")
	why    = []domain.Reason{{Code: "milestone-behind", Values: map[string]any{"late_days": 9}}}
)

func ana(at time.Time) ticket.Act {
	return ticket.Act{PersonID: "ana", At: at, On: calendar.FromTime(at.In(douala))}
}

func sweep(at time.Time) ticket.Act {
	a := ana(at)
	a.PersonID = ""
	return a
}

// opened is a ticket of a rule, losing time, opened on Friday at 16:00.
func opened(t require.TestingT, change ...func(*ticket.Opening)) ticket.Ticket {
	o := ticket.Opening{
		ID: "t1", Seq: 417, Year: 2026, Origin: ticket.FromSweep, Impact: ticket.Middle, TimeToLoss: ticket.Week,
		Key: ticket.Key{FarmID: "f1", CycleID: "c1", Rule: "milestone-behind", Subject: "planted"}, Reasons: why, Value: 9,
	}
	for _, c := range change {
		c(&o)
	}
	tk, e, err := ticket.Open(o, sweep(friday), terms(t))
	require.NoError(t, err)
	require.Equal(t, ticket.Opened, e.Kind)
	require.Equal(t, ticket.Reported, e.To)
	return tk
}

func danger(o *ticket.Opening) { o.Danger = true }

// in brings a fresh ticket into a state, in Ana's hands where it has a holder.
func in(t require.TestingT, s ticket.State) ticket.Ticket {
	tk, err := opened(t), error(nil)
	switch s {
	case ticket.Reported:
	case ticket.Assessed:
		tk, _, err = tk.Assess(ana(friday), ticket.Assessment{Impact: tk.Impact, TimeToLoss: tk.TimeToLoss}, terms(t))
	case ticket.InHand:
		tk, _, err = tk.TakeInHand(ana(friday))
	case ticket.Waiting:
		tk, _, err = in(t, ticket.InHand).Wait(ana(friday), ticket.OnVet, "")
	case ticket.Settled:
		tk, _, err = tk.Settle(ana(friday), ticket.Settlement{Outcome: "done"})
	}
	require.NoError(t, err)
	require.Equal(t, s, tk.State)
	return tk
}

func TestOpen(t *testing.T) {
	tk := opened(t)
	require.Equal(t, "417/26", tk.Number)
	require.Equal(t, ticket.LosingTime, tk.Urgency)
	require.Equal(t, "2026-05-15", tk.OpenedOn.String())
	require.Equal(t, wall("2026-05-18 17:00"), tk.FirstWordBy)
	require.Equal(t, why, tk.FirstReason)
	require.True(t, tk.FirstWordAt.IsZero())
	require.Equal(t, ticket.PersonInDanger, opened(t, danger).Urgency)
	require.Equal(t, friday, opened(t, func(o *ticket.Opening) { o.Origin = ticket.FromCall }).FirstWordAt, "spoken on the call")
}

func TestOpenRefuses(t *testing.T) {
	for path, change := range map[string]func(*ticket.Opening){
		"id":      func(o *ticket.Opening) { o.Seq = 0 },
		"farm_id": func(o *ticket.Opening) { o.Key.FarmID = "" },
		"origin":  func(o *ticket.Opening) { o.Origin = "dream" },
		"impact":  func(o *ticket.Opening) { o.TimeToLoss = "soon" },
		"reasons": func(o *ticket.Opening) { o.Reasons = nil },
		"title":   func(o *ticket.Opening) { o.Key.Rule = ""; o.Title = " " },
	} {
		o := ticket.Opening{
			ID: "t1", Seq: 1, Year: 2026, Origin: ticket.FromSweep, Impact: ticket.Low, TimeToLoss: ticket.Week,
			Key: ticket.Key{FarmID: "f1", Rule: "no-news"}, Reasons: why,
		}
		change(&o)
		_, _, err := ticket.Open(o, sweep(friday), terms(t))
		var e *domain.Error
		require.ErrorAs(t, err, &e, path)
		require.Equal(t, path, e.Fields[0].Path)
	}
}

// The moves of the product page, and no others; the refusal names them.
func TestMoves(t *testing.T) {
	allowed := map[ticket.State]string{
		ticket.Reported: "assessed, in-hand, settled",
		ticket.Assessed: "in-hand, waiting, settled",
		ticket.InHand:   "assessed, waiting, settled",
		ticket.Waiting:  "in-hand, settled",
		ticket.Settled:  "assessed",
	}
	act := map[ticket.State]func(ticket.Ticket) (ticket.Ticket, ticket.Event, error){
		ticket.InHand: func(tk ticket.Ticket) (ticket.Ticket, ticket.Event, error) { return tk.TakeInHand(ana(friday)) },
		ticket.Waiting: func(tk ticket.Ticket) (ticket.Ticket, ticket.Event, error) {
			return tk.Wait(ana(friday), ticket.OnFarm, "")
		},
		ticket.Settled: func(tk ticket.Ticket) (ticket.Ticket, ticket.Event, error) {
			return tk.Settle(ana(friday), ticket.Settlement{Outcome: "done"})
		},
	}
	for from, list := range allowed {
		for to, do := range act {
			was := in(t, from)
			got, e, err := do(was)
			if strings.Contains(list, string(to)) {
				require.NoError(t, err, "%s -> %s", from, to)
				require.Equal(t, to, got.State)
				require.Equal(t, from, e.From)
				require.Equal(t, to, e.To)
				continue
			}
			var refusal *domain.Error
			require.ErrorAs(t, err, &refusal, "%s -> %s", from, to)
			require.Equal(t, domain.KindConflict, refusal.Kind)
			require.Equal(t, "ticket-move-not-allowed", refusal.Code)
			require.Equal(t, list, refusal.Fields[0].Text)
			require.Equal(t, was, got, "a refused move changes nothing")
		}
	}
}

func TestAssess(t *testing.T) {
	same := ticket.Assessment{Impact: ticket.Middle, TimeToLoss: ticket.Week}
	tk, e, err := opened(t).Assess(ana(friday), same, terms(t))
	require.NoError(t, err)
	require.Equal(t, ticket.Assessed, tk.State)
	require.Equal(t, ticket.Moved, e.Kind)
	require.Equal(t, friday, tk.FirstWordAt)

	higher := ticket.Assessment{Impact: ticket.High, TimeToLoss: ticket.Hours, Why: "Ten dead since noon"}
	monday := wall("2026-05-18 09:00")
	tk, e, err = tk.Assess(ana(monday), higher, terms(t))
	require.NoError(t, err)
	require.Equal(t, ticket.Judged, e.Kind)
	require.Equal(t, ticket.Assessed, tk.State)
	require.Equal(t, ticket.AnimalsAtRisk, tk.Urgency)
	require.Equal(t, wall("2026-05-18 13:00"), tk.PlanBy, "from now, not from Friday")
	require.Equal(t, map[string]any{"was": "losing-time", "urgency": "animals-at-risk"}, e.Data)

	lower := ticket.Assessment{Impact: ticket.Low, TimeToLoss: ticket.Longer, Why: "They were counted twice"}
	tk, _, err = tk.Assess(ana(monday), lower, terms(t))
	require.NoError(t, err)
	require.Equal(t, ticket.NoHurry, tk.Urgency)
	require.Equal(t, wall("2026-06-16 17:00"), tk.PlanBy, "from the opening")
}

func TestAssessRefuses(t *testing.T) {
	_, _, err := opened(t).Assess(ana(friday), ticket.Assessment{Impact: ticket.High, TimeToLoss: ticket.Hours}, terms(t))
	require.Equal(t, "ticket-why", domain.CodeOf(err), "another view needs a reason")
	_, _, err = opened(t, danger).Assess(ana(friday), ticket.Assessment{Impact: ticket.Middle, TimeToLoss: ticket.Week}, terms(t))
	require.Equal(t, "ticket-why", domain.CodeOf(err), "so does the end of danger")
	_, _, err = opened(t).Assess(ana(friday), ticket.Assessment{Impact: "huge"}, terms(t))
	require.Equal(t, "ticket-assessment", domain.CodeOf(err))
	_, _, err = in(t, ticket.Settled).Assess(ana(friday), ticket.Assessment{Impact: ticket.Middle, TimeToLoss: ticket.Week}, terms(t))
	require.Equal(t, "ticket-settled", domain.CodeOf(err))
}

func TestHolders(t *testing.T) {
	tk, e, err := in(t, ticket.InHand).HandOver(ana(friday), "ben", "On leave from Monday")
	require.NoError(t, err)
	require.Equal(t, "ben", tk.HolderID)
	require.Equal(t, ticket.InHand, tk.State)
	require.Equal(t, map[string]any{"was": "ana", "holder": "ben", "tell": "ben"}, e.Data)

	_, _, err = tk.HandOver(ana(friday), "ben", "")
	require.Equal(t, "ticket-has-holder", domain.CodeOf(err))
	_, _, err = tk.HandOver(ana(friday), "", "")
	require.Equal(t, "ticket-to", domain.CodeOf(err))
	_, _, err = in(t, ticket.Settled).HandOver(ana(friday), "ben", "")
	require.Equal(t, "ticket-settled", domain.CodeOf(err))

	tk, _, err = opened(t).HandOver(ana(friday), "ben", "")
	require.NoError(t, err)
	require.Equal(t, ticket.InHand, tk.State, "given to Ben, it is in his hands")
	tk, _, err = in(t, ticket.Waiting).HandOver(ana(friday), "ben", "")
	require.NoError(t, err)
	require.Equal(t, ticket.Waiting, tk.State)
	require.Equal(t, ticket.OnVet, tk.WaitingOn)

	tk, _, err = tk.TakeInHand(ana(friday))
	require.NoError(t, err)
	require.Equal(t, "ana", tk.HolderID)
	tk, _, err = tk.GiveBack(ana(friday), "Not mine")
	require.NoError(t, err)
	require.Empty(t, tk.HolderID)
	require.Equal(t, ticket.Assessed, tk.State)
	_, _, err = tk.GiveBack(ana(friday), "")
	require.Equal(t, "ticket-move-not-allowed", domain.CodeOf(err), "nobody has it")
}

func TestWaitNamesAParty(t *testing.T) {
	_, _, err := in(t, ticket.InHand).Wait(ana(friday), "godot", "")
	require.Equal(t, "ticket-waiting-on", domain.CodeOf(err))
	tk, _, err := in(t, ticket.Assessed).Wait(ana(friday), ticket.OnSupplier, "Pump on order")
	require.NoError(t, err)
	require.Equal(t, "ana", tk.HolderID, "whoever waits holds it")
}

func TestMoveDue(t *testing.T) {
	to := wall("2026-06-01 12:00")
	tk, e, err := in(t, ticket.InHand).MoveDue(ana(friday), to, "Spare part comes by ship")
	require.NoError(t, err)
	require.Equal(t, to, tk.PlanBy)
	require.Equal(t, ticket.DueMoved, e.Kind)
	require.Equal(t, "2026-05-21T16:00:00Z", e.Data["was"])
	for code, c := range map[string]struct {
		tk  ticket.Ticket
		to  time.Time
		why string
	}{
		"ticket-why":       {opened(t), to, ""},
		"ticket-due":       {opened(t), friday, "late"},
		"ticket-due-fixed": {opened(t, danger), to, "busy"},
		"ticket-settled":   {in(t, ticket.Settled), to, "busy"},
	} {
		_, _, err := c.tk.MoveDue(ana(friday), c.to, c.why)
		require.Equal(t, code, domain.CodeOf(err))
	}
	_, _, err = opened(t).MoveDue(ana(friday), friday.AddDate(0, 0, 91), "much later")
	require.Equal(t, "ticket-due", domain.CodeOf(err))
}

func TestLines(t *testing.T) {
	tk, e, err := in(t, ticket.Settled).Note(ana(friday), " Roof was mended too ")
	require.NoError(t, err)
	require.Equal(t, ticket.Event{Kind: ticket.Noted, From: ticket.Settled, To: ticket.Settled, Text: "Roof was mended too"}, e)
	require.Equal(t, in(t, ticket.Settled), tk)

	tk, _, err = opened(t).Message(ana(friday), "Keep the pump off", true)
	require.NoError(t, err)
	require.Equal(t, friday, tk.FirstWordAt)
	tk, _, err = opened(t).Message(ana(friday), "It smells", false)
	require.NoError(t, err)
	require.True(t, tk.FirstWordAt.IsZero(), "the farm's word is not ours")
	_, _, err = tk.Note(ana(friday), "  ")
	require.Equal(t, "ticket-text", domain.CodeOf(err))
	_, _, err = tk.Note(ana(friday), strings.Repeat("é", 4001))
	require.Equal(t, "ticket-text", domain.CodeOf(err))
	_, _, err = tk.Note(ana(friday), strings.Repeat("é", 4000))
	require.NoError(t, err, "characters are counted, not bytes")
}

func TestWants(t *testing.T) {
	for s, want := range map[ticket.State]string{
		ticket.Reported: ticket.WantsFirstWord, ticket.Assessed: ticket.WantsPlan,
		ticket.InHand: "", ticket.Waiting: "", ticket.Settled: "",
	} {
		what, by := in(t, s).Wants()
		require.Equal(t, want, what, s)
		require.Equal(t, want == "", by.IsZero())
	}
}

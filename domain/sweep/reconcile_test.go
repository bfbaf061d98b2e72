package sweep

import (
	"testing"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/ticket"

	"github.com/stretchr/testify/require"
)

var (
	today  = calendar.MustDate("2026-06-10")
	slipOf = Key{FarmID: "f", UnitID: "u", CycleID: "c", Rule: HarvestSlip}
)

func slipping(value float64, since calendar.Date) Finding {
	return Finding{
		Clock:     Clock{Key: slipOf, TrueSince: since, LastOn: today, Reasons: []domain.Reason{{Code: HarvestSlip, Values: map[string]any{"late_days": int(value)}}}},
		Condition: Condition{Value: value}, Confirmed: true,
	}
}

func TestReconcile(t *testing.T) {
	reasons := slipping(25, today).Clock.Reasons
	open := ticket.Ticket{ID: "t", Key: slipOf, State: ticket.Reported, Reasons: reasons, WorseAt: 25}
	with := func(change func(*ticket.Ticket)) ticket.Ticket { t := open; change(&t); return t }
	settled := func(on calendar.Date, by string, rest calendar.Date) ticket.Ticket {
		return with(func(t *ticket.Ticket) {
			t.State, t.SettledOn, t.SettledBy, t.RestsUntil = ticket.Settled, on, by, rest
		})
	}
	muted := slipping(25, today.Add(-9))
	muted.Clock.MutedBy = Key{FarmID: "f", Rule: NoNews}
	grace := slipping(25, today)
	grace.Confirmed = false

	for _, c := range []struct {
		name    string
		tickets []ticket.Ticket
		found   []Finding
		cleared []Key
		want    Doing // "" = nothing
	}{
		{"a finding past its grace opens one", nil, []Finding{slipping(25, today)}, nil, Opens},
		{"in its grace it opens none", nil, []Finding{grace}, nil, ""},
		{"muted it opens none", nil, []Finding{muted}, nil, ""},
		{"an open one is left alone", []ticket.Ticket{open}, []Finding{slipping(25, today)}, nil, ""},
		{"new evidence is taken down", []ticket.Ticket{open}, []Finding{slipping(27, today)}, nil, Updates},
		{"seven days more is worse", []ticket.Ticket{open}, []Finding{slipping(32, today)}, nil, Worsens},
		{"muting does not close an open one", []ticket.Ticket{open}, []Finding{muted}, nil, ""},
		{"gone, it settles itself", []ticket.Ticket{open}, nil, []Key{slipOf}, Clears},
		{"gone, but a person has it", []ticket.Ticket{with(func(t *ticket.Ticket) { t.State = ticket.InHand })}, nil, []Key{slipOf}, Goes},
		{"said to be gone once only", []ticket.Ticket{with(func(t *ticket.Ticket) { t.State, t.GoneOn = ticket.InHand, today.Add(-3) })}, nil, []Key{slipOf}, ""},
		{"danger to people never settles by itself", []ticket.Ticket{with(func(t *ticket.Ticket) { t.Urgency = ticket.PersonInDanger })}, nil, []Key{slipOf}, Goes},
		{"back while a person has it", []ticket.Ticket{with(func(t *ticket.Ticket) { t.State, t.GoneOn = ticket.InHand, today.Add(-3) })}, []Finding{slipping(25, today)}, nil, Returns},
		{"settled by a person it rests", []ticket.Ticket{settled(today.Add(-5), "p", today.Add(55))}, []Finding{slipping(25, today.Add(-40))}, nil, ""},
		{"rest over, the same one", []ticket.Ticket{settled(today.Add(-61), "p", today.Add(-1))}, []Finding{slipping(25, today.Add(-90))}, nil, Reopens},
		{"true again within 14 days of clearing, the same one", []ticket.Ticket{settled(today.Add(-14), "", 0)}, []Finding{slipping(25, today)}, nil, Reopens},
		{"joined, it goes on in the other", []ticket.Ticket{with(func(t *ticket.Ticket) {
			t.State, t.SettledOn, t.JoinedInto = ticket.Settled, today.Add(-5), "o"
		}), {ID: "o", Key: ticket.Key{FarmID: "f"}, State: ticket.InHand}}, []Finding{slipping(25, today.Add(-9))}, nil, ""},
		{"true again later, a new one linked to the old", []ticket.Ticket{settled(today.Add(-15), "", 0)}, []Finding{slipping(25, today)}, nil, Opens},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Reconcile(&Facts{FarmID: "f", Watched: true, Units: []Unit{{ID: "u", Plan: plan}}}, c.tickets, Day{On: today, Findings: c.found, Cleared: c.cleared})
			if c.want == "" {
				require.Empty(t, got)
				return
			}
			require.Len(t, got, 1)
			require.Equal(t, c.want, got[0].Doing)
			if c.want == Opens && len(c.tickets) > 0 {
				require.Equal(t, "t", got[0].Previous)
			}
		})
	}
	require.Empty(t, Reconcile(&Facts{FarmID: "f"}, nil, Day{On: today, Findings: []Finding{slipping(25, today)}}), "a farm to confirm opens no ticket")
}

package ticket_test

import (
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/ticket"

	"github.com/stretchr/testify/require"
)

// The table of the product page, row by row.
func TestUrgencyOf(t *testing.T) {
	for impact, row := range map[ticket.Impact][3]ticket.Urgency{
		ticket.High:   {ticket.AnimalsAtRisk, ticket.AnimalsAtRisk, ticket.LosingTime},
		ticket.Middle: {ticket.AnimalsAtRisk, ticket.LosingTime, ticket.LosingTime},
		ticket.Low:    {ticket.LosingTime, ticket.Routine, ticket.NoHurry},
	} {
		for i, loss := range []ticket.TimeToLoss{ticket.Hours, ticket.Week, ticket.Longer} {
			require.Equal(t, row[i], ticket.UrgencyOf(impact, loss), "%s %s", impact, loss)
		}
	}
	require.Empty(t, ticket.UrgencyOf("huge", ticket.Hours))
	require.Empty(t, ticket.UrgencyOf(ticket.High, "soon"))
}

// More at stake, or lost sooner, is never less urgent.
func TestUrgencyGrowsWithBoth(t *testing.T) {
	impacts := []ticket.Impact{ticket.Low, ticket.Middle, ticket.High}
	losses := []ticket.TimeToLoss{ticket.Longer, ticket.Week, ticket.Hours}
	for i := range impacts {
		for j := range losses {
			here := ticket.UrgencyOf(impacts[i], losses[j])
			if i > 0 {
				require.False(t, ticket.UrgencyOf(impacts[i-1], losses[j]).Above(here))
			}
			if j > 0 {
				require.False(t, ticket.UrgencyOf(impacts[i], losses[j-1]).Above(here))
			}
		}
	}
}

func TestRankRaiseAndRest(t *testing.T) {
	for i, u := range []struct {
		urgency, raised ticket.Urgency
		rest            int
	}{
		{ticket.PersonInDanger, ticket.PersonInDanger, 0},
		{ticket.AnimalsAtRisk, ticket.AnimalsAtRisk, 1},
		{ticket.LosingTime, ticket.AnimalsAtRisk, 14},
		{ticket.Routine, ticket.LosingTime, 14},
		{ticket.NoHurry, ticket.Routine, 14},
	} {
		require.Equal(t, i, u.urgency.Rank())
		require.Equal(t, u.raised, u.urgency.Raised(), u.urgency)
		require.Equal(t, u.rest, u.urgency.Rest(14), u.urgency)
		require.Zero(t, u.urgency.Rest(0))
	}
	require.Equal(t, -1, ticket.Urgency("odd").Rank())
}

// Due times of the product page for a ticket that comes up in Douala on
// Friday 15 May 2026 at 16:00; 20 May is National Day, 27 May the predicted
// Feast of the Sheep.
func TestDefaultDueTimes(t *testing.T) {
	at := wall("2026-05-15 16:00")
	for u, want := range map[ticket.Urgency][2]string{
		ticket.PersonInDanger: {"2026-05-15 16:15", "2026-05-15 16:00"},
		ticket.AnimalsAtRisk:  {"2026-05-15 17:00", "2026-05-15 20:00"},
		ticket.LosingTime:     {"2026-05-18 17:00", "2026-05-21 17:00"},
		ticket.Routine:        {"2026-05-21 17:00", "2026-06-02 17:00"},
		ticket.NoHurry:        {"2026-06-02 17:00", "2026-06-16 17:00"},
	} {
		first, plan := terms(t).Due(u, at)
		require.Equal(t, wall(want[0]), first, u)
		require.Equal(t, wall(want[1]), plan, u)
	}
}

func TestDueTableCheck(t *testing.T) {
	require.NoError(t, ticket.DefaultDue().Check())
	for code, change := range map[string]func(ticket.DueTable){
		"required":        func(d ticket.DueTable) { delete(d, ticket.Routine) },
		"round-the-clock": func(d ticket.DueTable) { d[ticket.AnimalsAtRisk] = d[ticket.Routine] },
		"term-range":      func(d ticket.DueTable) { d[ticket.NoHurry] = ticket.Due{Plan: calendar.Term{WorkingDays: 99}} },
		"term-ways": func(d ticket.DueTable) {
			d[ticket.Routine] = ticket.Due{Plan: calendar.Term{WorkingDays: 1, Minutes: 1}}
		},
	} {
		table := ticket.DefaultDue()
		change(table)
		var e *domain.Error
		require.ErrorAs(t, table.Check(), &e, code)
		require.Equal(t, "due-table", e.Code)
		require.Equal(t, code, e.Fields[0].Code)
	}
}

var douala = time.FixedZone("WAT", 3600) // Africa/Douala: UTC+1 all year

// wall is an instant by the clock in Douala, in UTC.
func wall(s string) time.Time {
	at, err := time.ParseInLocation("2006-01-02 15:04", s, douala)
	if err != nil {
		panic(err)
	}
	return at.UTC()
}

func terms(t require.TestingT) ticket.Terms {
	c, err := calendar.New(douala, calendar.OfficeWeek(), calendar.Country("CM"), nil)
	require.NoError(t, err)
	return ticket.Terms{Calendar: c, Table: ticket.DefaultDue()}
}

package ticket_test

import (
	"slices"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/ticket"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// life is a ticket beside a model of it: only its state, holder and the days
// on which it was reopened, kept by the product page's table of moves.
type life struct {
	tk    ticket.Ticket
	other ticket.Ticket
	terms ticket.Terms
	now   time.Time

	state    ticket.State
	holder   string
	reopened []calendar.Date
}

var people = []string{"ana", "ben", "cho"}

// legal is the table of moves as the product page words it.
var legal = map[ticket.State][]ticket.State{
	"reported": {"assessed", "in-hand", "settled"},
	"assessed": {"in-hand", "waiting", "settled"},
	"in-hand":  {"assessed", "waiting", "settled"},
	"waiting":  {"in-hand", "settled"},
	"settled":  {"assessed"},
}

func (l *life) can(to ticket.State) bool { return slices.Contains(legal[l.state], to) }

func (l *life) act(t *rapid.T) ticket.Act {
	l.now = l.now.Add(time.Duration(rapid.IntRange(0, 40*24).Draw(t, "hours")) * time.Hour)
	return ticket.Act{PersonID: rapid.SampledFrom(people).Draw(t, "who"), At: l.now, On: calendar.FromTime(l.now.In(douala))}
}

// did takes over what happened and holds it against what the model allows.
func (l *life) did(t *rapid.T, allowed bool, to ticket.State, holder string, next ticket.Ticket, e ticket.Event, err error) {
	if !allowed {
		require.Error(t, err)
		require.Equal(t, l.tk, next, "a refusal changes nothing")
		require.NotEqual(t, domain.KindInternal, domain.KindOf(err))
		return
	}
	require.NoError(t, err)
	require.Equal(t, l.state, e.From)
	require.Equal(t, to, e.To)
	l.tk, l.state, l.holder = next, to, holder
}

func (l *life) assess(t *rapid.T) {
	by, a := l.act(t), ticket.Assessment{
		Impact:     rapid.SampledFrom([]ticket.Impact{ticket.High, ticket.Middle, ticket.Low}).Draw(t, "impact"),
		TimeToLoss: rapid.SampledFrom([]ticket.TimeToLoss{ticket.Hours, ticket.Week, ticket.Longer}).Draw(t, "loss"),
		Danger:     rapid.IntRange(0, 9).Draw(t, "danger") == 0, Why: "seen",
	}
	next, e, err := l.tk.Assess(by, a, l.terms)
	to := l.state
	if to == ticket.Reported {
		to = ticket.Assessed
	}
	l.did(t, l.state != ticket.Settled, to, l.holder, next, e, err)
}

func (l *life) take(t *rapid.T) {
	by := l.act(t)
	next, e, err := l.tk.TakeInHand(by)
	l.did(t, l.can(ticket.InHand), ticket.InHand, by.PersonID, next, e, err)
}

func (l *life) giveBack(t *rapid.T) {
	next, e, err := l.tk.GiveBack(l.act(t), "")
	l.did(t, l.state == ticket.InHand, ticket.Assessed, "", next, e, err)
}

func (l *life) wait(t *rapid.T) {
	by, holder := l.act(t), l.holder
	next, e, err := l.tk.Wait(by, ticket.OnElectrician, "")
	if holder == "" {
		holder = by.PersonID
	}
	l.did(t, l.can(ticket.Waiting), ticket.Waiting, holder, next, e, err)
}

func (l *life) handOver(t *rapid.T) {
	by, to, state := l.act(t), rapid.SampledFrom(people).Draw(t, "to"), l.state
	next, e, err := l.tk.HandOver(by, to, "")
	if state != ticket.Waiting {
		state = ticket.InHand
	}
	l.did(t, l.state != ticket.Settled && to != l.holder, state, to, next, e, err)
}

func (l *life) settle(t *rapid.T) {
	by, rest := l.act(t), rapid.IntRange(0, 30).Draw(t, "rest")
	was := l.tk
	next, e, err := l.tk.Settle(by, ticket.Settlement{Outcome: "done", RestDays: rest})
	l.did(t, l.can(ticket.Settled), ticket.Settled, l.holder, next, e, err)
	if err == nil {
		l.checkRest(t, was, by, rest)
	}
}

func (l *life) join(t *rapid.T) {
	next, e, err := l.tk.Join(l.act(t), l.other, 0)
	fits := l.can(ticket.Settled) && l.tk.Urgency.Rank() >= l.other.Urgency.Rank()
	l.did(t, fits, ticket.Settled, l.holder, next, e, err)
}

func (l *life) checkRest(t *rapid.T, was ticket.Ticket, by ticket.Act, rule int) {
	rest := 0
	if l.tk.RestsUntil != 0 {
		rest = l.tk.RestsUntil.Sub(by.On)
	}
	switch {
	case was.GoneOn != 0, was.KeepsComing, was.Urgency == ticket.PersonInDanger:
		require.Zero(t, rest)
	case was.Urgency == ticket.AnimalsAtRisk:
		require.Equal(t, min(rule, 1), rest)
	default:
		require.Equal(t, rule, rest)
	}
}

func (l *life) reopen(t *rapid.T) {
	by, sweep := l.act(t), rapid.Bool().Draw(t, "by the sweep")
	var next ticket.Ticket
	var e ticket.Event
	var err error
	if sweep {
		next, e, err = l.tk.SweepReopen(by, why, 3, l.terms)
	} else {
		next, e, err = l.tk.Reopen(by, "again", l.terms)
	}
	last, was := l.holder, l.tk.Urgency
	l.did(t, l.state == ticket.Settled, ticket.Assessed, "", next, e, err)
	if err != nil {
		return
	}
	l.reopened = append(l.reopened, by.On)
	require.Equal(t, last, e.Data["tell"])
	recent := 0
	for _, d := range l.reopened {
		if by.On.Sub(d) <= 90 {
			recent++
		}
	}
	if recent >= 3 {
		require.True(t, l.tk.KeepsComing)
	}
	require.False(t, was.Above(l.tk.Urgency), "reopening never makes it less urgent")
	require.False(t, l.tk.FirstWordBy.Before(by.At))
}

func (l *life) clear(t *rapid.T) {
	was := l.tk
	next, e, err := l.tk.Clear(l.act(t))
	free := (l.state == ticket.Reported || l.state == ticket.Assessed) && was.Urgency != ticket.PersonInDanger
	l.did(t, free, ticket.Settled, l.holder, next, e, err)
}

func (l *life) lift(t *rapid.T) {
	next, e, err := l.tk.Lift(l.act(t))
	l.did(t, l.state != ticket.Settled, l.state, l.holder, next, e, err)
}

func (l *life) note(t *rapid.T) {
	next, e, err := l.tk.Note(l.act(t), "seen")
	l.did(t, true, l.state, l.holder, next, e, err)
}

// invariants hold of a ticket at any time.
func (l *life) invariants(t *rapid.T) {
	tk := l.tk
	require.Equal(t, l.state, tk.State)
	require.Equal(t, l.holder, tk.HolderID)
	require.Equal(t, legal[l.state], tk.Moves())
	require.Equal(t, tk.State == ticket.Waiting, tk.WaitingOn != "")
	if held := tk.State == ticket.InHand || tk.State == ticket.Waiting; held {
		require.NotEmpty(t, tk.HolderID)
	} else if tk.State != ticket.Settled {
		require.Empty(t, tk.HolderID)
	}
	settled := tk.State == ticket.Settled
	require.Equal(t, settled, !tk.SettledAt.IsZero())
	require.Equal(t, settled, tk.SettledOn != 0)
	require.Equal(t, settled, tk.Outcome != "")
	if !settled {
		require.Zero(t, tk.RestsUntil)
		require.Empty(t, tk.JoinedInto)
	}
	require.Equal(t, l.reopened, tk.Reopened)
	require.GreaterOrEqual(t, tk.Urgency.Rank(), 0)
	require.False(t, tk.PlanBy.IsZero())
	require.Equal(t, "417/26", tk.Number)
}

func TestTheLifeOfATicket(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := &life{
			tk: opened(t), terms: terms(t), now: friday, state: ticket.Reported,
			other: opened(t, func(o *ticket.Opening) { o.ID, o.Seq = "t2", 418 }),
		}
		t.Repeat(map[string]func(*rapid.T){
			"":          l.invariants,
			"assess":    l.assess,
			"take":      l.take,
			"give back": l.giveBack,
			"wait":      l.wait,
			"hand over": l.handOver,
			"settle":    l.settle,
			"join":      l.join,
			"reopen":    l.reopen,
			"clear":     l.clear,
			"lift":      l.lift,
			"note":      l.note,
		})
	})
}

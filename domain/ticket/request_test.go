package ticket_test

import (
	"testing"

	"tendfold/domain"
	"tendfold/domain/ticket"

	"github.com/stretchr/testify/require"
)

func TestTheFarmIsAskedAndAnswers(t *testing.T) {
	one, by := opened(t), ana(friday)
	next, e, err := one.Ask(by, "  Close the gap under the door ")
	require.NoError(t, err)
	require.Equal(t, ticket.Event{Kind: ticket.Asked, From: one.State, To: one.State, Text: "Close the gap under the door"}, e)
	require.Equal(t, by.At, next.FirstWordAt, "who is asked to do something has been answered")
	_, _, err = one.Ask(by, " ")
	require.Equal(t, domain.KindInvalid, domain.KindOf(err))

	require.Equal(t, map[string]any{"done": true, "reason": ""}, one.Answer(by, "", "With mesh").Data)
	settled, _, err := one.Settle(by, ticket.Settlement{Outcome: "mended"})
	require.NoError(t, err)
	_, _, err = settled.Ask(by, "More")
	require.Equal(t, domain.KindConflict, domain.KindOf(err), "a settled ticket asks for nothing")
	late := settled.Answer(by, "rain", "")
	require.Equal(t, []any{ticket.Answered, ticket.Settled, map[string]any{"done": false, "reason": "rain"}}, []any{late.Kind, late.To, late.Data}, "a late answer is kept")
	require.Equal(t, ticket.TakenBack, settled.TakeBack(by, "").Kind)
}

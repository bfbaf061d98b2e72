package ticket_test

import (
	"testing"

	"tendfold/domain"
	"tendfold/domain/ticket"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseNumber(t *testing.T) {
	for _, s := range []string{"417/26", " 417/26 ", "417 / 26", "417-26", "417/2026"} {
		seq, year, err := ticket.ParseNumber(s)
		require.NoError(t, err, s)
		require.Equal(t, 417, seq)
		require.Equal(t, 2026, year)
	}
	for _, s := range []string{"", "417", "/26", "0/26", "0417/26", "417/6", "417/126", "417/1926", "-417/26", "4a7/26", "417//26", "1234567890/26", "417/26/1"} {
		_, _, err := ticket.ParseNumber(s)
		require.Equal(t, "ticket-number", domain.CodeOf(err), s)
	}
}

func TestNumberIsRead(t *testing.T) {
	require.Equal(t, "417/26", ticket.Number(417, 2026))
	require.Equal(t, "1/05", ticket.Number(1, 2005))
	rapid.Check(t, func(t *rapid.T) {
		seq, year := rapid.IntRange(1, 999_999_999).Draw(t, "seq"), rapid.IntRange(2000, 2099).Draw(t, "year")
		s, y, err := ticket.ParseNumber(ticket.Number(seq, year))
		require.NoError(t, err)
		require.Equal(t, [2]int{seq, year}, [2]int{s, y})
	})
}

func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"417/26", "417 - 2026", "1/00", "٤١٧/٢٦", "417/26\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		seq, year, err := ticket.ParseNumber(s)
		if err != nil {
			require.Equal(t, domain.KindInvalid, domain.KindOf(err))
			return
		}
		again, sameYear, err := ticket.ParseNumber(ticket.Number(seq, year))
		require.NoError(t, err)
		require.Equal(t, [2]int{seq, year}, [2]int{again, sameYear})
	})
}

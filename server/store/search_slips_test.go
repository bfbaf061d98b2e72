package store_test

import (
	"testing"

	"tendfold/server/app"
	"tendfold/server/store"
	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSearchForgivesSlips(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		search := func(sc app.Scope, q string) []app.Hit {
			hits, err := w.Search(ctx, sc, q, 0)
			require.NoError(t, err, q)
			return hits
		}
		for q, want := range map[string]string{
			"hilslide":    "farm f1 f1 alike",
			"hillsdie":    "farm f1 f1 alike",
			"carnie ngwa": "person care f1 alike",
			"ngwa carnie": "person care f1 alike",
			"karbour":     "", // the first letter may be swapped, not another one
			"hxllsxdx":    "",
			"677123457":   "", // another number is another person
		} {
			hits := found(search(app.Everything, q))
			if want == "" {
				require.Empty(t, hits, q)
				continue
			}
			require.Contains(t, hits, want, q)
		}
		require.Empty(t, search(douala, "hilslide"), "another branch's")
		require.Equal(t, "name", search(app.Everything, "hillside")[0].Why, "what is spelt right is not a slip")
		require.Equal(t, "en", search(app.Everything, "3456")[0].Language)
	})
}

// Whatever number a person has, all of it, its last four digits and any way
// of spacing it find the person: an exact number is never missed.
func TestSearchNeverMissesAnExactNumber(t *testing.T) {
	storetest.Each(t, func(t *testing.T, s *store.Store) {
		w := newWorld(t, s)
		rapid.Check(t, func(rt *rapid.T) {
			digits := rapid.StringMatching(`6[0-9]{8}`).Draw(rt, "digits")
			p, err := w.Person(ctx, app.Everything, "care")
			require.NoError(rt, err)
			p.Phone = "+999" + digits
			require.NoError(rt, w.ChangePerson(ctx, p))
			typed := rapid.SampledFrom([]string{
				"+999" + digits, "00999" + digits, "0" + digits, digits, digits[:3] + " " + digits[3:6] + "-" + digits[6:], digits[len(digits)-4:], "(" + digits[:3] + ") " + digits[3:],
			}).Draw(rt, "typed")
			hits, err := w.Search(ctx, app.Everything, typed, 0)
			require.NoError(rt, err)
			require.Contains(rt, found(hits), "person care f1 phone", typed)
		})
	})
}

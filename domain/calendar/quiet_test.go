package calendar_test

import (
	"testing"
	"time"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Against a clock that is watched minute by minute, over changes of the clock
// too.
func TestQuietEndsWhenTheWatchedClockSays(t *testing.T) {
	zones := []string{"Africa/Douala", "Europe/Paris", "America/St_Johns", "Australia/Lord_Howe"}
	rapid.Check(t, func(t *rapid.T) {
		zone, err := time.LoadLocation(rapid.SampledFrom(zones).Draw(t, "zone"))
		require.NoError(t, err)
		q := calendar.Quiet{From: rapid.IntRange(0, 1439).Draw(t, "from"), To: rapid.IntRange(0, 1439).Draw(t, "to")}
		at := time.Date(2026, 1, 1, 0, rapid.IntRange(0, 525_600).Draw(t, "minute"), 0, 0, time.UTC)
		quiet := func(t time.Time) bool {
			h, m, _ := t.In(zone).Clock()
			for i := q.From; i != q.To; i = (i + 1) % 1440 {
				if i == h*60+m {
					return true
				}
			}
			return false
		}
		want := at
		for quiet(want) {
			want = want.Add(time.Minute)
		}
		got := q.After(at, zone)
		require.False(t, quiet(got))
		require.Equal(t, want, got.UTC(), "%+v from %s", q, at.In(zone))
	})
}

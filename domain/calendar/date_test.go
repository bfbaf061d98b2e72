package calendar_test

import (
	"encoding/json"
	"testing"
	"time"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestDateIsDaysSince1970(t *testing.T) {
	// Unix day numbers as GNU date has them: date -u -d 2026-03-12 +%s / 86400.
	for text, days := range map[string]int{
		"1970-01-02": 1, "2000-02-29": 11016, "2026-03-12": 20524, "1969-12-31": -1, "1818-03-22": -55437,
	} {
		require.Equal(t, calendar.Date(days), calendar.MustDate(text), text)
		require.Equal(t, text, calendar.Date(days).String())
	}
}

func TestNoDate(t *testing.T) {
	d, err := calendar.ParseDate("")
	require.NoError(t, err)
	require.True(t, d.IsZero())
	require.Empty(t, d.String())
}

func TestParseDateRefuses(t *testing.T) {
	for _, s := range []string{"2026-3-12", "12/03/2026", "2026-02-30", "2025-02-29", "2026-03-12 ", "yesterday", "20260312"} {
		_, err := calendar.ParseDate(s)
		require.Error(t, err, s)
	}
	require.Panics(t, func() { calendar.MustDate("no") })
}

func TestDateParts(t *testing.T) {
	d := calendar.MustDate("2024-02-29")
	require.Equal(t, 2024, d.Year())
	require.Equal(t, time.February, d.Month())
	require.Equal(t, 29, d.Day())
	require.Equal(t, time.Thursday, d.Weekday())
	require.Equal(t, calendar.MustDate("2024-03-01"), d.Add(1))
	require.Equal(t, 366, calendar.MustDate("2025-03-01").Sub(d))
	require.Equal(t, d, calendar.NewDate(2024, 2, 29))
	require.Equal(t, calendar.MustDate("2025-03-01"), calendar.NewDate(2025, 2, 29), "as time.Date normalises")
}

func TestDateOfAnInstantGoesByItsOwnClock(t *testing.T) {
	instant := time.Date(2026, 3, 12, 23, 30, 0, 0, time.UTC)
	douala := zone(t, "Africa/Douala")
	require.Equal(t, "2026-03-12", calendar.FromTime(instant).String())
	require.Equal(t, "2026-03-13", calendar.FromTime(instant.In(douala)).String())
	require.Equal(t, time.Date(2026, 3, 11, 23, 0, 0, 0, time.UTC), calendar.MustDate("2026-03-12").In(douala).UTC())
}

func TestDateInJSON(t *testing.T) {
	var in struct{ On calendar.Date }
	require.NoError(t, json.Unmarshal([]byte(`{"On":"2026-03-12"}`), &in))
	require.Equal(t, calendar.MustDate("2026-03-12"), in.On)
	require.Error(t, json.Unmarshal([]byte(`{"On":"12 March"}`), &in))
	out, err := json.Marshal(in)
	require.NoError(t, err)
	require.JSONEq(t, `{"On":"2026-03-12"}`, string(out))
}

func TestDateAgreesWithTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := calendar.Date(rapid.IntRange(-200_000, 200_000).Filter(func(n int) bool { return n != 0 }).Draw(t, "day"))
		n := rapid.IntRange(-100_000, 100_000).Draw(t, "n")
		utc := time.Unix(int64(d)*86400, 0).UTC()
		require.Equal(t, utc.Weekday(), d.Weekday())
		require.Equal(t, utc.Format(time.DateOnly), d.String())
		require.Equal(t, calendar.FromTime(utc.AddDate(0, 0, n)), d.Add(n))
		require.Equal(t, n, d.Add(n).Sub(d))
		back, err := calendar.ParseDate(d.String())
		require.NoError(t, err)
		require.Equal(t, d, back)
	})
}

func FuzzParseDate(f *testing.F) {
	for _, s := range []string{"", "2026-03-12", "2025-02-29", "0000-01-01", "9999-12-31", "-1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := calendar.ParseDate(s)
		if err == nil && !d.IsZero() {
			require.Equal(t, s, d.String(), "what is read is written the same")
		}
	})
}

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation(name)
	require.NoError(t, err)
	return loc
}

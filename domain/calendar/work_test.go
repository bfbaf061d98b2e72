package calendar_test

import (
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"

	"github.com/rickar/cal/v2"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func office(t testing.TB, zoneName, country string, edits ...calendar.Edit) calendar.Calendar {
	t.Helper()
	c, err := calendar.New(zone(t, zoneName), calendar.OfficeWeek(), calendar.Country(country), edits)
	require.NoError(t, err)
	return c
}

func TestNewRefuses(t *testing.T) {
	_, err := calendar.New(nil, calendar.OfficeWeek(), calendar.Table{}, nil)
	require.Equal(t, "branch-zone", domain.CodeOf(err))
	for name, week := range map[string]calendar.Week{
		"no day":    {},
		"backwards": {1: {From: 600, To: 500}},
		"empty day": {1: {From: 600, To: 600}},
		"past 24 h": {1: {From: 600, To: 1441}},
		"below 0":   {1: {From: -1, To: 600}},
	} {
		_, err := calendar.New(time.UTC, week, calendar.Table{}, nil)
		require.Equal(t, "branch-hours", domain.CodeOf(err), name)
		require.Equal(t, domain.KindInvalid, domain.KindOf(err), name)
	}
	_, err = calendar.New(time.UTC, calendar.Week{6: {From: 0, To: 1440}}, calendar.Table{}, nil)
	require.NoError(t, err)
}

func TestWorkingDaysInCameroon(t *testing.T) {
	c := office(t, "Africa/Douala", "CM")
	for _, x := range []struct {
		from string
		n    int
		want string
	}{
		{"2026-05-13", 1, "2026-05-15"}, // Ascension on Thursday 14 May
		{"2026-05-13", 3, "2026-05-19"}, // and the weekend; 20 May is next
		{"2026-05-19", 1, "2026-05-21"},
		{"2026-12-24", 1, "2026-12-28"},
		{"2026-12-31", 1, "2027-01-04"}, // over New Year, a Friday
		{"2026-05-16", 1, "2026-05-18"}, // from a Saturday
		{"2026-05-16", 0, "2026-05-16"},
		{"2026-05-18", -1, "2026-05-15"},
		{"2027-01-04", -1, "2026-12-31"},
	} {
		require.Equal(t, x.want, c.AddWorkingDays(calendar.MustDate(x.from), x.n).String(), "%s %+d", x.from, x.n)
	}
}

func TestEditsMoveASightedDay(t *testing.T) {
	predicted, announced := calendar.MustDate("2026-03-20"), calendar.MustDate("2026-03-23")
	c := office(t, "Africa/Douala", "CM", calendar.Edit{On: predicted, Works: true}, calendar.Edit{On: announced, Name: "Fin du Ramadan"})
	require.True(t, c.IsWorking(predicted))
	require.False(t, c.IsWorking(announced))
	require.NotContains(t, on(c.Holidays(2026)), "03-20*")
	require.Contains(t, c.Holidays(2026), calendar.Holiday{On: announced, Key: "entered", Name: calendar.Name{EN: "Fin du Ramadan", FR: "Fin du Ramadan"}})
}

func TestAnEnteredDayConfirmsAPrediction(t *testing.T) {
	day := calendar.MustDate("2026-03-20")
	c := office(t, "Africa/Douala", "CM", calendar.Edit{On: day, Name: "Fin du Ramadan"})
	require.False(t, c.IsWorking(day))
	require.Contains(t, on(c.Holidays(2026)), "03-20")
	require.NotContains(t, on(c.Holidays(2026)), "03-20*")
}

func TestAddWorkingRunsOverNightsWeekendsAndHolidays(t *testing.T) {
	c := office(t, "Africa/Douala", "CM") // UTC+1, 8:00 to 17:00
	for _, x := range []struct {
		from string
		work time.Duration
		want string
	}{
		{"2026-05-12T10:00:00+01:00", 4 * time.Hour, "2026-05-12T14:00:00+01:00"},
		{"2026-05-12T16:00:00+01:00", 2 * time.Hour, "2026-05-13T09:00:00+01:00"},
		{"2026-05-12T06:00:00+01:00", time.Hour, "2026-05-12T09:00:00+01:00"},
		{"2026-05-13T16:30:00+01:00", time.Hour, "2026-05-15T08:30:00+01:00"}, // Ascension
		{"2026-05-15T17:00:00+01:00", time.Minute, "2026-05-18T08:01:00+01:00"},
		{"2026-05-15T12:00:00+01:00", 5 * time.Hour, "2026-05-15T17:00:00+01:00"}, // ends with the day, not with the next
		{"2026-05-12T10:00:00+01:00", 0, "2026-05-12T10:00:00+01:00"},
		{"2026-05-16T10:00:00+01:00", -time.Hour, "2026-05-16T10:00:00+01:00"},
	} {
		got := c.AddWorking(instant(t, x.from), x.work)
		require.True(t, got.Equal(instant(t, x.want)), "%s + %s = %s", x.from, x.work, got)
	}
}

func TestTerms(t *testing.T) {
	c := office(t, "Africa/Douala", "CM")
	for _, x := range []struct {
		term calendar.Term
		from string
		want string
	}{
		{calendar.Term{}, "2026-05-16T23:00:00+01:00", "2026-05-16T23:00:00+01:00"},
		{calendar.Term{Minutes: 240}, "2026-05-16T23:00:00+01:00", "2026-05-17T03:00:00+01:00"},
		{calendar.Term{WorkingMinutes: 60}, "2026-05-16T23:00:00+01:00", "2026-05-18T09:00:00+01:00"},
		{calendar.Term{WorkingDays: 1}, "2026-05-12T10:00:00+01:00", "2026-05-13T17:00:00+01:00"},
		{calendar.Term{WorkingDays: 1}, "2026-05-13T23:30:00+01:00", "2026-05-15T17:00:00+01:00"},
		{calendar.Term{WorkingDays: 3}, "2026-05-16T10:00:00+01:00", "2026-05-21T17:00:00+01:00"},
	} {
		got := c.By(instant(t, x.from), x.term)
		require.Equal(t, instant(t, x.want).UTC(), got, "%+v from %s", x.term, x.from)
	}
}

func TestTermCheck(t *testing.T) {
	for _, ok := range []calendar.Term{{}, {Minutes: 15}, {WorkingMinutes: 90}, {WorkingDays: 20}} {
		require.NoError(t, ok.Check())
	}
	require.Equal(t, "term-ways", domain.CodeOf(calendar.Term{Minutes: 1, WorkingDays: 1}.Check()))
	for _, bad := range []calendar.Term{{Minutes: -1}, {WorkingDays: -1}, {WorkingDays: 32}, {Minutes: 31*1440 + 1}} {
		require.Equal(t, "term-range", domain.CodeOf(bad.Check()), "%+v", bad)
	}
}

func instant(t testing.TB, s string) time.Time {
	t.Helper()
	at, err := time.Parse(time.RFC3339, s)
	require.NoError(t, err)
	return at
}

// zones: without clock changes, and with them in the night of a Sunday
// (Casablanca turns its clock back for Ramadan, which is a change against the
// grain).
var zones = []string{"Africa/Douala", "Europe/Berlin", "America/New_York", "Africa/Casablanca"}

// drawn is a calendar with its parts, so that an oracle can be built from
// them. Hours begin at 4:00 at the earliest: no branch opens in the hour in
// which clocks change. They end at 22:00 at the latest: the library walks from
// day to day by 24 hours, which loses a day of 23 hours to a later closing.
type drawn struct {
	calendar.Calendar
	zone *time.Location
	week calendar.Week
	off  map[calendar.Date]bool
}

func draw(t *rapid.T, shortest func(from int) int) drawn {
	loc, err := time.LoadLocation(rapid.SampledFrom(zones).Draw(t, "zone"))
	require.NoError(t, err)
	d := drawn{zone: loc, off: map[calendar.Date]bool{}}
	for day := range d.week {
		if rapid.IntRange(0, 3).Draw(t, "works") > 0 {
			from := rapid.IntRange(240, 1250).Draw(t, "from")
			d.week[day] = calendar.Span{From: from, To: rapid.IntRange(shortest(from), 1320).Draw(t, "to")}
		}
	}
	if d.week == (calendar.Week{}) {
		d.week = calendar.OfficeWeek()
	}
	var edits []calendar.Edit
	for _, n := range rapid.SliceOfN(rapid.IntRange(0, 60), 0, 6).Draw(t, "off") {
		on := first.Add(n)
		edits = append(edits, calendar.Edit{On: on, Name: "closed"})
		d.off[on] = true
	}
	d.Calendar, err = calendar.New(loc, d.week, calendar.Table{}, edits)
	require.NoError(t, err)
	return d
}

// aMinute lets hours be as short as can be.
func aMinute(from int) int { return from + 1 }

// nextHour lets hours end in a later hour of the day than they begin in: the
// library's IsWorkTime takes any later minute of a shared hour for worked.
func nextHour(from int) int { return (from/60 + 1) * 60 }

// first is the start of two months that hold a change of clocks in Berlin,
// New York and Casablanca.
var first = calendar.MustDate("2026-02-20")

func (d drawn) instant(t *rapid.T, label string) time.Time {
	return first.In(d.zone).Add(time.Duration(rapid.IntRange(0, 50*24*60).Draw(t, label)) * time.Minute)
}

// works is the oracle: whether the minute that begins at t is worked, by what
// the wall clock shows.
func (d drawn) works(t time.Time) bool {
	wall := t.In(d.zone)
	minute, s := wall.Hour()*60+wall.Minute(), d.week[wall.Weekday()]
	return !d.off[calendar.FromTime(wall)] && minute >= s.From && minute < s.To
}

func TestWorkingTimeAgainstCountingMinutes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, aMinute)
		from := d.instant(t, "from")
		to := from.Add(time.Duration(rapid.IntRange(0, 6*24*60).Draw(t, "span")) * time.Minute)
		count := 0
		for m := from; m.Before(to); m = m.Add(time.Minute) {
			if d.works(m) {
				count++
			}
		}
		require.Equal(t, time.Duration(count)*time.Minute, d.Working(from, to))
	})
}

func TestAddWorkingIsWhatWorkingCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, aMinute)
		from, work := d.instant(t, "from"), time.Duration(rapid.IntRange(1, 60*60).Draw(t, "work"))*time.Minute
		until := d.AddWorking(from, work)
		require.Equal(t, work, d.Working(from, until))
		require.Equal(t, work-time.Minute, d.Working(from, until.Add(-time.Minute)), "no earlier instant will do")
		require.Zero(t, d.Working(until, from), "time does not run backwards")
	})
}

// The library's own arithmetic of working hours, given the same hours on the
// wall clock of each day.
func TestWorkingTimeAgainstRickarCal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, nextHour)
		lib := cal.NewBusinessCalendar()
		lib.WorkdayFunc = func(on time.Time) bool {
			return d.week[on.Weekday()] != calendar.Span{} && !d.off[calendar.FromTime(on)]
		}
		wall := func(on time.Time, minutes int) time.Time {
			return time.Date(on.Year(), on.Month(), on.Day(), 0, minutes, 0, 0, on.Location())
		}
		lib.WorkdayStartFunc = func(on time.Time) time.Time { return wall(on, d.week[on.Weekday()].From) }
		lib.WorkdayEndFunc = func(on time.Time) time.Time { return wall(on, d.week[on.Weekday()].To) }

		from := d.instant(t, "from")
		if from.In(d.zone).Hour() == 23 {
			from = from.Add(-time.Hour) // the library walks by 24 hours here too
		}
		to := from.Add(time.Duration(rapid.IntRange(0, 20*24*60).Draw(t, "span")) * time.Minute)
		require.Equal(t, lib.WorkHoursInRange(from.In(d.zone), to.In(d.zone)), d.Working(from, to))

		n := rapid.IntRange(-20, 20).Draw(t, "n")
		noon := calendar.FromTime(from).In(time.UTC).Add(12 * time.Hour)
		require.Equal(t, calendar.FromTime(lib.WorkdaysFrom(noon, n)), d.AddWorkingDays(calendar.FromTime(noon), n))
	})
}

func BenchmarkBy(b *testing.B) {
	c := office(b, "Africa/Douala", "CM")
	at := instant(b, "2026-12-20T10:00:00Z")
	for b.Loop() {
		c.By(at, calendar.Term{WorkingDays: 10})
	}
}

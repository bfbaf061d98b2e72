package ticket_test

import (
	"testing"
	"time"

	"tendfold/domain/calendar"
	"tendfold/domain/ticket"

	"github.com/rickar/cal/v2"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawnBranch is a branch's hours and free days, drawn, and the terms that
// they make with the table that a branch has unless it says otherwise.
type drawnBranch struct {
	zone  *time.Location
	week  calendar.Week
	off   map[calendar.Date]bool
	terms ticket.Terms
}

func drawBranch(t *rapid.T) drawnBranch {
	zone, err := time.LoadLocation(rapid.SampledFrom([]string{"Africa/Douala", "Europe/Paris", "Africa/Casablanca"}).Draw(t, "zone"))
	require.NoError(t, err)
	b := drawnBranch{zone: zone, off: map[calendar.Date]bool{}}
	for day := range b.week {
		if rapid.IntRange(0, 3).Draw(t, "works") > 0 {
			from := rapid.IntRange(5, 12).Draw(t, "from") * 60
			b.week[day] = calendar.Span{From: from, To: from + rapid.IntRange(1, 8).Draw(t, "hours")*60}
		}
	}
	if b.week == (calendar.Week{}) {
		b.week = calendar.OfficeWeek()
	}
	var edits []calendar.Edit
	for _, n := range rapid.SliceOfN(rapid.IntRange(0, 80), 0, 6).Draw(t, "off") {
		on := calendar.MustDate("2026-02-20").Add(n)
		b.off[on] = true
		edits = append(edits, calendar.Edit{On: on, Name: "closed"})
	}
	c, err := calendar.New(zone, b.week, calendar.Table{}, edits)
	require.NoError(t, err)
	b.terms = ticket.Terms{Calendar: c, Table: ticket.DefaultDue()}
	return b
}

func (b drawnBranch) works(at time.Time) bool {
	wall := at.In(b.zone)
	minute, s := wall.Hour()*60+wall.Minute(), b.week[wall.Weekday()]
	return !b.off[calendar.FromTime(wall)] && minute >= s.From && minute < s.To
}

// byMinutes watches the clock from an instant on: the end of the last worked
// minute of the nth day with one, after the day on which it began.
func (b drawnBranch) byMinutes(at time.Time, days int) time.Time {
	began := calendar.FromTime(at.In(b.zone))
	seen, last := began, time.Time{}
	for m := at.Truncate(time.Minute); ; m = m.Add(time.Minute) {
		if !b.works(m) {
			continue
		}
		if on := calendar.FromTime(m.In(b.zone)); on > seen {
			if seen > began {
				days--
			}
			if seen = on; days == 0 {
				return last
			}
		}
		last = m.Add(time.Minute)
	}
}

// byLibrary asks rickar/cal for the nth workday after the day, and closes it.
func (b drawnBranch) byLibrary(at time.Time, days int) time.Time {
	lib := cal.NewBusinessCalendar()
	lib.WorkdayFunc = func(on time.Time) bool {
		return b.week[on.Weekday()] != calendar.Span{} && !b.off[calendar.FromTime(on)]
	}
	y, mo, d := at.In(b.zone).Date()
	on := lib.WorkdaysFrom(time.Date(y, mo, d, 12, 0, 0, 0, time.UTC), days)
	return time.Date(on.Year(), on.Month(), on.Day(), 0, b.week[on.Weekday()].To, 0, 0, b.zone)
}

// The due times of every urgency against a clock that is watched minute by
// minute, and against another library's workdays.
func TestDueTimesAgainstMinutesAndALibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBranch(t)
		at := calendar.MustDate("2026-02-20").In(b.zone).Add(time.Duration(rapid.IntRange(0, 40*24*60).Draw(t, "minute")) * time.Minute)
		u := rapid.SampledFrom(ticket.Urgencies()).Draw(t, "urgency")
		first, plan := b.terms.Due(u, at)
		for _, c := range []struct {
			got  time.Time
			term calendar.Term
		}{{first, b.terms.Table[u].FirstWord}, {plan, b.terms.Table[u].Plan}} {
			if c.term.WorkingDays == 0 {
				require.Equal(t, at.Add(time.Duration(c.term.Minutes)*time.Minute).UTC(), c.got, "round the clock")
				continue
			}
			require.Equal(t, b.byMinutes(at, c.term.WorkingDays).UTC(), c.got, "watched from %s", at)
			require.Equal(t, b.byLibrary(at, c.term.WorkingDays).UTC(), c.got, "by the library from %s", at)
		}
		require.False(t, first.Before(at))
		require.False(t, plan.Before(at))
	})
}

// A higher urgency is never due later than a lower one.
func TestMoreUrgentIsNeverDueLater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBranch(t)
		at := calendar.MustDate("2026-02-20").In(b.zone).Add(time.Duration(rapid.IntRange(0, 40*24*60).Draw(t, "minute")) * time.Minute)
		all := ticket.Urgencies()[2:] // the first two run by another clock
		for i := 1; i < len(all); i++ {
			f1, p1 := b.terms.Due(all[i-1], at)
			f2, p2 := b.terms.Due(all[i], at)
			require.False(t, f1.After(f2))
			require.False(t, p1.After(p2))
		}
	})
}

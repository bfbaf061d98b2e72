package programme

import (
	"math"
	"testing"
	"time"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Reference: the standard library's time package.
func TestMonthsAgreeWithTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := rapid.IntRange(-700000, 700000).Draw(t, "day")
		at := time.Unix(int64(day)*86400, 0).UTC()
		m := monthOf(float64(day) + 0.999)
		require.Equal(t, (at.Year()-1970)*12+int(at.Month())-1, m)
		require.Equal(t, int(at.Month())-1, ofYear(m))
		require.InDelta(t, float64(time.Date(at.Year(), at.Month(), 1, 0, 0, 0, 0, time.UTC).Unix())/86400, firstOf(m), 0)
	})
}

func someClock(t *rapid.T) (clock, Season, []stop) {
	var s Season
	for m := range s.Rate {
		s.Rate[m] = rapid.SampledFrom([]float64{0, 0.3, 0.7, 1, 1.4, 2}).Draw(t, "rate")
	}
	c := clock{}
	if s.Rate != [12]float64{} {
		c.rate = newRates(s.Rate)
	}
	var pauses []Pause
	for range rapid.IntRange(0, 4).Draw(t, "pauses") {
		from := day1.Add(rapid.IntRange(-50, 400).Draw(t, "from"))
		pauses = append(pauses, Pause{From: from, Ended: from.Add(rapid.IntRange(0, 60).Draw(t, "days"))})
	}
	stops := stopsOn(pauses, day1.Add(1000))
	return c.withStops(stops), s, stops
}

// The clock against the plainest way to tell it: day by day, adding the
// month's rate where no pause lies.
func TestClockAgreesWithCountingDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, s, stops := someClock(t)
		from := day1.Add(rapid.IntRange(0, 300).Draw(t, "start"))
		to := from.Add(rapid.IntRange(0, 700).Draw(t, "span"))
		var want float64
		for d := from; d < to; d++ {
			if (clock{stops: stops}).resumed(float64(d)) == float64(d) {
				want += plainRate(s, d.Month())
			}
		}
		require.InDelta(t, want, c.count(float64(to))-c.count(float64(from)), 1e-6)
	})
}

// plainRate scales by the mean over 400 years of 146,097 days, in which each
// month comes 400 times and February has 97 leap days.
func plainRate(s Season, m time.Month) float64 {
	if s.Rate == [12]float64{} {
		return 1
	}
	days := [12]float64{31, 28 + 97.0/400, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	var sum float64
	for i, r := range s.Rate {
		sum += r * days[i]
	}
	return s.Rate[m-1] * 365.2425 / sum
}

func TestClockProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _, _ := someClock(t)
		start := float64(day1) + rapid.Float64Range(0, 400).Draw(t, "start")
		days := rapid.Float64Range(0, 400).Draw(t, "days")
		end := c.after(start, days)
		require.GreaterOrEqual(t, end, start)
		require.Equal(t, end, c.resumed(end), "nothing ends inside a pause")
		if days > 0 {
			require.InDelta(t, days, c.count(end)-c.count(start), 1e-6)
		}
		require.LessOrEqual(t, end, c.after(start, days+1)+1e-9)
		require.LessOrEqual(t, end, c.after(start+1, days)+1e-9)
		var column [1]float64
		c.afterOne(column[:], start, columnOf(days))
		require.InDelta(t, end, column[0], 1e-9)
	})
}

func columnOf(days float64) column { return column{each: []float64{days}} }

func TestStopsOfPauses(t *testing.T) {
	day := func(s string) calendar.Date { return calendar.MustDate("2026-05-" + s) }
	span := func(from, to string) stop { return stop{from: float64(day(from)), to: float64(day(to))} }
	for _, x := range []struct {
		name   string
		pauses []Pause
		want   []stop
	}{
		{"ended", []Pause{{From: day("03"), Until: day("20"), Ended: day("05")}}, []stop{span("03", "05")}},
		{"open, its end to come", []Pause{{From: day("03"), Until: day("20")}}, []stop{span("03", "20")}},
		{"open, past its end", []Pause{{From: day("03"), Until: day("05")}}, []stop{span("03", "10")}},
		{"ended after the day: not known yet", []Pause{{From: day("03"), Until: day("05"), Ended: day("15")}}, []stop{span("03", "10")}},
		{"begins after the day", []Pause{{From: day("11"), Until: day("20")}}, nil},
		{"begins on the day", []Pause{{From: day("10")}}, nil},
		{"joined", []Pause{{From: day("06"), Ended: day("09")}, {From: day("01"), Ended: day("06")}, {From: day("02"), Ended: day("03")}}, []stop{span("01", "09")}},
	} {
		t.Run(x.name, func(t *testing.T) { require.Equal(t, x.want, stopsOn(x.pauses, day("10"))) })
	}
}

func TestGate(t *testing.T) {
	g := &gate{}
	g.shut[time.January-1], g.shut[time.February-1], g.shut[time.December-1] = true, true, true
	day := func(s string) float64 { return float64(calendar.MustDate(s)) }
	require.Equal(t, day("2027-03-01"), g.next(day("2026-12-01")))
	require.Equal(t, day("2027-03-01"), g.next(day("2026-11-30")+0.5), "would be reported as 1 December")
	require.Equal(t, day("2026-11-30")+0.4, g.next(day("2026-11-30")+0.4))
	require.Equal(t, day("2026-12-01"), g.closing(day("2027-02-28")))
	require.Equal(t, day("2027-03-02"), g.closing(day("2027-03-02")))
	var none *gate
	require.Equal(t, 1.5, none.next(1.5))
	require.False(t, none.isShut(1.5))
}

func TestWorkLandsOutsideShutMonthsAndPauses(t *testing.T) {
	g := &gate{}
	g.shut[time.February-1], g.shut[time.April-1] = true, true
	day := func(s string) float64 { return float64(calendar.MustDate(s)) }
	c := clock{}.withStops([]stop{{from: day("2027-03-01"), to: day("2027-04-10")}})
	require.Equal(t, day("2027-05-01"), c.landed(g, day("2027-02-10")), "shut, then paused, then shut")
}

func TestNegativeSpansGoBack(t *testing.T) {
	c := clock{rate: newRates(wet().Rate)}.withStops([]stop{{from: float64(day1) + 10, to: float64(day1) + 20}})
	end := c.after(float64(day1)+30, -15)
	require.InDelta(t, 15, c.count(float64(day1)+30)-c.count(end), 1e-9)
	require.False(t, math.IsNaN(end))
}

func TestDatesAreRoundedToTheNearestDay(t *testing.T) {
	require.Equal(t, day1, dateOf(float64(day1)+0.49))
	require.Equal(t, day1.Add(1), dateOf(float64(day1)+0.5))
	require.Equal(t, calendar.Date(-1), dateOf(-0.6))
}

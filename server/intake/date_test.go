package intake

import (
	"fmt"
	"testing"
	"time"

	"tendfold/domain/calendar"
	"tendfold/server/app/register"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

func TestParseDate(t *testing.T) {
	for in, want := range map[string]string{
		"2026-03-12":           "2026-03-12",
		"2026-3-2":             "2026-03-02",
		"2026/03/12":           "2026-03-12",
		"2026-03-12 00:00:00":  "2026-03-12",
		"2026-03-12T08:30:00Z": "2026-03-12",
		"12/03/2026":           "2026-03-12",
		"2/3/2026":             "2026-03-02",
		"12-03-2026":           "2026-03-12",
		"12.03.2026":           "2026-03-12",
		"12 03 2026":           "2026-03-12",
		"12/03/2026 00:00":     "2026-03-12",
		"12 Mar 2026":          "2026-03-12",
		"12-Mar-2026":          "2026-03-12",
		"12th March 2026":      "2026-03-12",
		"12 mars 2026":         "2026-03-12",
		"1er août 2026":        "2026-08-01",
		"3 AOUT 2026":          "2026-08-03",
		"5 févr. 2026":         "2026-02-05",
		"5 fevrier 2026":       "2026-02-05",
		"24 déc. 2025":         "2025-12-24",
		"7 juil 2026":          "2026-07-07",
		"29/02/2024":           "2024-02-29",
	} {
		got, code := parseDate(in, false)
		require.Empty(t, code, in)
		require.Equal(t, want, got.String(), in)
	}
}

func TestParseDateRefuses(t *testing.T) {
	for in, want := range map[string]register.Code{
		"31/02/2026":    register.DateNone,
		"29/02/2026":    register.DateNone,
		"03/25/2026":    register.DateNone, // month first
		"2026-13-01":    register.DateNone,
		"0/1/2026":      register.DateNone,
		"soon":          register.DateNone,
		"2026":          register.DateNone,
		"12 Foo 2026":   register.DateNone,
		"12 2026":       register.DateNone,
		"2026-03":       register.DateNone,
		"12/03/26":      register.DateShortYear,
		"1-1-26":        register.DateShortYear,
		"12 mars 26":    register.DateShortYear,
		"12-Mar-26":     register.DateShortYear,
		"99999999999":   register.DateNone,
		"12/03/2026abc": register.DateNone,
	} {
		_, code := parseDate(in, false)
		require.Equal(t, want, code, in)
	}
}

// Microsoft, DATE function: "January 1, 2008 is serial number 39448". The
// 1904 system is 1,462 days behind (Microsoft, "Differences between the 1900
// and the 1904 date system"): there, 5 July 1998 is 34519, and 35981 in the
// 1900 system.
func TestDayNumbers(t *testing.T) {
	for _, c := range []struct {
		number   string
		from1904 bool
		want     string
	}{
		{"39448", false, "2008-01-01"},
		{"35981", false, "1998-07-05"},
		{"34519", true, "1998-07-05"},
		{"46093.75", false, "2026-03-12"},
		{"46093,75", false, "2026-03-12"},
	} {
		got, code := parseDate(c.number, c.from1904)
		require.Empty(t, code)
		require.Equal(t, c.want, got.String())
	}
}

func TestDayNumbersAgreeWithExcelize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(20_000, 80_000).Draw(t, "number")
		from1904 := rapid.Bool().Draw(t, "from 1904")
		want, err := excelize.ExcelDateToTime(float64(n), from1904)
		require.NoError(t, err)
		got, code := parseDate(fmt.Sprint(n), from1904)
		require.Empty(t, code)
		require.Equal(t, calendar.FromTime(want), got)
	})
}

func TestEveryDayReadsBackInEveryForm(t *testing.T) {
	english := func(d time.Time) string { return d.Format("2 January 2006") }
	french := func(d time.Time) string {
		names := [...]string{"janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août", "septembre", "octobre", "novembre", "décembre"}
		return fmt.Sprintf("%d %s %d", d.Day(), names[d.Month()-1], d.Year())
	}
	forms := []func(time.Time) string{
		func(d time.Time) string { return d.Format("2006-01-02") },
		func(d time.Time) string { return d.Format("02/01/2006") },
		func(d time.Time) string { return d.Format("02 Jan 2006") },
		english, french,
	}
	rapid.Check(t, func(t *rapid.T) {
		day := time.Date(1990, 1, 1+rapid.IntRange(0, 20_000).Draw(t, "days"), 0, 0, 0, 0, time.UTC)
		form := rapid.SampledFrom(forms).Draw(t, "form")
		got, code := parseDate(form(day), false)
		require.Empty(t, code, form(day))
		require.Equal(t, calendar.FromTime(day), got, form(day))
	})
}

func FuzzParseDate(f *testing.F) {
	for _, s := range []string{"2026-03-12", "12/03/2026", "12 mars 2026", "46093", "31/02/2026", "1er août 2026", "٣/٣/٢٠٢٦"} {
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, s string, from1904 bool) {
		on, code := parseDate(s, from1904)
		if code != "" {
			require.Zero(t, on)
			return
		}
		again, code := parseDate(on.String(), from1904)
		if on != 0 && on.Year() >= 1000 && on.Year() <= 9999 {
			require.Empty(t, code)
			require.Equal(t, on, again)
		}
	})
}

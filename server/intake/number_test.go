package intake

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseNumber(t *testing.T) {
	for _, c := range []struct {
		in    string
		comma bool
		want  float64
	}{
		{"12", false, 12},
		{"12.5", false, 12.5},
		{"12,5", true, 12.5},
		{"12.5", true, 12.5},
		{"1,200", false, 1200},
		{"1,200.5", false, 1200.5},
		{"1.200,5", true, 1200.5},
		{"1,200.5", true, 1200.5},
		{"1 200,5", true, 1200.5},
		{"1\u202f200,5", true, 1200.5},
		{"1\u00a0200", false, 1200},
		{"1'200.5", false, 1200.5},
		{"1.234.567", true, 1234567},
		{"-9.24", false, -9.24},
		{"−9,24", true, -9.24},
		{"+4.05", false, 4.05},
		{".5", false, 0.5},
		{",5", true, 0.5},
		{"5.", false, 5},
		{"1e3", false, 1000},
		{"2.5E-1", false, 0.25},
		{"007", false, 7},
	} {
		got, ok := parseNumber(c.in, c.comma)
		require.True(t, ok, c.in)
		require.Equal(t, c.want, got, c.in)
	}
}

func TestParseNumberRefuses(t *testing.T) {
	for _, in := range []string{"", "abc", "NaN", "Inf", "-inf", "1e999", "0x10", "1_000", "12,34,567", "1 2", "1..2", "--1", "1-2", "12 34", "½", "٣", "1,2.3,4"} {
		for _, comma := range []bool{false, true} {
			_, ok := parseNumber(in, comma)
			require.False(t, ok, "%q %v", in, comma)
		}
	}
	// A comma that separates the cells cannot be the decimal mark too.
	_, ok := parseNumber("12,5", false)
	require.False(t, ok)
	_, ok = parseNumber("1.200,5", false)
	require.False(t, ok)
}

func TestParseWhole(t *testing.T) {
	for _, c := range []struct {
		in      string
		comma   bool
		want    int
		isWhole bool
	}{
		{"1200", false, 1200, true},
		{"1 200", true, 1200, true},
		{"1,200", false, 1200, true}, // the comma separates cells, so it can only part thousands
		{"1,200", true, 0, false},    // 1.2 or 1200
		{"1.200", true, 0, false},
		{"1.000", false, 0, false},
		{"1200.0", false, 1200, true},
		{"12.5", false, 0, false},
	} {
		got, isNumber, isWhole := parseWhole(c.in, c.comma)
		require.True(t, isNumber, c.in)
		require.Equal(t, c.isWhole, isWhole, c.in)
		require.Equal(t, c.want, got, c.in)
	}
}

func TestNumbersReadBackInEveryDress(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(0, 99_999_999).Draw(t, "whole")
		fraction := rapid.StringMatching(`[0-9]{1,4}`).Draw(t, "fraction")
		comma := rapid.Bool().Draw(t, "decimal comma")
		mark := "."
		if comma {
			mark = ","
		}
		group := rapid.SampledFrom([]string{"", " ", "\u00a0", "\u202f"}).Draw(t, "group")
		text := inThousands(strconv.Itoa(whole), group) + mark + fraction
		want, err := strconv.ParseFloat(strconv.Itoa(whole)+"."+fraction, 64)
		require.NoError(t, err)
		got, ok := parseNumber(text, comma)
		require.True(t, ok, text)
		require.Equal(t, want, got, text)
	})
}

func inThousands(s, group string) string {
	var parts []string
	for len(s) > 3 {
		parts = append([]string{s[len(s)-3:]}, parts...)
		s = s[:len(s)-3]
	}
	return strings.Join(append([]string{s}, parts...), group)
}

func TestWithMeasure(t *testing.T) {
	for in, want := range map[string][2]string{
		"30":        {"30", ""},
		"30 ft":     {"30", "ft"},
		"30ft":      {"30", "ft"},
		"12,5 m":    {"12,5", "m"},
		"30'":       {"30", "'"},
		"30 pi":     {"30", "pi"},
		"1.5 kW":    {"1.5", "kW"},
		"1'200":     {"1'200", ""},
		"1 200":     {"1 200", ""},
		"1e3":       {"1e3", ""},
		"5'6":       {"5'6", ""},
		"unknown":   {"unknown", ""},
		"12\u00a0m": {"12", "m"},
	} {
		value, measure := withMeasure(in)
		require.Equal(t, want, [2]string{value, measure}, in)
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"12,5", "1.200,5", "1e999", "NaN", "-0", "1'200", "1,2.3", "9999999999999999999999"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, s string, comma bool) {
		v, ok := parseNumber(s, comma)
		if !ok {
			return
		}
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0))
		again, ok := parseNumber(strconv.FormatFloat(v, 'f', -1, 64), comma)
		require.True(t, ok)
		require.Equal(t, v, again)
		_, isNumber, _ := parseWhole(s, comma)
		require.True(t, isNumber)
	})
}

package intake

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	grouped  = regexp.MustCompile(`^\d{1,3}(?: \d{3})+$`)
	figures  = regexp.MustCompile(`^\d+$`)
	exponent = regexp.MustCompile(`^[+-]?(?:\d+\.?\d*|\.\d+)[eE][+-]?\d{1,3}$`)
	doubtful = regexp.MustCompile(`^[+-]?\d{1,3}[.,]\d{3}$`)
	suffixed = regexp.MustCompile(`^(.*?\d[.,]?)\s*([^\d.,\s][^\d]*)$`)
)

// spaces are those that typists and spreadsheets put between thousands, and
// the Swiss apostrophe.
var spaces = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "'", " ", "’", " ", "−", "-")

// parseNumber reads a finite number; false when it is none. The decimal mark
// is the point, and the comma too where it does not separate the cells;
// thousands may stand apart by spaces, or by the other mark.
func parseNumber(s string, decimalComma bool) (float64, bool) {
	s = spaces.Replace(strings.TrimSpace(s))
	if exponent.MatchString(s) {
		return finite(s)
	}
	sign := ""
	if s != "" && (s[0] == '-' || s[0] == '+') {
		sign, s = strings.TrimPrefix(s[:1], "+"), s[1:]
	}
	whole, fraction, group := split(s, decimalComma)
	if group != "" {
		whole = strings.ReplaceAll(whole, group, " ")
	}
	if !figures.MatchString(whole) && !grouped.MatchString(whole) && !(whole == "" && fraction != "") {
		return 0, false
	}
	if fraction != "" && !figures.MatchString(fraction) {
		return 0, false
	}
	return finite(sign + "0" + strings.ReplaceAll(whole, " ", "") + "." + fraction + "0")
}

// split parts a number at its decimal mark and says which mark, if any, may
// stand between thousands.
func split(s string, decimalComma bool) (whole, fraction, group string) {
	mark, other := ".", ","
	if decimalComma && strings.LastIndex(s, ",") > strings.LastIndex(s, ".") {
		mark, other = ",", "."
	}
	if decimalComma && strings.Count(s, mark) > 1 && !strings.Contains(s, other) {
		return s, "", mark // 1.234.567: no decimal mark occurs twice
	}
	whole, fraction, _ = strings.Cut(s, mark)
	return whole, fraction, other
}

func finite(s string) (float64, bool) {
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsInf(v, 0) && !math.IsNaN(v)
}

// parseWhole is parseNumber for counts. "1.200" may be one and a fifth or
// twelve hundred, so it is neither, unless the mark can only be one between
// thousands.
func parseWhole(s string, decimalComma bool) (n int, isNumber, isWhole bool) {
	v, ok := parseNumber(s, decimalComma)
	if !ok {
		return 0, false, false
	}
	trimmed := strings.TrimSpace(s)
	onlyThousands := !decimalComma && strings.Contains(trimmed, ",")
	if v != math.Trunc(v) || doubtful.MatchString(trimmed) && !onlyThousands {
		return 0, true, false
	}
	return int(max(min(v, 1e15), -1e15)), true, true
}

// withMeasure parts "30 ft" into the number and the measure; a cell without a
// measure is its own number.
func withMeasure(s string) (value, measure string) {
	if exponent.MatchString(s) {
		return s, ""
	}
	if m := suffixed.FindStringSubmatch(strings.TrimSpace(s)); m != nil {
		return m[1], strings.TrimSpace(m[2])
	}
	return s, ""
}

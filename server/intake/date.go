package intake

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"tendfold/domain/calendar"
	"tendfold/server/app/register"
)

// months by the folded words that English and French have for them.
var months = func() map[string]time.Month {
	words := [12]string{
		"jan january janv janvier", "feb february fev fevr fevrier", "mar march mars", "apr april avr avril",
		"may mai", "jun june juin", "jul july juil juillet", "aug august aou aout",
		"sep sept september septembre", "oct october octobre", "nov november novembre", "dec december decembre",
	}
	out := map[string]time.Month{}
	for i, list := range words {
		for w := range strings.FieldsSeq(list) {
			out[w] = time.Month(i + 1)
		}
	}
	return out
}()

var (
	yearFirst  = regexp.MustCompile(`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]\d{1,2}:\d{2}[\d:.]*Z?)?$`)
	dayFirst   = regexp.MustCompile(`^(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{4})(?: \d{1,2}:\d{2}[\d:.]*)?$`)
	shortYear  = regexp.MustCompile(`^\d{1,2}[-/. ](\d{1,2}|\pL+)[-/. ]\d{2}$`)
	monthWord  = regexp.MustCompile(`^(\d{1,2})(?:er|st|nd|rd|th)? (\pL+) (\d{4})$`)
	shortWords = regexp.MustCompile(`^\d{1,2}(?:er|st|nd|rd|th)? \pL+ \d{2}$`)
	dayNumber  = regexp.MustCompile(`^(\d{5})(?:[.,]\d+)?$`)
)

// earliest is the first day that a register may name: older ones are slips.
var earliest = calendar.NewDate(1990, time.January, 1)

// epoch1900 is the day before day 1 of the usual day numbers of spreadsheets,
// less one more for 29 February 1900, which they count though it never was;
// day numbers of workbooks that count from 1904 are smaller by 1,462
// (Microsoft, "Differences between the 1900 and the 1904 date system").
var epoch1900 = calendar.NewDate(1899, time.December, 30)

const days1904 = 1462

// parseDate reads a date as people write it, or as a spreadsheet numbers it;
// the code says why it is none.
func parseDate(s string, from1904 bool) (calendar.Date, register.Code) {
	if m := yearFirst.FindStringSubmatch(s); m != nil {
		return civil(m[1], m[2], m[3])
	}
	if m := dayFirst.FindStringSubmatch(s); m != nil {
		return civil(m[3], m[2], m[1])
	}
	if m := dayNumber.FindStringSubmatch(s); m != nil {
		n, _ := strconv.Atoi(m[1])
		if from1904 {
			n += days1904
		}
		return epoch1900.Add(n), ""
	}
	folded := register.Fold(s)
	if m := monthWord.FindStringSubmatch(folded); m != nil {
		if month, ok := months[m[2]]; ok {
			return civil(m[3], strconv.Itoa(int(month)), m[1])
		}
	}
	if shortYear.MatchString(s) || shortWords.MatchString(folded) {
		return 0, register.DateShortYear
	}
	return 0, register.DateNone
}

// civil is the date of three texts of figures, if there is such a day.
func civil(year, month, day string) (calendar.Date, register.Code) {
	y, _ := strconv.Atoi(year)
	m, _ := strconv.Atoi(month)
	d, _ := strconv.Atoi(day)
	date := calendar.NewDate(y, time.Month(m), d)
	if date.Year() != y || date.Month() != time.Month(m) || date.Day() != d {
		return 0, register.DateNone
	}
	return date, ""
}

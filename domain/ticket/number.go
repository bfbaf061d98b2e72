package ticket

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"tendfold/domain"
)

// century is what the two digits of a number's year are counted from.
const century = 2000

// Number is the speakable number of the seq-th ticket of a year: 417/26.
func Number(seq, year int) string { return fmt.Sprintf("%d/%02d", seq, year%100) }

// numbered takes what people type: 417/26, 417 / 26, 417-26, 417/2026.
var numbered = regexp.MustCompile(`^([1-9][0-9]{0,8}) ?[/-] ?(?:20)?([0-9]{2})$`)

// ParseNumber reads a ticket's number as it is written or typed into a search
// box, and answers its place in the year and the whole year.
func ParseNumber(s string) (seq, year int, err error) {
	m := numbered.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return 0, 0, domain.Invalid("ticket-number", fmt.Sprintf("%q is not a ticket number like 417/26.", s))
	}
	seq, _ = strconv.Atoi(m[1]) // nine digits at most
	year, _ = strconv.Atoi(m[2])
	return seq, century + year, nil
}

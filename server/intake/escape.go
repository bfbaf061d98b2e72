package intake

import (
	"regexp"
	"strings"
)

// A spreadsheet takes a cell that starts with one of these for something to
// reckon, and a formula in a name may fetch or send what it likes (OWASP,
// "CSV Injection").
const reckoned = "=+-@\t\r"

var plain = regexp.MustCompile(`^-?\d+(\.\d+)?$`)

// escape puts an apostrophe before a text that a spreadsheet would reckon,
// and before one that unescape would take an apostrophe from. Numbers stay
// numbers.
func escape(s string) string {
	if s == "" || plain.MatchString(s) || !strings.ContainsRune(reckoned+"'", rune(s[0])) {
		return s
	}
	return "'" + s
}

// unescape undoes escape.
func unescape(s string) string {
	if len(s) > 1 && s[0] == '\'' && strings.ContainsRune(reckoned+"'", rune(s[1])) {
		return s[1:]
	}
	return s
}

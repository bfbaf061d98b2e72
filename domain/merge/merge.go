// Package merge decides which of several entries about one thing stands. It
// looks at nothing but what the entries say of themselves, so phones that
// were apart for weeks come to the same, in whatever order, pieces and
// repeats a network brings their entries. The phone has the same rules
// (web/src/roles/phone/merge.ts); testdata/cases.json holds both.
package merge

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"tendfold/domain/calendar"
)

// A Word is what an entry tells of when it was said.
type Word struct {
	ID   string        // of the entry
	On   calendar.Date // the day that it states
	Made string        // when it was made, from Made
}

// Beats says whether a mark of a checklist item takes another's place: it
// states a later day, or the same day and was made later.
func (w Word) Beats(o Word) bool {
	return cmp.Or(cmp.Compare(w.On, o.On), w.madeAfter(o)) > 0
}

// Outdates says whether a word on a milestone takes another's place: it was
// made later, whichever days the two state, for it may mend the day.
func (w Word) Outdates(o Word) bool { return w.madeAfter(o) > 0 }

func (w Word) madeAfter(o Word) int {
	return cmp.Or(strings.Compare(w.Made, o.Made), strings.Compare(w.ID, o.ID))
}

// Made is when an entry was made, as a text that sorts. It is the stamp of a
// hybrid logical clock where the entry carries one. Entries of the time
// before there were stamps have the milliseconds that their id was made from
// (UUIDv7, RFC 9562 section 5.7), and those whose id has none the device's
// clock, 0 where it is not known; the id itself tells equal ones apart.
func Made(stamp, id string, deviceMs int64) string {
	if stamp != "" {
		return stamp
	}
	if ms, ok := idTime(id); ok {
		return ms + "-0000-" + id
	}
	return fmt.Sprintf("%012x-0000-%s", max(deviceMs, 0), id)
}

// idTime are the twelve hexadecimal digits of milliseconds in a UUIDv7.
func idTime(id string) (ms string, ok bool) {
	if len(id) != 36 || id[8] != '-' || id[13] != '-' || id[14] != '7' {
		return "", false
	}
	ms = strings.ToLower(id[:8] + id[9:13])
	return ms, hex(ms)
}

// Lengths of the three parts of a stamp, in hexadecimal digits.
const (
	msDigits    = 12
	countDigits = 4
	nodeDigits  = 8
)

// StampMs reads a stamp: milliseconds since 1970 (12 hexadecimal digits), the
// count within them (4) and the device (8), joined by hyphens, in lower case.
// ok says whether it is one.
func StampMs(stamp string) (ms int64, ok bool) {
	parts := strings.Split(stamp, "-")
	if len(parts) != 3 || len(parts[0]) != msDigits || len(parts[1]) != countDigits || len(parts[2]) != nodeDigits {
		return 0, false
	}
	if !hex(parts[0]) || !hex(parts[1]) || !hex(parts[2]) {
		return 0, false
	}
	ms, err := strconv.ParseInt(parts[0], 16, 64)
	return ms, err == nil
}

func hex(text string) bool { return strings.Trim(text, "0123456789abcdef") == "" }

// After is a stamp of ours that is later than a known one and not before a
// clock in milliseconds: what is said before a screen that shows the known
// ones comes after them, however far ahead somebody's clock was.
func After(known string, nowMs int64) string {
	ms, count := max(nowMs, 0), int64(0)
	if last, ok := StampMs(known); ok && last >= ms {
		c, _ := strconv.ParseInt(known[msDigits+1:msDigits+1+countDigits], 16, 64)
		ms, count = last, c+1
	}
	if count > 0xffff {
		ms, count = ms+1, 0
	}
	return fmt.Sprintf("%012x-%04x-00000000", ms, count)
}

// Package calendar owns civil dates, the working hours of a branch, public
// holidays, and the due times that follow from them.
package calendar

import (
	"fmt"
	"time"
)

// Date is a civil date: days since 1970-01-01. The zero value is "no date"
// (no farm of ours is that old). Planting and stocking are dates, never
// instants. As text it is 2026-03-12; no date is the empty text.
type Date int32

// NewDate is the date of y, m, d, normalised as time.Date does.
func NewDate(y int, m time.Month, d int) Date {
	return FromTime(time.Date(y, m, d, 0, 0, 0, 0, time.UTC))
}

// FromTime is the date that t shows on the wall in t's own location.
func FromTime(t time.Time) Date {
	y, m, d := t.Date()
	return Date(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// ParseDate reads 2026-03-12 and nothing else; "" is no date.
func ParseDate(s string) (Date, error) {
	if s == "" {
		return 0, nil
	}
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date like 2026-03-12", s)
	}
	return FromTime(t), nil
}

// MustDate is ParseDate for constants and tests; it panics on a bad text.
func MustDate(s string) Date {
	d, err := ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

// IsZero says whether there is no date.
func (d Date) IsZero() bool { return d == 0 }

// Add is the date n days later.
func (d Date) Add(n int) Date { return d + Date(n) } // spans are bounded long before this

// Sub is the number of days from o to d.
func (d Date) Sub(o Date) int { return int(d) - int(o) }

// In is midnight at the start of d in loc.
func (d Date) In(loc *time.Location) time.Time {
	t := d.utc()
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, loc)
}

// Month is the month of d.
func (d Date) Month() time.Month { return d.utc().Month() }

// Year is the year of d.
func (d Date) Year() int { return d.utc().Year() }

// Day is the day of the month of d.
func (d Date) Day() int { return d.utc().Day() }

// Weekday is the day of the week of d.
func (d Date) Weekday() time.Weekday { return d.utc().Weekday() }

func (d Date) utc() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// String is 2026-03-12, or "" for no date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return d.utc().Format(time.DateOnly)
}

// MarshalText is String.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText is ParseDate.
func (d *Date) UnmarshalText(b []byte) error {
	v, err := ParseDate(string(b))
	if err == nil {
		*d = v
	}
	return err
}

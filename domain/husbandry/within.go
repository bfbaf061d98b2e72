// Package husbandry holds what the rooms below it share: how a number that
// cannot be is refused. Each room is one piece of arithmetic about what a unit
// holds, eats, drinks and will sell: pure functions whose figures come in as
// arguments, whose formulas name their source, and whose answers are finite
// numbers or an error that names the field and its measure.
package husbandry

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"tendfold/domain"
)

// Refused is the code of every error about a number that cannot be.
const Refused = "husbandry-refused"

// Range is what a number may be, ends included, in a measure.
type Range struct {
	Low, High float64
	Measure   string // as people write it; "" = a number without measure
}

// Within says what is wrong with a value; nil when nothing is.
func (r Range) Within(path string, v float64) *domain.Field {
	if v >= r.Low && v <= r.High { // false for NaN
		return nil
	}
	return &domain.Field{Path: path, Code: "out-of-range", Text: fmt.Sprintf("is %s; it must be %s", number(v), r)}
}

// Each is Within for a list; the path of an element is that of the list and
// its place, counted from 0.
func (r Range) Each(path string, values []float64) *domain.Field {
	for i, v := range values {
		if f := r.Within(path+"."+strconv.Itoa(i), v); f != nil {
			return f
		}
	}
	return nil
}

func (r Range) String() string {
	text := number(r.Low) + " to " + number(r.High)
	if r.Measure == "" {
		return text
	}
	return text + " " + r.Measure
}

// Wrong names a field and says what is wrong with it.
func Wrong(path, format string, args ...any) *domain.Field {
	return &domain.Field{Path: path, Code: "not-possible", Text: fmt.Sprintf(format, args...)}
}

// Refuse makes one error of what is wrong; nil when nothing is.
func Refuse(wrong ...*domain.Field) error {
	var fields []domain.Field
	for _, f := range wrong {
		if f != nil {
			fields = append(fields, *f)
		}
	}
	if len(fields) == 0 {
		return nil
	}
	return domain.Invalid(Refused, "This cannot be worked out: "+fields[0].Path+" "+fields[0].Text+".", fields...)
}

// number writes a value as short as it can be written exactly.
func number(v float64) string {
	switch {
	case math.IsNaN(v):
		return "not a number"
	case math.IsInf(v, 0):
		return "without end"
	case math.Abs(v) >= 1e-4 && math.Abs(v) < 1e15 || v == 0:
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// Fields are the fields that an error of Refuse names, to be told together
// with others.
func Fields(err error) []*domain.Field {
	e, ok := errors.AsType[*domain.Error](err)
	if !ok {
		return nil
	}
	var out []*domain.Field
	for i := range e.Fields {
		out = append(out, &e.Fields[i])
	}
	return out
}

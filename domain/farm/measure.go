package farm

// Length is a length as a person entered it: the value and its measure stay,
// so that the build sheet never drifts by conversion. Metres and feet are
// both exact by the 1959 international yard and pound agreement
// (1 ft = 0.3048 m).
type Length struct {
	Value   float64 `json:"value"`
	Measure string  `json:"measure"` // ft or m
}

// metresPerFoot is exact: international yard and pound agreement, 1959.
const metresPerFoot = 0.3048

// Metres is the length in metres.
func (l Length) Metres() float64 {
	if l.Measure == "ft" {
		return l.Value * metresPerFoot
	}
	return l.Value
}

// Feet is the length in feet.
func (l Length) Feet() float64 {
	if l.Measure == "ft" {
		return l.Value
	}
	return l.Value / metresPerFoot
}

// Power is a pump's power as entered: hp (mechanical, 0.7457 kW), ch or cv
// (metric, 0.7355 kW) or kW.
type Power struct {
	Value   float64 `json:"value"`
	Measure string  `json:"measure"` // hp, ch, kW
}

// KW is the power in kilowatts.
func (p Power) KW() float64 {
	switch p.Measure {
	case "hp":
		return p.Value * 0.7457
	case "ch":
		return p.Value * 0.7355
	default:
		return p.Value
	}
}

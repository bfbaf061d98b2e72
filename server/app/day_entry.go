package app

import (
	"encoding/json"
	"fmt"
	"maps"
)

// DayEntry is the data of EntryDay, the daybook of one day. A field that is
// not there was not counted: blank is never zero. Beside its own names it has
// those of the pack's fields: numbers, or texts for choices, texts and dates.
type DayEntry struct {
	AllWell bool // "all well today: no deaths"
	Note    string
	Sure    []string // fields whose unlikely value was asked back and is meant
	Values  map[string]any
}

// MarshalJSON puts all names side by side.
func (d DayEntry) MarshalJSON() ([]byte, error) {
	out := map[string]any{}
	maps.Copy(out, d.Values)
	if d.AllWell {
		out["all_well"] = true
	}
	if d.Note != "" {
		out["note"] = d.Note
	}
	if len(d.Sure) > 0 {
		out["sure"] = d.Sure
	}
	return json.Marshal(out)
}

// UnmarshalJSON takes apart what stands side by side. An empty value is one
// that was not given.
func (d *DayEntry) UnmarshalJSON(src []byte) error {
	var own struct {
		AllWell bool     `json:"all_well"`
		Note    string   `json:"note"`
		Sure    []string `json:"sure"`
	}
	var all map[string]any
	if err := json.Unmarshal(src, &own); err != nil {
		return err
	}
	if err := json.Unmarshal(src, &all); err != nil {
		return err
	}
	*d = DayEntry{AllWell: own.AllWell, Note: own.Note, Sure: own.Sure, Values: map[string]any{}}
	for name, v := range all {
		switch v.(type) {
		case float64, string:
			if name != "note" {
				d.Values[name] = v
			}
		case nil:
		default:
			if name != "all_well" && name != "sure" && name != "media" {
				return fmt.Errorf("%s is neither a number nor a text", name)
			}
		}
	}
	return nil
}

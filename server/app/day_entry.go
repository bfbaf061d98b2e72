package app

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
)

// DayEntry is the data of EntryDay, the daybook of one day. A field that is
// not there was not counted: blank is never zero. Beside its own names it has
// those of the pack's fields: numbers, or texts for choices, texts and dates.
type DayEntry struct {
	AllWell bool // "all well today: no deaths"
	Note    string
	Sure    []string // fields whose unlikely value was asked back and is meant
	// Source is FromPaper for a page that the firm types in, "" for a word
	// that came as it was given; WrittenBy is the person who wrote that page.
	Source    string
	WrittenBy string
	Values    map[string]any
}

// FromPaper is the source of a day that was written on the printed page.
const FromPaper = "paper"

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
	if d.Source != "" {
		out["source"] = d.Source
	}
	if d.WrittenBy != "" {
		out["written_by"] = d.WrittenBy
	}
	return json.Marshal(out)
}

// ownTexts are the texts of every daybook, which are no fields of a pack.
var ownTexts = []string{"note", "source", "written_by"}

// UnmarshalJSON takes apart what stands side by side. An empty value is one
// that was not given.
func (d *DayEntry) UnmarshalJSON(src []byte) error {
	var own struct {
		AllWell   bool     `json:"all_well"`
		Note      string   `json:"note"`
		Sure      []string `json:"sure"`
		Source    string   `json:"source"`
		WrittenBy string   `json:"written_by"`
	}
	var all map[string]any
	if err := json.Unmarshal(src, &own); err != nil {
		return err
	}
	if err := json.Unmarshal(src, &all); err != nil {
		return err
	}
	*d = DayEntry{
		AllWell: own.AllWell, Note: own.Note, Sure: own.Sure, Source: own.Source, WrittenBy: own.WrittenBy, Values: map[string]any{},
	}
	for name, v := range all {
		switch v.(type) {
		case float64, string:
			if !slices.Contains(ownTexts, name) {
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

package training

import "tendfold/domain/calendar"

// Trainee is a person with the passes on record.
type Trainee struct {
	PersonID string
	Passes   []Pass
}

// Coverage is how far a group is trained. People without any gap are Complete.
type Coverage struct {
	People   int              `json:"people"`
	Complete int              `json:"complete"`
	Modules  []ModuleCoverage `json:"modules"`
}

// ModuleCoverage counts people by how they stand with one module; the three
// counts add up to the people of the group.
type ModuleCoverage struct {
	Module  string `json:"module"`
	Held    int    `json:"held"`
	Lapsed  int    `json:"lapsed"`
	Missing int    `json:"missing"`
}

// Cover counts a group on a day against the modules that each of them should
// hold.
func Cover(required []string, people []Trainee, on calendar.Date) Coverage {
	c := Coverage{People: len(people), Modules: make([]ModuleCoverage, len(required))}
	for i, m := range required {
		c.Modules[i].Module = m
	}
	for _, p := range people {
		complete := true
		for i, m := range required {
			g, short := gap(m, p.Passes, on, 0)
			complete = complete && !short
			switch {
			case !short:
				c.Modules[i].Held++
			case g.Kind == Lapsed:
				c.Modules[i].Lapsed++
			default:
				c.Modules[i].Missing++
			}
		}
		if complete {
			c.Complete++
		}
	}
	return c
}

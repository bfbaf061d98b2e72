package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"tendfold/domain/calendar"
	"tendfold/domain/cluster"
	"tendfold/domain/farm"
)

// SignCase is a report of a sign on a farm whose position is known.
type SignCase struct {
	Sign     string
	FarmID   string
	Farm     string
	BranchID string
	Lat, Lng float64
	On       calendar.Date
}

// outbreakStore is what Outbreaks needs of the database.
type outbreakStore interface {
	SignCases(ctx context.Context, sc Scope, since calendar.Date) ([]SignCase, error)
	Staff(ctx context.Context, branch string, roles ...farm.Role) ([]farm.Person, error)
}

// Outbreaks look for the same sign on neighbouring farms.
type Outbreaks struct {
	Core
	store outbreakStore
	days  *Days
	reach *Reach
}

// NewOutbreaks wires the use case.
func NewOutbreaks(core Core, store outbreakStore, days *Days, reach *Reach) *Outbreaks {
	return &Outbreaks{Core: core, store: store, days: days, reach: reach}
}

// outbreakDays is how far back reports tell what is usual, and outbreakP the
// false-alarm rate: where nothing is, one look at a sign in a hundred says that
// something is (our choice; held to it by domain/cluster's tests). The seed is
// the day, so that everybody who looks on a day sees the same.
const (
	outbreakDays = 90
	outbreakP    = 0.01
	caseBound    = 400 // of one sign
)

// Outbreak is the same sign on neighbouring farms, closer together than chance
// would put it.
type Outbreak struct {
	Sign     string        `json:"sign"`
	Since    calendar.Date `json:"since"`
	Km       float64       `json:"km" doc:"How far from the middle one the farthest lies."`
	Cases    int           `json:"cases"`
	Expected float64       `json:"expected" doc:"By chance."`
	P        float64       `json:"p" doc:"How often chance alone makes something as striking anywhere."`
	Farms    []OutbreakAt  `json:"farms"`
}

// OutbreakAt is a farm of an outbreak.
type OutbreakAt struct {
	FarmID string `json:"farm_id"`
	Farm   string `json:"farm"`
}

// OutbreakList is what stands out today.
type OutbreakList struct {
	On    calendar.Date `json:"on"`
	Alarm float64       `json:"alarm" doc:"The false-alarm rate: where nothing is, so many looks at a sign say that something is."`
	Items []Outbreak    `json:"items"`
}

// List is what stands out in the actor's branches.
func (s *Outbreaks) List(ctx context.Context, who Actor) (OutbreakList, error) {
	var out OutbreakList
	if err := who.Need(leader...); err != nil {
		return out, err
	}
	today, err := s.days.Today(ctx, who, "")
	if err != nil {
		return out, err
	}
	out.On, out.Alarm = today, outbreakP
	cases, err := s.store.SignCases(ctx, who.Scope(), today.Add(-outbreakDays))
	out.Items = outbreaks(cases, today)
	return out, err
}

// outbreaks scans each sign by itself.
func outbreaks(cases []SignCase, today calendar.Date) []Outbreak {
	bySign, names := map[string][]cluster.Case{}, map[string]string{}
	for _, c := range cases {
		names[c.FarmID] = c.Farm
		bySign[c.Sign] = append(bySign[c.Sign], cluster.Case{Place: c.FarmID, Lat: c.Lat, Lng: c.Lng, On: c.On})
	}
	out := []Outbreak{}
	for sign, list := range bySign {
		list = list[max(0, len(list)-caseBound):] // the latest; they are in order of their days
		c, ok := cluster.Scan(list, today, cluster.Defaults(uint64(today)))
		if !ok || c.P > outbreakP {
			continue
		}
		o := Outbreak{Sign: sign, Since: c.From, Km: c.Km, Cases: c.Cases, Expected: c.Expected, P: c.P}
		for _, id := range c.Places {
			o.Farms = append(o.Farms, OutbreakAt{id, names[id]})
		}
		out = append(out, o)
	}
	slices.SortFunc(out, func(a, b Outbreak) int { return cmp.Or(cmp.Compare(a.P, b.P), cmp.Compare(a.Sign, b.Sign)) })
	return out
}

// Tell tells every manager what stands out and has grown since yesterday: once
// a day, whichever process does it.
func (s *Outbreaks) Tell(ctx context.Context) error {
	managers, err := s.store.Staff(ctx, "", farm.Manager)
	if err != nil {
		return err
	}
	for _, p := range managers {
		who := Actor{PersonID: p.ID, Language: p.Language, Grants: p.Grants}
		today, err := s.days.Today(ctx, who, "")
		if err != nil {
			return err
		}
		cases, err := s.store.SignCases(ctx, who.Scope(), today.Add(-outbreakDays))
		if err != nil {
			return err
		}
		fresh := map[string]bool{}
		for _, c := range cases {
			fresh[c.Sign] = fresh[c.Sign] || c.On >= today.Add(-1)
		}
		for _, o := range outbreaks(cases, today) {
			if !fresh[o.Sign] {
				continue
			}
			if err := s.tell(ctx, p, o); err != nil {
				return err
			}
		}
	}
	return nil
}

func (s *Outbreaks) tell(ctx context.Context, p farm.Person, o Outbreak) error {
	names := make([]string, len(o.Farms))
	for i, f := range o.Farms {
		names[i] = f.Farm
	}
	body := fmt.Sprintf(wordsOf(p.Language).outbreak, s.signName(o.Sign, p.Language), len(names), strings.Join(names, ", "), o.Since)
	return s.reach.store.InTx(ctx, func(ctx context.Context) error {
		return s.reach.tell(ctx, p, Message{Subject: s.signName(o.Sign, p.Language), Body: body})
	})
}

// signName is a sign in somebody's language, by the first pack that has it.
func (s *Outbreaks) signName(key, language string) string {
	for _, name := range s.Packs.Enterprises() {
		if pack, ok := s.Packs.Pack(name); ok {
			if sign, ok := pack.Sign(key); ok {
				return sign.Text.In(language)
			}
		}
	}
	return key
}

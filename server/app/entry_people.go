package app

import (
	"context"
	"fmt"
	"slices"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/domain/training"
)

// ModuleEntry is the data of EntryModule: a person of the firm saw that a
// caretaker of the farm can do it.
type ModuleEntry struct {
	PersonID   string `json:"person_id"`
	Enterprise string `json:"enterprise"`
	Module     string `json:"module"`
	How        string `json:"how"` // in-person, visit, video, phone
	Note       string `json:"note,omitempty"`
}

var passedHow = []string{"in-person", "visit", "video", "phone"}

func (s *Entries) module(ctx context.Context, e *entry) error {
	in, err := decode[ModuleEntry](e)
	if err != nil {
		return err
	}
	m, err := s.moduleOf(in.Enterprise, in.Module)
	if err != nil {
		return err
	}
	if !slices.Contains(passedHow, in.How) {
		return refuse("how", "unknown", "Choose in-person, visit, video or phone.")
	}
	work, err := s.store.WorkOn(ctx, []string{e.FarmID})
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(work, func(w farm.Work) bool { return w.PersonID == in.PersonID }) {
		return domain.NotFound("caretaker")
	}
	return s.store.AddPasses(ctx, Pass{
		PersonID: in.PersonID, Enterprise: in.Enterprise, Module: in.Module, On: e.On,
		Until: training.ValidUntil(e.On, training.Months(m.Months, m.Safety)), How: in.How, ByID: e.who.PersonID,
	})
}

func (s *Entries) moduleOf(enterprise, key string) (checklists.Module, error) {
	pack, ok := s.Packs.Pack(enterprise)
	if !ok {
		return checklists.Module{}, refuse("enterprise", "unknown", fmt.Sprintf("There is no pack for %q.", enterprise))
	}
	i := slices.IndexFunc(pack.Modules, func(m checklists.Module) bool { return m.Key == key })
	if i < 0 {
		return checklists.Module{}, refuse("module", "unknown", fmt.Sprintf("The pack has no module %q.", key))
	}
	return pack.Modules[i], nil
}

// ModuleReadEntry is the data of EntryModuleRead: the caretaker went through
// a module. It is news and asks for the practical check; it is no pass.
type ModuleReadEntry struct {
	Enterprise string `json:"enterprise"`
	Module     string `json:"module"`
}

func (s *Entries) moduleRead(_ context.Context, e *entry) error {
	in, err := decode[ModuleReadEntry](e)
	if err != nil {
		return err
	}
	_, err = s.moduleOf(in.Enterprise, in.Module)
	return err
}

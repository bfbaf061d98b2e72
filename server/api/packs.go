package api

import (
	"context"
	"net/http"

	"tendfold/checklists"
	"tendfold/domain"
	"tendfold/domain/farm"
	"tendfold/domain/programme"

	"github.com/danielgtaylor/huma/v2"
)

type (
	packName struct {
		Enterprise string          `json:"enterprise"`
		Version    string          `json:"version"`
		Name       checklists.Text `json:"name"`
	}
	packList struct {
		Body struct {
			Items []packName `json:"items"`
		}
	}
	packID struct {
		Enterprise string `path:"enterprise" maxLength:"64"`
	}
	// packBody is what screens say of an enterprise; the figures of rules and
	// forecasts stay inside.
	packBody struct {
		packName
		Purposes   []programme.Purpose          `json:"purposes"`
		Start      string                       `json:"start"`
		Stocking   string                       `json:"stocking"`
		Harvest    string                       `json:"harvest"`
		Milestones []packMilestone              `json:"milestones"`
		Checklists []checklists.Checklist       `json:"checklists"`
		GoAheads   []checklists.GoAhead         `json:"go_aheads"`
		Modules    []checklists.Module          `json:"modules"`
		Daybook    checklists.Daybook           `json:"daybook"`
		Signs      []checklists.Sign            `json:"signs"`
		Species    []checklists.Species         `json:"species"`
		Words      map[string][]checklists.Word `json:"words"`
		Cautions   map[string]checklists.Text   `json:"cautions"`
		Claims     []checklists.Claim           `json:"claims"`
		Sources    map[string]checklists.Source `json:"sources"`
	}
	packMilestone struct {
		checklists.Milestone
		By       []farm.Role         `json:"by"`
		GoAhead  string              `json:"go_ahead"`
		OnWay    bool                `json:"on_way"`
		Kind     programme.Kind      `json:"kind"`
		Purposes []programme.Purpose `json:"purposes"`
		Reading  string              `json:"reading" doc:"What can be read while it is under way: cover or weight."`
	}
	packAnswer struct {
		Body packBody
	}
)

func (f Face) packs(api huma.API) {
	const tag = "packs"
	register(api, op("list-packs", http.MethodGet, "/api/packs", tag, "The enterprises that the firm has packs for"), f.listPacks)
	register(api, op("get-pack", http.MethodGet, "/api/packs/{enterprise}", tag, "What screens say of an enterprise"), f.getPack)
}

func nameOf(p *checklists.Pack) packName {
	return packName{Enterprise: p.Enterprise, Version: p.Version, Name: p.Name}
}

func (f Face) listPacks(_ context.Context, _ *struct{}) (*packList, error) {
	out := &packList{}
	for _, name := range f.Packs.Enterprises() {
		if p, ok := f.Packs.Pack(name); ok {
			out.Body.Items = append(out.Body.Items, nameOf(p))
		}
	}
	return out, nil
}

func (f Face) getPack(_ context.Context, in *packID) (*packAnswer, error) {
	p, ok := f.Packs.Pack(in.Enterprise)
	if !ok {
		return nil, domain.NotFound("pack")
	}
	b := packBody{
		packName: nameOf(p), Purposes: p.Purposes, Start: p.Programme.Start, Stocking: p.Programme.Stocking, Harvest: p.Programme.Harvest,
		Checklists: p.Checklists, GoAheads: p.GoAheads, Modules: p.Modules, Daybook: p.Daybook, Signs: p.Signs, Species: p.Species,
		Words: p.Words, Cautions: p.Cautions, Claims: p.Claims, Sources: p.Sources,
	}
	for i, m := range p.Programme.Milestones {
		pm := packMilestone{Milestone: p.Milestones[i], By: m.By, GoAhead: m.GoAhead, OnWay: m.OnWay, Kind: m.Kind, Purposes: m.Purposes}
		if m.Curve != nil {
			pm.Reading = m.Curve.Reading
		}
		b.Milestones = append(b.Milestones, pm)
	}
	return &packAnswer{b}, nil
}

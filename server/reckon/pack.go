package reckon

import (
	"tendfold/checklists"
	"tendfold/domain/husbandry"
)

// pack is the pack of the enterprise that the sheet names, or else the one
// given; its figures stand in for what the sheet leaves out.
func (w work) pack(otherwise string) *checklists.Pack { return w.packOf(w.group, otherwise) }

// packOf is pack for what a group under the topic names.
func (w work) packOf(g group, otherwise string) *checklists.Pack {
	p, ok := w.packs.Pack(g.wordOr("enterprise", otherwise, w.packs.Enterprises()...))
	if !ok {
		return &checklists.Pack{} // refused already
	}
	return p
}

// speciesOf is the one that the group names, or the pack's first.
func (w work) speciesOf(g group, p *checklists.Pack) checklists.Species {
	var keys []string
	for _, s := range p.Species {
		keys = append(keys, s.Key)
	}
	if len(keys) == 0 {
		return checklists.Species{}
	}
	key := g.wordOr("species", keys[0], keys...)
	for _, s := range p.Species {
		if s.Key == key {
			return s
		}
	}
	return checklists.Species{}
}

// figure is a number that a figure of the pack stands in for; without one the
// sheet must say it.
func (w work) figure(g group, key string, r husbandry.Range, f checklists.Figure, p *checklists.Pack) float64 {
	if g.has(key) || f.Grade == "" {
		return g.number(key, r)
	}
	g.echo[key] = f.Value
	w.basis(key, f.Basis, p)
	return f.Value
}

// span is a number that a span of the pack stands in for; a number of the
// sheet is a span without width.
func (w work) span(g group, key string, r husbandry.Range, s checklists.Span, p *checklists.Pack) checklists.Span {
	if g.has(key) || s.Grade == "" {
		v := g.number(key, r)
		return checklists.Span{Low: v, Typical: v, High: v}
	}
	g.echo[key] = []float64{s.Low, s.Typical, s.High}
	w.basis(key, s.Basis, p)
	return s
}

package intake

import (
	"slices"
	"strings"

	"tendfold/checklists"
	"tendfold/domain/farm"
	"tendfold/domain/programme"
	"tendfold/server/app/register"
)

// vocabulary finds a value by any folded word that means it.
type vocabulary[V any] map[string]V

func (v vocabulary[V]) learn(value V, words ...string) {
	for _, w := range words {
		for _, form := range forms(w) {
			if _, known := v[form]; !known {
				v[form] = value
			}
		}
	}
}

func (v vocabulary[V]) find(word string) (value V, ok bool) {
	for _, form := range forms(word) {
		if value, ok = v[form]; ok {
			return value, true
		}
	}
	return value, false
}

// forms are a word folded, and without the mark of a plural in either
// language.
func forms(word string) []string {
	folded := register.Fold(word)
	switch single := strings.TrimRight(folded, "sx"); {
	case folded == "":
		return nil
	case len(single) < 3 || single == folded:
		return []string{folded}
	default:
		return []string{folded, single}
	}
}

func meaning[V any](pairs map[string]V) vocabulary[V] {
	v := vocabulary[V]{}
	for words, value := range pairs {
		v.learn(value, strings.Split(words, ",")...)
	}
	return v
}

var answers = meaning(map[string]farm.Answer{
	"yes,y,oui,o,true,vrai,x,1,ok,✓,✔": farm.Yes,
	"no,n,non,false,faux,0,✗,✘":        farm.No,
})

var measures = meaning(map[string]string{
	"ft,foot,feet,pi,pied,pieds,',′":                      "ft",
	"m,metre,metres,meter,meters,mètre,mètres,mt,mtr,mts": "m",
})

var powers = meaning(map[string]string{
	"hp,horsepower,bhp":                      "hp",
	"ch,cv,cheval,chevaux,chx,cheval vapeur": "ch",
	"kw,kilowatt,kilowatts":                  "kW",
})

var litres = meaning(map[string]string{"l,lt,ltr,litre,litres,liter,liters": "l"})

var grams = meaning(map[string]string{"g,gr,gram,grams,gramme,grammes": "g"})

var purposes = meaning(map[string]programme.Purpose{
	"grow-out,growout,growing,growing out,fattening,grossissement,engraissement":                 programme.GrowOut,
	"breeding,breeder,breeders,reproduction,reproducteur,reproducteurs,élevage de reproducteurs": programme.Breeding,
})

var languages = meaning(map[string]string{
	"en,eng,english,anglais,anglaise,ang":        "en",
	"fr,fra,fre,french,français,française,franc": "fr",
})

var statuses = meaning(map[string]farm.Status{
	"active,actif,activ,en cours,in progress,running":                                 farm.Active,
	"paused,pause,en pause,on hold,suspended,suspendu,suspendue,arrêté":               farm.Paused,
	"closed,close,fermé,fermée,clôturé,clôturée,clos,terminé,terminée,ended,finished": farm.Closed,
})

var waters = meaning(map[string]string{
	"mains,network,tap,city water,réseau,eau de ville,robinet,adduction,adduction d'eau": "mains",
	"well,puits":                "well",
	"borehole,bore hole,forage": "borehole",
	"river,stream,rivière,cours d'eau,marigot,ruisseau":         "river",
	"rain,rainwater,rain water,pluie,eau de pluie,eau pluviale": "rain",
	"pump,pompe,motopompe":                   "pump",
	"gravity,gravité,gravitaire,par gravité": "gravity",
})

// lexicon is what the packs add to the words of the house.
type lexicon struct {
	packs       map[string]*checklists.Pack
	enterprises vocabulary[string]
	species     map[string]vocabulary[string]            // by enterprise
	words       map[string]map[string]vocabulary[string] // by enterprise and column
}

func newLexicon(packs []*checklists.Pack) lexicon {
	l := lexicon{
		packs: map[string]*checklists.Pack{}, enterprises: vocabulary[string]{},
		species: map[string]vocabulary[string]{}, words: map[string]map[string]vocabulary[string]{},
	}
	for _, p := range packs {
		l.packs[p.Enterprise] = p
		l.enterprises.learn(p.Enterprise, p.Enterprise, p.Name.EN, p.Name.FR)
		l.species[p.Enterprise], l.words[p.Enterprise] = vocabulary[string]{}, map[string]vocabulary[string]{}
		for col, list := range p.Words {
			v := vocabulary[string]{}
			for _, w := range list {
				v.learn(w.Key, append([]string{w.Key, w.Name.EN, w.Name.FR}, w.Also...)...)
			}
			l.words[p.Enterprise][col] = v
		}
	}
	for _, p := range packs { // after all names proper
		for _, w := range p.Words["enterprise"] {
			l.enterprises.learn(p.Enterprise, append([]string{w.Key, w.Name.EN, w.Name.FR}, w.Also...)...)
		}
		for _, s := range p.Species {
			words := append([]string{s.Key, s.Name.EN, s.Name.FR, s.Latin}, s.Also...)
			l.species[p.Enterprise].learn(s.Key, words...)
			l.enterprises.learn(p.Enterprise, words...)
		}
	}
	return l
}

// names are the packs' names in a language, for a person to choose from.
func (l lexicon) names(lang string) string {
	var out []string
	for _, p := range l.packs {
		out = append(out, p.Name.In(lang))
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

// wordsOf are the words of a pack for a column in a language.
func wordsOf(p *checklists.Pack, col register.Column, lang string) string {
	var out []string
	if col == register.ColSpecies {
		for _, s := range p.Species {
			out = append(out, s.Name.In(lang))
		}
	}
	for _, w := range p.Words[string(col)] {
		out = append(out, w.Name.In(lang))
	}
	return strings.Join(out, ", ")
}

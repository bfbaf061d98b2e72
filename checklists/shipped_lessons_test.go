package checklists

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tendfold/domain/training"

	"github.com/stretchr/testify/require"
)

// eachLesson runs check for every module of the packs that ship; none of them
// is taught from paper.
func eachLesson(t *testing.T, check func(t *testing.T, p *Pack, module string, l *Lesson)) {
	t.Helper()
	for _, enterprise := range []string{"catfish", "snail"} {
		p := pack(t, enterprise)
		for _, m := range p.Modules {
			t.Run(enterprise+"/"+m.Key, func(t *testing.T) {
				require.NotNil(t, m.Lesson)
				check(t, p, m.Key, m.Lesson)
			})
		}
	}
}

func TestShippedLessonsAskEveryKindOfQuestion(t *testing.T) {
	eachLesson(t, func(t *testing.T, _ *Pack, _ string, l *Lesson) {
		asked, safety := map[training.QuestionKind]int{}, 0
		for _, q := range l.Questions {
			asked[q.Kind]++
			if q.Safety {
				safety++
			}
		}
		require.Positive(t, asked[training.One])
		require.Positive(t, asked[training.Order])
		require.Positive(t, asked[training.Picture])
		require.Positive(t, asked[training.Sum])
		// Safety questions are in every draw; some places must be left for others.
		require.GreaterOrEqual(t, safety, 2)
		require.LessOrEqual(t, safety, l.Draw-3)
		require.Len(t, l.Tasks, min(max(len(l.Tasks), 3), 6))
	})
}

// A card is heard once and must be kept in mind: two to four sentences.
func TestShippedCardsAreShort(t *testing.T) {
	sentence := regexp.MustCompile(`[.!?](\s|$)`)
	eachLesson(t, func(t *testing.T, _ *Pack, _ string, l *Lesson) {
		for _, c := range l.Cards {
			for _, text := range []string{c.Text.EN, c.Text.FR} {
				n := len(sentence.FindAllString(text, -1))
				require.True(t, 2 <= n && n <= 4, "%s has %d sentences: %s", c.Key, n, text)
			}
		}
	})
}

func TestShippedSafetyCardsAreRecordedInBothLanguages(t *testing.T) {
	eachLesson(t, func(t *testing.T, p *Pack, module string, l *Lesson) {
		for _, c := range l.Cards {
			for _, language := range []string{"en", "fr"} {
				_, recorded := p.Voices[VoiceKey{language, module, c.Key}]
				require.Equal(t, c.Safety, recorded, "%s %s: run checklists/voices.sh", language, c.Key)
			}
		}
	})
}

// shown are the drawings of a lesson.
func shown(l *Lesson) []string {
	var out []string
	for _, c := range l.Cards {
		out = append(out, c.Drawing)
	}
	for _, q := range l.Questions {
		for _, o := range q.Options {
			if o.Drawing != "" {
				out = append(out, o.Drawing)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// A module is known again by its pictures: three at least are its own.
func TestEveryModuleHasDrawingsOfItsOwn(t *testing.T) {
	for _, enterprise := range []string{"catfish", "snail"} {
		p, modules := pack(t, enterprise), map[string]int{}
		for _, m := range p.Modules {
			for _, d := range shown(m.Lesson) {
				modules[d]++
			}
		}
		for _, m := range p.Modules {
			own := slices.DeleteFunc(shown(m.Lesson), func(d string) bool { return modules[d] > 1 })
			require.GreaterOrEqual(t, len(own), 3, "%s/%s", enterprise, m.Key)
		}
		for d := range p.Drawings {
			require.Contains(t, modules, d, "%s: a drawing that nothing shows costs data", enterprise)
		}
	}
}

// Ours are stricter than what a pack may bring: shapes in the colour of the
// text, nothing that carries a name or words, and small.
func TestShippedDrawingsAreSmallLineDrawings(t *testing.T) {
	shapes := []string{"svg", "g", "path", "rect", "circle", "ellipse"}
	paints := []string{"none", "currentColor"}
	for _, enterprise := range []string{"catfish", "snail"} {
		for name, src := range pack(t, enterprise).Drawings {
			require.LessOrEqual(t, len(src), 1500, name)
			require.Contains(t, src, `viewBox="0 0 120 80"`, name)
			for d := xml.NewDecoder(strings.NewReader(src)); ; {
				tk, err := d.Token()
				if errors.Is(err, io.EOF) {
					break
				}
				require.NoError(t, err, name)
				e, ok := tk.(xml.StartElement)
				if !ok {
					continue
				}
				require.Contains(t, shapes, e.Name.Local, name)
				for _, a := range e.Attr {
					require.NotContains(t, []string{"id", "class", "style"}, a.Name.Local, name)
					if a.Name.Local == "fill" || a.Name.Local == "stroke" {
						require.Contains(t, paints, a.Value, name)
					}
				}
			}
		}
	}
}

// figure writes a number as the two languages do: 1,500.5 and 1 500,5.
func figure(v float64) Text {
	whole, part, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
	en, fr := whole, whole
	if n := len(whole) - 3; n > 0 {
		en, fr = whole[:n]+","+whole[n:], whole[:n]+" "+whole[n:]
	}
	if part != "" {
		en, fr = en+"."+part, fr+","+part
	}
	return Text{en, fr}
}

// says is whether a text holds a number, and not as a part of another one.
func says(text, number string) bool {
	return regexp.MustCompile(`(^|[^\d.,])` + regexp.QuoteMeta(number) + `($|[^\d.,]|[.,]($|\D))`).MatchString(text)
}

// Each sum again, from the numbers in its question.
var sums = map[string]float64{
	"snail/moving-safely/soap-water":           3 * 2 * 7,
	"snail/moving-safely/glove-pairs":          60 / 10,
	"snail/watering-humidity/litres-house":     20 * 2,
	"snail/watering-humidity/cans-needed":      40 / 8,
	"snail/watering-humidity/three-days":       3 * 40,
	"snail/feeding-calcium/fresh-ration":       200 * 50 / 10,
	"snail/feeding-calcium/living-weight":      300 * 40 / 1000,
	"snail/feeding-calcium/shell-share":        500 / 5,
	"snail/eggs-hatchlings/hatch-date":         1 + 29,
	"snail/eggs-hatchlings/eggs-in-box":        6 * 8,
	"snail/eggs-hatchlings/not-hatched":        50 - 38,
	"snail/pests-disease/one-in-twenty":        400 / 20,
	"snail/pests-disease/week-deaths":          0 + 1 + 0 + 2 + 0 + 0 + 1,
	"snail/crowding-sorting/mean-of-ten":       680 / 10,
	"snail/crowding-sorting/floor":             5 * 4,
	"snail/crowding-sorting/kilos-on-floor":    300 * 60 / 1000. / 20,
	"snail/crowding-sorting/breeders-room":     4 * 8,
	"snail/daybook-honest-numbers/left-over":   500 - 12 - 3,
	"snail/daybook-honest-numbers/with-young":  485 + 40 - 25,
	"snail/daybook-honest-numbers/feed-week":   800 * 7,
	"snail/stocking-quarantine/set-day":        10 + 4,
	"snail/stocking-quarantine/tens":           24*10 + 6,
	"snail/stocking-quarantine/start-weight":   1050 / 30,
	"snail/stocking-quarantine/journey-losses": 300 / 20,
	"snail/harvest-hygiene/parents-number":     240 / 10,
	"snail/harvest-hygiene/harvest-mean":       1800 / 10,
	"snail/harvest-hygiene/sale-weight":        50 * 200 / 1000,
	"catfish/water-oxygen/litres-tank":         3 * 2 * 1 * 1000,
	"catfish/water-oxygen/quarter":             6000 / 4,
	// The share is that of pH 8.0 and 28 degrees, 0.0654, in the table of
	// UF/IFAS FA16 (after Emerson et al. 1975), rounded.
	"catfish/water-oxygen/ammonia":               2 * 0.065,
	"catfish/feeding-by-weight/small-ration":     1000 * 10 / 100 * 5,
	"catfish/feeding-by-weight/big-ration":       500 * 250 / 1000. * 2 / 100,
	"catfish/feeding-by-weight/two-meals":        900 / 2,
	"catfish/feeding-by-weight/sample-mean":      (5600 - 5000) / 30,
	"catfish/grading/count-bowls":                18 * 50,
	"catfish/grading/lost-since":                 1000 - 620 - 310,
	"catfish/grading/next-grading":               3 + 14,
	"catfish/signs-of-trouble/deaths-sum":        3 + 5 + 4 + 6 + 7,
	"catfish/signs-of-trouble/one-in-ten":        800 / 10,
	"catfish/pump-electricity/flow":              10 / 2,
	"catfish/pump-electricity/fill-time":         1500 / 10,
	"catfish/daybook-honest-numbers/left":        1000 - 35 - 20,
	"catfish/daybook-honest-numbers/week-deaths": 2 + 0 + 1 + 0 + 3 + 0 + 1,
	"catfish/daybook-honest-numbers/feed-total":  10 * 1200 / 1000,
	"catfish/harvest-medicines/dose-days":        3 + 5 - 1,
	"catfish/harvest-medicines/wait-days":        7 + 20,
	"catfish/harvest-medicines/harvest-kilos":    200 * 800 / 1000,
}

func TestShippedSumsAreRight(t *testing.T) {
	left := len(sums)
	eachLesson(t, func(t *testing.T, p *Pack, module string, l *Lesson) {
		for _, q := range l.Questions {
			if q.Kind != training.Sum {
				continue
			}
			want, known := sums[p.Enterprise+"/"+module+"/"+q.Key]
			require.True(t, known, "%s: write the sum out here", q.Key)
			left--
			require.InDelta(t, want, q.Answer, 1e-9, q.Key)
			require.Less(t, q.Tolerance, math.Max(q.Answer/10, 1e-9), q.Key)
			written := figure(q.Answer)
			require.True(t, says(q.Why.EN, written.EN), "%s: %q does not say %s", q.Key, q.Why.EN, written.EN)
			require.True(t, says(q.Why.FR, written.FR), "%s: %q does not say %s", q.Key, q.Why.FR, written.FR)
		}
	})
	require.Zero(t, left, "a sum is written out here that no module asks")
}

// What is taught and what is checked on the farm are one thing: the cards say
// the bounds of the checklists.
func TestShippedCardsSayWhatTheChecklistsMeasure(t *testing.T) {
	for _, c := range []struct{ enterprise, item, module, card string }{
		{"snail", "room-enough", "crowding-sorting", "one-kilo"},
		{"snail", "market-weight", "harvest-hygiene", "ripe"},
		{"catfish", "water-ph", "water-oxygen", "test"},
		{"catfish", "water-temperature", "water-oxygen", "test"},
		{"catfish", "water-ammonia", "water-oxygen", "test"},
		{"catfish", "ammonia-now", "water-oxygen", "test"},
		{"catfish", "room-enough", "water-oxygen", "change"},
	} {
		p := pack(t, c.enterprise)
		item, ok := p.Item(c.item)
		require.True(t, ok, c.item)
		m, _ := p.Module(c.module)
		card, ok := m.Lesson.Card(c.card)
		require.True(t, ok, c.card)
		for _, bound := range []*float64{item.Measured.Low, item.Measured.High} {
			if bound == nil {
				continue
			}
			written := figure(*bound)
			require.True(t, says(card.Text.EN, written.EN), "%s: %s", c.item, card.Text.EN)
			require.True(t, says(card.Text.FR, written.FR), "%s: %s", c.item, card.Text.FR)
		}
	}
}

// The cautions of the house. A wording may change; what it warns of may not get
// lost.
func TestShippedLessonsHoldTheCautions(t *testing.T) {
	for _, c := range []struct{ enterprise, module, card, en, fr string }{
		{"snail", "moving-safely", "shock", "Do not touch a person who is still in contact", "Ne touchez pas une personne encore en contact"},
		{"snail", "moving-safely", "shock", "Call the emergency number, then us", "Appelez le numéro d'urgence, puis nous"},
		{"snail", "moving-safely", "tank-well", "Nobody goes in alone: the air inside can kill", "Personne n'y entre seul"},
		{"snail", "moving-safely", "lime-poison", "Lime burns eyes and lungs", "La chaux brûle les yeux et les poumons"},
		{"snail", "moving-safely", "hands", "Children do not handle the snails", "Les enfants ne touchent pas les escargots"},
		{"snail", "pests-disease", "no-spray", "No pesticide, salt or lime near stocked snails", "Ni pesticide, ni sel, ni chaux près des escargots"},
		{"snail", "pests-disease", "many-dead", "veterinary service", "service vétérinaire"},
		{"snail", "eggs-hatchlings", "waste-eggs", "boil them or freeze them", "faites-les bouillir ou congelez-les"},
		{"snail", "stocking-quarantine", "apart", "at least four days", "au moins quatre jours"},
		{"snail", "stocking-quarantine", "lawful", "we ask the national authority", "on demande à l'autorité nationale"},
		{"snail", "harvest-hygiene", "never-sell", "are not sold, not eaten and not fed", "ne se vend pas, ne se mange pas, ne se donne pas"},
		{"snail", "harvest-hygiene", "cook", "rat lungworm and Salmonella", "le ver pulmonaire du rat et les salmonelles"},
		{"snail", "daybook-honest-numbers", "what-for", "not a promise of income", "pas une promesse de revenu"},
		{"catfish", "pump-electricity", "shock", "Do not touch a person who is still in contact", "Ne touchez pas une personne encore en contact"},
		{"catfish", "pump-electricity", "rcd", "Only a licensed electrician", "Seul un électricien agréé"},
		{"catfish", "pump-electricity", "generator", "kill in a closed room", "tuent dans un local fermé"},
		{"catfish", "water-oxygen", "tank-safe", "the air inside can kill", "l'air à l'intérieur peut tuer"},
		{"catfish", "grading", "spines", "thumb and finger behind the spines", "pouce et doigt derrière les épines"},
		{"catfish", "grading", "own-net", "at least four days apart", "au moins quatre jours à part"},
		{"catfish", "signs-of-trouble", "dead-out", "neither sold, eaten nor fed", "ne se vend pas, ne se mange pas, ne se donne pas"},
		{"catfish", "signs-of-trouble", "stay", "the veterinary service hears it within 24 hours", "le service vétérinaire le sait dans les 24 heures"},
		{"catfish", "harvest-medicines", "vet-word", "The vet says which", "Le vétérinaire dit lequel"},
		{"catfish", "harvest-medicines", "wait", "no fish of that tank is sold", "aucun poisson de ce bac ne se vend"},
		{"catfish", "harvest-medicines", "drain", "never into a stream", "jamais dans un cours d'eau"},
	} {
		m, _ := pack(t, c.enterprise).Module(c.module)
		card, ok := m.Lesson.Card(c.card)
		require.True(t, ok, c.card)
		require.Contains(t, card.Text.EN, c.en)
		require.Contains(t, card.Text.FR, c.fr)
	}
}

// A medicine or a dose comes from a vet, never from a lesson.
func TestShippedLessonsNameNoMedicine(t *testing.T) {
	named := regexp.MustCompile(`(?i)cycline|mycin|cillin|sulfa|malachite|formalin|formol|permanganate|metronidazole|ivermectin|\d ?mg/kg`)
	eachLesson(t, func(t *testing.T, _ *Pack, _ string, l *Lesson) {
		for _, c := range l.Cards {
			require.NotRegexp(t, named, c.Text.EN+c.Text.FR)
		}
		for _, q := range l.Questions {
			require.NotRegexp(t, named, q.Ask.EN+q.Ask.FR+q.Why.EN+q.Why.FR)
		}
	})
}
